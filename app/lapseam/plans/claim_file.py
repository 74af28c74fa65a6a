"""Claim rules of a house's own: files that add claims and words that may not be printed to those of a vocabulary."""

from __future__ import annotations

from pathlib import Path

from ..domain.errors import NotFound
from ..domain.plan import Claim, Vocabulary, WordingRule
from . import claim_fields
from .claim_fields import HOUSE_CLAIMS_FILE
from .nodes import read_nodes
from .reading import Reading, Row, Spot
from .vocabulary import raise_broken

HouseRule = Claim | WordingRule


def load_claim_rules(*paths: Path, beside: Vocabulary) -> tuple[HouseRule, ...]:
    """The rules of those files, which add to the vocabulary's and replace none: an id it has may not come again.

    Raises:
        NotFound: a file is not there.
        PlanBroken: something is wrong; `problems` names every place in every file.
    """
    reading = Reading()
    _know(reading, beside)
    files = [row for path in paths if (row := _read(path, reading)) is not None]
    reading.settle_names()
    raise_broken(reading, " and ".join(path.name for path in paths), next_step="Mend the lines named and ask again.")
    rules: list[HouseRule] = []
    for file in files:
        groups = claim_fields.groups_of(file)
        rules += (claim_fields.claim(row, groups) for row in file["claims"])
        rules += (claim_fields.wording(row, groups) for row in file["wording"])
    return tuple(rules)


def _read(path: Path, reading: Reading) -> Row | None:
    if not path.is_file():
        raise NotFound(f"There is no file {path.name} with claim rules.", next_step="Check its path.")
    node = read_nodes(path, reading.problems)
    return HOUSE_CLAIMS_FILE.read(node, Spot(reading, "")) if node is not None else None


def _know(reading: Reading, vocabulary: Vocabulary) -> None:
    reading.know("claims", vocabulary.claims)
    reading.know("wording", vocabulary.wording)
    reading.know("components", vocabulary.components())
    reading.know("measures", vocabulary.measurements)
    reading.know("checks", vocabulary.checks)
