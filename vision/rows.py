"""Put the faces of a photo into rows, groups and reading order by their corners alone.

Nothing is assumed of the camera: what is right of a tile, and how far, is told by the tile's own edges,
so perspective, tilt and rows of different depth need no correction first.
"""

from __future__ import annotations

from itertools import chain, pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.vision.quads import Quads, are_alike, rights, steps

Row = tuple[tuple[int, ...], ...]
"""A row's groups from left to right, each the indices of its tiles from left to right."""

NEIGHBOUR: Final = (0.5, 1.75)  # tile widths between the middles of neighbours
LEVEL: Final = 0.45  # tile heights by which neighbours may differ in level
WIDEST_GAP: Final = 12.0  # tile widths a gap within a row may span
LEVEL_ACROSS_GAP: Final = 0.4  # tile heights by which two parts of one row may differ in level
ALIKE: Final = 0.65  # neighbours' heights: smaller to larger
ACROSS: Final = 2 / 3  # part of all tiles on their heads from which a photo was taken from across the table
FACING_ROW: Final = 5  # tiles a row must have standing the other way than the rest,
FACING_PART: Final = 0.8  # and the part of the row they must make up, to belong to the player across
GROUP_GAP: Final = 0.16  # tile widths between two tiles that do not touch,
NEVER_TOUCHING: Final = 0.9  # and between two that are apart even in a row of loosely spread tiles


def arrange(quads: Quads) -> tuple[Row, ...]:
    """Return the rows from the top of the photo, each from its left.

    Args:
        quads: float32 (N, 4, 2), each starting at the corner that is top-left as seen in the photo.
    """
    if not len(quads):
        return ()
    chains = _neighbours_chained(quads)
    while (joined := _joined_across_gaps(chains, quads)) is not None:
        chains = joined
    return tuple(_grouped(tiles, quads) for tiles in _from_the_top(chains, quads))


def in_order(row: Row) -> tuple[int, ...]:
    """Return the indices of a row's tiles from left to right, its groups forgotten."""
    return tuple(chain.from_iterable(row))


def as_players_see(rows: tuple[Row, ...], on_head: NDArray[np.bool_]) -> tuple[Row, ...]:
    """Return the rows and their tiles in the order in which the player who owns them sees them.

    When more than two in three tiles stand on their heads, the photo was taken from across the table, and
    everything is read from there. A single row that faces the other way than the rest, with at least five
    tiles and four in five of them, belongs to the player across and is read from its own left; its place
    among the rows stays. Single tiles put in upside down change nothing.

    Args:
        on_head: bool (N,), the tile's artwork stands on its head in the photo.
    """
    across = len(on_head) > 0 and float(on_head.mean()) > ACROSS
    if across:
        rows = tuple(_turned(row) for row in reversed(rows))
    return tuple(_turned(row) if _faces_away(on_head[[*in_order(row)]] != across) else row for row in rows)


def _turned(row: Row) -> Row:
    return tuple(group[::-1] for group in reversed(row))


def _faces_away(away: NDArray[np.bool_]) -> bool:
    return bool(away.sum() >= FACING_ROW and away.mean() >= FACING_PART)


def _neighbours_chained(quads: Quads) -> list[list[int]]:
    """Tiles chained to the neighbour on their right where the two choose each other."""
    along, below = steps(quads, rights(quads))
    near = (along > NEIGHBOUR[0]) & (along < NEIGHBOUR[1]) & (np.abs(below) < LEVEL) & are_alike(quads, ALIKE)
    return _chains_of([[i] for i in range(len(quads))], np.where(near, along + 2 * np.abs(below), np.inf))


def _joined_across_gaps(chains: list[list[int]], quads: Quads) -> list[list[int]] | None:
    """The chains after joining those that continue each other, or None when none does."""
    direction = _directions(chains, quads)
    wide = np.linalg.norm(rights(quads), axis=1)
    along, below = steps(quads, direction * wide[:, None])
    first, last = [tiles[0] for tiles in chains], [tiles[-1] for tiles in chains]
    pairs = np.ix_(last, first)
    gap, level, alike = along[pairs], below[pairs], are_alike(quads, ALIKE)[pairs]
    follows = (gap > NEIGHBOUR[0]) & (gap < WIDEST_GAP) & (np.abs(level) < LEVEL_ACROSS_GAP) & alike
    np.fill_diagonal(follows, False)
    if not follows.any():
        return None
    return _chains_of(chains, np.where(follows, gap + 2 * np.abs(level), np.inf))


