"""The pages: nobody's words can become markup, rows keep shapes and order, looks keep contrast."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jinja2 import UndefinedError

from fakes import published_car
from lapseam import places
from lapseam.domain.edition import Edition, MarkShown
from lapseam.domain.finding import MarkShape
from lapseam.publish import pages, section_views, views
from lapseam.publish.checking import PageRead
from lapseam.publish.views import PictureFile

DIGESTS = ("a" * 64, "b" * 64, "c" * 64)
FILES = {
    digest: (PictureFile(f"photos/{place}-40.jpg", 40, 30), PictureFile(f"photos/{place}-80.jpg", 80, 60))
    for place, digest in enumerate(DIGESTS, start=1)
}
HOSTILE = (
    "</script><script>alert(1)</script>",
    "</style><style>body{display:none}",
    '" onerror="alert(1)" x="',
    "' onmouseover='alert(1)",
    "<img src=x onerror=alert(1)>",
    "javascript:alert(1)",
    "https://example.com/x.png",
    "<!--<script>",
    "]]><x>",
    "{{ 7*7 }}{% raw %}",
    "\u202egnp.exe\u202c",
    "\x00\x07\ufffe",
    "\ud800",
    "&lt;b&gt; & <b>",
    "\u2028alert(1)//",
)


def edition(words: str = "Left rocker", **more: object) -> Edition:
    return published_car.edition(dict.fromkeys(DIGESTS, Path()), words=words, **more)  # type: ignore[arg-type]


def rendered(shown: Edition) -> pages.Pages:
    return pages.render_pages(
        shown, FILES, templates=places.templates(), seal="0" * 64, linked_data=dict(shown.json_ld)
    )


PLAIN = rendered(edition())


class Markup(HTMLParser):
    """Every tag of a page with the names of its attributes, in order."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, ...]] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, *(name for name, _ in attrs)))

    def handle_endtag(self, tag: str) -> None:
        self.tags.append((f"/{tag}",))

    def handle_comment(self, data: str) -> None:
        self.tags.append(("comment",))


def shape(text: str) -> tuple[object, ...]:
    """Everything about a page but its words."""
    read = PageRead(text)
    return Markup(text).tags, read.classes, read.ids, read.addresses, read.scripts


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_words_stay_words(words: str) -> None:
    made = rendered(edition(words))
    assert shape(made.gallery) == shape(PLAIN.gallery)
    assert shape(made.disclosure) == shape(PLAIN.disclosure)
    assert json.loads(PageRead(made.gallery).linked_data[0])["@type"] == "Car"
    made.gallery.encode()
    made.disclosure.encode()


@settings(max_examples=40, deadline=None)
@given(st.text(min_size=1, max_size=60) | st.text(alphabet="<>\"'&/=!- abx\u202e", min_size=1, max_size=20))
def test_any_words_stay_words(words: str) -> None:
    made = rendered(edition(words))
    assert shape(made.gallery) == shape(PLAIN.gallery)
    assert shape(made.disclosure) == shape(PLAIN.disclosure)


def test_words_cannot_turn_the_reading_direction() -> None:
    made = rendered(edition("not \u202ederaper\u202c \u2066x\u2069"))
    for text in (made.gallery, made.disclosure):
        assert not re.search("[\u202a-\u202e\u2066-\u2069]", text)
        assert "not deraper x" in text


@pytest.mark.parametrize("anchor", ["", "a b", 'x"onclick', "1st", "../x", "x#y"])
def test_an_anchor_that_is_none_stops_the_page(anchor: str) -> None:
    shown = edition()
    chapter = replace(shown.gallery.chapters[0], anchor=anchor)
    with pytest.raises(ValueError, match="no safe anchor"):
        rendered(replace(shown, gallery=replace(shown.gallery, chapters=(chapter, *shown.gallery.chapters[1:]))))


