"""Measure why a photo reads badly. What to say about it stands in `ui.words`."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.vision.quads import Floats, Quads, areas, heights
from tilewitness.vision.reading import Advice, Trouble
from tilewitness.vision.rows import Row

CUT_OFF: Final = 0.04  # tile heights by which a corner lies outside the photo
WASHED_OUT: Final = 0.18  # part of a face that mirrors a light, while the bodies of other tiles are not white
ALL_BUT_WHITE: Final = 250  # of 255
PALE: Final = 150.0  # of 255: the darkest marks of an overexposed photo
DARK: Final = 70.0  # of 255: bodies darker than this are too dark
BLUR: Final = 0.58  # of 1, by the measure of Crété et al.
SMALL: Final = 32.0  # pixels of the photo: height of a face below which marks run together
SLANT: Final = 0.75  # height to width of a face (4 : 3 from straight above) below which it is foreshortened
NARROW: Final = 2.6  # height to width above which it is seen too much from the side


def advise(size: tuple[int, int], quads: Quads, faces: NDArray[np.uint8], rows: tuple[Row, ...]) -> tuple[Advice, ...]:
    """Return every trouble found, those that cost most first.

    Args:
        size: width and height of the photo in pixels.
        quads: float32 (N, 4, 2), pixels of the photo.
        faces: uint8 (N, H, W, 3) BGR, the same faces straightened.
        rows: their indices in reading order.
    """
    if not len(quads):
        return (Advice(Trouble.NO_TILES),)
    place_of = {
        tile: (row_number, place)
        for row_number, row in enumerate(rows)
        for place, tile in enumerate(tile for group in row for tile in group)
    }
    found = [*_cut_off(size, quads), *_light(faces), *_sharpness(quads, faces), *_viewpoint(quads)]
    return tuple(Advice(trouble, tuple(sorted(place_of[tile] for tile in tiles))) for trouble, tiles in found)


_Found = list[tuple[Trouble, tuple[int, ...]]]


def _cut_off(size: tuple[int, int], quads: Quads) -> _Found:
    allowed = CUT_OFF * heights(quads)
    (left, top), (right, bottom) = quads.min(1).T, quads.max(1).T
    sides = {
        Trouble.CUT_OFF_LEFT: -left,
        Trouble.CUT_OFF_RIGHT: right - size[0],
        Trouble.CUT_OFF_TOP: -top,
        Trouble.CUT_OFF_BOTTOM: bottom - size[1],
    }
    outside = [(trouble, np.flatnonzero(beyond > allowed)) for trouble, beyond in sides.items()]
    return [(trouble, tuple(tiles.tolist())) for trouble, tiles in outside if len(tiles)]


def _light(faces: NDArray[np.uint8]) -> _Found:
    grey = np.stack([cv2.cvtColor(face, cv2.COLOR_BGR2GRAY) for face in faces]).reshape(len(faces), -1)
    mark, body = (float(np.median(np.quantile(grey, part, axis=1))) for part in (0.03, 0.9))
    if body < DARK:
        return [(Trouble.TOO_DARK, ())]
    if body >= ALL_BUT_WHITE:  # then glare cannot be told from a white tile; what counts is whether marks are left
        return [(Trouble.TOO_BRIGHT, ())] if mark > PALE else []
    white = (faces.min(3) >= ALL_BUT_WHITE).reshape(len(faces), -1).mean(1)
    washed_out = tuple(np.flatnonzero(white > WASHED_OUT).tolist())
    return [(Trouble.GLARE, washed_out)] if washed_out else []


def _sharpness(quads: Quads, faces: NDArray[np.uint8]) -> _Found:
    if float(np.median(heights(quads))) < SMALL:
        return [(Trouble.TOO_FAR, ())]
    return [(Trouble.BLURRED, ())] if float(np.median(blur(faces))) > BLUR else []


def _viewpoint(quads: Quads) -> _Found:
    height = heights(quads)
    shape = height**2 / np.maximum(areas(quads), 1)
    slanted = (shape < SLANT) | (shape > NARROW)
    return [(Trouble.SLANTED, ())] if slanted.mean() > 0.5 else []


def blur(pictures: NDArray[np.uint8], *, window: int = 11) -> Floats:
    """Return how blurred each picture (N, H, W, 3) is, 0 to 1: how little blurring it again would change.

    Source: Crété, Dolmiere, Ladret, Nicolas 2007, "The blur effect: perception and estimation with a new
    no-reference perceptual blur metric".
    """
    return np.array([_blur(cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY), window) for picture in pictures], np.float32)


def _blur(grey: NDArray[np.uint8], window: int) -> float:
    picture = grey.astype(np.float32)
    worst = 0.0
    for dx, dy in ((1, 0), (0, 1)):
        size = (window if dx else 1, window if dy else 1)
        again = cv2.blur(picture, size, borderType=cv2.BORDER_REFLECT)
        edges, left = (np.abs(cv2.Sobel(image, cv2.CV_32F, dx, dy)[2:-1, 2:-1]) for image in (picture, again))
        total = float(edges.sum())
        lost = float(np.maximum(edges - left, 0).sum())
        worst = max(worst, (total - lost) / total if total else 0.0)
    return worst
