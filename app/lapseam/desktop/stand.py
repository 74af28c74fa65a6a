"""Where to stand for a shot: its framing sketch, drawn by the domain, and the same in words. No Qt here."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from lapseam.domain.condition import Facts
from lapseam.domain.framing import framing_of
from lapseam.domain.plain_car import BodyForm, form_for
from lapseam.domain.plan import Camera, Plan, Shot
from lapseam.domain.sketch import Sketch, SketchWords, sketch_of

from .words import _, look_word


@dataclass(frozen=True, slots=True)
class Stand:
    """The sketch of a shot, and `words` that say the same for somebody who cannot see it."""

    sketch: Sketch
    words: str


def stand_for(shot: Shot, plan: Plan, facts: Facts) -> Stand:
    """Where to stand for a shot of a plan, drawn on the car's own body and steering side where they are known."""
    form = form_for(plan.applies, facts)
    return Stand(_drawn(shot, form, facts.get("steering_side") != "right", _sketch_words()), words_for(shot.camera))


@lru_cache(maxsize=512)
def _drawn(shot: Shot, form: BodyForm, driver_left: bool, words: SketchWords) -> Sketch:
    return sketch_of(framing_of(shot, form, driver_left=driver_left), words)


def _sketch_words() -> SketchWords:
    return SketchWords(
        front=_("front"),
        left=_("left"),
        right=_("right"),
        metres=_("{metres:g} m"),
        high=_("{metres:g} m high"),
    )


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
