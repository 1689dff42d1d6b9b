from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from tilewitness.vision.quads import Quads, downs, moved, turned
from tilewitness.vision.rows import arrange, as_players_see, in_order

WIDTH, HEIGHT = 24.0, 33.0  # millimetres, about those of a real tile


def laid(layout: list[list[float]], *, pitch: float = HEIGHT, jitter: float = 0.0, seed: int = 0) -> Quads:
    """Faces on a table, in millimetres: rows of distances from the left, in tile widths.

    Jitter moves tiles up and down and turns them, in parts of a tile height and in radians.
    """
    rng = np.random.default_rng(seed)
    face = np.array([(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)]) * (WIDTH, HEIGHT)
    quads = []
    for number, row in enumerate(layout):
        for left in row:
            angle, rise = rng.uniform(-jitter, jitter, 2)
            turn = np.array([(np.cos(angle), np.sin(angle)), (-np.sin(angle), np.cos(angle))])
            quads.append(face @ turn + (left * WIDTH, number * pitch + rise * HEIGHT))
    return np.array(quads, np.float32)


def camera(
    *, yaw: float, elevation: float, roll: float, distance: float, focal: float = 1500
) -> NDArray[np.float64]:
    """The matrix from the table to a photo; angles in degrees, elevation 90 looks straight down.

    Source: pinhole camera, Hartley & Zisserman 2004, "Multiple View Geometry", section 6.1.
    """
    y, e, r = np.radians((yaw, 90 - elevation, roll))
    about_z = np.array([(np.cos(y), -np.sin(y), 0), (np.sin(y), np.cos(y), 0), (0, 0, 1)])
    about_x = np.array([(1, 0, 0), (0, np.cos(e), -np.sin(e)), (0, np.sin(e), np.cos(e))])
    rolled = np.array([(np.cos(r), -np.sin(r), 0), (np.sin(r), np.cos(r), 0), (0, 0, 1)])
    pose = rolled @ about_x @ about_z
    plane = np.stack([pose[:, 0], pose[:, 1], (0, 0, distance)], 1)
    return np.asarray(np.diag((focal, focal, 1)) @ plane, np.float64)


def numbered(layout: list[list[float]]) -> list[list[int]]:
    count, rows = 0, []
    for row in layout:
        rows.append(list(range(count, count + len(row))))
        count += len(row)
    return rows


def orders(quads: Quads, seed: int = 5) -> list[list[int]]:
    """Rows found after shuffling, as indices of the quads given."""
    shuffled = np.random.default_rng(seed).permutation(len(quads))
    return [[int(shuffled[i]) for i in in_order(row)] for row in arrange(quads[shuffled])]


def centred(quads: Quads) -> Quads:
    return quads - quads.reshape(-1, 2).mean(0)


views = st.fixed_dictionaries(
    {
        "yaw": st.floats(-35, 35), "elevation": st.floats(35, 90), "roll": st.floats(-12, 12),
        "distance": st.floats(900, 2500),
    }
)  # fmt: skip


@given(rows=st.integers(1, 12), columns=st.integers(1, 14), view=views)
@settings(deadline=None)
def test_a_grid_of_touching_tiles_reads_row_by_row_from_any_side(rows: int, columns: int, view: Any) -> None:
    layout = [[float(x) for x in range(columns)]] * rows
    quads = moved(centred(laid(layout)), camera(**view))

    assert numbered(layout) == orders(quads)


@st.composite
def layouts(draw: st.DrawFn) -> list[list[float]]:
    """Rows of groups with gaps, each row starting where it likes."""
    rows = []
    for _ in range(draw(st.integers(1, 8))):
        at, row = draw(st.floats(0, 3)), []
        for size in draw(st.lists(st.integers(1, 5), min_size=1, max_size=4)):
            row += [at + step for step in range(size)]
            at += size + draw(st.floats(0.3, 1.5))
        rows.append(row)
    return rows


