"""A graver that cuts birds in open strokes, and the parts that all its birds share: heads, feet, tails, wings, grass."""

from __future__ import annotations

import numpy as np

from tilewitness.training.engraving import Points, curve, ellipse, turned
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


def fan_tail(graver: Graver, rump: Points, axis: Points, long: float) -> None:
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


def tip_feathers(graver: Graver, rump: Points, way: Points, reach: float) -> None:
    """A short tail: forked, a closed fan or a wedge."""
    rng = graver.rng
    count, fan = (
        (2, rng.uniform(0.4, 1.0)) if rng.random() < 0.5 else (int(rng.integers(3, 6)), rng.uniform(0.3, 0.9))
    )
    for k in range(count):
        lean = turned(way[None], float(fan * (k / (count - 1) - 0.5)))[0]
        graver.arc(rump, rump + lean * reach, rng.uniform(-0.2, 0.2), graver.tail, 0.9)


def open_wing(graver: Graver, root: Points, way: Points, back: Points, span: float) -> None:
    """An open wing along `way`, its feathers swept towards `back`: hatched, solid with bare quills, or its edge alone."""
    pen, rng = graver.pen, graver.rng
    wrist = root + (way * rng.uniform(0.4, 0.6) - back * rng.uniform(0.05, 0.3)) * span
    tip = root + (way * rng.uniform(0.75, 1.0) + back * rng.uniform(0.1, 0.6)) * span
    deep = span * rng.uniform(0.25, 0.5)
    count = int(rng.integers(3, 10))
    edge = curve([list(root), list(wrist), list(tip)], 4 * count + 1)
    heel = root + back * deep * rng.uniform(0.8, 1.3)
    trail = curve(
        [list(heel), list((heel + tip) / 2 + back * deep * rng.uniform(-0.2, 0.5)), list(tip)], len(edge)
    )
    manner = rng.choice(["hatched", "hatched closed", "solid", "edge"], p=[0.4, 0.25, 0.25, 0.1])
    if manner == "solid":
        pen.canvas.fill(np.concatenate([edge, trail[::-1]]), pen.ink(graver.wing))
    for k in range(2, len(edge) - 2, 4) if manner != "edge" else ():
        if manner == "solid":
            pen.canvas.line(
                np.array([edge[k] * 0.7 + trail[k] * 0.3, trail[k]]), max(graver.width * 0.5, 2.5), None
            )
        else:
            graver.arc(
                edge[k],
                trail[k],
                rng.uniform(-0.1, 0.1),
                graver.wing + (k % 8 == 2 and manner != "hatched"),
                0.75,
            )
    if manner != "solid":
        graver.cut([root, wrist, tip], graver.body, 1.1)
    if manner == "hatched closed" or manner == "edge":
        graver.cut([tip, trail[len(trail) // 2], heel], graver.wing, 0.7)


def hatched_wing(graver: Graver, root: Points, tip: Points, deep: float) -> None:
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


def grass(graver: Graver, y: float) -> None:
    """Tufts of blades, a line of turf, or stones to stand on."""
    rng = graver.rng
    kind = rng.integers(4)
    if kind < 2:
        for x in rng.uniform(30, 162, int(rng.integers(2, 6))):
            for lean in rng.uniform(-14, 14, int(rng.integers(2, 5))):
                graver.arc(
                    np.array([x, y + 8]),
                    np.array([x + lean, y - rng.uniform(6, 26)]),
                    rng.uniform(-0.2, 0.2),
                    graver.wing,
                    0.7,
                )
    if kind == 1 or kind == 2:
        graver.cut(
            [np.array([28, y + 8]), np.array([96, y + rng.uniform(2, 12)]), np.array([164, y + 8])],
            graver.limbs,
        )
    if kind == 3:
        for x in (62, 96, 132):
            graver.cut(
                [np.array([x - 20, y + 14]), np.array([x, y]), np.array([x + 20, y + 14])], graver.limbs, 0.8
            )
