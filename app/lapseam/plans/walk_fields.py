"""The field tables of the words a walk uses: facts, zones, rust-prone places, findings, checks, measurements, bases."""

from __future__ import annotations

from ..domain.plan import FactKind, Tone
from .fields import Field, One, Rows, Shape
from .kinds import Choice, Flag, ListOf, NewId, Number, Text, When, ref
from .reading import Row

LINE = Text(200)
NOTE = Text(empty=True)
COMPONENTS = ListOf(ref("components"))
CAUTIONS = ListOf(ref("cautions"))
SHOTS = ListOf(ref("shots"))
TESTERS = ("anyone", "driver", "mechanic", "specialist")
ZONE_GROUPS = ("outside", "inside", "engine", "under", "identity", "papers", "drive", "handover")
EVIDENCE = (
    "photo",
    "who",
    "date",
    "value",
    "unit",
    "place",
    "instrument",
    "result",
    "conditions",
    "document",
    "document_date",
    "issuer_kind",
    "who_said",
    "words",
    "reason",
)
"""What a basis may ask to be on file."""


def _values_where_chosen(row: Row) -> None:
    chosen = row["kind"] in (FactKind.CHOICE, FactKind.LIST)
    if chosen and not row["values"]:
        row.wrong("values", f"a fact of kind {row['kind']!r} needs its words", "add: values: [first, second]")
    if not chosen and row.has("values"):
        row.wrong("values", f"a fact of kind {row['kind']!r} has no list of words", "take 'values' out")


FACT = Shape(
    "fact",
    "one question about the car that conditions may use",
    {
        "id": Field(NewId("facts"), "the name used in conditions", required=True),
        "kind": Field(Choice.enum(FactKind), "what sort of answer it takes", required=True),
        "values": Field(ListOf(LINE, least=1), "its words, for choice and list", default=()),
        "also": Field(Choice(("claims",)), "the list whose ids are its words too"),
        "note": Field(NOTE, "what the question means", default=""),
    },
    rules=(_values_where_chosen,),
)

COMPONENT = Shape(
    "component",
    "a named part in a zone",
    {
        "id": Field(NewId("components"), "a short name, unique over all zones", required=True),
        "name": Field(LINE, "the name people read", required=True),
        "rust": Field(Flag(), "rust-prone: wants a context and a proof frame", default=False),
        "struct": Field(Flag(), "carries load", default=False),
        "when": Field(When(), "on which cars it is"),
    },
    renamed={"structural": "struct", "rust_prone": "rust"},
)

ZONE = Shape(
    "zone",
    "a part of the car that is walked and shown together",
    {
        "id": Field(NewId("zones"), "a short name, unique", required=True),
        "name": Field(LINE, "the name people read", required=True),
        "group": Field(Choice(ZONE_GROUPS), "the part of the walk it belongs to", required=True),
        "when": Field(When(), "on which cars it is; every zone but those a motorcycle has also leaves motorcycles out"),
        "components": Field(Rows(COMPONENT, least=1), "its parts", required=True),
    },
    renamed={"comps": "components"},
)

TYPE_TEST = Shape(
    "type_test",
    "a word for a construction, with its condition",
    {
        "id": Field(NewId("type_tests"), "the word used in `types`", required=True),
        "when": Field(When(), "which cars it means", required=True),
    },
)

RUST_PLACE = Shape(
    "rust_place",
    "a seam, drain or trap where this construction rusts",
    {
        "id": Field(NewId("rust_places"), "a short name, unique", required=True),
        "types": Field(ListOf(ref("type_tests"), least=1), "on which constructions", required=True),
        "comps": Field(ListOf(ref("components"), least=1), "the components it concerns", required=True),
        "where": Field(Text(), "where to look", required=True),
        "why": Field(Text(), "why it rusts there", required=True),
        "photo": Field(Text(), "how to photograph it", required=True),
        "good": Field(Text(), "what good looks like", required=True),
        "bad": Field(Text(), "what bad looks like", required=True),
        "disguise": Field(Text(), "how it is hidden", required=True),
        "shots": Field(SHOTS, "the shots that prove it; left out: the rust shots that share a component", default=()),
    },
    renamed={"components": "comps"},
)

