"""Dragons as robes and shields show them: facing us over their coils or with their face alone, winged, archaic."""

from __future__ import annotations

from typing import Final

import numpy as np

from tilewitness.training.engraving import Points, along, curve, ellipse, leaf, profile, ribbon, turned
from tilewitness.training.pens import Pen


def _coils(pen: Pen, spine: Points, thick: float) -> None:
    """A body along a spine from neck to tail, scaled, ringed or plain, with a comb along its back."""
    rng = pen.rng
    widths = profile(len(spine), thick * 0.9, thick, thick * 0.15)
    ways = along(spine)
    back = np.stack([-ways[:, 1], ways[:, 0]], 1) * rng.choice([-1, 1])
    for k in range(3, len(spine) - 3, 3) if rng.random() < 0.7 else ():
        root = spine[k] + back[k] * widths[k] * 0.4
        pen.shape(np.stack([root - ways[k] * 4, root + back[k] * rng.uniform(7, 12), root + ways[k] * 4]), 1)
    pen.shape(ribbon(spine, widths), 0)
    if rng.random() < 0.7:
        pen.scales(spine[2:-4], widths[2:-4], None if rng.random() < 0.5 else pen.ink(1), int(rng.integers(2, 5)))
    for lean in (-0.7, 0.0, 0.7):
        pen.shape(leaf(spine[-1], spine[-1] + turned(ways[-1][None], lean)[0] * rng.uniform(14, 24), 8), 1)


def _claw(pen: Pen, root: Points, foot: Points) -> None:
    """A leg that ends in four spread talons."""
    bend = (root + foot) / 2 + np.array([foot[1] - root[1], root[0] - foot[0]]) * 0.25
    pen.canvas.stroke(curve([list(root), list(bend), list(foot)], 10), 14, 11, 8, pen.ink(0))
    heading = float(np.arctan2(*(foot - bend)[::-1]))
    for k in range(4):
        lean = heading + (k - 1.5) * 0.55
        pen.stroke(np.stack([foot, foot + np.array([np.cos(lean), np.sin(lean)]) * 15]), 5, 1)


def _front(pen: Pen, x: float, y: float, size: float) -> None:
    """A broad face seen from the front: antlers, brows, bulging eyes, nostrils, whiskers, teeth, a beard."""
    rng = pen.rng
    for side in (-1, 1):
        antler = [[x + side * size * 0.4, y - size * 0.6], [x + side * size * 0.7, y - size * 1.3], [x + side * size * 1.2, y - size * 1.6]]
        pen.stroke(curve(antler, 10), size * 0.2, 2)
        if rng.random() < 0.6:
            fork = np.array(antler[1])
            pen.stroke(np.stack([fork, fork + [side * size * 0.05, -size * 0.5]]), size * 0.14, 2)
        for k in range(int(rng.integers(2, 5))):
            cheek = np.array([x + side * size * 0.8, y + size * (0.25 * k - 0.3)])
            pen.shape(leaf(cheek, cheek + [side * size * rng.uniform(0.5, 0.9), size * (0.3 * k - 0.3)], size * 0.3, side * 3), 1)
    outline = curve([[x - size * 0.7, y - size * 0.7], [x, y - size * 0.85], [x + size * 0.7, y - size * 0.7],
                     [x + size * 0.95, y], [x + size * 0.6, y + size * 0.75], [x, y + size * 0.95],
                     [x - size * 0.6, y + size * 0.75], [x - size * 0.95, y], [x - size * 0.7, y - size * 0.7]], 36)  # fmt: skip
    pen.shape(outline, 0)
    for side in (-1, 1):
        pen.shape(ellipse((x + side * size * 0.38, y - size * 0.22), size * 0.24, size * 0.2), 2)
        pen.eye(x + side * size * 0.38, y - size * 0.22, max(2.2, size * 0.09), 0)
        brow = [[x + side * size * 0.1, y - size * 0.45], [x + side * size * 0.45, y - size * 0.62], [x + side * size * 0.75, y - size * 0.42]]
        pen.stroke(curve(brow, 8), size * 0.14, 1)
        pen.shape(ellipse((x + side * size * 0.17, y + size * 0.2), size * 0.13, size * 0.1), 1)
        whisker = [[x + side * size * 0.35, y + size * 0.3], [x + side * size * 1.1, y + size * 0.5],
                   [x + side * size * 1.3, y + size * rng.uniform(-0.3, 1.4)]]  # fmt: skip
        pen.line(curve(whisker, 10), 1, 0.7)
    mouth = curve([[x - size * 0.5, y + size * 0.42], [x, y + size * 0.55], [x + size * 0.5, y + size * 0.42]], 10)
    pen.line(mouth, 2)
    for k in range(int(rng.choice([0, 4, 5]))):
        tooth = x - size * 0.35 + k * size * 0.17
        pen.shape(np.array([[tooth, y + size * 0.5], [tooth + size * 0.12, y + size * 0.5], [tooth + size * 0.06, y + size * 0.68]]), 2)
    for k in range(int(rng.integers(0, 4))):
        root = np.array([x + (k - 1) * size * 0.25, y + size * 0.9])
        pen.shape(leaf(root, root + [(k - 1) * 6.0, size * rng.uniform(0.3, 0.6)], size * 0.16), 1)


