"""Draw every state of the windows in every theme and size into `tests/desktop/looks/`, to be looked at.

Run it from the top of the tree: `python tests/desktop/looks.py [words of the names to draw]`.
It needs no screen: without one it draws with Qt's offscreen platform.
"""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Callable
from concurrent.futures import Future
from dataclasses import replace
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).parents[1]))

from PIL import Image
from PySide6.QtCore import QBuffer, QEvent, QPoint, QSize, Qt
from PySide6.QtGui import QImage, QImageReader
from PySide6.QtWidgets import QApplication

from fakes import answer_scenes, demo_walk, findings_scenes, next_edition, plan_scenes
from fakes.demo_card import photos
from lapseam import places
from lapseam.desktop.bridge import Bridge
from lapseam.desktop.finding_draft import FindingDraft
from lapseam.desktop.look import Ground
from lapseam.desktop.pictures import PictureShelf
from lapseam.desktop.ribbon import lap_ribbon
from lapseam.desktop.screens.answers.call_draft import draft_of
from lapseam.desktop.screens.answers.state import answers_screen, promise_lines
from lapseam.desktop.screens.answers.view import AnswersView
from lapseam.desktop.screens.edition.outlet_state import OutletChoice, outlet_screen
from lapseam.desktop.screens.edition.state import edition_screen
from lapseam.desktop.screens.edition.state import no_car as no_edition
from lapseam.desktop.screens.edition.view import EditionView
from lapseam.desktop.screens.findings.marking import Marking
from lapseam.desktop.screens.findings.state import FindingsScreen, Line, next_zone_words, no_car, swept_notice
from lapseam.desktop.screens.findings.view import FindingsView
from lapseam.desktop.screens.plans.draft import Draft, verdict
from lapseam.desktop.screens.plans.state import compare_screen, plans_screen, read_screen, shot_read
from lapseam.desktop.screens.plans.view import PlansView
from lapseam.desktop.screens.walk.closing import closing_screen
from lapseam.desktop.screens.walk.state import walk_screen
from lapseam.desktop.screens.walk.view import WalkView
from lapseam.desktop.screens.yard.state import facts_screen, yard_screen
from lapseam.desktop.screens.yard.view import YardView
from lapseam.desktop.theme import dress, text_percent_for
from lapseam.desktop.widgets.problem_sheet import ProblemSheet
from lapseam.desktop.widgets.station_tabs import Station
from lapseam.desktop.widgets.tray import TrayPhoto
from lapseam.desktop.window import Head, MainWindow, Steps
from lapseam.desktop.words import _
from lapseam.domain.coverage import check
from lapseam.domain.errors import CardGone, NotesBroken
from lapseam.domain.quality import verdicts
from lapseam.domain.unfinished import Todo, sweep

LOOKS = Path(__file__).parent / "looks"
SIZES = ((1280, 800), (2560, 1440))
COLOURS = 96

Scene = Callable[["Stage"], None]


class Stage:
    """A window with both stations, and the demo car at whatever moment a scene wants."""

    def __init__(self) -> None:
        self.window = MainWindow()
        self.bridge = Bridge(self.window.tell_error, self.window)
        self.shelf = PictureShelf(_load, self.bridge, parent=self.window)
        self.walk = WalkView(self.shelf)
        self.yard = YardView()
        self.findings = FindingsView(self.shelf)
        self.plans = PlansView()
        self.answers = AnswersView(self.shelf)
        self.edition = EditionView(self.shelf)
        self.walk.add_actions(self.window.actions)
        self.yard.add_actions(self.window.actions)
        self.findings.add_actions(self.window.actions)
        self.plans.add_actions(self.window.actions)
        self.answers.add_actions(self.window.actions)
        self.edition.add_actions(self.window.actions)
        self.window.add_station("yard", self.yard)
        self.window.add_station("walk", self.walk)
        self.window.add_station("findings", self.findings)
        self.window.add_station("plans", self.plans)
        self.window.add_station("answers", self.answers)
        self.window.add_station("edition", self.edition)

    def show(
        self, station: str, *, yard: int | None = None, walk: int | None = None, findings: int | None = None
    ) -> None:
        """Open a station with these counts on the tabs."""
        stations = (
            Station("yard", _("Yard"), "yard", yard),
            Station("walk", _("Walk"), "walk", walk),
            Station("findings", _("Findings"), "findings", findings),
            Station("edition", _("Edition"), "edition", self.stopped_by),
            Station("plans", _("Plans"), "plans"),
            Station("answers", _("Calls"), "answers", len(self.answers.promises.lines)),
        )
        self.window.show_stations(stations, station)

    stopped_by: int | None = None

    def next_edition(self) -> None:
        """Open the Edition of the demo car."""
        made = next_edition.in_the_making()
        screen = edition_screen(made, ())
        car = made.review.car
        self.stopped_by = screen.stopped_by
        ribbon = walk_screen(car, made.review.coverage, "", verdicts=verdicts(car.photos)).ribbon
        self.window.show_head(Head(car.stock, car.details.title, _("two-door hardtop · unibody"), ribbon))
        self.window.show_steps(Steps(undo=_("tick an item")))
        self.edition.show_edition(screen, made.edition.gallery)
        self.show("edition", yard=1, walk=ribbon.open)

    def walk_at(self, car, shot: str) -> None:
        """Open the walk of a car at a shot."""
        coverage = check(car)
        screen = walk_screen(car, coverage, shot, verdicts=verdicts(car.photos))
        about = _("two-door hardtop · unibody")
        self.window.show_head(Head(car.stock, car.details.title, about, screen.ribbon))
        self.window.show_steps(Steps(undo=_("tick an item")))
        self.walk.show_walk(screen)
        self.show("walk", yard=1, walk=screen.ribbon.open)


