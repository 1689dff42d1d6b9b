"""Craks, winds and dragons written as characters, and lettering in general."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np

from tilewitness.training.artboard import Artboard, Point
from tilewitness.training.glyphs import Mask, Script, draw_text, families
from tilewitness.training.inks import Inks
from tilewitness.training.layouts import InkName, ink_of

_NUMERALS: Final = "一二三四五六七八九"
_WINDS: Final = ("東南西北", "东南西北")
_LETTERS: Final = "ESWN"
_DECORATIONS: Final = ("none", "circle", "frame", "letter below", "letter above", "double circle")


@dataclass(frozen=True, slots=True)
class Lettering:
    """How one set cuts its characters: family, weight (pixels added), stretch, filled or in outline."""

    family: str
    weight: float = 0.0
    stretch: float = 1.0
    outline: bool = False


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
    size: float
    wind_decoration: str
    dragon_decoration: str
    letters: Lettering


def sample_lettering(rng: np.random.Generator, script: Script, text: str, *, held_out: bool) -> Lettering:
    """Choose a family that has a text, and how it is cut."""
    chosen = families(script, held_out=held_out, text=text)
    weight = 0.0 if rng.random() < 0.5 else float(rng.uniform(-1.2, 2.6))
    stretch = float(np.exp(rng.normal(0, 0.1)))
    return Lettering(str(rng.choice(chosen)), weight, stretch, rng.random() < 0.03)


def alike(rng: np.random.Generator, lettering: Lettering, text: str, *, held_out: bool) -> Lettering:
    """Keep a lettering for another text, or change only the family where it lacks a character."""
    chosen = families("chinese", held_out=held_out, text=text)
    family = lettering.family if lettering.family in chosen else str(rng.choice(chosen))
    return Lettering(family, lettering.weight, lettering.stretch, lettering.outline)


def sample_craks(rng: np.random.Generator, *, held_out: bool) -> CrakStyle:
    """Fix the craks of one set."""
    base = sample_lettering(rng, "chinese", "一二三四六", held_out=held_out)
    five = "五" if rng.random() < 0.5 else "伍"
    names = {i + 1: (five if i == 4 else c) for i, c in enumerate(_NUMERALS)}
    wan = "萬" if rng.random() < 0.75 else "万"
    numeral_inks: tuple[InkName, ...] = ("black", "blue", "red", "green")
    wan_inks: tuple[InkName, ...] = ("red", "green", "black", "blue")
    kinds = ("stacked", "numeral", "digit", "beside")
    return CrakStyle(
        numerals={n: (c, alike(rng, base, c, held_out=held_out)) for n, c in names.items()},
        wan=(wan, alike(rng, base, wan, held_out=held_out)),
        numeral_ink=numeral_inks[int(rng.choice(4, p=[0.42, 0.28, 0.15, 0.15]))],
        wan_ink=wan_inks[int(rng.choice(4, p=[0.68, 0.12, 0.12, 0.08]))],
        share=float(rng.uniform(0.34, 0.54)),
        gap=float(rng.uniform(-0.06, 0.08)),
        kind=str(rng.choice(kinds, p=[0.93, 0.03, 0.025, 0.015])),
    )


def sample_honours(rng: np.random.Generator, *, held_out: bool) -> HonourStyle:
    """Fix the winds and written dragons of one set."""
    winds = _WINDS[int(rng.random() < 0.15)]
    base = sample_lettering(rng, "chinese", "南西北", held_out=held_out)
    green = "發" if rng.random() < 0.8 else "发"
    red = sample_lettering(rng, "chinese", "中", held_out=held_out) if rng.random() < 0.5 else alike(rng, base, "中", held_out=held_out)
    habits: tuple[tuple[InkName, InkName, InkName, InkName], ...] = (
        ("black",) * 4, ("blue",) * 4, ("red",) * 4, ("green",) * 4,
        ("blue", "red", "green", "black"), ("red", "green", "blue", "black"), ("green", "red", "black", "blue"),
    )  # fmt: skip
    weights = [0.42, 0.27, 0.07, 0.09, 0.05, 0.05, 0.05]
    letters = sample_lettering(rng, "latin", "ESWNGRCF", held_out=held_out)
    return HonourStyle(
        winds=tuple((c, alike(rng, base, c, held_out=held_out)) for c in winds),
        dragons=(("中", red), (green, alike(rng, red, green, held_out=held_out))),
        wind_inks=habits[int(rng.choice(len(habits), p=weights))],
        size=float(rng.uniform(0.6, 1.0)),
        wind_decoration=str(rng.choice(_DECORATIONS, p=[0.82, 0.04, 0.03, 0.05, 0.03, 0.03])),
        dragon_decoration=str(rng.choice(_DECORATIONS, p=[0.82, 0.04, 0.04, 0.04, 0.03, 0.03])),
        letters=letters,
    )


def character_mask(text: str, lettering: Lettering, width: float, height: float) -> Mask:
    """Return a text cut in a lettering, fitted into width × height final pixels, at twice that size.

    Flat or narrow characters (一, 中) keep the size that they have beside fuller ones.
    """
    em = min(height, width * 1.15)
    mask = draw_text(text, lettering.family, 2 * em)
    wide = min(mask.shape[1] * lettering.stretch, 2 * width)
    tall = min(mask.shape[0], 2 * height)
    mask = np.asarray(cv2.resize(mask, (max(round(wide), 1), max(round(tall), 1)), interpolation=cv2.INTER_AREA))
    if abs(lettering.weight) > 0.4:
        mask = _weighted(mask, lettering.weight * em / 90)
    if lettering.outline:
        mask = _outlined(mask, max(em / 40, 1.0))
    return mask


def _weighted(mask: Mask, weight: float) -> Mask:
    """Make strokes thicker (or, more gently, thinner) by about `weight` final pixels on each side."""
    size = round(abs(weight) * 2)
    if size == 0:
        return mask
    kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * size + 1, 2 * size + 1))
    if weight > 0:
        return np.asarray(cv2.dilate(np.pad(mask, size), kernel))
    thin = cv2.erode(mask, kernel)
    # A brush's finest strokes must not vanish.
    return np.asarray(thin if thin.sum() > 0.55 * mask.sum() else mask)


def _outlined(mask: Mask, width: float) -> Mask:
    size = max(round(width * 1.5), 1)
    padded = np.pad(mask, size)
    kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * size + 1, 2 * size + 1))
    return np.asarray(cv2.subtract(cv2.dilate(padded, kernel), padded))


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
    letter = _LETTERS[wind]
    _draw_honour(board, text, lettering, letter, style, style.wind_decoration, inks, style.wind_inks[wind],
                 rng, centre, half, wobble)  # fmt: skip


def draw_dragon_character(
    board: Artboard, dragon: int, style: HonourStyle, inks: Inks, rng: np.random.Generator, centre: Point,
    half: Point, wobble: float,
) -> None:  # fmt: skip
    """Draw the red (0) or green (1) dragon as its character."""
    text, lettering = style.dragons[dragon]
    inks_by_dragon: tuple[InkName, InkName] = ("red", "green")
    _draw_honour(board, text, lettering, "RG"[dragon], style, style.dragon_decoration, inks, inks_by_dragon[dragon],
                 rng, centre, half, wobble)  # fmt: skip


def _draw_honour(
    board: Artboard, text: str, lettering: Lettering, letter: str, style: HonourStyle, decoration: str, inks: Inks,
    name: InkName, rng: np.random.Generator, centre: Point, half: Point, wobble: float,
) -> None:  # fmt: skip
    ink = ink_of(inks, name)
    x, y = (float(v) + (float(rng.normal(0, wobble)) if wobble else 0.0) for v in centre)
    wide, tall = half[0] * 2 * style.size, half[1] * 2 * style.size
    if decoration.startswith("letter"):
        side = 1 if decoration == "letter below" else -1
        board.stamp(character_mask(letter, style.letters, half[0], half[1] * 0.5), (x, y + side * half[1] * 0.74), ink)
        y, tall, wide = y - side * half[1] * 0.25, tall * 0.72, wide * 0.85
    elif decoration in ("circle", "double circle"):
        radius = min(half)
        board.ring((x, y), radius, radius * 0.05, ink)
        if decoration == "double circle":
            board.ring((x, y), radius * 0.9, radius * 0.03, ink)
        wide, tall = radius * 1.3, radius * 1.3
    elif decoration == "frame":
        corners = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * half + (x, y)
        board.line(corners, half[0] * 0.06, ink, closed=True)
        wide, tall = half[0] * 1.6, half[1] * 1.6
    board.stamp(character_mask(text, lettering, wide, tall), (x, y), ink)
