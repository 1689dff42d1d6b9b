"""Dragon pictures for the red, green and white dragons: icons and parametric ones the height of the tile.

A design is drawn once in three stand-in inks, "red" for the body, "green" and "blue" for its trimmings; each
dragon of the set then prints it in inks of its own, as real sets cut one picture and fill it with two colours.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from tilewitness.training.copperplate import engrave
from tilewitness.training.court_dragons import FAMILIES as COURT
from tilewitness.training.engraving import (
    INKS,
    Canvas,
    Points,
    curve,
    ellipse,
    leaf,
    pick,
    profile,
    ribbon,
    turned,
    warped,
)
from tilewitness.training.fitting import placed, sample_box
from tilewitness.training.graven_dragons import FAMILIES as GRAVEN
from tilewitness.training.graven_dragons import HELD_OUT as GRAVEN_HELD_OUT
from tilewitness.training.icons import icon, sample_icon
from tilewitness.training.long_dragons import FAMILIES as LONG
from tilewitness.training.long_dragons import HELD_OUT as LONG_HELD_OUT
from tilewitness.training.pens import Pen
from tilewitness.training.plates import Palette

LONG_SHARE: Final = 0.28
ICON_SHARE: Final = 0.4
_STAND_INS: Final = (
    ("red",),
    ("red",),
    ("red", "green"),
    ("red", "green"),
    ("red", "green", "blue"),
    ("red", "blue", "red"),
)
# For each dragon the inks that its body may be printed in (the usual one more often), and its trimmings.
_BODY: Final = {
    "red": ("red",) * 9 + ("fifth",),
    "green": ("green",) * 8 + ("black", "blue"),
    "white": ("blue",) * 5 + ("black",) * 4 + ("fifth",),
}
_TRIM: Final = {
    "red": ("green", "blue", "black", "fifth", "sixth", "red"),
    "green": ("red", "blue", "black", "fifth", "sixth", "green"),
    "white": ("red", "green", "black", "blue", "fifth"),
}


def dragon(rng: np.random.Generator, *, held_out: bool) -> Canvas:
    """Draw the dragon of one set in the stand-in inks."""
    later = rng.spawn(1)[0]  # a stream of its own: the dragons that were there before stay what they were
    if later.random() < LONG_SHARE:
        canvas = Canvas()
        pick(later, LONG_HELD_OUT if held_out else LONG)(Pen(canvas, pick(later, _STAND_INS), later))
        return placed(canvas, later)
    canvas = Canvas()
    palette: Palette = pick(rng, _STAND_INS)
    if rng.random() < ICON_SHARE:
        name = sample_icon(rng, "dragons", held_out=held_out)
        engrave(canvas, icon("dragons", name), sample_box(rng), palette, rng)
        if rng.random() < 0.5:
            canvas.planes = warped(canvas.planes, rng, 6)
        return canvas
    families = HELD_OUT if held_out else FAMILIES
    pick(rng, families)(Pen(canvas, palette, rng))
    return placed(canvas, rng)


def printed(canvas: Canvas, face: str, rng: np.random.Generator) -> Canvas:
    """Print the stand-ins in the inks of the red, green or white dragon; a white one may stand in a frame."""
    body = pick(rng, _BODY[face])
    trims = [pick(rng, _TRIM[face]) for _ in range(2)]
    if face == "white" and rng.random() < 0.6 or rng.random() < 0.35:
        trims = [body, body]
    planes = np.zeros_like(canvas.planes)
    for plane, ink in zip(canvas.planes, [body, *trims], strict=False):
        np.maximum(planes[INKS.index(ink)], plane, out=planes[INKS.index(ink)])
    result = Canvas()
    result.planes = planes
    if face == "white" and rng.random() < 0.3:
        _frame(result, body, rng)
    return result


def _frame(canvas: Canvas, ink: str, rng: np.random.Generator) -> None:
    inset, width = rng.uniform(6, 16), rng.uniform(2, 7)
    for _ in range(int(rng.integers(1, 3))):
        box = np.array(
            [[inset, inset], [192 - inset, inset], [192 - inset, 256 - inset], [inset, 256 - inset]]
        )
        canvas.line(box, width, ink, closed=True)
        inset += width + rng.uniform(3, 8)
        width = max(1.5, width * 0.6)


def _spikes(pen: Pen, spine: Points, widths: Points, side: float, place: int) -> None:
    rng = pen.rng
    size, step = rng.uniform(5, 12), int(rng.integers(2, 5))
    for i in range(3, len(spine) - 3, step):
        way = spine[i + 1] - spine[i - 1]
        way /= np.hypot(*way) + 1e-9
        out = np.array([-way[1], way[0]]) * side
        root = spine[i] + out * widths[i] * 0.45
        tip = root + out * size - way * size * 0.6
        pen.shape(np.array([root - way * size * 0.5, tip, root + way * size * 0.5]), place)


def _leg(pen: Pen, root: Points, angle: float, size: float) -> None:
    """A bent leg with three to five claws."""
    rng = pen.rng
    way = np.array([np.cos(angle), np.sin(angle)])
    knee = root + way * size * 0.6
    foot = knee + turned(way[None], rng.choice([-0.9, 0.9]))[0] * size * 0.6
    pen.canvas.stroke(
        curve([list(root), list(knee), list(foot)], 12), size * 0.5, size * 0.3, size * 0.18, pen.ink(0)
    )
    heading = float(np.arctan2(*(foot - knee)[::-1]))
    for k in range(int(rng.integers(3, 6))):
        lean = heading + (k - 1.5) * 0.55
        tip = foot + np.array([np.cos(lean), np.sin(lean)]) * size * 0.4
        pen.canvas.stroke(curve([list(foot), list(tip)], 5), size * 0.14, size * 0.1, 0.5, pen.ink(1))


def _dragon_head(pen: Pen, at: Points, angle: float, size: float) -> None:
    """A head in profile: open jaw, horns, mane, whiskers, eye."""
    rng = pen.rng

    def local(points: list[list[float]]) -> Points:
        flip = np.array([1, -1 if np.cos(angle) < 0 else 1])
        return turned(np.array(points, float) * size * flip, angle) + at

    for k in range(int(rng.integers(2, 7))):
        lean = rng.uniform(-0.9, 0.9)
        pen.shape(
            leaf(local([[-0.3, lean * 0.4]])[0], local([[-1.2 - rng.uniform(0, 0.9), lean]])[0], size * 0.35),
            k,
        )
    for _ in range(int(rng.integers(1, 3))):
        pen.stroke(curve(list(map(list, local([[-0.2, -0.45], [-0.7, -1.0], [-1.3 - rng.uniform(0, 0.5), -1.1]]))), 10),
                   size * 0.24, 1)  # fmt: skip
    gape = rng.uniform(0.15, 0.5)
    pen.shape(local([[-0.6, -0.5], [0.1, -0.6], [0.5, -0.35], [1.1, -0.45], [1.35, -0.2], [1.2, 0.02], [0.3, 0.12],
                     [-0.1, 0.5], [-0.6, 0.5]]), 0)  # fmt: skip
    pen.shape(local([[-0.2, 0.35], [0.3, 0.2 + gape * 0.4], [1.0, 0.05 + gape], [1.05, 0.2 + gape], [0.3, 0.5 + gape * 0.6],
                     [-0.3, 0.65]]), 0)  # fmt: skip
    if rng.random() < 0.6:
        pen.stroke(curve(list(map(list, local([[0.3, 0.25 + gape * 0.3], [0.9, 0.1 + gape * 0.4], [1.7, 0.3]]))), 8),
                   size * 0.16, 1)  # fmt: skip
    for sign in (-1, 1):
        pen.line(curve(list(map(list, local([[1.2, -0.2], [1.6, -0.5 * sign], [1.2 + rng.uniform(0, 1), -1.1 * sign]]))), 10),
                 1, 0.6)  # fmt: skip
    x, y = local([[0.15, -0.3]])[0]
    pen.eye(float(x), float(y), max(2.0, size * 0.11), 2)


def _body(pen: Pen, spine: Points, thick: float) -> Points:
    """Body along a spine from head to tail; returns its widths."""
    rng = pen.rng
    widths = profile(len(spine), thick * 0.8, thick, thick * 0.12)
    if rng.random() < 0.85:
        _spikes(pen, spine, widths, rng.choice([-1, 1]), 1)
    pen.shape(ribbon(spine, widths), 0)
    kind = rng.integers(4)
    if kind == 0:
        pen.canvas.line(spine[2:-6], max(1, thick * 0.12), None)
    elif kind < 3:
        pen.scales(spine, widths, None if rng.random() < 0.6 else pen.ink(1), int(rng.integers(2, 5)))
        if rng.random() < 0.4:
            side = ribbon(spine, widths * 0.45)[: len(spine)]
            pen.canvas.line(side[1:-6], max(1, thick * 0.07), None if rng.random() < 0.5 else pen.ink(1))
    else:
        for i in range(2, len(spine) - 4, 3):
            pen.canvas.dot(spine[i], widths[i] * 0.18, None)
    return widths


def _creature(pen: Pen, knots: list[list[float]], thick: float) -> None:
    """A whole dragon along knots from head to tail."""
    rng = pen.rng
    jitter = 6.0 if len(knots) < 10 else 2.0
    spine = curve(np.asarray(knots, float) + rng.normal(0, jitter, (len(knots), 2)), 64)
    widths = profile(len(spine), thick * 0.8, thick, thick * 0.12)
    if rng.random() < 0.9:
        for place in rng.permutation([12, 22, 34, 46])[: rng.integers(2, 5)]:
            way = spine[place + 1] - spine[place - 1]
            _leg(pen, spine[place], float(np.arctan2(way[1], way[0]) + rng.choice([-1, 1]) * rng.uniform(1, 2)),
                 widths[place] * rng.uniform(1.1, 1.8))  # fmt: skip
    _body(pen, spine, thick)
    for k in range(int(rng.integers(0, 6))):
        at = spine[2 + k]
        away = at - spine[5 + k]
        lock = at - turned(away[None], rng.choice([-1.2, 1.2]))[0] / (
            np.hypot(*away) + 1e-9
        ) * thick * rng.uniform(0.8, 1.3)
        pen.shape(leaf(at, lock, thick * 0.35, 4), 1)
    tail = spine[-1] - spine[-4]
    for k in range(int(rng.integers(0, 5))):
        lean = turned(tail[None], (k - 1.5) * 0.5)[0]
        pen.shape(leaf(spine[-1], spine[-1] + lean / (np.hypot(*lean) + 1e-9) * rng.uniform(12, 26), 9), 1)
    ahead = spine[0] - spine[3]
    _dragon_head(pen, spine[0], float(np.arctan2(ahead[1], ahead[0]) + rng.uniform(-0.3, 0.3)),
                 thick * rng.uniform(0.9, 1.3))  # fmt: skip
    _around(pen)


def _around(pen: Pen) -> None:
    """A pearl, flames or clouds in the free corners."""
    rng = pen.rng
    if rng.random() < 0.3:
        x, y, r = rng.uniform(30, 162), rng.uniform(20, 236), rng.uniform(6, 11)
        pen.shape(ellipse((x, y), r, r), 1)
        for k in range(int(rng.integers(0, 6))):
            way = np.array([np.cos(k), np.sin(k)])
            pen.shape(leaf(np.array([x, y]) + way * r, np.array([x, y]) + way * r * 2.2, r * 0.7, 2), 1)
    for _ in range(int(rng.integers(0, 3)) if rng.random() < 0.5 else 0):
        x, y = rng.uniform(35, 157), rng.uniform(40, 220)
        pen.stroke(curve([[x - 14, y], [x - 6, y - 8], [x, y], [x + 8, y - 8], [x + 14, y]], 14), 3.5, 1)


def _serpentine(pen: Pen) -> None:
    """Standing upright in an S or a longer wave, head up or down."""
    rng = pen.rng
    waves, swing, phase = rng.uniform(1.2, 4.2), rng.uniform(30, 62), rng.uniform(0, np.pi)
    t = np.linspace(0, 1, 15)
    x = 96 + swing * np.sin(phase + waves * np.pi * t) * (0.55 + 0.45 * np.sin(np.pi * t))
    y = 34 + 196 * t + rng.uniform(0, 14) * np.cos(phase + waves * np.pi * t)
    if rng.random() < 0.3:
        y = 256 - y
    _creature(pen, np.stack([x, y], 1).tolist(), rng.uniform(22, 44) / max(1, waves / 2.5))


def _coiled(pen: Pen) -> None:
    """Rolled up in a ring or spiral, the head in the middle or at the top."""
    rng = pen.rng
    turns, start = rng.uniform(0.9, 1.8), rng.uniform(0, 2 * np.pi)
    t = np.linspace(0, 1, 9)
    radius = 18 + 76 * t if rng.random() < 0.5 else 62 + 26 * t
    angle = start + 2 * np.pi * turns * t
    _creature(pen, [[96 + 0.9 * r * np.cos(a), 128 + 1.2 * r * np.sin(a)] for r, a in zip(radius, angle, strict=True)],
              rng.uniform(15, 26))  # fmt: skip


def _rearing(pen: Pen) -> None:
    """Head high, the body in a C or 2, now and then winged."""
    rng = pen.rng
    if rng.random() < 0.5:
        for side in (-1, 1):
            hub, tips = np.array([100.0, 110.0]), []
            for k in range(4):
                angle = -np.pi / 2 + side * (0.25 + 0.38 * k)
                tips.append(hub + np.array([np.cos(angle), np.sin(angle)]) * rng.uniform(70, 95))
            pen.shape(np.array([hub, *[p for tip in tips for p in (tip, tip * 0.65 + hub * 0.35)]]), 1)
    _creature(
        pen,
        [[118, 40], [78, 62], [92, 110], [132, 146], [104, 200], [58, 214], [40, 176]],
        rng.uniform(22, 36),
    )


def _crawling(pen: Pen) -> None:
    """Along the tile in one or two waves, the head held high."""
    rng = pen.rng
    rise, waves, phase = rng.uniform(22, 48), rng.uniform(1.4, 2.6), rng.uniform(0, np.pi)
    t = np.linspace(0, 1, 12)
    y = 140 + rise * np.sin(phase + waves * np.pi * t) * (0.6 + 0.4 * t)
    y[:3] = [70, 92, (y[2] + 110) / 2]
    _creature(pen, np.stack([158 - 130 * t, y], 1).tolist(), rng.uniform(22, 36))


def _looped(pen: Pen) -> None:
    """A figure of eight standing upright (held out)."""
    rng = pen.rng
    wide = rng.uniform(44, 62)
    _creature(pen, [[96, 26], [96 + wide, 62], [96, 122], [96 - wide, 180], [96, 228], [96 + wide, 184], [104, 136],
                    [96 - wide, 76]], rng.uniform(14, 22))  # fmt: skip


def _mask_of_dragon(pen: Pen) -> None:
    """A dragon's face seen from the front (held out)."""
    rng = pen.rng
    for side in (-1, 1):
        for k in range(5):
            angle = -1.3 + 0.6 * k
            tip = np.array([96 + side * np.cos(angle) * 84, 130 + np.sin(angle) * 96])
            pen.shape(leaf(np.array([96 + side * 36, 130]), tip, 26, side * 6), 1)
        pen.stroke(curve([[96 + side * 22, 84], [96 + side * 50, 50], [96 + side * 44, 16]], 12), 13, 2)
    pen.shape(ellipse((96, 130), 52, 62), 0)
    pen.shape(ellipse((96, 165), 38, 30), 0)
    for side in (-1, 1):
        pen.shape(ellipse((96 + side * 22, 112), 15, 12), 2)
        pen.eye(96 + side * 22, 112, 5, 0)
        pen.shape(leaf(np.array([96 + side * 6, 98]), np.array([96 + side * 48, 84]), 10), 1)
        pen.dot(96 + side * 9, 150, 4, 2)
        pen.line(curve([[96 + side * 20, 160], [96 + side * 62, 176], [96 + side * 70, 228]]), 1, 0.8)
    for k in range(int(rng.integers(4, 8))):
        x = 68 + k * 8
        pen.shape(np.array([[x, 172], [x + 8, 172], [x + 4, 186]]), 1)


Family = Callable[[Pen], None]
FAMILIES: Final[tuple[Family, ...]] = (
    _serpentine,
    _serpentine,
    _serpentine,
    _coiled,
    _coiled,
    _rearing,
    _crawling,
    *GRAVEN,
    *GRAVEN,
    *COURT,
)
HELD_OUT: Final[tuple[Family, ...]] = (_mask_of_dragon, _looped, *GRAVEN_HELD_OUT)
