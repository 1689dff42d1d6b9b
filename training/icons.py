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

CATEGORIES: Final[tuple[Category, ...]] = ("birds", "dragons", "flowers", "scenes", "jokers")
FOLDER: Final = files("tilewitness.training") / "artwork" / "icons"


@cache
def icons(category: Category, *, held_out: bool = False) -> tuple[str, ...]:
    """Return the names "SET--ICON" of one category and one split, sorted."""
    split = "held-out/" if held_out else "training/"
    names = (file.removesuffix(".png") for file in _stored(category) if file.startswith(split))
    return tuple(sorted(name.removeprefix(split) for name in names))


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
