"""record.json: its schema is published and current, and what is written keeps to it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from fakes.record import BY, every_kind, moment, photo, plan
from lapseam.domain.decision import KINDS
from lapseam.domain.errors import WorkspaceBroken, WorkspaceNewer
from lapseam.places import shot_plans
from lapseam.storage import EditionRow, Workspace, plan_text, read_record, record_schema, record_schema_text

REMEDY = (
    "write it anew: python -c 'from lapseam.storage import record_schema_text as t; print(t(), end=\"\")' "
    "> shot_plans/record.schema.json"
)


@pytest.fixture
def record(tmp_path: Path) -> Path:
    with Workspace.open(tmp_path / "yard", create=True) as workspace:
        book = workspace.book
        book.new_car("T-114", plan_text(plan()), "0" * 64, "tiny", by=BY, at=moment())
        book.add_photos("T-114", [photo(2), photo(1)], by=BY, at=moment(1))
        book.apply("T-114", verb="all", words="", by=BY, at=moment(2), put=every_kind(moment(2)))
        book.add_edition("T-114", EditionRow(1, moment(3), BY, 3, "edition-1"))
        return workspace.car_folder("T-114") / "record.json"


def test_the_published_schema_is_current() -> None:
    assert (shot_plans() / "record.schema.json").read_text("utf-8") == record_schema_text(), REMEDY


def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(record_schema())
    assert set(record_schema()["$defs"]["Decisions"]["properties"]) == set(KINDS)


def test_a_written_record_keeps_to_the_schema(record: Path) -> None:
    value = json.loads(record.read_text("utf-8"))
    jsonschema.Draft202012Validator(record_schema()).validate(value)
    assert all(value["decisions"][kind] for kind in KINDS)
    numbered = ("finding", "measurement", "statement", "asked", "call", "jotting", "posting")
    assert value["numbers"] == dict.fromkeys(numbered, 1)
    assert value["revision"] == 4


def _at(value: Any, *path: str | int) -> tuple[Any, str | int]:
    for step in path[:-1]:
        value = value[step]
    return value, path[-1]


@pytest.mark.parametrize(
    "path",
    [
        ("schema",),
        ("stock",),
        ("plan", "sha256"),
        ("photos", 0, "sha256"),
        ("decisions", "finding", 0, "severity"),
        ("decisions", "tick", 0, "at"),
        ("editions", 0, "number"),
    ],
)
def test_a_record_that_lacks_something_or_has_nonsense_is_refused(record: Path, path: tuple[str | int, ...]) -> None:
    validator = jsonschema.Draft202012Validator(record_schema())
    for spoil in ("lacks", "nonsense"):
        value = json.loads(record.read_text("utf-8"))
        holder, name = _at(value, *path)
        if spoil == "lacks":
            del holder[name]
        else:
            holder[name] = {"non": "sense"}
        assert not validator.is_valid(value), spoil
        record.with_name("spoilt.json").write_text(json.dumps(value))
        with pytest.raises(WorkspaceBroken):
            read_record(record.with_name("spoilt.json"))


def test_a_record_reads_back_as_it_was_given(record: Path) -> None:
    read = read_record(record)
    assert set(read.decisions.all()) == set(every_kind(moment(2)))
    assert read.photos == (photo(2), photo(1))
    assert read.editions == (EditionRow(1, moment(3), BY, 3, "edition-1"),)
    assert (read.stock, read.made_at, read.changed_at) == ("T-114", moment(), moment(3))


def test_a_newer_record_is_said_to_be_newer(record: Path) -> None:
    record.write_text('{"schema": 2, "all": "different"}')
    with pytest.raises(WorkspaceNewer):
        read_record(record)


def test_each_photo_and_decision_stands_on_a_line_of_its_own(record: Path) -> None:
    lines = record.read_text("utf-8").splitlines()
    assert sum(1 for line in lines if '"sha256":"' + photo(2).sha256 in line and '"pixels"' in line) == 1
    assert sum(1 for line in lines if '"claim":"The engine turns over."' in line) == 1
