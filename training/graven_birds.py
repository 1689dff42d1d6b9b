"""Birds for 1 bam as a graver cuts them: an open outline and a dozen strokes, nothing filled."""

from __future__ import annotations

from typing import Final

import numpy as np

from tilewitness.training.engraving import Points, curve, ellipse, leaf, turned
from tilewitness.training.pens import Pen


class Graver:
    """Cuts strokes of one set's thickness and kind of ends with a pen; `places` are the inks of the bird's parts."""

    def __init__(self, pen: Pen) -> None:
        rng = pen.rng
        self.pen, self.rng = pen, rng
        self.width = float(rng.triangular(3.5, 7.0, 14.0))
        self.taper = float(rng.choice([0.15, 0.5, 1.0]))
        alone = rng.random() < 0.4
        self.body, self.wing, self.tail, self.limbs = (
            (0,) * 4 if alone else (int(n) for n in rng.integers(0, 4, 4))
        )

    def cut(self, knots: list[Points], place: int, width: float = 1.0) -> None:
        """Cut one smooth stroke through knots."""
        self.pen.stroke(
            curve([list(knot) for knot in knots], 14), self.width * width, place, taper=self.taper
        )

    def arc(self, start: Points, end: Points, bend: float, place: int, width: float = 1.0) -> None:
        """Cut a stroke from start to end, bent aside by a part of its length."""
        way = end - start
        self.cut([start, (start + end) / 2 + np.array([-way[1], way[0]]) * bend, end], place, width)


def side_view(pen: Pen) -> None:
    """A bird from the side: sparrow, crane, pheasant or peacock by the length of its neck, legs and tail."""
    graver, rng = Graver(pen), pen.rng
    long, deep = rng.uniform(36, 54), rng.uniform(15, 30)
    slope, neck = rng.uniform(-0.1, 1.4), rng.choice([rng.uniform(0, 14), rng.uniform(14, 75)], p=[0.6, 0.4])
    axis = np.array([np.cos(slope), -np.sin(slope)])
    down = np.array([np.sin(slope), np.cos(slope)])
    at = np.array([96.0, 130.0])
    rump, size = at - axis * long, rng.uniform(9, 19)
    head = at + axis * (long + size * 0.6) + np.array([rng.uniform(-10, 10) * neck / 40, -neck - 2])
    _tail(graver, rump, axis, long)
    feet(graver, at + down * deep * 0.8 * abs(np.cos(slope)), deep)
    back = at - down * deep * rng.uniform(0.6, 1.0)
    breast, belly = at + axis * long * 0.75 + down * deep * 0.7, at - axis * long * 0.2 + down * deep
    feathered = rng.random() < 0.35
    if not feathered or neck > 14 or rng.random() < 0.5:
        nape = at + axis * long * 0.55 - down * deep * 0.6
        graver.cut([head + [-size * 0.8, size * 0.5], nape, back - axis * long * 0.2, rump], graver.body)
        graver.cut([head + [size * 0.3, size], breast, belly, rump], graver.body)
    if feathered:
        _feathers(graver, at, axis * long, down * deep, head - at)
    head_of(graver, head, size)
    manner = rng.integers(1, 6) if feathered else rng.integers(4)
    if manner == 0:
        _lifted(graver, at)
        return
    if manner > 3:
        return
    root, tip = (
        at + axis * long * 0.5 - down * deep * 0.2,
        rump - axis * rng.uniform(-10, 26) + down * rng.uniform(-4, 8),
    )
    for k in range(int(rng.integers(1, 5))):
        graver.arc(
            root - axis * k * long * 0.22,
            tip - axis * 5 * k,
            rng.uniform(-0.25, -0.1) - 0.1 * k,
            graver.wing,
            0.9,
        )
    if manner == 1:
        graver.arc(root, tip, 0.2, graver.wing)
    for _ in range(int(rng.integers(0, 6))):
        spot = breast + (belly - breast) * rng.random() - down * rng.uniform(5, deep)
        graver.arc(spot, spot - axis * rng.uniform(5, 12), 0.3, int(rng.integers(3)), 0.7)


