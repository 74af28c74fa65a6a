"""The framing sketch of a printed shot: the house's drawing in black on white, in millimetres of paper."""

from __future__ import annotations

from typing import Final

from lapseam.domain.condition import Facts
from lapseam.domain.framing import framing_of
from lapseam.domain.plain_car import BodyForm, form_for
from lapseam.domain.plan import Plan, Shot
from lapseam.domain.sketch import sketch_of
from lapseam.domain.sketch_svg import sketch_svg

WIDTH_MM: Final = 54.0
HEIGHT_MM: Final = 36.0
_WORDS_MM: Final = 2.9
"""Letters of 2.9 mm are set in 8 points, the smallest on the sheet."""
_BLACK: Final = {"ink": "#000000", "soft": "#404040", "line": "#a8a8a8", "signal": "#000000", "sheet": "#ffffff"}


class Sketches:
    """Draws the shots of one plan, on the plain car of the form that the plan or the car's facts ask for."""

    def __init__(self, plan: Plan, facts: Facts | None = None) -> None:
        self._form: BodyForm = form_for(plan.applies, facts)
        self._driver_left = (facts or {}).get("steering_side") != "right"

    def of(self, shot: Shot) -> str:
        """The shot's sketch as one SVG of `WIDTH_MM` by `HEIGHT_MM`; its words stand beside it on the sheet."""
        framing = framing_of(shot, self._form, driver_left=self._driver_left)
        return sketch_svg(
            sketch_of(framing),
            _BLACK,
            width=WIDTH_MM,
            height=HEIGHT_MM,
            words_size=_WORDS_MM,
            note=False,
            font="IBM Plex Sans",
        )
