"""Where each component lies on the plain car: one or more boxes each, in metres.

The tables are told on the closed car of `plain_car` and fitted to the other forms; a pickup's bed and a motorcycle's
parts are told on those. A component with two boxes stands on both sides. Usual places of the trade, no make's drawing.
"""

from __future__ import annotations

from collections.abc import Mapping

from .plain_car import PROPORTIONS, BodyForm, fitted
from .space import Box, box

Span = tuple[float, float]
Boxes = tuple[Box, ...]

DRIVER_Y = 0.37
"""How far from the centre line a driver sits, in metres; to the left unless the car says otherwise."""


def _mid(x: Span, half_y: float, z: Span) -> Boxes:
    """Across the centre line."""
    return (box(x, (-half_y, half_y), z),)


def _left(x: Span, y: Span, z: Span) -> Boxes:
    return (box(x, y, z),)


def _right(x: Span, y: Span, z: Span) -> Boxes:
    return (box(x, (-y[0], -y[1]), z),)


def _pair(x: Span, y: Span, z: Span) -> Boxes:
    """On both sides, left first; y is told for the left."""
    return _left(x, y, z) + _right(x, y, z)


def _sides(**boxes: tuple[Span, Span, Span]) -> dict[str, Boxes]:
    """One component a side: `left_x` told on the left is found as left-x and right-x."""
    both = {}
    for name, (x, y, z) in boxes.items():
        both[f"left-{name.replace('_', '-')}"] = _left(x, y, z)
        both[f"right-{name.replace('_', '-')}"] = _right(x, y, z)
    return both


_SKIN = (0.82, 0.9)
_TYRE = (0.68, 0.88)
_FRONT, _REAR = (1.12, 1.78), (-1.68, -1.02)

_OUTSIDE: dict[str, Boxes] = {
    **_sides(
        front_fender=((0.9, 2.2), _SKIN, (0.45, 0.88)),
        fender_lower=((0.88, 1.08), _SKIN, (0.25, 0.5)),
        doors=((-0.35, 0.88), _SKIN, (0.35, 0.92)),
        door_lower_skin=((-0.35, 0.88), _SKIN, (0.32, 0.46)),
        rocker=((-0.95, 0.95), _SKIN, (0.2, 0.34)),
        quarter=((-2.2, -0.4), _SKIN, (0.4, 0.94)),
        quarter_lower=((-2.0, -0.95), _SKIN, (0.25, 0.45)),
        side_trim=((-0.5, 0.7), (0.86, 0.92), (0.6, 0.78)),
        front_wheel=(_FRONT, _TYRE, (0.0, 0.66)),
        rear_wheel=(_REAR, _TYRE, (0.0, 0.66)),
    ),
    "left-arch-lips": _left(_FRONT, _SKIN, (0.55, 0.75)) + _left(_REAR, _SKIN, (0.55, 0.75)),
    "right-arch-lips": _right(_FRONT, _SKIN, (0.55, 0.75)) + _right(_REAR, _SKIN, (0.55, 0.75)),
    "front-bumper": _mid((2.28, 2.42), 0.8, (0.36, 0.54)),
    "grille-nose": _mid((2.25, 2.38), 0.6, (0.5, 0.76)),
    "front-lamps": _pair((2.22, 2.36), (0.52, 0.76), (0.56, 0.74)),
    "hood": _mid((1.0, 2.25), 0.66, (0.84, 0.92)),
    "cowl-panel": _mid((0.88, 1.04), 0.64, (0.9, 0.96)),
    "front-valance": _mid((2.2, 2.36), 0.74, (0.24, 0.38)),
    "front-trim": _mid((2.2, 2.36), 0.16, (0.72, 0.84)),
    "wipers": _mid((0.78, 0.98), 0.5, (0.94, 1.02)),
    "rear-bumper": _mid((-2.42, -2.28), 0.8, (0.36, 0.54)),
    "rear-lamps": _pair((-2.38, -2.26), (0.55, 0.8), (0.56, 0.76)),
    "tail-panel": _mid((-2.38, -2.28), 0.6, (0.54, 0.8)),
    "trunk-lid": _mid((-2.28, -1.55), 0.62, (0.84, 0.95)),
    "trunk-lid-edge": _mid((-2.36, -2.24), 0.6, (0.76, 0.88)),
    "rear-valance": _mid((-2.36, -2.2), 0.74, (0.24, 0.38)),
    "rear-trim": _mid((-2.38, -2.26), 0.18, (0.78, 0.9)),
    "fuel-filler": _right((-1.95, -1.78), (0.84, 0.92), (0.68, 0.84)),
    "roof-panel": _mid((-0.85, 0.3), 0.5, (1.34, 1.4)),
    "drip-rails": _pair((-0.85, 0.4), (0.5, 0.6), (1.26, 1.34)),
    "pillar-bases": _pair((0.8, 1.0), (0.6, 0.74), (0.9, 1.04)) + _pair((-1.5, -1.25), (0.58, 0.72), (0.92, 1.08)),
    "vinyl-roof": _mid((-1.3, 0.3), 0.54, (1.2, 1.4)),
    "roof-opening": _mid((-0.5, 0.15), 0.36, (1.36, 1.4)),
    "windshield": _mid((0.42, 0.95), 0.58, (0.96, 1.32)),
    "windshield-channel": _pair((0.86, 0.98), (0.44, 0.62), (0.92, 1.0)),
    "backlight": _mid((-1.5, -0.9), 0.54, (0.98, 1.3)),
    "backlight-channel": _pair((-1.54, -1.42), (0.4, 0.58), (0.93, 1.01)),
    "side-glass": _pair((-0.8, 0.6), (0.6, 0.72), (0.96, 1.26)),
    "glass-markings": _pair((0.28, 0.42), (0.68, 0.73), (0.97, 1.03))
    + _pair((-0.9, -0.76), (0.66, 0.71), (0.97, 1.03)),
    "glass-seals": _pair((0.7, 0.96), (0.58, 0.68), (0.94, 1.14)) + _pair((-0.8, 0.7), (0.72, 0.78), (0.92, 0.97)),
    "front-brakes": _pair((1.28, 1.62), (0.6, 0.72), (0.16, 0.5)),
    "rear-brakes": _pair((-1.52, -1.18), (0.6, 0.72), (0.16, 0.5)),
    "spare-jack-tools": _mid((-2.15, -1.6), 0.36, (0.38, 0.62)),
}