def _feathers(graver: Graver, at: Points, along: Points, across: Points, head: Points) -> None:
    """Rows of commas from neck to rump that make up the body, the rows in one ink or in turns."""
    rng = graver.rng
    rows, turns, bend = (
        int(rng.integers(3, 7)),
        int(rng.choice([1, 2, 3])),
        rng.uniform(0.15, 0.5) * rng.choice([-1, 1]),
    )
    level = rng.random() < 0.5  # one stroke straight across, or two or three commas side by side
    for row in range(rows):
        t = 1 - 2 * (row + 0.5) / rows
        middle = at + (along * t if t < 0.6 else along * 0.6 + head * (t - 0.6) * 0.6)
        half = across * (1 - t * t * 0.6) * 0.9
        if level:
            graver.arc(middle - half, middle + half, bend, graver.body + row % turns, 0.8)
            continue
        for side in (-0.75, 0.0, 0.75) if graver.width < 7 else (-0.5, 0.5):
            start = middle + half * side
            graver.arc(
                start,
                start - along / np.hypot(*along) * rng.uniform(9, 17),
                bend,
                graver.body + row % turns,
                0.8,
            )


def head_of(graver: Graver, at: Points, size: float) -> None:
    """A round or open head looking right: beak, eye, sometimes a crest."""
    pen, rng = graver.pen, graver.rng
    ring = ellipse(at, size, size * rng.uniform(0.8, 1.0))
    if rng.random() < 0.25:
        pen.canvas.fill(ring, pen.ink(graver.body))
    else:
        turn = int(rng.integers(len(ring)))
        ring = np.concatenate([ring[turn:], ring[: turn + 1]])
        pen.stroke(
            ring[: len(ring) - int(rng.choice([0, 6, 10]))],
            graver.width * 0.9,
            graver.body,
            taper=max(graver.taper, 0.5),
        )
    reach, dip = (
        rng.choice([rng.uniform(0.7, 1.3), rng.uniform(1.3, 2.8)]) * size,
        rng.uniform(-0.3, 0.6) * size,
    )
    tip = at + [size + reach, dip]
    if rng.random() < 0.7:
        graver.arc(at + [size * 0.8, -size * 0.4], tip, rng.uniform(-0.1, 0.15), graver.limbs, 0.8)
        graver.arc(at + [size * 0.8, size * 0.4], tip, rng.uniform(-0.1, 0.1), graver.limbs, 0.8)
    else:
        graver.arc(at + [size * 0.8, 0], tip, 0.1, graver.limbs)
    pen.eye(float(at[0] + size * 0.25), float(at[1] - size * 0.1), float(rng.uniform(2, 3.5)), graver.wing)
    for k in range(int(rng.choice([0, 0, 1, 2, 3, 4]))):
        end = (
            at
            + turned(np.array([[0.0, -size * rng.uniform(1.7, 3.2)]]), -0.35 * k + rng.uniform(-0.2, 0.2))[0]
        )
        graver.arc(at + (end - at) * 0.4, end, rng.uniform(-0.2, 0.2), graver.tail, 0.7)
        if k and rng.random() < 0.3:
            pen.dot(float(end[0]), float(end[1]), size * 0.25, graver.tail)


def _tail(graver: Graver, rump: Points, axis: Points, long: float) -> None:
    """Strokes fanned from the rump, plain, forked, or ending in a peacock's eyes."""
    pen, rng = graver.pen, graver.rng
    count, fan = int(rng.integers(2, 8)), rng.uniform(0.2, 1.3)
    reach, lean, bend = (
        long * rng.choice([rng.uniform(0.6, 1.2), rng.uniform(1.2, 2.6)]),
        rng.uniform(-0.7, 0.5),
        rng.uniform(-0.3, 0.3),
    )
    eyes = rng.choice(["none", "ring", "dot"], p=[0.65, 0.2, 0.15])
    for k in range(count):
        way = turned(-axis[None], float(lean + fan * (k / (count - 1) - 0.5)))[0]
        end = rump + way * reach * rng.uniform(0.8, 1.0)
        graver.arc(rump + way * 3, end, bend, graver.tail + (k % 2 if count > 4 else 0), 0.9)
        if eyes == "ring":
            pen.canvas.line(
                ellipse(end, 9, 9), max(graver.width * 0.5, 2.5), pen.ink(graver.wing), closed=True
            )
        if eyes != "none":
            pen.dot(float(end[0]), float(end[1]), 4 if eyes == "ring" else 6, graver.tail + 1)


