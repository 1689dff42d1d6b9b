"""Corners of the tiles of a row that touch: where one face was found askew, its neighbours tell better."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.vision.quads import Quads, heights, moved

FEWEST: Final = 5  # tiles of a row, so that most of them outweigh one
OFF: Final = 0.1  # of a tile's height: a corner farther off is askew
EVEN: Final = 0.07  # and rows in which even the middle one is farther off tell nothing


def evened(row: Mapping[int, NDArray[np.float32]]) -> dict[int, NDArray[np.float32]]:
    """Return the corners of each tile of a row, those found askew put right by the row's other tiles.

    A tile that merely lies a little off its place in the row keeps its corners: only their shape counts.

    Args:
        row: float32 (4, 2) corners by place, counted along the row; some places may be missing.
    Source: homography fitted to all corners, those far off left out, Hartley & Zisserman 2004, section 4.1.
    """
    found = np.array(list(row.values()), np.float32).reshape(-1, 4, 2)
    if len(row) < FEWEST:
        return dict(row)
    cells = np.array([[(place, 0), (place + 1, 0), (place + 1, 1), (place, 1)] for place in row], np.float32)
    kept = np.ones(len(row), np.bool_)
    for _ in range(3):
        matrix = cv2.findHomography(cells[kept].reshape(-1, 2), found[kept].reshape(-1, 2))[0]
        if matrix is None:
            return dict(row)
        fitted = moved(cells, np.asarray(matrix, np.float64))
        off = np.linalg.norm(found - fitted, axis=2).max(1)
        kept = off <= 2 * np.median(off)
    shape = np.linalg.norm(_about_middle(found) - _about_middle(fitted), axis=2).max(1) / heights(fitted)
    askew = (shape > OFF) & (np.median(shape) < EVEN)
    return dict(zip(row, np.where(askew[:, None, None], fitted, found).astype(np.float32), strict=True))


def _about_middle(quads: Quads) -> Quads:
    return np.asarray(quads - quads.mean(1, keepdims=True), np.float32)
