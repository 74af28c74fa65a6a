"""The listing's templates: strict, in a sandbox, changed by a house; words escaped; cut by whole sentences."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lapseam.domain.errors import TemplateBroken
from lapseam.domain.listing import Listing, Part, Rank, Sentence
from lapseam.domain.selection import TextForm
from lapseam.publish.listing_text import plain_words, write_text

HOSTILE = "Left <script>alert(1)</script> rocker [x](javascript:alert) *bold* `code` {{ 7*7 }} & \u202egnp"


def listing(words: str = "Left rocker: rust") -> Listing:
    found = tuple(Sentence(f"Finding {at}: {words}.", Rank.WEAR, f"{at}") for at in (1, 2, 3))
    closing = tuple(Sentence(f"Closing {at}.", Rank.ALWAYS) for at in (1, 2, 3))
    return Listing(
        title=f"A car {words}",
        teaser="A car.",
        flag="",
        house="House",
        language="en",
        edition_words="Edition 1",
        parts=(
            Part("car", "", (Sentence("A car.", Rank.ALWAYS), Sentence("Blue.", Rank.NICE))),
            Part("findings", "What was found", found),
            Part(
                "not-known",
                "What is not known",
                (Sentence("Roof, not seen: Top.", Rank.UNSEEN, "unseen:Roof"), *closing),
            ),
        ),
    )


def own(tmp_path: Path, words: str, form: TextForm = TextForm.PLAIN) -> Path:
    folder = tmp_path / "listing"
    folder.mkdir(exist_ok=True)
    (folder / f"{form.value}.j2").write_text(words, encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize("form", TextForm)
def test_every_sentence_stands_in_every_form_and_reads_the_same(form: TextForm) -> None:
    made = write_text(listing(), form)
    for one in listing().sentences():
        assert one.text in made.plain
    assert made.left_out == ()
    assert "WHAT WAS FOUND" in made.plain.upper()


def test_hostile_words_stay_words() -> None:
    html = write_text(listing(HOSTILE), TextForm.HTML).text
    assert "<script" not in html
    assert "&lt;script&gt;" in html
    markdown = write_text(listing(HOSTILE), TextForm.MARKDOWN).text
    assert r"\<script\>" in markdown
    assert r"\[x\](javascript" in markdown
    assert r"\*bold\*" in markdown
    for form in TextForm:
        made = write_text(listing(HOSTILE), form)
        assert "\u202e" not in made.text
        assert "49" not in made.text
        assert HOSTILE.replace("\u202e", "") in made.plain


@pytest.mark.parametrize(
    ("words", "line", "said"),
    [
        ("{{ listing.title }}\n\n{{ listing.colour }}\n", 3, "colour"),
        ("{% for x in listing.parts %}\n{{ x.heading }\n{% endfor %}", 2, "unexpected"),
        ("ok\n{{ listing.__class__.__mro__ }}\n", 2, "unsafe"),
        ("ok\n{{ ''.__class__.__base__.__subclasses__() }}\n", 2, "unsafe"),
        ("ok\n\n{{ listing.parts.append(1) }}\n", 3, "unsafe"),
        ("{{ 1 // 0 }}", 1, "division"),
        ("{% include '../../settings.yaml' %}", 1, "settings.yaml"),
        ("{% for x in range(99999) %}{% for y in range(99) %}xxxxxxxxxx{% endfor %}{% endfor %}", 0, "longer than"),
    ],
)
def test_what_is_wrong_with_a_house_s_template_is_named_with_its_line(
    tmp_path: Path, words: str, line: int, said: str
) -> None:
    with pytest.raises(TemplateBroken) as told:
        write_text(listing(), TextForm.PLAIN, house=own(tmp_path, words))
    (problem,) = told.value.problems
    place = f"plain.j2:{line}:" if line else "plain.j2"
    assert place in problem
    assert str(tmp_path) in problem
    assert said in problem


def test_a_house_changes_one_form_and_the_others_stay(tmp_path: Path) -> None:
    house = own(tmp_path, "{{ listing.house }}: {{ listing.parts[1].sentences | join(' / ') }}\n")
    assert write_text(listing(), TextForm.PLAIN, house=house).text.startswith("House: Finding 1:")
    assert write_text(listing(), TextForm.HTML, house=house) == write_text(listing(), TextForm.HTML)


@settings(max_examples=60, deadline=None)
@given(st.integers(20, 700), st.sampled_from(TextForm))
def test_a_limit_takes_whole_sentences_and_as_few_as_can_be(limit: int, form: TextForm) -> None:
    whole, made = listing(), write_text(listing(), form, limit=limit)
    for one in whole.sentences():
        assert (one.text in made.plain) is (one.text not in made.left_out)
    assert made.over == max(0, len(made.text) - limit)
    if made.over:
        assert len(made.left_out) == whole.droppable
    if made.left_out:
        assert made.left_out[-1] or "Blue." in made.left_out
        assert "Blue." in made.left_out


def test_marks_are_taken_off_for_the_guard() -> None:
    assert plain_words("# Head\n\n- **one** \\* two", TextForm.MARKDOWN) == "Head\n\none * two"
    assert plain_words("<p>A <b>b</b> &amp; c</p><p>d</p>", TextForm.HTML) == "A b & c\nd"
