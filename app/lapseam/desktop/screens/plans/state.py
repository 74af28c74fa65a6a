"""The Plans as values: the list, one plan as the photographer reads it, and two compared. No Qt here."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from lapseam.domain.plan import Need, Plan, Setup, Shot
from lapseam.domain.plan_comparison import PlanComparison, ShotDifference
from lapseam.domain.reach import Totals
from lapseam.workflow.shelving import PlanOnShelf, PlanRead

from ...stand import Stand, lens_words, stand_for
from ...words import _, _n


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One plan of the list."""

    id: str
    title: str
    about: str
    sums: str
    users: str
    house: bool

    @property
    def words(self) -> str:
        """For a screen reader."""
        return ", ".join(part for part in (self.title, self.about, self.sums, self.users) if part)


@dataclass(frozen=True, slots=True)
class PlansScreen:
    """All plans, those of the house first. `note` says what to do while the house has none of its own."""

    headline: str
    rows: tuple[PlanRow, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class ShotLine:
    """One line of a list of shots; a line without `shot` is the heading of a chapter."""

    shot: str
    words: str


@dataclass(frozen=True, slots=True)
class ReadScreen:
    """One plan: its sums, who uses it, and its chapters with their shots. Without lines it does not load."""

    id: str
    title: str
    about: str
    sums: str
    users: str
    lines: tuple[ShotLine, ...]
    house: bool
    problems: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ShotRead:
    """One shot as the photographer reads it."""

    eyebrow: str
    title: str
    stand: Stand
    rust: str
    must: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    cautions: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class CompareScreen:
    """From one plan to another: a headline and sections of lines; a section is left out where it has none."""

    headline: str
    sections: tuple[tuple[str, tuple[str, ...]], ...]


def plans_screen(shelf: Sequence[PlanOnShelf], sums: Mapping[str, Totals | None]) -> PlansScreen:
    """The list; `sums` may still lack some plans, which are then being read."""
    rows = tuple(_row(one, sums) for one in shelf)
    house = sum(1 for one in shelf if one.house)
    note = "" if house else _("All of these ship with the program and are only read. Copy one to make it your own.")
    return PlansScreen(_n("{n} plan", "{n} plans", len(rows)), rows, note)


def _row(one: PlanOnShelf, sums: Mapping[str, Totals | None]) -> PlanRow:
    if one.file.id not in sums:
        words = _("Being read …")
    else:
        found = sums[one.file.id]
        words = sums_words(found) if found else _("Does not load: read it to see why")
    return PlanRow(one.file.id, one.file.title, about_words(one), words, users_words(one.users), one.house)


def about_words(one: PlanOnShelf) -> str:
    """Whose plan it is, and what it is made from."""
    whose = _("The house's own") if one.house else _("Ships with the program")
    base = _("made from {plan}").format(plan=one.file.base) if one.file.base else ""
    return " · ".join(part for part in (one.file.id, whose, base) if part)


def sums_words(sums: Totals) -> str:
    """What a plan comes to, in one line."""
    parts = (
        _n("{n} shot", "{n} shots", sums.shots),
        _n("{n} frame", "{n} frames", sums.frames),
        _n("{n} minute", "{n} minutes", sums.minutes),
        _("{proved} of {all} rust-prone places proved").format(proved=sums.rust_places_proved, all=sums.rust_places),
    )
    return " · ".join(parts)


def users_words(stocks: Sequence[str], most: int = 4) -> str:
    """Which cars were begun with a plan, "" for none."""
    if not stocks:
        return ""
    named = ", ".join(stocks[:most])
    rest = len(stocks) - most
    more = _n(" and {n} more", " and {n} more", rest) if rest > 0 else ""
    return _("Used by {cars}").format(cars=named + more)


def read_screen(read: PlanRead) -> ReadScreen:
    """A plan with its chapters."""
    shelf = read.shelf
    users = users_words(shelf.users)
    if users:
        users = _("{users}: each keeps the copy it was begun with.").format(users=users)
    about = about_words(shelf)
    if read.plan is None or read.totals is None:
        problems = (_("It does not load, and no car can be begun with it:"), *(str(one) for one in read.problems))
        return ReadScreen(shelf.file.id, shelf.file.title, about, "", users, (), shelf.house, problems)
    plan = read.plan
    lines = chapter_lines(plan.setups, [(shot.setup, shot.id, _shot_words(shot)) for shot in plan.shots])
    title, sums = plan.title, sums_words(read.totals)
    return ReadScreen(plan.id, title, about, sums, users, lines, shelf.house, tuple(str(one) for one in read.problems))


def chapter_lines(setups: Sequence[Setup], shots: Sequence[tuple[str, str, str]]) -> tuple[ShotLine, ...]:
    """Headings and shots (setup, id, words); a heading stands wherever another setup begins."""
    names = {one.id: _("{name} · {time}").format(name=one.name, time=minutes_words(one.minutes)) for one in setups}
    lines: list[ShotLine] = []
    last = None
    for setup, shot, words in shots:
        if setup != last:
            lines.append(ShotLine("", names.get(setup, setup)))
            last = setup
        lines.append(ShotLine(shot, words))
    return tuple(lines)


def minutes_words(minutes: int) -> str:
    """A time in minutes."""
    return _n("{n} minute", "{n} minutes", minutes)


def _shot_words(shot: Shot) -> str:
    return f"{shot.title} · {shot.count}" if shot.count > 1 else shot.title


def shot_read(plan: Plan, shot_id: str) -> ShotRead | None:
    """A shot of a plan in full, None where it has none of that id."""
    shot = plan.shot(shot_id)
    if shot is None:
        return None
    words = plan.vocabulary
    when = shot.when.text if shot.when is not None else ""
    close = _("{metres:g} m from the part").format(metres=shot.close_m) if shot.close_m is not None else ""
    facts = (
        (_("Frame"), shot.framing),
        (_("Light"), shot.light),
        (_("Stand"), stand_for(shot, plan, {}).words),
        (_("Lens"), lens_words(shot.camera)),
        (_("Close-up"), close),
        (_("Only where"), when),
        (_("Shows"), "; ".join(_part(plan, part) for part in shot.components)),
    )
    zone = words.zones[shot.zone].name if shot.zone in words.zones else shot.zone
    frames = _n("{n} frame", "{n} frames", shot.count)
    return ShotRead(
        eyebrow=" · ".join((zone, need_word(shot.need), frames, shot.id)),
        title=shot.title,
        stand=stand_for(shot, plan, {}),
        rust=_("Rust-prone: a context frame and a close one, raking light") if shot.rust else "",
        must=tuple(item.words for item in shot.must),
        facts=tuple((name, said) for name, said in facts if said),
        cautions=tuple(
            (words.cautions[one].name, words.cautions[one].text) for one in shot.cautions if one in words.cautions
        ),
    )


def _part(plan: Plan, part: str) -> str:
    found = plan.vocabulary.components().get(part)
    return found.name if found else part


def need_word(need: Need | str) -> str:
    """Whether a shot must be taken, in a word."""
    return {
        Need.REQUIRED: _("required"),
        Need.OPTIONAL: _("optional"),
        Need.CONDITIONAL: _("where its condition holds"),
    }.get(Need(need) if need in set(Need) else Need.REQUIRED, str(need))


def compare_screen(found: PlanComparison) -> CompareScreen:
    """What the second plan adds, drops and changes."""
    if found.same:
        return CompareScreen(_("Both ask for the same shots."), ())
    more = _("{frames} frames and {minutes} minutes in all").format(
        frames=_more(found.frames), minutes=_more(found.minutes)
    )
    sections = (
        (
            _n("Adds {n} shot", "Adds {n} shots", len(found.added)),
            tuple(f"{shot.title} ({shot.id})" for shot in found.added),
        ),
        (
            _n("Drops {n} shot", "Drops {n} shots", len(found.dropped)),
            tuple(f"{shot.title} ({shot.id})" for shot in found.dropped),
        ),
        (
            _n("Changes {n} shot", "Changes {n} shots", len(found.changed)),
            tuple(_difference(one) for one in found.changed),
        ),
        (_("Adds setups"), tuple(one.name for one in found.setups_added)),
        (_("Drops setups"), tuple(one.name for one in found.setups_dropped)),
    )
    return CompareScreen(more, tuple((name, lines) for name, lines in sections if lines))


def _more(number: int) -> str:
    return f"{number:+d}" if number else "±0"


def _difference(one: ShotDifference) -> str:
    parts = []
    for name in one.fields:
        before, after = (_shown(getattr(shot, name)) for shot in (one.before, one.after))
        short = max(len(before), len(after)) <= 40
        parts.append(f"{field_word(name)} {before} → {after}" if short else field_word(name))
    return f"{one.after.title} ({one.after.id}): {'; '.join(parts)}"


def _shown(value: Any) -> str:
    if value is None or value == ():
        return "–"
    if isinstance(value, tuple):
        return ", ".join(str(getattr(one, "words", one)) for one in value)
    return str(getattr(value, "text", value))


def field_word(name: str) -> str:
    """A part of a shot in words."""
    return {
        "title": _("title"),
        "setup": _("setup"),
        "zone": _("zone"),
        "components": _("parts shown"),
        "camera": _("where to stand"),
        "framing": _("framing"),
        "light": _("light"),
        "must": _("must-see"),
        "count": _("frames"),
        "need": _("need"),
        "rust": _("rust-prone"),
        "when": _("condition"),
        "close_m": _("close-up"),
        "close_scale": _("scale"),
        "media": _("photo or clip"),
        "cautions": _("cautions"),
        "private": _("private sights"),
    }.get(name, name)
