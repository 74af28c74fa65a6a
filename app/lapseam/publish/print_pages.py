"""Prints shot lists and setup cards: their templates and what goes into them."""

from __future__ import annotations

import dataclasses
from datetime import date
from pathlib import Path
from typing import Any

from lapseam import places

from .print_cards import CardsShown
from .print_shots import ShotListShown
from .typesetting import UNSHOWN, Paper, typeset

__all__ = ["UNSHOWN", "Paper", "cards_pdf", "shot_list_pdf"]


def shot_list_pdf(shown: ShotListShown, *, paper: Paper, printed_on: date, templates: Path | None = None) -> bytes:
    """The shot list as PDF, upright."""
    return _set("shot_list.typ", dataclasses.asdict(shown), paper, printed_on, templates)


def cards_pdf(shown: CardsShown, *, paper: Paper, printed_on: date, templates: Path | None = None) -> bytes:
    """The cards as PDF, one a page, lying."""
    return _set("cards.typ", dataclasses.asdict(shown), paper, printed_on, templates)


def _set(name: str, data: dict[str, Any], paper: Paper, on: date, templates: Path | None) -> bytes:
    root = templates or places.templates()
    return typeset(root / "print" / name, data, root=root, paper=paper, on=on)
