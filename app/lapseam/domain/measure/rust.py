"""Share of a marked surface that is rusted, as an ASTM D610 grade, with the nearest ISO 4628-3 comparison picture.

Source: ASTM D610-08 (reapproved 2012 and 2019), table 1, and ISO 4628-3:2016, both read in secondary sources; there is
an edition of 2024 of the latter whose figures were not seen. D610 grades are ranges. Ri numbers are values of
comparison pictures and no ranges: which picture is nearest is decided here by the geometric mean of neighbours, a
convention of this house and no part of the standard.

Both were made for test panels and structures. The grade describes one marked area of one photograph, never a car.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from enum import Enum
from math import sqrt
from typing import Final

from ..errors import Mistake
from .reading import quantity, quoted
from .worked import Known, Value, Worked

UPPER_BOUNDS: Final = ((10, 0.01), (9, 0.03), (8, 0.1), (7, 0.3), (6, 1), (5, 3), (4, 10), (3, 16), (2, 33), (1, 50))
"""D610 grade and the most per cent of rusted surface it allows, the bound included; more than 50 % is grade 0."""


class Spread(Enum):
    """How the rust lies (ASTM D610), written behind grades 9 to 1."""

    SPOT = "S"
    GENERAL = "G"
    PINPOINT = "P"
    HYBRID = "H"


@dataclass(frozen=True, slots=True)
class Picture:
    """A comparison picture of ISO 4628-3:2016: rusted per cent, and the step of the European rust scale beside it."""

    name: str
    percent: float
    european: str
    shown: str


PICTURES: Final = (
    Picture("Ri 0", 0, "Re 0", "0 %"),
    Picture("Ri 1", 0.05, "Re 1", "0.05 %"),
    Picture("Ri 2", 0.5, "Re 2", "0.5 %"),
    Picture("Ri 3", 1, "Re 3", "1 %"),
    Picture("Ri 4", 8, "Re 5", "8 %"),
    Picture("Ri 5", 45, "Re 7", "40 to 50 %"),
)
"""For Ri 5, which shows 40 to 50 %, 45 stands."""


def d610_grade(percent: float) -> int:
    """The D610 grade, 10 (best) to 0, of a rusted share in per cent."""
    return next((grade for grade, most in UPPER_BOUNDS if percent <= most), 0)


def nearest_picture(percent: float) -> Picture:
    """The comparison picture nearest to a rusted share in per cent, by the geometric mean of neighbours."""
    if percent <= 0:
        return PICTURES[0]
    pairs = itertools.pairwise(PICTURES)
    return next((low for low, high in pairs if percent < sqrt(low.percent * high.percent)), PICTURES[-1])


def read_percent(words: str, *, of: str = "the rusted share") -> float:
    """A share in per cent, 0 to 100, with or without its sign.

    Raises:
        Mistake: it is none, or a fraction without a sign, which reads two ways.
    """
    read = quantity(words, of=of)
    if read.unit not in ("", "%"):
        raise Mistake(f"{read.unit} is no unit for {of}.", next_step="Write it in per cent, for instance 3 %.")
    if read.stroke and not read.unit:
        raise Mistake(
            f"{quoted(words)} may be a part of the surface or of one per cent.",
            next_step=f"Write it in per cent: {float(read.amount) * 100:g} % or {float(read.amount):g} %.",
        )
    if not 0 <= read.amount <= 100:
        raise Mistake(f"{quoted(words)} is no share of a surface.", next_step="It lies within 0 and 100 %.")
    return float(read.amount)


def rusted(percent: float, *, give_or_take: float = 0, spread: Spread | None = None) -> Worked:
    """The D610 grade of a share of 0 to 100 %, and the nearest comparison picture.

    `give_or_take` is the estimate's uncertainty in points of per cent; with it the answer may be a range of grades.

    Raises:
        Mistake: the share is not within 0 and 100 %.
    """
    if not (0 <= percent <= 100 and 0 <= give_or_take <= 100):
        raise Mistake(f"{percent:g} % is no share of a surface.", next_step="It lies within 0 and 100 %.")
    grade, picture = d610_grade(percent), nearest_picture(percent)
    best, worst = d610_grade(max(0, percent - give_or_take)), d610_grade(min(100, percent + give_or_take))
    letter = f"-{spread.value}" if spread is not None and 1 <= grade <= 9 else ""
    written = f"{grade}{letter}" if best == worst else f"{worst} to {best}"
    return Worked(
        rule="rust",
        said=(
            f"{percent:g} % of the marked area: ASTM D610 grade {written}; nearest ISO 4628-3:2016 picture "
            f"{picture.name}."
        ),
        values=(
            Value("D610 grade", grade, f"{grade}{letter}"),
            Value("D610 grades within the uncertainty", (worst, best), written),
            Value("nearest ISO 4628-3:2016 picture", picture.name, f"{picture.name} ({picture.shown})"),
            Value("European rust scale", picture.european, picture.european),
        ),
        working=(
            f"{percent:g} % is {_range_words(grade)}: grade {grade}.",
            *([f"Give or take {give_or_take:g} points: grades {worst} to {best}."] if give_or_take else []),
            _picture_words(percent, picture),
        ),
        source="ASTM D610-08, table 1; ISO 4628-3:2016",
        known=Known.SECONDARY,
        cautions=(
            "Rust that is seen, not rust stain; dirt misleads, and the colour of the paint changes how plain "
            "rust looks.",
            "ISO pictures are no classes: 'nearest' is this program's own convention (geometric mean of neighbours). "
            "ISO leaves out edges. An edition of 2024 exists; its figures were not seen.",
            "An annex of older ISO editions sets other D610 grades beside Ri 1 and Ri 2 (9 and 7, from memory).",
            "It describes one marked area of one photograph, not the car.",
        ),
        approximate=True,
    )


def _range_words(grade: int) -> str:
    bounds = dict(UPPER_BOUNDS)
    if grade == 10:
        return "at most 0.01 %"
    low = bounds[grade + 1]
    return f"more than {low:g} %" + (f" and at most {bounds[grade]:g} %" if grade else "")


def _picture_words(percent: float, picture: Picture) -> str:
    if percent <= 0:
        return "No rust at all is picture Ri 0."
    return f"Of the pictures 0.05, 0.5, 1, 8 and 40 to 50 %, {picture.shown} is nearest: {picture.name}."
