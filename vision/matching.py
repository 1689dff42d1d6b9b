"""Which tile lies at which place of a layout, whether or not the reader knows the artwork.

A reader that knows the set names most tiles as the layout does; then its names decide, and rows may stand in any
order. Designers' artwork it names at random, and surely: then the rows count as they lie, and gaps between tiles say
where one was not seen.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES, Face
from tilewitness.vision.reading import Tile

Layout = tuple[tuple[Face, ...], ...]
"""Which faces lie in which row, from the top and from the left."""

Rows = Sequence[Sequence[Tile]]
Spot = tuple[int, int]
"""Row and place, counted from 0."""

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


def match(seen: Rows, photos: Sequence[int], layout: Layout) -> Match:
    """Find the tile for each place of a layout.

    Args:
        seen: rows of tiles, from the top of each photo and from the left.
        photos: for each of these rows the number of its photo.
    """
    by_name, as_they_lie = _by_name(seen, layout), _as_they_lie(seen, photos, layout)
    better = max(by_name, as_they_lie, key=lambda tiles: _agreeing(tiles, seen, layout))
    if _agreeing(better, seen, layout) >= MOSTLY * sum(map(len, layout)):
        return Match(better, True)
    return Match(as_they_lie, False)


def _agreeing(tiles: Mapping[Spot, Spot], seen: Rows, layout: Layout) -> int:
    """How many places hold a tile that the reader names as the layout does."""
    return sum(seen[i][k].face == layout[row][place] for (row, place), (i, k) in tiles.items())


# As they lie.


def _as_they_lie(seen: Rows, photos: Sequence[int], layout: Layout) -> dict[Spot, Spot]:
    """Take the rows seen in their order for the rows of the layout with the fewest tiles left over or not seen.

    A row of the layout may go on in the next photo. The best sequence of steps is found as in Needleman & Wunsch 1970,
    "A general method applicable to the search for similarities".
    """
    sizes, wanted = [len(row) for row in seen], [len(row) for row in layout]
    best = {(0, 0): (0, (0, 0))}  # cost of getting so far in both, and from where
    for i in range(len(sizes) + 1):
        for j in range(len(wanted) + 1):
            steps = []
            if i:
                steps.append((best[i - 1, j][0] + sizes[i - 1], (i - 1, j)))
            if j:
                steps.append((best[i, j - 1][0] + wanted[j - 1], (i, j - 1)))
            if i and j:
                steps.append((best[i - 1, j - 1][0] + abs(sizes[i - 1] - wanted[j - 1]), (i - 1, j - 1)))
            if i > 1 and j and photos[i - 2] != photos[i - 1]:
                off = abs(sizes[i - 2] + sizes[i - 1] - wanted[j - 1])
                steps.append((best[i - 2, j - 1][0] + off, (i - 2, j - 1)))
            if steps:
                best[i, j] = min(steps)
    parts: dict[int, range] = {}
    i, j = len(sizes), len(wanted)
    while i or j:
        before = best[i, j][1]
        if before[0] < i and before[1] < j:
            parts[j - 1] = range(before[0], i)
        i, j = before
    full = [row for row, part in parts.items() if sum(sizes[i] for i in part) == wanted[row]]
    tiles: dict[Spot, Spot] = {}
    for row, part in parts.items():
        # of flowers and jokers there are fewer because the set has fewer: those lie from the left
        each_once = len(set(layout[row])) == wanted[row]
        beside = [r for r in full if each_once and len(part) == len(parts[r]) == 1 and wanted[r] == wanted[row]]
        beside = [r for r in beside if photos[parts[r][0]] == photos[part[0]]]
        likest = min(beside, key=lambda r: abs(r - row), default=None)
        tiles |= _along(seen, part, row, wanted[row], None if likest is None else seen[parts[likest][0]])
    return tiles


def _along(seen: Rows, part: Sequence[int], row: int, wanted: int, beside: Sequence[Tile] | None) -> dict[Spot, Spot]:
    """Give the tiles of a row their places: a gap as wide as a tile is a place without one.

    Where only the first or last are not seen, a full row `beside` this one tells at which end.
    """
    members = [(i, k) for i in part for k in range(len(seen[i]))]
    steps = [step for i in part for step in [1, *_steps(seen[i])]]
    if sum(steps) > wanted:  # gaps that are none: too wide for this row
        steps = [1] * len(members)
    places = np.array([place - 1 for place in accumulate(steps)])
    room = wanted - 1 - int(places[-1])
    if beside is not None and room > 0:
        shifts = [_distance(seen[part[0]], beside, places + shift) for shift in range(room + 1)]
        places += int(np.argmin(shifts))
    return {(row, int(place)): member for place, member in zip(places, members, strict=True) if place < wanted}


def _distance(row: Sequence[Tile], beside: Sequence[Tile], places: NDArray[np.int_]) -> float:
    """How far tiles lie off, along the rows, from those of a full row in the same places; in pixels."""
    other = np.array([tile.quad.mean(0) for tile in beside])
    way = (other[-1] - other[0]) / np.linalg.norm(other[-1] - other[0]).clip(1e-6)
    middles = np.array([tile.quad.mean(0) for tile in row])
    return float(np.abs(np.median(middles @ way - other[places] @ way)))


def _steps(row: Sequence[Tile]) -> list[int]:
    """How many places on each tile of a row lies from the one before it."""
    if len(row) < 2:
        return []
    middles = np.array([tile.quad.mean(0) for tile in row])
    wide = np.array([np.linalg.norm(tile.quad[[1, 2]].mean(0) - tile.quad[[0, 3]].mean(0)) for tile in row])
    gaps = np.linalg.norm(np.diff(middles, axis=0), axis=1) / ((wide[1:] + wide[:-1]) / 2).clip(1e-6)
    return [max(1, round(float(gap / np.median(gaps)))) for gap in gaps]


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
