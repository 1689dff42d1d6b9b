"""Things on the table that are no tiles: dice, coins, cups, cards, paper, phones."""

from __future__ import annotations

from collections.abc import Callable

import cv2
import numpy as np

from tilewitness.training.decoys import page as print_page
from tilewitness.training.decoys import sample_decoy
from tilewitness.training.solids import Colour, Image, Paint, Solid, box, drum, placed, turned
from tilewitness.training.surfaces import clouds, colour, lattice, motifs


def _pips(rng: np.random.Generator, count: int, side: int = 64) -> Image:
    """A die's face."""
    face = np.full(
        (side, side, 3), colour(rng, (0, 0.1), (0.85, 1)) if rng.random() < 0.6 else colour(rng), np.uint8
    )
    places = {1: (4,), 2: (0, 8), 3: (0, 4, 8), 4: (0, 2, 6, 8), 5: (0, 2, 4, 6, 8), 6: (0, 2, 3, 5, 6, 8)}[
        count
    ]
    ink = colour(rng, (0, 1), (0, 0.6))
    for place in places:
        at = (int(side * (0.25 + 0.25 * (place % 3))), int(side * (0.25 + 0.25 * (place // 3))))
        cv2.circle(face, at, side // 11, ink, -1, cv2.LINE_AA)
    return face


def die(rng: np.random.Generator) -> Solid:
    """A die of some size."""
    side = rng.uniform(0.35, 0.8)
    top = _pips(rng, int(rng.integers(1, 7)))
    around = _pips(np.random.default_rng(int(rng.integers(99))), int(rng.integers(1, 7)))
    tone = top[2, 2].astype(float)
    base = (tone[0], tone[1], tone[2])
    return box((-side / 2, -side / 2, 0), (side / 2, side / 2, side), Paint(base, around), Paint(base, top))


def coin(rng: np.random.Generator) -> Solid:
    """A coin or counter."""
    metal = Paint(colour(rng, (0.1, 0.7), (0.4, 0.9), hue=float(rng.choice([0.08, 0.12, 0.6]))))
    radius, height = rng.uniform(0.3, 0.7), rng.uniform(0.05, 0.15)
    return drum((0, 0), (radius, radius), (height, 0), metal, metal)


def cup(rng: np.random.Generator) -> Solid:
    """A cup, glass, bowl or can."""
    outside = Paint(colour(rng, (0, 0.8), (0.1, 1)))
    inside = Paint(colour(rng, (0.1, 0.8), (0.1, 0.6)))
    top, height = rng.uniform(0.8, 2.2), rng.uniform(0.8, 4)
    return drum((0, 0), (top, top * rng.uniform(0.55, 1.05)), (height, 0), outside, inside)


def paper(rng: np.random.Generator) -> Solid:
    """A sheet of paper, a leaflet or a photo."""
    w, h = rng.uniform(2, 7), rng.uniform(2, 8)
    face = print_page(rng, 384, 288) if rng.random() < 0.6 else sample_decoy(rng)
    return box(
        (-w / 2, -h / 2, 0), (w / 2, h / 2, 0.02), Paint((230, 230, 230)), Paint((230, 230, 230), face)
    )


def _suit(card: Image, at: tuple[int, int], r: int, suit: int, ink: Colour) -> None:
    """Paint a heart, diamond, spade or club of about this radius."""
    x, y = at
    up = -1 if suit == 0 else 1  # a heart is a spade on its head, without its stem
    if suit == 1:
        corners = [(x, y - r), (x + r * 3 // 4, y), (x, y + r), (x - r * 3 // 4, y)]
    else:
        corners = [(x, y - up * r), (x + r * 9 // 10, y + up * r // 4), (x - r * 9 // 10, y + up * r // 4)]
    if suit != 3:
        cv2.fillPoly(card, [np.array(corners, np.int32)], ink, cv2.LINE_AA)
    lobes = {1: [], 3: [(x, y - r // 2)]}.get(suit, [])
    if suit != 1:
        lobes += [(x - r // 2, y + up * r // 4), (x + r // 2, y + up * r // 4)]
    for lobe in lobes:
        cv2.circle(card, lobe, max(1, r // 2), ink, -1, cv2.LINE_AA)
    if suit > 1:
        cv2.line(card, (x, y), (x, y + r), ink, max(1, r // 4), cv2.LINE_AA)


def _pip_places(value: int) -> list[tuple[int, int]]:
    """Where the pips of a card of 1 to 10 stand, in pixels of its face."""
    if value < 4:
        return [(80, y) for y in ((112,), (45, 179), (45, 112, 179))[value - 1]]
    rows = value // 2
    pairs = [(x, 45 + 134 * row // (rows - 1)) for row in range(rows) for x in (50, 110)]
    return pairs + [(80, 112 if value == 5 else 78)] * (value % 2)


def card_face(rng: np.random.Generator) -> Image:
    """The face of a playing card: pips in columns, or a picture, and indices in two corners."""
    card = np.full((224, 160, 3), 250, np.uint8)
    suit, value = int(rng.integers(4)), int(rng.integers(1, 14))
    ink: Colour = (30, 20, 200) if suit < 2 else (25, 25, 25)
    if value > 10:
        card[30:-30, 30:-30] = sample_decoy(rng)[:164, :100]
        cv2.rectangle(card, (30, 30), (129, 193), ink, 2)
    for x, y in _pip_places(value) if value < 11 else []:
        _suit(card, (x, y), 34 if value == 1 else 13, suit, ink)
    sign = {1: "A", 11: "J", 12: "Q", 13: "K"}.get(value, str(value))
    for _ in range(2):
        cv2.putText(card, sign, (6, 26), 2, 0.8, ink, 2, cv2.LINE_AA)
        _suit(card, (14, 40), 8, suit, ink)
        card = np.ascontiguousarray(card[::-1, ::-1])
    return card


def playing_card(rng: np.random.Generator) -> Solid:
    """A playing card, about two tiles wide, face up or with a patterned back."""
    card = card_face(rng)
    if rng.random() < 0.3:
        card[12:-12, 12:-12] = (lattice if rng.random() < 0.5 else motifs)(rng)[:200, :136]
    w = rng.uniform(0.9, 1.4)
    pale = Paint((240, 240, 240))
    return box((-w, -1.4 * w, 0), (w, 1.4 * w, 0.02), pale, Paint(pale.colour, card))


def row_of_cards(rng: np.random.Generator) -> list[Solid]:
    """Playing cards laid out side by side or overlapping, about the origin."""
    count, step = int(rng.integers(3, 9)), rng.uniform(0.7, 2.8)
    return [
        placed(
            playing_card(rng), turned(z=rng.normal(0, 4)), np.array([(i - count / 2) * step, 0.0, 0.021 * i])
        )
        for i in range(count)
    ]


def phone(rng: np.random.Generator) -> Solid:
    """A phone or tablet, dark or lit."""
    w, h = rng.uniform(2.2, 3), rng.uniform(4.5, 6.5)
    screen = (
        clouds(rng)[:300, :150]
        if rng.random() < 0.4
        else np.full((300, 150, 3), rng.uniform(5, 40), np.uint8)
    )
    framed = np.asarray(
        cv2.copyMakeBorder(screen, 8, 8, 8, 8, cv2.BORDER_CONSTANT, value=(20, 20, 20)), np.uint8
    )
    return box((-w / 2, -h / 2, 0), (w / 2, h / 2, 0.25), Paint((30, 30, 30)), Paint((30, 30, 30), framed))


def block(rng: np.random.Generator) -> Solid:
    """A book, box, case or brick."""
    w, d, h = rng.uniform(0.6, 9), rng.uniform(0.6, 6), rng.uniform(0.2, 3)
    paint = Paint(colour(rng))
    top = Paint(paint.colour, print_page(rng, 256, 256)) if rng.random() < 0.3 else paint
    return box((-w / 2, -d / 2, 0), (w / 2, d / 2, h), paint, top)


def pencil(rng: np.random.Generator) -> Solid:
    """A pencil, chopstick or ruler."""
    length, wide = rng.uniform(3, 9), rng.uniform(0.12, 0.9)
    return box(
        (-length / 2, -wide / 2, 0), (length / 2, wide / 2, rng.uniform(0.1, 0.25)), Paint(colour(rng))
    )


_THINGS: tuple[tuple[Callable[[np.random.Generator], Solid], float], ...] = (
    (die, 5),
    (coin, 2),
    (cup, 2),
    (paper, 3),
    (playing_card, 3),
    (phone, 2.4),
    (block, 1.5),
    (pencil, 1.5),
)


def scatter_things(
    rng: np.random.Generator, count: int, taken: list[tuple[float, float, float]], reach: float
) -> list[Solid]:
    """Put things about the origin where none of the `taken` circles (x, y, radius) lies."""
    weights = np.array([weight for _, weight in _THINGS])
    circles = list(taken)
    solids = []
    for _ in range(count):
        solid = _THINGS[int(rng.choice(len(_THINGS), p=weights / weights.sum()))][0](rng)
        radius = float(np.linalg.norm(solid.rings[..., :2], axis=-1).max())
        for _ in range(10):
            x, y = rng.uniform(-1, 1, 2) * reach
            if all(np.hypot(x - cx, y - cy) > radius + r for cx, cy, r in circles):
                circles.append((x, y, radius))
                solids.append(placed(solid, turned(z=rng.uniform(0, 360)), np.array([x, y, 0.0])))
                break
    return solids
