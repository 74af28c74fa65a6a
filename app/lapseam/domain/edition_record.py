"""The published record, the JSON-LD, and what each published picture carries: data that leaves the house.

Roles stand for persons, the serial is masked where the house says so, and no name, camera serial or position is ever
read here. `format` and `version` name the shape of the record; a reader refuses a version it does not know.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from .edition_disclosure import shown_findings
from .edition_draft import Draft
from .edition_facts import masked
from .page import (
    CheckShown,
    Disclosure,
    FindingShown,
    Gallery,
    GapShown,
    MeasurementShown,
    PhotoRef,
    PictureShown,
    PublicRecord,
    PublishedPhoto,
    StatementShown,
)
from .photo import MediaKind, Photo
from .phrases import count, say
from .statement import SerialPlace

FORMAT: Final = "lapseam-public-record"
VERSION: Final = 1
_SCHEMA: Final = "https://schema.org"
_UNIT_CODES: Final = {"mi": "SMI", "km": "KMT"}
_STEERING: Final = {"left": "LeftHandDriving", "right": "RightHandDriving"}


def public_record(draft: Draft, gallery: Gallery, page: Disclosure) -> PublicRecord:
    """Everything the pages print, as data."""
    return PublicRecord(
        {
            "format": FORMAT,
            "version": VERSION,
            "language": gallery.language,
            "stock": draft.car.stock,
            "edition": draft.number,
            "made_at": draft.made_at.isoformat(),
            "revision": draft.car.revision,
            "plan": draft.car.plan.id,
            "house": draft.house.name,
            "signed": draft.signed is not None,
            "signed_words": page.signed_words,
            "signed_by_role": draft.roles.of(draft.signed.by, draft.signed.role) if draft.signed else "",
            "car": _car(draft),
            "headlines": list(page.headlines),
            "identity": [{"label": x.label, "words": x.words, "basis": x.basis} for x in page.identity.rows],
            "photos": [_photo(one) for one in gallery.pictures()],
            "findings": [_finding(one, gallery) for one in shown_findings(draft)],
            "checks": [_check(one) for one in page.checks.rows],
            "measurements": [_measurement(one) for one in page.measurements.rows],
            "statements": [_statement(one) for one in (*page.statements.rows, *page.told.rows)],
            "parts": [
                {"part": x.component, "origin": x.origin_words, "work": x.work_words, "sentence": x.sentence}
                for x in page.originality.rows
            ],
            "nothing_found": [{"part": x.label, "words": x.words} for x in page.nothing_found.rows],
            "not_seen": [_gap(one) for one in page.not_seen.rows],
            "not_tested": [_gap(one) for one in page.not_tested.rows],
            "withheld": [{"where": x.label, "words": x.words} for x in page.withheld.rows],
            "let_stand": [{"what": x.label, "words": x.words} for x in page.waivers.rows],
            "shots": [
                {"shot": c.shot, "zone": s.zone, "state": c.state.value, "waived": c.waived}
                for s in gallery.ribbon
                for c in s.cells
            ],
        }
    )


def _car(draft: Draft) -> dict[str, Any]:
    details, serials = draft.car.details, draft.car.serials
    reading = serials.get(SerialPlace.CAR.value)
    serial = reading.text if reading else details.serial if details else ""
    car: dict[str, Any] = {"serial": masked(serial) if draft.house.mask_serial else serial}
    car["serial_masked"] = draft.house.mask_serial and bool(serial)
    if details is not None:
        named = {"year": details.year, "make": details.make, "model": details.model, "trim": details.trim}
        named |= {"colour": details.colour, "interior": details.interior}
        car |= {key: value for key, value in named.items() if value}
        if details.odometer_reading is not None:
            car["odometer"] = {
                "reading": details.odometer_reading,
                "unit": details.odometer_unit,
                "digits": details.odometer_digits,
                "status": details.odometer_status or say("identity.odometer.claim"),
            }
    return car


def _photo(picture: PictureShown) -> dict[str, Any]:
    return {
        "number": picture.number,
        "original_sha256": picture.sha256,
        "media": picture.media.value,
        "shot": picture.shot,
        "zone": picture.zone,
        "slot": picture.slot.value if picture.slot else "",
        "caption": picture.caption,
        "alt": picture.alt,
        "taken": picture.taken_words,
        "findings": [finding.number for finding in picture.findings],
    }


def _finding(finding: FindingShown, gallery: Gallery) -> dict[str, Any]:
    marks = [
        {"photo": picture.number, "shape": m.shape.value, "x": m.x, "y": m.y, "width": m.width, "height": m.height}
        for picture in gallery.pictures()
        for m in picture.marks
        if m.finding == finding.number
    ]
    return {
        "number": finding.number,
        "kind": finding.kind,
        "tone": finding.tone.value,
        "severity": finding.severity.value,
        "zone": finding.zone,
        "part": finding.component,
        "place": finding.place,
        "extent": finding.extent,
        "sentence": finding.sentence,
        "basis": finding.basis.value,
        "photos": _numbers(finding.photos),
        "photo_note": finding.photo_note,
        "state": finding.state_words,
        "origin": finding.origin_words,
        "work": finding.work_words,
        "marks": marks,
    }


def _numbers(refs: tuple[PhotoRef, ...]) -> list[int]:
    return [ref.number for ref in refs]


def _check(check: CheckShown) -> dict[str, Any]:
    return {
        "check": check.check,
        "item": check.item,
        "verdict": check.verdict.value,
        "conditions": check.conditions,
        "note": check.note,
        "sentence": check.sentence,
        "photos": _numbers(check.photos),
    }


def _measurement(taken: MeasurementShown) -> dict[str, Any]:
    return {
        "measure": taken.measure,
        "part": taken.component,
        "readings": [{"place": r.place, "as_read": r.as_read, "converted": r.converted} for r in taken.readings],
        "instrument": taken.instrument,
        "uncertainty": taken.uncertainty,
        "sentence": taken.sentence,
        "photos": _numbers(taken.photos),
    }


def _statement(statement: StatementShown) -> dict[str, Any]:
    return {
        "number": statement.number,
        "subject": statement.subject,
        "sentence": statement.sentence,
        "basis": statement.basis.value,
        "photos": _numbers(statement.photos),
    }


def _gap(gap: GapShown) -> dict[str, Any]:
    return {
        "kind": gap.kind,
        "subject": gap.subject,
        "zone": gap.zone_name,
        "ids": list(gap.ids),
        "sentence": gap.sentence,
    }


def published_photos(draft: Draft, gallery: Gallery) -> tuple[PublishedPhoto, ...]:
    """What each published picture file carries, in gallery order; `taken_on` is an ISO day or ""."""
    by_camera = {photo.sha256 for photo in draft.car.photos if _by_camera(photo)}
    return tuple(
        PublishedPhoto(
            sha256=one.sha256,
            number=one.number,
            media=one.media,
            title=say("picture.title", title=gallery.title, number=one.number),
            caption=one.caption,
            alt=one.alt,
            taken_on=one.taken_on,
            marks=one.marks,
            captured=one.sha256 in by_camera,
        )
        for one in gallery.pictures()
    )


def _by_camera(photo: Photo) -> bool:
    """Whether the original itself says that a camera exposed it; scans and exported pictures do not."""
    camera = photo.camera
    return photo.media is MediaKind.STILL and bool(camera.make or camera.model) and camera.exposure_s is not None


def json_ld(draft: Draft, gallery: Gallery, page: Disclosure) -> dict[str, Any]:
    """schema.org Car (release 30.0), with terms that exist only. Publish adds `image` addresses and `subjectOf`.

    A pre-1981 serial has no fixed form and is no vehicle identification number in the sense of the later rules, so it
    stands as an additionalProperty. Findings go into knownVehicleDamages, which takes text only.
    """
    details = draft.car.details
    facts = draft.car.fact_values()
    gaps = count("count.gaps", len(page.not_seen.rows) + len(page.not_tested.rows))
    open_findings = [finding for group in page.findings.rows for finding in group.findings]
    about = say("jsonld.description", findings=count("count.findings", len(open_findings)), gaps=gaps)
    car: dict[str, Any] = {"@context": _SCHEMA, "@type": "Car", "name": draft.title, "sku": draft.car.stock}
    car["description"] = f"{gallery.flag} {about}".strip()
    damages = " ".join(finding.sentence for finding in open_findings if finding.tone.value == "fault")
    open_ones = say("jsonld.damages.gaps", gaps=gaps)
    car["knownVehicleDamages"] = f"{damages or say('jsonld.damages.none')} {open_ones}"
    car["itemCondition"] = f"{_SCHEMA}/UsedCondition"
    if details is not None:
        car |= _details(draft)
    if isinstance(doors := facts.get("doors"), int) and not isinstance(doors, bool):
        car["numberOfDoors"] = doors
    if isinstance(gearbox := facts.get("gearbox"), str):
        car["vehicleTransmission"] = gearbox
    if isinstance(body := facts.get("body"), str):
        car["bodyType"] = body
    if (side := facts.get("steering_side")) in _STEERING:
        car["steeringPosition"] = f"{_SCHEMA}/{_STEERING[str(side)]}"
    return car


def _details(draft: Draft) -> dict[str, Any]:
    details = draft.car.details
    if details is None:
        return {}
    car: dict[str, Any] = {}
    named: Mapping[str, str] = {
        "model": details.model,
        "vehicleConfiguration": details.trim,
        "color": details.colour,
        "vehicleInteriorType": details.interior,
        "vehicleModelDate": str(details.year or ""),
    }
    car |= {key: value for key, value in named.items() if value}
    if details.make:
        car["brand"] = {"@type": "Brand", "name": details.make}
    if details.odometer_reading is not None and details.odometer_unit in _UNIT_CODES:
        car["mileageFromOdometer"] = {
            "@type": "QuantitativeValue",
            "value": details.odometer_reading,
            "unitCode": _UNIT_CODES[details.odometer_unit],
            "description": details.odometer_status or say("identity.odometer.claim"),
        }
    car |= _serial(draft, details.year)
    return car


def _serial(draft: Draft, year: int | None) -> dict[str, Any]:
    serial = _car(draft)["serial"]
    if not serial:
        return {}
    if year is not None and year >= 1981 and len(serial) == 17 and not draft.house.mask_serial:
        return {"vehicleIdentificationNumber": serial}
    value = {"@type": "PropertyValue", "name": say("jsonld.serial"), "value": serial}
    return {"additionalProperty": [value]}
