"""A lesson: one of each face of a set, laid out in known rows and photographed, so that the set can be learnt.

The layout gives the names. Where a tile surely looks like another one, or is not seen, the lesson says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES, Face
from tilewitness.models import start_opening
from tilewitness.vision.learning import pictures_of, with_examples
from tilewitness.vision.photo import Source, open_photo
from tilewitness.vision.quads import Quads
from tilewitness.vision.read import Models, read_photo
from tilewitness.vision.reading import SURE, Tile
from tilewitness.vision.sets import SetError, TileSet
from tilewitness.vision.sets import Source as From

Layout = tuple[tuple[Face, ...], ...]
"""Which faces lie in which row, from the top and from the left."""

MOST_PICTURES: Final = 8
"""A set has eight flowers and eight jokers, so no more different pictures of either."""
KNOWN: Final = 0.5  # how far a reader that does not know the set is believed when rows are told apart
SKIPPED: Final = -5.0  # log probability of a place without a tile, or a tile without a place: two cost more than a wrong tile


def layout(*, flowers: int = 8, jokers: int = 1) -> Layout:
    """Return the rows to lay out: bams, craks, dots, winds and dragons, then one of each different picture.

    Raises:
        SetError: no set has so many different flowers or jokers.
    """
    if not (1 <= flowers <= MOST_PICTURES and 1 <= jokers <= MOST_PICTURES):
        raise SetError(f"A set shows 1 to {MOST_PICTURES} different flowers and jokers, not {flowers} and {jokers}.")
    suited, honours = FACES[:27], FACES[27:34]
    flower, joker = FACES[34:]
    pictures = (flower,) * flowers, (joker,) * jokers
    last = (pictures[0] + pictures[1],) if flowers + jokers <= 9 else pictures
    return (suited[:9], suited[9:18], suited[18:], honours, *last)


class Agreement(Enum):
    """What the reader made of a place of the layout."""

    AGREES = "agrees"
    """It reads the tile as the layout says."""
    UNSURE = "unsure"
    """It does not know this artwork: that is what learning is for."""
    OTHER = "other"
    """It is sure of another face: a person should say which it is."""
    NOT_SEEN = "not seen"
    """No tile was found there."""
    TOLD = "told"
    """A person said what it is."""


@dataclass(frozen=True, slots=True)
class Place:
    """One place of the layout and the tile that lies there.

    Attributes:
        row, place: counted from 0 in the layout.
        expected: the face that the layout has there.
        probabilities: what the reader thinks in general, likeliest first; empty where no tile was seen.
        picture: JPEG file of the tile, upright; empty where none was seen.
        told: what a person said it is, if anybody did.
        left_out: a person said not to learn it.
    """

    row: int
    place: int
    expected: Face
    probabilities: tuple[tuple[Face, float], ...] = ()
    picture: bytes = b""
    told: Face | None = None
    left_out: bool = False

    @property
    def looks_like(self) -> Face | None:
        """The face that the reader takes it for."""
        return self.probabilities[0][0] if self.probabilities else None

    @property
    def agreement(self) -> Agreement:
        """Whether layout, reader and person are at one."""
        if not self.picture:
            return Agreement.NOT_SEEN
        if self.told is not None or self.left_out:
            return Agreement.TOLD
        face, probability = self.probabilities[0]
        if face == self.expected:
            return Agreement.AGREES
        return Agreement.OTHER if probability >= SURE else Agreement.UNSURE

    @property
    def face(self) -> Face | None:
        """The name under which it will be learnt; None where it will not be: not seen, left out, or in doubt."""
        if self.agreement in (Agreement.NOT_SEEN, Agreement.OTHER) or self.left_out:
            return None
        return self.told or self.expected


@dataclass(frozen=True, slots=True)
class Stray:
    """A tile that the layout has no place for: number of its photo, row and place in it, and what it looks like."""

    photo: int
    row: int
    place: int
    looks_like: Face


@dataclass(frozen=True, slots=True)
class Lesson:
    """What was made of the photos of one set, to be looked over before it is learnt.

    Attributes:
        places: every place of the layout, in its order.
        strays: tiles beyond it.
    """

    places: tuple[Place, ...]
    strays: tuple[Stray, ...] = ()

    @property
    def doubts(self) -> tuple[Place, ...]:
        """Places that a person should look at, for the tile surely looks like another one."""
        return tuple(place for place in self.places if place.agreement is Agreement.OTHER)

    @property
    def not_seen(self) -> tuple[Place, ...]:
        """Places at which no tile was found."""
        return tuple(place for place in self.places if place.agreement is Agreement.NOT_SEEN)

    def with_correction(self, row: int, place: int, face: Face | None) -> Lesson:
        """Return the lesson after a person said what lies at a place; None leaves it out.

        Raises:
            SetError: there is no such place, or no tile was seen there.
        """
        found = [each for each in self.places if (each.row, each.place) == (row, place)]
        if not found or not found[0].picture:
            raise SetError(f"There is no tile at row {row + 1} place {place + 1} of the layout.")
        said = replace(found[0], told=face, left_out=face is None)
        return replace(self, places=tuple(said if each is found[0] else each for each in self.places))

    def as_laid_out(self) -> Lesson:
        """Return the lesson after a person said that the layout is right wherever the reader doubted it."""
        said = {id(place): replace(place, told=place.expected) for place in self.doubts}
        return replace(self, places=tuple(said.get(id(place), place) for place in self.places))

    def learn(self, tile_set: TileSet, *, models: Models | None = None) -> TileSet:
        """Return the set with the tiles of this lesson added.

        Raises:
            SetError: there is nothing to learn.
        """
        known = [(place.picture, place.face) for place in self.places if place.face is not None]
        if not known:
            raise SetError("No tile of the layout was made out, so nothing was learnt. Take the photo from closer, row by row.")
        pictures, faces = zip(*known, strict=True)
        return with_examples(tile_set, From.LAYOUT, pictures, faces, (models or Models.shipped()).reader)


def study(sources: Sequence[Source], rows: Layout, *, models: Models | None = None) -> Lesson:
    """Read photos of a layout and return what was made of each place.

    Rows may be spread over several photos and stand in any order; a row may be split over two photos.

    Args:
        sources: photos as for `read.read_photo`.
        rows: from `layout`.
    Raises:
        PhotoError: a photo cannot be read.
        SetError: there is no photo.
    """
    if not sources:
        raise SetError("Learning needs at least one photo of the layout.")
    if models is None:
        start_opening()
    seen: list[list[_Seen]] = []
    for number, source in enumerate(sources):
        photo = open_photo(source)
        reading = read_photo(source, models=models)
        quads = np.array([tile.quad for tile in reading.tiles], np.float32).reshape(-1, 4, 2)
        pictures = iter(pictures_of(photo, quads))
        seen += [[_Seen(number, tile, next(pictures)) for tile in row] for row in reading.rows]
    return _matched(seen, rows)


def example_picture(source: Source, quad: Quads) -> bytes:
    """Return the picture of one tile of a photo, for an example; `quad` (4, 2) as in `reading.Tile`."""
    return pictures_of(open_photo(source), quad[None])[0]


@dataclass(frozen=True, slots=True, eq=False)
class _Seen:
    photo: int
    tile: Tile
    picture: bytes


def _matched(seen: Sequence[Sequence[_Seen]], rows: Layout) -> Lesson:
    """Put the rows seen into the order of the layout, then line all tiles up with all its places."""
    fits = [[_lined_up(_log_odds(row, line))[0] / max(len(row), len(line)) for line in rows] for row in seen]
    order = sorted(range(len(seen)), key=lambda i: int(np.argmax(fits[i])))
    tiles = [tile for i in order for tile in seen[i]]
    spots = [(r, p, face) for r, line in enumerate(rows) for p, face in enumerate(line)]
    pairs = dict(_lined_up(_log_odds(tiles, [face for _, _, face in spots]))[1])
    found = {spot: tiles[tile] for tile, spot in pairs.items()}
    places = [
        Place(r, p, face, found[i].tile.probabilities, found[i].picture) if i in found else Place(r, p, face)
        for i, (r, p, face) in enumerate(spots)
    ]
    strays = [tile for i, tile in enumerate(tiles) if i not in pairs]
    return Lesson(tuple(places), tuple(Stray(s.photo, s.tile.row, s.tile.place, s.tile.face) for s in strays))


def _log_odds(tiles: Sequence[_Seen], faces: Sequence[Face]) -> NDArray[np.float64]:
    """How well each tile fits each face: log probability (tiles, faces), never far below that of a guess."""
    chance = np.full((len(tiles), len(FACES)), 1e-4)
    for each, seen in zip(chance, tiles, strict=True):
        for face, probability in seen.tile.probabilities:
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
