"""Things in rows that are no tiles, for measuring alone: no training scene shows one of these drawings.

Training has drawings of such things of its own (`lookalikes.py`); these differ in shapes, pips, suits and
print, and take their letters from the families that are held out. Bricks and windows come from `lattice`,
which may also lie under a training scene's tiles.
"""

from __future__ import annotations

from collections.abc import Callable

import cv2
import numpy as np

from tilewitness.training.decoys import words, write_on
from tilewitness.training.glyphs import draw_text, families
from tilewitness.training.kinds import PAPER
from tilewitness.training.solids import Floats, Image, Paint, Solid, box, pixel, placed, turned
from tilewitness.training.surfaces import SIDE, colour, lattice, tinted


def _keys(rng: np.random.Generator) -> Image:
    """A lattice with a letter, a number or a sign in every cell: keyboards, calendars, games."""
    rows, columns = int(rng.integers(2, 9)), int(rng.integers(2, 12))
    ground, cell = tinted(colour(rng), np.ones((SIDE, SIDE), np.float32)), colour(rng, (0, 0.4), (0.1, 1))
    h, w = SIDE / rows, SIDE / columns
    gap = rng.uniform(0.01, 0.15) * min(h, w)
    chinese = rng.random() < 0.3
    family = str(rng.choice(families("chinese" if chinese else "latin", held_out=True)))
    size = min(h, w) * rng.uniform(0.25, 0.7)
    ink = colour(rng, (0, 1), (0, 0.4) if sum(cell) > 380 else (0.7, 1))
    for row, column in np.ndindex(rows, columns):
        low = np.array([column * w + gap, row * h + gap])
        cv2.rectangle(ground, pixel(low), pixel(low + (w - 2 * gap, h - 2 * gap)), cell, -1)
        if rng.random() < 0.9:
            mask = draw_text(words(rng, 1, chinese), family, size)
            at = low + ((w - mask.shape[1]) / 2 - gap, (h - mask.shape[0]) / 2 - gap)
            write_on(ground, mask, pixel(at), ink)
    return ground


def _keyboard(rng: np.random.Generator) -> Solid:
    """A keyboard, calculator or chocolate bar: a block with a lattice on top."""
    w, h = rng.uniform(3, 12), rng.uniform(2, 5)
    top = Paint((60, 60, 60), _keys(rng) if rng.random() < 0.6 else lattice(rng))
    return box((-w / 2, -h / 2, 0), (w / 2, h / 2, rng.uniform(0.1, 0.5)), Paint(colour(rng, (0, 0.3))), top)


