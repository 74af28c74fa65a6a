"""What stands round the words of a claim and changes what the sentence says: denial, doubt, a question, a teller.

The rules are English grammar as sellers write it, not the trade's: a denial reaches forward to the next comma or
"and", over "or" as far as the list goes; a teller covers his own clause, or the one before where he follows it as
printed sentences put him ("…; stated by the seller, not verified").
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from . import claim_grammar as grammar
from .claim_phrases import Phrase, Words, every_word, find
from .claim_text import Sentence, Sort, Token

_REACH: Final = 9
_AFTER: Final = 3
_HEADING: Final = 3


def asks(tokens: Sequence[Token], words: Words, ends_in_question: bool) -> bool:
    """Whether the sentence is a real question, or the echo of one ("Mint?").

    "Isn't it …?", "Looking for …?" and "Where else …?" claim what they hold.
    """
    if not ends_in_question:
        return False
    said = [token for token in tokens if token.sort is not Sort.MARK]
    if len(said) <= grammar.ECHO and tokens[0].text not in grammar.NT_WORDS:
        return True
    first = next((token.text for token in tokens if token.text not in ("q", "question", ":")), "")
    return first in grammar.AUX and not any(True for one in grammar.LURES for _ in find(one, tokens, words))


def answered(question: Sentence, answer: Sentence) -> Iterator[Sentence]:
    """What a "no" or "none" says in answer to a question ("Any rust? None."), a sentence for each word asked about."""
    head = answer.tokens[0]
    if not question.asks or head.text not in grammar.NOES:
        return
    no = replace(head, text="never" if head.text == "never" else "no")
    rest = answer.tokens[1:]
    for token in question.tokens:
        if token.sort is Sort.WORD and token.text not in grammar.LEADING:
            yield replace(answer, tokens=(no, replace(token, start=head.start, end=head.end), *rest))


def left_open(tokens: Sequence[Token], start: int) -> bool:
    """Whether token `start` stands in a list under a heading that leaves it open ("Not answered: road legal")."""
    colon = next((at for at, token in enumerate(tokens) if token.text == ":"), len(tokens))
    heading = {token.text for token in tokens[:colon]}
    return colon < start and colon <= _HEADING and any(heading >= words for words in grammar.OPEN_HEADINGS)


def asked_by_another(tokens: Sequence[Token], words: Words, start: int) -> bool:
    """Whether what begins at token `start` is what somebody asked about, or an "if" that nothing answers."""
    clauses = _clauses(tokens)
    own = _clause_of(clauses, start)
    for one in grammar.ASKS:
        if any(begins < start and _clause_of(clauses, begins) == own for begins, _ in find(one, tokens, words)):
            return True
    ifs = [at for at in range(clauses[own][0], start) if tokens[at].text == "if"]
    if not ifs or any(token.text == "," for token in tokens[ifs[-1] : start]):
        return False
    return not any(
        begins > start and not (ends < len(tokens) and tokens[ends].text == "not")
        for one in grammar.ANSWERS
        for begins, ends in find(one, tokens, words)
    )


def denied(tokens: Sequence[Token], words: Words, start: int, end: int, *, gone_too: bool) -> bool:
    """Whether what stands from token `start` to before `end` is denied, or doubted outright.

    `gone_too`: that the thing is missing or replaced denies it as well.
    """
    if _denied_before(tokens, words, start, end):
        return True
    if end < len(tokens) and tokens[end].text in (("nothing", "no") if gone_too else ("nothing",)):
        return True
    after = grammar.SAYS_NO + (grammar.IS_GONE if gone_too else ())
    for place in range(end, min(end + _AFTER + 1, len(tokens))):
        if any(begins == place for one in after for begins, _ in find(one, tokens[: place + 8], words)):
            return True
        if tokens[place].sort is Sort.MARK and not (tokens[place].text == ":" and place == end):
            return False
        if tokens[place].text in grammar.TURNS:
            return False
    return False


def denied_inside(wanted: Phrase, tokens: Sequence[Token]) -> bool:
    """Whether the tokens hold a denial that the phrase itself does not: "has not been rebuilt" for "has .. rebuilt"."""
    denials = {token.text for token in tokens} & grammar.DENIES
    return bool(denials) and not denials <= set(every_word(wanted.pieces))


def _denied_before(tokens: Sequence[Token], words: Words, start: int, end: int) -> bool:
    """Denied before it; a denial of a denial ("nothing on it that isn't …") says that it is so."""
    false = {at for one in grammar.NO_DENIAL for at, _ in find(one, tokens, words)}
    less = {at for one in grammar.LESS for begins, ends in find(one, tokens, words) for at in range(begins, ends)}
    short = {at for one in grammar.SHORT_OF for begins, ends in find(one, tokens, words) for at in range(begins, ends)}
    listed = end < len(tokens) and tokens[end].text in grammar.OR
    for at in range(start - 1, max(start - 1 - _REACH, -1), -1):
        text = tokens[at].text
        listed = listed or text in grammar.OR
        if at in less or text in grammar.LEADS_AWAY or (text in grammar.DENIES and at not in false):
            return not _denied_itself(tokens, at, related=at in short)
        if tokens[at].sort is Sort.MARK and not (text == "," and listed):
            return False
        if text in grammar.TURNS:
            return False
    return False


def _denied_itself(tokens: Sequence[Token], denial: int, *, related: bool) -> bool:
    """Whether the denial at that token is itself denied: in a "that …" or "say …", or where it is `related` anyhow."""
    for at in range(denial - 1, -1, -1):
        text = tokens[at].text
        if tokens[at].sort is Sort.MARK or text in grammar.TURNS:
            return False
        related = related or text in grammar.RELATES
        if related and text in grammar.OVERTURNS:
            return True
    return False


def still_to_come(tokens: Sequence[Token], words: Words, start: int, end: int) -> bool:
    """Whether what stands from `start` to before `end` is wanted or conditional ("needs to be …"), not so by now."""
    if any(begins > start for one in grammar.NOT_DONE for begins, _ in find(one, tokens, words)):
        return True
    for one in grammar.YET_TO_BE:
        for begins, ends in find(one, tokens, words):
            held = begins and tokens[begins - 1].text in grammar.AS_HELD
            inside = start < begins < end and tokens[ends - 1].text == "be"
            near = ends <= start <= ends + 1 or inside or (one.text.startswith("if") and begins < start)
            if near and not held and not any(t.sort is Sort.MARK for t in tokens[ends:start]):
                return True
    return False


def told(tokens: Sequence[Token], words: Words, start: int) -> bool:
    """Whether the sentence says, for what begins at token `start`, that somebody told it."""
    clauses = _clauses(tokens)
    own = _clause_of(clauses, start)
    for one in grammar.TELLS:
        for begins, ends in find(one, tokens, words):
            if _names_nobody(tokens, ends):
                continue
            clause = _clause_of(clauses, begins)
            if clause == own or (clause == own + 1 and begins <= clauses[clause][0] + 1):
                return True
    return False


def _names_nobody(tokens: Sequence[Token], ends: int) -> bool:
    """'said to be' names nobody who says it, even where an owner stands before it."""
    after = tokens[ends].text if ends < len(tokens) else ""
    return tokens[ends - 1].text in ("said", "thought", "claimed") and after == "to"


def _clause_of(clauses: Sequence[tuple[int, int]], place: int) -> int:
    return next(at for at, (first, after) in enumerate(clauses) if first <= place < after)


def _clauses(tokens: Sequence[Token]) -> list[tuple[int, int]]:
    """Clauses from token to token; a part in brackets or behind a dash, a semicolon or "but" begins a new one."""
    turns = ("but", "however", "yet", "although", "though", "whereas")
    starts = [0] + [
        at for at, token in enumerate(tokens) if at and (token.text in grammar.CLAUSE_MARKS or token.text in turns)
    ]
    return list(zip(starts, [*starts[1:], len(tokens)], strict=True))


def papered(tokens: Sequence[Token], words: Words) -> bool:
    """Whether the sentence names the dated paper that says so."""
    return any(True for one in grammar.PAPERS for _ in find(one, tokens, words))


def reasoned(tokens: Sequence[Token], words: Words, start: int) -> bool:
    """Whether the claim is put as a belief or a look, before or at `start`, with reasons that can be checked behind."""
    hedges = [ends for one in grammar.HEDGED_WITH_REASONS for _, ends in find(one, tokens, words)]
    reasons = [begins for begins, _ in find(grammar.REASONS, tokens, words)]
    return any(hedge <= start + 1 and any(start <= reason for reason in reasons) for hedge in hedges)
