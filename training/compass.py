"""Winds in a compass: a rose or ring around the character or letter, the point of its own direction marked."""

from __future__ import annotations

from typing import Final

import numpy as np

from tilewitness.training.artboard import Artboard, Point
from tilewitness.training.inks import RGB

COMPASSES: Final = ("rose", "ring", "cross")
# East, south, west, north as faces are numbered; x and y with north up, as maps have it.
_WAYS: Final = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))


def draw_compass(board: Artboard, wind: int, kind: str, ink: RGB, centre: Point, half: Point) -> float:
    """Draw a compass around `centre`; returns the side in pixels of the square that it leaves for the writing.

    Args:
        wind: 0 to 3, the direction that is marked.
        kind: one of `COMPASSES`: "rose" (eight points around a bare disc), "ring" (a circle with four ticks) or "cross" (four arrows).
    """
    radius = min(half)
    middle = np.array(centre)
    inner = radius * (0.5 if kind == "rose" else 0.62)
    if kind == "ring":
        board.ring(centre, radius * 0.86, radius * 0.05, ink)
    for turn in range(8 if kind == "rose" else 4):
        angle = turn * (np.pi / 4 if kind == "rose" else np.pi / 2)
        way = np.array([np.cos(angle), np.sin(angle)])
        aside = np.array([-way[1], way[0]])
        main = bool(np.allclose(way, _WAYS[wind]))
        reach = radius * (1.0 if kind != "rose" or turn % 2 == 0 else 0.78)
        foot = radius * (0.8 if kind == "ring" else 0.66 if kind == "cross" else 0.3)
        wide = radius * (0.13 if main else 0.08) * (1.6 if kind == "rose" else 1.0)
        point = np.array([middle + way * reach, middle + way * foot + aside * wide, middle + way * foot - aside * wide])
        if main or kind == "cross":
            board.polygon(point, ink)
        else:
            board.line(point, radius * 0.03, ink, closed=True)
    if kind == "rose":
        board.disc(centre, inner * 1.12, None)
        board.ring(centre, inner * 1.12, radius * 0.04, ink)
    return float(2 * inner * 0.8)