def _load(sha256: str, longest_px: int) -> Future[QImage]:
    found: Future[QImage] = Future()
    photo = next(one for one in photos() if one.sha256 == sha256)
    reader = QImageReader(str(places.demo_assets() / "card" / photo.name))
    reader.setAutoTransform(True)
    reader.setScaledSize(reader.size().scaled(QSize(longest_px, longest_px), Qt.AspectRatioMode.KeepAspectRatio))
    found.set_result(reader.read())
    return found


def edition_photo(stage: Stage) -> None:
    stage.next_edition()
    flaw = next(one for one in edition_screen(next_edition.in_the_making(), ()).places if one.findings)
    places = stage.edition.sequence.places
    stage.edition.sequence.setCurrentIndex(places.index(places.row_of(flaw.sha256, again=False)))


def edition_refused(stage: Stage) -> None:
    edition_photo(stage)
    stage.edition.photo.caption.setText("Rust-free left rocker, perfect")
    stage.edition.photo.show_guard(
        "“Rust-free” is a promise word and may not be printed. Say instead: no rust seen on photos 1 to 8."
    )


def edition_phone(stage: Stage) -> None:
    stage.next_edition()
    stage.edition.show_pane(stage.edition.phone)


def edition_outlet(stage: Stage) -> None:
    stage.next_edition()
    made = next_edition.in_the_making()
    choice = OutletChoice(_("Weekly sheet: 20 photos"), name="Weekly sheet")
    stage.edition.outlets.offer((choice,), choice)
    stage.edition.outlets.show_outlet(outlet_screen(choice, next_edition.outlet_set(20), made.review.car))
    stage.edition.show_pane(stage.edition.outlets)


def edition_signature(stage: Stage) -> None:
    stage.next_edition()
    stage.edition.show_pane(stage.edition.signature)


def edition_passphrase(stage: Stage) -> None:
    stage.next_edition()
    stage.edition.passphrase.ask(
        "publish",
        _("Sign the files of edition {number} too?").format(number=2),
        _("The record is signed with a key. Its passphrase signs the edition's own list of files as well."),
        go=_("Publish"),
        without=_("Without it"),
    )


def edition_empty(stage: Stage) -> None:
    stage.edition.show_edition(no_edition(), None)
    stage.window.show_head(Head())
    stage.show("edition", yard=1)


def empty_yard(stage: Stage) -> None:
    stage.yard.show_yard(yard_screen(()))
    stage.show("yard")


def yard_with_cars(stage: Stage) -> None:
    cars = []
    for stock, car in (
        ("T-114", demo_walk.noted_car()),
        ("T-117", demo_walk.until("s3-open")),
        ("T-120", demo_walk.new_car()),
    ):
        named = replace(car, stock=stock, details=None if stock == "T-120" else car.details)
        cars.append((named, check(named)))
    stage.yard.show_yard(yard_screen(cars))
    stage.show("yard", yard=3, walk=81)


def new_car(stage: Stage) -> None:
    yard_with_cars(stage)
    stage.yard.offer_plans((("hardtop-full", demo_walk.full_plan().title),))
    stage.yard.show_form()
    stage.yard.form.stock.setText("T-121")


def facts(stage: Stage) -> None:
    yard_with_cars(stage)
    car = demo_walk.noted_car()
    stage.yard.show_facts(facts_screen(car, check(car)))


def first_shot(stage: Stage) -> None:
    stage.walk_at(demo_walk.new_car(), "ext-front-left")


