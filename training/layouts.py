"""Where dots and bamboo sticks stand on a tile, and which ink each of them gets.

Places are x and y in a box from -1 to 1, y down, listed from top to bottom. All layouts and colour habits:
common practice of tile makers, no source.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from tilewitness.training.inks import RGB, Inks

InkName = Literal["red", "green", "blue", "black"]
Place = tuple[float, float]
INK_NAMES: Final[tuple[InkName, ...]] = ("red", "green", "blue", "black")

_CLASSIC_DOTS: Final = {2: "rows", 3: "rows", 4: "diagonal", 5: "centre", 6: "top", 7: "halves", 8: "one", 9: "rows"}
_CLASSIC_BAMS: Final = {2: "one", 3: "one", 4: "one", 5: "centre", 6: "one", 7: "top and middle", 8: "one", 9: "columns"}
RULES: Final = ("one", "rows", "columns", "alternate", "centre", "top", "diagonal", "halves", "middle column", "top and middle")


def ink_of(inks: Inks, name: InkName) -> RGB:
    """Return one of a set's four inks."""
    return {"red": inks.red, "green": inks.green, "blue": inks.blue, "black": inks.black}[name]


def sample_dot_places(rng: np.random.Generator) -> dict[int, tuple[Place, ...]]:
    """Fix one set's layouts of 1 to 9 dots, from spread over the face to huddled in groups that touch."""
    wide, high = float(rng.uniform(0.5, 0.72)), float(rng.uniform(0.52, 0.74))
    square = _block((-wide, wide), (-high, high))
    near = float(rng.uniform(0.28, 0.46))
    low = near / float(rng.uniform(1.15, 1.45)) if rng.random() < 0.6 else float(rng.uniform(0.26, 0.36))
    top, rise = -float(rng.uniform(0.66, 0.8)), 0.78 - low
    six_top = near if rng.random() < 0.7 else min(near * 1.3, 0.5)
    step = min(low, 0.26) if rng.random() < 0.5 else 0.26
    column = min(2 * near * float(rng.uniform(0.92, 1.1)), 0.72)
    nine = low * 2 if rng.random() < 0.4 else float(rng.uniform(0.58, 0.74))
    places = {
        1: ((0.0, 0.0),),
        2: _two_dots(rng),
        3: _three_dots(rng, wide, high),
        4: square,
        5: (*square[:2], (0.0, 0.0), *square[2:]),
        6: (*_block((-six_top, six_top), (top,)), *_block((-near, near), (rise - low, rise + low))),
        7: (*_slanted(rng, top), *_block((-near, near), (rise - low, rise + low))),
        8: _block((-near, near), (-3 * step, -step, step, 3 * step)),
        9: _block((-column, 0.0, column), (-nine, 0.0, nine)),
    }
    if rng.random() < 0.05:
        places |= _rare_dots(column)
    return places


def _rare_dots(column: float) -> dict[int, tuple[Place, ...]]:
    """Layouts of 6, 7 and 8 in rows of two and three."""
    three, two = (-column, 0.0, column), (-column / 2, column / 2)
    return {
        6: _block(three, (-0.4, 0.4)),
        7: (*_block(two, (-0.66,)), *_block(three, (0.0,)), *_block(two, (0.66,))),
        8: (*_block(three, (-0.66,)), *_block(two, (0.0,)), *_block(three, (0.66,))),
    }


def _block(columns: tuple[float, ...], rows: tuple[float, ...]) -> tuple[Place, ...]:
    return tuple((x, y) for y in rows for x in columns)


def _two_dots(rng: np.random.Generator) -> tuple[Place, ...]:
    apart = float(rng.uniform(0.36, 0.66))
    if rng.random() < 0.06:
        side = float(rng.choice([-0.45, 0.45]))
        return (-side, -apart), (side, apart)
    return (0.0, -apart), (0.0, apart)


