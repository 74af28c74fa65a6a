"""The house's outlets: a file of its own with the places its listings go and the limits of each."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

from ..domain.selection import Outlet
from .fields import Field, Rows, Shape
from .kinds import Flag, Number, Text
from .nodes import read_nodes
from .problems import did_you_mean
from .reading import Reading, Row, Spot
from .vocabulary import raise_broken

_ASPECT: Final = re.compile(r"[1-9]\d?:[1-9]\d?")


def _aspect_is_a_ratio(row: Row) -> None:
    if row["aspect"] and not _ASPECT.fullmatch(row["aspect"]):
        row.wrong("aspect", f"{row['aspect']!r} is no ratio of width to height", 'write it like "4:3", in quotes')


OUTLET: Final = Shape(
    "outlet",
    "a place the listing goes, with its limits",
    {
        "name": Field(Text(60), "the name the house gives it", required=True),
        "photos": Field(Number(1, 1000, whole=True, unit="photos"), "the most photos it takes", required=True),
        "longest_px": Field(Number(200, 20000, whole=True, unit="pixels"), "the longest side", default=1600),
        "max_bytes": Field(Number(10_000, 1_000_000_000, whole=True, unit="bytes"), "the largest file", default=0),
        "aspect": Field(Text(5), "width to height, if it wants one: pictures are laid on white, not cut", default=""),
        "caption_chars": Field(Number(10, 100_000, whole=True), "characters of a caption", default=0),
        "text_chars": Field(Number(100, 1_000_000, whole=True), "characters of the text", default=0),
        "forbid_watermark": Field(Flag(), "nothing may be laid over a picture", default=True),
    },
    rules=(_aspect_is_a_ratio,),
)

HOUSE_OUTLETS: Final = Shape(
    "house outlets",
    "the house's outlets",
    {"outlets": Field(Rows(OUTLET, least=1, name_by="name"), "the places the listings go", required=True)},
)


def load_outlets(path: Path) -> tuple[Outlet, ...]:
    """The outlets of that file in its order; none if there is no such file.

    Raises:
        PlanBroken: something is wrong; `problems` names every place.
    """
    if not path.is_file():
        return ()
    reading = Reading()
    node = read_nodes(path, reading.problems)
    file = HOUSE_OUTLETS.read(node, Spot(reading, "")) if node is not None else None
    rows: tuple[Row, ...] = file["outlets"] if file is not None and file.has("outlets") else ()
    names: set[str] = set()
    for row in rows:
        name = str(row["name"]).casefold()
        if name in names:
            row.wrong("name", f"there is an outlet {row['name']!r} already", "give one of them another name")
        names.add(name)
    raise_broken(reading, path.name, next_step="Mend the lines named and ask again.")
    return tuple(Outlet(**row.values) for row in rows)


def near_outlet(name: str, outlets: tuple[Outlet, ...]) -> str:
    """The words that lead from a wrong name to a right one, or ""."""
    return did_you_mean(name, [one.name for one in outlets])