def outside(stage: Stage) -> None:
    stage.walk_at(demo_walk.noted_car(), "ext-right-rocker")


def lift(stage: Stage) -> None:
    stage.walk_at(demo_walk.noted_car(), "under-right-sill")


def decide(stage: Stage) -> None:
    car = demo_walk.noted_car()
    asked = next(line for line in check(car).shots if line.asks)
    stage.walk_at(car, asked.shot.id)


def not_reachable(stage: Stage) -> None:
    lift(stage)
    stage.walk.ask_why_not()


def closing(stage: Stage) -> None:
    lift(stage)
    car = demo_walk.noted_car()
    screen = closing_screen(car, check(car), "s7-lift", minutes_left=18)
    stage.walk.show_closing(screen.with_reason(screen.rows[0].shot, "lift-arm-in-the-way"))


def tray(stage: Stage) -> None:
    lift(stage)
    car = demo_walk.noted_car()
    rows = []
    for place, photo in enumerate(car.photos[3:75:6]):
        shot = car.plan.shots[place * 7 + 5]
        known = place % 3 != 2
        rows.append(TrayPhoto(photo.sha256, photo.name, shot.id if known else "", shot.title if known else ""))
    stage.walk.show_tray(tuple(rows))
    stage.walk.show_tray_page()


def trouble(stage: Stage) -> None:
    lift(stage)
    error = CardGone("The card was taken out while photos were coming in.", effect="31 of 48 photos are safe.")
    stage.window.tell_error(error)
    stage.window.jobs.begin("take-in", _("Taking photos in from the card"))
    stage.window.jobs.tell("take-in", 31, 48)


def finding_an_action(stage: Stage) -> None:
    lift(stage)
    stage.window.open_find()
    stage.window.find.line.setText("shot")


def plans_list(stage: Stage) -> None:
    shelf = plan_scenes.on_shelf()
    stage.plans.list.show_plans(plans_screen(shelf, plan_scenes.sums()))
    stage.show("plans", yard=3)
    stage.plans.take_keyboard()


def plans_being_read(stage: Stage) -> None:
    shelf = tuple(one for one in plan_scenes.on_shelf() if not one.house)
    stage.plans.list.show_plans(plans_screen(shelf, {"buyer-asked": None}))
    stage.show("plans", yard=3)


def plan_read(stage: Stage) -> None:
    found = plan_scenes.read(plan_scenes.HOUSE)
    stage.show("plans", yard=3)
    stage.plans.read.show_plan(read_screen(found), shot_read(found.plan, "bed-whole"))
    stage.plans.show_page(stage.plans.read)
    stage.plans.read.shots.stand_on("bed-whole")


def plan_broken(stage: Stage) -> None:
    stage.show("plans", yard=3)
    stage.plans.read.show_plan(read_screen(plan_scenes.broken()), None)
    stage.plans.show_page(stage.plans.read)


def plans_compared(stage: Stage) -> None:
    stage.show("plans", yard=3)
    offered = tuple((one.file.id, one.file.title) for one in plan_scenes.on_shelf())
    stage.plans.compare.offer(offered, "hardtop-full", "pickup-full")
    stage.plans.compare.show_comparison(compare_screen(plan_scenes.compared("hardtop-full", "pickup-full")))
    stage.plans.show_page(stage.plans.compare)


def plan_copy(stage: Stage) -> None:
    stage.show("plans", yard=3)
    stage.plans.show_page(stage.plans.copy)
    stage.plans.copy.begin("pickup-full", "Full walkaround, pickup with a lift")


def plan_form(stage: Stage, *, when: str = "body == 'pickup'") -> None:
    page = plan_scenes.opened()
    draft, new = Draft(page.tried.shots).add("bed-whole")
    draft = draft.change(new, "title", "Bed number plate, close").change(new, "when", when)
    draft = draft.change(new, "need", "conditional")
    stage.show("plans", yard=3)
    form = stage.plans.form
    form.show_plan(page.shelf.file.title, _("Cars that are begun from now on are walked by what you save here."))
    stage.plans.show_page(form)
    form.show_draft(draft, page.tried.plan.setups, new)
    found = verdict(plan_scenes.tried(page, draft.edits), new)
    form.show_verdict(found, may_save=not found.wrong)
    form.shot.fields["title"].setFocus()


def findings_without_car(stage: Stage) -> None:
    stage.findings.show_zone(no_car(), "")
    stage.show("findings", yard=3)


