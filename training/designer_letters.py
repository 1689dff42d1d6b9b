"""A typographer's set: coloured shapes with Roman numerals, words or letters, and not one character or picture."""

from __future__ import annotations

from typing import Final

import numpy as np

from tilewitness.engine.faces import Face, Kind
from tilewitness.training.artboard import Artboard, Point
from tilewitness.training.emblems import star
from tilewitness.training.glyphs import draw_text
from tilewitness.training.inks import RGB

CORAL: Final[RGB] = (235, 90, 80)
OCEAN: Final[RGB] = (20, 90, 160)
MOSS: Final[RGB] = (80, 120, 50)
GOLD: Final[RGB] = (215, 160, 30)
GRAPE: Final[RGB] = (110, 60, 140)
COAL: Final[RGB] = (40, 40, 45)
PAPER: Final[RGB] = (250, 248, 240)

ROMAN: Final = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX")
WORDS: Final = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
LETTERS: Final = "ABCDEFGHK"
TIMES: Final = ("dawn", "dusk", "noon", "night")
NAMES: Final = ("Ada", "Bea", "Cleo", "Dot", "Eve", "Fay", "Gwen", "Hope")
CALLS: Final = ("Oh", "Yes", "Ha", "Wow")


def letters_face(board: Artboard, face: Face, variant: int) -> None:
    """Draw a face on the board; `variant` picks one of its pictures."""
    middle = (96.0, 128.0)
    number = (face.number or 1) - 1
    if face.kind is Kind.FLOWER:
        board.polygon(star(*middle, 92, 8, 0.8), GRAPE if variant % 2 else GOLD)
        _set(board, NAMES[variant], "shrikhand", middle, PAPER, (130, 60))
    elif face.kind is Kind.JOKER:
        board.polygon(star(96, 128, 94, 5 + 2 * variant, 0.55), COAL)
        _set(board, CALLS[variant], "bowlby-one-sc", middle, GOLD, (84, 46))
    elif face.kind is Kind.DRAGON:
        sign, ink = (("X", CORAL), ("Y", MOSS), ("Z", OCEAN))[face.index - 31]
        board.polygon(np.array([[96, 14], [184, 224], [8, 224]], float), ink)
        _set(board, sign, "monoton", (96, 160), PAPER, (80, 80))
    elif face.kind is Kind.WIND:
        which = face.index - 27
        board.polygon(np.array([[10, 84], [182, 84], [182, 172], [10, 172]], float), (COAL, CORAL, GOLD, OCEAN)[which])
        _set(board, TIMES[which], "limelight", middle, PAPER, (150, 56))
    elif face.index < 9:
        board.polygon(star(96, 128, 90, 6, 0.9), MOSS)
        _set(board, ROMAN[number], "playfair-display", middle, PAPER, (116, 74))
    elif face.index < 18:
        board.disc(middle, 86, CORAL)
        _set(board, WORDS[number], "chewy", middle, PAPER, (140, 60))
    else:
        board.polygon(np.array([[16, 40], [176, 40], [176, 216], [16, 216]], float), OCEAN)
        _set(board, LETTERS[number], "rokkitt", middle, GOLD, (120, 130))


def _set(board: Artboard, text: str, family: str, centre: Point, ink: RGB, room: Point) -> None:
    """Typeset a text as large as the room, width × height in pixels of the face, allows."""
    trial = draw_text(text, family, 100)
    scale = 2 * min(room[0] / trial.shape[1], room[1] / trial.shape[0])
    board.stamp(draw_text(text, family, 100 * scale), centre, ink)
