"""What people write when they mean a number: understood, or refused in words. Nothing is guessed.

Understood: `12mm`, `12 mm`, `12,5 mm`, `5/32 in`, `1 1/2"`, `1½ in`, `63 360`, `1,234,567`, `.5`, digits of any script.
Refused, with what to write instead: two readings of one number (`1,250` is 1250 here and 1.25 there), powers of ten, a
missing unit where it matters, a unit of another kind, a number that no car has, and what is no number at all.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches
from fractions import Fraction
from typing import Final

from .. import units
from ..errors import Mistake
from .worked import either, grouped

MOST_CHARACTERS: Final = 40
"""No single value of any rule is written with more characters than this."""

_SYNONYMS: Final[Mapping[str, str]] = {
    "millimetre millimeter millimetres millimeters": "mm",
    "centimetre centimeter centimetres centimeters": "cm",
    "metre meter metres meters": "m",
    "kilometre kilometer kilometres kilometers kms": "km",
    "um micron microns micrometre micrometer micrometres micrometers": "µm",
    "mils thou": "mil",
    "inch inches \" ''": "in",
    "foot feet '": "ft",
    "mile miles": "mi",
    "kph kmh kmph": "km/h",
    "mi/h": "mph",
    "kgs kilogram kilograms kilo kilos": "kg",
    "lbs pound pounds": "lb",
    "cc ccm cm3 cm^3": "cm³",
    "ci cid cui cuin cu.in in3 in^3 cubicinch cubicinches": "in³",
    "l litre liter litres liters ltr": "L",
    "percent pct per-cent": "%",
    "bars": "bar",
}
_UNITS: Final[Mapping[str, str]] = {
    **{name.casefold(): name for name in units.SIZES},
    "%": "%",
    **{one: unit for many, unit in _SYNONYMS.items() for one in many.split()},
}
_SHAPE: Final = re.compile(r"(?P<sign>[+-]?)\s*(?P<body>(?:[\d.,/' -]*\d)?)\s*(?P<unit>[^\d.,/\s-].*)?", re.DOTALL)
_FRACTION: Final = re.compile(r"(?:(?P<whole>\d+)[\s-]+)?(?P<over>\d+) ?/ ?(?P<under>\d+)")
_PLAIN: Final = re.compile(r"\d*\.?\d+|\d+,\d{1,2}|\d+,\d{4,}|0+,\d+|,\d+")
_GROUPED: Final = (
    re.compile(r"\d{1,3}(?: \d{3})+(?:[.,]\d+)?"),
    re.compile(r"\d{1,3}(?:(?:,\d{3}){2,}(?:\.\d+)?|,\d{3}\.\d+)"),
    re.compile(r"\d{1,3}(?:(?:\.\d{3}){2,}(?:,\d+)?|\.\d{3},\d+)"),
)
_EITHER: Final = re.compile(r"[1-9]\d{0,2},\d{3}")
_FOLDED: Final = str.maketrans({"−": "-", "–": "-", "‐": "-", "‑": "-", "⁄": "/", "∕": "/", "μ": "µ"} | {
    "“": '"', "”": '"', "″": '"', "’": "'", "‘": "'", "′": "'",
})  # fmt: skip


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit as it was written; `unit` is "" where none was, `stroke` says that it was a fraction."""

    amount: Fraction
    unit: str
    words: str
    stroke: bool = False


def plain(words: str) -> str:
    """The words in one line with single spaces, digits of every script as 0 to 9, one stroke, quote and minus."""
    folded = []
    for char in words:
        digit = unicodedata.decimal(char, None)
        if digit is not None:
            folded.append(str(digit))
        elif unicodedata.decomposition(char).startswith("<fraction>"):
            folded.append(" " + unicodedata.normalize("NFKC", char))
        else:
            folded.append(char)
    return " ".join("".join(folded).translate(_FOLDED).split())


def quoted(words: str) -> str:
    """The words as they were written, in quotes, cut where they are long."""
    return repr(words if len(words) <= MOST_CHARACTERS else words[: MOST_CHARACTERS - 1] + "…")


def quantity(words: str, *, of: str, counted: bool = False) -> Quantity:
    """Number and unit as written. `counted` is set where it can only be whole, so that 45,123 reads one way.

    Raises:
        Mistake: it is empty, no number, two numbers, or its unit is not known.
    """
    text = plain(words).rstrip(".,")
    if not text:
        raise Mistake(f"Nothing was given for {of}.", next_step="Write one number, with its unit where it has one.")
    if len(text) > MOST_CHARACTERS:
        raise Mistake(f"{quoted(words)} is too long for {of}.", next_step="Write one number with its unit.")
    found = _SHAPE.fullmatch(text)
    if found is None or not found["body"]:
        raise Mistake(f"{quoted(words)} is no number for {of}.", next_step="Write digits, for instance 12.5 or 5/32.")
    amount = _counted(found["body"]) if counted else None
    if amount is None:
        amount = _amount(found["body"], words, of)
    signed = -amount if found["sign"] == "-" else amount
    return Quantity(signed, _unit(found["unit"] or "", words, of), text, stroke="/" in found["body"])


def number(words: str, *, of: str, least: float, most: float) -> float:
    """A bare number between `least` and `most`, both allowed; Mistake otherwise."""
    read = quantity(words, of=of)
    if read.unit:
        raise Mistake(f"{of.capitalize()} has no unit, but {quoted(words)} has.", next_step="Write the number alone.")
    return float(_between(read.amount, words, of, least, most, ""))


