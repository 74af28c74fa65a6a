"""What was not seen and not tested, each with its reason, and what the house lets stand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from . import wording
from .applicability import Applicability
from .coverage import ComponentCoverage, Outcome, PlaceCoverage, ShotCoverage, State
from .coverage_gaps import place_name
from .decision import Closed, Waiver, WaiverOf
from .edition_draft import Draft
from .page import GapShown, Line
from .phrases import capital, fact_name, listed, said, say
from .plan import Need
from .statement import CheckVerdict

_SILENT = (State.COVERED, State.NOT_FITTED)


def not_seen(draft: Draft) -> tuple[GapShown, ...]:
    """Shots without proof, rust-prone places without proof, components that nobody spoke of, facts not answered."""
    rows: list[GapShown] = []
    for shot in (one for one in draft.coverage.shots if draft.is_public(one.shot.zone)):
        if shot.state not in _SILENT and not (shot.shot.need is Need.OPTIONAL and shot.state is State.MISSED):
            rows.append(_shot_gap(draft, shot))
    rows += [_place_gap(draft, place) for place in draft.coverage.places if place.state not in _SILENT]
    rows += _component_gaps(draft)
    rows += [_fact_gap(draft, fact) for fact in draft.coverage.unanswered]
    order = {zone.name: place for place, zone in enumerate(draft.words.zones.values())}
    return tuple(sorted(rows, key=lambda row: order.get(row.zone_name, len(order))))


def _sentence(key: str, subject: str, reason: str, waiver: Waiver | None) -> tuple[str, str]:
    """The reason, with the waiver's beside it, and the sentence."""
    why = say("why.let-stand", why=reason, reason=_bare(waiver.reason)) if waiver else reason
    return capital(why), capital(say(key, subject=subject, reason=why))


def _bare(text: str) -> str:
    return " ".join(text.split()).rstrip(". ")


def _waiver(draft: Draft, of: WaiverOf, subject: str) -> Waiver | None:
    return draft.car.waivers.get(f"{of}:{subject}")


def _shot_gap(draft: Draft, covered: ShotCoverage) -> GapShown:
    shot = covered.shot
    key = "partly-seen" if covered.state is State.PARTLY else "not-seen"
    reason, sentence = _sentence(key, shot.title, _shot_why(draft, covered), _waiver(draft, WaiverOf.SHOT, shot.id))
    return GapShown("shot", shot.title, draft.zone_name(shot.zone), reason, sentence, (shot.id,))


def _shot_why(draft: Draft, covered: ShotCoverage) -> str:
    """Why a shot shows nothing, or not all, in words without anybody's name."""
    state, closing = covered.state, draft.car.closings.get(covered.shot.id)
    if state is State.NOT_REACHABLE and closing is not None and closing.closed is Closed.NOT_REACHABLE:
        why = said(f"why.{closing.reason}") or _bare(closing.reason.replace("-", " ")) or say("why.none")
        return f"{why} ({_bare(closing.note)})" if _bare(closing.note) else why
    if state is State.PARTLY:
        return say("why.missing", missing=listed(covered.missing))
    if state is State.DECIDE:
        return say("why.decide", facts=_facts(covered.asks))
    return say("why.taken" if state is State.TAKEN else "why.missed")


def _facts(asks: tuple[str, ...]) -> str:
    return listed(fact_name(fact) for fact in asks)


def _place_gap(draft: Draft, covered: PlaceCoverage) -> GapShown:
    part = next((draft.part(part) for part in covered.place.components if draft.part(part)), None)
    subject = place_name(covered)
    key = "partly-seen" if covered.state is State.PARTLY else "not-seen"
    shots = {shot.shot.id: shot for shot in draft.coverage.shots}
    behind = [shots[one] for one in covered.shots if one in shots]
    why = _place_why(draft, covered, behind)
    reason, sentence = _sentence(key, subject, why, _waiver(draft, WaiverOf.PLACE, covered.place.id))
    return GapShown("place", subject, draft.zone_name(part.zone) if part else "", reason, sentence, (covered.place.id,))


def _place_why(draft: Draft, covered: PlaceCoverage, behind: list[ShotCoverage]) -> str:
    if covered.state is State.DECIDE:
        return say("why.decide", facts=_facts(covered.asks))
    if covered.state is State.NOT_REACHABLE:
        closed = next((shot for shot in behind if shot.state is State.NOT_REACHABLE), None)
        return _shot_why(draft, closed) if closed else say("why.none")
    if covered.state is State.TAKEN:
        return say("why.taken")
    return say("why.no-proof", lacking=listed(_lacking(covered)))


