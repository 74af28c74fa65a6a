"""JSON Schemas (draft 2020-12) of the files that people write, made from the field tables."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from .car_file import CAR_FILE
from .claim_fields import HOUSE_CLAIMS_FILE
from .fields import Shape
from .kinds import Defs
from .notes_fields import NOTES_FILE
from .outlet_file import HOUSE_OUTLETS
from .plan_fields import PLAN_FILE, SHARED_FILE
from .search_fields import HOUSE_SYNONYMS_FILE
from .word_files import FILES

DRAFT = "https://json-schema.org/draft/2020-12/schema"


def schemas() -> dict[str, dict[str, Any]]:
    """Every published schema by its path below the folder of the plans."""
    return {
        "plan.schema.json": _schema("A shot plan", PLAN_FILE),
        "shared/shared.schema.json": _schema("Shots that several plans include", SHARED_FILE),
        "notes.schema.json": _schema("Notes on one car", NOTES_FILE),
        "car.schema.json": _schema("What a house knows about a car when its walk begins", CAR_FILE),
        "outlets.schema.json": _schema("The places a house's listings go, with their limits", HOUSE_OUTLETS),
        "house-claims.schema.json": _schema("A house's own claims and wordings", HOUSE_CLAIMS_FILE),
        "house-synonyms.schema.json": _schema("A house's own words for searching", HOUSE_SYNONYMS_FILE),
        "vocabulary/vocabulary.schema.json": _vocabulary(),
    }


def text_of(schema: dict[str, Any]) -> str:
    """A schema as it stands on disk."""
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


def write_schemas(folder: Path) -> None:
    """Write every schema below that folder; for those who change a field table."""
    for name, schema in schemas().items():
        target = folder / name
        new = target.with_suffix(".new")
        new.write_text(text_of(schema), encoding="utf-8")
        new.replace(target)


def _schema(title: str, shape: Shape) -> dict[str, Any]:
    defs: Defs = {}
    return {"$schema": DRAFT, "title": title, **shape.schema(defs), "$defs": defs}


def _vocabulary() -> dict[str, Any]:
    defs: Defs = {}
    files = [{"title": name, **shape.schema(defs)} for name, shape in FILES.items()]
    return {"$schema": DRAFT, "title": "One file of a vocabulary folder", "anyOf": files, "$defs": defs}