def feet(graver: Graver, belly: Points, deep: float) -> None:
    """Two legs with toes, or one drawn up, and what they stand on: a twig, a bamboo stick, the ground, nothing."""
    rng = graver.rng
    ground = belly + [0, deep * 0.3 + rng.choice([rng.uniform(6, 22), rng.uniform(22, 75)])]
    for side in (-1, 1)[: int(rng.choice([1, 2, 2, 2]))]:
        foot = ground + [side * rng.uniform(3, 14), 0]
        graver.arc(belly + [side * rng.uniform(2, 9), 0], foot, rng.uniform(-0.15, 0.15), graver.limbs, 0.8)
        for toe in (-1, 1)[: int(rng.integers(0, 3))]:
            graver.arc(foot, foot + [toe * rng.uniform(7, 14), rng.uniform(0, 6)], 0.0, graver.limbs, 0.7)
    perch, y = rng.integers(5), ground[1] + 5
    if perch == 0:  # a twig with leaves
        graver.cut(
            [
                np.array([30, y + rng.uniform(-8, 10)]),
                np.array([96, y + 2]),
                np.array([165, y + rng.uniform(-12, 8)]),
            ],
            graver.limbs,
        )
        for x in rng.uniform(35, 155, int(rng.integers(1, 5))):
            graver.arc(
                np.array([x, y]),
                np.array([x, y]) + rng.uniform(-22, 22, 2),
                rng.uniform(0.2, 0.5),
                graver.wing,
                0.8,
            )
    elif perch == 1:  # a bamboo stick
        for edge in (y, y + 13):
            graver.cut([np.array([34, edge]), np.array([158, edge])], graver.wing, 0.8)
        for x in (34, 96, 158)[: int(rng.integers(1, 4))]:
            graver.cut([np.array([x, y - 2]), np.array([x, y + 15])], graver.wing, 0.8)
    elif perch == 2:
        graver.cut([np.array([45, y]), np.array([147, y])], graver.limbs)


def _lifted(graver: Graver, root: Points) -> None:
    """Wings raised over the back: feathers as strokes behind a leading edge."""
    rng = graver.rng
    for turn in (-0.6, 0.5)[: int(rng.integers(1, 3))]:
        span = rng.uniform(55, 105)
        for k in range(int(rng.integers(3, 8))):
            way = turned(np.array([[0.0, -1.0]]), turn - 0.2 * k)[0]
            graver.arc(
                root - [5 * k, 0],
                root + way * span * (1 - 0.06 * k),
                rng.uniform(-0.25, -0.05),
                graver.wing,
                0.9,
            )


def in_flight(pen: Pen) -> None:
    """A swallow or crane on the wing: one body stroke or a slim outline, wings and tail in single strokes."""
    graver, rng = Graver(pen), pen.rng
    lean, long = rng.uniform(-1.3, 0.7), rng.uniform(32, 50)
    ahead = np.array([np.cos(lean), np.sin(lean)])
    at, aside = np.array([96.0, 128.0]), np.array([-np.sin(lean), np.cos(lean)])
    nose, rump = at + ahead * long, at - ahead * long
    if rng.random() < 0.4:
        graver.arc(rump, nose, rng.uniform(-0.1, 0.1), graver.body, rng.uniform(1.5, 3.0))
    else:
        for bend in (-rng.uniform(0.1, 0.25), rng.uniform(0.1, 0.25)):
            graver.arc(rump, nose, bend, graver.body)
    _tail(graver, rump, ahead, long)
    for side in (-1, 1):
        span, sweep = rng.uniform(55, 100), rng.uniform(-0.5, 0.8)
        for k in range(int(rng.integers(1, 7))):
            root = at + ahead * (14 - 8 * k)
            tip = root + (aside * side - ahead * (sweep + 0.12 * k)) * span * (1 - 0.08 * k)
            graver.arc(root, tip, -side * rng.uniform(0.05, 0.3), graver.wing, 0.9)
    head_of(graver, nose + ahead * 6, rng.uniform(8, 13))


def displaying(pen: Pen) -> None:
    """A peacock from the front, its train a wheel of strokes, with or without eyes."""
    graver, rng = Graver(pen), pen.rng
    hub, radius, count = np.array([96.0, 150.0]), rng.uniform(75, 110), int(rng.integers(5, 14))
    eyes = rng.integers(3)
    for k in range(count):
        angle = -np.pi * (0.02 + 0.96 * k / (count - 1))
        tip = hub + np.array([np.cos(angle), np.sin(angle)]) * radius
        graver.arc(hub + (tip - hub) * 0.3, tip, rng.uniform(-0.05, 0.05), graver.tail, 0.8)
        if eyes:
            pen.canvas.line(
                ellipse(tip, 9, 7, float(angle)),
                max(graver.width * 0.5, 2.5),
                pen.ink(graver.wing),
                closed=True,
            )
        if eyes == 2:
            pen.dot(float(tip[0]), float(tip[1]), 3.5, graver.body)
    wide, head = rng.uniform(13, 24), hub - [rng.uniform(-8, 8), rng.uniform(40, 62)]
    for side in (-1, 1):
        graver.cut(
            [head + [side * 6, 6], hub + [side * wide * 0.5, -18], hub + [side * wide, 15], hub + [0, 48]],
            graver.body,
        )
    feet(graver, hub + [0, 45], 16)
    head_of(graver, head, rng.uniform(8, 12))


