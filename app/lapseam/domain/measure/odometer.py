"""What an odometer shows, what it can show at all, in which words it is passed on, and the federal exemption by year.

Source: 49 CFR 580.5 and appendices B and C (choices of the statement, no tenths) and 580.17(a) (exemption), read in the
primary text; 49 USC 32704 on replaced odometers is from memory. A reading is a reading: no rule makes a distance of it.
The exemption is information. It takes a duty to state away, not the duty to state nothing false.
"""

from __future__ import annotations

from enum import Enum
from typing import Final

from ..errors import Mistake
from .reading import quantity, quoted, whole
from .worked import Known, Value, Worked, both, either, grouped

FEWEST_WHEELS: Final = 4
MOST_WHEELS: Final = 7
TURN_OVERS_SHOWN: Final = 3
_SOURCE: Final = "49 CFR 580.5 and appendices B and C"


class Status(Enum):
    """In which words a reading is passed on; exactly one of them."""

    SHOWN = "shown on odometer; accuracy not claimed"
    ACTUAL = "seller states actual"
    EXCEEDS = "seller states exceeds limits"
    NOT_ACTUAL = "seller states not actual"
    UNKNOWN = "unknown"


STATUS_WORDS: Final = {
    "shown": Status.SHOWN,
    "actual": Status.ACTUAL,
    "exceeds": Status.EXCEEDS,
    "not-actual": Status.NOT_ACTUAL,
    "unknown": Status.UNKNOWN,
}
"""Short words for the five, for typing."""


def odometer(words: str, *, unit: str, wheels: int | None = None, status: Status = Status.SHOWN) -> Worked:
    """A reading as shown, in `mi` or `km`, with the number of figure wheels of the counter, tenths not counted.

    Raises:
        Mistake: it is no reading, the unit is no other than mi or km, or a counter of so many wheels cannot show it.
    """
    if unit not in ("mi", "km"):
        raise Mistake(f"{quoted(unit)} is no unit of an odometer.", next_step="Write mi or km: the car's unit.")
    reading, tenths = read_odometer(words)
    if wheels is not None and not FEWEST_WHEELS <= wheels <= MOST_WHEELS:
        raise Mistake(
            f"A counter with {wheels} wheels is none that a car has.",
            next_step=f"Count the wheels without tenths: {FEWEST_WHEELS} to {MOST_WHEELS}.",
        )
    if wheels is not None and reading >= 10**wheels:
        raise Mistake(
            f"A counter with {wheels} wheels cannot show {grouped(reading)}.",
            next_step="Count the wheels and read again, both without tenths.",
        )
    return Worked(
        rule="odometer",
        said=f"{both(reading, unit, 0, beside_places=0)}: {status.value}.",
        values=(
            Value("reading", reading, both(reading, unit, 0, beside_places=0), unit),
            Value("as read", words.strip(), words.strip()),
            Value("status", status, status.value),
            *_wheel_values(reading, wheels, unit),
        ),
        working=tuple(_steps(reading, unit, wheels, tenths)),
        source=_SOURCE,
        known=Known.PRIMARY,
        cautions=(
            *_cautions(wheels, status),
            "Unit and figures are what was seen on that day; photograph the reading.",
        ),
    )


def read_odometer(words: str) -> tuple[int, bool]:
    """The whole reading, and whether tenths were dropped: '045 123', '45,123', '45123.6'.

    Raises:
        Mistake: it is no reading.
    """
    read = quantity(words, of="the odometer reading", counted=True)
    if read.unit:
        raise Mistake(f"{quoted(words)} carries a unit.", next_step="Write the figures alone and the unit apart.")
    if read.stroke or (read.amount * 10).denominator != 1:
        raise Mistake(f"{quoted(words)} is no odometer reading.", next_step="Write the figures, at most with tenths.")
    if not 0 <= read.amount < 10**MOST_WHEELS:
        raise Mistake(
            f"{quoted(words)} is no reading of a car.",
            next_step=f"It lies within 0 and {grouped(10**MOST_WHEELS - 1)}.",
        )
    return int(read.amount), read.amount.denominator != 1


def _wheel_values(reading: int, wheels: int | None, unit: str) -> tuple[Value, ...]:
    if wheels is None:
        return ()
    most = 10**wheels
    may_be = tuple(reading + turn * most for turn in range(TURN_OVERS_SHOWN))
    shown = f"{either(grouped(one) for one in may_be)} {unit}, or more"
    return (
        Value("most it can show", most - 1, f"{grouped(most - 1)} {unit}", unit),
        Value("may stand for", may_be, shown, unit),
    )


def _steps(reading: int, unit: str, wheels: int | None, tenths: bool) -> list[str]:
    steps = [f"Read {grouped(reading)} {unit}; converted: {both(reading, unit, 0, beside_places=0)}."]
    if tenths:
        steps.append("Tenths were dropped: a statement carries none.")
    if wheels is not None:
        steps.append(
            f"{wheels} wheels show up to {grouped(10**wheels - 1)} and then begin again at nought, "
            "so the reading alone does not tell how often they did."
        )
    return steps


def _cautions(wheels: int | None, status: Status) -> list[str]:
    said = []
    if wheels is None:
        said.append("The number of figure wheels was not given: whether it may have turned over is open.")
    if status is Status.ACTUAL:
        said.append("'Actual' is the seller's claim, not what the counter shows; keep who said so.")
    if status is Status.NOT_ACTUAL:
        said.append("A replaced odometer may have a notice on the left door frame to photograph (from memory).")
    return said


def exempt_by_age(model_year: int, transfer_year: int) -> bool:
    """Whether 49 CFR 580.17(a) exempts by age: ten years up to model year 2010, twenty from 2011, from 1 January."""
    return transfer_year - model_year >= (10 if model_year <= 2010 else 20)


def exemption(model_year: int, transfer_year: int) -> Worked:
    """The federal exemption from odometer disclosure by the car's age, as information only."""
    exempt = exempt_by_age(model_year, transfer_year)
    years, group = (10, "up to 2010") if model_year <= 2010 else (20, "from 2011")
    verb = "is" if exempt else "is not"
    return Worked(
        rule="odometer-exemption",
        said=f"For information: model year {model_year} {verb} exempt by age from federal odometer disclosure in "
        f"{transfer_year}.",
        values=(
            Value("exempt by age", exempt, "yes" if exempt else "no"),
            Value("exempt from", model_year + years, f"1 January {model_year + years}"),
        ),
        working=(
            f"Model years {group} are exempt {years} years after 1 January of the model year.",
            f"{transfer_year} - {model_year} = {transfer_year - model_year}, which is "
            f"{'at least' if exempt else 'less than'} {years}.",
        ),
        source="49 CFR 580.17(a), as of June 2026",
        known=Known.PRIMARY,
        cautions=(
            "Information, not legal advice; states may ask more. Other grounds (weight over 16 000 lb, not "
            "self-propelled) were not looked at.",
            "Exempt does not mean that any statement is fine: a false one remains false.",
        ),
    )


def read_wheels(words: str) -> int:
    """The number of figure wheels as typed; Mistake where it is no such number."""
    return whole(words, of="the number of wheels", least=FEWEST_WHEELS, most=MOST_WHEELS)
