"""What a photograph was read as: the result types of this package, all read-only."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import Face

SURE: Final = 0.9
"""Confidence from which a tile counts as surely read."""


@dataclass(frozen=True, slots=True, eq=False)
class Tile:
    """One tile face found in a photo.

    Attributes:
        quad: float32 (4, 2), x and y in pixels of the photo as displayed; clockwise, starting at the
            artwork's own top-left corner, so an upside-down tile starts at its lower right.
        probabilities: every face the reader thinks possible, likeliest first, calibrated; what is missing
            from a sum of 1 is spread over the faces not listed.
        upside_down: the artwork stands on its head in the photo as displayed.
        row: number of its row, 0 at the top.
        place: number within its row, 0 at the left.
        group: number of the run of touching tiles within its row, 0 at the left: a gap starts a new one.

    Top and left are those of the photo as displayed, unless most of its tiles stand on their heads: a
    photo taken from across the table is numbered as the player sees the tiles (see `read.read_photo`).
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
    def is_sure(self) -> bool:
        """Whether `face` may be taken as read; otherwise a person should look at the tile."""
        return self.confidence >= SURE

    @property
    def runner_up(self) -> tuple[Face, float]:
        """The second likeliest face and its probability."""
        return self.probabilities[1]


class Trouble(Enum):
    """What makes a photo hard to read, measured from the pixels and the corners; and, with a set chosen, its pictures."""

    NO_TILES = "no tiles"
    """No tile face was found."""
    CUT_OFF_LEFT = "cut off left"
    """Tiles reach over the photo's left border: the photo should show more on that side."""
    CUT_OFF_RIGHT = "cut off right"
    """Tiles reach over the photo's right border."""
    CUT_OFF_TOP = "cut off top"
    """Tiles reach over the photo's upper border."""
    CUT_OFF_BOTTOM = "cut off bottom"
    """Tiles reach over the photo's lower border."""
    GLARE = "glare"
    """Light mirrored in these tiles has washed out part of their faces."""
    TOO_BRIGHT = "too bright"
    """The whole photo is overexposed: most tiles are washed out."""
    TOO_DARK = "too dark"
    """The tiles' bright parts are dark grey: more light is needed."""
    BLURRED = "blurred"
    """Out of focus or shaken, though the tiles are large enough."""
    TOO_FAR = "too far"
    """The tiles are so small in the photo that marks on them run together."""
    SLANTED = "slanted"
    """Seen so much from the side, or from so low, that faces are strongly foreshortened."""
    OTHER_SET = "other set"
    """The tiles look unlike the pictures of the set that was chosen."""
    UNFAMILIAR = "unfamiliar"
    """The tiles' artwork is unlike any that general knowledge holds: the set has to be learnt."""
    SIDEWAYS = "sideways"
    """The photo lies on its side: it should be turned by a quarter before it is read."""


@dataclass(frozen=True, slots=True)
class Advice:
    """One reason why a photo reads badly; `ui.words` turns it into a sentence to act on.

    Attributes:
        trouble: what is wrong.
        places: row and place of the tiles concerned, in reading order; empty where it is the whole photo.
    """

    trouble: Trouble
    places: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Reading:
    """Everything read from one photo.

    Attributes:
        size: width and height in pixels of the photo as displayed.
        tiles: in reading order: rows from the top, places from the left. Empty when there are none.
        advice: what makes this photo hard to read, worst first; empty when nothing does.
    """

    size: tuple[int, int]
    tiles: tuple[Tile, ...]
    advice: tuple[Advice, ...]

    @property
    def rows(self) -> tuple[tuple[Tile, ...], ...]:
        """The tiles by row."""
        count = 1 + max((tile.row for tile in self.tiles), default=-1)
        return tuple(tuple(tile for tile in self.tiles if tile.row == row) for row in range(count))
