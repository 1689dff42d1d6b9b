"""Find the four corners of every tile face in a photo."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.models import FinderNet
from tilewitness.vision.photo import Photo
from tilewitness.vision.quads import (
    Quads,
    are_alike,
    are_convex,
    areas,
    downs,
    heights,
    moved,
    rights,
    shared_area,
    steps,
)

LONG_SIDE: Final = 768  # network pixels along the photo's long side in the first look
MOST_ENLARGED: Final = 2.0  # network pixels per pixel of the photo: beyond, there is nothing more to see
LIKELY: Final = 0.6  # probability from which a peak is a face of its own right,
LIKELY_LAID_OUT: Final = 0.45  # and from which it is one in a photo of a layout, where tiles are known to lie
POSSIBLE: Final = 0.3  # and from which it is one if it stands beside a face: tiles come in rows
FAINT: Final = 0.05  # and from which it is one there if it looks like the pictures of the set in the photo
SMALL: Final = 30.0  # faces whose median height is below this many network pixels deserve a second look,
WISHED: Final = 48.0  # which aims at this height,
LONGEST_SIDE: Final = 2048  # uses at most this many network pixels along the long side,
WORTH_IT: Final = 1.25  # and is taken only when it enlarges the faces this much

FEW: Final = 8  # faces: where there are more, none of them fills the photo
FARTHER: Final = 3.0  # times smaller, for faces too large for the first look:
LARGE: Final = 150.0  # only those at least this many network pixels high in the first look count

_Believed = tuple[float, float]
"""Probabilities from which a peak is a face of its own right, and beside one."""

_PADDING_GREY = 114
_MULTIPLE = 32
_SAME_FACE = 0.5  # part of the smaller of two quads that lies in the other, from which they are one face
_SMALLEST_AREA = 80.0  # square network pixels
_SHARPEST_CORNER = 0.15  # as a share of a rectangle's corner: beyond, a quad is nearly a triangle
_LONGEST_SHAPE = 5.0  # height to width or width to height beyond which a quad is not a face


@dataclass(frozen=True, slots=True, eq=False)
class FoundFaces:
    """Tile faces in a photo, as a rule the surest first.

    Attributes:
        quads: float32 (N, 4, 2), pixels of the photo as displayed at full resolution, measured from its
            top-left corner (the middle of the first pixel is 0.5, 0.5); clockwise from the corner that is
            top-left once the face is turned, by less than 90 degrees, to stand upright or on its head.
        scores: float32 (N,), probability that a face is there.
    """

    quads: Quads
    scores: NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Region:
    """A rectangle of the photo as displayed, in its pixels."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def long_side(self) -> float:
        return max(self.right - self.left, self.bottom - self.top)


def find_faces(
    photo: Photo,
    net: FinderNet,
    *,
    long_side: int = LONG_SIDE,
    closer_look: bool = True,
    likely: float = LIKELY,
    least: float = POSSIBLE,
) -> FoundFaces:
    """Return every tile face; none found is an answer, not an error.

    One look at the whole photo. Where it shows few faces, they may be too large for it: then a look from
    farther away. Where the faces turn out small and the photo has more to show, a closer look at the region
    that holds them.

    Args:
        long_side: network pixels along the photo's long side in the first look.
        closer_look: whether a closer look may be taken.
        likely: probability from which a peak is a face of its own right.
        least: probability from which a peak beside a face is returned.
    """
    believed = likely, least
    whole = Region(0, 0, *photo.size)
    scale = min(long_side / whole.long_side, MOST_ENLARGED)
    found = _look(photo, whole, scale, net, believed)
    if len(found.quads) < FEW:
        found = _together(_large_ones(_look(photo, whole, scale / FARTHER, net, believed), LARGE / scale), found)
    return _closer(photo, found, whole, scale, net, believed) if closer_look and len(found.quads) else found


def _closer(photo: Photo, found: FoundFaces, whole: Region, scale: float, net: FinderNet, believed: _Believed) -> FoundFaces:
    """The faces again as a closer look shows them, if it is worth one."""
    height = float(np.median(heights(found.quads)))
    region = _around(found.quads, height, whole)
    closer = min(scale * max(1.0, WISHED / (scale * height)), LONGEST_SIDE / region.long_side, MOST_ENLARGED)
    if scale * height >= SMALL or closer < WORTH_IT * scale:
        return found
    return _look(photo if closer * photo.scale <= 1 else photo.in_full(), region, closer, net, believed)


def _large_ones(found: FoundFaces, height: float) -> FoundFaces:
    large = heights(found.quads) >= height
    return FoundFaces(found.quads[large], found.scores[large])


def _together(large: FoundFaces, found: FoundFaces) -> FoundFaces:
    """Both, without what was found within a large face: parts of its artwork."""
    quads, scores = np.concatenate([large.quads, found.quads]), np.concatenate([large.scores, found.scores])
    single = _without_repeats(quads)
    return FoundFaces(quads[single], scores[single])


