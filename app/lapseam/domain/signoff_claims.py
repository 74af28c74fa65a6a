"""The sign-off rule about claims: what statements and printed sentences say against what the record can prove.

Statements are judged by the claims guard with their basis, which is printed beside them. Of what an edition prints only
the wording is judged here: each printed sentence comes from a row whose claim was judged before.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from .claim_evidence import OnFile
from .claims import Guard, Objection, Verdict, guard_of
from .signoff_case import Case, Evaluator
from .statement import Basis, Statement


def _claims(case: Case) -> tuple[str, ...]:
    guard = guard_of(case.car.plan.vocabulary, *case.house_rules)
    on_file = OnFile(case.car, case.coverage)
    reasons = []
    for statement in case.car.statements:
        reasons += [f"Statement {statement.number}: {why}" for why in _against(guard, on_file, statement)]
    for sha256, caption in case.car.captions.items():
        photo = case.car.photo(sha256)
        name = photo.name if photo else sha256[:8]
        for judged in guard.judge(caption.words, on_file=on_file, basis=Basis.SEEN):
            reasons += [f"Caption of {name}: {_with_remedy(guard, one)}" for one in judged.objections]
    for sentence in case.public.sentences if case.public else ():
        reasons += [f"Printed: {why} ({sentence.words})" for why in _badly_worded(guard, sentence.words)]
    return tuple(dict.fromkeys(reasons))


def _against(guard: Guard, on_file: OnFile, statement: Statement) -> Iterator[str]:
    for sentence in guard.judge(statement.claim, on_file=on_file, basis=statement.evidence.basis):
        for objection in sentence.objections:
            yield _with_remedy(guard, objection)


def _with_remedy(guard: Guard, objection: Objection) -> str:
    if objection.rule in guard.claims and objection.instead:
        return f"{objection.why} Say instead: {objection.instead}."
    return objection.why


def _badly_worded(guard: Guard, words: str) -> Iterator[str]:
    for sentence in guard.judge(words):
        for objection in sentence.objections:
            if objection.verdict is Verdict.REFUSED and objection.rule not in guard.claims:
                yield objection.why


RULES: Final[Mapping[str, Evaluator]] = MappingProxyType({"so-claim": _claims})
