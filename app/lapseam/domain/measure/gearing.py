"""Axle ratio from turn counts, road speed against engine speed, and displacement.

Axle ratio: driveshaft turns for one turn of both wheels together; with one wheel held on an open differential the ring
gear makes half the turns of the free wheel, so the count is doubled (workshop manual and owners' pages, secondary
sources). Engine speed: 63 360 / (60 π) = 336.1352 with mph and inches (secondary source, and computed). Displacement:
(π/4) x bore² x stroke x cylinders.
"""

from __future__ import annotations

from enum import Enum
from fractions import Fraction
from math import pi
from typing import Final

from ..errors import Mistake
from ..phrases import listed
from ..units import change
from .worked import Known, Value, Worked, both, grouped, measured


class Turning(Enum):
    """What the wheels did while the driveshaft was counted."""

    BOTH = "both"
    """Both wheels turned together: a holding limited slip, a locker, a spool."""
    ONE_HELD = "one-held"
    """One wheel was held still and the other turned, on an open differential."""
    FREE = "free"
    """Both wheels were free on an open differential: the far one may turn backwards."""


GEAR_SETS: Final = ((43, 14), (40, 13), (42, 13), (39, 12), (37, 11), (39, 11), (41, 11), (45, 11), (41, 10))
"""Teeth of ring and pinion of some real gear sets. There are many others."""

READ_TO_TURNS: Final = 0.125
"""How closely a driveshaft's turn is read with a chalk mark: an eighth."""

MPH_INCH: Final = 63_360 / (60 * pi)
"""336.1352: turns a minute of a tyre of one inch at one mph."""

_LOADED: Final = "A loaded tyre is smaller and a converter slips: real figures differ by several per cent."


def axle_ratio(shaft_turns: float, wheel_turns: float, turning: Turning, *, read_to: float = READ_TO_TURNS) -> Worked:
    """The ratio from counted turns, with its error band.

    `read_to` is how far the count of the shaft may be off, in turns; the wheel's turns are taken as exact.

    Raises:
        Mistake: both wheels were free, or a count is nought or absurd.
    """
    if turning is Turning.FREE:
        raise Mistake(
            "With both wheels free on an open differential the far one may turn backwards: the count means nothing.",
            next_step="Hold one wheel still and count again.",
        )
    if not (0 < shaft_turns <= 1000 and 0 < wheel_turns <= 500 and 0 < read_to <= 10):
        raise Mistake("Such a count cannot be.", next_step="Count whole turns of shaft and wheel, more than nought.")
    times = 2 if turning is Turning.ONE_HELD else 1
    ratio, band = times * shaft_turns / wheel_turns, times * read_to / wheel_turns
    inside = tuple(pair for pair in GEAR_SETS if abs(pair[0] / pair[1] - ratio) <= band)
    held = (
        "One wheel held: the ring gear makes half the free wheel's turns"
        if times == 2
        else "Both wheels turned together"
    )
    double = "2 x " if times == 2 else ""
    return Worked(
        rule="axle-ratio",
        said=f"Axle ratio about {ratio:.2f}:1, give or take {band:.2f}.",
        values=(
            Value("ratio", ratio, f"{ratio:.3f}:1", ":1"),
            Value("give or take", band, f"{band:.3f}", ":1"),
            Value("gear sets within", inside, _sets(inside)),
        ),
        working=(
            f"{held}: {double}{shaft_turns:g} / {wheel_turns:g} = {ratio:.3f}.",
            f"The shaft is read to {read_to:g} turn: {double}{read_to:g} / {wheel_turns:g} = {band:.3f} either way.",
            f"Gear sets on file within {max(0.0, ratio - band):.3f} and {ratio + band:.3f}: {_sets(inside)}.",
        ),
        source="a car maker's workshop manual and owners' pages; arithmetic of the differential",
        known=Known.SECONDARY,
        cautions=(
            "Right only if the wheels did what was said: it decides whether the count is doubled.",
            "Count more turns for a narrower band; twenty turns are good to about 0.05, two to about 0.2 (common "
            "practice).",
            f"Only {len(GEAR_SETS)} gear sets are on file; others exist. Compare with the tag or the papers.",
        ),
        approximate=True,
    )


def _sets(pairs: tuple[tuple[int, int], ...]) -> str:
    return listed(f"{ring}/{pinion} ({ring / pinion:.3f})" for ring, pinion in pairs) or "none"


