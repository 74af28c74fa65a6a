"""Vehicle identification numbers: structure, check digit and model year; silence for serials from before 1981.

Source: 49 CFR 565.13 and 565.15 (United States; structure also in ISO 3779): structure, values and weights read in the
primary text, the letters left out and the order of year codes in secondary sources. Positions count from 1. Everything
here warns and nothing refuses: a number is kept as it was read, no letter is taken for a figure, and a wrong check
digit is a reason to read the plate again, not proof of anything.

Before model year 1981 there was no common form (43 FR 36448, 17 August 1978): each maker chose length and alphabet, so
for such a car there is no check digit, no length and no correction.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from typing import Final

from ..errors import Mistake
from .reading import quoted
from .worked import Known, Value, Worked, either

FIRST_YEAR: Final = 1981
"""The first model year of the seventeen-character number (43 FR 36448)."""

LENGTH: Final = 17
WEIGHTS: Final = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
"""Weights of positions 1 to 17 (49 CFR 565.15(c)); the check digit's own is nought."""

LETTER_VALUES: Final = {
    **{str(digit): digit for digit in range(10)},
    **dict(zip("ABCDEFGH", range(1, 9), strict=True)),
    **dict(zip("JKLMN", range(1, 6), strict=True)),
    "P": 7,
    "R": 9,
    **dict(zip("STUVWXYZ", range(2, 10), strict=True)),
}
"""The value of every character that may occur (49 CFR 565.15(c)); I, O and Q never do."""

YEAR_CODES: Final = "ABCDEFGHJKLMNPRSTVWXY123456789"
"""Position 10 in order: A is 1980 and 2010, 9 is 2009 and 2039 (49 CFR 565.15(d)). I, O, Q, U, Z and 0 are not used."""

SOURCE: Final = "49 CFR 565.13 and 565.15; the same structure in ISO 3779"
MOST_CHARACTERS: Final = 60
UNREADABLE: Final = "?"
"""What a person writes for a character that cannot be read."""

_LOOKALIKES: Final = {"I": "1", "O": "0", "Q": "0 or 9"}


class Kind(Enum):
    """What kind of vehicle it is, as far as the cycle of model-year codes asks."""

    LIGHT = "light"
    """Passenger car, or multipurpose vehicle or truck of at most 4536 kg gross: position 7 tells the cycle."""
    OTHER = "other"
    """Motorcycle, bus, heavy truck, trailer, or a number not made for the United States."""
    UNKNOWN = "unknown"


class CheckDigit(Enum):
    """What became of the check digit."""

    AGREES = "agrees"
    DIFFERS = "differs"
    NOT_WORKED = "not worked"


@dataclass(frozen=True, slots=True)
class Sum:
    """The weighted sum of a number, its remainder by 11 and the character that position 9 should show."""

    total: int
    remainder: int
    expected: str


def bare(text: str) -> str:
    """The second form of a serial, for searching: capitals, without spaces, stars and strokes. Nothing is exchanged."""
    return "".join(_capital(char) for char in text if char.isalnum() or char == UNREADABLE)


def _capital(char: str) -> str:
    """The capital of a character that has one and only one."""
    return char.upper() if len(char.upper()) == 1 else char


def check_sum(number: str) -> Sum | None:
    """The weighted sum of a seventeen-character number in capitals, None where a character has no value."""
    if len(number) != LENGTH or any(char not in LETTER_VALUES for char in number):
        return None
    total = sum(LETTER_VALUES[char] * weight for char, weight in zip(number, WEIGHTS, strict=True))
    remainder = total % 11
    return Sum(total, remainder, "X" if remainder == 10 else str(remainder))


def years(number: str, kind: Kind = Kind.UNKNOWN) -> tuple[int, ...]:
    """The model years that a seventeen-character number may mean: two, thirty years apart, or one.

    Position 7 decides, but only for `Kind.LIGHT`: a figure means 1980 to 2009, a letter 2010 to 2039. Empty where
    position 10 holds no code.
    """
    if len(number) != LENGTH or number[9] not in YEAR_CODES:
        return ()
    first = 1980 + YEAR_CODES.index(number[9])
    if kind is not Kind.LIGHT or number[6] not in LETTER_VALUES:
        return (first, first + 30)
    return (first,) if number[6].isdigit() else (first + 30,)


def vin(text: str, *, year: int | None = None, kind: Kind = Kind.UNKNOWN) -> Worked:
    """What a serial says of itself. `year` is the model year from the papers, None where it is not known.

    Raises:
        Mistake: nothing was given, or far more than any serial has.
    """
    read = text.strip()
    if not bare(read):
        raise Mistake("No serial was given.", next_step="Write it as it stands on the plate.")
    if len(read) > MOST_CHARACTERS:
        raise Mistake(f"{quoted(read)} is too long for a serial.", next_step="Write the serial alone.")
    if year is not None and year < FIRST_YEAR:
        return _before(read, year)
    number = bare(read)
    if year is None and len(number) != LENGTH:
        return _not_told(read, number)
    return _modern(read, number, year, kind)


def _values(read: str) -> tuple[Value, ...]:
    return (Value("as read", read, read), Value("for searching", bare(read), bare(read)))


def _before(read: str, year: int) -> Worked:
    return Worked(
        rule="vin",
        said=f"A serial from before model year {FIRST_YEAR} has a form of its maker's own: nothing was checked.",
        values=_values(read),
        working=(
            f"Model year {year} is before {FIRST_YEAR}, the first year of the number with {LENGTH} characters.",
            "No check digit, no length and no alphabet was applied, and no character was taken for another.",
        ),
        source="43 FR 36448 (17 August 1978), in force from model year 1981",
        known=Known.SECONDARY,
        cautions=("Plate, stamping and paper are recorded apart; say only whether they read the same.",),
    )