_OPENINGS: dict[str, Boxes] = {
    **_sides(
        hinge_pillar=((0.82, 0.92), (0.72, 0.84), (0.3, 0.9)),
        latch_pillar=((-0.45, -0.35), (0.72, 0.84), (0.28, 0.9)),
        door_bottoms=((-0.3, 0.85), (0.78, 0.9), (0.28, 0.36)),
    ),
    "sill-tops": _pair((-0.35, 0.85), (0.68, 0.84), (0.3, 0.36)),
    "hinges-latches": _pair((0.8, 0.9), (0.74, 0.84), (0.45, 0.75)) + _pair((-0.44, -0.34), (0.74, 0.84), (0.55, 0.72)),
    "door-seals": _pair((-0.36, 0.86), (0.7, 0.8), (0.32, 0.92)),
    "hood-underside": _mid((1.0, 1.5), 0.66, (1.1, 1.7)),
    "trunk-floor": _mid((-2.2, -1.5), 0.5, (0.36, 0.44)),
    "trunk-side-wells": _pair((-2.2, -1.7), (0.54, 0.8), (0.32, 0.5)),
    "trunk-gutter": _mid((-2.34, -2.2), 0.6, (0.72, 0.86)),
    "trunk-lid-inner": _mid((-1.8, -1.5), 0.58, (1.0, 1.45)),
    "spare-well": _mid((-2.15, -1.65), 0.34, (0.3, 0.42)),
    "trunk-lining": _mid((-2.2, -1.5), 0.6, (0.4, 0.6)),
    "inner-wheelhouses": _pair((-1.75, -1.4), (0.5, 0.72), (0.45, 0.75)),
    "parcel-shelf-underside": _mid((-1.55, -1.15), 0.56, (0.78, 0.9)),
}

