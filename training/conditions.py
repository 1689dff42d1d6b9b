"""Conditions of home photos, each at two strengths, to measure what a finished photo of tiles loses by them.

Written apart from what training draws (`effects`, `hardships`, `lens`, `light`, `blur`), and never drawn into a scene
that a network learns from: keep it so. Lengths are in widths of a tile, so a condition is as hard in a photo from afar
as in one from nearby. Strengths are ours, chosen by eye so that a person still reads nearly every tile.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

Image = NDArray[np.uint8]
Floats = NDArray[np.float32]

TUNGSTEN: Final = (0.32, 0.66, 1.0)
"""Light of a black body at 2700 K against one at 6500 K, linear BGR. Rounded, from memory of Planck's law."""


@dataclass(frozen=True, slots=True, eq=False)
class Photo:
    """A photo, uint8 (H, W, 3) BGR, with its tiles' corners, float32 (N, 4, 2), in pixels; at least one."""

    image: Image
    quads: Floats

    @property
    def middles(self) -> Floats:
        """Of the tiles, (N, 2)."""
        return np.asarray(self.quads.mean(1), np.float32)

    @property
    def width(self) -> float:
        """The usual width of a tile."""
        return float(np.median(np.linalg.norm(self.quads[:, 1] - self.quads[:, 0], axis=1)))

    @property
    def gloss(self) -> Floats:
        """How much each pixel (H, W) mirrors: tiles all, what is around them a quarter."""
        faces = np.full(self.image.shape[:2], 0.25, np.float32)
        cv2.fillPoly(faces, list(self.quads.round().astype(np.int32)), 1.0)
        return np.asarray(cv2.blur(faces, (3, 3)), np.float32)


Condition = Callable[[Photo, bool, np.random.Generator], Image]
"""Takes a photo and whether the strong form is wanted; returns the spoilt photo, which may be of another size."""


def _distance_to_paths(photo: Photo, paths: Sequence[NDArray[np.floating]]) -> Floats:
    """Return how far each pixel is from the nearest of some polylines (n, 2), in pixels."""
    ground = np.full(photo.image.shape[:2], 255, np.uint8)
    cv2.polylines(ground, [path.round().astype(np.int32) for path in paths], False, 0, 1)
    return np.asarray(cv2.distanceTransform(ground, cv2.DIST_L2, 5), np.float32)


def _mirrored(photo: Photo, image: Image, light: Floats, tint: Sequence[float] = (1, 1, 1)) -> Image:
    """Add light (H, W), 1 for white, where the photo mirrors, never beyond white."""
    left = 1 - (light * photo.gloss)[..., None].clip(0, 1) * np.asarray(tint, np.float32)
    return np.asarray(255 - (255 - image.astype(np.float32)) * left, np.uint8)


def _multiplied(image: Image, light: Floats) -> Image:
    return np.asarray((image * light[..., None]).clip(0, 255), np.uint8)


def _some(photo: Photo, count: int, rng: np.random.Generator) -> Floats:
    return photo.middles[rng.choice(len(photo.middles), min(count, len(photo.middles)), replace=False)]


def lamp(photo: Photo, strong: bool, rng: np.random.Generator) -> Image:
    """A tube mirrored in tiles that do not lie quite level: burnt-out bars with soft edges, nearly side by side."""
    bars, lean = [], rng.uniform(0, np.pi)
    for middle in _some(photo, 4 if strong else 2, rng):
        angle = lean + rng.normal(0, 0.15)
        half = photo.width * (1.2 if strong else 0.7) * np.array([np.cos(angle), np.sin(angle)])
        bars.append(np.stack([middle - half, middle + half]))
    away = _distance_to_paths(photo, bars) / photo.width
    return _mirrored(photo, photo.image, 1.25 / (1 + (away / (0.16 if strong else 0.12)) ** 4), (0.9, 0.97, 1))


def flash(photo: Photo, strong: bool, rng: np.random.Generator) -> Image:
    """The phone's own flash mirrored in one place, with a wide halo; the borders stay dark."""
    (middle,) = _some(photo, 1, rng)
    h, w = photo.image.shape[:2]
    y, x = np.mgrid[:h, :w].astype(np.float32)
    away = np.hypot(x - middle[0], y - middle[1])
    dark = _multiplied(photo.image, np.asarray(1.05 - 0.55 * np.minimum(1, away / max(h, w)) ** 1.2, np.float32))
    near = away / photo.width
    spot = 1.3 * np.exp(-((near / (0.6 if strong else 0.35)) ** 2)) + (0.35 if strong else 0.2) * np.exp(-near / 1.8)
    return _mirrored(photo, dark, np.asarray(spot, np.float32))


