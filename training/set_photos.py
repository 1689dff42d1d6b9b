"""Photos of one made-up set: laid out to be learnt, and in play, under another light and camera.

What reading with a learnt set does is measured, and its few parameters are chosen, on these.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tilewitness.engine.faces import FACES, Face, Kind
from tilewitness.training.bodies import Body, sample_body
from tilewitness.training.effects import lit
from tilewitness.training.faces import sample_style
from tilewitness.training.kinds import Plan, View
from tilewitness.training.lens import photographed
from tilewitness.training.placing import Manner, Shown, rows_on_table
from tilewitness.training.scenes import Artwork, Scene, aim, paint_plan, truth

LONG = 1400  # pixels
PICTURES = {Kind.FLOWER: 8, Kind.JOKER: 2}
"""How many different pictures of these a set shows."""
IN_PLAY = (5, 14)
"""Rows of a photo in play, and tiles in each."""
WALL_ROW = 14
"""Tiles in each row of a photo of a whole set."""


@dataclass(frozen=True, slots=True)
class SetPhotos:
    """One set: the photo to learn from, in the rows of a layout, photos to read, and the layout in another light."""

    laid_out: Scene
    in_play: tuple[Scene, ...]
    laid_out_again: Scene


def render_set(
    seed: int, rows: Sequence[Sequence[Face]], *, held_out: bool = False, artwork: Artwork | None = None, count: int = 2
) -> SetPhotos:
    """Render the set with this number.

    Args:
        rows: the layout; the pictures of its flowers and jokers are those from the first on.
        artwork: what is drawn on the tiles, if it is not to be drawn by lot.
        count: how many photos in play.
    """
    rng = np.random.default_rng((seed, held_out, 77))
    body, style = sample_body(rng), artwork or sample_style(rng, held_out=held_out)
    lines = [[Shown(face, place_of(face, line, i)) for i, face in enumerate(line)] for line in rows]
    laid_out = _photo(body, style, lines, rng)
    in_play = tuple(_photo(body, style, _dealt(rng), rng) for _ in range(count))
    return SetPhotos(laid_out, in_play, _photo(body, style, lines, rng))


def render_wall(seed: int, *, held_out: bool = False) -> Scene:
    """Render one photo of all 152 tiles of the set with this number, shuffled."""
    rng = np.random.default_rng((seed, held_out, 99))
    body, style = sample_body(rng), sample_style(rng, held_out=held_out)
    wall = _shuffled(rng)
    return _photo(body, style, [wall[i : i + WALL_ROW] for i in range(0, len(wall), WALL_ROW)], rng)


def place_of(face: Face, line: Sequence[Face], place: int) -> int:
    """Which picture of a face stands at a place of its row."""
    return sum(other == face for other in line[:place]) % PICTURES.get(face.kind, 1)


def _dealt(rng: np.random.Generator) -> list[list[Shown]]:
    """Rows of tiles as drawn from a shuffled set."""
    wall = _shuffled(rng)
    rows, tiles = IN_PLAY
    return [wall[i * tiles : (i + 1) * tiles] for i in range(rows)]


def _shuffled(rng: np.random.Generator) -> list[Shown]:
    """All tiles of a set in any order; one in ten stands on its head."""
    wall = [Shown(face, i % PICTURES.get(face.kind, 1), bool(rng.random() < 0.1)) for face in FACES for i in range(face.copies)]
    rng.shuffle(wall)
    return wall


def _photo(body: Body, style: Artwork, lines: Sequence[Sequence[Shown]], rng: np.random.Generator) -> Scene:
    """Rows on a table, photographed by hand from more or less above."""
    manner = Manner(gap=float(rng.uniform(0.01, 0.05)), group_gap=0.0, group_chance=0.0, shift=0.02, twist=0.6)
    plan = Plan(rows_on_table(rng, lines, body, manner), _view(rng))
    camera = aim(plan, LONG)
    painting = paint_plan(plan, body, style, camera, rng)
    tiles_seen = truth(plan.layout.spots, body, camera, painting)
    return Scene(photographed(lit(painting, body.gloss, rng), rng, detail=50, heavy=0.05), tiles_seen, "set")


def _view(rng: np.random.Generator) -> View:
    return View(elevation=rng.uniform(50, 82), azimuth=rng.normal(0, 8), roll=rng.normal(0, 2), distance=2.6,
                aspect=4 / 3, against=False, fill=0.95, offset=(0, 0), bend=0.0)  # fmt: skip
