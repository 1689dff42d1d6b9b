"""Craks, winds and dragons written as characters, and lettering in general."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import cv2
import numpy as np

from tilewitness.training.artboard import Artboard, Point
from tilewitness.training.carving import Hand, can_carve, carve, sample_hand
from tilewitness.training.compass import COMPASSES, draw_compass
from tilewitness.training.glyphs import Mask, Script, draw_text, families, has_text, trimmed
from tilewitness.training.inks import Inks
from tilewitness.training.layouts import InkName, ink_of

_NUMERALS: Final = "一二三四五六七八九"
_WINDS: Final = ("東南西北", "东南西北")
_LETTERS: Final = (("E", "S", "W", "N"), ("EAST", "SOUTH", "WEST", "NORTH"), ("East", "South", "West", "North"))
_DRAGON_LETTERS: Final = (("R", "G"), ("C", "F"), ("RED", "GREEN"), ("Red", "Green"))
_DECORATIONS: Final = ("none", "circle", "frame", "letter below", "letter above", "double circle", "disc", "letter")
_DECORATION_WEIGHTS: Final = (0.77, 0.04, 0.04, 0.04, 0.03, 0.03, 0.02, 0.03)
# Families that look cut or brushed by hand, as most sets' characters do: half of all sets take one of these.
_BRUSHED: Final = frozenset((
    "ma-shan-zheng", "long-cang", "yuji-boku", "klee-one", "lxgw-wenkai-tc",
    "kouzan-mouhitsu", "aoyagi-soseki", "aoyagi-kouzan", "shippori-antique", "zen-antique", "zen-kurenaido",
    "zhi-mang-xing", "kouzan-gyosho", "tw-kai", "kaisei-opti", "iansui",
))  # fmt: skip
_GRASS: Final = ("liu-jian-mao-cao", "kouzan-sousho")  # cursive that no tile is cut in: its 四 and 北 are not theirs
_RUNNING: Final = (
    "ma-shan-zheng", "long-cang", "liu-jian-mao-cao", "kouzan-mouhitsu", "aoyagi-soseki", "aoyagi-kouzan", "zhi-mang-xing",
    "kouzan-gyosho",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Lettering:
    """How one set cuts its characters.

    Attributes:
        family: a family of `glyphs.py`.
        weight: pixels by which strokes are thicker (or thinner) than the family's, on a glyph 90 pixels high.
        stretch: width over the family's own.
        slant: how far the top leans right, as a part of the height.
        bend: how a maker's own hand departs from the family: taper, and size and phase of two slow waves.
        hand: a carver's hand instead of the family, for characters that have a model of their strokes.
        cut: "solid", "outline" (hollow strokes) or "inline" (a bare line along the middle of each stroke).
    """

    family: str
    weight: float = 0.0
    stretch: float = 1.0
    slant: float = 0.0
    bend: tuple[float, ...] = ()
    cut: str = "solid"
    hand: Hand | None = None


@dataclass(frozen=True, slots=True)
class CrakStyle:
    """The craks of one set."""

    numerals: dict[int, tuple[str, Lettering]]
    wan: tuple[str, Lettering]
    numeral_ink: InkName
    wan_ink: InkName
    share: float
    gap: float
    kind: str


@dataclass(frozen=True, slots=True)
class HonourStyle:
    """The winds, and the red and green dragons where a set writes them."""

    winds: tuple[tuple[str, Lettering], ...]
    dragons: tuple[tuple[str, Lettering], tuple[str, Lettering]]
    wind_inks: tuple[InkName, InkName, InkName, InkName]
    dragon_inks: tuple[InkName, InkName]
    size: float
    wind_decoration: str
    dragon_decoration: str
    letters: Lettering
    wind_letters: tuple[str, str, str, str]
    dragon_letters: tuple[str, str]


def sample_lettering(
    rng: np.random.Generator, script: Script, text: str, *, held_out: bool, wide: float = 0.0
) -> Lettering:
    """Choose a family that has a text, and how it is cut; `wide` is the mean of the stretch's logarithm."""
    chosen = [name for name in families(script, held_out=held_out, text=text) if name not in _GRASS]
    brushed = [name for name in chosen if name in _BRUSHED]
    if brushed and rng.random() < 0.65:
        chosen = brushed
    bend: tuple[float, ...] = ()
    if script == "chinese" and rng.random() < 0.7:
        bend = (float(rng.normal(0, 0.12)), *(float(v) for v in rng.normal(0, 0.04, 2)), *rng.uniform(0, 6.3, 2).tolist())
    return Lettering(
        family=str(rng.choice(chosen)),
        weight=0.0 if rng.random() < 0.45 else float(rng.uniform(-1.2, 3.8)),
        stretch=float(np.exp(rng.normal(wide, 0.14 if script == "chinese" else 0.08))),
        slant=float(rng.normal(0, 0.12)) if rng.random() < 0.6 else 0.0,
        bend=bend,
        hand=sample_hand(rng) if not held_out and can_carve(text) and rng.random() < 0.35 else None,
        cut=str(rng.choice(["solid", "outline", "inline"], p=[0.95, 0.025, 0.025])),
    )


