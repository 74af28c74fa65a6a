"""The list that translators of editions work from is complete, and reads with the format's own library."""

from __future__ import annotations

from babel.messages.pofile import read_po

from words import catalogue


def test_the_list_holds_every_text_and_nothing_else() -> None:
    """When it fails: python tests/words/catalogue.py"""
    assert catalogue.catalogue().read_text(encoding="utf-8") == catalogue.written()


def test_the_list_reads_with_the_formats_own_library() -> None:
    with catalogue.catalogue().open("rb") as file:
        read = read_po(file, abort_invalid=True)
    assert len(read) == len(catalogue.collected())
    assert read.get("{n} photo", context="count.photos").id == ("{n} photo", "{n} photos")
    assert read.get("Surface rust", context="finding kind") is not None
    assert read.get("Read the condition page") is not None
    assert read.get("Photo before") is not None
