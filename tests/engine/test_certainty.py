"""Racks put together of readings, and how often the word "sure" is wrong."""

import numpy as np
import pytest
from certainty import Made, Racks, SetRead, interval, judge_set, read_wall, taken_for

from tilewitness.engine.card import parse_card
from tilewitness.engine.faces import FACES, NAMES
from tilewitness.engine.unsure import Certainty
from tilewitness.vision.reading import Tile

CARD = parse_card(
    'name = "T"\n["One"]\n"Steps" = "pair of flowers, kongs of any number to 2 above in one suit; worth 25"\n'
    '"Winds" = "kongs of east, south and west, pair of north; worth 30"'
)
QUAD = np.array([[0, 0], [30, 0], [30, 40], [0, 40]], np.float32)


def tile(said: int, sure: float, instead: int) -> Tile:
    return Tile(QUAD, ((FACES[said], sure), (FACES[instead], 1 - sure)), False, 0, 0, 0)


def a_set(sure: float) -> SetRead:
    """All tiles of a set, read right, each with the next face as its alternative."""
    faces = np.repeat(np.arange(36), [face.copies for face in FACES])
    return SetRead("made up", faces, tuple(tile(face, sure, (face + 1) % 36) for face in faces.tolist()))


def racks_of(made: Made, count: int = 60) -> list[list[int]]:
    racks = Racks(CARD, taken_for([a_set(0.99)]) + np.eye(36, k=1, dtype=int))
    drawn = [racks.draw(made, np.random.default_rng(i)) for i in range(count)]
    return [faces.tolist() for faces in drawn if faces is not None]


def test_wins_are_wins_and_the_others_are_one_tile_from_one() -> None:
    racks = Racks(CARD, taken_for([a_set(0.99)]) + np.eye(36, k=1, dtype=int))

    for made in Made:
        drawn = racks_of(made)
        assert len(drawn) > 20
        assert {made is Made.WIN} == {racks.is_win(np.array(faces)) for faces in drawn}


def test_a_tile_taken_for_the_right_one_is_one_that_the_reader_takes_for_it() -> None:
    east, stranger = NAMES.index("east"), NAMES.index("5 dot")
    confused = np.zeros((36, 36), np.int_)
    confused[stranger, east] = 3  # three 5 dots were read as east, and nothing else was misread
    racks = Racks(CARD, confused)
    drawn = [racks.draw(Made.ALIKE, np.random.default_rng(i)) for i in range(60)]
    found = [faces.tolist() for faces in drawn if faces is not None]

    assert len(found) > 5
    assert {1} == {faces.count(stranger) for faces in found}


def test_what_is_read_right_and_surely_is_a_sure_win_and_nothing_else_is() -> None:
    racks = Racks(CARD, taken_for([a_set(0.99)]))
    judged = judge_set(a_set(0.99), racks, 10, 1, wins_alone=False)

    assert {True} == {one.read_right for one in judged}
    assert {Made.WIN} == {one.made for one in judged if one.certainty is Certainty.SURE_YES}
    assert {Certainty.SURE_YES} == {one.certainty for one in judged if one.made is Made.WIN}


def test_leaving_out_what_cannot_be_a_sure_win_changes_no_sure_win() -> None:
    racks = Racks(CARD, taken_for([a_set(0.99)]))

    for sure in (0.95, 0.85):
        full, quick = (judge_set(a_set(sure), racks, 8, 3, wins_alone=alone) for alone in (False, True))
        assert [one.certainty is Certainty.SURE_YES for one in full] == [one.certainty is Certainty.SURE_YES for one in quick]


def test_bounds_of_a_share() -> None:
    # Source: the rule of three (Hanley & Lippman-Hand 1983, JAMA 249): none of n, at most 3 in n at 95 % one-sided;
    # two-sided it is 3.7. Half of a hundred, from memory: 39.8 % to 60.2 %.
    assert (0, pytest.approx(3.69 / 1000, rel=0.01)) == interval(0, 1000)
    assert (pytest.approx(0.398, abs=1e-3), pytest.approx(0.602, abs=1e-3)) == interval(50, 100)
    assert 1 == interval(5, 5)[1]


def test_a_whole_set_is_photographed_and_read() -> None:
    read = read_wall(1)

    assert len(read.tiles) >= 150
    assert np.mean([tile.face.index == face for tile, face in zip(read.tiles, read.faces, strict=True)]) > 0.7
