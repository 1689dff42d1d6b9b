"""Look-alikes with pips, letters or numbers: dominoes, dice, keys, letters and numbers of games, cards, calendars."""

from __future__ import annotations

import cv2
import numpy as np

from tilewitness.training.clutter import card_face
from tilewitness.training.decoys import CHINESE
from tilewitness.training.glyphs import families
from tilewitness.training.pieces import (
    UNLIKE_TILES,
    Family,
    blank,
    contrasting,
    darker,
    edged,
    print_sign,
    sample_letter,
    sample_tone,
)
from tilewitness.training.solids import Colour, Image, pixel
from tilewitness.training.surfaces import colour, wood

PIPS = (
    (), (4,), (0, 8), (0, 4, 8), (0, 2, 6, 8), (0, 2, 4, 6, 8), (0, 2, 3, 5, 6, 8),
    (0, 2, 3, 4, 5, 6, 8), (0, 1, 2, 3, 5, 6, 7, 8), (0, 1, 2, 3, 4, 5, 6, 7, 8),
)  # fmt: skip
"""Places of 0 to 9 pips on a square of three by three: sets of dominoes end at double six, nine or twelve."""

CAPITALS = "ABCDEFGHIJKLMNOPRSTUVWY"

TWELVE = 12
"""Pips above nine stand in three rows of four."""


