"""Icons turned into engravings: filled in parts, outlined, hatched or hollow, in the inks of one palette."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.engraving import HEIGHT, INKS, WIDTH, Canvas, Mask, pick
from tilewitness.training.icons import Regions
from tilewitness.training.plates import Palette, edges, inside, put, region_mask, sample_region_inks
from tilewitness.training.woodcuts import WOODCUTS

Box = tuple[float, float, float, float]

_PALETTES: Final = (
    ("green", "red", "blue"), ("red", "green", "blue"), ("blue", "green", "red"), ("green", "red"), ("red", "green"),
    ("blue", "red"), ("blue", "green"), ("black", "red"), ("black", "red", "green"), ("black", "green", "red", "blue"),
    ("green",), ("blue",), ("black",), ("red",), ("red", "blue"), ("red", "green", "fifth"), ("green", "fifth", "red"),
    ("blue", "red", "green", "black"), ("green", "black"), ("black", "blue", "red"), ("fifth", "green", "red"),
    ("sixth", "fifth", "green"), ("black", "fifth", "sixth", "red"), ("green", "sixth", "fifth"), ("red", "sixth", "black"),
    ("red", "sixth", "green", "fifth", "black"), ("black", "fifth", "green", "sixth", "red", "blue"),
    ("blue", "sixth", "red", "fifth", "green"), ("sixth", "green", "fifth", "red", "black"),
)  # fmt: skip


def sample_palette(rng: np.random.Generator) -> Palette:
    """Choose the inks of one picture, the leading one first."""
    return pick(rng, _PALETTES)


def engrave(canvas: Canvas, regions: Regions, box: Box, palette: Palette, rng: np.random.Generator) -> None:
    """Draw an icon into a box of the face in one of the engraver's manners, chosen by `rng`."""
    if rng.random() < 0.5:
        regions = np.ascontiguousarray(regions[:, ::-1])
    regions = np.pad(regions, 12)
    manner = _MANNERS[int(rng.choice(len(_MANNERS), p=_CHANCES))]
    parts = _parts(regions, palette, rng)
    planes = np.zeros((len(INKS), *regions.shape), np.uint8)
    later = rng.spawn(1)[0]  # a stream of its own: the pictures that are not cut so stay what they were
    if later.random() < _WOODCUT_SHARE:
        pick(later, WOODCUTS)(planes, parts, palette, later)
    else:
        manner(planes, parts, palette, rng)
    if (planes > 0).sum() < _LEAST * regions.size:
        _outlined(planes, parts, palette, rng)
    canvas.lay(_placed(planes, box, rng))


def _placed(planes: NDArray[np.uint8], box: Box, rng: np.random.Generator) -> NDArray[np.uint8]:
    x, y, w, h = cv2.boundingRect(planes.max(axis=0))
    sx, sy = (box[2] - box[0]) / max(w, 1), (box[3] - box[1]) / max(h, 1)
    least = min(sx, sy)
    sx, sy = min(sx, least * rng.uniform(1, 1.35)), min(sy, least * rng.uniform(1, 1.35))
    angle = rng.uniform(-0.25, 0.25) if rng.random() < 0.35 else 0.0
    linear = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]]) * [sx, sy]
    middle = np.array([(box[0] + box[2]) / 2, (box[1] + box[3]) / 2]) - linear @ [x + w / 2, y + h / 2]
    matrix = np.column_stack([linear, middle])
    result = np.zeros((len(planes), HEIGHT, WIDTH), np.uint8)
    blur = least < 0.6  # plain linear sampling would lose thin lines
    for source, target in zip(planes, result, strict=True):
        if source.any():
            smooth = cv2.blur(source, (3, 3)) if blur else source
            cv2.warpAffine(smooth, matrix, (WIDTH, HEIGHT), dst=target, flags=cv2.INTER_LINEAR)
    return result


def _parts(regions: Regions, palette: Palette, rng: np.random.Generator) -> Regions:
    """Give an icon of one colour more regions: its enclosed bare areas, or its separate or split pieces."""
    if regions.max() > 1:
        return regions
    parts = regions.copy()
    bare = (regions == 0).astype(np.uint8)
    count, holes = cv2.connectedComponents(bare)
    if count > 2 and rng.random() < 0.6:
        tint = rng.integers(2, 5, (int(count),))
        tint[holes[0, 0]] = 0
        parts[bare > 0] = tint[holes[bare > 0]]
    if len(palette) > 1 and rng.random() < 0.7:
        parts[regions > 0] = _split(regions, rng)[regions > 0]
    return parts


def _split(regions: Regions, rng: np.random.Generator) -> Regions:
    """Regions 1 to 3 by separate pieces where there are several, else by the nearest of a few points."""
    count, pieces = cv2.connectedComponents((regions > 0).astype(np.uint8))
    if count > 3 and rng.random() < 0.6:
        return np.asarray(rng.integers(1, 4, (int(count),))[pieces], np.uint8)
    height, width = regions.shape
    ys, xs = np.mgrid[:height, :width].astype(np.float32)
    seeds = rng.uniform(0, 1, (rng.integers(2, 5), 2)) * [width, height]
    far = np.stack([(xs - x) ** 2 + (ys - y) ** 2 for x, y in seeds])
    return np.asarray(far.argmin(axis=0) % 3 + 1, np.uint8)


