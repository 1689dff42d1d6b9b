"""Dragons as a graver cuts them: two lines for a body, rungs for a belly, ticks for a spine, mostly one ink."""

from __future__ import annotations

from typing import Final

import numpy as np

from tilewitness.training.engraving import Points, along, curve, ellipse, leaf, profile, ribbon, turned
from tilewitness.training.pens import Pen


class _Burin:
    """Cuts one dragon with one thickness of line and one manner of filling its body."""

    def __init__(self, pen: Pen) -> None:
        self.pen, self.rng = pen, pen.rng
        self.width = float(pen.rng.triangular(2.5, 4.0, 8.0))
        self.manner = str(pen.rng.choice(["open", "rungs", "scales", "solid"], p=[0.2, 0.4, 0.2, 0.2]))
        self.trim = int(pen.rng.integers(0, 2))

    def cut(self, points: Points, width: float = 1.0, place: int = 0) -> None:
        """Cut a smooth tapering stroke through points."""
        self.pen.stroke(curve(points, 12), self.width * width, place, taper=0.4)


def _body(burin: _Burin, spine: Points, thick: float) -> None:
    """The body from head to tail."""
    pen, rng, canvas = burin.pen, burin.rng, burin.pen.canvas
    widths = profile(len(spine), thick * 0.75, thick, thick * 0.1)
    ways = along(spine)
    back = np.stack([-ways[:, 1], ways[:, 0]], 1) * rng.choice([-1, 1])
    for k in range(3, len(spine) - 3, int(rng.integers(2, 4))) if rng.random() < 0.75 else ():
        root = spine[k] + back[k] * widths[k] * 0.5
        burin.cut(np.stack([root, root + back[k] * rng.uniform(6, 11) + ways[k] * 5]), 0.9, burin.trim)
    outline = ribbon(spine, widths)
    canvas.fill(outline, pen.ink(0) if burin.manner == "solid" else None)
    if burin.manner != "solid":
        canvas.line(outline, burin.width, pen.ink(0), closed=True)
    bare = None if burin.manner == "solid" else pen.ink(burin.trim)
    if burin.manner in ("rungs", "solid"):
        inner = spine - back * widths[:, None] * 0.05
        canvas.line(inner[2:-4], max(1.5, burin.width * 0.6), bare)
        for k in range(3, len(spine) - 6, int(rng.integers(2, 4))):
            canvas.line(
                np.stack([inner[k], spine[k] - back[k] * widths[k] * 0.45]), max(1.5, burin.width * 0.6), bare
            )
    elif burin.manner == "scales":
        pen.scales(spine, widths, bare, int(rng.integers(2, 4)))

def _leg(burin: _Burin, root: Points, way: Points, size: float) -> None:
    """A bent leg that ends in three to five claws."""
    rng = burin.rng
    knee = root + way * size
    foot = knee + turned(way[None], float(rng.choice([-1.0, 1.0])))[0] * size * 0.8
    burin.cut(np.stack([root, knee, foot]), 1.8)
    heading = float(np.arctan2(*(foot - knee)[::-1]))
    for k in range(int(rng.integers(3, 6))):
        lean = heading + (k - 1.5) * 0.6
        burin.cut(
            np.stack([foot, foot + np.array([np.cos(lean), np.sin(lean)]) * size * 0.5]), 0.8, burin.trim
        )


def _head(burin: _Burin, at: Points, angle: float, size: float) -> None:
    """A head in profile: two jaws apart, a curled snout, horns, mane and whiskers in single strokes."""
    pen, rng = burin.pen, burin.rng
    flip = np.array([1, -1 if np.cos(angle) < 0 else 1])

    def local(points: list[list[float]]) -> Points:
        return turned(np.array(points) * size * flip, angle) + at

    gape = rng.uniform(0.2, 0.6)
    skull = local([[-0.6, 0.5], [-0.7, -0.3], [-0.1, -0.65], [0.5, -0.4], [1.1, -0.6], [1.45, -0.3], [1.2, 0.0], [0.2, 0.1],
                   [0.4, 0.2 + gape * 0.5], [1.1, 0.1 + gape], [1.0, 0.35 + gape], [0.2, 0.6 + gape * 0.6]])  # fmt: skip
    pen.canvas.fill(skull, pen.ink(0) if burin.manner == "solid" else None)
    pen.canvas.line(skull, burin.width * 0.9, pen.ink(0), closed=True)
    for lean in np.linspace(-0.8, 0.7, int(rng.integers(3, 8))):
        burin.cut(
            local(
                [
                    [-0.5, lean * 0.5],
                    [-1.1, lean * 0.9],
                    [-1.5 - rng.uniform(0, 0.6), lean * rng.uniform(0.8, 1.8)],
                ]
            ),
            0.9,
            burin.trim,
        )
    for k in range(int(rng.integers(1, 3))):
        burin.cut(local([[-0.2, -0.5], [-0.5, -1.1 - 0.2 * k], [-1.2, -1.5 - 0.3 * k]]), 1.2, burin.trim)
    for side in (-1, 1):
        burin.cut(
            local([[1.2, -0.3], [1.7, -0.3 - 0.5 * side], [1.9 + rng.uniform(0, 0.5), -0.3 - 1.1 * side]]),
            0.7,
            burin.trim,
        )
    x, y = local([[0.2, -0.3]])[0]
    pen.eye(float(x), float(y), max(2.2, size * 0.13), 0)


