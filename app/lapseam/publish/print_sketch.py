"""The framing sketch of a printed shot: a plain car, the camera and what its lens sees, as SVG in black on white.

The geometry comes from `domain.stand`; here it is only drawn. Seen from above the nose points left and the car's right
side is up; from the side the nose points left. The picture is millimetres of paper, so that lines keep their weight at
every scale. No words of a plan or a person go into the SVG.
"""

from __future__ import annotations

from math import cos, hypot, radians, sin
from typing import Final

from lapseam.domain.plan import Shot
from lapseam.domain.stand import HALF_LENGTH, HALF_WIDTH, LIFTED, ROOF, Point, Stand, View, stand_for

WIDTH_MM: Final = 52.0
MOST_HEIGHT_MM: Final = 31.0

_LEAST_GAUGE_MM = 20.0

_GAUGE_MM = 14.5
_EDGE_MM = 1.2
_AIR_M = 0.25
_NEAR_MM = 12.0
_TABLE_M = 0.75
_HANGING = LIFTED - 0.28
"""How far a lifted car's wheels hang above the ground, in metres."""

_ABOVE = (
    "M2.4 0C2.4 .45 2.34 .74 2.12 .8C1.7 .88 1.2 .92 .6 .92C.1 .91 -.5 .91 -1 .92C-1.5 .92 -1.9 .86 -2.16 .78"
    "C-2.34 .7 -2.4 .4 -2.4 0C-2.4 -.4 -2.34 -.7 -2.16 -.78C-1.9 -.86 -1.5 -.92 -1 -.92C-.5 -.91 .1 -.91 .6 -.92"
    "C1.2 -.92 1.7 -.88 2.12 -.8C2.34 -.74 2.4 -.45 2.4 0Z"
)
_ABOVE_FINE = (
    "M.98 -.62C1.12 -.2 1.12 .2 .98 .62M.42 -.56C.52 -.2 .52 .2 .42 .56M-1.02 -.52C-1.1 -.2 -1.1 .2 -1.02 .52"
    "M-1.5 -.6C-1.62 -.2 -1.62 .2 -1.5 .6M.98 .62L.42 .56L-1.02 .52L-1.5 .6M.98 -.62L.42 -.56L-1.02 -.52L-1.5 -.6"
    "M1.12 .66L2.2 .6M1.12 -.66L2.2 -.6M-1.6 .62L-2.25 .56M-1.6 -.62L-2.25 -.56"
)
_SIDE = (
    "M2.4 .42C2.42 .62 2.36 .78 2.2 .82C1.8 .9 1.3 .93 1 .95C.8 1.12 .6 1.33 .38 1.38C-.1 1.41 -.6 1.38 -.9 1.3"
    "C-1.2 1.18 -1.4 1.02 -1.55 .96C-1.9 .95 -2.2 .92 -2.32 .86C-2.42 .7 -2.4 .5 -2.36 .36"
    "L-1.79 .28C-1.79 .77 -.97 .77 -.97 .28L1.01 .28C1.01 .77 1.83 .77 1.83 .28L2.3 .3Z"
)
_SIDE_FINE = (
    "M.88 .97C.7 1.12 .55 1.26 .36 1.3C-.1 1.33 -.55 1.3 -.82 1.24C-1.05 1.14 -1.2 1.03 -1.3 .97Z"
    "M.86 .97L.86 .34M-.5 1.29L-.5 .34"
)
_AXLES = (1.42, -1.38)
_WHEEL_M = 0.33


def sketch(shot: Shot) -> str:
    """The shot's sketch as one SVG, `WIDTH_MM` wide and as high as it needs, `MOST_HEIGHT_MM` at most."""
    stand = stand_for(shot)
    drawing = {View.PLAN: _plan, View.TABLE: _table}.get(stand.view, _side)
    drawn, height_mm = drawing(stand)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(WIDTH_MM)} {_n(height_mm)}" '
        f'width="{_n(WIDTH_MM)}mm" height="{_n(height_mm)}mm">{drawn}</svg>'
    )


