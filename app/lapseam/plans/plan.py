"""Shot plans: the field tables of a plan file, and reading one with its vocabulary."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from ..domain.plan import Camera, Media, MustSee, Need, Plan, PrivateSight, Setup, Shot
from .fields import Field, One, Rows, Shape
from .kinds import Choice, Flag, ListOf, NewId, Number, Span, Text, When, ref
from .nodes import read_nodes
from .reading import Reading, Row, Spot
from .vocabulary import WordLists, build, condition, raise_broken, read_lists, settle, with_shots

VOCABULARY = "vocabulary"
CAMERA_PLACES = ("outside", "doorway", "inside", "trunk", "bay", "lift", "well", "ladder", "table", "road")
CLOSE_SCALES = ("none", "card", "arrow", "both", "tape", "gauge")
WAYS = ("forward", "rearward", "up", "down", "left", "right", "inward", "outward")
LOOKS = (*WAYS, *(f"{way}-{turn}" for way in ("up", "down") for turn in WAYS if turn not in ("up", "down")))


def _bearing_or_spot(row: Row) -> None:
    if row.has("bearing") and row.has("spot"):
        row.wrong("spot", "'spot' stands beside 'bearing'", "keep the one that is easier to follow")
    if not row.has("bearing") and not row.has("spot"):
        row.wrong("at", "the camera needs 'bearing', or 'spot' with 'look'", "add: bearing: 320")
    if row.has("spot") != row.has("look"):
        missing = "look" if row.has("spot") else "spot"
        row.wrong("look" if row.has("look") else "spot", f"needs {missing!r} beside it", f"add {missing!r}")


def _condition_where_conditional(row: Row) -> None:
    if row["need"] == Need.CONDITIONAL and not row.has("when"):
        row.wrong("need", "a conditional shot needs its condition", "add 'when', or make it required or optional")


def _items_differ(row: Row) -> None:
    slugs = [slug(words) for words in row["must"] or ()]
    for words in row["must"] or ():
        if not slug(words):
            row.wrong("must", f"{words!r} has no letter to name it by", "write what must be visible")
        elif slugs.count(slug(words)) > 1:
            row.wrong("must", f"{words!r} cannot be told from another item of the list", "word one of them differently")
            return


CAM = Shape(
    "camera",
    "where the camera stands and which way it looks",
    {
        "at": Field(Choice(CAMERA_PLACES), "what kind of place the camera is in", required=True),
        "bearing": Field(Number(0, 359.9, unit="degrees"), "where it stands, clockwise from the nose, seen from above"),
        "spot": Field(Text(200), "where it is, in words, where a bearing says nothing", default=""),
        "look": Field(Choice(LOOKS), "which way the lens points, in the car's own terms", default=""),
        "dist": Field(Number(0.02, 50, unit="m"), "lens to the nearest part of the subject"),
        "h": Field(Number(0, 10, unit="m"), "lens above the ground the photographer stands on"),
        "lens": Field(Span(Number(8, 600, whole=True, unit="mm")), "focal length from and to, in full-frame terms"),
    },
    renamed={"distance": "dist", "height": "h", "place": "at"},
    rules=(_bearing_or_spot,),
)

CLOSE = Shape(
    "close",
    "the closest frame of the shot",
    {
        "dist": Field(Number(0.02, 10, unit="m"), "the closest distance"),
        "scale": Field(Choice(CLOSE_SCALES), "what gives size or direction in the frame", default="none"),
    },
    renamed={"distance": "dist"},
)

SETUP = Shape(
    "setup",
    "the car in one state; its shots are taken together",
    {
        "id": Field(NewId("setups"), "a short name, unique in the plan", required=True),
        "name": Field(Text(80), "the name people read", required=True),
        "minutes": Field(Number(1, 600, whole=True, unit="minutes"), "usual time for a practised pair", required=True),
    },
    renamed={"title": "name"},
)

HEAD = Shape(
    "plan",
    "what the plan is and for which cars",
    {
        "id": Field(Text(60), "the plan's short name; its file is called so", required=True),
        "title": Field(Text(80), "the name people read", required=True),
        "applies": Field(When(), "for which cars it is made"),
        "setups": Field(Rows(SETUP, least=1), "the setups, in shooting order", required=True),
    },
    renamed={"name": "title", "when": "applies"},
)

SHOT = Shape(
    "shot",
    "one view that the plan asks for",
    {
        "id": Field(NewId("shots"), "a short name, unique in the plan", required=True),
        "title": Field(Text(60), "the name people read, short enough for a phone", required=True),
        "setup": Field(ref("setups"), "the setup it is taken in", required=True),
        "zone": Field(ref("zones"), "the zone it shows", required=True),
        "comps": Field(ListOf(ref("components"), least=1), "the components it proves", required=True),
        "cam": Field(One(CAM), "where the camera stands and which way it looks", required=True),
        "frame": Field(Text(), "how to frame it", required=True),
        "light": Field(Text(), "how to light it", required=True),
        "must": Field(ListOf(Text(200), least=1), "what must be visible; a person ticks each", required=True),
        "count": Field(Number(1, 50, whole=True, unit="frames"), "least number of accepted frames", required=True),
        "need": Field(Choice.enum(Need), "whether it must be dealt with", required=True),
        "when": Field(When(), "on which cars; always there with conditional"),
        "rust": Field(Flag(), "a proof of a rust-prone place", default=False),
        "close": Field(One(CLOSE), "the closest frame"),
        "media": Field(Choice.enum(Media), "a still or a clip", default=Media.PHOTO.value),
        "caution": Field(ListOf(ref("cautions")), "reminders where work can hurt someone", default=()),
        "private": Field(
            ListOf(Choice.enum(PrivateSight)), "what must be looked at before a frame is published", default=()
        ),
    },
    renamed={
        "components": "comps",
        "camera": "cam",
        "framing": "frame",
        "label": "title",
        "name": "title",
        "must_see": "must",
        "frames": "count",
        "cautions": "caution",
        "condition": "when",
    },
    rules=(_condition_where_conditional, _items_differ),
)

PLAN_FILE = Shape(
    "plan_file",
    "a shot plan",
    {
        "plan": Field(One(HEAD), "the head", required=True),
        "shots": Field(Rows(SHOT, least=1), "the shots, in shooting order", required=True),
    },
)


@dataclass(frozen=True, slots=True)
class PlanRows:
    """A plan file and its vocabulary as rows with their places; `head` is None where the file is no plan."""

    head: Row | None
    shots: tuple[Row, ...]
    lists: WordLists


def load_plan(path: Path, vocabulary: Path | None = None) -> Plan:
    """Read and check a plan and the vocabulary it stands on (the folder `vocabulary` beside it, or the one given).

    Raises:
        PlanBroken: something is wrong in any of the files; `problems` names every place.
    """
    reading = Reading()
    rows = read_plan(path, vocabulary, reading)
    raise_broken(reading, path.name)
    return build_plan(rows)


def vocabulary_for(path: Path, otherwise: Path) -> Path:
    """The vocabulary folder beside a plan file, or `otherwise` (such as the one that ships) where there is none."""
    beside = path.parent / VOCABULARY
    return beside if beside.is_dir() else otherwise


def read_plan(path: Path, vocabulary: Path | None, reading: Reading) -> PlanRows:
    """Read the plan and its vocabulary into rows; problems are noted, nothing is raised."""
    node = read_nodes(path, reading.problems)
    row = PLAN_FILE.read(node, Spot(reading, "")) if node is not None else None
    lists = read_lists(vocabulary or path.parent / VOCABULARY, reading)
    reading.know("shots", {node.text for kinds, node, _ in reading.referred if "shots" in kinds})
    settle(reading, lists)
    return PlanRows(row["plan"] if row else None, (row["shots"] or ()) if row else (), lists)


def build_plan(rows: PlanRows) -> Plan:
    """The plan of rows that are known to be good."""
    head = rows.head
    if head is None:
        raise ValueError("a plan is built only after its reading found no error")
    shots = tuple(_shot(row) for row in rows.shots)
    proofs = {shot.id: (frozenset(shot.components), shot.rust) for shot in shots}
    return Plan(
        id=head["id"],
        title=head["title"],
        applies=condition(head["applies"]),
        setups=tuple(Setup(row["id"], row["name"], row["minutes"]) for row in head["setups"]),
        shots=shots,
        vocabulary=with_shots(build(rows.lists), proofs),
    )


def slug(words: str) -> str:
    """Words as an id: small letters and figures joined by hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", words.lower()).strip("-")


def _shot(row: Row) -> Shot:
    close = row["close"]
    return Shot(
        id=row["id"],
        title=row["title"],
        setup=row["setup"],
        zone=row["zone"],
        components=row["comps"],
        camera=_camera(row["cam"]),
        framing=row["frame"],
        light=row["light"],
        must=tuple(MustSee(slug(words), words) for words in row["must"]),
        count=row["count"],
        need=Need(row["need"]),
        rust=row["rust"],
        when=condition(row["when"]),
        close_m=_float(close["dist"]) if close else None,
        close_scale=close["scale"] if close else "none",
        media=Media(row["media"]),
        cautions=row["caution"],
        private=tuple(PrivateSight(sight) for sight in row["private"]),
    )


def _camera(row: Row) -> Camera:
    return Camera(
        at=row["at"],
        distance_m=_float(row["dist"]),
        height_m=_float(row["h"]),
        lens_mm=row["lens"],
        bearing_deg=_float(row["bearing"]),
        spot=row["spot"],
        look=row["look"],
    )


def _float(value: float | None) -> float | None:
    return None if value is None else float(value)
