"""Unnamed symbols: made-up sets whose faces are arbitrary pictures, some of them alike on purpose.

They teach the reader to tell pictures apart that it has no names for. Ideas and icons of the designer sets, which
measure that, are not among them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES, Face, Kind
from tilewitness.training.artboard import HEIGHT, WIDTH, Artboard, Point, straight_alpha
from tilewitness.training.inks import RGB
from tilewitness.training.motifs import HELD_OUT_KINDS, KINDS, Mask, motif
from tilewitness.training.set_photos import PICTURES

SMALL: Final = (24, 32)
APART: Final = 55
"""Two symbols of a set differ by so much, of 255, in some place when they are as small as `SMALL`."""

STRANGE_KINDS: Final = frozenset(("scribble", "pixels", "mosaic", "patches", "beads", "lattice"))


@dataclass(frozen=True, slots=True)
class Symbol:
    """One face.

    Attributes:
        kind, seed: what it shows, as `motifs.motif` takes them.
        count: how often it shows that.
        places: how the copies stand: 0 in rows, 1 around the middle, 2 slanting, 3 by lot.
        inks: of the motif's regions by turns.
        traded: every other copy has the first two inks traded.
        mirrored: left and right.
        quarters: turned by so many quarters.
        frame: 0 none, 1 a line, 2 an oval, 3 two lines.
        ground: the colour that covers the face, if any.
        size: share of its room that each copy fills.
        mark: a second motif, small, in a corner.
    """

    kind: str
    seed: int
    count: int
    places: int
    inks: tuple[RGB, ...]
    traded: bool = False
    mirrored: bool = False
    quarters: int = 0
    frame: int = 0
    ground: RGB | None = None
    size: float = 0.9
    mark: tuple[str, int] | None = None
    held_out: bool = False

    @property
    def strange(self) -> bool:
        """Whether no usual tile shows the like. Flowers and jokers show single pictures and words, dots rings and figures."""
        return self.kind in STRANGE_KINDS or (self.kind == "icon" and self.count > 1)


@dataclass(frozen=True, slots=True)
class SymbolSet:
    """A whole set of tiles with symbols for its faces and for each of its eight flowers and two jokers."""

    symbols: tuple[Symbol, ...]

    @classmethod
    def sample(cls, rng: np.random.Generator, *, held_out: bool = False) -> SymbolSet:
        """Draw one by lot."""
        wanted = len(FACES) - 2 + sum(PICTURES.values())
        while len(symbols := sample_symbols(rng, wanted, held_out=held_out)) < wanted:
            pass
        return cls(symbols)

    def draw(self, face: Face, rng: np.random.Generator, *, variant: int = 0) -> NDArray[np.uint8]:
        """Draw one tile's face as `faces.draw_face` does."""
        place = face.index + (face.kind is Kind.JOKER) * (PICTURES[Kind.FLOWER] - 1)
        return draw_symbol(self.symbols[place + variant % PICTURES.get(face.kind, 1)], rng)


def sample_symbols(rng: np.random.Generator, count: int, *, held_out: bool = False) -> tuple[Symbol, ...]:
    """Draw the faces of one made-up set: some by lot, the others one step from one of those, all of them distinct."""
    kinds = _some(rng, HELD_OUT_KINDS if held_out else KINDS)
    palette = _palette(rng)
    alike = rng.uniform(0.3, 0.8)
    chosen: list[Symbol] = []
    stills: list[NDArray[np.float32]] = []
    for _ in range(12 * count):
        if len(chosen) == count:
            break
        if chosen and rng.random() < alike:
            symbol = _changed(chosen[int(rng.integers(len(chosen)))], kinds, palette, rng)
        else:
            symbol = _any(kinds, palette, rng, held_out)
        still = _still(symbol)
        if all(np.abs(still - other).max() > APART and np.abs(still[::-1, ::-1] - other).max() > APART for other in stills):
            chosen.append(symbol)
            stills.append(still)
    return tuple(chosen)


def draw_symbol(symbol: Symbol, rng: np.random.Generator) -> NDArray[np.uint8]:
    """Draw one tile, straight-alpha RGBA uint8 (256, 192, 4); two tiles with one symbol differ by a little play."""
    matrix = cv2.getRotationMatrix2D((WIDTH / 2, HEIGHT / 2), rng.normal(0, 0.8), rng.normal(0.96, 0.01))
    moved = matrix + [[0, 0, rng.normal(0, 1.4)], [0, 0, rng.normal(0, 1.4)]]
    return straight_alpha(np.asarray(cv2.warpAffine(_drawn(symbol), moved, (WIDTH, HEIGHT)), np.uint8))