class _Ground:
    """Metres laid into a box of paper: `x` grows to the left, `y` upwards, `scale` millimetres a metre for both."""

    def __init__(self, least: Point, most: Point, *, width_mm: float = WIDTH_MM, least_mm: float = 0.0) -> None:
        across, up = most.x - least.x, most.y - least.y
        self.scale = min((width_mm - 2 * _EDGE_MM) / across, (MOST_HEIGHT_MM - 2 * _EDGE_MM) / up)
        self.height_mm = max(up * self.scale + 2 * _EDGE_MM, least_mm)
        self._left = width_mm / 2 + (least.x + most.x) / 2 * self.scale
        self._top = self.height_mm / 2 + (least.y + most.y) / 2 * self.scale

    def at(self, place: Point) -> tuple[float, float]:
        """A place in millimetres of paper."""
        return self._left - place.x * self.scale, self._top - place.y * self.scale

    def shape(self, path: str, weight_mm: float, *, raised: float = 0.0, fill: str = "none") -> str:
        """A path in metres, drawn with a line of that weight on paper."""
        moved = f"translate({_n(self._left)} {_n(self._top)}) scale({_n(-self.scale)}) translate(0 {_n(raised)})"
        weight = f"{weight_mm / self.scale:.4f}"
        return (
            f'<path d="{path}" transform="{moved}" fill="{fill}" stroke="#000" stroke-width="{weight}" '
            'stroke-linejoin="round" stroke-linecap="round"/>'
        )

    def line(self, start: Point, end: Point, weight_mm: float, ink: str = "#000") -> str:
        """A line between two places."""
        (x1, y1), (x2, y2) = self.at(start), self.at(end)
        return (
            f'<line x1="{_n(x1)}" y1="{_n(y1)}" x2="{_n(x2)}" y2="{_n(y2)}" stroke="{ink}" '
            f'stroke-width="{_n(weight_mm)}" stroke-linecap="round"/>'
        )

    def front(self, middle: Point) -> str:
        """The word that says which end is the front, standing upright along the nose."""
        x, y = self.at(middle)
        return _word(x, y, "front", turned=True)


def _plan(stand: Stand) -> tuple[str, float]:
    """The car from above with the camera's stand, and the lens's height beside it."""
    least, most = _bounds(stand)
    if stand.height_m is None:
        ground = _Ground(least, most)
        gauge = ""
    else:
        ground = _Ground(least, most, width_mm=WIDTH_MM - _GAUGE_MM, least_mm=_LEAST_GAUGE_MM)
        gauge = _gauge(stand.height_m, ground.height_mm)
    drawn = (
        _sees(ground, stand)
        + ground.shape(_ABOVE, 0.45, fill="#fff")
        + ground.shape(_ABOVE_FINE, 0.2)
        + _edges(ground, stand)
        + ground.front(Point(HALF_LENGTH - 0.62, 0.0))
        + _camera(ground, stand)
    )
    return drawn + gauge, ground.height_mm


def _side(stand: Stand) -> tuple[str, float]:
    """The car from its side, on its wheels or raised, with the camera in or under it."""
    lifted = stand.view is View.LIFT
    raised = _HANGING if lifted else 0.0
    top = raised + ROOF + 0.15
    ends = (stand.camera.x, *(end.x for end in _corners(stand)))
    ground = _Ground(
        Point(min(-HALF_LENGTH - 0.3, *(x - 0.1 for x in ends)), -0.08),
        Point(max(HALF_LENGTH + 0.75, *(x + 0.1 for x in ends)), max(top, stand.camera.y + 0.2)),
    )
    wheels = "".join(_wheel(ground, axle, raised) for axle in _AXLES)
    drawn = (
        ground.line(Point(-HALF_LENGTH - 0.3, 0), Point(HALF_LENGTH + 0.6, 0), 0.25)
        + (_lift(ground) if lifted else "")
        + ground.shape(_SIDE, 0.45, raised=raised, fill="#fff")
        + _sees(ground, stand)
        + ground.shape(_SIDE, 0.45, raised=raised)
        + ground.shape(_SIDE_FINE, 0.2, raised=raised)
        + wheels
        + (_person(ground, stand) if lifted else "")
        + _edges(ground, stand)
        + _camera(ground, stand)
        + ground.front(Point(HALF_LENGTH + 0.28, raised + 0.62))
    )
    return drawn, ground.height_mm


