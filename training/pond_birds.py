"""Further birds for 1 bam: on water, on a ring, crowing, diving, in a roundel, in pairs, in a blossoming bough, at a cup."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from tilewitness.training.engraving import Points, curve, ellipse, leaf, turned
from tilewitness.training.pens import Pen
from tilewitness.training.plants import blossom, foliage


def _beaked(pen: Pen, at: Points, size: float, *, hooked: float = 0.0, long: float = 0.9) -> None:
    """A round head looking right with a beak, straight or hooked, and an eye."""
    rng = pen.rng
    tip = at + np.array([size * (0.8 + long), size * (0.15 + hooked)])
    beak = np.array([at + [size * 0.5, -size * 0.5], at + [size * (0.7 + long * 0.8), -size * 0.15], tip, at + [size * 0.7, size * 0.45]])
    pen.shape(beak, 1)
    pen.shape(ellipse(at, size, size * rng.uniform(0.85, 1.0)), 0)
    pen.eye(float(at[0] + size * 0.3), float(at[1] - size * 0.15), max(1.8, size * 0.15), 2)


def _ripples(pen: Pen, y: float) -> None:
    """Waves below a bird that swims, short and long."""
    rng = pen.rng
    wave = rng.uniform(0, 5)
    for k in range(int(rng.integers(1, 5))):
        x0, x1 = rng.uniform(14, 60), rng.uniform(130, 178)
        xs = np.linspace(x0, x1, 20)
        pen.line(np.stack([xs, y + 11 * k + wave * np.sin(xs / rng.uniform(6, 12))], 1), 2, rng.uniform(0.5, 1))


def swimming(pen: Pen) -> None:
    """A duck, mandarin duck or goose on water: a boat of a body, a raised tail, perhaps reeds."""
    rng = pen.rng
    water, rise = rng.uniform(168, 186), rng.uniform(20, 62)
    head = np.array([rng.uniform(128, 146), water - 52 - rise])
    if rng.random() < 0.4:
        for x in rng.uniform(20, 60, int(rng.integers(1, 4))):
            top = np.array([x + rng.uniform(-8, 8), rng.uniform(40, 110)])
            pen.line(np.array([[x, water + 6], top]), 1, 0.7)
            pen.shape(leaf(top + [0, 22], top - [0, 16], 9), 2)
    back = water - rng.uniform(36, 56)
    body = curve([[22, back - rng.uniform(0, 26)], [58, back + 6], [104, back], [140, water - 34], [146, water - 10], [112, water + 6],
                  [58, water + 4], [22, back - 4]], 40)  # fmt: skip
    neck = curve([[126, water - 22], [138, water - 44], list(head + [-2, 8]), list(head)], 14)
    pen.shape(body, 0)
    pen.canvas.stroke(neck, 30, 19, 17, pen.ink(0))
    if rng.random() < 0.5:
        ring = neck[7]
        pen.canvas.line(np.array([ring + [-11, 3], ring + [11, -3]]), 4, pen.ink(1))
    if rng.random() < 0.35:  # the mandarin's sail
        pen.shape(np.array([[78, back + 2], [70, back - 34], [96, back - 22], [108, back + 4]]), 1)
    for k in range(int(rng.integers(1, 5))):
        root = np.array([112 - 6 * k, water - 36 + 5 * k])
        pen.shape(leaf(root, root + [-rng.uniform(44, 70), rng.uniform(-12, 8)], rng.uniform(12, 20), 5), 1 + k)
    _beaked(pen, head, rng.uniform(11, 16), long=rng.uniform(0.7, 1.2))
    _ripples(pen, water + 6)


def on_a_ring(pen: Pen) -> None:
    """A parrot or cockatoo upright on a ring, a stand or a twig: hooked beak, crest, long tail."""
    rng = pen.rng
    perch, head = rng.uniform(146, 166), np.array([rng.uniform(92, 106), rng.uniform(48, 64)])
    kind = rng.integers(3)
    if kind == 0:
        pen.canvas.line(ellipse((96, 118), 74, 88, n=50), rng.uniform(3, 7), pen.ink(2), closed=True)
    elif kind == 1:
        pen.line(np.array([[96.0, perch], [96.0, 246.0]]), 2)
        pen.line(np.array([[66.0, 246.0], [126.0, 246.0]]), 2)
    foot = np.array([98.0, perch])
    for k in range(int(rng.integers(1, 4))):
        pen.shape(leaf(foot + [-8, -20], foot + [-12 - 12 * k, rng.uniform(56, 86)], rng.uniform(12, 20), 3), k + 1)
    pen.shape(curve([list(head + [-14, -2]), [72, 104], [82, perch - 4], [104, perch + 4], [124, perch - 34], [120, 92], list(head + [12, 4])], 30), 0)
    for k in range(int(rng.integers(1, 4))):
        pen.shape(leaf(np.array([86 + 3 * k, 86 + 6 * k]), np.array([78 - 4 * k, perch + 16 - 6 * k]), 26 - 6 * k, -6), 1 + k)
    for k in range(int(rng.choice([0, 3, 4, 5]))):
        way = turned(np.array([[0.0, -1.0]]), -0.9 + 0.32 * k)[0]
        pen.shape(leaf(head + way * 8, head + way * rng.uniform(28, 44), 9, 3), 2)
    _beaked(pen, head, rng.uniform(17, 23), hooked=rng.uniform(0.35, 0.7), long=rng.uniform(0.3, 0.6))
    pen.line(np.array([[40.0 if kind == 2 else 66.0, perch + 3], [152.0 if kind == 2 else 128.0, perch + 3]]), 2, 1.3)
    for x in (92, 108):
        pen.line(np.array([[x, perch - 8], [x - 2, perch + 6]]), 1)


def crowing(pen: Pen) -> None:
    """A rooster: comb and wattle, an arched tail of sickles, spurred legs."""
    rng = pen.rng
    at, head = np.array([92.0, 142.0]), np.array([136.0, 70.0]) + rng.normal(0, 4, 2)
    for k in range(int(rng.integers(4, 9))):
        tip = np.array([14 + rng.uniform(-6, 8) + 4 * k, 96 + 17 * k - rng.uniform(0, 30)])
        crest = np.array([46 + 2 * k, 66 + 12 * k])
        pen.stroke(curve([list(at - [34, 4]), list(crest), list(tip)], 14), rng.uniform(8, 14), k, taper=0.3)
    for side in (-1, 1):
        foot = at + [side * 14 + 6, 74]
        pen.line(np.array([at + [side * 10 + 4, 26], foot]), 1)
        for toe in (-12, 0, 13):
            pen.line(np.array([foot, foot + [toe, 6]]), 1, 0.8)
    pen.shape(curve([list(head + [-8, 4]), [102, 112], [62, 126], [56, 150], [84, 178], [124, 166], [146, 128], list(head + [12, 8])], 36), 0)
    for k in range(int(rng.integers(2, 6))):
        pen.line(curve([[112 - 5 * k, 118 + 8 * k], [98 - 5 * k, 136 + 8 * k], [72, 140 + 7 * k]], 8), 1, 0.7)
    for k in range(3):
        pen.shape(ellipse(head + [-8 + 9 * k, -17], 6, 8), 1)
    pen.shape(ellipse(head + [12, 19], 5, 9), 1)
    _beaked(pen, head, rng.uniform(13, 16), long=rng.uniform(0.5, 0.8))


def diving(pen: Pen) -> None:
    """A swallow or martin in four or five solid cuts: scythes for wings, a forked tail, at any angle."""
    rng = pen.rng
    lean, bow = rng.uniform(0, 2 * np.pi), rng.uniform(0.1, 0.55)
    spread = rng.uniform(0.6, 1.35)

    def spot(x: float, y: float) -> Points:
        return turned(np.array([[x, y]]), lean)[0] + [96, 128]

    for side in (-1, 1):
        tip = spot(-rng.uniform(0, 50) - 10, side * 96 * np.sin(spread))
        wrist = spot(26, side * 46)
        for k in range(int(rng.integers(1, 4))):
            root = spot(18 - 13 * k, side * 5)
            knots = [list(root), list(wrist + (tip - wrist) * 0.12 * k - (wrist - root) * bow * 0.3 * k), list(tip + (root - tip) * 0.13 * k)]
            pen.canvas.stroke(curve(knots, 16), rng.uniform(7, 13), rng.uniform(14, 24) - 4 * k, 1, pen.ink(k))
        fork = rng.uniform(0.15, 0.5)
        tail = [spot(-34, 0), spot(-60, side * 60 * fork * 0.6), spot(-rng.uniform(80, 110), side * 90 * fork)]
        pen.canvas.stroke(curve([list(p) for p in tail], 12), 11, 8, 1, pen.ink(1))
    pen.shape(leaf(spot(-48, 0), spot(48, 0), rng.uniform(22, 34), rng.uniform(-5, 5)), 0)
    if rng.random() < 0.5:
        pen.shape(leaf(spot(-34, 3), spot(30, 3), 14), 2)
    pen.shape(ellipse(spot(46, 0), 12, 11), 0)
    pen.shape(np.array([spot(54, -7), spot(rng.uniform(70, 88), 0), spot(54, 7)]), 1)
    eye = spot(50, -4)
    pen.eye(float(eye[0]), float(eye[1]), 2.2, 2)
    for _ in range(int(rng.integers(0, 3)) * (rng.random() < 0.4)):  # rain, wind or far reeds
        x, y = rng.uniform(16, 150), rng.uniform(14, 240)
        pen.line(curve([[x, y], [x + 14, y + rng.uniform(-6, 6)], [x + 30, y]], 8), 2, 0.6)


def roundel(pen: Pen) -> None:
    """A crane or phoenix whose wings close into a circle, as crests have it."""
    rng = pen.rng
    hub, radius, count = np.array([96.0, 128.0]), rng.uniform(76, 90), int(rng.integers(7, 15))
    closed = rng.uniform(0.75, 1.0)
    for side in (-1, 1):
        for k in range(count):
            angle = np.pi / 2 + side * np.pi * closed * (k + 0.5) / count
            way = np.array([np.cos(angle), np.sin(angle)])
            pen.shape(leaf(hub + way * radius * 0.42, hub + way * radius, radius * 2.6 / count, side * 4), 1 + (k % 2))
        arc = np.pi / 2 + side * np.linspace(0.25, np.pi * closed, 16)
        pen.canvas.stroke(hub + radius * 0.45 * np.stack([np.cos(arc), np.sin(arc)], 1), 9, 11, 4, pen.ink(0))
    pen.shape(leaf(hub + [0, 48], hub - [0, 34], rng.uniform(26, 38)), 0)
    head = hub + [rng.uniform(4, 12), -rng.uniform(42, 58)]
    pen.canvas.stroke(curve([list(hub - [0, 20]), list((hub + head) / 2 + [-12, -6]), list(head)], 12), 15, 11, 9, pen.ink(0))
    _beaked(pen, head, rng.uniform(8, 11), long=rng.uniform(1.0, 1.8))
    if rng.random() < 0.3:
        pen.canvas.line(ellipse(hub, radius + 7, radius + 7, n=60), rng.uniform(2, 5), pen.ink(2), closed=True)


def _sparrow(pen: Pen, at: Points, size: float, face: float) -> None:
    """A small plump bird at rest; `face` is +1 looking right, -1 left."""
    rng, flip = pen.rng, np.array([face, 1.0])

    def spot(x: float, y: float) -> Points:
        return np.asarray(at + np.array([x, y]) * size * flip)

    for k in range(int(rng.integers(1, 4))):
        pen.shape(leaf(spot(-0.6, 0.2), spot(-1.9, 0.7 - 0.25 * k), size * 0.35), k + 1)
    pen.shape(ellipse(at, size, size * rng.uniform(0.62, 0.8), 0.35 * face), 0)
    pen.shape(leaf(spot(0.35, -0.15), spot(-1.0, 0.35), size * 0.6, size * 0.1), 1)
    head = spot(0.75, -0.65)
    pen.shape(np.array([spot(1.1, -0.85), spot(1.7, -0.6), spot(1.1, -0.45)]), 2)
    pen.shape(ellipse(head, size * 0.48, size * 0.45), 0)
    pen.eye(float(head[0] + face * size * 0.15), float(head[1] - size * 0.08), max(1.8, size * 0.07), 2)
    for x in (-0.1, 0.25):
        pen.line(np.array([spot(x, 0.6), spot(x, 1.0)]), 2, 0.7)


def in_a_bough(pen: Pen) -> None:
    """One bird, large, or two on a bough that blossoms or bears leaves."""
    rng = pen.rng
    y = rng.uniform(150, 190)
    bough = curve([[8, y + rng.uniform(-16, 30)], [60, y + 2], [124, y - 2], [186, y - rng.uniform(-16, 50)]], 24)
    pen.canvas.stroke(bough, rng.uniform(8, 14), 8, 3, pen.ink(1))
    heads, leaves = int(rng.integers(8)), int(rng.integers(4))
    for _ in range(int(rng.integers(2, 7))):
        root = bough[int(rng.integers(1, 23))]
        twig = root + [rng.uniform(-26, 26), rng.choice([-1, 1]) * rng.uniform(14, 44)]
        pen.line(np.array([root, twig]), 1, 0.6)
        if rng.random() < 0.5:
            blossom(pen, float(twig[0]), float(twig[1]), rng.uniform(8, 15), 2, heads)
        else:
            foliage(pen, float(twig[0]), float(twig[1]), rng.uniform(0, 6.3), rng.uniform(16, 28), 1, leaves)
    if rng.random() < 0.55:
        size = rng.uniform(42, 54)
        _sparrow(pen, np.array([96.0, y - size]), size, 1)
        return
    size = rng.uniform(28, 36)
    look = rng.choice([-1, 1], 2)
    for x, face in zip((52, 136), look, strict=True):
        _sparrow(pen, np.array([x, y - size]), size, float(face))


def hovering(pen: Pen) -> None:
    """A hummingbird or kingfisher in the air before a blossom, its beak a needle (held out)."""
    rng = pen.rng
    at = np.array([78.0, 150.0])
    head = at + [34, -44]
    for k in range(int(rng.integers(2, 6))):
        root = at + [4 - 8 * k, -18 + 4 * k]
        pen.shape(leaf(root, root + turned(np.array([[0.0, -1.0]]), -0.1 - 0.24 * k)[0] * rng.uniform(66, 96), 17, 4), 1 + k % 2)
    for k in range(int(rng.integers(2, 5))):
        pen.shape(leaf(at + [-18, 30], at + [-30 - 12 * k, rng.uniform(66, 84)], 12), 1)
    pen.shape(leaf(head + [4, -6], at + [-20, 42], rng.uniform(34, 44), -6), 0)
    pen.shape(ellipse(head, 16, 15), 0)
    tip = head + [rng.uniform(44, 58), rng.uniform(-14, 6)]
    pen.canvas.stroke(np.stack([head + [12, -2], tip]), 6, 4, 2, pen.ink(1))
    pen.eye(float(head[0] + 5), float(head[1] - 3), 2.6, 2)
    if rng.random() < 0.7:
        pen.line(curve([[186, 240], [170, 160], list(tip + [10, 4])], 12), 1, 0.7)
        blossom(pen, float(tip[0] + 12), float(tip[1]), rng.uniform(12, 20), 2, int(rng.integers(8)))


FAMILIES: Final[tuple[Callable[[Pen], None], ...]] = (
    swimming, on_a_ring, crowing, diving, diving, roundel, in_a_bough,
)  # fmt: skip
HELD_OUT: Final[tuple[Callable[[Pen], None], ...]] = (hovering,)
