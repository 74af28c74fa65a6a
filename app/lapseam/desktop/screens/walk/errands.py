"""Turns what a person wants at the car into workflow verbs, and shows the Walk as it is after each."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog

from lapseam.domain.decision import Closed, Sight, Target
from lapseam.domain.errors import UserError
from lapseam.domain.finding import Finding
from lapseam.intake import Watch
from lapseam.workflow.looking import Whole
from lapseam.workflow.taking_in import TakenIn
from lapseam.workflow.yard import UNKNOWN

from ...camera import CameraSheet, open_camera
from ...notices import Notice
from ...waiting import tray_photos
from ...widgets.finding_form import FindingForm
from ...words import _, _n
from .closing import closing_screen
from .state import first_of_setup, first_of_zone, walk_screen
from .view import WalkView

if TYPE_CHECKING:
    from ...front import Front

_NAMED_FAILURES = 6


class WalkErrands(QObject):
    """Wires a `WalkView` to the desk. Knows which shot is up, and where the next photo goes."""

    def __init__(self, front: Front, view: WalkView) -> None:
        super().__init__(view)
        self._front = front
        self._view = view
        self._shot = ""
        self._extra_zone = ""
        self._watch: Watch | None = None
        self._entered: dict[tuple[str, str], datetime] = {}
        self._closing = ""
        self.finding_form = FindingForm(view)
        self.camera = CameraSheet(view, front.desk.folder / "cache" / "camera")
        self._connect()

    def _connect(self) -> None:
        view = self._view
        view.shot_wanted.connect(self.go_to_shot)
        view.chapter_wanted.connect(self._go_to_setup)
        view.ticked.connect(self._tick)
        view.again_wanted.connect(self._again)
        view.not_reachable_wanted.connect(self._not_reachable)
        view.not_fitted_wanted.connect(self._not_fitted)
        view.reopen_wanted.connect(self._reopen)
        view.finding_wanted.connect(self._ask_finding)
        view.extra_wanted.connect(self._extra_next)
        view.answered.connect(self._answered)
        view.facts_wanted.connect(self._facts)
        view.closing_wanted.connect(self._show_closing)
        view.close_wanted.connect(self._close_setup)
        view.files_dropped.connect(lambda paths: self.take_card_in(tuple(paths)))
        view.folder_wanted.connect(self._choose_folder)
        view.watch_wanted.connect(self._choose_watch)
        view.tray.accept_wanted.connect(self._accept)
        view.tray.place_wanted.connect(lambda sha256: self._accept(sha256, self._shot))
        view.tray.extra_wanted.connect(self._make_extra)
        view.tray.aside_wanted.connect(lambda sha256: self._aside(sha256, _("set aside in the tray")))
        self.finding_form.done.connect(self._find)
        self.camera.shot.connect(self._camera_shot)
        self.camera.trouble.connect(
            lambda words: self._front.tell(Notice(_("The camera gave no frame."), detail=words))
        )
        self._front.window.actions.add(
            "walk.camera",
            _("Shoot with the attached camera"),
            self.open_camera,
            key="Ctrl+Shift+C",
            drawing="lens",
            where=view,
        )

    # What is shown

    @property
    def zone(self) -> str:
        """The zone of the shot that is up."""
        whole = self._front.whole
        shot = whole.car.plan.shot(self._shot) if whole else None
        return shot.zone if shot else ""

    def aim(self, shot: str) -> None:
        """Show this shot at the next look; "" where the walk was left."""
        self._shot = shot
        self._extra_zone = ""

    def show(self, whole: Whole) -> None:
        """Show the Walk as it is now."""
        screen = walk_screen(whole.car, whole.coverage, self._shot, verdicts=whole.verdicts)
        if screen.shot is not None:
            self._shot = screen.shot.shot
            self._entered.setdefault((whole.car.stock, screen.shot.setup), self._front.desk.now())
        self._view.show_walk(screen)
        self._view.show_tray(tray_photos(whole.car))
        if self._closing and self._view.pages.currentWidget() is self._view.closing:
            self._show_closing(self._closing)

    def go_to_shot(self, shot: str) -> None:
        """Open a shot."""
        self.aim(shot)
        self._front.station = "walk"
        self._again_shown()
        self._view.show_shooting()

    def go_to_zone(self, zone: str) -> None:
        """Open the first open shot of a zone."""
        whole = self._front.whole
        if whole is not None and (shot := first_of_zone(whole.coverage, zone)):
            self.go_to_shot(shot)

    def _go_to_setup(self, setup: str) -> None:
        whole = self._front.whole
        if whole is not None and (shot := first_of_setup(whole.coverage, setup)):
            self.go_to_shot(shot)

    def _again_shown(self) -> None:
        if self._front.whole is not None:
            self.show(self._front.whole)
            self._front.show_frame()

    # What is said of the shot

    def _tick(self, shot: str, item: str, sha256: str, sight: str) -> None:
        self._front.do(
            self._front.desk.tick(
                stock=self._front.stock,
                shot=shot,
                photo=sha256,
                items=[item],
                by=self._front.by,
                coated=sight == Sight.COATED,
                off=not sight,
            )
        )

    def _again(self, shot: str, sha256: str) -> None:
        self._aside(sha256, _("taken again"))

    def _not_reachable(self, shot: str, reason: str) -> None:
        desk, stock, by = self._front.desk, self._front.stock, self._front.by
        self._front.do(desk.close_shot(stock=stock, shot=shot, closed=Closed.NOT_REACHABLE, reason=reason, by=by))

    def _not_fitted(self, shot: str) -> None:
        desk, stock, by = self._front.desk, self._front.stock, self._front.by
        self._front.do(desk.close_shot(stock=stock, shot=shot, closed=Closed.NOT_FITTED, by=by))

    def _reopen(self, shot: str) -> None:
        self._front.do(self._front.desk.reopen_shot(stock=self._front.stock, shot=shot, by=self._front.by))

    def _answered(self, fact: str, value: object) -> None:
        stock = self._front.stock
        said = UNKNOWN if value is None else value
        coming = self._front.desk.answer(stock=stock, answers={fact: said}, by=self._front.by)  # type: ignore[dict-item]
        self._front.bridge.when_done(coming, lambda _done: self._front.changed(stock))

    def _facts(self) -> None:
        stock = self._front.stock
        self._front.station = "yard"
        self._front.yard.refresh(lambda: (self._front.show_frame(), self._front.yard.show_facts(stock)))

    def _ask_finding(self, shot: str, sha256: str) -> None:
        whole = self._front.whole
        if whole is not None:
            self.finding_form.ask(whole.car, shot, sha256, by=self._front.by, now=self._front.desk.now())

    def _find(self, finding: Finding) -> None:
        coming = self._front.desk.find(stock=self._front.stock, finding=finding)
        self._front.do(coming, lambda done: self._front.tell(Notice(done.words, trouble=False)))

    # Closing a setup

    def _show_closing(self, setup: str) -> None:
        whole = self._front.whole
        if whole is None:
            return
        chosen = self._view.closing.chosen(setup)
        self._closing = setup
        minutes = self._minutes_left(whole, setup)
        self._view.show_closing(closing_screen(whole.car, whole.coverage, setup, minutes_left=minutes, chosen=chosen))

    def _minutes_left(self, whole: Whole, setup: str) -> int | None:
        entered = self._entered.get((whole.car.stock, setup))
        booked = next((one.minutes for one in whole.car.plan.setups if one.id == setup), None)
        if entered is None or booked is None:
            return None
        return booked - int((self._front.desk.now() - entered).total_seconds() // 60)

    def _close_setup(self, setup: str, reasons: Mapping[str, str]) -> None:
        stock, by = self._front.stock, self._front.by
        self._closing = ""
        whole = self._front.whole
        order = [one.id for one in whole.car.plan.setups] if whole else []
        after = order[order.index(setup) + 1 :] if setup in order else []
        following = next((s for one in after if whole and (s := first_of_setup(whole.coverage, one))), "")
        self.aim(following or self._shot)
        self._view.show_shooting()
        self._front.do(self._front.desk.close_setup(stock=stock, setup=setup, reasons=dict(reasons), by=by))

    # Photos that come in

    def take_card_in(self, paths: tuple[Path, ...]) -> None:
        """Take a card or folder in as a whole: every photo gets a proposal, and the tray shows what is unsure."""
        self._take_in(paths, towards="")

    def card_came(self, folder: Path) -> None:
        """A card was put in: say so, and how to take it in."""
        if self._front.whole is not None:
            self._card = folder
            words = _("A camera card is in: {folder}").format(folder=folder)
            step = _("Press Ctrl+O to take its photos in to {stock}.").format(stock=self._front.stock)
            self._front.tell(Notice(words, next_step=step, trouble=False))

    def _take_in(
        self, paths: tuple[Path, ...], *, towards: str, zone: str = "", then: Callable[[], object] = lambda: None
    ) -> None:
        front, stock = self._front, self._front.stock
        if not stock:
            return
        job = front.begin_job(
            _n("Taking in {n} file", "Taking in {n} files", len(paths)) if towards else _("Taking photos in")
        )
        coming = front.desk.take_in(
            stock=stock,
            paths=paths,
            by=front.by,
            progress=job.tell,
            stop=job.stop,
            towards=towards,
            towards_zone=zone,
        )

        def taken(answer: TakenIn) -> None:
            then()
            self._tell_taken(answer, quiet=bool(towards or zone))
            if answer.kept and not (towards or zone):
                front.bridge.when_done(front.desk.propose(stock=stock), lambda _done: self._card_is_in(stock))
            else:
                front.changed(stock)

        front.bridge.when_done(coming, taken, finally_do=job.end)

    def _card_is_in(self, stock: str) -> None:
        self._front.changed(stock)
        self._view.show_tray_page()

    def _tell_taken(self, answer: TakenIn, *, quiet: bool) -> None:
        if answer.failed:
            named = [f"{one.name}: {one.reason or one.outcome}" for one in answer.failed[:_NAMED_FAILURES]]
            more = len(answer.failed) - len(named)
            if more:
                named.append(_n("and {n} more", "and {n} more", more))
            self._front.tell(
                Notice(
                    _n("{n} file could not be taken in.", "{n} files could not be taken in.", len(answer.failed)),
                    _n("{n} new photo is safe.", "{n} new photos are safe.", answer.kept),
                    _("Look at the files named; take those views again if they are lost."),
                    "\n".join(named),
                )
            )
        elif answer.stopped:
            words = _n("Stopped: {n} photo is safe.", "Stopped: {n} photos are safe.", answer.kept)
            self._front.tell(Notice(words, next_step=_("Take the same folder in again to go on."), trouble=False))
        elif not quiet or not answer.kept:
            known = len(answer.results) - answer.kept
            words = _n("{n} new photo is safe.", "{n} new photos are safe.", answer.kept)
            effect = _n("{n} was here already.", "{n} were here already.", known) if known else ""
            self._front.tell(Notice(words, effect, trouble=False))

    def _choose_folder(self) -> None:
        start = str(getattr(self, "_card", "") or "")
        folder = QFileDialog.getExistingDirectory(self._view, _("Take photos in from a folder or card"), start)
        if folder:
            self.take_card_in((Path(folder),))

    def _choose_watch(self) -> None:
        if self._watch is not None:
            self.stop_watching()
            self._front.tell(Notice(_("The folder is no longer watched."), trouble=False))
            return
        folder = QFileDialog.getExistingDirectory(self._view, _("Watch a folder for photos"))
        if folder:
            self.watch(Path(folder))

    def watch(self, folder: Path) -> None:
        """Watch a folder: each photo that arrives is proposed for the shot that is up."""
        self.stop_watching()
        try:
            self._watch = self._front.desk.watch(folder=folder, arrived=self._front.bridge.teller(self._arrived))
        except Exception as error:  # noqa: BLE001 - the window's one place words it
            self._front.window.tell_error(error)
            return
        words = _("Watching {folder}.").format(folder=folder)
        step = _("Each photo that arrives is proposed for the shot that is up.")
        self._front.tell(Notice(words, next_step=step, trouble=False))

    def stop_watching(self) -> None:
        """Watch no more."""
        if self._watch is not None:
            self._watch.stop()
            self._watch = None

    def _arrived(self, paths: tuple[Path, ...]) -> None:
        zone, self._extra_zone = self._extra_zone, ""
        self._take_in(paths, towards="" if zone else self._shot, zone=zone)

    def open_camera(self) -> None:
        """Show the attached camera's live picture; its frames go to the shot that is up."""
        whole = self._front.whole
        shot = whole.car.plan.shot(self._shot) if whole else None
        if shot is None:
            return
        try:
            self.camera.use(open_camera(), shot.title)
        except UserError as error:
            self._front.window.tell_error(error)

    def _camera_shot(self, path: Path) -> None:
        """Take a camera's frame in; the vault keeps it, so the file in the cache goes."""
        self._take_in((path,), towards=self._shot, then=lambda: path.unlink(missing_ok=True))

    def _extra_next(self, zone: str) -> None:
        self._extra_zone = zone
        name = self._front.whole.car.plan.vocabulary.zones[zone].name if self._front.whole else zone
        words = _("The next photo will be an extra of: {zone}").format(zone=name)
        self._front.tell(Notice(words, trouble=False))

    # The tray

    def _accept(self, sha256: str, shot: str) -> None:
        desk, stock, by = self._front.desk, self._front.stock, self._front.by
        self._front.do(desk.place(stock=stock, photo=sha256, target=Target.SHOT, shot=shot, by=by))

    def _make_extra(self, sha256: str) -> None:
        desk, stock, by = self._front.desk, self._front.stock, self._front.by
        self._front.do(desk.place(stock=stock, photo=sha256, target=Target.EXTRA, zone=self.zone, by=by))

    def _aside(self, sha256: str, reason: str) -> None:
        desk, stock, by = self._front.desk, self._front.stock, self._front.by
        self._front.do(desk.place(stock=stock, photo=sha256, target=Target.ASIDE, reason=reason, by=by))
