"""The field tables of the words that proof and publishing use: sign-off, gallery, needs, papers, callers, outlets."""

from __future__ import annotations

from ..domain.plan import Effect
from ..domain.statement import Basis
from .fields import Field, Shape
from .kinds import Choice, Flag, ListOf, NewId, Number, Ref, Span, Text, ref
from .reading import Row
from .walk_fields import COMPONENTS, LINE, NOTE, SHOTS


def needed_or_forbidden(row: Row) -> None:
    """A claim names its evidence, or that none would do."""
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
        "groups": Field(ListOf(Text(60)), "groups of findings that answer it", default=()),
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
