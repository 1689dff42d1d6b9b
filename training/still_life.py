"""Further pictures for flower tiles: pots, baskets, goldfish, curios, falls, hanging clusters, reeds."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import numpy as np

from tilewitness.training.engraving import Points, curve, ellipse, leaf, turned
from tilewitness.training.pens import Pen
from tilewitness.training.plants import Plant, blossom, foliage


def even(halves: list[float], top: float, bottom: float, x: float = 96.0) -> Points:
    """A closed outline symmetric about a vertical, from its half widths at even heights."""
    right = curve([[half, y] for half, y in zip(halves, np.linspace(top, bottom, len(halves)), strict=True)], 20)
    return np.concatenate([right + [x, 0], (right * [-1, 1] + [x, 0])[::-1]])


def _tufts(pen: Pen, x: float, y: float, reach: float) -> None:
    """What grows from a pot: a fan of blades, stalks with heads, a cactus, a shrub or a bare twig."""
    rng = pen.rng
    kind, heads, leaves = rng.integers(5), int(rng.integers(8)), int(rng.integers(4))
    if kind == 0:
        for lean in np.linspace(-1.2, 1.2, int(rng.integers(5, 12))):
            tip = np.array([x + np.sin(lean) * reach * 0.8, y - np.cos(lean) * reach + 30 * abs(lean)])
            pen.shape(leaf(np.array([x, y]), tip, rng.uniform(7, 14), lean * 12), 0)
    elif kind == 1:
        for lean in np.linspace(-0.5, 0.5, int(rng.integers(1, 5))):
            tip = np.array([x + lean * reach, y - reach * rng.uniform(0.7, 1.0)])
            pen.line(curve([[x, y], [x + lean * reach * 0.3, y - reach * 0.5], list(tip)], 10), 0, 0.8)
            foliage(pen, x + lean * reach * 0.4, y - reach * 0.4, float(rng.choice([-0.5, -2.6])), 26, 0, leaves)
            blossom(pen, float(tip[0]), float(tip[1]), rng.uniform(14, 24), 1, heads)
    elif kind == 2:
        pen.shape(even([14, 20, 20, 17], y - reach, y, x), 0)
        for side in (-1, 1)[: int(rng.integers(0, 3))]:
            arm = curve([[x + side * 16, y - reach * 0.4], [x + side * 38, y - reach * 0.42], [x + side * 38, y - reach * 0.75]], 10)
            pen.canvas.stroke(arm, 14, 15, 12, pen.ink(0))
        blossom(pen, x, y - reach, 11, 1, heads)
    elif kind == 3:
        for _ in range(int(rng.integers(6, 14))):
            a, r = rng.uniform(0, 2 * np.pi), rng.uniform(0, 1)
            pen.shape(ellipse((x + np.cos(a) * r * reach * 0.5, y - reach * 0.55 + np.sin(a) * r * reach * 0.4), 13, 11), int(rng.integers(2)))
        pen.line(np.array([[x, y], [x, y - reach * 0.2]]), 2)
    else:
        twig = curve([[x, y], [x - reach * 0.25, y - reach * 0.4], [x + reach * 0.2, y - reach * 0.7], [x + reach * 0.05, y - reach]], 20)
        pen.canvas.stroke(twig, 8, 6, 2, pen.ink(2))
        for spot in twig[5::3]:
            tip = spot + [rng.uniform(-30, 30), rng.uniform(-22, 4)]
            pen.line(np.array([spot, tip]), 2, 0.5)
            pen.shape(ellipse(tip, 6, 6), 1)


def potted(pen: Pen) -> None:
    """A pot that takes half the tile: deep, round or shallow, banded or painted, on feet or a stand, something growing in it."""
    rng = pen.rng
    top, foot = rng.uniform(110, 165), rng.uniform(214, 228)
    wide = rng.uniform(34, 66)
    bulge = rng.choice([0.75, 0.95, 1.25])
    _tufts(pen, 96, top + 2, top - rng.uniform(20, 34))
    pen.shape(even([wide, wide * (1 + bulge) / 2, wide * bulge, wide * 0.7], top, foot), 2)
    rim = np.array([[96 - wide - 7, top - 5], [96 + wide + 7, top - 5], [96 + wide + 4, top + 9], [96 - wide - 4, top + 9]])
    pen.shape(rim, 2)
    middle, paint = (top + foot) / 2 + 6, rng.integers(5)
    if paint == 0:
        for y in np.linspace(top + 20, foot - 14, int(rng.integers(1, 4))):
            pen.line(np.array([[96 - wide * 0.8, y], [96 + wide * 0.8, y]]), 1, 0.7)
    elif paint == 1:
        blossom(pen, 96, float(middle), rng.uniform(12, 20), 1, int(rng.integers(3)))
    elif paint == 2:
        xs = np.linspace(96 - wide * 0.8, 96 + wide * 0.8, 30)
        pen.line(np.stack([xs, middle + 7 * np.sign(np.sin(xs / 5))], 1), 1, 0.6)
    elif paint == 3:
        for x in np.linspace(-0.6, 0.6, int(rng.integers(2, 5))) * wide:
            pen.dot(96 + float(x), float(middle), rng.uniform(4, 8), 1)
    if rng.random() < 0.6:
        for x in np.linspace(-0.6, 0.6, int(rng.integers(2, 4))) * wide:
            pen.shape(np.array([[90 + x, foot - 2], [102 + x, foot - 2], [99 + x, foot + 16], [93 + x, foot + 16]]), 2)
    if rng.random() < 0.3:
        pen.shape(np.array([[96 - wide, foot + 10], [96 + wide, foot + 10], [96 + wide, foot + 20], [96 - wide, foot + 20]]), 1)


def basket(pen: Pen) -> None:
    """A woven basket with a bow for a handle, full of flowers, fruit or leaves (held out)."""
    rng = pen.rng
    top, wide = rng.uniform(140, 162), rng.uniform(52, 72)
    bow = curve([[96 - wide, top], [96 - wide * 0.8, 60], [96, rng.uniform(18, 40)], [96 + wide * 0.8, 60], [96 + wide, top]], 30)
    pen.line(bow, 2, 1.2)
    heads = int(rng.integers(8))
    for _ in range(int(rng.integers(5, 11))):
        x, y = 96 + rng.uniform(-0.8, 0.8) * wide, top - rng.uniform(0, 54)
        if rng.random() < 0.6:
            blossom(pen, x, y, rng.uniform(14, 22), 1, heads)
        else:
            foliage(pen, x, y, -np.pi / 2 + rng.uniform(-1, 1), rng.uniform(24, 40), 0, int(rng.integers(4)))
    pen.shape(even([wide, wide * 0.95, wide * 0.7], top, 232), 2)
    for k in range(1, int(rng.integers(3, 6))):
        y = top + (232 - top) * k / 6
        pen.line(np.array([[96 - wide * 0.9, y], [96 + wide * 0.9, y]]), 2, 0.5)
    for x in np.linspace(-0.7, 0.7, int(rng.integers(4, 9))) * wide:
        pen.line(np.array([[96 + x, top + 4], [96 + x * 0.8, 228]]), 2, 0.5)


def fish(pen: Pen, at: Points, size: float, angle: float) -> None:
    """One fish of a shape of its own: slim or round, scaled or striped, its tail a fork, a fan or a veil."""
    rng = pen.rng
    deep, tail = rng.uniform(0.28, 0.6), rng.integers(3)

    def spot(points: list[list[float]]) -> Points:
        return np.asarray(turned(np.array(points, float) * size, angle) + at)

    if tail == 0:
        pen.shape(spot([[-0.8, 0], [-1.5, -0.5], [-1.3, 0], [-1.5, 0.5]]), 1)
    elif tail == 1:
        for lean in np.linspace(-0.6, 0.6, 4):
            pen.shape(leaf(spot([[-0.8, 0]])[0], spot([[-1.7, lean]])[0], size * 0.3, lean * 5), 1)
    else:
        for k in range(3):
            pen.shape(leaf(spot([[-0.75, 0]])[0], spot([[-1.3 - 0.3 * k, 0.3 + 0.35 * k]])[0], size * 0.34, -6), 1 + k)
    pen.shape(spot([[-0.3, -deep * 0.7], [-0.1, -deep - 0.35], [0.3, -deep - 0.1], [0.45, -deep * 0.6]]), 1)
    pen.shape(spot([[0, deep * 0.7], [-0.3, deep + 0.25], [0.2, deep * 0.8]]), 1)
    back = curve([[-0.9, -0.08], [-0.2, -deep], [0.5, -deep * 0.8], [1, 0.02], [0.5, deep * 0.75], [-0.2, deep], [-0.9, 0.08]], 34)
    pen.shape(spot(back.tolist()), 0)
    pen.line(spot(curve([[0.45, -deep * 0.6], [0.35, 0], [0.45, deep * 0.6]], 8).tolist()), 2, 0.7)
    if rng.random() < 0.5:
        for x in np.linspace(-0.6, 0.2, 5):
            for y in np.linspace(-0.5, 0.5, 3) * deep:
                pen.line(spot([[x - 0.06, y - 0.09], [x + 0.03, y], [x - 0.06, y + 0.09]]), 2, 0.4)
    elif rng.random() < 0.6:
        for x in (-0.5, -0.15, 0.15):
            pen.line(spot([[x, -deep * 0.8], [x - 0.05, deep * 0.8]]), 2, 0.9)
    eye = spot([[0.68, -deep * 0.25]])[0]
    pen.eye(float(eye[0]), float(eye[1]), max(2.0, size * 0.07), 2)


def goldfish(pen: Pen) -> None:
    """One fish, large, or two or three, at any angle, with bubbles, weeds or ripples."""
    rng = pen.rng
    count = int(rng.choice([1, 1, 2, 3]))
    for _ in range(count if rng.random() < 0.6 else 0):
        x = rng.uniform(20, 172)
        pen.line(curve([[x, 246], [x + 12, 210], [x - 8, 176], [x + 6, rng.uniform(110, 160)]], 14), 1, 0.8)
        foliage(pen, x + 4, 190.0, -0.8, 26, 1, int(rng.integers(4)))
    for k in range(count):
        y = 128 if count == 1 else 66 + 124 * k / (count - 1)
        angle = rng.uniform(-1.6, 0.6) if count == 1 else rng.uniform(-0.7, 0.7) + np.pi * rng.integers(2)
        fish(pen, np.array([96 + rng.uniform(-14, 14), y]), (62, 48, 34)[count - 1] * rng.uniform(0.9, 1.1), angle)
    for _ in range(int(rng.integers(0, 5))):
        x, y, r = rng.uniform(20, 172), rng.uniform(14, 120), rng.uniform(3, 7)
        pen.canvas.line(ellipse((x, y), r, r), 2, pen.ink(2), closed=True)


def curio(pen: Pen) -> None:
    """A scholar's or household thing: an open fan, books, scrolls in a jar, an umbrella, a double gourd, a stringed coin."""
    rng = pen.rng
    kind = rng.integers(6)
    if kind == 0:
        hub, count = np.array([96.0, 206.0]), int(rng.integers(7, 15))
        angles = np.linspace(-np.pi + 0.35, -0.35, count)
        for a, b in pairwise(angles):
            slat = [hub + r * np.array([np.cos(t), np.sin(t)]) for r, t in ((rng.uniform(40, 44), a), (128, a), (128, (a + b) / 2), (40, b))]
            pen.shape(np.array(slat), 0)
            pen.line(np.array([hub, slat[0]]), 2, 0.6)
        blossom(pen, 96 + rng.uniform(-30, 30), 118, 24, 1, int(rng.integers(8)))
    elif kind == 1:
        y = 224.0
        for k in range(int(rng.integers(2, 6))):
            wide, x = rng.uniform(48, 70), 96 + rng.uniform(-10, 10)
            pen.shape(np.array([[x - wide, y - 22], [x + wide, y - 22], [x + wide, y], [x - wide, y]]), k)
            pen.line(np.array([[x - wide + 8, y - 11], [x + wide - 8, y - 11]]), k + 1, 0.5)
            y -= 24
        if rng.random() < 0.6:
            _tufts(pen, 96, y + 2, y - 20)
    elif kind == 2:
        for lean in np.linspace(-0.5, 0.5, int(rng.integers(3, 6))):
            tip = np.array([96 + lean * 130, rng.uniform(22, 70)])
            pen.canvas.stroke(np.array([[96 + lean * 30, 150.0], [96 + lean * 90, 100.0], tip]), 10, 10, rng.choice([2, 10, 18]), pen.ink(1))
        pen.shape(even([30, 40, 40, 34], 132, 236), 0)
        blossom(pen, 96, 186, 20, 2, int(rng.integers(3)))
    elif kind == 3:
        top = np.array([[16, 124], [36, 70], [96, 30], [156, 70], [176, 124]], float)
        rim = curve(top.tolist(), 24)
        pen.shape(np.concatenate([rim, np.stack([np.linspace(176, 16, 17), 124 - 9 * np.abs(np.sin(np.linspace(0, 4 * np.pi, 17)))], 1)]), 0)
        for x in (56, 96, 136):
            pen.line(curve([[96, 30], [(96 + x) / 2 + (x - 96) * 0.2, 70], [x, 120]], 8), 1, 0.6)
        pen.line(curve([[96, 30], [96, 216], [108, 234], [122, 222]], 16), 2)
    elif kind == 4:
        pen.shape(np.concatenate([even([10, 34, 30, 12, 40, 56, 44, 12], 44, 236)]), 0)
        pen.line(curve([[96, 46], [104, 28], [90, 16]], 8), 2)
        pen.line(np.array([[80, 122], [112, 122]]), 1, 1.4)
        for side in (-1, 1):
            pen.line(curve([[96, 122], [96 + side * 40, 140], [96 + side * 30, 172]], 10), 1, 0.8)
        foliage(pen, 104, 30, -0.4, 40, 2, int(rng.integers(4)))
    else:
        for k in range(int(rng.integers(2, 4))):
            y, r = 76 + 66 * k, 38
            pen.shape(ellipse((96, y), r, r), 0)
            pen.canvas.shape(np.array([[86, y - 10], [106, y - 10], [106, y + 10], [86, y + 10]]), None, pen.ink(1), 2.5)
        pen.line(curve([[96, 8], [88, 24], [96, 40]], 8), 1)
        for side in (-1, 0, 1):
            pen.stroke(np.array([[96, y + 38], [96 + side * 14, 250]]), 5, 1)


