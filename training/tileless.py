"""Photos without a single tile: whatever is found in them is a false alarm.

Some are sample images that lie inside installed packages; the others are drawn here from what is most like rows
of tiles: keyboards, dominoes, bricks and windows. Training draws such things too, but by other code
(`lookalikes.py`), with other shapes, print and colours: the code of the keyboards and dominoes here draws no training scene. What they share with training is
the table, the light, the lens, and `lattice`, which may lie under a training scene's tiles. Their seeds are
beyond those of any training run.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Callable, Iterator
from pathlib import Path

import cv2
import numpy as np

from tilewitness.training.bodies import sample_body
from tilewitness.training.clutter import pips
from tilewitness.training.decoys import words, write_on
from tilewitness.training.effects import lit
from tilewitness.training.faces import sample_style
from tilewitness.training.glyphs import draw_text, families
from tilewitness.training.kinds import PAPER, Plan, View
from tilewitness.training.lens import photographed
from tilewitness.training.placing import Layout
from tilewitness.training.scenes import aim, paint_plan
from tilewitness.training.solids import Floats, Image, Paint, Solid, box, pixel, placed, turned
from tilewitness.training.surfaces import SIDE, colour, lattice, tinted

FOLDERS = (("skimage", "data"), ("sklearn", "datasets/images"), ("scipy", "datasets"))
"""Packages that carry sample images, and where. Newer releases of scipy fetch theirs and carry none."""

FIRST_SEED = 9_000_000_000
LONG_SIDE = 1024
DETAIL = 40
"""Pixels of the smallest thing to stay legible, as for a tile of that width."""


def sample_images() -> list[Path]:
    """Return the PNG and JPEG sample images inside the installed packages; nothing is fetched."""
    files: list[Path] = []
    for package, folder in FOLDERS:
        found = importlib.util.find_spec(package)
        for place in (found.submodule_search_locations or ()) if found else ():
            files += [file for file in (Path(place) / folder).glob("*") if file.suffix in (".png", ".jpg")]
    return sorted(files)


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


def _domino(rng: np.random.Generator) -> Solid:
    """A domino: two squares of pips, near in shape to a tile."""
    style = int(rng.integers(1 << 30))
    halves = [pips(np.random.default_rng(style), int(rng.integers(1, 7))) for _ in range(2)]
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


MAKERS: dict[str, Callable[[np.random.Generator], list[Solid]]] = {
    "keyboard": _keyboards,
    "dominoes": _dominoes,
    "bricks or windows": _bricks_and_windows,
}


def drawn_photo(kind: str, number: int) -> Image:
    """Draw a photo of one of `MAKERS`, uint8 (H, W, 3) BGR; the same number gives the same photo."""
    rng = np.random.default_rng((FIRST_SEED, list(MAKERS).index(kind), number))
    solids = MAKERS[kind](rng)
    layout = Layout(solids=solids)
    layout.focus.append(_corners(solids))
    view = View(
        elevation=rng.uniform(35, 90),
        azimuth=rng.normal(0, 10),
        roll=rng.normal(0, 5),
        distance=rng.uniform(1.7, 6),
        aspect=4 / 3,
        against=False,
        fill=rng.uniform(0.6, 1.1),
        offset=(0.0, 0.0),
        bend=0.0,
    )
    plan, body = Plan(layout, view), sample_body(rng)
    painting = paint_plan(plan, body, sample_style(rng, held_out=True), aim(plan, LONG_SIDE), rng)
    return photographed(lit(painting, body.gloss, rng), rng, detail=DETAIL)


def _corners(solids: list[Solid]) -> Floats:
    """Return the four corners on the ground of what all the solids cover."""
    points = np.concatenate([solid.rings[..., :2].reshape(-1, 2) for solid in solids])
    (left, near), (right, far) = points.min(0), points.max(0)
    return np.array([(left, near, 0), (right, near, 0), (right, far, 0), (left, far, 0)], np.float32)


def drawn_photos(count: int) -> Iterator[tuple[str, Image]]:
    """Draw `count` photos in turn of every kind, each with its name."""
    for i in range(count):
        kind = list(MAKERS)[i % len(MAKERS)]
        yield f"{kind} {i // len(MAKERS)}", drawn_photo(kind, i // len(MAKERS))