def _pips(rng: np.random.Generator, count: int, side: int = 64) -> Image:
    """A square of drilled or ringed pips, up to nine of them."""
    tone = colour(rng, (0, 0.1), (0.85, 1)) if rng.random() < 0.6 else colour(rng)
    ink = colour(rng, (0, 1), (0, 0.6))
    radius, drilled = side * rng.uniform(0.07, 0.11), rng.random() < 0.5
    face = tinted(tone, np.ones((side, side), np.float32))
    for place in (4,) * (count % 2) + (0, 8, 2, 6, 3, 5, 1, 7)[: count // 2 * 2]:
        at = side * (0.25 + 0.25 * np.array([place % 3, place // 3]))
        cv2.circle(face, pixel(at), round(radius), ink, -1 if drilled else max(1, round(0.45 * radius)), cv2.LINE_AA)
        if drilled:
            shine = (ink[0] / 2 + 90, ink[1] / 2 + 90, ink[2] / 2 + 90)
            cv2.circle(face, pixel(at + 0.35 * radius), max(1, round(0.4 * radius)), shine, -1, cv2.LINE_AA)
    return face


def _domino(rng: np.random.Generator) -> Solid:
    """A domino: two squares of pips, near in shape to a tile."""
    style = int(rng.integers(1 << 30))
    halves = [_pips(np.random.default_rng(style), int(rng.integers(0, 10))) for _ in range(2)]
    face = np.vstack([halves[0], np.full((3, 64, 3), 40, np.uint8), halves[1]])
    tone = face[2, 2].astype(float)
    body = Paint((tone[0], tone[1], tone[2]))
    w = rng.uniform(0.8, 1.2)
    return box((-w / 2, -w, 0), (w / 2, w, rng.uniform(0.2, 0.5)), body, Paint(body.colour, face))


def _keyboards(rng: np.random.Generator) -> list[Solid]:
    return [_keyboard(rng)]


def _dominoes(rng: np.random.Generator) -> list[Solid]:
    """A row or two of upright dominoes, touching or a little apart: the widest measures 2.4."""
    step = rng.uniform(2.4, 2.8)
    across = int(rng.integers(2, 9))
    rows = int(rng.integers(1, 3))
    return [
        placed(_domino(rng), turned(z=rng.normal(0, 3)), np.array([step * x, 2 * step * y, 0.0]))
        for y in range(rows)
        for x in range(across)
    ]


def _bricks_and_windows(rng: np.random.Generator) -> list[Solid]:
    """A wall of equal fields, flat on the ground: the camera may look at it from any side."""
    w, h = rng.uniform(5, 12, 2)
    return [box((-w, -h, -0.02), (w, h, 0.0), PAPER, Paint(PAPER.colour, lattice(rng)))]


def _calculator(rng: np.random.Generator) -> Solid:
    """A case with a display and four to six columns of keys, round or square, with print on them."""
    wide, tall = 360, int(360 * rng.uniform(1.2, 1.8))
    face = tinted(colour(rng, (0, 0.6), (0.1, 0.9)), np.ones((tall, wide), np.float32))
    cv2.rectangle(face, (25, 25), (wide - 25, tall // 5), colour(rng, (0.1, 0.3), (0.5, 0.8), hue=0.25), -1)
    rows, columns, round_ones = int(rng.integers(4, 8)), int(rng.integers(3, 7)), rng.random() < 0.5
    inks = [colour(rng, (0, 0.6), (0.05, 0.95)) for _ in range(2)]
    family = str(rng.choice(families("latin", held_out=True)))
    step = np.array([(wide - 30) / columns, (0.8 * tall - 30) / rows])
    reach = step * rng.uniform(0.3, 0.46)
    for row, column in np.ndindex(rows, columns):
        cap = inks[int(column == columns - 1)]
        at = np.array([15, 0.2 * tall + 15]) + step * (column + 0.5, row + 0.5)
        if round_ones:
            cv2.ellipse(face, pixel(at), pixel(reach), 0, 0, 360, cap, -1, cv2.LINE_AA)
        else:
            cv2.rectangle(face, pixel(at - reach), pixel(at + reach), cap, -1)
        mask = draw_text(words(rng, int(rng.choice([1, 1, 2])), False), family, 0.8 * float(reach.min()))
        ink = (20, 20, 20) if sum(cap) > 380 else (240, 240, 240)
        write_on(face, mask, pixel(at - np.array(mask.shape[::-1]) / 2), ink)
    w = rng.uniform(3, 5)
    h = w * tall / wide
    case = Paint(colour(rng, (0, 0.4)))
    return box((-w / 2, -h / 2, 0), (w / 2, h / 2, rng.uniform(0.2, 0.6)), case, Paint(case.colour, face))


def _calculators(rng: np.random.Generator) -> list[Solid]:
    """One, or two side by side."""
    count = int(rng.integers(1, 3))
    return [placed(_calculator(rng), turned(z=rng.normal(0, 4)), np.array([6.0 * i, 0.0, 0.0])) for i in range(count)]


def _dice(rng: np.random.Generator) -> list[Solid]:
    """One to three rows of equal dice, as thrown and pushed together."""
    style, step = int(rng.integers(1 << 30)), rng.uniform(1.05, 1.6)
    solids = []
    for row, column in np.ndindex(int(rng.integers(1, 4)), int(rng.integers(2, 7))):
        top, side = (_pips(np.random.default_rng(style), int(rng.integers(1, 7))) for _ in range(2))
        b, g, r = top[1, 1].astype(float)
        cube = box((-0.5, -0.5, 0), (0.5, 0.5, 1), Paint((b, g, r), side), Paint((b, g, r), top))
        solids.append(placed(cube, turned(z=rng.normal(0, 4)), np.array([step * column, step * row, 0.0])))
    return solids


def _suit(card: Image, at: Floats, radius: float, suit: int, ink: tuple[float, float, float]) -> None:
    """Paint a heart, a spade (a heart on its head), a diamond or a club, the last three with what they stand on."""
    turn = np.linspace(0, 2 * np.pi, 60, endpoint=False)
    if suit < 2:  # the well-known heart curve of sines and cosines, 32 units wide
        x, y = 16 * np.sin(turn) ** 3, 13 * np.cos(turn) - 5 * np.cos(2 * turn) - 2 * np.cos(3 * turn) - np.cos(4 * turn)
        outlines = [np.stack([x, -y if suit == 0 else y], 1) / 16]
    elif suit == 2:
        outlines = [np.array([(0, -1), (0.7, 0), (0, 1), (-0.7, 0)])]
    else:
        disc = 0.48 * np.stack([np.cos(turn), np.sin(turn)], 1)
        outlines = [disc + middle for middle in ((0, -0.5), (-0.5, 0.2), (0.5, 0.2))]
    if suit in (1, 3):
        outlines.append(np.array([(0, 0), (0.4, 1.15), (-0.4, 1.15)]))
    for outline in outlines:
        cv2.fillPoly(card, [np.asarray(np.round(at + radius * outline), np.int32)], ink, cv2.LINE_AA)


def _cards(rng: np.random.Generator) -> list[Solid]:
    """A row of cards with one large suit and large signs in two corners, in four colours, apart or overlapping."""
    family = str(rng.choice(families("latin", held_out=True)))
    inks = [(30, 20, 200), (25, 25, 25), (190, 90, 20), (40, 120, 20)]
    step, paper = rng.uniform(0.9, 2.4), rng.uniform(225, 252)
    solids = []
    for place in range(int(rng.integers(2, 8))):
        card, suit = np.full((280, 200, 3), paper, np.uint8), int(rng.integers(4))
        mask = draw_text(str(rng.choice(list("A23456789JQK"))), family, 52)
        for _ in range(2):
            write_on(card, mask, (12, 14), inks[suit])
            card = np.ascontiguousarray(card[::-1, ::-1])
        _suit(card, np.array([100, 140], np.float32), rng.uniform(35, 60), suit, inks[suit])
        flat = box((-1, -1.4, 0), (1, 1.4, 0.02), Paint((235, 235, 235)), Paint((235, 235, 235), card))
        solids.append(placed(flat, turned(z=rng.normal(0, 3)), np.array([step * place, 0.0, 0.021 * place])))
    return solids


MAKERS: dict[str, Callable[[np.random.Generator], list[Solid]]] = {
    "keyboard": _keyboards,
    "dominoes": _dominoes,
    "bricks or windows": _bricks_and_windows,
    "calculators": _calculators,
    "dice": _dice,
    "cards": _cards,
}
"""What the photos show: each kind returns its solids, about the origin or from it."""