def _in_parts(planes: NDArray[np.uint8], parts: Regions, palette: Palette, rng: np.random.Generator) -> None:
    """Regions filled with ink, some left bare, the lines between them bare or inked."""
    inks = sample_region_inks(parts, palette, rng, bare=0.25)
    tinted = rng.random() < 0.2
    for index in range(1, int(parts.max()) + 1):
        if inks[index - 1] is not None:
            put(planes, region_mask(parts, index), inks[index - 1], rng.uniform(0.35, 1) if tinted else 1.0)
    areas = np.bincount(parts.ravel(), minlength=len(inks) + 1)[1:]
    bare = sum(int(area) for area, ink in zip(areas, inks, strict=True) if ink is None)
    # Without its outline a bare body leaves odd spots behind: an owl would be three dots.
    if bare > 0.15 * areas.sum() or rng.random() < 0.5:
        put(planes, edges(parts, int(rng.integers(3, 8))), pick(rng, palette))
    elif rng.random() < 0.7:
        put(planes, inside(parts, int(rng.integers(2, 6))), None)


def _outlined(planes: NDArray[np.uint8], parts: Regions, palette: Palette, rng: np.random.Generator) -> None:
    """Only lines, in one ink or changing ink with the regions, now and then doubled."""
    width = int(rng.integers(4, 11))
    edge = edges(parts, width)
    put(planes, edge, palette[0])
    if len(palette) > 1 and rng.random() < 0.7:
        reach = np.asarray(cv2.dilate(parts, np.ones((9, 9), np.uint8)), np.uint8)
        for index in range(1, int(reach.max()) + 1):
            put(planes, np.minimum(edge, region_mask(reach, index)), palette[index % len(palette)])
    if width > 6 and rng.random() < 0.4:
        put(planes, edges(parts, 2), None)


def _hatched(planes: NDArray[np.uint8], parts: Regions, palette: Palette, rng: np.random.Generator) -> None:
    """Outlines with some regions shaded by lines, dots or scales."""
    inks = sample_region_inks(parts, palette, rng, bare=0.35)
    for index in range(1, int(parts.max()) + 1):
        ink = inks[index - 1]
        if ink is not None:
            full = rng.random() < 0.3
            texture = 255 * np.ones_like(parts) if full else _texture(parts.shape, rng)
            put(planes, np.minimum(region_mask(parts, index), texture), ink)
    put(planes, edges(parts, int(rng.integers(3, 8))), pick(rng, palette))


def _solid(planes: NDArray[np.uint8], parts: Regions, palette: Palette, rng: np.random.Generator) -> None:
    """One silhouette; the lines inside cut bare."""
    body = np.where(parts > 0, 255, 0).astype(np.uint8)
    put(planes, body, palette[0])
    if parts.max() > 1:
        put(planes, inside(parts, int(rng.integers(3, 6))), None)


def _hollow(planes: NDArray[np.uint8], parts: Regions, palette: Palette, rng: np.random.Generator) -> None:
    """A bold outer line, thin inner ones, the darkest region filled."""
    body = (parts > 0).astype(np.uint8)
    put(planes, edges(parts, int(rng.integers(3, 6))), palette[-1])
    if parts.max() > 1:
        put(planes, region_mask(parts, 1), pick(rng, palette))
    put(planes, edges(body, int(rng.integers(4, 12))), palette[0])


def _texture(shape: tuple[int, ...], rng: np.random.Generator) -> Mask:
    """A pattern over the whole shape: parallel lines, crossed lines, dots or scales."""
    ys, xs = np.mgrid[: shape[0], : shape[1]].astype(np.float32)
    angle, step = rng.uniform(0, np.pi), rng.uniform(8, 17)
    u = (xs * np.cos(angle) + ys * np.sin(angle)) / step
    v = (ys * np.cos(angle) - xs * np.sin(angle)) / step
    duty = rng.uniform(0.3, 0.6)
    kind = rng.integers(4)
    if kind == 0:
        on = u % 1 < duty
    elif kind == 1:
        on = (u % 1 < duty / 2) | (v % 1 < duty / 2)
    elif kind == 2:
        on = (u % 1 - 0.5) ** 2 + (v % 1 - 0.5) ** 2 < duty**2 / 2
    else:
        row = np.floor(v)
        on = np.abs(np.hypot((u + row % 2 / 2) % 1 - 0.5, v - row) - 0.6) < duty / 4
    return np.where(on, 255, 0).astype(np.uint8)


Manner = Callable[[NDArray[np.uint8], Regions, Palette, np.random.Generator], None]
_MANNERS: Final[tuple[Manner, ...]] = (_in_parts, _outlined, _hatched, _solid, _hollow)
_WOODCUT_SHARE: Final = 0.25
_LEAST: Final = 0.03  # less ink than this share of an icon's box is too faint to read
_CHANCES: Final = (0.36, 0.24, 0.18, 0.1, 0.12)
