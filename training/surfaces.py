"""Procedural surfaces: table tops, cloths, walls and wood, as uint8 (h, w, 3) BGR images."""

from __future__ import annotations

import colorsys
from collections.abc import Callable

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.solids import Colour, Floats, Image, pixel

SIDE = 640


def noise(
    rng: np.random.Generator, shape: tuple[int, int], cells: float, octaves: int = 3, stretch: float = 1.0
) -> Floats:
    """Return smooth noise of mean 0 and deviation 1; `cells` blobs across the width, `stretch`ed along x."""
    h, w = shape
    total = np.zeros((h, w), np.float32)
    for octave in range(octaves):
        across = max(2, min(w, round(cells * 2**octave / stretch)))
        down = max(2, min(h, round(cells * 2**octave * h / w)))
        grid = rng.standard_normal((down, across), np.float32)
        total += cv2.resize(grid, (w, h), interpolation=cv2.INTER_CUBIC) * 0.55**octave
    return np.asarray((total - total.mean()) / (total.std() + 1e-6), np.float32)


def colour(
    rng: np.random.Generator,
    saturation: tuple[float, float] = (0.0, 0.7),
    value: tuple[float, float] = (0.1, 0.95),
    hue: float | None = None,
) -> Colour:
    """Return a random BGR colour; hue 0–1 is free unless given."""
    h = rng.random() if hue is None else (hue + rng.normal(0, 0.02)) % 1.0
    low, high = saturation
    s = low + (high - low) * rng.beta(1.1, 1.9)  # strong colours are the rarer ones
    r, g, b = colorsys.hsv_to_rgb(h, s, rng.uniform(*value))
    return b * 255, g * 255, r * 255


def tinted(base: Colour, light: NDArray[np.floating]) -> Image:
    """Return an image of one colour whose brightness is scaled by `light` (h, w), around 1."""
    return np.asarray(np.clip(light[..., None] * np.asarray(base, np.float32), 0, 255), np.uint8)


def blended(first: Image, second: Image, share: NDArray[np.floating]) -> Image:
    """Mix two images by `share` (h, w) of the second, 0–1."""
    mask = np.clip(share, 0, 1).astype(np.float32)[..., None]
    return np.asarray(first + (second.astype(np.float32) - first) * mask, np.uint8)


def wood(
    rng: np.random.Generator, shape: tuple[int, int] = (SIDE, SIDE), base: Colour | None = None
) -> Image:
    """Wood with grain along x, as one board or in planks."""
    base = base or colour(rng, (0.25, 0.75), (0.15, 0.85), hue=rng.uniform(0.03, 0.11))
    grain = noise(rng, shape, rng.uniform(20, 90), 3, stretch=rng.uniform(12, 40))
    rings = np.sin(noise(rng, shape, 5, 2, stretch=6) * rng.uniform(2, 9) + grain * 0.6)
    light = 1 + rng.uniform(0.02, 0.10) * grain + rng.uniform(0, 0.10) * rings
    if rng.random() < 0.4:
        planks = int(rng.integers(2, 9))
        which = np.arange(shape[0]) * planks // shape[0]
        light = light * rng.uniform(0.85, 1.12, planks)[which][:, None]
        light[np.flatnonzero(np.diff(which)), :] *= 0.5
    return tinted(base, light)


def felt(rng: np.random.Generator) -> Image:
    """Felt or fleece: one colour, fine fibres."""
    base = colour(rng, (0.1, 0.85), (0.08, 0.7))
    fibres = noise(rng, (SIDE, SIDE), 320, 1) * rng.uniform(0.01, 0.06)
    return tinted(base, 1 + fibres + noise(rng, (SIDE, SIDE), 6, 3) * rng.uniform(0.0, 0.06))


