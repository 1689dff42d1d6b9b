"""Birds for 1 bam: icons of birds and parametric ones, from a sparrow on a twig to a displaying peacock."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from tilewitness.training import plants
from tilewitness.training.copperplate import engrave, sample_palette
from tilewitness.training.engraving import Canvas, Points, curve, ellipse, leaf, pick, turned, warped
from tilewitness.training.fitting import behind, beside, placed, sample_box
from tilewitness.training.flying_birds import FAMILIES as FLYING
from tilewitness.training.flying_birds import HELD_OUT as FLYING_HELD_OUT
from tilewitness.training.gardens import GARDENS
from tilewitness.training.graven_birds import FAMILIES as GRAVEN
from tilewitness.training.icons import icon, sample_icon
from tilewitness.training.pens import Pen
from tilewitness.training.pond_birds import FAMILIES as POND
from tilewitness.training.pond_birds import HELD_OUT as POND_HELD_OUT

POND_SHARE: Final = 0.22
ICON_SHARE: Final = 0.36
COMPANY_SHARE: Final = 0.16


def bird(rng: np.random.Generator, *, held_out: bool) -> Canvas:
    """Draw the bird of one set."""
    later = rng.spawn(1)[0]  # a stream of its own: the birds that were there before stay what they were
    if later.random() < POND_SHARE:
        canvas = Canvas()
        pick(later, POND_HELD_OUT if held_out else POND)(Pen(canvas, sample_palette(later), later))
        return placed(canvas, later)
    canvas = Canvas()
    palette = sample_palette(rng)
    if rng.random() < ICON_SHARE:
        name = sample_icon(rng, "birds", held_out=held_out)
        engrave(canvas, icon("birds", name), sample_box(rng), palette, rng)
        if rng.random() < 0.3:
            canvas.planes = warped(canvas.planes, rng, 5)
        return canvas
    families = HELD_OUT if held_out else FAMILIES
    pick(rng, families)(Pen(canvas, palette, rng))
    placed(canvas, rng)
    if rng.random() < COMPANY_SHARE:
        plant = Canvas()
        pick(rng, plants.HELD_OUT if held_out else (*plants.PLANTS, *GARDENS))(Pen(plant, palette, rng))
        return behind(canvas, placed(plant, rng, beside(rng)))
    return canvas


def _head(pen: Pen, at: Points, size: float, face: float) -> None:
    """Head with beak, eye and crest at a point; `face` is +1 looking right, -1 left."""
    rng = pen.rng
    hook = rng.uniform(-0.1, 0.7) * size
    length = size * rng.choice([rng.uniform(0.7, 1.3), rng.uniform(1.3, 2.8)], p=[0.7, 0.3])
    tip = at + [face * (size * 0.8 + length), size * rng.uniform(-0.1, 0.5) + hook * 0.5]
    beak = np.array([at + [face * size * 0.7, -size * 0.35], (at + tip) / 2 + [face * size * 0.4, -size * 0.2], tip,
                     at + [face * size * 0.6, size * 0.45]])  # fmt: skip
    pen.shape(beak, int(rng.integers(1, 3)))
    kind = rng.integers(5)
    for i in range(int(rng.integers(2, 6)) if kind else 0):
        angle = -np.pi / 2 - face * rng.uniform(-0.1, 1.3)
        length = size * rng.uniform(0.8, 2.4)
        end = at + [np.cos(angle) * (size + length), np.sin(angle) * (size + length)]
        if kind < 3:
            pen.shape(leaf(at + (end - at) * 0.35, end, size * rng.uniform(0.25, 0.6)), i)
        else:
            pen.line(np.array([at, end]), 1, 0.8)
            pen.dot(float(end[0]), float(end[1]), size * rng.uniform(0.15, 0.35), int(rng.integers(3)))
    pen.shape(ellipse(at, size, size * rng.uniform(0.8, 1.05)), int(rng.integers(2)))
    pen.eye(float(at[0] + face * size * 0.25), float(at[1] - size * 0.15), max(1.6, size * 0.17), 2)


def _plume(pen: Pen, base: Points, tip: Points, width: float, bend: float, place: int) -> None:
    """One tail feather: a leaf, barbs along a quill, a quill with an eye, or a bare stroke."""
    rng = pen.rng
    kind = rng.integers(4)
    middle = (base + tip) / 2 + np.array([-(tip - base)[1], (tip - base)[0]]) / (
        np.hypot(*(tip - base)) + 1e-9
    ) * bend
    quill = curve([list(base), list(middle), list(tip)], 14)
    if kind == 0:
        pen.shape(leaf(base, tip, width * 1.3, bend), place)
        pen.line(quill[3:-2], place + 1, 0.5)
    elif kind == 1:
        pen.stroke(quill, width * 0.6, place)
    else:
        pen.line(quill, place, 0.7)
        if kind == 2:
            for k in range(3, len(quill) - 1):
                way = quill[k] - quill[k - 1]
                across = np.array([-way[1], way[0]]) / (np.hypot(*way) + 1e-9) * width * 0.6
                pen.line(np.array([quill[k] + way + across, quill[k], quill[k] + way - across]), place, 0.5)
        pen.shape(ellipse(quill[-1], width * 0.6, width * 0.6), place + 1)
        pen.dot(float(quill[-1][0]), float(quill[-1][1]), width * 0.25, place + 2)


def _wing(pen: Pen, root: Points, tip: Points, width: float, place: int) -> None:
    """A folded wing: a leaf with rows of feathers."""
    rng = pen.rng
    pen.shape(leaf(root, tip, width * 1.5, rng.uniform(-0.1, 0.1) * width), place)
    rows = int(rng.integers(2, 5))
    for k in range(rows):
        a = root + (tip - root) * (0.25 + 0.5 * k / rows)
        side = np.array([-(tip - root)[1], (tip - root)[0]]) / (np.hypot(*(tip - root)) + 1e-9)
        if rng.random() < 0.7:
            pen.line(curve([list(a - side * width * 0.4), list(a + (tip - root) * 0.12), list(a + side * width * 0.4)], 8),
                     place + 1, 0.6)  # fmt: skip
        else:
            pen.shape(leaf(a - side * width * (k / rows - 0.4), tip + side * rng.normal(0, width * 0.3), width * 0.4),
                      place + k)  # fmt: skip


def _perch(pen: Pen, y: float) -> None:
    """What the bird stands on: a twig, a bamboo stick, a rock, a line, or nothing."""
    rng = pen.rng
    kind = rng.integers(6)
    if kind == 0:
        pen.stroke(
            curve([[20, y + rng.uniform(-8, 8)], [96, y + 3], [176, y + rng.uniform(-12, 8)]]),
            7,
            1,
            taper=0.5,
        )
        for _ in range(rng.integers(0, 4)):
            x = rng.uniform(25, 170)
            pen.shape(
                leaf(np.array([x, y]), np.array([x + rng.uniform(-18, 18), y + rng.uniform(-4, 20)]), 8), 0
            )
    elif kind == 1:
        for x in (44, 96, 148):
            pen.shape(np.array([[x - 24, y], [x + 24, y], [x + 22, y + 9], [x - 22, y + 9]]), 0)
    elif kind == 2:
        pen.shape(np.array([[50, y + 22], [62, y + 4], [90, y], [126, y + 3], [146, y + 22]]), 2)
    elif kind == 3:
        pen.line(np.array([[50.0, y], [146.0, y]]), 0)


def _legs(pen: Pen, body: Points, ground: float, spread: float) -> None:
    rng = pen.rng
    place = int(rng.integers(1, 3))
    for side in (-1, 1):
        foot = np.array([body[0] + side * spread + rng.uniform(-3, 3), ground])
        knee = (body + foot) / 2 + [rng.uniform(-6, 6), 0]
        pen.line(np.array([body + [side * spread * 0.5, 0], knee, foot]), place, rng.uniform(0.6, 1.2))
        for toe in (-9, 2, 10):
            pen.line(np.array([foot, foot + [toe, rng.uniform(2, 6)]]), place, 0.7)


def _perched(pen: Pen) -> None:
    """A standing bird seen from the side: sparrow, pheasant, magpie, peacock with a train, phoenix."""
    rng = pen.rng
    slope = rng.choice([rng.uniform(-0.2, 0.8), rng.uniform(0.8, 1.5)])
    long, deep = rng.uniform(34, 52), rng.uniform(18, 32)
    at = np.array([96.0, 130.0])
    axis = np.array([np.cos(slope), -np.sin(slope)])
    ground = at[1] + deep + rng.uniform(14, 45)
    _perch(pen, ground)
    _legs(pen, at + [0, deep * 0.6], ground, rng.uniform(5, 14))
    tail = rng.choice(3)
    rear, count = at - axis * long * 0.8, int(rng.integers(3, 8))
    for k in range(count):
        lean = (k / max(count - 1, 1) - 0.5) * rng.uniform(0.4, 1.1) + (
            rng.uniform(-0.3, 0.4) if tail else 1.6
        )
        way = turned(-axis[None], float(lean))[0]
        reach = long * (rng.uniform(0.6, 1.2) if tail == 0 else rng.uniform(1.0, 2.2))
        _plume(pen, rear, rear + way * reach, rng.uniform(8, 15), rng.uniform(-0.35, 0.35) * reach, k)
    neck = rng.uniform(4, 40)
    head = at + axis * long * 0.85 + [neck * 0.3, -neck - 6]
    size = rng.uniform(10, 17)
    spine = curve([list(at + axis * long * 0.45), list((at + axis * long * 0.9 + head) / 2 + [rng.uniform(-4, 8), 0]),
                   list(head)])  # fmt: skip
    pen.shape(ellipse(at, long, deep, -slope), 0)
    pen.canvas.stroke(spine, deep * 1.1, size * 1.8, size * 1.3, pen.ink(0))
    for _ in range(rng.integers(0, 9)):
        spot = at + rng.uniform(-0.6, 0.6, 2) * [long, deep]
        pen.line(curve([list(spot), list(spot + [4, 4]), list(spot + [8, 0])], 6), 1, 0.5)
    _head(pen, head, size, 1)
    _wing(pen, at + axis * long * 0.45, at - axis * long * rng.uniform(0.8, 1.3) + [0, rng.uniform(-6, 14)],
          deep * rng.uniform(0.8, 1.2), 1)  # fmt: skip


def _in_strokes(pen: Pen) -> None:
    """A bird in a few brush strokes: round head, slim striped body, hanging tail, hooks for wings and feet."""
    rng = pen.rng
    lean, size = rng.uniform(-0.15, 0.85), rng.uniform(15, 24)
    axis = np.array([-np.sin(lean), np.cos(lean)])
    side = np.array([axis[1], -axis[0]])
    head = np.array([104.0, 52.0]) + rng.normal(0, 6, 2)
    rump = head + axis * rng.uniform(74, 105)
    tip = rump + turned(axis[None], rng.uniform(-0.5, 0.5))[0] * rng.uniform(50, 90)
    for k in range(int(rng.integers(1, 4))):
        end = tip + side * rng.uniform(-26, 26) * (k > 0)
        tail = curve([list(rump), list((rump + end) / 2 + side * rng.uniform(-16, 16)), list(end)], 12)
        pen.canvas.stroke(tail, size * 0.6, rng.uniform(5, 10), 1, pen.ink(k))
    wide = size * rng.uniform(1.0, 1.9)
    pen.shape(leaf(head + axis * size * 0.4, rump + axis * 12, wide * 1.5, rng.uniform(-10, 10), 12), 1)
    stripes = int(rng.integers(0, 7))
    for k in range(stripes):
        at = head + (rump - head) * (0.35 + 0.6 * k / max(stripes, 1))
        pen.line(curve([list(at - side * wide * 0.5), list(at + axis * rng.uniform(-4, 8)), list(at + side * wide * 0.5)], 7),
                 int(rng.integers(3)), 0.7)  # fmt: skip
    for sign in (-1, 1):
        if rng.random() < 0.8:
            root = head + axis * rng.uniform(28, 56) + side * sign * wide * 0.5
            end = root + side * sign * rng.uniform(18, 52) + axis * rng.uniform(-26, 30)
            pen.stroke(curve([list(root), list((root + end) / 2 + axis * rng.uniform(-14, 14)), list(end)], 10),
                       rng.uniform(4, 11), int(rng.integers(3)), taper=0.4)  # fmt: skip
            if rng.random() < 0.5:
                pen.shape(ellipse(end, rng.uniform(3, 8), rng.uniform(3, 8)), 2)
    for k in range(int(rng.integers(0, 4))):
        start = head - axis * size * 0.9 + side * rng.uniform(-8, 8)
        end = start + side * rng.uniform(-30, 30) - axis * rng.uniform(0, 22)
        pen.stroke(
            curve([list(start), list((start + end) / 2 - axis * 8), list(end)], 8), rng.uniform(3, 7), k
        )
    _head(pen, head, size, 1)


def _crane(pen: Pen) -> None:
    """A wader: long neck in an S, long legs, short tail."""
    rng = pen.rng
    at, ground = np.array([90.0, 140.0]), 240.0
    _legs(pen, at + [0, 12], ground, rng.uniform(4, 12))
    _perch(pen, ground)
    head = np.array([rng.uniform(100, 140), rng.uniform(24, 60)])
    long, deep = rng.uniform(32, 46), rng.uniform(15, 24)
    for k in range(rng.integers(3, 7)):
        _plume(
            pen, at - [long * 0.6, 0], at + [-long * 1.4 - k, rng.uniform(-12, 40)], 11, rng.uniform(-8, 8), k
        )
    pen.shape(ellipse(at, long, deep, rng.uniform(-0.5, 0.3)), 0)
    neck = curve([list(at + [long * 0.6, -4]), [at[0] + long + 14, 110], [head[0] - 18, 84], list(head)])
    pen.canvas.stroke(neck, 15, 9, 8, pen.ink(0))
    if rng.random() < 0.6:
        pen.canvas.stroke(neck[2:-2], 10, 4, 3, None)
    _head(pen, head, rng.uniform(8, 12), 1)
    if rng.random() < 0.45:
        _raised(pen, at - [0, deep * 0.5])
    else:
        _wing(pen, at + [long * 0.4, -4], at - [long * 1.2, -6], deep, 1)


def _raised(pen: Pen, root: Points) -> None:
    """One or two wings lifted over the back, feathers spread."""
    rng = pen.rng
    for turn in (-0.9, 0.35)[: rng.integers(1, 3)]:
        span = rng.uniform(60, 105)
        for k in range(int(rng.integers(4, 9))):
            angle = -np.pi / 2 + turn - 0.16 * k
            tip = root + np.array([np.cos(angle), np.sin(angle)]) * span * (1 - 0.05 * k)
            pen.shape(leaf(root + [6 - 2 * k, 0], tip, rng.uniform(10, 17), rng.uniform(-6, 6)), k)


def _fan(pen: Pen) -> None:
    """A peacock displaying, seen from the front."""
    rng = pen.rng
    hub, radius = np.array([96.0, 160.0]), rng.uniform(85, 130)
    for ring in range(int(rng.integers(1, 4)), 0, -1):
        count = int(rng.integers(7, 14))
        for k in range(count):
            angle = -np.pi * (0.02 + 0.96 * k / (count - 1))
            tip = hub + np.array([np.cos(angle), np.sin(angle)]) * radius * (0.55 + 0.15 * ring)
            pen.line(np.array([hub, tip]), ring, 0.6)
            pen.shape(ellipse(tip, 11, 8, float(angle)), ring)
            pen.dot(float(tip[0]), float(tip[1]), 4, ring + 1)
    _legs(pen, hub + [0, 20], 232, 9)
    pen.shape(ellipse(hub, rng.uniform(16, 26), rng.uniform(30, 44)), 0)
    head = hub - [rng.uniform(-8, 8), rng.uniform(55, 75)]
    pen.canvas.stroke(curve([list(hub - [0, 15]), list((hub + head) / 2 + [rng.uniform(-8, 8), 0]), list(head)]), 26, 16, 12,
                      pen.ink(0))  # fmt: skip
    _head(pen, head, rng.uniform(9, 13), rng.choice([-1, 1]))


def _owl(pen: Pen) -> None:
    """An owl seen from the front."""
    rng = pen.rng
    wide, tall = rng.uniform(42, 62), rng.uniform(70, 90)
    _perch(pen, 210)
    pen.shape(ellipse((96, 140), wide, tall), 0)
    for side in (-1, 1):
        pen.shape(
            leaf(np.array([96 + side * wide * 0.8, 100]), np.array([96 + side * wide * 0.7, 205]), 30), 1
        )
        pen.shape(leaf(np.array([96 + side * wide * 0.4, 86]), np.array([96 + side * wide, 50]), 22), 0)
    for row in range(int(rng.integers(3, 6))):
        for k in range(-2, 3):
            x, y = 96 + k * 13 + (row % 2) * 6, 135 + row * 14
            pen.line(curve([[x - 6, y], [x, y + 6], [x + 6, y]], 6), 1, 0.6)
    size = rng.uniform(14, 20)
    for side in (-1, 1):
        pen.shape(ellipse((96 + side * size * 1.05, 92), size, size), 2)
        pen.eye(96 + side * size, 92, size * 0.4, int(rng.integers(3)))
        for toe in (-6, 0, 6):
            pen.line(np.array([[96 + side * 16, 204], [96 + side * 16 + toe, 216]]), 1)
    pen.shape(np.array([[90, 100], [102, 100], [96, 116]]), 1)


def _flying(pen: Pen) -> None:
    """A bird on the wing: swallow, crane or dove."""
    rng = pen.rng
    at, lean = np.array([96.0, 130.0]), rng.uniform(-0.6, 0.6)
    ahead = np.array([np.cos(lean), np.sin(lean)])
    long = rng.uniform(36, 54)
    forked = rng.random() < 0.5
    for k in range(2 if forked else int(rng.integers(3, 7))):
        way = turned(-ahead[None], (k - 0.5) * 0.5 if forked else (k / 3 - 0.7) * 0.6)[0]
        _plume(
            pen, at - ahead * long * 0.7, at + way * long * rng.uniform(1.6, 2.4), 12, rng.uniform(-8, 8), 1
        )
    for side in (-1, 1):
        angle = side * rng.uniform(0.9, 1.9) + rng.uniform(-0.2, 0.2)
        span = rng.uniform(60, 95)
        for k in range(int(rng.integers(3, 7))):
            way = turned(ahead[None], float(angle + side * k * 0.13))[0]
            pen.shape(leaf(at + ahead * (18 - k * 8), at + way * span * (1 - 0.08 * k), 20, side * 6), k % 2)
    pen.shape(ellipse(at, long, rng.uniform(11, 18), float(lean)), 0)
    _head(pen, at + ahead * (long + 6), rng.uniform(9, 13), 1)


def _eagle(pen: Pen) -> None:
    """A heraldic eagle seen from the front, wings spread (held out)."""
    rng = pen.rng
    for side in (-1, 1):
        for k in range(int(rng.integers(4, 8))):
            angle = -1.2 + k * 0.35
            tip = np.array([96 + side * np.cos(angle) * 85, 110 + np.sin(angle) * 85])
            pen.shape(leaf(np.array([96 + side * 14, 100 + k * 6]), tip, 17, side * 5), k % 2)
    for k in range(-2, 3):
        pen.shape(leaf(np.array([96, 165]), np.array([96 + k * 17, 232]), 16), 1)
    _legs(pen, np.array([96.0, 165.0]), 214, 26)
    pen.shape(ellipse((96, 130), 24, 46), 0)
    _head(pen, np.array([96.0, 68.0]), 17, 1)


def _swimming(pen: Pen) -> None:
    """A duck or swan on the water (held out)."""
    rng = pen.rng
    pen.shape(np.array([[40, 150], [70, 176], [130, 178], [156, 150], [120, 150], [80, 156], [30, 126]]), 0)
    neck = curve([[140, 160], [158, 120], [rng.uniform(120, 150), 90], [146, 62]])
    pen.canvas.stroke(neck, 26, 16, 14, pen.ink(0))
    _head(pen, neck[-1], rng.uniform(12, 16), 1)
    _wing(pen, np.array([128.0, 150.0]), np.array([52.0, 128.0]), 30, 1)
    for k in range(3):
        pen.line(
            curve([[30, 184 + 8 * k], [70, 190 + 8 * k], [120, 183 + 8 * k], [170, 190 + 8 * k]]), 2, 0.7
        )


Family = Callable[[Pen], None]
FAMILIES: Final[tuple[Family, ...]] = (
    _perched, _perched, _perched, _in_strokes, _in_strokes, _in_strokes, _crane, _fan, _owl, _flying, *GRAVEN, *GRAVEN,
    *FLYING, *FLYING,
)  # fmt: skip
HELD_OUT: Final[tuple[Family, ...]] = (_eagle, _swimming, *FLYING_HELD_OUT)
