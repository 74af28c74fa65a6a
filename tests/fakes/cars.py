"""Small invented cars, plans and photos for tests: builders with sensible defaults, every one overridable.

The tiny plan has two zones that can hold rust, one that hangs on a fact, and these shots:

- left-profile: required, one frame, nothing rust-prone
- left-rocker: required, rust-prone and structural, context and proof
- front-rails: required, rust-prone and structural, from below, two frames
- front-boxes: conditional on the fact torque_boxes, rust-prone, from below
- left-badge: optional
- vin-plate: required, shows a plate and a stamp
- roof-cloth: required in the zone `cloth`, which the car has only where vinyl_roof is answered true
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

from lapseam.domain.car import Car, House, Person, car_from
from lapseam.domain.condition import Condition, Value
from lapseam.domain.decision import (
    PROGRAM,
    Closed,
    Closing,
    Decision,
    FactAnswer,
    Looked,
    Placement,
    Release,
    Sight,
    Slot,
    Sureness,
    Target,
    Tick,
    Verdict,
    Waiver,
    WaiverOf,
)
from lapseam.domain.finding import Finding, Severity
from lapseam.domain.photo import CameraReadings, MediaKind, Photo, PixelReadings
from lapseam.domain.plan import (
    Camera,
    CheckAsked,
    Component,
    Effect,
    FactAsked,
    FactKind,
    FindingKind,
    MustSee,
    Need,
    Plan,
    PrivateSight,
    RustPlace,
    Setup,
    Shot,
    SignoffRule,
    Tone,
    Vocabulary,
    Zone,
)
from lapseam.domain.statement import Basis, Evidence, SerialPlace, SerialReading, Statement

DAY = date(2026, 5, 12)
NOON = datetime(2026, 5, 12, 12)
ANNA = "Anna Tern"
MIREK = "Mirek Osoba"
VERA = "Vera Lind"

BLOCKS = (
    *("so-missed-required", "so-rust-proof", "so-under-zone", "so-unknown-fact", "so-finding-photo"),
    *("so-structural-shown", "so-claim", "so-told", "so-not-seen-list", "so-identity", "so-privacy", "so-two-people"),
)
WARNINGS = (
    *("so-stale-photo", "so-stale-run", "so-many-unreached", "so-hides-metal", "so-no-time", "so-no-good-words"),
    "so-symmetry",
)


def house(**changes: Any) -> House:
    """A house of three: Anna photographs, Mirek lists, Vera manages."""
    people = (Person(ANNA, ("photographer",)), Person(MIREK, ("lister",)), Person(VERA, ("manager",)))
    return replace(House(name="Invented House", people=people), **changes)


def sha(name: str) -> str:
    """The digest that stands for a photo of that name."""
    return hashlib.sha256(name.encode()).hexdigest()


def pixels(**changes: Any) -> PixelReadings:
    """Readings of a sharp, well-lit frame."""
    return replace(PixelReadings(2000.0, 55.0, 100.0, 0.01, 0.0, "0" * 16), **changes)


def photo(name: str, *, minute: int = 0, taken_at: datetime | None = None, **changes: Any) -> Photo:
    """A still of 4000 x 3000 whose view is its own: the name decides hash and digest."""
    digest = sha(name)
    readings = changes.pop("pixels", None) or pixels(dhash=digest[:16])
    camera = CameraReadings(taken_at=taken_at or NOON + timedelta(minutes=minute), make="Example", model="One")
    made = Photo(digest, f"{name}.jpg", 1_000_000, MediaKind.STILL, "JPEG", 4000, 3000, camera, readings)
    return replace(made, **changes)


def shot(id: str, zone: str, components: Sequence[str], must: Sequence[str], **changes: Any) -> Shot:
    """A required shot of one frame from outside."""
    made = Shot(
        id=id,
        title=id.replace("-", " ").capitalize(),
        setup="s1-outside",
        zone=zone,
        components=tuple(components),
        camera=Camera(at="outside", distance_m=2.0, height_m=1.0, lens_mm=(50, 70), bearing_deg=270.0),
        framing="",
        light="",
        must=tuple(MustSee(words.replace(" ", "-"), words) for words in must),
        count=1,
        need=Need.REQUIRED,
    )
    return replace(made, **changes)


def shots() -> tuple[Shot, ...]:
    """The shots of the tiny plan."""
    under: dict[str, Any] = {"setup": "s2-lift", "rust": True, "close_m": 0.3}
    boxes = {"need": Need.CONDITIONAL, "when": Condition("torque_boxes")}
    private = (PrivateSight.PLATE, PrivateSight.STAMP)
    return (
        shot("left-profile", "left-side", ["left-doors", "left-rocker"], ["whole side"]),
        shot("left-rocker", "left-side", ["left-rocker"], ["lower edge", "drain holes"], rust=True, close_m=0.3),
        shot("front-rails", "under-front", ["front-rails"], ["left rail", "right rail"], count=2, **under),
        shot("front-boxes", "under-front", ["front-boxes"], ["box seams"], **under, **boxes),
        shot("left-badge", "left-side", ["left-trim"], ["badge"], need=Need.OPTIONAL),
        shot("vin-plate", "identity", ["vin-plate"], ["every character"], private=private),
        shot("roof-cloth", "cloth", ["roof-cloth"], ["seam of the cloth"]),
    )


def zones() -> dict[str, Zone]:
    """The zones of the tiny plan, with their components."""

    def zone(id: str, group: str, *parts: Component, when: str | None = None) -> Zone:
        name = id.replace("-", " ").capitalize()
        return Zone(id, name, group, parts, None if when is None else Condition(when))

    def part(id: str, zone: str, when: str | None = None, **flags: bool) -> Component:
        name = id.replace("-", " ").capitalize()
        return Component(id, name, zone, when=None if when is None else Condition(when), **flags)

    made = (
        zone(
            "left-side",
            "outside",
            part("left-rocker", "left-side", rust=True, struct=True),
            part("left-doors", "left-side"),
            part("left-trim", "left-side"),
        ),
        zone(
            "under-front",
            "under",
            part("front-rails", "under-front", rust=True, struct=True),
            part("front-boxes", "under-front", when="torque_boxes", rust=True, struct=True),
        ),
        zone("identity", "identity", part("vin-plate", "identity")),
        zone("cloth", "outside", part("roof-cloth", "cloth"), when="vinyl_roof"),
    )
    return {one.id: one for one in made}


def places() -> dict[str, RustPlace]:
    """A rocker seam on every steel car, and rails of a unibody that the front boxes belong to."""

    def place(id: str, parts: tuple[str, ...], where: str, when: str, *named: str) -> RustPlace:
        return RustPlace(id, parts, where, "", "", "", "", "", when=Condition(when), shots=named)

    made = (
        place("rp-rocker", ("left-rocker",), "Rocker: lower seam.", "skin == 'steel'", "left-rocker"),
        place(
            "rp-rails",
            ("front-rails", "front-boxes"),
            "Front rails: where they end.",
            "construction == 'unibody'",
            *("front-rails", "front-boxes"),
        ),
    )
    return {one.id: one for one in made}


def vocabulary(**changes: Any) -> Vocabulary:
    """The word lists of the tiny plan: facts, zones, places, two kinds of finding, one check, every sign-off rule."""
    flags = [FactAsked(id, FactKind.FLAG) for id in ("torque_boxes", "vinyl_roof")]
    choices = [
        FactAsked("skin", FactKind.CHOICE, ("steel", "composite", "aluminium")),
        FactAsked("construction", FactKind.CHOICE, ("unibody", "ladder-frame")),
    ]
    kinds = (
        FindingKind("rust-surface", "corrosion", Tone.FAULT, "Surface rust", "", "", "area", "mm x mm", ""),
        FindingKind("smell", "upholstery", Tone.FAULT, "Smell", "", "None.", "what of", "text", ""),
        FindingKind("seam-good", "good", Tone.GOOD, "Clean original seam", "", "", "length", "mm", ""),
    )
    rules = [SignoffRule(id, Effect.BLOCK, id) for id in BLOCKS] + [SignoffRule(id, Effect.WARN, id) for id in WARNINGS]
    made = Vocabulary(
        facts={fact.id: fact for fact in (*choices, *flags)},
        zones=zones(),
        rust_places=places(),
        findings={kind.id: kind for kind in kinds},
        checks={"chk-horn": CheckAsked("chk-horn", "Horn", "left-side", ("left-trim",), "", "anyone")},
        signoff={rule.id: rule for rule in rules},
        words={"not_reachable_reasons": ("no-lift", "no-time"), "skin_only_rust": ("left-rocker",)},
    )
    return replace(made, **changes)


def plan(**changes: Any) -> Plan:
    """The tiny plan."""
    setups = (Setup("s1-outside", "Outside", 30), Setup("s2-lift", "On the lift", 30))
    made = Plan("tiny", "A tiny plan", None, setups, shots(), vocabulary())
    return replace(made, **changes)


ANSWERED: dict[str, Value] = {
    "skin": "steel",
    "construction": "unibody",
    "torque_boxes": True,
    "vinyl_roof": False,
}
"""Every fact of the tiny plan, answered."""


def facts(**answers: Value) -> tuple[FactAnswer, ...]:
    """Answers of a person to facts."""
    return tuple(FactAnswer(fact, value, MIREK, NOON) for fact, value in answers.items())


def placed(shot: str, *names: str, slot: Slot | None = None, by: str = ANNA) -> tuple[Placement, ...]:
    """Photos put on a shot by a person; `by=PROGRAM` makes them proposals."""
    sure = Sureness.LIKELY if by == PROGRAM else Sureness.DECIDED
    return tuple(Placement(sha(name), Target.SHOT, by, NOON, sure, shot=shot, slot=slot) for name in names)


def ticked(shot: Shot, name: str, *items: str, sight: Sight = Sight.SEEN, by: str = MIREK) -> tuple[Tick, ...]:
    """Ticks of the shot's must-see items on one photo; all of them where none is named."""
    wanted = items or tuple(item.id for item in shot.must)
    return tuple(Tick(shot.id, item, sha(name), sight, by, NOON) for item in wanted)


