"""Dragons that are long: in many coils, among clouds, round a pillar, two about a pearl, cut from paper, or a head alone.

As everywhere, place 0 of the palette is the body's ink and the others are its trimmings.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import Final

import numpy as np

from tilewitness.training.engraving import Points, along, curve, ellipse, profile, ribbon, turned
from tilewitness.training.pens import Pen


class _Skin:
    """How one dragon's body is covered: its filling, belly plates, scales and comb."""

    def __init__(self, pen: Pen) -> None:
        rng = pen.rng
        self.pen, self.rng = pen, rng
        self.filled = bool(rng.random() < 0.45)
        self.line = float(rng.uniform(1.6, 4.0))
        self.trim = int(rng.integers(0, 2))
        self.belly = bool(rng.random() < 0.6)
        self.scaled = bool(rng.random() < 0.6)
        self.comb = str(rng.choice(["none", "teeth", "hair"], p=[0.25, 0.45, 0.3]))
        self.side = float(rng.choice([-1, 1]))

    def body(self, spine: Points, widths: Points) -> None:
        """Draw the body from tail to head, so that what is nearer the head lies over what it crosses."""
        canvas, pen, rng = self.pen.canvas, self.pen, self.rng
        ways = along(spine)
        across = np.stack([-ways[:, 1], ways[:, 0]], 1) * self.side
        edge = [spine + across * widths[:, None] / 2, spine - across * widths[:, None] / 2]
        inner = spine - across * widths[:, None] * 0.14
        ink, mark = pen.ink(0), None if self.filled else pen.ink(self.trim)
        for k in range(len(spine) - 2, -1, -1):
            part = slice(k, k + 2)
            if self.comb != "none" and k % 2 == 0:
                root, size = edge[0][k], widths[k] * rng.uniform(0.25, 0.45)
                if self.comb == "teeth":
                    pen.canvas.fill(np.stack([root - ways[k] * size * 0.6, root + across[k] * size, root + ways[k] * size * 0.6]), pen.ink(1))
                else:
                    pen.stroke(np.stack([root, root + across[k] * size * 1.3 + ways[k] * size]), self.line * 1.2, 1)
            piece = np.concatenate([edge[0][part], edge[1][part][::-1]])
            canvas.fill(piece, ink if self.filled else None)
            canvas.line(piece, 1, ink if self.filled else None, closed=True)
            for side in edge:
                canvas.line(side[part], self.line, None if self.filled else ink)
            if self.belly:
                canvas.line(inner[part], max(1, self.line * 0.6), mark)
                if k % 2:
                    canvas.line(np.stack([inner[k], edge[1][k]]), max(1, self.line * 0.6), mark)
            if self.scaled and k % 2:
                back = spine[k] + across[k] * widths[k] * np.array([[0.02], [0.3]])
                for spot in back:
                    bow = np.stack([spot - across[k] * widths[k] * 0.12, spot - ways[k] * widths[k] * 0.16, spot + across[k] * widths[k] * 0.12])
                    canvas.line(bow, max(1, self.line * 0.5), mark)

    def tail(self, spine: Points, size: float) -> None:
        """A tuft, a flame or a bare point at the end of the spine."""
        for lean in np.linspace(-0.7, 0.7, int(self.rng.integers(0, 6))):
            way = turned(along(spine)[-1][None], float(lean))[0]
            self.pen.stroke(np.stack([spine[-1] - way * 3, spine[-1] + way * size]), self.line * 2, 1)

    def leg(self, root: Points, way: Points, size: float) -> None:
        """A bent leg, a lock of hair at its elbow, three to five claws."""
        pen, rng = self.pen, self.rng
        knee = root + way * size
        foot = knee + turned(way[None], float(rng.choice([-1.1, 1.1])))[0] * size * 0.9
        limb = curve([list(root), list(knee), list(foot)], 12)
        pen.canvas.stroke(limb, size * 0.55, size * 0.42, size * 0.26, pen.ink(0))
        if not self.filled and size > 14:
            pen.canvas.stroke(limb[:-1], size * 0.55 - 2 * self.line, size * 0.36 - 2 * self.line, 0.5, None)
        pen.stroke(np.stack([knee, knee + (knee - foot) * 0.5]), self.line * 1.5, 1)
        heading = float(np.arctan2(*(foot - knee)[::-1]))
        for lean in np.linspace(-0.9, 0.9, int(rng.integers(3, 6))):
            tip = foot + np.array([np.cos(heading + lean), np.sin(heading + lean)]) * size * 0.5
            pen.stroke(np.stack([foot, tip]), max(2.0, size * 0.13), self.trim, taper=0.4)


