"""A reading as it was written down: figures that its unit can have, or refused in words.

What is recorded stays as it was read; only whether it is a number at all, of an amount that can be, is judged here.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from ..errors import Mistake
from ..plan import MeasurementAsked
from .reading import plain, quantity, quoted, unit_called

WORDS: Final = frozenset(("text", "WWYY"))
"""Units whose readings are strings of the object itself, not amounts."""
COUNTED: Final = frozenset(("count", "km", "mi", "rpm"))
"""Units whose readings come in groups of three: 48,213 is one number and reads one way."""
BELOW_NOUGHT: Final = frozenset(("C", "F", "°C", "°F", "deg", "mm", "in", "%"))
"""Units of readings that can lie below nought: temperatures, angles, steps between panels, differences."""
_MOST: Final[dict[str, int]] = {"%": 1_000, "C": 2_000, "°C": 2_000, "F": 4_000, "°F": 4_000, "deg": 360, "V": 100_000}
_MOST_OF_ANY: Final = 10_000_000
_OF: Final = "the reading"
_OTHER_UNITS: Final = re.compile(r" or | \(")
_SAME: Final = {"µm": "um", "μm": "um", "°C": "C", "°F": "F"}


def reading_objection(value: str, unit: str) -> str:
    """Why these figures cannot be a reading in that unit, in one sentence without its full stop; "" if they can."""
    text = value.strip()
    if not text or unit in WORDS:
        return "" if not text or any(char.isalnum() for char in text) else f"{quoted(value)} holds no letter or figure"
    try:
        read = quantity(text, of=_OF, counted=unit in COUNTED)
    except Mistake as mistake:
        return f"{mistake.problem.rstrip('.')}; {mistake.next_step.rstrip('.')}"
    if read.unit and read.unit != (unit_called(unit) or unit):
        return f"{quoted(value)} is written in {read.unit}, and its unit is said to be {unit}; keep one of the two"
    if read.amount < 0 and unit not in BELOW_NOUGHT:
        return f"{quoted(value)} is below nought, which no reading in {unit} is"
    if abs(read.amount) > Fraction(_MOST.get(unit, _MOST_OF_ANY)):
        return f"{quoted(value)} is no amount of {unit} that can be read"
    return ""


def unit_objection(unit: str, asked: MeasurementAsked) -> str:
    """Why a reading of this measurement cannot be in that unit; "" if it can."""
    units = (asked.unit, *_OTHER_UNITS.split(asked.other_unit))
    if unit in units or _SAME.get(unit, unit) in units:
        return ""
    other = f" or {asked.other_unit}" if asked.other_unit else ""
    return f"{quoted(unit)} is no unit of {asked.id!r}; write {asked.unit}{other}"


def figures(words: str) -> tuple[str, str]:
    """Figures and unit of a reading that was written as one: "6.5mm" is ("6.5", "mm"), "5/32 in" ("5/32", "in").

    The unit is "" where none is known in the words; then the words are given back as they are.
    """
    text = plain(words)
    at = next((place for place in range(len(text), 0, -1) if text[place - 1].isdigit()), 0)
    unit = unit_called(text[at:]) if at else ""
    return (text[:at].strip(), text[at:].strip()) if unit else (words.strip(), "")
