"""Birds for 1 bam in the poses that are hardest to tell: swooping, facing us, wheeling a tail on grass, wading, trailing plumes."""

from __future__ import annotations

from typing import Final

import numpy as np

from tilewitness.training.engraving import Points, curve, ellipse, leaf, turned
from tilewitness.training.graven_birds import Graver, feet, head_of
from tilewitness.training.pens import Pen


def _wing(graver: Graver, root: Points, way: Points, back: Points, span: float) -> None:
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


def _tip_feathers(graver: Graver, rump: Points, way: Points, reach: float) -> None:
    """A short tail: forked, a closed fan or a wedge."""
    rng = graver.rng
    count, fan = (
        (2, rng.uniform(0.4, 1.0)) if rng.random() < 0.5 else (int(rng.integers(3, 6)), rng.uniform(0.3, 0.9))
    )
    for k in range(count):
        lean = turned(way[None], float(fan * (k / (count - 1) - 0.5)))[0]
        graver.arc(rump, rump + lean * reach, rng.uniform(-0.2, 0.2), graver.tail, 0.9)


def swooping(pen: Pen) -> None:
    """A swallow, swift or crane that stoops, banks or climbs: a sickle of a body and two hatched wings."""
    graver, rng = Graver(pen), pen.rng
    heading, long = rng.uniform(-1.4, 1.4), rng.uniform(30, 54)
    ahead, aside = np.array([np.cos(heading), np.sin(heading)]), np.array([-np.sin(heading), np.cos(heading)])
    at = np.array([96.0, 128.0])
    nose, rump = at + ahead * long, at - ahead * long
    spread = rng.random() < 0.55  # seen from above or below; else from the side, with both wings on one side
    upper = -1 if aside[1] > 0 else 1
    for k, side in enumerate((upper, -upper if spread else upper)):
        angle = side * (rng.uniform(1.0, 1.8) if spread or k == 0 else rng.uniform(1.9, 2.5))
        way = turned(ahead[None], float(angle))[0]
        _wing(graver, at + ahead * rng.uniform(0, 18), way, -ahead, rng.uniform(60, 105))
    sway, thick = rng.uniform(-0.15, 0.15), rng.uniform(0.12, 0.24)
    if rng.random() < 0.35:
        pen.canvas.fill(leaf(rump, nose, long * thick * 4, sway * long), pen.ink(graver.body))
    else:
        pen.canvas.fill(leaf(rump, nose, long * thick * 3, sway * long), None)
        for bend in (sway - thick, sway + thick):
            graver.arc(rump, nose, bend, graver.body)
    _tip_feathers(graver, rump, -ahead, long * rng.uniform(0.6, 1.6))
    head_of(graver, nose + ahead * 5, rng.uniform(8, 13))


def _grass(graver: Graver, y: float) -> None:
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


