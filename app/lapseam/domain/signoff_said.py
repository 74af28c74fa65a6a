"""Sign-off rules about what was said: findings, told facts, the not-seen list, identity, privacy, two people."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from itertools import zip_longest
from types import MappingProxyType
from typing import Final

from .applicability import Applicability
from .coverage_words import Outcome
from .decision import PROGRAM, Sureness, Target
from .finding import Finding, FindingState, Severity
from .finding_gaps import NO_PHOTO_KINDS, lacks_of
from .signoff_case import MANAGER, Case, Evaluator
from .statement import Basis, CheckVerdict, SerialPlace

_TELLING: Final = re.compile(
    r"\b(stated|states|reported|reports|told|tells|said|says|according to|in the words of)\b", re.IGNORECASE
)


def _standing(case: Case) -> Iterator[Finding]:
    return (found for found in case.car.findings if found.state is not FindingState.CORRECTED)


def _finding_photo(case: Case) -> tuple[str, ...]:
    reasons = []
    for found in _standing(case):
        lacks = lacks_of(found, case.car)
        if lacks:
            reasons.append(f"Finding {found.number} on {found.component} lacks {', '.join(lacks)}.")
    return tuple(reasons)


def _structural_shown(case: Case) -> tuple[str, ...]:
    """Before an edition: a photo that may be shown must exist. With one: each outlet shows it or names it."""
    withheld = case.withheld()
    reasons = []
    for found in _standing(case):
        if found.severity.rank < Severity.STRUCTURAL.rank or found.kind in NO_PHOTO_KINDS:
            continue
        shown = {sha256 for sha256 in found.photos if case.car.photo(sha256) and sha256 not in withheld}
        if not shown:
            reasons.append(f"Finding {found.number} is {found.severity.replace('-', ' ')} and has no photo to show.")
        for name, outlet in (case.public.outlets if case.public else {}).items():
            if not shown & outlet.photos and found.number not in outlet.findings:
                reasons.append(f"Finding {found.number} is {found.severity}, and {name} neither shows nor names it.")
    return tuple(reasons)


def _told(case: Case) -> tuple[str, ...]:
    evidence = [
        *(("Statement", one.number, one.evidence) for one in case.car.statements),
        *(("Finding", one.number, one.evidence) for one in _standing(case)),
    ]
    nobody = [
        f"{kind} {number} was told, and not by whom."
        for kind, number, on_file in evidence
        if on_file.basis is Basis.TOLD and not on_file.who_said.strip()
    ]
    printed = [
        f"Printed without saying that it was told: {sentence.words}"
        for sentence in (case.public.sentences if case.public else ())
        if sentence.basis is Basis.TOLD and not _TELLING.search(sentence.words)
    ]
    return (*nobody, *printed)


def _not_seen_list(case: Case) -> tuple[str, ...]:
    """Before an edition: what is not tested needs its reason, so that it can be printed. With one: all is listed."""
    words = case.car.plan.vocabulary
    results = case.car.checks
    reasons = [
        f"{_item(case, check)}: not tested, and no reason is on file."
        for check, result in results.items()
        if result.verdict is CheckVerdict.NOT_TESTED and not result.reason.strip()
    ]
    if case.public is None:
        return tuple(reasons)
    applies = Applicability(case.car)
    asked = [check for check in words.checks.values() if applies.check(check).holds is not False]
    untested = [
        *(check.id for check in asked if check.id not in results),
        *(check for check, result in results.items() if result.verdict is CheckVerdict.NOT_TESTED),
    ]
    reasons += [
        f"{covered.component.name}: not seen, and the disclosure page does not list it."
        for covered in case.coverage.components
        if covered.outcome is Outcome.NOT_SEEN and covered.component.id not in case.public.not_seen
    ]
    reasons += [
        f"{_item(case, check)}: not tested, and the disclosure page does not list it."
        for check in untested
        if check not in case.public.not_tested
    ]
    return tuple(reasons)


def _item(case: Case, check: str) -> str:
    asked = case.car.plan.vocabulary.checks.get(check)
    return asked.item if asked is not None else case.car.checks[check].item or check


def _identity(case: Case) -> tuple[str, ...]:
    """The two readings exactly as written, character by character; nothing is cleaned up, trimmed or corrected."""
    readings = case.car.serials
    unread = [place for place in SerialPlace if place.value not in readings or not readings[place.value].text]
    if unread:
        return tuple(f"The serial on the {place} has not been read." for place in unread)
    on_car, on_paper = readings[SerialPlace.CAR.value].text, readings[SerialPlace.PAPER.value].text
    for position, (one, other) in enumerate(zip_longest(on_car, on_paper), start=1):
        if one != other:
            return (
                f"The serials differ at character {position}: {_character(one)} on the car, "
                f"{_character(other)} on the paper.",
            )
    return ()


def _character(character: str | None) -> str:
    return "nothing more" if character is None else f"{character!r}"


def _privacy(case: Case) -> tuple[str, ...]:
    """Before an edition nothing is public: what nobody has looked at is withheld, so the rule does not speak."""
    if case.public is None:
        return ()
    withheld = case.withheld()
    return (
        *(f"{why}, and it is in the public files." for sha256, why in withheld.items() if sha256 in case.public.photos),
        *(f"{name} still holds position data." for name in case.public.with_position),
        *(f"{name} still holds an embedded preview." for name in case.public.with_preview),
    )


def hands_of(case: Case) -> dict[str, str]:
    """Who had a hand in the photos or the ad, with what he did; a proposal of the program's is nobody's."""
    placed: dict[str, int] = {}
    for placement in case.car.placements.values():
        if placement.target is Target.SHOT and placement.sureness is Sureness.DECIDED and placement.by != PROGRAM:
            placed[placement.by] = placed.get(placement.by, 0) + 1
    wrote: dict[str, int] = {}
    for statement in case.car.statements:
        wrote[statement.by] = wrote.get(statement.by, 0) + 1
    return {
        name: " and ".join(
            said
            for said in (
                _counted("placed", placed[name], "photo") if name in placed else "",
                _counted("wrote", wrote[name], "statement") if name in wrote else "",
            )
            if said
        )
        for name in dict.fromkeys((*placed, *wrote))
    }


def _counted(did: str, count: int, thing: str) -> str:
    return f"{did} {count} {thing}" + ("" if count == 1 else "s")


def _two_people(case: Case) -> tuple[str, ...]:
    """The signer neither placed photos nor wrote the ad; a written house rule allows it, if the page says so."""
    hands = hands_of(case)
    if case.house.one_person_firm:
        own = case.car.signoff is not None and case.car.signoff.by in hands
        silent = case.public is not None and not case.public.says_one_person
        return ("The page does not say that one person wrote and signed.",) if own and silent else ()
    signer = case.car.signoff.by if case.car.signoff is not None else ""
    if signer in hands:
        return (f"{signer} signed and also {hands[signer]}.",)
    managers = [person.name for person in case.house.people if MANAGER in person.roles]
    if managers and all(name in hands for name in managers):
        return tuple(f"{name} is a manager and also {hands[name]}; nobody else can sign." for name in managers)
    return ()


def barred(case: Case) -> tuple[str, ...]:
    """Names that so-two-people keeps from signing."""
    return () if case.house.one_person_firm else tuple(hands_of(case))


RULES: Final[Mapping[str, Evaluator]] = MappingProxyType(
    {
        "so-finding-photo": _finding_photo,
        "so-structural-shown": _structural_shown,
        "so-told": _told,
        "so-not-seen-list": _not_seen_list,
        "so-identity": _identity,
        "so-privacy": _privacy,
        "so-two-people": _two_people,
    }
)