def _not_told(read: str, number: str) -> Worked:
    return Worked(
        rule="vin",
        said=f"{len(number)} characters: not the form in use since model year {FIRST_YEAR}. Nothing was checked.",
        values=_values(read),
        working=(
            f"The number has {len(number)} characters, and the model year was not told.",
            f"Before model year {FIRST_YEAR} each maker chose the form, so this may be right as it stands.",
        ),
        source=SOURCE,
        known=Known.SECONDARY,
        cautions=(f"If the car is of {FIRST_YEAR} or later, count again: it should have {LENGTH} characters.",),
    )


def _modern(read: str, number: str, year: int | None, kind: Kind) -> Worked:
    warnings = list(_structure(number))
    outcome, check_values, steps, check_warnings = _check(number)
    meant = years(number, kind)
    return Worked(
        rule="vin",
        said=_said(number, outcome, meant),
        values=(
            *_values(read),
            Value("check digit", outcome, outcome.value),
            *check_values,
            Value("model year", meant, either(meant) or "not told by position 10"),
            *_sections(number),
        ),
        working=(*steps, *_year_steps(number, meant, kind), *_agreed(meant, year)),
        source=SOURCE,
        known=Known.SECONDARY,
        cautions=(*warnings, *check_warnings, *_year_warnings(meant, year)),
        understood=() if number == read else (f"Read without spaces and strokes as {number}.",),
    )


def _said(number: str, outcome: CheckDigit, meant: tuple[int, ...]) -> str:
    checked = {
        CheckDigit.AGREES: "the check digit agrees",
        CheckDigit.DIFFERS: "the check digit does not agree: read the plate again",
        CheckDigit.NOT_WORKED: "the check digit could not be worked out",
    }[outcome]
    return f"{len(number)} characters; {checked}; model year {either(meant) or 'not told'}."


def _structure(number: str) -> Iterator[str]:
    if len(number) != LENGTH:
        yield f"{len(number)} characters were read; from model year {FIRST_YEAR} it should be {LENGTH}. Count again."
    for place, char in enumerate(number, 1):
        if char in _LOOKALIKES:
            yield (
                f"Position {place} was read as {char}, a letter that is not used; a {_LOOKALIKES[char]} looks like it. "
                "Look again; it was left as read."
            )
        elif char == UNREADABLE:
            yield f"Position {place} was not legible."
        elif char not in LETTER_VALUES:
            yield f"Position {place} was read as {char}, which is neither a capital letter nor a figure in use."
    if len(number) == LENGTH and number[2] == "9":
        yield "A 9 in position 3 marks a maker of few vehicles; positions 12 to 14 then complete the maker's code."


def _sections(number: str) -> tuple[Value, ...]:
    if len(number) != LENGTH:
        return ()
    parts = (("maker", 0, 3), ("attributes", 3, 8), ("plant", 10, 11), ("sequence", 11, 17))
    return tuple(Value(name, number[first:end], number[first:end]) for name, first, end in parts)


def _check(number: str) -> tuple[CheckDigit, tuple[Value, ...], tuple[str, ...], tuple[str, ...]]:
    """Outcome, values, working and warnings of the check digit."""
    found = check_sum(number)
    if found is None:
        why = "The check digit needs seventeen characters, each a figure or a letter in use."
        return CheckDigit.NOT_WORKED, (), (why,), ()
    products = (LETTER_VALUES[char] * weight for char, weight in zip(number, WEIGHTS, strict=True))
    steps = (
        "Value of each character times the weight of its place: "
        + " + ".join(map(str, products))
        + f" = {found.total}.",
        f"{found.total} divided by 11 leaves {found.remainder}"
        + (", which is written X." if found.remainder == 10 else "."),
        f"Position 9 should show {found.expected}; it shows {number[8]}.",
    )
    values = (
        Value("check digit expected", found.expected, found.expected),
        Value("sum", found.total, str(found.total)),
    )
    if number[8] == found.expected:
        return CheckDigit.AGREES, values, steps, ()
    return CheckDigit.DIFFERS, values, steps, (
        "A check digit that does not agree is most often a mistyped or misread character.",
        "It is required in North America only (from memory): on a car built for another market it tells nothing, "
        "and neither does position 7.",
    )  # fmt: skip


def _year_steps(number: str, meant: tuple[int, ...], kind: Kind) -> Iterator[str]:
    if len(number) != LENGTH:
        return
    code = number[9]
    if not meant:
        yield f"Position 10 shows {code}, which is no code of a model year."
        return
    first = 1980 + YEAR_CODES.index(code)
    yield f"Position 10 shows {code}: model year {first} or {first + 30}."
    if kind is Kind.UNKNOWN and number[6] in LETTER_VALUES:
        (light,) = years(number, Kind.LIGHT)
        yield f"If it is a passenger car or light truck, position 7 ({number[6]}) makes it {light}."
    elif len(meant) == 1:
        what, cycle = ("a figure", "1980 to 2009") if number[6].isdigit() else ("a letter", "2010 to 2039")
        yield f"Position 7 shows {number[6]}, {what}: for cars and light trucks the years {cycle}, so {meant[0]}."


def _year_warnings(meant: tuple[int, ...], year: int | None) -> Iterator[str]:
    if year is None:
        yield f"If the car is from before model year {FIRST_YEAR}, none of this applies to it."
    elif meant and year not in meant:
        yield f"The papers say model year {year}, position 10 says {either(meant)}."


def _agreed(meant: tuple[int, ...], year: int | None) -> Iterator[str]:
    if year in meant:
        yield f"The papers say model year {year}, which position 10 allows."