def test_a_template_that_asks_for_more_fails(tmp_path: Path) -> None:
    for folder in ("gallery", "disclosure"):
        (tmp_path / folder).mkdir()
        for path in (places.templates() / folder).iterdir():
            (tmp_path / folder / path.name).write_bytes(path.read_bytes())
    (tmp_path / "tokens.json").write_bytes((places.templates() / "tokens.json").read_bytes())
    index = tmp_path / "gallery" / "index.html.j2"
    index.write_text(index.read_text().replace("{{ gallery.title }}</h1>", "{{ gallery.title }}{{ nobody }}</h1>"))
    with pytest.raises(UndefinedError, match="nobody"):
        pages.render_pages(edition(), FILES, templates=tmp_path, seal="", linked_data={})


def test_pages_ask_for_nothing_outside_and_run_only_their_own_script() -> None:
    for text in (PLAIN.gallery, PLAIN.disclosure):
        assert "default-src &#39;none&#39;" in text or "default-src 'none'" in text
        assert not re.search(r"(https?:)?//[a-z]", re.sub(r'"@context":"https://schema.org"', "", text))
        assert not re.search(r"\son[a-z]+=", text)
    assert PageRead(PLAIN.disclosure).scripts == []


def test_every_picture_has_words_and_a_size_before_it_loads() -> None:
    for tag in re.findall(r"<img [^>]*>", PLAIN.gallery):
        assert re.search(r'alt="[^"]+"', tag)
        assert re.search(r'width="80" height="60"', tag)
        assert "srcset=" in tag
    images = re.findall(r"<img [^>]*>", PLAIN.gallery)
    assert [("lazy" in tag) for tag in images] == [False, True, True, True]


def test_pictures_stand_in_gallery_order_with_the_flaw_again_at_the_end() -> None:
    figures = re.findall(r'<figure class="pic" id="([^"]+)"', PLAIN.gallery)
    assert figures == ["photo-1", "photo-2", "photo-3", "again-2"]


def test_a_finding_stands_beside_its_photo_and_again_and_has_one_id() -> None:
    assert PLAIN.gallery.count('<article class="finding"') == 2
    assert PageRead(PLAIN.gallery).ids.count("finding-7") == 1


def test_every_state_of_the_ribbon_has_a_pattern_and_a_word() -> None:
    css = (places.templates() / "gallery" / "edition.css").read_text(encoding="utf-8")
    index = PLAIN.gallery.split('<ul class="zones">')[1].split("</ul>")[0]
    for state in ("covered", "partly", "taken", "not-reachable", "not-fitted", "decide"):
        assert f".c.{state}" in css
        assert f'<i class="c {state}" title="Left rocker: {state}">' in index
        assert f'<i class="c {state} waived" title="Left rocker: {state}, waived">' in index
    assert 'href="disclosure.html#not-seen"' in index


def test_the_condition_page_prints_all_it_is_given_in_order() -> None:
    shown = [section.anchor for section in section_views.sections(edition().disclosure)]
    ids = [one for one in PageRead(PLAIN.disclosure).ids if one in shown]
    assert ids == shown
    assert shown.index("not-seen") == shown.index("findings") + 1
    read = PageRead(PLAIN.disclosure)
    assert read.classes["article.item"] == 3
    assert read.classes["div.item"] == 2 + 1 + 1 + 1 + 1 + 1


def test_what_was_not_seen_is_as_large_as_what_was_found() -> None:
    found, not_seen = (
        PLAIN.disclosure.split(f'<section class="part" id="{anchor}"')[1].split("</section>")[0]
        for anchor in ("findings", "not-seen")
    )
    for part in (found, not_seen):
        assert re.search(r'class="item[^"]*"', part)
        assert re.search(r'<h[34] class="h4">Left rocker</h[34]>', part)
        assert re.search(r"<p>(Left rocker\.|Not seen\.)", part)


