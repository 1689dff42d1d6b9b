"""Drawing as tiles are engraved: shapes in a few inks on a bare face, one plane of coverage for each ink.

Points are float (n, 2), x and y in pixels of a face 192 wide and 256 high. An ink of None cuts a shape bare.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, TypeVar

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.inks import RGB, Inks

WIDTH: Final = 192
HEIGHT: Final = 256
INKS: Final = ("red", "green", "blue", "black", "fifth", "sixth")

Mask = NDArray[np.uint8]
Points = NDArray[np.float64]
Ink = str | None

T = TypeVar("T")

_SHIFT: Final = 4  # OpenCV draws at sixteenths of a pixel


def pick(rng: np.random.Generator, items: Sequence[T]) -> T:
    """Choose one of several things, each as likely as the next."""
    return items[int(rng.integers(len(items)))]


class Canvas:
    """One face being drawn, on one plane of coverage for each ink."""

    def __init__(self) -> None:
        self._planes = np.zeros((len(INKS), HEIGHT, WIDTH), np.uint8)
        self._begun = [False] * len(INKS)  # planes with ink: the others need no cutting

    @property
    def planes(self) -> NDArray[np.uint8]:
        """Coverage, uint8 (6, 256, 192), in the order of `INKS`; set it to change everything drawn so far."""
        return self._planes

    @planes.setter
    def planes(self, planes: NDArray[np.uint8]) -> None:
        self._planes = planes
        self._begun = [bool(plane.any()) for plane in planes]

    def _values(self, ink: Ink, tone: float) -> list[tuple[Mask, int]]:
        """The planes that a shape in this ink changes, each with the value to draw: others give way to it."""
        changed = []
        for i, name in enumerate(INKS):
            if name == ink:
                self._begun[i] = True
                changed.append((self.planes[i], round(255 * tone)))
            elif self._begun[i]:
                changed.append((self.planes[i], 0))
        return changed

    def fill(self, points: Points, ink: Ink, tone: float = 1.0) -> None:
        """Fill a polygon; a tone below 1 is a pale tint."""
        fixed = _fixed(points)
        for plane, value in self._values(ink, tone):
            cv2.fillPoly(plane, [fixed], value, cv2.LINE_AA, _SHIFT)

    def line(self, points: Points, width: float, ink: Ink, *, closed: bool = False) -> None:
        """Draw a line of even width, in pixels."""
        fixed, thickness = _fixed(points), max(1, round(width))
        for plane, value in self._values(ink, 1.0):
            cv2.polylines(plane, [fixed], closed, value, thickness, cv2.LINE_AA, _SHIFT)

    def stroke(self, points: Points, start: float, middle: float, end: float, ink: Ink) -> None:
        """Draw a brush stroke along a line, its width in pixels changing from start over middle to end."""
        self.fill(ribbon(points, profile(len(points), start, middle, end)), ink)

    def dot(self, centre: Points, radius: float, ink: Ink) -> None:
        """Fill a disc."""
        self.fill(ellipse(centre, radius, radius), ink)

    def shape(self, points: Points, ink: Ink, outline: Ink, width: float, tone: float = 1.0) -> None:
        """Fill a polygon and draw its outline; an ink of None for the filling leaves the inside bare."""
        self.fill(points, ink, tone)
        if outline is not None and width > 0:
            self.line(points, width, outline, closed=True)

    def cover(self, mask: Mask, ink: Ink) -> None:
        """Lay a mask, uint8 (256, 192), over the face in one ink."""
        planes = np.zeros_like(self.planes)
        if ink is not None:
            planes[INKS.index(ink)] = mask
        self.lay(planes, below=255 - mask)

    def lay(self, planes: NDArray[np.uint8], *, below: Mask | None = None) -> None:
        """Lay the inks of other planes over the face; `below` is what stays of the inks under them."""
        used = [i for i, plane in enumerate(planes) if plane.any()]
        if below is None:
            below = 255 - planes[used].max(axis=0, initial=0)
        for i, plane in enumerate(self.planes):
            if self._begun[i] or plane.any():
                np.minimum(plane, below, out=plane)
        for i in used:
            np.maximum(self.planes[i], planes[i], out=self.planes[i])
            self._begun[i] = True

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


def coloured(planes: NDArray[np.uint8], inks: Inks, extras: tuple[RGB, RGB]) -> NDArray[np.uint8]:
    """Turn planes into straight-alpha RGBA uint8 (256, 192, 4); `extras` are the fifth and sixth ink."""
    every = np.array([inks.red, inks.green, inks.blue, inks.black, *extras], np.float32)
    used = [i for i, plane in enumerate(planes) if plane.any()]
    picture = np.zeros((HEIGHT, WIDTH, 4), np.uint8)
    if not used:
        return picture
    total = planes[used].sum(axis=0, dtype=np.uint16)
    leading = max(used, key=lambda i: int(planes[i].sum(dtype=np.int64)))
    picture[..., :3] = every[leading]
    other = (planes[leading] < total) & (total > 0)
    coverage = planes[used][:, other].astype(np.float32)
    picture[other, :3] = (coverage.T @ every[used]) / coverage.sum(axis=0)[:, None]
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


def fitted(
    planes: NDArray[np.uint8], box: tuple[float, float, float, float], *, stretch: bool
) -> NDArray[np.uint8]:
    """Scale the planes so that their ink fills a box (x0, y0, x1, y1), proportions kept unless `stretch`."""
    x, y, w, h = cv2.boundingRect(planes.max(axis=0))
    if w == 0:
        return planes
    sx, sy = (box[2] - box[0]) / w, (box[3] - box[1]) / h
    if not stretch:
        sx = sy = min(sx, sy)
    dx = (box[0] + box[2]) / 2 - sx * (x + w / 2)
    dy = (box[1] + box[3]) / 2 - sy * (y + h / 2)
    return moved(planes, np.array([[sx, 0, dx], [0, sy, dy]]))


def ellipse(
    centre: Points | tuple[float, float], a: float, b: float, turn: float = 0.0, n: int = 28
) -> Points:
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
    result: Points = 0.5 * (
        2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t**2 + (3 * b - a - 3 * c + d) * t**3
    )
    return result


def profile(n: int, start: float, middle: float, end: float) -> NDArray[np.float64]:
    """Widths along a stroke of n points: start, middle and end joined smoothly."""
    t = np.linspace(0, 1, n)
    widths: NDArray[np.float64] = (
        start * (1 - t) ** 2 + (2 * middle - (start + end) / 2) * 2 * t * (1 - t) + end * t**2
    )
    return np.maximum(widths, 0.3)


def along(points: Points) -> Points:
    """For each point of a line the unit vector along it."""
    ways = np.gradient(points, axis=0)
    ways /= np.linalg.norm(ways, axis=1, keepdims=True) + 1e-9
    return np.asarray(ways)


def ribbon(points: Points, widths: NDArray[np.float64]) -> Points:
    """The outline of a band along a line, with the given widths in pixels."""
    ways = along(points)
    across = np.stack([-ways[:, 1], ways[:, 0]], 1) * widths[:, None] / 2
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
