"""The field tables of plan files: a whole plan, one made from another, and a part that several plans include."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from ..domain.plan import Media, Need, PrivateSight
from .fields import Field, One, Rows, Shape
from .kinds import Choice, Defs, Flag, Kind, ListOf, NewId, Number, Span, Text, When, ref, sort_of
from .nodes import Items, Node, Pairs
from .reading import Row, Spot

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


class Scope(StrEnum):
    """What a plan must show: the whole car, every rust-prone place, or only what it chose."""

    WHOLE = "whole"
    RUST = "rust"
    CHOSEN = "chosen"


def _overlays_need_base(row: Row) -> None:
    if row.has("overlays") and not row.has("base"):
        row.wrong("overlays", "'overlays' needs the plan that they are laid over", "add: base: hardtop-full")


def _needs_setups(row: Row) -> None:
    if not row.has("setups"):
        row.wrong(
            "setups", "needs 'setups': the setups, in shooting order", "wanted: a list, each the car in one state"
        )


HEAD = Shape(
    "plan",
    "what the plan is and for which cars",
    {
        "id": Field(Text(60), "the plan's short name; its file is called so", required=True),
        "title": Field(Text(80), "the name people read", required=True),
        "base": Field(Text(60), "the id of the plan it is made from", default=""),
        "overlays": Field(
            ListOf(Text(60)),
            "plans made from the same base whose differences are taken in too, in this order; the later wins",
            default=(),
        ),
        "applies": Field(When(), "for which cars it is made; left out: the base's"),
        "scope": Field(Choice.enum(Scope), "what it must show", default=Scope.WHOLE.value),
        "minutes": Field(Number(1, 1000, whole=True, unit="minutes"), "the whole walk's time, if it is promised"),
        "note": Field(Text(400), "what whoever picks this plan should know", default=""),
        "setups": Field(Rows(SETUP, least=1), "the setups, in shooting order; left out: the base's"),
    },
    renamed={"name": "title", "when": "applies", "from": "base", "overlay": "overlays"},
    rules=(_overlays_need_base, _needs_setups),
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


def _some_of(shape: Shape, name: str, words: str, **more: Field) -> Shape:
    """The shape with its own keys free to be left out, behind the keys of `more`."""
    free = {key: replace(field, required=False) for key, field in shape.fields.items()}
    return Shape(name, words, {**more, **{key: field for key, field in free.items() if key not in more}})


_AFTER = Field(ref("shots"), "the shot it follows in shooting order", required=True)
_FILE = Field(Text(120), "a file with shots, from the plan's own folder, such as shared/papers.yaml", required=True)
USED = _some_of(
    SHOT,
    "used_shot",
    "a shot of the base, with the keys that differ",
    use=Field(ref("shots"), "the shot of the base that is copied", required=True),
)
INCLUDED = _some_of(SHOT, "included_shots", "the shots of another file, with keys that all of them get", include=_FILE)
SHARED = _some_of(
    SHOT,
    "shared_shot",
    "one view; a key that differs between plans is left to the plan that includes it",
    id=SHOT.fields["id"],
)
CHANGED = _some_of(
    SHOT,
    "changed_shot",
    "a shot of the base, with the keys that differ",
    id=Field(ref("shots"), "the shot of the base that differs", required=True),
)


def _added(shape: Shape) -> Shape:
    return Shape(f"added_{shape.name}", f"{shape.words}, and its place", {"after": _AFTER, **shape.fields})


@dataclass(frozen=True, slots=True)
class Entries(Kind):
    """A list of mappings, each in one of several shapes. They are read later, when what they name is at hand."""

    shapes: tuple[Shape, ...]

    def read(self, node: Node, spot: Spot) -> tuple[Pairs, ...] | None:
        if not isinstance(node, Items):
            spot.wrong(node, f"a {sort_of(node)} stands here; wanted: {self.words()}", "begin each entry with '- '")
            return None
        if not node.items:
            spot.wrong(node, f"the list is empty; wanted: {self.words()}", "add at least one")
        for item in node.items:
            if not isinstance(item, Pairs):
                words = f"a {sort_of(item)} stands here; wanted: {self.shapes[0].words}"
                spot.wrong(item, words, "write 'key: value' lines")
        return tuple(item for item in node.items if isinstance(item, Pairs))

    def words(self) -> str:
        return f"a list, each {self.shapes[0].words}"

    def schema(self, defs: Defs) -> dict[str, Any]:
        return {"type": "array", "items": {"anyOf": [shape.schema(defs) for shape in self.shapes]}, "minItems": 1}


@dataclass(frozen=True, slots=True)
class Later(Kind):
    """One mapping of a shape that is read later, when what it is merged with is at hand."""

    shape: Shape

    def read(self, node: Node, spot: Spot) -> Pairs | None:
        if isinstance(node, Pairs):
            return node
        spot.wrong(node, f"a {sort_of(node)} stands here; wanted: {self.words()}", "write 'key: value' lines")
        return None

    def words(self) -> str:
        return self.shape.words

    def schema(self, defs: Defs) -> dict[str, Any]:
        return self.shape.schema(defs)


def _of_or_zones(row: Row) -> None:
    if not row["of"] and not row["zones"]:
        row.wrong("of", "needs 'of' or 'zones': which of the selected shots go there", "add: of: [s2-outside]")


INTO = Shape(
    "into",
    "a setup, and which of the selected shots go there; the first line that fits counts",
    {
        "setup": Field(Text(60), "the setup of this plan that they are taken in", required=True),
        "of": Field(ListOf(Text(60), least=1), "setups of the base whose shots go there", default=()),
        "zones": Field(ListOf(ref("zones"), least=1), "zones whose shots go there", default=()),
    },
    rules=(_of_or_zones,),
)

SELECT = Shape(
    "select",
    "which shots of the base are taken, in shooting order",
    {
        "rust": Field(Flag(), "take the shots whose 'rust' is so", required=True),
        "into": Field(Rows(INTO, least=1, name_by="setup"), "the setups that they go into", required=True),
    },
)

SHOTS = Entries((SHOT, USED, INCLUDED))
DROP = ListOf(Text(60), least=1)
CHANGE = Entries((CHANGED,))
ADD = Entries((_added(SHOT), _added(USED), _added(INCLUDED)))

PLAN_FILE = Shape(
    "plan_file",
    "a shot plan",
    {
        "plan": Field(Later(HEAD), "the head", required=True),
        "shots": Field(SHOTS, "the shots, in shooting order; on a base without 'select' only these are taken"),
        "select": Field(Later(SELECT), "which shots of the base are taken; 'shots' then come on top"),
        "drop": Field(DROP, "shots of the base that this plan does without"),
        "change": Field(CHANGE, "shots of the base that differ here, with the keys that differ"),
        "add": Field(ADD, "shots that the base does not have, each with its place"),
    },
)

SHARED_FILE = Shape(
    "shared_file",
    "shots that several plans include",
    {"shots": Field(Entries((SHARED, USED, INCLUDED)), "the shots, in shooting order", required=True)},
)


def slug(words: str) -> str:
    """Words as an id: small letters and figures joined by hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", words.lower()).strip("-")
