"""Which tile lies at which place of a layout, whether or not the reader knows the artwork.

A reader that knows the set names most tiles as the layout does; then its names decide, and rows may stand in any
order. Designers' artwork it names at random, and surely: then the rows count as they lie.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES, Face
from tilewitness.vision.places import Layout, Rows, Spot, as_they_lie
from tilewitness.vision.reading import Tile

KNOWN: Final = 0.5  # how far the reader's names are believed when rows are told apart by them
SKIPPED: Final = -5.0  # log probability of a place without a tile, or a tile without a place: two cost more than a wrong tile
MOSTLY: Final = 0.5  # of the places must be named as laid out by a reader that knows the set


@dataclass(frozen=True, slots=True)
class Match:
    """What lies where.

    Attributes:
        tiles: for places of the layout, row and number of the tile in the rows that were seen.
        reader_knows: the reader names most tiles as the layout does, so its doubts about the others count.
    """

    tiles: Mapping[Spot, Spot]
    reader_knows: bool


def match(seen: Rows, photos: Sequence[int], evidence: Sequence[Sequence[float]], layout: Layout) -> Match:
    """Find the tile for each place of a layout.

    Args:
        seen, photos, evidence: as in `places.as_they_lie`.
    """
    by_name, by_place = _by_name(seen, layout), as_they_lie(seen, photos, evidence, layout)
    better = max(by_name, by_place, key=lambda tiles: _agreeing(tiles, seen, layout))
    if _agreeing(better, seen, layout) >= MOSTLY * sum(map(len, layout)):
        return Match(better, True)
    return Match(by_place, False)


def _agreeing(tiles: Mapping[Spot, Spot], seen: Rows, layout: Layout) -> int:
    """How many places hold a tile that the reader names as the layout does."""
    return sum(seen[i][k].face == layout[row][place] for (row, place), (i, k) in tiles.items())


# By the reader's names.


def _by_name(seen: Rows, layout: Layout) -> dict[Spot, Spot]:
    """Put the rows seen into the order of the layout, then line all tiles up with all its places."""
    fits = [[_lined_up(_log_odds(row, line))[0] / max(len(row), len(line)) for line in layout] for row in seen]
    order = sorted(range(len(seen)), key=lambda i: int(np.argmax(fits[i])))
    members = [(i, k) for i in order for k in range(len(seen[i]))]
    spots = [(row, place) for row, line in enumerate(layout) for place in range(len(line))]
    odds = _log_odds([seen[i][k] for i, k in members], [layout[row][place] for row, place in spots])
    return {spots[place]: members[tile] for tile, place in _lined_up(odds)[1]}


def _log_odds(tiles: Sequence[Tile], faces: Sequence[Face]) -> NDArray[np.float64]:
    """How well each tile fits each face: log probability (tiles, faces), never far below that of a guess."""
    chance = np.full((len(tiles), len(FACES)), 1e-4)
    for each, tile in zip(chance, tiles, strict=True):
        for face, probability in tile.probabilities:
            each[face.index] = probability
    columns = [face.index for face in faces]
    return np.asarray(np.log(KNOWN * chance[:, columns] + (1 - KNOWN) / len(FACES)))


def _lined_up(fit: NDArray[np.float64]) -> tuple[float, list[tuple[int, int]]]:
    """Pair two sequences in order for the best total of `fit` (N, M); what stays single costs `SKIPPED`.

    Source: Needleman & Wunsch 1970, "A general method applicable to the search for similarities".
    """
    count, length = fit.shape
    best = np.zeros((count + 1, length + 1))
    best[1:, 0] = SKIPPED * np.arange(1, count + 1)
    best[0, 1:] = SKIPPED * np.arange(1, length + 1)
    for i in range(count):
        for j in range(length):
            best[i + 1, j + 1] = max(best[i, j] + fit[i, j], best[i, j + 1] + SKIPPED, best[i + 1, j] + SKIPPED)
    i, j, pairs = count, length, []
    while i and j:
        if best[i, j] == best[i - 1, j - 1] + fit[i - 1, j - 1]:
            i, j = i - 1, j - 1
            pairs.append((i, j))
        elif best[i, j] == best[i - 1, j] + SKIPPED:
            i -= 1
        else:
            j -= 1
    return float(best[count, length]), pairs[::-1]
