"""The Walk as a value: what to shoot next and how the frames so far stand. No Qt here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from lapseam.domain.car import Car
from lapseam.domain.coverage import Coverage, ShotCoverage, State
from lapseam.domain.decision import Placement, Sight, Slot, Sureness
from lapseam.domain.plan import Plan, Shot
from lapseam.domain.quality import Verdict, Word

from ...ribbon import Ribbon, is_open, lap_ribbon
from ...stand import Stand, lens_words, stand_for
from ...words import _, _n, not_reachable_word, state_word
from .questions import Question, question_of

_POINTER = 40
"""An instruction shorter than this, in letters, may be no more than a pointer to the other side's."""


@dataclass(frozen=True, slots=True)
class VerdictWords:
    """What a frame's numbers say, worded short; `again` says why another frame is wanted, "" where none is."""

    sharpness: str
    light: str
    again: str = ""


@dataclass(frozen=True, slots=True)
class Chapter:
    """One setup: its name short and whole, and how many of its shots are open."""

    id: str
    name: str
    full_name: str
    open: int
    shots: int
    current: bool

    @property
    def words(self) -> str:
        """For a screen reader and a tooltip."""
        return _("{name}: {open} of {shots} open").format(name=self.full_name, open=self.open, shots=self.shots)


@dataclass(frozen=True, slots=True)
class MustRow:
    """One thing that must be visible, and whether somebody saw it on an accepted frame. `key` ticks it."""

    id: str
    words: str
    sight: Sight | None
    key: str


@dataclass(frozen=True, slots=True)
class FrameRow:
    """One frame with what to say of it."""

    sha256: str
    words: str
    accepted: bool = False


@dataclass(frozen=True, slots=True)
class ShotText:
    """Everything the card says of one shot."""

    shot: str
    zone: str
    setup: str
    eyebrow: str
    title: str
    instruction: str
    light: str
    lens: str
    close_up: str
    must: tuple[MustRow, ...]
    cautions: tuple[tuple[str, str], ...]
    stand: Stand
    rust: bool
    frames_words: str
    state: State
    state_words: str
    question: Question | None = None
    closed: bool = False


@dataclass(frozen=True, slots=True)
class WalkScreen:
    """What the Walk shows. `shot` None: there is nothing to shoot, and `empty` says what to do instead."""

    headline: str
    chapters: tuple[Chapter, ...]
    ribbon: Ribbon
    shot: ShotText | None = None
    frames: tuple[FrameRow, ...] = ()
    last: FrameRow | None = None
    verdict: VerdictWords | None = None
    beside: tuple[FrameRow, ...] = ()
    next_shot: str = ""
    back_shot: str = ""
    next_words: str = ""
    reasons: tuple[tuple[str, str], ...] = ()
    empty: tuple[str, str] = ("", "")


def walk_screen(
    car: Car, coverage: Coverage, current_shot: str = "", *, verdicts: Mapping[str, Verdict] | None = None
) -> WalkScreen:
    """The Walk of a car at one shot; where `current_shot` is not on the list, at the one to go on with."""
    lines = {line.shot.id: line for line in coverage.shots}
    at = lines.get(current_shot) or lines.get(shot_to_resume(car, coverage))
    open_count = sum(1 for line in coverage.shots if is_open(line))
    headline = _("{open} of {all} shots open").format(open=open_count, all=len(coverage.shots))
    if at is None:
        return WalkScreen(headline, (), Ribbon(), empty=_nothing(car))
    frames = _frames(car, at)
    last = frames[-1] if frames else None
    after = next_open(coverage, at.shot)
    return WalkScreen(
        headline=headline,
        chapters=_chapters(car.plan, coverage, at.shot.setup),
        ribbon=lap_ribbon(car.plan, coverage, at.shot.zone),
        shot=_shot_text(car, coverage, at),
        frames=frames,
        last=last,
        verdict=verdict_words((verdicts or {}).get(last.sha256)) if last else None,
        beside=_beside(car, at.shot, frames),
        next_shot=after,
        back_shot=_before(coverage, at.shot),
        next_words=_("Next shot") if after else _("Close setup"),
        reasons=tuple(
            (reason, not_reachable_word(reason))
            for reason in car.plan.vocabulary.words.get("not_reachable_reasons", ())
        ),
    )


def _nothing(car: Car) -> tuple[str, str]:
    if car.plan.shots:
        return _("No shot of this plan applies."), _("Answer the car's facts in the Yard, or choose another plan.")
    return _("This plan has no shots."), _("Choose another plan for this car.")


