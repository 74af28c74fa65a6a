"""The vocabulary: the word lists a plan stands on, read from one folder with one file a list."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from ..domain.condition import Condition
from ..domain.errors import PlanBroken
from ..domain.plan import (
    BasisWord,
    Caution,
    CheckAsked,
    Component,
    Effect,
    FactAsked,
    FactKind,
    FindingKind,
    GalleryGroup,
    MeasurementAsked,
    Reason,
    RustPlace,
    SignoffRule,
    Tone,
    Vocabulary,
    Zone,
    ZoneGallery,
)
from . import claim_fields
from .nodes import read_nodes
from .problems import Mark, did_you_mean
from .reading import Reading, Row, Spot
from .word_files import FILES

MOTORCYCLE_ZONES = frozenset(("motorcycle", "identity", "documents", "road-test", "handover"))
"""The zones that a motorcycle has; every other zone is on its condition `body != 'motorcycle'`. Trade practice."""

Rowed = Mapping[str, tuple[Row, ...]]


@dataclass(frozen=True, slots=True)
class WordLists:
    """The lists of a vocabulary folder as rows with their places, and the vocabulary built from them.

    `rows` are keyed by the list's key in its file; `values` holds what is no list of rows. `vocabulary` is None
    where something is wrong.
    """

    rows: Rowed
    values: Mapping[str, Any]


def load_vocabulary(folder: Path) -> Vocabulary:
    """Read and check all word lists of the folder.

    Raises:
        PlanBroken: something is wrong; `problems` names every place.
    """
    return build(_good_lists(folder))


def load_lists(folder: Path) -> dict[str, Any]:
    """Every list of the folder by its key, as plain tuples and dicts with the files' own keys.

    For lists that no value of the domain stands for: outlet limits, callers' questions, date rules, title states and
    words of originality.

    Raises:
        PlanBroken: something is wrong; `problems` names every place.
    """
    lists = _good_lists(folder)
    return {key: _bare(value) for key, value in {**lists.rows, **lists.values}.items()}


def _good_lists(folder: Path) -> WordLists:
    reading = Reading()
    lists = read_lists(folder, reading)
    reading.know("shots", {node.text for kinds, node, _ in reading.referred if "shots" in kinds})
    settle(reading, lists)
    raise_broken(reading, folder.name)
    return lists


def _bare(value: Any) -> Any:
    if isinstance(value, Row):
        return {key: _bare(one) for key, one in value.values.items()}
    return tuple(_bare(one) for one in value) if isinstance(value, tuple) else value


def read_lists(folder: Path, reading: Reading) -> WordLists:
    """Read the folder's files into rows; problems are noted, nothing is raised."""
    rows: dict[str, tuple[Row, ...]] = {}
    values: dict[str, Any] = {}
    for name, shape in FILES.items():
        path = folder / name
        if not path.is_file():
            words = f"the vocabulary's file {folder.name}/{name} is not there"
            reading.problems.add(Mark(name), "", words, "copy it from the plans that ship")
            continue
        node = read_nodes(path, reading.problems)
        row = shape.read(node, Spot(reading, "")) if node is not None else None
        for key, value in (row.values if row else {}).items():
            if isinstance(value, tuple) and all(isinstance(entry, Row) for entry in value):
                rows[key] = value
            else:
                values[key] = value
    for path in sorted(folder.glob("*.y*ml")):
        if path.name not in FILES:
            words = "this file is none of the vocabulary's"
            reading.problems.warn(Mark(path.name), "", words, did_you_mean(path.name, FILES) or "move it elsewhere")
    return WordLists(rows, values)


def settle(reading: Reading, lists: WordLists) -> None:
    """Compare names and conditions over everything that has been read so far."""
    reading.settle_names()
    reading.settle_conditions(facts_of(lists))


def facts_of(lists: WordLists) -> dict[str, FactAsked]:
    """The facts as far as they could be read; a list fact with `also` takes the ids of that list too."""
    facts = {}
    for row in lists.rows.get("facts", ()):
        if not row["id"] or not row["kind"]:
            continue
        more = [other["id"] for other in lists.rows.get(row["also"], ()) if other["id"]] if row["also"] else []
        values = tuple(dict.fromkeys((*row["values"], *more)))
        facts[row["id"]] = FactAsked(row["id"], FactKind(row["kind"]), values, row["note"])
    return facts


def raise_broken(reading: Reading, what: str, shape: type[PlanBroken] = PlanBroken, next_step: str = "") -> None:
    """Raise if the reading found errors; warnings alone do not stop anything."""
    errors = reading.problems.errors()
    if errors:
        some = "1 problem" if len(errors) == 1 else f"{len(errors)} problems"
        problems = tuple(str(problem) for problem in errors)
        raise shape(f"{what} has {some}.", problems=problems, next_step=next_step)


