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

_SQUARE: Final = ((-0.56, -0.6), (0.56, -0.6), (-0.56, 0.6), (0.56, 0.6))
_CLASSIC_DOTS: Final = {2: "rows", 3: "rows", 4: "diagonal", 5: "centre", 6: "top", 7: "halves", 8: "one", 9: "rows"}
_CLASSIC_BAMS: Final = {2: "one", 3: "one", 4: "one", 5: "centre", 6: "one", 7: "top", 8: "one", 9: "columns"}
RULES: Final = ("one", "rows", "columns", "alternate", "centre", "top", "diagonal", "halves", "middle column")


def ink_of(inks: Inks, name: InkName) -> RGB:
    """Return one of a set's four inks."""
    return {"red": inks.red, "green": inks.green, "blue": inks.blue, "black": inks.black}[name]


def sample_dot_places(rng: np.random.Generator) -> dict[int, tuple[Place, ...]]:
    """Fix one set's layouts of 1 to 9 dots."""
    turn = 1 if rng.random() < 0.6 else -1
    slant = float(rng.uniform(0.1, 0.28))
    two = _two_dots(rng)
    gap = float(rng.uniform(0.0, 0.28))
    three = [(-0.64 * turn, -0.66), (0.0, 0.0), (0.64 * turn, 0.66)]
    if rng.random() < 0.05:
        three = [(0.0, -0.7), (0.0, 0.0), (0.0, 0.7)]
    seven_top = [(-0.64, -0.68 - slant * turn), (0.0, -0.68), (0.64, -0.68 + slant * turn)]
    seven = [*seven_top, *((x, y) for y in (0.16 + gap / 4, 0.78) for x in (-0.44, 0.44))]
    nine_rise = float(rng.uniform(0.62, 0.72))
    return {
        1: ((0.0, 0.0),),
        2: two,
        3: tuple(three),
        4: _SQUARE,
        5: (*_SQUARE[:2], (0.0, 0.0), *_SQUARE[2:]),
        6: tuple((x, y) for y in (-0.72, gap, 0.72) for x in (-0.45, 0.45)),
        7: tuple(seven),
        8: tuple((x, y) for y in (-0.78, -0.26, 0.26, 0.78) for x in (-0.42, 0.42)),
        9: tuple((x, y) for y in (-nine_rise, 0.0, nine_rise) for x in (-0.66, 0.0, 0.66)),
    }


def _two_dots(rng: np.random.Generator) -> tuple[Place, ...]:
    apart = float(rng.uniform(0.45, 0.62))
    if rng.random() < 0.06:
        side = float(rng.choice([-0.45, 0.45]))
        return (-side, -apart), (side, apart)
    return (0.0, -apart), (0.0, apart)


@dataclass(frozen=True, slots=True)
class Stick:
    """One bamboo stick: its middle, its length (2 fills the box) and its lean in degrees, clockwise."""

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
    habit, lean = rng.random(), float(rng.uniform(16, 34))
    if habit < 0.62:
        # An M over a W (or the reverse): upright outside, leaning inside.
        way = 1 if rng.random() < 0.7 else -1
        inner, outer = float(rng.uniform(0.2, 0.28)), float(rng.uniform(0.66, 0.8))
        if rng.random() < 0.2:
            outer_lean, outer = -lean, 0.66  # zigzag: the outer ones lean too
        else:
            outer_lean = 0.0
        return tuple(
            stick
            for y, turn in ((-0.5, way), (0.5, -way))
            for stick in (
                Stick(-outer, y, tall, outer_lean * turn),
                Stick(-inner, y, tall, -lean * turn),
                Stick(inner, y, tall, lean * turn),
                Stick(outer, y, tall, -outer_lean * turn),
            )
        )
    if habit < 0.82:
        return (*_row(4, 0.76, -0.5, tall), *_row(4, 0.76, 0.5, tall))
    return (*_row(3, 0.68, -0.67, short), *_row(2, 0.36, 0.0, short), *_row(3, 0.68, 0.67, short))


def _nine(rng: np.random.Generator, short: float) -> tuple[Stick, ...]:
    wide = float(rng.uniform(0.6, 0.74))
    return tuple(s for y in (-0.67, 0.0, 0.67) for s in _row(3, wide, y, short))


def sample_colours(
    rng: np.random.Generator, places: dict[int, tuple[Place, ...]], palette: tuple[InkName, ...], *, dots: bool
) -> dict[int, tuple[InkName, ...]]:
    """Fix which ink each dot or stick of each number gets: the classic habit, one ink, or any rule."""
    habit = rng.random()
    classic = _CLASSIC_DOTS if dots else _CLASSIC_BAMS
    chosen = {}
    for number, spots in places.items():
        rule = classic.get(number, "one") if habit < 0.4 else "one" if habit < 0.55 else str(rng.choice(RULES))
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
    }
    return [answers[rule](i, x, y) for i, (x, y) in enumerate(spots)]
