"""The words for searching: the shipped files are sound, and a broken one is told in words."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from fakes.plan_folder import write_plan_folder
from lapseam.domain.errors import PlanBroken
from lapseam.domain.search_words import SearchWords, phrase, read_query, root
from lapseam.places import shot_plans
from lapseam.plans import load_search_words, load_vocabulary

FOLDER = shot_plans() / "vocabulary"


@pytest.fixture(scope="module")
def words() -> SearchWords:
    return load_search_words(FOLDER)


def test_the_two_sides_of_the_ocean_are_there(words: SearchWords) -> None:
    pairs = {
        ("trunk", "boot"), ("hood", "bonnet"), ("rocker", "sill"), ("fender", "wing"), ("windshield", "windscreen"),
        ("muffler", "silencer"), ("floor pans", "floor"), ("tyre", "tire"), ("gearbox", "transmission"),
        ("firewall", "bulkhead"), ("turn signal", "indicator"), ("parking brake", "handbrake"), ("color", "colour"),
    }  # fmt: skip
    for one, other in pairs:
        assert read_query(one, words).groups == read_query(other, words).groups, (one, other)


def test_no_phrase_belongs_to_two_synonyms(words: SearchWords) -> None:
    said: Counter[tuple[str, ...]] = Counter()
    for synonym in words.synonyms:
        said.update({tuple(root(word) for word in one) for one in synonym.same})
    assert [one for one, times in said.items() if times > 1] == []


def test_an_exception_holds_the_word_it_is_for(words: SearchWords) -> None:
    idle = [
        (synonym.id, other)
        for synonym in words.synonyms
        for other in synonym.unless
        if not any(set(map(root, said)) <= set(map(root, other)) for said in synonym.same)
    ]
    assert idle == []


def test_no_word_of_meaning_is_silent(words: SearchWords) -> None:
    meant = {word for synonym in words.synonyms for said in synonym.same for word in said if len(said) == 1}
    assert meant & words.silent == set()


def test_every_callers_question_finds_itself(words: SearchWords) -> None:
    assert len(words.questions) == 40
    for question in words.questions:
        assert read_query(question.words, words).question == question
        assert read_query(question.id, words).question == question


def test_every_question_names_what_the_vocabulary_has(words: SearchWords) -> None:
    vocabulary = load_vocabulary(FOLDER)
    lists = {f"list:{name}" for name in ("findings", "not-seen", "not-tested", "third-party-inspections", "checks")}
    groups = {f"group:{kind.group}" for kind in vocabulary.findings.values()}
    known = {*vocabulary.components(), *vocabulary.checks, *vocabulary.measurements, *vocabulary.facts, *lists, *groups}
    for question in words.questions:
        assert question.about
        assert set(question.about) <= known, question.id


def test_a_small_folder_of_a_house_is_read(tmp_path: Path) -> None:
    small = write_plan_folder(tmp_path)
    words = load_search_words(small.vocabulary)
    assert words.synonyms[0].wider == (phrase("valance"),)
    assert words.synonyms[0].unless == (phrase("bumper sticker"),)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("synonyms:\n  - {id: x, same: ['!?']}\nsilent: [the]\n", "holds no word"),
        ("synonyms:\n  - {id: x, smae: [boot]}\nsilent: [the]\n", "same"),
        ("synonyms:\n  - {id: x, same: []}\nsilent: [the]\n", "empty"),
        ("synonyms: []\nsilent: [the]\n", "empty"),
        ("synonyms:\n  - {id: x, same: [boot]}\n", "silent"),
        ("synonyms:\n  - {id: x, same: [boot]}\n  - {id: x, same: [bonnet]}\nsilent: [the]\n", "x"),
        ("[", "synonyms.yaml"),
    ],
)
def test_a_broken_file_is_told(tmp_path: Path, text: str, told: str) -> None:
    small = write_plan_folder(tmp_path)
    (small.vocabulary / "synonyms.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(PlanBroken) as broken:
        load_search_words(small.vocabulary)
    assert told in " ".join(broken.value.problems)


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    small = write_plan_folder(tmp_path)
    (small.vocabulary / "questions.yaml").unlink()
    with pytest.raises(PlanBroken, match="vocabulary"):
        load_search_words(small.vocabulary)


def test_a_houses_own_synonyms_join_those_that_ship(tmp_path: Path) -> None:
    own = tmp_path / "synonyms.yaml"
    own.write_text(
        'synonyms:\n  - {id: dickey, same: [dickey, boots], unless: ["dickey bow"]}\n'
        "  - {id: bib, same: [bib, tonneau]}\n"
        "silent: [please]\n",
        encoding="utf-8",
    )
    words = load_search_words(shot_plans() / "vocabulary", own=own)
    trunk = next(one for one in words.synonyms if one.id == "trunk")
    assert {("dickey",), ("boot",), ("trunk",)} <= set(trunk.same)
    assert ("dickey", "bow") in trunk.unless
    assert any(one.id == "bib" for one in words.synonyms)
    assert "please" in words.silent


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("synonyms:\n  - {id: a, same: [boot, bonnet]}\n", "synonyms.yaml:2:19: synonyms.a.same: it shares words with"),
        ("synonyms:\n  - {id: hood, same: [lid]}\n", "synonyms.yaml:2:10: synonyms.hood.id: the synonym 'hood' ships"),
        ("synonyms:\n  - {id: a, sme: [lid]}\n", "did you mean 'same'?"),
        ("synonyms:\n  - {id: a, same: ['!']}\n", "holds no word"),
        ("synonym: []\n", "unknown key 'synonym'"),
        ("synonyms: [", "this is not YAML"),
    ],
)
def test_a_houses_bad_synonym_is_named_with_its_place(tmp_path: Path, text: str, problem: str) -> None:
    own = tmp_path / "synonyms.yaml"
    own.write_text(text, encoding="utf-8")
    with pytest.raises(PlanBroken) as broken:
        load_search_words(shot_plans() / "vocabulary", own=own)
    assert problem in "".join(broken.value.problems)
    assert all(one.startswith("synonyms.yaml:") for one in broken.value.problems)
