"""A garden as a set of tiles: ladybirds with spots, nine different plants, and stepping stones.

One suit counts spots, one does not count at all, one counts in steps; trees through the year are the winds.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from tilewitness.engine.faces import Face, Kind
from tilewitness.training.artboard import Artboard, stamp_icon
from tilewitness.training.engraving import curve, ellipse, leaf
from tilewitness.training.icons import icon
from tilewitness.training.inks import RGB

RED: Final[RGB] = (205, 50, 45)
GREEN: Final[RGB] = (70, 140, 60)
SKY: Final[RGB] = (90, 160, 210)
SOIL: Final[RGB] = (110, 80, 55)
SUN: Final[RGB] = (240, 185, 40)
VIOLET: Final[RGB] = (130, 80, 160)
ROSE: Final[RGB] = (230, 120, 150)
NIGHT: Final[RGB] = (45, 45, 60)
STONE: Final[RGB] = (150, 150, 145)

_PLANTS: Final = (
    ("game-icons--bonsai-tree", GREEN), ("game-icons--dandelion-flower", SUN), ("game-icons--fern", GREEN),
    ("noto--pear", SUN), ("game-icons--plum", VIOLET), ("game-icons--wheat", SOIL),
    ("game-icons--vine-flower", ROSE), ("noto--potted-plant", RED), ("game-icons--willow-tree", SKY),
)  # fmt: skip
"""One for each number: whoever plays with this set knows them by heart."""

_FLOWERS: Final = (
    ("noto--rose", RED), ("noto--hibiscus", ROSE), ("noto--hyacinth", VIOLET), ("mdi--flower-tulip", SUN),
    ("game-icons--lotus-flower", SKY), ("game-icons--poppy", RED), ("game-icons--flower-star", VIOLET),
    ("streamline--flower-alt", GREEN),
)  # fmt: skip


def garden_face(board: Artboard, face: Face, variant: int) -> None:
    """Draw a face on the board; `variant` picks one of its pictures."""
    number = face.number or 1
    if face.kind is Kind.FLOWER:
        _plant(board, *_FLOWERS[variant], SUN)
    elif face.kind is Kind.JOKER:
        (_butterfly, _snail, _bee, _spade)[variant](board)
    elif face.kind is Kind.DRAGON:
        _watering_can(board, (RED, GREEN, STONE)[face.index - 31])
    elif face.kind is Kind.WIND:
        _tree(board, face.index - 27)
    elif face.index < 9:
        _ladybird(board, number)
    elif face.index < 18:
        _plant(board, *_PLANTS[number - 1], GREEN)
    else:
        _stones(board, number)


def _plant(board: Artboard, name: str, ink: RGB, other: RGB) -> None:
    parts = int(icon("flowers", name).max())
    stamp_icon(board, name, (96, 128), (160, 210), (ink,) if parts == 1 else (NIGHT, ink, other))


def _ladybird(board: Artboard, spots: int) -> None:
    """One ladybird, as many spots as the number."""
    board.disc((96, 48), 28, NIGHT)
    for side in (-1, 1):
        board.line(curve([[96, 40], [96 + side * 22, 20], [96 + side * 34, 8]], 12), 4, NIGHT)
    board.polygon(ellipse((96, 146), 80, 96), RED)
    board.line(np.array([[96.0, 52.0], [96.0, 240.0]]), 4, NIGHT)
    places = ((96, 146), (62, 100), (130, 100), (62, 192), (130, 192), (44, 146), (148, 146), (96, 80), (96, 216))
    chosen = {1: (0,), 2: (5, 6), 3: (0, 1, 4), 4: (1, 2, 3, 4), 5: (0, 1, 2, 3, 4), 6: (1, 2, 3, 4, 5, 6)}
    for place in chosen.get(spots, range(spots)):
        board.disc(places[place], 14, NIGHT)


def _stones(board: Artboard, count: int) -> None:
    """A path that winds up the tile, a stone for each step, and grass beside it."""
    way = curve([[40, 240], [150, 190], [50, 130], [150, 76], [90, 20]], 100)
    for at in way[np.linspace(4, 95, count).astype(int)]:
        board.polygon(ellipse(at, 24, 15), STONE)
        board.polygon(ellipse(at - [0, 3], 18, 9), SKY)
    for x, y in ((22, 180), (170, 130), (24, 76), (168, 30)):
        for lean in (-9, 0, 9):
            board.polygon(leaf(np.array([x, y], float), np.array([x + lean, y - 26.0]), 7), GREEN)


def _tree(board: Artboard, season: int) -> None:
    """One tree four times: in leaf, in fruit, with its leaves falling, bare."""
    board.polygon(np.array([[84, 244], [108, 244], [102, 120], [90, 120]], float), SOIL)
    for side in (-1, 1):
        for y, reach in ((170, 56), (136, 44), (108, 30)):
            board.line(np.array([[96.0, y], [96.0 + side * reach, y - 40.0]]), 6, SOIL)
    if season == 3:
        return
    for at in ((56, 108), (136, 108), (96, 70), (70, 60), (122, 60)):
        board.disc(at, 38, (GREEN, ROSE, SUN)[season])
    if season == 1:
        for at in ((56, 100), (96, 62), (130, 96), (90, 110)):
            board.disc(at, 9, RED)
    if season == 2:
        for at in ((24, 190), (60, 214), (140, 190), (170, 226)):
            board.polygon(ellipse(at, 12, 6, 0.6), SUN)


def _watering_can(board: Artboard, ink: RGB) -> None:
    board.polygon(np.array([[70, 120], [160, 120], [168, 220], [62, 220]], float), ink)
    board.polygon(np.array([[70, 190], [20, 110], [32, 104], [76, 150]], float), ink)
    board.polygon(np.array([[6, 110], [44, 88], [48, 96], [12, 120]], float), ink)
    board.line(curve([[76, 122], [90, 70], [140, 70], [154, 122]], 30), 8, ink)
    for x, y in ((10, 140), (22, 150), (8, 166), (26, 176)):
        board.disc((x, y), 4, SKY)


def _butterfly(board: Artboard) -> None:
    for side in (-1, 1):
        board.polygon(ellipse((96 + side * 44, 92), 44, 52, side * 0.5), VIOLET)
        board.polygon(ellipse((96 + side * 36, 170), 34, 42, -side * 0.4), SUN)
        board.disc((96 + side * 46, 90), 14, ROSE)
    board.polygon(ellipse((96, 130), 9, 74), NIGHT)


def _snail(board: Artboard) -> None:
    board.polygon(curve([[20, 220], [30, 196], [120, 200], [150, 150], [176, 150], [170, 220], [20, 220]], 60), SUN)
    turns = np.linspace(0, 5.5 * np.pi, 120)
    spiral = np.stack([84 + turns * 3.6 * np.cos(turns), 146 + turns * 3.6 * np.sin(turns)], 1)
    board.disc((84, 146), 66, ROSE)
    board.line(spiral, 7, NIGHT)


def _bee(board: Artboard) -> None:
    for side in (-1, 1):
        board.polygon(ellipse((96 + side * 46, 92), 24, 44, side * 0.9), SKY)
    board.polygon(ellipse((96, 150), 46, 80), SUN)
    for y, half in ((110, 38), (144, 46), (178, 42)):
        board.polygon(np.array([[96 - half, y], [96 + half, y], [96 + half, y + 16], [96 - half, y + 16]], float), NIGHT)


def _spade(board: Artboard) -> None:
    board.line(np.array([[96.0, 30.0], [96.0, 150.0]]), 12, SOIL)
    board.line(np.array([[66.0, 26.0], [126.0, 26.0]]), 14, SOIL)
    board.polygon(curve([[58, 140], [134, 140], [130, 200], [96, 240], [62, 200], [58, 140]], 60), STONE)