def closed(shot: str, state: Closed = Closed.NOT_REACHABLE, reason: str = "no-lift", by: str = ANNA) -> Closing:
    """A shot closed by a person."""
    return Closing(shot, state, by, NOON, reason if state is Closed.NOT_REACHABLE else "")


def looked(component: str, *names: str) -> Looked:
    """Mirek looked at the component and saw nothing."""
    return Looked(component, MIREK, NOON, tuple(sha(name) for name in names))


def waived(of: WaiverOf, subject: str, by: str = VERA, reason: str = "sold as seen") -> Waiver:
    """A gap or rule that the manager lets stand."""
    return Waiver(of, subject, reason, by, NOON)


def released(name: str, verdict: Verdict = Verdict.SHOW) -> Release:
    """Mirek looked at the photo for what must be hidden."""
    return Release(sha(name), verdict, "nothing to hide", MIREK, NOON)


def finding(number: int, component: str, **changes: Any) -> Finding:
    """Surface rust that is fully recorded: place, extent, context and close frame."""
    made = Finding(
        number=number,
        component=component,
        kind="rust-surface",
        place="rear end, lower edge",
        severity=Severity.COSMETIC,
        evidence=Evidence(Basis.SEEN, (sha("context"), sha("close")), DAY),
        by=MIREK,
        at=NOON,
        extent="30 x 10 mm",
        context=(sha("context"),),
        close=(sha("close"),),
    )
    return replace(made, **changes)


