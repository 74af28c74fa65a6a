"""Published pictures: upright, sRGB, bare in every format, never larger than the original, the same each time."""

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
from lapseam.publish import bare, bare_boxes, bare_webp, renditions
from lapseam.publish.formats import SRGB_PROFILE, Format
from lapseam.publish.renditions import PUBLISHED, Recipe, Wanted

SMALL = Recipe(widths=(60, 120))
LEFTOVERS = {
    Format.AVIF: bare_boxes.still_leftovers,
    Format.WEBP: bare_webp.leftovers,
    Format.JPEG: bare.leftovers,
}


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
    pictures = rendered(tmp_path / "a.jpg", tmp_path)
    assert [picture.size for picture in pictures] == [(60, 30), (120, 60)] * 3
    for picture in pictures[1::2]:
        red, _, blue = picture.getpixel((5, 5))
        assert red > 180, picture.format
        assert blue < 70, picture.format


def test_nothing_but_pixels_leaves(tmp_path: Path) -> None:
    for path in published_car.originals(tmp_path / "in").values():
        assert bare.leftovers(path.read_bytes()), "the original should carry something"
        wanted = Wanted(hashlib.sha256(path.read_bytes()).hexdigest(), path.name, path)
        made = renditions.render(wanted, SMALL, tmp_path / "cache")
        assert {one.format for one in made} == set(LEFTOVERS)
        for one in made:
            content = one.path.read_bytes()
            assert LEFTOVERS[one.format](content) == ()
            assert not any(secret.encode() in content for secret in published_car.SECRETS)


def test_never_wider_than_the_original_and_at_least_one() -> None:
    recipe = Recipe(widths=(480, 960, 1600))
    assert recipe.widths_of(4000) == (480, 960, 1600)
    assert recipe.widths_of(1200) == (480, 960, 1200)
    assert recipe.widths_of(960) == (480, 960)
    assert recipe.widths_of(200) == (200,)
    assert PUBLISHED.widths_of(6000) == (480, 960, 2560)
    assert PUBLISHED.widths_of(6000, Format.AVIF) == (480, 960, 1600)
    assert PUBLISHED.widths_of(1200) == PUBLISHED.widths_of(1200, Format.WEBP) == (480, 960, 1200)


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
    assert [one.width for one in made] == [60, 120] * 3


def test_stopping_between_photos(tmp_path: Path) -> None:
    photos = [Wanted(name * 32, name, path) for name, path in zip("ab", [tmp_path] * 2, strict=True)]
    with pytest.raises(Cancelled):
        renditions.render_all(photos, SMALL, tmp_path / "cache", stop=lambda: True)


def test_leftovers_are_found_wherever_they_hide(tmp_path: Path) -> None:
    plain = io.BytesIO()
    corner_photo().save(plain, "JPEG")
    content = plain.getvalue()
    assert bare.leftovers(content) == ()
    commented = content[:2] + b"\xff\xfe\x00\x06note" + content[2:]
    assert bare.leftovers(commented) == ("a comment",)
    xmp = content[:2] + b"\xff\xe1\x00\x08http\0\0" + content[2:]
    assert bare.leftovers(xmp) == ("a metadata segment (APP1 http)",)
    assert "bytes follow" in bare.leftovers(content + b"hidden")[0]
    assert bare.leftovers(content[:-2]) == ("it is no whole JPEG: the end is missing",)


def saved(kind: Format, **more: object) -> bytes:
    out = io.BytesIO()
    settings = {**renditions._settings(kind, 200, SMALL), **more}
    corner_photo().save(out, kind.name, **settings)
    return out.getvalue()


EXIF = Image.Exif()
EXIF[0x010E] = "Ottoline Vask"


@pytest.mark.parametrize(
    ("kind", "more", "words"),
    [
        (Format.AVIF, {"exif": EXIF.tobytes()}, "Exif"),
        (Format.AVIF, {"xmp": b"<x>Ottoline</x>"}, "mime"),
        (Format.AVIF, {"icc_profile": SRGB_PROFILE}, "colour space"),
        (Format.WEBP, {"exif": EXIF.tobytes()}, "EXIF"),
        (Format.WEBP, {"xmp": b"<x>Ottoline</x>"}, "XMP"),
        (Format.WEBP, {"icc_profile": SRGB_PROFILE[:-4] + b"vask"}, "profile"),
        (Format.WEBP, {"lossless": True}, "VP8L"),
        (Format.JPEG, {"icc_profile": SRGB_PROFILE[:-4] + b"vask"}, "APP2"),
    ],
)
def test_leftovers_are_found_in_every_format(kind: Format, more: dict[str, object], words: str) -> None:
    assert LEFTOVERS[kind](saved(kind)) == ()
    assert words in " ".join(LEFTOVERS[kind](saved(kind, **more)))


