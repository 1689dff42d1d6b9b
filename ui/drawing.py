"""Tiles drawn by ourselves, as vector pictures for screen and paper.

A beginner's design: a large numeral and the suit's letter in the corners, the suit's own shape below, words on
whatever has no numeral. Colour only repeats what shape and letter say. Everything is a plain `path`, `rect` or
`circle` with its own fill, without text, styles or references, so that PDF libraries draw it as browsers do.
"""

from __future__ import annotations

import base64
import math
import tomllib
from collections.abc import Sequence
from functools import cache
from html import escape
from importlib import resources
from typing import Final

from tilewitness.engine.faces import Face, Kind, Suit
from tilewitness.ui import labels

WIDTH: Final = 60
HEIGHT: Final = 80

IVORY: Final = "#fffdf5"
EDGE: Final = "#4a4a4a"
INK: Final = "#1d1d1d"
SUITS: Final = {Suit.BAM: "#12642f", Suit.CRAK: "#b01c1c", Suit.DOT: "#1a4a9c"}
FLOWER: Final = "#8b1f6f"
JOKER: Final = "#5b2a9d"

_CHINESE_NUMERALS: Final = "一二三四五六七八九"
_WINDS: Final = {"east": "東", "south": "南", "west": "西", "north": "北"}
_DRAGONS: Final = {"red dragon": "中", "green dragon": "發"}
# How many lie in each line, from the top; dots and sticks alike, so that the count is seen at a glance.
_LINES: Final = {2: (1, 1), 3: (1, 2), 4: (2, 2), 5: (2, 1, 2), 6: (3, 3), 7: (1, 3, 3), 8: (4, 4), 9: (3, 3, 3)}
_DOT_LINES: Final = {**_LINES, 6: (2, 2, 2), 7: (2, 3, 2), 8: (3, 2, 3)}


def tile_svg(face: Face | None, *, width: float = WIDTH) -> str:
    """One tile as an SVG picture of its own, with its name for who cannot see it.

    Args:
        face: the face; None is the empty frame of a missing tile.
        width: of the picture, in whatever unit the page uses (CSS pixels in a browser); it is 4/3 as high.
    """
    name = labels.MISSING if face is None else face.name
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" width="{_n(width)}" '
        f'height="{_n(width * HEIGHT / WIDTH)}" role="img" aria-label="{name}">{tile_shapes(face)}</svg>'
    )


def row_svg(faces: Sequence[Face | None], name: str, *, width: float = WIDTH) -> str:
    """Tiles side by side as one picture called `name`; `width` is that of one tile."""
    shapes = "".join(f'<g transform="translate({WIDTH * at} 0)">{tile_shapes(face)}</g>' for at, face in enumerate(faces))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH * len(faces)} {HEIGHT}" '
        f'width="{_n(width * len(faces))}" height="{_n(width * HEIGHT / WIDTH)}" role="img" '
        f'aria-label="{escape(name)}">{shapes}</svg>'
    )


@cache
def tile_address(face: Face | None) -> str:
    """One tile as a data address, for where a page takes pictures but no drawings."""
    return f"data:image/svg+xml;base64,{base64.b64encode(tile_svg(face).encode()).decode('ascii')}"


@cache
def tile_shapes(face: Face | None) -> str:
    """The shapes of one tile, `WIDTH` by `HEIGHT` from the origin, to be placed in a larger picture."""
    if face is None:
        return _rect(2, 2, 56, 76, "#ffffff", round_by=6, edge="#6b6b6b", dashed=True)
    body = _rect(1, 1, 58, 78, IVORY, round_by=7, edge=EDGE)
    if face.kind is Kind.SUITED:
        return body + _suited(face)
    if face.kind is Kind.WIND:
        return body + _corner(face.name[0], INK) + _chinese(_WINDS[face.name], 12, 27, 36, INK) + _foot(face.name, INK)
    if face.kind is Kind.DRAGON:
        return body + _dragon(face)
    return body + (_flower() if face.kind is Kind.FLOWER else _joker())


# The kinds of tile.


