"""The shot list as finished words for paper: a plan's chapters, or what of them is still open on a car.

On a car, what is covered, closed or let stand takes one line, so that paper and eyes go to what is open.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from lapseam.domain.car import Car
from lapseam.domain.coverage import Coverage, ShotCoverage, State
from lapseam.domain.phrases import say
from lapseam.domain.plan import FactKind, Media, Need, Plan, Setup, Shot

from .print_sketch import Sketches
from .print_words import (
    close_words,
    condition_words,
    duration,
    fitting,
    lens_words,
    many,
    named,
    printed,
    private_words,
    stand_words,
)

_RUNNING, _NAME, _TEXT, _CAUTION = 52, 160, 700, 900
_MOST_BOXES: Final = 12
"""More frames than this get one box with their number: nobody counts twenty boxes in the dark."""
_STANDING_SHARE: Final = 0.25
_STANDING_LEAST: Final = 3
"""A caution that a quarter of a chapter's shots carry, and at least three of them, stands in full on its every page."""
_SHUT: Final = (State.COVERED, State.NOT_REACHABLE, State.NOT_FITTED)


@dataclass(frozen=True, slots=True)
class CautionShown:
    """A caution. `text` is empty where it stands in full at the head of the page."""

    name: str
    text: str


@dataclass(frozen=True, slots=True)
class ItemShown:
    """One must-see item and whether a person has ticked it on some frame."""

    words: str
    seen: bool


@dataclass(frozen=True, slots=True)
class EntryShown:
    """One shot. `shut` entries take one line: number, title and why nothing more is wanted.

    `boxes` is how many frame boxes are drawn and `filled` how many of them are filled; `frames` says it in words.
    """

    number: int
    title: str
    shut: bool
    state: str
    reason: str
    frames: str
    boxes: int
    filled: int
    tags: tuple[str, ...] = ()
    only_where: str = ""
    must: tuple[ItemShown, ...] = ()
    framing: str = ""
    light: str = ""
    lens: str = ""
    close: str = ""
    stand: str = ""
    private: str = ""
    sketch: str = ""
    cautions: tuple[CautionShown, ...] = ()


@dataclass(frozen=True, slots=True)
class ChapterShown:
    """One setup with its shots. `standing` are the cautions printed in full on each of its pages."""

    number: int
    name: str
    running: str
    time: str
    shots: int
    open: int
    summary: str
    standing: tuple[CautionShown, ...]
    entries: tuple[EntryShown, ...]


@dataclass(frozen=True, slots=True)
class ShotListShown:
    """A whole shot list. `stock` and `car` are empty where it is a plan's and no car's; `running` heads every page."""

    title: str
    running: str
    running_plan: str
    plan: str
    stock: str
    car: str
    house: str
    printed: str
    summary: str
    answer_first: tuple[str, ...]
    setups: int
    chapters: tuple[ChapterShown, ...]


def plan_shot_list(plan: Plan, *, printed_on: date, house: str = "") -> ShotListShown:
    """Every shot of a plan, each conditional one with the condition in words."""
    numbered = tuple((number, shot, None) for number, shot in enumerate(plan.shots, 1))
    chapters = _chapters(plan, numbered, Sketches(plan))
    frames = sum(shot.count for shot in plan.shots)
    summary = f"{many(len(plan.shots), 'shot')}, at least {many(frames, 'frame')}, {_time(plan, chapters)}"
    return ShotListShown(
        title=f"Shot list: {named(plan.title, _NAME)}",
        running="",
        running_plan=named(plan.title, _RUNNING),
        plan=named(plan.title, _NAME),
        stock="",
        car="",
        house=fitting(house, _RUNNING),
        printed=printed(printed_on),
        summary=summary,
        answer_first=(),
        setups=len(plan.setups),
        chapters=chapters,
    )


def car_shot_list(car: Car, coverage: Coverage, *, printed_on: date, house: str = "") -> ShotListShown:
    """The shots that apply to a car or may, with what is covered already; numbers are the plan's."""
    place = {shot.id: number for number, shot in enumerate(car.plan.shots, 1)}
    numbered = tuple((place[line.shot.id], line.shot, line) for line in coverage.shots)
    chapters = _chapters(car.plan, numbered, Sketches(car.plan, car.fact_values()))
    still = sum(chapter.open for chapter in chapters)
    states = Counter(line.state for line in coverage.shots)
    return ShotListShown(
        title=f"Shot list: {say('stock', stock=named(car.stock, _NAME))}",
        running=named(car.stock, _RUNNING),
        running_plan=named(car.plan.title, _RUNNING),
        plan=named(car.plan.title, _NAME),
        stock=named(car.stock, _NAME),
        car=fitting(car.details.title, _NAME) if car.details else "",
        house=fitting(house, _RUNNING),
        printed=printed(printed_on),
        summary=f"{many(len(coverage.shots), 'shot')} on this car, {states[State.COVERED]} covered, {still} open",
        answer_first=tuple(_question(car, fact) for fact in _asked(coverage.shots)),
        setups=len(car.plan.setups),
        chapters=chapters,
    )


_Numbered = tuple[int, Shot, "ShotCoverage | None"]


def _chapters(plan: Plan, numbered: Sequence[_Numbered], sketches: Sketches) -> tuple[ChapterShown, ...]:
    found = []
    for number, setup in enumerate(plan.setups, 1):
        here = [one for one in numbered if one[1].setup == setup.id]
        if here:
            found.append(_chapter(plan, number, setup, here, sketches))
    return tuple(found)