def cascade(pen: Pen) -> None:
    """Crags with a fall of water, a pavilion, a moon or pines."""
    rng = pen.rng
    for side in (-1, 1):
        x = 96 + side * rng.uniform(52, 66)
        wide, top = rng.uniform(34, 50), rng.uniform(40, 110)
        crag = np.array([[x - wide, 240], [x - wide * 0.8, top + 60], [x - 10, top], [x + 12, top + 18], [x + wide * 0.9, top + 74], [x + wide, 240]])
        pen.shape(crag + np.concatenate([[[0, 0]], rng.normal(0, 5, (4, 2)), [[0, 0]]]), 0)
        for _ in range(int(rng.integers(1, 5))):
            start = np.array([x + rng.uniform(-16, 16), top + rng.uniform(24, 80)])
            pen.line(np.array([start, start + [rng.uniform(-14, 14), rng.uniform(16, 40)]]), 1, 0.6)
        if rng.random() < 0.5:
            for k in range(3):
                pen.shape(ellipse((x + 4, top - 4 - 12 * k), 24 - 6 * k, 8), 1)
    for k in range(int(rng.integers(2, 6))):
        x = 82 + 7 * k
        pen.line(curve([[x, rng.uniform(70, 110)], [x + rng.uniform(-4, 4), 150], [x + rng.uniform(-6, 6), 214]], 12), 2, 0.7)
    for k in range(int(rng.integers(1, 4))):
        xs = np.linspace(30, 162, 18)
        pen.line(np.stack([xs, 222 + 9 * k + 3 * np.sin(xs / 7)], 1), 2, 0.7)
    if rng.random() < 0.5:
        pen.shape(ellipse((rng.uniform(60, 132), rng.uniform(24, 40)), 15, 15), 2)


