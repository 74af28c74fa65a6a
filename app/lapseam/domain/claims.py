"""The claims guard: what may not be said without which basis and evidence.

A text is judged sentence by sentence. Words that make a forbidden claim and words that may not be printed are refused,
whoever said them. Words that make a claim with needs ask for its evidence, unless the same sentence denies it, asks it,
wants it yet to be done, tells who said it, or gives it as a belief with its reasons. The wording that the vocabulary
allows instead makes no claim. Common trade practice, wording rules 1 to 8.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import Final

from . import claim_context as context
from .claim_evidence import OnFile, needs_of, unmet_needs
from .claim_phrases import Phrases, Words, find, shelved
from .claim_spelling import Speller
from .claim_text import Sentence, sentences
from .claim_words import allowed_phrases, content, known_words, looked_for, phrases, short_forms, strong_words, wordings
from .plan import Claim, Vocabulary, WordingRule
from .statement import Basis

PROMISE: Final = WordingRule(
    "promise",
    "a promise word",
    (
        "guaranteed",
        "turn key",
        "no issues",
        "needs nothing",
        "drive anywhere",
        "mint",
        "perfect",
        "rust free",
        "as new",
    ),
)
"""What holds where a vocabulary has no wording rules, as in a car whose plan was copied before there were any."""
_SLOT: Final = re.compile(r"\{\w+\}")
TOLD_UNSAID: Final = "told-unsaid"
_LEAST_FACTS: Final = 2


class Verdict(StrEnum):
    """What may be done with a sentence. `NEEDS_EVIDENCE` becomes `ALLOWED` once the record holds what is needed."""

    ALLOWED = "allowed"
    NEEDS_EVIDENCE = "needs-evidence"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True)
class Objection:
    """One reason against a sentence. `words` stand in the text from `start` to `end`; `why` is one sentence.

    `rule` is the id of a claim or of a wording rule, or `told-unsaid`; `needs` is what the record would have to hold.
    """

    rule: str
    verdict: Verdict
    words: str
    start: int
    end: int
    why: str
    needs: tuple[str, ...] = ()
    say_instead: str = ""

    @property
    def instead(self) -> str:
        """The wording that is allowed, as it is read out: a place to be filled in is an ellipsis."""
        return _SLOT.sub("…", self.say_instead)


@dataclass(frozen=True, slots=True)
class Judged:
    """A sentence with every objection to it; `line` is the line of the text it begins on, from 1."""

    text: str
    line: int
    start: int
    end: int
    objections: tuple[Objection, ...] = ()

    @property
    def verdict(self) -> Verdict:
        """The worst of its objections."""
        found = {one.verdict for one in self.objections}
        return next((one for one in (Verdict.REFUSED, Verdict.NEEDS_EVIDENCE) if one in found), Verdict.ALLOWED)


@dataclass(frozen=True, slots=True)
class _Rule:
    """A claim or a wording rule, ready to be looked for."""

    of: Claim | WordingRule
    words: Phrases
    unless: Phrases
    beside: Phrases


@dataclass(frozen=True, slots=True)
class _Asked:
    """One sentence of a text, what its words may stand for, and what it is held against."""

    text: str
    sentence: Sentence
    words: Words
    every: frozenset[str]
    on_file: OnFile | None
    basis: Basis | None

    def spans(self, wanted: Phrases) -> Iterator[tuple[int, int]]:
        for one in wanted.possible(self.every):
            yield from find(one, self.sentence.tokens, self.words)

    def claiming(self, wanted: Phrases) -> Iterator[tuple[int, int]]:
        """Where the phrases stand without a denial in one of their gaps."""
        for one in wanted.possible(self.every):
            for start, end in find(one, self.sentence.tokens, self.words):
                if not context.denied_inside(one, self.sentence.tokens[start:end]):
                    yield start, end

    def place(self, span: tuple[int, int]) -> tuple[int, int]:
        return self.sentence.tokens[span[0]].start, self.sentence.tokens[span[1] - 1].end

    def denied(self, span: tuple[int, int], *, gone_too: bool) -> bool:
        tokens = self.sentence.tokens
        if self.sentence.asks:
            return False
        return (
            context.denied(tokens, self.words, *span, gone_too=gone_too)
            or context.left_open(tokens, span[0])
            or context.asked_by_another(tokens, self.words, span[0])
        )

    def softened(self, span: tuple[int, int]) -> bool:
        """Whether the claim at those tokens is somebody else's, a belief with reasons, or not yet so."""
        tokens = self.sentence.tokens
        return (
            self.basis is Basis.TOLD
            or any(softens(tokens, self.words, span[0]) for softens in (context.told, context.reasoned))
            or context.still_to_come(tokens, self.words, *span)
        )