def _lacking(covered: PlaceCoverage) -> Iterator[str]:
    if not covered.context:
        yield say("why.context")
    if not covered.proof:
        yield say("why.proof")
    if covered.context and covered.proof:
        yield say("why.items")


def _component_gaps(draft: Draft) -> Iterator[GapShown]:
    """One row for the parts of a zone that nobody spoke of; a part that was let stand has a row of its own."""
    silent: dict[str, list[ComponentCoverage]] = {}
    for covered in draft.coverage.components:
        part = covered.component
        if covered.outcome is not Outcome.NOT_SEEN or covered.state is State.NOT_FITTED:
            continue
        if not draft.is_public(part.zone):
            continue
        waiver = _waiver(draft, WaiverOf.COMPONENT, part.id)
        if waiver is None:
            silent.setdefault(part.zone, []).append(covered)
            continue
        reason, sentence = _sentence("not-seen", part.name, say("why.component"), waiver)
        yield GapShown("component", part.name, draft.zone_name(part.zone), reason, sentence, (part.id,))
    for zone, parts in silent.items():
        named = "; ".join(covered.component.name for covered in parts)
        subject = say("parts-of", zone=draft.zone_name(zone))
        sentence = say("not-spoken", zone=draft.zone_name(zone), parts=named)
        ids = tuple(covered.component.id for covered in parts)
        yield GapShown("component", subject, draft.zone_name(zone), capital(say("why.component")), sentence, ids)


def _fact_gap(draft: Draft, fact: str) -> GapShown:
    name = capital(fact_name(fact))
    waiver = _waiver(draft, WaiverOf.FACT, fact)
    reason = capital(
        say("why.let-stand", why=say("why.fact"), reason=_bare(waiver.reason)) if waiver else say("why.fact")
    )
    return GapShown("fact", name, "", reason, say("not-answered", subject=name), (fact,))


def not_tested(draft: Draft) -> tuple[GapShown, ...]:
    """Checks that apply, or may, and that nobody made or that somebody could not make."""
    rows, applies = [], Applicability(draft.car)
    for asked in draft.words.checks.values():
        result = draft.car.checks.get(asked.id)
        if result is None and applies.check(asked).holds is not False:
            why = say("why.check")
        elif result is not None and result.verdict is CheckVerdict.NOT_TESTED:
            why = wording.check_reason(result, draft.words)
            why = f"{why} ({_bare(result.note)})" if _bare(result.note) else why
        else:
            continue
        sentence = capital(say("not-tested", subject=asked.item, reason=why))
        rows.append(GapShown("check", asked.item, draft.zone_name(asked.zone), capital(why), sentence, (asked.id,)))
    for result in draft.car.checks.values():
        if result.check not in draft.words.checks and result.verdict is CheckVerdict.NOT_TESTED:
            item, why = wording.check_item(result, None), wording.check_reason(result, draft.words)
            sentence = capital(say("not-tested", subject=item, reason=why))
            rows.append(GapShown("check", item, "", capital(why), sentence, (result.check,)))
    return tuple(rows)


def let_stand(draft: Draft) -> tuple[Line, ...]:
    """Waived gaps and rules that are lifted, each with its reason and the role of who let it stand.

    A waiver of a rule that does not speak, or that nobody may lift, lifts nothing and is not printed.
    """
    names = _subjects(draft)
    lifted = {answer.rule.id for answer in draft.rules if answer.speaks and answer.waived}
    lines = []
    for waiver in draft.car.waivers.values():
        if waiver.of is WaiverOf.RULE and waiver.subject not in lifted:
            continue
        rule = draft.words.signoff.get(waiver.subject) if waiver.of is WaiverOf.RULE else None
        if waiver.of is WaiverOf.RULE:
            label = say("waiver.rule", rule=_bare(rule.rule) if rule else waiver.subject)
        else:
            label = names.get((waiver.of, waiver.subject)) or fact_name(waiver.subject)
        words = say("waiver", reason=capital(_bare(waiver.reason)), who=draft.roles.the(waiver.by))
        lines.append(Line(capital(label), words))
    return tuple(lines)


def _subjects(draft: Draft) -> Mapping[tuple[WaiverOf, str], str]:
    named = {(WaiverOf.SHOT, shot.id): shot.title for shot in draft.car.plan.shots}
    named |= {(WaiverOf.COMPONENT, part.id): part.name for part in draft.words.components().values()}
    named |= {(WaiverOf.PLACE, covered.place.id): place_name(covered) for covered in draft.coverage.places}
    return named
