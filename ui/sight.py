"""A photo as the app works with it: what was read, her own tiles cut out, and her corrections."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable
from dataclasses import dataclass, replace
from threading import Lock

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import Face
from tilewitness.vision.mark import mark_tiles
from tilewitness.vision.photo import open_photo
from tilewitness.vision.read import read_photo
from tilewitness.vision.reading import Reading, Tile
from tilewitness.vision.sets import TileSet
from tilewitness.vision.straighten import straighten

CUTOUT_SIZE = (160, 120)
"""Height and width of a cut-out in pixels: sharp at twice the size it is usually shown at."""

one_at_a_time = Lock()
"""Photos from several windows are read one after the other, so that memory stays what one photo needs."""


@dataclass(frozen=True, slots=True, eq=False)
class Sight:
    """One photo, read.

    Attributes:
        name: file name of the photo.
        photo: its bytes as they came, for marking.
        digest: fingerprint of photo and corrections; equal sights have equal opinions.
        reading: tiles as read, with corrections applied.
        cutouts: a picture of each tile as a data address, in the order of `reading.tiles`; "" for added tiles.
        corrected: which tiles a person named.
    """

    name: str
    photo: bytes
    digest: str
    reading: Reading
    cutouts: tuple[str, ...]
    corrected: frozenset[int] = frozenset()

    @property
    def many_rows(self) -> bool:
        """The tiles stand in more than one row."""
        return len(self.reading.rows) > 1


def see(name: str, data: bytes, tile_set: TileSet | None = None) -> Sight:
    """Read a photo, given as the bytes of its file and with the set it shows if that was learnt; cut out its tiles.

    Raises:
        PhotoError: the bytes are not a photo that can be read.
    """
    with one_at_a_time:
        reading = read_photo(data, tile_set=tile_set)
        cutouts = _cutouts(data, reading)
    return Sight(name, data, hashlib.sha256(data).hexdigest()[:16], reading, cutouts)


def _cutouts(data: bytes, reading: Reading) -> tuple[str, ...]:
    quads = np.array([tile.quad for tile in reading.tiles], np.float32).reshape(-1, 4, 2)
    return tuple(picture_address(face) for face in straighten(open_photo(data), quads, size=CUTOUT_SIZE, margin=0.02))


def picture_address(picture: NDArray[np.uint8]) -> str:
    """Return a picture, uint8 (H, W, 3) BGR, as a data address that a page can show without asking a server."""
    coded = cv2.imencode(".jpg", picture, [cv2.IMWRITE_JPEG_QUALITY, 85])[1].tobytes()
    return jpeg_address(coded)


def jpeg_address(file: bytes) -> str:
    """Return a JPEG file as such a data address."""
    return f"data:image/jpeg;base64,{base64.b64encode(file).decode('ascii')}"


def with_face(sight: Sight, tile: int, face: Face) -> Sight:
    """Return the sight with one tile named by a person; what the reader thought stays on offer."""
    old = sight.reading.tiles[tile]
    others = tuple((other, 0.0) for other, _ in old.probabilities if other != face)
    tiles = list(sight.reading.tiles)
    tiles[tile] = replace(old, probabilities=((face, 1.0), *others))
    return _changed(sight, tiles, sight.cutouts, sight.corrected | {tile})


def without_tile(sight: Sight, tile: int) -> Sight:
    """Return the sight with one tile left out, because it is none or not hers."""
    tiles = [other for index, other in enumerate(sight.reading.tiles) if index != tile]
    cutouts = tuple(other for index, other in enumerate(sight.cutouts) if index != tile)
    corrected = frozenset(index - (index > tile) for index in sight.corrected if index != tile)
    return _changed(sight, _numbered(tiles), cutouts, corrected)


def with_added_tile(sight: Sight, face: Face, *, row: int) -> Sight:
    """Return the sight with one more tile at the end of a row, which the photo did not show."""
    before = [tile for tile in sight.reading.tiles if tile.row <= row]
    after = [tile for tile in sight.reading.tiles if tile.row > row]
    group = before[-1].group if before else 0
    added = Tile(np.zeros((4, 2), np.float32), ((face, 1.0),), False, row, len(before), group)
    at = len(before)
    cutouts = (*sight.cutouts[:at], "", *sight.cutouts[at:])
    corrected = frozenset(index + (index >= at) for index in sight.corrected) | {at}
    return _changed(sight, _numbered([*before, added, *after]), cutouts, corrected)


def _changed(sight: Sight, tiles: Iterable[Tile], cutouts: tuple[str, ...], corrected: frozenset[int]) -> Sight:
    reading = replace(sight.reading, tiles=tuple(tiles))
    names = ",".join(f"{tile.row}{tile.face}" for tile in reading.tiles)
    digest = hashlib.sha256(f"{sight.digest}{names}".encode()).hexdigest()[:16]
    return Sight(sight.name, sight.photo, digest, reading, cutouts, corrected)


def _numbered(tiles: list[Tile]) -> list[Tile]:
    """Number places anew; a row that has lost its last tile closes up."""
    rows = sorted({tile.row for tile in tiles})
    numbered = []
    for number, row in enumerate(rows):
        members = [tile for tile in tiles if tile.row == row]
        numbered += [replace(tile, row=number, place=place) for place, tile in enumerate(members)]
    return numbered


def as_photographed(sight: Sight) -> Reading:
    """The reading without tiles that were added by hand, for drawing into the photo."""
    return replace(sight.reading, tiles=tuple(tile for tile in sight.reading.tiles if tile.quad.any()))


def marked_png(sight: Sight) -> bytes:
    """The photo with every tile outlined and named, as a PNG file."""
    marked = mark_tiles(sight.photo, as_photographed(sight))
    return cv2.imencode(".png", marked)[1].tobytes()


def marked_address(sight: Sight, *, width: int = 1600) -> str:
    """The marked photo, small enough to stand in a printed page."""
    marked = mark_tiles(sight.photo, as_photographed(sight))
    height = round(marked.shape[0] * width / marked.shape[1])
    return picture_address(np.asarray(cv2.resize(marked, (width, height), interpolation=cv2.INTER_AREA), np.uint8))
