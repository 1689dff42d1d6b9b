"""Birds for 1 bam that stand, as a graver cuts them: sparrows, cranes, peacocks, from the side and from the front."""

from __future__ import annotations

from typing import Final

import numpy as np

from tilewitness.training.engraving import Points, curve, ellipse, leaf, turned
from tilewitness.training.graver import Graver, fan_tail, feet, grass, head_of, open_wing
from tilewitness.training.pens import Pen


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
    fan_tail(graver, rump, axis, long)
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


def trained(pen: Pen) -> None:
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
        grass(graver, float(body[1] + deep + 34))


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
        spread = rng.random() < 0.12
        shoulder, end = (
            np.array([96 + side * wide * 0.8, y - tall * 0.55]),
            np.array([96 + side * wide * 0.75, y + tall * 0.8]),
        )
        if spread:
            open_wing(graver, shoulder, np.array([side * 0.9, -0.45]), np.array([0.0, 1.0]), wide * 1.3)
        for k in range(int(rng.integers(1, 4)) * (not spread)):
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
        grass(graver, float(body[1] + stilts - 4))


FAMILIES: Final = (*(side_view,) * 4, displaying, trained, trained, wheeling, facing, wading)