@pytest.mark.parametrize(
    ("count", "laid"), [(0, []), (1, [1]), (2, [2]), (3, [3]), (4, [2, 2]), (5, [2, 3]), (7, [2, 2, 3])]
)
def test_pictures_without_findings_stand_in_even_rows(count: int, laid: list[int]) -> None:
    view = views.GalleryViews(edition().gallery, FILES, "not-seen").chapters[1].rows[0].pictures[0]
    assert [len(row.pictures) for row in views.rows([view] * count)] == laid


def test_rows_have_one_height_because_columns_follow_shapes() -> None:
    joined = views.GalleryViews(edition().gallery, FILES, "not-seen")
    wide = joined.chapters[1].rows[0].pictures[0]
    tall = replace(wide, width=60, height=80)
    assert views.Row((wide, tall)).columns == "minmax(0,1.3333fr) minmax(0,0.7500fr)"


def test_the_flaws_group_says_each_finding_once_with_all_its_pictures() -> None:
    view = views.GalleryViews(edition().gallery, FILES, "not-seen").chapters[0].rows[0].pictures[0]
    seventh = view.findings[0]
    eighth, ninth = (
        replace(seventh, finding=replace(seventh.finding, number=number, anchor=f"finding-{number}"))
        for number in (8, 9)
    )
    shown = [replace(view, findings=found) for found in ((seventh, eighth), (seventh,), (eighth,), (ninth,))]
    told = [
        ([f.finding.number for f in flaw.findings], [len(r.pictures) for r in flaw.rows]) for flaw in views.flaws(shown)
    ]
    assert told == [([7, 8], [2]), ([8], [1]), ([9], [1])]


def test_marks_stay_inside_and_keep_their_number_in_the_picture() -> None:
    corner = views.mark_view(MarkShown(3, MarkShape.BOX, 0.95, 0.0, 0.2, 0.1, "x"))
    assert corner.classes == "box low"
    assert corner.style == "--x:0.9500;--y:0.0000;--w:0.2000;--h:0.1000"
    point = views.mark_view(MarkShown(3, MarkShape.POINT, -1, 0.5, 0, 0, "x"))
    assert (point.classes, point.style) == ("point right", "--x:0.0000;--y:0.5000")


def test_a_mark_across_the_whole_picture_keeps_its_number_inside() -> None:
    assert views.mark_view(MarkShown(3, MarkShape.BOX, 0.0, 0.5, 1.0, 0.2, "x")).classes == "box left"


def test_a_heading_is_not_said_again_in_its_sentence() -> None:
    assert views.without("Rear brakes", "Rear brakes: not seen, nobody photographed it.") == (
        "Not seen, nobody photographed it."
    )
    assert views.without("Rear", "Rear brakes: not seen.") == "Rear brakes: not seen."
    assert views.without("Rear", "Rear: ") == "Rear: "
    assert views.without("Freins", "Freins\u00a0: non vus.") == "Non vus."
    assert views.without("後ブレーキ", "後ブレーキ：未確認") == "未確認"


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    shares = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in shares)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_contrast_follows_the_published_vectors() -> None:
    """WCAG 2.2, relative luminance and contrast ratio: the two greys at the 4.5 edge on white."""
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.5422, abs=1e-4)
    assert contrast("#777777", "#FFFFFF") == pytest.approx(4.4781, abs=1e-4)


@pytest.mark.parametrize("scheme", ["light", "dark", "bright"])
@pytest.mark.parametrize("ground", ["ground", "sheet"])
def test_text_keeps_its_contrast(scheme: str, ground: str) -> None:
    """WCAG 2.2, 1.4.3: 4.5:1 for text; 1.4.11: 3:1 for the ribbon's cells and the focus ring."""
    colours = json.loads((places.templates() / "tokens.json").read_text())[scheme]
    assert contrast(colours["ink"], colours[ground]) >= 7
    assert contrast(colours["soft"], colours[ground]) >= 4.5
    assert contrast(colours["on-signal"], colours["signal"]) >= 4.5
    assert contrast(colours["signal"], colours[ground]) >= 3
    assert contrast(colours["focus"], colours[ground]) >= 3
