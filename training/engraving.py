"""Drawing as tiles are engraved: shapes in a few inks on a bare face, one plane of coverage for each ink.

Points are float (n, 2), x and y in pixels of a face 192 wide and 256 high. An ink of None cuts a shape bare again.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, TypeVar

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.inks import Inks

WIDTH: Final = 192
HEIGHT: Final = 256
INKS: Final = ("red", "green", "blue", "black", "extra")

Mask = NDArray[np.uint8]
Points = NDArray[np.float64]
Ink = str | None

T = TypeVar("T")

_SHIFT: Final = 4  # OpenCV draws at sixteenths of a pixel


def pick(rng: np.random.Generator, items: Sequence[T]) -> T:
    """Choose one of several things, each as likely as the next."""
    return items[int(rng.integers(len(items)))]


class Canvas:
    """One face being drawn: uint8 (5, 256, 192), how much of each ink of `INKS` covers each pixel."""

    def __init__(self) -> None:
        self.planes = np.zeros((len(INKS), HEIGHT, WIDTH), np.uint8)

    def fill(self, points: Points, ink: Ink) -> None:
        """Fill a polygon."""
        fixed = _fixed(points)
        for name, plane in zip(INKS, self.planes, strict=True):
            cv2.fillPoly(plane, [fixed], 255 if name == ink else 0, cv2.LINE_AA, _SHIFT)

    def line(self, points: Points, width: float, ink: Ink, *, closed: bool = False) -> None:
        """Draw a line of even width, in pixels."""
        fixed, thickness = _fixed(points), max(1, round(width))
        for name, plane in zip(INKS, self.planes, strict=True):
            cv2.polylines(plane, [fixed], closed, 255 if name == ink else 0, thickness, cv2.LINE_AA, _SHIFT)

    def stroke(self, points: Points, start: float, middle: float, end: float, ink: Ink) -> None:
        """Draw a brush stroke along a line, its width in pixels changing from start over middle to end."""
        self.fill(ribbon(points, profile(len(points), start, middle, end)), ink)

    def dot(self, centre: Points, radius: float, ink: Ink) -> None:
        """Fill a disc."""
        self.fill(ellipse(centre, radius, radius), ink)

    def shape(self, points: Points, ink: Ink, outline: Ink, width: float) -> None:
        """Fill a polygon and draw its outline; an ink of None for the filling leaves the inside bare."""
        self.fill(points, ink)
        if outline is not None and width > 0:
            self.line(points, width, outline, closed=True)

    def cover(self, mask: Mask, ink: Ink) -> None:
        """Lay a mask, uint8 (256, 192), over the face in one ink."""
        rest = 255 - mask
        for name, plane in zip(INKS, self.planes, strict=True):
            if name == ink:
                np.maximum(plane, mask, out=plane)
            else:
                np.minimum(plane, rest, out=plane)

    def lay(self, planes: NDArray[np.uint8]) -> None:
        """Lay the inks of other planes over the face, hiding what lies below them."""
        rest = 255 - np.minimum(planes.sum(axis=0, dtype=np.uint16), 255).astype(np.uint8)
        np.minimum(self.planes, rest, out=self.planes)
        np.maximum(self.planes, planes, out=self.planes)

    def stamp(self, mask: Mask, centre: tuple[float, float], ink: Ink) -> None:
        """Lay a small mask with its middle at a point; parts beyond the border are lost."""
        face = np.zeros((HEIGHT, WIDTH), np.uint8)
        left, top = round(centre[0] - mask.shape[1] / 2), round(centre[1] - mask.shape[0] / 2)
        x0, y0 = max(left, 0), max(top, 0)
        x1, y1 = min(left + mask.shape[1], WIDTH), min(top + mask.shape[0], HEIGHT)
        if x1 > x0 and y1 > y0:
            face[y0:y1, x0:x1] = mask[y0 - top : y1 - top, x0 - left : x1 - left]
            self.cover(face, ink)


def _fixed(points: Points) -> NDArray[np.int32]:
    return np.round(np.asarray(points) * (1 << _SHIFT)).astype(np.int32).reshape(-1, 1, 2)


def coloured(planes: NDArray[np.uint8], inks: Inks, extra: tuple[int, int, int]) -> NDArray[np.uint8]:
    """Turn planes into a picture, straight-alpha RGBA uint8 (256, 192, 4)."""
    used = [i for i in range(len(INKS)) if planes[i].any()]
    colours = np.array([[*inks.red], [*inks.green], [*inks.blue], [*inks.black], [*extra]], np.float32)[used]
    coverage = planes[used].astype(np.float32)
    total = coverage.sum(axis=0)
    picture = np.empty((HEIGHT, WIDTH, 4), np.uint8)
    rgb = np.tensordot(coverage, colours, axes=(0, 0)) / np.maximum(total, 1)[..., None]
    rgb[total == 0] = colours[0] if used else 0
    picture[..., :3] = rgb
    picture[..., 3] = np.minimum(total, 255)
    return picture


def moved(planes: NDArray[np.uint8], matrix: NDArray[np.float64]) -> NDArray[np.uint8]:
    """Move the planes by an affine matrix (2, 3)."""
    result = np.zeros_like(planes)
    for source, target in zip(planes, result, strict=True):
        if source.any():
            cv2.warpAffine(source, matrix, (WIDTH, HEIGHT), dst=target, flags=cv2.INTER_LINEAR)
    return result


def warped(planes: NDArray[np.uint8], rng: np.random.Generator, strength: float) -> NDArray[np.uint8]:
    """Bend the planes smoothly, by up to about `strength` pixels: no two engravers draw the same line."""
    xs, ys = np.meshgrid(np.arange(WIDTH, dtype=np.float32), np.arange(HEIGHT, dtype=np.float32))
    coarse = rng.normal(0, strength / 2, (2, 5, 4)).astype(np.float32)
    bend = [cv2.resize(part, (WIDTH, HEIGHT), interpolation=cv2.INTER_CUBIC) for part in coarse]
    result = np.zeros_like(planes)
    for source, target in zip(planes, result, strict=True):
        if source.any():
            cv2.remap(source, xs + bend[0], ys + bend[1], cv2.INTER_LINEAR, dst=target)
    return result


def fitted(planes: NDArray[np.uint8], box: tuple[float, float, float, float], *, stretch: bool) -> NDArray[np.uint8]:
    """Scale the planes so that their ink fills a box (x0, y0, x1, y1), keeping proportions unless `stretch`."""
    x, y, w, h = cv2.boundingRect(planes.max(axis=0))
    if w == 0:
        return planes
    sx, sy = (box[2] - box[0]) / w, (box[3] - box[1]) / h
    if not stretch:
        sx = sy = min(sx, sy)
    dx = (box[0] + box[2]) / 2 - sx * (x + w / 2)
    dy = (box[1] + box[3]) / 2 - sy * (y + h / 2)
    return moved(planes, np.array([[sx, 0, dx], [0, sy, dy]]))


def ellipse(centre: Points | tuple[float, float], a: float, b: float, turn: float = 0.0, n: int = 28) -> Points:
    """Points of an ellipse with half axes a and b, turned by `turn` radians."""
    t = np.linspace(0, 2 * np.pi, n, endpoint=False)
    points: Points = turned(np.stack([a * np.cos(t), b * np.sin(t)], 1), turn) + np.asarray(centre)
    return points


def turned(points: Points, angle: float) -> Points:
    """Points turned about the origin by an angle in radians (clockwise on the screen)."""
    c, s = np.cos(angle), np.sin(angle)
    result: Points = points @ np.array([[c, s], [-s, c]])
    return result


def curve(knots: NDArray[np.float64] | list[list[float]], n: int = 24) -> Points:
    """A smooth line through knots (Catmull & Rom 1974, centripetal ends repeated), n points."""
    k = np.asarray(knots, float)
    k = np.concatenate([2 * k[:1] - k[1:2], k, 2 * k[-1:] - k[-2:-1]])
    u = np.linspace(0, len(k) - 3 - 1e-9, n)
    i, t = u.astype(int), (u % 1)[:, None]
    a, b, c, d = k[i], k[i + 1], k[i + 2], k[i + 3]
    result: Points = 0.5 * (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t**2 + (3 * b - a - 3 * c + d) * t**3)
    return result


def profile(n: int, start: float, middle: float, end: float) -> NDArray[np.float64]:
    """Widths along a stroke of n points: start, middle and end joined smoothly."""
    t = np.linspace(0, 1, n)
    widths: NDArray[np.float64] = start * (1 - t) ** 2 + (2 * middle - (start + end) / 2) * 2 * t * (1 - t) + end * t**2
    return np.maximum(widths, 0.3)


def ribbon(points: Points, widths: NDArray[np.float64]) -> Points:
    """The outline of a band along a line, with the given widths in pixels."""
    along = np.gradient(points, axis=0)
    along /= np.linalg.norm(along, axis=1, keepdims=True) + 1e-9
    across = np.stack([-along[:, 1], along[:, 0]], 1) * widths[:, None] / 2
    return np.concatenate([points + across, (points - across)[::-1]])


def leaf(base: Points, tip: Points, width: float, bend: float = 0.0, n: int = 9) -> Points:
    """A leaf or petal from base to tip, its widest `width`, its middle line bent aside by `bend` pixels."""
    base, tip = np.asarray(base, float), np.asarray(tip, float)
    t = np.linspace(0, 1, n)[:, None]
    way = tip - base
    side = np.array([-way[1], way[0]]) / (np.linalg.norm(way) + 1e-9)
    spine = base + way * t + side * bend * 4 * t * (1 - t)
    half = side * width / 2 * np.sin(np.pi * t**0.8)
    return np.concatenate([spine + half, (spine - half)[::-1]])
