"""record.json: a car's whole private record in one open, versioned shape, written from the rows as they stand."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Final, cast

from pydantic import TypeAdapter, ValidationError

from lapseam.domain.call import Asked, Call
from lapseam.domain.decision import (
    KINDS,
    Arranged,
    Caption,
    CarDetails,
    Closing,
    Decision,
    FactAnswer,
    Lead,
    Looked,
    Placement,
    Release,
    Signoff,
    Tick,
    Waiver,
)
from lapseam.domain.errors import WorkspaceBroken, WorkspaceNewer
from lapseam.domain.finding import Finding
from lapseam.domain.jotting import Jotting
from lapseam.domain.photo import Photo
from lapseam.domain.posting import OutletWishes, Posting
from lapseam.domain.statement import CheckResult, Measurement, SerialReading, Statement

from .codec import Json, adapter, canonical

SCHEMA: Final = 1
"""The version of record.json that this program writes; a file with a higher one is left alone."""


@dataclass(frozen=True, slots=True)
class EditionRow:
    """One published edition as the book keeps it.

    `number` counts from 1 for each car; `folder` is its name under the car's editions/; `revision` is the journal step
    it was made from; `record_sha256` what was signed or would have been; `manifest_sha256` the digest of its list of
    checksums; `signed_by` is "" for an edition that says UNSIGNED; `note` is free words.
    """

    number: int
    at: datetime
    by: str
    revision: int
    folder: str
    record_sha256: str = ""
    manifest_sha256: str = ""
    signed_by: str = ""
    photos: int = 0
    note: str = ""


@dataclass(frozen=True, slots=True)
class PlanCopy:
    """Which plan the car is walked by. `sha256` names the plan as it was read; `copy_sha256` the bytes of plan.json."""

    id: str
    sha256: str
    copy_sha256: str


@dataclass(frozen=True, slots=True)
class Decisions:
    """All decisions by kind: numbered ones by number, others by key."""

    details: tuple[CarDetails, ...] = ()
    fact: tuple[FactAnswer, ...] = ()
    placement: tuple[Placement, ...] = ()
    tick: tuple[Tick, ...] = ()
    closing: tuple[Closing, ...] = ()
    looked: tuple[Looked, ...] = ()
    finding: tuple[Finding, ...] = ()
    check: tuple[CheckResult, ...] = ()
    measurement: tuple[Measurement, ...] = ()
    statement: tuple[Statement, ...] = ()
    serial: tuple[SerialReading, ...] = ()
    waiver: tuple[Waiver, ...] = ()
    release: tuple[Release, ...] = ()
    lead: tuple[Lead, ...] = ()
    caption: tuple[Caption, ...] = ()
    arranged: tuple[Arranged, ...] = ()
    signoff: tuple[Signoff, ...] = ()
    asked: tuple[Asked, ...] = ()
    call: tuple[Call, ...] = ()
    jotting: tuple[Jotting, ...] = ()
    wishes: tuple[OutletWishes, ...] = ()
    posting: tuple[Posting, ...] = ()

    def all(self) -> tuple[Decision, ...]:
        """Every decision in the order of kinds."""
        return tuple(decision for kind in KINDS for decision in getattr(self, kind))


@dataclass(frozen=True, slots=True)
class RecordFile:
    """A car's whole record as record.json holds it.

    `revision` is the number of the last journal step in it and `journal_sha256` that step's digest; `numbers` are the
    last numbers given out for each numbered kind, so that none is given out twice. Photos stand in the order in which
    they came in.
    """

    schema: int
    stock: str
    made_at: datetime
    changed_at: datetime
    revision: int
    journal_sha256: str
    plan: PlanCopy
    numbers: Mapping[str, int]
    photos: tuple[Photo, ...]
    decisions: Decisions
    editions: tuple[EditionRow, ...]


@dataclass(frozen=True, slots=True)
class RecordRows:
    """The rows that a record is written from; photos, decisions and editions as canonical JSON text."""

    head: Json
    photos: Sequence[str]
    decisions: Iterable[tuple[str, str]]
    editions: Sequence[str]


def record_text(rows: RecordRows) -> str:
    """record.json of these rows: one photo, decision or edition a line, so that two versions compare well."""
    by_kind: dict[str, list[str]] = {kind: [] for kind in KINDS}
    for kind, content in rows.decisions:
        by_kind[kind].append(content)
    head = [f'"{name}": {canonical(value)}' for name, value in rows.head.items()]
    decisions = ",\n".join(f'"{kind}": {_lines(texts)}' for kind, texts in by_kind.items())
    parts = [
        *head,
        f'"photos": {_lines(rows.photos)}',
        f'"decisions": {{\n{decisions}\n}}',
        f'"editions": {_lines(rows.editions)}',
    ]
    return "{\n" + ",\n".join(parts) + "\n}\n"


def _lines(texts: Sequence[str]) -> str:
    return "[\n" + ",\n".join(texts) + "\n]" if texts else "[]"


def read_record(path: Path) -> RecordFile:
    """Read a record.json.

    Raises:
        WorkspaceNewer: it has a higher version than this program knows. WorkspaceBroken: it is no record.
        FileNotFoundError: there is none.
    """
    content = path.read_bytes()
    try:
        value = json.loads(content)
        schema = value["schema"]
    except (ValueError, KeyError, TypeError) as error:
        raise WorkspaceBroken(f"{path} is no car's record.", detail=str(error)) from error
    if isinstance(schema, int) and schema > SCHEMA:
        raise WorkspaceNewer(
            f"{path} was written by a newer lapseam (version {schema} of the record, known here: {SCHEMA}).",
            effect="It was left as it is.",
        )
    try:
        return cast(RecordFile, adapter(RecordFile).validate_json(content))
    except ValidationError as error:
        raise WorkspaceBroken(f"{path} is no car's record.", detail=str(error)) from error


def record_schema() -> dict[str, Any]:
    """The JSON Schema (2020-12) of record.json, as published in shot_plans/record.schema.json."""
    schema = TypeAdapter(RecordFile).json_schema(mode="serialization")
    schema["properties"]["schema"] = {"const": SCHEMA, "description": "The version of this shape."}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:lapseam:record:{SCHEMA}",
        "title": "A car's record in lapseam",
        **{name: value for name, value in schema.items() if name != "title"},
    }


def record_schema_text() -> str:
    """The text of shot_plans/record.schema.json."""
    return json.dumps(record_schema(), indent=1, ensure_ascii=False) + "\n"
