"""A pinhole camera: where it stands, what part of its picture is kept, where points of space land in it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewitness.training.solids import Floats


@dataclass(frozen=True, slots=True)
class Camera:
    """A pinhole camera with radial distortion.

    Attributes:
        turn: (3, 3), world to camera axes (x right, y down, z forward).
        eye: (3,), where it stands.
        focal: focal length in pixels.
        centre: x, y of the optical axis in the picture; far from the middle in a cropped photo.
        bend: first coefficient of radial distortion.
        size: width and height of the picture in pixels.
    """

    turn: NDArray[np.float64]
    eye: NDArray[np.float64]
    focal: float
    centre: tuple[float, float]
    bend: float
    size: tuple[int, int]

    def depths(self, points: NDArray[np.floating]) -> NDArray[np.float64]:
        """Distance along the optical axis of points (…, 3); negative behind the camera."""
        return np.asarray((np.asarray(points, np.float64) - self.eye) @ self.turn[2])

    def project(self, points: NDArray[np.floating]) -> Floats:
        """Return pixels (…, 2) of world points (…, 3); the first pixel spans 0 to 1.

        Source: pinhole model with one radial coefficient, Hartley & Zisserman 2004, sections 6.1 and 7.4.
        """
        flat = _normalised(points, self.turn, self.eye, self.bend)
        return np.asarray(flat * self.focal + np.asarray(self.centre), np.float32)

    def rays(self, x: NDArray[np.floating], y: NDArray[np.floating]) -> NDArray[np.float32]:
        """Return world directions (…, 3) of the rays through pixels, distortion undone to first order."""
        u = (x - self.centre[0]) / self.focal
        v = (y - self.centre[1]) / self.focal
        r2 = u * u + v * v
        straight = 1.0 - self.bend * r2 + 3.0 * (self.bend * r2) ** 2
        flat = np.stack([u * straight, v * straight, np.ones_like(u)], -1)
        return np.asarray(flat @ self.turn, np.float32)


def look_at(
    target: NDArray[np.floating], distance: float, elevation: float, azimuth: float, roll: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return (turn, eye) of a camera that looks at a point; angles in degrees, azimuth 0 is the near side."""
    e, a, r = np.radians((elevation, azimuth, roll))
    away = np.array([np.sin(a) * np.cos(e), -np.cos(a) * np.cos(e), np.sin(e)])
    right = np.array([np.cos(a), np.sin(a), 0.0])
    down = np.cross(-away, right)
    rolled = np.stack([np.cos(r) * right + np.sin(r) * down, np.cos(r) * down - np.sin(r) * right])
    return np.vstack([rolled, -away]), np.asarray(target, np.float64) + distance * away


def framed(
    turn: NDArray[np.float64],
    eye: NDArray[np.float64],
    subject: NDArray[np.floating],
    *,
    long: int,
    aspect: float | None,
    against: bool = False,
    fill: float,
    offset: tuple[float, float],
    bend: float,
) -> Camera:
    """Zoom and crop so that the subject fills this share of the picture's tighter side.

    Args:
        subject: points (n, 3) in front of the eye.
        long: the picture's longer side in pixels.
        aspect: its longer over its shorter side, held as suits the subject or, if `against`, the other
            way; None takes the subject's own, so that it fills both sides.
        offset: where the subject sits within the free room, -1 (left, top) to 1.
        bend: distortion at the farthest point of the subject, as a share of its distance from the axis.
    """
    straight = _normalised(subject, turn, eye, 0.0)
    bend = bend / max(float((straight**2).sum(1).max()), 1e-6)
    flat = _normalised(subject, turn, eye, bend)
    low, high = flat.min(0), flat.max(0)
    wide, tall = high - low
    short = max(32, round(long / (aspect or min(10.0, max(wide / tall, tall / wide)))))
    size = (long, short) if (wide > tall) ^ against else (short, long)
    focal = fill * min(size[0] / wide, size[1] / tall)
    middle = (low + high) / 2 * focal
    room = (np.asarray(size) - (high - low) * focal) / 2
    x, y = np.asarray(size) / 2 + np.asarray(offset) * np.abs(room) - middle
    return Camera(turn, eye, float(focal), (float(x), float(y)), bend, size)


def _normalised(
    points: NDArray[np.floating], turn: NDArray[np.float64], eye: NDArray[np.float64], bend: float
) -> NDArray[np.float64]:
    """Return image coordinates (…, 2) at focal length 1."""
    seen = (np.asarray(points, np.float64) - eye) @ turn.T
    flat = seen[..., :2] / np.maximum(seen[..., 2:], 1e-3)
    return np.asarray(flat * (1.0 + bend * (flat**2).sum(-1, keepdims=True)))
