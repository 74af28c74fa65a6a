"""The date group of a tyre's identification number: week and year, or a week and a year without its decade.

Source: 49 CFR 574.5 (date group), 64 FR 36807 of 8 July 1999 (four figures instead of three), an owner's manual for
week 01 as the first full week of the year and for July 2000 as the end of three figures. That the calendar week runs
from Sunday, and that marking began in 1971, is from memory. A date says how old a tyre is, not how good.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from ..errors import Mistake
from .reading import plain, quoted
from .worked import Known, Value, Worked, either

FIRST_MARKED: Final = 1971
LAST_THREE_FIGURES: Final = date(2000, 7, 1)
_SOURCE: Final = "49 CFR 574.5; 64 FR 36807 (8 July 1999)"
_GROUP: Final = re.compile(r"(?:.*[^0-9])?(?P<group>\d{3,4})", re.DOTALL)
_MOST_CHARACTERS: Final = 40


@dataclass(frozen=True, slots=True)
class TyreWeek:
    """A week of a year; `begins` is its Sunday, week 1 being the first full week of the year."""

    year: int
    week: int

    @property
    def begins(self) -> date:
        """The Sunday on which the week begins."""
        return first_sunday(self.year) + timedelta(weeks=self.week - 1)

    @property
    def in_year(self) -> bool:
        """Whether the year has such a week: week 53 exists only where the 53rd Sunday does."""
        return self.begins.year == self.year

    def age(self, on: date) -> int:
        """Whole years from the week's beginning to the day; negative where the day is before it."""
        begins = self.begins
        return on.year - begins.year - ((on.month, on.day) < (begins.month, begins.day))


def first_sunday(year: int) -> date:
    """The first Sunday of the year, where week 01 begins."""
    first = date(year, 1, 1)
    return first + timedelta(days=(6 - first.weekday()) % 7)


def week_of(day: date) -> TyreWeek:
    """The tyre week that holds the day; the days before the first Sunday belong to the year before."""
    year = day.year if day >= first_sunday(day.year) else day.year - 1
    return TyreWeek(year, (day - first_sunday(year)).days // 7 + 1)


def weeks(group: str) -> tuple[TyreWeek, ...]:
    """The weeks that a date group may mean: one for four figures, one a decade for three, none if not readable."""
    if re.fullmatch(r"[0-9]{3,4}", group) is None or not 1 <= int(group[:2]) <= 53:
        return ()
    week = int(group[:2])
    if len(group) == 4:
        return (TyreWeek(2000 + int(group[2:]), week),)
    may_be = (TyreWeek(decade + int(group[2]), week) for decade in (1970, 1980, 1990, 2000))
    return tuple(one for one in may_be if one.year >= FIRST_MARKED and one.begins < LAST_THREE_FIGURES)


def tyre_date(words: str, *, on: date) -> Worked:
    """When a tyre was made and how old it is on the day `on`. The words may be the group or the whole number.

    What cannot be read is an answer ("not readable"), not an error.

    Raises:
        Mistake: nothing was given, or far more than a tyre carries.
    """
    text = plain(words).upper()
    if not text or len(text) > _MOST_CHARACTERS:
        raise Mistake(f"{quoted(words)} is no date of a tyre.", next_step="Write its last figures, for instance 3500.")
    found = _GROUP.fullmatch(text)
    group = found["group"] if found else ""
    made = weeks(group)
    if not made:
        return _unreadable(text, group)
    return _dated(group, made, on, understood=(f"The last figures, {group}, were read.",) if text != group else ())


def _unreadable(text: str, group: str) -> Worked:
    why = (
        f"{group[:2]} is no week of that year." if group else "The last characters are not three or four figures alone."
    )
    return Worked(
        rule="tyre-date",
        said=f"{text}: the date is not readable.",
        values=(Value("weeks", (), "not readable"),),
        working=(
            why,
            "A date is four figures (week, year), or three up to the middle of 2000 (week, end of the year).",
        ),
        source=_SOURCE,
        known=Known.PRIMARY,
        cautions=("The whole number is needed on one side only: it may face inward.",),
    )


def _dated(group: str, made: tuple[TyreWeek, ...], on: date, understood: tuple[str, ...]) -> Worked:
    day = on.isoformat()
    ages = tuple(one.age(on) for one in made if one.begins <= on)
    named = either(one.year for one in made)
    aged = either(dict.fromkeys(ages))
    says = f"{aged} years old on {day}" if ages else f"that is after {day}, so read it again"
    return Worked(
        rule="tyre-date",
        said=f"{group}: week {made[0].week} of {named}; {says}.",
        values=(
            Value("week", made[0].week, str(made[0].week)),
            Value("years", tuple(one.year for one in made), named),
            Value("week begins", tuple(one.begins for one in made), either(one.begins for one in made)),
            Value("age", ages, f"{aged} years" if ages else "none yet", "years"),
        ),
        working=(
            f"{group[:2]} is the week, {group[2:]} the end of the year: {named}.",
            "Week 01 is the first full week, Sunday to Saturday; the week began on "
            f"{either(one.begins for one in made)}.",
            f"Whole years from then to {day}: {aged or 'none'}.",
        ),
        source=_SOURCE,
        known=Known.PRIMARY if len(group) == 4 else Known.SECONDARY,
        cautions=tuple(_cautions(group, made, on)),
        approximate=len(group) == 3,
        understood=understood,
    )


def _cautions(group: str, made: tuple[TyreWeek, ...], on: date) -> Iterator[str]:
    if len(group) == 3:
        yield "Three figures never fix the decade. A small triangle behind them is said to mark the 1990s."
    for one in made:
        if one.begins > on:
            yield f"Week {one.week} of {one.year} is after {on.isoformat()}."
        if not one.in_year:
            yield f"{one.year} has 52 such weeks; a maker may count them differently."
    yield "Age is no condition: a younger tyre may be worse."
