"""Reading a plan with its vocabulary, its base and all that it includes, and building the domain's value from it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ..domain.plan import Camera, Media, MustSee, Need, Plan, PrivateSight, Setup, Shot
from .composing import Composed, compose
from .fields import Rows
from .nodes import Items
from .plan_fields import HEAD, SHOT, slug
from .reading import Reading, Row, Spot
from .vocabulary import WordLists, build, condition, raise_broken, read_lists, settle, with_shots

VOCABULARY = "vocabulary"


@dataclass(frozen=True, slots=True)
class PlanRows:
    """A plan with all it is made of and its vocabulary, as rows with their places.

    `head` is None where the file is no plan; `made` says what came from the base and what was dropped.
    """

    head: Row | None
    shots: tuple[Row, ...]
    lists: WordLists
    made: Composed


def load_plan(path: Path, vocabulary: Path | None = None, shelf: Path | None = None) -> Plan:
    """Read and check a plan with all it is made of, and the vocabulary it stands on.

    Args:
        vocabulary: the folder of word lists; left out, the folder `vocabulary` beside the plan, else that on the shelf.
        shelf: a folder of plans, such as those that ship, in which a base is looked for after the plan's own folder.

    Raises:
        PlanBroken: something is wrong in any of the files; `problems` names every place.
    """
    reading = Reading()
    rows = read_plan(path, vocabulary, reading, shelf)
    raise_broken(reading, path.name)
    return build_plan(rows)


def vocabulary_for(path: Path, otherwise: Path) -> Path:
    """The vocabulary folder beside a plan file, or `otherwise` (such as the one that ships) where there is none."""
    beside = path.parent / VOCABULARY
    return beside if beside.is_dir() else otherwise


def read_plan(path: Path, vocabulary: Path | None, reading: Reading, shelf: Path | None = None) -> PlanRows:
    """Read the plan and its vocabulary into rows; problems are noted, nothing is raised."""
    made = compose(path, reading, shelf) or Composed(None)
    head = HEAD.read(made.head, Spot(reading, "plan")) if made.head is not None else None
    shots: tuple[Row, ...] = ()
    if made.shots:
        shots = Rows(SHOT).read(Items(made.shots[0].mark, list(made.shots)), Spot(reading, "shots")) or ()
    elif made.head is not None and not reading.problems.errors():
        Spot(reading, "shots").wrong(made.head, "no shot is left", "drop fewer of them, or add some")
    lists = read_lists(vocabulary or vocabulary_for(path, (shelf or path.parent) / VOCABULARY), reading)
    reading.know("shots", {node.text for kinds, node, _ in reading.referred if "shots" in kinds})
    settle(reading, lists)
    return PlanRows(head, shots, lists, made)


def build_plan(rows: PlanRows) -> Plan:
    """The plan of rows that are known to be good."""
    head = rows.head
    if head is None:
        raise ValueError("a plan is built only after its reading found no error")
    shots = tuple(_shot(row) for row in rows.shots)
    proofs = {shot.id: (frozenset(shot.components), shot.rust and shot.close_m is not None) for shot in shots}
    return Plan(
        id=head["id"],
        title=head["title"],
        applies=condition(head["applies"]),
        setups=tuple(Setup(row["id"], row["name"], row["minutes"]) for row in head["setups"]),
        shots=shots,
        vocabulary=with_shots(build(rows.lists), proofs),
    )


def _shot(row: Row) -> Shot:
    close = row["close"]
    return Shot(
        id=row["id"],
        title=row["title"],
        setup=row["setup"],
        zone=row["zone"],
        components=row["comps"],
        camera=_camera(row["cam"]),
        framing=row["frame"],
        light=row["light"],
        must=tuple(MustSee(slug(words), words) for words in row["must"]),
        count=row["count"],
        need=Need(row["need"]),
        rust=row["rust"],
        when=condition(row["when"]),
        close_m=_float(close["dist"]) if close else None,
        close_scale=close["scale"] if close else "none",
        media=Media(row["media"]),
        cautions=row["caution"],
        private=tuple(PrivateSight(sight) for sight in row["private"]),
    )


def _camera(row: Row) -> Camera:
    return Camera(
        at=row["at"],
        distance_m=_float(row["dist"]),
        height_m=_float(row["h"]),
        lens_mm=row["lens"],
        bearing_deg=_float(row["bearing"]),
        spot=row["spot"],
        look=row["look"],
    )


def _float(value: float | None) -> float | None:
    return None if value is None else float(value)
