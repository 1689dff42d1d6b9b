"""People for flower tiles as they meet us: officials in wide robes, anglers on banks and boats, porters with a pole."""

from __future__ import annotations

from typing import Final

import numpy as np

from tilewitness.training.engraving import curve, ellipse, leaf
from tilewitness.training.pens import Pen
from tilewitness.training.plants import Plant, blossom
from tilewitness.training.still_life import even, fish


def _robe(pen: Pen, x: float, top: float, foot: float, flare: float) -> float:
    """A robe seen from the front, with a face above it; returns half its width at the shoulders."""
    rng = pen.rng
    tall = foot - top
    shoulder, head = tall * rng.uniform(0.15, 0.2), tall * rng.uniform(0.09, 0.12)
    neck = top + head * 2
    pen.shape(even([shoulder * 0.7, shoulder, shoulder * 1.05, shoulder * flare], neck, foot, x), 0)
    pen.line(curve([[x - shoulder * 0.5, neck], [x + 2, neck + tall * 0.16], [x, foot]], 10), 1, 0.7)
    pen.line(np.array([[x + shoulder * 0.5, neck], [x + 2, neck + tall * 0.16]]), 1, 0.7)
    if rng.random() < 0.6:
        belt = neck + tall * rng.uniform(0.26, 0.36)
        pen.shape(np.array([[x - shoulder, belt], [x + shoulder, belt], [x + shoulder, belt + 11], [x - shoulder, belt + 11]]), 1)
    for _ in range(int(rng.integers(0, 4))):
        fold = x + rng.uniform(-0.8, 0.8) * shoulder
        pen.line(np.array([[fold, foot - tall * 0.3], [fold + (fold - x) * 0.5, foot - 4]]), 2, 0.5)
    pen.canvas.shape(ellipse((x, top + head), head, head * 1.2), None, pen.ink(2), max(2.0, pen.width * 0.6))
    for side in (-1, 1):
        pen.dot(x + side * head * 0.36, top + head * 0.9, max(1.3, head * 0.1), 2)
    pen.line(np.array([[x - head * 0.25, top + head * 1.55], [x + head * 0.25, top + head * 1.55]]), 2, 0.4)
    hat = rng.integers(5)
    brow = top + head * 0.3
    if hat == 0:  # an official's, with wings
        pen.shape(np.array([[x - head, brow], [x - head * 0.9, brow - head * 1.3], [x + head * 0.9, brow - head * 1.3], [x + head, brow]]), 2)
        for side in (-1, 1):
            pen.shape(leaf(np.array([x + side * head, brow - 3]), np.array([x + side * head * 3, brow - rng.uniform(0, 12)]), 9), 2)
    elif hat == 1:
        pen.shape(np.array([[x - head * 2.1, brow + 6], [x, brow - head * 1.3], [x + head * 2.1, brow + 6]]), 1)
    elif hat == 2:
        pen.shape(ellipse((x, brow - 2), head * 1.05, head * 0.55), 2)
        pen.shape(ellipse((x, brow - head * 0.75), head * 0.4, head * 0.35), 2)
    elif hat == 3:
        pen.shape(np.array([[x - head, brow], [x - head * 1.2, brow - head * 0.9], [x + head * 1.2, brow - head * 0.9], [x + head, brow]]), 1)
    else:
        for side in (-1, 1):
            pen.shape(ellipse((x + side * head * 0.8, brow - head * 0.2), head * 0.5, head * 0.5), 2)
    if rng.random() < 0.4:
        for lean in (-0.25, 0.0, 0.25):
            pen.stroke(np.array([[x + lean * head, top + head * 1.8], [x + lean * head * 3, top + head * 3.6]]), head * 0.3, 2)
    return shoulder


