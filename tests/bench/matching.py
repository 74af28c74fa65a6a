"""How well matching places the demo card: run as `python -m bench.matching` with tests on the path.

Prints, with no anchor, with one anchor a setup and with every fifth photo placed by a person: top-1 (shots and extras
together), top-1 and top-5 of the photos that answer a shot, how many answers of each sureness were given and were
right, and the time. The last lines are the time for 1,000 photos.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path
from time import perf_counter

sys.path.insert(0, str(Path(__file__).parents[1]))

from fakes import demo_car, demo_card
from lapseam.domain.car import Car
from lapseam.domain.decision import Placement, Sureness, Target
from lapseam.domain.matching import propose
from lapseam.domain.photo import Photo

NOBODY = "somebody"


@dataclass(frozen=True, slots=True)
class Figures:
    """What was measured. `given` and `right` count answers by sureness."""

    photos: int
    top_1: int
    shots: int
    shots_top_1: int
    shots_top_5: int
    given: Counter[Sureness]
    right: Counter[Sureness]
    seconds: float


def anchors(photos: Iterable[Photo]) -> dict[str, Placement]:
    """The true placements of those photos, as a person's."""
    made = {}
    for photo in photos:
        true = demo_card.truth()[photo.name]
        target = Target.SHOT if true.shot else Target.EXTRA
        zone = "" if true.shot else true.zone
        at = demo_car.MADE_AT
        made[photo.sha256] = Placement(photo.sha256, target, NOBODY, at, Sureness.DECIDED, shot=true.shot, zone=zone)
    return made


def one_a_setup() -> list[Photo]:
    """The first photo of each setup that answers a shot."""
    first: dict[str, Photo] = {}
    for photo in demo_card.photos():
        true = demo_card.truth()[photo.name]
        if true.shot:
            first.setdefault(true.setup, photo)
    return list(first.values())


def every_fifth() -> list[Photo]:
    """Every fifth photo by name."""
    return list(demo_card.photos())[2::5]


def measure(placed: dict[str, Placement]) -> Figures:
    """Propose over the demo card with those placements decided, and compare with the key."""
    car = replace(demo_car.bare(), placements=placed)
    began = perf_counter()
    proposals = propose(car)
    seconds = perf_counter() - began
    names = {photo.sha256: photo.name for photo in car.photos}
    top_1 = shots = shots_1 = shots_5 = 0
    given, right = Counter[Sureness](), Counter[Sureness]()
    for one in proposals:
        true = demo_card.truth()[names[one.sha256]]
        good = (one.shot if one.target is Target.SHOT else "") == true.shot
        top_1 += good
        given[one.sureness] += 1
        right[one.sureness] += good
        if true.shot:
            shots += 1
            shots_1 += good
            shots_5 += any(offer.shot == true.shot for offer in one.offers)
    return Figures(len(proposals), top_1, shots, shots_1, shots_5, given, right, seconds)


def many(count: int) -> Car:
    """The demo car with its card repeated on later days until it holds `count` photos."""
    photos: list[Photo] = []
    while len(photos) < count:
        day = len(photos) // len(demo_card.photos())
        for photo in demo_card.photos():
            at = photo.camera.taken_at
            assert at is not None
            camera = replace(photo.camera, taken_at=at + timedelta(days=day))
            photos.append(replace(photo, sha256=f"{day:08x}{photo.sha256[8:]}", camera=camera))
    return replace(demo_car.bare(), photos=tuple(photos[:count]), placements={})


def main() -> None:
    """Print the figures."""
    for words, placed in (
        ("no anchor", {}),
        ("one anchor a setup", anchors(one_a_setup())),
        ("every fifth placed", anchors(every_fifth())),
    ):
        f = measure(placed)
        sure = ", ".join(f"{one.value} {f.right[one]}/{f.given[one]}" for one in Sureness if f.given[one])
        print(
            f"{words}: {f.top_1}/{f.photos} right at once; of {f.shots} that answer a shot {f.shots_top_1} first, "
            f"{f.shots_top_5} among the five offered; right/given: {sure}; {f.seconds * 1000:.0f} ms"
        )
    car = many(1000)
    began = perf_counter()
    propose(car)
    print(f"1,000 photos: {perf_counter() - began:.2f} s")


if __name__ == "__main__":
    main()