def alike(rng: np.random.Generator, lettering: Lettering, text: str, *, held_out: bool, wide: float = 0.0) -> Lettering:
    """Keep a lettering for another text; the family changes only where it lacks a character."""
    chosen = [name for name in families("chinese", held_out=held_out, text=text) if name not in _GRASS]
    family = lettering.family if lettering.family in chosen else str(rng.choice(chosen))
    return replace(lettering, family=family, stretch=lettering.stretch * float(np.exp(rng.normal(wide, 0.08))))


def sample_craks(rng: np.random.Generator, *, held_out: bool) -> CrakStyle:
    """Fix the craks of one set."""
    base = sample_lettering(rng, "chinese", "一二三四六", held_out=held_out, wide=float(rng.uniform(0, 0.3)))
    if rng.random() < 0.14:
        base = _running(rng, base, "一二三四六", held_out=held_out)
    five = "五" if rng.random() < 0.5 else "伍"
    kind = str(rng.choice(["stacked", "numeral", "digit", "beside"], p=[0.93, 0.03, 0.025, 0.015]))
    names = {i + 1: (five if i == 4 else c) for i, c in enumerate(_NUMERALS)}
    if rng.random() < 0.015:  # all in the formal forms of banknotes
        names = {i + 1: c for i, c in enumerate("壹貳參肆伍陸柒捌玖")}
    numerals = {n: (c, alike(rng, base, c, held_out=held_out)) for n, c in names.items()}
    if kind == "digit":
        digits = sample_lettering(rng, "latin", "123456789", held_out=held_out)
        numerals = {n: (str(n), digits) for n in names}
    wan = "萬" if rng.random() < 0.78 else "万"
    wan_base = base if rng.random() < 0.7 else sample_lettering(rng, "chinese", wan, held_out=held_out)
    numeral_inks: tuple[InkName, ...] = ("black", "blue", "red", "green")
    wan_inks: tuple[InkName, ...] = ("red", "green", "black", "blue")
    return CrakStyle(
        numerals=numerals,
        wan=(wan, alike(rng, wan_base, wan, held_out=held_out)),
        numeral_ink=numeral_inks[int(rng.choice(4, p=[0.42, 0.28, 0.15, 0.15]))],
        wan_ink=wan_inks[int(rng.choice(4, p=[0.68, 0.12, 0.12, 0.08]))],
        share=float(rng.uniform(0.32, 0.55)),
        gap=float(rng.uniform(-0.1, 0.08)),
        kind=kind,
    )