def _findings_head(stage: Stage, zone: str) -> None:
    car, coverage = findings_scenes.car(), findings_scenes.coverage()
    ribbon = lap_ribbon(car.plan, coverage, zone)
    stage.window.show_head(Head(car.stock, car.details.title, _("two-door hardtop · unibody"), ribbon))
    stage.window.show_steps(Steps(undo=_("tick an item")))
    open_things = sum(one.open for one in findings_scenes.screen(zone).zones)
    stage.show("findings", yard=3, walk=ribbon.open, findings=open_things)


def _first_part(zone: str) -> str:
    return next(line.key for line in findings_scenes.screen(zone).open if line.of is Todo.PART)


def findings_zone(stage: Stage) -> None:
    findings_scenes.show_line(stage.findings, "openings", _first_part("openings"))
    _findings_head(stage, "openings")
    stage.findings.list.setFocus()


def findings_marks(stage: Stage) -> None:
    findings_scenes.show_line(stage.findings, "right-side", "finding:4", x=0.3, y=0.35, held=1)
    _findings_head(stage, "right-side")
    stage.findings.photos.take_keyboard()


def findings_guard(stage: Stage) -> None:
    draft = FindingDraft(
        component="front-bumper", kind="dent", place="left guard", extent="5/32in", detail="otherwise original paint"
    )
    findings_scenes.show_line(stage.findings, "front", "part:front-bumper", draft)
    findings_scenes.show_guard(stage.findings)
    _findings_head(stage, "front")
    stage.findings.form.detail.setFocus()


def findings_completing(stage: Stage) -> None:
    findings_zone(stage)
    draft = replace(stage.findings.form.draft, state="repaired", state_on="2026-05-12", state_reason="new metal let in")
    key = _first_part("openings")
    findings_scenes.show_line(stage.findings, "openings", key, draft)
    field = stage.findings.form.component
    field.setFocus()
    field.setText("boot")
    QApplication.processEvents()
    field.textEdited.emit("boot")


def findings_check(stage: Stage) -> None:
    findings_scenes.show_line(stage.findings, "dash", "check:chk-horn")
    _findings_head(stage, "dash")
    stage.findings.enter_pane()


def findings_note(stage: Stage) -> None:
    shown = findings_scenes.screen("right-side")
    stage.findings.show_zone(shown, "jotting:1")
    stage.findings.note.show_note(_("Note {n} of {zone}").format(n=1, zone=shown.name), findings_scenes.NOTE, kept=True)
    stage.findings.show_pane(stage.findings.note)
    findings_scenes.show_photos(stage.findings, shown, None, Marking())
    _findings_head(stage, "right-side")
    stage.findings.enter_pane()


def findings_no_photos(stage: Stage) -> None:
    _findings_done(stage, replace(findings_scenes.screen("cabin-floor"), photos=(), may_sweep=0))


def findings_done(stage: Stage) -> None:
    shown = findings_scenes.screen("roof")
    lines = tuple(replace(line, open=False) for line in shown.lines if not line.open and line.key)
    _findings_done(stage, replace(shown, lines=(Line("", _("Recorded")), *lines), may_sweep=0))


def _findings_done(stage: Stage, shown: FindingsScreen) -> None:
    stage.findings.show_zone(shown, "")
    after = shown.after_open()
    done = _("Nothing left to finish in {zone}.").format(zone=shown.name)
    stage.findings.word.show_words(done, next_zone_words(after), _("Next zone"))
    stage.findings.show_pane(stage.findings.word)
    findings_scenes.show_photos(stage.findings, shown, None, Marking())
    _findings_head(stage, shown.zone)
    stage.findings.enter_pane()


def findings_swept(stage: Stage) -> None:
    findings_zone(stage)
    car, coverage = findings_scenes.car(), findings_scenes.coverage()
    stage.window.tell(swept_notice(car, sweep(car, coverage, "openings")))


def plan_form_wrong(stage: Stage) -> None:
    plan_form(stage, when="bed_linr")


def answers_empty(stage: Stage) -> None:
    stage.answers.offer_questions(answer_scenes.questions())
    stage.show("answers", yard=3)
    stage.answers.take_keyboard()


def answers_rust(stage: Stage) -> None:
    stage.answers.promises.show_promises(promise_lines(answer_scenes.promises()))
    stage.show("answers", yard=3)
    answer = answer_scenes.found("Any rust? Where?", "rust", "corros", "coating", "rocker")
    stage.answers.question.setText(answer.asked)
    stage.answers.show_scope("T-114", only=False)
    stage.answers.show_answers(answers_screen(answer, ""))
    stage.answers.list.setFocus()


def answers_stale(stage: Stage) -> None:
    stage.show("answers", yard=3)
    answer = answer_scenes.found("scratch", "scratch", today=answer_scenes.LATER)
    stage.answers.question.setText(answer.asked)
    stage.answers.show_scope("T-114", only=True)
    stage.answers.show_answers(answers_screen(answer, "T-114"))
    stage.answers.show_said("T-114: To look at, number 1: left-door")


