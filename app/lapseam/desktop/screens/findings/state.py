"""The Findings as values: zones with what is open, the lines of one zone, its photos, and what a sweep said. No Qt."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from lapseam.domain.car import Car
from lapseam.domain.coverage import Coverage, Outcome, State
from lapseam.domain.decision import Placement, Sight, Slot, Target
from lapseam.domain.finding import Finding, FindingState
from lapseam.domain.jotting import zone_meant
from lapseam.domain.plan import Shot
from lapseam.domain.signoff_seen import CLOSE_M
from lapseam.domain.statement import CheckResult
from lapseam.domain.unfinished import (
    LeftOut,
    Sweep,
    Todo,
    Unfinished,
    Why,
    subject_name,
    sweep,
    zone_of_parts,
)

from ...finding_draft import FindingDraft, draft_of
from ...notices import Notice
from ...words import _, _n
from .check_state import OWN
from .said import lack_word, state_of_finding, verdict_word, why_word

_SHORT = 80


@dataclass(frozen=True, slots=True)
class ZoneRow:
    """One zone and how much of it is unfinished."""

    id: str
    name: str
    open: int

    @property
    def words(self) -> str:
        """For the list of zones; the count goes first, where no narrow list cuts it."""
        return f"{self.open} · {self.name}" if self.open else self.name


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a zone's list. `key` is a `Todo` and what it is of ("check:chk-horn"); a heading has none.

    `open` lines are unfinished; the others are what is recorded already.
    """

    key: str
    words: str
    open: bool = False

    @property
    def of(self) -> Todo:
        """What sort of thing it is."""
        return Todo(self.key.partition(":")[0])

    @property
    def subject(self) -> str:
        """The number or id that it is of."""
        return self.key.partition(":")[2]


@dataclass(frozen=True, slots=True)
class PhotoRow:
    """One photo of a zone: what it is called, where it stands, and whether somebody ticked something on it."""

    sha256: str
    name: str
    where: str
    ticked: bool
    parts: tuple[str, ...] = ()
    close: bool = False

    @property
    def words(self) -> str:
        """For a screen reader and a tooltip."""
        looked = _("looked at") if self.ticked else _("nobody has ticked it")
        return _("{name}, {where}, {looked}").format(name=self.name, where=self.where, looked=looked)


@dataclass(frozen=True, slots=True)
class FindingsScreen:
    """One zone with its lines and photos, and the others beside it. `empty` says what to do where there is no zone."""

    zone: str = ""
    name: str = ""
    zones: tuple[ZoneRow, ...] = ()
    lines: tuple[Line, ...] = ()
    photos: tuple[PhotoRow, ...] = ()
    own_parts: tuple[str, ...] = ()
    may_sweep: int = 0
    empty: tuple[str, str] = ("", "")

    @property
    def open(self) -> tuple[Line, ...]:
        """The unfinished lines, the dearest first."""
        return tuple(line for line in self.lines if line.open)

    def line(self, key: str) -> Line | None:
        """The line of that key."""
        return next((line for line in self.lines if line.key == key and key), None)

    def beside(self, step: int) -> str:
        """The zone so many steps further on, round and round."""
        ids = [one.id for one in self.zones]
        return ids[(ids.index(self.zone) + step) % len(ids)] if self.zone in ids else ""

    def after_open(self) -> ZoneRow | None:
        """The next zone with something open, this one left out."""
        ids = [one.id for one in self.zones]
        at = ids.index(self.zone) if self.zone in ids else -1
        return next((one for one in (*self.zones[at + 1 :], *self.zones[: max(at, 0)]) if one.open), None)


def next_zone_words(zone: ZoneRow) -> str:
    """Where there is something left to do."""
    count = _n("{n} thing to finish", "{n} things to finish", zone.open)
    return _("Next: {zone}, {count}.").format(zone=zone.name, count=count)


def no_car() -> FindingsScreen:
    """What stands there while no car is open."""
    return FindingsScreen(empty=(_("No car is open."), _("Open one in the Yard (Ctrl+1), or make a new one.")))


def findings_screen(car: Car, coverage: Coverage, todo: Sequence[Unfinished], zone: str) -> FindingsScreen:
    """The screen of a zone; where it is none of this car's, of the first with something open."""
    zones = zone_rows(car, coverage, todo)
    if not zones:
        return FindingsScreen(
            empty=(_("This car's plan shows no zone yet."), _("Answer its facts in the Yard; the zones hang on them."))
        )
    known = {one.id: one for one in zones}
    first = next((one.id for one in zones if one.open), zones[0].id)
    here = known[zone if zone in known else first]
    return FindingsScreen(
        zone=here.id,
        name=here.name,
        zones=zones,
        lines=tuple(_lines(car, coverage, todo, here.id)),
        photos=photo_rows(car, here.id),
        own_parts=tuple(one.component.id for one in coverage.components if one.component.zone == here.id),
        may_sweep=len(sweep(car, coverage, here.id).parts),
    )