def sample_honours(rng: np.random.Generator, *, held_out: bool) -> HonourStyle:
    """Fix the winds and written dragons of one set."""
    base = sample_lettering(rng, "chinese", "南西北", held_out=held_out)
    if rng.random() < 0.2:
        base = _running(rng, base, "南西北", held_out=held_out)
    winds = _WINDS[int(rng.random() < 0.15 or not has_text("東", base.family))]
    green = "發" if rng.random() < 0.8 else "发"
    own = rng.random() < 0.5
    red = sample_lettering(rng, "chinese", "中", held_out=held_out, wide=-0.15) if own else base
    if rng.random() < 0.2:
        red = _running(rng, red, "中", held_out=held_out)
    habits: tuple[tuple[InkName, InkName, InkName, InkName], ...] = (
        ("black",) * 4, ("blue",) * 4, ("red",) * 4, ("green",) * 4,
        ("blue", "red", "green", "black"), ("red", "green", "blue", "black"), ("green", "red", "black", "blue"),
    )  # fmt: skip
    pairs: tuple[tuple[InkName, InkName], ...] = (("red", "green"), ("red", "black"), ("red", "blue"), ("black", "green"))
    return HonourStyle(
        winds=tuple((c, alike(rng, base, c, held_out=held_out)) for c in winds),
        dragons=(
            ("中", alike(rng, red, "中", held_out=held_out)),
            (green, _green(rng, alike(rng, red, green, held_out=held_out, wide=0.15 * own), green, held_out=held_out)),
        ),
        wind_inks=habits[int(rng.choice(len(habits), p=[0.42, 0.27, 0.07, 0.09, 0.05, 0.05, 0.05]))],
        dragon_inks=pairs[int(rng.choice(len(pairs), p=[0.86, 0.06, 0.04, 0.04]))],
        size=float(rng.triangular(0.6, 0.95, 1.0)),
        wind_decoration=_wind_decoration(rng),
        dragon_decoration=str(rng.choice(_DECORATIONS, p=_DECORATION_WEIGHTS)),
        letters=sample_lettering(rng, "latin", "ESWNGRCFastouhrenTOUHADL", held_out=held_out),
        wind_letters=_LETTERS[int(rng.choice(3, p=[0.7, 0.2, 0.1]))],
        dragon_letters=_DRAGON_LETTERS[int(rng.choice(4, p=[0.4, 0.35, 0.15, 0.1]))],
    )


def _wind_decoration(rng: np.random.Generator) -> str:
    """Winds stand alone, in a frame, as letters, or in a compass."""
    if rng.random() < 0.045:
        return f"compass {rng.choice(COMPASSES)} {rng.choice(['character', 'letter'])}"
    return "letter" if rng.random() < 0.03 else str(rng.choice(_DECORATIONS, p=_DECORATION_WEIGHTS))


def _running(rng: np.random.Generator, lettering: Lettering, text: str, *, held_out: bool) -> Lettering:
    """Cut a text in a running hand: strokes linked, leaning and bent, by brush or by graver."""
    running = set(_RUNNING) - set(_GRASS if "四" in text else ())
    chosen = [name for name in families("chinese", held_out=held_out, text=text) if name in running]
    slow = (float(v) for v in rng.normal(0, 0.06, 2))
    hand = None
    if not held_out and rng.random() < 0.45:
        hand = replace(sample_hand(rng), link=float(rng.uniform(0.6, 1.0)), stray=float(rng.uniform(0.015, 0.045)), corners=3)
    return replace(
        lettering, family=str(rng.choice(chosen)), slant=float(rng.normal(0.05, 0.18)), hand=hand,
        bend=(float(rng.normal(0, 0.2)), *slow, *rng.uniform(0, 6.3, 2).tolist()),
    )  # fmt: skip


def _green(rng: np.random.Generator, lettering: Lettering, text: str, *, held_out: bool) -> Lettering:
    """The green dragon alone is cut in cursive by some makers."""
    cursive = [name for name in _GRASS if name in families("chinese", held_out=held_out, text=text)]
    return replace(lettering, family=cursive[0]) if cursive and rng.random() < 0.07 else lettering