EXTENT = Shape(
    "extent",
    "what is measured or counted of a finding",
    {
        "what": Field(LINE, "what to measure or count", required=True),
        "unit": Field(Text(60, empty=True), "in which unit", required=True),
    },
)

FINDING = Shape(
    "finding_kind",
    "one word of the findings vocabulary",
    {
        "id": Field(NewId("findings"), "a short name, unique", required=True),
        "group": Field(LINE, "the chapter it stands in", required=True),
        "tone": Field(Choice.enum(Tone), "whether it is a fault, neither, or good news", required=True),
        "name": Field(LINE, "the name people read", required=True),
        "def": Field(Text(), "what it means", required=True),
        "photo": Field(Text(), "which photo shows it", required=True),
        "extent": Field(One(EXTENT), "what is measured of it", required=True),
        "say": Field(Text(), "the sentence of the disclosure, with slots in braces", required=True),
    },
    renamed={"definition": "def"},
)

REASON = Shape(
    "reason",
    "a reason why a check was not done",
    {
        "id": Field(NewId("not_tested_reasons"), "a short name, unique", required=True),
        "name": Field(LINE, "the name people read", required=True),
        "note": Field(NOTE, "what follows from it", default=""),
    },
)

CHECK = Shape(
    "check",
    "a function to test",
    {
        "id": Field(NewId("checks"), "a short name, unique", required=True),
        "item": Field(LINE, "the name people read", required=True),
        "zone": Field(ref("zones"), "the zone it belongs to", required=True),
        "comps": Field(COMPONENTS, "the components it concerns", required=True),
        "how": Field(Text(), "how to test it", required=True),
        "who": Field(Choice(TESTERS), "who may test it", required=True),
        "caution": Field(CAUTIONS, "reminders where work can hurt someone", default=()),
        "when": Field(When(), "on which cars it is tested"),
    },
    renamed={"components": "comps", "cautions": "caution"},
)

MEASURE = Shape(
    "measure",
    "a reading to take",
    {
        "id": Field(NewId("measures"), "a short name, unique", required=True),
        "name": Field(LINE, "the name people read", required=True),
        "unit": Field(Text(20), "the unit it is kept in", required=True),
        "alt": Field(Text(60, empty=True), "the other usual unit, in words", default=""),
        "tool": Field(Text(), "the instrument", required=True),
        "method": Field(Text(), "how it is taken", required=True),
        "range": Field(Text(), "what is usual, in words", required=True),
        "round": Field(LINE, "to what it is rounded", required=True),
        "uncertainty": Field(LINE, "how uncertain it is, in words", required=True),
        "who": Field(Choice(TESTERS), "who may take it", required=True),
        "basis": Field(Text(), "the source of the method", required=True),
        "caution": Field(CAUTIONS, "reminders where work can hurt someone", default=()),
    },
    renamed={"rounding": "round", "source": "basis", "cautions": "caution", "other_unit": "alt"},
)

BASIS = Shape(
    "basis",
    "how a statement may be known",
    {
        "id": Field(NewId("bases"), "one of the six bases", required=True),
        "name": Field(LINE, "the name people read", required=True),
        "rank": Field(Number(0, 9, whole=True), "how strong it is, 0 the weakest", required=True),
        "needs": Field(ListOf(Choice(EVIDENCE), least=1), "what must be on file", required=True),
        "def": Field(Text(), "what it means", required=True),
        "phrase": Field(LINE, "how it is printed, with slots in braces", required=True),
        "proves": Field(LINE, "what it proves", required=True),
        "proves_not": Field(LINE, "what it does not prove", required=True),
    },
)

CAUTION = Shape(
    "caution",
    "a reminder where work can hurt someone",
    {
        "id": Field(NewId("cautions"), "a short name, unique", required=True),
        "name": Field(LINE, "the name people read", required=True),
        "text": Field(Text(), "the reminder", required=True),
    },
)