def _three_dots(rng: np.random.Generator, wide: float, high: float) -> tuple[Place, ...]:
    if rng.random() < 0.05:
        return (0.0, -high), (0.0, 0.0), (0.0, high)
    turn = 1 if rng.random() < 0.65 else -1
    return (-wide * turn, -high), (0.0, 0.0), (wide * turn, high)


def _slanted(rng: np.random.Generator, top: float) -> tuple[Place, ...]:
    """The upper three of a 7: falling to the right, or less often to the left."""
    turn = 1 if rng.random() < 0.8 else -1
    slant, wide = float(rng.uniform(0.1, 0.27)), float(rng.uniform(0.5, 0.7))
    return (-wide, top - slant * turn + 0.04), (0.0, top + 0.04), (wide, top + slant * turn + 0.04)


@dataclass(frozen=True, slots=True)
class Stick:
    """One bamboo stick: its middle, its height (2 fills the box), and how far its foot is right of its head."""

    x: float
    y: float
    length: float
    lean: float = 0.0


def sample_stick_places(rng: np.random.Generator) -> dict[int, tuple[Stick, ...]]:
    """Fix one set's layouts of 1 to 9 sticks."""
    tall, short = float(rng.uniform(0.78, 0.96)), float(rng.uniform(0.54, 0.64))
    wide = float(rng.uniform(0.5, 0.72))
    over = _row(1, wide, -0.5, tall), _row(2, wide, 0.5, tall)
    if rng.random() < 0.15:
        over = _row(2, wide, -0.5, tall), _row(1, wide, 0.5, tall)
    two = (*_row(1, wide, -0.5, tall), *_row(1, wide, 0.5, tall))
    if rng.random() < 0.12:
        two = _row(2, wide, 0.0, float(rng.uniform(1.0, 1.8)))
    five_middle = Stick(0.0, 0.0, tall if rng.random() < 0.5 else 2 * tall * 0.7)
    return {
        1: (Stick(0.0, 0.0, 1.9),),
        2: two,
        3: (*over[0], *over[1]),
        4: (*_row(2, wide, -0.5, tall), *_row(2, wide, 0.5, tall)),
        5: (*_row(2, 0.72, -0.5, tall), five_middle, *_row(2, 0.72, 0.5, tall)),
        6: _six(rng, tall, short),
        7: _seven(rng, tall, short),
        8: _eight(rng, tall, short),
        9: _nine(rng, short),
    }


def _row(count: int, wide: float, y: float, length: float) -> tuple[Stick, ...]:
    spots = (0.0,) if count == 1 else tuple(float(x) for x in np.linspace(-wide, wide, count))
    return tuple(Stick(x, y, length) for x in spots)


def _six(rng: np.random.Generator, tall: float, short: float) -> tuple[Stick, ...]:
    if rng.random() < 0.1:
        return tuple(s for y in (-0.67, 0.0, 0.67) for s in _row(2, 0.5, y, short))
    return (*_row(3, 0.68, -0.5, tall), *_row(3, 0.68, 0.5, tall))


def _seven(rng: np.random.Generator, tall: float, short: float) -> tuple[Stick, ...]:
    habit = rng.random()
    if habit < 0.72:
        return (*_row(1, 0, -0.67, short), *_row(3, 0.68, 0.0, short), *_row(3, 0.68, 0.67, short))
    if habit < 0.84:
        return (*_row(2, 0.42, -0.67, short), *_row(3, 0.68, 0.0, short), *_row(2, 0.42, 0.67, short))
    if habit < 0.93:
        return (*_row(3, 0.68, -0.5, tall), *_row(4, 0.72, 0.5, tall))
    return (*_row(3, 0.68, -0.67, short), *_row(1, 0.0, 0.0, short), *_row(3, 0.68, 0.67, short))


def _eight(rng: np.random.Generator, tall: float, short: float) -> tuple[Stick, ...]:
    habit = rng.random()
    if habit < 0.7:
        return _mirrored(_zigzag(rng, -0.5, tall, 1 if rng.random() < 0.6 else -1))
    if habit < 0.85:
        return (*_row(4, 0.76, -0.5, tall), *_row(4, 0.76, 0.5, tall))
    return (*_row(3, 0.68, -0.67, short), *_row(2, 0.36, 0.0, short), *_row(3, 0.68, 0.67, short))


