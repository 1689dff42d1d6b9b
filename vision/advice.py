"""Measure why a photo reads badly. What to say about it stands in `ui.words`."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.vision.photo import Photo
from tilewitness.vision.quads import Floats, Quads, areas, downs, heights, rights
from tilewitness.vision.reading import Advice, Trouble
from tilewitness.vision.rows import Row, in_order

CUT_OFF: Final = 0.12  # part of a tile that lies outside the photo, where the photo's border cuts a mark,
CLEARLY_CUT_OFF: Final = 0.2  # and where it does not: corners out there are guessed, so the face may be whole
MARK: Final = 60  # of 255: darker than the body by this
PART_SEEN: Final = 0.25  # of a tile beyond the end of a row: less may be the side of the last one
LONGER_ROW: Final = 3  # tiles a row must have before another is expected at its ends
ALIKE: Final = 22.0  # of 255: colours that may be of the same tiles' bodies
WASHED_OUT: Final = 0.2  # part of a face that mirrors a light
ALL_BUT_WHITE: Final = 250  # of 255
PALE: Final = 150.0  # of 255: the darkest mark on a face whose marks are lost to light
DARK: Final = 45.0  # of 255: bodies darker than this are too dark
ENOUGH: Final = 32  # faces tell how blurred a photo is
BLUR: Final = 0.58  # of 1, by the measure of Crété et al.
SMALL: Final = 26.0  # pixels of the photo: height of a face below which marks run together
FLAT: Final = 0.75  # height to width of a face (4 : 3 from straight above) below which it is foreshortened
NARROW: Final = 2.6  # and above which it is seen too much from the side

_SAMPLES = 8  # points across and down a face at which its colour is taken

_Found = list[tuple[Trouble, tuple[int, ...]]]


def advise(photo: Photo, quads: Quads, faces: NDArray[np.uint8], rows: tuple[Row, ...]) -> tuple[Advice, ...]:
    """Return every trouble found, those that cost most first.

    Args:
        quads: float32 (N, 4, 2), pixels of the photo as displayed, each from its corner top-left in it.
        faces: uint8 (N, H, W, 3) BGR, the same faces straightened.
        rows: their indices in reading order.
    """
    if not len(quads):
        return (Advice(Trouble.NO_TILES),)
    place_of = {
        tile: (row_number, place)
        for row_number, row in enumerate(rows)
        for place, tile in enumerate(in_order(row))
    }
    found = [*_cut_off(photo, quads, rows), *_light(faces), *_sharpness(quads, faces), *_viewpoint(quads)]
    return tuple(Advice(trouble, tuple(sorted(place_of[tile] for tile in tiles))) for trouble, tiles in found)


def _cut_off(photo: Photo, quads: Quads, rows: tuple[Row, ...]) -> _Found:
    """Tiles that reach over a border, and ends of rows beyond which part of another tile can be seen."""
    beyond, ends = _next_in_rows(quads, rows)
    seen = [_continues(photo, quads[tile], quad) for tile, quad in zip(ends, beyond, strict=True)]
    shown = np.concatenate([quads, beyond[seen]])
    tiles = np.concatenate([np.arange(len(quads)), ends[seen]])
    found_whole = np.arange(len(shown)) < len(quads)  # and not merely in part, beyond the end of a row
    (left, top), (right, bottom) = shown.min(1).T, shown.max(1).T
    width, height = photo.size
    sides = {
        Trouble.CUT_OFF_LEFT: -left / (right - left),
        Trouble.CUT_OFF_RIGHT: (right - width) / (right - left),
        Trouble.CUT_OFF_TOP: -top / (bottom - top),
        Trouble.CUT_OFF_BOTTOM: (bottom - height) / (bottom - top),
    }
    found: _Found = []
    for side, outside in sides.items():
        cut = {
            int(tiles[i])
            for i in np.flatnonzero(outside > CUT_OFF)
            if not found_whole[i] or outside[i] > CLEARLY_CUT_OFF or _cuts_a_mark(photo, shown[i], side)
        }
        found += [(side, tuple(cut))] if cut else []
    return found


def _cuts_a_mark(photo: Photo, quad: Quads, side: Trouble) -> bool:
    """Whether the photo's border on this side runs through a mark of the face, not only through its plain rim."""
    (left, top), (right, bottom) = quad.min(0) / photo.scale, quad.max(0) / photo.scale
    across, along = _inner(left, right), _inner(top, bottom)
    border = {
        Trouble.CUT_OFF_LEFT: photo.pixels[along, 0],
        Trouble.CUT_OFF_RIGHT: photo.pixels[along, -1],
        Trouble.CUT_OFF_TOP: photo.pixels[0, across],
        Trouble.CUT_OFF_BOTTOM: photo.pixels[-1, across],
    }[side]
    return bool((_body(_samples(photo, quad)) - border > MARK).any())


