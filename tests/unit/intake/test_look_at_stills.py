"""One still looked at: every way of storing pixels gives an upright preview, a thumbnail and numbers."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageOps

from fakes import card
from lapseam.domain.photo import IntakeOutcome, PreviewSize
from lapseam.intake.content import HEAD_BYTES, recognise
from lapseam.intake.look import Seen, look
from lapseam.intake.picture import LIMIT_PIXELS, NEARLY_PX
from lapseam.intake.refusal import Refused


def _look(folder: Path, data: bytes, name: str = "IMG_1") -> Seen:
    path = folder / name
    path.write_bytes(data)
    return look(path, recognise(data[:HEAD_BYTES], name))


def _preview(seen: Seen, size: PreviewSize = PreviewSize.PREVIEW) -> Image.Image:
    return Image.open(io.BytesIO(seen.previews[size]))


def _distance(one: Image.Image, other: Image.Image) -> float:
    """Mean difference of two pictures of equal size, in grey levels."""
    assert one.size == other.size
    first, second = (np.asarray(each.convert("RGB"), dtype=np.int16) for each in (one, other))
    return float(np.abs(first - second).mean())


SCENE = card.scene(400, 300)
DEEP = Image.fromarray((np.asarray(SCENE.convert("L")).astype(np.uint16)) * 257)


def _see_through() -> Image.Image:
    picture = SCENE.convert("RGBA")
    alpha = Image.new("L", picture.size, 255)
    ImageDraw.Draw(alpha).rectangle((0, 0, 99, 299), fill=0)
    picture.putalpha(alpha)
    return picture


@pytest.mark.parametrize(
    ("data", "tolerance"),
    [
        pytest.param(card.encoded(SCENE, "JPEG", quality=95), 6, id="jpeg"),
        pytest.param(card.encoded(SCENE, "JPEG", quality=95, progressive=True), 6, id="progressive jpeg"),
        pytest.param(card.encoded(SCENE, "JPEG", quality=95, keep_rgb=True), 6, id="jpeg stored as RGB"),
        pytest.param(card.encoded(SCENE.convert("CMYK"), "JPEG", quality=95), 6, id="cmyk jpeg"),
        pytest.param(card.encoded(SCENE, "PNG"), 6, id="png"),
        pytest.param(card.encoded(SCENE.quantize(256), "PNG"), 12, id="palette png"),
        pytest.param(card.encoded(SCENE, "TIFF", compression="tiff_lzw"), 6, id="tiff"),
        pytest.param(card.encoded(SCENE.convert("CMYK"), "TIFF"), 6, id="cmyk tiff"),
        pytest.param(card.encoded(SCENE, "WEBP", lossless=True), 6, id="webp"),
        pytest.param(card.encoded(SCENE, "AVIF", quality=90), 6, id="avif"),
        pytest.param(card.encoded(SCENE, "HEIF", quality=90), 6, id="heic"),
        pytest.param(card.encoded(SCENE, "BMP"), 6, id="bmp"),
    ],
)
def test_colour_comes_through_every_way_of_storing_it(tmp_path: Path, data: bytes, tolerance: float) -> None:
    seen = _look(tmp_path, data)
    assert (seen.width, seen.height) == (400, 300)
    assert _distance(_preview(seen), SCENE) < tolerance
    assert seen.pixels.mean_luma == pytest.approx(np.asarray(SCENE.convert("L")).mean(), abs=3)


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(card.encoded(SCENE.convert("L"), "JPEG", quality=95), id="grey jpeg"),
        pytest.param(card.encoded(DEEP, "PNG"), id="16-bit png"),
        pytest.param(card.encoded(DEEP, "TIFF"), id="16-bit tiff"),
        pytest.param(card.encoded(Image.fromarray(np.asarray(DEEP).astype(np.int32)), "TIFF"), id="32-bit tiff"),
        pytest.param(
            card.encoded(Image.fromarray(np.asarray(DEEP).astype(np.float32) / 65535), "TIFF"), id="float tiff"
        ),
    ],
)
def test_greys_come_through_at_every_depth(tmp_path: Path, data: bytes) -> None:
    assert _distance(_preview(_look(tmp_path, data)), SCENE.convert("L")) < 4


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "GIF", "AVIF", "HEIF"])
def test_what_is_transparent_lies_on_white_paper(tmp_path: Path, kind: str) -> None:
    preview = _preview(_look(tmp_path, card.encoded(_see_through(), kind)))
    left = np.asarray(preview.convert("RGB"))[:, 5:90].mean()
    assert left > 250
    assert np.asarray(preview.convert("RGB"))[:, 110:].mean() < 240


@pytest.mark.parametrize("kind", ["GIF", "WEBP", "PNG"])
def test_of_an_animation_the_first_frame_is_shown(tmp_path: Path, kind: str) -> None:
    frames = [Image.new("RGB", (120, 80), colour) for colour in ((200, 30, 30), (30, 200, 30))]
    data = card.encoded(frames[0], kind, save_all=True, append_images=frames[1:], duration=100)
    red, green, _ = _preview(_look(tmp_path, data)).convert("RGB").resize((1, 1)).getpixel((0, 0))  # type: ignore[misc]
    assert red > 150 > green


def test_one_bit_and_single_pixel_pictures_are_pictures(tmp_path: Path) -> None:
    assert _look(tmp_path, card.encoded(SCENE.convert("1"), "TIFF")).width == 400
    dot = _look(tmp_path, card.encoded(Image.new("RGB", (1, 1), (9, 9, 9)), "PNG"))
    assert (dot.width, dot.height, dot.pixels.sharpness) == (1, 1, 0.0)
    strip = _look(tmp_path, card.encoded(card.scene(3000, 2), "JPEG"))
    assert (strip.width, strip.height) == (3000, 2)


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("kind", ["JPEG", "TIFF", "PNG", "WEBP", "AVIF", "HEIF"])
def test_a_turned_picture_stands_upright_once(tmp_path: Path, kind: str, orientation: int) -> None:
    stored = card.scene(160, 96, seed=3)
    data = card.encoded(stored, kind, exif=card.exif(orientation=orientation))
    seen = _look(tmp_path, data)
    turned = stored.copy()
    turned.getexif()[0x0112] = orientation
    upright = ImageOps.exif_transpose(turned)
    assert (seen.width, seen.height) == upright.size
    assert _distance(_preview(seen), upright) < 12
    assert seen.camera.make == "Example Optics"


@pytest.mark.parametrize("orientation", [0, 9, 999])
def test_an_orientation_that_is_none_means_upright(tmp_path: Path, orientation: int) -> None:
    seen = _look(tmp_path, card.jpeg(size=(160, 96), orientation=orientation))
    assert (seen.width, seen.height, seen.camera.orientation) == (160, 96, 1)


def test_previews_are_as_large_as_allowed_and_never_enlarged(tmp_path: Path) -> None:
    large = _look(tmp_path, card.jpeg(size=(4032, 3024)))
    assert (large.width, large.height) == (4032, 3024)
    assert _preview(large).size == (1600, 1200)
    assert _preview(large, PreviewSize.THUMB).size == (320, 240)
    assert _preview(_look(tmp_path, card.jpeg(size=(500, 200)))).size == (500, 200)


def test_a_preview_straight_from_the_scaled_decode_is_nearly_as_large_as_allowed(tmp_path: Path) -> None:
    preview = _preview(_look(tmp_path, card.jpeg(size=(6000, 1000), orientation=6)))
    assert preview.size == (250, 1500)
    assert NEARLY_PX <= max(preview.size) <= PreviewSize.PREVIEW


def test_previews_carry_the_colour_profile_and_nothing_private(tmp_path: Path) -> None:
    from PIL import ImageCms

    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    data = card.encoded(SCENE, "JPEG", exif=card.exif(private=True), icc_profile=profile, comment=b"private words")
    for jpeg in _look(tmp_path, data).previews.values():
        preview = Image.open(io.BytesIO(jpeg))
        assert preview.info["icc_profile"] == profile
        assert not preview.getexif()
        assert b"private words" not in jpeg
        assert b"SN-000" not in jpeg


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF", "WEBP", "HEIF"])
def test_a_picture_cut_off_in_the_middle_is_unreadable_with_its_reason(tmp_path: Path, kind: str) -> None:
    data = card.encoded(SCENE, kind)
    with pytest.raises(Refused) as refused:
        _look(tmp_path, data[: len(data) // 2])
    assert refused.value.outcome is IntakeOutcome.UNREADABLE
    assert kind in refused.value.reason


def test_a_header_that_states_half_a_gigapixel_is_refused_before_decoding(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="600 megapixels; the limit is 250") as refused:
        _look(tmp_path, card.huge_png_header(30_000, 20_000))
    assert refused.value.outcome is IntakeOutcome.TOO_LARGE
    with pytest.raises(Refused, match="limit") as refused:
        _look(tmp_path, card.huge_png_header(60_000, 50_000))
    assert refused.value.outcome is IntakeOutcome.TOO_LARGE


def test_a_large_but_possible_camera_picture_comes_in(tmp_path: Path) -> None:
    data = card.encoded(Image.new("RGB", (16_320, 12_240), (90, 120, 120)), "JPEG", quality=30)
    assert LIMIT_PIXELS > 16_320 * 12_240
    assert _look(tmp_path, data).width == 16_320


def test_of_a_phone_file_with_several_pictures_the_first_is_taken_as_jpeg(tmp_path: Path) -> None:
    several = {"save_all": True, "append_images": [card.scene(200, 100, seed=2)]}
    seen = _look(tmp_path, card.encoded(SCENE, "MPO", exif=card.exif(orientation=6), **several))
    assert (seen.width, seen.height, seen.camera.model) == (300, 400, "Specimen 24")


def test_a_damaged_start_is_named_so(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="JPEG picture is damaged"):
        _look(tmp_path, card.jpeg()[:4] + bytes(3000))
