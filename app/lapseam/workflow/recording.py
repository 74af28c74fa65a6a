"""Verbs about what was seen, tested, measured, told and closed. Each is one step that can be undone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from concurrent.futures import Future
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Final

from lapseam import plans
from lapseam.domain.admission import unknown
from lapseam.domain.car import Car
from lapseam.domain.changes import Changes
from lapseam.domain.decision import (
    Closed,
    Closing,
    Decision,
    Lead,
    Looked,
    Placement,
    Release,
    Sight,
    Sureness,
    Target,
    Tick,
    Verdict,
)
from lapseam.domain.errors import Mistake, NotFound
from lapseam.domain.finding import Finding, Severity
from lapseam.domain.plan import MustSee, Shot
from lapseam.domain.statement import (
    Basis,
    CheckResult,
    CheckVerdict,
    Evidence,
    Measurement,
    Reading,
    SerialPlace,
    SerialReading,
    Statement,
)

from .office import Choice, Done, Drop, Office, photo_called

NOTES_COLUMNS: Final = plans.columns_told()
"""The columns of a notes table, in words."""


class Recording(Office):
    """What people say about the car."""

    def tick(
        self,
        *,
        stock: str,
        shot: str,
        photo: str,
        items: Sequence[str],
        by: str,
        coated: bool = False,
        off: bool = False,
    ) -> Future[Done]:
        """Tick must-see items on a frame; `coated`: coating hides the metal there; `off` takes the ticks back.

        No items means all of them. Ticking accepts the frame: a proposed placement becomes the person's own.
        """

        def choose(car: Car) -> Choice:
            at = self.now()
            frame = photo_called(car, photo)
            asked = shot_called(car, shot)
            ticks = [
                Tick(asked.id, item.id, frame.sha256, Sight.COATED if coated else Sight.SEEN, by, at)
                for item in _items(asked, items)
            ]
            if off:
                return (), [Drop("tick", tick.key) for tick in ticks], f"Untick {asked.id} on {frame.name}"
            put: list[Decision] = [*_accepting(car, asked, frame.sha256, by), *ticks]
            return put, (), f"Tick {len(ticks)} of {len(asked.must)} on {asked.id}, {frame.name}"

        return self._decide(stock, verb="tick", by=by, choose=choose, changes=Changes.PLACEMENTS)

    def close_shot(
        self, *, stock: str, shot: str, closed: Closed, by: str, reason: str = "", note: str = ""
    ) -> Future[Done]:
        """Close a shot as not reachable (with a reason of the list) or not fitted."""

        def choose(car: Car) -> Choice:
            asked = shot_called(car, shot)
            closing = Closing(asked.id, closed, by, self.now(), reason=reason, note=note)
            return (closing,), (), f"Close {asked.id}: {closed}" + (f", {reason}" if reason else "")

        return self._decide(stock, verb="close", by=by, choose=choose, changes=Changes.PLACEMENTS)

    def reopen_shot(self, *, stock: str, shot: str, by: str) -> Future[Done]:
        """Open a closed shot again."""

        def choose(car: Car) -> Choice:
            asked = shot_called(car, shot)
            return (), (Drop("closing", asked.id),), f"Open {asked.id} again"

        return self._decide(stock, verb="close", by=by, choose=choose, changes=Changes.PLACEMENTS)

    def close_setup(self, *, stock: str, setup: str, reasons: Mapping[str, str], by: str) -> Future[Done]:
        """Close a setup before the car is moved: each gap named in `reasons` (shot to reason) is not reachable now.

        One step for all of them, so that one undo opens the setup again.
        """

        def choose(car: Car) -> Choice:
            at = self.now()
            put = [Closing(shot, Closed.NOT_REACHABLE, by, at, reason=reason) for shot, reason in reasons.items()]
            name = next((one.name for one in car.plan.setups if one.id == setup), setup)
            return put, (), f"Close the setup {name} with {len(put)} gaps"

        return self._decide(stock, verb="close", by=by, choose=choose, changes=Changes.PLACEMENTS)

    def nothing_found(self, *, stock: str, component: str, photos: Sequence[str], by: str) -> Future[Done]:
        """Say that somebody looked at a component, on ticked frames, and saw nothing to report."""

        def choose(car: Car) -> Choice:
            seen = tuple(photo_called(car, photo).sha256 for photo in photos)
            return (Looked(component, by, self.now(), seen),), (), f"Nothing found on {component}"

        return self._decide(stock, verb="looked", by=by, choose=choose, changes=Changes.FINDINGS)

    def find(self, *, stock: str, finding: Finding, jotting: int = 0) -> Future[Done]:
        """Record a finding; number 0 takes the next free one. Photos are named by digest or name as found.

        The jotting of which it is made is taken out in the same step; the finding's note has its words.
        """

        def choose(car: Car) -> Choice:
            number = finding.number or self._workspace.book.next_number(stock, "finding")
            whole = replace(
                finding,
                number=number,
                at=self.now(),
                context=_digests(car, finding.context),
                close=_digests(car, finding.close),
                after=_digests(car, finding.after),
                marks=tuple(replace(mark, sha256=photo_called(car, mark.sha256).sha256) for mark in finding.marks),
                evidence=replace(finding.evidence, photos=_digests(car, finding.evidence.photos)),
            )
            made_of = (Drop("jotting", str(jotting)),) if jotting else ()
            return (whole,), made_of, f"Finding {number}: {whole.kind} on {whole.component}"

        return self._decide(stock, verb="finding", by=finding.by, choose=choose, changes=Changes.FINDINGS)

    def check(
        self,
        *,
        stock: str,
        check: str,
        verdict: CheckVerdict,
        by: str,
        on: date | None = None,
        item: str = "",
        reason: str = "",
        conditions: str = "",
        note: str = "",
        role: str = "",
        photos: Sequence[str] = (),
    ) -> Future[Done]:
        """Record what a test gave."""

        def choose(car: Car) -> Choice:
            day = on or (None if verdict is CheckVerdict.NOT_TESTED else self.now().date())
            result = CheckResult(
                check, verdict, by, self.now(), item, reason, conditions, note, role, day, _digests(car, photos)
            )
            return (result,), (), f"Check {check}: {verdict}"

        return self._decide(stock, verb="check", by=by, choose=choose, changes=Changes.CHECKS)

    def measure(
        self,
        *,
        stock: str,
        measure: str,
        component: str,
        readings: Sequence[Reading],
        instrument: str,
        by: str,
        uncertainty: str = "",
        role: str = "",
        on: date | None = None,
        note: str = "",
        photos: Sequence[str] = (),
    ) -> Future[Done]:
        """Record readings exactly as read."""

        def choose(car: Car) -> Choice:
            whole = Measurement(
                self._workspace.book.next_number(stock, "measurement"),
                measure,
                component,
                tuple(readings),
                by,
                self.now(),
                instrument,
                uncertainty,
                role,
                on or self.now().date(),
                note,
                _digests(car, photos),
            )
            return (whole,), (), f"Measurement {whole.number}: {measure} on {component}"

        return self._decide(stock, verb="measure", by=by, choose=choose, changes=Changes.CHECKS)

    def state(
        self, *, stock: str, subject: str, claim: str, evidence: Evidence, by: str, value: str = ""
    ) -> Future[Done]:
        """Record a statement with its basis and evidence."""

        def choose(car: Car) -> Choice:
            on = evidence.on or (None if evidence.basis is Basis.NOT_CHECKED else self.now().date())
            whole = replace(evidence, photos=_digests(car, evidence.photos), on=on)
            number = self._workspace.book.next_number(stock, "statement")
            return (
                (Statement(number, subject, claim, whole, by, self.now(), value),),
                (),
                f"Statement {number}: {claim}",
            )

        return self._decide(stock, verb="statement", by=by, choose=choose, changes=Changes.STATEMENTS)

    def read_serial(
        self, *, stock: str, place: SerialPlace, text: str, by: str, photos: Sequence[str] = ()
    ) -> Future[Done]:
        """Record a serial exactly as it stands on the car or on the paper."""

        def choose(car: Car) -> Choice:
            return (SerialReading(place, text, by, self.now(), _digests(car, photos)),), (), f"Serial on the {place}"

        return self._decide(stock, verb="serial", by=by, choose=choose, changes=Changes.STATEMENTS)

    def release(self, *, stock: str, photo: str, verdict: Verdict, words: str, by: str) -> Future[Done]:
        """Say after a look whether a photo may be shown; `words` say what was looked for and seen."""

        def choose(car: Car) -> Choice:
            frame = photo_called(car, photo)
            return (Release(frame.sha256, verdict, words, by, self.now()),), (), f"{verdict} {frame.name}: {words}"

        return self._decide(stock, verb="release", by=by, choose=choose, changes=Changes.PLACEMENTS)

    def lead_with(self, *, stock: str, photo: str, by: str) -> Future[Done]:
        """Choose the photo that opens the gallery."""

        def choose(car: Car) -> Choice:
            frame = photo_called(car, photo)
            return (Lead(frame.sha256, by, self.now()),), (), f"Lead with {frame.name}"

        return self._decide(stock, verb="lead", by=by, choose=choose, changes=Changes.PLACEMENTS)

    def take_notes(self, *, stock: str, path: Path, by: str) -> Future[Done]:
        """Read a notes file (YAML, CSV, or plain text for jottings) and write all of it as one step, or nothing of it.

        Raises (in the future):
            NotesBroken: every problem with its place and remedy. Mistake: the record may not hold it.
        """

        def choose(car: Car) -> Choice:
            people = tuple(person.name for person in self.house.people)
            notes = plans.read_notes(path, car, at=self.now(), people=people, by=by)
            return notes.decisions, (), f"{path.name}: {', '.join(notes.words)}"

        return self._decide(stock, verb="note", by=by, choose=choose, changes=Changes.EVERYTHING)


def shot_called(car: Car, name: str) -> Shot:
    """The shot of that id.

    Raises:
        NotFound: the car's plan has none of that id.
    """
    found = car.plan.shot(name)
    if found is None:
        words = unknown(name, "shot of this car's plan", [shot.id for shot in car.plan.shots])
        raise NotFound(words[0].upper() + words[1:] + ".", next_step=f"List them with: lapseam coverage {car.stock}")
    return found


def severity_of(word: str) -> Severity:
    """The severity of that name.

    Raises:
        Mistake: there is none.
    """
    try:
        return Severity(word)
    except ValueError:
        raise Mistake(unknown(word, "severity", list(Severity)).capitalize() + ".") from None


def _digests(car: Car, names: Sequence[str]) -> tuple[str, ...]:
    return tuple(photo_called(car, name).sha256 for name in names)


def _items(shot: Shot, names: Sequence[str]) -> list[MustSee]:
    if not names:
        return list(shot.must)
    known = {item.id: item for item in shot.must} | {item.words: item for item in shot.must}
    for name in names:
        if name not in known:
            words = unknown(name, f"must-see item of {shot.id}", [item.words for item in shot.must])
            raise Mistake(
                words[0].upper() + words[1:] + ".", next_step="The items are: " + "; ".join(i.words for i in shot.must)
            )
    return [known[name] for name in names]


def _accepting(car: Car, shot: Shot, sha256: str, by: str) -> list[Placement]:
    """The person's own placement, where the frame stood there only as a proposal."""
    now = car.placements.get(sha256)
    if now is None or now.target is not Target.SHOT or now.shot != shot.id or now.sureness is Sureness.DECIDED:
        return []
    return [replace(now, sureness=Sureness.DECIDED, by=by)]