def hanging(pen: Pen) -> None:
    """Wisteria, willow catkins, grapes or lanterns of blossom that hang from a bough in clusters."""
    rng = pen.rng
    bough = curve([[6, rng.uniform(20, 60)], [70, 34], [130, 46], [188, rng.uniform(24, 70)]], 24)
    pen.canvas.stroke(bough, 10, 7, 4, pen.ink(2))
    kind = rng.integers(3)
    for x in np.linspace(30, 162, int(rng.integers(2, 6))):
        root = np.array([x, 44.0])
        long = rng.uniform(80, 180)
        for t in np.linspace(0.1, 1, int(rng.integers(6, 12))):
            half = 20 * (1 - t) + 3
            for across in (-0.7, 0.7) if kind == 0 else (0.0,):
                spot = root + [across * half + rng.uniform(-3, 3), long * t]
                if kind == 2:
                    pen.shape(leaf(spot, spot + [rng.choice([-1, 1]) * 18, 14], 9), 0)
                else:
                    pen.shape(ellipse(spot, 7, 7) if kind == 0 else ellipse(spot, half * 0.6 + 3, 6), 1)
        pen.line(np.array([root, root + [0, long * 0.9]]), 0, 0.4)
    for _ in range(int(rng.integers(1, 5))):
        spot = bough[int(rng.integers(2, 22))]
        foliage(pen, float(spot[0]), float(spot[1]), rng.uniform(-2.6, -0.5), rng.uniform(24, 40), 0, int(rng.integers(4)))


