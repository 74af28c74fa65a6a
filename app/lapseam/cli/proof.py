"""Verbs about what is shown and who answers for it: coverage, review, waive, sign."""

from __future__ import annotations

import argparse

from lapseam.domain.coverage import Coverage, State
from lapseam.domain.decision import Signoff, WaiverOf
from lapseam.domain.errors import NotAllowed
from lapseam.domain.signing_key import grouped
from lapseam.workflow.signing import Review

from .cars import stock
from .passphrase import passphrase, passphrase_arguments
from .verb import Ask, Verb

_MOST_GAPS = 12


def coverage_facts(coverage: Coverage) -> dict[str, object]:
    """What `coverage --json` prints: shots, rust-prone places, components, gaps and a summary."""
    states = [line.state for line in coverage.shots]
    return {
        "shots": [
            {
                "id": line.shot.id,
                "title": line.shot.title,
                "zone": line.shot.zone,
                "state": line.state.value,
                "photos": list(line.photos),
                "accepted": line.accepted,
                "missing": list(line.missing),
                "reason": line.reason,
                "waived": line.waived or None,
                "asks": list(line.asks),
            }
            for line in coverage.shots
        ],
        "rust_prone": [
            {
                "place": line.place.id,
                "state": line.state.value,
                "shots": list(line.shots),
                "context": list(line.context),
                "proof": list(line.proof),
                "reason": line.reason,
                "waived": line.waived or None,
            }
            for line in coverage.places
        ],
        "components": [
            {
                "component": line.component.id,
                "zone": line.component.zone,
                "outcome": line.outcome.value,
                "state": line.state.value,
                "findings": list(line.findings),
                "reason": line.reason,
            }
            for line in coverage.components
        ],
        "gaps": [{"of": gap.of, "subject": gap.subject, "words": gap.words} for gap in coverage.gaps],
        "unanswered": list(coverage.unanswered),
        "summary": {
            "shots": len(states),
            **{state.value: states.count(state) for state in State},
            "rust_prone": len(coverage.places),
            "rust_prone_covered": sum(1 for line in coverage.places if line.state is State.COVERED),
            "gaps": len(coverage.gaps),
        },
    }


def _coverage_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("--all", action="store_true", help="every gap and every shot, not only the dearest gaps")


def _coverage(ask: Ask) -> int:
    coverage = ask.desk.coverage(stock=ask.args.stock).result()
    ask.out.answer(coverage_facts(coverage))
    states = [line.state for line in coverage.shots]
    said = ", ".join(f"{states.count(state)} {state.value}" for state in State if state in states)
    ask.out.say(f"{len(states)} shots: {said}.")
    covered = sum(1 for line in coverage.places if line.state is State.COVERED)
    ask.out.say(f"{len(coverage.places)} rust-prone places: {covered} covered.")
    if coverage.unanswered:
        ask.out.say("Facts to answer: " + ", ".join(coverage.unanswered))
    gaps = coverage.gaps if ask.args.all else coverage.gaps[:_MOST_GAPS]
    for gap in gaps:
        ask.out.say(f"  {gap.words}")
    if len(gaps) < len(coverage.gaps):
        ask.out.say(f"  … and {len(coverage.gaps) - len(gaps)} more (--all).")
    if ask.args.all:
        ask.out.table([(line.shot.zone, line.shot.id, line.state.value, line.reason) for line in coverage.shots])
    return 1 if coverage.gaps else 0


def review_facts(review: Review) -> dict[str, object]:
    """What `review --json` prints."""
    return {
        "blocked": [rule.rule.id for rule in review.blocked],
        "warned": [rule.rule.id for rule in review.warned],
        "rules": [
            {
                "id": rule.rule.id,
                "effect": rule.rule.effect.value,
                "rule": rule.rule.rule,
                "speaks": rule.speaks,
                "reasons": list(rule.reasons),
                "waived": rule.waived or None,
                "liftable": rule.rule.liftable,
            }
            for rule in review.rules
        ],
        "signed_by": review.signed.by if review.signed else None,
        "signed_with_key": (review.signed.key_sha256 or None) if review.signed else None,
        "signature_fault": review.signature_fault,
    }


