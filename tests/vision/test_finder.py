import io
from typing import Any

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from tilewitness.models import FinderNet
from tilewitness.vision.finder import LONG_SIDE, Region, faces_at_peaks, find_faces, letterbox
from tilewitness.vision.photo import Photo, open_photo
from tilewitness.vision.quads import Quads, moved

FACE = np.array([(0, 0), (60, 4), (58, 84), (-2, 80)], np.float32)


def blank(width: int, height: int) -> Photo:
    return Photo(np.full((height, width, 3), 90, np.uint8))


def faces_at(*corners: tuple[float, float]) -> Quads:
    return np.array([FACE + np.array(corner, np.float32) for corner in corners], np.float32)


ROW = faces_at(*((20 + 62 * x, 100) for x in range(9)))  # in network pixels; more would not fill the photo


def test_faces_come_back_in_pixels_of_the_photo(finder_seeing: Any) -> None:
    found = find_faces(blank(4 * LONG_SIDE, 2 * LONG_SIDE), FinderNet(finder_seeing(ROW)))

    np.testing.assert_allclose(ROW * 4, found.quads, atol=1e-2)
    np.testing.assert_allclose(0.99 - 0.001 * np.arange(9), found.scores, atol=1e-6)


def test_faces_in_a_reduced_jpeg_come_back_in_pixels_of_the_whole_photo(finder_seeing: Any) -> None:
    file = io.BytesIO()
    Image.new("RGB", (3200, 1600)).save(file, "JPEG")
    photo = open_photo(file.getvalue())

    found = find_faces(photo, FinderNet(finder_seeing(ROW)))

    assert 2 == photo.scale
    np.testing.assert_allclose(ROW * 3200 / LONG_SIDE, found.quads, atol=1e-2)


def test_nothing_found_is_an_answer(finder_seeing: Any) -> None:
    found = find_faces(blank(640, 480), FinderNet(finder_seeing(np.empty((0, 4, 2), np.float32))))

    assert (0, 4, 2) == found.quads.shape
    assert (0,) == found.scores.shape


def test_parts_of_artwork_in_a_face_that_fills_the_photo_are_no_faces(finder_seeing: Any) -> None:
    parts, whole = faces_at((200, 200), (200, 350)), FACE[None] * 2 + 20

    found = find_faces(blank(768, 768), FinderNet(finder_seeing(parts, whole)))

    np.testing.assert_allclose(3 * whole, found.quads, atol=1e-2)


def test_small_faces_get_a_second_closer_look(finder_seeing: Any) -> None:
    session = finder_seeing(ROW / 4)

    find_faces(blank(3000, 2000), FinderNet(session))

    first, second = (picture.shape for picture in session.inputs)
    assert (1, 512, 768, 3) == first
    assert second[1] < 512 and second[2] < 768  # the region alone, though enlarged


def test_few_faces_get_a_look_from_farther_away_that_finds_only_large_ones(finder_seeing: Any) -> None:
    nothing, small, large = np.empty((0, 4, 2), np.float32), FACE[None] * 0.5 + 20, FACE[None] + 20

    found_small, found_large = (
        find_faces(blank(768, 768), FinderNet(finder_seeing(nothing, quads))) for quads in (small, large)
    )

    assert (0, 4, 2) == found_small.quads.shape
    np.testing.assert_allclose(3 * large, found_large.quads, atol=1e-2)


def test_a_preview_gets_no_closer_look(finder_seeing: Any) -> None:
    session = finder_seeing(ROW / 4)

    find_faces(blank(3000, 2000), FinderNet(session), long_side=640, closer_look=False)

    assert [(1, 448, 640, 3)] == [picture.shape for picture in session.inputs]


def test_a_small_photo_is_enlarged_at_most_twice_and_has_no_more_to_show(finder_seeing: Any) -> None:
    session = finder_seeing(ROW / 4)

    find_faces(blank(300, 200), FinderNet(session))

    assert [(1, 416, 608, 3)] == [picture.shape for picture in session.inputs]


@given(
    width=st.integers(64, 900), height=st.integers(64, 900), scale=st.floats(0.1, 2.0),
    left=st.floats(0, 0.4), top=st.floats(0, 0.4), step=st.sampled_from([1, 2, 4]),
)  # fmt: skip
@settings(deadline=None)
def test_the_matrix_takes_network_pixels_back_to_the_photo(
    width: int, height: int, scale: float, left: float, top: float, step: int
) -> None:
    photo = Photo(np.broadcast_to(np.zeros(3, np.uint8), (height, width, 3)), step)
    region = Region(left * width * step, top * height * step, width * step, height * step)

    picture, matrix = letterbox(photo, region, scale / step)
    corner = np.array([[matrix[0, 2], matrix[1, 2]], photo.size])
    inside = cv2.perspectiveTransform(corner[None], np.linalg.inv(matrix))[0]

    assert (0, 0) == (picture.shape[1] % 32, picture.shape[2] % 32)
    np.testing.assert_allclose(inside[0], (0, 0), atol=1e-6)
    assert (inside[1] < 0.01 + np.array((picture.shape[2], picture.shape[1]))).all()
    assert (inside[1] > (picture.shape[2] - 32.01, picture.shape[1] - 32.01)).all()
    assert (corner[0] <= (region.left, region.top)).all()


