"""Convex solids in space, each a stack of rings, and the order in which to paint them.

World axes: x to the right and y away from a person at the table, z up; the table top is z = 0. One unit is
the width of a tile.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float32]
Image = NDArray[np.uint8]
Colour = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Paint:
    """What covers a surface: a BGR colour (0–255) or, if given, a texture stretched over it.

    `clear` is the share of light that passes through, for plain colours: clear plastic hides no face.
    """

    colour: Colour
    texture: Image | None = None
    clear: float = 0.0


@dataclass(frozen=True)
class Solid:
    """A convex body: rings joined by bands and closed by a cap at either end.

    Attributes:
        rings: float32 (k, m, 3), each ring a flat outline of m corners, first ring in front.
        bands: k - 1 paints, from the first ring backwards.
        caps: paints of the first and the last ring.
        frame: float32 (4, 3), where the corners of the first cap's texture lie, clockwise from its top-left
            as seen from outside; None stretches it over the ring's first four corners.
        ident: number under which the first cap enters the map of what shows where; 0 for anything else.
        crowd: light that reaches the sides, 0–1: less where neighbours stand close.
        gain: BGR, how bright and of what tint this one is among its like.
    """

    rings: Floats
    bands: tuple[Paint, ...]
    caps: tuple[Paint, Paint]
    frame: Floats | None = None
    ident: int = 0
    crowd: float = 1.0
    gain: Colour = (1.0, 1.0, 1.0)
    box: Floats | None = None

    @cached_property
    def coarse(self) -> Floats:
        """float32 (2, m, 3): first and last outline, or those of a simpler shape that encloses the solid."""
        return self.rings[[0, -1]] if self.box is None else self.box

    @cached_property
    def middle(self) -> Floats:
        """float32 (3,): the mean of all corners."""
        return np.asarray(self.rings.reshape(-1, 3).mean(0), np.float32)


def pixel(point: NDArray[np.floating], scale: float = 1.0) -> tuple[int, int]:
    """Return a point as the whole numbers OpenCV draws with."""
    return round(float(point[0]) * scale), round(float(point[1]) * scale)


def moved(points: NDArray[np.floating], turn: NDArray[np.floating], shift: NDArray[np.floating]) -> Floats:
    """Turn points (…, 3) by a 3 × 3 matrix, then shift them."""
    return np.asarray(points @ np.asarray(turn).T + np.asarray(shift), np.float32)


def turned(x: float = 0.0, y: float = 0.0, z: float = 0.0) -> NDArray[np.float64]:
    """Return the 3 × 3 rotation by degrees about x, then y, then z."""
    cx, cy, cz = np.cos(np.radians((x, y, z)))
    sx, sy, sz = np.sin(np.radians((x, y, z)))
    about_x = np.array([[1, 0, 0], [0, cx, -sx], [0, sx, cx]])
    about_y = np.array([[cy, 0, sy], [0, 1, 0], [-sy, 0, cy]])
    about_z = np.array([[cz, -sz, 0], [sz, cz, 0], [0, 0, 1]])
    return np.asarray(about_z @ about_y @ about_x)


def prism(
    outline: NDArray[np.floating],
    start: float,
    end: float,
    axis: int,
    paint: Paint,
    ends: tuple[Paint, Paint] | None = None,
) -> Solid:
    """Draw a flat outline (m, 2) out along an axis (0, 1 or 2) from `start` to `end`."""
    flat = np.asarray(outline, np.float64)
    rings = np.stack([np.insert(flat, axis, value, axis=1) for value in (start, end)])
    return Solid(np.asarray(rings, np.float32), (paint,), ends or (paint, paint))


def box(
    low: tuple[float, float, float], high: tuple[float, float, float], paint: Paint, top: Paint | None = None
) -> Solid:
    """Return the upright box between two corners; its first cap is the top, read from the near side."""
    (x0, y0, z0), (x1, y1, z1) = low, high
    outline = np.array([(x0, y1), (x1, y1), (x1, y0), (x0, y0)])
    return prism(outline, z1, z0, 2, paint, (top or paint, paint))


def drum(
    centre: tuple[float, float],
    radii: tuple[float, float],
    heights: tuple[float, float],
    paint: Paint,
    top: Paint,
    sides: int = 28,
) -> Solid:
    """Return a round body standing upright: `radii` and `heights` of its top and bottom."""
    angle = np.linspace(0, 2 * np.pi, sides, endpoint=False)
    circle = np.stack([np.cos(angle), np.sin(angle)], 1)
    rings = [np.insert(circle * r + centre, 2, z, axis=1) for r, z in zip(radii, heights, strict=True)]
    return Solid(np.asarray(np.stack(rings), np.float32), (paint,), (top, paint))


def placed(solid: Solid, turn: NDArray[np.floating], shift: NDArray[np.floating]) -> Solid:
    """Return the solid turned about the origin, then shifted."""
    frame = None if solid.frame is None else moved(solid.frame, turn, shift)
    hull = None if solid.box is None else moved(solid.box, turn, shift)
    return Solid(
        moved(solid.rings, turn, shift),
        solid.bands,
        solid.caps,
        frame,
        solid.ident,
        solid.crowd,
        solid.gain,
        hull,
    )


def _planes(solid: Solid) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return outward normals (n, 3) and offsets (n,) of the planes that bound the coarse shape."""
    first, last = np.asarray(solid.coarse, np.float64)
    along = np.roll(first, -1, axis=0) - first
    normals = np.concatenate(
        [
            np.cross(along, last - first),
            [
                np.cross(first[1] - first[0], first[2] - first[1]),
                np.cross(last[1] - last[0], last[2] - last[1]),
            ],
        ]
    )
    origins = np.concatenate([first, [first[0], last[0]]])
    normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-9)
    middle = solid.coarse.reshape(-1, 3).mean(0)
    normals *= np.where(((origins - middle) * normals).sum(1) < 0, -1.0, 1.0)[:, None]
    return normals, (normals * origins).sum(1)