def facing(pen: Pen) -> None:
    """Its face turned to us, the body winding below or behind it, claws to both sides, perhaps a pearl."""
    rng = pen.rng
    size, y = rng.uniform(26, 36), rng.uniform(70, 118)
    side = rng.choice([-1, 1])
    swing = rng.uniform(44, 66)
    if y < 92:
        knots = [[96, y + size * 0.5], [96 + side * swing, y + 62], [96 - side * swing, y + 104], [96 + side * swing * 0.7, 236]]
    else:
        angle = np.linspace(0.5, 2 * np.pi - 0.3, 8) * side - np.pi / 2 * side
        knots = [[96, y], *np.stack([96 + 74 * np.cos(angle), 128 + 96 * np.sin(angle)], 1).tolist()]
    _coils(pen, curve(knots, 50), rng.uniform(20, 32))
    for way in (-1, 1):
        if rng.random() < 0.85:
            _claw(pen, np.array([96 + way * 26, y + size * 1.6]), np.array([96 + way * rng.uniform(58, 80), y + rng.uniform(30, 90)]))
    _front(pen, 96, y, size)
    if rng.random() < 0.35:
        pen.shape(ellipse((96 + rng.uniform(-20, 20), y + size * 1.6), 9, 9), 2)


def winged(pen: Pen) -> None:
    """A dragon of shields: upright in profile, bat's wings raised, barbed tail, tongue out."""
    rng = pen.rng
    side = rng.choice([-1, 1])

    def at(points: list[list[float]]) -> Points:
        return np.array([[96 + side * x, y] for x, y in points], float)

    rise = rng.uniform(0, 26)
    for k in range(int(rng.integers(1, 3))):
        hub = at([[-14 + 10 * k, 112]])[0]
        tips = at([[-34 + 26 * k, 22 - rise * 0.4], [-66 + 20 * k, 40], [-88 + 18 * k, 78], [-84 + 16 * k, 124]])
        web = [hub]
        for tip, after in zip(tips, [*tips[1:], hub], strict=True):
            web += [tip, tip * 0.45 + after * 0.3 + hub * 0.25]
        pen.shape(np.array(web[:-1]), 1)
        for tip in tips[1:3]:
            pen.line(np.stack([hub, tip]), 0, 0.6)
    spine = curve(at([[30, 62], [12, 84], [4, 122], [-14, 164], [-50, 204], [-10, 236], [44, 220], [62, 180]]).tolist(), 50)
    _coils(pen, spine, rng.uniform(26, 38))
    barb = at([[62, 178], [50, 158], [66, 138], [82, 158]])
    pen.shape(barb, 1)
    for root, foot in (([10.0, 110.0], [58.0, 96.0]), ([4.0, 128.0], [58.0, 146.0]), ([-18.0, 170.0], [34.0, 186.0])):
        _claw(pen, at([root])[0], at([foot])[0])
    jaw = rng.uniform(4, 12)
    pen.shape(at([[20, 74], [14, 46], [34, 34], [66, 46], [78, 54], [72, 61], [46, 62], [72, 64 + jaw], [68, 72 + jaw], [40, 76]]), 0)
    pen.line(curve(at([[54, 63], [80, 64 + jaw / 2], [90, 56]]).tolist(), 8), 1, 0.7)
    for x in (14, 24):
        pen.shape(at([[x, 44], [x - 14, 18], [x + 9, 38]]), 1)
    eye = at([[40, 48]])[0]
    pen.eye(float(eye[0]), float(eye[1]), 3.2, 2)