def _hatched_wing(graver: Graver, root: Points, tip: Points, deep: float) -> None:
    """A wing between a bold leading edge and a loose trailing one, barbs ruled across it."""
    rng = graver.rng
    way = tip - root
    across = np.array([-way[1], way[0]]) / np.hypot(*way) * deep
    bow, barbs, slant = rng.uniform(0.1, 0.35), int(rng.integers(4, 13)), rng.uniform(-0.2, 0.35)
    graver.arc(root, tip, -bow, graver.wing, rng.uniform(1.0, 1.6))
    if rng.random() < 0.5:
        graver.arc(root + across, tip, bow * rng.uniform(0.3, 1.2), graver.wing, 0.7)
    for k in range(barbs):
        t = (k + 0.7) / (barbs + 0.4)
        edge = root + way * t - across / deep * np.hypot(*way) * bow * 4 * t * (1 - t) * 0.9
        reach = across * (1.25 - 0.75 * t) * rng.uniform(0.8, 1.1) + way * slant * 0.4
        graver.arc(
            edge,
            edge + reach,
            rng.uniform(-0.1, 0.15),
            graver.wing if rng.random() < 0.8 else graver.body,
            0.75,
        )


def swooping(pen: Pen) -> None:
    """A swallow, crane or goose coming down, head low, wings up and hatched, sometimes a flock far behind."""
    graver, rng = Graver(pen), pen.rng
    lean = rng.uniform(0.1, 1.5)
    ahead = np.array([-np.cos(lean), np.sin(lean)])
    up = np.array([ahead[1], -ahead[0]]) * (1 if ahead[0] < 0 else -1)
    up = up if up[1] < 0 else -up
    at, long = np.array([100.0, 150.0]), rng.uniform(26, 44)
    nose, rump = at + ahead * long, at - ahead * long
    for bend in (-rng.uniform(0.12, 0.3), rng.uniform(0.08, 0.25)):
        graver.arc(rump, nose, bend, graver.body)
    for _ in range(int(rng.integers(0, 5))):
        spot = at + ahead * long * rng.uniform(-0.6, 0.7)
        graver.arc(spot - up * 5, spot + up * 6, 0.2, graver.body, 0.6)
    for k in range(int(rng.integers(1, 3))):
        way = turned(up[None], rng.uniform(-0.3, 0.5) + (0.9 * k))[0]
        root = at + ahead * rng.uniform(-6, 14)
        _hatched_wing(
            graver, root, root + way * rng.uniform(70, 120), rng.choice([-1, 1]) * rng.uniform(18, 40)
        )
    _tail(graver, rump, ahead, long * 0.8)
    for _ in range(int(rng.integers(0, 3))):
        start = rump + ahead * rng.uniform(4, 20)
        graver.arc(
            start,
            start - ahead * rng.uniform(20, 48) - up * rng.uniform(8, 34),
            rng.uniform(-0.2, 0.2),
            graver.limbs,
            0.9,
        )
    neck = nose + ahead * rng.uniform(4, 40) - up * rng.uniform(-14, 12)
    graver.arc(nose, neck, rng.uniform(-0.3, 0.3), graver.body, rng.uniform(1, 2))
    head_of(graver, neck, rng.uniform(8, 13))
    for _ in range(int(rng.choice([0, 0, 0, 3, 5]))):  # far away: two strokes each
        far = rng.uniform((20, 40), (175, 100))
        for side in (-1, 1):
            graver.arc(
                far, far + [side * rng.uniform(6, 14), -rng.uniform(2, 9)], -side * 0.25, graver.wing, 0.6
            )


