"""Numbers to words, judged within the session. The numbers are invented, near those read from the demo card."""

from __future__ import annotations

from datetime import timedelta
from math import exp
from statistics import NormalDist

import pytest

from fakes import cars
from lapseam.domain.photo import MediaKind
from lapseam.domain.quality import Word, same_view_as, verdict, verdicts

VIEW = "00000000000000ff"
NEAR = "00000000000000fe"
FAR = "ffffffff00000000"


def frame(name: str, sharpness: float, *, dhash: str = VIEW, contrast: float = 55.0, mean: float = 80.0, **more):
    """A frame with these readings."""
    clipped = {key: more.pop(key) for key in ("clipped_dark", "clipped_light") if key in more}
    read = cars.pixels(sharpness=sharpness, dhash=dhash, contrast=contrast, mean_luma=mean, **clipped)
    return cars.photo(name, pixels=read, **more)


def session(count: int = 20):
    """Frames of other views: half lie between 1300 and 3700, the plainest near 420, as a walk round a car gives."""
    spread = NormalDist(7.7, 0.8)
    views = [f"{(0x9E3779B97F4A7C15 * (n + 1)) % 2**64:016x}" for n in range(count)]
    edges = [exp(spread.inv_cdf((n + 0.5) / count)) for n in range(count)]
    return [frame(f"other-{view}", edge, dhash=view) for view, edge in zip(views, edges, strict=True)]


def test_a_shaken_take_is_soft_beside_its_retake_and_the_retake_is_not():
    shaken, good = frame("shaken", 590, dhash=NEAR), frame("good", 2790)
    judged = verdict(shaken, [good])
    assert (judged.sharp, judged.usable) == (Word.SOFT, False)
    assert judged.words[0] == "soft: less edge detail than 1 other frame of this view"
    assert verdict(good, [shaken]).sharp is Word.GOOD


def test_two_good_takes_of_one_view_are_both_sharp():
    first, second = frame("first", 1498), frame("second", 1822, dhash=NEAR)
    assert {one.sharp for one in verdicts([first, second]).values()} == {Word.GOOD}


def test_a_flatter_take_is_not_called_soft():
    flat, full = frame("flat", 500, contrast=20.0), frame("full", 2000, contrast=50.0, dhash=NEAR)
    assert verdict(flat, [full]).sharp is Word.GOOD


def test_a_shaken_frame_that_nobody_retook_stands_out_of_the_session():
    judged = verdict(frame("lone", 41, dhash=FAR), session())
    assert judged.sharp is Word.SOFT
    assert judged.words[0] == "soft: less edge detail than 20 of the camera's 20 other frames"


def test_plain_paint_in_focus_is_not_soft():
    assert verdict(frame("plain", 315, dhash=FAR), session()).sharp is Word.GOOD


def test_too_few_frames_judge_nothing_and_speak_against_nothing():
    judged = verdict(frame("lone", 41, dhash=FAR), session()[:5])
    assert (judged.sharp, judged.usable) == (Word.CANNOT_JUDGE, True)
    assert judged.words[0] == "cannot judge sharpness: only 5 other frames to compare with"


def test_frames_of_another_camera_are_no_peers():
    other = [frame(f"phone-{n}", 3000, camera=cars.photo("x").camera.__class__(make="Other")) for n in range(20)]
    assert verdict(frame("lone", 41), other).sharp is Word.CANNOT_JUDGE


@pytest.mark.parametrize("mean", [23.2, 25.7])
def test_a_dark_frame_is_dark_and_its_sharpness_is_left_open(mean):
    judged = verdict(frame("dark", 1000, mean=mean), [frame("lit", 1000, dhash=NEAR)])
    assert (judged.sharp, judged.light, judged.usable) == (Word.CANNOT_JUDGE, Word.DARK, False)


def test_a_dark_noisy_take_does_not_make_its_retake_soft():
    assert verdict(frame("lit", 1000, mean=64), [frame("dark", 9000, mean=23, dhash=NEAR)]).usable


def test_half_the_light_of_another_take_is_dark_only_in_the_dark():
    lit, dim = frame("lit", 1000, mean=90), frame("dim", 1000, mean=44, dhash=NEAR)
    assert verdict(dim, [lit]).words[0] == "dark: less than half the light of 1 other frame of this view"
    assert verdict(dim, []).light is Word.GOOD
    assert verdict(frame("mid", 1000, mean=70), [frame("bright", 1000, mean=150)]).light is Word.GOOD


@pytest.mark.parametrize(
    ("readings", "word"),
    [
        ({"clipped_light": 0.02}, Word.GOOD),
        ({"clipped_light": 0.5}, Word.BLOWN),
        ({"mean": 240.0}, Word.BLOWN),
        ({"clipped_dark": 0.1}, Word.GOOD),
        ({"clipped_dark": 0.5}, Word.DARK),
    ],
)
def test_clipped_shares_count_only_when_large(readings, word):
    assert verdict(frame("one", 1000, **readings), []).light is word


def test_a_blurred_retake_is_the_same_view_a_little_further_off_in_the_hash():
    thirteen = f"{int(VIEW, 16) ^ 0x1FFF0000:016x}"
    now = frame("a", 1000)
    soon = frame("b", 1000, dhash=thirteen, taken_at=cars.NOON + timedelta(seconds=7))
    later = frame("c", 1000, dhash=thirteen, taken_at=cars.NOON + timedelta(seconds=70))
    assert same_view_as(now, soon)
    assert not same_view_as(now, later)


def test_a_clip_is_left_to_the_eye():
    assert verdict(frame("clip", 1, media=MediaKind.CLIP), session()).usable
    assert verdict(frame("lone", 41), [frame(f"c{n}", 3000, media=MediaKind.CLIP) for n in range(20)]).usable


def test_no_verdict_ever_says_why_a_frame_is_soft():
    shaken = verdict(frame("shaken", 41), [frame("good", 2790)])
    assert not {"motion", "shaken", "blur"} & set(" ".join(shaken.words).split())
