"""The plain car of the framing sketches: one set of proportions a body form, our own and of no make.

Component places are told for the closed car; `fitted` carries them to another form along its landmarks.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from .condition import Condition, Facts
from .space import Box, Place, box


class BodyForm(StrEnum):
    """The outline that is drawn."""

    CLOSED = "closed"
    OPEN = "open"
    PICKUP = "pickup"
    WAGON = "wagon"
    MOTORCYCLE = "motorcycle"


_FORM_OF_BODY = {
    "hardtop": BodyForm.CLOSED,
    "sedan": BodyForm.CLOSED,
    "coupe": BodyForm.CLOSED,
    "fastback": BodyForm.CLOSED,
    "hatchback": BodyForm.CLOSED,
    "convertible": BodyForm.OPEN,
    "roadster": BodyForm.OPEN,
    "pickup": BodyForm.PICKUP,
    "wagon": BodyForm.WAGON,
    "van": BodyForm.WAGON,
    "utility": BodyForm.WAGON,
    "motorcycle": BodyForm.MOTORCYCLE,
}
"""The answers of the fact `body`, in the order in which a plan that names no body is tried on them."""


@dataclass(frozen=True, slots=True)
class Proportions:
    """Where a form has its landmarks, in metres.

    Along x: nose, front axle, cowl, the latch post behind the front door, rear axle, tail. Up z: underside of the
    floor, belt line, roof. `half_width` is from the centre line to the side.
    """

    nose: float
    front_axle: float
    cowl: float
    latch_post: float
    rear_axle: float
    tail: float
    floor: float
    belt: float
    roof: float
    half_width: float
    wheel_radius: float

    def along(self) -> tuple[float, ...]:
        """The landmarks along x, nose first."""
        return self.nose, self.front_axle, self.cowl, self.latch_post, self.rear_axle, self.tail

    def up(self) -> tuple[float, ...]:
        """The landmarks up z, ground first."""
        return 0.0, self.floor, self.belt, self.roof

    def bounds(self) -> Box:
        """The box round the whole car."""
        return box((self.tail, self.nose), (-self.half_width, self.half_width), (0.0, self.roof))


PROPORTIONS: Mapping[BodyForm, Proportions] = {
    BodyForm.CLOSED: Proportions(2.4, 1.45, 0.95, -0.35, -1.35, -2.4, 0.25, 0.92, 1.38, 0.9, 0.33),
    BodyForm.OPEN: Proportions(2.15, 1.35, 0.8, -0.42, -1.2, -2.1, 0.24, 0.86, 1.27, 0.84, 0.31),
    BodyForm.PICKUP: Proportions(2.6, 1.75, 1.25, 0.08, -1.6, -2.65, 0.42, 1.1, 1.76, 0.95, 0.38),
    BodyForm.WAGON: Proportions(2.4, 1.45, 0.95, -0.3, -1.35, -2.45, 0.27, 0.94, 1.5, 0.9, 0.33),
    BodyForm.MOTORCYCLE: Proportions(1.05, 0.74, 0.45, -0.1, -0.68, -1.02, 0.2, 0.8, 1.1, 0.36, 0.32),
}


def form_of(body: str) -> BodyForm:
    """The form of an answer to the fact `body`; a closed car for any answer that is not of the trade's list."""
    return _FORM_OF_BODY.get(body, BodyForm.CLOSED)


def form_for(applies: Condition | None, facts: Facts | None = None) -> BodyForm:
    """The form to draw a plan on: of the car's own answer if there is one, else the first body the plan is for."""
    body = (facts or {}).get("body")
    if isinstance(body, str):
        return form_of(body)
    if applies is None:
        return BodyForm.CLOSED
    fits = (form for name, form in _FORM_OF_BODY.items() if applies.answer({"body": name}).holds is not False)
    return next(fits, BodyForm.CLOSED)


def fitted(part: Box, form: BodyForm) -> Box:
    """A box told for the closed car, where it lies on another form."""
    told, own = PROPORTIONS[BodyForm.CLOSED], PROPORTIONS[form]
    across = own.half_width / told.half_width

    def moved(place: Place) -> Place:
        x = _between(place.x, told.along()[::-1], own.along()[::-1])
        return Place(x, place.y * across, _between(place.z, told.up(), own.up()))

    return Box(moved(part.low), moved(part.high))


def _between(value: float, told: tuple[float, ...], own: tuple[float, ...]) -> float:
    """Carry a value from one rising scale of landmarks to another; beyond the ends it keeps its distance from them."""
    if value <= told[0]:
        return own[0] + value - told[0]
    for low, high, new_low, new_high in zip(told, told[1:], own, own[1:], strict=False):
        if value <= high:
            return new_low + (value - low) / (high - low) * (new_high - new_low)
    return own[-1] + value - told[-1]