def whole(words: str, *, of: str, least: int, most: int) -> int:
    """A bare whole number between `least` and `most`, both allowed; Mistake otherwise."""
    read = quantity(words, of=of, counted=True)
    if read.unit:
        raise Mistake(f"{of.capitalize()} has no unit, but {quoted(words)} has.", next_step="Write the number alone.")
    amount = _between(read.amount, words, of, least, most, "")
    if amount != int(amount):
        raise Mistake(f"{quoted(words)} is no whole number, and {of} is one.", next_step="Write it without a fraction.")
    return int(amount)


def measure(words: str, *, of: str, unit: str, least: float, most: float, bare: str = "") -> float:
    """A quantity in `unit`, between `least` and `most` of it. `bare` is the unit of a number that has none.

    Raises:
        Mistake: the unit is missing and `bare` is "", it measures something else, or the amount is out of bounds.
    """
    read = quantity(words, of=of)
    written = read.unit or bare
    fitting = [name for name, (kind, _) in units.SIZES.items() if kind == units.SIZES[unit][0]]
    if not written:
        usual = (unit, units.other_unit(unit))
        raise Mistake(
            f"Is {quoted(words)} in {either(usual)}? {of.capitalize()} needs its unit.",
            next_step=f"Write it behind the number: {read.words} {usual[0]}, or {read.words} {usual[1]}.",
        )
    if written not in fitting:
        raise Mistake(f"{written} is no unit for {of}.", next_step=f"Use one of {either(fitting)}.")
    factor = units.SIZES[written][1] / units.SIZES[unit][1]
    return float(_between(read.amount * factor, words, of, least, most, unit))


def unit_called(word: str) -> str:
    """The name under which a unit is known here, "" where the word is none."""
    return _UNITS.get(word.casefold().replace(" ", "").rstrip("."), "")


def choice(words: str, names: Iterable[str], *, of: str) -> str:
    """One of the names, whatever its case; Mistake with the nearest name otherwise."""
    every = tuple(names)
    wanted = "-".join(plain(words).casefold().split())
    if wanted in every:
        return wanted
    near = get_close_matches(wanted[:MOST_CHARACTERS], every, 1)
    meant = f" Did you mean {near[0]}?" if near else ""
    raise Mistake(f"{quoted(words)} is no {of}.{meant}", next_step=f"Use one of {either(every)}.")


def day(words: str, *, of: str) -> date:
    """A day written year-month-day; Mistake otherwise."""
    try:
        return date.fromisoformat(plain(words))
    except ValueError:
        raise Mistake(
            f"{quoted(words)} is no day for {of}.", next_step="Write year-month-day, for instance 2026-11-24."
        ) from None


def model_year(words: str, *, of: str = "the model year") -> int:
    """A year of four figures from 1885 to 2099; Mistake otherwise."""
    if re.fullmatch(r"\d{4}", plain(words)) is None:
        raise Mistake(f"{quoted(words)} is no year for {of}.", next_step="Write four figures, for instance 1969.")
    return whole(words, of=of, least=1885, most=2099)


def _counted(body: str) -> Fraction | None:
    """A whole number in groups of three, None if the words are none."""
    text = body.strip()
    return Fraction(re.sub(r"\D", "", text)) if re.fullmatch(r"\d{1,3}(?:([ ,.'])\d{3})(?:\1\d{3})*", text) else None


def _amount(body: str, words: str, of: str) -> Fraction:
    text = body.strip()
    if fraction := _FRACTION.fullmatch(text):
        if int(fraction["under"]) == 0:
            raise Mistake(f"{quoted(words)} divides by nought.", next_step=f"Write {of} as a number.")
        return int(fraction["whole"] or 0) + Fraction(int(fraction["over"]), int(fraction["under"]))
    if _EITHER.fullmatch(text):
        joined, point = text.replace(",", ""), text.replace(",", ".")
        raise Mistake(
            f"{quoted(words)} reads two ways for {of}: {joined} or {point}.", next_step=f"Write {joined} or {point}."
        )
    if _PLAIN.fullmatch(text):
        return Fraction(text.replace(",", ".")) if not text.startswith((",", ".")) else Fraction(f"0.{text[1:]}")
    for way, mark in zip(_GROUPED, (" ", ",", "."), strict=True):
        if way.fullmatch(text):
            return Fraction(text.replace(mark, "").replace(",", "."))
    raise Mistake(f"{quoted(words)} is not one number for {of}.", next_step="Write one number, for instance 12.5.")


def _unit(unit: str, words: str, of: str) -> str:
    if not unit:
        return ""
    known = _UNITS.get(unit.casefold().replace(" ", "").rstrip("."))
    if known is not None:
        return known
    if re.match(r"[eE][+-]?\d", unit) or "^" in unit:
        raise Mistake(f"{quoted(words)} is written in powers of ten.", next_step="Write the number out.")
    raise Mistake(
        f"{quoted(unit)} behind the number for {of} is no unit known here.",
        next_step=f"Use one of {either((*units.SIZES, '%'))}.",
    )


def _between(amount: Fraction, words: str, of: str, least: float, most: float, unit: str) -> Fraction:
    if amount < 0 <= least:
        raise Mistake(f"{quoted(words)} is below nought, and {of} cannot be.", next_step="Write it without the minus.")
    if not Fraction(least) <= amount <= Fraction(most):
        span = f"{_short(least)} to {_short(most)} {unit}".strip()
        raise Mistake(f"{quoted(words)} is no {of} that can be.", next_step=f"Look again: it lies within {span}.")
    return amount


def _short(amount: float) -> str:
    places = next((n for n in range(4) if round(amount, n) == amount), 4)
    return grouped(amount, places)
