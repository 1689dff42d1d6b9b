"""Where the tiles of a scene stand or lie: rows, grids, discards and walls, and which face each shows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES, Face
from tilewitness.training.bodies import Body
from tilewitness.training.solids import Floats, Solid, moved, placed, turned

FLOWER, JOKER = FACES[34], FACES[35]


@dataclass(frozen=True, slots=True)
class Shown:
    """What a tile shows: a face and which of the set's pictures of it, or nothing (a blank)."""

    face: Face | None
    variant: int = 0
    upside_down: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Spot:
    """A tile in its place.

    Attributes:
        turn: (3, 3), columns are the artwork's right, its up, and where the face looks.
        centre: (3,), middle of the tile.
        row: any number that the tiles of one row share and no others.
        crowd: light on its sides, 0–1, less between neighbours.
    """

    shown: Shown
    turn: NDArray[np.float64]
    centre: NDArray[np.float64]
    row: int
    crowd: float = 1.0


@dataclass(slots=True)
class Layout:
    """Tiles, other things, and the points the photographer means to show."""

    spots: list[Spot] = field(default_factory=list)
    solids: list[Solid] = field(default_factory=list)
    focus: list[Floats] = field(default_factory=list)

    def add(self, spots: Iterable[Spot], body: Body, *, meant: bool = False) -> None:
        """Put tiles down; `meant` ones are what the photo is about."""
        for spot in spots:
            self.spots.append(spot)
            if meant:
                self.focus.append(corners_of(spot, body))

    def turned(self, degrees: float, shift: tuple[float, float]) -> Layout:
        """Return everything turned about the upright axis and shifted on the table."""
        about = turned(z=degrees)
        move = np.array([*shift, 0.0])
        spots = [replace(s, turn=about @ s.turn, centre=about @ s.centre + move) for s in self.spots]
        return Layout(
            spots, [placed(s, about, move) for s in self.solids], [moved(f, about, move) for f in self.focus]
        )

    def join(self, other: Layout) -> None:
        """Take over another layout's tiles and things, not what it is about; rows stay apart."""
        base = 1 + max((spot.row for spot in self.spots), default=-1)
        self.spots += [replace(spot, row=spot.row + base) for spot in other.spots]
        self.solids += other.solids


def corners_of(spot: Spot, body: Body) -> Floats:
    """Return the face's corners (4, 3), clockwise from the artwork's top-left."""
    w, h, t = body.size
    corners = np.array([(-w, h, t), (w, h, t), (w, -h, t), (-w, -h, t)]) / 2
    return np.asarray(corners @ spot.turn.T + spot.centre, np.float32)


