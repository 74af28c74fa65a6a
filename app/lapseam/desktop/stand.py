"""Where to stand, in words beside the geometry of `domain.stand`. No Qt here."""

from __future__ import annotations

from lapseam.domain import stand as standing
from lapseam.domain.plan import Camera, Shot
from lapseam.domain.stand import HALF_LENGTH, HALF_WIDTH, LIFTED, ROOF, Point, Stand, View, field_deg

from .words import _, look_word

__all__ = [
    "HALF_LENGTH",
    "HALF_WIDTH",
    "LIFTED",
    "ROOF",
    "Point",
    "Stand",
    "View",
    "field_deg",
    "lens_words",
    "stand_for",
    "words_for",
]


def stand_for(shot: Shot) -> Stand:
    """Where to stand for a shot, with its words."""
    return standing.stand_for(shot, words_for(shot.camera))


def words_for(camera: Camera) -> str:
    """The same in words: where, which way, how far, how high, which lens."""
    parts = []
    if camera.bearing_deg is not None:
        parts.append(_side_word(camera.bearing_deg))
    elif camera.spot:
        parts.append(camera.spot[:1].upper() + camera.spot[1:])
    if camera.look:
        parts.append(_("looking {way}").format(way=look_word(camera.look)))
    if camera.distance_m is not None:
        parts.append(_("{metres:g} m away").format(metres=camera.distance_m))
    if camera.height_m is not None:
        parts.append(_("lens {metres:g} m high").format(metres=camera.height_m))
    return ", ".join(parts)


def lens_words(camera: Camera) -> str:
    """The lens range in words, "" where the plan gives none."""
    if camera.lens_mm is None:
        return ""
    low, high = camera.lens_mm
    if low == high:
        return _("{low} mm").format(low=low)
    return _("{low}–{high} mm").format(low=low, high=high)


def _side_word(bearing: float) -> str:
    names = (
        _("Ahead of the nose"),
        _("Off the front right corner"),
        _("Beside the right side"),
        _("Off the rear right corner"),
        _("Behind the tail"),
        _("Off the rear left corner"),
        _("Beside the left side"),
        _("Off the front left corner"),
    )
    return names[round((bearing % 360) / 45) % 8]
