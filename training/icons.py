"""The picture artwork as it is stored: icons as maps of colour regions. `gather_icons.py` made them."""

from __future__ import annotations

import io
import zipfile
from functools import cache, lru_cache
from importlib.resources import files
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray
from PIL import Image

Category = Literal["birds", "dragons", "flowers", "scenes", "jokers"]
Regions = NDArray[np.uint8]

LATER: Final = ("noto-emoji--",)
"""Beginnings of the names of sets added later."""

LATER_SHARE: Final = 0.1
CATEGORIES: Final[tuple[Category, ...]] = ("birds", "dragons", "flowers", "scenes", "jokers")
FOLDER: Final = files("tilewitness.training") / "artwork" / "icons"


@cache
def icons(category: Category, *, held_out: bool = False) -> tuple[str, ...]:
    """Return the names "SET--ICON" of one category and one split, sorted."""
    split = "held-out/" if held_out else "training/"
    names = (file.removesuffix(".png") for file in _stored(category) if file.startswith(split))
    return tuple(sorted(name.removeprefix(split) for name in names))


@cache
def _by_age(category: Category, held_out: bool) -> tuple[tuple[str, ...], tuple[str, ...]]:
    names = icons(category, held_out=held_out)
    later = tuple(name for name in names if name.startswith(LATER))
    return tuple(name for name in names if name not in later), later


def sample_icon(rng: np.random.Generator, category: Category, *, held_out: bool) -> str:
    """Choose an icon; later sets have a share and a stream of their own, so that older pictures stay what they were."""
    older, later = _by_age(category, held_out)
    fresh = rng.spawn(1)[0]
    name = older[int(rng.integers(len(older)))]
    return later[int(fresh.integers(len(later)))] if fresh.random() < LATER_SHARE else name


@lru_cache(maxsize=512)
def icon(category: Category, name: str) -> Regions:
    """Return one icon as uint8 (h, w): 0 empty, 1 and up its colour regions from dark to light.

    The longer side is 208 pixels and the icon's ink touches all four borders. Treat it as read-only.

    Raises:
        KeyError: the category has no such icon.
    """
    stored = _stored(category)
    data = stored.get(f"training/{name}.png") or stored[f"held-out/{name}.png"]
    return np.asarray(Image.open(io.BytesIO(data)))


@cache
def _stored(category: Category) -> dict[str, bytes]:
    """All PNG files of a category, read at once: an open zip would not survive the forks of a data loader."""
    with (FOLDER / f"{category}.zip").open("rb") as stream, zipfile.ZipFile(stream) as archive:
        return {name: archive.read(name) for name in archive.namelist()}
