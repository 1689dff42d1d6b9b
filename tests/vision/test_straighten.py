import io
from typing import Any

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image
from scipy import ndimage

from tilewitness.vision.photo import Photo, open_photo
from tilewitness.vision.quads import Quads
from tilewitness.vision.straighten import QuadError, straighten

QUAD = np.array([[(150, 80), (260, 100), (250, 240), (130, 215)]], np.float32)


def smooth_photo() -> NDArray[np.uint8]:
    noise = np.random.default_rng(3).integers(0, 256, (300, 400, 3)).astype(np.float32)
    blurred = cv2.GaussianBlur(noise, (0, 0), 4)
    return cv2.normalize(blurred, None, 0, 255, cv2.NORM_MINMAX).astype(np.uint8)


def by_solving(
    pixels: NDArray[np.uint8], quad: Quads, size: tuple[int, int], margin: float
) -> NDArray[np.float64]:
    """The same by eight linear equations and scipy's interpolation, one sample per pixel's middle.

    Source: Hartley & Zisserman 2004, "Multiple View Geometry", section 4.1.
    """
    height, width = size
    dx, dy = width * margin / (1 + 2 * margin), height * margin / (1 + 2 * margin)
    corners = [(dx, dy), (width - dx, dy), (width - dx, height - dy), (dx, height - dy)]
    rows, wanted = [], []
    for (u, v), (x, y) in zip(corners, quad, strict=True):
        rows += [[u, v, 1, 0, 0, 0, -u * x, -v * x], [0, 0, 0, u, v, 1, -u * y, -v * y]]
        wanted += [x, y]
    h = np.append(np.linalg.solve(rows, wanted), 1).reshape(3, 3)
    v, u = np.mgrid[:height, :width] + 0.5
    x, y, w = np.tensordot(h, np.stack([u, v, np.ones_like(u)]), 1)
    at = np.stack([y / w - 0.5, x / w - 0.5])
    return np.stack(
        [
            ndimage.map_coordinates(pixels[..., c].astype(float), at, order=1, mode="nearest")
            for c in range(3)
        ],
        2,
    )


@pytest.mark.parametrize("margin", [0.0, 0.06, 0.2])
def test_a_face_is_sampled_where_the_homography_says(margin: float) -> None:
    pixels = smooth_photo()

    face = straighten(Photo(pixels), QUAD, size=(96, 72), margin=margin)[0]

    assert np.abs(by_solving(pixels, QUAD[0], (96, 72), margin) - face).mean() < 2.5


def test_the_picture_starts_at_the_first_corner() -> None:
    photo = Photo(smooth_photo())

    upright, on_head = straighten(photo, np.concatenate([QUAD, np.roll(QUAD, 2, 1)]))

    assert np.abs(upright.astype(int) - on_head[::-1, ::-1]).mean() < 1


def test_a_large_face_is_averaged_not_aliased() -> None:
    stripes = np.zeros((1200, 900, 3), np.uint8)
    stripes[:, ::2] = 255
    whole = np.array([[(0, 0), (900, 0), (900, 1200), (0, 1200)]], np.float32)

    face = straighten(Photo(stripes), whole)[0]

    assert 8 > float(np.abs(face[10:-10, 10:-10].astype(int) - 127).max())


def test_what_lies_outside_the_photo_repeats_its_edge() -> None:
    photo = Photo(np.full((100, 100, 3), 200, np.uint8))
    photo.pixels[:, :2] = 50
    over_the_edge = np.array([[(-40, 10), (30, 10), (30, 90), (-40, 90)]], np.float32)

    face = straighten(photo, over_the_edge)[0]

    assert [50, 200] == face[48, (5, 68), 0].tolist()


def test_a_small_face_in_a_reduced_jpeg_is_taken_from_the_full_photo() -> None:
    stripes = np.zeros((2400, 3200, 3), np.uint8)
    stripes[:, ::2] = 255
    file = io.BytesIO()
    Image.fromarray(stripes).save(file, "JPEG", quality=95)
    photo = open_photo(file.getvalue())
    small, large = (
        np.array([[(0, 0), (3, 0), (3, 4), (0, 4)]], np.float32) * times + 400 for times in (12, 100)
    )

    assert 2 == photo.scale
    assert 40 < straighten(photo, small)[0].std()  # its stripes are there
    assert 12 > straighten(photo, large)[0].std()  # averaged away, and so by the reduced decoding


def test_no_quads_give_no_faces() -> None:
    assert (0, 96, 72, 3) == straighten(Photo(smooth_photo()), np.empty((0, 4, 2), np.float32)).shape


@pytest.mark.parametrize(
    "quad", [QUAD[:, ::-1], QUAD[:, (0, 2, 1, 3)], QUAD * 0.01], ids=["wound wrong", "crossed", "tiny"]
)
def test_corners_that_bound_no_face_are_refused(quad: Any) -> None:
    with pytest.raises(QuadError, match="quad 0, .* is not four corners of a face, clockwise"):
        straighten(Photo(smooth_photo()), quad)
