"""What every manner of engraving an icon is made of: masks of its regions and their edges, and inks laid on plates."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.engraving import INKS, Mask
from tilewitness.training.icons import Regions

Palette = Sequence[str]


def edges(parts: Regions, width: int) -> Mask:
    """Lines where regions meet each other or the bare face."""
    small = np.ones((2, 2), np.uint8)
    edge = np.where(cv2.dilate(parts, small) != cv2.erode(parts, small), 255, 0).astype(np.uint8)
    brush = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (width, width))
    return np.asarray(cv2.dilate(edge, brush), np.uint8)


def inside(parts: Regions, width: int) -> Mask:
    """The lines between regions, not the outer contour: cutting them never eats thin strokes away."""
    body = np.asarray(
        cv2.erode(np.where(parts > 0, 255, 0).astype(np.uint8), np.ones((5, 5), np.uint8)), np.uint8
    )
    return np.minimum(edges(parts, width), body)


def put(planes: NDArray[np.uint8], mask: Mask, ink: str | None, tone: float = 1.0) -> None:
    """Lay a mask of one ink over the plates, other inks cut away under it; an ink of None only cuts."""
    np.minimum(planes, 255 - mask, out=planes)
    if ink is not None:
        mask = mask if tone == 1 else (mask * tone).astype(np.uint8)
        plane = planes[INKS.index(ink)]
        np.maximum(plane, mask, out=plane)


def region_mask(parts: Regions, index: int) -> Mask:
    """One region as a mask."""
    return np.where(parts == index, 255, 0).astype(np.uint8)


def sample_region_inks(parts: Regions, palette: Palette, rng: np.random.Generator, bare: float) -> list[str | None]:
    """An ink for each region from 1 up; the widest is the one most often left bare."""
    areas = np.bincount(parts.ravel(), minlength=7)[1:]
    order = np.argsort(-areas)
    inks: list[str | None] = [None] * len(areas)
    for rank, region in enumerate(order):
        plain = rng.random() < bare * (1.5 if rank == 0 else 1.0)
        inks[region] = None if plain else palette[(rank + int(rng.random() < 0.25)) % len(palette)]
    return inks