def _profile_head(skin: _Skin, at: Points, angle: float, size: float) -> None:
    """A head from the side: brow, curled snout, open jaws with teeth and tongue, antlers, mane, beard, whiskers."""
    pen, rng, canvas = skin.pen, skin.rng, skin.pen.canvas
    flip = np.array([1.0, -1.0 if np.cos(angle) < 0 else 1.0])

    def local(points: list[list[float]]) -> Points:
        return turned(np.array(points, float) * size * flip, angle) + at

    def smooth(points: list[list[float]], n: int = 12) -> Points:
        return curve(local(points).tolist(), n)

    gape = rng.uniform(0.1, 0.45)
    for lean in np.linspace(-1.0, 0.9, int(rng.integers(4, 10))):
        root, reach = [-0.45, 0.55 * lean], rng.uniform(0.6, 1.2)
        pen.stroke(smooth([root, [-0.8 - reach * 0.3, 0.9 * lean], [-0.8 - reach, lean * rng.uniform(0.6, 1.5)]]), size * rng.uniform(0.14, 0.3), 1)
    for fork in range(int(rng.integers(1, 3))):
        pen.stroke(smooth([[-0.1 - 0.2 * fork, -0.5], [-0.5, -1.0], [-1.1, -1.15 - 0.25 * fork]]), size * 0.18, 2)
    skull = smooth([[-0.7, 0.35], [-0.65, -0.35], [-0.2, -0.68], [0.25, -0.55], [0.6, -0.32], [1.0, -0.52], [1.35, -0.42], [1.4, -0.12],
                    [1.2, 0.04], [0.5, 0.1], [0.1, 0.18]], 36)  # fmt: skip
    jaw = smooth([[0.1, 0.18], [0.55, 0.16 + gape * 0.7], [1.1, 0.1 + gape], [1.22, 0.24 + gape], [0.9, 0.42 + gape], [0.3, 0.5 + gape * 0.7], [-0.5, 0.55]], 24)
    for part in (jaw, skull):
        canvas.fill(part, pen.ink(0) if skin.filled else None)
        canvas.line(part, skin.line, None if skin.filled else pen.ink(0), closed=True)
    for x in np.linspace(0.55, 1.15, int(rng.choice([0, 2, 3, 4]))):
        pen.canvas.fill(local([[x, 0.02], [x + 0.14, 0.02], [x + 0.07, 0.2]]), pen.ink(2))
    if rng.random() < 0.6:
        pen.stroke(smooth([[0.4, 0.24 + gape * 0.4], [0.9, 0.12 + gape * 0.5], [1.5, 0.2], [1.8, 0.02]]), size * 0.12, 1)
    for k in range(int(rng.integers(0, 5))):
        pen.stroke(smooth([[0.9 - 0.3 * k, 0.45 + gape * 0.7], [0.85 - 0.3 * k, 0.8 + gape], [0.6 - 0.3 * k, 1.1 + gape]]), size * 0.12, 1)
    for rise in (-0.9, 0.7)[: int(rng.integers(1, 3))]:
        pen.canvas.line(smooth([[1.3, -0.3], [1.65, -0.3 + rise * 0.4], [1.5 + rng.uniform(0, 0.7), -0.3 + rise]]), max(1.5, skin.line * 0.8), pen.ink(1))
    pen.stroke(smooth([[-0.15, -0.42], [0.2, -0.5], [0.45, -0.22]], 8), size * 0.13, 1)
    eye = local([[0.16, -0.28]])[0]
    pen.eye(float(eye[0]), float(eye[1]), max(2.0, size * 0.12), 2)


def _beast(pen: Pen, knots: Points, thick: float, *, legs: int = 4) -> None:
    """A whole dragon along knots from head to tail."""
    skin, rng = _Skin(pen), pen.rng
    spine = curve(knots + rng.normal(0, 2, knots.shape), max(40, 6 * len(knots)))
    widths = profile(len(spine), thick * 0.75, thick, thick * 0.12)
    ways = along(spine)
    across = np.stack([-ways[:, 1], ways[:, 0]], 1)
    skin.tail(spine, thick * rng.uniform(0.6, 1.1))
    skin.body(spine, widths)
    for place in np.linspace(0.14, 0.8, legs) * len(spine):
        spot = int(place)
        skin.leg(spine[spot], across[spot] * rng.choice([-1, 1]), thick * rng.uniform(0.6, 0.9))
    ahead = -ways[0]
    _profile_head(skin, spine[0], float(np.arctan2(ahead[1], ahead[0])) + rng.uniform(-0.4, 0.4), thick * rng.uniform(0.8, 1.05))


