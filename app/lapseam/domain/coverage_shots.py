"""Where each shot stands, from its frames, the ticks on them, and who closed it.

The rule, in the order it is applied:

1. A false condition: the shot is not on the list. An unknown one: `decide`, with the facts it hangs on.
2. A closing by a person: `not-reachable` or `not-fitted`, whatever frames are there (the reason says if there are any).
3. No frame: `missed`. Frames that nobody accepted, or accepted ones without a tick: `taken`.
4. Ticked frames: `covered` when nothing is missing, else `partly`. What can be missing: each must-see item that nobody
   saw on an accepted frame; frames up to the shot's count (clips where it asks for video); for a rust-prone shot the
   context and the proof frame; sharpness or light, where what is there stands on frames judged unusable only; metal
   under coating, where a person looked at an item and saw coating on every frame of it.

A tick by a person accepts its frame; the program's own word accepts nothing. A shot without a must-see list can never
be covered, since nobody can tick it; plans are refused for that when they are read. Waivers are laid over a state,
never one themselves.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from .applicability import Applicability
from .car import Car
from .coverage_words import ShotCoverage, State
from .decision import PROGRAM, Closed, Closing, Placement, Sight, Slot, Tick, WaiverOf
from .photo import MediaKind, Photo
from .phrases import count, said, say
from .plan import Media, Shot
from .quality import Verdict, Word

COATED: Final = "lacks.coated"
_FRAMES: Final = {Media.PHOTO: "lacks.frames", Media.VIDEO: "lacks.clips"}


@dataclass(frozen=True, slots=True)
class Frame:
    """One photo on a shot. `sights` are what people saw on it, by must-see item."""

    photo: Photo
    slot: Slot | None
    accepted: bool
    sights: Mapping[str, Sight]
    quality: Verdict

    @property
    def usable(self) -> bool:
        """Whether nothing speaks against the frame's sharpness and light."""
        return self.quality.usable


@dataclass(frozen=True, slots=True)
class ShotFrames:
    """A shot's answer with the frames behind it, accepted ones first."""

    covered: ShotCoverage
    frames: tuple[Frame, ...]

    def proving(self, slot: Slot) -> tuple[str, ...]:
        """SHA-256 of the frames in that slot that a person accepted and ticked and that are fit to be looked at."""
        return tuple(f.photo.sha256 for f in self.frames if f.slot is slot and f.accepted and f.sights and f.usable)


def waived_words(car: Car, of: WaiverOf, subject: str) -> str:
    """'reason (name)' of the waiver laid over the subject, or ''."""
    waiver = car.waivers.get(f"{of}:{subject}")
    return "" if waiver is None else f"{waiver.reason} ({waiver.by})"


def shots_of(car: Car, applies: Applicability, judged: Mapping[str, Verdict]) -> tuple[ShotFrames, ...]:
    """Every shot that applies to the car or may, in the plan's order. `judged` are its photos' verdicts."""
    ticks = _ticks_by_shot(car)
    photos = {photo.sha256: photo for photo in car.photos}
    placed: dict[str, list[Placement]] = {}
    for sha256 in photos:
        placement = car.placements.get(sha256)
        if placement is not None and placement.shot:
            placed.setdefault(placement.shot, []).append(placement)
    answers = []
    for shot in car.plan.shots:
        answer = applies.shot(shot)
        if answer.holds is False:
            continue
        frames = _frames(placed.get(shot.id, []), ticks.get(shot.id, []), photos, judged)
        answers.append(ShotFrames(_state(car, shot, answer.asks, frames), frames))
    return tuple(answers)


def _ticks_by_shot(car: Car) -> dict[str, list[Tick]]:
    """Ticks that count: by a person, on an item the shot asks for, on a frame that stands on the shot."""
    items = {shot.id: {item.id for item in shot.must} for shot in car.plan.shots}
    found: dict[str, list[Tick]] = {}
    for tick in car.ticks:
        placement = car.placements.get(tick.sha256)
        if placement is None or placement.shot != tick.shot or tick.by == PROGRAM:
            continue
        if tick.item in items.get(tick.shot, ()):
            found.setdefault(tick.shot, []).append(tick)
    return found


