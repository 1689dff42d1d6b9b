"""More things that are no tiles, for measuring alone: pieces of other games, chocolate, switches, bank cards.

As in `strangers.py` no training scene shows one of these drawings, and print comes from held-out families.
"""

from __future__ import annotations

from collections.abc import Callable

import cv2
import numpy as np

from tilewitness.training.decoys import write_on
from tilewitness.training.glyphs import draw_text, families
from tilewitness.training.solids import Colour, Image, Paint, Solid, box, pixel, placed, turned
from tilewitness.training.surfaces import colour, noise, tinted

_LETTERS = "AAABCDDEEEEFGHIIJKLLMNNOOPQRRSSTTUVWXYZ"
_FOUR_INKS: tuple[Colour, ...] = ((30, 30, 200), (190, 90, 20), (30, 30, 30), (30, 130, 230))


def _blank(tone: Colour, h: int, w: int) -> Image:
    """A face of one colour, lighter at the left."""
    return tinted(tone, np.broadcast_to(np.linspace(1.02, 0.96, w, dtype=np.float32), (h, w)))


def _print(face: Image, text: str, family: str, size: float, x: float, y: float, ink: Colour) -> None:
    """Print a text about a point, given as shares of the face's sides."""
    mask = draw_text(text, family, size)
    middle = np.array([x, y]) * face.shape[1::-1]
    write_on(face, mask, pixel(middle - np.array(mask.shape[::-1]) / 2), ink)


def _row(rng: np.random.Generator, faces: list[Image], body: Paint, thick: float) -> list[Solid]:
    """Lay pieces of one width in a row, or lean them on a holder as a player does."""
    h, w = faces[0].shape[:2]
    tall, step, leans = h / w, rng.choice([1.0, rng.uniform(1.0, 1.35)]), rng.random() < 0.5
    tilt = turned(x=float(rng.uniform(50, 80))) if leans else turned(z=0.0)
    lift = np.array([0.0, 0.0, 0.55 * tall if leans else 0.0])
    solids = []
    for place, face in enumerate(faces):
        piece = box((-0.5, -tall / 2, 0), (0.5, tall / 2, thick), body, Paint(body.colour, face))
        solids.append(placed(piece, tilt, lift + np.array([step * place, rng.normal(0, 0.01), 0.0])))
    if leans:
        length = step * len(faces)
        holder = Paint(colour(rng, (0.2, 0.7), (0.2, 0.7), hue=0.08))
        solids.append(box((-1, -1.1, 0), (length, -0.75, 0.25), holder))
    return solids


def _lettered(rng: np.random.Generator) -> list[Solid]:
    """Squares of a word game: a capital, and what it is worth at its foot."""
    tone = colour(rng, (0.15, 0.5), (0.7, 0.95), hue=0.1) if rng.random() < 0.7 else colour(rng)
    ink = (25.0, 25.0, 30.0) if sum(tone) > 330 else (235.0, 235.0, 235.0)
    family, size, left = str(rng.choice(families("latin", held_out=True))), rng.uniform(50, 70), rng.random() < 0.2
    tall = round(96 * rng.uniform(1.0, 1.15))
    faces = []
    for letter in rng.choice(list(_LETTERS), int(rng.integers(3, 10))):
        face = _blank(tone, tall, 96)
        _print(face, str(letter), family, size, 0.46, 0.46, ink)
        _print(face, str(rng.choice([1, 1, 1, 2, 3, 4, 8, 10])), family, 17, 0.14 if left else 0.84, 0.84, ink)
        faces.append(face)
    return _row(rng, faces, Paint(tone), rng.uniform(0.15, 0.3))


def _numbered(rng: np.random.Generator) -> list[Solid]:
    """Pale pieces that each show one number in one of four colours, some with a ring below it."""
    tone = colour(rng, (0.02, 0.2), (0.88, 1), hue=0.12)
    family, size = str(rng.choice(families("latin", held_out=True))), rng.uniform(44, 66)
    ringed, tall = rng.random() < 0.5, round(96 * rng.uniform(1.25, 1.5))
    faces = []
    for _ in range(int(rng.integers(4, 14))):
        face, ink = _blank(tone, tall, 96), _FOUR_INKS[int(rng.integers(4))]
        _print(face, str(rng.integers(1, 14)), family, size, 0.5, 0.34, ink)
        if ringed:
            cv2.circle(face, pixel(np.array([48, 0.76 * tall])), 14, ink, 2, cv2.LINE_AA)
        faces.append(face)
    return _row(rng, faces, Paint(tone), rng.uniform(0.15, 0.3))


