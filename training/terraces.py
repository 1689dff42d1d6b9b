"""Further pictures of flower tiles: pines, dwarf trees in trays, grapes on a trellis, jars, leaping carp, boughs, garlands."""

from __future__ import annotations

from typing import Final

import numpy as np

from tilewitness.training.engraving import Points, along, curve, ellipse, leaf, ribbon, turned
from tilewitness.training.pens import Pen
from tilewitness.training.plants import Plant, blossom


def _trunk(pen: Pen, knots: list[list[float]], thick: float, place: int) -> Points:
    """A crooked trunk from foot to top; returns its spine."""
    spine = curve(knots, 28)
    pen.shape(ribbon(spine, np.linspace(thick, thick * 0.35, len(spine))), place)
    return spine


def _cushion(pen: Pen, x: float, y: float, wide: float, manner: int) -> None:
    """One layer of a pine's needles: a flat cloud, a fan of needles, or a row of tufts."""
    rng = pen.rng
    if manner == 0:
        steps = np.linspace(np.pi, 2 * np.pi, 14)
        bumps = wide * (1 + 0.12 * np.cos(6 * (steps - np.pi)))
        pen.shape(np.stack([x + bumps * np.cos(steps), y + bumps * 0.55 * np.sin(steps)], 1), 0)
        return
    for k in range(1 if manner == 1 else int(rng.integers(3, 5))):
        foot = np.array([x, y]) if manner == 1 else np.array([x + wide * (k / 2 - 0.7), y + rng.uniform(-4, 4)])
        reach = wide * (0.95 if manner == 1 else 0.5)
        for angle in np.linspace(-np.pi * 0.97, -np.pi * 0.03, 9 if manner == 1 else 6):
            way = np.array([np.cos(angle), 0.7 * np.sin(angle)])
            pen.line(np.stack([foot, foot + way * reach]), 0, 0.7)


def pine(pen: Pen) -> None:
    """A pine with a leaning trunk and flat layers of needles, sometimes a moon, a crag or cones."""
    rng = pen.rng
    lean, manner = rng.uniform(-40, 40), int(rng.integers(3))
    if rng.random() < 0.25:
        pen.shape(ellipse((96 - np.sign(lean) * 52, 46), 17, 17), 2)
    spine = _trunk(
        pen, [[96 - lean, 240], [96 + rng.uniform(-24, 24), 170], [96 + lean * 0.5, 110], [96 + lean, 44]],
        rng.uniform(10, 20), 1,
    )  # fmt: skip
    for k, place in enumerate(np.linspace(9, 27, int(rng.integers(3, 6))).astype(int)):
        side = 1 if k % 2 else -1
        at = spine[place] + [side * rng.uniform(14, 44) * (place < 27), 0]
        pen.stroke(curve([list(spine[place] + [0, 8]), list((spine[place] + at) / 2), list(at)], 8), 6, 1)
        _cushion(pen, float(at[0]), float(at[1]), rng.uniform(26, 42) * (1.15 - place / 60), manner)
    if rng.random() < 0.4:
        pen.shape(curve([[30, 246], [60, 222], [110, 232], [150, 226], [172, 246]], 16), 2)


