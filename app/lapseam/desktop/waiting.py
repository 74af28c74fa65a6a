"""The tray as a value: photos that are unplaced or unsure. No Qt here."""

from __future__ import annotations

from dataclasses import dataclass

from lapseam.domain.car import Car
from lapseam.domain.decision import Placement, Sureness, Target

from .words import _

_FROM_MATCHING = (Sureness.LIKELY, Sureness.WEAK)


@dataclass(frozen=True, slots=True)
class TrayPhoto:
    """One photo of the tray; `proposed` is the shot that the program would put it on, "" for none."""

    sha256: str
    name: str
    proposed: str = ""
    proposed_title: str = ""
    why: str = ""

    @property
    def words(self) -> str:
        """For a screen reader and a tooltip."""
        where = _("perhaps {shot}").format(shot=self.proposed_title) if self.proposed else _("no shot found")
        return ", ".join(part for part in (self.name, where, self.why) if part)


def tray_photos(car: Car) -> tuple[TrayPhoto, ...]:
    """The photos that wait for a person's word, in the order they came in.

    A photo that came in while a shot was up stands on that shot and does not wait here; it has no score.
    """
    return tuple(
        _row(car, photo.sha256, photo.name, car.placements.get(photo.sha256))
        for photo in car.photos
        if _waits(car.placements.get(photo.sha256))
    )


def _waits(placed: Placement | None) -> bool:
    return placed is None or (placed.sureness in _FROM_MATCHING and placed.score is not None)


def _row(car: Car, sha256: str, name: str, placed: Placement | None) -> TrayPhoto:
    if placed is None:
        return TrayPhoto(sha256, name)
    why = placed.reasons[0] if placed.reasons else ""
    if placed.target is Target.SHOT:
        shot = car.plan.shot(placed.shot)
        return TrayPhoto(sha256, name, placed.shot, shot.title if shot else placed.shot, why)
    zone = car.plan.vocabulary.zones.get(placed.zone)
    words = _("perhaps an extra of {zone}").format(zone=zone.name if zone else placed.zone)
    return TrayPhoto(sha256, name, "", "", words)
