"""More plants for flower tiles, those that a hurried eye takes for birds or dragons: trees, climbers, creepers, cut in strokes."""

from __future__ import annotations

from typing import Final

import numpy as np

from tilewitness.training.engraving import Points, curve, ellipse, leaf
from tilewitness.training.pens import Pen
from tilewitness.training.plants import Plant, blossom, foliage


def willow(pen: Pen) -> None:
    """A leaning trunk and curtains of hanging twigs, over water or a bank."""
    rng = pen.rng
    top = np.array([rng.uniform(70, 130), rng.uniform(40, 70)])
    trunk = curve([[rng.uniform(40, 120), 240], [rng.uniform(60, 100), 160], list(top)], 20)
    pen.canvas.stroke(trunk, rng.uniform(10, 20), 9, 5, pen.ink(0))
    for x in np.linspace(24, 168, int(rng.integers(5, 12))):
        end = np.array([x + rng.uniform(-8, 8), rng.uniform(110, 205)])
        twig = curve(
            [
                list(top),
                [(top[0] + 2 * x) / 3, top[1] - rng.uniform(0, 22)],
                [x, (top[1] + end[1]) / 2],
                list(end),
            ],
            18,
        )
        pen.line(twig, 1, 0.6)
        for k in range(7, 18, int(rng.integers(2, 4))):
            pen.shape(leaf(twig[k], twig[k] + [rng.choice([-1, 1]) * 8, 14], 6), 1)
    pen.line(curve([[24, 242], [96, 236], [168, 244]], 12), 2)


def bonsai(pen: Pen) -> None:
    """A bonsai: a bent trunk in a flat tray, its crown in rounded clouds."""
    rng = pen.rng
    side = rng.choice([-1, 1])
    trunk = curve([[96, 212], [96 + side * 34, 170], [96 - side * 26, 120], [96 + side * 10, 76]], 24)
    pen.canvas.stroke(trunk, rng.uniform(14, 24), 12, 6, pen.ink(0))
    for k in (8, 14, 19, 23)[: int(rng.integers(2, 5))]:
        at = trunk[k] + [rng.uniform(-46, 46), rng.uniform(-28, 2)]
        pen.line(np.array([trunk[k], at]), 0)
        for x in (-16, 16, 0):
            pen.shape(ellipse(at + [x, abs(x) * 0.3], rng.uniform(15, 22), rng.uniform(9, 14)), 1)
    if rng.random() < 0.6:
        pen.shape(np.array([[42, 212], [150, 212], [138, 238], [54, 238]], float), 2)
    else:
        pen.line(curve([[36, 222], [96, 210], [156, 224]], 12), 2)


def climber(pen: Pen) -> None:
    """A morning glory, gourd or grape on a stake or trellis: a winding stem, round leaves, tendrils, fruit or cups."""
    rng = pen.rng
    stakes = (96,) if rng.random() < 0.5 else (62, 130)
    for x in stakes:
        pen.line(np.array([[x + rng.uniform(-8, 8), 244], [x, 16]]), 2, rng.uniform(0.8, 1.6))
    for y in (70, 130, 190) if len(stakes) == 2 else ():
        pen.line(np.array([[40, y + rng.uniform(-6, 6)], [152, y]]), 2, 0.8)
    t = np.linspace(0, 1, 9)
    turns, phase = rng.uniform(1.5, 3.5), rng.uniform(0, 6)
    across = 96 + rng.uniform(20, 46) * np.sin(phase + turns * np.pi * t)
    stem = curve(np.stack([across, 240 - 214 * t], 1), 50)
    pen.line(stem, 0)
    fruit = rng.integers(3)
    for k in range(4, 50, int(rng.integers(5, 9))):
        side = rng.choice([-1, 1])
        at = stem[k] + [side * rng.uniform(14, 30), rng.uniform(-8, 16)]
        pen.line(np.array([stem[k], at]), 0, 0.6)
        chance = rng.random()
        if chance < 0.45:
            heart = at + rng.uniform(11, 18) * np.array(
                [[0, -0.7], [0.6, -1], [1, -0.4], [0.5, 0.5], [0, 1.1], [-0.5, 0.5], [-1, -0.4], [-0.6, -1]]
            )
            pen.shape(heart, 1)
        elif chance < 0.6:
            pen.stroke(
                curve(
                    [
                        list(at),
                        list(at + [side * 10, -6]),
                        list(at + [side * 12, 4]),
                        list(at + [side * 5, 3]),
                    ],
                    10,
                ),
                3,
                0,
            )
        elif fruit == 0:
            blossom(pen, float(at[0]), float(at[1]), 16, 2, int(rng.choice([0, 1, 5])))
        elif fruit == 1:
            pen.shape(ellipse(at + [0, 10], 9, 10), 2)
            pen.shape(ellipse(at + [0, 28], 13, 14), 2)
        else:
            for row in range(3):
                for column in range(3 - row):
                    pen.shape(ellipse(at + [(column - (2 - row) / 2) * 11, 8 + 10 * row], 5.5, 5.5), 2)