def dwarf_tree(pen: Pen) -> None:
    """A dwarf tree in a flat tray or pot: a bent trunk with clouds of leaves or blossoms."""
    rng = pen.rng
    wide, y = rng.uniform(40, 62), rng.uniform(196, 208)
    deep = rng.uniform(18, 36)
    pen.shape(np.array([[96 - wide, y], [96 + wide, y], [96 + wide * 0.82, y + deep], [96 - wide * 0.82, y + deep]]), 2)
    for side in (-1, 1):
        foot = 96 + side * wide * 0.6
        pen.shape(np.array([[foot - 7, y + deep], [foot + 7, y + deep], [foot + 5, y + deep + 9], [foot - 5, y + deep + 9]]), 2)
    bend = rng.choice([-1, 1]) * rng.uniform(24, 46)
    spine = _trunk(pen, [[96, y], [96 + bend, y - 44], [96 - bend * 0.6, y - 92], [96 + bend * 0.4, y - 136]],
                   rng.uniform(14, 24), 1)  # fmt: skip
    manner, flowering = int(rng.integers(3)), rng.random() < 0.35
    for place in (9, 17, 27)[: int(rng.integers(2, 4))]:
        for side in (-1, 1) if place < 27 else (0,):
            if rng.random() < 0.25:
                continue
            x, top = spine[place] + [side * rng.uniform(20, 40), rng.uniform(-8, 6)]
            pen.stroke(np.stack([spine[place], np.array([x, top])]), 5, 1)
            if flowering:
                for _ in range(3):
                    blossom(pen, x + rng.uniform(-16, 16), top + rng.uniform(-14, 6), rng.uniform(9, 14), 0, 5)
            else:
                _cushion(pen, float(x), float(top), rng.uniform(22, 36), manner)


def trellis(pen: Pen) -> None:
    """Grapes or a gourd on a climbing shoot with lobed leaves and tendrils, on a trellis or hanging free."""
    rng = pen.rng
    if rng.random() < 0.4:
        for k in range(3):
            pen.line(np.array([[40.0 + 56 * k, 30], [40 + 56 * k, 240]]), 2, 0.6)
            pen.line(np.array([[28.0, 60 + 60 * k], [164, 60 + 60 * k]]), 2, 0.6)
    turn = rng.choice([-1, 1])
    shoot = curve([[96 - turn * 60, 236], [96 - turn * 30, 150], [96 + turn * 34, 110], [96 - turn * 6, 36]], 26)
    pen.stroke(shoot, rng.uniform(5, 9), 1)
    for k in (5, 11, 17, 22)[: int(rng.integers(2, 5))]:
        at = shoot[k] + [turn * (-1) ** k * rng.uniform(20, 36), rng.uniform(-10, 12)]
        size, lobes = rng.uniform(17, 27), int(rng.choice([3, 5]))
        angles = np.linspace(0, 2 * np.pi, 8 * lobes, endpoint=False)
        radius = size * (0.72 + 0.3 * np.abs(np.cos(lobes * angles / 2)))
        pen.line(np.stack([shoot[k], at]), 1, 0.6)
        pen.shape(at + radius[:, None] * np.stack([np.cos(angles), np.sin(angles)], 1), 0)
    for k in (8, 19)[: int(rng.integers(1, 3))]:
        t = np.linspace(0, 3 * np.pi, 24)
        curl = np.stack([np.cos(t), np.sin(t)], 1) * np.linspace(11, 3, 24)[:, None]
        pen.line(curl + shoot[k] + [turn * 12, -10], 1, 0.5)
    x, y = shoot[13] + [turn * rng.uniform(-4, 16), 26]
    if rng.random() < 0.75:  # a bunch that narrows downwards
        rows, berry = int(rng.integers(4, 7)), rng.uniform(7, 10)
        for row in range(rows):
            for k in range(rows - row):
                pen.shape(ellipse((x + (k - (rows - row - 1) / 2) * berry * 1.8, y + row * berry * 1.6), berry, berry), 2)
        return
    pen.shape(ellipse((x, y), 13, 15), 2)
    pen.shape(ellipse((x, y + 34), 25, 27), 2)