_CABIN: dict[str, Boxes] = {
    "front-seats": _pair((-0.45, 0.15), (0.12, 0.62), (0.35, 0.95)),
    "rear-seats": _mid((-1.2, -0.7), 0.6, (0.4, 0.92)),
    "seat-belts": _pair((-0.45, -0.25), (0.5, 0.68), (0.4, 0.95)),
    "door-panels": _pair((-0.3, 0.75), (0.66, 0.76), (0.45, 0.9)),
    "side-trim-panels": _pair((-1.1, -0.5), (0.6, 0.72), (0.45, 0.9)),
    "headliner": _mid((-0.8, 0.3), 0.5, (1.24, 1.32)),
    "carpet": _pair((-0.1, 0.75), (0.12, 0.6), (0.3, 0.36)),
    "console-shifter": _mid((-0.2, 0.5), 0.12, (0.4, 0.58)),
    "pedals": _left((0.68, 0.86), (0.22, 0.5), (0.34, 0.52)),
    "cabin-wood": _mid((0.3, 0.6), 0.5, (0.6, 0.72)),
    "airbags-srs": _left((0.3, 0.42), (0.22, 0.52), (0.68, 0.86)) + _right((0.5, 0.66), (0.2, 0.54), (0.76, 0.9)),
    "floor-front-left": _left((-0.15, 0.7), (0.14, 0.64), (0.26, 0.34)),
    "floor-front-right": _right((-0.15, 0.7), (0.14, 0.64), (0.26, 0.34)),
    "floor-rear-left": _left((-0.75, -0.25), (0.14, 0.64), (0.26, 0.34)),
    "floor-rear-right": _right((-0.75, -0.25), (0.14, 0.64), (0.26, 0.34)),
    "toe-boards": _pair((0.7, 0.94), (0.14, 0.64), (0.28, 0.56)),
    "inner-sills": _pair((-0.6, 0.8), (0.62, 0.74), (0.26, 0.4)),
    "under-seat-pan": _mid((-1.15, -0.72), 0.6, (0.28, 0.42)),
    "kick-cavities": _pair((0.74, 0.92), (0.62, 0.76), (0.3, 0.6)),
    "instrument-cluster": _left((0.52, 0.64), (0.2, 0.54), (0.78, 0.94)),
    "odometer": _left((0.54, 0.62), (0.31, 0.43), (0.79, 0.85)),
    "steering-wheel": _left((0.26, 0.46), (0.18, 0.56), (0.62, 0.96)),
    "dash-pad": _mid((0.58, 0.86), 0.62, (0.9, 0.97)),
    "dash-face": _mid((0.5, 0.66), 0.62, (0.6, 0.9)),
    "audio": _mid((0.48, 0.62), 0.14, (0.66, 0.76)),
    "climate-controls": _mid((0.48, 0.62), 0.14, (0.56, 0.66)),
    "switches": _left((0.5, 0.6), (0.08, 0.24), (0.66, 0.82)),
    "ignition-lock": _left((0.46, 0.56), (0.14, 0.24), (0.62, 0.72)),
    "under-dash": _left((0.55, 0.85), (0.15, 0.6), (0.52, 0.66)),
}

