"""Entries of photos, of jottings, and of what callers asked, were told, and wait for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from .ageing import Lasting
from .call import AnswerBasis
from .car import Car
from .decision import Placement, Sight, Sureness, Target, Tick
from .entry import Entry, EntryKind, Named, Shown
from .photo import Photo
from .phrases import day as day_words
from .plan import Shot

_HOLLOW = (AnswerBasis.NOT_KNOWN, AnswerBasis.NOT_CHECKED)


def photo_entries(car: Car, shown: Shown) -> Iterator[Entry]:
    """Every photo: which view it is, and what a person said can be seen in it. A photo alone answers nothing."""
    shots = {shot.id: shot for shot in car.plan.shots}
    ticked: dict[str, list[Tick]] = {}
    for tick in car.ticks:
        ticked.setdefault(tick.sha256, []).append(tick)
    for photo in car.photos:
        placed = car.placements.get(photo.sha256)
        shot = shots.get(placed.shot) if placed is not None else None
        on = photo.camera.taken_at.date() if photo.camera.taken_at else None
        parts = shot.components if shot is not None else ()
        yield Entry(
            key=f"photo:{photo.sha256}",
            kind=EntryKind.PHOTO,
            subject=_view(car, placed, shot),
            words=_photo_words(car, photo, placed, shot, ticked.get(photo.sha256, [])),
            basis=f"taken {day_words(on)}" if on else "its camera kept no day",
            day=on,
            photos=(Named(photo.sha256, photo.name),),
            about=parts,
            lasting=Lasting.LOOK,
            driven_km=shown.driven(on),
            rank=1 if placed is not None and placed.accepted else 0,
            answers=False,
            more=" ".join((photo.name, *(shown.part(part) for part in parts), *(shown.zone(p) for p in parts[:1]))),
        )


def _view(car: Car, placed: Placement | None, shot: Shot | None) -> str:
    if shot is not None:
        return shot.title
    zones = car.plan.vocabulary.zones
    if placed is not None and placed.target is Target.EXTRA and placed.zone in zones:
        return f"{zones[placed.zone].name}, further view"
    return "Photo set aside" if placed is not None and placed.target is Target.ASIDE else "Photo without a place"


def _photo_words(car: Car, photo: Photo, placed: Placement | None, shot: Shot | None, ticks: list[Tick]) -> str:
    view = f"{_view(car, placed, shot)}: {photo.name}"
    if placed is not None and placed.target is Target.SHOT and placed.sureness is not Sureness.DECIDED:
        return f"{view}, put there by the program; nobody has looked yet."
    sights = {one.item: one.sight for one in ticks}
    must = shot.must if shot is not None else ()
    seen = [item.words for item in must if sights.get(item.id) is Sight.SEEN]
    coated = [item.words for item in must if sights.get(item.id) is Sight.COATED]
    said = [f"it shows {', '.join(seen)}"] if seen else []
    said += [f"coating hides the metal of {', '.join(coated)}"] if coated else []
    if not said and shot is not None:
        said = ["nobody has said what can be seen"]
    return f"{'; '.join((view, *said))}."


def asked_entries(car: Car) -> Iterator[Entry]:
    """The re-shoot list: what is wanted and what was done about it."""
    words = car.plan.vocabulary
    names = {shot.id: shot.title for shot in car.plan.shots} | {one.id: one.item for one in words.checks.values()}
    names |= {one.id: one.name for one in words.measurements.values()}
    names |= {part.id: part.name for part in words.components().values()}
    for one in car.asked:
        wanted = names.get(one.subject, one.subject)
        done = f" Dealt with on {day_words(one.done)} by {one.done_by}. {one.done_words}".rstrip() if one.done else ""
        yield Entry(
            key=f"asked:{one.number}",
            kind=EntryKind.ASKED,
            subject=wanted or one.question,
            words=f"On the re-shoot list: “{one.question}”{f', {wanted}' if wanted else ''}.{done}",
            day=one.at.date(),
            about=(one.subject,) if one.subject else (),
            rank=1 if one.is_open else 0,
            answers=False,
            by=one.by,
            more=one.question,
        )


def jotting_entries(car: Car) -> Iterator[Entry]:
    """Words that somebody jotted down and nobody has made a finding of. They have no basis, so they answer nothing."""
    zones = car.plan.vocabulary.zones
    for one in car.jottings:
        zone = zones[one.zone].name if one.zone in zones else one.zone
        yield Entry(
            key=f"jotting:{one.number}",
            kind=EntryKind.JOTTING,
            subject=zone,
            words=f"Jotted down at {zone}, not yet looked into: “{' '.join(one.text.split())}”",
            day=one.at.date(),
            answers=False,
            by=one.by,
            more=one.text,
        )


def call_entries(car: Car, shown: Shown, record: Mapping[str, Entry]) -> Iterator[Entry]:
    """What callers were told. The caller's label stays in the record; search does not keep it."""
    for call in car.calls:
        source = record.get(call.source)
        promise = ""
        if call.call_back is not None:
            due = f" Promised to call back by {day_words(call.call_back)}"
            kept = f"; done on {day_words(call.kept)}" if call.kept else "; still open"
            promise = f"{due}{f' about {call.promise}' if call.promise else ''}{kept}."
        yield Entry(
            key=f"call:{call.number}",
            kind=EntryKind.CALL,
            subject=call.question,
            words=f"A caller asked “{call.question}” and was told: {call.answer.rstrip('.')}.{promise}",
            basis=call.known_by if call.basis not in _HOLLOW else "said that it is not known",
            day=call.at.date(),
            photos=shown.named(call.photos),
            about=source.about if source is not None else (),
            lasting=source.lasting if source is not None else Lasting.WORD,
            driven_km=shown.driven(call.at.date()),
            rank=1 if call.promised else 0,
            answers=call.basis not in _HOLLOW,
            by=call.by,
            more=" ".join((call.answer, call.sent, call.promise)),
        )
