"""Sizes as people write them: understood, or refused in words; and how they are shown in both systems."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapseam.domain import units
from lapseam.domain.errors import Mistake
from lapseam.domain.measure.extent import extent


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("40x15mm", "40 x 15 mm"),
        ("40 × 15 mm", "40 x 15 mm"),
        ("40 by 15 mm", "40 x 15 mm"),
        ("about 5/32in", "about 5/32 in"),
        ('1 1/2"', "1 1/2 in"),
        ("½in", "1/2 in"),
        ("1/8x3/4in", "1/8 x 3/4 in"),
        ("1,5 cm long", "1.5 cm long"),
        ("2 to 3in", "2 to 3 in"),
        ("2-3 mm", "2-3 mm"),
        ("3 chips, largest 4mm", "3 chips, largest 4 mm"),
        ("3rd rib, 20mm", "3rd rib, 20 mm"),
        ("٤٠ mm", "40 mm"),
        ("10 mm.", "10 mm."),
        ("the whole lower edge", "the whole lower edge"),
        ("  ", ""),
    ],
)
def test_understood(written: str, read: str):
    assert extent(written) == read
    assert extent(read) == read


@pytest.mark.parametrize(
    ("written", "why"),
    [
        ("12", "in mm or in inches"),
        ("12.", "in mm or in inches"),
        ("40 x 15", "in mm or in inches"),
        ("-5mm", "below nought"),
        ("1,250mm", "reads two ways"),
        ("12qq", "'qq' behind 12 is no unit known here"),
        ("1e400mm", "no unit known"),
        ("5/0 in", "divides by nought"),
        ("1.5.3 mm", "not one number"),
        ("99999 mm", "longer than any car"),
        ("🙂", "says no size"),
        ("9" * 300, "too long"),
    ],
)
def test_refused_in_words(written: str, why: str):
    with pytest.raises(Mistake) as told:
        extent(written)
    assert why in told.value.problem
    assert told.value.next_step


def test_a_bare_number_is_right_where_things_are_counted():
    assert extent("12", wanted="count") == "12"
    assert extent("12", wanted="count; mm") == "12"
    with pytest.raises(Mistake):
        extent("12", wanted="mm; count")


@given(st.text(max_size=60))
def test_whatever_is_typed_is_understood_or_refused_and_reads_the_same_again(text: str):
    try:
        read = extent(text)
    except Mistake:
        return
    assert extent(read) == read


def test_a_fraction_is_shown_in_the_other_system_as_a_whole():
    about = "about {value} {unit}"
    assert units.beside("5/32 in deep", about) == "5/32 in (about 4 mm) deep"
    assert units.beside("1 1/2 in", about) == "1 1/2 in (about 38 mm)"
    assert units.number("5/32") is None
