"""Further figures for jokers: fools in profile, in boxes, tumbling, beckoning; ladies, conjurers, caps and bells, fools' staffs."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from tilewitness.training.engraving import Points, curve, ellipse, leaf, turned
from tilewitness.training.pens import Pen


def _features(pen: Pen, at: Points, size: float) -> None:
    """Eyes, nose and a grin on a face seen from the front; a bare face is drawn under them."""
    rng = pen.rng
    pen.canvas.shape(ellipse(at, size * 0.86, size), None, pen.ink(2), max(2.0, pen.width * 0.7))
    wink = rng.random() < 0.25
    for side in (-1, 1):
        x, y = at[0] + side * size * 0.36, at[1] - size * 0.18
        if wink and side > 0:
            pen.line(np.array([[x - size * 0.16, y], [x + size * 0.16, y]]), 0, 0.6)
        else:
            pen.dot(x, y, max(1.6, size * rng.uniform(0.09, 0.15)), 0)
        if rng.random() < 0.4:
            pen.shape(ellipse((at[0] + side * size * 0.5, at[1] + size * 0.3), size * 0.16, size * 0.12), 1)
    pen.shape(ellipse(at + [0, size * 0.12], size * rng.uniform(0.08, 0.2), size * 0.12), 1)
    mouth = curve([list(at + [-size * 0.45, size * 0.4]), list(at + [0, size * rng.uniform(0.6, 0.8)]), list(at + [size * 0.45, size * 0.4])], 12)
    if rng.random() < 0.5:
        pen.canvas.shape(mouth, pen.ink(1), pen.ink(1), 1.5)
    else:
        pen.line(mouth, 1, 0.8)


def _bell(pen: Pen, at: Points, size: float) -> None:
    pen.shape(ellipse(at, size, size), 1)
    pen.line(np.array([at + [-size * 0.6, size * 0.3], at + [size * 0.6, size * 0.3]]), 2, 0.4)


def _horns(pen: Pen, at: Points, size: float, count: int) -> None:
    """The soft horns of a fool's cap, each with a bell, from the brow at a point."""
    rng = pen.rng
    droop = rng.uniform(0.2, 1.1)
    for k, lean in enumerate(np.linspace(-1.25, 1.25, count)):
        way = turned(np.array([[0.0, -1.0]]), float(lean))[0]
        peak = at + way * size * rng.uniform(1.2, 1.7)
        tip = peak + np.array([np.sign(lean + 1e-6) * size * 0.55, size * droop * abs(lean)])
        half = size * 0.95 / count * 1.6
        root = at + [lean * size * 0.62, 0]
        outline = np.concatenate([curve([list(root - [half, 0]), list(peak - [half * 0.4, 0]), list(tip)], 10),
                                  curve([list(tip), list(peak + [half * 0.5, half * 0.8]), list(root + [half, 0])], 10)])  # fmt: skip
        pen.shape(outline, k)
        _bell(pen, tip, size * 0.15)
    pen.shape(np.array([at + [-size, -4], at + [size, -4], at + [size, size * 0.16], at + [-size, size * 0.16]]), 1)


def _ruff(pen: Pen, at: Points, size: float) -> None:
    """A collar of points or of round folds."""
    rng, count = pen.rng, int(pen.rng.integers(4, 9))
    pointed = rng.random() < 0.6
    for k, lean in enumerate(np.linspace(-1.3, 1.3, count)):
        way = turned(np.array([[0.0, 1.0]]), -float(lean))[0]
        if pointed:
            pen.shape(leaf(at, at + way * size, size * 0.45), k)
        else:
            pen.shape(ellipse(at + way * size * 0.7, size * 0.24, size * 0.24), k % 2)


def grinning(pen: Pen) -> None:
    """A fool's head, large, cap and bells filling the tile's upper half."""
    rng = pen.rng
    size, y = rng.uniform(36, 50), rng.uniform(138, 158)
    _ruff(pen, np.array([96.0, y + size * 0.8]), size * 1.2)
    _features(pen, np.array([96.0, y]), size)
    _horns(pen, np.array([96.0, y - size * 0.55]), size * 0.95, int(rng.integers(2, 6)))


def in_profile(pen: Pen) -> None:
    """A fool's head from the side: a long nose and chin, one or two horns of the cap thrown back."""
    rng = pen.rng
    nose, chin = rng.uniform(16, 34), rng.uniform(8, 22)
    face: list[list[float]] = [[84, 96], [120, 96], [126, 116], [128 + nose, 140], [124, 146], [132, 156], [122, 162], [124 + chin, 188], [100, 186], [86, 160]]
    pen.canvas.shape(curve(face, 40), None, pen.ink(2), max(2.0, pen.width * 0.8))
    pen.dot(112, 120, 3.5, 0)
    pen.line(curve([[104, 110], [112, 105], [120, 110]], 8), 0, 0.7)
    pen.line(curve([[124, 160], [112, 166], [104, 158]], 8), 1, 0.8)
    hood: list[list[float]] = [[124, 100], [104, 74], [70, 72], [52, 110], [56, 170], [84, 196], [92, 168], [84, 130], [96, 104]]
    pen.shape(curve(hood, 36), 0)
    for k in range(int(rng.integers(1, 4))):
        tip = np.array([14 + 26 * k + rng.uniform(-6, 6), 70 + rng.uniform(-46, 50) - 10 * k])
        pen.canvas.stroke(curve([[78 + 8 * k, 82], [56 + 16 * k, 34 + 6 * k], list(tip)], 14), 34, 24, 7, pen.ink(k + 1))
        _bell(pen, tip, 8)
    _ruff(pen, np.array([92.0, 194.0]), rng.uniform(40, 54))


