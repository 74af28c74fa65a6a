"""An outlet's folder: names in order, sizes, bytes, captions; what cannot be met is said."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from fakes import published_car
from lapseam.domain.errors import Cancelled, Mistake, PublishFailed
from lapseam.domain.selection import Outlet
from lapseam.publish.outlet_files import (
    BEST_QUALITY,
    LEAST_QUALITY,
    OutletPhoto,
    cut_caption,
    fitted,
    within,
    write_outlet,
)

SHEET = Outlet("Weekly sheet", photos=12, longest_px=400)


@pytest.fixture
def photos(tmp_path: Path) -> list[OutletPhoto]:
    first, second, _ = published_car.originals(tmp_path / "originals").values()
    return [
        OutletPhoto("ext-front-left", first, "Front, left three-quarter."),
        OutletPhoto("Ünder <b>rail", second, "Rail; blister on the rail, finding 12.", (12,)),
    ]


def noise(size: tuple[int, int]) -> Image.Image:
    """A picture that JPEG cannot make small."""
    grey = Image.effect_noise(size, 90)
    return Image.merge("RGB", (grey, grey.rotate(90).resize(size), grey))


def test_files_stand_in_order_upright_small_and_bare(tmp_path: Path, photos: list[OutletPhoto]) -> None:
    made = write_outlet(photos, SHEET, tmp_path / "out", text=["Finding 3 is not pictured."])
    assert [one.name for one in made.photos] == ["01-ext-front-left.jpg", "02-nder-b-rail-finding-12.jpg"]
    assert sorted(path.name for path in made.path.iterdir()) == [
        *(one.name for one in made.photos),
        "captions.txt",
        "text.txt",
    ]
    assert made.troubles == ()
    for one in made.photos:
        content = (made.path / one.name).read_bytes()
        assert len(content) == one.octets
        assert not any(secret.encode() in content for secret in published_car.SECRETS)
        with Image.open(made.path / one.name) as picture:
            assert picture.size == (one.width, one.height)
            assert max(picture.size) == 400
            assert picture.mode == "RGB"
            assert not picture.getexif()
    with Image.open(made.path / made.photos[1].name) as turned:
        assert turned.size == (400, 262)
    captions = (made.path / "captions.txt").read_text()
    assert "02-nder-b-rail-finding-12.jpg\nRail; blister on the rail, finding 12.\n" in captions
    assert not list(tmp_path.glob(".*"))


def test_a_small_original_is_not_enlarged(tmp_path: Path, photos: list[OutletPhoto]) -> None:
    made = write_outlet(photos[:1], Outlet("Wide", 5, longest_px=9000), tmp_path / "out")
    assert (made.photos[0].width, made.photos[0].height) == (640, 420)


@pytest.mark.parametrize("size", [(640, 420), (420, 640), (400, 300)])
def test_a_ratio_is_kept_by_laying_on_white_and_nothing_is_cut(size: tuple[int, int]) -> None:
    made = fitted(Image.new("RGB", size, (200, 0, 0)), Outlet("Four by three", 5, longest_px=4000, aspect="4:3"))
    assert abs(made.width / made.height - 4 / 3) < 0.01
    red = sum(1 for pixel in made.get_flattened_data() if pixel == (200, 0, 0))
    assert red == size[0] * size[1]


def test_the_best_quality_that_fits_is_found() -> None:
    picture = noise((300, 200))
    whole, _ = within(picture, 0)
    content, quality = within(picture, len(whole) * 2 // 3)
    assert len(content) <= len(whole) * 2 // 3
    assert LEAST_QUALITY <= quality < BEST_QUALITY
    _, one_better = within(picture, len(content))
    assert one_better == quality


def test_a_limit_that_cannot_be_met_is_said(tmp_path: Path, photos: list[OutletPhoto]) -> None:
    loud = tmp_path / "loud.png"
    noise((500, 400)).save(loud)
    tight = Outlet("Tiny", 5, longest_px=500, max_bytes=10_000, text_chars=10)
    made = write_outlet(
        [OutletPhoto("loud", loud, "Loud.")], tight, tmp_path / "out", text=["Finding 3, not pictured."]
    )
    assert made.photos[0].quality == LEAST_QUALITY
    assert len(made.troubles) == 2
    assert "01-loud.jpg" in made.troubles[0]


def test_a_folder_in_use_a_bad_photo_and_a_stop_leave_nothing(tmp_path: Path, photos: list[OutletPhoto]) -> None:
    used = tmp_path / "used"
    used.mkdir()
    (used / "mine.txt").write_text("mine")
    with pytest.raises(Mistake):
        write_outlet(photos, SHEET, used)
    bad = tmp_path / "bad.jpg"
    bad.write_bytes(b"no picture")
    with pytest.raises(PublishFailed):
        write_outlet([*photos, OutletPhoto("bad", bad, "Bad.")], SHEET, tmp_path / "out")
    with pytest.raises(Cancelled):
        write_outlet(photos, SHEET, tmp_path / "out", stop=lambda: True)
    assert not (tmp_path / "out").exists()
    assert not list(tmp_path.glob(".*"))
    assert (used / "mine.txt").read_text() == "mine"


def test_originals_stay_as_they_were(tmp_path: Path, photos: list[OutletPhoto]) -> None:
    before = [hashlib.sha256(one.source.read_bytes()).hexdigest() for one in photos]
    write_outlet(photos, SHEET, tmp_path / "out")
    assert [hashlib.sha256(one.source.read_bytes()).hexdigest() for one in photos] == before


CAPTION = "Left rocker, rear third, looking forward; blister on the left rocker, 40 x 15 mm, finding 12 (seen)."


@given(st.integers(14, 120))
def test_a_caption_is_cut_at_a_word_and_keeps_its_finding(limit: int) -> None:
    cut = cut_caption(CAPTION, limit, (12,))
    assert len(cut) <= limit
    assert "finding 12" in cut
    words = cut.removesuffix("(finding 12)").rstrip(" …").split()
    assert all(word.strip(",.;") in CAPTION.replace(",", " ").replace(";", " ").split() for word in words[:-1])


def test_numbers_that_do_not_fit_stand_alone() -> None:
    assert cut_caption(CAPTION, 5, (12,)) == "finding 12"
    assert cut_caption(CAPTION, 0, (12,)) == CAPTION
