"""The sign-off rule about claims: what the ad says against what the record can prove.

A sentence makes a claim when it holds the claim's words one after another, however they are cased or hyphenated, unless
"not" or "never" stands right before them. The wording that the vocabulary allows instead makes no claim. A sentence on
the basis "told" that names who said it makes the claim the teller's, except where the claim is forbidden. Needs are met
where the record holds evidence of the basis asked about the part, check or reading asked; whether that evidence says
what the need describes stays a person's judgement.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import Final

from .applicability import Applicability
from .coverage_words import State
from .decision import Sight
from .finding import FindingState
from .plan import Claim
from .signoff_case import Case, Evaluator
from .statement import Basis, CheckResult, CheckVerdict, Evidence, Statement

PROMISES: Final = (
    *("guaranteed", "turn-key", "no issues", "needs nothing", "drive anywhere", "mint", "perfect", "rust-free"),
    "as new",
)
"""Promise words that no sentence may hold (common trade practice, wording rules)."""
ALL_CHECKS: Final = "all-checks"
_AS_FOR: Final = "as for: "
_DEEPEST: Final = 5
_LITTLE: Final = 3


def _claims(case: Case) -> tuple[str, ...]:
    reasons = []
    for statement in case.car.statements:
        reasons += [f"Statement {statement.number}: {why}" for why in _against(case, statement)]
    for sentence in case.public.sentences if case.public else ():
        reasons += [f"Printed: “{word}” is a promise word ({sentence.words})" for word in _promises(sentence.words)]
    return tuple(dict.fromkeys(reasons))


def _against(case: Case, statement: Statement) -> Iterator[str]:
    claims = case.car.plan.vocabulary.claims
    named = set()
    for claim in claims.values():
        if not makes(statement.claim, claim):
            continue
        named.add(_plain(claim.claim))
        instead = f"Say instead: {claim.say_instead}."
        if claim.forbidden:
            yield f"“{claim.claim}” may not be claimed. {instead}"
        elif statement.evidence.basis is Basis.TOLD and statement.evidence.who_said.strip():
            continue
        elif unmet := unmet_needs(case, claim):
            yield f"“{claim.claim}” is not proved; it needs {'; '.join(unmet)}. {instead}"
    for word in _promises(statement.claim):
        if _plain(word) not in named:
            yield f"“{word}” is a promise word and may not be printed."


def makes(sentence: str, claim: Claim) -> bool:
    """Whether the sentence makes the claim: it holds one of its wordings and is not the wording allowed instead."""
    if not any(_holds(sentence, wording) for wording in _wordings(claim)):
        return False
    allowed = _allowed(claim.say_instead)
    return allowed is None or not allowed.search(_plain(sentence))


def unmet_needs(case: Case, claim: Claim, depth: int = 0) -> tuple[str, ...]:
    """The claim's needs that the record does not meet, as the vocabulary words them."""
    unmet: list[str] = []
    for need in claim.needs:
        if need.startswith(_AS_FOR):
            other = case.car.plan.vocabulary.claims.get(need.removeprefix(_AS_FOR).strip())
            if other is not None and depth < _DEEPEST:
                unmet.extend(unmet_needs(case, other, depth + 1))
            else:
                unmet.append(need)
        elif not _met(case, need):
            unmet.append(need)
    return tuple(unmet)


def _met(case: Case, need: str) -> bool:
    """A need reads 'seen or documented: body-tag (paint code)'; what cannot be read so is not met."""
    bases, _, rest = need.partition(":")
    about = rest.partition("(")[0].strip()
    known = {basis.value for basis in Basis}
    asked = [word.strip() for word in bases.split(" or ")]
    return bool(about) and all(word in known for word in asked) and any(_proved(case, Basis(b), about) for b in asked)