def statement(
    number: int, claim: str, basis: Basis = Basis.SEEN, subject: str = "left-doors", **on_file: Any
) -> Statement:
    """One sentence of the ad by Mirek."""
    return Statement(number, subject, claim, Evidence(basis, on=DAY, **on_file), MIREK, NOON)


def serials(car_text: str, paper_text: str) -> tuple[SerialReading, SerialReading]:
    """The serial as it stands on the car and on the paper."""
    return (
        SerialReading(SerialPlace.CAR, car_text, ANNA, NOON),
        SerialReading(SerialPlace.PAPER, paper_text, ANNA, NOON),
    )


def car(photos: Iterable[Photo] = (), *decisions: Decision | Iterable[Decision], plan: Plan | None = None) -> Car:
    """A car of the tiny plan with all facts answered. Decisions may come singly or as tuples; later ones win."""
    rows: list[Decision] = list(facts(**ANSWERED))
    for one in decisions:
        rows.extend(one if isinstance(one, Iterable) else (one,))
    return car_from("T-1", plan or globals()["plan"](), photos, rows, revision=len(rows))


def complete(*more: Decision | Iterable[Decision]) -> Car:
    """A car about which everything is said and shown: every shot covered, every component looked at, serials alike."""
    photos: list[Photo] = []
    rows: list[Decision] = []
    for one in shots()[:-1]:
        names = [f"{one.id}-context", f"{one.id}-proof"] if one.rust else [one.id]
        slots: list[Slot | None] = [Slot.CONTEXT, Slot.PROOF] if one.rust else [None]
        for name, slot in zip(names, slots, strict=True):
            photos.append(photo(name, minute=len(photos)))
            rows.extend(placed(one.id, name, slot=slot))
            rows.extend(ticked(one, name))
    rows.extend(looked(part) for part in vocabulary().components() if part != "roof-cloth")
    rows.extend(serials("T0O1", "T0O1"))
    rows.append(released("vin-plate"))
    return car(photos, rows, *more)
