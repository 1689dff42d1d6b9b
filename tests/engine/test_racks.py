"""Which tiles make one rack. Common sense, no source."""

from tilewitness.engine.faces import FACES, Face
from tilewitness.engine.rack import Rack
from tilewitness.engine.racks import Row, racks_in


def row(*runs: str) -> Row:
    """One row of touching tiles a string."""
    return [(face, run) for run, text in enumerate(runs) for face in Rack.parse(text).faces]


MIXED = "pair of flowers, 2 bam, joker, 4 bam, pair of 6 bam, 1 dot, 2 dot, 3 dot"


def test_one_row_is_one_rack() -> None:
    found = racks_in([row("kong of 1 bam", "pung of 2 bam, pair of east")])

    assert [(tuple(range(9)), (), (0,))] == [(rack.places, rack.rack.exposed, rack.rows) for rack in found]


def test_no_tiles_make_no_rack() -> None:
    assert () == racks_in([])
    assert () == racks_in([[], []])


def test_an_exposed_row_with_its_rack_is_one_hand() -> None:
    (found,) = racks_in([row("kong of 1 bam"), row(MIXED)])

    assert ((0, 1, 2, 3),) == found.rack.exposed
    assert 14 == len(found.rack.faces)


def test_the_exposed_row_may_lie_on_the_other_side() -> None:
    (found,) = racks_in([row(MIXED), row("3 dot, joker, 3 dot, 3 dot")])

    assert ((10, 11, 12, 13),) == found.rack.exposed


def test_touching_claimed_groups_are_told_apart_by_their_faces() -> None:
    (found,) = racks_in([row("pung of 1 bam, joker, pung of 2 bam"), row("pair of east, 1 dot, 2 dot, 3 dot, 4 dot, 5 dot")])
    (clear,) = racks_in([row("joker, pung of 1 bam, pung of 2 bam"), row("pair of east, 1 dot, 2 dot, 3 dot, 4 dot, 5 dot")])

    assert () == found.rack.exposed  # the joker could be either group's
    assert ((0, 1, 2, 3), (4, 5, 6)) == clear.rack.exposed


def test_a_hand_laid_out_in_two_tidy_rows_is_not_claimed() -> None:
    (found,) = racks_in([row("kong of 1 bam", "kong of 5 bam"), row("kong of 9 bam", "pung of east")])

    assert () == found.rack.exposed


def test_a_table_of_full_rows_is_one_hand_a_row() -> None:
    full = row("kong of 1 bam, kong of 2 bam, kong of 3 bam, pair of east")
    found = racks_in([full, full[:13], full, [*full, full[0]]])

    assert [(0,), (1,), (2,), (3,)] == [rack.rows for rack in found]
    assert [0, 14, 27, 41] == [rack.places[0] for rack in found]


def test_a_table_of_hands_in_two_rows_each_takes_two_rows_a_hand() -> None:
    found = racks_in([row(MIXED)[:8], row(MIXED)[:6], row(MIXED)[:7], row(MIXED)[:7]])

    assert [(0, 1), (2, 3)] == [rack.rows for rack in found]


def test_every_tile_is_in_exactly_one_rack() -> None:
    sizes = [3, 14, 13, 2, 9, 5, 0, 1]
    tiles: list[Row] = [[(FACES[0], 0)] * size for size in sizes]
    places = [place for found in racks_in(tiles) for place in found.places]

    assert list(range(sum(sizes))) == places


def test_faces_follow_their_places() -> None:
    faces: list[Face] = [FACES[0]] * 4
    (found,) = racks_in([row(MIXED), [(face, 0) for face in faces]])

    assert found.rack.faces == (*Rack.parse(MIXED).faces, *faces)
