"""The kinds of scene: what is on the table and how a person would photograph it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from tilewitness.training.bodies import Body
from tilewitness.training.clutter import row_of_cards, scatter_things
from tilewitness.training.decoys import sample_decoy
from tilewitness.training.lookalike_rows import laid_out, printed
from tilewitness.training.lookalikes import sample_family
from tilewitness.training.placing import (
    Layout,
    Manner,
    Shown,
    deal,
    disturbed,
    grid,
    row,
    scattered,
    standing,
    wall,
    whole_set,
)
from tilewitness.training.racks import Rack, sample_rack, sample_rack_paint
from tilewitness.training.solids import Paint, Solid, box
from tilewitness.training.surfaces import colour

PAPER = Paint((235, 235, 235))


@dataclass(frozen=True, slots=True)
class View:
    """How the photo is taken: angles in degrees, distance in radii of the subject, rest as in `framed`."""

    elevation: float
    azimuth: float
    roll: float
    distance: float
    aspect: float | None
    against: bool
    fill: float
    offset: tuple[float, float]
    bend: float


@dataclass(frozen=True, slots=True)
class Plan:
    """A scene before it is painted. `goods` marks a shop's photo: white ground, even light."""

    layout: Layout
    view: View
    goods: bool = False


def _roll(rng: np.random.Generator) -> float:
    """Draw the camera's turn about its axis: small mostly, up to 30 degrees."""
    return float(np.clip(rng.normal(0, 4), -15, 15) if rng.random() < 0.82 else rng.uniform(-30, 30))


def _view(
    rng: np.random.Generator,
    elevation: float,
    *,
    fill: float,
    aspect: float | None = 0.0,
    straight: bool = False,
) -> View:
    """Draw the rest of a view. `straight` is a careful photo from above; an aspect of 0 is drawn too."""
    if aspect == 0:
        aspect = float(rng.choice([4 / 3, 16 / 9, 1.0, 3 / 2], p=[0.6, 0.2, 0.08, 0.12]))
    azimuth = rng.normal(0, 0.5) if straight else float(np.clip(rng.normal(0, 11), -35, 35))
    if rng.random() < (0.1 if elevation > 50 else 0.01):  # from the other side of the table
        azimuth += 180
    roll = rng.normal(0, 0.7) if straight else _roll(rng)
    if rng.random() < 0.03:
        roll += 180  # the phone was held upside down
    distance = float(np.exp(rng.uniform(np.log(1.7), np.log(6))))
    spread = 0.5 if fill < 1 else 0.8
    offset = (float(np.clip(rng.normal(0, spread), -1, 1)), float(np.clip(rng.normal(0, spread), -1, 1)))
    bend = rng.normal(0, 0.012) if rng.random() < 0.5 else 0.0
    return View(elevation, azimuth, roll, distance, aspect, rng.random() < 0.17, fill, offset, bend)


def _fill(rng: np.random.Generator, least: float, *, closer: float) -> float:
    """Draw how much of the picture the subject fills: all in it, or closer so that a part is seen larger."""
    if rng.random() < closer:
        return float(np.exp(rng.uniform(0, np.log(3.5))))
    return float(rng.uniform(least, 0.98))


def _low(rng: np.random.Generator) -> float:
    """Draw the elevation of a person sitting at the table."""
    return float(rng.uniform(12, 50) if rng.random() < 0.85 else rng.uniform(50, 80))


def _occupied(layout: Layout) -> list[tuple[float, float, float]]:
    """Return circles (x, y, radius) that cover everything on the table."""
    circles = [(float(s.centre[0]), float(s.centre[1]), 1.0) for s in layout.spots]
    for solid in layout.solids:
        points = solid.rings.reshape(-1, 3)[:, :2]
        first, last = points[points[:, 0].argmin()], points[points[:, 0].argmax()]
        for share in np.linspace(0, 1, 12):
            x, y = first + share * (last - first)
            circles.append((float(x), float(y), 1.2))
    return circles


def surround(
    rng: np.random.Generator, layout: Layout, body: Body, far: float, *, discards: bool = True
) -> None:
    """Add what else lies on the table: walls, discards if wanted, things."""
    number = 1000
    if rng.random() < 0.35:
        piled = Layout(wall(rng, body, int(rng.integers(6, 20)), int(rng.integers(1, 3)), number=number))
        layout.join(piled.turned(rng.normal(0, 6), (rng.normal(0, 3), far + rng.uniform(0, 3))))
    if discards and rng.random() < 0.3:
        count, down = int(rng.integers(1, 12)), float(rng.choice([0.0, 0.6, 1.0]))
        side = far + rng.uniform(2, 5) if rng.random() < 0.7 else -rng.uniform(5, 7)
        middle = (rng.normal(0, 4), side)
        layout.join(Layout(scattered(rng, deal(rng, count), body, middle, 1.8, number=number, down=down)))
    if rng.random() < 0.55:
        layout.solids += scatter_things(rng, int(rng.integers(1, 6)), _occupied(layout), 11)
    if rng.random() < 0.13:
        alike = Layout(solids=laid_out(rng, sample_family(rng)))
        layout.join(alike.turned(rng.normal(0, 12), (rng.normal(0, 4), far + rng.uniform(4, 8))))


