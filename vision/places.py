"""Which tile lies at which place of a layout, by where the tiles lie alone: for artwork that the reader does not know.

The finder, asked for everything that may be a tile, also finds squares of a tablecloth at the end of a row. How many
tiles each row has, and how much each find looks like a tile, tells which to leave out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate, product
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import Face
from tilewitness.vision.reading import Tile

Layout = tuple[tuple[Face, ...], ...]
"""Which faces lie in which row, from the top and from the left."""

Rows = Sequence[Sequence[Tile]]
Spot = tuple[int, int]
"""Row and place, counted from 0."""

A_TILE: Final = 0.2  # evidence that outweighs a gap in a row
UNEVEN: Final = 0.5  # of a missing tile: what it costs that rows lie twice as far apart as usual
WHOLE_ROW: Final = 0.9  # of a missing tile: each of a row not seen at all, which is likelier than as many here and there
RIM: Final = 0.1  # of a face: so far in from its sides its body shows, as a rule
OTHER_COLOUR: Final = 10.0  # of 128, in a or b of CIELAB: bodies that differ by more, and by twice the usual, are not alike


@dataclass(frozen=True, slots=True)
class _Laid:
    """Rows that may lie in a line of the layout: tile for each of its places, and what does not fit, in tiles."""

    tiles: Mapping[int, Spot]
    cost: float


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to lay the first so many rows seen in the first so many lines; the last row `laid` in the last line."""

    rows: int
    lines: int
    cost: float
    laid: _Laid | None = None
    before: _Way | None = None


def as_they_lie(seen: Rows, photos: Sequence[int], evidence: Sequence[Sequence[float]], layout: Layout) -> dict[Spot, Spot]:
    """Take the rows seen in their order for the rows of the layout with the fewest tiles left over or not seen.

    A row of the layout may go on in the next photo; one that was not seen at all leaves room between its neighbours.
    The best sequence of steps is found as in Needleman & Wunsch 1970, "A general method applicable to the search for
    similarities".

    Args:
        seen: rows of tiles, from the top of each photo and from the left.
        photos: for each of these rows the number of its photo.
        evidence: 0 to 1 for each of these tiles, how much it looks like one.
    """
    weights = [sum(row) for row in evidence]
    apart = _apart(seen, photos)
    ways = [_Way(0, 0, 0.0)]
    for i, j in product(range(len(seen)), range(len(layout))):
        ends = []
        for first in (i, i - 1):
            if first < 0 or (first < i and photos[first] == photos[i]):
                continue
            laid = _laid(seen, range(first, i + 1), len(layout[j]), evidence)
            for way in ways:
                if way.rows <= first and way.lines <= j:
                    cost = way.cost + laid.cost + _left_over(way, first, j, weights, layout)
                    if way.rows and photos[way.rows - 1] == photos[first]:
                        cost += UNEVEN * abs(np.log2(apart[way.rows - 1, first] / (j + 1 - way.lines)))
                    ends.append(_Way(i + 1, j + 1, float(cost), laid, way))
        ways += [min(ends, key=lambda way: way.cost)] if ends else []
    way = min(ways, key=lambda way: way.cost + _left_over(way, len(seen), len(layout), weights, layout))
    lying: dict[int, _Laid] = {}
    while way.laid is not None and way.before is not None:
        lying[way.lines - 1] = way.laid
        way = way.before
    return _with_ends(seen, photos, lying, layout)


def _left_over(way: _Way, rows: int, lines: int, weights: Sequence[float], layout: Layout) -> float:
    """What it costs to leave out what comes after a way and before these numbers of rows and lines."""
    return sum(weights[way.rows : rows]) + WHOLE_ROW * sum(map(len, layout[way.lines : lines]))


def of_one_body(faces: NDArray[np.uint8], margin: float) -> NDArray[np.float64]:
    """Say of each straightened face (N,), 0 to 1, how much its rim has the colour that most have.

    Args:
        faces: uint8 (N, height, width, 3) BGR with this margin, a share of the face.
    """
    if not len(faces):
        return np.empty(0)
    height, width = faces.shape[1:3]
    band = np.zeros((height, width), np.bool_)
    for inset, inside in ((0.02, True), (RIM, False)):
        down, along = (round(side * (margin + inset) / (1 + 2 * margin)) for side in (height, width))
        band[down : height - down, along : width - along] = inside
    colours = np.stack([np.median(cv2.cvtColor(face, cv2.COLOR_BGR2LAB)[band], axis=0)[1:] for face in faces])
    off = np.abs(colours - np.median(colours, axis=0)).max(1)
    return np.asarray(np.exp(-((off / (OTHER_COLOUR + 2 * np.median(off))) ** 2)))


