"""Which of a few likely faces a tile shows, told only where these differ: by one spot more, by one stroke.

Over a whole face, one spot counts little beside how exactly two pictures lie over each other. So each picture is laid
over the tile first, by a map of the plane, and then only the places count at which the pictures differ.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.vision.prints import in_even_light

SIZE: Final = (64, 48)  # height and width in pixels at which faces are compared
SOFT: Final = 1.0  # standard deviation in pixels of the blur that evens out noise,
BLURS: Final = (0.0, 1.0, 1.8)  # and of those with which a picture is tried: a tile may be out of focus
BORDER: Final = (7, 5)  # pixels left out at top and bottom, and at the sides: the tile's own edge
STEPS: Final = 8  # at most, in which a picture is laid over a tile
NOISE: Final = 16.0  # times what the best picture is off all over the face: a difference not larger tells little
GAINS: Final = (0.3, 2.5)  # by which the contrast of a colour may differ between two photos

Floats = NDArray[np.float32]
INNER: Final = slice(BORDER[0], SIZE[0] - BORDER[0]), slice(BORDER[1], SIZE[1] - BORDER[1])


def prepared(face: NDArray[np.uint8]) -> Floats:
    """Return a face, or a picture of a set straightened alike, as it is compared: float32 (*SIZE, 3) in even light."""
    return in_even_light(np.asarray(cv2.resize(face, SIZE[::-1], interpolation=cv2.INTER_AREA), np.uint8), SOFT)


def preferences(face: Floats, pictures: Sequence[Floats]) -> Floats:
    """Return for each picture (K,) how much better it fits the face than the others do, from -1 to 1, in sum 0.

    Of two pictures, the squared differences from the face are compared where the pictures differ, weighted with how
    much: a linear discriminant. What a picture gains and loses against the others is averaged.

    Args:
        face, pictures: as `prepared` returns them.
    """
    own = _by_colour(face[INNER])
    own -= own.mean(1, keepdims=True)
    laid = [_laid_over(face, own, picture) for picture in pictures]
    gained = np.zeros(len(laid), np.float32)
    noise = min(float(((own - each) ** 2).sum(0).mean()) for each in laid) if laid else 0.0
    for i, k in combinations(range(len(laid)), 2):
        size = [side.stop - side.start for side in INNER]
        apart = np.abs(laid[i] - laid[k]).max(0).reshape(size)
        weight = np.asarray(cv2.GaussianBlur(apart, (0, 0), 0.7), np.float32).ravel() ** 2
        off, off_other = (float(((own - each) ** 2).sum(0) @ weight) for each in (laid[i], laid[k]))
        better = (off_other - off) / max(off_other + off + NOISE * noise * float(weight.sum()), 1e-9)
        gained[[i, k]] += better, -better
    return np.asarray(gained / max(len(laid), 1), np.float32)


def _by_colour(picture: NDArray[np.floating]) -> Floats:
    """The pixels of each colour, float32 (3, P): summed much faster than (P, 3)."""
    return np.ascontiguousarray(picture.reshape(-1, 3).T, np.float32)


def _laid_over(face: Floats, own: Floats, picture: Floats) -> Floats:
    """The inner part of the picture (3, P), moved, blurred and lit so that it fits the face best.

    Args:
        own: the inner part of the face, (3, P), of mean 0 in each colour; so is what is returned.
    Source: the enhanced correlation coefficient, Evangelidis & Psarakis 2008, "Parametric image alignment using enhanced
    correlation coefficient maximization"; contrast by least squares.
    """
    grey, grey_picture = (np.ascontiguousarray(each.sum(2)[INNER]) for each in (face, picture))
    try:
        found = cv2.findTransformECC(
            grey, grey_picture, np.eye(2, 3, dtype=np.float32), cv2.MOTION_AFFINE,
            (cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_COUNT, STEPS, 1e-3), np.ones_like(grey, np.uint8), 3,
        )[1]  # fmt: skip
    except cv2.error:  # nothing to hold on to: an empty face
        found = np.eye(2, 3, dtype=np.float32)
    way = np.asarray(found, np.float32)
    way[:, 2] += BORDER[::-1]  # from the inner part of the face to the whole picture
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    moved = cv2.warpAffine(picture, way, grey.shape[::-1], flags=flags, borderMode=cv2.BORDER_REPLICATE)
    best, least = own, np.inf
    for blur in BLURS:
        other = _by_colour(np.asarray(cv2.GaussianBlur(moved, (0, 0), blur) if blur else moved))
        other -= other.mean(1, keepdims=True)
        shared, power = (np.einsum("cp,cp->c", other, each) for each in (own, other))
        gain = (shared / power.clip(1e-3)).clip(*GAINS)
        off = float((gain * gain * power - 2 * gain * shared).sum())
        if off < least:
            best, least = gain[:, None] * other, off
    return np.asarray(best, np.float32)