def zone_rows(car: Car, coverage: Coverage, todo: Sequence[Unfinished]) -> tuple[ZoneRow, ...]:
    """The zones that this car has, in walking order, with what is open in each."""
    count = Counter(one.zone for one in todo)
    here = {one.component.zone for one in coverage.components if one.state is not State.NOT_FITTED} | set(count)
    return tuple(
        ZoneRow(zone.id, zone.name, count[zone.id]) for zone in car.plan.vocabulary.zones.values() if zone.id in here
    )


def _lines(car: Car, coverage: Coverage, todo: Sequence[Unfinished], zone: str) -> Iterator[Line]:
    open_ones = [one for one in todo if one.zone == zone]
    if open_ones:
        yield Line("", _n("{n} to finish", "{n} to finish", len(open_ones)))
        yield from (Line(one.key, _todo_words(car, one), open=True) for one in open_ones)
    done = list(_recorded(car, coverage, zone, {one.key for one in open_ones}))
    if done:
        yield Line("", _("Recorded"))
        yield from done


def _todo_words(car: Car, one: Unfinished) -> str:
    if one.of is Todo.FINDING:
        lacks = ", ".join(lack_word(lack) for lack in one.lacks)
        return _("{finding} lacks {what}").format(finding=finding_words(car, _finding(car, one.subject)), what=lacks)
    words = {
        Todo.JOTTING: _("Note: {words}"),
        Todo.ASKED: _("To look at: {words}"),
        Todo.PART: _("{words}: shown, nothing said"),
        Todo.SHOT: _("{words}: frames to look at"),
        Todo.PHOTO: _("Extra {words}: nothing said"),
        Todo.CHECK: _("Test: {words}"),
    }[one.of]
    return words.format(words=_cut(subject_name(car, one)))


def finding_words(car: Car, finding: Finding | None) -> str:
    """A finding in a line: its number, kind and part."""
    if finding is None:
        return ""
    words = car.plan.vocabulary
    kind, part = words.findings.get(finding.kind), words.components().get(finding.component)
    return _("{number} · {kind}, {part}").format(
        number=finding.number,
        kind=kind.name if kind else finding.kind,
        part=part.name if part else finding.component,
    )


def _finding(car: Car, key: str) -> Finding | None:
    return next((one for one in car.findings if one.key == key), None)


def _recorded(car: Car, coverage: Coverage, zone: str, open_keys: set[str]) -> Iterator[Line]:
    """Findings, tests and looks; a test of the house's own that names no zone stands in each."""
    zones = zone_of_parts(car)
    for finding in car.findings:
        key = f"{Todo.FINDING}:{finding.key}"
        if zones.get(finding.component) == zone and key not in open_keys:
            state = "" if finding.state is FindingState.OPEN else f" · {state_of_finding(finding.state)}"
            yield Line(key, finding_words(car, finding) + state)
    for check in car.plan.vocabulary.checks.values():
        result = car.checks.get(check.id)
        if check.zone == zone and result is not None:
            yield Line(f"{Todo.CHECK}:{check.id}", f"{check.item}: {_result_words(result)}")
    for result in car.checks.values():
        if result.check.startswith(OWN) and zone_meant(result.item, car.plan) in ("", zone):
            yield Line(f"{Todo.CHECK}:{result.check}", f"{result.item}: {_result_words(result)}")
    for covered in coverage.components:
        part = covered.component
        if part.zone == zone and covered.outcome is Outcome.NOTHING_FOUND:
            yield Line(f"{Todo.PART}:{part.id}", _("{part}: nothing found").format(part=part.name))


def _result_words(result: CheckResult) -> str:
    return verdict_word(result.verdict).lower()


def photo_rows(car: Car, zone: str) -> tuple[PhotoRow, ...]:
    """The photos of a zone: on its shots and its extras in shooting order, then others that show a part of it.

    A frame that waits in the tray for its place is none of any zone's yet.
    """
    parts = {part.id for part in car.plan.vocabulary.components().values() if part.zone == zone}
    shots = {shot.id: shot for shot in car.plan.shots}
    order = {shot.id: place for place, shot in enumerate(car.plan.shots)}
    ticked = {tick.sha256 for tick in car.ticks if tick.sight in (Sight.SEEN, Sight.COATED)}
    cited = {sha256 for one in car.findings if one.component in parts for sha256 in one.photos}
    found: list[tuple[tuple[int, int], PhotoRow]] = []
    for photo in car.photos:
        placed = car.placements.get(photo.sha256)
        waits = placed is not None and not placed.accepted and placed.score is not None
        has_place = placed if not waits or photo.sha256 in ticked else None
        rank = _rank(has_place, shots, zone, parts, cited=photo.sha256 in cited)
        if rank is None:
            continue
        shot = shots.get(placed.shot) if placed else None
        row = PhotoRow(
            photo.sha256,
            photo.name,
            shot.title if shot else _("extra"),
            photo.sha256 in ticked,
            shot.components if shot else (),
            _is_close(shot, placed),
        )
        found.append(((rank, order.get(shot.id, len(order)) if shot else len(order)), row))
    return tuple(row for _place, row in sorted(found, key=lambda one: one[0]))