def lidded_jar(pen: Pen) -> None:
    """A jar with shoulders, lid and knob on a stand, its belly banded or with a blossom."""
    rng = pen.rng
    wide, neck, top = rng.uniform(44, 66), rng.uniform(20, 32), rng.uniform(66, 90)
    right = curve([[96 + neck, top], [96 + wide, top + 44], [96 + wide * 0.86, 160], [96 + neck * 1.2, 218]], 18)
    left = np.stack([192 - right[:, 0], right[:, 1]], 1)[::-1]
    pen.shape(np.concatenate([right, left]), 0)
    pen.shape(curve([[96 - neck - 8, top], [96 - neck, top - 24], [96, top - 36], [96 + neck, top - 24], [96 + neck + 8, top]], 16), 1)
    pen.shape(ellipse((96, top - 42), 8, 8), 1)
    kind = rng.integers(4)
    if kind == 0:
        for y in (top + 24, 190):
            pen.line(curve([[96 - wide * 0.8, y], [96, y + 9], [96 + wide * 0.8, y]], 10), 1)
    elif kind == 1:
        blossom(pen, 96, 136, wide * 0.5, 1, 5)
    elif kind == 2:
        for x in np.linspace(-0.55, 0.55, 5) * wide:
            pen.line(np.array([[96 + x, top + 20], [96 + x * 0.8, 204]]), 1, 0.6)
    if rng.random() < 0.5:
        for side in (-1, 1):
            pen.line(ellipse((96 + side * (wide + 6), top + 46), 10, 15), 1, 0.9)
    if rng.random() < 0.6:
        pen.shape(np.array([[96 - neck * 1.6, 220], [96 + neck * 1.6, 220], [96 + neck * 2, 236], [96 - neck * 2, 236]]), 2)
    if rng.random() < 0.3:  # smoke, as from a censer
        for k in range(int(rng.integers(1, 4))):
            x = 96 + (k - 1) * 18.0
            pen.line(curve([[x, top - 50], [x + 12, top - 62], [x - 10, top - 74], [x + 6, 4]], 12), 2, 0.6)


def carp(pen: Pen) -> None:
    """A carp that leaps in a bow over waves, or swims upright among weeds: scales, fins, barbels, forked tail."""
    rng = pen.rng
    side, leaping = rng.choice([-1, 1]), rng.random() < 0.6
    knots = ([[96 - side * 50, 70], [96 + side * 6, 44], [96 + side * 46, 96], [96 + side * 24, 168]] if leaping else
             [[96, 40], [96 + side * 16, 90], [96 - side * 14, 150], [96 + side * 8, 204]])  # fmt: skip
    spine = curve(knots, 30)
    widths = np.interp(np.linspace(0, 1, 30), [0, 0.3, 0.85, 1], [18, rng.uniform(40, 58), 16, 10])
    pen.shape(ribbon(spine, widths), 0)
    pen.scales(spine[7:25], widths[7:25], None if rng.random() < 0.5 else pen.ink(1), int(rng.integers(2, 4)))
    way = spine[-1] - spine[-4]
    way /= np.hypot(*way)
    for lean in (-0.6, 0.6):
        pen.shape(leaf(spine[-1], spine[-1] + turned(way[None], lean)[0] * rng.uniform(30, 46), 20, 5), 1)
    for k, flip in ((11, 1), (11, -1), (18, rng.choice([-1, 1]))):
        ahead = spine[k + 1] - spine[k]
        ahead /= np.hypot(*ahead)
        out = np.array([-ahead[1], ahead[0]]) * flip
        root = spine[k] + out * widths[k] * 0.4
        pen.shape(leaf(root, root + (out + ahead) * rng.uniform(14, 24), 14), 1)
    ahead = spine[0] - spine[3]
    ahead /= np.hypot(*ahead)
    eye = spine[4] + np.array([-ahead[1], ahead[0]]) * widths[4] * 0.22
    pen.eye(float(eye[0]), float(eye[1]), 4, 2)
    for lean in (-0.7, 0.7):
        pen.line(curve([list(spine[0]), list(spine[0] + turned(ahead[None], lean)[0] * 12), list(spine[0] + ahead * 9 + [0, 14])], 6), 1, 0.5)
    if leaping:
        for row in range(int(rng.integers(1, 4))):
            t = np.linspace(14, 178, 40)
            y = 214 + 14 * row + 8 * np.abs(np.sin(t / 13 + row))
            pen.line(np.stack([t, y], 1), 2, 0.9)
    else:
        for x in rng.uniform(24, 168, int(rng.integers(0, 5))):
            pen.stroke(curve([[x, 246], [x + 10, 212], [x - 8, 182], [x + 4, 150]], 12), 6, 2)