def weave(rng: np.random.Generator) -> Image:
    """Woven cloth: threads in both directions, sometimes stripes or checks of a second colour."""
    y, x = np.mgrid[:SIDE, :SIDE].astype(np.float32)
    pitch = rng.uniform(0.6, 2.6)
    threads = np.sin(x * pitch) * np.sin(y * pitch)
    light = 1 + rng.uniform(0.01, 0.09) * threads + 0.03 * noise(rng, (SIDE, SIDE), 120, 2)
    image = tinted(colour(rng, (0, 0.8), (0.1, 0.98)), light)
    if rng.random() < 0.6:
        period, width = rng.uniform(40, 320), rng.uniform(0.1, 0.6)
        share = ((x % period) < width * period).astype(np.float32)
        if rng.random() < 0.5:
            share = (share + ((y % period) < width * period)) / 2
        image = blended(image, tinted(colour(rng, (0, 0.9), (0.1, 0.95)), light), share)
    return image


def blotches(rng: np.random.Generator) -> Image:
    """A print of blobs in two or three colours: leaves, cow hide, camouflage, marble clouds."""
    image = tinted(colour(rng, (0, 0.7), (0.1, 0.98)), 1 + 0.05 * noise(rng, (SIDE, SIDE), 200, 2))
    for _ in range(int(rng.integers(1, 4))):
        field = noise(rng, (SIDE, SIDE), rng.uniform(4, 40), int(rng.integers(1, 4)), rng.uniform(0.4, 2.5))
        edge = rng.uniform(1, 12)
        ink = tinted(colour(rng, (0, 0.8), (0.1, 0.95)), np.ones((SIDE, SIDE), np.float32))
        image = blended(image, ink, 0.5 + edge * (field - rng.uniform(0.2, 1.2)))
    return image


def motifs(rng: np.random.Generator) -> Image:
    """A printed tablecloth: a figure repeated on a grid, upright or staggered, like flowers or dots."""
    image = tinted(colour(rng, (0, 0.6), (0.15, 0.98)), 1 + 0.05 * noise(rng, (SIDE, SIDE), 250, 1))
    inks = [colour(rng, (0.1, 0.9), (0.1, 0.95)) for _ in range(3)]
    step, size = rng.uniform(45, 160), rng.uniform(0.12, 0.42)
    petals, stagger = int(rng.integers(0, 9)), rng.random() < 0.6
    for i, y in enumerate(np.arange(-step, SIDE + step, step)):
        for x in np.arange(-step, SIDE + step, step):
            at = np.array([x + (step / 2 if stagger and i % 2 else 0), y])
            _motif(image, at, step * size, petals, inks, rng.uniform(0, 6.28))
    return image


def _motif(
    image: Image, at: NDArray[np.floating], radius: float, petals: int, inks: list[Colour], phase: float
) -> None:
    """Paint one figure: a disc, or petals about a disc."""
    if petals < 3:
        cv2.circle(image, pixel(at), round(radius), inks[0], -1, cv2.LINE_AA)
        return
    for angle in phase + np.arange(petals) * 2 * np.pi / petals:
        middle = at + 0.6 * radius * np.array([np.cos(angle), np.sin(angle)])
        axes = (max(1, round(radius * 0.5)), max(1, round(radius * 0.25)))
        cv2.ellipse(image, pixel(middle), axes, float(np.degrees(angle)), 0, 360, inks[0], -1, cv2.LINE_AA)
    cv2.circle(image, pixel(at), max(1, round(radius * 0.25)), inks[1], -1, cv2.LINE_AA)


def lattice(rng: np.random.Generator) -> Image:
    """Things that look like rows of tiles but are none: bricks, floor tiles, window panes, keys, checks."""
    rows, columns = int(rng.integers(3, 16)), int(rng.integers(3, 16))
    h, w = SIDE / rows, SIDE / columns
    joint = rng.uniform(0.02, 0.18) * min(h, w)
    y, x = np.mgrid[:SIDE, :SIDE].astype(np.float32)
    row = np.minimum((y / h).astype(np.int32), rows - 1)
    x = (x + row * (w * rng.choice([0.0, 0.5]))) % SIDE
    column = np.minimum((x / w).astype(np.int32), columns - 1)
    away = np.minimum(np.minimum(x % w, w - x % w), np.minimum(y % h, h - y % h))
    inside = np.clip((away - joint) * rng.uniform(0.3, 2), 0, 1)
    shade = rng.uniform(1 - rng.uniform(0, 0.35), 1.1, (rows, columns))[row, column]
    light = shade * (1 + rng.uniform(0, 0.08) * noise(rng, (SIDE, SIDE), 60, 3))
    return blended(
        tinted(colour(rng, (0, 0.5), (0.05, 0.95)), light * 0 + 1),
        tinted(colour(rng, (0, 0.7), (0.2, 1.0)), light),
        inside,
    )