def head_on(pen: Pen) -> None:
    """The face alone, filling the tile, perhaps over two claws and before a mane."""
    rng = pen.rng
    size, y = rng.uniform(44, 58), rng.uniform(126, 142)
    if rng.random() < 0.4:
        for way in (-1, 1):
            _claw(pen, np.array([96 + way * 40, y + size]), np.array([96 + way * rng.uniform(50, 76), y + size * 1.8]))
    for k in range(int(rng.integers(0, 9))):  # a mane that stands out around the face
        angle = -np.pi * (0.05 + 0.9 * k / 8)
        out = np.array([np.cos(angle), np.sin(angle)])
        root = np.array([96, y]) + out * size * 0.8
        pen.shape(leaf(root, root + out * size * rng.uniform(0.3, 0.7), size * 0.25, rng.uniform(-4, 4)), 1)
    _front(pen, 96, y, size)


def jade(pen: Pen) -> None:
    """An archaic dragon as jades have it: a thick C or S with a long snout, a swept mane and spirals cut into it."""
    rng = pen.rng
    side, wide = rng.choice([-1, 1]), rng.uniform(58, 76)
    if rng.random() < 0.55:
        angle = np.linspace(-0.5, rng.uniform(3.9, 4.6), 12)
        knots = np.stack([96 + side * wide * np.cos(angle), 128 + wide * 1.25 * np.sin(angle)], 1)
    else:
        t = np.linspace(0, 1, 12)
        knots = np.stack([96 + side * wide * np.sin(2 * np.pi * (t + 0.06)), 30 + 196 * t], 1)
    spine = curve(knots.tolist(), 50)
    thick = rng.uniform(20, 36)
    pen.shape(ribbon(spine, profile(len(spine), thick, thick, thick * 0.5)), 0)
    ways = along(spine)
    ahead, out = -ways[0], np.array([-ways[0][1], ways[0][0]])
    for flip in (-1, 1):
        pen.shape(leaf(spine[0], spine[0] + ahead * thick * 1.3 + out * flip * thick * 0.35, thick * 0.6, flip * 3), 0)
    pen.shape(leaf(spine[2], spine[10] + out * rng.choice([-1, 1]) * thick * rng.uniform(1.0, 1.8), thick * 0.5, 6), 1)
    eye = spine[1] + out * thick * 0.1
    pen.eye(float(eye[0]), float(eye[1]), 3.5, 2)
    turn = np.linspace(0, 3.4 * np.pi, 26)
    for k in range(8, 46, int(rng.integers(6, 12))):
        curl = np.stack([np.cos(turn), np.sin(turn)], 1) * np.linspace(thick * 0.32, 1.5, 26)[:, None]
        pen.canvas.line(spine[k] + curl, max(1.5, pen.width * 0.5), None if rng.random() < 0.5 else pen.ink(1))
    for lean in (-0.8, 0.8):
        tip = spine[-1] + turned(ways[-1][None], lean)[0] * thick * rng.uniform(0.5, 1.0)
        pen.shape(leaf(spine[-1], tip, thick * 0.35, 5), 0)


def scrolled(pen: Pen) -> None:
    """A dragon of single strokes that end in scrolls, as on bronzes and lattices; the head a hook with an eye."""
    rng = pen.rng
    width = rng.uniform(5, 12)
    lean, rows = rng.choice([-1, 1]), int(rng.integers(3, 5))
    step = 190 / rows
    path = [[96 + lean * 58, 34]]
    for row in range(rows):
        reach = 58 * (-1) ** row * lean
        path += [[96 + reach, 34 + step * row + step * 0.2], [96 - reach, 34 + step * (row + 0.75)]]
    path += [[96 - reach * 0.2, 236]]
    spine = curve(path, 60) if rng.random() < 0.6 else np.asarray(path, float)
    pen.canvas.line(spine, width, pen.ink(0))
    turn = np.linspace(0, 3 * np.pi, 22)
    for k, spot in enumerate(path[1:-1]):
        size = rng.uniform(10, 18)
        curl = np.stack([np.cos(turn) * (-1) ** k, np.sin(turn)], 1) * np.linspace(size, 2, 22)[:, None]
        pen.canvas.line(np.array(spot) + [0, -size] + curl, max(2.0, width * 0.6), pen.ink(k % 2))
    head = np.array(path[0], float)
    pen.shape(head + np.array([[-14, -8], [4, -16], [20, -8], [30, 4], [12, 4], [24, 14], [2, 16], [-12, 10]]) * [lean, 1], 0)
    pen.eye(float(head[0]), float(head[1] - 4), 3, 1)
    for k in range(int(rng.integers(0, 3))):
        pen.stroke(np.stack([head + [-6 * lean, -8], head + [(-18 - 10 * k) * lean, -22 + 8 * k]]), width * 0.7, 1)


FAMILIES: Final = (facing, facing, winged, head_on, jade, scrolled)