def official(pen: Pen) -> None:
    """A person in a wide robe seen from the front, sleeves joined, hanging or holding a tablet, scroll, fan or branch."""
    rng = pen.rng
    foot, top = rng.uniform(230, 240), rng.uniform(26, 52)
    half = _robe(pen, 96, top, foot, rng.uniform(1.1, 2.0))
    hands = top + (foot - top) * rng.uniform(0.42, 0.52)
    joined = rng.random() < 0.6
    for side in (-1, 1):
        shoulder = np.array([96 + side * half * 0.8, top + (foot - top) * 0.26])
        hand = np.array([96 + side * (6 if joined else half * rng.uniform(1.4, 2.0)), hands])
        elbow = (shoulder + hand) / 2 + [side * half * 0.7, 8]
        arm = curve([list(shoulder), list(elbow), list(hand)], 9)
        pen.shape(np.concatenate([arm, (arm + np.linspace(4, rng.uniform(18, 34), 9)[:, None] * [0, 1])[::-1]]), 0)
    thing, x = rng.integers(5), 96.0 if joined else 96 + half * 1.6
    if thing == 0:
        pen.shape(np.array([[x - 6, hands + 4], [x - 8, hands - 54], [x + 8, hands - 54], [x + 6, hands + 4]]), 1)
    elif thing == 1:
        for lean in np.linspace(-1.1, 1.1, 6):
            pen.shape(leaf(np.array([x, hands]), np.array([x + np.sin(lean) * 34, hands - np.cos(lean) * 34]), 12), 1)
    elif thing == 2:
        pen.line(np.array([[x + 4, hands - 80], [x, foot + 2]]), 1, 1.1)
    elif thing == 3:
        blossom(pen, x, hands - 26, 18, 1, int(rng.integers(8)))
        pen.line(np.array([[x, hands], [x, hands - 20]]), 0)


def angler(pen: Pen) -> None:
    """An angler on a bank, rock or boat with a long rod, line and catch."""
    rng = pen.rng
    x, bank = rng.uniform(48, 66), rng.uniform(186, 214)
    top = bank - rng.uniform(96, 130)
    half = _robe(pen, x, top, bank, rng.uniform(1.3, 1.9))
    hand = np.array([x + half * 1.5, top + (bank - top) * 0.45])
    pen.canvas.stroke(curve([[x + half * 0.7, top + 34], list((hand + [x, top + 60]) / 2), list(hand)], 8), 12, 10, 8, pen.ink(0))
    tip = np.array([rng.uniform(140, 172), rng.uniform(26, 74)])
    rod = curve([list(hand - [14, -12]), list((hand + tip) / 2 + [-6, -8]), list(tip)], 12)
    pen.canvas.stroke(rod, 6, 4, 2, pen.ink(1))
    catch = np.array([tip[0] + rng.uniform(-8, 4), bank + rng.uniform(-26, 8)])
    pen.canvas.line(np.array([tip, catch]), 1, pen.ink(2))
    if rng.random() < 0.6:
        fish(pen, catch + [0, 16], 17, -1.4)
    if rng.random() < 0.5:
        hull = curve([[14, bank - 10], [40, bank + 6], [110, bank + 8], [146, bank - 10]], 16)
        pen.shape(np.concatenate([hull, [[120, bank + 26], [40, bank + 26]]]), 1)
    else:
        pen.shape(curve([[8, bank + 34], [16, bank], [70, bank - 4], [104, bank + 12], [112, bank + 34]], 20), 1)
    for k in range(int(rng.integers(1, 4))):
        xs = np.linspace(rng.uniform(10, 80), 182, 16)
        pen.line(np.stack([xs, bank + 30 + 9 * k + 3 * np.sin(xs / 8)], 1), 2, 0.6)


def porter(pen: Pen) -> None:
    """A woodcutter, peddler or water carrier with two loads on a pole."""
    rng = pen.rng
    foot, top = 238.0, rng.uniform(56, 84)
    pole = top + (foot - top) * 0.24
    _robe(pen, 96, top, foot - 24, rng.uniform(1.0, 1.4))
    for side in (-1, 1):
        pen.canvas.stroke(np.array([[96 + side * 10, foot - 26], [96 + side * 14, foot]]), 10, 9, 8, pen.ink(2))
    pen.line(curve([[14, pole + 10], [96, pole - 4], [178, pole + 10]], 14), 1, 1.2)
    load = int(rng.integers(4))
    for side in (-1, 1):
        x, y = 96 + side * 64, pole + rng.uniform(56, 80)
        for dx in (-18, 18):
            pen.line(np.array([[96 + side * 72, pole + 8], [x + dx, y]]), 1, 0.5)
        if load == 0:
            for k in range(6):
                pen.line(np.array([[x - 22 + 8 * k, y - 8], [x - 20 + 8 * k, y + 34]]), 0)
            pen.line(np.array([[x - 26, y + 12], [x + 26, y + 12]]), 2)
        else:
            pen.shape(even([22, 24, 17], y, y + 38, x), load)
            if load == 2:
                for k in range(3):
                    pen.shape(ellipse((x - 12 + 12 * k, y - 5), 9, 9), 1)


FAMILIES: Final[tuple[Plant, ...]] = (official, official, angler, porter)