_ENGINE_BAY: dict[str, Boxes] = {
    "engine-assembly": _mid((1.08, 1.72), 0.28, (0.4, 0.82)),
    "fuel-air": _mid((1.22, 1.58), 0.22, (0.76, 0.88)),
    "ignition": _right((1.02, 1.2), (0.05, 0.3), (0.66, 0.82)),
    "cooling": _mid((1.86, 2.06), 0.4, (0.42, 0.82)),
    "belts-hoses": _mid((1.7, 1.86), 0.26, (0.46, 0.8)),
    "charging-battery": _right((1.6, 2.0), (0.36, 0.66), (0.56, 0.84)),
    "battery-tray": _right((1.72, 2.0), (0.42, 0.66), (0.5, 0.58)),
    "brake-hydraulics": _left((0.96, 1.24), (0.36, 0.58), (0.68, 0.86)),
    "steering-power": _left((1.4, 1.72), (0.36, 0.56), (0.46, 0.7)),
    "exhaust-manifolds": _pair((1.15, 1.65), (0.28, 0.4), (0.46, 0.64)),
    "wiring": _left((0.98, 1.4), (0.46, 0.64), (0.6, 0.8)),
    "ac-system": _right((1.5, 1.84), (0.16, 0.4), (0.6, 0.78)),
    "firewall": _mid((0.92, 1.0), 0.6, (0.45, 0.88)),
    "inner-fenders": _pair((1.1, 1.95), (0.56, 0.7), (0.5, 0.84)),
    "core-support": _mid((2.02, 2.14), 0.62, (0.46, 0.84)),
    "engine-fluids": _mid((1.3, 1.7), 0.24, (0.7, 0.84)),
    "vin-plate": _left((0.72, 0.8), (0.46, 0.58), (0.94, 0.97)),
    "body-tag": _left((0.94, 1.0), (0.28, 0.44), (0.82, 0.92)),
    "cert-label-door": _left((-0.44, -0.36), (0.76, 0.84), (0.74, 0.88)),
    "engine-stamp": _right((1.64, 1.72), (0.12, 0.24), (0.62, 0.7)),
    "gearbox-stamp": _left((0.5, 0.64), (0.12, 0.2), (0.3, 0.4)),
    "axle-stamp": _right((-1.4, -1.28), (0.2, 0.34), (0.3, 0.42)),
    "frame-stamp": _left((1.0, 1.12), (0.4, 0.5), (0.34, 0.44)),
    "casting-dates": _pair((1.2, 1.45), (0.16, 0.28), (0.55, 0.7)),
    "part-date-codes": _mid((1.25, 1.5), 0.16, (0.7, 0.84)) + _pair((0.28, 0.42), (0.68, 0.73), (0.97, 1.03)),
}

_UNDERNEATH: dict[str, Boxes] = {
    "front-rails-left": _left((0.95, 2.2), (0.38, 0.5), (0.28, 0.44)),
    "front-rails-right": _right((0.95, 2.2), (0.38, 0.5), (0.28, 0.44)),
    "front-crossmember": _mid((1.3, 1.55), 0.45, (0.24, 0.38)),
    "radiator-support-lower": _mid((1.98, 2.14), 0.55, (0.28, 0.42)),
    "front-suspension": _pair((1.25, 1.65), (0.36, 0.66), (0.22, 0.46)),
    "steering-linkage": _mid((1.15, 1.32), 0.5, (0.24, 0.34)),
    "oil-pan-seals": _mid((1.05, 1.6), 0.18, (0.2, 0.36)),
    "front-brake-lines": _pair((1.1, 1.4), (0.48, 0.62), (0.34, 0.48)),
    "front-torque-boxes": _pair((0.75, 0.98), (0.5, 0.76), (0.25, 0.36)),
    "front-subframe-mounts": _pair((0.7, 0.9), (0.4, 0.6), (0.26, 0.4)),
    "undertray-panels": _mid((1.1, 2.2), 0.6, (0.18, 0.24)),
    "floor-underside-left": _left((-0.8, 0.75), (0.12, 0.68), (0.25, 0.3)),
    "floor-underside-right": _right((-0.8, 0.75), (0.12, 0.68), (0.25, 0.3)),
    "left-sill-seam": _left((-0.95, 0.95), (0.76, 0.84), (0.18, 0.24)),
    "right-sill-seam": _right((-0.95, 0.95), (0.76, 0.84), (0.18, 0.24)),
    "floor-braces": _pair((-0.5, 0.45), (0.2, 0.64), (0.22, 0.27)),
    "jacking-points": _pair((0.66, 0.86), (0.7, 0.82), (0.18, 0.26)) + _pair((-0.9, -0.7), (0.7, 0.82), (0.18, 0.26)),
    "connector-rails": _pair((-0.8, 0.7), (0.36, 0.46), (0.2, 0.28)),
    "centre-frame": _pair((-1.0, 1.0), (0.44, 0.56), (0.2, 0.32)),
    "body-mounts": _pair((0.6, 0.78), (0.5, 0.64), (0.26, 0.36)) + _pair((-0.95, -0.77), (0.5, 0.64), (0.26, 0.36)),
    "gearbox": _mid((0.3, 1.0), 0.2, (0.22, 0.46)),
    "driveshaft": _mid((-1.15, 0.3), 0.08, (0.26, 0.36)),
    "exhaust-system": _right((-2.3, 0.6), (0.14, 0.36), (0.18, 0.3)),
    "fuel-brake-lines": _left((-1.0, 1.0), (0.3, 0.4), (0.24, 0.28)),
    "parking-brake": _mid((-0.95, -0.35), 0.22, (0.24, 0.3)),
    "rear-rails-left": _left((-2.2, -0.95), (0.42, 0.54), (0.3, 0.5)),
    "rear-rails-right": _right((-2.2, -0.95), (0.42, 0.54), (0.3, 0.5)),
    "rear-torque-boxes": _pair((-0.98, -0.78), (0.5, 0.74), (0.25, 0.36)),
    "spring-hangers": _pair((-0.95, -0.8), (0.42, 0.56), (0.26, 0.38))
    + _pair((-2.05, -1.9), (0.42, 0.56), (0.3, 0.42)),
    "rear-axle": _mid((-1.5, -1.2), 0.6, (0.24, 0.46)),
    "rear-suspension": _pair((-1.65, -1.05), (0.36, 0.58), (0.26, 0.5)),
    "fuel-tank": _mid((-2.1, -1.6), 0.4, (0.26, 0.42)),
    "trunk-floor-underside": _mid((-2.25, -1.55), 0.66, (0.3, 0.36)),
    "rear-crossmember": _mid((-2.3, -2.12), 0.6, (0.3, 0.44)),
    "rear-brake-lines": _mid((-1.4, -1.15), 0.5, (0.42, 0.5)),
    **_sides(
        front_well=(_FRONT, (0.5, 0.82), (0.5, 0.74)),
        rear_well=(_REAR, (0.5, 0.82), (0.5, 0.74)),
    ),
}