def window(photo: Photo, strong: bool, rng: np.random.Generator) -> Image:
    """A window with panes mirrored over several tiles, its edges nearly sharp."""
    (middle,) = _some(photo, 1, rng)
    panes = np.zeros(photo.image.shape[:2], np.float32)
    across, along = photo.width * np.array([1.1, 1.5])
    angle, skew = rng.normal(0, 0.3), rng.uniform(-0.4, 0.4)
    frame = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]]) @ np.array([[1, skew], [0, 1]])
    for column in (-1, 0, 1):
        for row in (-0.5, 0.5):
            square = np.array([[-0.45, -0.45], [0.45, -0.45], [0.45, 0.45], [-0.45, 0.45]]) + (column, row)
            cv2.fillPoly(panes, [(middle + (square * (across, along)) @ frame.T).round().astype(np.int32)], 1.0)
    soft = cv2.GaussianBlur(panes, (0, 0), 0.04 * photo.width)
    return _mirrored(photo, photo.image, np.asarray(soft * (0.7 if strong else 0.45), np.float32), (1, 0.97, 0.92))


def hard_shadow(photo: Photo, strong: bool, rng: np.random.Generator) -> Image:
    """The shadow of something straight in sunlight, right across the tiles, with a sharp edge."""
    (middle,) = _some(photo, 1, rng)
    angle = rng.uniform(0, np.pi)
    along, aside = np.array([np.cos(angle), np.sin(angle)]), np.array([-np.sin(angle), np.cos(angle)])
    reach, half = 4.0 * max(photo.image.shape), photo.width * rng.uniform(0.8, 2.5)
    corners = [middle + a * reach * along + b * half * aside for a, b in ((-1, -1), (1, -0.7), (1, 0.7), (-1, 1))]
    dark = np.zeros(photo.image.shape[:2], np.float32)
    cv2.fillPoly(dark, [np.array(corners).round().astype(np.int32)], 1.0)
    soft = cv2.GaussianBlur(dark, (0, 0), max(0.8, 0.02 * photo.width))
    return _multiplied(photo.image, np.asarray(1 - (0.75 if strong else 0.55) * soft, np.float32))


def hand_shadow(photo: Photo, strong: bool, rng: np.random.Generator) -> Image:
    """The shadow of a hand with a phone: a palm and fingers, soft at the edge."""
    (middle,) = _some(photo, 1, rng)
    unit, lean = photo.width, rng.normal(0, 0.4)
    fingers = []
    for finger in range(4):
        angle = lean - np.pi / 2 + (finger - 1.5) * 0.22
        root = middle + unit * np.array([(finger - 1.5) * 0.8, 1.0])
        fingers.append(np.stack([root, root + 3.2 * unit * np.array([np.cos(angle), np.sin(angle)])]))
    wrist = np.stack([middle + (0, 2.5 * unit), middle + (unit, 12 * unit)])
    inside = np.maximum(0.35 * unit - _distance_to_paths(photo, fingers), 1.9 * unit - _distance_to_paths(photo, [wrist]))
    dark = np.clip(inside / ((0.12 if strong else 0.3) * unit) + 0.5, 0, 1)
    return _multiplied(photo.image, np.asarray(1 - (0.7 if strong else 0.5) * dark, np.float32))


def tungsten(photo: Photo, strong: bool, rng: np.random.Generator) -> Image:
    """One warm lamp in a dark room: half balanced, amplified, photon noise, smoothed by the phone and sharpened."""
    linear = (photo.image / np.float32(255)) ** 2.2 * np.asarray(TUNGSTEN, np.float32) ** (0.75 if strong else 0.5)
    photons = 150.0 if strong else 500.0
    counted = rng.poisson(linear * photons) + rng.normal(0, 2.5, linear.shape)
    seen = (255 * (np.clip(counted / photons * (0.55 if strong else 0.75), 0, 1) ** (1 / 2.2))).astype(np.uint8)
    calm = cv2.fastNlMeansDenoisingColored(seen, None, 5 if strong else 4, 12, 5, 11)
    wide = cv2.GaussianBlur(calm, (0, 0), 1.5)
    return np.asarray(cv2.addWeighted(calm, 1.6, wide, -0.6, 0), np.uint8)


def mixed_light(photo: Photo, strong: bool, rng: np.random.Generator) -> Image:
    """A warm lamp from one side and a cold window from the other."""
    h, w = photo.image.shape[:2]
    angle = rng.uniform(0, 2 * np.pi)
    y, x = np.mgrid[:h, :w].astype(np.float32)
    share = 1 / (1 + np.exp(-5 * ((x / w - 0.5) * np.cos(angle) + (y / h - 0.5) * np.sin(angle))))[..., None]
    reach = 1.0 if strong else 0.5
    gains = np.array([0.5, 0.85, 1.05]) ** reach * share + np.array([1.15, 0.95, 0.6]) ** reach * (1 - share)
    return np.asarray((photo.image * gains).clip(0, 255), np.uint8)


