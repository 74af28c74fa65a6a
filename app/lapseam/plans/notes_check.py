"""What a notes file must hold together: evidence behind each basis, ticks on placed photos, nothing said twice."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from ..domain.car import Car
from ..domain.measure.as_read import reading_objection, unit_objection
from ..domain.plan import Plan, Tone
from ..domain.statement import Basis, CheckVerdict
from .problems import did_you_mean, one_of
from .reading import Row

Photos = Mapping[str, str]

_REMEDIES = {
    "photo": "name its photos; what no photo can show (smell, noise) is tested or told",
    "value": "add: value: …, with its unit",
    "unit": "write the value with its unit",
}
_A_UNIT = re.compile(r"[^\W\d_]|[%°\"']")


def check_notes(row: Row, car: Car, photos: Photos) -> None:
    """Note what is wrong between the rows of one notes file; names and single values are checked already."""
    _check_ticks(row, car, photos)
    for finding in row["findings"]:
        shown = (*finding["context"], *finding["close"])
        check_evidence(finding, car.plan, finding["basis"], shown, "context")
        _check_marks(finding, shown)
    for statement in row["statements"]:
        check_evidence(statement, car.plan, statement["basis"], statement["photos"], "photos")
    for check in row["checks"]:
        if check["result"] in (CheckVerdict.WORKS, CheckVerdict.DOES_NOT_WORK, CheckVerdict.INTERMITTENT):
            check_evidence(check, car.plan, Basis.TESTED, check["photos"], "result")
    for measurement in row["measurements"]:
        _check_units(measurement, car.plan)
    for waiver in row["waivers"]:
        rule = car.plan.vocabulary.signoff.get(waiver["rule"] or "")
        if rule is not None and not rule.liftable:
            waiver.wrong("rule", f"the rule {rule.id!r} may not be lifted", "put right what it asks for")
    _check_looked(row, car.plan)
    _check_once(row, photos)


def check_evidence(row: Row, plan: Plan, basis: str | None, photos: tuple[str, ...], at: str) -> None:
    """Note what the basis asks to be on file and the row lacks. Source: the vocabulary's bases.yaml."""
    word = plan.vocabulary.bases.get(basis or "")
    if word is None:
        return
    on_file = {
        "photo": bool(photos),
        "who": True,
        "date": True,
        "value": bool(row["value"] or row["extent"]),
        "unit": bool(_A_UNIT.search(str(row["value"] or row["extent"] or ""))),
        "place": bool(row["place"] or row["subject"]),
        "result": True,
        "words": True,
    }
    for need in word.needs:
        if on_file.get(need, bool(row[need])):
            continue
        key = "basis" if row.has("basis") else at if row.has(at) else need
        row.wrong(key, f"{word.id} needs {need.replace('_', ' ')}", _REMEDIES.get(need, f"add: {need}: …"))


def _check_ticks(row: Row, car: Car, photos: Photos) -> None:
    placed = {(placement.sha256, placement.shot) for placement in car.placements.values()}
    moved = {photos.get(one["photo"]) for one in row["placements"]}
    placed = {(sha256, shot) for sha256, shot in placed if sha256 not in moved}
    placed |= {(photos.get(one["photo"], ""), one["shot"]) for one in row["placements"] if one["shot"]}
    for tick in row["ticks"]:
        shot = car.plan.shot(tick["shot"] or "")
        if shot is None or tick["photo"] not in photos:
            continue
        if (photos[tick["photo"]], shot.id) not in placed:
            words = f"the photo {tick['photo']!r} is not placed on the shot {shot.id!r}"
            tick.wrong("photo", words, "place it there first, under 'placements'")
        known = {name: item.id for item in shot.must for name in (item.words, item.id)}
        for key in ("seen", "coated"):
            for item in tick[key]:
                if item not in known:
                    words = f"{item!r} is no must-see item of {shot.id!r}"
                    remedy = did_you_mean(item, known) or f"items: {one_of(one.words for one in shot.must)}"
                    tick.wrong(key, words, remedy)


def _check_marks(finding: Row, shown: tuple[str, ...]) -> None:
    for mark in finding["marks"]:
        if mark["photo"] and mark["photo"] not in shown:
            words = f"the photo {mark['photo']!r} is none of the finding's"
            mark.wrong("photo", words, "name it under 'context' or 'close' too")


def _check_units(measurement: Row, plan: Plan) -> None:
    asked = plan.vocabulary.measurements.get(measurement["measure"] or "")
    if asked is None:
        return
    for reading in measurement["readings"]:
        unit = reading["unit"]
        objection = unit_objection(unit, asked) if unit else ""
        if objection:
            reading.wrong("unit", *objection.split("; ", 1))
        elif unit and reading["value"] and (objection := reading_objection(reading["value"], unit)):
            reading.wrong("value", *objection.split("; ", 1))


def _check_looked(row: Row, plan: Plan) -> None:
    faults = {
        finding["component"]: finding["number"]
        for finding in row["findings"]
        if finding["kind"] in plan.vocabulary.findings and plan.vocabulary.findings[finding["kind"]].tone is Tone.FAULT
    }
    for looked in row["looked"]:
        if looked["component"] in faults:
            words = f"nothing to report on {looked['component']!r}, but finding {faults[looked['component']]} is on it"
            looked.wrong("component", words, "take one of them out")


def _check_once(row: Row, photos: Photos) -> None:
    def photo(one: Row) -> Any:
        return photos.get(one["photo"] or "")

    def waived(one: Row) -> Any:
        return next(((key, one[key]) for key in ("rule", "shot", "place", "component", "fact") if one[key]), None)

    once: tuple[tuple[str, str, Callable[[Row], Any]], ...] = (
        ("placements", "photo", photo),
        ("ticks", "photo", lambda one: (one["shot"], photo(one)) if photo(one) else None),
        ("closed", "shot", lambda one: one["shot"]),
        ("looked", "component", lambda one: one["component"]),
        ("findings", "number", lambda one: one["number"]),
        ("checks", "check", lambda one: one["check"]),
        ("measurements", "number", lambda one: one["number"]),
        ("statements", "number", lambda one: one["number"]),
        ("serials", "place", lambda one: one["place"]),
        ("waivers", "reason", waived),
        ("released", "photo", photo),
    )
    for section, key, same in once:
        _refuse_second(row[section], key, same)


def _refuse_second(rows: Iterable[Row], key: str, same: Callable[[Row], Any]) -> None:
    seen: dict[Any, int] = {}
    for one in rows:
        what = same(one)
        if what is None:
            continue
        if what in seen:
            one.wrong(key, f"the same stands already at line {seen[what]}", "keep one of the two")
        seen.setdefault(what, one.node.mark.line)
