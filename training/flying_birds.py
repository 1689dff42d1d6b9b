"""Birds for 1 bam on the wing, as a graver cuts them: swooping, gliding, seen from above, trailing long plumes."""

from __future__ import annotations

from typing import Final

import numpy as np

from tilewitness.training.engraving import ellipse, leaf, turned
from tilewitness.training.graver import Graver, fan_tail, hatched_wing, head_of, open_wing, tip_feathers
from tilewitness.training.pens import Pen


def swooping(pen: Pen) -> None:
    """A swallow, crane or goose that stoops, banks or climbs: a sickle of a body, two wings, perhaps a far flock."""
    graver, rng = Graver(pen), pen.rng
    heading, long = rng.uniform(-1.4, 1.4), rng.uniform(26, 54)
    ahead, aside = np.array([np.cos(heading), np.sin(heading)]), np.array([-np.sin(heading), np.cos(heading)])
    at = np.array([96.0, 128.0])
    nose, rump = at + ahead * long, at - ahead * long
    spread = rng.random() < 0.55  # seen from above or below; else from the side, with both wings on one side
    upper = -1 if aside[1] > 0 else 1
    ruled = rng.random() < 0.5
    for k, side in enumerate((upper, -upper if spread else upper)[: int(rng.choice([1, 2, 2, 2]))]):
        angle = side * (rng.uniform(1.0, 1.8) if spread or k == 0 else rng.uniform(1.9, 2.5))
        way, root = turned(ahead[None], float(angle))[0], at + ahead * rng.uniform(-4, 18)
        if ruled:
            hatched_wing(graver, root, root + way * rng.uniform(70, 120), -side * rng.uniform(18, 40))
        else:
            open_wing(graver, root, way, -ahead, rng.uniform(60, 105))
    sway, thick = rng.uniform(-0.15, 0.15), rng.uniform(0.12, 0.26)
    if rng.random() < 0.3:
        pen.canvas.fill(leaf(rump, nose, long * thick * 4, sway * long), pen.ink(graver.body))
    else:
        pen.canvas.fill(leaf(rump, nose, long * thick * 3, sway * long), None)
        for bend in (sway - thick, sway + thick):
            graver.arc(rump, nose, bend, graver.body)
        for t in rng.uniform(-0.6, 0.7, int(rng.integers(0, 5))):
            graver.arc(
                at + ahead * long * t - aside * 5, at + ahead * long * t + aside * 6, 0.2, graver.body, 0.6
            )
    if rng.random() < 0.5:
        tip_feathers(graver, rump, -ahead, long * rng.uniform(0.6, 1.6))
    else:
        fan_tail(graver, rump, ahead, long * 0.8)
    for _ in range(int(rng.choice([0, 0, 1, 2]))):  # legs behind
        start = rump + ahead * rng.uniform(4, 20)
        graver.arc(
            start,
            start - ahead * rng.uniform(20, 48) + aside * rng.uniform(-20, 20),
            rng.uniform(-0.2, 0.2),
            graver.limbs,
            0.9,
        )
    neck = nose + ahead * 5
    if rng.random() < 0.45:
        neck = nose + ahead * rng.uniform(4, 40) + aside * rng.uniform(-13, 13)
        graver.arc(nose, neck, rng.uniform(-0.3, 0.3), graver.body, rng.uniform(1, 2))
    head_of(graver, neck, rng.uniform(8, 13))
    for _ in range(int(rng.choice([0, 0, 0, 0, 0, 3, 5]))):  # far away: two strokes each
        far = rng.uniform((20, 40), (175, 100))
        for side in (-1, 1):
            graver.arc(
                far, far + [side * rng.uniform(6, 14), -rng.uniform(2, 9)], -side * 0.25, graver.wing, 0.6
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
    fan_tail(graver, rump, ahead, long)
    for side in (-1, 1):
        span, sweep = rng.uniform(55, 100), rng.uniform(-0.5, 0.8)
        for k in range(int(rng.integers(1, 7))):
            root = at + ahead * (14 - 8 * k)
            tip = root + (aside * side - ahead * (sweep + 0.12 * k)) * span * (1 - 0.08 * k)
            graver.arc(root, tip, -side * rng.uniform(0.05, 0.3), graver.wing, 0.9)
    head_of(graver, nose + ahead * 6, rng.uniform(8, 13))


def from_above(pen: Pen) -> None:
    """A sparrow or swallow on the wing, from the front or above: round head, slim body, wings as hooks, tail hanging."""
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
    fan_tail(graver, rump, np.array([rng.uniform(-0.2, 0.2), -1.0]), rng.uniform(24, 44))
    for _ in range(int(rng.integers(0, 4))):
        graver.arc(
            head - [0, size * 0.8],
            head - [rng.uniform(-20, 20), size + rng.uniform(8, 26)],
            0.2,
            graver.tail,
            0.7,
        )


def streaming(pen: Pen) -> None:
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
        open_wing(graver, (chest + rump) / 2, way, turned(way[None], side * 1.5)[0], rng.uniform(55, 90))
    for bend in (-0.28, 0.28):
        graver.arc(rump, chest + [4, -6], bend, graver.body)
    head = chest + [rng.uniform(6, 22), -rng.uniform(24, 44)]
    graver.cut([chest + [-6, 0], (chest + head) / 2 + [-6, 0], head], graver.body, rng.uniform(1.0, 1.8))
    head_of(graver, head, rng.uniform(8, 12))


def soaring(pen: Pen) -> None:
    """An eagle or crane seen from below, its wings spread with fingers of feathers, its tail a fan, its head aside."""
    graver, rng = Graver(pen), pen.rng
    at, lean = np.array([96.0, 124.0]), float(rng.uniform(-0.5, 0.5))
    up = turned(np.array([[0.0, -1.0]]), lean)[0]
    for side in (-1, 1):
        way = turned(up[None], side * rng.uniform(0.9, 1.5))[0]
        wrist = at + up * 12 + way * rng.uniform(34, 52)
        span, count = rng.uniform(46, 72), int(rng.integers(4, 8))
        graver.cut([at + up * 14, (at + up * 26 + wrist) / 2, wrist], graver.wing, 1.4)
        for k in range(count):
            root = at + up * 12 + (wrist - at - up * 12) * (0.25 + 0.75 * k / (count - 1))
            feather = turned(-up[None], -side * (0.15 + 1.25 * k / (count - 1)))[0]
            graver.arc(root, root + feather * span * (0.55 + 0.45 * k / (count - 1)), side * 0.12, graver.wing, 1.1)
    pen.shape(leaf(at + up * 34, at - up * 44, rng.uniform(24, 38)), graver.body)
    tip_feathers(graver, at - up * 38, -up, rng.uniform(26, 48))
    head_of(graver, at + up * 40, rng.uniform(8, 13))


def gliding(pen: Pen) -> None:
    """A gull or stork far off: two long bent wings, a stub of a body (held out)."""
    graver, rng = Graver(pen), pen.rng
    at, rise = np.array([96.0, 128.0]), rng.uniform(14, 44)
    for side in (-1, 1):
        tip = at + [side * 88, rng.uniform(-20, 40)]
        for k in range(int(rng.integers(1, 4))):
            graver.cut([at + [0, 9 * k], at + [side * 40, 10 * k - rise], tip + [0, 4 * k]], graver.wing, 1.2)
    pen.shape(leaf(at - [0, 26], at + [0, 46], 24), graver.body)
    tip_feathers(graver, at + [0, 40], np.array([0.0, 1.0]), 30)
    head_of(graver, at - [0, 32], 10)


FAMILIES: Final = (*(swooping,) * 4, in_flight, from_above, streaming, soaring)
HELD_OUT: Final = (gliding,)