def marble(rng: np.random.Generator) -> Image:
    """Marble, stone or leather: clouds with veins or pores."""
    clouds = noise(rng, (SIDE, SIDE), rng.uniform(4, 60), 5)
    veins = np.exp(-np.abs(noise(rng, (SIDE, SIDE), rng.uniform(3, 20), 4)) * rng.uniform(8, 40))
    light = 1 + rng.uniform(0.01, 0.1) * clouds - rng.uniform(-0.3, 0.5) * veins
    return tinted(colour(rng, (0, 0.5), (0.15, 0.98)), light)


def plain(rng: np.random.Generator) -> Image:
    """Plastic, paper or a painted board: nearly one colour."""
    light = 1 + rng.uniform(0, 0.04) * noise(rng, (SIDE, SIDE), rng.uniform(2, 300), 3)
    return tinted(colour(rng, (0, 0.8), (0.05, 1.0)), light)


def white(rng: np.random.Generator) -> Image:
    """A white or pale grey sheet, as behind goods for sale."""
    grey = rng.uniform(225, 258)
    light = 1 + rng.uniform(0, 0.01) * noise(rng, (SIDE, SIDE), 3, 1)
    return tinted((grey + rng.normal(0, 3), grey, grey + rng.normal(0, 3)), light)


def clouds(rng: np.random.Generator) -> Image:
    """Blurred colours of every kind: rugs out of focus, paintings, anything."""
    light = noise(rng, (SIDE, SIDE), rng.uniform(2, 60), 4)[..., None] * rng.uniform(5, 50)
    parts = [noise(rng, (SIDE, SIDE), rng.uniform(2, 30), 2) for _ in range(3)]
    image = light + np.stack(parts, -1) * rng.uniform(0, 12) + np.asarray(colour(rng, (0, 0.6), (0.2, 0.9)))
    return np.asarray(np.clip(image, 0, 255), np.uint8)


_MAKERS: tuple[tuple[Callable[[np.random.Generator], Image], float], ...] = (
    (wood, 0.2),
    (felt, 0.2),
    (weave, 0.13),
    (blotches, 0.1),
    (motifs, 0.08),
    (lattice, 0.03),
    (marble, 0.09),
    (plain, 0.08),
    (white, 0.05),
    (clouds, 0.04),
)


def sample_surface(rng: np.random.Generator) -> Image:
    """Return the texture of some table top or cloth, uint8 (SIDE, SIDE, 3)."""
    weights = np.array([weight for _, weight in _MAKERS])
    maker, _ = _MAKERS[int(rng.choice(len(_MAKERS), p=weights / weights.sum()))]
    return maker(rng)


def sample_backdrop(rng: np.random.Generator, shape: tuple[int, int]) -> Image:
    """Return what stands behind the table, out of focus or not: a wall, a room, lights, shelves, windows."""
    h, w = shape
    base = cv2.resize((clouds if rng.random() < 0.5 else sample_surface)(rng), (w, h))
    for _ in range(int(rng.integers(0, 9))):
        corner = rng.uniform((0, 0), (w, h))
        far = corner + rng.uniform((0.03, 0.05), (0.4, 0.6)) * (w, h)
        cv2.rectangle(base, pixel(corner), pixel(far), colour(rng, (0, 0.7)), -1)
    for _ in range(int(rng.integers(0, 6)) if rng.random() < 0.3 else 0):
        at, radius = pixel(rng.uniform((0, 0), (w, h))), int(rng.uniform(0.005, 0.05) * w) + 1
        cv2.circle(base, at, radius, colour(rng, (0, 0.5), (0.8, 1)), -1)
    blur = rng.uniform(0, 0.02) * w
    return np.asarray(cv2.GaussianBlur(base, (0, 0), blur) if blur > 1 else base, np.uint8)