def _around(quads: Quads, height: float, whole: Region) -> Region:
    """The part of the photo that holds the faces, with room for a missed one on each side."""
    left, top = quads.min((0, 1)) - 2 * height
    right, bottom = quads.max((0, 1)) + 2 * height
    return Region(
        max(float(left), whole.left), max(float(top), whole.top),
        min(float(right), whole.right), min(float(bottom), whole.bottom),
    )  # fmt: skip


def _look(photo: Photo, region: Region, scale: float, net: FinderNet, believed: _Believed) -> FoundFaces:
    picture, matrix = letterbox(photo, region, scale)
    centres, corners = net.session.run(["centres", "corners"], {"photo": picture})
    found = faces_at_peaks(centres, corners, net.stride, *believed)
    return FoundFaces(moved(found.quads, matrix), found.scores)


def letterbox(photo: Photo, region: Region, scale: float) -> tuple[NDArray[np.uint8], NDArray[np.float64]]:
    """Return one region as the network's input and the way back.

    Args:
        scale: network pixels per pixel of the photo as displayed.
    Returns:
        uint8 (1, H, W, 3), sides multiples of 32, grey to the right and below; and the matrix (3, 3) that
        takes network pixels to pixels of the photo as displayed.
    """
    step = photo.scale
    left, top = int(region.left / step), int(region.top / step)
    part = photo.pixels[top : int(np.ceil(region.bottom / step)), left : int(np.ceil(region.right / step))]
    height, width = part.shape[:2]
    wide, high = (max(1, round(side * step * scale)) for side in (width, height))
    shrinks = wide < width
    if (times := min(width // wide, height // high)) > 1:  # OpenCV averages whole multiples ten times as fast
        part = np.asarray(cv2.resize(part, (width // times, height // times), interpolation=cv2.INTER_AREA), np.uint8)
    resized = cv2.resize(part, (wide, high), interpolation=cv2.INTER_AREA if shrinks else cv2.INTER_LINEAR)
    padded = np.full(
        (1, *(-(-side // _MULTIPLE) * _MULTIPLE for side in (high, wide)), 3), _PADDING_GREY, np.uint8
    )
    padded[0, :high, :wide] = resized
    matrix = np.array(
        [[width * step / wide, 0, left * step], [0, height * step / high, top * step], [0, 0, 1]]
    )
    return padded, matrix


def faces_at_peaks(
    centres: NDArray[np.float32], corners: NDArray[np.float32], stride: int, likely: float = LIKELY, least: float = POSSIBLE
) -> FoundFaces:
    """Return the faces that the network's outputs stand for, in network pixels, each once."""
    rows, columns = np.nonzero(centres[0] > least)
    scores = centres[0, rows, columns]
    middles = (np.stack((columns, rows), 1) + 0.5) * stride
    quads = middles[:, None] + corners[0, :, rows, columns].reshape(-1, 4, 2)
    order = np.argsort(-scores, kind="stable")
    quads, scores = quads[order].astype(np.float32), scores[order].astype(np.float32)
    possible = _are_faces(quads)
    quads, scores = quads[possible], scores[possible]
    single = _without_repeats(quads)
    quads, scores = quads[single], scores[single]
    believed = _believed(quads, scores >= likely)
    return FoundFaces(quads[believed], scores[believed])


def _are_faces(quads: Quads) -> NDArray[np.bool_]:
    shape = np.linalg.norm(downs(quads), axis=1) / np.maximum(np.linalg.norm(rights(quads), axis=1), 1e-6)
    fits = (shape < _LONGEST_SHAPE) & (shape > 1 / _LONGEST_SHAPE)
    return np.asarray(are_convex(quads, least=_SHARPEST_CORNER) & (areas(quads) > _SMALLEST_AREA) & fits)


def _without_repeats(quads: Quads) -> list[int]:
    """Indices of the quads that no earlier one covers."""
    middles, sizes, reach = quads.mean(1), areas(quads), heights(quads)
    kept: list[int] = []
    for i in range(len(quads)):
        away = np.linalg.norm(middles[kept] - middles[i], axis=1)
        near = [kept[k] for k in np.flatnonzero(away < np.maximum(reach[kept], reach[i]))]
        if all(shared_area(quads[i], quads[k]) < _SAME_FACE * min(sizes[i], sizes[k]) for k in near):
            kept.append(i)
    return kept


def _believed(quads: Quads, likely: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """The likely faces (N,), those beside them in a row, those beside these, and so on.

    Source of the idea: the hysteresis of Canny 1986, "A computational approach to edge detection".
    """
    along, below = steps(quads, rights(quads))
    beside = (np.abs(along) > 0.6) & (np.abs(along) < 1.6) & (np.abs(below) < 0.35) & are_alike(quads, 0.75)
    believed, count = likely, -1
    while count < believed.sum():
        count = believed.sum()
        believed = believed | beside[:, believed].any(1)
    return believed