def character_mask(text: str, lettering: Lettering, width: float, height: float) -> Mask:
    """Return a text cut in a lettering, fitted into width × height final pixels, at twice that size.

    Flat or narrow characters (一, 中) keep the size that they have beside fuller ones.
    """
    em = min(height, width * 1.15)
    carved = lettering.hand is not None and can_carve(text)
    mask = carve(text, lettering.hand, 2 * em) if carved and lettering.hand else draw_text(text, lettering.family, 2 * em)
    if lettering.slant:
        mask = _slanted(mask, lettering.slant)
    if lettering.bend:
        mask = _bent(mask, lettering.bend)
    wide = min(mask.shape[1] * lettering.stretch, 2 * width)
    tall = min(mask.shape[0] / lettering.stretch**0.3, 2 * height)
    mask = np.asarray(cv2.resize(mask, (max(round(wide), 1), max(round(tall), 1)), interpolation=cv2.INTER_AREA))
    if abs(lettering.weight) > 0.4 and not carved:
        mask = _weighted(mask, lettering.weight * em / 90, em)
    return mask if lettering.cut == "solid" else _hollowed(mask, lettering.cut, max(em / 40, 1.0))


def _slanted(mask: Mask, slant: float) -> Mask:
    height, width = mask.shape
    push = abs(slant) * height
    matrix = np.array([[1.0, -slant, push if slant > 0 else 0.0], [0.0, 1.0, 0.0]])
    return trimmed(np.asarray(cv2.warpAffine(mask, matrix, (width + round(push) + 1, height))))


def _bent(mask: Mask, bend: tuple[float, ...]) -> Mask:
    taper, across, along, first, second = bend
    margin = round(0.08 * max(mask.shape))
    padded = np.pad(mask, margin)
    height, width = padded.shape
    x, y = np.arange(width, dtype=np.float32), np.arange(height, dtype=np.float32)[:, None]
    size = max(mask.shape)
    source_x = x + (x - width / 2) * taper * (y / height - 0.5) + across * size * np.sin(4 * y / size + first)
    source_y = y + along * size * np.sin(4 * x / size + second)
    moved = cv2.remap(padded, source_x.astype(np.float32), source_y.astype(np.float32), cv2.INTER_LINEAR)
    return trimmed(np.asarray(moved, np.uint8))


def _weighted(mask: Mask, weight: float, em: float) -> Mask:
    """Make strokes thicker (or thinner) by about `weight` final pixels on each side, but never a blot or a hair."""
    size = round(abs(weight) * 2)
    if size == 0:
        return mask
    kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * size + 1, 2 * size + 1))
    if weight > 0:
        thick = np.asarray(cv2.dilate(np.pad(mask, size), kernel), np.uint8)
        return thick if thick.sum() < 255 * 0.42 * (2 * em) ** 2 else mask
    thin = np.asarray(cv2.erode(mask, kernel), np.uint8)
    return thin if thin.sum() > 0.55 * mask.sum() else mask


def _hollowed(mask: Mask, cut: str, width: float) -> Mask:
    """Keep only the edges of strokes, or take a bare line out of their middle."""
    size = max(round(width * 1.5), 1)
    padded = np.pad(mask, size)
    kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * size + 1, 2 * size + 1))
    if cut == "outline":
        return np.asarray(cv2.subtract(cv2.dilate(padded, kernel), padded))
    return np.asarray(cv2.subtract(cv2.dilate(padded, kernel), cv2.erode(padded, kernel)))


def draw_crak(
    board: Artboard, number: int, style: CrakStyle, inks: Inks, rng: np.random.Generator, centre: Point, half: Point,
    wobble: float,
) -> None:  # fmt: skip
    """Draw a numeral over the wan character (or the rarer kinds of a set)."""
    text, lettering = style.numerals[number]
    wan, wan_lettering = style.wan
    numeral_ink, wan_ink = ink_of(inks, style.numeral_ink), ink_of(inks, style.wan_ink)
    shake = rng.normal(0, wobble, 4) if wobble else np.zeros(4)
    if style.kind == "numeral":
        board.stamp(character_mask(text, lettering, 2 * half[0], 2 * half[1]), centre, numeral_ink)
        return
    if style.kind == "beside":
        for glyph, cut, ink, side in ((text, lettering, numeral_ink, -1), (wan, wan_lettering, wan_ink, 1)):
            mask = character_mask(glyph, cut, half[0], 2 * half[1])
            board.stamp(mask, (centre[0] + side * half[0] / 2, centre[1] + shake[0]), ink)
        return
    upper = 2 * half[1] * style.share
    lower = 2 * half[1] - upper
    top = centre[1] - half[1] + upper / 2 - style.gap * half[1] + shake[1]
    bottom = centre[1] + half[1] - lower / 2 + style.gap * half[1] + shake[3]
    board.stamp(character_mask(wan, wan_lettering, 2 * half[0], lower), (centre[0] + shake[2], bottom), wan_ink)
    board.stamp(character_mask(text, lettering, 2 * half[0], upper), (centre[0] + shake[0], top), numeral_ink)


