"""Which photos survive an outlet's limit, from the vocabulary's `outlets.yaml`."""

from __future__ import annotations

from pathlib import Path

from ..domain.selection import LimitList, OutletRules, Swap
from .vocabulary import load_lists


def load_outlet_rules(folder: Path) -> OutletRules:
    """The rules of that vocabulary.

    Raises:
        PlanBroken: something is wrong; `problems` names every place.
    """
    lists = load_lists(folder)
    return OutletRules(
        limits=tuple(
            LimitList(row["limit"], (*row["fixed"], *row["identity"], *row["add"]), row["flaws"])
            for row in sorted(lists["outlet_limits"], key=lambda one: int(one["limit"]))
        ),
        swaps=tuple(Swap(row["limit"], row["comes_in"], row["gives_way"]) for row in lists["conditional_swaps"]),
        gives_way=lists["structural_overflow"]["gives_way"],
        below=lists["below_12"]["order"],
    )