def _pip_square(
    image: Image, count: int, ink: Colour, ring: Colour | None, radius: float, spread: float, thick: int = -1
) -> None:
    """Paint pips on a square image as dominoes and dice carry them; `thick` lines make them hollow."""
    side = min(image.shape[:2])
    if count < len(PIPS):
        places = [(place % 3 - 1.0, place // 3 - 1.0) for place in PIPS[count]]
    else:  # twelve, and less those at the middle for ten and eleven
        places = [(column - 1.0, (row - 1.5) * 0.75) for row in range(4) for column in range(3)]
        places = [place for i, place in enumerate(places) if i not in ((), (4,), (4, 7))[TWELVE - count]]
    if count > 6:
        radius = min(radius, 0.09)
    for place in places:
        at = side * (0.5 + spread * np.array(place))
        cv2.circle(image, pixel(at), max(1, round(radius * side)), ink, thick, cv2.LINE_AA)
        if ring is not None:
            cv2.circle(image, pixel(at), max(1, round(radius * side)), ring, max(1, side // 60), cv2.LINE_AA)


def dominoes(rng: np.random.Generator) -> Family:
    """Two squares of up to twelve equal pips, and a line between them."""
    tone, most = sample_tone(rng), int(rng.choice([3, 6, 6, 9, 9, TWELVE]))
    alike = rng.random() < 0.6
    inks = [contrasting(rng, tone)] * (most + 1) if alike else [contrasting(rng, tone) for _ in range(most + 1)]
    hollow = rng.random() < 0.25
    ring = darker(tone, 0.7) if rng.random() < 0.3 else None
    radius, spread, line = rng.uniform(0.07, 0.125), rng.uniform(0.24, 0.3), rng.uniform(0.015, 0.07)
    inset, stud = rng.uniform(0, 0.25), rng.random() < 0.4
    lying = rng.random() < 0.4

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        side, long = min(h, w), max(h, w)
        face = blank(rng, tone, long, side)
        for top in (0, long - side):
            count = int(rng.integers(0, most + 1))
            thick = max(1, side // 40) if hollow else -1
            _pip_square(face[top : top + side], count, inks[count], ring, radius, spread, thick)
        middle = long / 2
        ends = (np.array([inset * side, middle]), np.array([(1 - inset) * side, middle]))
        cv2.line(face, pixel(ends[0]), pixel(ends[1]), inks[0], max(1, round(line * side)), cv2.LINE_AA)
        if stud:
            cv2.circle(face, pixel((ends[0] + ends[1]) / 2), max(1, round(0.06 * side)), (60, 150, 190), -1, cv2.LINE_AA)
        face = edged(face, darker(tone, 0.75), max(1, side // 40))
        return face if h > w else np.asarray(np.rot90(face), np.uint8).copy()

    return Family(draw, 0.5 if lying else 2.0, rng.uniform(0.15, 0.45), rng.choice([0.01, rng.uniform(0, 0.3)]), True)


def dice(rng: np.random.Generator) -> Family:
    """Squares of pips."""
    tone = sample_tone(rng)
    ink = contrasting(rng, tone)
    radius, spread = rng.uniform(0.07, 0.12), rng.uniform(0.22, 0.29)

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = blank(rng, tone, h, w)
        _pip_square(face, int(rng.integers(1, 7)), ink, None, radius, spread)
        return edged(face, darker(tone, 0.8), max(1, w // 30))

    return Family(draw, 1.0, 1.0, rng.uniform(0.02, 1))


def keys(rng: np.random.Generator) -> Family:
    """Keycaps of keyboards, calculators, telephones and remote controls: a sloping cap with a sign or two."""
    tone = colour(rng, (0, 0.2), (0.03, 0.3)) if rng.random() < 0.55 else colour(rng, (0, 0.3), (0.6, 1))
    ink = contrasting(rng, tone)
    family = str(rng.choice(families("latin")))
    size, corner = rng.uniform(0.2, 0.55), rng.random() < 0.5
    slope, second = rng.uniform(0.04, 0.18), rng.random() < 0.4
    tall = float(rng.choice([1.0, rng.uniform(0.6, 1.3)]))

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = blank(rng, darker(tone, 0.75), h, w)
        low = np.array([slope * w, 0.6 * slope * h])
        cv2.rectangle(face, pixel(low), pixel(np.array([w, h]) - low * (1, 1.8)), tone, -1, cv2.LINE_AA)
        kind = rng.random()
        text = sample_letter(rng) if kind < 0.6 else str(rng.integers(10)) if kind < 0.8 else "".join(sample_letter(rng) for _ in range(3))
        place = np.array([0.35, 0.33] if corner else [0.5, 0.47], np.float32)
        if rng.random() < 0.93:
            share = size * min(h, w) * (0.55 if len(text) > 1 else 1)
            print_sign(face, text, family, share, place, ink)
            if second:
                print_sign(face, sample_letter(rng), family, 0.6 * share, np.array([0.66, 0.68], np.float32), ink)
        return face

    return Family(draw, tall, rng.uniform(0.05, 0.4), rng.uniform(0.03, 0.3))


def inscribed(rng: np.random.Generator) -> Family:
    """Keys, cells, blocks and flash cards with a sign that tiles carry too: only what lies around it tells them from tiles.

    Where a piece has a tile's proportions it is thin and no tile's colour, lest such a tile itself be unlearnt.
    """
    squat, chinese = rng.random() < 0.65, rng.random() < 0.65
    tall = rng.uniform(0.5, 1.1) if squat else rng.uniform(1.1, 1.6)
    tone = sample_tone(rng)
    while not squat and sum(tone) > 560:
        tone = sample_tone(rng)
    ink, around = contrasting(rng, tone), darker(tone, rng.uniform(0.3, 0.9)) if rng.random() < 0.6 else colour(rng)
    family, latin = str(rng.choice(families("chinese" if chinese else "latin"))), str(rng.choice(families("latin")))
    signs, wooden = list(CHINESE if chinese else CAPITALS), rng.random() < 0.2
    inset, size = rng.uniform(0.01, 0.15), rng.uniform(0.25, 0.75)
    middle, corner = np.array([0.5, rng.uniform(0.4, 0.5)], np.float32), rng.choice([0.17, 0.83], 2).astype(np.float32)
    seconds = list(rng.choice(["", "", UNLIKE_TILES, "1234568"]))

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = wood(rng, (h, w), tone) if wooden else blank(rng, around, h, w)
        if not wooden:
            low = inset * min(h, w) * np.ones(2)
            cv2.rectangle(face, pixel(low), pixel(np.array([w, h]) - low), tone, -1, cv2.LINE_AA)
        if rng.random() < 0.93:
            print_sign(face, str(rng.choice(signs)), family, size * min(h, w), middle, ink)
        if seconds:
            print_sign(face, str(rng.choice(seconds)), latin, 0.3 * size * min(h, w), corner, ink)
        return face

    return Family(draw, tall, rng.uniform(0.05, 0.4) if squat else 0.02, rng.choice([0.0, rng.uniform(0, 0.3)]), like_art=True)


def lettered_squares(rng: np.random.Generator) -> Family:
    """Wooden or plastic squares of a word game: a capital letter and a small number below it."""
    base = colour(rng, (0.2, 0.6), (0.5, 0.95), hue=rng.uniform(0.06, 0.12)) if rng.random() < 0.75 else sample_tone(rng)
    ink = contrasting(rng, base)
    family, size = str(rng.choice(families("latin"))), rng.uniform(0.4, 0.6)
    tall = rng.uniform(1.0, 1.1)

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = wood(rng, (h, w), base)
        print_sign(face, sample_letter(rng), family, size * w, np.array([0.47, 0.47], np.float32), ink)
        if rng.random() < 0.9:
            small = str(rng.integers(1, 11))
            print_sign(face, small, family, 0.17 * w, np.array([0.82, 0.82], np.float32), ink)
        return edged(face, darker(base, 0.7), max(1, w // 40))

    return Family(draw, tall, rng.uniform(0.2, 0.35), rng.choice([0.01, rng.uniform(0, 0.4)]))


def cards(rng: np.random.Generator) -> Family:
    """Playing cards, apart or each half under the next."""
    return Family(
        lambda rng, h, w: np.asarray(cv2.resize(card_face(rng), (w, h), interpolation=cv2.INTER_AREA), np.uint8),
        1.4,
        0.015,
        rng.uniform(-0.6, 0.5),
    )


def cells(rng: np.random.Generator) -> Family:
    """Cells of a calendar, a crossword, a table or a price list: thin lines, small print or none."""
    tone = colour(rng, (0, 0.2), (0.75, 1))
    ink, rule = contrasting(rng, tone), colour(rng, (0, 0.5), (0, 0.7))
    family, size = str(rng.choice(families("latin"))), rng.uniform(0.15, 0.45)
    black, numbers = rng.choice([0.0, 0.25]), rng.random() < 0.6
    place = rng.choice([0.25, 0.5], 2).astype(np.float32)

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = blank(rng, darker(tone, 0.1) if rng.random() < black else tone, h, w)
        if rng.random() < 0.93:
            text = str(rng.integers(10, 100)) if numbers else sample_letter(rng)
            print_sign(face, text, family, size * min(h, w), place, ink)
        return edged(face, rule, max(1, min(h, w) // 50))

    return Family(draw, float(rng.choice([1.0, rng.uniform(0.5, 1.5)])), 0.02, 0.0)


def numbered(rng: np.random.Generator) -> Family:
    """Pieces that show a number and at most a mark: of games that are played from racks as well."""
    tone = colour(rng, (0, 0.25), (0.8, 1), hue=0.12) if rng.random() < 0.75 else sample_tone(rng)
    inks = [contrasting(rng, tone) for _ in range(int(rng.integers(1, 6)))]
    family, size = str(rng.choice(families("latin"))), rng.uniform(0.3, 0.65)
    middle, most = np.array([0.5, rng.uniform(0.3, 0.5)], np.float32), int(rng.choice([9, 13, 15, 30, 100]))
    mark, twice = str(rng.choice(["", "disc", "bar", "dish", "diamond"])), rng.random() < 0.15

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face, ink = blank(rng, tone, h, w), inks[int(rng.integers(len(inks)))]
        at, reach = np.array([0.5 * w, rng.uniform(0.74, 0.8) * h]), rng.uniform(0.08, 0.16) * w
        if mark == "dish":  # a hollow for the thumb
            cv2.circle(face, pixel(at), round(1.3 * reach), darker(tone, 0.88), -1, cv2.LINE_AA)
        elif mark == "disc":
            cv2.circle(face, pixel(at), round(reach), ink, -1, cv2.LINE_AA)
        elif mark == "bar":
            cv2.line(face, pixel(at - (2 * reach, 0)), pixel(at + (2 * reach, 0)), ink, max(1, w // 24), cv2.LINE_AA)
        elif mark == "diamond":
            corners = at + reach * np.array([(0, -1.3), (1, 0), (0, 1.3), (-1, 0)])
            cv2.fillPoly(face, [np.asarray(np.round(corners), np.int32)], ink, cv2.LINE_AA)
        number = str(rng.integers(1, most + 1))
        print_sign(face, number, family, size * w, middle, ink)
        if twice:
            face = np.ascontiguousarray(face[::-1, ::-1])
            print_sign(face, number, family, 0.3 * size * w, np.array([0.16, 0.1], np.float32), ink)
        return edged(face, darker(tone, 0.75), max(1, w // 40))

    return Family(draw, rng.uniform(1.1, 1.6), rng.uniform(0.15, 0.5), rng.choice([0.01, rng.uniform(0, 0.3)]))