def deal(rng: np.random.Generator, count: int) -> list[Shown]:
    """Return tiles to show: groups of equal ones like a hand, or any; flowers and jokers often."""
    in_groups = rng.random() < 0.65
    dealt: list[Shown] = []
    while len(dealt) < count:
        size = int(rng.choice([1, 2, 3, 4, 5], p=[0.3, 0.25, 0.22, 0.18, 0.05])) if in_groups else 1
        kind = rng.random()
        face = FLOWER if kind < 0.14 else JOKER if kind < 0.24 else FACES[int(rng.integers(34))]
        run = in_groups and face.number is not None and rng.random() < 0.15
        for step in range(size):
            pick = FACES[min(face.index + step, face.index // 9 * 9 + 8)] if run else face
            if face is not JOKER and size > 2 and rng.random() < 0.1:
                pick = JOKER
            dealt.append(varied(rng, pick))
    return dealt[:count]


def varied(rng: np.random.Generator, face: Face | None) -> Shown:
    """Pick one of a set's pictures of a face."""
    return Shown(face, int(rng.integers(8)) if face in (FLOWER, JOKER) else 0)


def whole_set(rng: np.random.Generator) -> list[Shown]:
    """Return all tiles of a set in an orderly or a shuffled sequence, some faces missing."""
    kept = [face for face in FACES if rng.random() > rng.choice([0.0, 0.15])]
    each = int(rng.choice([1, 2, 4, 4]))
    tiles = [Shown(face, i % 8) for face in kept for i in range(each * (2 if face.index > 33 else 1))]
    order = rng.random()
    if order < 0.3:
        tiles = [tiles[i] for i in rng.permutation(len(tiles))]
    elif order < 0.5:
        tiles = tiles[::-1]
    return tiles


def disturbed(rng: np.random.Generator, tiles: Sequence[Shown]) -> list[Shown]:
    """Turn some tiles on their heads, and rarely a whole row; now and then a blank slips in."""
    whole = rng.random() < 0.06
    single = rng.choice([0.0, 0.03, 0.12])
    blank = 0.12 if rng.random() < 0.08 else 0.0
    return [
        replace(
            t,
            face=None if rng.random() < blank else t.face,
            upside_down=bool(whole ^ (rng.random() < single)),
        )
        for t in tiles
    ]


@dataclass(frozen=True, slots=True)
class Manner:
    """How carefully a person lays tiles: gaps in widths of a tile, angles in degrees.

    `backs` is the share of tiles turned over.
    """

    gap: float
    group_gap: float
    group_chance: float
    shift: float
    twist: float
    backs: float = 0.0

    @classmethod
    def sample(cls, rng: np.random.Generator) -> Manner:
        """Draw a manner: mostly tight and straight."""
        gap = float(rng.choice([0.0, rng.uniform(0, 0.02), rng.uniform(0, 0.15)], p=[0.35, 0.45, 0.2]))
        twist = float(np.degrees(gap) * 0.35 + rng.uniform(0, 0.9))  # more would push tiles into each other
        return cls(
            gap=gap,
            group_gap=rng.uniform(0.1, 1.2),
            group_chance=float(rng.choice([0.0, 0.2], p=[0.65, 0.35])),
            shift=float(rng.choice([rng.uniform(0, 0.02), rng.uniform(0, 0.12)], p=[0.8, 0.2])),
            twist=twist,
            backs=0.12 if rng.random() < 0.06 else 0.0,
        )


def row(
    rng: np.random.Generator,
    tiles: Sequence[Shown],
    body: Body,
    manner: Manner,
    pose: NDArray[np.float64],
    seat: NDArray[np.float64],
    number: int,
    breaks: Sequence[int] = (),
) -> list[Spot]:
    """Place tiles side by side along x.

    Args:
        pose: turn of an upright tile (columns right, up, outwards).
        seat: middle of the edge on which the middle of the row stands: the tile's lower back edge.
        breaks: places after which a wider gap is left.

    Where the manner says so, some tiles of a set with coloured backs show their backs.
    """
    steps = np.full(len(tiles), body.size[0] + 2 * body.chamfer) + rng.uniform(
        0, manner.gap + 0.006, len(tiles)
    )
    steps += np.where(rng.random(len(tiles)) < manner.group_chance, manner.group_gap, 0)
    steps[[place for place in breaks if place < len(tiles)]] += manner.group_gap
    x = np.cumsum(steps) - steps.sum() / 2 - steps / 2
    tight = manner.gap < 0.05
    spots: list[Spot] = []
    for tile, at in zip(tiles, x, strict=True):
        over = manner.backs > 0 and body.back != body.front and rng.random() < manner.backs
        twist = turned(z=rng.normal(0, manner.twist) + (180 if tile.upside_down else 0), y=180 if over else 0)
        inner = np.array([0, body.size[1] / 2 + abs(rng.normal(0, manner.shift)), body.size[2] / 2])
        centre = seat + (at, 0, 0) + pose @ inner + pose[:, 2] * abs(rng.normal(0, manner.shift / 2))
        spots.append(Spot(tile, pose @ twist, centre, number, 0.55 if tight else 0.85))
    return spots


def standing(lean: float) -> NDArray[np.float64]:
    """Return the pose of a tile facing the near side that leans back by degrees; 90 lies flat."""
    return turned(x=90 - lean)


def grid(
    rng: np.random.Generator, tiles: Sequence[Shown], body: Body, columns: int, manner: Manner, row_gap: float
) -> list[Spot]:
    """Lay tiles flat in rows of this many columns, first row farthest away."""
    spots: list[Spot] = []
    manner = replace(manner, shift=min(manner.shift, row_gap / 3 + 0.004))
    pitch = body.size[1] + 2 * body.chamfer + row_gap
    rows = [tiles[i : i + columns] for i in range(0, len(tiles), columns)]
    blocks = rng.random() < 0.2
    breaks = [i for i in range(columns - 1) if blocks and rng.random() < 0.2]
    y = len(rows) / 2 * pitch
    for number, line in enumerate(rows):
        y -= pitch + (manner.group_gap if blocks and rng.random() < 0.2 else 0)
        around = rng.random() < 0.03
        shown = [replace(tile, upside_down=tile.upside_down ^ around) for tile in line]
        spots += row(rng, shown, body, manner, standing(90), np.array([0, y, 0.0]), number, breaks)
    if (
        len(rows) > 1 and len(rows[-1]) < columns and rng.random() < 0.7
    ):  # a short last row starts at the left
        left = min(s.centre[0] for s in spots)
        last = [s for s in spots if s.row == len(rows) - 1]
        shift = np.array([left - last[0].centre[0], 0, 0])
        spots = [replace(s, centre=s.centre + shift) if s.row == len(rows) - 1 else s for s in spots]
    return spots


def rows_on_table(rng: np.random.Generator, lines: Sequence[Sequence[Shown]], body: Body, manner: Manner) -> Layout:
    """Lay rows of tiles face up on the table, the first at the top."""
    layout = Layout()
    for number, tiles in enumerate(lines):
        seat = np.array([rng.normal(0, 0.15), -number * (body.size[1] + 0.45), 0.0])
        layout.add(row(rng, tiles, body, manner, standing(90), seat, number), body, meant=True)
    return layout


def scattered(
    rng: np.random.Generator,
    tiles: Sequence[Shown],
    body: Body,
    middle: tuple[float, float],
    spread: float,
    *,
    number: int,
    down: float = 0.0,
) -> list[Spot]:
    """Throw tiles on the table at any angle without overlap; a share lies face down."""
    reach = float(np.hypot(body.size[0], body.size[1])) * 0.92
    taken: list[NDArray[np.float64]] = []
    spots: list[Spot] = []
    for tile in tiles:
        for _ in range(12):
            at = np.asarray(middle) + rng.normal(0, spread, 2) * (1.4, 1.0)
            if all(np.hypot(*(at - other)) > reach for other in taken):
                break
        else:
            continue
        taken.append(at)
        angle = rng.normal(0, 25) + rng.choice([0, 180]) if rng.random() < 0.6 else rng.uniform(0, 360)
        pose = turned(z=angle) @ turned(y=180 if rng.random() < down else 0)
        spots.append(Spot(tile, pose, np.array([*at, body.size[2] / 2]), number + len(spots)))
    return spots


def wall(rng: np.random.Generator, body: Body, count: int, layers: int, *, number: int) -> list[Spot]:
    """Build a wall of face-down tiles along x, `layers` high."""
    spots = []
    step = body.size[0] + 2 * body.chamfer + rng.uniform(0.002, 0.03)
    for layer in range(layers):
        shift = rng.normal(0, 0.05, 2)
        for i in range(count):
            at = np.array(
                [
                    (i - count / 2) * step + shift[0],
                    shift[1] + rng.normal(0, 0.02),
                    body.size[2] * (layer + 0.5),
                ]
            )
            spots.append(Spot(Shown(None), turned(y=180, z=rng.normal(0, 0.6)), at, number, 0.6))
    return spots