def _frames(
    placed: list[Placement], ticks: list[Tick], photos: Mapping[str, Photo], judged: Mapping[str, Verdict]
) -> tuple[Frame, ...]:
    sights: dict[str, dict[str, Sight]] = {}
    for tick in ticks:
        sights.setdefault(tick.sha256, {})[tick.item] = tick.sight
    frames = []
    for placement in placed:
        seen = sights.get(placement.sha256, {})
        accepted = placement.accepted or bool(seen)
        quality = judged[placement.sha256]
        frames.append(Frame(photos[placement.sha256], placement.slot, accepted, seen, quality))
    return tuple(sorted(frames, key=lambda frame: not frame.accepted))


def _state(car: Car, shot: Shot, asks: tuple[str, ...], frames: tuple[Frame, ...]) -> ShotCoverage:
    accepted = [frame for frame in frames if frame.accepted]
    closing = car.closings.get(shot.id)
    missing: tuple[str, ...] = ()
    if asks:
        state, reason = State.DECIDE, say("stands.wanted-hangs", facts=", ".join(asks))
    elif closing is not None:
        state, reason = _closed(closing, len(frames))
    elif not frames:
        state, reason = State.MISSED, say("stands.no-frame")
    elif not any(frame.sights for frame in accepted):
        state, reason = State.TAKEN, count("stands.not-ticked", len(frames))
    else:
        missing = _missing(shot, accepted)
        state = State.PARTLY if missing else State.COVERED
        reason = say("stands.missing", missing="; ".join(missing)) if missing else say("stands.ticked")
    return ShotCoverage(
        shot=shot,
        state=state,
        photos=tuple(frame.photo.sha256 for frame in frames),
        accepted=len(accepted),
        missing=missing,
        reason=reason,
        waived=waived_words(car, WaiverOf.SHOT, shot.id),
        asks=asks,
    )


def _closed(closing: Closing, frames: int) -> tuple[State, str]:
    state = State.NOT_FITTED if closing.closed is Closed.NOT_FITTED else State.NOT_REACHABLE
    why = said(f"why.{closing.reason}") or closing.reason.replace("-", " ") or say("basis.no-reason")
    key = f"stands.{state.value}.note" if closing.note else f"stands.{state.value}"
    words = say(key, why=why, by=closing.by, note=closing.note)
    return state, f"{words} {count('stands.all-the-same', frames)}" if frames else words


def _missing(shot: Shot, accepted: list[Frame]) -> tuple[str, ...]:
    """What keeps a ticked shot from covered. Unusable frames count for nothing, and what they would fill is named."""
    usable = [frame for frame in accepted if frame.usable]
    found = _lacking(shot, usable)
    blamed = [frame for frame in accepted if not frame.usable] if found != _lacking(shot, accepted) else []
    words = list(found)
    if any(frame.quality.sharp is Word.SOFT for frame in blamed):
        words.append(say("lacks.sharpness"))
    if any(frame.quality.light in (Word.DARK, Word.BLOWN) for frame in blamed):
        words.append(say("lacks.light"))
    return tuple(words)


def _lacking(shot: Shot, frames: list[Frame]) -> tuple[str, ...]:
    seen = {item for frame in frames for item, sight in frame.sights.items() if sight is Sight.SEEN}
    looked_at = {item for frame in frames for item in frame.sights}
    words = [item.words for item in shot.must if item.id not in looked_at]
    kind = MediaKind.CLIP if shot.media is Media.VIDEO else MediaKind.STILL
    here = sum(frame.photo.media is kind for frame in frames)
    if here < shot.count:
        words.append(count(_FRAMES[shot.media], shot.count, here=here))
    if shot.rust:
        slots = {frame.slot for frame in frames}
        words.extend(say(f"lacks.{slot.value}") for slot in Slot if slot not in slots)
    if looked_at - seen:
        words.append(say(COATED))
    return tuple(words)
