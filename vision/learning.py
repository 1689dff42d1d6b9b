"""Turn tiles of a photo into examples of a set."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import Face
from tilewitness.models import ReaderNet
from tilewitness.vision.photo import Photo
from tilewitness.vision.quads import Quads
from tilewitness.vision.reader import ask
from tilewitness.vision.sets import Addition, Example, SetError, Source, TileSet
from tilewitness.vision.straighten import straighten

PICTURE_SIZE: Final = (144, 108)  # pixels, half as many again as the reader sees
PICTURE_MARGIN: Final = 0.15  # so that a face can also be looked at from farther away
QUALITY: Final = 92  # of the JPEG file: about 6 KB a picture
BARE: Final = 90  # percentile of a colour taken for the bare tile in full light,
BODY: Final = 80  # for the bare tile,
MARKED: Final = 99.5  # and of what stands out from it for its print, however little of the face that covers
EVEN_OUT: Final = 1.5  # standard deviation in pixels of the blur that evens out noise
ASIDE: Final = (
    (0.0, 0.0, 0.0, 0.0, 0.0), (0.03, 0.02, 0.03, 2.0, 0.0), (-0.03, -0.02, 0.015, -2.0, 0.0), (0.0, 0.03, -0.03, 1.0, 0.0),
    (0.0, 0.0, 0.0, 0.0, 1.0), (0.03, 0.02, 0.03, 2.0, 1.5), (-0.03, -0.02, 0.015, -2.0, 2.0), (0.0, 0.0, 0.0, 0.0, 2.7),
    (0.0, 0.09, 0.0, 0.0, 0.7), (0.0, -0.09, 0.0, 0.0, 0.7),
)  # fmt: skip
"""How a picture is looked at: shifted along and down by these shares of the face's sides, margin more than the
network's own, turned by degrees, and blurred by standard deviations in the network's pixels; each also the other way up.
The finder errs by about as much, and a photo in play is seldom as sharp as that of the layout."""


def pictures_of(photo: Photo, quads: Quads) -> tuple[bytes, ...]:
    """Return the JPEG file of each face, upright; `quads` start at the artworks' own top-left corners."""
    faces = straighten(photo, quads, size=PICTURE_SIZE, margin=PICTURE_MARGIN)
    return tuple(cv2.imencode(".jpg", face, [cv2.IMWRITE_JPEG_QUALITY, QUALITY])[1].tobytes() for face in faces)


def contrasts(pictures: Iterable[bytes]) -> list[float]:
    """Return how far the print of each picture stands out from the bare tile: 0 none, 1 black on white."""
    found = []
    for picture in pictures:
        face = np.asarray(cv2.imdecode(np.frombuffer(picture, np.uint8), cv2.IMREAD_COLOR))
        height, width = face.shape[:2]
        inner = face[height // 5 : -(height // 5), width // 5 : -(width // 5)].astype(np.float32)
        bare = np.percentile(inner, BARE, axis=(0, 1)).clip(20)
        even = cv2.GaussianBlur(np.asarray(inner / bare, np.float32), (0, 0), EVEN_OUT)
        off = np.abs(even - np.percentile(even, BODY, axis=(0, 1))).max(2)
        found.append(float(np.percentile(off, MARKED)))
    return found


def with_examples(
    tile_set: TileSet, source: Source, pictures: Sequence[bytes], faces: Sequence[Face], net: ReaderNet
) -> TileSet:
    """Return the set with pictures of its tiles added, ready for reading with this network."""
    examples = tuple(Example(face, picture) for face, picture in zip(faces, pictures, strict=True))
    return seen_by(tile_set.with_addition(Addition(source, examples)), net)


@lru_cache(maxsize=4)
def seen_by(tile_set: TileSet, net: ReaderNet) -> TileSet:
    """Return the set with every example looked at by this network; the same set if that was done before.

    Raises:
        SetError: an example's picture cannot be opened.
    """
    known = tile_set.reader == net.fingerprint
    new = [example for example in tile_set.examples if not (known and example.looks)]
    if not new:
        return tile_set
    views = np.concatenate([_views(_opened(example), net) for example in new])
    answers = ask(views, net)
    looks = answers.embedding.astype(np.float16).reshape(len(new), -1)
    means = answers.probabilities.reshape(len(new), -1, answers.probabilities.shape[1]).mean(1)
    seen = {
        id(example): replace(example, looks=look.tobytes(), known=float(mean[example.face.index]))
        for example, look, mean in zip(new, looks, means, strict=True)
    }
    additions = tuple(
        replace(addition, examples=tuple(seen.get(id(example), example) for example in addition.examples))
        for addition in tile_set.additions
    )
    return replace(tile_set, additions=additions, reader=net.fingerprint)


def as_read(tile_set: TileSet, net: ReaderNet, *, closer: float = 0.0) -> NDArray[np.uint8]:
    """Return the pictures of a set that has any as the network takes a face, uint8 (M, height, width, 3).

    Args:
        closer: margin less than the network's own, a share of the face.
    Raises:
        SetError: an example's picture cannot be opened.
    """
    return np.stack([_view(_opened(example), net, 0, 0, -closer, 0, 0) for example in tile_set.examples])


def _opened(example: Example) -> NDArray[np.uint8]:
    picture = cv2.imdecode(np.frombuffer(example.picture, np.uint8), cv2.IMREAD_COLOR)
    if picture is None or picture.shape[:2] != PICTURE_SIZE:
        raise SetError(f"A picture of {example.face} in this set is damaged. Learn the set again.")
    return np.asarray(picture, np.uint8)


def _views(picture: NDArray[np.uint8], net: ReaderNet) -> NDArray[np.uint8]:
    """What the network is shown of one picture: uint8 (K, height, width, 3)."""
    upright = [_view(picture, net, *aside) for aside in ASIDE]
    return np.stack([*upright, *(view[::-1, ::-1] for view in upright)])


def _view(
    picture: NDArray[np.uint8], net: ReaderNet, along: float, down: float, more: float, degrees: float, blur: float
) -> NDArray[np.uint8]:
    """The picture as if its face had been found a little off, and photographed out of focus."""
    (high, wide), (height, width) = PICTURE_SIZE, net.size
    scale_x, scale_y = (
        side / (1 + 2 * (net.margin + more)) * (1 + 2 * PICTURE_MARGIN) / kept
        for side, kept in ((width, wide), (height, high))
    )
    turn = np.deg2rad(degrees)
    matrix = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]]) * [[scale_x], [scale_y]]
    middle = np.array([width * (0.5 + along), height * (0.5 + down)]) - 0.5
    offset = middle - matrix @ (np.array([wide, high]) / 2 - 0.5)
    moved = cv2.warpAffine(
        picture, np.column_stack([matrix, offset]), (width, height), flags=cv2.INTER_AREA, borderMode=cv2.BORDER_REPLICATE
    )
    return np.asarray(cv2.GaussianBlur(moved, (0, 0), blur) if blur else moved, np.uint8)
