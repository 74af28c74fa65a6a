"""An outlet's folder: names in order, sizes, bytes, captions; what cannot be met is said."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from fakes import published_car
from lapseam.domain.edition import MarkShown, PublishedPhoto
from lapseam.domain.errors import Cancelled, Mistake, NotFound, PublishFailed
from lapseam.domain.finding import MarkShape
from lapseam.domain.photo import MediaKind
from lapseam.domain.selection import Outlet
from lapseam.publish import bare, xmp
from lapseam.publish.outlet_files import (
    BEST_QUALITY,
    LEAST_QUALITY,
    OutletFolder,
    OutletPhoto,
    cut_caption,
    described,
    fitted,
    short_caption,
    within,
    write_outlet,
)
from lapseam.publish.outlet_list import OutletTexts, Sending, read_outlet

SHEET = Outlet("Weekly sheet", photos=12, longest_px=400)
TEXTS = OutletTexts("A car", "A car, in short.", "A car, at length. Finding 3 is not pictured here.\n")
SENDING = Sending("T-1", 3, "ab" * 32, "2026-05-14T10:00:00+00:00", "House of Specimens")
MARKS = (
    MarkShown(12, MarkShape.BOX, 0.5, 0.25, 0.25, 0.5, "Finding 12: blister"),
    MarkShown(12, MarkShape.POINT, 0.5, 0.5, 0, 0, "Finding 12: blister"),
)


def said(sha256: str, *marks: MarkShown) -> PublishedPhoto:
    words = "Front, left three-quarter"
    return PublishedPhoto(sha256, 1, MediaKind.STILL, "A car, photo 1", words, words, "2026-05-12", marks, True)


def written(photos: Sequence[OutletPhoto], outlet: Outlet, folder: Path, texts: OutletTexts = TEXTS) -> OutletFolder:
    return write_outlet(photos, outlet, folder, texts=texts, sending=SENDING)


@pytest.fixture
def photos(tmp_path: Path) -> list[OutletPhoto]:
    first, second, _ = published_car.originals(tmp_path / "originals").values()
    return [
        OutletPhoto("ext-front-left", first, "Front, left three-quarter.", said("a" * 64)),
        OutletPhoto("Ünder <b>rail", second, "Rail; blister on the rail, finding 12.", said("b" * 64, *MARKS), (12,)),
    ]


def noise(size: tuple[int, int]) -> Image.Image:
    """A picture that JPEG cannot make small."""
    grey = Image.effect_noise(size, 90)
    return Image.merge("RGB", (grey, grey.rotate(90).resize(size), grey))


def test_files_stand_in_order_upright_small_and_bare(tmp_path: Path, photos: list[OutletPhoto]) -> None:
    made = written(photos, SHEET, tmp_path / "out")
    assert [one.name for one in made.photos] == ["01-ext-front-left.jpg", "02-nder-b-rail-finding-12.jpg"]
    assert sorted(path.name for path in made.path.iterdir()) == [
        *(one.name for one in made.photos),
        "alt-texts.txt",
        "captions.txt",
        "outlet.json",
        "teaser.txt",
        "text.txt",
        "title.txt",
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
    made = written(photos[:1], Outlet("Wide", 5, longest_px=9000, min_px=800), tmp_path / "out")
    assert (made.photos[0].width, made.photos[0].height) == (640, 420)
    assert "640 pixels" in made.troubles[0]
    assert "not enlarged" in made.troubles[0]


@pytest.mark.parametrize("size", [(640, 420), (420, 640), (400, 300)])
def test_a_ratio_is_kept_by_laying_on_white_and_nothing_is_cut(size: tuple[int, int]) -> None:
    marks = (MarkShown(1, MarkShape.BOX, 0.0, 0.0, 1.0, 1.0, "all of it"),)
    sheet = Outlet("Four by three", 5, longest_px=4000, aspect="4:3")
    made, (mark,) = fitted(Image.new("RGB", size, (200, 0, 0)), sheet, marks)
    assert abs(made.width / made.height - 4 / 3) < 0.01
    red = sum(1 for pixel in made.get_flattened_data() if pixel == (200, 0, 0))
    assert red == size[0] * size[1]
    left, top = round(mark.x * made.width), round(mark.y * made.height)
    right, bottom = left + round(mark.width * made.width), top + round(mark.height * made.height)
    inside = made.crop((left, top, right, bottom))
    assert inside.size == size
    assert set(inside.get_flattened_data()) == {(200, 0, 0)}


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
    made = written([OutletPhoto("loud", loud, "Loud.", said("c" * 64))], tight, tmp_path / "out")
    assert made.photos[0].quality == LEAST_QUALITY
    assert len(made.troubles) == 2
    assert "01-loud.jpg" in made.troubles[0]


def test_a_folder_in_use_a_bad_photo_and_a_stop_leave_nothing(tmp_path: Path, photos: list[OutletPhoto]) -> None:
    used = tmp_path / "used"
    used.mkdir()
    (used / "mine.txt").write_text("mine")
    with pytest.raises(Mistake):
        written(photos, SHEET, used)
    bad = tmp_path / "bad.jpg"
    bad.write_bytes(b"no picture")
    with pytest.raises(PublishFailed):
        written([*photos, OutletPhoto("bad", bad, "Bad.", said("d" * 64))], SHEET, tmp_path / "out")
    with pytest.raises(Cancelled):
        write_outlet(photos, SHEET, tmp_path / "out", texts=TEXTS, sending=SENDING, stop=lambda: True)
    assert not (tmp_path / "out").exists()
    assert not list(tmp_path.glob(".*"))
    assert (used / "mine.txt").read_text() == "mine"


def test_originals_stay_as_they_were(tmp_path: Path, photos: list[OutletPhoto]) -> None:
    before = [hashlib.sha256(one.source.read_bytes()).hexdigest() for one in photos]
    written(photos, SHEET, tmp_path / "out")
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


@pytest.mark.parametrize("limit", [11_000, 13_000, 20_000, 40_000])
def test_the_limit_of_bytes_holds_the_words_too(limit: int) -> None:
    photo = replace(said("a" * 64, *MARKS * 10), caption="Rail. " * 300)
    content, _ = described(noise((200, 120)), photo, limit, SENDING)
    assert len(content) <= limit
    packet = content[content.index(xmp.HEADER) + len(xmp.HEADER) :]
    assert packet.startswith(b"<?xpacket")
    assert b"Rail. Rail." in packet


def test_a_picture_says_whose_and_which_it_is_and_where_its_findings_are(
    tmp_path: Path, photos: list[OutletPhoto]
) -> None:
    made = written(photos, replace(SHEET, aspect="1:1"), tmp_path / "out")
    content = (made.path / made.photos[1].name).read_bytes()
    assert all(words in content for words in (b"T-1/3", b"House of Specimens", b"ImageRegion", b"Finding 12: blister"))
    box = MARKS[0]
    with Image.open(made.path / made.photos[1].name) as laid:
        assert laid.size == (400, 400)
    # The turned picture is 640 wide and 420 high, so it lies 110 of 640 below the sheet's upper edge.
    assert f"<Iptc4xmpExt:rbY>{(box.y * 420 + 110) / 640:.4f}".rstrip("0").encode() in content
    assert bare.leftovers(content) != ()


def test_a_folder_is_read_back_with_what_was_changed_by_hand(tmp_path: Path, photos: list[OutletPhoto]) -> None:
    out = written(photos, SHEET, tmp_path / "out").path
    read = read_outlet(out)
    assert (read.changed, read.texts, read.sending, len(read.photos)) == ((), TEXTS, SENDING, 2)
    first, second = (one.name for one in read.photos)
    (out / "text.txt").write_text("Other words.", encoding="utf-8")
    captions = (out / "captions.txt").read_text(encoding="utf-8")
    (out / "captions.txt").write_text(captions.replace("Rail; blister", "Rail, a blister"), encoding="utf-8")
    (out / first).unlink()
    read = read_outlet(out)
    assert [one.name for one in read.photos] == [second]
    assert read.photos[0].caption.startswith("Rail, a blister")
    assert read.texts.text == "Other words.\n"
    assert len(read.changed) == 3


def test_a_retouched_or_a_strange_picture_is_no_part_of_a_folder(tmp_path: Path, photos: list[OutletPhoto]) -> None:
    out = written(photos, SHEET, tmp_path / "out").path
    (out / "99-other.jpg").write_bytes(b"\xff\xd8")
    with pytest.raises(Mistake, match="does not name"):
        read_outlet(out)
    (out / "99-other.jpg").unlink()
    name = read_outlet(out).photos[0].name
    (out / name).write_bytes((out / name).read_bytes() + b" ")
    with pytest.raises(Mistake, match="changed the picture"):
        read_outlet(out)
    with pytest.raises(NotFound):
        read_outlet(tmp_path)
    (out / "outlet.json").write_text("[" * 100_000)
    with pytest.raises(Mistake, match="no list of ours"):
        read_outlet(out)


@pytest.mark.parametrize(("limit", "kept"), [(90, True), (62, True), (40, False), (0, True)])
def test_how_many_findings_are_left_is_said_before_the_caption_s_end(limit: int, kept: bool) -> None:
    after = "3 more findings are on the full page."
    photo = OutletPhoto("rocker", Path("x.jpg"), CAPTION, said("a" * 64), (12,), (after,))
    caption = short_caption(photo, limit)
    assert not limit or len(caption) <= limit
    assert caption.endswith(after) is kept
    assert "finding 12" in caption