def _zigzag(rng: np.random.Generator, y: float, tall: float, way: int) -> tuple[Stick, ...]:
    """Four sticks as an M (`way` 1) or a W: upright outside, or all leaning."""
    outer = float(rng.uniform(0.62, 0.8))
    if rng.random() < 0.3:  # every stick touches the next
        return (
            Stick(-outer, y, tall), Stick(-outer / 2, y, tall, outer * way), Stick(outer / 2, y, tall, -outer * way),
            Stick(outer, y, tall),
        )  # fmt: skip
    if rng.random() < 0.2:
        spots, leans = (-0.72, -0.24, 0.24, 0.72), (-1, 1, -1, 1)
        return tuple(Stick(x, y, tall, 0.4 * lean * way) for x, lean in zip(spots, leans, strict=True))
    # The inner sticks reach from the outer ones' ends to the middle, or stop short of either.
    reach = float(rng.uniform(0.5, 0.95)) * outer
    inner = outer / 2 * float(rng.uniform(0.85, 1.0))
    low = tall * float(rng.uniform(0.8, 1.0))
    return (
        Stick(-outer, y, tall),
        Stick(-inner, y, low, reach * way),
        Stick(inner, y, low, -reach * way),
        Stick(outer, y, tall),
    )


def _mirrored(upper: tuple[Stick, ...]) -> tuple[Stick, ...]:
    """A row and its mirror image below."""
    return (*upper, *(Stick(stick.x, -stick.y, stick.length, -stick.lean) for stick in upper))


def _nine(rng: np.random.Generator, short: float) -> tuple[Stick, ...]:
    wide = float(rng.uniform(0.6, 0.74))
    return tuple(s for y in (-0.67, 0.0, 0.67) for s in _row(3, wide, y, short))


def sample_colours(
    rng: np.random.Generator, places: dict[int, tuple[Place, ...]], palette: tuple[InkName, ...], *, dots: bool
) -> dict[int, tuple[InkName, ...]]:
    """Fix which ink each dot or stick of each number gets: the classic habit, one ink, or any rule."""
    habit = rng.random()
    classic, top_three = (_CLASSIC_DOTS if dots else _CLASSIC_BAMS), rng.random() < 0.3
    chosen = {}
    for number, spots in places.items():
        usual = "top" if number == 3 and not dots and top_three else classic.get(number, "one")
        rule = usual if habit < 0.4 else "one" if habit < 0.55 else str(rng.choice(RULES))
        slots = _slots(rule, spots)
        start = int(rng.integers(len(palette))) if habit >= 0.55 else 0
        chosen[number] = tuple(palette[(start + slot) % len(palette)] for slot in slots)
    return chosen


def _slots(rule: str, spots: tuple[Place, ...]) -> list[int]:
    rows = sorted({y for _, y in spots})
    columns = sorted({round(x, 3) for x, _ in spots})
    top = rows[0] if len(spots) != 7 else -0.4
    answers: dict[str, Callable[[int, float, float], int]] = {
        "one": lambda i, x, y: 0,
        "rows": lambda i, x, y: rows.index(y),
        "columns": lambda i, x, y: columns.index(round(x, 3)),
        "alternate": lambda i, x, y: i % 2,
        "centre": lambda i, x, y: int(abs(x) < 0.05 and abs(y) < 0.05),
        "top": lambda i, x, y: int(y <= top),
        "diagonal": lambda i, x, y: int(x * y > 0),
        "halves": lambda i, x, y: int(y > -0.2),
        "middle column": lambda i, x, y: int(abs(x) < 0.05),
        "top and middle": lambda i, x, y: 1 if y <= top else 2 if abs(x) < 0.05 else 0,
    }
    return [answers[rule](i, x, y) for i, (x, y) in enumerate(spots)]