def _chains_of(chains: list[list[int]], cost: NDArray[np.float64]) -> list[list[int]]:
    """Join chains end to end wherever two are each other's cheapest continuation."""
    onward, back = cost.argmin(1), cost.argmin(0)
    next_of = {i: int(j) for i, j in enumerate(onward) if np.isfinite(cost[i, j]) and back[j] == i}
    starts = sorted(set(range(len(chains))) - set(next_of.values()))
    joined = []
    for start in starts:
        tiles, at = list(chains[start]), start
        while at in next_of:
            at = next_of[at]
            tiles += chains[at]
        joined.append(tiles)
    return joined


def _directions(chains: list[list[int]], quads: Quads) -> NDArray[np.float32]:
    """The direction of each tile's row, unit vectors (N, 2): of its chain and, for short ones, of those near.

    A leaning tile's own edges point away from its row, so what its neighbours say counts more.
    """
    middle, right = quads.mean(1), rights(quads)
    width = float(np.median(np.linalg.norm(right, axis=1)))
    own = np.stack([_chain_direction(middle[tiles], right[tiles]) for tiles in chains])
    where = np.stack([middle[tiles].mean(0) for tiles in chains])
    away = np.linalg.norm(where[None] - where[:, None], axis=2) / width
    size = np.array([len(tiles) for tiles in chains], np.float64)
    trust = size[None] ** 2 / (1 + away**2) * (np.eye(len(chains)) * 9 + 1)
    mixed = trust @ own
    mixed /= np.linalg.norm(mixed, axis=1, keepdims=True)
    result = np.empty((len(quads), 2), np.float32)
    for tiles, direction in zip(chains, mixed, strict=True):
        result[tiles] = direction
    return result


def _chain_direction(middle: NDArray[np.float32], right: NDArray[np.float32]) -> NDArray[np.float64]:
    """Unit vector from the left to the right half of the middles, or a single tile's own."""
    half = len(middle) // 2
    step = middle[-half:].mean(0) - middle[:half].mean(0) if half else right[0]
    return np.asarray(step / max(float(np.linalg.norm(step)), 1e-6), np.float64)


def _from_the_top(chains: list[list[int]], quads: Quads) -> list[list[int]]:
    """Sort rows by how many others lie above them, judged where each two come closest."""
    wide = np.linalg.norm(rights(quads), axis=1)
    along, below = steps(quads, _directions(chains, quads) * wide[:, None])
    middle = quads.mean(1)
    distance = np.linalg.norm(middle[None] - middle[:, None], axis=2)
    above = [
        sum(_is_below(np.ix_(other, tiles), along, below, distance) for other in chains if other is not tiles)
        for tiles in chains
    ]
    order = sorted(range(len(chains)), key=lambda i: (above[i], float(middle[chains[i], 1].mean())))
    return [chains[i] for i in order]


def _is_below(
    pair: tuple[NDArray[np.int_], ...],
    along: NDArray[np.float64],
    below: NDArray[np.float64],
    distance: NDArray[np.float32],
) -> bool:
    """Whether the second row of a pair lies below the first; of two on one level the right one does."""
    closest = np.argsort(distance[pair], axis=None)[:3]
    level = float(below[pair].flat[closest].mean())
    return level > 0 if abs(level) > LEVEL_ACROSS_GAP else float(along[pair].flat[closest].mean()) > 0


def _grouped(tiles: list[int], quads: Quads) -> Row:
    """Split a row where a gap is clearly wider than the row's usual one."""
    gaps = [_gap(quads[left], quads[right]) for left, right in pairwise(tiles)]
    usual = float(np.quantile(gaps, 0.25)) if gaps else 0.0
    limit = min(max(GROUP_GAP, 2 * usual + 0.1), NEVER_TOUCHING)
    groups = [[tiles[0]]]
    for tile, gap in zip(tiles[1:], gaps, strict=True):
        if gap > limit:
            groups.append([])
        groups[-1].append(tile)
    return tuple(tuple(group) for group in groups)


def _gap(left: NDArray[np.float32], right: NDArray[np.float32]) -> float:
    """Room between two neighbours' facing edges, in tile widths."""
    from_edge, to_edge = (left[1] + left[2]) / 2, (right[0] + right[3]) / 2
    width = (left[1] - left[0] + left[2] - left[3] + right[1] - right[0] + right[2] - right[3]) / 4
    return float((to_edge - from_edge) @ width / max(float(width @ width), 1e-6))
