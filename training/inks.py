"""The inks of one physical set.

Colour says little about a tile: what one set prints green another prints blue or black, red may be brick
or magenta, and old sets fade. So the four inks are drawn widely, and sometimes two of them are one.
"""

from __future__ import annotations

import colorsys
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

RGB = tuple[int, int, int]

# Hue in turns, saturation and value: the lowest and the highest that a set is seen with.
_RANGES: Final = {
    "red": ((0.94, 1.045), (0.62, 1.0), (0.32, 0.88)),
    "green": ((0.25, 0.50), (0.42, 1.0), (0.10, 0.64)),
    "blue": ((0.52, 0.72), (0.42, 1.0), (0.12, 0.78)),
    "black": ((0.0, 1.0), (0.0, 0.4), (0.02, 0.26)),
}


@dataclass(frozen=True, slots=True)
class Inks:
    """The four inks of one set, each an RGB tuple of 0 to 255."""

    red: RGB
    green: RGB
    blue: RGB
    black: RGB


def sample_inks(rng: np.random.Generator) -> Inks:
    """Draw the inks of one set: usually near their names, sometimes traded, merged or all one."""
    inks = Inks(**{name: _sample(rng, name) for name in _RANGES})
    habit = rng.random()
    if habit < 0.08:
        return replace(inks, blue=inks.black)
    if habit < 0.14:
        return replace(inks, green=inks.blue)
    if habit < 0.20:
        return replace(inks, green=inks.black)
    if habit < 0.25:
        return replace(inks, blue=inks.green)
    if habit < 0.28:
        return replace(inks, green=inks.black, blue=inks.black)
    if habit < 0.31:
        return replace(inks, black=inks.blue)
    if habit < 0.39:  # the free colours of modern designers
        return replace(inks, black=_sample(rng, "black"), blue=_any(rng), green=_any(rng), red=_any(rng))
    if habit < 0.405:
        only = _any(rng)
        return Inks(only, only, only, only)
    return inks


def sample_panel(rng: np.random.Generator) -> tuple[RGB, Inks | None] | None:
    """Draw the colour that covers the faces of a set made in colours: pastel, or dark with light inks of its own.

    Returns:
        None for most sets, whose faces are bare; else the colour, and the inks that it calls for, if any.
    """
    habit = rng.random()
    if habit < 0.025:
        return _rgb(float(rng.random()), float(rng.uniform(0.08, 0.4)), float(rng.uniform(0.85, 1.0))), None
    if habit < 0.045:
        dark = _rgb(float(rng.random()), float(rng.uniform(0.0, 0.9)), float(rng.uniform(0.03, 0.35)))
        light = (_rgb(float(rng.random()), float(rng.uniform(0.0, 0.6)), float(rng.uniform(0.75, 1.0))) for _ in range(4))
        return dark, Inks(*light)
    return None


def sample_edging(rng: np.random.Generator) -> RGB:
    """Draw the ink that edges all others in a few sets: gold as often as any other."""
    if rng.random() < 0.5:
        return _rgb(float(rng.uniform(0.09, 0.14)), float(rng.uniform(0.4, 0.9)), float(rng.uniform(0.55, 0.9)))
    return _any(rng)


def _sample(rng: np.random.Generator, name: str) -> RGB:
    hue, saturation, value = _RANGES[name]
    deep = float(rng.uniform()) ** 1.3  # more inks are dark than light
    return _rgb(
        float(rng.uniform(*hue)) % 1.0, float(rng.uniform(*saturation)), value[0] + (value[1] - value[0]) * deep
    )


def _any(rng: np.random.Generator) -> RGB:
    """Any ink dark or strong enough to read on a light tile."""
    return _rgb(float(rng.random()), float(rng.uniform(0.4, 1.0)), float(rng.uniform(0.1, 0.85)))


def _rgb(hue: float, saturation: float, value: float) -> RGB:
    red, green, blue = (round(255 * c) for c in colorsys.hsv_to_rgb(hue, saturation, value))
    return red, green, blue
