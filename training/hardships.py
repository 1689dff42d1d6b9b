"""What makes home photos hard: lamps and flash mirrored in the tiles, hard shadows, dim lamps, what a phone does about it.

Every hardship is drawn from a stream of its own, so a scene that meets none stays as it was, pixel for pixel. None of
them moves a pixel's place, and a person can still read the tiles.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.solids import Image

LIT_BADLY, KEPT_BADLY = 0.16, 0.16
"""Shares of the scenes."""


def badly_lit(image: Image, faces: NDArray[np.bool_], width: float, rng: np.random.Generator) -> Image:
    """Return the picture, now and then under a mirrored lamp, a hard shadow or a dim lamp alone.

    Args:
        image: uint8 (H, W, 3), BGR, before the lens.
        faces: bool (h, w), where glossy faces show, at the same or a finer grid.
        width: pixels across a usual face: a lamp's image is measured in tiles.
    """
    if rng.random() >= LIT_BADLY:
        return image
    way = rng.random()
    if way < 0.55:
        image = _mirrored(image, faces, width, rng)
    if 0.4 < way < 0.75:
        image = _shaded(image, width, rng)
    if way > 0.7:
        image = _dim(image, width, rng)
    return image


def badly_kept(image: Image, width: float, rng: np.random.Generator) -> Image:
    """Return the photo, now and then smoothed against noise, seen through a greasy lens, or sent on and stored again."""
    if rng.random() >= KEPT_BADLY:
        return image
    way = rng.random()
    if way < 0.3:
        image = _smoothed(image, width, rng)
    elif way < 0.55:
        image = _veiled(image, width, rng)
    elif way < 0.7:
        image = _toned(image, width, rng)
    return _sent_on(image, width, rng) if way > 0.65 or rng.random() < 0.3 else image


def _mirrored(image: Image, faces: NDArray[np.bool_], width: float, rng: np.random.Generator) -> Image:
    """Mirror lamps or a flash in the faces, and a little in everything: burnt out in the middle, soft at the edge."""
    h, w = image.shape[:2]
    light = np.zeros((h // 2 + 1, w // 2 + 1), np.float32)
    rows, columns = np.nonzero(faces)
    if not len(rows):
        return image
    for _ in range(int(rng.choice([1, 1, 2, 3]))):
        at = int(rng.integers(len(rows)))
        middle = columns[at] * light.shape[1] / faces.shape[1], rows[at] * light.shape[0] / faces.shape[0]
        across = width / 2 * rng.uniform(0.1, 0.55)
        along = across * float(np.exp(rng.uniform(0, 2.6)))
        cv2.ellipse(light, (middle, (2 * across, 2 * along), rng.uniform(0, 180)), rng.uniform(0.5, 1.3), -1)
    edge = max(1.0, width / 2 * rng.uniform(0.05, 0.35))
    bloom = cv2.GaussianBlur(light, (0, 0), edge) + 0.15 * cv2.blur(light, (2 * round(width / 2) + 1,) * 2)
    share = cv2.resize(faces.astype(np.float32), (w, h), interpolation=cv2.INTER_AREA)
    shine = cv2.resize(bloom, (w, h)) * (rng.uniform(0, 0.3) + share) * np.float32(230)
    tint = 1 - rng.uniform(0, 0.2) * np.array([1, 0.4, 0], np.float32)
    return np.asarray(cv2.add(image, shine[..., None] * tint, dtype=cv2.CV_8U), np.uint8)


def _shaded(image: Image, width: float, rng: np.random.Generator) -> Image:
    """Darken the picture behind one to three straight or bent edges, sharp as those of something near."""
    h, w = image.shape[:2]
    rows, columns = np.mgrid[0:h:2, 0:w:2].astype(np.float32)
    shade = np.zeros_like(rows)
    for _ in range(int(rng.integers(1, 4))):
        angle, bend = rng.uniform(0, 2 * np.pi), rng.uniform(-0.4, 0.4)
        x, y = columns - rng.uniform(0.1, 0.9) * w, rows - rng.uniform(0.1, 0.9) * h
        ahead, aside = x * np.cos(angle) + y * np.sin(angle), y * np.cos(angle) - x * np.sin(angle)
        inside = ahead + bend * aside**2 / max(h, w)
        band = width * rng.uniform(0.5, 8)
        edge = width * rng.uniform(0.02, 0.3)
        shade = np.maximum(shade, np.clip((band / 2 - np.abs(inside)) / edge + 0.5, 0, 1))
    cold = rng.uniform(0, 0.12) * np.array([-1, 0, 1])
    dark = rng.uniform(0.35, 0.75)
    full = cv2.resize(shade, (w, h))[..., None]
    return np.asarray((image * (1 - full * (dark + cold).astype(np.float32))).clip(0, 255), np.uint8)


def _dim(image: Image, width: float, rng: np.random.Generator) -> Image:
    """Leave one warm lamp: yellow to orange, falling off to one side, with the noise of a raised sensitivity."""
    h, w = image.shape[:2]
    gains = np.array([rng.uniform(0.4, 0.8), rng.uniform(0.75, 0.92), 1.0]) * rng.uniform(0.45, 0.9)
    x = np.linspace(-1, 1, w, dtype=np.float32) - rng.uniform(-1, 1)
    y = np.linspace(-1, 1, h, dtype=np.float32)[:, None] - rng.uniform(-1, 1)
    fall = 1 / (1 + rng.uniform(0, 0.5) * (x**2 + y**2))
    room = float(np.clip(width / 50, 0.3, 1))  # small tiles drown in less
    noise = rng.standard_normal((h, w, 1), np.float32) * np.float32(room * rng.uniform(1.5, 6))
    coarse = rng.standard_normal((h // 3 + 1, w // 3 + 1, 3), np.float32) * np.float32(room * rng.uniform(1, 5))
    light = image * (fall[..., None] * gains).astype(np.float32) + noise + cv2.resize(coarse, (w, h))
    return np.asarray(light.clip(0, 255), np.uint8)


def _smoothed(image: Image, width: float, rng: np.random.Generator) -> Image:
    """Add noise and smooth it away as a phone does: flat areas like paint, colours run, edges kept and sharpened."""
    h, w = image.shape[:2]
    noise = rng.standard_normal((h, w, 1), np.float32) * np.float32(rng.uniform(2, 12) * np.clip(width / 50, 0.3, 1))
    noisy = np.asarray(cv2.add(image, np.repeat(noise, 3, 2), dtype=cv2.CV_8U), np.uint8)
    luma, *chroma = cv2.split(cv2.cvtColor(noisy, cv2.COLOR_BGR2YCrCb))
    calm = cv2.bilateralFilter(luma, 5, float(rng.uniform(12, 45)), 2.5)
    run = 2 * int(rng.integers(1, 5)) + 1
    smooth = cv2.cvtColor(cv2.merge([calm, *(cv2.blur(plane, (run, run)) for plane in chroma)]), cv2.COLOR_YCrCb2BGR)
    amount = rng.uniform(0, 1.2)
    return np.asarray(cv2.addWeighted(smooth, 1 + amount, cv2.GaussianBlur(smooth, (0, 0), 1.2), -amount, 0), np.uint8)


def _veiled(image: Image, width: float, rng: np.random.Generator) -> Image:
    """Scatter light over the picture, the same way everywhere or along a wiped smear, as grease on the lens does."""
    h, w = image.shape[:2]
    small = cv2.resize(image, (w // 4 + 1, h // 4 + 1), interpolation=cv2.INTER_AREA).astype(np.float32)
    reach = max(1.0, width / 4 * rng.uniform(0.3, 2.5))
    wide = cv2.GaussianBlur(small, (0, 0), reach, sigmaY=reach * rng.uniform(0.1, 1))
    veil = cv2.resize(wide, (w, h)) * (1 - (low := rng.uniform(0, 0.4))) + np.float32(low * rng.uniform(90, 235))
    return np.asarray(cv2.addWeighted(image.astype(np.float32), 1 - (a := rng.uniform(0.25, 0.65)), veil, a, 0).clip(0, 255), np.uint8)


def _toned(image: Image, width: float, rng: np.random.Generator) -> Image:
    """Lift shadows, press lights and exaggerate edges, as automatic "improvement" does: wide and narrow halos."""
    h, w = image.shape[:2]
    small = cv2.resize(image, (w // 4 + 1, h // 4 + 1), interpolation=cv2.INTER_AREA)
    around = cv2.resize(cv2.GaussianBlur(small, (0, 0), max(1.0, width / 4 * rng.uniform(0.2, 1))), (w, h))
    local = cv2.addWeighted(image, 1 + (a := rng.uniform(0.2, 0.8)), around, -a, 0)
    fine = cv2.GaussianBlur(local, (0, 0), rng.uniform(0.7, 1.6))
    return np.asarray(cv2.addWeighted(local, 1 + (b := rng.uniform(0.5, 2.2)), fine, -b, 0), np.uint8)


def _sent_on(image: Image, width: float, rng: np.random.Generator) -> Image:
    """Store the photo smaller at a low quality, then again, so that the two grids of blocks do not meet."""
    h, w = image.shape[:2]
    scale = float(np.clip(rng.uniform(22, 60) / width, 0.4, 0.97))
    for size in ((round(w * scale), round(h * scale)), (w, h)):
        image = np.asarray(cv2.resize(image, size, interpolation=cv2.INTER_AREA if size[0] < w else cv2.INTER_CUBIC), np.uint8)
        stored = cv2.imencode(".jpg", image, [cv2.IMWRITE_JPEG_QUALITY, int(rng.uniform(28, 75))])[1]
        image = np.asarray(cv2.imdecode(stored, cv2.IMREAD_COLOR), np.uint8)
    return image