def haze(photo: Photo, strong: bool, rng: np.random.Generator) -> Image:
    """A greasy lens against the light: little contrast, a glow around all that is bright, wiped to one side."""
    bright = np.asarray((photo.image / np.float32(255)) ** 2, np.float32)
    reach = 2 * round(1.5 * photo.width) + 1
    wiped = cv2.warpAffine(
        np.ones((reach, 1), np.float32) @ np.ones((1, 3), np.float32),
        cv2.getRotationMatrix2D((1, reach / 2), rng.uniform(-60, 60), 1) + np.array([[0, 0, reach / 2 - 1], [0, 0, 0]]),
        (reach, reach),
    )
    glow = cv2.filter2D(bright, -1, wiped / wiped.sum()) + cv2.blur(bright, (reach, reach))
    share = 0.45 if strong else 0.25
    seen = (1 - share) * photo.image + 255 * share * (0.45 * glow + 0.25)
    return np.asarray(seen.clip(0, 255), np.uint8)


def _stored(image: Image, quality: int) -> Image:
    file = cv2.imencode(".jpg", image, [cv2.IMWRITE_JPEG_QUALITY, quality])[1]
    return np.asarray(cv2.imdecode(file, cv2.IMREAD_COLOR), np.uint8)


def jpeg(photo: Photo, strong: bool, _: np.random.Generator) -> Image:
    """Stored at quality 30 or 20."""
    return _stored(photo.image, 20 if strong else 30)


def messenger(photo: Photo, strong: bool, _: np.random.Generator) -> Image:
    """Sent on: made smaller and stored at quality 60, twice if strong."""
    image = photo.image
    for long in (800, 640) if strong else (800,):
        scale = long / max(image.shape)
        image = _stored(np.asarray(cv2.resize(image, None, fx=scale, fy=scale, interpolation=cv2.INTER_LINEAR), np.uint8), 60)
    return image


def over_sharp(photo: Photo, strong: bool, _: np.random.Generator) -> Image:
    """"Improved": shadows lifted, local contrast and details exaggerated."""
    light, a, b = cv2.split(cv2.cvtColor(photo.image, cv2.COLOR_BGR2LAB))
    light = cv2.createCLAHE(4.0 if strong else 2.0, (6, 6)).apply(light)
    flat = cv2.cvtColor(cv2.merge([light, a, b]), cv2.COLOR_LAB2BGR)
    return np.asarray(cv2.detailEnhance(flat, sigma_s=8, sigma_r=0.3 if strong else 0.15), np.uint8)


def defocus(photo: Photo, strong: bool, _: np.random.Generator) -> Image:
    """Out of focus: a disc of a tenth or a fifth of a tile."""
    radius = photo.width / (11 if strong else 20)
    side = 2 * int(np.ceil(radius)) + 1
    disc = np.zeros((8 * side, 8 * side), np.float32)
    cv2.circle(disc, (4 * side, 4 * side), round(8 * radius), 1.0, -1)
    kernel = cv2.resize(disc, (side, side), interpolation=cv2.INTER_AREA)
    return np.asarray(cv2.filter2D(photo.image, -1, kernel / kernel.sum()), np.uint8)


def shake(photo: Photo, strong: bool, rng: np.random.Generator) -> Image:
    """Shaken along a bent path, a ninth or a fifth of a tile long."""
    length, angle, bend = photo.width / (4.5 if strong else 9), rng.uniform(0, np.pi), rng.normal(0, 0.5)
    moments = np.linspace(-0.5, 0.5, 15)
    path = length * np.stack([moments, bend * (moments**2 - 1 / 12)], 1)
    turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    total = np.zeros(photo.image.shape, np.float32)
    for x, y in path @ turn:
        moved = np.array([[1, 0, x], [0, 1, y]])
        total += cv2.warpAffine(photo.image, moved, photo.image.shape[1::-1], borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(total / len(path), np.uint8)


def zoom_blur(photo: Photo, strong: bool, _: np.random.Generator) -> Image:
    """Moved towards the tiles during the exposure: up to a tenth or a fifth of a tile at the picture's sides."""
    h, w = photo.image.shape[:2]
    reach = photo.width / (5 if strong else 10) / (max(h, w) / 2)
    total = np.zeros(photo.image.shape, np.float32)
    for moment in np.linspace(-0.5, 0.5, 15):
        matrix = cv2.getRotationMatrix2D((w / 2, h / 2), 0, float(1 + moment * reach))
        total += cv2.warpAffine(photo.image, matrix, (w, h), borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(total / 15, np.uint8)


CONDITIONS: Final[dict[str, Condition]] = {
    "lamp mirrored": lamp,
    "flash mirrored": flash,
    "window mirrored": window,
    "hard shadow": hard_shadow,
    "hand's shadow": hand_shadow,
    "tungsten, dim": tungsten,
    "mixed light": mixed_light,
    "haze, smeared lens": haze,
    "JPEG 30, 20": jpeg,
    "sent on": messenger,
    "over-sharpened": over_sharp,
    "out of focus": defocus,
    "shaken": shake,
    "zoom blur": zoom_blur,
}
