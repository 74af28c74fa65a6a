"""The field tables of a notes file: what was placed, seen, found, tested, measured, said and waived, one row each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from ..domain.decision import Closed, Slot, Verdict
from ..domain.finding import FindingState, PartOrigin, PartWork, Severity
from ..domain.statement import Basis, CheckVerdict, SerialPlace
from .answers import Answers
from .car_file import ROLES
from .fields import Field, Rows, Rule, Shape
from .kinds import Choice, Day, Defs, Kind, ListOf, Number, Text, ref
from .nodes import Items, Node
from .reading import Row, Spot

LINE = Text(200)
WORD = Text(200, empty=True)
FREE = Text(empty=True)
LOOSE = Text(200, empty=True, loose=True)
TESTER = Choice(tuple(dict.fromkeys((*ROLES, "driver", "specialist"))))
OWN_CHECK = "own-"


@dataclass(frozen=True, slots=True)
class PhotoName(Kind):
    """A photo of the car: its name as it was found, or eight or more digits of its SHA-256."""

    def read(self, node: Node, spot: Spot) -> str | None:
        found = self.scalar(node, spot)
        if found is None:
            return None
        spot.reading.photos.append((found, spot.word))
        return found.text

    def words(self) -> str:
        return "a photo's name as found, or at least 8 digits of its SHA-256"

    def schema(self, defs: Defs) -> dict[str, Any]:
        return {"type": ["string", "number"]}


@dataclass(frozen=True, slots=True)
class CheckName(Kind):
    """A check of the vocabulary, or one of the house's own that begins with `own-`."""

    def read(self, node: Node, spot: Spot) -> str | None:
        found = self.scalar(node, spot)
        if found is None:
            return None
        if found.text.startswith(OWN_CHECK) and len(found.text) > len(OWN_CHECK):
            return found.text
        return ref("checks").read(node, spot)

    def words(self) -> str:
        return "the id of a check, or own-… with 'item'"

    def schema(self, defs: Defs) -> dict[str, Any]:
        return ref("checks").schema(defs)


@dataclass(frozen=True, slots=True)
class Shares(Kind):
    """So many numbers from 0 to 1: shares of the upright picture."""

    names: tuple[str, ...]

    def read(self, node: Node, spot: Spot) -> tuple[float, ...] | None:
        if not isinstance(node, Items) or len(node.items) != len(self.names):
            spot.wrong(node, f"wanted: {self.words()}", f"write it as [{', '.join(['0.2'] * len(self.names))}]")
            return None
        values = [Number(0, 1).read(item, spot) for item in node.items]
        shares = tuple(float(value) for value in values if value is not None)
        return shares if len(shares) == len(self.names) else None

    def words(self) -> str:
        return f"[{', '.join(self.names)}], each from 0 to 1 of the upright picture"

    def schema(self, defs: Defs) -> dict[str, Any]:
        many = len(self.names)
        return {"type": "array", "items": Number(0, 1).schema(defs), "minItems": many, "maxItems": many}


PHOTOS = ListOf(PhotoName())


def exactly_one(*keys: str) -> Rule:
    """A rule: one of the keys is given, and only one."""

    def look(row: Row) -> None:
        given = [key for key in keys if row.has(key)]
        if len(given) > 1:
            row.wrong(given[1], f"{given[1]!r} stands beside {given[0]!r}", "keep one of them")
        elif not given:
            row.wrong(keys[0], f"needs one of: {', '.join(keys)}", f"add: {keys[0]}: …")

    return look


def _slot_on_shot(row: Row) -> None:
    if row.has("slot") and not row.has("shot"):
        row.wrong("slot", "'slot' is only for a photo on a shot", "take it out")


def _something_ticked(row: Row) -> None:
    both = set(row["seen"]) & set(row["coated"])
    if not row["seen"] and not row["coated"]:
        row.wrong("seen", "nothing is ticked", "add: seen: [item, item]")
    if both:
        row.wrong("coated", f"{min(both)!r} is ticked as seen and as coated", "keep one of them")


def _reason_where_unreached(row: Row) -> None:
    if row["as"] == Closed.NOT_REACHABLE and not row["reason"]:
        row.wrong("as", "not-reachable needs its reason", "add: reason: …")
    if row["as"] == Closed.NOT_FITTED and row.has("reason"):
        row.wrong("reason", "a part that is not fitted needs no reason", "put words into 'note'")


def _box_inside(row: Row) -> None:
    box = row["box"]
    if box and (box[0] + box[2] > 1 or box[1] + box[3] > 1 or not box[2] or not box[3]):
        row.wrong("box", "the box has no size or reaches over the edge", "write [left, top, width, height]")


def _check_complete(row: Row) -> None:
    untested = row["result"] == CheckVerdict.NOT_TESTED
    if untested and not row["reason"]:
        row.wrong("result", "not-tested needs its reason", "add: reason: …")
    if not untested and row["reason"]:
        row.wrong("reason", "a reason is only for not-tested", "put words into 'note'")
    if str(row["check"]).startswith(OWN_CHECK) and not row["item"]:
        row.wrong("check", "a check of the house's own needs 'item' in words", "add: item: …")


