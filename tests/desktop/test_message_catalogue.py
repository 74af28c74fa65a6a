"""Every text of the windows is looked up, and the translator's list holds them all."""

from __future__ import annotations

import gettext
import struct
from pathlib import Path

import pytest

from desktop import catalogue
from lapseam.desktop import words
from lapseam.domain.coverage import State


def test_the_list_holds_every_text_and_nothing_else():
    kept = catalogue.catalogue().read_text(encoding="utf-8")
    assert kept == catalogue.written(catalogue.texts()), "run: python tests/desktop/catalogue.py"


def test_no_text_is_shown_without_being_looked_up():
    assert catalogue.bare_texts() == ()


def test_every_key_can_be_collected():
    assert catalogue.unreadable_keys() == ()


@pytest.fixture
def german(tmp_path: Path):
    """A catalogue with two German texts, in GNU gettext's binary form (.mo), and English again afterwards."""
    folder = tmp_path / "de" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    pairs = {
        "": "Content-Type: text/plain; charset=UTF-8\nPlural-Forms: nplurals=2; plural=(n != 1);\n",
        "missed": "fehlt",
        "{n} shot open\0{n} shots open": "{n} Bild offen\0{n} Bilder offen",
    }
    (folder / "lapseam.mo").write_bytes(_mo(pairs))
    words.use_language("de", tmp_path)
    yield
    words._catalogue = gettext.NullTranslations()


def _mo(pairs: dict[str, str]) -> bytes:
    keys = sorted(pairs)
    head, at, tables, body = 28, 28 + 16 * len(keys), ([], []), b""
    for table, texts in zip(tables, (keys, [pairs[key] for key in keys]), strict=True):
        for text in texts:
            raw = text.encode()
            table.append((len(raw), at + len(body)))
            body += raw + b"\0"
    index = b"".join(struct.pack("<II", *row) for table in tables for row in table)
    return struct.pack("<7I", 0x950412DE, 0, len(keys), head, head + 8 * len(keys), 0, 0) + index + body


def test_another_language_is_shown_where_there_is_one(german):
    assert words.state_word(State.MISSED) == "fehlt"
    assert words.state_word(State.COVERED) == "covered"
    assert words._n("{n} shot open", "{n} shots open", 2) == "2 Bilder offen"
