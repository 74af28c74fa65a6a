"""Tyre sizes as geometry: metric, P, LT and flotation sizes, one size or two beside each other.

Section height = width x aspect ratio / 100; diameter = rim x 25.4 + 2 x section height, in mm (definition of the size
mark; checked against published conversion charts). UN R30 and ETRTO design diameters use rounded rims and heights, so
they differ by up to about 1 % (from memory). A tyre that is worn, or carries the car, is smaller. Old letter and
numeric sizes are in `old_tyres`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from math import pi
from typing import Final

from ..errors import Mistake
from ..units import change
from .reading import MOST_CHARACTERS, plain, quoted
from .worked import Known, Value, Worked, both, grouped, measured

INCHES_A_MILE: Final = 63_360
FULL_PROFILE: Final = 82
"""Aspect ratio, in %, of a metric size that names none, such as 165R15 (from memory)."""

_SERVICE = r"\s*(?P<rest>(?:[\s(/].*)?)"
_METRIC: Final = re.compile(
    r"(?P<use>P|LT|T|ST)? ?(?P<width>\d{3})(?: ?/ ?(?P<aspect>\d{2,3}))? ?(?P<build>[A-Z]?[RBD]|-) ?"
    r"(?P<rim>\d{2,3}(?:\.5)?)(?P<after>LT|C)?" + _SERVICE
)
_FLOTATION: Final = re.compile(
    r"(?P<use>LT)?(?P<diameter>\d{2}(?:\.\d{1,2})?) ?[X×] ?(?P<width>\d{1,2}(?:\.\d{1,2})?) ?(?P<build>[RBD]|-) ?"
    r"(?P<rim>\d{2}(?:\.5)?)(?P<after>LT)?" + _SERVICE
)
_SOURCE: Final = "definition of the size mark; compared with published conversion charts"
_CAUTIONS: Final = (
    "Worn and loaded tyres are smaller; makers' own figures differ by about 1 %.",
    "UN R30 and ETRTO round the rim and the height, so their design diameters differ a little (from memory).",
)


@dataclass(frozen=True, slots=True)
class TyreSize:
    """A size as geometry, unloaded and new; lengths in mm.

    `written` is the size in its usual form. `assumed_aspect` says that the mark named no aspect ratio. `rest` is what
    was written behind it, such as a load and speed mark.
    """

    written: str
    width_mm: Fraction
    section_height_mm: Fraction
    rim_mm: Fraction
    assumed_aspect: bool = False
    rest: str = ""

    @property
    def diameter_mm(self) -> Fraction:
        """Rim and twice the section height."""
        return self.rim_mm + 2 * self.section_height_mm

    @property
    def circumference_mm(self) -> float:
        """Way of one turn of the unloaded tyre."""
        return pi * float(self.diameter_mm)

    @property
    def turns_a_mile(self) -> float:
        """Turns in one mile."""
        return INCHES_A_MILE / change(self.circumference_mm, "mm", "in")


def size_text(words: str) -> str:
    """The size in capitals with points for decimal commas; Mistake where it is empty or too long."""
    text = re.sub(r"(?<=\d),(?=\d)", ".", plain(words).upper())
    if not text:
        raise Mistake("No tyre size was given.", next_step="Write it as on the sidewall, for instance 205/70R14.")
    if len(text) > MOST_CHARACTERS:
        raise Mistake(f"{quoted(words)} is too long for a tyre size.", next_step="Write the size alone.")
    return text


def read_size(words: str) -> TyreSize:
    """The geometry of a metric, P, LT or flotation size.

    Raises:
        Mistake: it is of another form, or no car has such a tyre.
    """
    text = size_text(words)
    if found := _METRIC.fullmatch(text):
        return _metric(found, words)
    if found := _FLOTATION.fullmatch(text):
        return _flotation(found, words)
    raise Mistake(
        f"{quoted(words)} is no tyre size with a geometry.",
        next_step="Write it as on the sidewall: 205/70R14, P215/75R15, LT235/75R15 or 31x10.50R15LT.",
    )


def tyre_size(words: str) -> Worked:
    """Section height, diameter, circumference and turns a mile of one size; Mistake where it has no geometry."""
    size = read_size(words)
    rim, height, diameter = float(size.rim_mm), float(size.section_height_mm), float(size.diameter_mm)
    turns = size.turns_a_mile
    return Worked(
        rule="tyre-size",
        said=f"{size.written}: diameter {both(diameter, 'mm')}, new and unloaded.",
        values=(
            measured("width", float(size.width_mm), "mm", 0, beside_places=1),
            measured("section height", height, "mm", 2),
            measured("rim", rim, "mm"),
            measured("diameter", diameter, "mm"),
            measured("circumference", size.circumference_mm, "mm", 0),
            Value("turns a mile", turns, f"{grouped(turns, 1)} a mile", "1/mi"),
            Value("turns a kilometre", turns / 1.609344, f"{grouped(turns / 1.609344, 1)} a kilometre", "1/km"),
        ),
        working=(
            _height_step(size),
            f"Diameter: {rim:g} + 2 x {height:g} = {diameter:g} mm.",
            f"Circumference: {pi:.4f} x {diameter:g} = {size.circumference_mm:.1f} mm.",
            f"Turns a mile: {grouped(INCHES_A_MILE)} / {change(size.circumference_mm, 'mm', 'in'):.2f} = {turns:.1f}.",
        ),
        source=_SOURCE,
        known=Known.COMPUTED,
        cautions=(*_assumed(size), *_CAUTIONS),
        approximate=size.assumed_aspect,
        understood=_understood(size),
    )


def compare_sizes(fitted: str, usual: str) -> Worked:
    """How the fitted size differs from the usual one, and what a speedometer made for the usual one would show.

    Raises:
        Mistake: one of them has no geometry.
    """
    here, there = read_size(fitted), read_size(usual)
    part = here.diameter_mm / there.diameter_mm
    percent = float(part - 1) * 100
    apart = float(here.diameter_mm - there.diameter_mm)
    way = "larger than" if part > 1 else "smaller than" if part < 1 else "as large as"
    much = f"{abs(percent):.1f} % " if part != 1 else ""
    return Worked(
        rule="tyre-compare",
        said=f"{here.written} is {much}{way} {there.written}.",
        values=(
            Value("difference", percent, f"{percent:+.1f} %", "%"),
            measured("difference in diameter", apart, "mm"),
            Value("true speed at 60 shown", 60 * float(part), f"{60 * float(part):.1f}"),
        ),
        working=(
            f"{here.written}: diameter {both(float(here.diameter_mm), 'mm')}.",
            f"{there.written}: diameter {both(float(there.diameter_mm), 'mm')}.",
            f"{float(here.diameter_mm):g} / {float(there.diameter_mm):g} = {float(part):.4f}.",
            f"A speedometer right on {there.written} and showing 60 then means {60 * float(part):.1f} on "
            f"{here.written}.",
        ),
        source=_SOURCE,
        known=Known.COMPUTED,
        cautions=(*_assumed(here), *_assumed(there), *_CAUTIONS),
        approximate=here.assumed_aspect or there.assumed_aspect,
        understood=(*_understood(here), *_understood(there)),
    )


def _metric(found: re.Match[str], words: str) -> TyreSize:
    width, rim = Fraction(found["width"]), Fraction(found["rim"])
    aspect = Fraction(found["aspect"] or FULL_PROFILE)
    rim_mm = rim if rim >= 300 else rim * Fraction("25.4")
    if not (100 <= width <= 455 and 20 <= aspect <= 100 and (200 <= rim_mm <= 770)):
        raise Mistake(
            f"{quoted(words)} is no tyre that a car has.",
            next_step="Look again: width 100 to 455 mm, aspect 20 to 100, rim 8 to 30 in or 300 to 770 mm.",
        )
    named = f"/{found['aspect']}" if found["aspect"] else ""
    written = f"{found['use'] or ''}{width}{named}{found['build']}{found['rim']}{found['after'] or ''}"
    return TyreSize(written, width, width * aspect / 100, rim_mm, not found["aspect"], found["rest"].strip())


def _flotation(found: re.Match[str], words: str) -> TyreSize:
    diameter, width, rim = (Fraction(found[name]) for name in ("diameter", "width", "rim"))
    if not (8 <= rim <= 30 and rim < diameter <= 60 and 4 <= width <= 25):
        raise Mistake(
            f"{quoted(words)} is no tyre that a car has.",
            next_step="Look again: diameter x width R rim in inches, for instance 31x10.50R15LT.",
        )
    written = (
        f"{found['use'] or ''}{found['diameter']}x{found['width']}{found['build']}{found['rim']}{found['after'] or ''}"
    )
    inch = Fraction("25.4")
    return TyreSize(written, width * inch, (diameter - rim) / 2 * inch, rim * inch, rest=found["rest"].strip())


def _height_step(size: TyreSize) -> str:
    height, width = float(size.section_height_mm), float(size.width_mm)
    if "x" in size.written:
        return (
            f"The size names the diameter, {both(float(size.diameter_mm), 'mm')}; half of what the rim leaves "
            f"is {height:g} mm."
        )
    return f"Section height: {width:g} x {height / width * 100:g} / 100 = {height:g} mm."


def _assumed(size: TyreSize) -> tuple[str, ...]:
    said = []
    if size.assumed_aspect:
        said.append(
            f"{size.written} names no aspect ratio; {FULL_PROFILE} % was taken (from memory), so it is approximate."
        )
    if size.rim_mm.denominator == 1 and size.written.rstrip("LTC")[-3:].isdigit():
        said.append(f"The rim of {size.written} is in millimetres: it fits no inch wheel (from memory).")
    return tuple(said)


def _understood(size: TyreSize) -> tuple[str, ...]:
    return (f"{size.rest!r} behind the size was not used here; see the rule tyre-mark.",) if size.rest else ()
