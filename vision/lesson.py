"""A lesson: one of each face of a set, laid out in known rows and photographed, so that the set can be learnt.

The layout gives the names. Where a tile surely looks like another one, or is not seen, the lesson says so.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from typing import Final

import numpy as np

from tilewitness.engine.faces import FACES, Face, Kind
from tilewitness.models import start_opening
from tilewitness.vision.evened import evened
from tilewitness.vision.learning import contrasts, pictures_of, with_examples
from tilewitness.vision.matching import match
from tilewitness.vision.photo import Photo, Source, open_photo
from tilewitness.vision.places import Layout, Spot
from tilewitness.vision.quads import Quads
from tilewitness.vision.read import Models, read_layout
from tilewitness.vision.reading import SURE, Reading, Tile
from tilewitness.vision.sets import SetError, TileSet
from tilewitness.vision.sets import Source as From

MOST_PICTURES: Final = 8
"""A set has eight flowers and eight jokers, so no more different pictures of either."""


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


OPTIONAL: Final = (Kind.FLOWER, Kind.JOKER)
"""Kinds of which a set may have fewer pictures than the layout has places."""

BLANK: Final = Face.named("white dragon")
"""The one face that is blank in some sets; common practice, no source."""
FADED: Final = 0.24  # of the usual contrast in print: a picture with less shows a worn tile, or one in glaring light;
PALE: Final = 0.45  # with less than this, too much of its print may be lost to tell it by,
PALE_PHOTO: Final = 0.45  # and where the usual contrast is less than this, black on white being 1, of every tile's
ENOUGH: Final = 0.5  # share of the layout to be seen before places alone are believed: less may be any rack of tiles
STRAY: Final = 0.3  # evidence from which a find without a place is worth telling


class Agreement(Enum):
    """What the reader made of a place of the layout."""

    AGREES = "agrees"
    """It reads the tile as the layout says."""
    UNSURE = "unsure"
    """It does not know this artwork: that is what learning is for."""
    OTHER = "other"
    """It knows the set, and is sure of another face: a person should say which it is."""
    NOT_SEEN = "not seen"
    """No tile was found there."""
    FADED = "faded"
    """Its print hardly shows in the photo: it is not learnt from this one."""
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
        known_set: the reader knows the artwork of this set, so that its doubt counts.
        faded: hardly any print shows.
        pale: its print shows, but faintly: it is learnt, and another photo of it would help.
    """

    row: int
    place: int
    expected: Face
    probabilities: tuple[tuple[Face, float], ...] = ()
    picture: bytes = b""
    told: Face | None = None
    left_out: bool = False
    known_set: bool = True
    faded: bool = False
    pale: bool = False

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
        if self.faded:
            return Agreement.FADED
        face, probability = self.probabilities[0]
        if face == self.expected:
            return Agreement.AGREES
        return Agreement.OTHER if self.known_set and probability >= SURE else Agreement.UNSURE

    @property
    def face(self) -> Face | None:
        """The name under which it will be learnt; None where it will not be: not seen, faded, left out, or in doubt."""
        if self.agreement in (Agreement.NOT_SEEN, Agreement.FADED, Agreement.OTHER) or self.left_out:
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
    def known_set(self) -> bool:
        """The reader names most of the tiles as the layout does."""
        return all(place.known_set for place in self.places)

    @property
    def doubts(self) -> tuple[Place, ...]:
        """Places that a person should look at, for the tile surely looks like another one."""
        return tuple(place for place in self.places if place.agreement is Agreement.OTHER)

    @property
    def not_seen(self) -> tuple[Place, ...]:
        """Places at which no tile was found."""
        return tuple(place for place in self.places if place.agreement is Agreement.NOT_SEEN)

    @property
    def again(self) -> tuple[Place, ...]:
        """Places of which another photo is needed: faded or pale, or not seen though every set has such a tile.

        Of flowers and jokers there may be fewer pictures than places. What a person said of a place is believed.
        """
        def needed(place: Place) -> bool:
            if place.agreement is Agreement.NOT_SEEN:
                return place.expected.kind not in OPTIONAL
            return place.agreement is not Agreement.TOLD and (place.faded or place.pale)

        return tuple(filter(needed, self.places))

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

    Rows may be spread over several photos, and stand in any order where the reader knows the artwork; a row may be
    split over two photos. What the reader takes for no tile counts as one where the layout then fits better, and unless
    it knows the artwork, what it says of the way up counts for nothing: designers draw what it has never seen on a tile.

    Args:
        sources: photos as for `read.read_photo`.
        rows: from `layout`.
    Raises:
        PhotoError: a photo cannot be read.
        SetError: there is no photo, or of artwork that the reader does not know too little of the layout is seen.
    """
    if not sources:
        raise SetError("Learning needs at least one photo of the layout.")
    if models is None:
        start_opening()
    photos = [open_photo(source) for source in sources]
    readings = [read_layout(source, models=models) for source in sources]

    lessons = [
        _matched(photos, [each.known for each in readings], rows),
        _matched(photos, [each.known_whole for each in readings], rows),
    ]
    known = [lesson for lesson in lessons if lesson.known_set]
    if known:
        return min(known, key=lambda lesson: len(lesson.not_seen) + len(lesson.strays))
    evidence = [row for each in readings for row in each.evidence]
    lesson = _matched(photos, [each.strange for each in readings], rows, evidence)
    seen, needed = len(lesson.places) - len(lesson.not_seen), sum(face.kind not in OPTIONAL for row in rows for face in row)
    if 0 < seen < ENOUGH * needed:
        raise SetError(
            f"Only {seen} tiles of the photos fit the layout. The artwork is new, so tiles are told apart by their places "
            "alone. Lay out all rows, and take them in one photo, or give the photos of all rows at once."
        )
    return lesson


def example_picture(source: Source, quad: Quads) -> bytes:
    """Return the picture of one tile of a photo, for an example; `quad` (4, 2) as in `reading.Tile`."""
    return pictures_of(open_photo(source), quad[None])[0]


@dataclass(frozen=True, slots=True)
class _Seen:
    """A row of tiles and the number of its photo."""

    photo: int
    tiles: tuple[Tile, ...]


def _matched(
    photos: Sequence[Photo], readings: Sequence[Reading], rows: Layout, evidence: Sequence[Sequence[float]] | None = None
) -> Lesson:
    """Find out which tile lies at which place, and which has none; without `evidence`, all look alike like tiles."""
    seen = [_Seen(number, row) for number, reading in enumerate(readings) for row in reading.rows]
    evidence = evidence or [[1.0] * len(row.tiles) for row in seen]
    found = match([row.tiles for row in seen], [row.photo for row in seen], evidence, rows)
    quads = _quads([row.tiles for row in seen], found.tiles)
    pictures: dict[Spot, bytes] = {}
    for number, photo in enumerate(photos):
        spots = [spot for spot in quads if seen[spot[0]].photo == number]
        corners = np.array([quads[spot] for spot in spots], np.float32).reshape(-1, 4, 2)
        pictures |= dict(zip(spots, pictures_of(photo, corners), strict=True))
    contrast = dict(zip(pictures, contrasts(pictures.values()), strict=True))
    usual = float(np.median(list(contrast.values()) or [0.0]))
    places = []
    for r, line in enumerate(rows):
        for p, face in enumerate(line):
            place = Place(r, p, face, known_set=found.reader_knows)
            if (r, p) in found.tiles:
                i, k = spot = found.tiles[r, p]
                place = replace(
                    place,
                    probabilities=seen[i].tiles[k].probabilities,
                    picture=pictures[spot],
                    faded=contrast[spot] < FADED * usual and face != BLANK,
                    pale=(contrast[spot] < PALE * usual or usual < PALE_PHOTO) and face != BLANK,
                )
            places.append(place)
    strays = [
        Stray(row.photo, tile.row, tile.place, tile.face)
        for i, row in enumerate(seen)
        for k, tile in enumerate(row.tiles)
        if (i, k) not in pictures and evidence[i][k] >= STRAY
    ]
    return Lesson(tuple(places), tuple(strays))


def _quads(seen: Sequence[Sequence[Tile]], found: Mapping[Spot, Spot]) -> dict[Spot, Quads]:
    """The corners (4, 2) of each tile that has a place, put right by the others of its row."""
    quads: dict[Spot, Quads] = {}
    for line in {(row, i) for (row, _), (i, _) in found.items()}:
        members = {place: spot for (row, place), spot in found.items() if (row, spot[0]) == line}
        corners = evened({place: seen[i][k].quad for place, (i, k) in sorted(members.items())})
        quads |= {members[place]: quad for place, quad in corners.items()}
    return quads
