"""What unnamed symbols show: icons, words, characters, and drawn figures, each as masks of its colour regions."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, lru_cache
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.glyphs import draw_text, families
from tilewitness.training.icons import CATEGORIES, LATER, Category, icon, icons

Mask = NDArray[np.uint8]

SIDE: Final = 208
LEFT_OUT: Final = frozenset(
    (
        "game-icons--bonsai-tree", "game-icons--dandelion-flower", "game-icons--fern", "noto--pear", "game-icons--plum",
        "game-icons--wheat", "game-icons--vine-flower", "noto--potted-plant", "game-icons--willow-tree", "noto--rose",
        "noto--hibiscus", "noto--hyacinth", "mdi--flower-tulip", "game-icons--lotus-flower", "game-icons--poppy",
        "game-icons--flower-star", "streamline--flower-alt",
    )
)  # fmt: skip
"""Icons of the sets that measure learning."""

LETTERS: Final = "ABCDEFGHJKLMNPQRSTUVWXYZ"
CHARACTERS: Final = "春夏秋冬梅菊竹東南西北中發一二三四五六七八九萬"


@lru_cache(maxsize=256)
def motif(kind: str, seed: int, *, held_out: bool = False) -> tuple[Mask, ...]:
    """Return the colour regions of a motif, uint8 (h, w) each, 255 where there is ink; the longer side is about `SIDE`."""
    return _DRAW[kind](np.random.default_rng(seed), held_out)


def _icon(rng: np.random.Generator, held_out: bool) -> tuple[Mask, ...]:
    category, name = _icons(held_out)[int(rng.integers(len(_icons(held_out))))]
    return _regions(icon(category, name))


@cache
def _icons(held_out: bool) -> tuple[tuple[Category, str], ...]:
    # Later sets are left out, so that the symbols that were there before stay what they were.
    return tuple((c, name) for c in CATEGORIES for name in icons(c, held_out=held_out) if name not in LEFT_OUT and not name.startswith(LATER))


def _word(rng: np.random.Generator, held_out: bool) -> tuple[Mask, ...]:
    """Letters by lot, which say nothing."""
    text = "".join(rng.choice(list(LETTERS), int(rng.integers(2, 6))))
    chosen = families("latin", held_out=held_out, text=text)
    return (_fitted(draw_text(text, chosen[int(rng.integers(len(chosen)))], 90)),)


def _character(rng: np.random.Generator, held_out: bool) -> tuple[Mask, ...]:
    latin = rng.random() < 0.4
    text = str(rng.choice(list(LETTERS if latin else CHARACTERS)))
    chosen = families("latin" if latin else "chinese", held_out=held_out, text=text)
    return (_fitted(draw_text(text, chosen[int(rng.integers(len(chosen)))], 180)),)


def _fitted(mask: Mask) -> Mask:
    scale = SIDE / max(mask.shape)
    return np.asarray(cv2.resize(mask, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA), np.uint8)


def _blank() -> Mask:
    return np.zeros((SIDE, SIDE), np.uint8)


def _filled(points: NDArray[np.float64], mask: Mask | None = None, value: int = 255) -> Mask:
    mask = _blank() if mask is None else mask
    return np.asarray(cv2.fillPoly(mask, [np.round(points * 16).astype(np.int32)], value, cv2.LINE_AA, 4), np.uint8)


def _around(radii: NDArray[np.float64], turn: float = 0.0) -> NDArray[np.float64]:
    angles = turn + 2 * np.pi * np.arange(len(radii)) / len(radii)
    return np.stack([SIDE / 2 + radii * np.sin(angles), SIDE / 2 - radii * np.cos(angles)], 1)


def _figure(rng: np.random.Generator, held_out: bool) -> tuple[Mask, ...]:
    """A plain figure: polygon, cross, ring, arrow, chevron, crescent, cog, pill; perhaps with another cut out of it."""
    mask = _plain(rng)
    if rng.random() < 0.4:
        inner = cv2.warpAffine(_plain(rng), cv2.getRotationMatrix2D((SIDE / 2, SIDE / 2), 0, 0.4), (SIDE, SIDE))
        hole = np.asarray(np.minimum(inner, mask), np.uint8)
        return (mask - hole, hole) if rng.random() < 0.5 else (mask - hole,)
    return (mask,)


def _plain(rng: np.random.Generator) -> Mask:
    which, r = int(rng.integers(9)), SIDE * 0.49
    if which == 0:
        return _filled(_around(np.full(int(rng.integers(3, 9)), r), float(rng.choice([0, 0.5]))))
    if which == 1:  # a cog
        teeth = int(rng.integers(5, 13))
        return _filled(_around(np.tile([r, r, 0.72 * r, 0.72 * r], teeth)))
    if which == 2:
        arm = rng.uniform(0.15, 0.4) * r
        cross = np.array([[-arm, -r], [arm, -r], [arm, -arm], [r, -arm], [r, arm], [arm, arm], [arm, r], [-arm, r], [-arm, arm], [-r, arm], [-r, -arm], [-arm, -arm]])
        return _filled(cross + SIDE / 2)
    if which == 3:
        mask = _filled(_around(np.full(60, r)))
        return _filled(_around(np.full(60, r * rng.uniform(0.3, 0.8))), mask, 0)
    if which == 4:  # an arrow
        wide, neck = rng.uniform(0.4, 1.0) * r, rng.uniform(0.1, 0.35) * r
        return _filled(np.array([[0, -r], [wide, 0], [neck, 0], [neck, r], [-neck, r], [-neck, 0], [-wide, 0]]) + SIDE / 2)
    if which == 5:  # a chevron
        thick = rng.uniform(0.3, 0.8) * r
        return _filled(np.array([[-r, -r], [-r + thick, -r], [r, 0], [-r + thick, r], [-r, r], [r - thick, 0]]) + SIDE / 2)
    if which == 6:  # a crescent
        mask = _filled(_around(np.full(60, r)))
        return _filled(_around(np.full(60, 0.85 * r)) + [rng.uniform(0.3, 0.6) * r, 0], mask, 0)
    if which == 7:  # a pill
        mask, half = _blank(), round(rng.uniform(0.15, 0.35) * SIDE)
        cv2.line(mask, (SIDE // 2, half), (SIDE // 2, SIDE - half), 255, 2 * half - 2, cv2.LINE_AA)
        return mask
    slant = rng.uniform(-0.5, 0.9) * r
    return _filled(np.array([[-r, 0.6 * r], [-r + abs(slant), -0.6 * r], [r, -0.6 * r], [r - slant, 0.6 * r]]) + SIDE / 2)


def _blot(rng: np.random.Generator, held_out: bool) -> tuple[Mask, ...]:
    """A smooth shape by lot, sometimes the same on both sides."""
    angles = 2 * np.pi * np.arange(72) / 72
    waves = [rng.normal(0, 0.5 / k) * np.cos(k * angles + rng.uniform(0, 6)) for k in range(2, 7)]
    radii = 1 + np.sum(waves, 0)
    if rng.random() < 0.3:
        radii = (radii + radii[::-1]) / 2
    radii = np.clip(radii, 0.25, None)
    return (_filled(_around(radii * SIDE * 0.49 / radii.max())),)


def _scribble(rng: np.random.Generator, held_out: bool) -> tuple[Mask, ...]:
    """One line that wanders about; smooth, or from point to point."""
    points = rng.uniform(14, SIDE - 14, (int(rng.integers(4, 9)), 2))
    if rng.random() < 0.6:
        t = np.linspace(0, len(points) - 1, 120)
        bent = [np.interp(t, np.arange(len(points)), points[:, i]) for i in (0, 1)]
        kernel = np.hanning(25) / np.hanning(25).sum()
        points = np.stack([np.convolve(np.pad(b, 12, mode="edge"), kernel, "valid") for b in bent], 1)
    mask = _blank()
    cv2.polylines(mask, [np.round(points * 16).astype(np.int32)], False, 255, int(rng.integers(8, 22)), cv2.LINE_AA, 4)
    return (mask,)


def _pixels(rng: np.random.Generator, held_out: bool) -> tuple[Mask, ...]:
    """A pattern of squares, often the same on both sides."""
    rows, columns = int(rng.integers(4, 8)), int(rng.integers(3, 7))
    grid = rng.integers(0, int(rng.integers(2, 4)), (rows, columns))
    if rng.random() < 0.5:
        grid = np.maximum(grid, grid[:, ::-1])
    return _regions(grid)


def _mosaic(rng: np.random.Generator, held_out: bool) -> tuple[Mask, ...]:
    """Rectangles side by side, split by lot again and again, in a few colours."""
    picture, inks = np.zeros((SIDE, 156), np.int64), int(rng.integers(2, 6))
    boxes, line = [(0, 0, SIDE, 156)], int(rng.choice([0, 0, 3, 6]))
    for _ in range(int(rng.integers(3, 12))):
        top, left, bottom, right = boxes.pop(int(np.argmax([(b[2] - b[0]) * (b[3] - b[1]) * rng.uniform(0.3, 1) for b in boxes])))
        share = rng.uniform(0.25, 0.75)
        if (bottom - top) * rng.uniform(0.6, 1.4) > right - left:
            cut = round(top + share * (bottom - top))
            boxes += [(top, left, cut, right), (cut, left, bottom, right)]
        else:
            cut = round(left + share * (right - left))
            boxes += [(top, left, bottom, cut), (top, cut, bottom, right)]
    for top, left, bottom, right in boxes:
        picture[top : bottom - line, left : right - line] = rng.integers(0 if line else 1, inks + 1)
    return _regions(picture)


def _rings(rng: np.random.Generator, held_out: bool) -> tuple[Mask, ...]:
    """Rings within rings, round or cornered, or a few circles that overlap."""
    picture = _blank().astype(np.int32)
    overlapping, inks = rng.random() < 0.5, int(rng.integers(2, 6))
    corners = int(rng.choice([60, 60, 5, 6, 8]))
    for k in range(int(rng.integers(2, 7))):
        radius = rng.uniform(0.12, 0.4) if overlapping else 0.49 * (1 - k / 7) ** rng.uniform(0.9, 1.6)
        at = rng.uniform(-0.5, 0.5, 2) * SIDE * (1 - 2 * radius) if overlapping else np.zeros(2)
        inked = _filled(_around(np.full(corners, radius * SIDE)) + at) > 127
        picture[inked] = rng.integers(0 if k else 1, inks + 1)
    return _regions(picture)


def _patches(rng: np.random.Generator, held_out: bool) -> tuple[Mask, ...]:
    """A face parted among points by lot, each part in a colour. Source: Voronoi 1908."""
    count, inks = int(rng.integers(4, 14)), int(rng.integers(2, 6))
    points = rng.uniform(0, 1, (count, 2)) * (SIDE, 156)
    y, x = np.mgrid[:SIDE, :156]
    nearest = ((y[..., None] - points[:, 0]) ** 2 + (x[..., None] - points[:, 1]) ** 2).argmin(-1)
    return _regions(rng.integers(0, inks + 1, count)[nearest])


def _beads(rng: np.random.Generator, held_out: bool) -> tuple[Mask, ...]:
    """Beads strung along a closed line, small and large by lot."""
    count = int(rng.integers(6, 14))
    radii = rng.uniform(0.25, 0.42, count) * SIDE
    masks = [_blank(), _blank()]
    for number, (x, y) in enumerate(_around(radii)):
        cv2.circle(masks[number % 2], (round(x), round(y)), int(rng.integers(5, 16)), 255, -1, cv2.LINE_AA)
    return tuple(masks)


def _lattice(rng: np.random.Generator, held_out: bool) -> tuple[Mask, ...]:
    """Lines from knot to knot of a grid of four by three, by lot."""
    mask, width = _blank(), int(rng.integers(8, 18))
    knots = [(30 + 74 * column, 24 + 53 * row) for row in range(4) for column in range(3)]
    for _ in range(int(rng.integers(4, 10))):
        start, end = rng.choice(len(knots), 2, replace=False)
        cv2.line(mask, knots[start], knots[end], 255, width, cv2.LINE_AA)
    return (mask,)


def _regions(picture: NDArray[np.integer]) -> tuple[Mask, ...]:
    """A map of colours, 0 for bare, as masks; small maps are blown up."""
    if max(picture.shape) < SIDE // 2:
        picture = np.kron(picture, np.ones((SIDE // max(picture.shape),) * 2, np.int64))
    masks = [np.where(picture == ink, 255, 0).astype(np.uint8) for ink in range(1, int(picture.max()) + 1)]
    return tuple(masks) or (np.full(picture.shape, 255, np.uint8),)


_DRAW: Final[dict[str, Callable[[np.random.Generator, bool], tuple[Mask, ...]]]] = {
    "icon": _icon, "word": _word, "character": _character, "figure": _figure, "blot": _blot, "scribble": _scribble,
    "pixels": _pixels, "mosaic": _mosaic, "rings": _rings, "patches": _patches, "beads": _beads, "lattice": _lattice,
}  # fmt: skip

KINDS: Final = {
    "icon": 3.0, "word": 1.0, "character": 1.0, "figure": 1.2, "blot": 0.8, "scribble": 0.8, "pixels": 0.8, "mosaic": 1.2,
    "rings": 1.0, "patches": 1.2,
}  # fmt: skip
"""Kinds of motifs that training draws and their shares."""

HELD_OUT_KINDS: Final = {"icon": 3.0, "word": 1.0, "character": 1.0, "beads": 1.2, "lattice": 1.2}
"""Kinds that measure: icons and families of type kept from training, and figures that it never draws."""
