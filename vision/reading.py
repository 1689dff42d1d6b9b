"""What a photograph was read as: the result types of this package, all read-only."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import Face


@dataclass(frozen=True, slots=True, eq=False)
class Tile:
    """One tile face found in a photo.

    Attributes:
        quad: float32 (4, 2), x and y in pixels of the photo as displayed; clockwise, starting at the
            artwork's own top-left corner, so an upside-down tile starts at its lower right.
        probabilities: every face the reader thinks possible, likeliest first, calibrated; what is missing
            from a sum of 1 is spread over the faces not listed.
        upside_down: the artwork stands on its head in the photo as displayed.
        row: number of its row, 0 at the top of the photo.
        place: number within its row, 0 at the left.
        group: number of the run of touching tiles within its row, 0 at the left: a gap starts a new one.
    """

    quad: NDArray[np.float32]
    probabilities: tuple[tuple[Face, float], ...]
    upside_down: bool
    row: int
    place: int
    group: int

    @property
    def face(self) -> Face:
        """The likeliest face."""
        return self.probabilities[0][0]

    @property
    def confidence(self) -> float:
        """Probability of `face`, 0 to 1."""
        return self.probabilities[0][1]

    @property
    def runner_up(self) -> tuple[Face, float]:
        """The second likeliest face and its probability."""
        return self.probabilities[1]


@dataclass(frozen=True, slots=True)
class Reading:
    """Everything read from one photo.

    Attributes:
        size: width and height in pixels of the photo as displayed.
        tiles: in reading order: rows from the top, places from the left. Empty when there are none.
        advice: what makes this photo hard to read, as codes for `ui.words`; empty when nothing does.
    """

    size: tuple[int, int]
    tiles: tuple[Tile, ...]
    advice: tuple[str, ...]

    @property
    def rows(self) -> tuple[tuple[Tile, ...], ...]:
        """The tiles by row."""
        count = 1 + max((tile.row for tile in self.tiles), default=-1)
        return tuple(tuple(tile for tile in self.tiles if tile.row == row) for row in range(count))