_WHOLE = _mid((-2.4, 2.4), 0.9, (0.0, 1.38))
_LOW_CORNERS = _pair((2.1, 2.38), (0.5, 0.84), (0.22, 0.5)) + _pair((-2.38, -2.1), (0.5, 0.84), (0.22, 0.5))
_TABLE = _mid((-0.3, 0.3), 0.3, (0.74, 0.76))

_SESSION: dict[str, Boxes] = {
    **dict.fromkeys(
        (
            "title-registration",
            "factory-paper",
            "ownership-history",
            "receipts",
            "restoration-photos",
            "keys-spares",
            "handed-items",
        ),
        _TABLE,
    ),
    "cold-start": _mid((1.1, 1.7), 0.28, (0.6, 0.82))
    + _left((0.5, 0.6), (0.2, 0.5), (0.72, 0.9))
    + _right((-2.4, -2.2), (0.2, 0.36), (0.2, 0.3)),
    "idle": _mid((1.1, 1.7), 0.28, (0.6, 0.82))
    + _left((0.54, 0.62), (0.24, 0.36), (0.82, 0.9))
    + _right((-2.4, -2.2), (0.2, 0.36), (0.2, 0.3)),
    "drive-power": _left((0.54, 0.62), (0.24, 0.36), (0.82, 0.9)) + _mid((1.3, 2.3), 0.6, (0.5, 0.9)),
    "gear-changes": _mid((0.1, 0.3), 0.1, (0.5, 0.66)) + _mid((-0.3, 0.6), 0.6, (0.4, 1.0)),
    "steering-tracking": _left((0.26, 0.46), (0.18, 0.56), (0.62, 0.96)),
    "braking": _left((0.5, 0.62), (0.2, 0.5), (0.5, 0.75)) + _mid((-1.0, 1.8), 0.8, (0.0, 0.66)),
    "warm-gauges": _left((0.52, 0.64), (0.2, 0.5), (0.78, 0.94)),
    "after-drive-leaks": _mid((1.05, 1.95), 0.4, (0.0, 0.02)),
    "loading-condition": _WHOLE + _LOW_CORNERS + _pair(_FRONT, _TYRE, (0.0, 0.66)) + _pair(_REAR, _TYRE, (0.0, 0.66)),
    "loading-odometer": _left((0.54, 0.62), (0.31, 0.43), (0.79, 0.85)),
    "tie-downs": _pair((1.2, 1.75), (0.7, 0.92), (0.0, 0.6)) + _pair((-1.7, -1.1), (0.7, 0.92), (0.0, 0.6)),
}