def _table(stand: Stand) -> tuple[str, float]:
    """A table from its side with the camera above it."""
    top = max(1.65, stand.camera.y + 0.25)
    ground = _Ground(Point(-1.6, -0.06), Point(1.6, top))
    legs = "".join(ground.line(Point(x, _TABLE_M), Point(x, 0), 0.45) for x in (-0.75, 0.75))
    drawn = (
        ground.line(Point(-1.6, 0), Point(1.6, 0), 0.25)
        + legs
        + _sees(ground, stand)
        + ground.line(Point(-0.9, _TABLE_M), Point(0.9, _TABLE_M), 0.45)
        + ground.line(Point(-0.2, _TABLE_M + 0.02), Point(0.2, _TABLE_M + 0.02), 1.1)
        + _edges(ground, stand)
        + _camera(ground, stand)
    )
    return drawn, ground.height_mm


def _bounds(stand: Stand) -> tuple[Point, Point]:
    """The car, the camera and what it sees, with a little air."""
    ends = (stand.camera, *_corners(stand))
    xs, ys = [end.x for end in ends], [end.y for end in ends]
    return (
        Point(min(-HALF_LENGTH, min(xs) - _AIR_M), min(-HALF_WIDTH, min(ys) - _AIR_M)),
        Point(max(HALF_LENGTH, max(xs) + _AIR_M), max(HALF_WIDTH, max(ys) + _AIR_M)),
    )


def _corners(stand: Stand) -> tuple[Point, ...]:
    """The far ends of the shortest lens's view; one point straight ahead where no lens is given."""
    turns = (0.0,) if stand.wide_deg is None else (-stand.wide_deg / 2, stand.wide_deg / 2)
    return tuple(_ahead(stand, turn) for turn in turns)


def _ahead(stand: Stand, turn_deg: float) -> Point:
    """A place a little beyond the target, in a direction turned from where the lens points."""
    reach = max(hypot(stand.target.x - stand.camera.x, stand.target.y - stand.camera.y) * 1.12, 0.5)
    turn = radians(stand.aim_deg + turn_deg)
    return Point(stand.camera.x + cos(turn) * reach, stand.camera.y + sin(turn) * reach)


def _sees(ground: _Ground, stand: Stand) -> str:
    """What the shortest lens sees, as a grey field; the car's lines go over it."""
    if stand.wide_deg is None:
        return ""
    return f'<polygon points="{_cone(ground, stand, stand.wide_deg)}" fill="#d9d9d9"/>'


def _edges(ground: _Ground, stand: Stand) -> str:
    """The edges of what the shortest lens sees, and dashed those of the longest."""
    drawn = ""
    pen = 'fill="none" stroke="#000" stroke-linejoin="round"'
    if stand.wide_deg is not None:
        drawn += f'<polyline points="{_cone(ground, stand, stand.wide_deg)}" {pen} stroke-width=".3"/>'
    if stand.narrow_deg is not None and stand.narrow_deg != stand.wide_deg:
        points = _cone(ground, stand, stand.narrow_deg)
        drawn += f'<polyline points="{points}" {pen} stroke-width=".2" stroke-dasharray="1 .8"/>'
    return drawn


def _cone(ground: _Ground, stand: Stand, field_deg: float) -> str:
    """Far left, camera, far right of a view, as SVG points."""
    places = (_ahead(stand, -field_deg / 2), stand.camera, _ahead(stand, field_deg / 2))
    return " ".join(f"{_n(x)},{_n(y)}" for x, y in map(ground.at, places))


