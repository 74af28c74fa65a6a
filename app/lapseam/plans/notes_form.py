"""An empty notes table for one car: every part of its walk, every check and measurement asked, to be filled in."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from typing import Final

from ..domain.applicability import Applicability
from ..domain.car import Car

FORM_COLUMNS: Final = (
    *("what", "car", "zone", "name", "component", "check", "measure", "result", "reason", "conditions"),
    *("place", "value", "unit", "instrument", "kind", "extent", "severity", "context", "close", "photos"),
    *("basis", "who_said", "document", "document_date", "subject", "claim", "note", "on", "by"),
)
"""The columns of the form, in the order in which somebody with a clipboard fills them; a table may have more."""
_SPARE_ROWS: Final = 10
_WORKED_OUT: Final = ("=", "+", "-", "@")


def notes_form(car: Car, *, delimiter: str = ",") -> tuple[str, int]:
    """The table's text, and how many rows it offers. Rows that nobody fills in are passed over when it is read."""
    out = io.StringIO(newline="")
    rows = list(_rows(car))
    sheet = csv.DictWriter(out, FORM_COLUMNS, delimiter=delimiter, lineterminator="\r\n")
    sheet.writeheader()
    sheet.writerows({name: _safe(text) for name, text in row.items()} for row in rows)
    return out.getvalue(), len(rows)


def _rows(car: Car) -> Iterator[dict[str, str]]:
    words, applies = car.plan.vocabulary, Applicability(car)
    zones = {zone: one.name for zone, one in words.zones.items()}
    walked = dict.fromkeys(shot.zone for shot in car.plan.shots)
    for zone in walked:
        for part in words.components().values():
            if part.zone == zone and applies.component(part).holds is not False:
                yield {"car": car.stock, "zone": zones.get(zone, zone), "name": part.name, "component": part.id}
    for asked in words.checks.values():
        if applies.check(asked).holds is not False and asked.id not in car.checks:
            told = {"what": "check", "name": asked.item, "check": asked.id}
            yield {"car": car.stock, "zone": zones.get(asked.zone, ""), **told}
    taken = {one.measure for one in car.measurements}
    for measure in words.measurements.values():
        if measure.id not in taken:
            told = {"what": "measurement", "name": measure.name, "measure": measure.id, "unit": measure.unit}
            yield {"car": car.stock, **told}
    yield from ({"car": car.stock} for _row in range(_SPARE_ROWS))


def _safe(text: str) -> str:
    """An apostrophe before what a spreadsheet would work out; the reader takes it away again."""
    return f"'{text}" if text.startswith(_WORKED_OUT) else text
