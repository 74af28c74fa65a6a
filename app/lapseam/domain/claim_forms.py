"""The forms of a word that a phrase writes once: `leak~` stands for leak, leaks, leaked and leaking.

Regular English only, and the few irregular words that claims are made with. A form too many does no harm, as nobody
writes it.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

_IRREGULAR: Final = MappingProxyType(
    {
        "be": "be am is are was were been being",
        "bend": "bend bends bent bending",
        "bring": "bring brings brought bringing",
        "build": "build builds built building",
        "buy": "buy buys bought buying",
        "come": "come comes came coming",
        "do": "do does did done doing",
        "drive": "drive drives drove driven driving",
        "find": "find finds found finding",
        "get": "get gets got gotten getting",
        "give": "give gives gave given giving",
        "go": "go goes went gone going",
        "have": "have has had having",
        "hide": "hide hides hid hidden hiding",
        "hit": "hit hits hitting",
        "hold": "hold holds held holding",
        "keep": "keep keeps kept keeping",
        "lay": "lay lays laid laying",
        "leave": "leave leaves left leaving",
        "lose": "lose loses lost losing",
        "make": "make makes made making",
        "put": "put puts putting",
        "run": "run runs ran running",
        "see": "see sees saw seen seeing",
        "sell": "sell sells sold selling",
        "shut": "shut shuts shutting",
        "sit": "sit sits sat sitting",
        "sleep": "sleep sleeps slept sleeping",
        "spend": "spend spends spent spending",
        "stand": "stand stands stood standing",
        "stick": "stick sticks stuck sticking",
        "take": "take takes took taken taking",
        "tell": "tell tells told telling",
        "wear": "wear wears wore worn wearing",
        "write": "write writes wrote written writing",
    }
)
_VOWELS: Final = frozenset("aeiou")
_SHORT: Final = 5
_HISSES: Final = ("s", "x", "z", "ch", "sh")


def forms(word: str) -> frozenset[str]:
    """The word with its endings -s, -ed and -ing as English spells them; a doubled last letter where it may be."""
    if word in _IRREGULAR:
        return frozenset(_IRREGULAR[word].split())
    if word.endswith("y") and word[-2:-1] not in _VOWELS:
        return frozenset((word, word[:-1] + "ies", word[:-1] + "ied", word + "ing"))
    if word.endswith("e"):
        return frozenset((word, word + "s", word + "d", word[:-1] + "ing", word + "ing"))
    found = {word, word + ("es" if word.endswith(_HISSES) else "s"), word + "ed", word + "ing"}
    if len(word) <= _SHORT and word[-1] not in "wxyaeiou" and word[-2:-1] in _VOWELS and word[-3:-2] not in _VOWELS:
        found |= {word + word[-1] + "ed", word + word[-1] + "ing"}
    return frozenset(found)
