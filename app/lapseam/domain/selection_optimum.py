"""The exact best use of the free places: which candidates together show the most that nothing shows yet.

Every candidate shows elements (a zone, a rust-prone place, a finding, a direction of view), and an element counts once,
however many pictures show it. With a limit on pictures this is maximum coverage, an integer programme. It is solved
exactly by dynamic programming over the candidates in gallery order: what must be remembered of the pictures taken so
far is how many there are and which elements they show that a later candidate shows too, and that is little, since
elements belong to neighbours. Time grows with two to the number of elements that stretch over one point of the order.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Candidate:
    """A picture that may fill a free place; `proof` if it shows a rust-prone place or a finding."""

    id: str
    shows: frozenset[str]
    proof: bool = True


_State = tuple[int, int, int]
"""Pictures taken, those of them that prove nothing, live elements shown (a bit each)."""


def best_fill(
    candidates: Sequence[Candidate], weights: Mapping[str, int], *, places: int, unproving: int
) -> tuple[str, ...]:
    """The candidates of greatest weight, in the order given: at most `places`, of them at most `unproving` no proof.

    Args:
        weights: what showing an element is worth, above 0; elements not named are worth nothing.

    As many places are filled as can be; of equals the set with the earlier candidates is taken. Exact.
    """
    count = len(candidates)
    plain_ones = sum(not one.proof for one in candidates)
    if count <= places and plain_ones <= unproving:
        return tuple(one.id for one in candidates)
    binding = plain_ones > unproving
    last = {element: at for at, one in enumerate(candidates) for element in one.shows if element in weights}
    bits = {element: 1 << place for place, element in enumerate(sorted(last))}
    states: dict[_State, int] = {(0, 0, 0): 0}
    for at, one in enumerate(candidates):
        shown = sum(bits[element] for element in one.shows if element in bits)
        dying = sum(bits[element] for element, end in last.items() if end == at)
        worth = {bits[element]: weights[element] for element in one.shows if element in bits}
        after: dict[_State, int] = {}
        for (taken, plain, mask), key in states.items():
            _keep(after, (taken, plain, mask & ~dying), key)
            more = plain + (binding and not one.proof)
            if taken < places and (not binding or more <= unproving):
                gain = sum(value for bit, value in worth.items() if not mask & bit)
                # The weight stands above one bit a candidate; the first candidate has the highest of these bits.
                grown = key + (gain << count) + (1 << (count - 1 - at))
                _keep(after, (taken + 1, more, (mask | shown) & ~dying), grown)
        states = after
    best = max(states.items(), key=lambda item: (item[0][0], item[1]))[1]
    return tuple(one.id for at, one in enumerate(candidates) if best >> (count - 1 - at) & 1)


def _keep(states: dict[_State, int], state: _State, key: int) -> None:
    if states.get(state, -1) < key:
        states[state] = key
