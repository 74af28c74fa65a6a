"""The house's outlets: a file of its own with the places its listings go, the limits of each, and lists of photos."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from ..domain.selection_rules import MOTORCYCLE, NEVER_DROPPED, LimitList, Outlet, PhotoList, TextForm
from .fields import Field, Rows, Shape
from .kinds import Choice, Flag, ListOf, Number, Text
from .nodes import read_nodes
from .problems import did_you_mean, one_of
from .reading import Reading, Row, Spot
from .vocabulary import raise_broken

_ASPECT: Final = re.compile(r"[1-9]\d?:[1-9]\d?")


def _aspect_is_a_ratio(row: Row) -> None:
    if row["aspect"] and not _ASPECT.fullmatch(row["aspect"]):
        row.wrong("aspect", f"{row['aspect']!r} is no ratio of width to height", 'write it like "4:3", in quotes')


def _least_fits_most(row: Row) -> None:
    if row["min_px"] > row["longest_px"]:
        row.wrong(
            "min_px",
            f"no picture has at least {row['min_px']} and at most {row['longest_px']} pixels",
            "make min_px smaller or longest_px larger",
        )


OUTLET: Final = Shape(
    "outlet",
    "a place the listing goes, with its limits",
    {
        "name": Field(Text(60), "the name the house gives it", required=True),
        "photos": Field(Number(1, 1000, whole=True, unit="photos"), "the most photos it takes", required=True),
        "longest_px": Field(Number(200, 20000, whole=True, unit="pixels"), "the longest side", default=1600),
        "min_px": Field(Number(1, 20000, whole=True, unit="pixels"), "the least longest side it takes", default=0),
        "max_bytes": Field(
            Number(10_000, 1_000_000_000, whole=True, unit="bytes"), "the largest file, words inside it too", default=0
        ),
        "aspect": Field(Text(5), "width to height, if it wants one: pictures are laid on white, not cut", default=""),
        "caption_chars": Field(Number(10, 100_000, whole=True), "characters of a caption", default=0),
        "title_chars": Field(Number(10, 1_000, whole=True), "characters of the title", default=0),
        "teaser_chars": Field(Number(20, 10_000, whole=True), "characters of the teaser", default=0),
        "text_chars": Field(Number(100, 1_000_000, whole=True), "characters of the text", default=0),
        "form": Field(Choice.enum(TextForm), "how it takes the text", default=TextForm.PLAIN.value),
        "forbid_watermark": Field(Flag(), "nothing may be laid over a picture", default=True),
        "photo_list": Field(Text(60), "the name of one of photo_lists; the trade's own list without", default=""),
    },
    rules=(_aspect_is_a_ratio, _least_fits_most),
)

_SHOTS: Final = ListOf(Text(60))

_LIMIT: Final = Shape(
    "photo limit",
    "one limit of a photo list; each adds to the one before",
    {
        "limit": Field(Number(1, 1000, whole=True, unit="photos"), "from how many photos on", required=True),
        "shots": Field(_SHOTS, "shots that come in at this limit, dearest first", required=True),
        "flaws": Field(Number(0, 1000, whole=True), "places kept for findings, in all", required=True),
    },
)

_PHOTO_LIST: Final = Shape(
    "photo list",
    "a list of shots of the house's own that stands for the trade's",
    {
        "name": Field(Text(60), "the name that outlets give in photo_list", required=True),
        "limits": Field(Rows(_LIMIT, least=1, name_by="limit"), "its limits, rising", required=True),
        "gives_way": Field(_SHOTS, "shots that go first where structural findings need their places", default=()),
    },
)

HOUSE_OUTLETS: Final = Shape(
    "house outlets",
    "the house's outlets",
    {
        "outlets": Field(Rows(OUTLET, least=1, name_by="name"), "the places the listings go", required=True),
        "photo_lists": Field(Rows(_PHOTO_LIST, name_by="name"), "lists of shots of the house's own", default=()),
    },
)


@dataclass(frozen=True, slots=True)
class HouseOutlets:
    """The outlets in the file's order, and the house's own photo lists."""

    outlets: tuple[Outlet, ...] = ()
    photo_lists: tuple[PhotoList, ...] = ()

    def photo_list(self, outlet: Outlet) -> PhotoList | None:
        """The house's list for that outlet, None where the trade's stands."""
        return next((one for one in self.photo_lists if one.name == outlet.photo_list), None)


def load_house_outlets(path: Path) -> HouseOutlets:
    """What that file says; nothing if there is no such file.

    Raises:
        PlanBroken: something is wrong; `problems` names every place with its line, column and remedy.
    """
    if not path.is_file():
        return HouseOutlets()
    reading = Reading()
    node = read_nodes(path, reading.problems)
    file = HOUSE_OUTLETS.read(node, Spot(reading, "")) if node is not None else None
    outlets: tuple[Row, ...] = file["outlets"] if file is not None and file.has("outlets") else ()
    lists: tuple[Row, ...] = file["photo_lists"] if file is not None else ()
    for rows, what in ((outlets, "an outlet"), (lists, "a list")):
        _names_once(rows, what)
    named = [str(row["name"]) for row in lists if row["name"]]
    for row in outlets:
        if row["photo_list"] and row["photo_list"] not in named:
            remedy = did_you_mean(row["photo_list"], named) or (
                f"the lists here: {one_of(named)}" if named else "write it under photo_lists, or leave the key out"
            )
            row.wrong("photo_list", f"no list is called {row['photo_list']!r}", remedy)
    for row in lists:
        _holds_what_is_never_dropped(row)
    raise_broken(reading, path.name, next_step="Mend the lines named and ask again.")
    return HouseOutlets(
        tuple(Outlet(**{**row.values, "form": TextForm(row["form"])}) for row in outlets),
        tuple(_photo_list(row) for row in lists),
    )


def load_outlets(path: Path) -> tuple[Outlet, ...]:
    """The outlets alone; as `load_house_outlets`."""
    return load_house_outlets(path).outlets


def near_outlet(name: str, outlets: tuple[Outlet, ...]) -> str:
    """The words that lead from a wrong name to a right one, or ""."""
    return did_you_mean(name, [one.name for one in outlets])


def _names_once(rows: tuple[Row, ...], what: str) -> None:
    names: set[str] = set()
    for row in rows:
        name = str(row["name"]).casefold()
        if name in names:
            row.wrong("name", f"there is {what} {row['name']!r} already", "give one of them another name")
        names.add(name)


def _holds_what_is_never_dropped(row: Row) -> None:
    """Limits rise, hold no more than they take, and the smallest holds the shots that no limit may drop."""
    limits: tuple[Row, ...] = row["limits"] or ()
    if not limits or any(one["limit"] is None or one["shots"] is None or one["flaws"] is None for one in limits):
        return
    shots: list[str] = []
    before = 0
    for one in limits:
        shots += [shot for shot in one["shots"] if shot not in shots]
        if one["limit"] <= before:
            one.wrong("limit", f"{one['limit']} comes after {before}", "write the limits rising")
        if len(shots) + one["flaws"] > one["limit"]:
            one.wrong(
                "limit",
                f"{len(shots)} shots and {one['flaws']} places for findings do not fit {one['limit']} photos",
                "take some of them out",
            )
        before = one["limit"]
    lacking = [shot for shot in NEVER_DROPPED if not {shot, MOTORCYCLE.get(shot, shot)} & set(limits[0]["shots"])]
    if lacking:
        limits[0].wrong("shots", f"no limit may drop {one_of(lacking)}", "add what is named to the smallest limit")
    if limits[0]["flaws"] < _LEAST_FLAWS:
        limits[0].wrong("flaws", "the worst structural and the worst cosmetic finding are never dropped", "write 2")


_LEAST_FLAWS: Final = 2


def _photo_list(row: Row) -> PhotoList:
    limits = tuple(LimitList(one["limit"], one["shots"], one["flaws"]) for one in row["limits"])
    return PhotoList(row["name"], limits, row["gives_way"])