def _state_reason(row: Row) -> None:
    if row["state"] != FindingState.OPEN and not row["state_reason"]:
        row.wrong("state", f"{row['state']} needs its reason", "add: state_reason: …")
    if row["state"] == FindingState.REPAIRED:
        if row["state_on"] is None:
            row.wrong("state", "repaired needs its day", "add: state_on: 2026-05-13")
        if not row["after"] and not row["no_photo"]:
            row.wrong("state", "repaired needs a photo of the place as it is now", "add: after: [PHOTO]")


BY = {"by": Field(LINE, "who, where it is not the person at the top")}
ON = {"on": Field(Day(), "the day of the look, test or saying, where it is not the day at the top")}
NUMBER = {"number": Field(Number(1, 9999, whole=True), "its number, unique among the car's", required=True)}
PROOF_OF = {
    "who_said": Field(WORD, "for told: the role of who said so, never a name", default=""),
    "document": Field(WORD, "for documented: which paper", default=""),
    "document_date": Field(LOOSE, "for documented: the date on it", default=""),
    "issuer_kind": Field(WORD, "for documented: what sort of issuer, never a name", default=""),
    "instrument": Field(WORD, "for measured: the instrument", default=""),
    "conditions": Field(FREE, "for tested: under which conditions", default=""),
    "reason": Field(WORD, "for not-checked: why", default=""),
}

PLACEMENT = Shape(
    "placement",
    "which shot a photo answers",
    {
        "photo": Field(PhotoName(), "the photo", required=True),
        "shot": Field(ref("shots"), "the shot it answers"),
        "extra": Field(ref("zones"), "the zone it shows beside the plan"),
        "aside": Field(LINE, "why it is set aside"),
        "slot": Field(Choice.enum(Slot), "which frame of a rust proof it is"),
        **BY,
    },
    rules=(exactly_one("shot", "extra", "aside"), _slot_on_shot),
)

TICK = Shape(
    "tick",
    "a person looked at a frame and saw must-see items",
    {
        "shot": Field(ref("shots"), "the shot", required=True),
        "photo": Field(PhotoName(), "the frame that was looked at", required=True),
        "seen": Field(ListOf(LINE), "items seen, in words or by id", default=()),
        "coated": Field(ListOf(LINE), "items whose metal is hidden by coating", default=()),
        **BY,
    },
    rules=(_something_ticked,),
)

CLOSING = Shape(
    "closing",
    "a shot closed without a frame",
    {
        "shot": Field(ref("shots"), "the shot", required=True),
        "as": Field(Choice.enum(Closed), "not reachable or not fitted", required=True),
        "reason": Field(ref("reach_reasons"), "why it could not be reached", default=""),
        "note": Field(FREE, "more words", default=""),
        **BY,
    },
    rules=(_reason_where_unreached,),
)

LOOKED = Shape(
    "looked",
    "somebody looked at a component and saw nothing to report",
    {
        "component": Field(ref("components"), "the component", required=True),
        "photos": Field(PHOTOS, "the frames that were looked at", default=()),
        **BY,
    },
)

MARK = Shape(
    "mark",
    "a place on a photo",
    {
        "photo": Field(PhotoName(), "the photo, one of the finding's", required=True),
        "box": Field(Shares(("left", "top", "width", "height")), "a box"),
        "point": Field(Shares(("left", "top")), "a point"),
    },
    rules=(exactly_one("box", "point"), _box_inside),
)

FINDING = Shape(
    "finding",
    "one observation",
    {
        **NUMBER,
        "component": Field(ref("components"), "the component", required=True),
        "kind": Field(ref("findings"), "the kind of finding", required=True),
        "place": Field(LINE, "where on the component", required=True),
        "extent": Field(LOOSE, "how large, with unit", default=""),
        "count": Field(Number(1, 9999, whole=True), "how many"),
        "detail": Field(FREE, "more of it, in words", default=""),
        "severity": Field(Choice.enum(Severity), "how bad", required=True),
        "basis": Field(Choice.enum(Basis), "how it is known", default=Basis.SEEN.value),
        "context": Field(PHOTOS, "frames that show where it is", default=()),
        "close": Field(PHOTOS, "frames that show it close", default=()),
        "marks": Field(Rows(MARK, name_by="photo"), "places on these photos", default=()),
        "origin": Field(Choice.enum(PartOrigin), "where the part came from", default=PartOrigin.UNKNOWN.value),
        "work": Field(Choice.enum(PartWork), "what was done to the part", default=PartWork.UNKNOWN.value),
        "state": Field(Choice.enum(FindingState), "open, repaired or corrected", default=FindingState.OPEN.value),
        "state_reason": Field(FREE, "why it is no longer open, and since when", default=""),
        "state_on": Field(Day(), "the day since which it is no longer open"),
        "after": Field(PHOTOS, "frames of the place after its repair", default=()),
        "no_photo": Field(FREE, "why no photo can show it (smell, noise)", default=""),
        "note": Field(FREE, "for the house only", default=""),
        **PROOF_OF,
        **ON,
        **BY,
    },
    rules=(_state_reason,),
)