_SOFT_TOP: dict[str, Boxes] = {
    "top-fabric": _mid((-1.2, 0.3), 0.56, (1.1, 1.38)),
    "top-rear-window": _mid((-1.4, -1.15), 0.4, (1.0, 1.24)),
    "top-frame": _pair((-0.9, 0.2), (0.48, 0.6), (1.1, 1.3)),
    "top-latches": _mid((0.3, 0.42), 0.46, (1.28, 1.36)),
    "top-drive": _pair((-1.25, -1.05), (0.5, 0.66), (0.5, 0.8)),
    "top-well-drains": _pair((-1.4, -1.2), (0.46, 0.66), (0.55, 0.75)),
    "top-boot": _mid((-1.5, -0.95), 0.62, (0.9, 0.98)),
}

_WAGON_REAR: dict[str, Boxes] = {
    "tailgate-shell": _mid((-2.4, -2.28), 0.62, (0.5, 0.95)),
    "tailgate-window": _mid((-2.3, -2.1), 0.54, (0.98, 1.3)),
    "d-pillars": _pair((-2.25, -2.05), (0.6, 0.78), (0.75, 1.2)),
    "cargo-floor": _mid((-2.25, -1.2), 0.54, (0.5, 0.58)),
    "roof-rack-mounts": _pair((-0.2, 0.0), (0.44, 0.54), (1.36, 1.42)) + _pair((-1.9, -1.7), (0.44, 0.54), (1.34, 1.4)),
    "sliding-track": _right((-1.6, -0.4), (0.8, 0.9), (0.3, 0.6)),
}

_COMPOSITE: dict[str, Boxes] = {
    "laminate": _pair((1.3, 2.1), (0.76, 0.9), (0.4, 0.86)) + _pair((-2.1, -1.5), (0.76, 0.9), (0.4, 0.9)),
    "bond-seams": _pair((1.0, 2.1), (0.68, 0.8), (0.8, 0.9)) + _pair((-2.1, -1.3), (0.68, 0.8), (0.84, 0.95)),
    "body-bonds": _pair((0.5, 0.7), (0.44, 0.6), (0.24, 0.34)) + _pair((-0.95, -0.75), (0.44, 0.6), (0.24, 0.34)),
    "hidden-steel": _pair((0.7, 0.94), (0.62, 0.74), (0.35, 0.85)),
    "tube-chassis": _pair((-1.2, 1.6), (0.3, 0.46), (0.2, 0.34)),
    "build-quality": _mid((-0.4, 0.6), 0.3, (0.24, 0.34)),
}

_PICKUP: dict[str, Boxes] = {
    "bed-floor": _mid((-2.5, -0.5), 0.62, (0.72, 0.78)),
    "bed-front-panel": _mid((-0.5, -0.36), 0.68, (0.75, 1.15)),
    "bed-sides": _pair((-2.55, -0.5), (0.7, 0.92), (0.75, 1.18)),
    "tailgate": _mid((-2.66, -2.54), 0.66, (0.72, 1.15)),
    "bed-cross-sills": _mid((-2.4, -0.6), 0.56, (0.6, 0.7)),
    "left-cab-corner": _left((-0.38, -0.16), (0.78, 0.94), (0.45, 0.72)),
    "right-cab-corner": _right((-0.38, -0.16), (0.78, 0.94), (0.45, 0.72)),
    "cab-mounts": _pair((-0.3, -0.1), (0.46, 0.62), (0.44, 0.56)) + _pair((1.1, 1.3), (0.46, 0.62), (0.44, 0.56)),
    "cab-steps": _pair((0.1, 1.1), (0.84, 0.98), (0.4, 0.5)),
    "rear-rails-left": _left((-2.6, -0.9), (0.4, 0.52), (0.45, 0.62)),
    "rear-rails-right": _right((-2.6, -0.9), (0.4, 0.52), (0.45, 0.62)),
}

