"""Light on the finished picture and things before the lens: glare, bands of shadow, a hand, print."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.painting import FINE, Painting
from tilewitness.training.solids import Floats, Image, pixel
from tilewitness.training.surfaces import colour


def lit(painting: Painting, gloss: float, rng: np.random.Generator) -> Image:
    """Return the picture with glare on its faces and bands of shadow and light across it."""
    image = painting.image
    if rng.random() < 0.25 + 0.4 * gloss:
        mask = cv2.resize(
            (painting.visible > 0).astype(np.float32), image.shape[1::-1], interpolation=cv2.INTER_AREA
        )
        glare = _spots(rng, image.shape[:2]) * mask * np.float32(255 * rng.uniform(0.05, 0.2 + 0.35 * gloss))
        tint = 1 - rng.uniform(0, 0.15, 3).astype(np.float32)
        image = np.asarray(cv2.add(image, glare[..., None] * tint, dtype=cv2.CV_8U), np.uint8)
    if rng.random() < 0.3:
        image = _banded(image, rng)
    return image


def _spots(rng: np.random.Generator, shape: tuple[int, int]) -> Floats:
    """Return a field (H, W) of 0–1 with a few soft blobs and streaks."""
    small = np.zeros((96, 96), np.float32)
    for _ in range(int(rng.integers(1, 5))):
        at, angle = rng.uniform(0, 96, 2), rng.uniform(0, 180)
        axes = rng.uniform(2, 14), rng.uniform(5, 60)
        cv2.ellipse(small, (np.asarray(at).tolist(), axes, angle), rng.uniform(0.4, 1), -1)
    soft = cv2.GaussianBlur(small, (0, 0), float(rng.choice([1.0, 3.0, 8.0])))
    return np.asarray(cv2.resize(soft, shape[::-1], interpolation=cv2.INTER_LINEAR), np.float32)


def _banded(image: Image, rng: np.random.Generator) -> Image:
    """Lay a gradient, or the shadow of a person or a blind, over the picture."""
    h, w = image.shape[:2]
    field = np.ones((128, 128), np.float32)
    for _ in range(int(rng.integers(1, 5))):
        middle, angle = rng.uniform(0, 128, 2), rng.uniform(0, 180)
        axes = (rng.uniform(8, 60), rng.uniform(40, 260))
        cv2.ellipse(field, (np.asarray(middle).tolist(), axes, angle), rng.uniform(0.45, 1.1), -1)
    soft = cv2.GaussianBlur(field, (0, 0), float(np.exp(rng.uniform(0, 3.2))))
    return (image * cv2.resize(soft, (w, h))[..., None]).clip(0, 255).astype(np.uint8)


def covered(painting: Painting, rng: np.random.Generator) -> Painting:
    """Put a hand, an arm or some dark thing between camera and table."""
    h, w = painting.visible.shape
    mask = _hand(rng, (h, w))
    painting.visible[mask > 0] = 0
    share = cv2.resize(mask, (w // FINE, h // FINE), interpolation=cv2.INTER_AREA)
    tone = np.asarray(colour(rng, (0.2, 0.6), (0.25, 0.95), hue=0.06) if rng.random() < 0.8 else colour(rng))
    relief = cv2.GaussianBlur(share.astype(np.float32), (0, 0), max(2.0, w / FINE / 60)) / 255
    light = 0.55 + 0.5 * relief
    alpha = share[..., None].astype(np.float32) / 255
    image = painting.image + (light[..., None] * tone - painting.image) * alpha
    return Painting(image.clip(0, 255).astype(np.uint8), painting.visible, painting.painted)


def _hand(rng: np.random.Generator, shape: tuple[int, int]) -> NDArray[np.uint8]:
    """Return a mask: an arm from the border, a palm, and some fingers."""
    h, w = shape
    unit = rng.uniform(0.03, 0.11) * max(h, w)
    side = rng.random()
    start = (
        np.array([rng.uniform(0, w), h * 1.15])
        if side < 0.7
        else np.array([-0.1 * w if side < 0.85 else 1.1 * w, rng.uniform(0.3, 1) * h])
    )
    palm = np.array([rng.uniform(0.15, 0.85) * w, rng.uniform(0.35, 1.0) * h])
    mask = np.zeros(shape, np.uint8)
    cv2.line(mask, pixel(start), pixel(palm), 255, max(1, round(unit * 1.5)), cv2.LINE_AA)
    ahead = np.arctan2(*(palm - start)[::-1])
    cv2.circle(mask, pixel(palm), max(1, round(unit)), 255, -1, cv2.LINE_AA)
    for finger in range(int(rng.choice([1, 4, 5]))):
        angle = ahead + np.radians((finger - 1.5) * 16 + rng.normal(0, 6))
        root = palm + unit * 0.7 * np.array([np.cos(angle), np.sin(angle)])
        tip = palm + unit * rng.uniform(1.5, 2.6) * np.array([np.cos(angle), np.sin(angle)])
        cv2.line(mask, pixel(root), pixel(tip), 255, max(1, round(unit * 0.48)), cv2.LINE_AA)
    return mask


def printed_over(image: Image, rng: np.random.Generator) -> Image:
    """Print a pale line of letters across the picture, as shops and photographers do."""
    h, w = image.shape[:2]
    word = "".join(rng.choice(list("ABCDEFGHIKLMNOPRSTUVW.-"), int(rng.integers(5, 18))))
    layer = np.zeros((h, w), np.uint8)
    size = w / len(word) / 18
    cv2.putText(
        layer, word, (0, h // 2), int(rng.integers(0, 8)), size, 255, max(1, round(size * 2)), cv2.LINE_AA
    )
    tilt = cv2.getRotationMatrix2D((w / 2, h / 2), rng.uniform(-40, 40), rng.uniform(0.5, 1.1))
    tilt[:, 2] += np.asarray(rng.normal(0, 0.2, 2) * (w, h))
    turned = cv2.warpAffine(layer, tilt, (w, h))
    share = turned[..., None].astype(np.float32) / 255 * np.float32(rng.uniform(0.1, 0.5))
    tone = float(rng.choice([0.0, 120.0, 255.0]))
    return np.asarray(image + (tone - image) * share, np.uint8)