def fern(pen: Pen) -> None:
    """Two to six fronds or palm leaves with barbs along a bent rib, from a tuft or a trunk."""
    rng = pen.rng
    foot = np.array([96 + rng.uniform(-30, 30), 238.0])
    crown = foot - [rng.uniform(-20, 20), rng.choice([0.0, 120.0])]
    if crown[1] < foot[1]:
        pen.canvas.stroke(np.linspace(foot, crown, 8), 14, 10, 8, pen.ink(0))
    for _ in range(int(rng.integers(2, 7))):
        tip = crown + [rng.uniform(-86, 86), -rng.uniform(20, 200 if crown[1] == foot[1] else 90)]
        rib = curve([list(crown), list((crown + tip) / 2 - [0, rng.uniform(10, 40)]), list(tip)], 16)
        pen.line(rib, 0, 0.8)
        for k in range(3, 16, 2):
            way = rib[k] - rib[k - 1]
            across = np.array([-way[1], way[0]]) / (np.hypot(*way) + 1e-9) * (21 - k)
            for side in (-1, 1):
                pen.stroke(
                    np.stack(
                        [rib[k], rib[k] + side * across * 0.6 + way, rib[k] + side * across + way * 1.6]
                    ),
                    4.5,
                    1,
                )
    if rng.random() < 0.3:
        foliage(pen, float(foot[0]), float(foot[1]), -1.2, 40, 1, 1)


def iris(pen: Pen) -> None:
    """Irises or narcissi: sword leaves, two or three falls and standards a head, on a bank or in a bowl."""
    rng = pen.rng
    for x in rng.uniform(40, 152, int(rng.integers(3, 8))):
        pen.shape(
            leaf(
                np.array([96 + (x - 96) * 0.4, 236]),
                np.array([x, rng.uniform(60, 150)]),
                rng.uniform(8, 14),
                rng.uniform(-12, 12),
            ),
            0,
        )
    for _ in range(int(rng.integers(1, 4))):
        at: Points = np.array([rng.uniform(48, 144), rng.uniform(40, 100)])
        pen.line(curve([[96, 236], [(96 + at[0]) / 2, 160], list(at)], 10), 0)
        for angle in (-2.4, -0.7, -1.57, 2.6, 0.5, 1.57):
            pen.shape(
                leaf(at, at + np.array([np.cos(angle), np.sin(angle)]) * rng.uniform(22, 34), 15, 3),
                1 + (angle > 0),
            )
    if rng.random() < 0.4:
        pen.shape(curve([[44, 212], [60, 240], [132, 240], [148, 212]], 12), 2)


GARDENS: Final[tuple[Plant, ...]] = (willow, bonsai, climber, climber, fern, iris)