@dataclass(frozen=True, slots=True)
class Guard:
    """The rules of one vocabulary, ready to judge texts. Make one with `guard_of`."""

    claims: Mapping[str, Claim]
    rules: tuple[_Rule, ...]
    speller: Speller

    def judge(self, text: str, *, on_file: OnFile | None = None, basis: Basis | None = None) -> tuple[Judged, ...]:
        """Every sentence of the text with what stands against it.

        `on_file` is the record to hold claims against: needs that it meets are no objection, and a fact that it
        knows only by hearsay must say so. `basis` is how the whole text is known where that is printed beside it.
        """
        read = sentences(text)
        return tuple(
            self._judged(text, before, one, on_file, basis) for before, one in zip((None, *read), read, strict=False)
        )

    def _judged(
        self, text: str, before: Sentence | None, sentence: Sentence, on_file: OnFile | None, basis: Basis | None
    ) -> Judged:
        against: list[Objection] = []
        for said in (sentence, *(context.answered(before, sentence) if before else ())):
            asked = self._asked(text, said, on_file, basis)
            if context.asks(said.tokens, asked.words, said.asks):
                break
            for rule in self.rules:
                against += (one for one in self._against(asked, rule) if not _said_already(one, against))
            if on_file is not None and basis is None and said is sentence:
                against += _told_unsaid(asked, on_file)
        quoted = text[sentence.start : sentence.end]
        return Judged(quoted, sentence.line, sentence.start, sentence.end, tuple(against))

    def _asked(self, text: str, sentence: Sentence, on_file: OnFile | None, basis: Basis | None) -> _Asked:
        words = tuple(self.speller.meant(token.text) for token in sentence.tokens)
        return _Asked(text, sentence, words, frozenset().union(*words), on_file, basis)

    def _against(self, asked: _Asked, rule: _Rule) -> Iterator[Objection]:
        """Objections by one rule: one for a claim, one for each place of words that may not be printed."""
        spans = tuple(asked.claiming(rule.words))
        if not spans or any(True for _ in asked.spans(rule.beside)):
            return
        taken = list(asked.spans(rule.unless))
        needy = isinstance(rule.of, Claim) and not rule.of.forbidden
        for span in spans:
            if any(_overlap(span, other) for other in taken) or asked.denied(span, gone_too=needy):
                continue
            found = self._claimed(asked, span, rule.of) if isinstance(rule.of, Claim) else _worded(asked, span, rule.of)
            if found is None:
                continue
            taken.append(span)
            yield found
            if isinstance(rule.of, Claim):
                return

    def _claimed(self, asked: _Asked, span: tuple[int, int], claim: Claim) -> Objection | None:
        start, end = asked.place(span)
        said = asked.text[start:end]
        if claim.forbidden:
            why = f"“{claim.claim}” may not be claimed."
            return Objection(claim.id, Verdict.REFUSED, said, start, end, why, (), claim.say_instead)
        if asked.softened(span):
            return None
        if asked.on_file is None:
            needs = needs_of(claim, self.claims)
            if context.papered(asked.sentence.tokens, asked.words) and all(map(_paper_will_do, needs)):
                return None
        else:
            needs = unmet_needs(claim, self.claims, asked.on_file)
            if not needs:
                return None
        why = f"“{claim.claim}” is not proved; it needs {'; '.join(needs)}."
        return Objection(claim.id, Verdict.NEEDS_EVIDENCE, said, start, end, why, needs, claim.say_instead)


def _paper_will_do(need: str) -> bool:
    return Basis.DOCUMENTED.value in need.partition(":")[0].split(" or ")


def _worded(asked: _Asked, span: tuple[int, int], rule: WordingRule) -> Objection:
    start, end = asked.place(span)
    said = asked.text[start:end]
    why = f"“{' '.join(said.split())}” is {rule.name} and may not be printed."
    return Objection(rule.id, Verdict.REFUSED, said, start, end, f"{why} {rule.why}".rstrip(), (), rule.say_instead)


def guard_of(vocabulary: Vocabulary, *more: Claim | WordingRule) -> Guard:
    """The guard of a vocabulary, with rules of the house's own beside it."""
    wording = tuple(vocabulary.wording.values()) or (PROMISE,)
    every = (*vocabulary.claims.values(), *wording, *more)
    claims = {one.id: one for one in every if isinstance(one, Claim)}
    rules = tuple(_rule(one) for one in every)
    looked = frozenset(looked_for(one for rule in rules for one in rule.words.every))
    speller = Speller(looked, known_words(vocabulary), short_forms(vocabulary), strong_words(vocabulary))
    return Guard(claims, rules, speller)


@lru_cache(maxsize=512)
def _rule(one: Claim | WordingRule) -> _Rule:
    words, unless = one.words, phrases(one.unless)
    if isinstance(one, Claim):
        words, unless = one.words or wordings(one), (*unless, *allowed_phrases(one.say_instead))
    return _Rule(one, *(shelved(some) for some in (phrases(words), unless, phrases(one.beside))))


def _overlap(one: tuple[int, int], other: tuple[int, int]) -> bool:
    return one[0] < other[1] and other[0] < one[1]


def _said_already(found: Objection, before: Iterable[Objection]) -> bool:
    """Two refusals of the same words, or one claim twice: the first says it all."""
    return any(
        (found.verdict is other.verdict is Verdict.REFUSED or found.rule == other.rule)
        and _overlap((found.start, found.end), (other.start, other.end))
        for other in before
    )


def _told_unsaid(asked: _Asked, on_file: OnFile) -> Iterator[Objection]:
    """A fact that the record holds only by hearsay, said without saying so (wording rule 4)."""
    tokens, start, end = asked.sentence.tokens, asked.sentence.start, asked.sentence.end
    said = asked.text[start:end]
    here = content(said)
    if any(context.told(tokens, asked.words, at) for at in (0, len(tokens) - 1)):
        return
    for statement in on_file.car.statements:
        facts = content(statement.claim)
        if statement.evidence.basis is not Basis.TOLD or len(facts) < _LEAST_FACTS or not facts <= here:
            continue
        who = statement.evidence.who_said.strip().removeprefix("the ") or "seller"
        why = f"Statement {statement.number} was told, and the sentence does not say so."
        instead = f"{said.strip().rstrip('.;,')}; stated by the {who}, not verified"
        yield Objection(TOLD_UNSAID, Verdict.REFUSED, said, start, end, why, (), instead)
