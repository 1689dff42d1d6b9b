"""Further manners of engraving an icon: stippled, cut in wood or lino, chiselled in straight strokes, brushed, shaded, echoed.

Each takes plates uint8 (inks, H, W), the icon's regions (H, W), a palette and the generator of every free choice.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.engraving import INKS, Mask, pick
from tilewitness.training.icons import Regions
from tilewitness.training.plates import Palette, edges, inside, put, region_mask, sample_region_inks

Plates = NDArray[np.uint8]


def _body(parts: Regions) -> Mask:
    return np.where(parts > 0, 255, 0).astype(np.uint8)


def _depth(mask: Mask) -> NDArray[np.float32]:
    """How far within a mask a pixel lies, in pixels; 0 outside."""
    return np.asarray(cv2.distanceTransform(mask, cv2.DIST_L2, 3), np.float32)


def _field(shape: tuple[int, ...], rng: np.random.Generator, low: float, high: float) -> NDArray[np.float32]:
    """Values that wander smoothly between two bounds, as the pressure of a hand does."""
    coarse = rng.uniform(low, high, (7, 7)).astype(np.float32)
    return np.asarray(cv2.resize(coarse, shape[::-1], interpolation=cv2.INTER_CUBIC), np.float32)


def _on(where: NDArray[np.bool_]) -> Mask:
    return np.where(where, 255, 0).astype(np.uint8)


def stippled(plates: Plates, parts: Regions, palette: Palette, rng: np.random.Generator) -> None:
    """Dots, denser towards one side, within a thin outline or with none."""
    height, width = parts.shape
    step, radius = rng.uniform(7, 13), int(rng.integers(1, 4))
    ys, xs = np.mgrid[0 : height : step, 0 : width : step].reshape(2, -1)
    ys, xs = (np.clip(values + rng.uniform(-0.4, 0.4, len(values)) * step, 0, most - 1) for values, most in ((ys, height), (xs, width)))
    slope = rng.uniform(-0.5, 0.5, 2)
    kept = rng.random(len(ys)) < 0.75 + slope[0] * (xs / width - 0.5) + slope[1] * (ys / height - 0.5)
    dots = np.zeros(parts.shape, np.uint8)
    dots[ys[kept].astype(int), xs[kept].astype(int)] = 255
    dots = np.asarray(cv2.dilate(dots, cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * radius + 1,) * 2)), np.uint8)
    for index, ink in enumerate(sample_region_inks(parts, palette, rng, bare=0.1), 1):
        if ink is not None:
            put(plates, np.minimum(region_mask(parts, index), dots), ink)
    put(plates, edges(parts, int(rng.integers(2, 6))) if rng.random() < 0.75 else inside(parts, 2), palette[0])


def lino(plates: Plates, parts: Regions, palette: Palette, rng: np.random.Generator) -> None:
    """Dark shapes from which a gouge took lines that run along the contour or across, wider towards the light."""
    body = _body(parts)
    depth = _depth(body)
    step = rng.uniform(8, 15)
    ys, xs = np.mgrid[: parts.shape[0], : parts.shape[1]].astype(np.float32)
    angle = rng.uniform(0, 2 * np.pi)
    across = xs * np.cos(angle) + ys * np.sin(angle)
    light = (across - across.min()) / np.ptp(across)
    run = depth if rng.random() < 0.5 else across + _field(parts.shape, rng, -8, 8)
    cut = _on((run / step % 1 < 0.15 + 0.55 * light) & (depth > rng.uniform(3, 7)))
    for index, ink in enumerate(sample_region_inks(parts, palette, rng, bare=0.15), 1):
        put(plates, region_mask(parts, index), ink)
    put(plates, cut, None)
    if parts.max() > 1:
        put(plates, inside(parts, int(rng.integers(3, 6))), None)
    if rng.random() < 0.5:
        put(plates, edges(body, int(rng.integers(3, 6))), palette[0])


def chiselled(plates: Plates, parts: Regions, palette: Palette, rng: np.random.Generator) -> None:
    """Every contour in a few straight cuts that swell and thin, some left out."""
    coarse, thick, gaps = rng.uniform(1.5, 5), rng.uniform(4, 10), rng.uniform(0, 0.12)
    for index in range(1, int(parts.max()) + 1):
        ink = palette[(index - 1) % len(palette)]
        contours, _ = cv2.findContours(region_mask(parts, index), cv2.RETR_LIST, cv2.CHAIN_APPROX_NONE)
        drawn = np.zeros(parts.shape, np.uint8)
        for contour in contours:
            if len(contour) < 14:
                continue
            corners = cv2.approxPolyDP(contour, coarse, True)[:, 0].astype(float)
            for start, end in zip(corners, np.roll(corners, -1, 0), strict=True):
                if rng.random() < gaps:
                    continue
                way = end - start
                side = np.array([-way[1], way[0]]) / (np.hypot(*way) + 1e-6) * thick / 2
                middle = start + way * rng.uniform(0.3, 0.7)
                wedge = np.array([start + side * 0.25, middle + side, end + side * 0.25, end - side * 0.25, middle - side, start - side * 0.25])
                cv2.fillPoly(drawn, [np.round(wedge * 16).astype(np.int32)], 255, cv2.LINE_AA, 4)
        put(plates, drawn, ink)


def brushed(plates: Plates, parts: Regions, palette: Palette, rng: np.random.Generator) -> None:
    """Outlines in ink that swell, thin and run dry, over washes or none."""
    if rng.random() < 0.5:
        for index, ink in enumerate(sample_region_inks(parts, palette, rng, bare=0.35), 1):
            if ink is not None:
                put(plates, region_mask(parts, index), ink, rng.uniform(0.3, 0.7))
    far = _depth(255 - edges(parts, 1))
    put(plates, _on(far < _field(parts.shape, rng, -2.5, rng.uniform(5, 11))), palette[0])


def shaded(plates: Plates, parts: Regions, palette: Palette, rng: np.random.Generator) -> None:
    """Outlines, and a shadow along one side of every region: solid, or of parallel lines."""
    reach, angle = rng.uniform(8, 26), rng.uniform(0, 2 * np.pi)
    matrix = np.array([[1, 0, reach * np.cos(angle)], [0, 1, reach * np.sin(angle)]])
    ys, xs = np.mgrid[: parts.shape[0], : parts.shape[1]].astype(np.float32)
    lines = _on((xs * np.cos(angle + 0.8) + ys * np.sin(angle + 0.8)) / rng.uniform(6, 11) % 1 < 0.5)
    hatched = rng.random() < 0.5
    for index in range(1, int(parts.max()) + 1):
        mask = region_mask(parts, index)
        shadow = np.minimum(mask, 255 - np.asarray(cv2.warpAffine(mask, matrix, mask.shape[::-1]), np.uint8))
        put(plates, np.minimum(shadow, lines) if hatched else shadow, palette[index % len(palette)])
    put(plates, edges(parts, int(rng.integers(3, 8))), palette[0])


def echoed(plates: Plates, parts: Regions, palette: Palette, rng: np.random.Generator) -> None:
    """Lines that repeat the contour further and further in, like the rings of a tree."""
    step = rng.uniform(9, 18)
    several = parts.max() > 1 and rng.random() < 0.6
    for index in range(1, (int(parts.max()) if several else 1) + 1):
        mask = region_mask(parts, index) if several else _body(parts)
        depth = _depth(mask)
        put(plates, _on((depth > 0) & (depth / step % 1 < rng.uniform(0.3, 0.6))), palette[(index - 1) % len(palette)])
    if not several and parts.max() > 1 and rng.random() < 0.7:
        put(plates, inside(parts, 4), palette[-1])


def slipped(plates: Plates, parts: Regions, palette: Palette, rng: np.random.Generator) -> None:
    """Flat colours printed beside the outlines that they belong to."""
    shift = np.column_stack([np.eye(2), rng.uniform(-9, 9, 2)])
    moved = np.asarray(cv2.warpAffine(parts, shift, parts.shape[::-1], flags=cv2.INTER_NEAREST), np.uint8)
    for index, ink in enumerate(sample_region_inks(moved, palette, rng, bare=0.2), 1):
        if ink is not None:
            put(plates, region_mask(moved, index), ink, rng.uniform(0.5, 1))
    put(plates, edges(parts, int(rng.integers(3, 7))), pick(rng, palette))


_LEAST_KEPT: Final = 0.35  # with less of its ink than this a picture is no longer seen
WOODCUTS: Final[tuple[Callable[[Plates, Regions, Palette, np.random.Generator], None], ...]] = (
    stippled, lino, chiselled, brushed, shaded, echoed, slipped,
)  # fmt: skip


def recut(plates: Plates, rng: np.random.Generator) -> Plates:
    """Cut a picture that is on its plates already in one of these manners; one too slight for it stays as it is."""
    leading = np.argsort(-plates.sum(axis=(1, 2), dtype=np.int64))
    used = [int(plate) for plate in leading if plates[plate].any()]
    parts = np.zeros(plates.shape[1:], np.uint8)
    for number, plate in enumerate(used, 1):
        parts[plates[plate] > 110] = number
    result = np.zeros_like(plates)
    pick(rng, WOODCUTS)(result, parts, [INKS[plate] for plate in used], rng)
    faint = np.count_nonzero(result) < _LEAST_KEPT * np.count_nonzero(parts)
    return plates if faint else result
