import numpy as np
import pytest

from tilewitness.vision.evened import evened
from tilewitness.vision.quads import Quads, moved

SLANTED = np.array([[60, 8, 100], [5, 80, 50], [0.002, 0.04, 1]], np.float64)


def row(count: int) -> Quads:
    """Tiles that touch, photographed aslant: float32 (count, 4, 2)."""
    cells = np.array([[(p, 0), (p + 1, 0), (p + 1, 1), (p, 1)] for p in range(count)], np.float32)
    return moved(cells, SLANTED)


def test_a_face_found_askew_takes_the_corners_its_neighbours_tell() -> None:
    true = row(9)
    found = true.copy()
    found[3, :2] -= (6, 14)
    corners = evened(dict(enumerate(found)))

    np.testing.assert_allclose(true[3], corners[3], atol=0.5)
    np.testing.assert_array_equal(true[[0, 1, 2, 4, 8]], [corners[place] for place in (0, 1, 2, 4, 8)])


def test_a_tile_that_lies_off_its_place_keeps_its_corners() -> None:
    found = row(9)
    found[3] += (2, 9)

    np.testing.assert_array_equal(found[3], evened(dict(enumerate(found)))[3])


def test_places_without_a_tile_do_not_matter() -> None:
    true = row(9)
    found = {place: quad for place, quad in enumerate(true) if place not in (0, 4)}
    found[3] = true[3] + np.array([(-6, -14), (-6, -14), (0, 0), (0, 0)], np.float32)
    corners = evened(found)

    assert set(found) == set(corners)
    np.testing.assert_allclose(true[3], corners[3], atol=0.5)


@pytest.mark.parametrize("count", [0, 1, 4])
def test_few_tiles_are_left_as_they_were_found(count: int) -> None:
    found = dict(enumerate(row(9)[:count]))
    if found:
        found[0] = found[0] + np.array([(-6, -14), (0, 0), (0, 0), (0, 0)], np.float32)

    assert found.keys() == evened(found).keys()
    assert all((found[place] == quad).all() for place, quad in evened(found).items())
