from dataclasses import replace

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES, Face
from tilewitness.training.artboard import Artboard, laid_over, premultiplied, straight_alpha
from tilewitness.training.bamboo import BambooStyle, draw_bamboo, sample_bamboo
from tilewitness.training.characters import Lettering, character_mask
from tilewitness.training.corners import IndexStyle, index_text, sample_index
from tilewitness.training.dots import DotStyle, draw_dots, sample_dots
from tilewitness.training.glyphs import families
from tilewitness.training.inks import Inks, sample_inks
from tilewitness.training.layers import Layer

MIDDLE, HALF = (96.0, 128.0), (80.0, 108.0)
INKS = Inks((200, 0, 0), (0, 120, 0), (0, 0, 160), (20, 20, 20))


def _parts(board: Artboard) -> int:
    ink: NDArray[np.uint8] = np.where(board.pixels[:, :, 3] > 128, 255, 0).astype(np.uint8)
    return cv2.connectedComponents(ink)[0] - 1


def _plain_dots(seed: int) -> DotStyle:
    style = sample_dots(np.random.default_rng(seed), held_out=False)
    return replace(style, small=(Layer("disc", 1.0),), large=(Layer("disc", 1.0),), fill=0.9, text="", motif="", rim="")


def _plain_bamboo(seed: int) -> BambooStyle:
    style = sample_bamboo(np.random.default_rng(seed), held_out=False)
    return replace(style, make="capsule", parts=1, knot="none", marks=0, leaves=False, width=0.12, motif="")


@pytest.mark.parametrize("seed", range(40))
def test_a_dot_tile_shows_as_many_dots_as_its_number(seed: int) -> None:
    for number in range(1, 10):
        board = Artboard()
        draw_dots(board, number, _plain_dots(seed), INKS, np.random.default_rng(0), MIDDLE, HALF, 0.0)

        assert number == _parts(board)


@pytest.mark.parametrize("seed", range(40))
def test_a_bam_shows_as_many_sticks_as_its_number(seed: int) -> None:
    for number in (2, 3, 4, 5, 6, 7, 9):  # the sticks of an 8 may meet
        board = Artboard()
        draw_bamboo(board, number, _plain_bamboo(seed), INKS, np.random.default_rng(0), MIDDLE, HALF, 0.0)

        assert number == _parts(board)


def test_artwork_stays_within_its_room() -> None:
    for seed in range(30):
        for number in range(1, 10):
            board = Artboard()
            draw_dots(board, number, _plain_dots(seed), INKS, np.random.default_rng(0), MIDDLE, HALF, 0.0)
            y, x = np.nonzero(board.pixels[:, :, 3])

            assert 96 - 80 - 5 <= x.min() / 2 and x.max() / 2 <= 96 + 80 + 5
            assert 128 - 108 - 5 <= y.min() / 2 and y.max() / 2 <= 128 + 108 + 5


def test_corner_indices_say_the_number_or_the_honour() -> None:
    index = sample_index(np.random.default_rng(1), held_out=False)
    style = replace(
        index, place="top left", digits=True, honours=True, suits=None, flower="number", joker="J",
        winds=("E", "S", "W", "N"), dragons=("C", "F", "P"),
    )  # fmt: skip
    said = {face.name: index_text(face, style, variant=5) for face in FACES}

    assert "7" == said["7 bam"]
    assert ["E", "S", "W", "N"] == [said[name] for name in ("east", "south", "west", "north")]
    assert ["C", "F", "P"] == [said[name] for name in ("red dragon", "green dragon", "white dragon")]
    assert ("2", "J") == (said["flower"], said["joker"])


def test_a_set_without_indices_says_nothing_in_its_corners() -> None:
    style: IndexStyle = replace(sample_index(np.random.default_rng(1), held_out=False), place="")

    assert {""} == {index_text(face, style, 0) for face in FACES}


def test_suit_words_stand_beside_the_number() -> None:
    index = replace(sample_index(np.random.default_rng(1), held_out=False), place="top", digits=True)

    assert "3 CRAK" == index_text(Face.named("3 crak"), replace(index, suits=("BAM", "CRAK", "DOT")), 0)
    assert "3C" == index_text(Face.named("3 crak"), replace(index, suits=("B", "C", "D")), 0)


@pytest.mark.parametrize("cut", ["solid", "outline", "inline"])
def test_a_character_fits_its_room_however_it_is_cut(cut: str) -> None:
    for family in families("chinese", text="萬"):
        lettering = Lettering(family, weight=2.0, stretch=1.4, slant=0.1, bend=(0.1, 0.03, 0.03, 1.0, 2.0), cut=cut)
        height, width = character_mask("萬", lettering, 70, 60).shape

        assert width <= 2 * 70 + 16 and height <= 2 * 60 + 16


def test_premultiplied_pictures_lie_over_each_other_as_paint_does() -> None:
    lower, upper = np.zeros((2, 4, 4, 4), np.uint8)
    lower[:] = (10, 200, 30, 255)
    upper[:2] = (250, 0, 0, 255)
    both = straight_alpha(laid_over(premultiplied(upper), premultiplied(lower)))

    assert (250, 0, 0, 255) == tuple(both[0, 0])
    assert (10, 200, 30, 255) == tuple(both[3, 3])


def test_inks_of_a_set_reach_its_artwork() -> None:
    board = Artboard()
    draw_dots(board, 9, _plain_dots(3), sample_inks(np.random.default_rng(2)), np.random.default_rng(0), MIDDLE, HALF, 0.0)

    assert board.pixels[:, :, :3].any()


def test_joined_canes_of_an_8_bam_are_one_piece_or_one_in_each_row() -> None:
    for style in map(_plain_bamboo, range(40)):
        if not any(stick.lean for stick in style.places[8]):
            continue
        board = Artboard()
        draw_bamboo(board, 8, replace(style, joined=True), INKS, np.random.default_rng(0), MIDDLE, HALF, 0.0)

        assert _parts(board) in (1, 2)
