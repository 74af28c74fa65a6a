"""What is believed of raw tag values, and what becomes None."""

from __future__ import annotations

import math
from datetime import datetime
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lapseam.intake import tags
from lapseam.intake.tags import TAGS, camera_readings, orientation_of, positive, text


@pytest.mark.parametrize(
    ("digits", "microsecond"),
    [("05", 50_000), ("5", 500_000), ("500", 500_000), ("", 0), ("1234567", 123_456), ("x", 0)],
)
def test_sub_seconds_are_a_decimal_fraction(digits: str, microsecond: int) -> None:
    camera = camera_readings({tags.TAKEN: "2026:05:12 09:04:30", tags.SUBSECOND: digits})
    assert camera.taken_at == datetime(2026, 5, 12, 9, 4, 30, microsecond)


@pytest.mark.parametrize(
    "written",
    ["0000:00:00 00:00:00", "2026:13:01 00:00:00", "2026:02:30 10:00:00", "    :  :     :  :  ", "", "2026:05:12",
     "2026:05:12 24:00:00", "٢٠٢٦:05:12 09:04:30x", None, 7, b"\xff\xfe"],
)  # fmt: skip
def test_wrong_dates_are_none(written: object) -> None:
    assert camera_readings({tags.TAKEN: written}).taken_at is None


@pytest.mark.parametrize("written", ["2026:05:12 09:04:30\0", "2026-05-12T09:04:30", b"2026:05:12 09:04:30"])
def test_dates_written_otherwise_are_read(written: object) -> None:
    assert camera_readings({tags.TAKEN: written}).taken_at == datetime(2026, 5, 12, 9, 4, 30)


@pytest.mark.parametrize(
    ("written", "minutes"),
    [("+00:00", 0), ("-05:00", -300), ("+05:30", 330), ("-03:30", -210), ("Z", 0), ("+14:00", 840), ("+14:30", None),
     ("+02:75", None), ("   :  ", None), ("05:00", None), (None, None)],
)  # fmt: skip
def test_offsets_are_minutes_east_of_utc(written: object, minutes: int | None) -> None:
    assert camera_readings({tags.OFFSET: written}).offset_minutes == minutes


def test_a_moment_in_utc_follows_from_both() -> None:
    camera = camera_readings({tags.TAKEN: "2026:05:12 23:30:00", tags.OFFSET: "-05:00"})
    assert camera.taken_utc() == datetime(2026, 5, 13, 4, 30)


@pytest.mark.parametrize(
    ("value", "orientation"), [(1, 1), (6, 6), ([8], 8), (0, 1), (9, 1), (-3, 1), ("6", 1), (6.5, 1)]
)
def test_orientation_is_one_to_eight_or_upright(value: object, orientation: int) -> None:
    assert orientation_of(value) == orientation


@pytest.mark.parametrize("value", [0, -1, math.nan, math.inf, None, "50", [], b"2", Fraction(0)])
def test_numbers_without_sense_are_none(value: object) -> None:
    assert positive(value) is None


def test_a_ratio_with_nothing_below_the_line_is_none() -> None:
    class Broken:
        def __float__(self) -> float:
            raise ZeroDivisionError

    assert positive(Broken()) is None
    assert positive([Fraction(1, 250)]) == pytest.approx(0.004)


def test_iso_beyond_sixteen_bits_stands_in_the_exposure_index() -> None:
    assert camera_readings({tags.ISO: 65535, tags.EXPOSURE_INDEX: 102400}).iso == 102400
    assert camera_readings({tags.ISO: [200, 0]}).iso == 200


@pytest.mark.parametrize(
    ("value", "line"),
    [("  Specimen  24 \0rest", "Specimen 24"), ("----", None), ("\0\0", None), (b"Example\x00", "Example"),
     ("a\nb", "a b"), ("Ünsal", "Ünsal"), (b"N\0a\0", "Na"), ([69, 120], "Ex"), (["Ex"], "Ex"), (3, None),
     ("x" * 900, "x" * 200)],
)  # fmt: skip
def test_text_is_one_printable_line(value: object, line: str | None) -> None:
    assert text(value) == line


def test_private_tags_are_noticed_and_their_values_left_behind() -> None:
    private = {tags.BODY_SERIAL: "SN-1234567", tags.OWNER: "Somebody Private"}
    camera = camera_readings({**private, tags.LATITUDE: [1, 2, 3], tags.LONGITUDE: [4, 5, 6]})
    assert (camera.has_serial, camera.has_owner, camera.has_position) == (True, True, True)
    assert "1234567" not in repr(camera)
    assert "Somebody" not in repr(camera)
    assert not camera_readings({tags.LATITUDE: [1, 2, 3]}).has_position


_anything = st.recursive(
    st.none() | st.integers() | st.floats() | st.text() | st.binary() | st.fractions(), st.lists, max_leaves=4
)


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.dictionaries(st.sampled_from(TAGS), _anything, max_size=5))
def test_no_value_whatever_makes_it_raise(values: dict[tags.Tag, object]) -> None:
    camera = camera_readings(values)
    assert camera.iso is None or camera.iso >= 0
    assert camera.make is None or camera.make.isprintable()