def _rank(
    placed: Placement | None, shots: Mapping[str, Shot], zone: str, parts: set[str], *, cited: bool
) -> int | None:
    """0 for a photo of the zone itself, 1 for one that shows a part of it from elsewhere, None for any other."""
    shot = shots.get(placed.shot) if placed else None
    here = placed.zone if placed and placed.target is Target.EXTRA else shot.zone if shot else ""
    if here == zone:
        return 0
    return 1 if cited or (shot and parts & set(shot.components)) else None


def _is_close(shot: Shot | None, placed: Placement | None) -> bool:
    """Whether a frame is a close one: the proof of its place, or of a shot taken from near."""
    if placed is not None and placed.slot is not None:
        return placed.slot is Slot.PROOF
    return shot is not None and shot.close_m is not None and shot.close_m <= CLOSE_M


def first_photo(screen: FindingsScreen, draft: FindingDraft | None, part: str) -> str:
    """The photo to look at first: one that the finding shows, else a ticked one that shows the part, else the first."""
    here = {row.sha256 for row in screen.photos}
    own = next((sha256 for sha256 in (*draft.close, *draft.context) if sha256 in here), "") if draft else ""
    showing = [row for row in screen.photos if part and part in row.parts]
    best = next((row for row in showing if row.ticked), showing[0] if showing else None)
    if own or best:
        return own or (best.sha256 if best else "")
    return screen.photos[0].sha256 if screen.photos else ""


def draft_for(car: Car, line: Line) -> FindingDraft:
    """What the form begins with at a line: a finding of the record, or a new one about what the line names."""
    if line.of is Todo.FINDING and (finding := _finding(car, line.subject)) is not None:
        return draft_of(finding)
    if line.of is Todo.JOTTING:
        text = next((jot.text for jot in car.jottings if jot.key == line.subject), "")
        return FindingDraft(jotting=int(line.subject), note=text)
    if line.of is Todo.PART:
        return FindingDraft(component=line.subject)
    if line.of is Todo.PHOTO:
        return FindingDraft(close=(line.subject,))
    return FindingDraft()


def with_role(draft: FindingDraft, sha256: str, role: str) -> FindingDraft:
    """A photo turned on or off as context, close or after; a photo that no longer shows anything loses its marks."""
    held = tuple(getattr(draft, role))
    turned = tuple(one for one in held if one != sha256) if sha256 in held else (*held, sha256)
    changed = replace(draft, **{role: turned})
    if sha256 in changed.photos:
        return changed
    return replace(changed, marks=tuple(mark for mark in changed.marks if mark.sha256 != sha256))


def with_mark_s_photo(draft: FindingDraft, row: PhotoRow | None) -> FindingDraft:
    """A mark is set on this photo: a finding that does not show it yet does now, close or wide as it was taken."""
    if row is None or row.sha256 in draft.photos:
        return draft
    return with_role(draft, row.sha256, "close" if row.close else "context")


def swept_notice(car: Car, found: Sweep) -> Notice:
    """What a sweep said, of how many parts, and which it left out and why."""
    said = len(found.parts)
    zone = car.plan.vocabulary.zones[found.zone].name
    left = "\n".join(f"{words}: {', '.join(names)}" for words, names in _by_reason(found.left_out))
    if not said:
        step = _("Tick what can be seen on its frames, on the Walk.") if _waits(found) else ""
        return Notice(_("Of {zone} there is nothing left to say.").format(zone=zone), next_step=step, detail=left,
                      trouble=False)  # fmt: skip
    words = _n("nothing found on {n} part", "nothing found on {n} parts", said)
    effect = _n("{n} part was left out.", "{n} parts were left out.", len(found.left_out)) if found.left_out else ""
    return Notice(
        _("{zone}: {words}.").format(zone=zone, words=words),
        effect,
        _("Ctrl+Z takes all of it back."),
        left,
        trouble=False,
    )


def _waits(found: Sweep) -> bool:
    return any(one.why is Why.NO_FRAME for one in found.left_out)


def _by_reason(left_out: Sequence[LeftOut]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    reasons = dict.fromkeys(one.why for one in left_out)
    return tuple(
        (_capital(why_word(why)), tuple(one.component.name for one in left_out if one.why is why)) for why in reasons
    )


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _cut(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= _SHORT else line[: _SHORT - 1].rstrip() + "…"