@given(layout=layouts(), view=views, seed=st.integers(0, 9))
@settings(deadline=None)
def test_staggered_rows_of_loose_groups_read_in_order(
    layout: list[list[float]], view: Any, seed: int
) -> None:
    quads = moved(centred(laid(layout, pitch=1.25 * HEIGHT, jitter=0.06, seed=seed)), camera(**view))

    assert numbered(layout) == orders(quads)


@given(roll=st.floats(-30, 30), distance=st.floats(600, 2500), count=st.integers(1, 14))
@settings(deadline=None)
def test_a_rack_held_askew_is_one_row(roll: float, distance: float, count: int) -> None:
    layout = [[float(x) for x in range(count)]]
    quads = moved(centred(laid(layout)), camera(yaw=0, elevation=90, roll=roll, distance=distance))

    assert numbered(layout) == orders(quads)


@pytest.mark.parametrize("start", [0.0, 4.0, 10.5])
@pytest.mark.parametrize("roll", [-25, 0, 25])
def test_an_exposed_row_above_the_rack_comes_first(start: float, roll: float) -> None:
    layout = [[start + x for x in (0, 1, 2, 3.6, 4.6, 5.6)], [float(x) for x in range(14)]]
    quads = moved(
        centred(laid(layout, pitch=1.05 * HEIGHT)), camera(yaw=8, elevation=50, roll=roll, distance=900)
    )

    assert numbered(layout) == orders(quads)


def test_groups_are_split_where_tiles_stand_apart() -> None:
    layout = [[0, 1, 2.3, 3.3, 4.3, 5.8], [0, 1, 2, 3]]

    rows = arrange(laid(layout, pitch=40))

    assert (((0, 1), (2, 3, 4), (5,)), ((6, 7, 8, 9),)) == rows


def test_evenly_spread_tiles_are_one_group() -> None:
    assert (((0, 1, 2, 3, 4),),) == arrange(laid([[0, 1.5, 3.0, 4.45, 6.0]]))


def test_nothing_gives_no_rows_and_one_tile_one_row() -> None:
    assert () == arrange(np.empty((0, 4, 2), np.float32))
    assert (((0,),),) == arrange(laid([[0.0]]))


def test_racks_on_either_side_of_a_table_are_two_rows() -> None:
    far, near = laid([[float(x) for x in range(14)]]) * 0.6, laid([[float(x) for x in range(14)]])

    assert 2 == len(arrange(np.concatenate([far, near + np.array([-60, 400], np.float32)])))


ROWS = (((0, 1), (2, 3, 4)), ((5, 6, 7, 8, 9), (10,)))


def test_a_photo_from_across_the_table_reads_as_its_player_sees_it() -> None:
    mostly = np.ones(11, bool)
    mostly[[1, 7]] = False

    assert (((10,), (9, 8, 7, 6, 5)), ((4, 3, 2), (1, 0))) == as_players_see(ROWS, mostly)


def test_a_row_of_the_player_across_reads_from_its_own_left() -> None:
    across = np.arange(11) >= 5

    assert (ROWS[0], ((10,), (9, 8, 7, 6, 5))) == as_players_see(ROWS, across)


@pytest.mark.parametrize("turned_tiles", [[], [2], [0, 1, 2, 3], [5, 6, 7, 8]])
def test_single_tiles_put_in_upside_down_change_no_order(turned_tiles: list[int]) -> None:
    on_head = np.zeros(11, bool)
    on_head[turned_tiles] = True

    assert ROWS == as_players_see(ROWS, on_head)


def test_rows_and_reading_order_of_real_photos_are_right(shared_photos: list[Any]) -> None:
    wrong = []
    for photo in shared_photos:
        quads = turned(photo.quads, downs(photo.quads)[:, 1] < 0)
        places = {
            tile: (number, place)
            for number, row in enumerate(arrange(quads))
            for place, tile in enumerate(in_order(row))
        }
        if photo.places != [places[i] for i in range(len(quads))]:
            wrong.append(photo.path.name)

    assert [] == wrong