def _laid(seen: Rows, part: Sequence[int], wanted: int, evidence: Sequence[Sequence[float]]) -> _Laid:
    """Give the tiles of a row their places: a gap as wide as a tile is a place without one, unless it is no gap.

    Of more places than wanted, those count whose tiles look most like tiles.
    """
    members = [(i, k) for i in part for k in range(len(seen[i]))]
    looks = np.array([evidence[i][k] for i, k in members])
    spread = np.array([*accumulate(step for i in part for step in [1, *_steps(seen[i])])]) - 1
    ways = [_most(spread, looks, wanted), _most(np.arange(len(members)), looks, wanted)]
    places, chosen = ways[int(looks[ways[1][1]].sum() > looks[ways[0][1]].sum() + A_TILE)]
    tiles = {int(place): member for place, member, one in zip(places, members, chosen, strict=True) if one}
    return _Laid(tiles, wanted - len(tiles) + float(looks[~chosen].sum()))


def _most(places: NDArray[np.int_], looks: NDArray[np.floating], wanted: int) -> tuple[NDArray[np.int_], NDArray[np.bool_]]:
    """The run of so many places whose tiles look most like tiles: places counted from its start, and which (N,) are in it."""
    starts = range(max(1, int(places.max(initial=0)) + 2 - wanted))
    within = [(places >= start) & (places < start + wanted) for start in starts]
    start = int(np.argmax([looks[chosen].sum() for chosen in within]))
    return places - start, within[start]


def _steps(row: Sequence[Tile]) -> list[int]:
    """How many places on each tile of a row lies from the one before it."""
    if len(row) < 2:
        return []
    middles = np.array([tile.quad.mean(0) for tile in row])
    wide = np.array([np.linalg.norm(tile.quad[[1, 2]].mean(0) - tile.quad[[0, 3]].mean(0)) for tile in row])
    gaps = np.linalg.norm(np.diff(middles, axis=0), axis=1) / ((wide[1:] + wide[:-1]) / 2).clip(1e-6)
    return [max(1, round(float(gap / np.median(gaps)))) for gap in gaps]


def _apart(seen: Rows, photos: Sequence[int]) -> NDArray[np.float64]:
    """How far each pair of rows lies apart, in usual distances of neighbours in the same photo; at least a quarter."""
    heights = np.array([np.mean([np.linalg.norm(tile.quad[3] - tile.quad[0]) for tile in row]) for row in seen])
    middles = np.array([np.mean([tile.quad.mean(0) for tile in row], axis=0) for row in seen]).reshape(-1, 2)
    ways = [row[-1].quad[1] - row[0].quad[0] for row in seen]
    away = np.ones((len(seen), len(seen)))
    for i in range(len(seen)):
        for k in range(i + 1, len(seen)):
            along = (ways[i] + ways[k]) / np.linalg.norm(ways[i] + ways[k]).clip(1e-6)
            step = middles[k] - middles[i]
            away[i, k] = 2 * abs(along[0] * step[1] - along[1] * step[0]) / (heights[i] + heights[k])
    neighbours = [away[i, i + 1] for i in range(len(seen) - 1) if photos[i] == photos[i + 1]]
    return (away / max(float(np.median(neighbours)), 1e-6) if neighbours else away).clip(0.25)


def _with_ends(seen: Rows, photos: Sequence[int], lying: Mapping[int, _Laid], layout: Layout) -> dict[Spot, Spot]:
    """All tiles in their places. Where only the first or last of a row are not seen, a full row beside it tells at which end.

    Of flowers and jokers there are fewer because the set has fewer: those lie from the left.
    """
    tiles: dict[Spot, Spot] = {}
    for row, laid in lying.items():
        spots, room = sorted(laid.tiles), len(layout[row]) - 1 - max(laid.tiles, default=0)
        shift = 0
        beside = [
            other
            for other, full in lying.items()
            if len(full.tiles) == len(layout[row]) == len(layout[other]) == len(set(layout[row]))
            and {photos[i] for i, _ in full.tiles.values()} == {photos[i] for i, _ in laid.tiles.values()}
        ]
        if beside and room > 0:
            other = lying[min(beside, key=lambda number: abs(number - row))]
            ours = [seen[i][k] for i, k in (laid.tiles[place] for place in spots)]
            full = [seen[i][k] for i, k in (other.tiles[place] for place in range(len(layout[row])))]
            shift = int(np.argmin([_distance(ours, full, np.array(spots) + by) for by in range(room + 1)]))
        tiles |= {(row, place + shift): member for place, member in laid.tiles.items()}
    return tiles


def _distance(row: Sequence[Tile], beside: Sequence[Tile], places: NDArray[np.int_]) -> float:
    """How far tiles lie off, along the rows, from those of a full row in the same places; in pixels."""
    other = np.array([tile.quad.mean(0) for tile in beside])
    way = (other[-1] - other[0]) / np.linalg.norm(other[-1] - other[0]).clip(1e-6)
    middles = np.array([tile.quad.mean(0) for tile in row])
    return float(np.abs(np.median(middles @ way - other[places] @ way)))