def reeds(pen: Pen) -> None:
    """Bulrushes, rice, wheat or pampas by the water, a dragonfly or the moon above (held out)."""
    rng = pen.rng
    kind = rng.integers(3)
    for x in rng.uniform(40, 152, int(rng.integers(3, 8))):
        top = np.array([x + rng.uniform(-24, 24), rng.uniform(24, 110)])
        pen.line(curve([[x, 236], [x, 160], list(top)], 12), 0, 0.7)
        if kind == 0:
            pen.shape(leaf(top + [0, 30], top - [0, 12], 13), 1)
        else:
            for k in range(7):
                for side in (-1, 1):
                    spot = top + [0, 6.0 * k]
                    pen.shape(leaf(spot, spot + [side * 12, -10 if kind == 1 else 10], 5), 1)
        pen.shape(leaf(np.array([x, 236.0]), np.array([x + rng.choice([-1, 1]) * 44, rng.uniform(110, 180)]), 10, 6), 0)
    for k in range(int(rng.integers(1, 4))):
        pen.line(np.array([[rng.uniform(14, 60), 236 + 5 * k], [rng.uniform(130, 180), 236 + 5 * k]]), 2, 0.6)
    if rng.random() < 0.5:
        pen.canvas.line(ellipse((rng.uniform(50, 150), 44), 26, 26), 3, pen.ink(2), closed=True)


FAMILIES: Final[tuple[Plant, ...]] = (potted, potted, goldfish, goldfish, curio, cascade, hanging)
HELD_OUT: Final[tuple[Plant, ...]] = (basket, reeds)