def _chapter(plan: Plan, number: int, setup: Setup, here: Sequence[_Numbered], sketches: Sketches) -> ChapterShown:
    open_ = [shot for _, shot, line in here if not _shut(line)]
    standing = _standing(open_)
    return ChapterShown(
        number=number,
        name=named(setup.name, _NAME),
        running=named(setup.name, _RUNNING),
        time=duration(setup.minutes),
        shots=len(here),
        open=len(open_),
        summary=_summary(setup, here, open_),
        standing=tuple(_caution(plan, caution, full=True) for caution in standing),
        entries=tuple(_entry(plan, *one, standing=standing, sketches=sketches) for one in here),
    )


def _summary(setup: Setup, here: Sequence[_Numbered], open_: Sequence[Shot]) -> str:
    """'About 45 min: 10 shots, at least 30 frames', or on a car how many of them are open."""
    on_a_car = any(line is not None for _, _, line in here)
    shots = f"{len(open_)} of {many(len(here), 'shot')} open" if on_a_car else many(len(here), "shot")
    frames = f", at least {many(sum(shot.count for shot in open_), 'frame')}" if open_ else ""
    return f"About {duration(setup.minutes)}: {shots}{frames}."


def _standing(shots: Sequence[Shot]) -> tuple[str, ...]:
    """Cautions that so many of the chapter's shots carry that they are printed once a page, in order of frequency."""
    counted = Counter(caution for shot in shots for caution in dict.fromkeys(shot.cautions))
    least = max(_STANDING_LEAST, len(shots) * _STANDING_SHARE)
    return tuple(caution for caution, times in counted.most_common() if times >= least)


def _shut(line: ShotCoverage | None) -> bool:
    return line is not None and (line.state in _SHUT or bool(line.waived))


def _entry(
    plan: Plan,
    number: int,
    shot: Shot,
    line: ShotCoverage | None,
    *,
    standing: tuple[str, ...],
    sketches: Sketches,
) -> EntryShown:
    title = named(shot.title, _NAME)
    frames = many(shot.count, "clip" if shot.media is Media.VIDEO else "frame")
    if line is not None and _shut(line):
        covered = line.state is State.COVERED
        return EntryShown(number, title, True, "", _shut_words(line), frames, boxes=1, filled=int(covered))
    here = 0 if line is None else min(line.accepted, shot.count)
    told = line is not None and line.state is not State.MISSED
    boxes = shot.count if shot.count <= _MOST_BOXES else 1
    return EntryShown(
        number,
        title,
        shut=False,
        state=say(f"state.{line.state.value}") if line is not None and told else "",
        reason=fitting(line.reason, _TEXT) if line is not None and told else "",
        frames=frames,
        boxes=boxes,
        filled=here if boxes > 1 else int(here >= shot.count),
        tags=_tags(shot),
        only_where=fitting(condition_words(shot.when), _TEXT) if line is None and shot.when else "",
        must=_items(shot, line),
        framing=fitting(shot.framing, _TEXT),
        light=fitting(shot.light, _TEXT),
        lens=lens_words(shot.camera),
        close=close_words(shot),
        stand=fitting(stand_words(shot.camera), _TEXT),
        private=private_words(shot),
        sketch=sketches.of(shot),
        cautions=tuple(_caution(plan, one, full=one not in standing) for one in dict.fromkeys(shot.cautions)),
    )


def _shut_words(line: ShotCoverage) -> str:
    """Why a shot needs nothing more, as one sentence."""
    if line.state is State.COVERED:
        return f"{say('state.covered')}."
    if line.waived:
        return fitting(say("state.waived", state=say(f"state.{line.state.value}")) + f": {line.waived}.", _TEXT)
    reason = fitting(line.reason, _TEXT)
    return reason[:1].lower() + reason[1:]


def _items(shot: Shot, line: ShotCoverage | None) -> tuple[ItemShown, ...]:
    judged = line is not None and line.state is State.PARTLY
    missing = line.missing if line is not None else ()
    return tuple(ItemShown(fitting(item.words, _TEXT), judged and item.words not in missing) for item in shot.must)


def _tags(shot: Shot) -> tuple[str, ...]:
    tags = ["rust-prone"] * shot.rust + ["clip"] * (shot.media is Media.VIDEO)
    return (*tags, *(["optional"] * (shot.need is Need.OPTIONAL)))


def _caution(plan: Plan, caution_id: str, *, full: bool) -> CautionShown:
    known = plan.vocabulary.cautions.get(caution_id)
    if known is None:
        return CautionShown(named(caution_id.replace("-", " "), _NAME), "")
    return CautionShown(named(known.name, _NAME), fitting(known.text, _CAUTION) if full else "")


def _time(plan: Plan, chapters: Sequence[ChapterShown]) -> str:
    walked = {chapter.number for chapter in chapters}
    return f"about {duration(sum(setup.minutes for number, setup in enumerate(plan.setups, 1) if number in walked))}"


def _asked(lines: Sequence[ShotCoverage]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(fact for line in lines for fact in line.asks))


def _question(car: Car, fact: str) -> str:
    asked = car.plan.vocabulary.facts.get(fact)
    name = fact.replace("_", " ")
    explained = asked is not None and asked.kind is FactKind.FLAG and asked.note
    return fitting(f"{name}: {asked.note}" if asked is not None and explained else name, _TEXT)
