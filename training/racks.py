"""The racks tiles stand on: many profiles, woods, plastics and colours."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewitness.training.bodies import Body
from tilewitness.training.solids import Paint, Solid, box, prism
from tilewitness.training.surfaces import colour, wood


@dataclass(frozen=True, slots=True, eq=False)
class Rack:
    """A rack along x, its tiles facing the near side.

    Attributes:
        lean: degrees by which tiles lean back from upright.
        seat: (3,), where the lower back edge of the middle tile stands.
        shelf: (3,), the same for a tile standing on the top shelf; None when there is no shelf.
        shelf_depth: room on the top shelf, in widths of a tile.
        length: room for tiles, in widths of a tile.
    """

    solids: tuple[Solid, ...]
    lean: float
    seat: NDArray[np.float64]
    shelf: NDArray[np.float64] | None
    shelf_depth: float
    length: float


def sample_rack_paint(rng: np.random.Generator) -> Paint:
    """Wood with grain, or a plain colour: black, white, brown, green, blue, red, as pale as the tiles themselves."""
    kind = rng.random()
    if kind < 0.4:
        texture = wood(rng, (64, 512))
        mean = texture.reshape(-1, 3).mean(0)
        return Paint((float(mean[0]), float(mean[1]), float(mean[2])), texture)
    if kind < 0.7:
        grey = rng.choice([rng.uniform(15, 60), rng.uniform(120, 250)])
        b, g, r = grey + rng.normal(0, 5, 3)
        return Paint((float(b), float(g), float(r)))
    if kind < 0.78:
        return Paint(colour(rng, (0, 0.2), (0.8, 1), hue=0.12))
    return Paint(colour(rng, (0.2, 0.95), (0.08, 0.9)))


def _slab(near: float, far: float, top: float) -> NDArray[np.float64]:
    """Outline, in y and z, of an upright board."""
    return np.array([(near, 0), (near, top), (far, top), (far, 0)])


def sample_rack(rng: np.random.Generator, body: Body, length: float) -> Rack:
    """Build a rack with room for `length` widths of tiles."""
    _, h, t = body.size
    paint = sample_rack_paint(rng)
    second = paint if rng.random() < 0.7 else sample_rack_paint(rng)
    if rng.random() < 0.12:
        second = Paint(colour(rng, (0, 0.2), (0.7, 1.0)), clear=rng.uniform(0.6, 0.9))
    lean = rng.uniform(5, 35) if rng.random() < 0.8 else rng.uniform(0, 8)
    a = np.radians(lean)
    z0 = rng.uniform(0.06, 0.35)
    ledge = t * rng.uniform(1.02, 1.5)
    lip = rng.choice([rng.uniform(0.02, 0.08), rng.uniform(0.05, 0.25) * h])
    half = length / 2 + rng.uniform(0.1, 0.6)
    front_y, front_z = -ledge * np.cos(a), z0 + ledge * np.sin(a)
    thick = rng.uniform(0.08, 0.2)
    solids = [
        prism(np.array([(0, 0), (0, z0), (front_y, front_z), (front_y, 0)]), -half, half, 0, paint),
        prism(_slab(front_y - thick, front_y, front_z + lip), -half, half, 0, second),
    ]
    rise = h * rng.choice([rng.uniform(0.35, 0.8), rng.uniform(0.8, 1.1)])
    over = max(0.0, (h - rise) * np.sin(a)) + 0.1  # so far a leaning tile reaches over the shelf
    depth = over + rng.choice([0.02, t * rng.uniform(1.1, 1.6), h * rng.uniform(1.05, 1.3)])
    top_y, top_z = rise * np.sin(a), z0 + rise * np.cos(a)
    back_y = top_y + depth
    solids.append(
        prism(
            np.array([(0, 0), (0, z0), (top_y, top_z), (back_y, top_z), (back_y, 0)]), -half, half, 0, paint
        )
    )
    fence = 0.0 if rng.random() < 0.4 else h * rng.uniform(0.1, 0.9)
    if fence:
        solids.append(prism(_slab(back_y, back_y + thick, top_z + fence), -half, half, 0, second))
    if rng.random() < 0.6:
        cap = second if rng.random() < 0.6 else sample_rack_paint(rng)
        tall = max(top_z + fence, front_z + lip) + rng.uniform(0, 0.3)
        low = front_z + lip + rng.uniform(0, 0.3)
        side = np.array(
            [
                (front_y - thick, 0),
                (front_y - thick, low),
                (top_y, tall),
                (back_y + thick, tall),
                (back_y + thick, 0),
            ]
        )
        wide = rng.uniform(0.08, 0.35)
        solids += [prism(side, x, x + wide, 0, cap) for x in (-half - wide, half)]
    if rng.random() < 0.12:
        solids.append(_pusher(rng, half, front_y, paint))
    shelf = np.array([0, back_y - 0.03, top_z]) if depth - over > t else None
    return Rack(tuple(solids), lean, np.array([0, 0, z0]), shelf, depth - over, length)


def _pusher(rng: np.random.Generator, half: float, front_y: float, paint: Paint) -> Solid:
    """A bar before the rack that pushes the wall forward."""
    near = front_y - rng.uniform(0.4, 2.5)
    return box((-half, near - 0.25, 0), (half * rng.uniform(0.2, 1), near, rng.uniform(0.3, 0.8)), paint)
