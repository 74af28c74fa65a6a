"""A part's own date beside the car's build date: consistent, worth a closer look, in need of a word, or not consistent.

Casting comes before assembly, assembly before the car. How long before is the trade's eye, differs by plant and maker,
and so is a setting: the windows are handed in (`shot_plans/vocabulary/dates.yaml`; common practice, no standard). A
date keeps the precision it was read with: a month stays a month, and where its days lead to different answers nothing
is decided.
"""

from __future__ import annotations

import calendar
import re
from dataclasses import dataclass
from datetime import date, timedelta
from enum import Enum
from typing import Final

from ..errors import Mistake
from .reading import plain, quoted
from .worked import Known, Value, Worked, either


class Outcome(Enum):
    """What a part's date says beside the car's."""

    CONSISTENT = "consistent"
    LOOK_CLOSER = "look-closer"
    NEEDS_EXPLANATION = "needs-explanation"
    NOT_CONSISTENT = "not-consistent"
    CANNOT_DECIDE = "cannot-decide"


WORDS: Final = {
    Outcome.CONSISTENT: "date code within what is usual for this car",
    Outcome.LOOK_CLOSER: "date code near the edge of what is usual for this car; look closer",
    Outcome.NEEDS_EXPLANATION: "date code earlier than usual for this car",
    Outcome.NOT_CONSISTENT: "date code later than the car",
    Outcome.CANNOT_DECIDE: "the dates as read do not decide it",
}


@dataclass(frozen=True, slots=True)
class DateWindow:
    """Days before the build date at which a part's own date usually lies, and the upper end of a closer look."""

    id: str
    part: str
    least: int
    most: int
    look_closer_to: int
    note: str = ""


@dataclass(frozen=True, slots=True)
class Span:
    """A date as precisely as it was read: the first and the last day it may mean, None where the decade is open."""

    words: str
    first: date | None
    last: date | None


def outcome(days_before: int, window: DateWindow) -> Outcome:
    """The outcome for a part dated that many days before the build; negative where it is later than the car."""
    if days_before < 0:
        return Outcome.NOT_CONSISTENT
    if window.least <= days_before <= window.most:
        return Outcome.CONSISTENT
    return Outcome.LOOK_CLOSER if days_before <= window.look_closer_to else Outcome.NEEDS_EXPLANATION


def span(words: str, *, of: str) -> Span:
    """A date written `1968-10-21`, `1968-10`, `1968-W42`, `1968`, `unknown`, or with an open decade: `19?8-10`, `???8`.

    A week is taken as a week of ISO 8601.

    Raises:
        Mistake: it is none of these.
    """
    text = plain(words).upper()
    if text == "UNKNOWN" or re.fullmatch(r"(?:19|20|\?\?)\?\d(?:-(?:W?\d{1,2}))?(?:-\d{1,2})?", text):
        return Span(plain(words), None, None)
    found = re.fullmatch(r"(?P<year>\d{4})(?:-W(?P<week>\d{1,2})|-(?P<month>\d{1,2})(?:-(?P<day>\d{1,2}))?)?", text)
    wrong = Mistake(
        f"{quoted(words)} is no date for {of}.",
        next_step="Write it as read: 1968-10-21, 1968-10, 1968-W42, 1968, 19?8-10 or unknown.",
    )
    if found is None or not 1885 <= int(found["year"]) <= 2099:
        raise wrong
    try:
        first, last = _days(found)
    except ValueError:
        raise wrong from None
    return Span(text, first, last)


def _days(found: re.Match[str]) -> tuple[date, date]:
    year = int(found["year"])
    if found["week"]:
        monday = date.fromisocalendar(year, int(found["week"]), 1)
        return monday, monday + timedelta(days=6)
    if found["day"]:
        day = date(year, int(found["month"]), int(found["day"]))
        return day, day
    if found["month"]:
        month = int(found["month"])
        return date(year, month, 1), date(year, month, calendar.monthrange(year, month)[1])
    return date(year, 1, 1), date(year, 12, 31)


def part_date(part: Span, build: Span, window: DateWindow) -> Worked:
    """The part's date beside the build date, by the window; undecided where more than one answer is possible."""
    if part.first is None or part.last is None or build.first is None or build.last is None:
        open_one = part if part.first is None else build
        why = f"{open_one.words}: the decade is open, so the days between are too."
        return _answer(part, build, window, Outcome.CANNOT_DECIDE, (), (), (why,))
    least, most = (build.first - part.last).days, (build.last - part.first).days
    found = _possible(least, most, window)
    decided = found[0] if len(found) == 1 else Outcome.CANNOT_DECIDE
    days = f"{least}" if least == most else f"{least} to {most}"
    steps = [
        f"From {part.words} to {build.words}: {days} days.",
        f"Usual for it: {window.least} to {window.most} days before the car, a closer look up to "
        f"{window.look_closer_to}.",
    ]
    if len(found) > 1:
        steps.append(f"As precisely as the dates were read it may be {either(one.value for one in found)}.")
    return _answer(part, build, window, decided, found, (least, most), tuple(steps))


def _possible(least: int, most: int, window: DateWindow) -> tuple[Outcome, ...]:
    """Every outcome that a day between `least` and `most` leads to: they change only at the window's edges."""
    edges = (0, window.least - 1, window.least, window.most, window.most + 1, window.look_closer_to)
    days = {least, most, *(edge for edge in edges if least <= edge <= most)}
    reached = {outcome(day, window) for day in days}
    return tuple(one for one in Outcome if one in reached)


def _answer(
    part: Span, build: Span, window: DateWindow, decided: Outcome, found: tuple[Outcome, ...],
    days: tuple[int, ...], steps: tuple[str, ...],
) -> Worked:  # fmt: skip
    return Worked(
        rule="part-date",
        said=f"{window.part}, {part.words} in a car of {build.words}: {decided.value} ({WORDS[decided]}).",
        values=(
            Value("outcome", decided, decided.value),
            Value("outcomes possible", found, either(one.value for one in found) or "any"),
            Value("days before the car", days, " to ".join(map(str, dict.fromkeys(days))) or "not known", "days"),
        ),
        working=steps,
        source="common trade practice; the windows are the house's settings (dates.yaml)",
        known=Known.PRACTICE,
        cautions=(
            "Windows differ by plant and maker by months: a date outside them is a question, not an answer.",
            *((f"{window.note}.",) if window.note else ()),
        ),
        approximate=True,
    )