def wheeling(pen: Pen) -> None:
    """A peacock or turkey standing sideways on grass, its tail a round fan behind it."""
    graver, rng = Graver(pen), pen.rng
    hub, radius = np.array([rng.uniform(70, 96), 136.0]), rng.uniform(60, 92)
    count, solid = int(rng.integers(7, 18)), rng.random() < 0.3
    start, reach = rng.uniform(2.2, 3.4), rng.uniform(3.0, 4.4)
    angles = start + reach * np.linspace(0, 1, count)
    rim = hub + radius * np.stack([np.cos(angles), np.sin(angles)], 1)
    if solid:
        pen.canvas.fill(np.concatenate([hub[None], rim]), pen.ink(graver.tail))
    eyes = rng.choice(["none", "dot", "ring", "scallop"])
    for k, tip in enumerate(rim):
        if solid:
            pen.canvas.line(np.array([hub + (tip - hub) * 0.35, tip]), max(graver.width * 0.5, 2.5), None)
        else:
            graver.arc(
                hub + (tip - hub) * 0.3,
                hub + (tip - hub) * 0.95,
                0.0,
                graver.tail + (count > 9) * (k % 2),
                0.7,
            )
        size = radius * reach / count * 0.42
        if eyes == "dot":
            pen.dot(float(tip[0]), float(tip[1]), size * 0.7, graver.wing)
        elif eyes == "ring":
            pen.canvas.shape(
                ellipse(tip, size, size), None, pen.ink(graver.wing), max(graver.width * 0.5, 2.5)
            )
        elif eyes == "scallop" and k:
            graver.arc(rim[k - 1], tip, -0.35, graver.tail, 0.8)
    body = np.array([hub[0] + 22, hub[1] + 34])
    wide, deep, tilt = rng.uniform(30, 42), rng.uniform(18, 27), rng.uniform(-0.5, 0.1)
    throat = body + turned(np.array([[wide * 0.8, -6.0]]), tilt)[0]
    head = throat + [rng.uniform(0, 22), -rng.uniform(34, 72)]
    ring = ellipse(body, wide, deep, tilt)
    pen.canvas.fill(ring, pen.ink(graver.body) if rng.random() < 0.4 else None)
    pen.canvas.line(ring, max(graver.width * 0.8, 2.5), pen.ink(graver.body), closed=True)
    neck = curve(
        [list(throat + [-8, 6]), list((throat + head) / 2 + [rng.uniform(-12, 8), 0]), list(head)], 14
    )
    pen.canvas.stroke(neck, deep * 0.9, 13, 10, pen.ink(graver.body))
    feet(graver, body + [0, deep * 0.8], deep * 0.8)
    head_of(graver, head, rng.uniform(8, 12))
    for _ in range(int(rng.integers(0, 4))):
        spot = body + rng.uniform(-0.5, 0.4, 2) * [wide, deep]
        graver.arc(spot, spot + [-rng.uniform(10, 20), 3], 0.3, graver.wing, 0.7)
    if rng.random() < 0.7:
        _grass(graver, float(body[1] + deep + 34))


def facing(pen: Pen) -> None:
    """A sparrow, robin or finch seen from the front: a ball with folded wings and a beak in the middle of its face."""
    graver, rng = Graver(pen), pen.rng
    wide, tall, y = rng.uniform(38, 56), rng.uniform(46, 66), 140.0
    size = rng.uniform(0.5, 0.72) * wide
    head = np.array([96 + rng.uniform(-8, 8), y - tall - size * rng.uniform(-0.1, 0.5)])
    filled = rng.random() < 0.3
    for k in range(int(rng.integers(2, 5))):  # the tail below, behind the perch
        graver.arc(
            np.array([96 + rng.uniform(-8, 8), y + tall * 0.8]),
            np.array([84 + 8 * k, y + tall + rng.uniform(18, 42)]),
            0.05,
            graver.tail,
        )
    body = ellipse((96, y), wide, tall)
    pen.canvas.shape(
        body, pen.ink(graver.body) if filled else None, pen.ink(graver.body), max(graver.width * 0.9, 3)
    )
    for side in (-1, 1):  # wings folded at both sides, or held out
        open_wing = rng.random() < 0.12
        shoulder, end = (
            np.array([96 + side * wide * 0.8, y - tall * 0.55]),
            np.array([96 + side * wide * 0.75, y + tall * 0.8]),
        )
        if open_wing:
            _wing(graver, shoulder, np.array([side * 0.9, -0.45]), np.array([0.0, 1.0]), wide * 1.3)
        for k in range(int(rng.integers(1, 4)) * (not open_wing)):
            graver.arc(
                shoulder - [side * 7 * k, -8 * k],
                end - [side * 6 * k, 6 * k],
                -side * rng.uniform(0.12, 0.3),
                graver.wing,
            )
    rows = int(rng.integers(0, 5))
    for row in range(rows):  # a speckled breast
        for x in np.linspace(-0.4, 0.4, 2 + row % 2) * wide:
            spot = np.array([96 + x, y - tall * 0.35 + row * tall * 0.28])
            if filled:
                pen.bare_dot(float(spot[0]), float(spot[1]), 3)
            else:
                graver.arc(spot, spot + [rng.uniform(-2, 2), rng.uniform(6, 12)], 0.3, graver.wing, 0.7)
    if rng.random() < 0.5:  # its head turned aside
        pen.canvas.fill(ellipse(head, size, size), None)
        head_of(graver, head, size)
    else:
        pen.canvas.shape(
            ellipse(head, size, size * 0.92),
            pen.ink(graver.body) if filled else None,
            pen.ink(graver.body),
            max(graver.width * 0.9, 3),
        )
        for side in (-1, 1):
            pen.eye(
                float(head[0] + side * size * 0.45),
                float(head[1] - size * 0.15),
                float(rng.uniform(2.5, 4.5)),
                graver.wing,
            )
        beak = head + size * np.array([[-0.22, 0.05], [0.22, 0.05], [0.0, rng.uniform(0.4, 0.65)]])
        pen.canvas.shape(
            beak, pen.ink(graver.limbs) if rng.random() < 0.7 else None, pen.ink(graver.limbs), 2
        )
    ground = y + tall + rng.uniform(2, 14)
    for side in (-1, 1):
        for toe in (-7, 0, 7):
            graver.arc(
                np.array([96 + side * wide * 0.35, y + tall * 0.9]),
                np.array([96 + side * wide * 0.35 + toe, ground + 6]),
                0.0,
                graver.limbs,
                0.6,
            )
    if rng.random() < 0.75:
        graver.cut([np.array([24, ground + rng.uniform(-4, 12)]), np.array([96, ground + 6]), np.array([168, ground + rng.uniform(-8, 12)])],
                   graver.limbs, rng.uniform(1.0, 2.2))  # fmt: skip
        for x in rng.uniform(28, 164, int(rng.integers(0, 5))):
            base = np.array([x, ground + 4])
            pen.shape(leaf(base, base + rng.uniform(-26, 26, 2), 10), graver.wing)