def shot_to_resume(car: Car, coverage: Coverage) -> str:
    """Where to go on: the open shot after the one that got the last frame, else the first open one, else the first."""
    order = [line.shot.id for line in coverage.shots]
    on_list = [one for one in car.placements.values() if one.shot in order]
    latest = max(on_list, key=lambda one: (one.at, order.index(one.shot)), default=None)
    if latest is not None:
        start = order.index(latest.shot)
        here = next((line.shot.id for line in coverage.shots[start:] if is_open(line)), "")
        if here:
            return here
    first = next((line.shot.id for line in coverage.shots if is_open(line)), "")
    return first or (order[0] if order else "")


def first_of_setup(coverage: Coverage, setup: str) -> str:
    """The first open shot of a setup, else its first; "" where the car has none of its shots."""
    return _first([line for line in coverage.shots if line.shot.setup == setup])


def first_of_zone(coverage: Coverage, zone: str) -> str:
    """The first open shot of a zone, else its first; "" where the car has none of its shots."""
    return _first([line for line in coverage.shots if line.shot.zone == zone])


def _first(lines: list[ShotCoverage]) -> str:
    return next((line.shot.id for line in lines if is_open(line)), lines[0].shot.id if lines else "")


def next_open(coverage: Coverage, shot: Shot) -> str:
    """The next open shot of the same setup, round to its beginning; "" when no other is open."""
    lines = [line for line in coverage.shots if line.shot.setup == shot.setup]
    at = next((index for index, line in enumerate(lines) if line.shot.id == shot.id), 0)
    turned = lines[at + 1 :] + lines[:at]
    return next((line.shot.id for line in turned if is_open(line)), "")


def _before(coverage: Coverage, shot: Shot) -> str:
    order = [line.shot.id for line in coverage.shots]
    at = order.index(shot.id)
    return order[at - 1] if at else ""


def short_setup(name: str) -> str:
    """A setup's name up to its first comma or colon: "On the lift: wheels, wells" becomes "On the lift"."""
    return name.replace(":", ",").split(",")[0].strip()


def _chapters(plan: Plan, coverage: Coverage, current: str) -> tuple[Chapter, ...]:
    chapters = []
    for setup in plan.setups:
        lines = [line for line in coverage.shots if line.shot.setup == setup.id]
        if lines:
            open_here = sum(1 for line in lines if is_open(line))
            chapters.append(
                Chapter(setup.id, short_setup(setup.name), setup.name, open_here, len(lines), setup.id == current)
            )
    return tuple(chapters)


def _shot_text(car: Car, coverage: Coverage, line: ShotCoverage) -> ShotText:
    shot = line.shot
    return ShotText(
        shot=shot.id,
        zone=shot.zone,
        setup=shot.setup,
        eyebrow=_eyebrow(car, coverage, shot),
        title=shot.title,
        instruction=instruction_for(car.plan, shot),
        light=shot.light,
        lens=lens_words(shot.camera),
        close_up=close_words(shot),
        must=_must(car, shot),
        cautions=_cautions(car.plan, shot),
        stand=stand_for(shot, car.plan, car.fact_values()),
        rust=shot.rust,
        frames_words=frames_words(shot, car.frames_of(shot.id)),
        state=line.state,
        state_words=line.reason or state_word(line.state),
        question=question_of(car, line.asks[0]) if line.asks else None,
        closed=line.state in (State.NOT_REACHABLE, State.NOT_FITTED),
    )


def _eyebrow(car: Car, coverage: Coverage, shot: Shot) -> str:
    setup = next((one.name for one in car.plan.setups if one.id == shot.setup), shot.setup)
    mates = [line.shot.id for line in coverage.shots if line.shot.setup == shot.setup]
    parts = [
        short_setup(setup),
        _("shot {n} of {all}").format(n=mates.index(shot.id) + 1, all=len(mates)),
    ]
    accepted = sum(1 for one in car.frames_of(shot.id) if one.accepted)
    parts.append(_("{had} of {wanted} frames").format(had=accepted, wanted=shot.count))
    return " · ".join(parts)


def instruction_for(plan: Plan, shot: Shot) -> str:
    """How to frame it; where the plan only points to the other side, what it says there stands with it."""
    twin = twin_of(plan, shot)
    if twin is None or len(shot.framing) >= _POINTER or len(twin.framing) < _POINTER:
        return shot.framing
    return _("{here} There: {there}").format(here=shot.framing, there=twin.framing).strip()


