"""Free text as sentences of plain words: what is folded away, and where sentences end."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapseam.domain.claim_phrases import find, phrase, shelved, written
from lapseam.domain.claim_spelling import Speller, distance
from lapseam.domain.claim_text import Sort, sentences


def words(text: str) -> list[list[str]]:
    return [[token.text for token in one.tokens] for one in sentences(text)]


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("RUST‑FREE", ["rust", "free"]),
        ("per\u00adfect", ["perfect"]),
        ("per\u200bfect", ["perfect"]),
        ("ｍｉｎｔ", ["mint"]),
        ("mіnt", ["mint"]),
        ("M I N T", ["mint"]),
        ("M.I.N.T.", ["mint"]),
        ("p3rf3ct", ["perfect"]),
        ("isn’t", ["isnt"]),
        ("owner's", ["owners"]),
        ("A/C", ["ac"]),
        ("#s match", ["numbers", "match"]),
        ("48,213 miles", ["48213", "miles"]),
        ("2.5in", ["2.5", "in"]),
        ('2" wide', ["2", "inch", "wide"]),
        ("40×15mm", ["40", "x", "15", "mm"]),
        ("110 µm", ["110", "um"]),
        ("100%", ["100", "percent"]),
        ("original_paint", ["original", "paint"]),
        ("$45,000", ["$", "45000"]),
        ("“restored”", ["restored"]),
        ("it runs — well", ["it", "runs", "—", "well"]),
    ],
)
def test_looks_are_folded_away(text: str, plain: list[str]) -> None:
    assert words(text) == [plain]


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("Restored in 1998. The owner said so.", 2),
        ("restored in 1998. the owner said so.", 2),
        ("About 2.5 in. long and approx. 3 mm deep.", 1),
        ("Length 2 in. The paint is red.", 2),
        ("Engine no. 1234 was read.", 1),
        ("Mint!Perfect!", 2),
        ("Paint seen.Chrome seen.", 2),
        ("first line\ngoes on", 1),
        ("First line\nSecond line", 2),
        ("ORIGINAL\nPAINT", 1),
        ("INTERIOR: LATER\nPAINT: LATER", 2),
        ("Scratch on the door,\n60 mm long", 1),
        ("Rust-\nFree", 1),
        ("- one\n- two\n- three", 3),
        ("1. one\n2. two", 2),
        ("a paragraph\n\nand another", 2),
        ("", 0),
        (" \n .", 0),
    ],
)
def test_where_sentences_end(text: str, count: int) -> None:
    assert len(words(text)) == count


def test_a_sentence_knows_its_line_and_whether_it_asks() -> None:
    first, second = sentences("One.\n\nIs it two?")
    assert (first.line, first.asks) == (1, False)
    assert (second.line, second.asks) == (3, True)


@given(st.text(max_size=300))
def test_any_text_can_be_read_and_tokens_stand_where_they_say(text: str) -> None:
    last = 0
    for one in sentences(text):
        assert one.tokens[0].start == one.start
        for token in one.tokens:
            assert last <= token.start < token.end <= len(text)
            last = token.start
            assert token.sort is Sort.MARK or token.text


@pytest.mark.parametrize(
    ("written", "text", "found"),
    [
        ("original . paint", "original black paint", True),
        ("leak~", "leaking", True),
        ("leak~", "leakproof", False),
        ("drive~", "driven", True),
        ("carry~", "carried", True),
        ("strip~", "stripped", True),
        ("[no one|nobody] smoked", "no one smoked", True),
        ("[no one|nobody] smoked", "nobody smoked", True),
        ("[no one|nobody] smoked", "no smoked", False),
        ("[no one|nobody]? smoked", "smoked", True),
        ("worth [<money>|a lot]", "worth $900", True),
        ("engine ... born with", "engine, in the bay, is the very one it was born with", True),
        ("engine ... born with", "engine (photo 4) it was born with", True),
        ("engine ... born with", "engine new but the axle it was born with", False),
        ("original . paint", "original, unmarked paint", True),
        ("original . paint", "original seats and paint", False),
        ("original . paint", "original radio, paint", False),
        ("no .. leaks", "no oil, water or fuel leaks", True),
        ("no .. leaks", "no; leaks", False),
        ("rust free", "rustfree", True),
        ("turn key", "turn; key", False),
        ("one of <number>", "one of twenty five", True),
        ("<size>", "about 40 mm", True),
        ("<size>", "three places", False),
        ("worth <money>", "worth 900 dollars", True),
        ("worth <money>", "worth $900", True),
        ("worth <money>", "worth 900 words", False),
        ("restor* car", "restored car", True),
        ("the? seller states", "seller states", True),
        ("believed .. <reasons>", "believed later: readings 300 um", True),
        ("believed .. <reasons>", "believed later: it looks so", False),
    ],
)
def test_phrases_find_what_they_say(written: str, text: str, found: bool) -> None:
    (sentence,) = sentences(text)
    meant = tuple(frozenset({token.text}) for token in sentence.tokens)
    spans = list(find(phrase(written), sentence.tokens, meant))
    assert bool(spans) is found
    assert phrase(written).possible(frozenset().union(*meant)) or not found


@pytest.mark.parametrize(
    "written",
    [
        "[a",
        "[a|]",
        "[.. a|b c]",
        "[A b]",
        "",
        ".. paint",
        "paint ..",
        "the?",
        "<sise>",
        "Paint",
        "rust-free",
        "paint||",
        "a!b",
    ],
)
def test_a_bad_phrase_is_refused_in_words(written: str) -> None:
    with pytest.raises(ValueError, match=r"\w+ \w+"):
        phrase(written)


def test_two_things_of_one_clause_stand_in_either_order() -> None:
    assert written("engine & born with") == ("engine ... born with", "born with ... engine")
    assert written("rust free") == ("rust free",)


def test_shelves_give_every_phrase_that_a_sentence_may_hold_in_its_order() -> None:
    book = shelved(phrase(one) for one in ("mint|perfect", "match*", "no .. rust", "[no one|nobody] smoked"))
    here = [one.text for one in book.possible(frozenset(("no", "rust", "mint")))]
    assert here == ["mint|perfect", "match*", "no .. rust"]
    assert [one.text for one in book.possible(frozenset(("red",)))] == ["match*"]


def test_shortened_and_short_strong_words_are_read_as_meant() -> None:
    speller = Speller(
        frozenset({"actual", "mint", "immaculate"}), frozenset({"mind"}), {"act": "actual"}, frozenset({"mint"})
    )
    assert speller.meant("act") == {"act", "actual"}
    assert speller.meant("mnit") == {"mnit", "mint"}
    assert speller.meant("emmaculate") == {"emmaculate", "immaculate"}
    assert speller.meant("mind") == {"mind"}


def test_slips_are_forgiven_in_long_words_and_never_in_known_ones() -> None:
    speller = Speller(frozenset({"original", "perfect", "guaranteed", "mint", "built", "gloss"}), frozenset({"glass"}))
    for slip, meant in (
        ("orignal", "original"),
        ("origional", "original"),
        ("perfekt", "perfect"),
        ("gauranteed", "guaranteed"),
        ("garanteeed", "guaranteed"),
        ("bulit", "built"),
        ("perfeeeect", "perfect"),
        ("miiint", "mint"),
    ):
        assert meant in speller.meant(slip), slip
    for right in ("glass", "mine", "build", "defect", "unoriginal"):
        assert speller.meant(right) == {right}


@given(st.text("abc", max_size=6), st.text("abc", max_size=6))
def test_the_distance_is_even_handed_and_never_more_than_the_longer_word(one: str, other: str) -> None:
    assert distance(one, other) == distance(other, one) <= max(len(one), len(other))
    assert (distance(one, other) == 0) is (one == other)
    assert distance(one, other) >= abs(len(one) - len(other))