def _pearl(pen: Pen, x: float, y: float) -> None:
    """A flaming pearl."""
    size = pen.rng.uniform(7, 11)
    for k in range(int(pen.rng.integers(0, 6))):
        way = np.array([np.cos(k - 2.6), np.sin(k - 2.6)])
        pen.stroke(np.stack([np.array([x, y]) + way * size, np.array([x, y]) + way * size * 2.1]), 4, 1)
    pen.shape(ellipse((x, y), size, size), 2)


def many_coils(pen: Pen) -> None:
    """The whole tile filled with the bends of a slim body, head at the top or in the midst."""
    rng = pen.rng
    rows, lean = int(rng.integers(3, 6)), rng.choice([-1, 1])
    step = 178 / rows
    knots = [[96 - lean * 24, 52.0], [96 + lean * 30, 26.0], [96 + lean * 72, 48.0]]
    for row in range(rows):
        side = lean * (-1) ** row
        y = 40 + step * (row + 1)
        knots += [[96 + side * 20, y - step * 0.5], [96 - side * 60, y - step * 0.3], [96 - side * 74, y + step * 0.1]]
    if rng.random() < 0.25:
        knots = knots[::-1]
    _beast(pen, np.array(knots), min(30.0, step * rng.uniform(0.42, 0.62)), legs=int(rng.choice([0, 2, 4])))


def among_clouds(pen: Pen) -> None:
    """A dragon of which scrolled clouds, waves or flames hide parts."""
    rng = pen.rng
    swing, waves, phase = rng.uniform(40, 62), rng.uniform(1.4, 2.6), rng.uniform(0, 2 * np.pi)
    t = np.linspace(0, 1, 12)
    knots = np.stack([96 + swing * np.sin(phase + waves * np.pi * t), 46 + 176 * t], 1)
    _beast(pen, knots, rng.uniform(24, 36), legs=int(rng.choice([2, 4])))
    for _ in range(int(rng.integers(2, 6))):
        x, y, wide = rng.uniform(24, 168), rng.uniform(96, 236), rng.uniform(14, 26)
        for k in range(int(rng.integers(2, 4))):
            puff = ellipse((x + (k - 1) * wide * 0.9, y - (k % 2) * wide * 0.4), wide * 0.75, wide * 0.6)
            pen.canvas.shape(puff, None, pen.ink(1), 2.5)
        turn = np.linspace(0, 2.6 * np.pi, 18)
        curl = np.stack([np.cos(turn), np.sin(turn)], 1) * np.linspace(wide * 0.5, 1, 18)[:, None]
        pen.canvas.line(curl + [x, y], 2, pen.ink(1))
    if rng.random() < 0.5:
        _pearl(pen, rng.uniform(36, 156), rng.uniform(24, 60))


def round_a_pillar(pen: Pen) -> None:
    """A dragon that winds about a pillar, a sword or a staff."""
    rng = pen.rng
    turns, reach, thick = int(rng.integers(2, 4)), rng.uniform(40, 58), rng.uniform(18, 26)
    kind, half = rng.integers(3), rng.uniform(7, 16)
    skin = _Skin(pen)
    t = np.linspace(0, 1, 26 * turns)
    spine = np.stack([96 + reach * np.cos(2 * np.pi * turns * t) * (1 - 0.25 * t), 54 + 160 * t], 1)
    before = np.sin(2 * np.pi * turns * t) > 0
    widths = profile(len(spine), thick * 0.8, thick, thick * 0.25)
    breaks = [0, *(np.flatnonzero(np.diff(before)) + 1).tolist(), len(spine)]
    pieces = [(slice(a, min(b + 2, len(spine))), bool(before[a])) for a, b in pairwise(breaks) if b - a > 1]
    for part, front in pieces:
        if not front:
            skin.body(spine[part], widths[part])
    x0, x1 = 96 - half, 96 + half
    if kind == 0:
        pen.shape(np.array([[x0, 28], [x1, 28], [x1, 238], [x0, 238]], float), 1)
        for y in (22, 236):
            pen.shape(np.array([[x0 - 9, y], [x1 + 9, y], [x1 + 9, y + 12], [x0 - 9, y + 12]], float), 1)
    elif kind == 1:
        pen.shape(np.array([[x0, 70], [x1, 70], [x1, 214], [96, 248], [x0, 214]], float), 1)
        pen.shape(np.array([[58, 58], [134, 58], [134, 70], [58, 70]], float), 2)
        pen.shape(np.array([[90, 16], [102, 16], [102, 58], [90, 58]], float), 2)
    else:
        pen.canvas.stroke(np.array([[96.0, 14.0], [96.0, 130.0], [96.0, 246.0]]), half, half, half, pen.ink(1))
    for part, front in pieces:
        if front:
            skin.body(spine[part], widths[part])
    skin.tail(spine, thick)
    face = rng.choice([0.0, np.pi])
    _profile_head(skin, spine[0] - [0, 6], float(face + rng.uniform(-0.4, 0.4)), thick * rng.uniform(0.9, 1.2))


