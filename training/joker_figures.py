"""Creatures and people on joker tiles besides the jester: genies, kings, cats, monkeys, wizards."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from tilewitness.training.engraving import curve, ellipse, leaf
from tilewitness.training.pens import Pen


def _grin(pen: Pen, x: float, y: float, size: float) -> None:
    """Eyes, nose and mouth on a face that is drawn already."""
    rng = pen.rng
    for side in (-1, 1):
        pen.dot(x + side * size * 0.35, y - size * 0.15, max(2.0, size * 0.1), 0)
        if rng.random() < 0.5:
            pen.line(
                curve(
                    [[x + side * size * 0.15, y - size * 0.35], [x + side * size * 0.55, y - size * 0.45]], 4
                ),
                0,
                0.6,
            )
    pen.line(np.array([[x, y - size * 0.1], [x + size * 0.1, y + size * 0.15]]), 0, 0.5)
    pen.line(
        curve(
            [
                [x - size * 0.4, y + size * 0.35],
                [x, y + size * rng.uniform(0.5, 0.7)],
                [x + size * 0.4, y + size * 0.35],
            ],
            8,
        ),
        0,
        0.7,
    )


def _head(pen: Pen, x: float, y: float, size: float) -> None:
    pen.shape(ellipse((x, y), size, size * 1.15), 2)
    pen.canvas.fill(ellipse((x, y), size * 0.88, size * 1.03), None)
    _grin(pen, x, y, size)


def genie(pen: Pen) -> None:
    """A genie with folded arms, rising from the spout of a lamp in a plume that widens."""
    rng = pen.rng
    lamp = np.array([[40, 226], [70, 214], [120, 214], [160, 206], [150, 226], [120, 242], [74, 242]], float)
    spout = np.array([rng.uniform(130, 152), 206.0])
    plume = curve([list(spout), [rng.uniform(60, 90), 186], [rng.uniform(100, 130), 160], [96, 130]], 24)
    pen.canvas.stroke(plume, 3, rng.uniform(16, 26), 52, pen.ink(1))
    for edge in (-8, 8) if rng.random() < 0.5 else ():
        pen.canvas.line(plume[8:] + [edge, 0], 2, None)
    pen.shape(np.array([[62, 84], [130, 84], [122, 140], [70, 140]], float), 0)
    for side in (-1, 1):
        pen.shape(ellipse((96 + side * 38, 98), 15, 17), 0)
        pen.stroke(curve([[96 + side * 42, 108], [96 + side * 26, 126], [96 - side * 22, 116]], 10), 15, 2)
    _head(pen, 96, 58, 21)
    pen.shape(curve([[72, 48], [80, 24], [96, 18], [112, 24], [120, 48]], 14), 1)
    if rng.random() < 0.6:
        pen.dot(96, 38, 5, 2)
    pen.stroke(curve([[96, 18], [104, 6], [112, 10]], 8), 7, 1)
    if rng.random() < 0.5:
        pen.shape(leaf(np.array([96.0, 76]), np.array([96.0, 100]), 13), 0)
    pen.shape(lamp, 0)
    pen.canvas.line(ellipse((40, 226), 13, 11), 4, pen.ink(0), closed=True)


def king(pen: Pen) -> None:
    """A bearded king or queen: crown, curls, a robe with a sash or ermine, perhaps a sceptre."""
    rng = pen.rng
    wide = rng.uniform(54, 76)
    pen.shape(np.array([[66, 132], [126, 132], [96 + wide, 244], [96 - wide, 244]], float), 0)
    pen.canvas.line(np.array([[70.0, 134], [96 + wide * 0.5, 244]]), rng.uniform(4, 9), pen.ink(1))
    for _ in range(int(rng.integers(0, 7))):
        x, y = rng.uniform(60, 132), rng.uniform(170, 236)
        pen.shape(ellipse((x, y), 5, 7), 2)
    for side in (-1, 1):
        pen.shape(
            curve(
                [[96 + side * 24, 78], [96 + side * 44, 100], [96 + side * 32, 132], [96 + side * 22, 118]],
                12,
            ),
            1,
        )
    _head(pen, 96, 98, 28)
    if rng.random() < 0.7:
        pen.shape(
            curve([[74, 112], [82, 150], [96, rng.uniform(156, 186)], [110, 150], [118, 112], [96, 122]], 18),
            1,
        )
        pen.line(curve([[86, 118], [96, 122], [106, 118]], 6), 0, 0.7)
    points, top = int(rng.integers(3, 6)), rng.uniform(20, 40)
    xs = np.linspace(62, 130, 2 * points - 1)
    crown = [[x, top if k % 2 == 0 else top + 22] for k, x in enumerate(xs)]
    pen.shape(np.array([*crown, [124, 76], [68, 76]], float), 2)
    for k in range(points):
        pen.dot(float(xs[2 * k]), top, rng.uniform(3, 6), 0)
    if rng.random() < 0.6:
        pen.line(np.array([[164.0, 70], [150, 236]]), 0, 1.2)
        pen.shape(ellipse((164, 62), 11, 11), 1)


def _ears(pen: Pen, x: float, y: float, size: float, tall: float) -> None:
    for side in (-1, 1):
        ear = np.array(
            [
                [x + side * size * 0.95, y - size * 0.3],
                [x + side * size * 0.85, y - size * tall],
                [x + side * size * 0.25, y - size * 0.9],
            ]
        )
        pen.shape(ear, 0)


def cat(pen: Pen) -> None:
    """A cat that sits, beckons or shows its face alone: ears, whiskers, a curled tail."""
    rng = pen.rng
    face_only = rng.random() < 0.35
    y, size = (128.0, 62.0) if face_only else (72.0, rng.uniform(30, 38))
    if not face_only:
        pen.stroke(curve([[130, 222], [172, 214], [168, 168], [150, 150]], 16), 13, 0, taper=0.6)
        pen.shape(ellipse((96, 176), rng.uniform(42, 54), 62), 0)
        if rng.random() < 0.5:
            pen.shape(ellipse((96, 182), 26, 40), 1)
        for side in (-1, 1):
            pen.shape(ellipse((96 + side * 24, 234), 17, 9), 0)
        if rng.random() < 0.5:  # a paw raised
            pen.stroke(curve([[130, 140], [152, 112], [142, 66]], 12), 22, 0, taper=0.8)
    _ears(pen, 96, y, size, rng.uniform(1.3, 1.7))
    pen.shape(ellipse((96, y), size * 1.1, size * 0.92), 0)
    for side in (-1, 1):
        pen.canvas.fill(
            leaf(
                np.array([96 + side * size * 0.2, y - size * 0.05]),
                np.array([96 + side * size * 0.75, y - size * 0.3]),
                size * 0.4,
            ),
            None,
        )
        pen.dot(96 + side * size * 0.47, y - size * 0.18, max(2.5, size * 0.1), 2)
        for k in (-1, 0, 1):
            pen.line(
                np.array(
                    [
                        [96 + side * size * 0.35, y + size * (0.3 + 0.06 * k)],
                        [96 + side * size * 1.55, y + size * (0.25 + 0.22 * k)],
                    ]
                ),
                1,
                0.5,
            )
    pen.canvas.fill(
        np.array(
            [[96 - size * 0.14, y + size * 0.15], [96 + size * 0.14, y + size * 0.15], [96, y + size * 0.32]]
        ),
        pen.ink(1),
    )
    for side in (-1, 1):
        pen.line(
            curve(
                [
                    [96, y + size * 0.32],
                    [96 + side * size * 0.15, y + size * 0.5],
                    [96 + side * size * 0.32, y + size * 0.4],
                ],
                8,
            ),
            2,
            0.6,
        )
    if not face_only and rng.random() < 0.5:
        pen.line(np.array([[66.0, 110], [96, 116], [126, 110]]), 2, 1.4)
        pen.dot(96, 122, 7, 1)


def monkey(pen: Pen) -> None:
    """A monkey that squats or dances: round ears, a bare muzzle, long arms and a tail in a hook."""
    rng = pen.rng
    pen.stroke(curve([[120, 200], [176, 214], [176, 150], [152, 142], [156, 164]], 24), 9, 0, taper=0.6)
    pen.shape(ellipse((96, 164), 36, 52), 0)
    pen.shape(ellipse((96, 170), 22, 34), 1)
    for side in (-1, 1):
        hand = [96 + side * rng.uniform(50, 82), rng.choice([rng.uniform(40, 90), rng.uniform(170, 220)])]
        pen.stroke(curve([[96 + side * 28, 132], [96 + side * 64, 140], hand], 12), 15, 0, taper=0.8)
        pen.dot(hand[0], hand[1], 8, 1)
        pen.stroke(
            curve([[96 + side * 22, 200], [96 + side * 58, 190], [96 + side * 44, 240]], 12), 18, 0, taper=0.8
        )
        pen.stroke(
            np.array([[96 + side * 38, 240.0], [96 + side * 50, 241], [96 + side * 64, 242]]),
            12,
            1,
            taper=0.7,
        )
        pen.shape(ellipse((96 + side * 40, 76), 14, 16), 0)
        pen.shape(ellipse((96 + side * 40, 76), 7, 9), 1)
    pen.shape(ellipse((96, 76), 37, 36), 0)
    pen.shape(ellipse((96, 92), 25, 19), 1)
    for side in (-1, 1):
        pen.canvas.fill(ellipse((96 + side * 13, 68), 9, 11), None)
        pen.dot(96 + side * 13, 69, 4, 2)
        pen.dot(96 + side * 4, 86, 2, 2)
    pen.line(curve([[80, 98], [96, 106], [112, 98]], 8), 2, 0.7)
    if rng.random() < 0.4:
        pen.shape(np.array([[70, 46], [122, 46], [112, 14], [80, 14]], float), 2)


def wizard(pen: Pen) -> None:
    """A wizard with a starred cone for a hat, a long beard and a wand (held out)."""
    rng = pen.rng
    pen.shape(np.array([[60, 130], [132, 130], [160, 246], [32, 246]], float), 0)
    _head(pen, 96, 102, 27)
    pen.shape(curve([[70, 112], [78, 170], [96, 214], [114, 170], [122, 112], [96, 124]], 18), 1)
    pen.shape(np.array([[62, 82], [130, 82], [104 + rng.uniform(-20, 20), -26]], float), 0)
    for _ in range(4):
        pen.bare_dot(float(96 + rng.uniform(-16, 16)), float(rng.uniform(50, 78)), 4)
    pen.line(np.array([[130.0, 180], [172, 96]]), 2)
    pen.shape(ellipse((174, 90), 9, 9), 1)


FIGURES: Final[tuple[Callable[[Pen], None], ...]] = (genie, king, king, cat, monkey)
HELD_OUT: Final[tuple[Callable[[Pen], None], ...]] = (wizard,)
