"""How alike two tiles are in print: their edges in every colour, laid over each other.

The reader's embedding tells what it was trained to tell. Of artwork it has never seen, it takes six spots on a
ladybird for seven; pixels do not.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.models import ReaderNet
from tilewitness.vision.learning import as_read
from tilewitness.vision.reader import NO_FACE
from tilewitness.vision.sets import TileSet

SIZE: Final = (48, 36)  # height and width in pixels at which tiles are compared
ASIDE: Final = 2  # pixels that the finder may be off in every direction; less than half of it hardly matters
BORDER: Final = 5  # pixels left out all around: the tile's own edge, and room to move
BARE: Final = 90  # percentile of a colour taken for the bare tile, so that the light does not count
CLOSER: Final = (0.0, -0.03, 0.03)  # margins, beside the network's own, with which a set's pictures are seen
SOFT: Final = 0.7  # standard deviation in pixels of the blur that evens out noise


def print_likeness(
    faces: NDArray[np.uint8], tile_set: TileSet, net: ReaderNet, likely: NDArray[np.bool_] | None = None
) -> NDArray[np.float32]:
    """Return the correlation (N, 37) between each face and the nearest picture of each class; -1 without an example.

    The largest over small shifts, both ways up, and a little closer and farther.

    Args:
        faces: uint8 (N, height, width, 3), straightened as the network takes them.
        likely: bool (N, 37), which classes are compared, all unless given; the others stay at -1.
    Source: normalised cross-correlation, Gonzalez & Woods 2018, "Digital Image Processing", section 12.3.
    """
    best = np.full((len(faces), NO_FACE + 1), -1, np.float32)
    if not len(faces) or not tile_set.examples:
        return best
    pictures, labels = _pictures(tile_set, net)
    edges = _edges(faces)
    shifts = range(-ASIDE, ASIDE + 1)
    cuts = np.stack([_cut(edges, down, along) for down in shifts for along in shifts], 1)
    for number, places in enumerate(cuts):
        chosen = np.ones(len(labels), np.bool_) if likely is None else likely[number, labels]
        likest = (pictures[chosen] @ places.T).max(1, initial=-1)
        np.maximum.at(best[number], labels[chosen], likest)
    return best


@lru_cache(maxsize=2)
def _pictures(tile_set: TileSet, net: ReaderNet) -> tuple[NDArray[np.float32], NDArray[np.int_]]:
    """Every picture of a set as it is compared, float32 (M, D) of unit length, and the index of each one's face (M,)."""
    upright = np.concatenate([as_read(tile_set, net, closer=closer) for closer in CLOSER])
    both = np.concatenate([upright, upright[:, ::-1, ::-1]])
    labels = [example.face.index for example in tile_set.examples]
    return _cut(_edges(both), 0, 0), np.array(labels * (2 * len(CLOSER)), np.int_)


def _edges(faces: NDArray[np.uint8]) -> NDArray[np.float32]:
    """Slopes along and down in each colour, float32 (N, *SIZE, 6)."""
    edges = np.empty((len(faces), *SIZE, 6), np.float32)
    for face, edge in zip(faces, edges, strict=True):
        small = cv2.resize(face, SIZE[::-1], interpolation=cv2.INTER_AREA).astype(np.float32)
        bare = np.percentile(small, BARE, axis=(0, 1)).clip(20)
        even = cv2.GaussianBlur(np.minimum(small / bare, 1.3).astype(np.float32), (0, 0), SOFT)
        edge[..., :3] = cv2.Sobel(even, cv2.CV_32F, 1, 0)
        edge[..., 3:] = cv2.Sobel(even, cv2.CV_32F, 0, 1)
    return edges


def _cut(edges: NDArray[np.float32], down: int, along: int) -> NDArray[np.float32]:
    """The middle of each face moved by so many pixels, (N, D): mean 0 in every slope, length 1."""
    height, width = SIZE
    part = edges[:, BORDER + down : height - BORDER + down, BORDER + along : width - BORDER + along]
    flat = (part - part.mean((1, 2), keepdims=True)).reshape(len(edges), -1)
    return np.asarray(flat / np.linalg.norm(flat, axis=1, keepdims=True).clip(1e-6), np.float32)
