"""Sheets of faces seen from straight above: many made-up sets in one picture, for the reader's training.

A scene costs its renderer more time than its faces; a sheet shows five times as many faces, of seven sets,
in the same time. What light, lens and angle add to a face, training adds on its own device.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES, Face
from tilewitness.training.bodies import render_face, sample_body
from tilewitness.training.faces import draw_face, sample_style
from tilewitness.training.lens import photographed
from tilewitness.training.lookalike_rows import mistaken, printed
from tilewitness.training.lookalikes import sample_family
from tilewitness.training.scenes import Scene, TruthTile

SIDE = 1024
ROWS, COLUMNS = 7, 10
BLANKS = 0.015
LOOKALIKES = 0.12
"""Share of the rows that show things which are no tiles."""

SHARES = np.ones(len(FACES))
SHARES[[31, 32, 33]] = 2.0  # dragons differ more between sets than dots and sticks do
SHARES[[0, 34, 35]] = 3.0  # and birds, flowers and jokers most of all
SHARES /= SHARES.sum()


def render_sheet(seed: int, *, held_out: bool = False) -> Scene:
    """Render the sheet with this number: one set a row, `COLUMNS` of its faces, all upright; or a row of no tiles."""
    rng = np.random.default_rng((seed, held_out, ROWS))
    image = np.empty((SIDE, SIDE, 3), np.uint8)
    image[:] = rng.integers(0, 256, 3)
    tiles: list[TruthTile] = []
    for row in range(ROWS):
        tiles += (_lookalikes if rng.random() < LOOKALIKES else _row)(image, row, rng, held_out)
    return Scene(photographed(image, rng, detail=60.0, heavy=0.04), tuple(tiles), "sheet")


def _row(image: NDArray[np.uint8], row: int, rng: np.random.Generator, held_out: bool) -> list[TruthTile]:
    """Draw one set's row into the picture and return its truth."""
    style, body = sample_style(rng, held_out=held_out), sample_body(rng)
    step = SIDE / ROWS
    height = rng.uniform(0.8, 0.99) * step
    width = min(height / body.size[1], 0.995 * SIDE / COLUMNS)
    gap = rng.uniform(0.2, 4) if rng.random() < 0.8 else rng.uniform(4, 20)
    width = min(width, SIDE / COLUMNS - gap)
    cv2.rectangle(image, (0, round(row * step)), (SIDE, round((row + 1) * step)), rng.integers(0, 256, 3).tolist(), -1)
    size = (round(width), round(height))
    tiles = []
    for place, index in enumerate(rng.choice(len(FACES), COLUMNS, replace=False, p=SHARES)):
        face: Face | None = FACES[index] if rng.random() > BLANKS else None
        artwork = None if face is None else draw_face(face, style, rng, variant=int(rng.integers(8)))
        drawn = cv2.resize(render_face(artwork, body, rng), size, interpolation=cv2.INTER_AREA)
        left, top = round(place * (width + gap)), round(row * step)
        image[top : top + size[1], left : left + size[0]] = drawn[: SIDE - top]
        corners = [(left, top), (left + size[0], top), (left + size[0], top + size[1]), (left, top + size[1])]
        tiles.append(TruthTile(np.array(corners, np.float32), face, row, place, False, 0.0))
    return tiles


def _lookalikes(image: NDArray[np.uint8], row: int, rng: np.random.Generator, held_out: bool) -> list[TruthTile]:
    """Fill a row with things that are no tiles, seen as a finder might take them for some."""
    family = sample_family(rng)
    while family.like_art:
        family = sample_family(rng)
    top, bottom = round(row * SIDE / ROWS), round((row + 1) * SIDE / ROWS)
    drawn, pieces = printed(rng, family, bottom - top, SIDE, int(rng.choice([1, 1, 2])))
    image[top:bottom] = drawn
    chosen = rng.choice(pieces, COLUMNS, replace=len(pieces) < COLUMNS)
    quads = [mistaken(rng, family, piece) + (0, top) for piece in chosen]
    return [TruthTile(quad.astype(np.float32), None, row, place, False, 0.0) for place, quad in enumerate(quads)]
