"""Pixel numbers against worked vectors and scikit-image's published test picture.

Variance of the Laplacian: Pech-Pacheco et al., ICPR 2000, kernel [0 1 0; 1 -4 1; 0 1 0], the border reflected without
repeating the edge. Worked by hand: a step of 255 in a 64 x 64 picture gives 2*64*255^2/64^2 = 2032.03125; a
checkerboard of single pixels gives (4*255)^2 = 1 040 400. Difference hash: 9 x 8 grey, a bit for each brighter right
neighbour, as in the imagehash library's dhash. Values of camera() (scikit-image 0.26) were computed once elsewhere.
"""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image
from scipy.ndimage import gaussian_filter, laplace
from skimage import data as pictures

from lapseam.domain.photo import dhash_distance
from lapseam.intake.pixels import Grey, dhash, laplacian, read_pixels, sharpness

CAMERA: Grey = pictures.camera()


def _ramp(rising: bool) -> Image.Image:
    row = np.linspace(0, 255, 256).astype(np.uint8)
    return Image.fromarray(np.tile(row if rising else row[::-1], (128, 1)))


def test_a_step_has_the_worked_variance() -> None:
    step = np.zeros((64, 64), np.uint8)
    step[:, 32:] = 255
    assert float(laplacian(step).var()) == 2032.03125
    assert sharpness(step, tiles=1) == 2032.03125


def test_a_checkerboard_has_the_worked_variance() -> None:
    board = (np.indices((64, 64)).sum(axis=0) % 2 * 255).astype(np.uint8)
    assert sharpness(board, tiles=1) == 1_040_400
    assert sharpness(board) == 1_040_400


@pytest.mark.parametrize(("blur", "variance"), [(0, 1133.16), (0.5, 421.17), (1, 49.90), (2, 7.45), (4, 1.70)])
def test_the_test_picture_falls_as_published_with_blur(blur: float, variance: float) -> None:
    blurred = np.rint(gaussian_filter(CAMERA.astype(float), blur)) if blur else CAMERA
    assert sharpness(blurred.astype(np.uint8), tiles=1) == pytest.approx(variance, rel=0.05 if blur else 1e-5)


def test_inside_the_border_the_filter_equals_scipys() -> None:
    ours, theirs = laplacian(CAMERA), laplace(CAMERA.astype(np.int32), mode="mirror")
    assert np.array_equal(ours, theirs)


def test_plain_paint_does_not_hide_one_sharp_corner() -> None:
    paint = np.full((256, 256), 120, np.uint8)
    paint[:64, :64] = CAMERA[200:264, 200:264]
    assert sharpness(paint) == pytest.approx(sharpness(paint, tiles=1) * 16, rel=0.35)
    assert sharpness(paint) > 5 * sharpness(paint, tiles=1)


def test_ramps_have_the_published_hashes() -> None:
    assert dhash(_ramp(rising=True)) == "f" * 16
    assert dhash(_ramp(rising=False)) == "0" * 16


def test_the_hash_follows_its_published_definition() -> None:
    small = Image.fromarray(CAMERA).resize((9, 8), Image.Resampling.LANCZOS)
    bits = "".join(
        "1" if small.getpixel((x + 1, y)) > small.getpixel((x, y)) else "0"  # type: ignore[operator]
        for y in range(8)
        for x in range(8)
    )
    assert dhash(Image.fromarray(CAMERA)) == f"{int(bits, 2):016x}"


def test_the_hash_stays_under_recompression_and_scaling_and_leaves_under_a_turn() -> None:
    import io

    camera, buffer = Image.fromarray(CAMERA), io.BytesIO()
    camera.save(buffer, "JPEG", quality=60)
    own = dhash(camera)
    assert dhash_distance(own, dhash(Image.open(buffer))) == 0
    assert dhash_distance(own, dhash(camera.resize((256, 256)))) == 0
    assert dhash_distance(own, dhash(camera.transpose(Image.Transpose.ROTATE_90))) == 32


def test_exposure_numbers_are_those_of_the_array() -> None:
    readings = read_pixels(Image.fromarray(CAMERA))
    assert readings.mean_luma == pytest.approx(CAMERA.mean(), abs=0.001)
    assert readings.contrast == pytest.approx(CAMERA.std(), abs=0.001)
    assert readings.clipped_dark == pytest.approx((CAMERA <= 2).mean(), abs=1e-6)
    assert readings.clipped_light == pytest.approx((CAMERA >= 253).mean(), abs=1e-6)