def stocked_rack(
    rng: np.random.Generator, body: Body, tiles: list[Shown], exposed: list[Shown], manner: Manner
) -> tuple[Layout, Rack]:
    """Put tiles on a rack, and exposed ones on its top shelf or on the table before it."""
    layout = Layout()
    rack = sample_rack(rng, body, max(len(tiles) * 1.1, rng.uniform(14, 17)))
    layout.solids += rack.solids
    free = max(0.0, rack.length - len(tiles) * 1.1) / 2
    seat = rack.seat + (rng.choice([0.0, rng.uniform(-free, free)]), 0, 0)
    layout.add(row(rng, tiles, body, manner, standing(rack.lean), seat, 1), body, meant=True)
    if exposed:
        _expose(rng, layout, body, rack, exposed, manner)
    return layout, rack


def _expose(
    rng: np.random.Generator, layout: Layout, body: Body, rack: Rack, exposed: list[Shown], manner: Manner
) -> None:
    """Show tiles on the top shelf where there is one, else before the rack."""
    _, h, t = body.size
    side = rng.uniform(-1, 1) * max(0.0, rack.length - len(exposed) * 1.1) / 2
    if rack.shelf is not None and rng.random() < 0.8:
        if rack.shelf_depth > h:
            pose, seat = standing(90), rack.shelf + (side, -h - 0.02, 0)
        else:
            lean = rng.uniform(0, 4)
            pose, seat = standing(lean), rack.shelf + (side, -h * np.sin(np.radians(lean)), 0)
    elif rng.random() < 0.75:
        pose, seat = standing(90), np.array([side, -t * 2.2 - h - rng.uniform(0.1, 1.5), 0.0])
    else:
        pose, seat = standing(rng.uniform(0, 3)), np.array([side, -t * 2.4 - rng.uniform(0.3, 1.5), 0.0])
    layout.add(row(rng, exposed, body, manner, pose, seat, 2), body, meant=True)


def rack_scene(rng: np.random.Generator, body: Body) -> Plan:
    """A person's rack, often with exposed tiles, sometimes facing another rack."""
    count = int(rng.choice([14, 13, int(rng.integers(1, 17))], p=[0.3, 0.15, 0.55]))
    shown = disturbed(rng, deal(rng, count))
    exposed = disturbed(rng, deal(rng, int(rng.integers(1, 13)))) if rng.random() < 0.45 else []
    layout, _ = stocked_rack(rng, body, shown, exposed, Manner.sample(rng))
    far = 3.5
    full = rng.random() < 0.07  # all four players
    for angle, chance in ((180, 0.2), (90, 0.04), (-90, 0.04)):
        if full or rng.random() < chance:
            other, _ = stocked_rack(
                rng,
                body,
                deal(rng, int(rng.integers(1, 15))),
                deal(rng, int(rng.choice([0, 3, 4, 6]))),
                Manner.sample(rng),
            )
            side = np.array([np.sin(np.radians(angle)), -np.cos(np.radians(angle))])
            x, y = np.array([0.0, 8.0]) + side * (rng.uniform(11, 14), rng.uniform(1, 6))
            layout.join(other.turned(angle + rng.normal(0, 4), (float(x), float(y))))
    surround(rng, layout, body, far)
    return Plan(layout, _view(rng, _low(rng), fill=_fill(rng, 0.6, closer=0.4)))


def standing_scene(rng: np.random.Generator, body: Body) -> Plan:
    """Tiles standing on the table without a rack."""
    layout = Layout()
    manner = Manner.sample(rng)
    for number in range(int(rng.choice([1, 1, 2]))):
        seat = np.array([rng.normal(0, 0.5), number * rng.uniform(2, 5), 0.0])
        tiles = disturbed(rng, deal(rng, int(rng.integers(1, 16))))
        layout.add(row(rng, tiles, body, manner, standing(0), seat, number), body, meant=True)
    surround(rng, layout, body, 6.5)
    return Plan(layout, _view(rng, rng.uniform(8, 55), fill=_fill(rng, 0.55, closer=0.3)))


