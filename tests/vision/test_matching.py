"""Tiles find their places in a layout by the reader's names where it knows the set, and as they lie where not."""

from collections.abc import Sequence

import numpy as np
import pytest

from tilewitness.engine.faces import FACES, Face
from tilewitness.vision.lesson import layout
from tilewitness.vision.matching import Match
from tilewitness.vision.matching import match as match_with
from tilewitness.vision.places import Layout, of_one_body
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


def beside(row: list[Tile], *, before: bool) -> list[Tile]:
    """The row with one more find at its end."""
    end, step = (row[0], -60) if before else (row[-1], 60)
    stray = Tile(end.quad + np.array([step, 0], np.float32), end.probabilities, False, end.row, 0, 0)
    return [stray, *row] if before else [*row, stray]


@pytest.mark.parametrize("before", [True, False])
@pytest.mark.parametrize("line", [0, 3, 5])
def test_what_looks_least_like_a_tile_is_left_out_at_either_end_of_a_row(before: bool, line: int) -> None:
    seen = laid(named=False)
    evidence = [[0.4] * len(row) for row in seen]
    seen[line] = beside(seen[line], before=before)
    evidence[line] = [0.1, *evidence[line]] if before else [*evidence[line], 0.1]
    found = match(seen, [0] * 6, LAYOUT, evidence)

    assert {(row, place): (row, place + (before and row == line)) for row, place in ALL} == found.tiles


def test_a_find_at_the_end_of_a_row_does_not_fill_the_place_of_a_tile_not_seen() -> None:
    seen = laid(named=False, without=[(1, 4)])
    evidence = [[0.9] * len(row) for row in seen]
    seen[1], evidence[1] = beside(seen[1], before=False), [*evidence[1], 0.05]
    found = match(seen, [0] * 6, LAYOUT, evidence)

    assert ALL - {(1, 4)} == set(found.tiles)
    assert (1, 4) == found.tiles[1, 5]


@pytest.mark.parametrize("missing", [0, 1, 2])
def test_the_room_between_rows_tells_which_of_equally_long_ones_was_not_seen(missing: int) -> None:
    seen = laid(named=False)
    del seen[missing]
    found = match(seen, [0] * 5, LAYOUT)

    assert {spot for spot in ALL if spot[0] != missing} == set(found.tiles)


def test_two_rows_not_seen_are_likelier_than_many_tiles_here_and_there() -> None:
    found = match(laid(named=False)[2:], [0] * 4, LAYOUT)

    assert {spot for spot in ALL if spot[0] > 1} == set(found.tiles)


def test_a_find_in_the_colour_of_the_table_is_not_of_one_body_with_the_tiles() -> None:
    tiles = np.full((9, 96, 72, 3), (210, 225, 235), np.uint8)
    tiles[:, 30:60, 20:50] = (40, 40, 200)
    table = np.full((1, 96, 72, 3), (70, 110, 60), np.uint8)
    alike = of_one_body(np.concatenate([tiles, table]), 0.06)

    assert alike[:9].min() > 0.9
    assert alike[9] < 0.1
    assert (0,) == of_one_body(tiles[:0], 0.06).shape
