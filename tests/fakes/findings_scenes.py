"""The Findings' station at several moments, filled from the demo car's record as its errands fill it."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from functools import cache
from typing import Any

from fakes import demo_walk
from lapseam import places, plans
from lapseam.desktop.finding_draft import FindingDraft
from lapseam.desktop.screens.findings.check_state import check_screen
from lapseam.desktop.screens.findings.form_state import form_hint, form_title, shown_by, uses_of
from lapseam.desktop.screens.findings.guard import warned_of
from lapseam.desktop.screens.findings.marking import Marking
from lapseam.desktop.screens.findings.state import FindingsScreen, draft_for, findings_screen, first_photo
from lapseam.desktop.screens.findings.view import FindingsView
from lapseam.domain.car import Car
from lapseam.domain.claim_evidence import OnFile
from lapseam.domain.claims import guard_of
from lapseam.domain.completion import Offers, offers_of
from lapseam.domain.coverage import Coverage, check
from lapseam.domain.jotting import Jotting
from lapseam.domain.unfinished import Todo, unfinished

NOTE = "dent behind the left door, size of a palm,\npaint not broken, ask Mirek whether he saw it before"


@cache
def car() -> Car:
    """The demo car with a note that nobody has made a finding of."""
    noted = demo_walk.noted_car()
    jotting = Jotting(1, "right-side", NOTE, demo_walk.CLERK, datetime(2026, 5, 13, 10))
    return noted.with_decisions([jotting])


@cache
def coverage() -> Coverage:
    """Where that car stands."""
    return check(car())


@cache
def offers() -> Offers:
    """What the form completes on."""
    return offers_of(car().plan.vocabulary, plans.load_search_words(places.shot_plans() / "vocabulary"))


def screen(zone: str) -> FindingsScreen:
    """A zone of the demo car."""
    return findings_screen(car(), coverage(), unfinished(car(), coverage()), zone)


def show_line(view: FindingsView, zone: str, key: str, draft: FindingDraft | None = None, **marking: Any) -> None:
    """Show a zone with a line of it in the form, as it is in the record or as `draft` says."""
    shown = screen(zone)
    line = shown.line(key)
    assert line is not None, [one.key for one in shown.lines]
    begun = draft or draft_for(car(), line)
    view.show_zone(shown, key)
    if line.of is Todo.CHECK:
        view.check.show_check(check_screen(car(), line.subject), kept=False)
        view.show_pane(view.check)
        show_photos(view, shown, None, Marking())
        return
    view.form.offer(offers(), shown.own_parts, car().plan.vocabulary)
    view.form.show_draft(
        begun,
        title=form_title(car(), begun, line),
        hint=form_hint(line),
        shown_by=shown_by(begun),
        look=line.of is Todo.PART and line.open,
    )
    view.show_pane(view.form)
    show_photos(view, shown, begun, replace(Marking(begun.marks), **marking))


def show_photos(view: FindingsView, shown: FindingsScreen, draft: FindingDraft | None, marking: Marking) -> None:
    """The zone's photos with a finding's marks."""
    photo = first_photo(shown, draft, draft.component if draft else "")
    view.photos.show_photos(shown, photo, uses_of(draft, shown.photos))
    view.photos.show_marks(marking, may_mark=draft is not None)


def show_guard(view: FindingsView) -> None:
    """What the guard says of the words that stand in the form now."""
    guard = guard_of(car().plan.vocabulary)
    texts = {"detail": view.form.draft.detail, "note": view.form.draft.note}
    on_file = OnFile(car(), coverage())
    view.form.show_guard(warned_of({name: guard.judge(text, on_file=on_file) for name, text in texts.items()}))
