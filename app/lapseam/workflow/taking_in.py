"""Verbs about photos: take in, propose, place."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from concurrent.futures import Future
from dataclasses import dataclass
from pathlib import Path

from lapseam import intake
from lapseam.domain import matching
from lapseam.domain.car import Car
from lapseam.domain.changes import Changes
from lapseam.domain.decision import PROGRAM, Placement, Slot, Sureness, Target
from lapseam.domain.errors import Mistake
from lapseam.domain.photo import IntakeOutcome, IntakeResult, MediaKind, Photo
from lapseam.intake import Watch

from .office import Choice, Done, Drop, Office, photo_called
from .recording import shot_called
from .runner import Progress, Stop

_SURE_ENOUGH = {
    "strong": (Sureness.STRONG,),
    "likely": (Sureness.STRONG, Sureness.LIKELY),
    "all": (Sureness.STRONG, Sureness.LIKELY, Sureness.WEAK),
}


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What became of every file, in the order found; `stopped` if a person stopped it before the end."""

    results: tuple[IntakeResult, ...]
    stopped: bool = False

    @property
    def kept(self) -> int:
        """How many new photos are safe."""
        return sum(1 for result in self.results if result.outcome is IntakeOutcome.KEPT)

    @property
    def failed(self) -> tuple[IntakeResult, ...]:
        """The files that should have come in and did not."""
        return tuple(result for result in self.results if result.failed)


@dataclass(frozen=True, slots=True)
class Proposed:
    """How many photos got a proposal, and how many of those are strong."""

    proposed: int
    strong: int


def _beside_a_window() -> int:
    """One core fewer than there are: somebody stands before the window while these photos come in."""
    return max(1, (os.cpu_count() or 1) - 1)


def _silent(done: int, total: int) -> None:
    """Nobody listens."""


