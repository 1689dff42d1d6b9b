"""Tile faces as seen from straight above."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.vision.photo import Photo
from tilewitness.vision.quads import Quads, are_convex, areas

ENLARGED: Final = (
    1.25  # how much a reduced photo's face may be enlarged before the full photo is decoded for it
)

_SMALLEST_AREA = 16.0  # square pixels of the photo as displayed


class QuadError(ValueError):
    """Corners that bound no tile face."""


def straighten(
    photo: Photo, quads: Quads, *, size: tuple[int, int] = (96, 72), margin: float = 0.06
) -> NDArray[np.uint8]:
    """Return every face as a small picture that its quad's first corner starts.

    Faces with too few pixels in a photo that was reduced are taken from its full resolution. One with more
    than the result needs is first sampled at a whole multiple of the size and then averaged down, so that
    nothing aliases.

    Args:
        quads: float32 (N, 4, 2), pixels of the photo as displayed, clockwise.
        size: height and width of a result in pixels, margin included.
        margin: part of the face's height and width shown beyond each of its sides.
    Returns:
        uint8 (N, height, width, 3), BGR; parts outside the photo repeat the nearest edge.
    Raises:
        QuadError: a quad is not convex and clockwise, or smaller than 16 square pixels.
    Source: homography from four points, Hartley & Zisserman 2004, "Multiple View Geometry", section 4.1.
    """
    wrong = np.flatnonzero(~are_convex(quads) | (areas(quads) < _SMALLEST_AREA))
    if len(wrong):
        raise QuadError(
            f"quad {wrong[0]}, {quads[wrong[0]].tolist()}, is not four corners of a face, clockwise."
        )
    target = _target(size, margin)
    if photo.scale > 1 and photo.scale * _enlargement(quads, target).max(initial=0) > ENLARGED:
        photo = photo.in_full()
    faces = np.empty((len(quads), *size, 3), np.uint8)
    for face, quad in zip(faces, quads / np.float32(photo.scale), strict=True):
        face[:] = _straightened(photo.pixels, quad, target, size)
    return faces


def _target(size: tuple[int, int], margin: float) -> Quads:
    """Where the corners of a face lie in its picture."""
    height, width = size
    x, y = (side * margin / (1 + 2 * margin) for side in (width, height))
    return np.array([(x, y), (width - x, y), (width - x, height - y), (x, height - y)], np.float32)


def _enlargement(quads: Quads, target: Quads) -> NDArray[np.float32]:
    """How many pixels of the picture a pixel of the photo becomes, for each face's longest sides."""
    wanted = np.linalg.norm(target - np.roll(target, -1, 0), axis=1)
    given = np.linalg.norm(quads - np.roll(quads, -1, 1), axis=2)
    return np.asarray((wanted[:2] / np.maximum(given[:, :2], given[:, 2:])).max(1), np.float32)


def _straightened(
    pixels: NDArray[np.uint8], quad: Quads, target: Quads, size: tuple[int, int]
) -> NDArray[np.uint8]:
    """One face; `quad` counts from the corner of the first pixel, OpenCV from its middle."""
    times = max(1, int(np.ceil(1 / _enlargement(quad[None], target)[0] - 0.25)))
    matrix = cv2.getPerspectiveTransform(quad.astype(np.float32) - 0.5, target * times - 0.5)
    height, width = size[0] * times, size[1] * times
    face = cv2.warpPerspective(
        pixels, matrix, (width, height), flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE
    )
    return np.asarray(
        cv2.resize(face, size[::-1], interpolation=cv2.INTER_AREA) if times > 1 else face, np.uint8
    )
