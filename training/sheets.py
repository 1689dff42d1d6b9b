"""Sheets of faces seen from straight above, for the reader's training: many made-up sets, or one of unnamed symbols.

A scene costs its renderer more time than its faces; a sheet shows five times as many faces, of seven sets,
in the same time. What light, lens and angle add to a face, training adds on its own device.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES, Face
from tilewitness.training.bodies import Body, render_face, sample_body
from tilewitness.training.faces import draw_face, sample_style
from tilewitness.training.hardships import badly_kept
from tilewitness.training.lens import photographed
from tilewitness.training.lookalike_rows import mistaken, printed
from tilewitness.training.lookalikes import sample_family
from tilewitness.training.scenes import HARDSHIPS, Scene, TruthTile
from tilewitness.training.symbols import draw_symbol, sample_symbols

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
    photo = photographed(image, rng, detail=60.0, heavy=0.04)
    if not held_out:
        photo = badly_kept(photo, SIDE / COLUMNS, np.random.default_rng((seed, ROWS, HARDSHIPS)))
    return Scene(photo, tuple(tiles), "sheet")


def render_symbols(seed: int, *, held_out: bool = False) -> Scene:
    """Render the sheet of unnamed symbols with this number: one set, every symbol two to four times, all upright."""
    rng = np.random.default_rng((seed, held_out, ROWS, COLUMNS))
    image = np.empty((SIDE, SIDE, 3), np.uint8)
    symbols = sample_symbols(rng, ROWS * COLUMNS // 3, held_out=held_out)
    copies = np.repeat(np.arange(len(symbols)), rng.integers(2, 5, len(symbols)))[: ROWS * COLUMNS]
    looks, body = rng.permutation(copies), sample_body(rng)
    tiles: list[TruthTile] = []
    for row in range(ROWS):
        mine = looks[row * COLUMNS : (row + 1) * COLUMNS].tolist()
        faces = [render_face(draw_symbol(symbols[look], rng), body, rng) for look in mine]
        quads = _lay(image, row, rng, body, faces)
        tiles += [
            TruthTile(quad, None, row, place, False, 0.0, look, symbols[look].strange)
            for place, (quad, look) in enumerate(zip(quads, mine, strict=True))
        ]
    return Scene(photographed(image, rng, detail=60.0, heavy=0.04), tuple(tiles), "symbols")


def _row(image: NDArray[np.uint8], row: int, rng: np.random.Generator, held_out: bool) -> list[TruthTile]:
    """Draw one set's row into the picture and return its truth."""
    style, body = sample_style(rng, held_out=held_out), sample_body(rng)
    named: list[Face | None] = []
    drawn = []
    for index in rng.choice(len(FACES), COLUMNS, replace=False, p=SHARES):
        face: Face | None = FACES[index] if rng.random() > BLANKS else None
        artwork = None if face is None else draw_face(face, style, rng, variant=int(rng.integers(8)))
        named.append(face)
        drawn.append(render_face(artwork, body, rng))
    quads = _lay(image, row, rng, body, drawn)
    looks = [-1 if face is None else row * COLUMNS + place for place, face in enumerate(named)]
    return [
        TruthTile(quad, face, row, place, False, 0.0, look)
        for place, (quad, face, look) in enumerate(zip(quads, named, looks, strict=True))
    ]


def _lay(
    image: NDArray[np.uint8], row: int, rng: np.random.Generator, body: Body, faces: list[NDArray[np.uint8]]
) -> list[NDArray[np.float32]]:
    """Lay a row of faces, at most `COLUMNS`, into the picture; return their corners."""
    step = SIDE / ROWS
    height = rng.uniform(0.8, 0.99) * step
    width = min(height / body.size[1], 0.995 * SIDE / COLUMNS)
    gap = rng.uniform(0.2, 4) if rng.random() < 0.8 else rng.uniform(4, 20)
    width = min(width, SIDE / COLUMNS - gap)
    cv2.rectangle(image, (0, round(row * step)), (SIDE, round((row + 1) * step)), rng.integers(0, 256, 3).tolist(), -1)
    size = (round(width), round(height))
    quads = []
    for place, face in enumerate(faces):
        drawn = cv2.resize(face, size, interpolation=cv2.INTER_AREA)
        left, top = round(place * (width + gap)), round(row * step)
        image[top : top + size[1], left : left + size[0]] = drawn[: SIDE - top]
        corners = [(left, top), (left + size[0], top), (left + size[0], top + size[1]), (left, top + size[1])]
        quads.append(np.array(corners, np.float32))
    return quads


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