class TakingIn(Office):
    """Photos: how they come in and where they stand."""

    def take_in(
        self,
        *,
        stock: str,
        paths: Sequence[Path],
        by: str,
        progress: Progress = _silent,
        stop: Stop | None = None,
        towards: str = "",
        towards_zone: str = "",
    ) -> Future[TakenIn]:
        """Take photos in from files, folders or cards. Runs beside the book; `stop` ends it between files.

        With `towards`, each new photo is proposed for that shot as it comes in: the photographer stands before it;
        with `towards_zone` it becomes an extra of that zone, because the photographer said so before.

        Raises (in the future):
            CardGone, DiskFull, NoRights: with what is safe by then. Said again, it goes on where it stopped.
        """
        return self.runner.beside(
            self._take_in, stock, tuple(paths), by, progress, stop or Stop(), (towards, towards_zone)
        )

    def _take_in(
        self, stock: str, paths: Sequence[Path], by: str, progress: Progress, stop: Stop, towards: tuple[str, str]
    ) -> TakenIn:
        car = self.runner.on_book(self._car, stock).result()
        found = intake.find(paths)
        book = self._workspace.book

        def known(sha256: str) -> Photo | None:
            return self.runner.on_book(book.known, sha256).result()

        def keep(photo: Photo, _: intake.Found) -> bool:
            new = self.runner.on_book(book.add_photo, stock, photo, by=by, at=self.now()).result()
            shot, zone = towards
            if new and zone:
                self.place(stock=stock, photo=photo.sha256, target=Target.EXTRA, zone=zone, by=by).result()
            elif new and shot:
                self.runner.on_book(self._propose_one, stock, photo, shot).result()
            return new

        taken = intake.take_in(
            found,
            vault=self._workspace.vault,
            previews=self._workspace.previews,
            known=known,
            keep=keep,
            in_car={photo.sha256: photo.pixels.dhash for photo in car.photos if photo.media is MediaKind.STILL},
            progress=progress,
            stop=stop,
            workers=_beside_a_window() if any(towards) else None,
        )
        return TakenIn(taken.results, taken.stopped)

    def _propose_one(self, stock: str, photo: Photo, towards: str) -> None:
        """Propose the shot that is up; on a rust-prone one the first frame as context, the next as proof."""

        def choose(car: Car) -> Choice:
            shot = shot_called(car, towards)
            filled = {placement.slot for placement in car.frames_of(shot.id)}
            slot = next((one for one in Slot if one not in filled), None) if shot.rust else None
            reasons = ("taken while this shot was up",)
            placement = Placement(
                photo.sha256, Target.SHOT, PROGRAM, self.now(), Sureness.LIKELY, shot.id, shot.zone, slot, None, reasons
            )
            return (placement,), (), f"Propose {shot.id} for {photo.name}"

        self._decide_now(stock, "place", PROGRAM, choose, Changes.PLACEMENTS)

    def watch(self, *, folder: Path, arrived: Callable[[tuple[Path, ...]], None]) -> Watch:
        """Watch a folder for photos that arrive in it; `arrived` is told on a thread of the watch's own.

        Raises:
            CardGone, NoRights: the folder is not there or cannot be read.
        """
        return intake.watch(folder, arrived)

    def propose(self, *, stock: str) -> Future[Proposed]:
        """Propose a shot for every photo that nobody has placed; earlier proposals give way, a person's word never."""
        return self.runner.on_book(self._propose, stock)

    def _propose(self, stock: str) -> Proposed:
        at = self.now()
        offered: list[Placement] = []

        def choose(car: Car) -> Choice:
            for one in matching.propose(car):
                if one.target is None:
                    continue
                placement = Placement(
                    one.sha256,
                    one.target,
                    PROGRAM,
                    at,
                    one.sureness,
                    one.shot,
                    one.zone,
                    one.slot,
                    one.score,
                    one.reasons,
                )
                offered.append(placement)
            stale = {p.sha256 for p in car.placements.values() if p.sureness is not Sureness.DECIDED}
            gone = stale - {placement.sha256 for placement in offered}
            fresh = [placement for placement in offered if not _same(car.placements.get(placement.sha256), placement)]
            return (
                fresh,
                [Drop("placement", sha256) for sha256 in sorted(gone)],
                f"Propose shots for {len(offered)} photos",
            )

        self._decide_now(stock, "place", PROGRAM, choose, Changes.PLACEMENTS)
        return Proposed(len(offered), sum(1 for placement in offered if placement.sureness is Sureness.STRONG))

    def accept_proposals(self, *, stock: str, least: str, by: str) -> Future[Done]:
        """Make the program's proposals the person's own, down to a sureness: strong, likely or all."""

        def choose(car: Car) -> Choice:
            if least not in _SURE_ENOUGH:
                raise Mistake(f"{least!r} is no sureness.", next_step="Say strong, likely or all.")
            at = self.now()
            own = [
                Placement(p.sha256, p.target, by, at, Sureness.DECIDED, p.shot, p.zone, p.slot)
                for p in car.placements.values()
                if p.sureness in _SURE_ENOUGH[least]
            ]
            return own, (), f"Accept {len(own)} proposed placements"

        return self._decide(stock, verb="place", by=by, choose=choose, changes=Changes.PLACEMENTS)

    def place(
        self,
        *,
        stock: str,
        photo: str,
        target: Target,
        by: str,
        shot: str = "",
        zone: str = "",
        reason: str = "",
        slot: Slot | None = None,
    ) -> Future[Done]:
        """Put a photo on a shot, make it an extra of a zone, or set it aside; its ticks elsewhere go too."""

        def choose(car: Car) -> Choice:
            frame = photo_called(car, photo)
            where = shot_called(car, shot).zone if target is Target.SHOT else zone
            placement = Placement(
                frame.sha256,
                target,
                by,
                self.now(),
                Sureness.DECIDED,
                shot=shot,
                zone=where,
                slot=slot,
                reasons=(reason,) if reason else (),
            )
            words = {Target.SHOT: f"on {shot}", Target.EXTRA: f"as an extra of {zone}", Target.ASIDE: "aside"}[target]
            return (placement,), _ticks_elsewhere(car, frame, shot), f"Put {frame.name} {words}"

        return self._decide(stock, verb="place", by=by, choose=choose, changes=Changes.PLACEMENTS)

    def lift_off(self, *, stock: str, photo: str, by: str) -> Future[Done]:
        """Take a photo's placement back, with its ticks."""

        def choose(car: Car) -> Choice:
            frame = photo_called(car, photo)
            drop = [*_ticks_elsewhere(car, frame, ""), Drop("placement", frame.sha256)]
            return (), drop, f"Lift {frame.name} off its place"

        return self._decide(stock, verb="place", by=by, choose=choose, changes=Changes.PLACEMENTS)

    def original_path(self, *, sha256: str) -> Path:
        """Where an original lies; never to be written. Safe on any thread."""
        return self._workspace.vault.path(sha256)

    def original_is_whole(self, *, sha256: str) -> Future[bool]:
        """Whether an original is there and still has its digest."""
        return self.runner.beside(self._workspace.vault.check, sha256)


def _same(now: Placement | None, offered: Placement) -> bool:
    """Whether a proposal says again what already stands there, whenever it was said."""
    return now is not None and (now.target, now.shot, now.zone, now.slot, now.sureness, now.reasons) == (
        offered.target,
        offered.shot,
        offered.zone,
        offered.slot,
        offered.sureness,
        offered.reasons,
    )


def _ticks_elsewhere(car: Car, frame: Photo, shot: str) -> list[Drop]:
    return [Drop("tick", tick.key) for tick in car.ticks if tick.sha256 == frame.sha256 and tick.shot != shot]
