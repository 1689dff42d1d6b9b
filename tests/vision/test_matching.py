"""Tiles find their places in a layout by the reader's names where it knows the set, and as they lie where not."""

from collections.abc import Sequence

import numpy as np
import pytest

from tilewitness.engine.faces import FACES, Face
from tilewitness.vision.lesson import layout
from tilewitness.vision.matching import Match
from tilewitness.vision.matching import match as match_with
from tilewitness.vision.places import Layout
from tilewitness.vision.reading import Tile

LAYOUT = layout(flowers=8, jokers=2)
ALL = {(row, place) for row, line in enumerate(LAYOUT) for place in range(len(line))}
JOKER = Face.named("joker")


def match(seen: list[list[Tile]], photos: Sequence[int], rows: Layout, evidence: Sequence[Sequence[float]] = ()) -> Match:
    """Match tiles that all look like tiles, unless said otherwise."""
    return match_with(seen, photos, evidence or [[1.0] * len(row) for row in seen], rows)


def laid(*, named: bool, without: Sequence[tuple[int, int]] = (), order: Sequence[int] = range(6)) -> list[list[Tile]]:
    """The rows of a layout as seen, each where it lies; a reader that does not know the set calls every tile a joker."""
    seen = []
    for line, row in enumerate(order):
        tiles = []
        for place, face in enumerate(LAYOUT[row]):
            if (row, place) not in without:
                corner = np.array([60.0 * place + 3 * line, 100.0 * line], np.float32)
                quad = corner + np.array([(0, 0), (54, 0), (54, 72), (0, 72)], np.float32)
                said = face if named else JOKER
                tiles.append(Tile(quad, ((said, 0.99), (FACES[(said.index + 1) % 36], 0.01)), False, line, len(tiles), 0))
        seen.append(tiles)
    return seen


@pytest.mark.parametrize("named", [True, False])
def test_a_whole_layout_finds_every_place(named: bool) -> None:
    found = match(laid(named=named), [0] * 6, LAYOUT)

    assert {spot: spot for spot in ALL} == found.tiles
    assert named == found.reader_knows


def test_rows_may_stand_in_any_order_where_the_reader_knows_the_set() -> None:
    order = (2, 0, 5, 1, 3, 4)
    found = match(laid(named=True, order=order), [0] * 6, LAYOUT)

    assert {(row, place): (order.index(row), place) for row, place in ALL} == found.tiles


@pytest.mark.parametrize("missing", [(1, 0), (1, 4), (1, 8), (2, 8), (0, 0), (4, 3)])
def test_a_tile_not_seen_leaves_its_own_place_empty_whatever_the_artwork(missing: tuple[int, int]) -> None:
    found = match(laid(named=False, without=[missing]), [0] * 6, LAYOUT)

    assert ALL - {missing} == set(found.tiles)


def test_a_row_not_seen_at_all_leaves_the_others_in_place() -> None:
    seen = laid(named=False)
    del seen[3]
    found = match(seen, [0] * 5, LAYOUT)

    assert {spot for spot in ALL if spot[0] != 3} == set(found.tiles)
    assert (3, 0) == found.tiles[4, 0]


def test_a_row_may_go_on_in_the_next_photo() -> None:
    whole = laid(named=False)
    seen = [*whole[:2], whole[2][:5], whole[2][5:], *whole[3:]]
    found = match(seen, [0, 0, 0, 1, 1, 1, 1], LAYOUT)

    assert ALL == set(found.tiles)
    assert (3, 0) == found.tiles[2, 5]


def test_fewer_flowers_than_asked_for_lie_from_the_left() -> None:
    seen = laid(named=False)
    found = match(seen[:5], [0] * 5, layout(flowers=8, jokers=1))

    assert [(4, place) for place in range(8)] == [spot for spot in sorted(found.tiles) if spot[0] == 4]


def test_no_tiles_leave_every_place_empty() -> None:
    assert {} == match([], [], LAYOUT).tiles
