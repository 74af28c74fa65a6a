"""Published schemas against jsonschema (draft 2020-12 of https://json-schema.org) and an ordinary YAML loader.

The files on disk are what the field tables say today, and the shipped files are valid by them for a stranger's tools.
"""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from lapseam.places import demo_assets, shot_plans
from lapseam.plans import reference, schemas
from lapseam.plans.plan_fields import SHOT

SHIPPED = {
    "plan.schema.json": sorted(shot_plans().glob("*.yaml")),
    "shared/shared.schema.json": sorted((shot_plans() / "shared").glob("*.yaml")),
    "vocabulary/vocabulary.schema.json": sorted((shot_plans() / "vocabulary").glob("*.yaml")),
    "car.schema.json": [demo_assets() / "facts.yaml"],
}
PAIRS = [(name, path) for name, paths in SHIPPED.items() for path in paths]


def loaded(path: Path) -> Any:
    """The file as JSON values, by ruamel's own loader; a date becomes its ISO text, as JSON has none."""
    return json.loads(json.dumps(YAML(typ="safe").load(path), default=str))


@pytest.mark.parametrize("name", sorted(schemas()))
def test_the_schema_on_disk_is_what_the_field_tables_say(name: str) -> None:
    on_disk = json.loads((shot_plans() / name).read_text(encoding="utf-8"))
    assert on_disk == schemas()[name], "plans.schema.write_schemas(places.shot_plans()) brings them up to date"
    Draft202012Validator.check_schema(on_disk)


@pytest.mark.parametrize(("name", "path"), PAIRS, ids=lambda value: Path(value).name)
def test_a_strangers_validator_accepts_the_shipped_files(name: str, path: Path) -> None:
    errors = [error.message[:200] for error in Draft202012Validator(schemas()[name]).iter_errors(loaded(path))]
    assert errors == []


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("need", "requird"),
        ("count", 0),
        ("count", "1"),
        ("must", []),
        ("lihgt", "Even"),
        ("id", "No Id"),
        ("rust", "yes"),
    ],
)
def test_a_strangers_validator_refuses_what_the_reading_refuses(key: str, value: Any) -> None:
    plan = loaded(shot_plans() / "hardtop-full.yaml")
    broken = copy.deepcopy(plan)
    broken["shots"][0][key] = value
    assert not Draft202012Validator(schemas()["plan.schema.json"]).is_valid(broken)


def test_every_key_of_a_shot_is_in_the_reference() -> None:
    text = reference()
    assert all(f"| `{key}` |" in text for key in SHOT.fields)
    assert text.count("### `") > 30
