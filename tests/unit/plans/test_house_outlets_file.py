"""The house's outlets: read with every mistake named, and the trade's limits as the selection takes them."""

from __future__ import annotations

from pathlib import Path

import pytest

from lapseam.domain.errors import PlanBroken
from lapseam.domain.selection import Outlet
from lapseam.places import shot_plans
from lapseam.plans.outlet_file import load_outlets, near_outlet
from lapseam.plans.outlet_rules import load_outlet_rules


def test_outlets_are_read_with_their_limits(tmp_path: Path) -> None:
    path = tmp_path / "outlets.yaml"
    path.write_text(
        'outlets:\n  - {name: Weekly sheet, photos: 12, max_bytes: 200000, aspect: "4:3", caption_chars: 90}\n'
        "  - {name: Own page, photos: 100, longest_px: 2400}\n"
    )
    first, second = load_outlets(path)
    assert first == Outlet("Weekly sheet", 12, 1600, 200_000, "4:3", 90, 0, True)
    assert (second.name, second.photos, second.longest_px, second.max_bytes) == ("Own page", 100, 2400, 0)
    assert "Own page" in near_outlet("Own pge", (first, second))


def test_no_file_is_no_outlet(tmp_path: Path) -> None:
    assert load_outlets(tmp_path / "outlets.yaml") == ()


def test_every_mistake_is_named_at_once(tmp_path: Path) -> None:
    path = tmp_path / "outlets.yaml"
    path.write_text(
        "outlets:\n"
        '  - {name: A, photos: 0, aspect: "wide"}\n'
        "  - {name: B, photos: 5, longest: 900}\n"
        "  - {name: b, photos: 5}\n"
        "  - {photos: 5}\n"
    )
    with pytest.raises(PlanBroken) as told:
        load_outlets(path)
    problems = "\n".join(told.value.problems)
    assert all(words in problems for words in ("photos", "aspect", "longest", "already", "name"))
    assert [f"outlets.yaml:{line}:" in problems for line in (2, 3, 4, 5)] == [True] * 4


def test_the_limits_of_the_trade_hold_as_many_photos_as_they_say() -> None:
    rules = load_outlet_rules(shot_plans() / "vocabulary")
    shots = 0
    for row in rules.limits:
        shots += len(row.shots)
        assert shots + row.flaws == row.limit
    assert len(rules.below) == 11
    assert all(len(swap.comes_in) == len(swap.gives_way) for swap in rules.swaps)