def _suited(face: Face) -> str:
    number, suit = face.number, face.suit
    assert number is not None and suit is not None
    ink = SUITS[suit]
    corners = _corner(str(number), ink) + _word(suit.value[0].upper(), 48, 18, ink, 11)
    match suit:
        case Suit.BAM:
            return corners + (_stalk(ink) if number == 1 else _bam(number, ink))
        case Suit.DOT:
            return corners + (_great_dot(ink) if number == 1 else _dots(number, ink))
        case Suit.CRAK:
            return corners + _chinese(_CHINESE_NUMERALS[number - 1], 29, 19, 24, INK) + _chinese("萬", 13, 42, 34, ink)


def _dragon(face: Face) -> str:
    """Each says the suit it goes with at its foot (common practice of the American game, no source)."""
    suit = face.suit
    assert suit is not None
    ink = SUITS[suit]
    colour = _word(face.name.split()[0] if face.name in _DRAGONS else "soap", 30, 16, ink, 9)
    foot = _foot(suit.value, ink)
    if face.name in _DRAGONS:
        return colour + _chinese(_DRAGONS[face.name], 8, 18, 44, ink) + foot
    return colour + _rect(15, 23, 30, 38, IVORY, edge=ink, stroke=4) + _rect(20.5, 28.5, 19, 27, IVORY, edge=ink, stroke=1.2) + foot


def _flower() -> str:
    x, y, petals = 30.0, 31.0, []
    for k in range(5):
        turn = math.tau * k / 5 - math.pi / 2
        petals.append(_circle(x + 11 * math.cos(turn), y + 11 * math.sin(turn), 8.4, FLOWER, edge=IVORY))
    leaf = "M30 58C22 60 15 56 13 49C21 48 28 51 30 58ZM30 60C38 61 45 57 47 50C39 50 32 53 30 60Z"
    return (
        _path(leaf, SUITS[Suit.BAM]) + _rect(28.8, 40, 2.4, 24, SUITS[Suit.BAM])
        + "".join(petals) + _circle(x, y, 6, "#f2c230", edge=IVORY) + _foot("flower", FLOWER)
    )  # fmt: skip


def _joker() -> str:
    cap = "M14 52C10 40 9 28 12 17C20 23 24 28 25 33C26 24 28 17 30 10C32 17 34 24 35 33C36 28 40 23 48 17C51 28 50 40 46 52Z"
    bells = "".join(_circle(x, y, 3.6, "#f2c230", edge=JOKER) for x, y in ((12, 16), (30, 10), (48, 16)))
    return _path(cap, JOKER) + _rect(13, 50, 34, 9, "#f2c230", round_by=2, edge=JOKER) + bells + _foot("joker", JOKER)


# The shapes of the suits.


def _bam(number: int, ink: str) -> str:
    lines = _LINES[number]
    pitch = 44 / len(lines)
    height = min(pitch - 2.5, 18.0)
    sticks = []
    for row, many in enumerate(lines):
        y = 30 + pitch * (row + 0.5) - height / 2
        gap = 42 / max(many, 3)
        for k in range(many):
            sticks.append(_stick(30 + gap * (k - (many - 1) / 2), y, height, ink))
    return "".join(sticks)


def _stick(x: float, y: float, height: float, ink: str) -> str:
    """A cane with three knots, its middle at `x`."""
    knots = "".join(_rect(x - 4.1, y + at * (height - 2.2), 8.2, 2.2, ink, round_by=1.1) for at in (0, 0.5, 1))
    return _rect(x - 2.6, y, 5.2, height, ink) + _rect(x - 0.6, y + 2.2, 1.2, height - 4.4, "#bfe3c8") + knots


def _stalk(ink: str) -> str:
    leaves = "M33 44C38 34 46 31 53 32C52 40 44 46 33 47ZM27 58C21 49 14 46 7 48C9 56 17 61 27 61Z"
    return _path(leaves, ink) + _rect(26.5, 29, 7, 43, ink) + _rect(28.9, 31, 2.2, 39, "#bfe3c8") + "".join(
        _rect(24.5, y, 11, 3.4, ink, round_by=1.7) for y in (28, 42, 56, 70)
    )


