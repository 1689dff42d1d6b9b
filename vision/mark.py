"""Draw what was read into the photo: every tile outlined and named."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from tilewitness.vision.photo import Source, open_photo
from tilewitness.vision.quads import Quads, downs, heights, shared_area, turned
from tilewitness.vision.reading import Reading, Tile

Colour = tuple[int, int, int]

SURE_COLOUR: Final[Colour] = (0, 90, 160)  # blue and vermilion stay apart in every kind of colour blindness
UNSURE_COLOUR: Final[Colour] = (190, 70, 0)  # Source: Okabe & Ito 2008, "Color Universal Design", darkened for text
PAPER: Final[Colour] = (255, 255, 255)
WISHED_WIDTH: Final = 104  # pixels of the drawing across a tile, so that its name can be read
LONGEST_SIDE: Final = 4000  # pixels of the drawing
TEXT: Final = 0.15  # height of a name, in tile heights
MIN_TEXT: Final = 8.0  # pixels: smaller letters cannot be told apart


def mark_tiles(source: Source, reading: Reading) -> NDArray[np.uint8]:
    """Return the photo with every tile outlined and named.

    A tile that is not surely read is told by more than its colour: its outline is dashed and its name
    ends in a question mark. Names stand above or below a tile where there is room, and on the line
    between two tiles where there is none, so that no face is covered; only at the photo's own border does a
    name lie on its face.

    Args:
        source: the photo that was read.
    Returns:
        uint8 (H, W, 3), BGR, enlarged where the tiles are too small for legible names.
    Raises:
        PhotoError: missing, empty, broken, too large, or not a photo.
        ValueError: the reading is of a photo of another size.
    """
    photo = open_photo(source)
    if photo.size != reading.size:
        raise ValueError(f"the photo is {photo.size} pixels, the reading is of one of {reading.size}.")
    quads = np.array([tile.quad for tile in reading.tiles], np.float32).reshape(-1, 4, 2)
    scale = _drawing_scale(quads, photo.size)
    width, height = (round(side * scale) for side in photo.size)
    drawing = Image.fromarray(cv2.cvtColor(cv2.resize(photo.pixels, (width, height)), cv2.COLOR_BGR2RGB))
    _draw(ImageDraw.Draw(drawing), reading.tiles, quads * scale)
    return np.asarray(cv2.cvtColor(np.asarray(drawing), cv2.COLOR_RGB2BGR), np.uint8)


def _drawing_scale(quads: Quads, size: tuple[int, int]) -> float:
    """Enlarge until names are legible, within bounds; never draw larger than `LONGEST_SIDE`."""
    most = LONGEST_SIDE / max(size)
    if not len(quads):
        return min(1.0, most)
    width = float(np.median(np.linalg.norm(quads[:, 1] - quads[:, 0], axis=1)))
    return min(most, max(1.0, WISHED_WIDTH / width))


def _draw(pen: ImageDraw.ImageDraw, tiles: tuple[Tile, ...], quads: Quads) -> None:
    """Outline every tile, then name them row by row, so that no outline crosses a name."""
    upright = turned(quads, downs(quads)[:, 1] < 0)
    for tile, quad in zip(tiles, upright, strict=True):
        _outline(pen, tile, quad)
    for row in {tile.row for tile in tiles}:
        members = [i for i, tile in enumerate(tiles) if tile.row == row]
        rest = np.delete(upright, members, 0)
        tags = [_tag(pen, tiles[i], upright[i]) for i in members]
        above = [tag.lifted(upright[i]) for i, tag in zip(members, tags, strict=True)]
        for tag in above if all(tag.is_free(rest) for tag in above) else tags:
            tag.inside().draw(pen)


def _outline(pen: ImageDraw.ImageDraw, tile: Tile, quad: Quads) -> None:
    thick = max(2, round(float(heights(quad[None])[0]) / 40))
    inner = quad + (quad.mean(0) - quad) * 0.02
    for start, end in zip(inner, np.roll(inner, -1, 0), strict=True):
        pen.line([*start, *end], PAPER, thick + 2)
        for dash_start, dash_end in [(start, end)] if tile.is_sure else _dashes(start, end):
            pen.line([*dash_start, *dash_end], _colour(tile), thick)


def _dashes(start: Quads, end: Quads, *, count: int = 5) -> list[tuple[Quads, Quads]]:
    steps = np.linspace(start, end, 2 * count)
    return list(zip(steps[::2], steps[1::2], strict=True))


def _colour(tile: Tile) -> Colour:
    return SURE_COLOUR if tile.is_sure else UNSURE_COLOUR


@dataclass(frozen=True, slots=True, eq=False)
class _Tag:
    """A name to be written: centred at `middle`, in a box of the given width and height."""

    text: str
    font: ImageFont.FreeTypeFont | ImageFont.ImageFont
    colour: Colour
    middle: Quads
    box: tuple[float, float]

    @property
    def corners(self) -> Quads:
        signs = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])
        return np.asarray(self.middle + signs * np.array(self.box) / 2, np.float32)

    def lifted(self, quad: Quads) -> _Tag:
        """The same tag just above the highest point of its tile's upper edge."""
        up = self.box[1] / 2 + abs(float(quad[1, 1] - quad[0, 1])) / 2 + 2
        return replace(self, middle=self.middle - np.array([0, up], np.float32))

    def is_free(self, others: Quads) -> bool:
        """Whether the tag is inside the drawing and covers no other face."""
        return self.corners.min() >= 0 and not any(shared_area(self.corners, other) > 1 for other in others)

    def inside(self) -> _Tag:
        """The same tag, moved in where it would reach over the drawing's left or upper border."""
        return replace(self, middle=self.middle + np.maximum(1 - self.corners.min(0), 0))

    def draw(self, pen: ImageDraw.ImageDraw) -> None:
        x, y = self.middle
        pen.rounded_rectangle([*self.corners[0], *self.corners[2]], 3, PAPER, self.colour)
        pen.text((float(x), float(y)), self.text, self.colour, self.font, "mm")


def _tag(pen: ImageDraw.ImageDraw, tile: Tile, quad: Quads) -> _Tag:
    """A tile's name on its upper edge, no wider than the tile."""
    text = tile.face.name if tile.is_sure else f"{tile.face.name}?"
    height, width = float(heights(quad[None])[0]) * TEXT, float(np.linalg.norm(quad[1] - quad[0])) - 2
    long = pen.textlength(text, ImageFont.load_default(height)) + 6
    font = ImageFont.load_default(max(MIN_TEXT, height * min(1.0, width / long)))
    return _Tag(
        text, font, _colour(tile), (quad[0] + quad[1]) / 2, (pen.textlength(text, font) + 6, height * 1.1)
    )