def in_a_box(pen: Pen) -> None:
    """A fool on a spring that jumps out of a box."""
    rng = pen.rng
    lean, y = rng.uniform(-26, 26), rng.uniform(82, 100)
    t = np.linspace(0, 1, 60)
    spring = np.stack([96 + lean * t + rng.uniform(14, 24) * np.sin(t * 2 * np.pi * rng.integers(3, 6)), 186 - (186 - y - 24) * t], 1)
    pen.line(spring, 2, 0.9)
    head = np.array([96.0 + lean, y])
    for side in (-1, 1):
        hand = head + [side * rng.uniform(42, 58), rng.uniform(20, 50)]
        pen.canvas.stroke(curve([list(head + [side * 8, 36]), list(head + [side * 30, 50]), list(hand)], 10), 9, 8, 7, pen.ink(1))
        pen.dot(float(hand[0]), float(hand[1]), 6, 0)
    _ruff(pen, head + [0, 22], 32)
    _features(pen, head, 26)
    _horns(pen, head - [0, 15], 24, int(rng.integers(2, 4)))
    box = np.array([[44, 182], [148, 182], [148, 246], [44, 246]], float)
    pen.shape(box, 0)
    pen.shape(np.array([[148, 182], [176, 150], [180, 158], [152, 190]], float), 1)
    kind = rng.integers(3)
    for x in np.linspace(62, 130, 4 if kind else 2):
        pen.shape(np.array([[x - 8, 214], [x, 200], [x + 8, 214], [x, 228]]) if kind < 2 else ellipse((x, 214), 7, 7), 1)


def tumbling(pen: Pen) -> None:
    """An acrobat or dancer in motley: on the hands, leaping or with a leg thrown up, ribbons or balls about."""
    rng = pen.rng
    turn = float(rng.choice([0.0, 0.0, np.pi, rng.uniform(-0.8, 0.8)]))

    def spot(x: float, y: float) -> Points:
        return np.asarray(turned(np.array([[x, y]]), turn)[0] + [96, 128])

    def limb(points: list[tuple[float, float]], wide: float, place: int) -> None:
        pen.canvas.stroke(curve([list(spot(*p)) for p in points], 14), wide, wide * 0.8, wide * 0.5, pen.ink(place))

    for side in (-1, 1):
        limb([(side * 8, 26), (side * rng.uniform(18, 46), rng.uniform(40, 66)), (side * rng.uniform(16, 70), rng.uniform(70, 104))], 20, side + 1)
        hand = (side * rng.uniform(44, 76), rng.uniform(-84, -4))
        limb([(side * 12, -28), (side * rng.uniform(26, 44), -30), hand], 14, side + 2)
        if rng.random() < 0.4:
            at = spot(*hand)
            pen.shape(ellipse(at + [0, -12], 9, 9), 1)
    body = np.stack([spot(*p) for p in ((-20, -38), (20, -38), (12, 0), (20, 34), (-20, 34), (-12, 0))])
    pen.shape(body, 0)
    for k in range(int(rng.integers(0, 4))):
        at = spot(0, -24 + 16 * k)
        pen.shape(np.array([at + [0, -7], at + [6, 0], at + [0, 7], at + [-6, 0]]), 1)
    head = spot(0, -62)
    _features(pen, head, 17)
    if np.cos(turn) > 0:
        _horns(pen, head - [0, 10], 17, int(rng.integers(2, 4)))
    else:
        pen.shape(np.stack([head + [-15, 10], head + [15, 10], head + [rng.uniform(-8, 8), 44]]), 1)


