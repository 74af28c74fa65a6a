"""Values for tests of the record: a tiny plan, photos, one decision of every kind, and moments that run on."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from hashlib import sha256

from lapseam.domain.call import AnswerBasis, Asked, Call, Wanted
from lapseam.domain.condition import Condition
from lapseam.domain.decision import (
    Arranged,
    Caption,
    CarDetails,
    Closed,
    Closing,
    Decision,
    FactAnswer,
    Lead,
    Looked,
    Placement,
    Release,
    Sight,
    Signoff,
    Slot,
    Sureness,
    Target,
    Tick,
    Verdict,
    Waiver,
    WaiverOf,
)
from lapseam.domain.finding import Finding, Mark, MarkShape, PartOrigin, PartWork, Severity
from lapseam.domain.jotting import Jotting
from lapseam.domain.photo import CameraReadings, MediaKind, Photo, PixelReadings
from lapseam.domain.plan import Camera, FactAsked, FactKind, MustSee, Need, Plan, Setup, Shot, Vocabulary
from lapseam.domain.posting import OutletWishes, PostedPhoto, Posting, Price
from lapseam.domain.selection_rules import TextForm
from lapseam.domain.statement import (
    Basis,
    CheckResult,
    CheckVerdict,
    Evidence,
    Measurement,
    Reading,
    SerialPlace,
    SerialReading,
    Statement,
)

BY = "Ada Lindqvar"


def moment(number: int = 0) -> datetime:
    """The `number`-th second of a working day, in UTC."""
    return datetime(2026, 5, 12, 8, 0, tzinfo=UTC) + timedelta(seconds=number)


def plan() -> Plan:
    """A plan with one shot and a condition."""
    shot = Shot(
        "front-34-left",
        "Front corner, left",
        "outside",
        "front",
        ("bumper-front",),
        Camera("standing", distance_m=6.0, lens_mm=(35, 50), bearing_deg=315.0),
        "whole car",
        "soft",
        (MustSee("headlamp", "headlamp"),),
        1,
        Need.REQUIRED,
        when=Condition("body in ['hardtop']"),
    )
    facts = {"body": FactAsked("body", FactKind.CHOICE, ("hardtop", "coupe"))}
    return Plan("tiny", "A tiny plan", None, (Setup("outside", "Outside", 20),), (shot,), Vocabulary(facts=facts))


def photo(number: int) -> Photo:
    """The `number`-th photo; its digest is that of its name."""
    name = f"IMG_{number:04}.JPG"
    camera = CameraReadings(taken_at=datetime(2026, 5, 12, 8, 0, number % 60, 250_000), exposure_s=0.004, iso=100)
    return Photo(
        sha256(name.encode()).hexdigest(),
        name,
        1000 + number,
        MediaKind.STILL,
        "jpeg",
        4000,
        3000,
        camera,
        PixelReadings(123.4, 45.6, 120.1, 0.01, 0.02, "00ff00ff00ff00ff"),
        found_at=f"DCIM/{name}",
    )


def every_kind(at: datetime) -> tuple[Decision, ...]:
    """One decision of every kind, with every sort of field filled."""
    sha = photo(1).sha256
    seen = Evidence(Basis.SEEN, photos=(sha,), on=date(2026, 5, 12))
    return (
        CarDetails(BY, at, year=1968, make="Talbrook", model="Vesper", colour="blue-green", odometer_reading=48213),
        FactAnswer("body", "hardtop", BY, at),
        FactAnswer("options", ("clock", True, 3, 2.5), BY, at),
        Placement(sha, Target.SHOT, BY, at, Sureness.DECIDED, "front-34-left", "front", Slot.PROOF, 0.75, ("time",)),
        Tick("front-34-left", "headlamp", sha, Sight.SEEN, BY, at),
        Closing("rear-34-left", Closed.NOT_REACHABLE, BY, at, "locked", "wall"),
        Looked("bumper-front", BY, at, (sha,)),
        Finding(
            1,
            "rocker-left",
            "bubbling",
            "rear third",
            Severity.NEEDS_WORK,
            seen,
            BY,
            at,
            extent="30 mm",
            count=2,
            close=(sha,),
            marks=(Mark(sha, MarkShape.BOX, 0.25, 0.5, 0.1, 0.125),),
            origin=PartOrigin.ORIGINAL,
            work=PartWork.NONE,
        ),
        CheckResult("horn", CheckVerdict.NOT_TESTED, BY, at, reason="battery", on=date(2026, 5, 12)),
        Measurement(1, "film", "door-left", (Reading("centre", "112", "µm"),), BY, at, instrument="gauge 2"),
        Statement(1, "engine", "The engine turns over.", Evidence(Basis.TOLD, who_said="owner before last"), BY, at),
        SerialReading(SerialPlace.CAR, "TV8-2047731", BY, at, (sha,)),
        Waiver(WaiverOf.SHOT, "rear-34-left", "garage wall", "Jun Thornby", at),
        Release(sha, Verdict.SHOW, "plate hidden", BY, at),
        Lead(sha, BY, at),
        Caption(sha, "Front, left of the car", BY, at),
        Arranged("gg-outside", (sha, photo(2).sha256), BY, at),
        Asked(1, Wanted.SHOT, "front-34-left", "Can I see the other corner?", BY, at, date(2026, 5, 14), BY, "sent"),
        Jotting(1, "front", "dent in the hood,\nleft of the ornament", BY, at),
        Call(
            1,
            "Does it run?",
            "It turns over.",
            AnswerBasis.TOLD,
            BY,
            at,
            known_by="owner before last",
            source="statement:1",
            edition=1,
            caller="blue notebook, page 4",
            sent="one photo",
            photos=(sha,),
            call_back=date(2026, 5, 13),
            promise="the clock",
            kept=date(2026, 5, 13),
            kept_by=BY,
            kept_words="called back",
        ),
        OutletWishes("Weekly sheet", BY, at, (sha,), (), (sha,)),
        Posting(
            1,
            "Weekly sheet",
            1,
            at,
            BY,
            at,
            (PostedPhoto(1, sha, "01-front.jpg", "cd" * 32, "Front corner, left."),),
            "1968 Talbrook Vesper",
            "1968 Talbrook Vesper, stock number T-114.",
            "1968 Talbrook Vesper, stock number T-114.\n",
            TextForm.PLAIN,
            "outlets/weekly-sheet/0001",
            "ef" * 32,
            Price("24500", "USD", date(2026, 6, 30)),
            "page 3",
            ("01-page.pdf",),
            ("The text was changed by hand.",),
            at + timedelta(days=9),
            BY,
            "sold",
        ),
        Signoff("Jun Thornby", "manager", at, "ab" * 32, ("shots-missing",)),
    )