def grid_scene(rng: np.random.Generator, body: Body) -> Plan:
    """Many rows lying face up, often the whole set, often tight and from straight above."""
    tiles = whole_set(rng) if rng.random() < 0.6 else deal(rng, int(rng.integers(4, 120)))
    tiles = tiles[: int(rng.integers(30, 151))]
    columns = min(len(tiles), int(rng.integers(3, 19)))
    manner = Manner.sample(rng)
    tight = rng.random() < 0.6
    if tight:
        manner = Manner(
            float(rng.choice([0.0, 0.01])), rng.uniform(0.03, 0.6), 0.0, 0.004, rng.uniform(0, 0.4)
        )
    gap = rng.uniform(0, 0.02) if tight else rng.choice([manner.gap + 0.02, rng.uniform(0.05, 0.8)])
    layout = Layout()
    layout.add(grid(rng, disturbed(rng, tiles), body, columns, manner, float(gap)), body, meant=True)
    straight = rng.random() < (0.65 if tight else 0.2)
    goods = straight and rng.random() < 0.6
    if tight and rng.random() < 0.25:
        layout.solids += tray(rng, layout, body)
    if not goods:
        surround(rng, layout, body, len(tiles) / columns * 0.75 + 2)
    fill = rng.uniform(0.97, 1.03) if rng.random() < 0.3 else _fill(rng, 0.65, closer=0.45)
    elevation = 90 + rng.normal(0, 1) if straight else rng.uniform(28, 88)
    aspect = None if straight and rng.random() < 0.6 else 0.0
    return Plan(layout, _view(rng, elevation, fill=float(fill), aspect=aspect, straight=straight), goods)


def tray(rng: np.random.Generator, layout: Layout, body: Body) -> list[Solid]:
    """Return the four sides of a box in which the layout's tiles lie, and its floor."""
    corners = np.concatenate(layout.focus)
    x0, y0, _ = corners.min(0) - rng.uniform(0.02, 0.25)
    x1, y1, _ = corners.max(0) + rng.uniform(0.02, 0.25)
    paint, thick, tall = sample_rack_paint(rng), rng.uniform(0.1, 0.6), body.size[2] * rng.uniform(0.4, 1.3)
    sides = [
        ((x0 - thick, y0 - thick), (x0, y1 + thick)),
        ((x1, y0 - thick), (x1 + thick, y1 + thick)),
        ((x0, y0 - thick), (x1, y0)),
        ((x0, y1), (x1, y1 + thick)),
    ]
    floor = Paint(colour(rng, (0, 0.9), (0.03, 0.7)))
    return [box((*low, 0.0), (*high, tall), paint) for low, high in sides] + [
        box((x0, y0, -0.02), (x1, y1, 0), floor)
    ]


def rows_scene(rng: np.random.Generator, body: Body) -> Plan:
    """One to six rows lying face up, laid by hand, as a teacher lays out hands; or a strip cut to one row."""
    count = int(rng.choice([1, 2, 3, 4, 5, 6], p=[0.45, 0.15, 0.12, 0.12, 0.1, 0.06]))
    manner = Manner.sample(rng)
    layout = Layout()
    y = 0.0
    for number in range(count):
        tiles = disturbed(rng, deal(rng, int(rng.choice([14, int(rng.integers(1, 15))], p=[0.4, 0.6]))))
        line = Layout(row(rng, tiles, body, manner, standing(90), np.zeros(3), number))
        turned = line.turned(rng.normal(0, 1 + manner.twist / 2), (rng.normal(0, 0.4), y))
        layout.add(turned.spots, body, meant=True)
        y -= body.size[1] + rng.uniform(0.15, 1.2)
    strip = count == 1 and rng.random() < 0.5
    straight = strip and rng.random() < 0.6
    if not strip:
        surround(rng, layout, body, 4.0)
    elevation = 90 + rng.normal(0, 4) if straight else rng.uniform(25, 88)
    fill = rng.uniform(0.93, 1.06) if strip else _fill(rng, 0.6, closer=0.3)
    view = _view(rng, elevation, fill=fill, aspect=None if strip else 0.0, straight=straight)
    return Plan(layout, view, straight and rng.random() < 0.5)


def close_scene(rng: np.random.Generator, body: Body) -> Plan:
    """A few tiles that fill the picture."""
    layout = Layout()
    tiles = disturbed(rng, deal(rng, int(rng.integers(1, 5))))
    flat = rng.random() < 0.7
    pose = standing(90) if flat else standing(rng.uniform(0, 25))
    layout.add(row(rng, tiles, body, Manner.sample(rng), pose, np.zeros(3), 0), body, meant=True)
    if rng.random() < 0.4:
        surround(rng, layout, body, 3.0)
    elevation = rng.uniform(40, 90) if flat else rng.uniform(15, 60)
    fill = rng.uniform(0.35, 1.2)
    return Plan(layout, _view(rng, elevation, fill=fill), rng.random() < 0.15)