def blossom_bough(pen: Pen) -> None:
    """A gnarled bough of plum or cherry across the tile: side twigs, buds, open blossoms, falling petals."""
    rng = pen.rng
    side = rng.choice([-1, 1])
    spine = curve(
        [[96 - side * 84, rng.uniform(190, 240)], [96 - side * 26, 170], [96 + side * 10, 110], [96 + side * 70, rng.uniform(30, 70)]], 26,
    )  # fmt: skip
    pen.stroke(spine, rng.uniform(9, 17), 1, taper=0.35)
    kind = int(rng.choice([4, 5, 6]))
    for k in rng.permutation(np.arange(5, 25))[: int(rng.integers(4, 8))]:
        way = turned(np.array([[side * 1.0, -0.4]]), float(rng.choice([-1.2, 0.9]) + rng.normal(0, 0.3)))[0]
        tip = spine[k] + way * rng.uniform(16, 46)
        pen.stroke(curve([list(spine[k]), list((spine[k] + tip) / 2 + rng.normal(0, 3, 2)), list(tip)], 7), 4, 1)
        if rng.random() < 0.7:
            blossom(pen, float(tip[0]), float(tip[1]), rng.uniform(13, 24), 0, kind)
        else:
            pen.shape(ellipse(tip, 6, 7), 0)
    for _ in range(int(rng.integers(0, 5))):
        spot = rng.uniform((30, 160), (162, 240))
        pen.shape(leaf(spot, spot + rng.uniform(-9, 9, 2), 7), 0)


def garland(pen: Pen) -> None:
    """A shoot that swings up, across or around the tile, leaves and blossoms or berries by turns on both sides."""
    rng = pen.rng
    swing, waves, phase = rng.uniform(16, 44), rng.uniform(1.0, 3.4), rng.uniform(0, 2 * np.pi)
    t = np.linspace(0, 1, 40)
    if rng.random() < 0.2:  # bent into an open wreath
        angle = phase + t * rng.uniform(4.4, 5.6)
        spine = np.stack([96 + 64 * np.cos(angle), 128 + 88 * np.sin(angle)], 1)
    else:
        tilt = rng.choice([0.0, rng.uniform(-0.9, 0.9)])
        spine = np.stack([swing * np.sin(phase + waves * np.pi * t), 200 * (0.5 - t)], 1)
        spine = turned(spine, float(tilt)) + [96, 128]
    pen.stroke(spine, rng.uniform(3, 8), 1, taper=0.5)
    way = along(spine)
    kind, step = int(rng.choice([4, 5, 6])), int(rng.integers(3, 6))
    fruit, heart = rng.choice(["blossom", "berries", "none"]), rng.random() < 0.4
    for n, k in enumerate(range(2, 38, step)):
        side = 1 if n % 2 else -1
        out = np.array([-way[k][1], way[k][0]]) * side
        tip = spine[k] + (out + way[k] * 0.4) * rng.uniform(20, 32)
        stalk = spine[k] + (tip - spine[k]) * 0.35
        pen.line(np.stack([spine[k], stalk]), 1, 0.5)
        if n % 3 == 2 and fruit == "blossom":
            blossom(pen, float(tip[0]), float(tip[1]), rng.uniform(12, 19), 2, kind)
        elif n % 3 == 2 and fruit == "berries":
            for _ in range(3):
                pen.shape(ellipse(tip + rng.uniform(-8, 8, 2), 5, 5), 2)
        else:
            pen.shape(leaf(stalk, tip, 20 if heart else 12, side * rng.uniform(0, 5)), 0)


TERRACES: Final[tuple[Plant, ...]] = (
    pine, pine, dwarf_tree, dwarf_tree, trellis, lidded_jar, carp, blossom_bough, blossom_bough, garland, garland,
)  # fmt: skip
