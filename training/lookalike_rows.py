"""Rows of things that are no tiles: laid on the table, printed side by side, and where a finder might see tiles."""

from __future__ import annotations

import numpy as np

from tilewitness.training.pieces import Family
from tilewitness.training.solids import Floats, Image, Paint, Solid, box, placed, turned
from tilewitness.training.surfaces import colour, tinted


def set_up(rng: np.random.Generator, family: Family) -> list[Solid]:
    """Stand pieces side by side about the origin, leaning back against a rack or upright on the table."""
    w, lean = rng.uniform(0.8, 1.3), float(rng.choice([0.0, rng.uniform(5, 40)]))
    h, count = w * family.tall, int(rng.integers(2, 15))
    step, thick = w * (1 + max(0.0, min(family.gap, 0.3))), w * min(family.thick, 0.6)
    faces = [family.draw(rng, round(96 * family.tall), 96) for _ in range(min(count, 10))]
    seat = rng.uniform(0.05, 0.4) if lean else 0.0
    solids = []
    for place in range(count):
        face = faces[int(rng.integers(len(faces)))]
        b, g, r = face[2, 2].astype(float)
        piece = box((-w / 2, 0, 0), (w / 2, h, thick), Paint((b, g, r)), Paint((b, g, r), face))
        at = np.array([(place - (count - 1) / 2) * step, rng.normal(0, 0.01), seat])
        solids.append(placed(piece, turned(x=90 - lean) @ turned(z=rng.normal(0, 0.7)), at))
    if lean:
        long, paint = step * count / 2 + rng.uniform(0.1, 0.8), Paint(colour(rng, (0, 0.8), (0.05, 0.9)))
        back, foot = h * np.sin(np.radians(lean)), thick * rng.uniform(1.1, 1.6)
        solids.append(box((-long, back, 0), (long, back + 0.3, seat + h * rng.uniform(0.3, 0.95)), paint))
        solids.append(box((-long, -foot - 0.15, 0), (long, back, 0.97 * seat), paint))
    return solids


def laid_out(rng: np.random.Generator, family: Family) -> list[Solid]:
    """Lay pieces in one to five rows about the origin, each a body of its own; now and then stand them in one."""
    if rng.random() < 0.25 and family.gap >= 0 and 0.5 < family.tall < 2.5:
        return set_up(rng, family)
    w = rng.uniform(0.7, 1.4) / min(1.0, family.tall) ** 0.5
    h = w * family.tall
    rows = int(rng.choice([1, 1, 2, 3, 4, 5])) if h < 2.5 else int(rng.integers(1, 3))
    columns = int(rng.integers(2, max(3, min(15, 44 // rows))))
    gaps = w * family.gap, h * rng.uniform(0.01, 0.3)
    slack = 0.1 * rng.random() * max(0.0, family.gap)
    if rng.random() < 0.3:  # loosely, each at an angle of its own
        gaps, slack, columns = (w * rng.uniform(0.4, 2), h * rng.uniform(0.4, 1)), rng.uniform(0, 0.15), min(columns, 8)
    faces = [family.draw(rng, round(96 * family.tall), 96) for _ in range(min(rows * columns, 14))]
    solids = []
    for row, column in np.ndindex(rows, columns):
        face = faces[int(rng.integers(len(faces)))]
        b, g, r = face[2, 2].astype(float)
        rim, top = Paint((b, g, r)), w * family.thick + 0.002 * (column if family.gap < 0 else 0)
        at = (column - (columns - 1) / 2) * (w + gaps[0]), (row - (rows - 1) / 2) * (h + gaps[1])
        piece = box((-w / 2, -h / 2, 0), (w / 2, h / 2, top), rim, Paint(rim.colour, face))
        shift = np.array([*(np.array(at) + rng.normal(0, slack * w, 2)), 0.0])
        solids.append(placed(piece, turned(z=rng.normal(0, 40 * slack)), shift))
    return solids


def printed(rng: np.random.Generator, family: Family, h: int, w: int, rows: int) -> tuple[Image, Floats]:
    """Fill a picture (h, w) with rows of pieces; return it and the boxes (n, 4) left, top, right, bottom."""
    tall = h / rows * rng.uniform(0.75, 0.99)
    wide = tall / family.tall
    image = tinted(colour(rng, (0, 0.5), (0.05, 0.95)), np.ones((h, w), np.float32))
    step = wide * (1 + family.gap)
    size = max(4, round(tall)), max(4, round(wide))
    columns = max(1, int(w / step))
    faces = [family.draw(rng, *size) for _ in range(min(rows * columns, 16))]
    boxes = []
    for row, column in np.ndindex(rows, columns):
        left, top = round(column * step), round(row * h / rows)
        part = image[top : top + size[0], left : left + size[1]]
        part[:] = faces[int(rng.integers(len(faces)))][: part.shape[0], : part.shape[1]]
        boxes.append((left, top, left + size[1], top + size[0]))
    return image, np.array(boxes, np.float32)


def mistaken(rng: np.random.Generator, family: Family, piece: Floats) -> Floats:
    """Return a quad (4, 2) that a finder might put on a piece (left, top, right, bottom) or beside it."""
    low, high = piece[:2].astype(np.float64), piece[2:].astype(np.float64)
    size = high - low
    kind = rng.random()
    if family.halves and kind < 0.6:
        long = int(size.argmax())
        half = np.where(np.arange(2) == long, size / 2, size)
        low = low + (half * (np.arange(2) == long) if rng.random() < 0.5 else 0)
        high = low + half
        if rng.random() < 0.3:  # as upright as a tile, into the other half
            high = high + np.array([0, half[1] * rng.uniform(0, 0.3)])
    elif kind > 0.75 or family.tall > 2.5:
        height = size[1] * rng.uniform(0.4, 1.1)
        middle = low + size * rng.uniform(0, 1, 2)
        reach = np.array([0.75 * height, height]) / 2
        low, high = middle - reach, middle + reach
    return np.array([low, (high[0], low[1]), high, (low[0], high[1])], np.float32)
