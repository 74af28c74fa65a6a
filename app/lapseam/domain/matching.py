"""Matching: which shot does each photo answer, how sure is that, and why.

All photos of a car are solved together. The order they were taken in is held against the plan's shooting order
(`capture`, `alignment`); what a frame itself says (focal length, light, orientation, sameness with the frame before)
makes some answers dearer. Placements that a person decided are fixed points. Nothing here looks into a picture:
where two shots can be told apart only by their content, the answer is honestly weak.

The first form of matching. Its interface stays; its figures may improve.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import exp, log2

from .alignment import Step, Stop, Weights, align
from .capture import Frame, streams
from .car import Car
from .decision import Placement, Slot, Sureness, Target
from .photo import MediaKind, dhash_distance
from .plan import Media, Need, Plan, Shot

_NO_SHOTS = "The plan has no shot that applies to this car."
_OPEN_AIR = ("outside", "ladder", "road")


@dataclass(frozen=True, slots=True)
class MatchRules:
    """What each thing costs, in natural-log units (1 makes an answer e times less likely). Common practice, no source.

    Attributes:
        skip, skip_optional: a shot that has no frame; `skip_first` is added for the first of a row, and a whole setup
            without frames costs `skip_setup` at most.
        none, none_again: a frame that answers no shot; another one right after it.
        stay: a further, different frame on a shot that wants several; `stay_single` on a shot that wants one.
        leave_retake: taking a retake for the next shot. A retake differs in `near_bits` or fewer and follows within
            `near_s` seconds.
        pause_inside: a long break inside a setup; `setup_unpaused` a new setup without any break.
        focal: one octave outside the shot's lens range; `focal_close` the same towards long, where close frames count;
            `focal_fixed` the share of both for a camera that shows one focal length only (a phone: no choice was made).
        light: open-air light on a shot in the shade of a roof, or the reverse; `ev_open_air` and `ev_roofed` bound the
            exposure value (ISO 100) between them.
        portrait: a portrait frame where the plan shows a whole view from `portrait_from_m` or farther.
        trust: 0..1, how far the sums of the alignment are believed; below 1 spreads the shares.
        strong, strong_gap, strong_cost: least share, least distance to the second, most own cost of a strong answer;
            likely, likely_gap: the same for a likely one.
        clock_error_s: how wrong a second camera's clock may be, seconds.
    """

    skip: float = 1.0
    skip_optional: float = 0.3
    skip_first: float = 0.3
    skip_setup: float = 4.0
    none: float = 2.5
    none_again: float = 1.5
    stay: float = 2.5
    stay_single: float = 3.5
    leave_retake: float = 4.0
    near_bits: int = 12
    near_s: float = 15.0
    pause_inside: float = 2.0
    setup_unpaused: float = 4.0
    focal: float = 2.0
    focal_close: float = 0.5
    focal_fixed: float = 0.25
    light: float = 1.5
    ev_open_air: float = 11.5
    ev_roofed: float = 10.0
    portrait: float = 0.7
    portrait_from_m: float = 1.2
    trust: float = 1.0
    strong: float = 0.85
    strong_gap: float = 0.6
    strong_cost: float = 1.0
    likely: float = 0.5
    likely_gap: float = 0.15
    clock_error_s: float = 900.0


DEFAULT_RULES = MatchRules()


@dataclass(frozen=True, slots=True)
class Offer:
    """One shot that a photo may answer, with the share of all ways in which it does, 0..1."""

    shot: str
    score: float


@dataclass(frozen=True, slots=True)
class Proposal:
    """What the program proposes for one photo that nobody has placed.

    `target` is SHOT with `shot` (and `slot` where the shot wants a proof), EXTRA with `zone`, or None: no shots at all.
    `score` is the share of all ways in which this holds, 0..1; `offers` the likeliest shots, best first, for a person
    to choose from. `penalties` are costs by name, `reasons` the same in words.
    """

    sha256: str
    target: Target | None
    sureness: Sureness
    score: float
    shot: str = ""
    zone: str = ""
    slot: Slot | None = None
    offers: tuple[Offer, ...] = ()
    penalties: Mapping[str, float] = field(default_factory=dict)
    reasons: tuple[str, ...] = ()


def propose(
    car: Car, rules: MatchRules = DEFAULT_RULES, cards: Mapping[str, str] | None = None
) -> tuple[Proposal, ...]:
    """One proposal for every photo without a decided placement, in capture order.

    `cards` names the photos that show a setup card, by SHA-256, with the setup's id: they bound what lies between.
    """
    shots = _shots(car)
    setups = tuple(setup.id for setup in car.plan.setups)
    decided = {p.sha256: p for p in car.placements.values() if p.sureness is Sureness.DECIDED}
    proposals: list[Proposal] = []
    for frames in streams(car.photos, largest_clock_error_s=rules.clock_error_s):
        table = _Table(car.plan, shots, setups, rules, decided, cards or {})
        weights = table.weights(frames) if shots else ()
        for place, frame in enumerate(frames):
            if frame.photo.sha256 in decided:
                continue
            if shots:
                proposals.append(table.proposal(frames, place, weights[place]))
            else:
                proposals.append(Proposal(frame.photo.sha256, None, Sureness.WEAK, 0.0, reasons=(_NO_SHOTS,)))
    return tuple(proposals)


def _shots(car: Car) -> tuple[Shot, ...]:
    """The shots that apply or may, in shooting order: by setup, then as the plan lists them."""
    facts, order = car.fact_values(), {setup.id: place for place, setup in enumerate(car.plan.setups)}
    kept = [
        s
        for s in car.plan.shots
        if s.id not in car.closings and (not s.when or s.when.answer(facts).holds is not False)
    ]
    return tuple(sorted(kept, key=lambda shot: order.get(shot.setup, len(order))))


def exposure_value(photo_frame: Frame) -> float | None:
    """Exposure value at ISO 100, log2(N² / t) − log2(ISO / 100) (ISO 2720); f/4 stands in where no f-number is told."""
    camera = photo_frame.photo.camera
    if not camera.exposure_s or not camera.iso or camera.exposure_s <= 0 or camera.iso <= 0:
        return None
    number = camera.f_number if camera.f_number and camera.f_number > 0 else 4.0
    return log2(number * number / camera.exposure_s) - log2(camera.iso / 100)


class _Table:
    """The costs of one stream of frames against one row of shots."""

    def __init__(
        self,
        plan: Plan,
        shots: tuple[Shot, ...],
        setups: tuple[str, ...],
        rules: MatchRules,
        decided: Mapping[str, Placement],
        cards: Mapping[str, str],
    ) -> None:
        self.plan, self.shots, self.setups, self.rules = plan, shots, setups, rules
        self.decided, self.cards = decided, cards
        self.index = {shot.id: place for place, shot in enumerate(shots)}
        self.near_before: list[bool] = []
        self.fixed: set[tuple[str | None, str | None]] = set()

    def stops(self, frames: Sequence[Frame]) -> list[Stop]:
        """The shots as stops; clips nobody filmed cost little to pass."""
        clips = any(frame.photo.media is MediaKind.CLIP for frame in frames)
        stops = []
        for shot in self.shots:
            light = shot.need is Need.OPTIONAL or (shot.media is Media.VIDEO and not clips)
            light = light or (shot.need is Need.CONDITIONAL and not shot.rust)
            stops.append(Stop(self._leg(shot), self.rules.skip_optional if light else self.rules.skip))
        return stops

    def _leg(self, shot: Shot) -> int:
        return self.setups.index(shot.setup) if shot.setup in self.setups else len(self.setups)

    def weights(self, frames: Sequence[Frame]) -> tuple[Weights, ...]:
        """The alignment's answer for every frame."""
        r = self.rules
        return align(self.stops(frames), self.steps(frames), skip_first=r.skip_first, skip_leg=r.skip_setup)

    def steps(self, frames: Sequence[Frame]) -> list[Step]:
        """Every frame's weights."""
        self.fixed = _fixed_lens(frames)
        steps, before = [], None
        for frame in frames:
            near = before is not None and self._retake(before, frame)
            self.near_before.append(near)
            steps.append(self._step(frame, near))
            before = frame
        return steps

    def _retake(self, before: Frame, frame: Frame) -> bool:
        bits = dhash_distance(before.photo.pixels.dhash, frame.photo.pixels.dhash)
        return frame.gap_s <= self.rules.near_s and bits <= self.rules.near_bits

    def _step(self, frame: Frame, near: bool) -> Step:
        r = self.rules
        fits = [exp(-sum(self.costs(frame, shot).values())) for shot in self.shots]
        none = 1.0
        anchor = self.decided.get(frame.photo.sha256)
        if anchor is not None:
            fits, none = self._anchored(anchor)
        card_leg = None
        if frame.photo.sha256 in self.cards and anchor is None:
            fits = [1e-9] * len(self.shots)
            card = self.cards[frame.photo.sha256]
            card_leg = self.setups.index(card) if card in self.setups else None
        break_cost, leave = exp(-r.pause_inside * frame.pause), exp(-r.leave_retake) if near else 1.0
        cross = exp(-r.setup_unpaused * (1 - frame.pause))
        more = [exp(-(0.0 if near else (r.stay if s.count > 1 else r.stay_single))) * break_cost for s in self.shots]
        again = [weight * exp(-r.none_again) for weight in more] if not near else [leave] * len(self.shots)
        loose = exp(-r.none) * (leave if near else 1.0)
        return Step(
            fits=fits,
            none=none,
            go=leave,
            go_after_none=leave,
            same_leg=break_cost,
            cross=cross if card_leg is None else 1.0,
            stay=more,
            back=again,
            loose=loose,
            loose_again=exp(-(0.0 if near else r.none_again)) * (1.0 if anchor is None else exp(-r.none)),
            none_in=card_leg,
        )

    def _anchored(self, anchor: Placement) -> tuple[list[float], float]:
        """A person's word: all weight there, and just enough elsewhere for a frame that stands out of order."""
        if anchor.target is Target.SHOT and anchor.shot in self.index:
            fits = [0.0] * len(self.shots)
            fits[self.index[anchor.shot]] = 1.0
            return fits, 1e-5
        return [1e-9] * len(self.shots), 1.0

    def costs(self, frame: Frame, shot: Shot) -> dict[str, float]:
        """What speaks against this shot in the frame itself, by name; nothing is said where nothing is known."""
        r, photo, found = self.rules, frame.photo, {}
        if (photo.media is MediaKind.CLIP) != (shot.media is Media.VIDEO):
            found["media"] = 12.0
        if photo.camera.focal_35mm and photo.camera.focal_35mm > 0 and shot.camera.lens_mm:
            low, high = shot.camera.lens_mm
            focal = photo.camera.focal_35mm
            share = r.focal_fixed if (photo.camera.make, photo.camera.model) in self.fixed else 1.0
            if focal < low:
                found["focal"] = share * r.focal * log2(low / focal)
            elif focal > high:
                found["focal"] = share * (r.focal_close if shot.close_m else r.focal) * log2(focal / high)
        value = exposure_value(frame)
        if value is not None:
            open_air = shot.camera.at in _OPEN_AIR and not self._roofed(shot.setup)
            if value <= r.ev_roofed if open_air else value >= r.ev_open_air:
                found["light"] = r.light
        if photo.height > photo.width and (shot.camera.distance_m or 0.0) >= r.portrait_from_m:
            found["portrait"] = r.portrait
        return found

    def _roofed(self, setup: str) -> bool:
        """Whether the setup's shots are mostly under a lift or inside, so that light says nothing of the sky."""
        places = [shot.camera.at for shot in self.shots if shot.setup == setup]
        return 2 * sum(place in _OPEN_AIR for place in places) < len(places)

    def proposal(self, frames: Sequence[Frame], place: int, weights: Weights) -> Proposal:
        """The best answer for one frame, its sureness and its reasons."""
        r, frame = self.rules, frames[place]
        spread = [weight**r.trust for weight in weights.stops]
        none = sum(weights.none) ** r.trust
        total = sum(spread) + none
        ranked = sorted(range(len(spread)), key=lambda i: -spread[i])[:5]
        offers = tuple(Offer(self.shots[i].id, round(spread[i] / total, 4)) for i in ranked)
        best, score, none = ranked[0], spread[ranked[0]] / total, none / total
        if none > score:
            return self._extra(frame, self.shots[best].zone, none, offers)
        shot, near, costs = self.shots[best], self.near_before[place], self.costs(frame, self.shots[best])
        second = offers[1].score if len(offers) > 1 else 0.0
        gap = score - max(none, second)
        rival = self.shots[ranked[1]] if len(ranked) > 1 and score - second < r.strong_gap else None
        return Proposal(
            sha256=frame.photo.sha256,
            target=Target.SHOT,
            sureness=self._sureness(score, gap, sum(costs.values())),
            score=round(score, 4),
            shot=shot.id,
            zone=shot.zone,
            slot=self._slot(frame, shot),
            offers=offers,
            penalties=costs,
            reasons=_reasons(frame, shot, costs, near, rival),
        )

    def _sureness(self, score: float, gap: float, cost: float) -> Sureness:
        r = self.rules
        if score >= r.strong and gap >= r.strong_gap and cost <= r.strong_cost:
            return Sureness.STRONG
        return Sureness.LIKELY if score >= r.likely and gap >= r.likely_gap else Sureness.WEAK

    def _extra(self, frame: Frame, zone: str, score: float, offers: tuple[Offer, ...]) -> Proposal:
        """No shot: an extra of the zone of the likeliest shot. Always weak: only a look can tell."""
        return Proposal(
            sha256=frame.photo.sha256,
            target=Target.EXTRA,
            sureness=Sureness.WEAK,
            score=round(score, 4),
            zone=zone,
            offers=offers,
            penalties={"no-shot": self.rules.none},
            reasons=("Fits no open shot at this place in the order.",),
        )

    def _slot(self, frame: Frame, shot: Shot) -> Slot | None:
        """Context from the shot's own distance, proof where a longer lens was put on."""
        if not shot.rust or shot.close_m is None:
            return None
        focal, lens = frame.photo.camera.focal_35mm, shot.camera.lens_mm
        return Slot.PROOF if focal and lens and focal > lens[1] * 1.1 else Slot.CONTEXT