CHECK = Shape(
    "check_result",
    "one function tested, or why it was not",
    {
        "check": Field(CheckName(), "the check", required=True),
        "item": Field(LINE, "what was tested, for a check of the house's own", default=""),
        "result": Field(Choice.enum(CheckVerdict), "what came of it", required=True),
        "reason": Field(ref("not_tested_reasons"), "why it was not tested", default=""),
        "role": Field(TESTER, "who tested, as published", default=""),
        "conditions": Field(FREE, "under which conditions", default=""),
        "note": Field(FREE, "more words", default=""),
        "photos": Field(PHOTOS, "photos of it", default=()),
        **ON,
        **BY,
    },
    renamed={"verdict": "result"},
    rules=(_check_complete,),
)

READING = Shape(
    "measured_value",
    "one value as read",
    {
        "place": Field(LINE, "where it was read", required=True),
        "value": Field(Text(60, loose=True), "the figures as read", required=True),
        "unit": Field(Text(20), "the unit", required=True),
    },
)

MEASUREMENT = Shape(
    "measurement",
    "readings of one kind at one component",
    {
        **NUMBER,
        "measure": Field(ref("measures"), "the measurement", required=True),
        "component": Field(ref("components"), "the component", required=True),
        "readings": Field(Rows(READING, least=1, name_by="place"), "the values", required=True),
        "instrument": Field(LINE, "the instrument", required=True),
        "uncertainty": Field(LOOSE, "how uncertain, with unit", default=""),
        "role": Field(TESTER, "who measured, as published", default=""),
        "note": Field(FREE, "more words", default=""),
        "photos": Field(PHOTOS, "photos of it", default=()),
        **ON,
        **BY,
    },
)

STATEMENT = Shape(
    "statement",
    "one sentence that will be published",
    {
        **NUMBER,
        "subject": Field(LINE, "a component, or what it is about in words", required=True),
        "claim": Field(Text(), "the sentence", required=True),
        "basis": Field(Choice.enum(Basis), "how it is known", required=True),
        "value": Field(LOOSE, "a value with its unit", default=""),
        "photos": Field(PHOTOS, "photos that show it", default=()),
        **PROOF_OF,
        **ON,
        **BY,
    },
)

SERIAL = Shape(
    "serial",
    "a serial exactly as it stands",
    {
        "place": Field(Choice.enum(SerialPlace), "on the car or on the paper", required=True),
        "text": Field(Text(60, loose=True), "the characters, never corrected", required=True),
        "photos": Field(PHOTOS, "photos of it", default=()),
        **BY,
    },
)

WAIVER = Shape(
    "waiver",
    "why a gap may stand",
    {
        "rule": Field(ref("signoff"), "a sign-off rule that may be lifted"),
        "shot": Field(ref("shots"), "a shot"),
        "place": Field(ref("rust_places"), "a rust-prone place"),
        "component": Field(ref("components"), "a component"),
        "fact": Field(ref("facts"), "a fact that stays unanswered"),
        "reason": Field(Text(), "why", required=True),
        **BY,
    },
    rules=(exactly_one("rule", "shot", "place", "component", "fact"),),
)

RELEASE = Shape(
    "release",
    "a person looked at a photo for what must be hidden",
    {
        "photo": Field(PhotoName(), "the photo", required=True),
        "verdict": Field(Choice.enum(Verdict), "show it, or hold it back", required=True),
        "words": Field(FREE, "what was seen", default=""),
        **BY,
    },
)

NOTES_FILE = Shape(
    "notes_file",
    "one car's notes: what people saw, tested and decided, to be taken over into its record",
    {
        "notes_for": Field(Text(40, loose=True), "the car's stock number", required=True),
        "by": Field(LINE, "who, unless a row says otherwise", required=True),
        "on": Field(Day(), "the day of looking and testing, unless a row says otherwise"),
        "facts": Field(Answers(), "answers to facts"),
        "placements": Field(Rows(PLACEMENT, name_by="photo"), "which shot each photo answers", default=()),
        "ticks": Field(Rows(TICK, name_by="shot"), "what was seen on accepted frames", default=()),
        "closed": Field(Rows(CLOSING, name_by="shot"), "shots that will have no frame", default=()),
        "looked": Field(Rows(LOOKED, name_by="component"), "components looked at, nothing to report", default=()),
        "findings": Field(Rows(FINDING, name_by="number"), "observations", default=()),
        "checks": Field(Rows(CHECK, name_by="check"), "functions tested", default=()),
        "measurements": Field(Rows(MEASUREMENT, name_by="number"), "readings", default=()),
        "statements": Field(Rows(STATEMENT, name_by="number"), "sentences that will be published", default=()),
        "serials": Field(Rows(SERIAL, name_by="place"), "serials as they stand", default=()),
        "waivers": Field(Rows(WAIVER), "gaps that may stand, and why", default=()),
        "released": Field(Rows(RELEASE, name_by="photo"), "photos looked at for what must be hidden", default=()),
        "lead": Field(PhotoName(), "the photo that opens the gallery"),
    },
    renamed={"stock": "notes_for", "measures": "measurements", "closings": "closed", "date": "on"},
)
