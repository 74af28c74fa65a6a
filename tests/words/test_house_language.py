"""A house's language from its settings to its editions: taken, missed with a word about it, or refused."""

from __future__ import annotations

import json
from collections.abc import Iterator

import pytest

from fakes import pseudo
from lapseam.domain.errors import LanguageBroken
from lapseam.workflow import Desk


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A workspace with one car that nobody has photographed."""
    with Desk.open(tmp_path_factory.mktemp("words") / "house", create=True) as opened:
        opened.new_car(stock="T-1", plan="quick-36", by="Ada Lindqvar").result()
        yield opened


def wish(desk: Desk, tag: str) -> None:
    (desk.folder / "settings.yaml").write_text(f"language: {tag}\n")


def page(desk: Desk) -> str:
    return desk.publish(stock="T-1", by="Ada Lindqvar").result().gallery.read_text(encoding="utf-8")


def test_a_catalogue_in_the_workspace_is_the_editions_language(desk: Desk) -> None:
    pseudo.written(desk.folder / "messages")
    wish(desk, pseudo.TAG)
    made = desk.publish(stock="T-1", by="Ada Lindqvar").result()
    assert f'<html lang="{pseudo.TAG}">' in made.gallery.read_text(encoding="utf-8")
    record = json.loads((made.path / "data" / "record.json").read_text(encoding="utf-8"))
    assert record["language"] == pseudo.TAG
    assert record["not_seen"][0]["kind"] == "shot", "ids are in no language"
    assert "English" not in made.words


def test_a_language_without_a_catalogue_is_published_in_english_and_says_so(desk: Desk) -> None:
    wish(desk, "fr")
    made = desk.publish(stock="T-1", by="Ada Lindqvar").result()
    assert '<html lang="en">' in made.gallery.read_text(encoding="utf-8")
    assert "It is in English: there is no catalogue messages/fr/LC_MESSAGES/edition.po" in made.words


def test_english_of_a_country_writes_dates_as_it_does(desk: Desk) -> None:
    wish(desk, "en-US")
    assert '<html lang="en-US">' in page(desk)


def test_a_catalogue_that_would_lose_a_slot_publishes_nothing(desk: Desk) -> None:
    path = desk.folder / "messages" / "de" / "LC_MESSAGES" / "edition.po"
    path.parent.mkdir(parents=True)
    text = 'msgctxt "basis.told"\nmsgid "stated by {who}, not verified"\nmsgstr "nicht geprüft"\n'
    path.write_text(f'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=UTF-8\\n"\n\n{text}', encoding="utf-8")
    wish(desk, "de")
    before = desk.editions(stock="T-1").result()
    with pytest.raises(LanguageBroken) as told:
        page(desk)
    assert told.value.problems == ("line 6: 'nicht geprüft' has other slots than the English text, which has: {who}",)
    assert desk.editions(stock="T-1").result() == before
