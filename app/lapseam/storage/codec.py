"""Decisions, photos, plans and journal steps as JSON, and back."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import datetime
from hashlib import sha256
from typing import Any, cast

from pydantic import TypeAdapter, ValidationError

from lapseam.domain.car import Car
from lapseam.domain.changes import Change, Entry
from lapseam.domain.decision import KIND_OF, KINDS, PROGRAM, Decision
from lapseam.domain.errors import Mistake, WorkspaceBroken
from lapseam.domain.photo import Photo
from lapseam.domain.plan import Plan

Json = dict[str, Any]


def canonical(value: Any) -> str:
    """The one JSON text of a value: keys sorted, no spaces, UTF-8. What is digested is always this.

    Raises:
        ValueError: a number that JSON does not know (not a number, infinite).
    """
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def digest(text: str) -> str:
    """SHA-256 of the text in UTF-8, in hexadecimal."""
    return sha256(text.encode()).hexdigest()


def json_of(text: str | None) -> Json | None:
    """The JSON value of a text, None for none."""
    return None if text is None else cast(Json, json.loads(text))


def adapter(shape: type) -> TypeAdapter[Any]:
    """The reader and writer for one shape, built when first needed."""
    if shape not in _ADAPTERS:
        _ADAPTERS[shape] = TypeAdapter(shape)
    return _ADAPTERS[shape]


_ADAPTERS: dict[type, TypeAdapter[Any]] = {}


def dumped(value: Any, *, defaults: bool = True) -> Json:
    """A domain value as JSON values; `defaults=False` leaves out what has its default."""
    return cast(Json, readable(adapter(type(value)).dump_python(value, mode="json", exclude_defaults=not defaults)))


def readable(value: Any) -> Any:
    """Replace what no text file can hold: half characters, from file names that are not in the system's encoding."""
    if isinstance(value, str):
        return value.encode("utf-8", "replace").decode() if not value.isascii() else value
    if isinstance(value, list):
        return [readable(one) for one in value]
    if isinstance(value, dict):
        return {readable(key): readable(one) for key, one in value.items()}
    return value


def key_of(decision: Decision) -> tuple[str, str]:
    """Kind and key: what names a decision within its car."""
    return KIND_OF[type(decision)], str(readable(decision.key))


def decision_text(decision: Decision) -> str:
    """A decision as canonical JSON."""
    return canonical(dumped(decision))


def decision_from(kind: str, text: str) -> Decision:
    """The decision of that kind.

    Raises:
        WorkspaceBroken: the text does not fit the kind.
    """
    return cast(Decision, _loaded(KINDS[kind], text, kind))


def photo_text(photo: Photo) -> str:
    """A photo's readings as canonical JSON."""
    return canonical(dumped(photo))


def photo_from(text: str) -> Photo:
    """The photo with those readings.

    Raises:
        WorkspaceBroken: the text does not fit.
    """
    return cast(Photo, _loaded(Photo, text, "photo"))


def _loaded(shape: type, text: str, name: str) -> Any:
    try:
        return adapter(shape).validate_json(text)
    except ValidationError as error:
        raise WorkspaceBroken(f"A {name} in the record cannot be read.", detail=str(error)) from error


def plan_text(plan: Plan) -> str:
    """A whole plan with its vocabulary as canonical JSON: the copy that a car keeps."""
    return canonical(dumped(plan))


def plan_from(text: str) -> Plan:
    """The plan of such a copy.

    Raises:
        Mistake: the text is no plan.
    """
    try:
        return cast(Plan, adapter(Plan).validate_json(text))
    except ValidationError as error:
        raise Mistake("This is no copy of a shot plan.", detail=str(error)) from error


def change_json(change: Change) -> Json:
    """One change of a journal step as JSON values."""
    return {"kind": change.kind, "key": change.key, "before": change.before, "after": change.after}


def entry_json(entry: Entry) -> Json:
    """A journal step as JSON values, in the shape of a line of journal.jsonl."""
    return {
        "stock": entry.stock,
        "number": entry.number,
        "at": entry.at.isoformat(),
        "by": entry.by,
        "verb": entry.verb,
        "words": entry.words,
        "changes": [change_json(change) for change in entry.changes],
        "undoable": entry.undoable,
        "undoes": entry.undoes,
        "redoes": entry.redoes,
    }


def entry_from(value: Json) -> Entry:
    """The journal step of such a value.

    Raises:
        ValueError, KeyError, TypeError: the value has another shape.
    """
    fields = {name: value[name] for name in ("stock", "number", "by", "verb", "words", "undoable", "undoes", "redoes")}
    changes = tuple(Change(one["kind"], one["key"], one["before"], one["after"]) for one in value["changes"])
    return Entry(at=datetime.fromisoformat(value["at"]), changes=changes, **fields)


def record_sha256(car: Car) -> str:
    """What a signature signs: the digest of what the car's record says, without the signature, callers and outlets.

    Fields that stand at their default are left out, so that a later version of the program that knows more fields
    finds the same digest under the same record. The number of the last journal step is no part of it. Calls and the
    re-shoot list are never published, so a telephone that rings does not take a signature off; nor does it what an
    outlet is to show or showed, which says where the record went and not what it says.
    """
    unsigned = replace(car, signoff=None, asked=(), calls=(), wishes={}, postings=())
    decisions = sorted(
        ([*key_of(decision), dumped(decision, defaults=False)] for decision in unsigned.decisions()),
        key=lambda one: (one[0], one[1]),
    )
    return digest(
        canonical(
            {
                "stock": car.stock,
                "plan": dumped(car.plan, defaults=False),
                "photos": [dumped(photo, defaults=False) for photo in car.photos],
                "decisions": decisions,
            }
        )
    )


def same_word(before: str | None, after: str | None) -> bool:
    """Whether two decisions, as text, are one proposal of the program made twice: they differ in the moment only."""
    if before is None or after is None:
        return False
    old, new = json.loads(before), json.loads(after)
    return bool(old["by"] == new["by"] == PROGRAM and {**old, "at": ""} == {**new, "at": ""})
