"""Both systems of units: what was read stays, the other system stands beside it, marked as converted.

Exact factors: 1 in = 25.4 mm, 1 mi = 1.609344 km, 1 lb = 0.45359237 kg (international yard and pound agreement, 1959),
hence 1 in³ = 16.387064 cm³; 1 psi = 6.894757 kPa and 1 inHg = 3.386389 kPa (NIST SP 811, appendix B.8, rounded to seven
digits).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from typing import Final

SIZES: Final[Mapping[str, tuple[str, Fraction]]] = {
    "µm": ("length", Fraction(1, 1000)),
    "mm": ("length", Fraction(1)),
    "cm": ("length", Fraction(10)),
    "m": ("length", Fraction(1000)),
    "km": ("length", Fraction(1_000_000)),
    "mil": ("length", Fraction("0.0254")),
    "in": ("length", Fraction("25.4")),
    "ft": ("length", Fraction("304.8")),
    "mi": ("length", Fraction(1_609_344)),
    "cm³": ("volume", Fraction(1)),
    "L": ("volume", Fraction(1000)),
    "in³": ("volume", Fraction("16.387064")),
    "kg": ("mass", Fraction(1)),
    "lb": ("mass", Fraction("0.45359237")),
    "km/h": ("speed", Fraction(1)),
    "mph": ("speed", Fraction("1.609344")),
    "kPa": ("pressure", Fraction(1)),
    "bar": ("pressure", Fraction(100)),
    "psi": ("pressure", Fraction("6.894757")),
    "inHg": ("pressure", Fraction("3.386389")),
}
"""Every unit that is converted by a factor: what it measures, and its size in that dimension's first plain unit
(mm, cm³, kg, km/h, kPa)."""

_BESIDE: Final[Mapping[str, str]] = {
    "mm": "in", "cm": "in", "in": "mm", "m": "ft", "ft": "m", "um": "mil", "µm": "mil", "mil": "µm",
    "km": "mi", "mi": "km",
    "kPa": "psi", "psi": "kPa", "bar": "psi", "inHg": "kPa",
    "cm³": "in³", "L": "in³", "in³": "cm³", "kg": "lb", "lb": "kg", "km/h": "mph", "mph": "km/h",
}  # fmt: skip
"""The unit that stands beside each unit."""
_DECIMAL = r"\d+(?:[.,]\d+)?"
_NUMBER = rf"(?:(?:\d+ )?\d+/[1-9]\d*|{_DECIMAL})"
_INCHES = r"in(?=\s*(?:$|[,.;)]|long|wide|deep|high|across|apart))"
_LENGTHS = re.compile(
    rf"(?P<bracket>\([^)]*\))|(?P<sizes>{_NUMBER}(?:\s*(?:[×x]|to|by|-|–)\s*{_NUMBER})*)\s*"
    rf"(?P<unit>mm|cm|{_INCHES}|mil|µm|um|km|mi)\b(?!\s*\()"
)
_ONE = re.compile(_NUMBER)
_PLAIN = re.compile(_DECIMAL)


_METRIC: Final = frozenset({"µm", "um", "mm", "cm", "m", "km", "cm³", "L", "kg", "km/h", "kPa", "bar", "°C"})
_LENGTHS_OF_BODIES: Final = frozenset({"mm", "cm", "m", "in", "ft", "µm", "mil"})


def own_units(chosen: Iterable[str]) -> frozenset[str]:
    """All units of the systems a house chose: one unit for distances, one for lengths on the car."""
    distance, length = tuple(chosen)
    every = frozenset(_BESIDE) | {"°C", "°F"}
    distances, lengths = every - _LENGTHS_OF_BODIES, every & _LENGTHS_OF_BODIES
    return frozenset(
        unit
        for units, own in ((distances, distance), (lengths, length))
        for unit in units
        if (unit in _METRIC) is (own in _METRIC)
    )


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
    return _BESIDE.get(unit, "")


def convert(value: float, unit: str, wanted: str = "") -> float | None:
    """`value` in the other unit, None if there is none. `wanted` as in `other_unit`."""
    other = other_unit(unit, wanted)
    if other == "1/32 in":
        return value / 25.4 * 32
    if other == "°F":
        return value * 9 / 5 + 32
    if other == "°C":
        return (value - 32) * 5 / 9
    return change(value, unit, other) if other else None


def change(value: float, unit: str, into: str) -> float:
    """`value` of `unit` in the unit `into` of the same dimension; both are names of `SIZES` ("um" is read as "µm").

    Raises:
        KeyError: a unit is not known. ValueError: the two do not measure the same.
    """
    of, size = SIZES["µm" if unit == "um" else unit]
    into_of, into_size = SIZES[into]
    if of != into_of:
        raise ValueError(f"{unit} is a {of}, {into} a {into_of}")
    return value * float(size / into_size)


def shown(value: float) -> str:
    """Rounded for reading: whole from 10, one decimal from 1, two below; never in powers of ten."""
    places = 0 if abs(value) >= 10 else 1 if abs(value) >= 1 else 2
    words = f"{value:.{places}f}"
    return words.rstrip("0").rstrip(".") if "." in words else words


def number(words: str) -> float | None:
    """The number that a reading's digits say, None if they are no single number ("2318", "6,5" and "6.5" are)."""
    found = _PLAIN.fullmatch(words.strip().lstrip("-+"))
    if found is None:
        return None
    value = float(found.group().replace(",", "."))
    return -value if words.strip().startswith("-") else value


def _same(words: str) -> str:
    return words


def beside(
    words: str,
    about: str,
    *,
    turned: str = "",
    first: frozenset[str] = frozenset(),
    figure: Callable[[str], str] = _same,
    unit_name: Callable[[str], str] = _same,
) -> str:
    """`words` with every length followed by the other system in brackets, in the words of `about` ({value} {unit}).

    `figure` and `unit_name` write a converted figure and its unit as the reader's language does. A length that already
    has a bracket behind it, or stands in one, is left alone. Where the other unit is one of `first` the two change
    places, in the words of `turned` ({converted} {read}).
    """

    def both(found: re.Match[str]) -> str:
        if found.group("bracket"):
            return found.group()
        sizes, unit = found.group("sizes"), found.group("unit")
        other = other_unit(unit)

        def one(size: re.Match[str]) -> str:
            converted = convert(_value(size.group()), unit)
            return figure(shown(converted)) if converted is not None else size.group()

        converted = about.format(value=_ONE.sub(one, sizes), unit=unit_name(other))
        return (
            turned.format(converted=converted, read=found.group())
            if other in first
            else f"{found.group()} ({converted})"
        )

    return _LENGTHS.sub(both, words)


def _value(digits: str) -> float:
    """The number that "6,5", "6.5", "5/32" or "1 1/2" says."""
    return float(sum(Fraction(part.replace(",", ".")) for part in digits.split(" ")))
