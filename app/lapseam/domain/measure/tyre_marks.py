"""Load index, speed symbol and tread depth of a tyre.

Load indexes 50 to 126 and speed symbols as in the tables of ETRTO, UN R30 and ISO 4000-1 (read in secondary sources).
H stands out of the alphabet's order, between U and V.
"""

from __future__ import annotations

import re
from typing import Final

from ..errors import Mistake
from .reading import measure, plain, quantity, quoted
from .worked import Known, Value, Worked, both, either, grouped, measured

FIRST_INDEX: Final = 50
LOAD_KG: Final = (
    190, 195, 200, 206, 212, 218, 224, 230, 236, 243, 250, 257, 265, 272, 280, 290, 300, 307, 315, 325, 335,
    345, 355, 365, 375, 387, 400, 412, 425, 437, 450, 462, 475, 487, 500, 515, 530, 545, 560, 580, 600, 615,
    630, 650, 670, 690, 710, 730, 750, 775, 800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030, 1060, 1090, 1120,
    1150, 1180, 1215, 1250, 1285, 1320, 1360, 1400, 1450, 1500, 1550, 1600, 1650, 1700,
)  # fmt: skip
"""Most load of one tyre in kg, by load index from 50 on."""

SPEED_KMH: Final = {
    **{f"A{step}": step * 5 for step in range(1, 9)},
    "B": 50, "C": 60, "D": 65, "E": 70, "F": 80, "G": 90, "J": 100, "K": 110, "L": 120, "M": 130, "N": 140, "P": 150,
    "Q": 160, "R": 170, "S": 180, "T": 190, "U": 200, "H": 210, "V": 240, "W": 270, "Y": 300,
}  # fmt: skip
"""Highest speed of each symbol in km/h. ZR in a size means over 240."""

ABOVE_KMH: Final = {"ZR": 240}
WEAR_BAR_32NDS: Final = 2
_SOURCE: Final = "load index and speed symbol tables of ETRTO, UN R30 and ISO 4000-1"
_MARK: Final = re.compile(r"\(?(?P<load>\d{2,3})?(?: ?/ ?(?P<dual>\d{2,3}))? ?(?P<speed>A[1-8]|ZR|[A-Z])?\)?")


def load_kg(index: int) -> int:
    """Most load of one tyre in kg; Mistake where the index is not in the table (50 to 126)."""
    if not FIRST_INDEX <= index < FIRST_INDEX + len(LOAD_KG):
        raise Mistake(
            f"Load index {index} is not in the table.",
            next_step=f"Look again: the table runs from {FIRST_INDEX} to {FIRST_INDEX + len(LOAD_KG) - 1}.",
        )
    return LOAD_KG[index - FIRST_INDEX]


def speed_kmh(symbol: str) -> int:
    """Highest speed of a symbol in km/h; Mistake where there is none such. For ZR it is the speed it goes beyond."""
    name = plain(symbol).upper()
    if name in ABOVE_KMH:
        return ABOVE_KMH[name]
    if name not in SPEED_KMH:
        raise Mistake(f"{quoted(symbol)} is no speed symbol.", next_step=f"Use one of {either(SPEED_KMH)} or ZR.")
    return SPEED_KMH[name]


def tyre_mark(words: str) -> Worked:
    """What a mark such as 95H, 104/101Q, 95 or H allows: load of one tyre and speed.

    Raises:
        Mistake: it is no such mark, or not in the tables.
    """
    text = plain(words).upper()
    found = _MARK.fullmatch(text)
    if found is None or not (found["load"] or found["speed"]):
        raise Mistake(
            f"{quoted(words)} is no load and speed mark.", next_step="Write it as on the sidewall: 95H, 95 or H."
        )
    values: list[Value] = []
    steps: list[str] = []
    for part, name in (("load", "load of one tyre"), ("dual", "load of one of a pair")):
        if found[part]:
            kg = load_kg(int(found[part]))
            values.append(measured(name, kg, "kg", 0, beside_places=0))
            steps.append(f"Load index {found[part]}: {both(kg, 'kg', 0, beside_places=0)} a tyre.")
    if symbol := found["speed"]:
        speed = speed_kmh(symbol)
        over = "over " if symbol in ABOVE_KMH else ""
        shown = f"{over}{both(speed, 'km/h', 0, beside_places=0)}"
        values.append(Value("speed", speed, shown, "km/h"))
        steps.append(f"Speed symbol {symbol}: {shown}.")
    return Worked(
        rule="tyre-mark",
        said=f"{text}: {', '.join(value.shown for value in values)}.",
        values=tuple(values),
        working=tuple(steps),
        source=_SOURCE,
        known=Known.SECONDARY,
        cautions=(
            "It is what the tyre was made for when new, at its full pressure; age and damage are another matter.",
        ),
    )


def tread(words: str) -> Worked:
    """A tread depth in mm and 32nds of an inch. A bare fraction is taken in inches; any other bare number is refused.

    Says nothing of what is lawful: limits differ by state and country, and there is no federal one for private cars.

    Raises:
        Mistake: it is no depth, or has no unit.
    """
    read = quantity(words, of="tread depth")
    depth = measure(words, of="tread depth", unit="mm", least=0, most=30, bare="in" if read.stroke else "")
    parts = depth / 25.4 * 32
    return Worked(
        rule="tread",
        said=f"{depth:.1f} mm of tread, {parts:.1f}/32 in.",
        values=(
            Value("depth", depth, f"{depth:.1f} mm", "mm"),
            Value("depth in 32nds", parts, f"{parts:.1f}/32 in", "1/32 in"),
        ),
        working=(f"{depth:g} / 25.4 x 32 = {parts:.2f} thirty-seconds of an inch.",),
        source=(
            "1 in = 25.4 mm exactly; wear bars: FMVSS 109 and 139 (depth from a secondary source, clauses from memory)"
        ),
        known=Known.COMPUTED,
        cautions=(
            f"Wear bars stand {WEAR_BAR_32NDS}/32 in ({grouped(WEAR_BAR_32NDS / 32 * 25.4, 1)} mm) high on tyres "
            "sold in "
            "the United States; say whether they are flush.",
            "Limits differ from place to place; local law decides. Keep the least of several places, not their mean.",
            "A careful reading with a hand gauge is good to about 0.3 mm (common practice).",
        ),
        understood=("The fraction was taken in inches.",) if read.stroke and not read.unit else (),
    )
