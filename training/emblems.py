"""Parametric emblems for joker tiles: jesters, masks, stars, seals, mandalas, cards, crowns, clowns."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from tilewitness.training.engraving import Points, curve, ellipse, leaf
from tilewitness.training.joker_figures import FIGURES
from tilewitness.training.joker_figures import HELD_OUT as FIGURES_HELD_OUT
from tilewitness.training.pens import Pen


@dataclass(frozen=True, slots=True)
class Emblem:
    """A family of emblems, and whether a player takes it for a joker without the word."""

    draw: Callable[[Pen], None]
    says_joker: bool


def star(x: float, y: float, radius: float, points: int, depth: float, turn: float = -np.pi / 2) -> Points:
    """A star polygon; `depth` is the inner radius as a share of the outer."""
    angle = turn + np.arange(2 * points) * np.pi / points
    r = radius * np.where(np.arange(2 * points) % 2, depth, 1.0)
    return np.stack([x + r * np.cos(angle), y + r * np.sin(angle)], 1)


def _face(pen: Pen, x: float, y: float, size: float) -> None:
    """A grinning face: eyes, brows, nose, mouth, cheeks."""
    rng = pen.rng
    pen.shape(ellipse((x, y), size, size * rng.uniform(1.0, 1.3)), 2)
    pen.canvas.fill(ellipse((x, y), size * 0.9, size * 1.0), None)
    kind = rng.integers(3)
    for side in (-1, 1):
        ex, ey = x + side * size * 0.38, y - size * 0.2
        if kind == 0:
            pen.dot(ex, ey, size * 0.13, 0)
        elif kind == 1:
            pen.line(curve([[ex - size * 0.2, ey], [ex, ey - size * 0.2], [ex + size * 0.2, ey]], 8), 0, 0.8)
        else:
            pen.shape(star(ex, ey, size * 0.25, 4, 0.35), 0)
        if rng.random() < 0.6:
            pen.line(
                np.array(
                    [[ex - size * 0.2, ey - size * 0.3], [ex + size * 0.2, ey - size * (0.3 + 0.1 * side)]]
                ),
                0,
                0.7,
            )
        if rng.random() < 0.4:
            pen.dot(x + side * size * 0.6, y + size * 0.3, size * 0.14, 1)
    pen.line(
        np.array(
            [[x, y - size * 0.1], [x + size * 0.12, y + size * 0.2], [x - size * 0.08, y + size * 0.22]]
        ),
        0,
        0.7,
    )
    mouth = curve(
        [
            [x - size * 0.5, y + size * 0.4],
            [x, y + size * rng.uniform(0.6, 0.95)],
            [x + size * 0.5, y + size * 0.4],
        ],
        12,
    )
    if rng.random() < 0.5:
        pen.line(mouth, 1)
    else:
        pen.shape(mouth, 1)


def _cap(pen: Pen, x: float, y: float, size: float) -> None:
    """A cap and bells of two to five points above a head."""
    rng = pen.rng
    points = int(rng.integers(2, 6))
    for k in range(points):
        lean = (k / (points - 1) - 0.5) * rng.uniform(2.2, 3.2)
        far = size * rng.uniform(1.2, 1.9)
        tip = np.array([x + np.sin(lean) * far * 1.2, y - np.cos(lean) * far + abs(lean) * size * 0.35])
        root_a = np.array([x + size * (2 * k / points - 1), y])
        root_b = root_a + [2 * size / points, 0]
        bow = (root_a + root_b) / 2 + np.array([np.sin(lean), -1.0]) * size * 0.9
        horn = np.concatenate([curve([list(root_a), list(bow - [size * 0.3, 0]), list(tip)], 9),
                               curve([list(tip), list(bow + [size * 0.3, 0.2 * size]), list(root_b)], 9)])  # fmt: skip
        pen.shape(horn, k)
        pen.shape(ellipse(tip, size * 0.16, size * 0.16), k + 1)
    pen.shape(
        np.array(
            [[x - size, y - 3], [x + size, y - 3], [x + size, y + size * 0.18], [x - size, y + size * 0.18]]
        ),
        1,
    )


def _collar(pen: Pen, x: float, y: float, size: float) -> None:
    count = int(pen.rng.integers(3, 7))
    for k in range(count):
        cx = x + size * (2 * (k + 0.5) / count - 1) * 1.2
        pen.shape(np.array([[cx - size * 0.35, y], [cx + size * 0.35, y], [cx, y + size * 0.75]]), k)
        pen.dot(cx, y + size * 0.8, size * 0.1, 1)


def _jester(pen: Pen) -> None:
    """Head of a jester with cap and collar."""
    size = pen.rng.uniform(32, 42)
    _face(pen, 96, 138, size)
    _cap(pen, 96, 112, size * 1.05)
    if pen.rng.random() < 0.8:
        _collar(pen, 96, 138 + size * 1.05, size)


def _standing(pen: Pen) -> None:
    """A whole jester: head, motley, arms and legs, perhaps a stick with a small head."""
    rng = pen.rng
    hips = np.array([96 + rng.uniform(-8, 8), 168])
    for side in (-1, 1):
        foot = np.array([96 + side * rng.uniform(16, 50), rng.uniform(216, 242)])
        knee = (hips + foot) / 2 + [side * rng.uniform(0, 24), 0]
        pen.canvas.stroke(curve([list(hips), list(knee), list(foot)], 12), 20, 15, 9, pen.ink(side + 1))
        pen.stroke(curve([list(foot), list(foot + [side * 14, 2]), list(foot + [side * 22, -9])], 8), 7, 1)
        hand = np.array([96 + side * rng.uniform(44, 74), rng.uniform(60, 160)])
        pen.canvas.stroke(
            curve([[96 + side * 14, 112], [96 + side * 44, 140], list(hand)], 12),
            14,
            11,
            8,
            pen.ink(side + 2),
        )
        pen.dot(float(hand[0]), float(hand[1]), 6, 2)
        if rng.random() < 0.3:
            pen.line(np.array([hand, hand + [side * 8, -44]]), 0)
            pen.shape(star(float(hand[0]) + side * 8, float(hand[1]) - 48, 13, 5, 0.5), 1)
    pen.shape(np.array([[74, 104], [118, 104], [126, 176], [96, 192], [66, 176]]), 0)
    for k in range(int(rng.integers(0, 5))):
        y = 118 + 14 * k
        pen.shape(np.array([[96, y - 7], [103, y], [96, y + 7], [89, y]]), 1)
    _collar(pen, 96, 98, 22)
    _face(pen, 96, 76, 20)
    _cap(pen, 96, 62, 22)


def _stars(pen: Pen) -> None:
    """One large star, a star within a star, or a handful."""
    rng = pen.rng
    count, depth = int(rng.integers(5, 9)), rng.uniform(0.35, 0.6)
    kind = rng.integers(4)
    if kind == 3:
        for _ in range(int(rng.integers(4, 9))):
            pen.shape(
                star(
                    rng.uniform(24, 168),
                    rng.uniform(24, 232),
                    rng.uniform(14, 34),
                    count,
                    depth,
                    rng.uniform(0, 6),
                ),
                0,
            )
        return
    pen.shape(star(96, 128, 88, count, depth), 0)
    if kind == 1:
        pen.shape(star(96, 128, 48, count, depth), 1)
    elif kind == 2:
        for k in range(count):
            angle = -np.pi / 2 + 2 * np.pi * k / count
            pen.line(np.array([[96.0, 128.0], [96 + 86 * np.cos(angle), 128 + 86 * np.sin(angle)]]), 1, 0.7)


def _burst(pen: Pen) -> None:
    """Rays from a middle, straight or wavy, with a face or star inside."""
    rng = pen.rng
    count = int(rng.integers(8, 22))
    for k in range(count):
        angle = 2 * np.pi * k / count
        way = np.array([np.cos(angle), np.sin(angle)])
        tip = np.array([96, 128]) + way * rng.uniform(68, 92)
        pen.shape(leaf(np.array([96, 128]) + way * 30, tip, 16, rng.choice([0, 8])), k % 2)
    _face(pen, 96, 128, 34)


def _mandala(pen: Pen) -> None:
    """Rings of petals, dots and points; needs the word beside it."""
    rng = pen.rng
    folds = int(rng.integers(6, 17))
    radius = 88.0
    while radius > 14:
        step = rng.uniform(14, 30)
        kind = rng.integers(4)
        for k in range(folds if kind < 3 else 0):
            angle = 2 * np.pi * (k + 0.5 * (radius % 2 > 1)) / folds
            way = np.array([np.cos(angle), np.sin(angle)])
            at = np.array([96, 128]) + way * (radius - step)
            if kind == 0:
                pen.shape(leaf(at, at + way * step, radius * 4 / folds), k)
            elif kind == 1:
                pen.dot(float(at[0]), float(at[1]), min(step / 3, radius * 2 / folds), k)
            else:
                pen.shape(ellipse(at, step * 0.5, radius * 2 / folds, angle), 1)
        if kind == 3:
            pen.line(np.concatenate([e := ellipse((96, 128), radius, radius, n=50), e[:1]]), 0)
        radius -= step


def _seal(pen: Pen) -> None:
    """A round or square seal with a scalloped edge and a star, face or crown in it; needs the word."""
    rng = pen.rng
    count = int(rng.integers(12, 40))
    pen.shape(star(96, 128, 86, count, rng.uniform(0.85, 0.95)), 0)
    pen.canvas.fill(ellipse((96, 128), 70, 70, n=50), None)
    pen.line(np.concatenate([e := ellipse((96, 128), 66, 66, n=50), e[:1]]), 1, 0.6)
    choice = rng.integers(3)
    if choice == 0:
        pen.shape(star(96, 128, 46, int(rng.integers(4, 9)), 0.45), 1)
    elif choice == 1:
        _face(pen, 96, 128, 36)
    else:
        _crown_at(pen, 96, 128, 40)


def _crown_at(pen: Pen, x: float, y: float, size: float) -> None:
    points = int(pen.rng.integers(3, 8)) | 1
    outline = [[x - size, y + size * 0.6]]
    for k in range(2 * points - 1):
        across = x - size * 1.15 + size * 2.3 * k / (2 * points - 2)
        outline.append([across, y - size * (0.6 if k % 2 == 0 else -0.05)])
    outline.append([x + size, y + size * 0.6])
    pen.shape(np.array(outline), 0)
    for k in range(0, 2 * points - 1, 2):
        pen.dot(x - size * 1.15 + size * 2.3 * k / (2 * points - 2), y - size * 0.66, size * 0.1, 1)
    pen.line(np.array([[x - size, y + size * 0.4], [x + size, y + size * 0.4]]), 1)


def _crown(pen: Pen) -> None:
    """A crown, perhaps above a star."""
    _crown_at(pen, 96, 110, 76)
    if pen.rng.random() < 0.4:
        pen.shape(star(96, 204, 30, 5, 0.45), 1)


def _clown(pen: Pen) -> None:
    """A clown: round nose, tufts of hair, hat, ruff."""
    rng = pen.rng
    size = rng.uniform(46, 56)
    for side in (-1, 1):
        for _ in range(int(rng.integers(3, 7))):
            r = rng.uniform(11, 20)
            pen.shape(
                ellipse((96 + side * (size + rng.uniform(-6, 12)), 130 + rng.uniform(-34, 16)), r, r), 1
            )
    _face(pen, 96, 138, size)
    pen.shape(ellipse((96, 142), size * 0.24, size * 0.24), 1)
    pen.shape(np.array([[96 - size * 0.5, 94], [96 + size * 0.5, 94], [96 + rng.uniform(-20, 20), 26]]), 0)
    _collar(pen, 96, 194, size * 0.8)


def _masks(pen: Pen) -> None:
    """A laughing and a weeping mask."""
    rng = pen.rng
    for side, smile in ((-1, 1), (1, -1)):
        x, y = 96 + side * rng.uniform(30, 40), 128 + side * rng.uniform(10, 50)
        w, h = rng.uniform(42, 52), rng.uniform(56, 70)
        pen.shape(curve([[x - w, y - h], [x, y - h * 0.85], [x + w, y - h], [x + w * 0.8, y + h * 0.4], [x, y + h],
                         [x - w * 0.8, y + h * 0.4], [x - w, y - h]], 30), 0 if side < 0 else 1)  # fmt: skip
        for eye in (-1, 1):
            hole = ellipse((x + eye * w * 0.4, y - h * 0.3), w * 0.22, h * 0.12)
            pen.canvas.shape(hole, None, pen.ink(2), 2)
        mouth = curve(
            [[x - w * 0.45, y + h * 0.25], [x, y + h * (0.25 + 0.35 * smile)], [x + w * 0.45, y + h * 0.25]],
            12,
        )
        pen.canvas.shape(mouth, None, pen.ink(2), 2)


def _card(pen: Pen) -> None:
    """Fanned playing cards, suits on them; needs the word."""
    rng = pen.rng
    count = int(rng.integers(1, 5))
    for k in range(count):
        lean = (k - (count - 1) / 2) * 0.32
        c, s = np.cos(lean), np.sin(lean)
        box = np.array([[-36, -60], [36, -60], [36, 60], [-36, 60]], float) @ np.array([[c, s], [-s, c]])
        middle = np.array([96 + 90 * s, 150 - 40 * c])
        pen.canvas.shape(box + middle, None, pen.ink(0), pen.width)
        pen.shape(star(float(middle[0]), float(middle[1]), 24, int(rng.integers(3, 7)), 0.5, lean), 1)


def _pinwheel(pen: Pen) -> None:
    """Swirling blades (held out); needs the word."""
    count = int(pen.rng.integers(5, 10))
    for k in range(count):
        angle = 2 * np.pi * k / count
        tip = np.array([96 + 86 * np.cos(angle), 128 + 86 * np.sin(angle)])
        pen.shape(leaf(np.array([96.0, 128.0]), tip, 34, 16), k)


def _juggler(pen: Pen) -> None:
    """A capped figure juggling balls (held out)."""
    rng = pen.rng
    _face(pen, 96, 150, 26)
    _cap(pen, 96, 132, 26)
    for side in (-1, 1):
        pen.stroke(curve([[96 + side * 26, 200], [96 + side * 64, 196], [96 + side * 66, 150]], 12), 13, 0)
    pen.shape(np.array([[66, 186], [126, 186], [136, 246], [56, 246]]), 0)
    for k in range(int(rng.integers(3, 8))):
        angle = np.pi + np.pi * (k + 0.5) / 7
        pen.shape(ellipse((96 + 74 * np.cos(angle), 110 + 90 * np.sin(angle)), 11, 11), k)


EMBLEMS: Final[tuple[Emblem, ...]] = (
    Emblem(_jester, True), Emblem(_jester, True), Emblem(_standing, True), Emblem(_stars, True), Emblem(_burst, True),
    Emblem(_mandala, False), Emblem(_seal, False), Emblem(_crown, True), Emblem(_clown, True), Emblem(_masks, True),
    Emblem(_card, False), *(Emblem(figure, True) for figure in FIGURES),
)  # fmt: skip
HELD_OUT: Final[tuple[Emblem, ...]] = (
    Emblem(_pinwheel, False),
    Emblem(_juggler, True),
    *(Emblem(figure, False) for figure in FIGURES_HELD_OUT),
)
