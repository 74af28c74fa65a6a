"""What stands round the words of a claim and changes what the sentence says: denial, doubt, a question, a teller.

The rules are English grammar as sellers write it, not the trade's: a denial reaches forward to the next comma or
"and", over "or" as far as the list goes; a teller covers his own clause, or the one before where he follows it as
printed sentences put him ("…; stated by the seller, not verified").
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from .claim_phrases import Phrase, Words, every_word, find, phrase
from .claim_text import Sentence, Sort, Token, wordset

_REACH: Final = 9
_AFTER: Final = 3
_NT: Final = "aint|neednt|isnt|arent|wasnt|werent|dont|doesnt|didnt|cant|cannot|wont|hasnt|havent|hadnt|shouldnt|wouldnt|couldnt"
_NT_WORDS: Final = frozenset(_NT.split("|"))
_DENIES: Final = _NT_WORDS | wordset(
    "not no never none neither nor nothing nobody noone nowhere without hardly"
)
_LEADS_AWAY: Final = wordset("whether whoever unknown unlike lacks lacking lack refuse refuses refused")
_RELATES: Final = wordset("that thats which who whos whose where say says said argue deny pretend call if")
_OVERTURNS: Final = _DENIES | wordset("lie lying liar")
_TURNS: Final = wordset("and but however yet although though whereas while because so then which plus")
_OR: Final = frozenset(("or", "nor"))
_AUX: Final = wordset(
    "is are was were am do does did has have had can could will would shall should may might which what who whom whose "
    "when where how why"
)
_SAYERS: Final = (
    "seller|sellers|vendor|vendors|owner|owners|keeper|consignor|widow|widower|son|daughter|family|heirs|mechanic|"
    "workshop|restorer|driver|neighbour|neighbor|custodian|caretaker|consigner|advert|advertisement|article|letter|magazine|diary|logbook"
)
_SAYS: Final = (
    "says|say|said|states|state|stated|tells|told|reports|reported|claims|claimed|writes|wrote|recalls|recalled|"
    "remembers|remembered|mentions|mentioned|maintains|maintained|assures|assured|describes|described|advises|advised|"
    "informs|informed|insists|insisted|confirms|confirmed|adds|added|explains|explained|declares|declared|thinks|calls|called"
)


def _phrases(*texts: str) -> tuple[Phrase, ...]:
    return tuple(phrase(text) for text in texts)


_NO_DENIAL: Final = _phrases(
    f"not|{_NT} only|just|merely|simply|least|quite|to",
    "no doubt|question|less|reason|matter|wonder",
    "without doubt|question|exaggeration|hesitation",
    "without a|any doubt|question",
    f"not|never|{_NT} .. find|see|get|meet|miss|regret|fault|beat|doubt|believe|hesitate",
    "nothing but|short|less",
    "why not",
)
_LESS: Final = _phrases(
    "far from", "less than", "anything but", "rather than", "instead of", "no longer", "short of", "free of", "no proof",
    "wrong|dishonest|misleading|untrue|false|foolish|silly|unfair|stretch|nonsense|hard|difficult|lie to call|say|claim|"
    "describe|advertise|pretend",
    "wish|wishes|wished i|we|he|she|it|that|could|to",
    "the|that word|words|term|phrase|adjective"
)
_SHORT_OF: Final = _phrases("less than", "anything but|less", "far from", "short of")
_SAYS_NO: Final = _phrases(
    f"not|never|{_NT} be? been? known|proved|proven|claimed|confirmed|established|shown|certain|documented|used|given|"
    "promised|offered|possible|guaranteed|checked|tested",
    "or not",
    "is|are|was|were not a|an|the? phrase|word|words|term|description|claim|expression|how|what|something",
    "isnt|arent|wasnt a|an|the? phrase|word|words|term|description|claim|expression|how|what|something",
    "has|have no place|business",
    f"it|this|she|he|that|they|these|those {_NT}",
    "it|this|she|he|that|they|these|those is|was|are|were|will|does|did|do|would not|never",
    "would|will be a? stretch|lie|exaggeration|overstatement|fib|joke",
    "is|are|was|were a? lie|fib|joke|nonsense|rubbish|hearsay|rumour|rumor|guess|guesswork",
    "unknown|unproven|unproved|doubtful|questionable|uncertain",
)
_IS_GONE: Final = _phrases(
    f"not|never|{_NT} be? been? original|present|fitted|found|there|on|in|with|kept|recorded|seen",
    "missing|gone|lost|absent|replaced|removed|stripped|destroyed|scrapped|discarded",
    "no longer",
)
_YET_TO_BE: Final = _phrases(
    "plan|plans|planned|planning|intend|intends|intended|hope|hopes|hoped|going|gonna|due|scheduled|booked|ordered "
    "is|was|are? to|for be|have|get|put|fit|fitting|install|do|go? on|in|a|the|it|some?",
    "needs|need|needing|requires|awaits|awaiting|wants|wanting to? be?",
    "should|must|would|could|might|may|will|shall be?",
    "to be",
    "if|before|until|unless",
)
_NOT_DONE: Final = _phrases(
    "not|isnt|arent|hasnt|havent|wasnt been|yet? done|fitted|started|begun|happened|installed yet",
    "not|isnt|arent|hasnt|havent|wasnt yet been? done|fitted|started|begun|happened|installed",
    "on order|backorder",
    "not|isnt|arent fitted|installed",
    "will|shall be|get .. fitted|done|installed|replaced|rebuilt|restored|painted|put|changed",
    "yet|still to be? done|do|come|happen|fit|fitted|install|installed|start",
)
_ASKS: Final = _phrases(
    "asks|asked|asking|ask|wonders|wondered|wondering|inquired|enquired|inquires|enquires|queries|queried "
    "us|me|him|her|them? if|whether|about|re|for|after|how|what|when|which",
    "want|wants|wanted to know|hear|ask",
    "want|wants|wanted proof|evidence|confirmation|assurance",
    "question|questions|query|inquiry|enquiry|request|requests about|re|on|whether|if|for",
)
_LURES: Final = _phrases(
    "[else|ever see~|ever find~|ever meet|ever met|last see~|last find~|such a|such an|one this|one so|one as|what more]",
    f"[why not|why {_NT.replace('|', '|why ')}|who could|who would|do you find|do you see|will you find|will you see|can you find|would you find|can you name|why buy|why bother|why pay|why spend|why restore|why choose|name another|know another|find another|why wait|why settle|why look|who {_NT.replace('|', '|who ')}|would not]",
)
_ANSWERS: Final = _phrases(
    "[this is|it is|here it is|here she is|its|one|look no|heres|shes|youve found|you found|call|buy|stop|come]"
)
_ECHO: Final = 3
_AS_HELD: Final = wordset(
    "said believed appears appear seems seem known reported thought claimed proved proven supposed understood told "
    "considered guaranteed found rumoured rumored"
)
_TELLS: Final = _phrases(
    f"{_SAYERS} .. {_SAYS}",
    f"{_SAYS} by? to? us? by? the|an|a|its|his|her|our? previous|last|former|present|current|first|second|"
    f"earlier|late? {_SAYERS}",
    f"according to .. {_SAYERS}",
    f"per the|our|its|their? previous|last|former|present|current? {_SAYERS}",
    f"stated|reported|told|related|claimed by .. {_SAYERS}",
    "reportedly",
    "reported as|to",
    f"{_SAYERS} word|words|statement|account|story|description|letter",
)
_HEDGED_WITH_REASONS: Final = _phrases("believed|believe|believes|appears|appear|seems|likely")
_CLAUSE_MARKS: Final = frozenset((";", "(", "—"))


def asks(tokens: Sequence[Token], words: Words, ends_in_question: bool) -> bool:
    """Whether the sentence is a real question, or the echo of one ("Mint?").

    "Isn't it …?", "Looking for …?" and "Where else …?" claim what they hold.
    """
    if not ends_in_question:
        return False
    if len([token for token in tokens if token.sort is not Sort.MARK]) <= _ECHO and tokens[0].text not in _NT_WORDS:
        return True
    first = next((token.text for token in tokens if token.text not in ("q", "question", ":")), "")
    return first in _AUX and not any(True for one in _LURES for _ in find(one, tokens, words))


_NOES: Final = wordset("no none nope nil zero never not nah nowt")
_LEADING: Final = _AUX | wordset("any a an the it its this there ever q question")


def answered(question: Sentence, answer: Sentence) -> Iterator[Sentence]:
    """What a "no" or "none" says in answer to a question ("Any rust? None."), a sentence for each word asked about."""
    head = answer.tokens[0]
    if not question.asks or head.text not in _NOES:
        return
    no = replace(head, text="never" if head.text == "never" else "no")
    rest = answer.tokens[1:]
    for token in question.tokens:
        if token.sort is Sort.WORD and token.text not in _LEADING:
            yield replace(answer, tokens=(no, replace(token, start=head.start, end=head.end), *rest))


def asked_by_another(tokens: Sequence[Token], words: Words, start: int) -> bool:
    """Whether what begins at token `start` is what somebody asked about, or an "if" that nothing answers."""
    clauses = _clauses(tokens)
    own = _clause_of(clauses, start)
    for one in _ASKS:
        if any(begins < start and _clause_of(clauses, begins) == own for begins, _ in find(one, tokens, words)):
            return True
    ifs = [at for at in range(clauses[own][0], start) if tokens[at].text == "if"]
    if not ifs or any(token.text == "," for token in tokens[ifs[-1] : start]):
        return False
    return not any(
        begins > start and not (ends < len(tokens) and tokens[ends].text == "not")
        for one in _ANSWERS
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
    after = _SAYS_NO + (_IS_GONE if gone_too else ())
    for place in range(end, min(end + _AFTER + 1, len(tokens))):
        if any(begins == place for one in after for begins, _ in find(one, tokens[: place + 8], words)):
            return True
        if tokens[place].sort is Sort.MARK and not (tokens[place].text == ":" and place == end):
            return False
        if tokens[place].text in _TURNS:
            return False
    return False


def denied_inside(wanted: Phrase, tokens: Sequence[Token]) -> bool:
    """Whether the tokens hold a denial that the phrase itself does not: "has not been rebuilt" for "has .. rebuilt"."""
    denials = {token.text for token in tokens} & _DENIES
    return bool(denials) and not denials <= set(every_word(wanted.pieces))


def _denied_before(tokens: Sequence[Token], words: Words, start: int, end: int) -> bool:
    """Denied before it; a denial of a denial ("nothing on it that isn't …") says that it is so."""
    false = {at for one in _NO_DENIAL for at, _ in find(one, tokens, words)}
    less = {at for one in _LESS for begins, ends in find(one, tokens, words) for at in range(begins, ends)}
    short = {at for one in _SHORT_OF for begins, ends in find(one, tokens, words) for at in range(begins, ends)}
    listed = end < len(tokens) and tokens[end].text in _OR
    for at in range(start - 1, max(start - 1 - _REACH, -1), -1):
        text = tokens[at].text
        listed = listed or text in _OR
        if at in less or text in _LEADS_AWAY or (text in _DENIES and at not in false):
            return not _denied_itself(tokens, at, related=at in short)
        if tokens[at].sort is Sort.MARK and not (text == "," and listed):
            return False
        if text in _TURNS:
            return False
    return False


def _denied_itself(tokens: Sequence[Token], denial: int, *, related: bool) -> bool:
    """Whether the denial at that token is itself denied: in a "that …" or "say …", or where it is `related` anyhow."""
    for at in range(denial - 1, -1, -1):
        text = tokens[at].text
        if tokens[at].sort is Sort.MARK or text in _TURNS:
            return False
        related = related or text in _RELATES
        if related and text in _OVERTURNS:
            return True
    return False


def still_to_come(tokens: Sequence[Token], words: Words, start: int, end: int) -> bool:
    """Whether what stands from `start` to before `end` is wanted or conditional ("needs to be …", "if …"), not said to be so."""
    if any(begins > start for one in _NOT_DONE for begins, _ in find(one, tokens, words)):
        return True
    for one in _YET_TO_BE:
        for begins, ends in find(one, tokens, words):
            held = begins and tokens[begins - 1].text in _AS_HELD
            inside = start < begins < end and tokens[ends - 1].text == "be"
            near = ends <= start <= ends + 1 or inside or (one.text.startswith("if") and begins < start)
            if near and not held and not any(t.sort is Sort.MARK for t in tokens[ends:start]):
                return True
    return False


def told(tokens: Sequence[Token], words: Words, start: int) -> bool:
    """Whether the sentence says, for what begins at token `start`, that somebody told it."""
    clauses = _clauses(tokens)
    own = _clause_of(clauses, start)
    for one in _TELLS:
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
        at for at, token in enumerate(tokens) if at and (token.text in _CLAUSE_MARKS or token.text in turns)
    ]
    return list(zip(starts, [*starts[1:], len(tokens)], strict=True))


_PAPERS: Final = _phrases(
    "per|see|by|with|from|as? per? .. invoice|receipt|bill|title|slip|certificate|letter|sheet|appraisal|registration|"
    "card|report|paper|stamp dated|of .. <number>",
    "invoice|receipt|bill|slip|certificate|letter|sheet|registration|report dated|of .. <number> .. lists|shows|says|names|"
    "states|covers|reads|gives|for",
)


def papered(tokens: Sequence[Token], words: Words) -> bool:
    """Whether the sentence names the dated paper that says so."""
    return any(True for one in _PAPERS for _ in find(one, tokens, words))


_REASONS: Final = phrase("<reasons>")


def reasoned(tokens: Sequence[Token], words: Words, start: int) -> bool:
    """Whether the claim is put as a belief or a look, before or at `start`, with reasons that can be checked behind."""
    hedges = [ends for one in _HEDGED_WITH_REASONS for _, ends in find(one, tokens, words)]
    reasons = [begins for begins, _ in find(_REASONS, tokens, words)]
    return any(hedge <= start + 1 and any(start <= reason for reason in reasons) for hedge in hedges)