def _camera(ground: _Ground, stand: Stand) -> str:
    """A solid body with its lens on the side that looks at the car; smaller where it would hide what it sees."""
    x, y = ground.at(stand.camera)
    near = hypot(stand.target.x - stand.camera.x, stand.target.y - stand.camera.y) * ground.scale < _NEAR_MM
    size = 0.65 if near else 1.0
    return (
        f'<g transform="translate({_n(x)} {_n(y)}) rotate({_n(180.0 - stand.aim_deg)}) scale({size})" '
        'stroke="#fff" stroke-width=".35">'
        '<rect x="-2.1" y="-1.7" width="2.6" height="3.4" rx=".4"/><path d="M.3 -.9L1.7 -1.2L1.7 1.2L.3 .9Z"/></g>'
    )


def _wheel(ground: _Ground, axle: float, raised: float) -> str:
    x, y = ground.at(Point(axle, raised + _WHEEL_M))
    radius = _n(_WHEEL_M * ground.scale)
    return f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{radius}" fill="#fff" stroke="#000" stroke-width=".45"/>'


def _lift(ground: _Ground) -> str:
    """Two posts behind the car and the arm under its sill."""
    posts = "".join(ground.line(Point(x, 0), Point(x, _HANGING + 0.9), 1.0, "#999") for x in (-0.28, 0.28))
    return posts + ground.line(Point(-0.9, _HANGING + 0.2), Point(0.9, _HANGING + 0.2), 0.9, "#666")


def _person(ground: _Ground, stand: Stand) -> str:
    """Somebody standing under the car with the camera, so that the height reads at once."""
    x = stand.camera.x - (0.45 if stand.camera.x > -1.6 else -0.45)
    head_x, head_y = ground.at(Point(x, 1.5))
    lines = (
        (Point(x, 1.37), Point(x, 0.8)),
        (Point(x, 0.8), Point(x - 0.16, 0.02)),
        (Point(x, 0.8), Point(x + 0.16, 0.02)),
        (Point(x, 1.26), stand.camera),
    )
    head = f'<circle cx="{_n(head_x)}" cy="{_n(head_y)}" r="{_n(0.12 * ground.scale)}" fill="none" stroke="#000" '
    return head + 'stroke-width=".3"/>' + "".join(ground.line(start, end, 0.3) for start, end in lines)


def _gauge(height_m: float, tall_mm: float) -> str:
    """A rule from the ground to two and a half metres with the lens on it."""
    left, foot, top, tall = WIDTH_MM - _GAUGE_MM + 3.0, tall_mm - 2.0, 2.5, 2.5

    def up(metres: float) -> float:
        return foot - (foot - top) * min(metres, tall) / tall

    ticks = "".join(
        f'<line x1="{_n(left - 0.9)}" y1="{_n(up(half / 2))}" x2="{_n(left + 0.9)}" y2="{_n(up(half / 2))}"/>'
        for half in range(6)
    )
    rule = f'<line x1="{_n(left)}" y1="{_n(top)}" x2="{_n(left)}" y2="{_n(foot)}"/>'
    floor = f'<line x1="{_n(left - 2)}" y1="{_n(foot)}" x2="{_n(left + 9)}" y2="{_n(foot)}"/>'
    dot = f'<circle cx="{_n(left)}" cy="{_n(up(height_m))}" r="1.3" stroke="#fff" stroke-width=".3"/>'
    said = _word(left + 2.2, min(up(height_m) + 1.0, foot - 0.8), f"{height_m:g} m", anchor="start")
    return f'<g stroke="#000" stroke-width=".2">{rule}{floor}{ticks}</g>{dot}{said}'


def _word(x: float, y: float, words: str, *, turned: bool = False, anchor: str = "middle") -> str:
    turn = f' transform="rotate(-90 {_n(x)} {_n(y)}) translate(0 .9)"' if turned else ""
    place = f'x="{_n(x)}" y="{_n(y)}" font-family="IBM Plex Sans" font-size="2.9" text-anchor="{anchor}"{turn}'
    halo = f'<text {place} stroke="#fff" stroke-width="1" stroke-linejoin="round">{words}</text>'
    return f"{halo}<text {place}>{words}</text>"


def _n(number: float) -> str:
    """A number for SVG, two decimals at most."""
    return f"{number:.2f}".rstrip("0").rstrip(".")
