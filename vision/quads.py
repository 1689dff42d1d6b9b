"""Geometry of tile faces: arrays of quads, float32 (N, 4, 2), four corners x and y in one winding order."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

Quads = NDArray[np.float32]
Floats = NDArray[np.float32]


def areas(quads: Quads) -> Floats:
    """Return the area of each quad (N,), in square pixels; negative where it winds counterclockwise.

    Source: the shoelace formula.
    """
    x, y = quads[..., 0], quads[..., 1]
    return np.asarray((x * np.roll(y, -1, 1) - np.roll(x, -1, 1) * y).sum(1) / 2, np.float32)


def are_convex(quads: Quads, *, least: float = 0.0) -> NDArray[np.bool_]:
    """Say of each quad (N,) whether it is strictly convex and winds clockwise on screen.

    Args:
        least: how far from degenerate every corner must be: its cross product as a share of the quad's
            area, 1 for a rectangle's corners and 0 for a corner on the line between its neighbours.
    """
    edges = np.roll(quads, -1, 1) - quads
    following = np.roll(edges, -1, 1)
    turns = edges[..., 0] * following[..., 1] - edges[..., 1] * following[..., 0]
    return np.asarray((turns > np.maximum(least * areas(quads), 0)[:, None]).all(1))


def rights(quads: Quads) -> Floats:
    """Return the mean of each quad's top and bottom edge (N, 2): its width, pointing to its right."""
    return np.asarray((quads[:, 1] - quads[:, 0] + quads[:, 2] - quads[:, 3]) / 2, np.float32)


def downs(quads: Quads) -> Floats:
    """Return the mean of each quad's left and right edge (N, 2): its height, pointing to its foot."""
    return np.asarray((quads[:, 3] - quads[:, 0] + quads[:, 2] - quads[:, 1]) / 2, np.float32)


def heights(quads: Quads) -> Floats:
    """Return the mean length of the left and right edge of each quad (N,)."""
    sides = np.linalg.norm(quads[:, (3, 2)] - quads[:, (0, 1)], axis=2)
    return np.asarray(sides.mean(1), np.float32)


def moved(quads: Quads, matrix: NDArray[np.float64]) -> Quads:
    """Return the quads after a projective map of the plane (3, 3)."""
    x, y, w = np.moveaxis(quads @ matrix[:, :2].T + matrix[:, 2], -1, 0)
    return np.stack((x / w, y / w), -1).astype(np.float32)


def turned(quads: Quads, on_head: NDArray[np.bool_]) -> Quads:
    """Return the quads with those marked (N,) starting at the opposite corner."""
    return np.where(on_head[:, None, None], np.roll(quads, 2, 1), quads)


def shared_area(one: Quads, other: Quads) -> float:
    """Return the area, in square pixels, that two convex quads (4, 2) have in common."""
    return float(cv2.intersectConvexConvex(one, other)[0])


def steps(quads: Quads, widths: Floats) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return how far each quad lies to the right of and below each other: (N, N) in widths and in heights.

    The unit is the mean of the two quads' own edges, which is right to first order under perspective.

    Args:
        widths: float (N, 2), each quad's width as a vector to its right, its own as a rule (see `rights`).
    """
    middle = quads.mean(1).astype(np.float64)
    step = middle[None] - middle[:, None]
    right = (widths[None] + widths[:, None]) / 2
    down = (downs(quads)[None] + downs(quads)[:, None]) / 2
    area = np.maximum(_cross(right, down), 1e-6)
    return _cross(step, down) / area, _cross(right, step) / area


def are_alike(quads: Quads, least: float) -> NDArray[np.bool_]:
    """Say of each pair (N, N) whether the smaller height is at least this part of the larger one."""
    tall = np.linalg.norm(downs(quads), axis=1)
    return np.asarray(np.minimum.outer(tall, tall) > least * np.maximum.outer(tall, tall))


def _cross(one: NDArray[np.floating], other: NDArray[np.floating]) -> NDArray[np.float64]:
    return np.asarray(one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0], np.float64)
