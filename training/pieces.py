"""What rows of look-alikes are made of: a family of equal pieces, and how one is coloured, edged and printed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import cv2
import numpy as np

from tilewitness.training.decoys import write_on
from tilewitness.training.glyphs import draw_text
from tilewitness.training.solids import Colour, Floats, Image
from tilewitness.training.surfaces import colour, noise, tinted

UNLIKE_TILES = "ABDHIKLMOPQTUVXYZabdhkmqrty"
"""Single letters: none that stands alone on the tile of a wind, a dragon, a flower or a joker."""


@dataclass(frozen=True, slots=True)
class Family:
    """Pieces that belong together.

    Attributes:
        draw: paints one piece of (height, width) pixels.
        tall: its height over its width. thick: its thickness over its width. gap: usual gap over its width.
        halves: it falls into two squares, of which each may be taken for a tile.
        like_art: it shows a picture, as flowers and jokers do, or a tile's character: not for the reader.
    """

    draw: Callable[[np.random.Generator, int, int], Image]
    tall: float = 1.0
    thick: float = 0.3
    gap: float = 0.1
    halves: bool = False
    like_art: bool = False


def blank(rng: np.random.Generator, tone: Colour, h: int, w: int) -> Image:
    """A piece of one colour, a little lighter at one side, with a shaded edge."""
    light = 1 + rng.uniform(0, 0.03) * noise(rng, (h, w), 20, 2) + np.linspace(-0.04, 0.04, h)[:, None]
    return tinted(tone, light)


def edged(image: Image, tone: Colour, width: int) -> Image:
    """Outline a piece."""
    h, w = image.shape[:2]
    cv2.rectangle(image, (0, 0), (w - 1, h - 1), tone, width)
    return image


def darker(tone: Colour, share: float) -> Colour:
    """A colour times a share."""
    b, g, r = tone
    return b * share, g * share, r * share


def contrasting(rng: np.random.Generator, tone: Colour) -> Colour:
    """An ink that shows on this ground: dark on light, light on dark, grey or coloured."""
    if sum(tone) > 380:
        return colour(rng, (0, 1) if rng.random() < 0.5 else (0, 0.1), (0, 0.45))
    return colour(rng, (0, 0.9) if rng.random() < 0.3 else (0, 0.1), (0.75, 1))


def sample_tone(rng: np.random.Generator) -> Colour:
    """The colour of a piece: ivory, black, or any."""
    kind = rng.random()
    if kind < 0.4:
        return colour(rng, (0, 0.25), (0.8, 1), hue=0.12)
    return colour(rng, (0, 0.3), (0.03, 0.25)) if kind < 0.65 else colour(rng, (0, 0.95), (0.2, 0.95))


def print_sign(image: Image, text: str, family: str, size: float, at: Floats, ink: Colour) -> None:
    """Print a text with its middle at a share of the picture's sides."""
    mask = draw_text(text, family, max(3.0, size))
    x, y = at * image.shape[1::-1] - np.array(mask.shape[::-1]) / 2
    write_on(image, mask, (round(float(x)), round(float(y))), ink)


def sample_letter(rng: np.random.Generator) -> str:
    """One of `UNLIKE_TILES`."""
    return str(rng.choice(list(UNLIKE_TILES)))
