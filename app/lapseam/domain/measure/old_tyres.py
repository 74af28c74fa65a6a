"""Old letter and numeric tyre sizes: what the mark says, and which modern size is commonly put in its place.

In a mark like F70-14 the letter is a load class, not a width; then come the aspect ratio and the rim in inches; an R
behind the letter is a radial. Substitutes are common practice and approximate: exact modern twins mostly do not exist,
and bias-ply and radial dimensions differ by up to about half an inch. Sources: a tyre retailer's size chart and an
owners' club page for the rows marked secondary, memory for the others; each row says which.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from ..errors import Mistake
from .reading import quoted
from .tyres import read_size, size_text, tyre_size
from .worked import Known, Value, Worked, both, either

HALF_AN_INCH_MM: Final = 12.7


@dataclass(frozen=True, slots=True)
class OldSize:
    """Usual modern substitutes of an old size, and its own listed diameter and width where a chart has them."""

    modern: tuple[str, ...]
    known: Known
    diameter_in: float | None = None
    width_in: float | None = None


_CHART, _RECALLED = Known.SECONDARY, Known.MEMORY
OLD_SIZES: Final[Mapping[str, OldSize]] = {
    "6.95-14": OldSize(("P185/75R14",), _CHART, 25.3, 7.0),
    "8.00-14": OldSize(("P215/75R14",), _CHART),
    "G78-14": OldSize(("P215/75R14",), _CHART),
    "8.50-14": OldSize(("P225/75R14",), _CHART),
    "H78-14": OldSize(("P225/75R14",), _CHART),
    "G78-15": OldSize(("P215/75R15", "P225/75R15"), _RECALLED, 28.0, 8.4),
    "C78-14": OldSize(("P185/75R14",), _RECALLED),
    "E78-14": OldSize(("P195/75R14",), _RECALLED),
    "F78-14": OldSize(("P205/75R14",), _RECALLED),
    "E70-14": OldSize(("P205/70R14",), _RECALLED),
    "F70-14": OldSize(("P215/70R14",), _RECALLED),
    "G70-14": OldSize(("P225/70R14",), _RECALLED),
    "E60-15": OldSize(("P225/60R15",), _RECALLED),
    "F60-15": OldSize(("P235/60R15",), _RECALLED),
    "G60-15": OldSize(("P245/60R15",), _RECALLED),
    "L60-15": OldSize(("P275/60R15",), _RECALLED),
    "F78-15": OldSize(("P205/75R15",), _RECALLED),
    "H78-15": OldSize(("P225/75R15",), _RECALLED),
    "L78-15": OldSize(("P235/75R15",), _RECALLED),
}
_LETTER: Final = re.compile(r"(?P<load>[A-N])(?P<radial>R)? ?(?P<aspect>\d{2}) ?(?P<build>[-RX]|) ?(?P<rim>1\d)")
_NUMERIC: Final = re.compile(r"(?P<width>\d{1,2}\.\d{1,2}) ?(?:[-X/]| ) ?(?P<rim>[12]\d)(?:LT)?")


def sizes(words: str) -> Worked:
    """A tyre size of any form: its geometry, or for an old form what is known of it.

    Raises:
        Mistake: it is no size, or no car has such a tyre.
    """
    return old_size(words) if is_old(words) else tyre_size(words)


def is_old(words: str) -> bool:
    """Whether it is a letter or numeric size, such as F70-14 or 6.95-14."""
    text = size_text(words)
    return bool(_LETTER.fullmatch(text) or _NUMERIC.fullmatch(text))


def old_size(words: str) -> Worked:
    """What a letter or numeric size says, with the usual modern substitute where one is on file.

    Raises:
        Mistake: it is of another form.
    """
    text = size_text(words)
    if found := _LETTER.fullmatch(text):
        name = f"{found['load']}{found['aspect']}-{found['rim']}"
        radial = bool(found["radial"]) or found["build"] == "R"
        steps: tuple[str, ...] = (
            f"{found['load']} is the load class, not the width: the same letter is wider on another rim.",
            f"{found['aspect']} is the aspect ratio in %, {found['rim']} the rim in inches.",
            "It is a radial." if radial else "No R is in the mark: it is not marked as a radial.",
        )
    elif found := _NUMERIC.fullmatch(text):
        name = f"{float(found['width']):.2f}-{found['rim']}"
        steps = (
            f"{found['width']} is the nominal width in inches, {found['rim']} the rim in inches; "
            "no aspect ratio is named.",
        )
    else:
        raise Mistake(
            f"{quoted(words)} is no old tyre size.",
            next_step="Write it as on the sidewall, for instance F70-14 or 6.95-14.",
        )
    return _answer(name, steps)


def _answer(name: str, steps: tuple[str, ...]) -> Worked:
    row = OLD_SIZES.get(name)
    if row is None:
        return Worked(
            rule="tyre-size",
            said=f"{name}: an old size; no usual modern substitute is on file.",
            values=(Value("size", name, name),),
            working=steps,
            source="form of the old size marks",
            known=Known.SECONDARY,
            cautions=("Measure the tyre: the mark alone gives no dimensions.",),
            approximate=True,
        )
    listed = []
    if row.diameter_in is not None:
        listed.append(Value("listed diameter", row.diameter_in, both(row.diameter_in, "in", 1, beside_places=0), "in"))
    if row.width_in is not None:
        listed.append(Value("listed width", row.width_in, both(row.width_in, "in", 1, beside_places=0), "in"))
    diameters = {modern: float(read_size(modern).diameter_mm) for modern in row.modern}
    return Worked(
        rule="tyre-size",
        said=f"{name}: common practice puts {either(row.modern)} in its place; approximate.",
        values=(Value("size", name, name), Value("usual substitute", row.modern, either(row.modern)), *listed),
        working=(*steps, *(f"{one}: diameter {both(mm, 'mm', 0)}." for one, mm in diameters.items())),
        source="a tyre retailer's size chart" if row.known is Known.SECONDARY else "common practice, from memory",
        known=row.known,
        cautions=(
            f"Old and modern dimensions differ by up to about half an inch ({HALF_AN_INCH_MM} mm); exact twins "
            "mostly do "
            "not exist.",
        ),
        approximate=True,
    )