def _review(ask: Ask) -> int:
    review = ask.desk.review(stock=ask.args.stock).result()
    ask.out.answer(review_facts(review))
    for rule in review.rules:
        if not rule.speaks:
            continue
        how = "lifted" if rule.waived else rule.rule.effect.value
        ask.out.say(f"{how:7} {rule.rule.id}: {rule.rule.rule}")
        for reason in rule.reasons[:5]:
            ask.out.say(f"          {reason}")
        if len(rule.reasons) > 5:
            ask.out.say(f"          … and {len(rule.reasons) - 5} more (--json lists all)")
    ask.out.say(
        f"Signed by {review.signed.by}, {_how(review.signed)}." if review.signed
        else f"{review.signature_fault} It does not count; sign again." if review.signature_fault
        else f"{len(review.blocked)} rules stop the signature." if review.blocked
        else "Nothing stops the signature."
    )  # fmt: skip
    return 1 if review.blocked else 0


def _how(signature: Signoff) -> str:
    return f"with the key {grouped(signature.key_sha256)}" if signature.key_sha256 else "by name, no key"


def _waive_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("of", choices=[of.value for of in WaiverOf], help="what kind of thing may stand")
    parser.add_argument("subject", metavar="ID", help="the shot, place, component, fact or rule")
    parser.add_argument("reason", metavar="REASON", nargs="?", default="", help="why; prints on the disclosure page")
    parser.add_argument("--back", action="store_true", help="take the waiver back")


def _waive(ask: Ask) -> int:
    args = ask.args
    of = WaiverOf(args.of)
    if args.back:
        done = ask.desk.unwaive(stock=args.stock, of=of, subject=args.subject, by=ask.by).result()
    else:
        done = ask.desk.waive(stock=args.stock, of=of, subject=args.subject, reason=args.reason, by=ask.by).result()
    ask.out.answer({"words": done.words})
    ask.out.say(done.words)
    return 0


def _sign_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument(
        "--edition", type=int, metavar="N", help="sign this published edition with the key, beside its folder"
    )
    passphrase_arguments(parser)


def _sign(ask: Ask) -> int:
    key = ask.desk.key_of(person=ask.by).result()
    if ask.args.edition is not None:
        words = passphrase(ask.args, ask.by) if key is not None else ""
        found = ask.desk.sign_edition(
            stock=ask.args.stock, number=ask.args.edition, by=ask.by, passphrase=words
        ).result()
        ask.out.answer({"signed": True, "words": found.words, "signature": found})
        ask.out.say(found.words)
        return 0
    blocked = ask.desk.review(stock=ask.args.stock).result().blocked
    words = passphrase(ask.args, ask.by) if key is not None and not blocked else None
    try:
        done = ask.desk.sign(stock=ask.args.stock, by=ask.by, passphrase=words).result()
    except NotAllowed as no:
        ask.out.answer({"signed": False, "reasons": no.detail.splitlines()})
        ask.out.say(str(no))
        for line in no.detail.splitlines():
            ask.out.say(f"  {line}")
        return 1
    ask.out.answer({"signed": True, "words": done.words})
    ask.out.say(done.words)
    return 0


VERBS: tuple[Verb, ...] = (
    Verb("coverage", "what the plan asks against what the record shows", _coverage_arguments, _coverage,
         by_somebody=False),
    Verb("review", "what stops the signature and what only warns", stock, _review, by_somebody=False),
    Verb("waive", "let a gap or a liftable rule stand, for a reason (managers)", _waive_arguments, _waive),
    Verb("sign", "sign the record as it stands, by name or with a key (managers)", _sign_arguments, _sign),
)  # fmt: skip
