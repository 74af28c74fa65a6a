"""The words by which English denies, doubts, asks, tells and puts off, as sellers write it; see `claim_context`."""

from __future__ import annotations

from typing import Final

from .claim_phrases import Phrase, phrase
from .claim_text import wordset

NT: Final = (
    "aint|neednt|isnt|arent|wasnt|werent|dont|doesnt|didnt|cant|cannot|wont|hasnt|havent|hadnt|shouldnt|wouldnt|couldnt"
)
NT_WORDS: Final = frozenset(NT.split("|"))
DENIES: Final = NT_WORDS | wordset("not no never none neither nor nothing nobody noone nowhere without hardly")
LEADS_AWAY: Final = wordset("whether whoever unknown unlike lacks lacking lack refuse refuses refused")
OPEN_HEADINGS: Final = (
    *(frozenset(("not", word)) for word in ("answered", "known", "seen", "tested", "checked", "recorded", "proved")),
    *(frozenset((word,)) for word in ("unknown", "unanswered", "untested", "unseen")),
)
"""Words before a colon that leave open whatever is listed after it."""
RELATES: Final = wordset("that thats which who whos whose where say says said argue deny pretend call if")
OVERTURNS: Final = DENIES | wordset("lie lying liar")
TURNS: Final = wordset("and but however yet although though whereas while because so then which plus")
OR: Final = frozenset(("or", "nor"))
AUX: Final = wordset(
    "is are was were am do does did has have had can could will would shall should may might which what who whom whose "
    "when where how why"
)
SAYERS: Final = (
    "seller|sellers|vendor|vendors|owner|owners|keeper|consignor|widow|widower|son|daughter|family|heirs|mechanic|"
    "workshop|restorer|driver|neighbour|neighbor|custodian|caretaker|consigner|advert|advertisement|article|"
    "letter|magazine|diary|logbook"
)
SAYS: Final = (
    "says|say|said|states|state|stated|tells|told|reports|reported|claims|claimed|writes|wrote|recalls|recalled|"
    "remembers|remembered|mentions|mentioned|maintains|maintained|assures|assured|describes|described|advises|advised|"
    "informs|informed|insists|insisted|confirms|confirmed|adds|added|explains|explained|declares|declared|"
    "thinks|calls|called"
)


def _phrases(*texts: str) -> tuple[Phrase, ...]:
    return tuple(phrase(text) for text in texts)