def back_to_front(solids: list[Solid], eye: NDArray[np.floating], extents: NDArray[np.floating]) -> list[int]:
    """Order convex solids so that painting one after the other hides what is hidden; returns indices.

    Args:
        extents: (n, 4), left, top, right, bottom of each solid in the picture: pairs apart need no order.

    For each pair the plane that parts them best tells which one is on the eye's side. Where solids run into
    each other, or overlap in a ring, the order is a guess.

    Source: separating planes and the painter's algorithm, Newell, Newell & Sancha 1972.
    """
    if len(solids) < 2:
        return list(range(len(solids)))
    bounds = [_planes(solid) for solid in solids]
    counts = np.array([len(offsets) for _, offsets in bounds])
    normals = np.concatenate([n for n, _ in bounds])
    offsets = np.concatenate([o for _, o in bounds])
    corners = [solid.coarse.reshape(-1, 3) for solid in solids]
    starts = np.cumsum([0, *(len(c) for c in corners[:-1])])
    heights = normals @ np.concatenate(corners).T.astype(np.float64) - offsets[:, None]
    gaps = np.minimum.reduceat(heights, starts, axis=1)
    eye_outside = normals @ eye - offsets > 0
    plane_starts = np.cumsum([0, *counts[:-1]])
    best = np.stack([gaps[s : s + n].argmax(0) + s for s, n in zip(plane_starts, counts, strict=True)])
    gap = np.take_along_axis(gaps, best, axis=0)
    # row: the solid whose plane it is; an eye outside that plane sees the other one in front
    other_first = np.where(gap >= gap.T, eye_outside[best], ~eye_outside[best.T])
    parted = np.maximum(gap, gap.T) > -0.08
    distance = np.linalg.norm([solid.middle - eye for solid in solids], axis=1)
    in_front = np.where(parted, other_first, distance[None, :] < distance[:, None])
    meet = (extents[:, None, :2] <= extents[None, :, 2:]).all(2)
    return _sorted_by(in_front & meet & meet.T, distance)


def _sorted_by(in_front: NDArray[np.bool_], distance: NDArray[np.floating]) -> list[int]:
    """Order indices so that j comes after i where in_front[i, j]; the farthest first among the free."""
    blockers = in_front.copy()
    np.fill_diagonal(blockers, False)
    waiting = blockers.sum(0).astype(np.int64)
    left = np.ones(len(distance), bool)
    order: list[int] = []
    for _ in range(len(distance)):
        ready = np.flatnonzero(left & (waiting == waiting[left].min()))
        pick = int(ready[distance[ready].argmax()])
        order.append(pick)
        left[pick] = False
        waiting -= blockers[pick]
    return order