_MOTORCYCLE: dict[str, Boxes] = {
    "mc-frame": _mid((0.3, 0.52), 0.08, (0.6, 0.9)) + _mid((-0.45, 0.3), 0.14, (0.28, 0.66)),
    "mc-forks": _mid((0.5, 0.78), 0.12, (0.32, 0.9)),
    "mc-rear": _mid((-0.8, -0.3), 0.14, (0.24, 0.56)),
    "mc-tank": _mid((0.0, 0.42), 0.16, (0.76, 0.96)),
    "mc-tinware": _mid((-0.75, -0.2), 0.16, (0.56, 0.82)),
    "mc-engine": _mid((-0.2, 0.3), 0.2, (0.28, 0.62)),
    "mc-exhaust": _right((-0.95, -0.2), (0.12, 0.26), (0.26, 0.42)),
    "mc-wheels-brakes": _mid((0.42, 1.06), 0.07, (0.0, 0.64)) + _mid((-1.0, -0.36), 0.08, (0.0, 0.64)),
    "mc-controls": _mid((0.3, 0.5), 0.36, (0.96, 1.1)),
    "mc-numbers": _right((0.4, 0.5), (0.02, 0.06), (0.76, 0.86)) + _right((-0.05, 0.08), (0.14, 0.2), (0.36, 0.44)),
    "engine-stamp": _right((-0.05, 0.08), (0.14, 0.2), (0.36, 0.44)),
    "frame-stamp": _right((0.4, 0.5), (0.02, 0.06), (0.76, 0.86)),
    "cold-start": _mid((-0.2, 0.3), 0.2, (0.3, 0.6)),
    "idle": _mid((-0.15, 0.25), 0.2, (0.3, 0.6)),
    "drive-power": _mid((-1.0, 1.0), 0.3, (0.0, 1.0)),
    "gear-changes": _mid((-0.3, 0.3), 0.25, (0.1, 0.6)),
    "braking": _mid((-0.9, 0.9), 0.2, (0.0, 0.64)),
    "after-drive-leaks": _mid((-0.4, 0.4), 0.3, (0.0, 0.02)),
    "loading-condition": _mid((-1.02, 1.05), 0.36, (0.0, 1.1)),
    "tie-downs": _pair((0.3, 0.5), (0.2, 0.36), (0.6, 1.0)) + _pair((-0.7, -0.5), (0.16, 0.3), (0.3, 0.6)),
    "loading-odometer": _mid((0.3, 0.5), 0.1, (0.96, 1.06)),
    "odometer": _mid((0.3, 0.5), 0.1, (0.96, 1.06)),
}

_CAR: Mapping[str, Boxes] = {
    **_OUTSIDE, **_OPENINGS, **_CABIN, **_ENGINE_BAY, **_UNDERNEATH,
    **_SESSION, **_SOFT_TOP, **_WAGON_REAR, **_COMPOSITE,
}  # fmt: skip
_OWN: Mapping[BodyForm, Mapping[str, Boxes]] = {BodyForm.PICKUP: _PICKUP, BodyForm.MOTORCYCLE: _MOTORCYCLE}
_ELSEWHERE = {**_PICKUP, **_MOTORCYCLE}

PLACED = frozenset((*_CAR, *_PICKUP, *_MOTORCYCLE))
"""Every component that has a place of its own."""


def places_of(component: str, form: BodyForm, *, driver_left: bool = True) -> Boxes:
    """Where a component lies on a form, left box first. One that no table names is taken for the whole car.

    What is told at the driver's place (the wheel, the gauges, the pedals) changes sides with `driver_left`.
    """
    own = _OWN.get(form, {})
    if component in own:
        boxes = own[component]
    elif component in _CAR:
        told = _CAR[component]
        boxes = told if told is _TABLE else tuple(fitted(one, form) for one in told)
    else:
        boxes = _ELSEWHERE.get(component) or (PROPORTIONS[form].bounds(),)
    if not driver_left and component in _AT_THE_DRIVER:
        boxes = tuple(one.mirrored() for one in boxes)
    return boxes


def is_table_ware(component: str) -> bool:
    """Whether it is a paper, a key or a loose part, photographed on a table."""
    return _CAR.get(component) is _TABLE


_AT_THE_DRIVER = frozenset(
    (
        "pedals", "instrument-cluster", "odometer", "steering-wheel", "switches", "ignition-lock", "under-dash",
        "airbags-srs", "cold-start", "idle", "drive-power", "steering-tracking", "braking", "warm-gauges",
        "loading-odometer", "brake-hydraulics", "steering-power",
    )
)  # fmt: skip