def engine_speed(speed_mph: float, axle: float, tyre_mm: float, *, gear: float = 1.0) -> Worked:
    """Engine turns a minute at a road speed in mph, with the tyre's diameter in mm and the ratios of axle and gear.

    Raises:
        Mistake: a value is nought, negative or absurd.
    """
    _check_gearing(axle, tyre_mm, gear)
    if not 0 <= speed_mph <= 500:
        raise Mistake("No car goes that fast.", next_step="Write a speed of 0 to 500 mph (805 km/h).")
    inches = change(tyre_mm, "mm", "in")
    rpm = MPH_INCH * speed_mph * gear * axle / inches
    return Worked(
        rule="engine-speed",
        said=f"About {grouped(rpm)} rpm at {both(speed_mph, 'mph', 0, beside_places=0)}.",
        values=(Value("engine speed", rpm, f"{grouped(rpm)} rpm", "rpm"),),
        working=(
            f"{speed_mph:.4g} mph x {gear:g} x {axle:g} x {MPH_INCH:.4f} / {inches:.2f} in = {grouped(rpm, 1)} rpm.",
            "336.1352 is 63 360 / (60 x π); it is usually written 336, which is 0.04 % less.",
        ),
        source="definition of speed; the usual workshop formula with 336",
        known=Known.COMPUTED,
        cautions=(_LOADED,),
        approximate=True,
    )


def road_speed(rpm: float, axle: float, tyre_mm: float, *, gear: float = 1.0) -> Worked:
    """Road speed at an engine speed, the other way round from `engine_speed`.

    Raises:
        Mistake: a value is nought, negative or absurd.
    """
    _check_gearing(axle, tyre_mm, gear)
    if not 0 <= rpm <= 20_000:
        raise Mistake("No engine turns like that.", next_step="Write turns a minute, 0 to 20000.")
    inches = change(tyre_mm, "mm", "in")
    mph = rpm * inches / (MPH_INCH * gear * axle)
    return Worked(
        rule="road-speed",
        said=f"About {both(mph, 'mph', 0, beside_places=0)} at {grouped(rpm)} rpm.",
        values=(measured("road speed", mph, "mph", 1, beside_places=1),),
        working=(f"{rpm:g} rpm x {inches:.2f} in / ({MPH_INCH:.4f} x {gear:g} x {axle:g}) = {mph:.1f} mph.",),
        source="definition of speed; the usual workshop formula with 336",
        known=Known.COMPUTED,
        cautions=(_LOADED,),
        approximate=True,
    )


def _check_gearing(axle: float, tyre_mm: float, gear: float) -> None:
    if not (0.5 <= axle <= 20 and 0.1 <= gear <= 20 and 250 <= tyre_mm <= 1600):
        raise Mistake(
            "No car is geared like that.",
            next_step="Look again: axle 0.5 to 20, gear 0.1 to 20, tyre diameter 250 to 1600 mm (10 to 63 in).",
        )


def displacement(bore_mm: float, stroke_mm: float, cylinders: int) -> Worked:
    """Swept volume from bore and stroke in mm and the number of cylinders.

    Raises:
        Mistake: a value is nought, negative or absurd.
    """
    if not (10 <= bore_mm <= 300 and 10 <= stroke_mm <= 300 and 1 <= cylinders <= 24):
        raise Mistake(
            "No car's engine is like that.", next_step="Look again: bore and stroke 10 to 300 mm, 1 to 24 cylinders."
        )
    cm3 = pi / 4 * bore_mm**2 * stroke_mm * cylinders / 1000
    cubic_inches = cm3 / float(Fraction("16.387064"))
    return Worked(
        rule="displacement",
        said=f"{cubic_inches:.1f} in³ ({grouped(cm3)} cm³, {cm3 / 1000:.2f} L).",
        values=(
            Value("cubic inches", cubic_inches, f"{cubic_inches:.2f} in³", "in³"),
            Value("cubic centimetres", cm3, f"{grouped(cm3)} cm³", "cm³"),
            Value("litres", cm3 / 1000, f"{cm3 / 1000:.3f} L", "L"),
        ),
        working=(
            f"Bore {both(bore_mm, 'mm', 2, beside_places=3)}, stroke {both(stroke_mm, 'mm', 2, beside_places=3)}.",
            f"π/4 x {bore_mm:g}² x {stroke_mm:g} x {cylinders} = {grouped(cm3)} cm³; / 16.387064 = "
            f"{cubic_inches:.2f} in³.",
        ),
        source="geometry; 1 in³ = 16.387064 cm³ exactly",
        known=Known.COMPUTED,
        cautions=(
            "A badge is a name, not a measurement: badges round, some by more than a cubic inch.",
            "It says what bore and stroke were given, not what is in the engine; cylinders are often bored oversize.",
        ),
    )
