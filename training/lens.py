"""What lens, sensor and file format do to a picture. Nothing here moves a pixel's place."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.solids import Image, pixel


def photographed(image: Image, rng: np.random.Generator, *, detail: float, heavy: float = 0.05) -> Image:
    """Return the picture as a phone or camera would have stored it.

    Args:
        detail: pixels of the smallest thing that should stay legible, about the width of a tile: blur is
            kept to a share of it.
        heavy: chance that each fault is drawn from its strong end.
    """
    strong = rng.random(6) < heavy
    room = float(np.clip(detail / 45, 0.3, 1.6))
    image = _blurred(image, rng, strong[0], room)
    if rng.random() < 0.08 or strong[1]:
        image = _moved(image, rng, strong[1], room)
    if rng.random() < 0.2:
        image = _resampled(image, rng, strong[2] and detail > 60, room)
    image = _developed(image, rng, strong[3])
    if rng.random() < 0.6:
        image = _grainy(image, rng, strong[4])
    if rng.random() < 0.5:
        image = _sharpened(image, rng)
    if rng.random() < 0.15:
        image = _fringed(image, rng)
    if rng.random() < 0.8:
        image = _squeezed(image, rng, strong[5])
    return image


def _blurred(image: Image, rng: np.random.Generator, strong: bool, room: float) -> Image:
    """Miss the focus a little everywhere, and more away from one line of the picture."""
    sigma = (rng.uniform(0.8, 2.4) if strong else rng.uniform(-0.3, 0.55)) * room
    if sigma > 0.25:
        image = np.asarray(cv2.GaussianBlur(image, (0, 0), sigma), np.uint8)
    if rng.random() < 0.15:
        h = len(image)
        far = cv2.GaussianBlur(image, (0, 0), rng.uniform(1, 3) * room)
        y = np.linspace(0, 1, h, dtype=np.float32)[:, None, None]
        share = np.clip((np.abs(y - rng.uniform(0.3, 0.8)) - rng.uniform(0.1, 0.35)) * 4, 0, 1)
        image = (image + (far.astype(np.float32) - image) * share).astype(np.uint8)
    return image


def _moved(image: Image, rng: np.random.Generator, strong: bool, room: float) -> Image:
    """Shake the camera along a line."""
    length = 1 + (rng.uniform(2, 7) if strong else rng.uniform(0.2, 2.5)) * room
    size = 2 * int(np.ceil(length / 2)) + 1
    kernel = np.zeros((size, size), np.float32)
    step = np.array([np.cos(a := rng.uniform(0, np.pi)), np.sin(a)]) * length / 2
    middle = np.array([size // 2, size // 2])
    cv2.line(kernel, pixel(middle - step, 16), pixel(middle + step, 16), 1.0, 1, cv2.LINE_AA, 4)
    return np.asarray(cv2.filter2D(image, -1, kernel / max(kernel.sum(), 1e-6)), np.uint8)


def _resampled(image: Image, rng: np.random.Generator, strong: bool, room: float) -> Image:
    """Lose detail by scaling down and up again."""
    h, w = image.shape[:2]
    scale = rng.uniform(0.3, 0.55) if strong else rng.uniform(max(0.5, 0.9 - 0.4 * room), 0.95)
    ways = (cv2.INTER_AREA, cv2.INTER_LINEAR, cv2.INTER_CUBIC)
    small = cv2.resize(image, None, fx=scale, fy=scale, interpolation=ways[int(rng.integers(2))])
    return np.asarray(cv2.resize(small, (w, h), interpolation=ways[int(rng.integers(1, 3))]), np.uint8)


def _developed(image: Image, rng: np.random.Generator, strong: bool) -> Image:
    """Expose as a camera does, by the brightest parts more or less, then balance and grade."""
    spread = 2.5 if strong else 1.0
    white = max(float(np.percentile(image[::7, ::7], 99)), 1.0)
    exposure = np.exp(rng.normal(np.log(235), 0.1 * spread)) / white
    warm = rng.normal(0, 0.035 * spread) if rng.random() < 0.85 else rng.uniform(-0.12, 0.28)
    gains = exposure * np.exp(rng.normal(0, 0.015 * spread, 3)) * np.array([1 - warm, 1, 1 + warm])
    gamma = np.exp(rng.normal(0, 0.14 * spread))
    lift = rng.uniform(0, 18) if rng.random() < 0.15 else 0.0
    contrast = rng.normal(0.15, 0.25)
    ramp = np.arange(256) / 255
    curve = ramp**gamma
    curve = curve + contrast * curve * (1 - curve) * (2 * curve - 1)
    table = np.clip(curve[:, None] * gains * (255 - lift) + lift, 0, 255).astype(np.uint8)
    image = np.asarray(cv2.LUT(image, table[None]), np.uint8)
    if rng.random() < 0.2:
        grey = cv2.cvtColor(cv2.cvtColor(image, cv2.COLOR_BGR2GRAY), cv2.COLOR_GRAY2BGR)
        keep = rng.uniform(0, 1.4) if rng.random() < 0.35 else rng.uniform(0.6, 1.4)
        image = np.asarray(cv2.addWeighted(image, keep, grey, 1 - keep, 0), np.uint8)
    return _vignetted(image, rng) if rng.random() < 0.4 else image


def _vignetted(image: Image, rng: np.random.Generator) -> Image:
    """Darken the corners."""
    h, w = image.shape[:2]
    x = np.linspace(-1, 1, w, dtype=np.float32) ** 2
    y = np.linspace(-1, 1, h, dtype=np.float32)[:, None] ** 2
    gain = 1 - rng.uniform(0.05, 0.35) * (x + y) / 2
    return (image * gain[..., None]).astype(np.uint8)


def _grainy(image: Image, rng: np.random.Generator, strong: bool) -> Image:
    """Add sensor noise, in brightness and in colour, fine or blotchy."""
    h, w = image.shape[:2]
    sigma = rng.uniform(6, 18) if strong else float(np.exp(rng.uniform(np.log(0.4), np.log(3.5))))
    coarse = rng.uniform(1, 2.2) if rng.random() < 0.5 else 1.0
    shape = (int(np.ceil(h / coarse)), int(np.ceil(w / coarse)))
    grain = rng.standard_normal((*shape, 1), np.float32) * np.float32(sigma)
    tint = rng.standard_normal((shape[0] // 2 + 1, shape[1] // 2 + 1, 3), np.float32)
    total = grain + cv2.resize(tint, shape[::-1]) * np.float32(sigma * rng.uniform(0.1, 0.5))
    if coarse > 1:
        total = cv2.resize(total, (w, h), interpolation=cv2.INTER_CUBIC)
    return np.asarray(cv2.add(image, total, dtype=cv2.CV_8U), np.uint8)


def _sharpened(image: Image, rng: np.random.Generator) -> Image:
    """Sharpen as phones do, with halos."""
    amount = rng.uniform(0.2, 1.6)
    soft = cv2.GaussianBlur(image, (0, 0), rng.uniform(0.6, 1.8))
    return np.asarray(cv2.addWeighted(image, 1 + amount, soft, -amount, 0), np.uint8)


def _fringed(image: Image, rng: np.random.Generator) -> Image:
    """Scale red and blue apart: coloured edges towards the corners."""
    h, w = image.shape[:2]
    planes = list(cv2.split(image))
    for plane in (0, 2):
        scale = 1 + rng.normal(0, 0.0012)
        shift = [(1 - scale) * w / 2, (1 - scale) * h / 2]
        matrix = np.array([[scale, 0, shift[0]], [0, scale, shift[1]]])
        planes[plane] = cv2.warpAffine(planes[plane], matrix, (w, h), borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(cv2.merge(planes), np.uint8)


def _squeezed(image: Image, rng: np.random.Generator, strong: bool) -> Image:
    """Store as JPEG and load again."""
    quality = int(rng.uniform(25, 50) if strong else rng.uniform(50, 96))
    stored: NDArray[np.uint8] = cv2.imencode(".jpg", image, [cv2.IMWRITE_JPEG_QUALITY, quality])[1]
    return np.asarray(cv2.imdecode(stored, cv2.IMREAD_COLOR), np.uint8)