def trailing(pen: Pen) -> None:
    """A peacock or pheasant from the side whose train hangs to the ground, filled with rings, scales or hatching."""
    graver, rng = Graver(pen), pen.rng
    back = np.array([100.0, 110.0]) + rng.normal(0, 6, 2)
    head = back + [-rng.uniform(6, 34), -rng.uniform(38, 70)]
    breast = back + [-rng.uniform(14, 26), rng.uniform(12, 30)]
    graver.cut([head + [4, 6], (head + back) / 2 + [10, 0], back], graver.body, rng.uniform(0.8, 1.8))
    graver.cut([head + [-4, 8], (head + breast) / 2 + [-3, 0], breast, breast + [16, 26]], graver.body)
    tip = back + [rng.uniform(20, 66), rng.uniform(62, 100)]
    wide, manner = rng.uniform(18, 34), rng.integers(4)
    way = tip - back
    across = np.array([-way[1], way[0]]) / np.hypot(*way) * wide
    outline = leaf(back, tip + way * 0.1, 2 * wide, rng.uniform(-14, 14), 14)
    if rng.random() < 0.5:
        pen.shape(outline, graver.tail)
    else:
        pen.stroke(np.concatenate([outline, outline[:1]]), graver.width, graver.tail)
    for _ in range(int(rng.integers(5, 16)) if manner else 0):
        t, side = rng.uniform(0.2, 0.95), rng.uniform(-0.6, 0.6)
        spot = back + way * t + across * side
        if manner == 1:
            pen.canvas.line(
                ellipse(spot, 7, 6), max(graver.width * 0.5, 2.5), pen.ink(graver.tail + 1), closed=True
            )
        elif manner == 2:
            pen.dot(float(spot[0]), float(spot[1]), float(rng.uniform(3, 6)), graver.tail + 1)
        else:
            graver.arc(spot - across * 0.25, spot + across * 0.25, 0.4, graver.tail + 1, 0.6)
    for k in range(int(rng.integers(0, 4))):
        graver.arc(back + [-6, 6 + 5 * k], back + [rng.uniform(16, 40), 24 + 7 * k], -0.25, graver.wing, 0.9)
    feet(graver, breast + [16, 26], 24)
    if rng.random() < 0.5:  # grass or a rock
        ground = float(tip[1]) + rng.uniform(0, 14)
        for x in rng.uniform(50, 150, int(rng.integers(3, 9))):
            graver.arc(
                np.array([x, ground]),
                np.array([x + rng.uniform(-14, 14), ground - rng.uniform(8, 24)]),
                0.2,
                graver.limbs,
                0.8,
            )
    head_of(graver, head, rng.uniform(8, 12))


def facing(pen: Pen) -> None:
    """A sparrow or swallow from the front or above: round head, slim body, wings as hooks, tail hanging."""
    graver, rng = Graver(pen), pen.rng
    head, size = np.array([96.0 + rng.normal(0, 4), 62.0]), rng.uniform(15, 26)
    rump = head + [rng.uniform(-14, 14), rng.uniform(80, 112)]
    pen.canvas.line(ellipse(head, size, size * 0.9), graver.width, pen.ink(graver.body), closed=True)
    for side in (-1, 1):
        pen.eye(
            float(head[0] + side * size * 0.4),
            float(head[1] - size * 0.1),
            float(rng.uniform(2, 4)),
            graver.wing,
        )
        shoulder = head + [side * size * 0.8, size * 1.1]
        graver.cut(
            [
                head + [side * size * 0.6, size * 0.8],
                shoulder + [side * rng.uniform(0, 12), 24],
                rump + [side * 6, 0],
            ],
            graver.body,
        )
        out = shoulder + [side * rng.uniform(14, 46), rng.uniform(-30, 36)]
        graver.arc(shoulder, out, side * rng.uniform(-0.5, 0.5), graver.wing, 1.3)
        for k in range(int(rng.integers(0, 5))):
            part = shoulder + (out - shoulder) * (k + 1) / 5
            graver.arc(part, part + [side * rng.uniform(-6, 10), rng.uniform(12, 34)], 0.15, graver.wing, 0.8)
    graver.arc(head + [-4, size * 0.3], head + [4, size * 0.3], 0.6, graver.limbs, 0.9)
    for k in range(int(rng.integers(0, 6))):
        y = head[1] + size + (rump[1] - head[1] - size) * (k + 1) / 7
        graver.arc(np.array([head[0] - 11, y]), np.array([head[0] + 11, y]), -0.3, graver.wing, 0.7)
    _tail(graver, rump, np.array([rng.uniform(-0.2, 0.2), -1.0]), rng.uniform(24, 44))
    for _ in range(int(rng.integers(0, 4))):
        graver.arc(
            head - [0, size * 0.8],
            head - [rng.uniform(-20, 20), size + rng.uniform(8, 26)],
            0.2,
            graver.tail,
            0.7,
        )


FAMILIES: Final = (
    swooping,
    swooping,
    trailing,
    trailing,
    facing,
    side_view,
    side_view,
    side_view,
    side_view,
    in_flight,
    displaying,
)