@lru_cache(maxsize=64)
def _drawn(symbol: Symbol) -> NDArray[np.uint8]:
    """The symbol as it is meant, premultiplied."""
    board = Artboard()
    if symbol.ground:
        board.polygon(np.array([[6, 6], [WIDTH - 6, 6], [WIDTH - 6, HEIGHT - 6], [6, HEIGHT - 6]], float), symbol.ground)
    _frame(board, symbol)
    masks = _turned(motif(symbol.kind, symbol.seed, held_out=symbol.held_out), symbol)
    inset = 0.84 if symbol.frame else 1.0
    places, room = _places(symbol)
    for number, at in enumerate(places):
        inks = symbol.inks
        if symbol.traded and number % 2:
            inks = (inks[1], inks[0], *inks[2:])
        centre = (WIDTH / 2 + inset * (at[0] - 0.5) * 176, HEIGHT / 2 + inset * (at[1] - 0.5) * 236)
        _stamp(board, masks, centre, (inset * room[0] * 176 * symbol.size, inset * room[1] * 236 * symbol.size), inks)
    if symbol.mark:
        _stamp(board, motif(*symbol.mark, held_out=symbol.held_out), (WIDTH - 34, HEIGHT - 38), (44, 44), symbol.inks[::-1])
    return board.shrunk()


def _still(symbol: Symbol) -> NDArray[np.float32]:
    """The symbol on white, small and soft, to tell whether two are one."""
    drawn = _drawn(symbol).astype(np.float32)
    on_white = drawn[:, :, :3] + 245 * (1 - drawn[:, :, 3:] / 255)
    return np.asarray(cv2.resize(on_white, SMALL, interpolation=cv2.INTER_AREA), np.float32)


def _any(kinds: dict[str, float], palette: tuple[RGB, ...], rng: np.random.Generator, held_out: bool) -> Symbol:
    """A symbol by lot."""
    kind = _kind(kinds, rng)
    whole = kind in ("mosaic", "rings", "patches") and rng.random() < 0.8
    count = 1 if whole or rng.random() < 0.45 else int(rng.integers(2, 10))
    order = [palette[int(i)] for i in rng.permutation(len(palette))]
    ground = palette[int(rng.integers(len(palette)))] if rng.random() < 0.12 else None
    inks = tuple(ink for ink in order if ground is None or _far(ink, ground)) or ((250, 250, 245),)
    return Symbol(
        kind, int(rng.integers(1 << 30)), count, int(rng.integers(4)), inks * (1 if len(inks) > 1 else 2),
        traded=bool(rng.random() < 0.1), mirrored=bool(rng.random() < 0.3), quarters=int(rng.choice([0, 0, 0, 1])),
        frame=int(rng.choice([0, 0, 0, 1, 2, 3])), ground=ground, size=float(rng.uniform(0.55, 1.0)),
        mark=(_kind(kinds, rng), int(rng.integers(1 << 30))) if rng.random() < 0.08 else None, held_out=held_out,
    )  # fmt: skip


def _changed(symbol: Symbol, kinds: dict[str, float], palette: tuple[RGB, ...], rng: np.random.Generator) -> Symbol:
    """The symbol one step away: once more or less often, in another ink, mirrored, framed, another of its kind…"""
    step = int(rng.choice(9, p=[0.24, 0.2, 0.08, 0.08, 0.18, 0.06, 0.05, 0.05, 0.06]))
    if step == 0:
        return replace(symbol, count=int(np.clip(symbol.count + rng.choice([-1, 1]), 1, 9)))
    if step == 1:
        inks = list(symbol.inks)
        inks[int(rng.integers(min(len(inks), 2)))] = palette[int(rng.integers(len(palette)))]
        return replace(symbol, inks=tuple(inks))
    if step == 2:
        return replace(symbol, mirrored=not symbol.mirrored)
    if step == 3:
        return replace(symbol, frame=0 if symbol.frame else int(rng.integers(1, 4)))
    if step == 4:
        return replace(symbol, seed=int(rng.integers(1 << 30)))
    if step == 5:
        return replace(symbol, places=(symbol.places + int(rng.integers(1, 4))) % 4)
    if step == 6:
        return replace(symbol, quarters=1 - symbol.quarters)
    if step == 7:
        return replace(symbol, inks=symbol.inks[1:] + symbol.inks[:1])
    return replace(symbol, mark=None if symbol.mark else (_kind(kinds, rng), int(rng.integers(1 << 30))))


def _kind(kinds: dict[str, float], rng: np.random.Generator) -> str:
    shares = np.array(list(kinds.values()))
    return str(rng.choice(list(kinds), p=shares / shares.sum()))


