"""Characters cut stroke by stroke, so that no two sets share a hand as they would share a font.

Only training sets use these; the held-out split stays with families of its own.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.glyphs import ARTWORK, Mask, trimmed

Points = NDArray[np.float64]
_SHIFT: Final = 4


@dataclass(frozen=True, slots=True)
class Hand:
    """One carver's hand; lengths are parts of the character's height.

    Attributes:
        width: thickness of a stroke.
        flat: thickness of level strokes over that of upright ones.
        swell: how much strokes thicken at both ends and thin between (below 0: the reverse).
        taper: how far strokes that fall to the left or end in a hook come to a point, 0 to 1.
        corners: how often corners are cut off towards a curve, 0 to 3 times.
        stray: how far points of a stroke stray from the model.
        link: how often the brush does not leave the ground between two strokes, 0 to 1.
        bow: how far level strokes rise to the right, as a slope.
        seed: fixes the straying, so that the four tiles of a face look alike.
    """

    width: float
    flat: float
    swell: float
    taper: float
    corners: int
    stray: float
    link: float
    bow: float
    seed: int


def sample_hand(rng: np.random.Generator) -> Hand:
    """Draw one carver's hand: from a fine graver to a broad brush."""
    return Hand(
        width=float(rng.uniform(0.035, 0.12)),
        flat=float(rng.uniform(0.5, 1.1)),
        swell=float(rng.uniform(-0.2, 0.9)),
        taper=float(rng.uniform(0.0, 0.85)),
        corners=int(rng.integers(0, 4)),
        stray=float(rng.uniform(0.0, 0.036)),
        link=float(rng.uniform(0.2, 0.8)) if rng.random() < 0.3 else 0.0,
        bow=float(rng.normal(0.0, 0.08)),
        seed=int(rng.integers(2**31)),
    )


def can_carve(text: str) -> bool:
    """Whether every character of a text has a model of its strokes."""
    return set(text) <= _models().keys()


def carve(character: str, hand: Hand, height: float) -> Mask:
    """Return one character as an alpha mask trimmed to its ink, cut to an em of `height` pixels.

    Raises:
        KeyError: the character has no model (`can_carve`).
    """
    forms = _models()[character]
    strokes = forms[hand.seed % len(forms)]
    rng = np.random.default_rng((hand.seed, ord(character)))
    size = round(height * 1.3)
    mask = np.zeros((size, size), np.uint8)
    widest = hand.width * (1.0 if len(strokes) < 8 else 0.72) * height  # many strokes leave less room for each
    before: Points | None = None
    for stroke in strokes:
        points = stroke + rng.normal(0, hand.stray, 2) + rng.normal(0, hand.stray / 2, stroke.shape)
        points[:, 1] -= hand.bow * (points[:, 0] - 0.5)
        path = (_rounded(points, hand.corners) + 0.15) * height
        if before is not None and rng.random() < hand.link and np.linalg.norm(path[0] - before) < 0.45 * height:
            _cut(mask, np.stack([before, path[0]]), False, widest * 0.4, hand)
        _cut(mask, path, _is_level(stroke), widest, hand)
        before = path[-1]
    return trimmed(mask)


def _cut(mask: Mask, points: Points, level: bool, width: float, hand: Hand) -> None:
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    count = max(round(along[-1] / max(width * 0.7, 2.0)), 6)
    t = np.linspace(0, 1, count)
    path = np.stack([np.interp(t * along[-1], along, points[:, axis]) for axis in (0, 1)], axis=1)
    widths = width * (1 + hand.swell * (np.abs(2 * t - 1) ** 1.6 - 0.5))
    if level:
        widths *= hand.flat
    else:
        widths *= 1 - hand.taper * np.clip((t - 0.45) / 0.55, 0, 1) ** 1.5
    fixed = np.round(path * (1 << _SHIFT)).astype(int)
    for start, end, thick in zip(fixed[:-1], fixed[1:], (widths[1:] + widths[:-1]) / 2, strict=True):
        ends = (int(start[0]), int(start[1])), (int(end[0]), int(end[1]))
        cv2.line(mask, *ends, 255, max(round(float(thick)), 1), cv2.LINE_AA, _SHIFT)


def _is_level(stroke: Points) -> bool:
    across, down = np.abs(stroke[-1] - stroke[0])
    return bool(across > 2.5 * down)


def _rounded(points: Points, times: int) -> Points:
    """Cut off corners, each time halving what is left of them. Source: Chaikin 1974."""
    for _ in range(times):
        ahead = points[:-1] * 0.75 + points[1:] * 0.25
        behind = points[:-1] * 0.25 + points[1:] * 0.75
        middle = np.stack([ahead, behind], axis=1).reshape(-1, 2)
        points = np.concatenate([points[:1], middle, points[-1:]])
    return points


@cache
def _models() -> dict[str, tuple[tuple[Points, ...], ...]]:
    """The forms of every character, each its strokes as points in a unit square."""
    lines = tomllib.loads((ARTWORK / "strokes.toml").read_text(encoding="utf-8"))
    return {
        character: tuple(_strokes(form) for form in ([forms] if isinstance(forms, str) else forms))
        for character, forms in lines.items()
    }


def _strokes(form: str) -> tuple[Points, ...]:
    return tuple(
        np.array([[float(v) for v in point.split(",")] for point in stroke.split()]) / 100
        for stroke in form.split(";")
    )