def wading(pen: Pen) -> None:
    """A crane or heron: a small body on stilts, one leg perhaps drawn up, neck in an S, a dagger of a beak."""
    graver, rng = Graver(pen), pen.rng
    body, wide, deep = np.array([96.0, 120.0]), rng.uniform(30, 44), rng.uniform(13, 22)
    tilt, stilts = rng.uniform(-0.5, 0.2), rng.uniform(60, 105)
    front, back = (body + turned(np.array([[side * wide, 0.0]]), tilt)[0] for side in (1, -1))
    head = front + [rng.uniform(-14, 26), -rng.uniform(45, 85)]
    for side in (-1, 1):
        hip, foot = body + [side * 6, deep * 0.7], body + [side * rng.uniform(4, 14), stilts]
        if side < 0 and rng.random() < 0.4:
            knee = hip + [rng.uniform(10, 26), stilts * 0.4]
            graver.cut([hip, knee], graver.limbs, 0.8)
            graver.cut([knee, knee + [-rng.uniform(12, 24), stilts * 0.12]], graver.limbs, 0.8)
            continue
        graver.cut([hip, foot], graver.limbs, 0.8)
        for toe in (-12, 12):
            graver.cut([foot, foot + [toe, 3]], graver.limbs, 0.7)
    ring = ellipse(body, wide, deep, tilt)
    solid = rng.random() < 0.35
    pen.canvas.shape(
        ring, pen.ink(graver.body) if solid else None, pen.ink(graver.body), max(graver.width * 0.8, 2.5)
    )
    for k in range(int(rng.integers(2, 7))):  # plumes that droop over the tail
        graver.arc(
            back + [10 + 4 * k, -4],
            back + [-rng.uniform(8, 26) + 4 * k, rng.uniform(10, 40)],
            -0.3,
            graver.tail,
            0.9,
        )
    for k in range(int(rng.integers(0, 6)) * (not solid)):
        spot = body + turned(np.array([[wide * (0.5 - 0.25 * k), -deep * 0.3]]), tilt)[0]
        graver.arc(spot, spot + [-wide * 0.35, deep * 0.5], 0.2, graver.wing, 0.7)
    bow = rng.uniform(8, 26)
    for edge in (0, 6) if rng.random() < 0.5 else (3,):
        knots = [
            front + [-8 + edge, 0],
            (front * 2 + head) / 3 + [bow + edge, 0],
            (front + head * 2) / 3 + [-bow + edge, 0],
            head,
        ]
        graver.cut(knots, graver.body, 0.9 if edge != 3 else rng.uniform(1.0, 1.8))
    head_of(graver, head, rng.uniform(7, 10))
    graver.arc(head + [6, -2], head + [rng.uniform(26, 46), rng.uniform(0, 14)], 0.03, graver.limbs)
    if rng.random() < 0.6:
        _grass(graver, float(body[1] + stilts - 4))