def _dots(number: int, ink: str) -> str:
    lines = _DOT_LINES[number]
    pitch = 44 / len(lines)
    radius = 5.6 if len(lines) == 3 else 7.6
    dots = []
    for row, many in enumerate(lines):
        gap = 15.5 if many > 2 else 19.0
        for k in range(many):
            x = 30 + gap * (k - (many - 1) / 2)
            dots.append(_dot(x, 30 + pitch * (row + 0.5), radius, ink))
    return "".join(dots)


def _dot(x: float, y: float, radius: float, ink: str) -> str:
    return _circle(x, y, radius, ink) + _circle(x, y, radius * 0.62, IVORY) + _circle(x, y, radius * 0.32, ink)


def _great_dot(ink: str) -> str:
    rays = "".join(
        _circle(30 + 13.6 * math.cos(math.tau * k / 12), 51 + 13.6 * math.sin(math.tau * k / 12), 1.7, IVORY) for k in range(12)
    )
    return _circle(30, 51, 20, ink) + rays + _circle(30, 51, 8.5, IVORY) + _circle(30, 51, 4.5, ink)


# Letters.


@cache
def _letters(script: str) -> dict[str, dict[str, str | float]]:
    text = (resources.files("tilewitness.ui") / "parts" / "letters.toml").read_text(encoding="utf-8")
    table: dict[str, dict[str, str | float]] = tomllib.loads(text)[script]
    return table


def _word(text: str, middle: float, line: float, ink: str, capital: float) -> str:
    """Latin capitals `capital` high, standing on `line`, centred on `middle`."""
    _, width = letter_shapes(text, 0, line, ink, capital)
    return letter_shapes(text, middle - width / 2, line, ink, capital)[0]


def letter_shapes(text: str, left: float, line: float, ink: str, capital: float) -> tuple[str, float]:
    """Latin capitals `capital` high, standing on `line`, from `left` on; and how wide they are."""
    scale = capital / 100
    x, placed = left, []
    for letter in text.upper():
        drawn = _letters("latin")[letter]
        placed.append(_path(str(drawn["path"]), ink, f"translate({_n(x)} {_n(line)}) scale({_n(scale)})"))
        x += scale * float(drawn["width"])
    return "".join(placed), x - left


def _corner(text: str, ink: str) -> str:
    """The large numeral or letter, in the left upper corner."""
    return _word(text, 6 + 0.095 * float(_letters("latin")[text.upper()]["width"]), 25, ink, 19)


def _foot(text: str, ink: str) -> str:
    return _word(text, 30, 74, ink, 8)


def _chinese(character: str, x: float, y: float, size: float, ink: str) -> str:
    """A character whose square of `size` has its left upper corner at `x`, `y`."""
    path = str(_letters("chinese")[character]["path"])
    return _path(path, ink, f"translate({_n(x)} {_n(y)}) scale({_n(size / 100)})")


# Elements.


def _n(number: float) -> str:
    return f"{number:.3f}".rstrip("0").rstrip(".")


def _path(d: str, ink: str, transform: str = "") -> str:
    moved = f' transform="{transform}"' if transform else ""
    return f'<path d="{d}" fill="{ink}"{moved}/>'


def _circle(x: float, y: float, radius: float, ink: str, edge: str = "") -> str:
    line = f' stroke="{edge}" stroke-width="1"' if edge else ""
    return f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(radius)}" fill="{ink}"{line}/>'


def _rect(
    x: float, y: float, width: float, height: float, ink: str,
    *, round_by: float = 0, edge: str = "", stroke: float = 1.5, dashed: bool = False,
) -> str:  # fmt: skip
    rounded = f' rx="{_n(round_by)}" ry="{_n(round_by)}"' if round_by else ""
    line = f' stroke="{edge}" stroke-width="{_n(stroke)}"' if edge else ""
    dashes = ' stroke-dasharray="5 3"' if dashed else ""
    return f'<rect x="{_n(x)}" y="{_n(y)}" width="{_n(width)}" height="{_n(height)}" fill="{ink}"{rounded}{line}{dashes}/>'
