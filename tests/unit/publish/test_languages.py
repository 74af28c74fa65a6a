"""Catalogues become languages: words, several plurals, dates and figures; one that would lose a slot is refused.

Plural rules and date forms are those of the Unicode CLDR (plural rules and date patterns of pl, ar, en-US), and of the
GNU gettext manual, "Additional functions for plural forms".
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path

import pytest

from lapseam.domain import phrases
from lapseam.domain.errors import LanguageBroken
from lapseam.domain.language import ENGLISH, speaking, spoken
from lapseam.publish import language

POLISH = """
msgid ""
msgstr ""
"Content-Type: text/plain; charset=UTF-8\\n"
"Plural-Forms: nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2);\\n"

msgctxt "count.photos"
msgid "{n} photo"
msgid_plural "{n} photos"
msgstr[0] "{n} zdjęcie"
msgstr[1] "{n} zdjęcia"
msgstr[2] "{n} zdjęć"

msgctxt "and"
msgid "{first} and {last}"
msgstr "{first} i {last}"

#, fuzzy
msgctxt "basis.seen"
msgid "seen"
msgstr "nobody stands by this yet"
"""


def written(folder: Path, text: str, tag: str = "pl") -> Path:
    """A folder with that catalogue."""
    path = folder / tag / "LC_MESSAGES" / "edition.po"
    path.parent.mkdir(parents=True)
    path.write_text(text, encoding="utf-8")
    return folder


def test_every_number_gets_its_own_form(tmp_path: Path) -> None:
    with speaking(language("pl", written(tmp_path, POLISH))):
        said = [phrases.count("count.photos", n) for n in (1, 2, 5, 12, 22, 25)]
    assert said == ["1 zdjęcie", "2 zdjęcia", "5 zdjęć", "12 zdjęć", "22 zdjęcia", "25 zdjęć"]


def test_dates_and_figures_are_written_as_the_country_does(tmp_path: Path) -> None:
    polish = language("pl", written(tmp_path, POLISH))
    assert polish.day(date(2026, 5, 12)) == "12 maja 2026"
    assert polish.number("0.12") == "0,12"
    assert polish.whole(84213).replace("\u00a0", " ") == "84 213"
    american = language("en-US")
    assert (american.tag, american.day(date(2026, 5, 12)), american.whole(84213)) == ("en-US", "May 12, 2026", "84,213")
    assert ENGLISH.day(date(2026, 5, 12)) == "12 May 2026"


def test_a_list_has_the_languages_own_word_for_and(tmp_path: Path) -> None:
    with speaking(language("pl", written(tmp_path, POLISH))):
        assert phrases.listed([12, 13, 14]) == "12, 13 i 14"
    assert phrases.listed([12, 13, 14]) == "12, 13 and 14"


def test_what_nobody_translated_or_stands_by_is_english(tmp_path: Path) -> None:
    with speaking(language("pl", written(tmp_path, POLISH))):
        assert phrases.say("basis.measured") == "measured"
        assert phrases.say("basis.seen") == "seen"


def test_a_country_takes_its_languages_catalogue_and_its_own_way_of_writing(tmp_path: Path) -> None:
    german = 'msgid ""\nmsgstr ""\n\nmsgctxt "and"\nmsgid "{first} and {last}"\nmsgstr "{first} und {last}"\n'
    folder = written(tmp_path, german, "de")
    austrian = language("de-AT", folder)
    assert (austrian.tag, austrian.rtl, austrian.day(date(2026, 1, 2))) == ("de-AT", False, "2. Jänner 2026")
    assert austrian.text("{first} and {last}", context="and") == "{first} und {last}"


def test_a_language_without_catalogue_is_english_and_says_so(tmp_path: Path) -> None:
    assert language("fr", tmp_path) is ENGLISH
    assert language("en") is ENGLISH


def test_a_language_that_is_written_from_the_right_says_so(tmp_path: Path) -> None:
    arabic = 'msgid ""\nmsgstr ""\n\nmsgctxt "basis.seen"\nmsgid "seen"\nmsgstr "شوهد"\n'
    assert language("ar", written(tmp_path, arabic, "ar")).rtl


def test_a_tag_that_is_none_is_refused_with_a_way_out() -> None:
    with pytest.raises(LanguageBroken) as told:
        language("klingonese")
    assert "settings.yaml" in told.value.next_step


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        (POLISH.replace("{first} i {last}", "{first} i {ostatni}"), "{first}, {last}"),
        (POLISH.replace("{first} i {last}", "{first} i"), "{first}, {last}"),
        (POLISH.replace("{first} i {last}", "{first} i {last} {"), "{first}, {last}"),
        (POLISH.replace('msgstr[2] "{n} zdjęć"', 'msgstr[2] ""'), "wants 3 forms"),
    ],
)
def test_a_text_that_would_lose_a_slot_or_a_form_is_named(tmp_path: Path, text: str, wrong: str) -> None:
    with pytest.raises(LanguageBroken) as told:
        language("pl", written(tmp_path, text))
    assert len(told.value.problems) == 1
    assert wrong in told.value.problems[0]
    assert told.value.problems[0].startswith("line ")


def test_two_threads_speak_two_languages_at_once(tmp_path: Path) -> None:
    polish = language("pl", written(tmp_path, POLISH))

    def said(_: int) -> str:
        return phrases.count("count.photos", 2)

    def said_in_polish(number: int) -> str:
        with speaking(polish):
            return said(number)

    with ThreadPoolExecutor(4) as crew:
        both = [*crew.map(said_in_polish, range(50)), *crew.map(said, range(50))]
    assert both == ["2 zdjęcia"] * 50 + ["2 photos"] * 50
    assert spoken() is ENGLISH