def trailing(pen: Pen) -> None:
    """A phoenix or bird of paradise: wings up, a tail of long streamers that wave, curl or end in eyes."""
    graver, rng = Graver(pen), pen.rng
    chest, rump = np.array([128.0, 78.0]), np.array([92.0, 106.0])
    count, heading, fan = int(rng.integers(2, 6)), rng.uniform(1.9, 2.7), rng.uniform(0.15, 0.8)
    sway = rng.uniform(-0.3, 0.3)
    for k in range(count):
        angle = heading + fan * (k / (count - 1) - 0.5)
        way, aside = np.array([np.cos(angle), np.sin(angle)]), np.array([-np.sin(angle), np.cos(angle)])
        reach = rng.uniform(95, 150)
        end = rump + way * reach
        bow = sway * reach * rng.uniform(0.6, 1.0)
        graver.cut(
            [rump, rump + way * reach * 0.35 + aside * bow, rump + way * reach * 0.7 - aside * bow, end],
            graver.tail,
            0.9,
        )
        finish = rng.integers(4)
        if finish == 0:
            pen.canvas.line(
                ellipse(end, 9, 9), max(graver.width * 0.5, 2.5), pen.ink(graver.wing), closed=True
            )
            pen.dot(float(end[0]), float(end[1]), 3.5, graver.tail)
        elif finish == 1:
            pen.stroke(ellipse(end + [8, 0], 8, 8)[8:24], graver.width * 0.8, graver.tail)
        for t in np.linspace(0.3, 0.85, int(rng.integers(3, 7))) if finish == 2 else ():
            spot = rump + (end - rump) * t
            graver.arc(spot, spot + [rng.choice([-14, 14]), 10], 0.2, graver.wing, 0.6)
    for side in (-1, 1)[: int(rng.integers(1, 3))]:
        way = turned(np.array([[0.0, -1.0]]), side * rng.uniform(0.6, 1.4))[0]
        _wing(graver, (chest + rump) / 2, way, turned(way[None], side * 1.5)[0], rng.uniform(55, 90))
    for bend in (-0.28, 0.28):
        graver.arc(rump, chest + [4, -6], bend, graver.body)
    head = chest + [rng.uniform(6, 22), -rng.uniform(24, 44)]
    graver.cut([chest + [-6, 0], (chest + head) / 2 + [-6, 0], head], graver.body, rng.uniform(1.0, 1.8))
    head_of(graver, head, rng.uniform(8, 12))


def gliding(pen: Pen) -> None:
    """A gull or stork far off: two long bent wings, a stub of a body (held out)."""
    graver, rng = Graver(pen), pen.rng
    at, rise = np.array([96.0, 128.0]), rng.uniform(14, 44)
    for side in (-1, 1):
        tip = at + [side * 88, rng.uniform(-20, 40)]
        for k in range(int(rng.integers(1, 4))):
            graver.cut([at + [0, 9 * k], at + [side * 40, 10 * k - rise], tip + [0, 4 * k]], graver.wing, 1.2)
    pen.shape(leaf(at - [0, 26], at + [0, 46], 24), graver.body)
    _tip_feathers(graver, at + [0, 40], np.array([0.0, 1.0]), 30)
    head_of(graver, at - [0, 32], 10)


FAMILIES: Final = (swooping, swooping, wheeling, facing, wading, trailing)
HELD_OUT: Final = (gliding,)