def close_words(shot: Shot) -> str:
    """From how near the close frame is taken and what lies beside it, "" where the plan asks for none."""
    scale = {
        "card": _("scale card"),
        "arrow": _("arrow"),
        "both": _("scale card and arrow"),
        "tape": _("tape"),
        "gauge": _("gauge"),
    }.get(shot.close_scale, "")
    if shot.close_m is None:
        return _("with {scale}").format(scale=scale) if scale else ""
    near = _("from {metres:g} m or nearer").format(metres=shot.close_m)
    return _("{near}, with {scale}").format(near=near, scale=scale) if scale else near


def _must(car: Car, shot: Shot) -> tuple[MustRow, ...]:
    accepted = {one.sha256 for one in car.frames_of(shot.id) if one.accepted}
    seen: dict[str, Sight] = {}
    for tick in car.ticks:
        if tick.shot == shot.id and tick.sha256 in accepted and seen.get(tick.item) is not Sight.SEEN:
            seen[tick.item] = tick.sight
    return tuple(
        MustRow(item.id, item.words[:1].upper() + item.words[1:], seen.get(item.id), str(at) if at <= 9 else "")
        for at, item in enumerate(shot.must, start=1)
    )


def _cautions(plan: Plan, shot: Shot) -> tuple[tuple[str, str], ...]:
    known = (plan.vocabulary.cautions.get(caution) for caution in shot.cautions)
    return tuple((caution.name, caution.text) for caution in known if caution is not None)


def frames_words(shot: Shot, placed: tuple[Placement, ...]) -> str:
    """How many frames are had of those wanted, and for a rust-prone proof which of the two is lacking."""
    accepted = [one for one in placed if one.accepted]
    proposed = len(placed) - len(accepted)
    words = _("{had} of {wanted} frames").format(had=len(accepted), wanted=shot.count)
    if proposed:
        words += _n(", {n} proposed", ", {n} proposed", proposed)
    lacking = _lacking(shot, accepted)
    return _("{words}: {lacking} still wanted").format(words=words, lacking=lacking) if lacking and placed else words


def _lacking(shot: Shot, accepted: list[Placement]) -> str:
    if not shot.rust:
        return ""
    slots = {one.slot for one in accepted}
    if Slot.CONTEXT not in slots and Slot.PROOF in slots:
        return _("context")
    if Slot.PROOF not in slots and Slot.CONTEXT in slots:
        return _("close proof")
    return "" if Slot.PROOF in slots else _("context and close proof")


def _frames(car: Car, line: ShotCoverage) -> tuple[FrameRow, ...]:
    rows = []
    for placement in car.frames_of(line.shot.id):
        photo = car.photo(placement.sha256)
        name = photo.name if photo else placement.sha256[:8]
        rows.append(
            FrameRow(placement.sha256, _("{name}, {how}").format(name=name, how=_how(placement)), placement.accepted)
        )
    return tuple(rows)


def _how(placement: Placement) -> str:
    if placement.accepted:
        return {Slot.CONTEXT: _("context"), Slot.PROOF: _("close proof")}.get(placement.slot, _("accepted"))  # type: ignore[arg-type]
    return {Sureness.STRONG: _("proposed, strong"), Sureness.LIKELY: _("proposed, likely")}.get(
        placement.sureness, _("proposed, weak")
    )


def verdict_words(verdict: Verdict | None) -> VerdictWords | None:
    """A verdict as the frame's caption; None where nothing was judged."""
    if verdict is None:
        return None
    sharp = {Word.GOOD: _("Sharp"), Word.SOFT: _("Soft")}.get(verdict.sharp, _("Sharpness not judged"))
    light = {Word.GOOD: _("Light good"), Word.DARK: _("Dark"), Word.BLOWN: _("Blown out")}.get(
        verdict.light, _("Light not judged")
    )
    return VerdictWords(sharp, light, "" if verdict.usable else "; ".join(verdict.words))


def twin_of(plan: Plan, shot: Shot) -> Shot | None:
    """The same view on the other side of the car, where the plan asks for one under the mirrored id."""
    for one, other in (("left", "right"), ("right", "left")):
        parts = shot.id.split("-")
        if one in parts:
            return plan.shot("-".join(other if part == one else part for part in parts))
    return None


def _beside(car: Car, shot: Shot, frames: tuple[FrameRow, ...]) -> tuple[FrameRow, ...]:
    """Small pictures for matching the light: the other side's frame, then the frame before the last."""
    rows = []
    twin = twin_of(car.plan, shot)
    placed = car.frames_of(twin.id) if twin else ()
    if twin is not None and placed:
        rows.append(FrameRow(placed[-1].sha256, _("Other side: {title}").format(title=twin.title)))
    if len(frames) > 1:
        rows.append(FrameRow(frames[-2].sha256, _("Before: {words}").format(words=frames[-2].words)))
    return tuple(rows)
