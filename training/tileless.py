"""Photos without a single tile: whatever is found in them is a false alarm.

Some are sample images that lie inside installed packages; the others show what is most like rows of tiles, drawn
by code that draws no training scene (`strangers.py`). What they share with training is the table, the light and
the lens. Their seeds are beyond those of any training run.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np

from tilewitness.training.bodies import sample_body
from tilewitness.training.effects import lit
from tilewitness.training.faces import sample_style
from tilewitness.training.further_strangers import MAKERS as FURTHER
from tilewitness.training.kinds import Plan, View
from tilewitness.training.lens import photographed
from tilewitness.training.placing import Layout
from tilewitness.training.scenes import aim, paint_plan
from tilewitness.training.solids import Floats, Image, Solid
from tilewitness.training.strangers import MAKERS

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


def drawn_photo(kind: str, number: int) -> Image:
    """Draw a photo of one of `MAKERS` or `FURTHER`, uint8 (H, W, 3) BGR; the same number gives the same photo."""
    makers = MAKERS | FURTHER
    rng = np.random.default_rng((FIRST_SEED, list(makers).index(kind), number))
    solids = makers[kind](rng)
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


def drawn_photos(count: int, kinds: Sequence[str] = tuple(MAKERS)) -> Iterator[tuple[str, Image]]:
    """Draw `count` photos, of each kind in turn, each with its name."""
    for i in range(count):
        kind = kinds[i % len(kinds)]
        yield f"{kind} {i // len(kinds)}", drawn_photo(kind, i // len(kinds))
