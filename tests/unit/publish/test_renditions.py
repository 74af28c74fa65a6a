"""Published pictures: upright, sRGB, bare, never larger than the original, the same each time."""

from __future__ import annotations

import hashlib
import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageCms
from PIL.Image import Transpose as T

from fakes import published_car
from lapseam.domain.errors import Cancelled, PublishFailed
from lapseam.publish import bare, renditions
from lapseam.publish.renditions import Recipe, Wanted

SMALL = Recipe(widths=(60, 120))


def rendered(path: Path, tmp_path: Path, recipe: Recipe = SMALL) -> list[Image.Image]:
    wanted = Wanted(hashlib.sha256(path.read_bytes()).hexdigest(), path.name, path)
    made = renditions.render(wanted, recipe, tmp_path / "cache")
    return [Image.open(io.BytesIO(one.path.read_bytes())) for one in made]


def corner_photo(size: tuple[int, int] = (200, 100)) -> Image.Image:
    """Grey, with a red top left corner."""
    picture = Image.new("RGB", size, (128, 128, 128))
    picture.paste((220, 20, 20), (0, 0, size[0] // 4, size[1] // 4))
    return picture


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_turned_photo_is_published_upright(tmp_path: Path, orientation: int) -> None:
    back = {
        2: T.FLIP_LEFT_RIGHT,
        3: T.ROTATE_180,
        4: T.FLIP_TOP_BOTTOM,
        5: T.TRANSPOSE,
        6: T.ROTATE_90,
        7: T.TRANSVERSE,
    }
    back[8] = T.ROTATE_270
    stored = corner_photo() if orientation == 1 else corner_photo().transpose(back[orientation])
    exif = stored.getexif()
    exif[0x0112] = orientation
    stored.save(tmp_path / "a.jpg", exif=exif, quality=95)
    picture = rendered(tmp_path / "a.jpg", tmp_path)[-1]
    assert picture.size == (120, 60)
    red, _, blue = picture.getpixel((5, 5))
    assert red > 180
    assert blue < 70


def test_nothing_but_pixels_leaves(tmp_path: Path) -> None:
    for path in published_car.originals(tmp_path / "in").values():
        assert bare.leftovers(path.read_bytes()), "the original should carry something"
        wanted = Wanted(hashlib.sha256(path.read_bytes()).hexdigest(), path.name, path)
        for one in renditions.render(wanted, SMALL, tmp_path / "cache"):
            content = one.path.read_bytes()
            assert bare.leftovers(content) == ()
            assert not any(secret.encode() in content for secret in published_car.SECRETS)


def test_never_wider_than_the_original_and_at_least_one() -> None:
    recipe = Recipe(widths=(480, 960, 1600))
    assert recipe.widths_of(4000) == (480, 960, 1600)
    assert recipe.widths_of(1200) == (480, 960, 1200)
    assert recipe.widths_of(960) == (480, 960)
    assert recipe.widths_of(200) == (200,)


def test_a_wide_gamut_profile_is_converted_not_dropped(tmp_path: Path) -> None:
    lab = ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB", 5000)).tobytes()
    half = ImageCms.buildTransform(
        ImageCms.createProfile("sRGB"), ImageCms.ImageCmsProfile(io.BytesIO(lab)), "RGB", "LAB"
    )
    stored = ImageCms.applyTransform(Image.new("RGB", (80, 80), (200, 60, 30)), half)
    stored.save(tmp_path / "lab.tif", icc_profile=lab)
    pixel = rendered(tmp_path / "lab.tif", tmp_path)[-1].getpixel((40, 40))
    assert np.allclose(pixel, (200, 60, 30), atol=6)


@pytest.mark.parametrize(
    ("mode", "colour", "shown"),
    [
        ("CMYK", (0, 255, 255, 0), (255, 0, 0)),
        ("L", 90, (90, 90, 90)),
        ("1", 1, (255, 255, 255)),
        ("I;16", 257 * 90, (90, 90, 90)),
        ("I", 257 * 90, (90, 90, 90)),
        ("F", 90 / 255, (90, 90, 90)),
        ("RGBA", (0, 0, 0, 0), (255, 255, 255)),
        ("RGBA", (10, 20, 200, 255), (10, 20, 200)),
        ("LA", (0, 128), (127, 127, 127)),
        ("YCbCr", (128, 128, 128), (128, 128, 128)),
    ],
)
def test_every_colour_mode_comes_out_as_it_looks(
    tmp_path: Path, mode: str, colour: object, shown: tuple[int, int, int]
) -> None:
    path = tmp_path / "odd.tif"
    Image.new(mode, (70, 70), colour).save(path)
    picture = rendered(path, tmp_path)[-1]
    assert picture.mode == "RGB"
    assert np.allclose(picture.getpixel((35, 35)), shown, atol=4)


def test_a_palette_with_a_clear_colour_lies_on_white(tmp_path: Path) -> None:
    picture = Image.new("P", (70, 70), 1)
    picture.putpalette([0, 0, 0, 200, 0, 0])
    picture.save(tmp_path / "p.png", transparency=1)
    assert np.allclose(rendered(tmp_path / "p.png", tmp_path)[-1].getpixel((35, 35)), (255, 255, 255), atol=4)


def test_a_heic_is_turned_once(tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[0x0112] = 6
    corner_photo((200, 100)).transpose(Image.Transpose.ROTATE_90).save(
        tmp_path / "a.heic", exif=exif.tobytes(), quality=95
    )
    picture = rendered(tmp_path / "a.heic", tmp_path)[-1]
    assert picture.size == (120, 60)
    assert picture.getpixel((5, 5))[0] > 180


def test_same_original_same_bytes_with_and_without_cache(tmp_path: Path) -> None:
    path = next(iter(published_car.originals(tmp_path / "in").values()))
    wanted = Wanted(hashlib.sha256(path.read_bytes()).hexdigest(), "a", path)
    first = [one.path.read_bytes() for one in renditions.render(wanted, SMALL, tmp_path / "one")]
    second = [one.path.read_bytes() for one in renditions.render(wanted, SMALL, tmp_path / "two")]
    assert first == second
    gone = Wanted(wanted.sha256, "a", tmp_path / "not there")
    assert [one.path.read_bytes() for one in renditions.render(gone, SMALL, tmp_path / "one")] == first


def test_a_damaged_cache_is_made_anew(tmp_path: Path) -> None:
    path = next(iter(published_car.originals(tmp_path / "in").values()))
    wanted = Wanted(hashlib.sha256(path.read_bytes()).hexdigest(), "a", path)
    made = renditions.render(wanted, SMALL, tmp_path / "cache")[-1].path
    whole = made.read_bytes()
    made.write_bytes(whole[: len(whole) // 2])
    assert renditions.render(wanted, SMALL, tmp_path / "cache")[-1].path.read_bytes() == whole


@pytest.mark.parametrize("content", [b"", b"not a picture at all", b"\xff\xd8\xff\xe0" + b"\0" * 40])
def test_what_cannot_be_shown_is_named(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "bad.jpg").write_bytes(content)
    with pytest.raises(PublishFailed, match="12 \\(rocker\\)"):
        renditions.render(Wanted("ab" * 32, "12 (rocker)", tmp_path / "bad.jpg"), SMALL, tmp_path / "cache")


def test_a_clip_without_a_still_gets_a_plain_sheet(tmp_path: Path) -> None:
    made = renditions.render(Wanted("cd" * 32, "clip", None), SMALL, tmp_path)
    assert [one.width for one in made] == [60, 120]


def test_stopping_between_photos(tmp_path: Path) -> None:
    photos = [Wanted(name * 32, name, path) for name, path in zip("ab", [tmp_path] * 2, strict=True)]
    with pytest.raises(Cancelled):
        renditions.render_all(photos, SMALL, tmp_path / "cache", stop=lambda: True)


def test_leftovers_are_found_wherever_they_hide(tmp_path: Path) -> None:
    plain = io.BytesIO()
    corner_photo().save(plain, "JPEG")
    content = plain.getvalue()
    assert bare.leftovers(content) == ()
    assert bare.size(content) == (200, 100)
    commented = content[:2] + b"\xff\xfe\x00\x06note" + content[2:]
    assert bare.leftovers(commented) == ("a comment",)
    xmp = content[:2] + b"\xff\xe1\x00\x08http\0\0" + content[2:]
    assert bare.leftovers(xmp) == ("a metadata segment (APP1 http)",)
    assert "bytes follow" in bare.leftovers(content + b"hidden")[0]
    assert bare.leftovers(content[:-2]) == ("it is no whole JPEG: the end is missing",)
    assert bare.size(content[: len(content) // 3]) is None