def build(lists: WordLists) -> Vocabulary:
    """The vocabulary of rows that are known to be good."""
    rows = lists.rows
    groups = lists.values["groups"].values if lists.values["groups"] else {}
    return Vocabulary(
        facts=facts_of(lists),
        zones=_keyed(_zone(row) for row in rows["zones"]),
        rust_places=_keyed(_places(rows)),
        findings=_keyed(_finding(row) for row in rows["findings"]),
        checks=_keyed(_check(row) for row in rows["checks"]),
        not_tested_reasons=_keyed(Reason(row["id"], row["name"], row["note"]) for row in rows["not_tested_reasons"]),
        measurements=_keyed(_measure(row) for row in rows["measures"]),
        bases=_keyed(_basis(row) for row in rows["evidence_basis"]),
        cautions=_keyed(Caution(row["id"], row["name"], row["text"]) for row in rows["cautions"]),
        signoff=_keyed(_rule(row) for row in rows["signoff_rules"]),
        gallery_groups=_keyed(_group(row) for row in rows["gallery_groups"]),
        zone_gallery={
            row["zone"]: ZoneGallery(row["zone"], row["group"], row["close"]) for row in rows["zone_gallery"]
        },
        claims=_keyed(claim_fields.claim(row, groups) for row in rows["claims"]),
        wording=_keyed(claim_fields.wording(row, groups) for row in rows["wording"]),
        words={
            **{name: tuple(words) for name, words in lists.values["word_lists"].values.items()},
            "skin_only_rust": tuple(lists.values["skin_only_rust"]),
        },
    )


def with_shots(vocabulary: Vocabulary, shots: Mapping[str, tuple[frozenset[str], bool]]) -> Vocabulary:
    """The vocabulary whose rust-prone places name the shots of one plan that prove them.

    `shots` gives for each shot its components and whether it is a rust shot with a close frame, in the plan's order.
    A place keeps those of its named shots that the plan has. Rust shots that no place names, as a house's own plan has
    them, prove the places whose own part, the first component, they show; a place that names none is proved by every
    rust shot that shares a component with it.
    """
    named = {shot for place in vocabulary.rust_places.values() for shot in place.shots}
    places = {}
    for place in vocabulary.rust_places.values():
        kept = [shot for shot in place.shots if shot in shots]
        where = set(place.components[:1] if place.shots else place.components)
        kept += [shot for shot, (parts, rust) in shots.items() if rust and shot not in named and parts & where]
        places[place.id] = replace(place, shots=tuple(kept))
    return replace(vocabulary, rust_places=places)


def condition(text: str | None) -> Condition | None:
    """The text as a condition; None stays None."""
    return None if text is None else Condition(text)


def _keyed(entries: Iterable[Any]) -> dict[str, Any]:
    return {entry.id: entry for entry in entries}


def _zone(row: Row) -> Zone:
    when = row["when"]
    if row["id"] not in MOTORCYCLE_ZONES:
        when = f"({when}) and body != 'motorcycle'" if when else "body != 'motorcycle'"
    parts = tuple(
        Component(part["id"], part["name"], row["id"], part["rust"], part["struct"], condition(part["when"]))
        for part in row["components"]
    )
    return Zone(row["id"], row["name"], row["group"], parts, condition(when))


def _places(rows: Rowed) -> Iterable[RustPlace]:
    tests = {row["id"]: row["when"] for row in rows["type_tests"]}
    for row in rows["rust_places"]:
        when = " or ".join(f"({tests[kind]})" for kind in row["types"])
        yield RustPlace(
            id=row["id"],
            components=row["comps"],
            where=row["where"],
            why=row["why"],
            photo=row["photo"],
            good=row["good"],
            bad=row["bad"],
            disguise=row["disguise"],
            types=row["types"],
            when=Condition(when),
            shots=row["shots"],
        )


def _finding(row: Row) -> FindingKind:
    extent = row["extent"]
    return FindingKind(
        row["id"],
        row["group"],
        Tone(row["tone"]),
        row["name"],
        row["def"],
        row["photo"],
        extent["what"],
        extent["unit"],
        row["say"],
    )


def _check(row: Row) -> CheckAsked:
    return CheckAsked(
        row["id"],
        row["item"],
        row["zone"],
        row["comps"],
        row["how"],
        row["who"],
        row["caution"],
        condition(row["when"]),
    )


def _measure(row: Row) -> MeasurementAsked:
    return MeasurementAsked(
        id=row["id"],
        name=row["name"],
        unit=row["unit"],
        other_unit=row["alt"],
        tool=row["tool"],
        method=row["method"],
        range=row["range"],
        rounding=row["round"],
        uncertainty=row["uncertainty"],
        who=row["who"],
        source=row["basis"],
        cautions=row["caution"],
    )


def _basis(row: Row) -> BasisWord:
    return BasisWord(
        row["id"],
        row["name"],
        row["rank"],
        row["needs"],
        row["def"],
        row["phrase"],
        row["proves"],
        row["proves_not"],
    )


def _rule(row: Row) -> SignoffRule:
    return SignoffRule(row["id"], Effect(row["effect"]), row["rule"], row["liftable"])


def _group(row: Row) -> GalleryGroup:
    return GalleryGroup(row["id"], row["order"], row["name"], row["holds"])
