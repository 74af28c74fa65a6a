"""The field tables of the vocabulary's files: for each file its keys, for each list its rows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ..domain.plan import Effect, FactKind, Tone
from ..domain.statement import Basis
from .fields import Field, One, Rows, Shape
from .kinds import Choice, Defs, Flag, Kind, ListOf, NewId, Number, Ref, Span, Text, When, ref, sort_of
from .nodes import Node, Pairs
from .reading import Row, Spot

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


def _needed_or_forbidden(row: Row) -> None:
    if row["forbidden"] and row.has("needs"):
        row.wrong("needs", "a forbidden claim has no evidence that would allow it", "take 'needs' or 'forbidden' out")
    if not row["forbidden"] and not row["needs"]:
        row.wrong("needs", "a claim that is allowed names what it needs", "add 'needs', or: forbidden: true")


def _same_as_alone(row: Row) -> None:
    keys = [key for key in ("basis", "about", "what") if row.has(key)]
    if row.has("same_as") and keys:
        row.wrong("same_as", f"'same_as' stands beside {keys[0]!r}", "keep one of them")
    if not row.has("same_as") and len(keys) < 3:
        row.wrong("basis", "a need is either 'same_as', or 'basis', 'about' and 'what' together", "complete it")


@dataclass(frozen=True, slots=True)
class Lists(Kind):
    """A mapping whose every key names a list of words."""

    def read(self, node: Node, spot: Spot) -> Row | None:
        if not isinstance(node, Pairs):
            spot.wrong(
                node, f"a {sort_of(node)} stands here; wanted: {self.words()}", "write 'name: [word, word]' lines"
            )
            return None
        row = Row({}, {}, node, spot)
        for key, value in node.pairs:
            if key.text in row.given:
                spot.wrong(key.mark, f"the key {key.text!r} stands twice", "take one of them out")
                continue
            row.given[key.text] = value
            row.values[key.text] = ListOf(Text(60), least=1).read(value, spot.inside(key.text)) or ()
        return row

    def words(self) -> str:
        return "lists of words by name"

    def schema(self, defs: Defs) -> dict[str, Any]:
        return {"type": "object", "additionalProperties": ListOf(Text(60), least=1).schema(defs)}


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

SIGNOFF = Shape(
    "signoff_rule",
    "what stops the manager's signature or only warns",
    {
        "id": Field(NewId("signoff"), "a short name, unique", required=True),
        "effect": Field(Choice.enum(Effect), "whether it stops or warns", required=True),
        "rule": Field(Text(), "the rule in words", required=True),
        "liftable": Field(Flag(), "whether the manager may let it stand in writing", default=True),
    },
)

GROUP = Shape(
    "gallery_group",
    "one chapter of the published gallery",
    {
        "id": Field(NewId("gallery_groups"), "a short name, unique", required=True),
        "order": Field(Number(1, 99, whole=True), "its place in the gallery", required=True),
        "name": Field(LINE, "the heading", required=True),
        "holds": Field(Text(), "what stands in it", required=True),
    },
)

GALLERY_REF = Ref(("gallery_groups",), also=("not-published",))
ZONE_GALLERY = Shape(
    "zone_gallery",
    "the gallery chapter of a zone's frames",
    {
        "zone": Field(ref("zones"), "the zone", required=True),
        "group": Field(GALLERY_REF, "its chapter", required=True),
        "close": Field(GALLERY_REF, "the chapter of its shots taken from 0.6 m or nearer", required=True),
    },
)

NEED = Shape(
    "need",
    "one piece of evidence that a claim needs",
    {
        "basis": Field(ListOf(Choice.enum(Basis), least=1), "how it must be known"),
        "about": Field(ref("components", "measures", "checks", also=("all-checks",)), "what it must be known of"),
        "what": Field(Text(), "what must be shown"),
        "same_as": Field(ref("claims"), "the claim whose needs are needed here too"),
    },
    rules=(_same_as_alone,),
)

CLAIM = Shape(
    "claim",
    "a claim, what it needs, and what to say instead",
    {
        "id": Field(NewId("claims"), "a short name, unique", required=True),
        "claim": Field(LINE, "the claim in words", required=True),
        "needs": Field(Rows(NEED, least=1), "the evidence that allows it", default=()),
        "not_enough": Field(Text(), "what is often taken for proof and is none", default=""),
        "say_instead": Field(Text(), "the wording that is allowed without it", required=True),
        "forbidden": Field(Flag(), "never to be claimed", default=False),
    },
    rules=(_needed_or_forbidden,),
)

ORIGINALITY = Shape(
    "originality",
    "a word for where a part came from or what was done to it",
    {
        "id": Field(NewId("originality"), "a short name, unique", required=True),
        "axis": Field(Choice(("origin", "work")), "which of the two questions it answers", required=True),
        "name": Field(LINE, "the name people read", required=True),
        "def": Field(Text(), "what it means", required=True),
        "needs": Field(LINE, "what must be on file", required=True),
        "pitfall": Field(Text(), "where it goes wrong", required=True),
    },
)

DATE_RULE = Shape(
    "date_rule",
    "how far before the build date a part's own date may lie",
    {
        "id": Field(NewId("dates"), "a short name, unique", required=True),
        "part": Field(LINE, "the part", required=True),
        "normal": Field(Span(Number(0, 3650, whole=True, unit="days")), "least and most days before", required=True),
        "look_closer_to": Field(Number(0, 3650, whole=True, unit="days"), "upper end of a closer look", required=True),
        "note": Field(NOTE, "why it may be longer", default=""),
    },
)

TITLE_STATE = Shape(
    "title_state",
    "a brand or state of title papers",
    {
        "id": Field(NewId("titles"), "a short name, unique", required=True),
        "name": Field(LINE, "the name people read", required=True),
        "note": Field(NOTE, "what to watch", default=""),
    },
)

QUESTION = Shape(
    "question",
    "what callers ask, and what in the record answers it",
    {
        "id": Field(NewId("questions"), "a short name, unique", required=True),
        "q": Field(LINE, "the question", required=True),
        "comps": Field(COMPONENTS, "components that answer it", default=()),
        "measures": Field(ListOf(ref("measures")), "measurements that answer it", default=()),
        "checks": Field(ListOf(ref("checks", also=("all-checks",))), "checks that answer it", default=()),
        "facts": Field(ListOf(ref("facts")), "facts that answer it", default=()),
        "lists": Field(
            ListOf(Choice(("findings", "not-seen", "not-tested", "third-party-inspections"))),
            "whole lists that answer it",
            default=(),
        ),
        "answer": Field(Text(), "how to answer", required=True),
    },
)

WORST = ("worst-structural-finding", "worst-cosmetic-finding")
LIMIT_NUMBER = Number(1, 1000, whole=True, unit="photos")
LIMIT = Shape(
    "outlet_limit",
    "which photos an outlet with that limit gets; each limit adds to the one before",
    {
        "limit": Field(LIMIT_NUMBER, "the most photos the outlet takes", required=True),
        "fixed": Field(SHOTS, "shots that are always in", default=()),
        "identity": Field(SHOTS, "shots that prove identity", default=()),
        "add": Field(SHOTS, "shots that come in at this limit", default=()),
        "flaws": Field(Number(0, 1000, whole=True), "places kept for findings", required=True),
    },
)
SWAP = Shape(
    "swap",
    "conditional shots that come in for others, one for one",
    {
        "limit": Field(LIMIT_NUMBER, "at which limit", required=True),
        "comes_in": Field(SHOTS, "shots that come in where they apply", required=True),
        "gives_way": Field(SHOTS, "shots that go, in the same order", required=True),
    },
)
OVERFLOW = Shape(
    "overflow",
    "what goes when structural findings outnumber the places",
    {
        "gives_way": Field(SHOTS, "shots that go, in this order", required=True),
        "then": Field(Text(), "what follows when that is not enough", required=True),
    },
)
BELOW = Shape(
    "below_12",
    "the order of survival for outlets with fewer than twelve photos",
    {"order": Field(ListOf(Ref(("shots",), also=WORST), least=1), "dearest first", required=True)},
)


def _file(name: str, words: str, **lists: Field) -> tuple[str, Shape]:
    return name, Shape(name, words, lists)


def _rows(shape: Shape, words: str, name_by: str = "id") -> Field:
    return Field(Rows(shape, least=1, name_by=name_by), words, required=True)


FILES: Mapping[str, Shape] = dict(
    (
        _file("facts.yaml", "facts that conditions may ask", facts=_rows(FACT, "the facts")),
        _file(
            "zones.yaml",
            "zones and components",
            zones=_rows(ZONE, "the zones, in walking order"),
            skin_only_rust=Field(COMPONENTS, "rust-prone components that are skin and carry no load", default=()),
        ),
        _file(
            "rust_places.yaml",
            "rust-prone places",
            type_tests=_rows(TYPE_TEST, "the words for constructions"),
            rust_places=_rows(RUST_PLACE, "the places"),
        ),
        _file("findings.yaml", "kinds of finding", findings=_rows(FINDING, "the kinds")),
        _file(
            "checks.yaml",
            "functions to test",
            not_tested_reasons=_rows(REASON, "why one may stay untested"),
            checks=_rows(CHECK, "the functions"),
        ),
        _file("measurements.yaml", "readings to take", measures=_rows(MEASURE, "the readings")),
        _file("bases.yaml", "how a statement is known", evidence_basis=_rows(BASIS, "the six bases")),
        _file("claims.yaml", "claims", claims=_rows(CLAIM, "the claims")),
        _file("cautions.yaml", "reminders", cautions=_rows(CAUTION, "the reminders")),
        _file("signoff.yaml", "sign-off rules", signoff_rules=_rows(SIGNOFF, "the rules")),
        _file(
            "gallery.yaml",
            "the gallery's order",
            gallery_groups=_rows(GROUP, "the chapters"),
            zone_gallery=_rows(ZONE_GALLERY, "the chapter of each zone", "zone"),
        ),
        _file("words.yaml", "small word lists", word_lists=Field(Lists(), "lists of words by name", required=True)),
        _file("originality.yaml", "originality", originality=_rows(ORIGINALITY, "the words")),
        _file("dates.yaml", "date rules", date_rules=_rows(DATE_RULE, "the rules")),
        _file("titles.yaml", "title papers", title_states=_rows(TITLE_STATE, "the states")),
        _file("questions.yaml", "questions of callers", questions=_rows(QUESTION, "the questions")),
        _file(
            "outlets.yaml",
            "which photos survive an outlet's limit",
            outlet_limits=_rows(LIMIT, "the limits", "limit"),
            conditional_swaps=Field(Rows(SWAP, name_by="limit"), "exchanges", default=()),
            structural_overflow=Field(One(OVERFLOW), "when structural findings outnumber the places", required=True),
            below_12=Field(One(BELOW), "below twelve photos", required=True),
        ),
    )
)
"""Every file of a vocabulary folder, in reading order, with its shape."""
