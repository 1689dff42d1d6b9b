"""How alike two tiles are in print: their edges in every colour, laid over each other.

The reader's embedding tells what it was trained to tell. Of artwork it has never seen, it takes six spots on a
ladybird for seven; pixels do not. Compared small, as here, print tells which few faces a tile may be, and fast; where
these differ only by a spot, `differences` looks closer.
"""

from __future__ import annotations

from dataclasses import dataclass
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
SMALLER: Final = 2  # times smaller, pictures are compared beforehand:
NEAREST: Final = 2  # only the nearest of each class count
BARE: Final = 90  # percentile of a colour taken for the bare tile, so that the light does not count
CLOSER: Final = (0.0, -0.03, 0.03)  # margins, beside the network's own, with which a set's pictures are seen
SOFT: Final = 0.7  # standard deviation in pixels of the blur that evens out noise


@dataclass(frozen=True, slots=True, eq=False)
class Prints:
    """How alike N faces are in print to the examples of a set.

    Attributes:
        likeness: float32 (N, 37), correlation with the nearest example of each class; -1 without one.
        example: int (N, 37), number of that example in the set.
        turned: bool (N, 37), it is likest the other way up.
    """

    likeness: NDArray[np.float32]
    example: NDArray[np.int_]
    turned: NDArray[np.bool_]

    @classmethod
    def none(cls, count: int) -> Prints:
        """Nothing compared for so many faces."""
        shape = count, NO_FACE + 1
        return cls(np.full(shape, -1, np.float32), np.zeros(shape, np.int_), np.zeros(shape, np.bool_))

    def of(self, chosen: NDArray[np.bool_]) -> Prints:
        """Return what was found for the chosen faces (N,) alone."""
        return Prints(self.likeness[chosen], self.example[chosen], self.turned[chosen])

    def put(self, chosen: NDArray[np.bool_], found: Prints) -> None:
        """Write down what was found for the chosen faces (N,)."""
        self.likeness[chosen], self.example[chosen], self.turned[chosen] = found.likeness, found.example, found.turned


def compare(faces: NDArray[np.uint8], tile_set: TileSet, net: ReaderNet, likely: NDArray[np.bool_] | None = None) -> Prints:
    """Compare faces with a set's examples: the likest over small shifts, both ways up, and a little closer and farther.

    Args:
        faces: uint8 (N, height, width, 3), straightened as the network takes them.
        likely: bool (N, 37), which classes are compared, all unless given; the others stay at -1.
    Source: normalised cross-correlation, Gonzalez & Woods 2018, "Digital Image Processing", section 12.3.
    """
    examples, found = tile_set.examples, Prints.none(len(faces))
    if not len(faces) or not examples:
        return found
    pictures = _pictures(tile_set, net)
    edges = _edges(faces)
    small = _cuts(_smaller(edges), BORDER // SMALLER, ASIDE // SMALLER)
    alike = (small.reshape(-1, small.shape[2]) @ pictures.small.T).reshape(*small.shape[:2], -1).max(1)
    if likely is not None:
        alike[~likely[:, pictures.labels]] = -2
    for number in range(len(faces)):
        nearest = _nearest(alike[number], pictures.labels)
        (cuts,) = _cuts(edges[number : number + 1], BORDER, ASIDE)
        likest = (pictures.large[nearest] @ cuts.T).max(1)
        order = np.argsort(likest)  # of each class the likest is written last
        labels = pictures.labels[nearest[order]]
        found.likeness[number, labels] = likest[order]
        found.example[number, labels] = nearest[order] % len(examples)
        found.turned[number, labels] = nearest[order] >= len(CLOSER) * len(examples)
    return found


def _nearest(alike: NDArray[np.float32], labels: NDArray[np.int_]) -> NDArray[np.int_]:
    """Numbers of the pictures that are among the likest of their class; none of those at -2."""
    order = np.lexsort((-alike, labels))
    first = np.searchsorted(labels[order], labels[order])
    return np.asarray(order[(np.arange(len(order)) - first < NEAREST) & (alike[order] > -2)])


@dataclass(frozen=True, slots=True, eq=False)
class _Pictures:
    """Every picture of a set as it is compared, (M, D) of unit length, large and small, and its face's index (M,)."""

    large: NDArray[np.float32]
    small: NDArray[np.float32]
    labels: NDArray[np.int_]


@lru_cache(maxsize=2)
def _pictures(tile_set: TileSet, net: ReaderNet) -> _Pictures:
    upright = np.concatenate([as_read(tile_set, net, closer=closer) for closer in CLOSER])
    edges = _edges(np.concatenate([upright, upright[:, ::-1, ::-1]]))
    labels = [example.face.index for example in tile_set.examples]
    small = _cuts(_smaller(edges), BORDER // SMALLER, 0)
    return _Pictures(_cuts(edges, BORDER, 0)[:, 0], small[:, 0], np.array(labels * (2 * len(CLOSER)), np.int_))


def in_even_light(face: NDArray[np.uint8], soft: float) -> NDArray[np.float32]:
    """Return a face as float32 (height, width, 3), its bare tile about 1 in each colour, its noise evened out."""
    colours = np.ascontiguousarray(face.reshape(-1, 3).T)
    place = BARE * colours.shape[1] // 100
    bare = np.partition(colours, place, axis=1)[:, place].astype(np.float32).clip(20)
    return np.asarray(cv2.GaussianBlur(np.minimum(face / bare, np.float32(1.3)), (0, 0), soft), np.float32)


def _edges(faces: NDArray[np.uint8]) -> NDArray[np.float32]:
    """Slopes along and down in each colour, float32 (N, *SIZE, 6)."""
    edges = np.empty((len(faces), *SIZE, 6), np.float32)
    for face, edge in zip(faces, edges, strict=True):
        even = in_even_light(np.asarray(cv2.resize(face, SIZE[::-1], interpolation=cv2.INTER_AREA), np.uint8), SOFT)
        edge[..., :3] = cv2.Sobel(even, cv2.CV_32F, 1, 0)
        edge[..., 3:] = cv2.Sobel(even, cv2.CV_32F, 0, 1)
    return edges


def _smaller(edges: NDArray[np.float32]) -> NDArray[np.float32]:
    """The same edges SMALLER times as small."""
    count, height, width, slopes = edges.shape
    return np.asarray(edges.reshape(count, height // SMALLER, SMALLER, width // SMALLER, SMALLER, slopes).mean((2, 4)), np.float32)


def _cuts(edges: NDArray[np.float32], border: int, aside: int) -> NDArray[np.float32]:
    """The middle of each face moved by up to so many pixels in every direction, (N, S, D): mean 0 in every slope, length 1."""
    count, height, width, slopes = edges.shape
    size = height - 2 * border, width - 2 * border
    windows = np.lib.stride_tricks.sliding_window_view(edges, size, axis=(1, 2))
    near = slice(border - aside, border + aside + 1)
    cuts = windows[:, near, near].reshape(count, (2 * aside + 1) ** 2, slopes, -1)
    cuts = cuts - cuts.mean(3, keepdims=True)
    flat = cuts.reshape(*cuts.shape[:2], -1)
    flat /= np.sqrt(np.einsum("nsd,nsd->ns", flat, flat))[..., None].clip(1e-6)
    return np.asarray(flat, np.float32)