def _proved(case: Case, basis: Basis, about: str) -> bool:
    if basis is Basis.TESTED:
        return _all_checks_work(case) if about == ALL_CHECKS else _works(case.car.checks.get(about))
    measured = any(one.measure == about and one.readings and one.instrument for one in case.car.measurements)
    if basis is Basis.MEASURED:
        return measured
    if basis is Basis.SEEN and (measured or _seen(case, about)):
        return True
    return any(_complete(evidence, basis) for subject, evidence in _on_file(case) if subject == about)


def _works(result: CheckResult | None) -> bool:
    return result is not None and result.verdict is CheckVerdict.WORKS


def _all_checks_work(case: Case) -> bool:
    applies = Applicability(case.car)
    asked = [check for check in case.car.plan.vocabulary.checks.values() if applies.check(check).holds is not False]
    results = [case.car.checks.get(check.id) for check in asked]
    fitted = [one for one in results if one is None or one.verdict is not CheckVerdict.NOT_FITTED]
    return bool(fitted) and all(_works(one) for one in fitted)


def _seen(case: Case, component: str) -> bool:
    """A person ticked, on an accepted frame, something of a shot that shows the component."""
    shown = {
        covered.shot.id
        for covered in case.coverage.shots
        if component in covered.shot.components and covered.state in (State.COVERED, State.PARTLY)
    }
    return any(tick.shot in shown and tick.sight is Sight.SEEN for tick in case.car.ticks)


def _on_file(case: Case) -> Iterator[tuple[str, Evidence]]:
    for statement in case.car.statements:
        yield statement.subject, statement.evidence
    for found in case.car.findings:
        if found.state is not FindingState.CORRECTED:
            yield found.component, found.evidence


def _complete(evidence: Evidence, basis: Basis) -> bool:
    if evidence.basis is not basis:
        return False
    if basis is Basis.DOCUMENTED:
        return bool(evidence.document.strip() and evidence.document_date.strip())
    return bool(evidence.who_said.strip()) if basis is Basis.TOLD else bool(evidence.photos)


def _promises(sentence: str) -> tuple[str, ...]:
    return tuple(word for word in PROMISES if _holds(sentence, _plain(word)))


def _holds(sentence: str, wording: str) -> bool:
    """Whether the wording stands in the sentence unnegated; its word 'n' stands for any number."""
    words = re.sub(r"\bn\b", r"\\d+", re.escape(wording))
    return re.search(rf"(?<!\bnot )(?<!\bnever )\b{words}\b", _plain(sentence)) is not None


def _plain(text: str) -> str:
    return " ".join(re.findall(r"[a-z0-9äöüß]+", text.lower()))


@lru_cache(maxsize=512)
def _wordings(claim: Claim) -> tuple[str, ...]:
    """The phrases between its commas, both readings of each 'one or other', and its id's words.

    An id of little words only ('one-of') says nothing alone and is passed over.
    """
    name = _plain(claim.id)
    found = [name] if any(len(word) > _LITTLE for word in name.split()) else []
    for phrase in claim.claim.split(","):
        first, _, second = (_plain(part).split() for part in phrase.partition(" or "))
        if not second:
            found.append(" ".join(first))
        elif len(second) == 1:
            found += [" ".join(first), " ".join((*first[:-1], *second))]
        else:
            found += [" ".join((*first, second[-1])), " ".join(second)]
    return tuple(dict.fromkeys(wording for wording in found if wording))


@lru_cache(maxsize=512)
def _allowed(say_instead: str) -> re.Pattern[str] | None:
    """The allowed wording as a pattern over plain words; slots and '(list)' stand for any words."""
    pieces = [_plain(piece) for piece in re.split(r"\{[^}]*\}|\(list\)", say_instead)]
    told = [re.escape(piece) for piece in pieces if piece]
    return re.compile(r"\b" + r"\b.*?\b".join(told) + r"\b") if told and len(" ".join(pieces).split()) > 2 else None


RULES: Final[Mapping[str, Evaluator]] = MappingProxyType({"so-claim": _claims})
