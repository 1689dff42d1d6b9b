"""Parametric scenes for flower tiles: people, boats, pagodas, landscapes, vases, censers, lanterns, fish."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from tilewitness.training.engraving import Points, curve, ellipse, leaf
from tilewitness.training.pens import Pen
from tilewitness.training.people import person
from tilewitness.training.plants import blossom, foliage

Scene = Callable[[Pen], None]


def _mirrored(right: Points) -> Points:
    """A closed outline symmetric about x = 96 from its right half, given as offsets from the middle."""
    return np.concatenate([right + [96, 0], (right * [-1, 1] + [96, 0])[::-1]])


def _turned_profile(pen: Pen, halves: list[float], top: float, bottom: float, place: int) -> Points:
    """A turned body (vase, lantern, bell) from half widths at even heights."""
    right = curve(
        [[half, y] for half, y in zip(halves, np.linspace(top, bottom, len(halves)), strict=True)], 24
    )
    pen.shape(_mirrored(right), place)
    return right


def _figure(pen: Pen) -> None:
    """One person standing, perhaps beside a plant."""
    rng = pen.rng
    person(pen, 96 + rng.uniform(-18, 18), 238, rng.uniform(170, 215), 1)
    if rng.random() < 0.3:
        for k in range(4):
            foliage(
                pen, 34.0, 236.0, -np.pi / 2 + (k - 1.5) * 0.5, rng.uniform(40, 90), 1, int(rng.integers(4))
            )
    if rng.random() < 0.4:
        pen.line(curve([[20, 240], [96, 236], [172, 242]], 10), 2)


def _couple(pen: Pen) -> None:
    """Two or three people, one behind or beside the other."""
    rng = pen.rng
    count = int(rng.integers(2, 4))
    for k in range(count):
        person(
            pen,
            96 + (k - (count - 1) / 2) * rng.uniform(46, 62),
            236 - rng.uniform(0, 20),
            rng.uniform(110, 170),
            1 if k % 2 else -1,
        )


def _boat(pen: Pen) -> None:
    """A boat on the water: a junk with battened sails, or a punt with a fisherman."""
    rng = pen.rng
    deck = rng.uniform(165, 190)
    hull = curve(
        [[22, deck - rng.uniform(6, 26)], [50, deck + 6], [120, deck + 8], [172, deck - rng.uniform(4, 24)]],
        16,
    )
    pen.shape(np.concatenate([hull, [[150, deck + 34], [52, deck + 34]]]), 0)
    if rng.random() < 0.5:
        for x in np.linspace(60, 136, int(rng.integers(1, 4))):
            top, wide = rng.uniform(20, 70), rng.uniform(22, 44)
            pen.line(np.array([[x, deck + 4], [x, top - 8]]), 1)
            pen.shape(
                curve([[x, top], [x + wide, top + 20], [x + wide * 0.9, deck - 14], [x, deck - 10]], 14), 1
            )
            for t in np.linspace(0.2, 0.9, int(rng.integers(0, 6))):
                pen.line(
                    np.array(
                        [[x, top + t * (deck - top - 10)], [x + wide * 0.95, top + 6 + t * (deck - top - 20)]]
                    ),
                    2,
                    0.6,
                )
    else:
        person(pen, rng.uniform(76, 116), deck + 10, rng.uniform(70, 110), 1)
        if rng.random() < 0.4:
            pen.shape(curve([[44, deck], [60, deck - 40], [96, deck - 40], [110, deck]], 14), 2)
    _water(pen, deck + 40)


def _water(pen: Pen, y: float) -> None:
    for k in range(int(pen.rng.integers(1, 5))):
        x = pen.rng.uniform(0, 20)
        pen.line(
            curve(
                [
                    [20 + x, y + 9 * k],
                    [56 + x, y + 9 * k - 5],
                    [92 + x, y + 9 * k + 3],
                    [150 + x, y + 9 * k - 4],
                ],
                18,
            ),
            2,
            0.7,
        )


def _pagoda(pen: Pen) -> None:
    """A tower of curved roofs or a small house or gate."""
    rng = pen.rng
    floors, foot = int(rng.integers(1, 7)), 232.0
    step = min(62.0, 190 / floors)
    wide = rng.uniform(44, 66)
    shrink = rng.uniform(0.03, 0.11)
    for k in range(floors):
        y, w = foot - k * step, wide * (1 - shrink * k)
        pen.shape(
            np.array(
                [
                    [96 - w * 0.6, y],
                    [96 - w * 0.6, y - step * 0.55],
                    [96 + w * 0.6, y - step * 0.55],
                    [96 + w * 0.6, y],
                ]
            ),
            0,
        )
        for x in np.linspace(-0.35, 0.35, int(rng.integers(1, 4))) * w:
            pen.canvas.shape(np.array([[96 + x - 4, y], [96 + x - 4, y - step * 0.35], [96 + x + 4, y - step * 0.35], [96 + x + 4, y]]),
                             None, pen.ink(2), 1.5)  # fmt: skip
        roof = curve([[-w * 1.15, y - step * 0.62], [-w * 0.75, y - step * 0.6], [-w * 0.5, y - step], [w * 0.5, y - step],
                      [w * 0.75, y - step * 0.6], [w * 1.15, y - step * 0.62]], 26) + [96, 0]  # fmt: skip
        pen.shape(roof, 1)
    pen.stroke(np.array([[96, foot - floors * step + 4], [96, foot - floors * step - 22]]), 5, 1)
    if rng.random() < 0.4:
        pen.line(np.array([[24, foot + 3], [168, foot + 3]]), 2)


def _landscape(pen: Pen) -> None:
    """Mountains, sun or moon, clouds, water, perhaps a tree or boat."""
    rng = pen.rng
    if rng.random() < 0.7:
        x, r = rng.uniform(40, 152), rng.uniform(14, 26)
        pen.shape(ellipse((x, rng.uniform(34, 70)), r, r), 1)
    for k in range(int(rng.integers(1, 4))):
        x, y, w = rng.uniform(50, 142), rng.uniform(60, 120) + 12 * k, rng.uniform(40, 80)
        pen.shape(
            np.array(
                [
                    [x - w, 200],
                    [x - w * 0.35, y + 30],
                    [x - w * 0.15, y + 24],
                    [x, y],
                    [x + w * 0.3, y + 40],
                    [x + w, 200],
                ]
            ),
            0,
        )
        for t in (0.3, 0.5, 0.7)[: rng.integers(0, 4)]:
            pen.line(np.array([[x + t * 6, y + 40 * t], [x - w * 0.4 * t, y + 130 * t]]), 2, 0.6)
    for _ in range(int(rng.integers(0, 4))):
        x, y = rng.uniform(40, 150), rng.uniform(30, 110)
        pen.line(curve([[x - 22, y], [x - 12, y - 8], [x, y], [x + 10, y - 9], [x + 22, y]], 16), 2, 0.8)
    _water(pen, 208)


def _vase(pen: Pen) -> None:
    """A vase, jar, gourd or bottle, empty or with a sprig."""
    rng = pen.rng
    if rng.random() < 0.6:
        for _ in range(int(rng.integers(1, 5))):
            tip = np.array([96 + rng.uniform(-60, 60), rng.uniform(14, 70)])
            pen.line(curve([[96, 110], [96 + (tip[0] - 96) * 0.3, 80], list(tip)], 10), 0)
            if rng.random() < 0.6:
                blossom(pen, float(tip[0]), float(tip[1]), rng.uniform(11, 22), 1, int(rng.integers(8)))
            else:
                foliage(
                    pen,
                    float(tip[0]),
                    float(tip[1]),
                    -np.pi / 2,
                    rng.uniform(20, 36),
                    1,
                    int(rng.integers(4)),
                )
    halves = [
        rng.uniform(12, 28),
        rng.uniform(10, 20),
        *rng.uniform(24, 62, 2),
        rng.uniform(18, 50),
        rng.uniform(16, 38),
    ]
    right = _turned_profile(pen, halves, 98, 240, 2)
    for y in rng.uniform(120, 230, int(rng.integers(0, 5))):
        half = float(np.interp(y, right[:, 1], right[:, 0])) - 3
        pen.line(curve([[96 - half, y], [96, y + rng.uniform(0, 5)], [96 + half, y]], 8), 0, 0.7)
    if rng.random() < 0.4:
        blossom(pen, 96, 175, rng.uniform(12, 22), 1, int(rng.integers(3)))
    if rng.random() < 0.3:
        for side in (-1, 1):
            pen.line(curve([[96 + side * 22, 112], [96 + side * 60, 120], [96 + side * 46, 160]], 12), 1)


def _censer(pen: Pen) -> None:
    """An incense burner on legs with smoke, or a bell, teapot or drum standing on a table."""
    rng = pen.rng
    for side in (-1, 0, 1):
        pen.stroke(np.array([[96 + side * 36, 190], [96 + side * 46, 238]]), 11, 1)
    _turned_profile(
        pen,
        [rng.uniform(44, 60), rng.uniform(30, 44), rng.uniform(52, 68), rng.uniform(40, 60), 14],
        112,
        214,
        0,
    )
    for side in (-1, 1):
        pen.line(curve([[96 + side * 52, 128], [96 + side * 76, 100], [96 + side * 58, 90]], 10), 1)
    if rng.random() < 0.5:
        _turned_profile(pen, [4, 22, 46], 82, 112, 1)
    for _ in range(int(rng.integers(0, 4))):
        x = rng.uniform(70, 122)
        pen.stroke(curve([[x, 84], [x + 14, 62], [x - 10, 40], [x + 6, 16]], 16), 4, 2)
    for y in (140, 160)[: rng.integers(0, 3)]:
        pen.line(curve([[46, y], [96, y + 6], [146, y]], 10), 2, 0.7)


def _lantern(pen: Pen) -> None:
    """A hanging lantern with ribs and tassel."""
    rng = pen.rng
    pen.line(np.array([[96.0, 10.0], [96.0, 60.0]]), 1)
    wide = rng.uniform(44, 70)
    _turned_profile(pen, [16, wide, wide * 1.05, wide, 16], 56, 176, 0)
    for t in (-0.66, -0.33, 0.0, 0.33, 0.66)[: rng.integers(0, 6)]:
        pen.line(curve([[96 + 14 * t, 58], [96 + wide * t * 1.2, 116], [96 + 14 * t, 174]], 14), 1, 0.6)
    for y in (56, 176):
        pen.shape(np.array([[78, y - 5], [114, y - 5], [114, y + 5], [78, y + 5]]), 1)
    for k in range(-2, 3):
        pen.line(np.array([[96 + 2 * k, 182], [96 + 6 * k, 236]]), 2, 0.6)


def _fish(pen: Pen) -> None:
    """A leaping carp or two fish, with waves or weeds."""
    rng = pen.rng
    count = int(rng.integers(1, 3))
    for k in range(count):
        x, y, size = 96.0, 90 + 84 * k, rng.uniform(46, 66)
        bend = rng.uniform(-24, 24)
        spine = curve([[x + size, y - bend], [x, y + bend * 0.4], [x - size, y - bend]], 16)
        half = size * 0.42 * np.sin(np.pi * np.linspace(0.06, 0.95, 16) ** 0.75)
        pen.shape(np.concatenate([spine - half[:, None] * [0, 1], (spine + half[:, None] * [0, 1])[::-1]]), 0)
        for side in (-1, 1):
            pen.shape(leaf(spine[-1] + [6, 0], spine[-1] + [-size * 0.5, side * size * 0.4], size * 0.25), 1)
        pen.shape(leaf(spine[6] - [0, size * 0.3], spine[9] - [6, size * 0.75], size * 0.35), 1)
        for i in range(4, 14, 2):
            for row in (-0.4, 0.0, 0.4):
                at = spine[i] + [0, row * half[i]]
                pen.line(curve([list(at + [0, -4]), list(at + [-4, 0]), list(at + [0, 4])], 5), 1, 0.5)
        pen.eye(float(spine[1][0]) - 4, float(spine[1][1]) - 3, 3, 2)
    if rng.random() < 0.6:
        _water(pen, 48 + 84 * count)


def _butterfly(pen: Pen) -> None:
    """A large butterfly, alone or over leaves."""
    rng = pen.rng
    for side in (-1, 1):
        for reach, rise, wide, place in ((82, -64, 56, 0), (62, 62, 46, 1)):
            tip = np.array([96 + side * reach * rng.uniform(0.8, 1.05), 116 + rise * rng.uniform(0.8, 1.1)])
            pen.shape(leaf(np.array([96 + side * 4, 116]), tip, wide, side * rng.uniform(-8, 8), 14), place)
            at = tip * 0.6 + np.array([96, 116]) * 0.4
            pen.shape(ellipse(at, wide * 0.2, wide * 0.2), 2)
        pen.line(curve([[96, 86], [96 + side * 14, 60], [96 + side * 30, 46]], 8), 2, 0.6)
    pen.stroke(np.array([[96, 78], [96, 120], [96, 168]]), 13, 2, taper=0.4)
    for k in range(int(rng.integers(0, 5))):
        foliage(pen, 96.0, 244.0, -np.pi / 2 + (k - 2) * 0.6, rng.uniform(40, 66), 1, int(rng.integers(4)))


def _bridge(pen: Pen) -> None:
    """An arched bridge over water, a tree or person near it (held out)."""
    rng = pen.rng
    for rise, place in ((60, 0), (40, 1)):
        pen.stroke(curve([[20, 190], [96, 190 - rise * 1.4], [172, 190]], 20), 9, place, taper=0.9)
    for x in range(40, 160, 18):
        pen.line(
            np.array(
                [
                    [x, 186 - 60 * np.sin((x - 20) / 152 * np.pi)],
                    [x, 160 - 60 * np.sin((x - 20) / 152 * np.pi)],
                ]
            ),
            1,
            0.7,
        )
    person(pen, 110, 134, rng.uniform(80, 100), 1)
    _water(pen, 206)


def _instrument(pen: Pen) -> None:
    """A lute or a long zither with strings (held out)."""
    rng = pen.rng
    _turned_profile(pen, [7, 7, 9, 30, 54, 50, 12], 20, 236, 0)
    for x in (-6, -2, 2, 6):
        pen.line(np.array([[96 + x * 0.6, 30], [96 + x * 2, 214]]), 1, 0.4)
    for y in (36, 50, 64):
        pen.line(np.array([[78, y], [114, y + rng.uniform(-6, 6)]]), 2)
    pen.line(np.array([[70.0, 214.0], [122.0, 214.0]]), 2)


SCENES: Final[tuple[Scene, ...]] = (
    _figure, _figure, _figure, _couple, _boat, _boat, _pagoda, _landscape, _vase, _vase, _vase, _censer, _lantern, _fish, _fish,
    _butterfly,
)  # fmt: skip
HELD_OUT: Final[tuple[Scene, ...]] = (_bridge, _instrument)