def draw_wind(
    board: Artboard, wind: int, style: HonourStyle, inks: Inks, rng: np.random.Generator, centre: Point, half: Point,
    wobble: float,
) -> None:  # fmt: skip
    """Draw east, south, west or north (0 to 3)."""
    text, lettering = style.winds[wind]
    letter, ink = style.wind_letters[wind], ink_of(inks, style.wind_inks[wind])
    if style.wind_decoration.startswith("compass"):
        _, kind, inside = style.wind_decoration.split()
        room = draw_compass(board, wind, kind, ink, centre, half)
        text, lettering = (letter[0], style.letters) if inside == "letter" else (text, lettering)
        board.stamp(character_mask(text, lettering, room, room), centre, ink)
        return
    _draw_honour(board, text, lettering, letter, style, style.wind_decoration, inks, style.wind_inks[wind],
                 rng, centre, half, wobble)  # fmt: skip


def draw_dragon_character(
    board: Artboard, dragon: int, style: HonourStyle, inks: Inks, rng: np.random.Generator, centre: Point,
    half: Point, wobble: float,
) -> None:  # fmt: skip
    """Draw the red (0) or green (1) dragon as its character."""
    text, lettering = style.dragons[dragon]
    letter, ink = style.dragon_letters[dragon], style.dragon_inks[dragon]
    _draw_honour(board, text, lettering, letter, style, style.dragon_decoration, inks, ink,
                 rng, centre, half, wobble)  # fmt: skip


def _draw_honour(
    board: Artboard, text: str, lettering: Lettering, letter: str, style: HonourStyle, decoration: str, inks: Inks,
    name: InkName, rng: np.random.Generator, centre: Point, half: Point, wobble: float,
) -> None:  # fmt: skip
    ink = ink_of(inks, name)
    x, y = (float(v) + (float(rng.normal(0, wobble)) if wobble else 0.0) for v in centre)
    wide, tall = half[0] * 2 * style.size, half[1] * 2 * style.size
    if decoration == "letter":
        text, lettering = letter, style.letters
    elif decoration.startswith("letter"):
        side = 1 if decoration == "letter below" else -1
        room = half[0] * (1 if len(letter) < 2 else 2), half[1] * (0.5 if len(letter) < 2 else 0.3)
        board.stamp(character_mask(letter, style.letters, *room), (x, y + side * half[1] * 0.74), ink)
        y, tall, wide = y - side * half[1] * 0.25, tall * 0.72, wide * 0.85
    elif decoration in ("circle", "double circle"):
        radius = min(half)
        board.ring((x, y), radius, radius * 0.05, ink)
        if decoration == "double circle":
            board.ring((x, y), radius * 0.9, radius * 0.03, ink)
        wide, tall = radius * 1.3, radius * 1.3
    elif decoration == "disc":
        board.disc((x, y), min(half), ink)
        board.stamp(character_mask(text, lettering, min(half) * 1.3, min(half) * 1.3), (x, y), None)
        return
    elif decoration == "frame":
        corners = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * half + (x, y)
        board.line(corners, half[0] * 0.06, ink, closed=True)
        wide, tall = half[0] * 1.6, half[1] * 1.6
    board.stamp(character_mask(text, lettering, wide, tall), (x, y), ink)