def _some(rng: np.random.Generator, kinds: dict[str, float]) -> dict[str, float]:
    """What one set shows: one to four kinds of things."""
    shares = np.array(list(kinds.values()))
    names = rng.choice(list(kinds), int(rng.integers(1, 5)), replace=False, p=shares / shares.sum())
    return {str(name): kinds[str(name)] for name in names}


def _palette(rng: np.random.Generator) -> tuple[RGB, ...]:
    """Two to six inks, on a light tile or on each other not too alike."""
    inks: list[RGB] = []
    wanted = int(rng.integers(2, 7))
    for _ in range(60):
        hue, saturation, value = rng.uniform(0, 180), rng.uniform(40, 255), rng.uniform(20, 235)
        colour = cv2.cvtColor(np.array([[[hue, saturation, value]]], np.uint8), cv2.COLOR_HSV2RGB)[0, 0]
        ink = (int(colour[0]), int(colour[1]), int(colour[2]))
        if len(inks) < wanted and _far(ink, (245, 240, 230)) and all(_far(ink, other) for other in inks):
            inks.append(ink)
    return tuple(inks) if len(inks) > 1 else (*inks, (30, 30, 40))


def _far(one: RGB, other: RGB) -> bool:
    return max(abs(a - b) for a, b in zip(one, other, strict=True)) > 70


def _places(symbol: Symbol) -> tuple[list[Point], Point]:
    """Middles of the copies and the room of each, in shares of the face."""
    count = symbol.count
    if count == 1:
        return [(0.5, 0.5)], (1.0, 1.0)
    if symbol.places == 1 and count > 2:
        angles = 2 * np.pi * np.arange(count) / count
        room = 0.95 * 2 * 0.33 * np.sin(np.pi / count)
        return [(0.5 + 0.32 * float(np.sin(a)), 0.5 - 0.34 * float(np.cos(a))) for a in angles], (min(room, 0.42), min(room, 0.42))
    if symbol.places == 2:
        steps = (np.arange(count) + 0.5) / count
        return [(0.15 + 0.7 * float(s), float(s)) for s in steps], (max(0.3, 1 / count), 1 / count)
    if symbol.places == 3:
        lot = np.random.default_rng(symbol.seed)
        spots = [_grid(9)[0][int(i)] for i in lot.permutation(9)[:count]]
        return spots, (1 / 3, 1 / 3)
    return _grid(count)


@cache
def _grid(count: int) -> tuple[list[Point], Point]:
    """Rows one above the other, the fuller ones below."""
    rows = {2: 2, 3: 3, 4: 2, 5: 3, 6: 3, 7: 3, 8: 4, 9: 3}[count]
    lengths = [count // rows + (row >= rows - count % rows) for row in range(rows)]
    widest = max(lengths)
    places = [
        (0.5 + (k - (length - 1) / 2) / widest, (row + 0.5) / rows) for row, length in enumerate(lengths) for k in range(length)
    ]
    return places, (1 / widest, 1 / rows)


def _turned(masks: tuple[Mask, ...], symbol: Symbol) -> tuple[Mask, ...]:
    turned = [np.rot90(mask, symbol.quarters) for mask in masks]
    return tuple(np.ascontiguousarray(mask[:, ::-1] if symbol.mirrored else mask) for mask in turned)


def _stamp(board: Artboard, masks: tuple[Mask, ...], centre: Point, room: Point, inks: tuple[RGB, ...]) -> None:
    """Ink a motif, its regions in the inks by turns, into a room of width × height pixels."""
    scale = 2 * min(room[0] / masks[0].shape[1], room[1] / masks[0].shape[0])
    method = cv2.INTER_AREA if scale < 1 else cv2.INTER_LINEAR
    for number, mask in enumerate(masks):
        resized = cv2.resize(mask, None, fx=scale, fy=scale, interpolation=method)
        board.stamp(np.asarray(resized, np.uint8), centre, inks[number % len(inks)])


def _frame(board: Artboard, symbol: Symbol) -> None:
    ink = symbol.inks[-1]
    for inset in {1: (10,), 3: (10, 18)}.get(symbol.frame, ()):
        x, y = WIDTH - inset, HEIGHT - inset
        board.line(np.array([[inset, inset], [x, inset], [x, y], [inset, y]], float), 4, ink, closed=True)
    if symbol.frame == 2:
        angles = np.linspace(0, 2 * np.pi, 60)
        board.line(np.stack([96 + 86 * np.cos(angles), 128 + 118 * np.sin(angles)], 1), 5, ink, closed=True)
