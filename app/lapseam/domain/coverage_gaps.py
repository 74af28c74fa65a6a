"""The gaps, dearest first: what a wide-open car, a lift slot or a lost sale costs decides the order.

Cost classes: 0 underside rust-prone and structural, 1 other rust-prone, 2 required underside, 3 required,
4 conditional, 5 waiting for a fact, 6 optional. Within a class: missed, then partly, then taken, then the plan's order.
A waived gap is listed after all that are not. What was closed by a person as not reachable or not fitted is no gap to
work on; it is printed as not seen instead.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set
from typing import Final

from .coverage_words import ComponentCoverage, Gap, PlaceCoverage, ShotCoverage, State
from .phrases import count, listed, say
from .plan import Component, Media, Need, Setup, Shot, Vocabulary

UNDERSIDE: Final = frozenset({"under-front", "under-centre", "under-rear", "wheel-wells"})
"""The zones that are seen from below or with a wheel off."""

_OPEN: Final = {State.MISSED: 0, State.PARTLY: 1, State.TAKEN: 2, State.DECIDE: 3}
_STRUCTURAL, _RUST, _UNDER, _REQUIRED, _CONDITIONAL, _DECIDE, _OPTIONAL = range(7)
_KINDS: Final = {"place": 0, "shot": 1, "component": 2}


def gaps_of(
    words: Vocabulary,
    setups: Sequence[Setup],
    shots: Sequence[ShotCoverage],
    components: Sequence[ComponentCoverage],
    places: Sequence[PlaceCoverage],
) -> tuple[Gap, ...]:
    """Every open gap, sorted by rank: (waived, cost class, state, kind, place in its list)."""
    parts = words.components()
    setup_names = {setup.id: setup.name for setup in setups}
    found = [
        *_shot_gaps(parts, setup_names, shots),
        *_place_gaps(parts, places),
        *_component_gaps(components, {covered.shot.zone for covered in shots}),
    ]
    return tuple(sorted(found, key=lambda gap: gap.rank))


def place_name(covered: PlaceCoverage) -> str:
    """The place's first phrase, short enough for a list."""
    where = covered.place.where
    ends = [at for sign in ".:;" if (at := where.find(sign)) > 0]
    return where[: min(ends)] if ends else where or covered.place.id


def _gap(of: str, subject: str, words: str, waived: str, cost: int, state: State, index: int) -> Gap:
    said = say("gap.let-stand", words=words, waived=waived) if waived else words
    return Gap(of, subject, said, (int(bool(waived)), cost, _OPEN[state], _KINDS[of], index))


def _shot_gaps(parts: dict[str, Component], setups: dict[str, str], shots: Sequence[ShotCoverage]) -> Iterator[Gap]:
    for index, covered in enumerate(shots):
        if covered.state not in _OPEN:
            continue
        setup = setups.get(covered.shot.setup, covered.shot.setup)
        words = _shot_words(covered, setup)
        yield _gap("shot", covered.shot.id, words, covered.waived, _shot_cost(parts, covered), covered.state, index)


def _shot_words(covered: ShotCoverage, setup: str) -> str:
    title = covered.shot.title
    if covered.state is State.MISSED:
        return say("gap.missed", title=title, wanted=_wanted(covered.shot), setup=setup)
    if covered.state is State.PARTLY:
        return say("gap.partly", title=title, missing="; ".join(covered.missing), setup=setup)
    if covered.state is State.TAKEN:
        return count("gap.taken", len(covered.photos), title=title)
    return say("gap.decide", title=title, facts=listed(covered.asks))


def _wanted(shot: Shot) -> str:
    thing = "clip" if shot.media is Media.VIDEO else "frame"
    if shot.rust and shot.count <= 2:
        return say("gap.both-frames")
    return say(f"gap.{thing}") if shot.count == 1 else count(f"gap.{thing}s", shot.count)


def _shot_cost(parts: dict[str, Component], covered: ShotCoverage) -> int:
    shot = covered.shot
    if covered.state is State.DECIDE:
        return _DECIDE
    if shot.need is Need.OPTIONAL:
        return _OPTIONAL
    under = shot.zone in UNDERSIDE
    if shot.rust:
        shown = [parts[part] for part in shot.components if part in parts]
        return _STRUCTURAL if under and any(part.rust and part.struct for part in shown) else _RUST
    if shot.need is Need.CONDITIONAL:
        return _CONDITIONAL
    return _UNDER if under else _REQUIRED


def _place_gaps(parts: dict[str, Component], places: Sequence[PlaceCoverage]) -> Iterator[Gap]:
    for index, covered in enumerate(places):
        if covered.state not in _OPEN:
            continue
        shown = [parts[part] for part in covered.place.components if part in parts]
        structural = any(part.struct and part.zone in UNDERSIDE for part in shown)
        cost = _DECIDE if covered.state is State.DECIDE else _STRUCTURAL if structural else _RUST
        words = say("gap.place", place=place_name(covered), reason=covered.reason)
        yield _gap("place", covered.place.id, words, covered.waived, cost, covered.state, index)


def _component_gaps(components: Sequence[ComponentCoverage], walked: Set[str]) -> Iterator[Gap]:
    """Components that no shot of the plan shows: rust-prone ones anywhere, others in the zones the plan walks.

    Every other component stands behind the gaps of its shots.
    """
    for index, covered in enumerate(components):
        part = covered.component
        if covered.shots or covered.state not in _OPEN or not (part.rust or part.zone in walked):
            continue
        under = part.zone in UNDERSIDE
        if covered.state is State.DECIDE:
            cost = _DECIDE
        elif part.rust:
            cost = _STRUCTURAL if under and part.struct else _RUST
        else:
            cost = _UNDER if under else _REQUIRED
        yield _gap("component", part.id, f"{part.name}: {covered.reason}", covered.waived, cost, covered.state, index)
