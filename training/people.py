"""People in robes for flower tiles: fishers, farmers, scholars, ladies, with what they carry."""

from __future__ import annotations

import numpy as np

from tilewitness.training.engraving import Points, curve, ellipse, leaf
from tilewitness.training.pens import Pen
from tilewitness.training.plants import blossom


def person(pen: Pen, x: float, foot: float, tall: float, face: float) -> None:
    """A person in a robe: sash, sleeves, head, hair or hat, something in the hand; `face` +1 looks right."""
    rng = pen.rng
    head, w = tall * rng.uniform(0.09, 0.13), tall * rng.uniform(0.16, 0.27)
    neck, hem = foot - tall + 2.2 * head, foot
    lean = face * rng.uniform(-0.05, 0.12) * tall
    robe = np.array([[x - w * 0.45, neck + head * 0.4], [x + w * 0.45, neck + head * 0.4], [x + w * 0.5, neck + tall * 0.3],
                     [x + w * rng.uniform(0.7, 1.2) + lean, hem], [x - w * rng.uniform(0.7, 1.2) + lean, hem],
                     [x - w * 0.5, neck + tall * 0.3]])  # fmt: skip
    pen.shape(robe, 0)
    waist = neck + tall * rng.uniform(0.25, 0.36)
    pen.line(np.array([[x - w * 0.5, waist], [x + w * 0.5, waist]]), 1)
    for _ in range(int(rng.integers(0, 5))):
        a = rng.uniform(-0.5, 0.5)
        pen.line(curve([[x + a * w, waist + 4], [x + a * w * 1.4 + lean * 0.4, (waist + hem) / 2], [x + a * w * 1.8 + lean, hem - 3]],
                       10), 2, 0.6)  # fmt: skip
    if rng.random() < 0.6:
        pen.line(
            np.array(
                [[x - w * 0.3, neck + head * 0.4], [x, neck + head * 1.6], [x + w * 0.3, neck + head * 0.4]]
            ),
            1,
            0.6,
        )
    hand = np.array([x + face * w * rng.uniform(0.8, 1.7), neck + tall * rng.uniform(0.05, 0.42)])
    for shoulder, target in (
        (x + face * w * 0.3, hand),
        (x - face * w * 0.35, [x + face * w * rng.uniform(-1.2, 0.4), waist]),
    ):
        elbow = [(shoulder + target[0]) / 2, max(neck + tall * 0.18, float(target[1])) + tall * 0.06]
        pen.shape(
            _sleeve(np.array([shoulder, neck + head]), np.array(elbow), np.array(target, float), tall * 0.09),
            0,
        )
    _held(pen, hand, foot, tall, face)
    pen.shape(ellipse((x, neck - head * 0.6), head * 0.85, head * 1.05), 2)
    pen.canvas.fill(ellipse((x, neck - head * 0.6), head * 0.7, head * 0.9), None)
    _headdress(pen, x, neck - head * 1.1, head)
    for eye in (-0.1, 0.45):
        pen.dot(x + face * head * eye, neck - head * 0.65, max(1.0, head * 0.11), 2)
    if rng.random() < 0.35:
        pen.stroke(
            curve(
                [[x + face * head * 0.2, neck], [x + face * head * 0.3, neck + head], [x, neck + head * 2]], 8
            ),
            head * 0.5,
            2,
        )


def _sleeve(shoulder: Points, elbow: Points, hand: Points, wide: float) -> Points:
    arm = curve([list(shoulder), list(elbow), list(hand)], 9)
    return np.concatenate([arm, (arm + np.linspace(0.3, 1.6, 9)[:, None] * [0, wide])[::-1]])


def _headdress(pen: Pen, x: float, y: float, size: float) -> None:
    """Hair with knots or pins, a scholar's cap, a straw hat or a bare head; no points, those are jesters'."""
    kind = pen.rng.integers(6)
    if kind == 0:
        pen.shape(ellipse((x, y - size * 0.3), size * 0.9, size * 0.5), 2)
        for side in (-1, 0, 1)[: pen.rng.integers(1, 4)]:
            pen.shape(ellipse((x + side * size * 0.7, y - size * 0.8), size * 0.4, size * 0.4), 2)
    elif kind == 1:
        pen.shape(
            np.array([[x - size, y], [x - size * 0.8, y - size], [x + size * 0.8, y - size], [x + size, y]]),
            2,
        )
        for side in (-1, 1):
            pen.line(np.array([[x + side * size * 0.8, y - 3], [x + side * size * 2, y - size * 0.3]]), 2)
    elif kind == 2:
        pen.shape(
            np.array([[x - size * 2, y + size * 0.3], [x, y - size * 1.2], [x + size * 2, y + size * 0.3]]), 1
        )
    elif kind == 3:
        pen.shape(ellipse((x, y - size * 0.1), size * 0.95, size * 0.6), 2)
        for side in (-1, 1):
            pen.dot(x + side * size * 0.5, y - size * 0.6, size * 0.22, 1)
    elif kind == 4:
        pen.shape(ellipse((x, y - size * 0.2), size, size * 0.55), 2)


def _held(pen: Pen, hand: Points, foot: float, tall: float, face: float) -> None:
    """A staff, fan, fishing rod, bundle, flower, scroll or umbrella in a hand."""
    rng, x, y = pen.rng, float(hand[0]), float(hand[1])
    kind = rng.integers(8)
    if kind == 0:
        pen.line(np.array([[x, y - tall * 0.35], [x + face * 4, foot]]), 1)
    elif kind == 1:
        for k in range(5):
            angle = -1.9 + 0.35 * k
            pen.shape(leaf(hand, hand + np.array([np.cos(angle) * face, np.sin(angle)]) * tall * 0.16, 6), 1)
    elif kind == 2:
        tip = hand + [face * tall * 0.4, -tall * rng.uniform(0.2, 0.4)]
        pen.line(np.array([hand, tip]), 1)
        pen.line(np.array([tip, [tip[0], foot - tall * 0.15]]), 2, 0.4)
        pen.shape(leaf(np.array([tip[0], foot - tall * 0.15]), np.array([tip[0], foot]), tall * 0.06), 2)
    elif kind == 3:
        pen.line(np.array([[x - tall * 0.3, y - tall * 0.1], [x + tall * 0.3, y - tall * 0.1]]), 1)
        for side in (-1, 1):
            at = (x + side * tall * 0.28, y + tall * 0.02)
            pen.shape(ellipse(at, tall * 0.09, tall * 0.11), 1)
    elif kind == 4:
        pen.line(np.array([hand, hand + [face * 6, -tall * 0.2]]), 1)
        blossom(pen, x + face * 6, y - tall * 0.22, tall * 0.08, 1, int(rng.integers(8)))
    elif kind == 5:
        pen.shape(
            np.array(
                [
                    [x - 5, y - tall * 0.07],
                    [x + 5, y - tall * 0.07],
                    [x + 5, y + tall * 0.1],
                    [x - 5, y + tall * 0.1],
                ]
            ),
            1,
        )
    elif kind == 6:
        pen.line(np.array([hand, hand - [0, tall * 0.35]]), 1)
        pen.shape(
            curve(
                [[x - tall * 0.22, y - tall * 0.33], [x, y - tall * 0.5], [x + tall * 0.22, y - tall * 0.33]],
                12,
            ),
            1,
        )