def _chocolate(rng: np.random.Generator) -> list[Solid]:
    """A bar, or what is left of it: sloping pieces with grooves between them."""
    tone = colour(rng, (0.5, 0.75), (0.2, 0.4), hue=0.05) if rng.random() < 0.8 else colour(rng, (0.1, 0.25), (0.85, 1), hue=0.12)
    b, g, r = tone
    rows, columns = int(rng.integers(2, 9)), int(rng.integers(2, 6))
    high, wide = 80, int(80 * rng.uniform(0.8, 2))
    slope, signed = int(rng.integers(6, 14)), rng.random() < 0.4
    family = str(rng.choice(families("latin", held_out=True)))
    piece = np.full((high, wide, 3), tone, np.uint8)
    outer = np.array([(2, 2), (wide - 3, 2), (wide - 3, high - 3), (2, high - 3)])
    inner = outer + np.array([(1, 1), (-1, 1), (-1, -1), (1, -1)]) * slope
    for side, light in enumerate((1.35, 0.85, 0.6, 1.1)):
        flank = np.array([outer[side], outer[(side + 1) % 4], inner[(side + 1) % 4], inner[side]], np.int32)
        cv2.fillPoly(piece, [flank], (light * b, light * g, light * r), cv2.LINE_AA)
    if signed:
        _print(piece, "".join(rng.choice(list("ABDKLMORT"), 3)), family, 20, 0.5, 0.5, (0.7 * b, 0.7 * g, 0.7 * r))
    bar = np.tile(piece, (rows, columns, 1))
    mottle = 1 + 0.04 * noise(rng, bar.shape[:2], 8, 2)
    bar = np.asarray(np.clip(bar * mottle[..., None], 0, 255), np.uint8)
    w, h = columns * wide / 80, float(rows)
    return [box((-w / 2, -h / 2, 0), (w / 2, h / 2, 0.3), Paint(tone), Paint(tone, bar))]


def _switches(rng: np.random.Generator) -> list[Solid]:
    """Plates of light switches and sockets side by side, seen on the wall."""
    tone = colour(rng, (0, 0.12), (0.8, 1)) if rng.random() < 0.75 else colour(rng, (0, 0.3), (0.1, 0.7))
    b, g, r = tone
    line = (0.6 * b, 0.6 * g, 0.6 * r)
    count, tall = int(rng.integers(1, 6)), round(120 * float(rng.choice([1.0, 1.4, rng.uniform(0.8, 1.6)])))
    plate = _blank(tone, tall, 120 * count)
    kinds = rng.choice(3, count, p=[0.5, 0.25, 0.25])
    for place, kind in enumerate(kinds):
        middle = np.array([120 * place + 60, tall / 2])
        reach = np.array([38, 0.36 * tall])
        if kind == 2:  # a socket
            cv2.circle(plate, pixel(middle), 36, line, 2, cv2.LINE_AA)
            for dx in (-14, 14):
                cv2.circle(plate, pixel(middle + (dx, 0)), 5, (20, 20, 20), -1, cv2.LINE_AA)
            continue
        cv2.rectangle(plate, pixel(middle - reach), pixel(middle + reach), line, 2, cv2.LINE_AA)
        if kind == 1:  # two rockers
            cv2.line(plate, pixel(middle - (0, reach[1])), pixel(middle + (0, reach[1])), line, 2, cv2.LINE_AA)
        else:
            cv2.line(plate, pixel(middle - (reach[0], 0)), pixel(middle + (reach[0], 0)), line, 1, cv2.LINE_AA)
        if rng.random() < 0.4:
            cv2.circle(plate, pixel(middle + (0, 0.7 * reach[1])), 4, (40, 60, 220), -1, cv2.LINE_AA)
    w, h = 1.2 * count, tall / 100
    return [box((-w / 2, -h / 2, 0), (w / 2, h / 2, 0.1), Paint(tone), Paint(tone, plate))]


def _bank_cards(rng: np.random.Generator) -> list[Solid]:
    """Bank or membership cards, beside or over each other: a chip, a long number, a name."""
    solids = []
    step = rng.uniform(0.6, 1.3)
    for place in range(int(rng.integers(1, 5))):
        tone = colour(rng)
        face = _blank(tone, 216, 340)
        ink = (25.0, 25.0, 25.0) if sum(tone) > 380 else (240.0, 240.0, 240.0)
        family = str(rng.choice(families("latin", held_out=True)))
        cv2.rectangle(face, (30, 70), (78, 106), (110, 190, 215), -1)
        for y in (82, 94):
            cv2.line(face, (30, y), (78, y), (60, 120, 150), 1)
        groups = (f"{number:04d}" for number in rng.integers(0, 10_000, 4))
        _print(face, "  ".join(groups), family, 24, 0.5, 0.62, ink)
        _print(face, "".join(rng.choice(list("ABDEKLMNORST"), 9)), family, 15, 0.3, 0.85, ink)
        for dx in (-13, 13):
            cv2.circle(face, (290 + dx, 180), 20, colour(rng), -1, cv2.LINE_AA)
        card = box((-1.7, -1.08, 0), (1.7, 1.08, 0.03), Paint(tone), Paint(tone, face))
        at = np.array([0.5 * step * place, 2.2 * step * place, 0.031 * place])
        solids.append(placed(card, turned(z=rng.normal(0, 5)), at))
    return solids


MAKERS: dict[str, Callable[[np.random.Generator], list[Solid]]] = {
    "lettered squares": _lettered,
    "numbered pieces": _numbered,
    "chocolate": _chocolate,
    "switches": _switches,
    "bank cards": _bank_cards,
}
"""What the photos show, as in `strangers.MAKERS`."""
