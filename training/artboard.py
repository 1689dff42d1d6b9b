"""A sheet to draw one tile face on: twice the final size, premultiplied RGBA, shrunk at the end."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.icons import icon
from tilewitness.training.inks import RGB

WIDTH: Final = 192
HEIGHT: Final = 256
_OVERSAMPLING: Final = 2
_SHIFT: Final = 4  # fractional bits of cv2's drawing coordinates
_FIXED: Final = _OVERSAMPLING << _SHIFT

Point = tuple[float, float]
Points = NDArray[np.float64]


class Artboard:
    """Draws in pixels of the final 192 × 256 face. `ink=None` erases: the bare tile shows again."""

    def __init__(self) -> None:
        # Anti-aliased drawing on cleared four-channel pixels is premultiplied alpha by itself.
        self.pixels = np.zeros((HEIGHT * _OVERSAMPLING, WIDTH * _OVERSAMPLING, 4), np.uint8)

    def disc(self, centre: Point, radius: float, ink: RGB | None) -> None:
        """Fill a disc."""
        if radius > 0.2:
            cv2.circle(self.pixels, _fixed(centre), round(radius * _FIXED), _colour(ink), -1, cv2.LINE_AA, _SHIFT)

    def ring(self, centre: Point, radius: float, width: float, ink: RGB | None) -> None:
        """Draw a circle whose stroke lies inside `radius`."""
        middle = max(radius - width / 2, 0.3)
        cv2.circle(
            self.pixels, _fixed(centre), round(middle * _FIXED), _colour(ink), _stroke(width), cv2.LINE_AA, _SHIFT
        )

    def polygon(self, points: Points, ink: RGB | None) -> None:
        """Fill a polygon."""
        cv2.fillPoly(self.pixels, [_fixed_points(points)], _colour(ink), cv2.LINE_AA, _SHIFT)

    def line(self, points: Points, width: float, ink: RGB | None, *, closed: bool = False) -> None:
        """Stroke a line with round joints."""
        cv2.polylines(
            self.pixels, [_fixed_points(points)], closed, _colour(ink), _stroke(width), cv2.LINE_AA, _SHIFT
        )

    def stamp(self, mask: NDArray[np.uint8], centre: Point, ink: RGB | None) -> None:
        """Ink an alpha mask around a centre. The mask is at twice the final size; what hangs over is cut."""
        height, width = mask.shape
        left = round(centre[0] * _OVERSAMPLING - width / 2)
        top = round(centre[1] * _OVERSAMPLING - height / 2)
        rows = slice(max(top, 0), min(top + height, self.pixels.shape[0]))
        columns = slice(max(left, 0), min(left + width, self.pixels.shape[1]))
        part = mask[rows.start - top : rows.stop - top, columns.start - left : columns.stop - left]
        if part.size == 0 or rows.stop <= rows.start or columns.stop <= columns.start:
            return
        under = self.pixels[rows, columns]
        over = cv2.merge([part, part, part, part])
        kept = cv2.multiply(under, cv2.bitwise_not(over), scale=1 / 255)
        colour = np.full_like(over, _colour(ink))
        self.pixels[rows, columns] = cv2.add(kept, cv2.multiply(colour, over, scale=1 / 255))

    def shrunk(self) -> NDArray[np.uint8]:
        """Return the drawing at its final size, still premultiplied: uint8 (256, 192, 4)."""
        return np.asarray(cv2.resize(self.pixels, (WIDTH, HEIGHT), interpolation=cv2.INTER_AREA))


def stamp_icon(board: Artboard, name: str, centre: Point, room: Point, inks: tuple[RGB, ...]) -> None:
    """Ink a plant or flower icon into a room of width × height pixels, its regions in the inks by turns."""
    regions = icon("flowers", name)
    scale = _OVERSAMPLING * min(room[0] / regions.shape[1], room[1] / regions.shape[0])
    for region in range(1, int(regions.max()) + 1):
        part = np.where(regions == region, 255, 0).astype(np.uint8)
        mask = cv2.resize(part, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
        board.stamp(np.asarray(mask, np.uint8), centre, inks[(region - 1) % len(inks)])


def straight_alpha(premultiplied: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Divide colour by alpha: what pictures with transparency are stored as."""
    red, green, blue, alpha = cv2.split(premultiplied)
    colours = [cv2.divide(channel, alpha, scale=255.0) for channel in (red, green, blue)]
    return np.asarray(cv2.merge([*colours, alpha]))


def premultiplied(straight: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Multiply colour by alpha: what pictures are combined as."""
    alpha = straight[:, :, 3]
    return np.asarray(cv2.multiply(straight, cv2.merge([alpha, alpha, alpha, np.full_like(alpha, 255)]), scale=1 / 255))


def laid_over(upper: NDArray[np.uint8], lower: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Lay one premultiplied picture over another."""
    clear = cv2.bitwise_not(upper[:, :, 3])
    return np.asarray(cv2.add(upper, cv2.multiply(lower, cv2.merge([clear] * 4), scale=1 / 255)))


def _colour(ink: RGB | None) -> tuple[int, int, int, int]:
    return (0, 0, 0, 0) if ink is None else (*ink, 255)


def _stroke(width: float) -> int:
    return max(round(width * _OVERSAMPLING), 1)


def _fixed(point: Point) -> tuple[int, int]:
    return round(point[0] * _FIXED), round(point[1] * _FIXED)


def _fixed_points(points: Points) -> NDArray[np.int32]:
    return np.round(points * _FIXED).astype(np.int32)
