"""Where on the face a picture stands."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np

from tilewitness.training.copperplate import Box
from tilewitness.training.engraving import HEIGHT, WIDTH, Canvas, ellipse, fitted, warped
from tilewitness.training.woodcuts import recut

_RECUT_SHARE: Final = 0.12


def sample_box(rng: np.random.Generator) -> Box:
    """A box for the main picture: 60 to 98 % of the face, a little off its middle."""
    high, wide = rng.triangular(0.58, 0.93, 0.98) * HEIGHT, rng.triangular(0.66, 0.94, 0.98) * WIDTH
    x = WIDTH / 2 + rng.uniform(-0.5, 0.5) * (WIDTH - wide)
    y = HEIGHT / 2 + rng.uniform(-0.4, 0.4) * (HEIGHT - high)
    return x - wide / 2, y - high / 2, x + wide / 2, y + high / 2


def placed(canvas: Canvas, rng: np.random.Generator, box: Box | None = None) -> Canvas:
    """Bend a procedural picture, let it face either way, and fit it into a box, by default a sampled one."""
    planes, later = canvas.planes, rng.spawn(1)[0]  # a stream of its own: other pictures stay what they were
    if later.random() < _RECUT_SHARE and planes.any():
        planes = recut(planes, later)
    planes = warped(planes, rng, float(rng.uniform(0, 7)))
    if rng.random() < 0.5:
        planes = np.ascontiguousarray(planes[:, :, ::-1])
    canvas.planes = fitted(planes, box or sample_box(rng), stretch=bool(rng.random() < 0.5))
    return canvas


def beside(rng: np.random.Generator) -> Box:
    """A box of a third to two thirds of the face at its left or right, for what keeps the main picture company."""
    wide, high = rng.uniform(0.35, 0.65) * WIDTH, rng.uniform(0.35, 0.65) * HEIGHT
    x, y = rng.choice([4.0, WIDTH - wide - 4]), rng.uniform(4, HEIGHT - high - 4)
    return x, y, x + wide, y + high


def behind(front: Canvas, back: Canvas) -> Canvas:
    """Lay a picture over another, which stays bare inside its contours and just around them."""
    ink = front.planes.max(axis=0)
    near = np.asarray(cv2.dilate(np.where(ink > 60, 255, 0).astype(np.uint8), np.ones((7, 7), np.uint8)), np.uint8)
    contours, _ = cv2.findContours(near, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    cv2.drawContours(near, contours, -1, 255, cv2.FILLED)
    back.lay(front.planes, below=255 - near)
    return back


def panel(canvas: Canvas, ink: str, rng: np.random.Generator) -> None:
    """Put what is drawn on a coloured ground, as stickers and prints have it: bare in a full, over a pale one."""
    ground = Canvas()
    kind = rng.integers(3)
    if kind == 0:
        shape = ellipse((WIDTH / 2, HEIGHT / 2), 90, rng.uniform(90, 122), n=48)
    else:
        inset, cut = rng.uniform(4, 14), rng.uniform(0, 26)
        x1, y1 = WIDTH - inset, HEIGHT - inset
        shape = np.array([
            [inset + cut, inset], [x1 - cut, inset], [x1, inset + cut], [x1, y1 - cut], [x1 - cut, y1], [inset + cut, y1],
            [inset, y1 - cut], [inset, inset + cut],
        ])  # fmt: skip
    pale = rng.random() < 0.55
    ground.fill(shape, ink, rng.uniform(0.25, 0.55) if pale else 1.0)
    art, canvas.planes = canvas.planes, ground.planes
    if pale:
        canvas.lay(art, below=255 - art.max(axis=0))
    else:
        canvas.planes = np.minimum(canvas.planes, 255 - art.max(axis=0))
