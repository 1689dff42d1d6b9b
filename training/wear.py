"""What hand and years do to a face: unsteady lines, rough edges, faded and chipped ink."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.artboard import HEIGHT, WIDTH
from tilewitness.training.inks import Inks


@dataclass(frozen=True, slots=True)
class HandStyle:
    """How steadily one set was made, and how worn it is.

    Attributes:
        wobble: standard deviation in pixels by which each dot, stick or character strays.
        warp: largest smooth distortion in pixels.
        roughness: 0 for clean printed edges, 1 for ragged ones.
        turn: standard deviation in degrees by which a whole face is turned.
        shift: the same in pixels, by which it stands off its middle.
        fade: mean part of the ink that is gone.
        chips: how much of it flakes off in spots, 0 to 1.
        drift: standard deviation in steps of 255 by which a tile's inks differ from the set's.
    """

    wobble: float
    warp: float
    roughness: float
    turn: float
    shift: float
    fade: float
    chips: float
    drift: float


def sample_hand(rng: np.random.Generator) -> HandStyle:
    """Fix one set's making: about half are printed or moulded, the others cut by hand; some are worn."""
    by_hand = rng.random() < 0.55
    worn = rng.random() < 0.24
    return HandStyle(
        wobble=float(rng.uniform(0.4, 2.6)) if by_hand else 0.0,
        warp=float(rng.uniform(0.5, 4.0)) if by_hand else 0.0,
        roughness=float(rng.uniform(0.1, 0.9)) if by_hand and rng.random() < 0.6 else 0.0,
        turn=float(rng.uniform(0.2, 2.0)) if by_hand else float(rng.uniform(0, 0.5)),
        shift=float(rng.uniform(0.5, 3.5)) if by_hand else float(rng.uniform(0, 1.2)),
        fade=float(rng.uniform(0.0, 0.38)) if worn else float(rng.uniform(0, 0.08)),
        chips=float(rng.uniform(0.1, 0.8)) if worn and rng.random() < 0.7 else 0.0,
        drift=float(rng.uniform(2, 14)) if by_hand and rng.random() < 0.5 else 0.0,
    )


def remixed(inks: Inks, hand: HandStyle, rng: np.random.Generator) -> Inks:
    """The set's inks as they came out on one tile."""
    if not hand.drift:
        return inks
    names = ("red", "green", "blue", "black")
    moved = (np.clip(getattr(inks, name) + rng.normal(0, hand.drift, 3), 0, 255) for name in names)
    return Inks(*((int(r), int(g), int(b)) for r, g, b in moved))


def handled(face: NDArray[np.uint8], hand: HandStyle, rng: np.random.Generator) -> NDArray[np.uint8]:
    """Turn, shift and warp a premultiplied face as an unsteady hand does."""
    if hand.warp < 0.3 and hand.turn < 0.15 and hand.shift < 0.3:
        return face
    angle, dx, dy = rng.normal(0, hand.turn), rng.normal(0, hand.shift), rng.normal(0, hand.shift)
    matrix = cv2.getRotationMatrix2D((WIDTH / 2, HEIGHT / 2), angle, 1.0)
    matrix[:, 2] += np.clip((dx, dy), -8, 8)
    if hand.warp < 0.3:
        return np.asarray(cv2.warpAffine(face, matrix, (WIDTH, HEIGHT), flags=cv2.INTER_LINEAR))
    coarse = rng.uniform(-hand.warp, hand.warp, (7, 6, 2)).astype(np.float32)
    field = cv2.resize(coarse, (WIDTH, HEIGHT), interpolation=cv2.INTER_CUBIC)
    back = cv2.invertAffineTransform(matrix).astype(np.float32)
    source = cv2.transform(_grid(), back) + field
    return np.asarray(cv2.remap(face, source[:, :, 0], source[:, :, 1], cv2.INTER_LINEAR))


def worn(face: NDArray[np.uint8], hand: HandStyle, rng: np.random.Generator) -> NDArray[np.uint8]:
    """Roughen, fade and chip the alpha of a straight-alpha face, in place."""
    alpha = face[:, :, 3]
    if hand.roughness > 0.05:
        grain = _noise(1.6)[_window(rng)]
        rough = cv2.addWeighted(alpha, 1.9, grain, 1.1 * hand.roughness, -115 - 140 * hand.roughness)
        alpha = np.asarray(cv2.addWeighted(alpha, 0.35, cv2.min(rough, alpha), 0.65, 0))
    keep = 1.0 - min(max(float(rng.normal(hand.fade, hand.fade / 3)), 0.0), 0.55)
    if hand.chips and rng.random() < 0.7:
        patches = _noise(float(rng.choice([3.0, 9.0, 36.0])))[_window(rng)]
        limit = 128 + 95 * (1 - hand.chips * rng.uniform(0.3, 1.0))
        gone = np.clip((patches.astype(np.float32) - limit) / 14, 0, 1) * rng.uniform(0.4, 0.9)
        alpha = (alpha * (keep * (1 - gone))).astype(np.uint8)
    elif keep < 0.97:
        alpha = np.asarray(cv2.convertScaleAbs(alpha, alpha=keep), np.uint8)
    face[:, :, 3] = alpha
    return face


@cache
def _grid() -> NDArray[np.float32]:
    x, y = np.meshgrid(np.arange(WIDTH, dtype=np.float32), np.arange(HEIGHT, dtype=np.float32))
    return np.stack([x, y], axis=2)


@cache
def _noise(size: float) -> NDArray[np.uint8]:
    """A fixed sheet of grey noise, twice as large as a face, with grains of about `size` pixels."""
    white = np.random.default_rng(round(size * 10)).normal(0, 1, (2 * HEIGHT, 2 * WIDTH)).astype(np.float32)
    soft = cv2.GaussianBlur(white, (0, 0), size)
    return np.asarray(np.clip(128 + 42 * (soft - soft.mean()) / soft.std(), 0, 255), np.uint8)


def _window(rng: np.random.Generator) -> tuple[slice, slice]:
    top, left = int(rng.integers(HEIGHT)), int(rng.integers(WIDTH))
    return slice(top, top + HEIGHT), slice(left, left + WIDTH)