def test_a_mark_in_the_photo_lies_where_the_matrix_says() -> None:
    photo = blank(1700, 1100)
    photo.pixels[400:420, 900:930] = 255

    picture, matrix = letterbox(photo, Region(300, 100, 1700, 1100), 0.5)
    rows, columns = np.nonzero(picture[0, ..., 0] > 200)
    middle = moved(np.full((1, 4, 2), (columns.mean() + 0.5, rows.mean() + 0.5), np.float32), matrix)[0, 0]

    np.testing.assert_allclose(middle, (915, 410), atol=0.5)
    assert 114 == picture[0, -1, -1, 0]


def test_the_grey_frame_lies_right_and_below() -> None:
    picture, _ = letterbox(blank(1000, 300), Region(0, 0, 1000, 300), 0.5)

    assert (1, 160, 512, 3) == picture.shape
    assert [90, 90, 114] == picture[0, (0, 149, 150), 0, 0].tolist()


def outputs(quads: Quads, scores: list[float]) -> tuple[Any, Any]:
    centres, corners = np.zeros((1, 64, 64), np.float32), np.zeros((1, 8, 64, 64), np.float32)
    for number, (quad, score) in enumerate(zip(quads, scores, strict=True)):
        row, column = 10 + number // 40, 10 + number % 40
        centres[0, row, column] = score
        corners[0, :, row, column] = (quad - (np.array([column, row]) + 0.5) * 4).ravel()
    return centres, corners


def test_of_two_quads_on_one_face_the_surer_stays() -> None:
    twice = faces_at((50, 50), (56, 52), (112, 50))

    found = faces_at_peaks(*outputs(twice, [0.6, 0.9, 0.8]), stride=4)

    np.testing.assert_allclose(twice[[1, 2]], found.quads, atol=1e-4)


def test_touching_and_slightly_overlapping_faces_stay_apart() -> None:
    grid = faces_at(*((x * 57.0, y * 78.0) for y in range(12) for x in range(13)))

    assert 156 == len(faces_at_peaks(*outputs(grid, [0.9] * 156), stride=4).quads)


@pytest.mark.parametrize(
    "quad",
    [
        FACE[::-1],
        FACE[[0, 2, 1, 3]],
        FACE * (0.1, 1),
        FACE * (1, 0.1),
        FACE * 0.05,
        np.zeros((4, 2)),
        FACE[[0, 1, 2, 2]],
    ],
    ids=["wound the other way", "bow tie", "sliver", "lying sliver", "speck", "point", "triangle"],
)
def test_what_cannot_be_a_face_is_dropped(quad: Quads) -> None:
    assert 0 == len(faces_at_peaks(*outputs(quad[None].astype(np.float32), [0.9]), stride=4).quads)


def test_an_unlikely_peak_is_no_face() -> None:
    assert 0 == len(faces_at_peaks(*outputs(FACE[None], [0.4]), stride=4).quads)


def test_an_unlikely_peak_is_a_face_where_it_continues_a_row() -> None:
    row_of_three = faces_at((50, 50), (112, 52), (174, 54))

    assert 3 == len(faces_at_peaks(*outputs(row_of_three, [0.9, 0.4, 0.4]), stride=4).quads)
    assert 1 == len(faces_at_peaks(*outputs(row_of_three, [0.9, 0.1, 0.4]), stride=4).quads)


def test_an_unlikely_peak_of_another_size_or_level_continues_no_row() -> None:
    smaller, lower = FACE * 0.5 + (112, 70), FACE + (62, 100)

    for other in (smaller, lower):
        both = np.stack([FACE, other]).astype(np.float32)
        assert 1 == len(faces_at_peaks(*outputs(both, [0.9, 0.4]), stride=4).quads)


def test_a_faint_peak_beside_a_face_is_one_only_if_asked_for() -> None:
    centres, corners = np.zeros((1, 64, 64), np.float32), np.zeros((1, 8, 64, 64), np.float32)
    centres[0, 30, [20, 31]] = 0.9, 0.1
    corners[0, :, 30, [20, 31]] = np.array([-20, -28, 20, -28, 20, 28, -20, 28], np.float32)

    assert 1 == len(faces_at_peaks(centres, corners, 4).quads)
    assert [0.9, 0.1] == pytest.approx(faces_at_peaks(centres, corners, 4, least=0.05).scores.tolist())