def answers_not_recorded(stage: Stage) -> None:
    lift(stage)
    answers_rust(stage)
    answer = answer_scenes.found("does the clock work", "clock", "glovebox", "lighter")
    gaps = replace(answer, hits=tuple(hit for hit in answer.hits if not hit.entry.answers))
    stage.answers.question.setText(gaps.asked)
    stage.answers.show_answers(answers_screen(gaps, ""))


def answer_large(stage: Stage) -> None:
    answers_rust(stage)
    stage.answers.show_large()


def call_form(stage: Stage) -> None:
    lift(stage)
    answers_rust(stage)
    hit = answer_scenes.found("Any rust? Where?", "rust", "corros", "coating", "rocker").hits[0]
    stage.answers.form.offer_cars((("T-114", "T-114  1968 Talbrook Vesper"),))
    stage.answers.show_form()
    stage.answers.form.ask(draft_of("Any rust? Where?", hit, ""), today=answer_scenes.TODAY)
    stage.answers.form.show_edition(1)


def notes_broken(stage: Stage) -> None:
    lift(stage)
    sheet = ProblemSheet(stage.window)
    problems = (
        "notes.csv:2:5: row 2, column E (severity): 'awful' is not one of: note, cosmetic, wear, needs-work, "
        "structural, unsafe (write one of them)",
        "notes.csv:4:6: row 4, column F (close): the car has no photo 'EXO_4135.JPEG' (did you mean 'EXO_4135.JPG'?)",
        "notes.csv:9:1: row 9, column A: 'findng' is nothing that a row can be (did you mean 'finding'?)",
    )
    sheet.show_problems("notes.csv", problems, NotesBroken.default_next_step)


def promise(stage: Stage) -> None:
    answers_rust(stage)
    stage.answers.promises.open_chosen()


SCENES: dict[str, Scene] = {
    scene.__name__.replace("_", "-"): scene
    for scene in (
        *(empty_yard, yard_with_cars, new_car, facts, first_shot, outside, lift, decide, not_reachable),
        *(closing, tray, trouble, finding_an_action),
        *(answers_empty, answers_rust, answers_stale, answers_not_recorded, answer_large, call_form, promise),
        notes_broken,
        *(
            edition_photo,
            edition_refused,
            edition_phone,
            edition_outlet,
            edition_signature,
            edition_passphrase,
            edition_empty,
        ),
        *(plans_list, plans_being_read, plan_read, plan_broken, plans_compared, plan_copy, plan_form, plan_form_wrong),
        *(
            findings_without_car,
            findings_zone,
            findings_completing,
            findings_marks,
            findings_guard,
            findings_check,
            findings_note,
        ),
        *(findings_no_photos, findings_done, findings_swept),
    )
}


def draw(app: QApplication, name: str, ground: Ground, size: tuple[int, int]) -> Path:
    """Draw one scene and give the file."""
    dress(app, ground, text_percent=text_percent_for(size[1]))
    stage = Stage()
    stage.window.resize(*size)
    stage.window.show()
    SCENES[name](stage)
    for _round in range(6):
        app.processEvents()
    image = QImage(QSize(*size), QImage.Format.Format_RGB888)
    stage.window.render(image, QPoint())
    path = LOOKS / f"{name}-{ground.value}-{size[0]}x{size[1]}.png"
    _save(image, path)
    stage.window.close()
    stage.window.deleteLater()
    app.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    return path


def _save(image: QImage, path: Path) -> None:
    """Few colours keep the files small; what is judged is layout and type, not the photographs."""
    buffer = QBuffer()
    buffer.open(QBuffer.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")
    picture = Image.open(io.BytesIO(bytes(buffer.data()))).convert("RGB")
    if picture.width > SIZES[0][0]:
        picture = picture.resize((picture.width // 2, picture.height // 2), Image.Resampling.LANCZOS)
    path.parent.mkdir(exist_ok=True)
    picture.quantize(COLOURS, dither=Image.Dither.NONE).save(path, optimize=True)


def main(wanted: list[str]) -> int:
    """Draw the scenes whose file name holds every word of `wanted`."""
    app = QApplication.instance() or QApplication([])
    for name in SCENES:
        for ground in Ground:
            for size in SIZES:
                told = f"{name}-{ground.value}-{size[0]}"
                if all(word in told for word in wanted):
                    path = draw(app, name, ground, size)
                    print(f"{path.name}: {path.stat().st_size // 1000} kB")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
