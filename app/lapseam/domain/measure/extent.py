"""How large something is, as people write it: "40x15mm", "about 5/32in", "1,5 cm long". Understood, or refused.

The words stay a person's own; only numbers and their units are put in one form, so that they can be read in both
systems of units. Nothing is guessed: a number alone asks for its unit.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from .. import units
from ..errors import Mistake
from .reading import plain, quantity, quoted, unit_called

MOST_MM: Final = 30_000
"""No mark on a car is longer than this."""
MOST_CHARACTERS: Final = 200
COUNTED: Final = ("count", "text", "")
"""What the vocabulary says of kinds whose extent needs no length."""

_OF: Final = "the size"
_NO_SIZE: Final = ("nan", "inf", "infinity", "null", "none")
"""What programs write where they have no number."""
_TIMES: Final = re.compile(r"(?<=[\d\w\"'])\s*[×x*]\s*(?=\d)|(?<=\d)\s+by\s+(?=\d)", re.IGNORECASE)
_NUMBER: Final = re.compile(
    r"(?P<sign>(?<![\w.,/])-\s?)?(?P<body>(?:\d+[ -])?\d+ ?/ ?\d+|\.?\d[\d.,]*)"
    r"(?P<gap>\s*)(?P<unit>[^\W\d_]+[²³]?|[\"']{1,2}|%)?"
)
_JOINED: Final = re.compile(r"\s*(?:x|to|or|and|-|–)\s*")


def extent(words: str, *, wanted: str = "mm") -> str:
    """The size with its numbers and units in one form: "40x15mm" is "40 x 15 mm". Empty words stay empty.

    `wanted` is the unit that the vocabulary names for the kind; where it is a count or words, a bare number is right.

    Raises:
        Mistake: a number that reads two ways, has no unit, is below nought or larger than any car; no size at all.
    """
    text = _TIMES.sub(" x ", plain(words))
    if not text:
        return ""
    if len(text) > MOST_CHARACTERS:
        raise Mistake(f"{quoted(words)} is too long for {_OF}.", next_step="Write the rest as a detail.")
    if not any(char.isalnum() for char in text) or text.casefold().strip("+-") in _NO_SIZE:
        raise Mistake(f"{quoted(words)} says no size.", next_step="Write for instance 40 x 15 mm, or 5/32 in.")
    found = list(_NUMBER.finditer(text))
    parts, at = [], 0
    for place, one in enumerate(found):
        parts += [text[at : one.start()], _one(one, found[place + 1 :], text, wanted)]
        at = one.end()
    return "".join((*parts, text[at:]))


def _one(one: re.Match[str], after: list[re.Match[str]], text: str, wanted: str) -> str:
    if one["sign"]:
        raise Mistake(f"{quoted(one.group())} is below nought, and {_OF} cannot be.", next_step="Leave out the minus.")
    digits, tail = _digits(one["body"])
    amount = quantity(digits, of=_OF).amount
    unit, word = unit_called(one["unit"] or ""), one["unit"] or ""
    if word and not unit and not one["gap"] and word.casefold() not in ("x", "th", "st", "nd", "rd"):
        raise Mistake(
            f"{quoted(word)} behind {digits} is no unit known here.", next_step="Write mm, cm, in, µm or mil."
        )
    if unit:
        _possible(amount, unit, one.group())
        return f"{_written(digits)} {unit}{tail}"
    if not word or word.casefold() in ("x", "to", "or", "and"):
        _needs_unit(one, after, text, wanted, digits)
    return f"{_written(digits)}{tail}{one['gap']}{word}"


def _digits(body: str) -> tuple[str, str]:
    """The number, and a full stop or comma that ends the sentence behind it."""
    digits = body.rstrip(".,")
    return digits, body[len(digits) :]


def _written(digits: str) -> str:
    """A comma as a point; fractions without gaps round their stroke."""
    return re.sub(r" ?/ ?", "/", digits).replace(",", ".") if "/" in digits or digits.count(",") == 1 else digits


def _possible(amount: Fraction, unit: str, written: str) -> None:
    of, size = units.SIZES.get(unit, ("", Fraction(0)))
    if of == "length" and amount * size > MOST_MM:
        raise Mistake(f"{quoted(written)} is longer than any car.", next_step="Look again at the number and its unit.")


def _needs_unit(one: re.Match[str], after: list[re.Match[str]], text: str, wanted: str, digits: str) -> None:
    """A bare number is right where things are counted, or where the next number, joined to it, has the unit."""
    if wanted.split(";")[0].strip() in COUNTED:
        return
    end = one.end("body")
    for following in after:
        if not _JOINED.fullmatch(text[end : following.start()]):
            break
        if unit_called(following["unit"] or ""):
            return
        end = following.end("body")
    raise Mistake(
        f"Is {quoted(digits)} in mm or in inches? {_OF.capitalize()} needs its unit.",
        next_step=f"Write it behind the number: {digits} mm, or {digits} in.",
    )
