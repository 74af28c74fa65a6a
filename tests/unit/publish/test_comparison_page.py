"""Two editions as a page: self-contained, escaped, in its published shape; records that are none are refused."""

from __future__ import annotations

import html
import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from lapseam import places
from lapseam.domain.edition_comparison import compare
from lapseam.domain.errors import Mistake
from lapseam.domain.language import ENGLISH
from lapseam.publish import VerifyReport, read_record, write_comparison
from lapseam.publish.checking import PageRead
from lapseam.publish.verify import Fault, Harm

HOSTILE = '<img src=x onerror=alert(1)> & "quoted" \u202eturned </p><script>alert(1)</script> https://example.invalid/'
GOOD = (VerifyReport("one", ()), VerifyReport("two", ()))


def record(number: int, words: str, **more: Any) -> dict[str, Any]:
    return {
        "format": "lapseam-public-record",
        "version": 1,
        "language": "en",
        "stock": "T-1",
        "edition": number,
        "made_at": f"2026-05-1{number}T10:00:00+00:00",
        "house": words,
        "signed_words": words,
        "car": {"year": 1968, "make": words, "model": "One"},
        "findings": [
            {
                "number": 1,
                "part": words,
                "severity": "wear" if number == 1 else "unsafe",
                "sentence": f"{words} {number}",
            },
            {"number": 10 + number, "part": words, "severity": "odd", "sentence": words, "photos": [1]},
        ],
        "shots": [{"shot": f"s{at}", "state": "missed" if number == 1 else "covered"} for at in range(3)],
        "photos": [{"number": 1, "original_sha256": "ab" * 32, "caption": words, "shot": f"s{number}"}],
        **more,
    }


def test_the_page_holds_what_the_data_hold(tmp_path: Path) -> None:
    found = compare(record(1, "Hood"), record(2, "Hood"))
    page, data = write_comparison(tmp_path / "out", found, GOOD, language=ENGLISH)
    told = json.loads(data.read_bytes())
    jsonschema.validate(told, schema())
    assert told["counts"] == {"added": 1, "changed": 5, "withdrawn": 1}
    read = PageRead(page.read_text(encoding="utf-8"))
    words = "".join(read.words)
    for section in told["sections"]:
        assert (section["heading"] in words) == bool(section["rows"])
    assert read.classes["div.item"] == sum(
        len(section["rows"]) for section in told["sections"] if section["key"] not in ("coverage", "photos")
    )
    assert read.classes["span.turn"] == read.classes["div.item"]
    assert "From missed to covered" in words
    assert "Edition 1 of 11 May 2026" in words
    assert not read.classes["aside.flag"]
    assert read.addresses
    assert all(one.startswith("#") or one == "comparison.json" for one in read.addresses)
    assert all(one.removeprefix("#") in read.ids for one in read.addresses if one.startswith("#"))


def test_hostile_words_stay_words(tmp_path: Path) -> None:
    page, _ = write_comparison(tmp_path, compare(record(1, HOSTILE), record(2, HOSTILE)), GOOD, language=ENGLISH)
    text = page.read_text(encoding="utf-8")
    read = PageRead(text)
    assert "<img" not in text
    assert "\u202e" not in text
    assert read.scripts == []
    assert not [one for one in read.addresses if "example" in one]
    assert "script-src 'none'" in html.unescape(text)


def test_an_edition_that_was_changed_is_said_first(tmp_path: Path) -> None:
    broken = VerifyReport("two", (Fault(Harm.CHANGED, "data/record.json", "It was changed."),))
    found = compare(record(1, "Hood"), record(2, "Hood"))
    page, data = write_comparison(tmp_path, found, (GOOD[0], broken), language=ENGLISH)
    read = PageRead(page.read_text(encoding="utf-8"))
    assert read.classes["aside.flag"] == 1
    assert "Edition 2 of 12 May 2026 is not as it was published" in "".join(read.words)
    assert json.loads(data.read_bytes())["after"]["checked"].startswith("Not as published")


def test_nothing_different_is_said(tmp_path: Path) -> None:
    page, data = write_comparison(tmp_path, compare(record(1, "Hood"), record(1, "Hood")), GOOD, language=ENGLISH)
    assert "Nothing that the records hold is different." in "".join(PageRead(page.read_text()).words)
    assert json.loads(data.read_bytes())["same"] is True


def schema() -> Any:
    return json.loads((places.templates() / "comparison" / "comparison.schema.json").read_text(encoding="utf-8"))


def test_the_schema_is_one_and_refuses_another_shape() -> None:
    jsonschema.Draft202012Validator.check_schema(schema())
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({"format": "lapseam-edition-comparison", "version": 2}, schema())


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (None, "holds no published record"),
        (b"", "holds no published record"),
        (b"\xff\xfe", "holds no published record"),
        (b"[" * 90_000, "holds no published record"),
        (b"[]", "has a form that this program does not know"),
        (b'{"format": "another", "version": 1}', "has a form that this program does not know"),
        (b'{"format": "lapseam-public-record", "version": 9}', "has a form that this program does not know"),
    ],
)
def test_what_is_no_record_is_refused(tmp_path: Path, content: bytes | None, words: str) -> None:
    (tmp_path / "data").mkdir()
    if content is not None:
        (tmp_path / "data" / "record.json").write_bytes(content)
    with pytest.raises(Mistake, match=words):
        read_record(tmp_path)


def test_a_record_that_is_a_link_or_far_too_large_is_not_read(tmp_path: Path) -> None:
    (tmp_path / "data").mkdir()
    path = tmp_path / "data" / "record.json"
    with path.open("wb") as file:
        file.truncate(1 << 40)
    with pytest.raises(Mistake):
        read_record(tmp_path)
    path.unlink()
    path.symlink_to(tmp_path / "elsewhere.json")
    (tmp_path / "elsewhere.json").write_text(json.dumps(record(1, "Hood")))
    with pytest.raises(Mistake):
        read_record(tmp_path)
