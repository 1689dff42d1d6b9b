"""Parametric plants for flower tiles: blossoms on branches, stems and pots, bamboo, orchids, trees, fruit."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from tilewitness.training.engraving import Points, curve, ellipse, leaf
from tilewitness.training.pens import Pen

Plant = Callable[[Pen], None]

_PEACH: Final = np.array([[0, -0.9], [0.5, -1], [1, -0.4], [0.9, 0.4], [0.3, 0.95], [0, 1.15], [-0.3, 0.95], [-0.9, 0.4],
                          [-1, -0.4], [-0.5, -1]])  # fmt: skip
_BELL: Final = np.array([[-0.3, -0.7], [0.3, -0.7], [0.6, 0.5], [0.9, 0.9], [0.3, 0.7], [0, 0.95], [-0.3, 0.7], [-0.9, 0.9],
                         [-0.6, 0.5]])  # fmt: skip


def blossom(pen: Pen, x: float, y: float, size: float, place: int, kind: int) -> None:
    """One flower head of a kind 0 to 7: round petals, pointed, layered, tulip, lily, bell, spider, ball."""
    rng, at = pen.rng, np.array([x, y])
    phase = rng.uniform(0, 2 * np.pi)
    if kind < 3:
        for ring in range(1 + (kind == 2), 0, -1):
            count = int(rng.integers(5, 9)) if kind < 2 else int(rng.integers(8, 16))
            for angle in phase + np.arange(count) * 2 * np.pi / count:
                tip = at + np.array([np.cos(angle), np.sin(angle)]) * size * (0.55 + 0.45 * ring) / (
                    1 + 0.45 * (kind == 2)
                )
                pen.shape(ellipse((at + tip) / 2, size * 0.5, size * 0.36, angle) if kind == 0 else leaf(at, tip, size * 0.5),
                          place)  # fmt: skip
        pen.shape(ellipse(at, size * 0.25, size * 0.25), place + 1)
    elif kind == 3:
        for lean in (-0.7, 0.7, 0.0):
            pen.shape(leaf(at + [0, size * 0.7], at + [lean * size, -size], size * 0.9, lean * 3), place)
    elif kind == 4:
        for lean in np.linspace(-1.3, 1.3, int(rng.integers(3, 7))):
            pen.shape(
                leaf(
                    at + [0, size * 0.5],
                    at + [np.sin(lean) * size, -np.cos(lean) * size],
                    size * 0.45,
                    lean * 4,
                ),
                place,
            )
        for lean in (-0.3, 0.0, 0.3):
            pen.line(
                np.array([at, at + [np.sin(lean) * size * 0.9, -np.cos(lean) * size * 0.9]]), place + 1, 0.5
            )
    elif kind == 5:
        pen.shape(at + size * _BELL, place)
    elif kind == 6:
        for angle in phase + np.arange(int(rng.integers(9, 18))) * 0.618 * np.pi:
            tip = at + np.array([np.cos(angle), np.sin(angle)]) * size * rng.uniform(0.7, 1.2)
            pen.stroke(
                curve([list(at), list((at + tip) / 2 + rng.normal(0, size * 0.1, 2)), list(tip)], 7),
                size * 0.2,
                place,
            )
        pen.dot(x, y, size * 0.2, place + 1)
    else:
        pen.shape(ellipse(at, size * 0.9, size * 0.9), place)
        for radius in (0.6, 0.3):
            pen.line(ellipse(at, size * radius, size * radius)[:20], place + 1, 0.6)


def foliage(pen: Pen, x: float, y: float, angle: float, size: float, place: int, kind: int) -> None:
    """One leaf of a kind 0 to 3: plain, veined, blade, a spray of three."""
    base, way = np.array([x, y]), np.array([np.cos(angle), np.sin(angle)])
    width = size * (0.5, 0.55, 0.2, 0.3)[kind]
    turns = (-0.6, 0.6, 0.0) if kind == 3 else (0.0,)
    for turn in turns:
        c, s = np.cos(turn), np.sin(turn)
        tip = base + np.array([way[0] * c - way[1] * s, way[0] * s + way[1] * c]) * size
        pen.shape(leaf(base, tip, width, pen.rng.uniform(-0.15, 0.15) * size), place)
        if kind == 1:
            pen.line(np.array([base, base + (tip - base) * 0.8]), place + 1, 0.5)


def _stem(pen: Pen, foot: Points, top: Points, place: int, leaves: int) -> Points:
    """A stem from foot to top with leaves on both sides; returns its points."""
    rng = pen.rng
    middle = (foot + top) / 2 + [rng.uniform(-22, 22), 0]
    spine = curve([list(foot), list(middle), list(top)], 20)
    pen.line(spine, place, rng.uniform(0.7, 1.3))
    kind, size = int(rng.integers(4)), rng.uniform(18, 46)
    for k in range(leaves):
        at = spine[int(rng.integers(1, 15))]
        side = (-1) ** k
        foliage(pen, float(at[0]), float(at[1]), -np.pi / 2 + side * rng.uniform(0.5, 1.5), size, place, kind)
    return spine


def _single(pen: Pen) -> None:
    """One to three flowers on stems."""
    rng = pen.rng
    kind, place = int(rng.integers(8)), int(rng.integers(1, 3))
    for k in range(int(rng.integers(1, 4))):
        top = np.array([rng.uniform(45, 147), rng.uniform(36, 90) + 14 * k])
        _stem(pen, np.array([96 + rng.uniform(-12, 12), 240]), top, 0, int(rng.integers(2, 5)))
        blossom(pen, float(top[0]), float(top[1]), rng.uniform(20, 40), place, kind)


def _spray(pen: Pen) -> None:
    """A spray in brush strokes: swinging stems, tapered leaves, a few open blossoms and buds."""
    rng = pen.rng
    foot = np.array([96 + rng.uniform(-40, 40), 236.0])
    kind, place = int(rng.choice([0, 1, 3, 4, 7])), int(rng.integers(1, 3))
    heads = []
    for _ in range(int(rng.integers(2, 6))):
        top = np.array([rng.uniform(24, 168), rng.uniform(24, 170)])
        spine = curve([list(foot), list((foot + top) / 2 + rng.normal(0, 24, 2)), list(top)], 16)
        pen.canvas.stroke(spine, rng.uniform(3, 8), rng.uniform(3, 6), 2, pen.ink(0))
        heads.append(top)
        for _ in range(int(rng.integers(1, 5))):
            at = spine[int(rng.integers(2, 15))]
            end = at + rng.normal(0, 26, 2)
            pen.stroke(curve([list(at), list((at + end) / 2 + rng.normal(0, 5, 2)), list(end)], 8), rng.uniform(5, 13), 0,
                       taper=0.15)  # fmt: skip
    for k, top in enumerate(heads):
        if k == 0 or rng.random() < 0.5:
            blossom(
                pen,
                float(top[0]),
                float(top[1]),
                rng.uniform(18, 34) if k == 0 else rng.uniform(10, 20),
                place,
                kind,
            )
        else:
            pen.dot(float(top[0]), float(top[1]), rng.uniform(3, 7), place)


def _branch(pen: Pen) -> None:
    """A crooked branch with blossoms and buds: plum, cherry, peach."""
    rng = pen.rng
    kind, place = int(rng.integers(3)), int(rng.integers(1, 3))
    knots = [
        [rng.uniform(20, 60), 240],
        [rng.uniform(40, 110), 170],
        [rng.uniform(60, 150), 100],
        [rng.uniform(90, 170), 20],
    ]
    spine = curve(knots, 30)
    pen.canvas.stroke(spine, rng.uniform(8, 18), 8, 3, pen.ink(0))
    tips = [spine[i] for i in (12, 19, 24, 29)]
    for i in rng.integers(5, 27, int(rng.integers(2, 6))):
        twig = spine[i] + [rng.choice([-1, 1]) * rng.uniform(25, 70), rng.uniform(-50, 8)]
        pen.stroke(curve([list(spine[i]), list((spine[i] + twig) / 2 + [0, 8]), list(twig)], 10), 4, 0)
        tips.append(twig)
    size = rng.uniform(11, 22)
    for tip in tips:
        if rng.random() < 0.75:
            blossom(pen, float(tip[0]), float(tip[1]), size * rng.uniform(0.8, 1.2), place, kind)
        else:
            pen.dot(float(tip[0]), float(tip[1]), size * 0.4, place)


def _bamboo(pen: Pen) -> None:
    """Bamboo stalks with joints and sprays of blades."""
    rng = pen.rng
    for _ in range(int(rng.integers(1, 4))):
        x, lean, width = rng.uniform(50, 142), rng.uniform(-30, 30), rng.uniform(7, 17)
        joints = int(rng.integers(3, 6))
        for k in range(joints):
            a, b = (np.array([x + lean * t / joints, 244 - 220 * t / joints]) for t in (k + 0.04, k + 0.96))
            pen.shape(
                np.array([a - [width / 2, 0], b - [width / 2, 0], b + [width / 2, 0], a + [width / 2, 0]]), 0
            )
        for _ in range(int(rng.integers(2, 5))):
            t = rng.uniform(0.35, 1)
            side = rng.choice([-1, 1])
            at = np.array([x + lean * t, 244 - 220 * t])
            end = at + [side * rng.uniform(12, 34), rng.uniform(-16, 6)]
            pen.line(np.array([at, end]), 0, 0.5)
            for turn in (-0.7, 0.0, 0.6, 1.2)[: rng.integers(2, 5)]:
                foliage(
                    pen,
                    float(end[0]),
                    float(end[1]),
                    (0.5 if side > 0 else np.pi - 0.5) + turn,
                    rng.uniform(28, 46),
                    1,
                    2,
                )


def _orchid(pen: Pen) -> None:
    """A tuft of long arching blades with a few flowers."""
    rng = pen.rng
    for _ in range(int(rng.integers(5, 12))):
        reach, rise = rng.uniform(-85, 85), rng.uniform(70, 190)
        blade = curve(
            [[96, 236], [96 + reach * 0.35, 236 - rise], [96 + reach, 236 - rise * rng.uniform(0.5, 0.95)]],
            16,
        )
        pen.canvas.stroke(blade, 4, rng.uniform(6, 11), 1, pen.ink(0))
    for _ in range(int(rng.integers(1, 5))):
        x, y = rng.uniform(40, 152), rng.uniform(30, 120)
        pen.line(curve([[96, 232], [(96 + x) / 2, 150], [x, y]], 12), 0, 0.5)
        blossom(pen, x, y, rng.uniform(13, 22), 1, int(rng.choice([4, 1, 6])))


def _pot(pen: Pen) -> None:
    """A pot or vase with flowers, leaves or a little tree."""
    rng = pen.rng
    kind, place = int(rng.integers(8)), int(rng.integers(1, 3))
    for _ in range(int(rng.integers(2, 6))):
        top = np.array([rng.uniform(28, 164), rng.uniform(26, 110)])
        _stem(pen, np.array([96.0, 170]), top, 0, int(rng.integers(1, 4)))
        blossom(pen, float(top[0]), float(top[1]), rng.uniform(13, 26), place, kind)
    outline = [[rng.uniform(18, 40), 166], [rng.uniform(12, 26), 176], [rng.uniform(22, 52), 200], [rng.uniform(20, 46), 224],
               [rng.uniform(14, 40), 240]]  # fmt: skip
    right = curve(outline, 16)
    side = np.stack([right[:, 0], right[:, 1]], 1)
    pen.shape(np.concatenate([side + [96, 0], (side * [-1, 1] + [96, 0])[::-1]]), 2)
    for y in rng.uniform(180, 230, int(rng.integers(0, 4))):
        half = float(np.interp(y, side[:, 1], side[:, 0])) - 4
        pen.line(np.array([[96 - half, y], [96 + half, y]]), 0, 0.6)
    if rng.random() < 0.3:
        blossom(pen, 96, 206, 12, 1, 0)


def _chrysanthemum(pen: Pen) -> None:
    """One big head of many rays on a leafy stem."""
    rng = pen.rng
    x, y, size = rng.uniform(70, 122), rng.uniform(70, 100), rng.uniform(42, 62)
    _stem(pen, np.array([96.0, 244]), np.array([x, y]), 0, int(rng.integers(3, 6)))
    count = int(rng.integers(12, 26))
    for ring in (1.0, 0.7, 0.42)[: rng.integers(1, 4)]:
        for k in range(count):
            angle = 2 * np.pi * k / count + ring
            tip = np.array([x, y]) + np.array([np.cos(angle), np.sin(angle)]) * size * ring
            pen.shape(leaf(np.array([x, y]), tip, size * 0.26, 3), 1)
    pen.dot(x, y, size * 0.14, 2)


def _lotus(pen: Pen) -> None:
    """Lotus: a wide flower and round leaves above water lines."""
    rng = pen.rng
    x, y = rng.uniform(76, 116), rng.uniform(84, 120)
    for _ in range(int(rng.integers(1, 4))):
        cx, cy = rng.uniform(40, 152), rng.uniform(150, 215)
        pen.line(curve([[cx, cy], [(cx + 96) / 2, 230], [96, 246]], 8), 0, 0.7)
        pen.shape(ellipse((cx, cy), rng.uniform(24, 40), rng.uniform(10, 18), rng.uniform(-0.4, 0.4)), 0)
    pen.line(np.array([[x, y], [96, 244]]), 0)
    for lean in (-1.35, 1.35, -0.9, 0.9, -0.45, 0.45, 0.0):
        size = rng.uniform(50, 64)
        pen.shape(
            leaf(
                np.array([x, y + 20]),
                np.array([x + np.sin(lean) * size, y + 20 - np.cos(lean) * size]),
                28,
                4 * lean,
            ),
            1,
        )
    for k in range(int(rng.integers(0, 4))):
        pen.line(
            curve([[30, 234 + 6 * k], [70, 238 + 6 * k], [120, 232 + 6 * k], [164, 238 + 6 * k]], 14), 2, 0.6
        )


def _fruit(pen: Pen) -> None:
    """Peaches, plums or pomegranates on a leafy twig."""
    rng = pen.rng
    spine = curve([[40, 40], [96, 70], [150, 56]], 14)
    pen.stroke(spine, 6, 0)
    for _ in range(int(rng.integers(1, 4))):
        at = spine[rng.integers(3, 12)] + [rng.uniform(-14, 14), rng.uniform(60, 120)]
        r = rng.uniform(26, 44)
        pen.line(np.array([spine[7], at]), 0)
        pen.shape(at + r * _PEACH, 1)
        pen.line(
            curve([list(at + [0, -0.9 * r]), list(at + [-0.35 * r, 0]), list(at + [0, 0.9 * r])], 8), 2, 0.6
        )
    for _ in range(int(rng.integers(2, 7))):
        at = spine[int(rng.integers(14))]
        foliage(
            pen,
            float(at[0]),
            float(at[1]),
            rng.uniform(0, 2 * np.pi),
            rng.uniform(26, 48),
            0,
            int(rng.integers(2)),
        )


def _bouquet(pen: Pen) -> None:
    """A tied bunch of different flowers."""
    rng = pen.rng
    for _ in range(int(rng.integers(3, 8))):
        top = np.array([rng.uniform(30, 162), rng.uniform(30, 130)])
        pen.line(curve([[96, 180], [(96 + top[0]) / 2, 150], list(top)], 10), 0)
        blossom(
            pen, float(top[0]), float(top[1]), rng.uniform(15, 28), int(rng.integers(3)), int(rng.integers(8))
        )
    for lean in np.linspace(-0.5, 0.5, 5):
        pen.line(np.array([[96, 180], [96 + lean * 90, 244]]), 0)
    pen.shape(leaf(np.array([96, 182]), np.array([50, 166]), 22), 2)
    pen.shape(leaf(np.array([96, 182]), np.array([142, 166]), 22), 2)


def _visited(pen: Pen) -> None:
    """A flower with a butterfly above it."""
    rng = pen.rng
    _single(pen)
    x, y, size = rng.uniform(40, 150), rng.uniform(20, 50), rng.uniform(18, 30)
    for side in (-1, 1):
        pen.shape(leaf(np.array([x, y]), np.array([x + side * size, y - size * 0.9]), size * 0.9), 1)
        pen.shape(leaf(np.array([x, y]), np.array([x + side * size * 0.8, y + size * 0.7]), size * 0.7), 2)
        pen.line(np.array([[x, y - 4], [x + side * 8, y - size]]), 2, 0.5)
    pen.stroke(np.array([[x, y - size * 0.5], [x, y], [x, y + size * 0.6]]), 5, 0, taper=0.5)


def _tree(pen: Pen) -> None:
    """A pine or a round tree on a knoll (held out)."""
    rng = pen.rng
    pen.canvas.stroke(curve([[96, 236], [84, 170], [106, 110], [92, 60]], 20), 22, 14, 6, pen.ink(1))
    for _ in range(int(rng.integers(4, 8))):
        x, y = rng.uniform(45, 147), rng.uniform(30, 140)
        for k in range(-4, 5):
            pen.line(np.array([[x, y], [x + k * 7, y - 18 + abs(k) * 3]]), 0, 0.8)
    pen.line(curve([[30, 240], [96, 230], [164, 240]], 12), 2)


def _vine(pen: Pen) -> None:
    """A climbing vine with trumpets (held out)."""
    rng = pen.rng
    spine = curve([[60, 244], [130, 200], [60, 150], [130, 100], [70, 50], [110, 16]], 40)
    pen.stroke(spine, 5, 0)
    for i in range(3, 38, int(rng.integers(4, 7))):
        side = rng.choice([-1, 1])
        at = spine[i] + [side * rng.uniform(16, 32), rng.uniform(-12, 12)]
        pen.line(np.array([spine[i], at]), 0, 0.6)
        if rng.random() < 0.5:
            blossom(pen, float(at[0]), float(at[1]), 15, 1, 5)
        else:
            foliage(pen, float(at[0]), float(at[1]), 0.0 if side > 0 else np.pi, 26, 0, 1)


PLANTS: Final[tuple[Plant, ...]] = (
    _single, _single, _spray, _spray, _spray, _branch, _branch, _bamboo, _orchid, _pot, _chrysanthemum, _lotus, _fruit, _bouquet, _visited,
)  # fmt: skip
HELD_OUT: Final[tuple[Plant, ...]] = (_tree, _vine)
