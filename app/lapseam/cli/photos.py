"""Verbs about photos: take-in, place, photos, release, lead."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from lapseam.domain.car import Car
from lapseam.domain.decision import Placement, Slot, Target, Verdict
from lapseam.domain.errors import Mistake
from lapseam.domain.photo import Photo
from lapseam.workflow import Stop

from .cars import stock
from .verb import Ask, Verb


def _take_in_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("paths", metavar="PATH", nargs="+", help="a photo, folder or card; folders are read whole")
    parser.add_argument("--no-place", action="store_true", help="do not propose shots for the new photos")


def _take_in(ask: Ask) -> int:
    stop = Stop()
    coming = ask.desk.take_in(
        stock=ask.args.stock,
        paths=[Path(path) for path in ask.args.paths],
        by=ask.by,
        progress=ask.out.progress("Taking in"),
        stop=stop,
    )
    try:
        taken = coming.result()
    except KeyboardInterrupt:
        stop.set()
        taken = coming.result()
    placed = 0
    if taken.kept and not ask.args.no_place:
        placed = ask.desk.propose(stock=ask.args.stock).result().proposed
    ask.out.answer(
        {
            "results": [_result(one) for one in taken.results],
            "kept": taken.kept,
            "proposed": placed,
            "stopped": taken.stopped,
        }
    )
    for result in taken.results:
        if result.outcome != "kept":
            ask.out.say(f"{result.name}: {result.outcome}" + (f": {result.reason}" if result.reason else ""))
    ask.out.say(f"{taken.kept} of {len(taken.results)} files are new and safe; {placed} have a shot proposed.")
    if not taken.results and not taken.stopped:
        ask.out.say("No photo was found there. Name the card itself, or the folder that the camera made on it.")
    if taken.stopped:
        ask.out.say("Stopped before the end; say the same again to go on where it stopped.")
    return 1 if taken.failed or taken.stopped else 0


def _result(one: Any) -> dict[str, object]:
    return {
        "name": one.name,
        "outcome": one.outcome.value,
        "sha256": one.photo.sha256 if one.photo else None,
        "reason": one.reason,
        "near": list(one.near),
    }


def _place_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("--photo", metavar="NAME", help="the photo, by name as found or digest; none: propose for all")
    where = parser.add_mutually_exclusive_group()
    where.add_argument("--shot", metavar="SHOT", help="put it on this shot")
    where.add_argument("--extra", metavar="ZONE", help="an extra of this zone: it answers no shot")
    where.add_argument("--aside", metavar="REASON", help="set it aside, for a reason")
    where.add_argument("--lift-off", action="store_true", help="take its placement back")
    parser.add_argument("--slot", choices=[slot.value for slot in Slot], help="which frame of a rust-prone proof it is")
    parser.add_argument(
        "--accept", metavar="SURE", choices=["strong", "likely", "all"], help="accept proposals at least so sure"
    )


def _place(ask: Ask) -> int:
    args = ask.args
    if args.photo is None:
        if args.shot or args.extra or args.aside or args.lift_off or args.slot:
            raise Mistake("Which photo? A shot, zone or reason was named, but no photo.", next_step="Add --photo NAME.")
        return _propose(ask)
    if not (args.shot or args.extra or args.aside or args.lift_off):
        raise Mistake("Where does the photo go?", next_step="Add --shot, --extra, --aside or --lift-off.")
    if args.lift_off:
        done = ask.desk.lift_off(stock=args.stock, photo=args.photo, by=ask.by).result()
    else:
        target = Target.SHOT if args.shot else Target.EXTRA if args.extra else Target.ASIDE
        done = ask.desk.place(
            stock=args.stock,
            photo=args.photo,
            target=target,
            shot=args.shot or "",
            zone=args.extra or "",
            reason=args.aside or "",
            slot=Slot(args.slot) if args.slot else None,
            by=ask.by,
        ).result()
    ask.out.answer({"words": done.words})
    ask.out.say(done.words)
    return 0


def _propose(ask: Ask) -> int:
    if ask.args.accept:
        done = ask.desk.accept_proposals(stock=ask.args.stock, least=ask.args.accept, by=ask.by).result()
        ask.out.answer({"words": done.words})
        ask.out.say(done.words)
        return 0
    proposed = ask.desk.propose(stock=ask.args.stock).result()
    car = ask.desk.car(stock=ask.args.stock).result()
    ask.out.answer({"proposed": proposed.proposed, "placements": [_placement(car, photo) for photo in car.photos]})
    for photo in car.photos:
        placed = car.placements.get(photo.sha256)
        ask.out.say(f"{photo.name:24}{_where(placed)}")
    ask.out.say(f"{proposed.proposed} proposals. Accept with --accept strong, or photo by photo with --photo.")
    return 0


def _where(placed: Placement | None) -> str:
    if placed is None:
        return "unplaced"
    where = {Target.SHOT: placed.shot, Target.EXTRA: f"extra of {placed.zone}", Target.ASIDE: "set aside"}[
        placed.target
    ]
    slot = f" ({placed.slot})" if placed.slot else ""
    reasons = f": {'; '.join(placed.reasons)}" if placed.reasons else ""
    return f"{where}{slot}, {placed.sureness}{reasons}"


def _placement(car: Car, photo: Photo) -> dict[str, object]:
    placed = car.placements.get(photo.sha256)
    if placed is None:
        return {"photo": photo.name, "target": None}
    return {
        "photo": photo.name,
        "target": placed.target.value,
        "shot": placed.shot or None,
        "zone": placed.zone or None,
        "slot": placed.slot.value if placed.slot else None,
        "sureness": placed.sureness.value,
        "score": placed.score,
        "reasons": list(placed.reasons),
        "by": placed.by,
    }


def photo_facts(car: Car, photo: Photo) -> Mapping[str, object]:
    """All that is read of a photo, flat, with its placement: what `photos --json` prints for each."""
    camera, pixels = photo.camera, photo.pixels
    return {
        "name": photo.name,
        "sha256": photo.sha256,
        "size_bytes": photo.size_bytes,
        "media": photo.media.value,
        "format": photo.format,
        "taken_at": _taken(photo),
        "make": camera.make,
        "model": camera.model,
        "lens": camera.lens,
        "orientation": camera.orientation,
        "width": photo.width,
        "height": photo.height,
        "iso": camera.iso,
        "exposure_s": camera.exposure_s,
        "f_number": camera.f_number,
        "focal_mm": camera.focal_mm,
        "focal_35mm": camera.focal_35mm,
        "has_position": camera.has_position,
        "has_serial": camera.has_serial,
        "has_owner": camera.has_owner,
        "metadata_trouble": camera.trouble or None,
        "sharpness": pixels.sharpness,
        "contrast": pixels.contrast,
        "mean_luma": pixels.mean_luma,
        "clipped_dark": pixels.clipped_dark,
        "clipped_light": pixels.clipped_light,
        "dhash": pixels.dhash,
        "duration_s": photo.duration_s,
        "placement": _placement(car, photo),
    }


def _taken(photo: Photo) -> str | None:
    taken, offset = photo.camera.taken_at, photo.camera.offset_minutes
    if taken is None:
        return None
    if offset is None:
        return taken.isoformat()
    sign = "-" if offset < 0 else "+"
    return f"{taken.isoformat()}{sign}{abs(offset) // 60:02}:{abs(offset) % 60:02}"


def _photos(ask: Ask) -> int:
    car = ask.desk.car(stock=ask.args.stock).result()
    ask.out.answer([photo_facts(car, photo) for photo in car.photos])
    for photo in car.photos:
        taken = photo.camera.taken_at
        when = f"{taken:%Y-%m-%d %H:%M:%S}" if taken else "no date"
        where = _where(car.placements.get(photo.sha256))
        ask.out.say(f"{photo.short}  {photo.name:20} {when:20} {photo.width}×{photo.height}  {where}")
    if not car.photos:
        ask.out.say(f"No photos yet. Take a card in with: lapseam take-in {car.stock} PATH")
    return 0


def _release_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("photo", metavar="PHOTO", help="the photo, by name as found or digest")
    parser.add_argument("verdict", choices=[verdict.value for verdict in Verdict], help="show it, or hold it back")
    parser.add_argument("words", metavar="WORDS", help="what was looked for and seen")


def _release(ask: Ask) -> int:
    args = ask.args
    done = ask.desk.release(
        stock=args.stock, photo=args.photo, verdict=Verdict(args.verdict), words=args.words, by=ask.by
    ).result()
    ask.out.answer({"words": done.words})
    ask.out.say(done.words)
    return 0


def _lead_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("photo", metavar="PHOTO", help="the photo that opens the gallery")


def _lead(ask: Ask) -> int:
    done = ask.desk.lead_with(stock=ask.args.stock, photo=ask.args.photo, by=ask.by).result()
    ask.out.answer({"words": done.words})
    ask.out.say(done.words)
    return 0


VERBS: tuple[Verb, ...] = (
    Verb("take-in", "take photos in from a card or folder", _take_in_arguments, _take_in,
         "Copies every photo into the workspace, checks the copy, and proposes a shot for each. Originals are never "
         "changed. Taking the same card in again copies nothing twice."),
    Verb("place", "propose shots for all photos, or put one photo somewhere", _place_arguments, _place),
    Verb("photos", "list the photos with all that was read from them", stock, _photos, by_somebody=False),
    Verb("release", "say, after a look, whether a photo with a plate, paper or stamp may be shown",
         _release_arguments, _release),
    Verb("lead", "choose the photo that opens the gallery", _lead_arguments, _lead),
)  # fmt: skip
