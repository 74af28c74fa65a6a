"""Reports at the pace of an eye, and warnings that stay inside."""

from __future__ import annotations

import threading
import warnings
from collections.abc import Iterator

import pytest

from lapseam.domain.photo import CameraReadings, MediaKind, Photo, PixelReadings
from lapseam.intake import Every
from lapseam.intake.near import SameView
from lapseam.intake.quiet import quiet


def test_reports_come_ten_times_a_second_and_the_last_always() -> None:
    told: list[tuple[int, int]] = []
    clock: Iterator[float] = iter(step * 0.03 for step in range(100))
    every = Every(lambda done, total: told.append((done, total)), now=lambda: next(clock))
    for done in range(1, 11):
        every(done, 10)
    assert told == [(1, 10), (5, 10), (9, 10), (10, 10)]


def test_an_early_end_is_told_once() -> None:
    told: list[tuple[int, int]] = []
    every = Every(lambda done, total: told.append((done, total)), now=lambda: 0.0)
    every(1, 10)
    every(2, 10)
    every.last(2, 10)
    every.last(2, 10)
    assert told == [(1, 10), (2, 10)]


def test_warnings_are_loud_again_after_threads_have_overlapped() -> None:
    inside, leave = threading.Barrier(2), threading.Event()

    def overlap() -> None:
        with quiet():
            inside.wait()
            leave.wait()

    thread = threading.Thread(target=overlap)
    thread.start()
    with quiet():
        inside.wait()
        warnings.warn_explicit("odd file", UserWarning, "TiffImagePlugin.py", 1, module="PIL.TiffImagePlugin")
    leave.set()
    thread.join()
    with pytest.warns(UserWarning, match="odd file"):
        warnings.warn_explicit("odd file", UserWarning, "TiffImagePlugin.py", 1, module="PIL.TiffImagePlugin")


def test_other_warnings_are_heard_inside_too() -> None:
    with quiet(), pytest.raises(UserWarning, match="ours"):
        warnings.warn_explicit("ours", UserWarning, "look.py", 1, module="lapseam.intake.look")


def _photo(number: int, dhash: str, media: MediaKind = MediaKind.STILL) -> Photo:
    pixels = PixelReadings(1.0, 1.0, 1.0, 0.0, 0.0, dhash)
    return Photo(f"{number:064x}", f"{number}.jpg", 1, media, "JPEG", 1, 1, CameraReadings(), pixels)


def test_ten_differing_bits_are_near_and_eleven_are_not() -> None:
    views = SameView({"ten": f"{(1 << 10) - 1 | 1 << 63:016x}", "eleven": f"{(1 << 11) - 1 | 1 << 63:016x}"})
    assert views.admit(_photo(1, f"{1 << 63:016x}")) == ("ten",)


def test_many_photos_grow_the_car_and_the_nearest_comes_first() -> None:
    views = SameView({})
    for number in range(1, 300):
        views.admit(_photo(number, f"{number << 20 | 1 << 63:016x}"))
    near = views.admit(_photo(999, f"{7 << 20 | 1 << 63:016x}"))
    assert near[0] == f"{7:064x}"
    assert len(near) == 299


def test_a_clip_is_not_compared() -> None:
    views = SameView({"a": "8" * 16})
    assert views.admit(_photo(1, "8" * 16, MediaKind.CLIP)) == ()
    assert views.admit(_photo(2, "8" * 16)) == ("a",)