def _inner(start: float, end: float) -> slice:
    """The middle of a side of a tile, in pixels: its ends show what lies between tiles."""
    rim = 0.15 * (end - start)
    return slice(max(0, int(start + rim)), max(0, int(end - rim)))


def _body(colours: NDArray[np.uint8]) -> Floats:
    """The colour (3,) of a tile's body among colours (N, 3) of its face."""
    return np.quantile(colours, 0.7, axis=0).astype(np.float32)


def _next_in_rows(quads: Quads, rows: tuple[Row, ...]) -> tuple[Quads, NDArray[np.int_]]:
    """Where the tiles beyond both ends of each longer row would be, and the tiles at its ends."""
    longer = [row for row in map(in_order, rows) if len(row) >= LONGER_ROW]
    tiles = np.array([row[place] for row in longer for place in (0, -1)], np.int_)
    away = np.tile([-1.0, 1.0], len(longer))[:, None] * rights(quads[tiles])
    return (quads[tiles] + away[:, None] * 1.02).astype(np.float32), tiles


def _continues(photo: Photo, quad: Quads, beyond: Quads) -> bool:
    """Whether what the photo shows of the place beside a tile looks like the body of another."""
    own, other = (_samples(photo, place) for place in (quad, beyond))
    if not PART_SEEN * _SAMPLES**2 <= len(other) < _SAMPLES**2 or not len(own):
        return False
    return float(np.abs(_body(own) - _body(other)).max()) < ALIKE


def _samples(photo: Photo, quad: Quads) -> NDArray[np.uint8]:
    """Colours (N, 3) at a grid of points of a face, as far as the photo shows them."""
    u, v = (np.mgrid[:_SAMPLES, :_SAMPLES].reshape(2, -1, 1) + 0.5) / _SAMPLES
    a, b, c, d = quad
    x, y = (((a * (1 - u) + b * u) * (1 - v) + (d * (1 - u) + c * u) * v) / photo.scale).T.astype(int)
    height, width = photo.pixels.shape[:2]
    inside = (x >= 0) & (x < width) & (y >= 0) & (y < height)
    return np.asarray(photo.pixels[y[inside], x[inside]], np.uint8)


def _light(faces: NDArray[np.uint8]) -> _Found:
    grey = np.stack([cv2.cvtColor(face, cv2.COLOR_BGR2GRAY) for face in faces])
    sorted_grey = np.sort(grey[:, ::3, ::3].reshape(len(faces), -1), axis=1)  # every ninth pixel tells enough
    mark, body = (sorted_grey[:, int(part * sorted_grey.shape[1])] for part in (0.03, 0.9))
    if np.median(body) < DARK:
        return [(Trouble.TOO_DARK, ())]
    if (
        np.median(body) >= ALL_BUT_WHITE
    ):  # glare cannot be told from a white tile: what counts is that marks are left
        return [(Trouble.TOO_BRIGHT, ())] if np.median(mark) > PALE else []
    white = np.stack([cv2.inRange(face, (ALL_BUT_WHITE,) * 3, (255,) * 3) for face in faces]) > 0
    rim = np.concatenate([white[:, 8:14].mean((1, 2)), white[:, -14:-8].mean((1, 2))]).reshape(2, -1).min(0)
    bright_but_clear = (rim > 0.6) & (mark < PALE)  # a white tile in full light, not a reflection on part of it
    washed_out = np.flatnonzero((white.mean((1, 2)) > WASHED_OUT) & ~bright_but_clear)
    return [(Trouble.GLARE, tuple(washed_out.tolist()))] if len(washed_out) else []


def _sharpness(quads: Quads, faces: NDArray[np.uint8]) -> _Found:
    if float(np.median(heights(quads))) < SMALL:
        return [(Trouble.TOO_FAR, ())]
    return (
        [(Trouble.BLURRED, ())] if float(np.median(blur(faces[:: 1 + len(faces) // ENOUGH]))) > BLUR else []
    )


def _viewpoint(quads: Quads) -> _Found:
    x, y = np.abs(downs(quads)).T
    if (x > 1.5 * y).mean() > 0.5:
        return [(Trouble.SIDEWAYS, ())]
    shape = heights(quads) ** 2 / np.maximum(areas(quads), 1)
    slanted = (shape < FLAT) | (shape > NARROW)
    return [(Trouble.SLANTED, ())] if slanted.mean() > 0.5 else []


def blur(pictures: NDArray[np.uint8], *, window: int = 11) -> Floats:
    """Return how blurred each picture (N, H, W, 3) is, 0 to 1: how little blurring it again would change.

    Source: Crété, Dolmiere, Ladret, Nicolas 2007, "The blur effect: perception and estimation with a new
    no-reference perceptual blur metric".
    """
    return np.array(
        [_blur(cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY), window) for picture in pictures], np.float32
    )


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
