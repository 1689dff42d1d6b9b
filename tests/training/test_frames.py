import numpy as np
import pytest

from tilewitness.training.artboard import HEIGHT, WIDTH, Artboard, straight_alpha
from tilewitness.training.compass import COMPASSES, draw_compass
from tilewitness.training.frames import PATTERNS, WhiteStyle, draw_white
from tilewitness.training.inks import Inks

INKS = Inks((200, 0, 0), (0, 120, 0), (0, 0, 160), (0, 0, 0))
MIDDLE = (WIDTH / 2, HEIGHT / 2)


@pytest.mark.parametrize("pattern", PATTERNS[False] + PATTERNS[True])
def test_every_frame_has_ink_on_all_sides_and_none_in_its_middle(pattern: str) -> None:
    style = WhiteStyle(pattern, "blue", "red", 0.06, 0.12, 0.2, (0.9, 0.9), "none", "", False, None)
    board = Artboard()
    draw_white(board, style, INKS, MIDDLE, (80, 110))
    ink = straight_alpha(board.shrunk())[:, :, 3] > 100

    assert all(half.any() for half in (ink[:64], ink[-64:], ink[:, :48], ink[:, -48:]))
    assert not ink[96:160, 72:120].any()


def test_no_pattern_is_in_both_splits() -> None:
    assert not set(PATTERNS[False]) & set(PATTERNS[True])


@pytest.mark.parametrize("kind", COMPASSES)
def test_a_compass_leaves_room_and_differs_for_each_wind(kind: str) -> None:
    drawn = []
    for wind in range(4):
        board = Artboard()
        room = draw_compass(board, wind, kind, INKS.black, MIDDLE, (80, 110))
        alpha = straight_alpha(board.shrunk())[:, :, 3]
        half = round(room / 2 * 0.7)
        y, x = HEIGHT // 2, WIDTH // 2

        assert not alpha[y - half : y + half, x - half : x + half].any()
        drawn.append((alpha > 100).tobytes())

    assert 4 == len(set(drawn))


def test_the_marked_point_of_a_compass_lies_in_its_winds_direction() -> None:
    board = Artboard()
    draw_compass(board, 0, "rose", INKS.black, MIDDLE, (80, 110))
    alpha = np.asarray(straight_alpha(board.shrunk())[:, :, 3], float)

    assert alpha[:, WIDTH // 2 + 8 :].sum() > alpha[:, : WIDTH // 2 - 8].sum()