def lady(pen: Pen) -> None:
    """A lady's head and shoulders: curls, a wide hat, a fan or a flower, a necklace, a beauty spot."""
    rng = pen.rng
    at, size = np.array([96.0, 112.0]), rng.uniform(32, 40)
    hair = rng.integers(3)
    for k in range(int(rng.integers(6, 12)) if hair < 2 else 0):
        angle = np.pi * (0.9 + 1.2 * k / 10) if hair else np.pi * (0.75 + 1.5 * k / 10)
        pen.shape(ellipse(at + np.array([np.cos(angle), np.sin(angle)]) * size * 1.1, size * 0.36, size * 0.36), 2)
    if hair == 2:
        pen.shape(curve([[96 - size, 96], [96 - size * 1.4, 150], [96 - size, 190], [96, 176], [96 + size, 190], [96 + size * 1.4, 150], [96 + size, 96],
                         [96, 66], [96 - size, 96]], 40), 2)  # fmt: skip
    pen.shape(curve([[40, 246], [54, 200], [86, 184], [86, 150], [106, 150], [106, 184], [138, 200], [152, 246]], 36), 0)
    _features(pen, at, size)
    for side in (-1, 1):
        for lash in (-0.2, 0.0, 0.2):
            eye = at + [side * size * 0.36, -size * 0.28]
            pen.line(np.array([eye + [lash * size * 0.5, 0], eye + [lash * size, -size * 0.16]]), 0, 0.4)
    for lean in np.linspace(-1.0, 1.0, int(rng.choice([0, 5, 7]))):
        pen.dot(96 + lean * 22, 190 + 12 * (1 - lean * lean), 4, 1)
    crown = rng.integers(4)
    if crown == 0:
        pen.shape(ellipse((96, 78), size * 2.0, size * 0.42, rng.uniform(-0.2, 0.2)), 1)
        pen.shape(np.array([[96 - size * 0.9, 76], [96 - size * 0.7, 34], [96 + size * 0.7, 34], [96 + size * 0.9, 76]]), 1)
    elif crown == 1:
        for lean in (-0.5, -0.1, 0.3):
            pen.shape(leaf(np.array([96 + lean * 20, 74]), np.array([96 + lean * 90, 18]), 20, 8), 1)
    elif crown == 2:
        points = [[96 - size, 82], *[[96 - size + size * k / 3, 40 if k % 2 == 0 else 62] for k in range(7)], [96 + size, 82]]
        pen.shape(np.array(points), 1)


def conjurer(pen: Pen) -> None:
    """A top hat with a wand, a rabbit, cards or stars that rise from it; or a moustached face under it."""
    rng = pen.rng
    if rng.random() < 0.5:
        at, size = np.array([96.0, 156.0]), rng.uniform(38, 48)
        _features(pen, at, size)
        for side in (-1, 1):
            pen.stroke(curve([list(at + [0, size * 0.3]), list(at + [side * size * 0.4, size * 0.42]), list(at + [side * size * 0.9, size * 0.1])], 10), 10, 0)
        top, brim = rng.uniform(26, 50), at[1] - size * 0.62
        pen.shape(np.array([[96 - size * 0.75, brim], [96 - size * 0.85, top], [96 + size * 0.85, top], [96 + size * 0.75, brim]]), 0)
        pen.shape(ellipse((96, brim), size * 1.45, 9), 1)
        pen.shape(np.array([[96, 214], [70, 200], [70, 232], [96, 216], [122, 232], [122, 200]]), 1)
        return
    pen.shape(np.array([[56, 150], [136, 150], [128, 240], [64, 240]], float), 0)
    pen.shape(ellipse((96, 150), 62, 14), 1)
    if rng.random() < 0.5:
        for side in (-1, 1):
            pen.shape(leaf(np.array([96 + side * 10, 100.0]), np.array([96 + side * rng.uniform(12, 30), 26.0]), 17, side * 3), 2)
        _features(pen, np.array([96.0, 116.0]), 26)
    else:
        for lean in np.linspace(-0.6, 0.6, 3):
            c, s = np.cos(lean), np.sin(lean)
            card = np.array([[-17, -26], [17, -26], [17, 26], [-17, 26]], float) @ np.array([[c, s], [-s, c]]) + [96 + 76 * s, 106 - 30 * c]
            pen.canvas.shape(card, None, pen.ink(2), pen.width * 0.8)
            pen.dot(float(card[:, 0].mean()), float(card[:, 1].mean()), 7, 1)
    pen.canvas.stroke(np.array([[140.0, 130.0], [156.0, 90.0], [172.0, 50.0]]), 7, 7, 7, pen.ink(1))


def marotte(pen: Pen) -> None:
    """A fool's staff: a small capped head on a ribboned stick (held out)."""
    rng = pen.rng
    head = np.array([96.0, rng.uniform(84, 100)])
    pen.canvas.stroke(np.array([head + [0, 20], [96.0, 180.0], [96.0 + rng.uniform(-14, 14), 246.0]]), 9, 9, 7, pen.ink(2))
    for side in (-1, 1):
        for k in range(int(rng.integers(1, 4))):
            knots = [list(head + [0, 40]), list(head + [side * (24 + 8 * k), 70]), list(head + [side * (10 + 14 * k), 104]), list(head + [side * 40, 136 - 12 * k])]
            pen.stroke(curve(knots, 14), 7, k)
    _ruff(pen, head + [0, 26], 38)
    _features(pen, head, 30)
    _horns(pen, head - [0, 17], 29, int(rng.integers(2, 5)))


FAMILIES: Final[tuple[Callable[[Pen], None], ...]] = (grinning, grinning, in_profile, in_a_box, tumbling, lady, conjurer)
HELD_OUT: Final[tuple[Callable[[Pen], None], ...]] = (marotte,)
NEED_WORD: Final[tuple[Callable[[Pen], None], ...]] = (lady, conjurer)
"""Who might stand on a flower as well: a joker only beside the word."""