def discards_scene(rng: np.random.Generator, body: Body) -> Plan:
    """Tiles thrown in the middle at any angle, some face down, between walls and things."""
    layout = Layout()
    count = int(rng.integers(4, 60))
    down = float(rng.choice([0.0, 0.3, 0.6]))
    tiles = disturbed(rng, deal(rng, count))
    spread = np.sqrt(count) * rng.uniform(0.55, 1.1)
    layout.add(scattered(rng, tiles, body, (0, 0), float(spread), number=0, down=down), body, meant=True)
    surround(rng, layout, body, float(spread) * 2.2 + 1)
    return Plan(layout, _view(rng, rng.uniform(25, 90), fill=_fill(rng, 0.7, closer=0.5)))


def empty_scene(rng: np.random.Generator, body: Body) -> Plan:
    """No face at all: things, face-down tiles, empty racks."""
    layout = Layout()
    kind = rng.random()
    if kind < 0.3:
        layout.solids += sample_rack(rng, body, rng.uniform(6, 17)).solids
    if 0.2 < kind < 0.6:
        piled = Layout(wall(rng, body, int(rng.integers(3, 18)), int(rng.integers(1, 4)), number=0))
        layout.join(piled.turned(rng.normal(0, 20), (0.0, rng.uniform(3, 5))))
        layout.join(
            Layout(scattered(rng, deal(rng, int(rng.integers(0, 20))), body, (0, -5), 2, number=9, down=1.0))
        )
    if kind > 0.8:  # the photo shows some picture, screen or print and little else
        half = rng.uniform(8, 14)
        layout.solids.append(
            box((-half, -half, -0.02), (half, half, 0.0), PAPER, Paint(PAPER.colour, sample_decoy(rng)))
        )
    if 0.6 < kind < 0.8 and rng.random() < 0.6:
        layout.solids += row_of_cards(rng)
    layout.solids += scatter_things(rng, int(rng.integers(0, 14)), _occupied(layout), rng.uniform(5, 10))
    w = rng.uniform(2, 8)
    layout.focus.append(
        np.array([(-w, -w / 2, 0), (w, -w / 2, 0), (w, w / 2, 0), (-w, w / 2, 1)], np.float32)
    )
    return Plan(layout, _view(rng, rng.uniform(15, 90), fill=rng.uniform(0.6, 1.2)))


def lookalikes_scene(rng: np.random.Generator, body: Body) -> Plan:
    """No tile, but rows of what might be taken for some: dominoes, keys, cards, a calendar, bricks."""
    layout, family = Layout(), sample_family(rng)
    if rng.random() < 0.65:
        layout.solids += laid_out(rng, family)
        if rng.random() < 0.3:
            beside = Layout(solids=laid_out(rng, sample_family(rng)))
            layout.join(beside.turned(rng.normal(0, 15), (rng.normal(0, 4), rng.uniform(7, 11))))
    else:
        rows, half = int(rng.integers(1, 9)), rng.uniform(2, 8, 2)
        image, _ = printed(rng, family, 640, round(640 * float(np.clip(half[0] / half[1], 0.5, 2))), rows)
        x, y = half
        layout.solids.append(box((-x, -y, 0), (x, y, rng.uniform(0.01, 0.4)), PAPER, Paint(PAPER.colour, image)))
    for solid in layout.solids:
        (left, near), (right, far) = solid.rings[..., :2].min((0, 1)), solid.rings[..., :2].max((0, 1))
        corners = [(left, far, 0), (right, far, 0), (right, near, 0), (left, near, 0)]
        layout.focus.append(np.array(corners, np.float32))
    layout.solids += scatter_things(rng, int(rng.integers(0, 4)), _occupied(layout), 11)
    return Plan(layout, _view(rng, rng.uniform(20, 90), fill=_fill(rng, 0.6, closer=0.4)))


KINDS: dict[str, tuple[Callable[[np.random.Generator, Body], Plan], float]] = {
    "rack": (rack_scene, 0.33),
    "standing": (standing_scene, 0.06),
    "grid": (grid_scene, 0.20),
    "rows": (rows_scene, 0.16),
    "close": (close_scene, 0.08),
    "discards": (discards_scene, 0.06),
    "empty": (empty_scene, 0.07),
    "lookalikes": (lookalikes_scene, 0.11),
}
"""Each kind of scene and its share."""