@pytest.mark.parametrize("kind", [Format.AVIF, Format.WEBP])
def test_what_is_cut_or_put_behind_is_found(kind: Format) -> None:
    content = saved(kind)
    assert LEFTOVERS[kind](content[:-5])
    assert LEFTOVERS[kind](content + b"hidden")
    assert LEFTOVERS[kind](b"")
    assert LEFTOVERS[kind](b"nothing of the kind, and long enough to be looked into by any reader")
    behind = b"hidden words"
    box = (len(behind) + 8).to_bytes(4, "big")
    if kind is Format.AVIF:
        assert "free" in LEFTOVERS[kind](content + box + b"free" + behind)[0]
        assert "belong to no picture" in LEFTOVERS[kind](content + box + b"mdat" + behind)[0]


def test_every_still_says_that_it_is_srgb(tmp_path: Path) -> None:
    path = next(iter(published_car.originals(tmp_path / "in").values()))
    for picture in rendered(path, tmp_path):
        if picture.format != "AVIF":
            assert picture.info["icc_profile"] == SRGB_PROFILE
    profile = ImageCms.ImageCmsProfile(io.BytesIO(SRGB_PROFILE))
    assert "sRGB" in ImageCms.getProfileDescription(profile)
    colour = ImageCms.profileToProfile(Image.new("RGB", (1, 1), (200, 60, 30)), profile, ImageCms.createProfile("sRGB"))
    assert np.allclose(colour.getpixel((0, 0)), (200, 60, 30), atol=1)


def test_a_large_original_is_decoded_smaller_and_looks_the_same(tmp_path: Path) -> None:
    ground = Image.radial_gradient("L").resize((3000, 2000))
    stored = Image.merge("RGB", (ground, ground.transpose(T.ROTATE_180), Image.new("L", ground.size, 90)))
    stored.save(tmp_path / "large.jpg", quality=95)
    decoded = renditions.upright(tmp_path / "large.jpg", 480)
    assert decoded.size == (750, 500)
    assert renditions.upright(tmp_path / "large.jpg", 1600).size == (3000, 2000)
    exact = stored.resize((480, 320), Image.Resampling.LANCZOS)
    assert np.abs(np.asarray(decoded.resize((480, 320)), int) - np.asarray(exact, int)).mean() < 1.5
    turned = stored.transpose(T.ROTATE_90)
    exif = turned.getexif()
    exif[0x0112] = 6
    turned.save(tmp_path / "turned.jpg", exif=exif)
    assert renditions.upright(tmp_path / "turned.jpg", 1000).size == (1500, 1000)


def test_stopping_between_two_pictures_leaves_the_photo_out_of_the_cache(tmp_path: Path) -> None:
    path = next(iter(published_car.originals(tmp_path / "in").values()))
    wanted = Wanted("ab" * 32, "a", path)
    asked: list[int] = []

    def stop() -> bool:
        asked.append(1)
        return len(asked) == 4

    with pytest.raises(Cancelled):
        renditions.render(wanted, SMALL, tmp_path / "cache", stop)
    gone = Wanted("ab" * 32, "a", tmp_path / "not there")
    with pytest.raises(PublishFailed):
        renditions.render(gone, SMALL, tmp_path / "cache")
    assert len(renditions.render(wanted, SMALL, tmp_path / "cache")) == 6
    assert not list((tmp_path / "cache").rglob(".*"))


def test_another_recipe_or_another_original_takes_nothing_from_the_cache(tmp_path: Path) -> None:
    first, second, _ = published_car.originals(tmp_path / "in").values()
    one = renditions.render(Wanted("ab" * 32, "a", first), SMALL, tmp_path / "cache")
    other = renditions.render(Wanted("cd" * 32, "a", second), SMALL, tmp_path / "cache")
    better = renditions.render(Wanted("ab" * 32, "a", first), Recipe(widths=(60, 120), jpeg=90), tmp_path / "cache")
    paths = [picture.path for made in (one, other, better) for picture in made]
    assert len(set(paths)) == len(paths)


def test_one_and_four_threads_make_the_same_and_large_ones_wait(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    photos = [Wanted(sha256, "a", path) for sha256, path in published_car.originals(tmp_path / "in").items()]

    def digests(cores: int) -> list[str]:
        made = renditions.render_all(photos, SMALL, tmp_path / str(cores), cores=cores)
        return [hashlib.sha256(one.path.read_bytes()).hexdigest() for photo in made.values() for one in photo]

    assert digests(1) == digests(4)
    monkeypatch.setattr(renditions, "_LARGE_PIXELS", 0)
    assert digests(1) == digests(3)
