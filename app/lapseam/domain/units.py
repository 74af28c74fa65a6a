"""Both systems of units: what was read stays, the other system stands beside it, marked as converted.

Exact factors: 1 in = 25.4 mm, 1 mi = 1.609344 km (international yard and pound agreement, 1959); 1 psi = 6.894757 kPa
and 1 inHg = 3.386389 kPa (NIST SP 811, appendix B.8, rounded to seven digits).
"""

from __future__ import annotations

import re
from typing import Final

_FACTORS: Final[dict[str, tuple[str, float]]] = {
    "mm": ("in", 1 / 25.4),
    "cm": ("in", 10 / 25.4),
    "in": ("mm", 25.4),
    "um": ("mil", 1 / 25.4),
    "µm": ("mil", 1 / 25.4),
    "mil": ("µm", 25.4),
    "km": ("mi", 1 / 1.609344),
    "mi": ("km", 1.609344),
    "kPa": ("psi", 1 / 6.894757),
    "psi": ("kPa", 6.894757),
    "bar": ("psi", 100 / 6.894757),
    "inHg": ("kPa", 3.386389),
}
_NUMBER = r"\d+(?:[.,]\d+)?"
_INCHES = r"in(?=\s*(?:$|[,.;)]|long|wide|deep|high|across|apart))"
_LENGTHS = re.compile(
    rf"(?P<bracket>\([^)]*\))|(?P<sizes>{_NUMBER}(?:\s*(?:[×x]|to|by|-|–)\s*{_NUMBER})*)\s*"
    rf"(?P<unit>mm|cm|{_INCHES}|mil|µm|um|km|mi)\b(?!\s*\()"
)
_ONE = re.compile(_NUMBER)


def other_unit(unit: str, wanted: str = "") -> str:
    """The unit that stands beside `unit`, "" if none does. `wanted` is the vocabulary's words for it."""
    if unit == "mm" and wanted == "1/32 in":
        return wanted
    if unit in ("C", "°C"):
        return "°F"
    if unit in ("F", "°F"):
        return "°C"
    if unit == "kPa" and wanted == "inHg":
        return wanted
    return _FACTORS[unit][0] if unit in _FACTORS else ""


def convert(value: float, unit: str, wanted: str = "") -> float | None:
    """`value` in the other unit, None if there is none. `wanted` as in `other_unit`."""
    other = other_unit(unit, wanted)
    if other == "1/32 in":
        return value / 25.4 * 32
    if other == "°F":
        return value * 9 / 5 + 32
    if other == "°C":
        return (value - 32) * 5 / 9
    if other == "inHg":
        return value / 3.386389
    return value * _FACTORS[unit][1] if other else None


def shown(value: float) -> str:
    """Rounded for reading: whole from 10, one decimal from 1, two below; never in powers of ten."""
    places = 0 if abs(value) >= 10 else 1 if abs(value) >= 1 else 2
    words = f"{value:.{places}f}"
    return words.rstrip("0").rstrip(".") if "." in words else words


def number(words: str) -> float | None:
    """The number that a reading's digits say, None if they are no single number ("2318", "6,5" and "6.5" are)."""
    found = _ONE.fullmatch(words.strip().lstrip("-+"))
    if found is None:
        return None
    value = float(found.group().replace(",", "."))
    return -value if words.strip().startswith("-") else value


def beside(words: str, about: str) -> str:
    """`words` with every length followed by the other system in brackets, in the words of `about` ({value} {unit}).

    A length that already has a bracket behind it, or stands in one, is left alone.
    """

    def both(found: re.Match[str]) -> str:
        if found.group("bracket"):
            return found.group()
        sizes, unit = found.group("sizes"), found.group("unit")
        other = other_unit(unit)

        def one(size: re.Match[str]) -> str:
            converted = convert(float(size.group().replace(",", ".")), unit)
            return shown(converted) if converted is not None else size.group()

        return f"{found.group()} ({about.format(value=_ONE.sub(one, sizes), unit=other)})"

    return _LENGTHS.sub(both, words)
