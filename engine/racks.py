"""Which tiles of a photo make one rack.

Common sense, no source: a hand is about fourteen tiles. Rows that together come to about fourteen are one hand; many
rows of fourteen are one hand a row. When the photo shows one hand in several rows, a row made only of groups that can
be claimed (three to six equal tiles, jokers among them) lies open beside the rack, unless every row is like that: then
nothing tells a claimed group from a tidy one, and all is taken as unclaimed.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from tilewitness.engine.faces import Face
from tilewitness.engine.plans import HAND_SIZE
from tilewitness.engine.rack import JOKER, Rack

MOST_ROWS: Final = 5
"""A hand is never looked for in more rows than this."""

Row = Sequence[tuple[Face, int]]
"""One row of a photo from the left: each tile's face and the number of its run of touching tiles."""


@dataclass(frozen=True, slots=True)
class FoundRack:
    """One rack of a photo.

    Attributes:
        places: for each place of the rack, the tile of the photo it comes from, counted from 0 in reading order.
        rows: the rows of the photo it takes up, counted from 0.
    """

    rack: Rack
    places: tuple[int, ...]
    rows: tuple[int, ...]


def racks_in(rows: Sequence[Row]) -> tuple[FoundRack, ...]:
    """Return the racks of a photo, from the top; every tile is in exactly one.

    >>> from tilewitness.engine.faces import FACES
    >>> row = [(FACES[0], 0)] * 14
    >>> [found.rows for found in racks_in([row, row, row[:6], row[:8]])]
    [(0,), (1,), (2, 3)]
    """
    filled = [number for number, row in enumerate(rows) if row]
    blocks = _blocks([len(rows[number]) for number in filled])
    starts = list(itertools.accumulate((len(row) for row in rows), initial=0))
    found = []
    for block in blocks:
        numbers = [filled[at] for at in block]
        places = tuple(p for n in numbers for p in range(starts[n], starts[n + 1]))
        faces = tuple(face for n in numbers for face, _ in rows[n])
        exposed = _exposed([rows[n] for n in numbers]) if len(blocks) == 1 else ()
        found.append(FoundRack(Rack(faces, exposed), places, tuple(numbers)))
    return tuple(found)


def _blocks(sizes: Sequence[int]) -> list[range]:
    """Cut the rows into neighbours that come nearest to fourteen tiles each, with the fewest cuts."""
    best: list[tuple[int, list[range]]] = [(0, [])]
    for end in range(1, len(sizes) + 1):
        options = []
        for start in range(max(0, end - MOST_ROWS), end):
            cost, blocks = best[start]
            options.append((cost + _strangeness(sum(sizes[start:end])), [*blocks, range(start, end)]))
        best.append(min(options, key=lambda option: (option[0], len(option[1]))))
    return best[-1][1]


def _strangeness(tiles: int) -> int:
    """How unlike one hand so many tiles are; too many is stranger than too few."""
    return HAND_SIZE - tiles if tiles <= HAND_SIZE else 1 if tiles == HAND_SIZE + 1 else 8 + 2 * (tiles - HAND_SIZE)


def _exposed(rows: Sequence[Row]) -> tuple[tuple[int, ...], ...]:
    """Return the claimed groups of a hand that takes up these rows."""
    groups = [_claimable(row) for row in rows]
    if all(group is not None for group in groups):
        return ()
    exposed = []
    start = 0
    for row, claimed in zip(rows, groups, strict=True):
        exposed += [tuple(start + at for at in group) for group in claimed or ()]
        start += len(row)
    return tuple(exposed)


def _claimable(row: Row) -> list[range] | None:
    """Split a row into groups that can be claimed, or return None if it is not made of such alone."""
    groups = []
    start = 0
    for _, run in itertools.groupby(row, key=lambda tile: tile[1]):
        faces = [face for face, _ in run]
        split = _split([face.index if face != JOKER else None for face in faces])
        if split is None:
            return None
        groups += [range(start + part.start, start + part.stop) for part in split]
        start += len(faces)
    return groups


def _split(faces: Sequence[int | None]) -> list[range] | None:
    """Split touching tiles where the face changes; a joker between two faces could be either's, so it forbids."""
    cuts = [0]
    last: int | None = None
    for at, face in enumerate(faces):
        if face is not None:
            if last is not None and face != last:
                if faces[at - 1] is None:
                    return None
                cuts.append(at)
            last = face
    parts = [range(a, b) for a, b in itertools.pairwise([*cuts, len(faces)])]
    return parts if last is not None and all(3 <= len(part) <= 6 for part in parts) else None
