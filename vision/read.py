"""The whole way from a photo to named tiles in rows."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.models import FinderNet, ReaderNet, open_finder, open_reader, start_opening
from tilewitness.vision.advice import advise
from tilewitness.vision.finder import FAINT, LIKELY, LIKELY_LAID_OUT, POSSIBLE, find_faces
from tilewitness.vision.photo import Photo, Source, open_photo
from tilewitness.vision.places import of_one_body
from tilewitness.vision.quads import Quads, turned
from tilewitness.vision.reader import (
    NO_FACE,
    Answers,
    are_faces,
    are_unfamiliar,
    name_faces,
    on_their_heads,
    possible_faces,
)
from tilewitness.vision.reading import Advice, Reading, Tile, Trouble
from tilewitness.vision.rows import Row, arrange, as_players_see, in_order
from tilewitness.vision.straighten import straighten

if TYPE_CHECKING:
    from tilewitness.vision.sets import TileSet

PREVIEW_SIDE: Final = 640  # network pixels: enough to see where tiles are, a third of the work
HARD_TO_SEE: Final = {
    Trouble.BLURRED, Trouble.GLARE, Trouble.TOO_BRIGHT, Trouble.TOO_DARK, Trouble.TOO_FAR, Trouble.SIDEWAYS, Trouble.SLANTED,
}  # fmt: skip
"""Where one of these is the matter, tiles may look unfamiliar for it."""


@dataclass(frozen=True, slots=True)
class Models:
    """The two networks `read_photo` works with."""

    finder: FinderNet
    reader: ReaderNet

    @classmethod
    def shipped(cls) -> Models:
        """Return the networks of this package; they are opened once per process."""
        return cls(open_finder(), open_reader())


def read_photo(source: Source, *, tile_set: TileSet | None = None, models: Models | None = None) -> Reading:
    """Find, name and order every tile in a photo. No tiles is an answer, not an error.

    Rows are numbered from the top and places from the left, as the photo is displayed. When most of the
    tiles stand on their heads, the photo was taken from across the table: then rows and places are
    numbered as the tiles' own player sees them, and so are the places of a row that faces another player
    (see `rows.as_players_see`).

    Args:
        source: path; or a whole file as bytes; or uint8 (H, W, 3) BGR or (H, W) grey pixels.
        tile_set: the set in the photo, if it was learnt: its own pictures then count beside general knowledge.
            If the tiles look like another set's, it is left aside and the advice says so.
        models: other networks than the shipped ones, which are opened on the first call.
    Raises:
        PhotoError: missing, empty, broken, too large, or not a photo.
        ModelError: a network is missing or does not fit.
    """
    if tile_set is None:
        found = _find(source, models)
        answers = found.named()
        kept = are_faces(answers, found.scores)
        reading = _arranged(found, answers, kept)
        seen_well = not any(advice.trouble in HARD_TO_SEE for advice in reading.advice)
        return _advised(reading, Trouble.UNFAMILIAR, seen_well and are_unfamiliar(answers.of(kept)))
    # Only now: most photos are read without a set, and loading takes time.
    from tilewitness.vision.blend import named_with

    found = _find(source, models, least=FAINT)
    named = named_with(found.cut, found.faces, tile_set, found.net)
    clear = (found.scores > POSSIBLE) | named.own
    found, answers = found.of(clear), named.answers.of(clear)
    scores = np.maximum(found.scores, named.own[clear])  # a tile of the set is one, however faintly it was found
    return _advised(_arranged(found, answers, are_faces(answers, scores)), Trouble.OTHER_SET, named.strange)


def _advised(reading: Reading, trouble: Trouble, found: bool) -> Reading:
    """Add a trouble, if it was found, after the others: what cannot be seen well looks strange too."""
    return replace(reading, advice=(*reading.advice, Advice(trouble))) if found else reading


@dataclass(frozen=True, slots=True)
class LayoutReadings:
    """The photo of a layout, read in the ways that may be right.

    Attributes:
        known, known_whole: for artwork that the reader knows: as `read_photo` does; and with everything that the
            finder found, however faint, whatever the reader makes of it.
        strange: for artwork that it does not know, and of which it cannot tell the way up: everything that was
            found, as upright as the photo shows it.
        evidence: for each row and tile of `strange`, 0 to 1, how much it looks like a tile's face.
    """

    known: Reading
    known_whole: Reading
    strange: Reading
    evidence: tuple[tuple[float, ...], ...]


def read_layout(source: Source, *, models: Models | None = None) -> LayoutReadings:
    """Read a photo in which tiles are known to lie, perhaps with artwork that looks like no tile's.

    Arguments and errors are those of `read_photo`.
    """
    found = _find(source, models, likely=LIKELY_LAID_OUT, least=FAINT)
    named = found.named()
    upright = replace(named, upside_down=np.zeros_like(named.upside_down))
    clear = found.scores > POSSIBLE
    kept = clear.copy()
    kept[clear] = are_faces(named.of(clear), found.scores[clear])
    every = np.ones_like(kept)
    looks = found.scores * (1 - named.probabilities[:, NO_FACE]) * of_one_body(found.faces, found.net.margin)
    evidence = tuple(tuple(looks[list(in_order(row))].tolist()) for row in arrange(found.quads))
    return LayoutReadings(
        _arranged(found, named, kept), _arranged(found, named, every), _arranged(found, upright, every), evidence
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Found:
    """What the finder found: quads and scores as in `FoundFaces`, and faces, uint8 (N, height, width, 3), straightened."""

    photo: Photo
    net: ReaderNet
    quads: Quads
    scores: NDArray[np.float32]
    faces: NDArray[np.uint8]

    def cut(self, which: NDArray[np.bool_], margin: float) -> NDArray[np.uint8]:
        """Straighten the chosen faces (N,) with a margin."""
        if margin == self.net.margin:
            return self.faces[which]
        return straighten(self.photo, self.quads[which], size=self.net.size, margin=margin)

    def of(self, chosen: NDArray[np.bool_]) -> _Found:
        """The chosen ones (N,) alone."""
        return replace(self, quads=self.quads[chosen], scores=self.scores[chosen], faces=self.faces[chosen])

    def named(self) -> Answers:
        """Name the faces by general knowledge."""
        return name_faces(self.cut, len(self.faces), self.net)


def _find(source: Source, models: Models | None, *, likely: float = LIKELY, least: float = POSSIBLE) -> _Found:
    if models is None:
        start_opening()
    photo = open_photo(source)
    models = models or Models.shipped()
    found = find_faces(photo, models.finder, likely=likely, least=least)
    return _Found(photo, models.reader, found.quads, found.scores, _straight(photo, found.quads, models))


def _arranged(found: _Found, answers: Answers, kept: NDArray[np.bool_]) -> Reading:
    """Put the faces that are kept (N,) into rows."""
    quads, faces, answers = found.quads[kept], found.faces[kept], answers.of(kept)
    rows = arrange(quads)
    on_head = on_their_heads(answers.upside_down, tuple(in_order(row) for row in rows))
    rows = as_players_see(rows, on_head)
    tiles = _tiles(rows, turned(quads, on_head), answers, on_head)
    return Reading(found.photo.size, tiles, advise(found.photo, quads, faces, rows))


def look(source: Source, *, models: Models | None = None) -> tuple[Advice, ...]:
    """Return what would make a photo read badly, without reading it: fast enough for a preview picture.

    Arguments and errors are those of `read_photo`; places count from the photo's top left.
    """
    if models is None:
        start_opening()
    photo = open_photo(source)
    models = models or Models.shipped()
    quads = find_faces(photo, models.finder, long_side=PREVIEW_SIDE, closer_look=False).quads
    return advise(photo, quads, _straight(photo, quads, models), arrange(quads))


def _straight(photo: Photo, quads: Quads, models: Models) -> NDArray[np.uint8]:
    return straighten(photo, quads, size=models.reader.size, margin=models.reader.margin)


def _tiles(
    rows: tuple[Row, ...], quads: Quads, answers: Answers, on_head: NDArray[np.bool_]
) -> tuple[Tile, ...]:
    def tile(i: int, row: int, place: int, group: int) -> Tile:
        return Tile(quads[i], possible_faces(answers.probabilities[i]), bool(on_head[i]), row, place, group)

    return tuple(
        tile(i, number, place, group)
        for number, row in enumerate(rows)
        for place, (i, group) in enumerate((i, group) for group, tiles in enumerate(row) for i in tiles)
    )