def _fixed_lens(frames: Sequence[Frame]) -> set[tuple[str | None, str | None]]:
    """Cameras of which at least four frames are there, all at one focal length."""
    seen: dict[tuple[str | None, str | None], list[float | None]] = {}
    for frame in frames:
        camera = frame.photo.camera
        seen.setdefault((camera.make, camera.model), []).append(camera.focal_35mm)
    return {camera for camera, focals in seen.items() if len(focals) >= 4 and len(set(focals)) == 1}


def _reasons(frame: Frame, shot: Shot, costs: Mapping[str, float], near: bool, rival: Shot | None) -> tuple[str, ...]:
    """The same in words for a person: what speaks for it, then what against."""
    words = ["Looks like the frame before: a retake." if near else "Stands at this place in the shooting order."]
    lens, focal = shot.camera.lens_mm, frame.photo.camera.focal_35mm
    if "focal" in costs and lens and focal:
        words.append(f"Taken at {focal:g} mm; the plan asks for {lens[0]} to {lens[1]} mm.")
    if "light" in costs:
        words.append("The exposure does not fit the light of this shot.")
    if "portrait" in costs:
        words.append("Portrait; the plan shows this view wide.")
    if "media" in costs:
        words.append("The plan asks for a clip." if shot.media is Media.VIDEO else "The plan asks for a still.")
    if rival is not None:
        words.append(f"Could also be: {rival.title}.")
    return tuple(words)