def _beast(burin: _Burin, knots: Points, thick: float) -> None:
    """A whole dragon along knots from head to tail."""
    pen, rng = burin.pen, burin.rng
    spine = curve(knots + rng.normal(0, 3, knots.shape), 64)
    ways = along(spine)
    across = np.stack([-ways[:, 1], ways[:, 0]], 1)
    for place in (12, 20, 36, 46)[: int(rng.choice([0, 2, 3, 4], p=[0.1, 0.2, 0.2, 0.5]))]:
        _leg(burin, spine[place], across[place] * rng.choice([-1, 1]), thick * rng.uniform(0.9, 1.4))
    for lean in np.linspace(-0.8, 0.8, int(rng.integers(1, 6))):
        tip = turned(ways[-1][None], float(lean))[0] * thick * rng.uniform(0.7, 1.2)
        burin.cut(np.stack([spine[-1], spine[-1] + tip]), 0.9, burin.trim)
    _body(burin, spine, thick)
    facing = -ways[0]
    _head(
        burin,
        spine[0],
        float(np.arctan2(facing[1], facing[0]) + rng.uniform(-0.3, 0.3)),
        thick * rng.uniform(0.8, 1.1),
    )
    if rng.random() < 0.3:
        pearl = np.array([rng.uniform(30, 162), rng.uniform(26, 230)])
        pen.canvas.shape(ellipse(pearl, 9, 9), None, pen.ink(burin.trim), burin.width)
    for _ in range(int(rng.integers(0, 4)) * (rng.random() < 0.4)):
        x, y = rng.uniform(30, 162), rng.uniform(30, 226)
        pen.shape(leaf(np.array([x, y + 10]), np.array([x + rng.uniform(-6, 6), y - 14]), 9, 4), burin.trim)


def coiled(pen: Pen) -> None:
    """Wound in a ring around the tile, its head in the middle or biting after its tail."""
    rng = pen.rng
    t, start, turns = np.linspace(0, 1, 10), rng.uniform(0, 2 * np.pi), rng.uniform(1.1, 1.6)
    radius = 14 + 76 * np.sqrt(t) if rng.random() < 0.7 else 44 + 42 * t
    angle = start + rng.choice([-1, 1]) * 2 * np.pi * turns * t
    _beast(
        _Burin(pen),
        np.stack([96 + 0.95 * radius * np.cos(angle), 128 + 1.2 * radius * np.sin(angle)], 1),
        rng.uniform(15, 25),
    )


def rampant(pen: Pen) -> None:
    """Standing upright, claws out: head at the top, the body in one or two bends, the tail curled at the foot."""
    rng = pen.rng
    side = rng.uniform(28, 56)
    low = (
        [[96 + side * 0.4, 196], [96 - side, 226], [96 - side * 1.3, 186]]
        if rng.random() < 0.6
        else [[96, 204], [96 + side * 0.7, 240]]
    )
    knots = np.array(
        [[96 + side * 0.9, 40], [96 + side * 0.1, 34], [96 - side, 72], [96, 112], [96 + side, 150], *low],
        float,
    )
    _beast(_Burin(pen), knots, rng.uniform(18, 32))


def descending(pen: Pen) -> None:
    """Coming down from above, the tail at the top and the head low, turned up."""
    rng = pen.rng
    swing, waves, phase = rng.uniform(26, 58), rng.uniform(1.2, 2.6), rng.uniform(0, np.pi)
    t = np.linspace(0, 1, 11)
    x = 96 + swing * np.sin(phase + waves * np.pi * t)
    knots = np.stack([x, 206 - 180 * t], 1)
    hook = np.array([[knots[0, 0] + rng.choice([-1, 1]) * 44, rng.uniform(176, 204)]])
    _beast(
        _Burin(pen),
        np.concatenate([hook, [[(hook[0, 0] + knots[0, 0]) / 2, 228]], knots[1:]]),
        rng.uniform(17, 28),
    )


def meander(pen: Pen) -> None:
    """An archaic dragon in square hooks, as bronzes have it (held out)."""
    burin, rng = _Burin(pen), pen.rng
    unit = rng.uniform(26, 34)
    path = np.array(
        [[2, 1], [1, 1], [1, 2], [3, 2], [3, 0], [0, 0], [0, 4], [3, 4], [3, 6], [0, 6], [0, 5], [1.5, 5]]
    ) * unit + [40, 20]
    for edge in (-1, 1):
        pen.canvas.line(path + edge * unit * 0.22, burin.width, pen.ink(0))
    pen.eye(float(path[0][0] - unit * 0.3), float(path[0][1]), 4, 0)
    for k in (3, 6, 8):
        burin.cut(np.stack([path[k], path[k] + [unit * 0.9, unit * 0.5]]), 1.2, burin.trim)


FAMILIES: Final = (coiled, rampant, descending)
HELD_OUT: Final = (meander,)