def about_a_pearl(pen: Pen) -> None:
    """Two dragons, one the other turned by half, about a pearl."""
    rng = pen.rng
    side = rng.choice([-1, 1])
    start = np.array([[30, 92], [58, 62], [34, 26], [-18, 14], [-64, 30], [-76, 74]], float) * [side, 1] + [96, 12]
    _beast(pen, start[:: int(rng.choice([1, 1, -1]))], rng.uniform(20, 30), legs=int(rng.choice([0, 2])))
    planes = pen.canvas.planes
    pen.canvas.planes = np.maximum(planes, planes[:, ::-1, ::-1])
    _pearl(pen, 96, 128)


def of_paper(pen: Pen) -> None:
    """A flat dragon of separate plates, as cut from paper or cast: wedges for a body, a barbed head."""
    rng = pen.rng
    swing, waves, phase = rng.uniform(30, 60), rng.uniform(1.0, 2.8), rng.uniform(0, 2 * np.pi)
    t = np.linspace(0, 1, 60)
    spine = np.stack([96 + swing * np.sin(phase + waves * np.pi * t) * (1 - 0.2 * t), 48 + 180 * t], 1)
    thick = rng.uniform(26, 44) / max(1.0, waves / 2)
    widths = profile(60, thick * 0.8, thick, 4)
    step, gap = int(rng.integers(4, 8)), 1
    for k in range(2, 58, step):
        part = slice(k, min(k + step - gap + 1, 60))
        if part.stop - part.start > 1:
            pen.canvas.fill(ribbon(spine[part], widths[part] * np.linspace(0.8, 1.15, part.stop - part.start)), pen.ink(int(k // step % 2 and rng.random() < 0.5)))
    ways = along(spine)
    for k in (10, 34):
        for side in (-1, 1):
            foot = spine[k] + np.array([-ways[k][1], ways[k][0]]) * side * thick * rng.uniform(1.0, 1.5)
            pen.stroke(curve([list(spine[k]), list((spine[k] + foot) / 2 + [0, -8]), list(foot), list(foot + [side * 8, 8])], 10), thick * 0.3, 0)
    ahead = -ways[0]
    skin = _Skin(pen)
    skin.filled = True
    _profile_head(skin, spine[0], float(np.arctan2(ahead[1], ahead[0])) + rng.uniform(-0.8, 0.8), thick * rng.uniform(0.8, 1.1))


def head_alone(pen: Pen) -> None:
    """A dragon's head and neck from the side, filling the tile."""
    rng = pen.rng
    skin = _Skin(pen)
    size, at = rng.uniform(46, 60), np.array([rng.uniform(84, 100), rng.uniform(92, 116)])
    spine = curve([list(at + [-12, 6]), list(at + [-34, 56]), list(at + [rng.uniform(-10, 16), 104]), [rng.uniform(60, 150), 250.0]], 24)
    skin.body(spine, profile(24, size * 0.8, size, size * rng.uniform(0.9, 1.3)))
    _profile_head(skin, at, rng.uniform(-0.5, 0.4), size)


def knotted(pen: Pen) -> None:
    """A slim dragon plaited over and under itself, as carved on doors and stones (held out)."""
    rng = pen.rng
    t = np.linspace(0.03, 0.97, 30) * 2 * np.pi + rng.uniform(0, 2 * np.pi)
    if rng.random() < 0.5:
        knots = np.stack([96 + 70 * np.sin(2 * t), 128 + 96 * np.sin(3 * t)], 1)
    else:
        radius = 0.55 + 0.42 * np.cos(3 * t)
        knots = np.stack([96 + 82 * radius * np.cos(2 * t), 128 + 108 * radius * np.sin(2 * t)], 1)
    _beast(pen, knots, rng.uniform(11, 15), legs=0)


FAMILIES: Final[tuple[Callable[[Pen], None], ...]] = (
    many_coils, many_coils, among_clouds, round_a_pillar, about_a_pearl, of_paper, head_alone,
)  # fmt: skip
HELD_OUT: Final[tuple[Callable[[Pen], None], ...]] = (knotted,)
