"""A kitchen as a set of tiles: spoons, fruit and pans for suits, weather and arrows for winds, kettles for dragons."""

from __future__ import annotations

from typing import Final

import numpy as np

from tilewitness.engine.faces import Face, Kind
from tilewitness.training.artboard import Artboard, Point, Points
from tilewitness.training.engraving import curve, ellipse, leaf
from tilewitness.training.inks import RGB

TEAL: Final[RGB] = (0, 128, 128)
LEMON: Final[RGB] = (240, 190, 20)
PLUM: Final[RGB] = (120, 30, 110)
BRICK: Final[RGB] = (200, 60, 40)
LEAF: Final[RGB] = (60, 150, 60)
NAVY: Final[RGB] = (30, 50, 110)
CREAM: Final[RGB] = (250, 235, 200)
BROWN: Final[RGB] = (120, 75, 40)
PINK: Final[RGB] = (240, 140, 170)



def kitchen_face(board: Artboard, face: Face, variant: int) -> None:
    """Draw a face on the board; `variant` picks one of its pictures."""
    number = face.number or 1
    if face.kind is Kind.FLOWER:
        _SWEETS[variant](board)
    elif face.kind is Kind.JOKER:
        _HELPERS[variant](board)
    elif face.kind is Kind.DRAGON:
        _kettle(board, (BRICK, LEAF, NAVY)[face.index - 31], filled=face.index != 33)
    elif face.kind is Kind.WIND:
        _weather(board, face.index - 27)
    else:
        (_spoons, _lemons, _pans)[face.index // 9](board, number)


def _spoons(board: Artboard, count: int) -> None:
    """Spoons spread like a fan, those beyond five in a second fan below."""
    for group, of_group in enumerate((min(count, 5), count - min(count, 5))):
        foot = np.array([96.0, 118.0 if count > 5 and not group else 235.0])
        reach = 90 if count > 5 else 185
        for k in range(of_group):
            angle = np.deg2rad((k - (of_group - 1) / 2) * min(24, 48 / max(of_group - 1, 1)))
            tip = foot + reach * np.array([np.sin(angle), -np.cos(angle)])
            board.line(np.array([foot, tip]), 6, TEAL)
            board.polygon(ellipse(tip, 12, 19 if reach > 90 else 15, angle), TEAL if k % 2 else PLUM)


def _lemons(board: Artboard, count: int) -> None:
    """Lemons heaped as a greengrocer heaps them."""
    rows = {1: (1,), 2: (2,), 3: (1, 2), 4: (4,), 5: (2, 3), 6: (1, 2, 3), 7: (3, 4), 8: (1, 3, 4), 9: (2, 3, 4)}[count]
    for line, fruits in enumerate(rows):
        for k in range(fruits):
            at = (96 + 44 * (k - (fruits - 1) / 2), 205 - 46 * (len(rows) - 1 - line))
            board.polygon(ellipse(at, 21, 18), LEMON)
            board.polygon(ellipse(at, 26, 6), LEMON)
            board.polygon(leaf(np.array([at[0], at[1] - 15]), np.array([at[0] + 14, at[1] - 27]), 9), LEAF)
    board.polygon(np.array([[4, 226], [188, 226], [170, 248], [22, 248]]), BROWN)


def _pans(board: Artboard, count: int) -> None:
    """Pans hung on a rail, three to a rail, handles down; then the odd ones tilted."""
    rails = -(-count // 3)
    for rail in range(rails):
        y = 128 + 78 * (rail - (rails - 1) / 2) - 32
        board.line(np.array([[10.0, y], [182.0, y]]), 5, NAVY)
        here = min(3, count - 3 * rail)
        for k in range(here):
            x = 96 + 56 * (k - (here - 1) / 2)
            board.line(np.array([[x, y], [x, y + 24]]), 5, BRICK)
            board.disc((x, y + 42), 22, BRICK)
            board.disc((x, y + 42), 15, CREAM if (k + rail) % 2 else PINK)


def _weather(board: Artboard, wind: int) -> None:
    """An arrow to one side of the tile, and the weather that comes from there."""
    turn = np.deg2rad((0, 180, 270, 90)[wind])
    shaft = np.array([[-14, 60], [-14, 0], [-36, 0], [0, -44], [36, 0], [14, 0], [14, 60]], float)
    c, s = np.cos(turn), np.sin(turn)
    board.polygon(shaft @ np.array([[c, s], [-s, c]]) + [96, 170], (NAVY, BRICK, PLUM, TEAL)[wind])
    (_sun, _cloud, _rain, _flake)[wind](board)


def _sun(board: Artboard) -> None:
    for k in range(12):
        way = np.array([np.cos(k * np.pi / 6), np.sin(k * np.pi / 6)])
        board.line(np.array([way * 34, way * 48]) + [96, 56], 5, LEMON)
    board.disc((96, 56), 28, LEMON)


def _cloud(board: Artboard, ink: RGB = (120, 140, 160)) -> None:
    for x, y, radius in ((64, 62, 24), (94, 48, 32), (128, 60, 26)):
        board.disc((x, y), radius, ink)
    board.polygon(np.array([[62, 62], [130, 62], [130, 86], [62, 86]]), ink)


def _rain(board: Artboard) -> None:
    _cloud(board, TEAL)
    for x in (60, 84, 108, 132):
        board.line(np.array([[x, 92.0], [x - 8.0, 112.0]]), 5, NAVY)


def _flake(board: Artboard) -> None:
    for k in range(6):
        way = np.array([np.cos(k * np.pi / 3), np.sin(k * np.pi / 3)])
        board.line(np.array([way * 0, way * 46]) + [96, 60], 5, PLUM)
        for side in (-1, 1):
            barb = np.array([np.cos(k * np.pi / 3 + side * 0.5), np.sin(k * np.pi / 3 + side * 0.5)])
            board.line(np.array([way * 26, way * 26 + barb * 15]) + [96, 60], 4, PLUM)


def _kettle(board: Artboard, ink: RGB, *, filled: bool) -> None:
    """A kettle: body, spout, handle, lid and steam; an enamelled one, or only its outline."""
    body = curve([[40, 210], [36, 150], [96, 118], [156, 150], [152, 210]], 40)
    spout = np.array([[44, 170], [12, 140], [20, 130], [60, 150]], float)
    for shape in (body, spout):
        if filled:
            board.polygon(shape, ink)
        else:
            board.line(shape, 6, ink, closed=True)
    board.line(curve([[60, 138], [70, 80], [122, 80], [132, 138]], 30), 8, ink)
    board.disc((96, 112), 9, ink)
    for x in (20, 34):
        board.line(curve([[x, 118], [x - 8, 98], [x + 8, 80], [x, 60]], 20), 4, (150, 160, 170))


def _round(at: Point, size: float, stretch: float = 1.0) -> Points:
    return ellipse(at, size, size * stretch)


def _cake(board: Artboard) -> None:
    board.polygon(np.array([[30, 210], [30, 140], [162, 140], [162, 210]], float), PINK)
    board.polygon(np.array([[30, 165], [30, 140], [162, 140], [162, 165]], float), BROWN)
    for x in (56, 96, 136):
        board.line(np.array([[x, 140.0], [x, 100.0]]), 6, TEAL)
        board.polygon(leaf(np.array([x, 98.0]), np.array([x, 74.0]), 12), LEMON)


def _cone(board: Artboard) -> None:
    board.polygon(np.array([[62, 120], [130, 120], [96, 235]], float), BROWN)
    for at, ink in (((74, 96), PINK), ((118, 96), CREAM), ((96, 62), PLUM)):
        board.disc(at, 30, ink)


def _strawberry(board: Artboard) -> None:
    board.polygon(curve([[96, 230], [40, 140], [60, 80], [96, 90], [132, 80], [152, 140], [96, 230]], 60), BRICK)
    for k in range(12):
        board.disc((66 + 20 * (k % 4), 116 + 28 * (k // 4)), 4, LEMON)
    for x in (66, 84, 108, 126):
        board.polygon(leaf(np.array([96.0, 88.0]), np.array([x, 48.0]), 14), LEAF)


def _egg(board: Artboard) -> None:
    board.polygon(curve([[30, 140], [70, 70], [140, 90], [168, 150], [120, 210], [50, 200], [30, 140]], 60), (225, 225, 235))
    board.disc((100, 142), 34, LEMON)


def _mushroom(board: Artboard) -> None:
    board.polygon(np.array([[78, 130], [114, 130], [124, 220], [68, 220]], float), CREAM)
    board.polygon(curve([[20, 140], [40, 70], [96, 44], [152, 70], [172, 140], [20, 140]], 60), PLUM)
    for at in ((66, 96), (112, 82), (138, 118)):
        board.disc(at, 11, CREAM)


def _cup(board: Artboard) -> None:
    board.ring((150, 140), 30, 9, NAVY)
    board.polygon(np.array([[36, 100], [150, 100], [136, 200], [50, 200]], float), NAVY)
    board.polygon(_round((94, 214), 76, 0.14), NAVY)
    board.polygon(np.array([[42, 130], [147, 130], [144, 152], [45, 152]], float), PINK)


def _cherries(board: Artboard) -> None:
    for x, ink in ((60, BRICK), (132, PLUM)):
        board.line(curve([[x, 180], [(x + 96) / 2, 110], [104, 50]], 20), 5, LEAF)
        board.disc((x, 184), 36, ink)
    board.polygon(leaf(np.array([104.0, 52.0]), np.array([168.0, 74.0]), 30), LEAF)


def _fish(board: Artboard) -> None:
    board.polygon(_round((84, 130), 66, 0.55), TEAL)
    board.polygon(np.array([[136, 130], [184, 86], [184, 174]], float), TEAL)
    board.disc((50, 120), 7, CREAM)
    for x in (84, 104, 124):
        board.line(curve([[x, 100], [x + 10, 130], [x, 160]], 16), 4, CREAM)


def _hat(board: Artboard) -> None:
    for at in ((60, 90), (96, 70), (132, 90)):
        board.disc(at, 36, (205, 210, 225))
    board.polygon(np.array([[54, 96], [138, 96], [132, 196], [60, 196]], float), (205, 210, 225))
    board.polygon(np.array([[58, 172], [134, 172], [132, 200], [60, 200]], float), BRICK)


def _whisk(board: Artboard) -> None:
    board.line(np.array([[96.0, 240.0], [96.0, 150.0]]), 16, BROWN)
    for half in (6, 24, 42):
        board.line(curve([[96, 150], [96 - half, 70], [96, 24], [96 + half, 70], [96, 150]], 50), 4, NAVY)


def _rolling_pin(board: Artboard) -> None:
    board.line(np.array([[24.0, 220.0], [168.0, 36.0]]), 12, BROWN)
    board.line(np.array([[56.0, 180.0], [136.0, 76.0]]), 46, LEMON)


def _grater(board: Artboard) -> None:
    board.polygon(np.array([[66, 60], [126, 60], [156, 226], [36, 226]], float), TEAL)
    board.ring((96, 46), 24, 8, NAVY)
    for row in range(5):
        for k in range(3):
            board.polygon(_round((72 + 24 * k, 90 + 28 * row), 7, 0.6), CREAM)


_SWEETS: Final = (_cake, _cone, _strawberry, _egg, _mushroom, _cup, _cherries, _fish)
_HELPERS: Final = (_hat, _whisk, _rolling_pin, _grater)
