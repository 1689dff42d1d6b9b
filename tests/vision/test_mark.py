from itertools import product

import numpy as np
import pytest

from tilewitness.engine.faces import FACES
from tilewitness.vision.mark import mark_tiles
from tilewitness.vision.quads import Quads
from tilewitness.vision.reading import Reading, Tile

BLUE, VERMILION = (160, 90, 0), (0, 70, 190)


def tile(quad: Quads, row: int, place: int, confidence: float = 0.99) -> Tile:
    return Tile(
        quad, ((FACES[(row + place) % 36], confidence), (FACES[-1], 1 - confidence)), False, row, place, 0
    )


def face_at(x: float, y: float, width: float = 60, height: float = 80) -> Quads:
    return np.array([(x, y), (x + width, y), (x + width, y + height), (x, y + height)], np.float32)


def colours(picture: Quads, colour: tuple[int, int, int]) -> int:
    return int((picture == colour).all(2).sum())


def test_sure_and_doubtful_tiles_differ_in_colour_and_in_line() -> None:
    photo = np.full((300, 400, 3), 128, np.uint8)
    both = tuple(
        mark_tiles(photo, Reading((400, 300), (tile(face_at(100, 100), 0, 0, confidence),), ()))
        for confidence in (0.99, 0.5)
    )

    assert colours(both[0], BLUE) > 1.3 * colours(both[1], VERMILION) > 0
    assert 0 == colours(both[0], VERMILION) == colours(both[1], BLUE)


def test_a_name_above_a_free_tile_leaves_its_face_alone() -> None:
    photo = np.full((300, 400, 3), 128, np.uint8)

    marked = mark_tiles(photo, Reading((400, 300), (tile(face_at(100, 100), 0, 0),), ()))
    scale = marked.shape[0] / 300
    inside = marked[round(108 * scale) : round(172 * scale), round(108 * scale) : round(152 * scale)]

    assert [128] == np.unique(inside).tolist()


def test_a_table_of_touching_tiles_keeps_its_faces_visible() -> None:
    photo = np.full((1100, 860, 3), 128, np.uint8)
    tiles = tuple(tile(face_at(20 + 60 * x, 30 + 80 * y), y, x) for y, x in product(range(12), range(13)))

    marked = mark_tiles(photo, Reading((860, 1100), tiles, ()))
    scale = marked.shape[0] / 1100
    middles = [
        marked[
            round((40 + 80 * y) * scale) : round((98 + 80 * y) * scale),
            round((28 + 60 * x) * scale) : round((72 + 60 * x) * scale),
        ]
        for y, x in product(range(12), range(13))
    ]

    assert all(np.unique(middle).tolist() == [128] for middle in middles)


def test_small_tiles_are_drawn_larger_and_large_photos_smaller() -> None:
    small = mark_tiles(
        np.zeros((200, 300, 3), np.uint8), Reading((300, 200), (tile(face_at(50, 50, 24, 32), 0, 0),), ())
    )
    large = mark_tiles(np.zeros((4500, 6000, 3), np.uint8), Reading((6000, 4500), (), ()))

    assert (867, 1300, 3) == small.shape
    assert (3000, 4000, 3) == large.shape


def test_a_reading_of_another_photo_is_refused() -> None:
    with pytest.raises(
        ValueError, match=r"the photo is \(300, 200\) pixels, the reading is of one of \(400, 300\)"
    ):
        mark_tiles(np.zeros((200, 300, 3), np.uint8), Reading((400, 300), (), ()))


def test_a_name_at_the_photos_border_stays_in_the_picture() -> None:
    photo = np.full((80, 60, 3), 128, np.uint8)
    marked = mark_tiles(photo, Reading((60, 80), (tile(face_at(0, 0), 0, 0),), ()))
    across = (marked == 255).all(2).mean(1) > 0.3

    # a name's box is about a sixth of a tile high; half of it would be missing if its middle stood on the border
    assert across[: marked.shape[0] // 3].sum() > 0.1 * marked.shape[0]