NO_DENIAL: Final = _phrases(
    f"not|{NT} only|just|merely|simply|least|quite|to",
    "no doubt|question|less|reason|matter|wonder",
    "without doubt|question|exaggeration|hesitation",
    "without a|any doubt|question",
    f"not|never|{NT} .. find|see|get|meet|miss|regret|fault|beat|doubt|believe|hesitate",
    "nothing but|short|less",
    "why not",
)
LESS: Final = _phrases(
    "far from",
    "less than",
    "anything but",
    "rather than",
    "instead of",
    "no longer",
    "short of",
    "free of",
    "no proof",
    "wrong|dishonest|misleading|untrue|false|foolish|silly|unfair|stretch|nonsense|hard|difficult|lie to call|say|"
    "claim|describe|advertise|pretend",
    "wish|wishes|wished i|we|he|she|it|that|could|to",
    "the|that word|words|term|phrase|adjective",
)
SHORT_OF: Final = _phrases("less than", "anything but|less", "far from", "short of")
SAYS_NO: Final = _phrases(
    f"not|never|{NT} be? been? known|proved|proven|claimed|confirmed|established|shown|certain|documented|used|given|"
    "promised|offered|possible|guaranteed|checked|tested",
    "or not",
    "is|are|was|were not a|an|the? phrase|word|words|term|description|claim|expression|how|what|something",
    "isnt|arent|wasnt a|an|the? phrase|word|words|term|description|claim|expression|how|what|something",
    "has|have no place|business",
    f"it|this|she|he|that|they|these|those {NT}",
    "it|this|she|he|that|they|these|those is|was|are|were|will|does|did|do|would not|never",
    "would|will be a? stretch|lie|exaggeration|overstatement|fib|joke",
    "is|are|was|were a? lie|fib|joke|nonsense|rubbish|hearsay|rumour|rumor|guess|guesswork",
    "unknown|unproven|unproved|doubtful|questionable|uncertain",
)
IS_GONE: Final = _phrases(
    f"not|never|{NT} be? been? original|present|fitted|found|there|on|in|with|kept|recorded|seen",
    "missing|gone|lost|absent|replaced|removed|stripped|destroyed|scrapped|discarded",
    "no longer",
)
YET_TO_BE: Final = _phrases(
    "plan|plans|planned|planning|intend|intends|intended|hope|hopes|hoped|going|gonna|due|scheduled|booked|ordered "
    "is|was|are? to|for be|have|get|put|fit|fitting|install|do|go? on|in|a|the|it|some?",
    "needs|need|needing|requires|awaits|awaiting|wants|wanting to? be?",
    "should|must|would|could|might|may|will|shall be?",
    "to be",
    "if|before|until|unless",
)
NOT_DONE: Final = _phrases(
    "not|isnt|arent|hasnt|havent|wasnt been|yet? done|fitted|started|begun|happened|installed yet",
    "not|isnt|arent|hasnt|havent|wasnt yet been? done|fitted|started|begun|happened|installed",
    "on order|backorder",
    "not|isnt|arent fitted|installed",
    "will|shall be|get .. fitted|done|installed|replaced|rebuilt|restored|painted|put|changed",
    "yet|still to be? done|do|come|happen|fit|fitted|install|installed|start",
)
ASKS: Final = _phrases(
    "asks|asked|asking|ask|wonders|wondered|wondering|inquired|enquired|inquires|enquires|queries|queried "
    "us|me|him|her|them? if|whether|about|re|for|after|how|what|when|which",
    "want|wants|wanted to know|hear|ask",
    "want|wants|wanted proof|evidence|confirmation|assurance",
    "question|questions|query|inquiry|enquiry|request|requests about|re|on|whether|if|for",
)
LURES: Final = _phrases(
    "[else|ever see~|ever find~|ever meet|ever met|last see~|last find~]",
    "[such a|such an|one this|one so|one as|what more]",
    f"why|who not|could|would|buy|bother|pay|spend|restore|choose|wait|settle|look|{NT}",
    "do|will|can|would you find|see|name|meet",
    "name|know|find another",
    "would not",
)
ANSWERS: Final = _phrases(
    "[this is|it is|here it is|here she is|its|one|look no|heres|shes|youve found|you found|call|buy|stop|come]"
)
ECHO: Final = 3
AS_HELD: Final = wordset(
    "said believed appears appear seems seem known reported thought claimed proved proven supposed understood told "
    "considered guaranteed found rumoured rumored"
)
TELLS: Final = _phrases(
    f"{SAYERS} .. {SAYS}",
    f"{SAYS} by? to? us? by? the|an|a|its|his|her|our? previous|last|former|present|current|first|second|"
    f"earlier|late? {SAYERS}",
    f"according to .. {SAYERS}",
    f"per the|our|its|their? previous|last|former|present|current? {SAYERS}",
    f"stated|reported|told|related|claimed by .. {SAYERS}",
    "reportedly",
    "reported as|to",
    f"{SAYERS} word|words|statement|account|story|description|letter",
)
HEDGED_WITH_REASONS: Final = _phrases("believed|believe|believes|appears|appear|seems|likely")
CLAUSE_MARKS: Final = frozenset((";", "(", "—"))


NOES: Final = wordset("no none nope nil zero never not nah nowt")
LEADING: Final = AUX | wordset("any a an the it its this there ever q question")


PAPERS: Final = _phrases(
    "per|see|by|with|from|as? per? .. invoice|receipt|bill|title|slip|certificate|letter|sheet|appraisal|registration|"
    "card|report|paper|stamp dated|of .. <number>",
    "invoice|receipt|bill|slip|certificate|letter|sheet|registration|report dated|of .. <number> .. lists|shows|says|"
    "names|states|covers|reads|gives|for",
)


REASONS: Final = phrase("<reasons>")
