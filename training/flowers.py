"""Flower tiles: plants, people, boats, landscapes and words, with the numbers and characters of their set.

The tiles of a set share a habit: a family of pictures, where the number 1 to 4 stands, which characters or
words stand where. What they have in common is meaning, not looks.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from tilewitness.training import scenery, still_life, townsfolk
from tilewitness.training.birds import bird
from tilewitness.training.captions import (
    CORNERS,
    EDGES,
    Lettering,
    contour,
    fit,
    lettering,
    put_at_edge,
    put_in_corner,
    ringed,
    turn,
)
from tilewitness.training.copperplate import Box, engrave, sample_palette
from tilewitness.training.engraving import HEIGHT, INKS, WIDTH, Canvas, Mask, ellipse, pick, warped
from tilewitness.training.fitting import panel, placed, sample_box
from tilewitness.training.gardens import GARDENS
from tilewitness.training.glyphs import Script
from tilewitness.training.icons import Category, icon, sample_icon
from tilewitness.training.pens import Pen
from tilewitness.training.plants import HELD_OUT, PLANTS, Plant
from tilewitness.training.plates import Palette
from tilewitness.training.terraces import TERRACES

# Groups of four that stand on flower tiles. Common practice, no source.
GROUPS: Final[tuple[tuple[Script, tuple[str, ...]], ...]] = (
    ("chinese", ("春", "夏", "秋", "冬")),
    ("chinese", ("梅", "蘭", "菊", "竹")),
    ("chinese", ("梅", "兰", "菊", "竹")),
    ("chinese", ("福", "祿", "壽", "喜")),
    ("chinese", ("春", "梅", "蘭", "花")),
    ("chinese", ("花", "花", "花", "花")),
    ("chinese", ("琴", "棋", "書", "畫")),
    ("chinese", ("琴", "棋", "书", "画")),
    ("chinese", ("漁", "樵", "耕", "讀")),
    ("chinese", ("渔", "樵", "耕", "读")),
    ("chinese", ("風", "花", "雪", "月")),
    ("chinese", ("松", "竹", "梅", "鶴")),
    ("chinese", ("山", "水", "荷", "蓮")),
    ("chinese", ("鳥", "魚", "花", "月")),
    ("latin", ("SPRING", "SUMMER", "AUTUMN", "WINTER")),
    ("latin", ("SPRING", "SUMMER", "FALL", "WINTER")),
    ("latin", ("Spring", "Summer", "Autumn", "Winter")),
    ("latin", ("SPR", "SUM", "AUT", "WIN")),
    ("latin", ("Spr", "Sum", "Aut", "Win")),
    ("latin", ("PLUM", "ORCHID", "MUM", "BAMBOO")),
    ("latin", ("ROSE", "LILY", "IRIS", "LOTUS")),
    ("latin", ("Plum", "Lily", "Mum", "Bamboo")),
    ("latin", ("FISHER", "CUTTER", "FARMER", "SCHOLAR")),
    ("latin", ("FLOWER", "FLOWER", "FLOWER", "FLOWER")),
    ("latin", ("Flower", "Flower", "Flower", "Flower")),
    ("latin", ("F", "F", "F", "F")),
    ("latin", ("SP", "SU", "AU", "WI")),
    ("latin", ("FL", "FL", "FL", "FL")),
    ("latin", ("FLR", "FLR", "FLR", "FLR")),
    ("latin", ("PEONY", "PEACH", "LOTUS", "PINE")),
    ("latin", ("JOY", "LUCK", "HEALTH", "PEACE")),
    ("latin", ("Fish", "Vase", "Fan", "Lantern")),
)
FAMILIES: Final = (*PLANTS, *GARDENS, *TERRACES)
LATER: Final = (*still_life.FAMILIES, *townsfolk.FAMILIES)
LATER_SHARE: Final = 0.25
# Where the pictures of a group come from; a bird has a plant and a number with it, or it would be a 1 bam.
SOURCES: Final = ("plants", "scenery", "flowers", "scenes", "birds", "words")
# Frontal heads of flowers look like a 1 dot when they stand alone.
_HEADS: Final = ("blossom", "daisy", "rosette", "hibiscus", "white-flower", "flower-2", "flower-4", "flower-5",
                 "flower-star", "twirl", "emblem", "--flower", "spoted", "vanilla", "sunflower", "sakura", "funnyflower",
                 "red_flower_raph", "full_bloom", "tangerine", "melon", "orange_", "shamrock_", "chestnut")  # fmt: skip


_FACING: Final = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}


@dataclass(frozen=True, slots=True)
class Number:
    """How a set writes 1 to 4 on its flowers."""

    letters: Lettering
    texts: tuple[str, ...]
    corner: str
    height: float
    ink: str
    twice: bool
    ringed: bool


@dataclass(frozen=True, slots=True)
class Caption:
    """Which characters or words a set writes on its flowers, and where."""

    letters: Lettering
    texts: tuple[str, ...]
    place: str
    size: float
    ink: str
    column: bool
    hollow: bool
    twice: bool


@dataclass(frozen=True, slots=True)
class Habit:
    """What the four tiles of one group share."""

    source: str
    number: Number | None
    caption: Caption | None
    palette: Palette
    box: Box
    framed: str | None
    panel: str | None


def sample_habit(rng: np.random.Generator, *, held_out: bool) -> Habit:
    """Draw what the four tiles of one group have in common."""
    source = str(rng.choice(SOURCES, p=[0.39, 0.255, 0.20, 0.115, 0.025, 0.015]))
    number = _number(rng, held_out=held_out) if rng.random() < 0.6 or source == "birds" else None
    needed = source == "words" or (source in ("scenes", "birds") and number is None)
    caption = (
        _caption(rng, number, large=source == "words", held_out=held_out)
        if needed or rng.random() < 0.5
        else None
    )
    framed = str(rng.choice(INKS)) if rng.random() < 0.07 else None
    ground = str(rng.choice(INKS)) if rng.random() < 0.05 else None
    return Habit(source, number, caption, sample_palette(rng), _room(rng, number, caption), framed, ground)


def _number(rng: np.random.Generator, *, held_out: bool) -> Number | None:
    script: Script = "latin" if rng.random() < 0.92 else "chinese"
    texts = ("1", "2", "3", "4") if script == "latin" else ("一", "二", "三", "四")
    letters = lettering(rng, script, "".join(texts), held_out=held_out)
    if letters is None:
        return None
    corner = CORNERS[rng.choice(4, p=[0.42, 0.36, 0.11, 0.11])]
    return Number(letters, texts, corner, rng.uniform(26, 62), INKS[int(rng.integers(4))], bool(rng.random() < 0.08),
                  bool(rng.random() < 0.08))  # fmt: skip


def _caption(
    rng: np.random.Generator, number: Number | None, *, large: bool, held_out: bool
) -> Caption | None:
    for _ in range(8):
        script, texts = pick(rng, GROUPS)
        letters = lettering(rng, script, "".join(texts), held_out=held_out)
        if letters is not None and not (large and texts[0] == "F"):  # a large F alone is a green dragon's
            break
    else:
        return None
    long = max(map(len, texts)) > 2
    places = [place for place in (EDGES if long else CORNERS) if number is None or place != number.corner]
    place = "middle" if large else str(rng.choice(places))
    if (
        not large and not long and number is not None and rng.random() < 0.5
    ):  # most sets: one in each upper corner
        place = {"top-left": "top-right", "top-right": "top-left"}.get(number.corner, place)
    size = rng.uniform(110, 190) if large else rng.uniform(0.5, 0.95) * WIDTH if long else rng.uniform(26, 76)
    column = long and script == "latin" and place in ("left", "right") and rng.random() < 0.5
    return Caption(letters, texts, place, size, INKS[int(rng.integers(4))], bool(column), bool(rng.random() < 0.06),
                   bool(rng.random() < 0.1))  # fmt: skip


def _room(rng: np.random.Generator, number: Number | None, caption: Caption | None) -> Box:
    """The box left for the picture: a large one, or one that keeps clear of the writing."""
    x0, y0, x1, y1 = sample_box(rng)
    if rng.random() < 0.45:
        return x0, y0, x1, y1
    places = [part for part in (number and number.corner, caption and caption.place) if part]
    if any("top" in place for place in places):
        y0 = max(y0, rng.uniform(40, 66))
    if any("bottom" in place for place in places):
        y1 = min(y1, HEIGHT - rng.uniform(36, 60))
    if "left" in places:
        x0 = max(x0, rng.uniform(26, 48))
    if "right" in places:
        x1 = min(x1, WIDTH - rng.uniform(26, 48))
    return x0, y0, x1, y1


def flower(habit: Habit, variant: int, rng: np.random.Generator, *, held_out: bool) -> Canvas:
    """Draw one flower tile; `variant` 0 to 3 is its place in the group."""
    canvas = Canvas()
    if habit.source in ("plants", "birds") or (habit.source == "words" and habit.caption is None):
        _parametric(canvas, HELD_OUT if held_out else FAMILIES, habit, rng, held_out=held_out)
        if habit.source == "birds":
            _visitor(canvas, habit, rng, held_out=held_out)
    elif habit.source == "scenery":
        _parametric(canvas, scenery.HELD_OUT if held_out else scenery.SCENES, habit, rng, held_out=held_out)
    elif habit.source != "words":
        _icons(canvas, habit, rng, held_out=held_out)
    if rng.random() < 0.3:
        canvas.planes = warped(canvas.planes, rng, 5)
    if habit.panel:
        panel(canvas, habit.panel, rng)
    _write(canvas, habit, variant, rng)
    if habit.framed:
        box = np.array([[8, 8], [184, 8], [184, 248], [8, 248]], float)
        canvas.line(box, rng.uniform(2, 5), habit.framed, closed=True)
    return canvas


def _parametric(
    canvas: Canvas, families: tuple[Plant, ...], habit: Habit, rng: np.random.Generator, *, held_out: bool
) -> None:
    later = rng.spawn(1)[0]  # a stream of its own: the flowers that were there before stay what they were
    if later.random() < LATER_SHARE:
        families, rng = still_life.HELD_OUT if held_out else LATER, later
    part = Canvas()
    pick(rng, families)(Pen(part, habit.palette, rng))
    placed(part, rng, habit.box)
    canvas.lay(part.planes)


def _visitor(canvas: Canvas, habit: Habit, rng: np.random.Generator, *, held_out: bool) -> None:
    """A small bird in the plant."""
    part = bird(rng, held_out=held_out)
    x0, y0, x1, y1 = habit.box
    size = rng.uniform(0.3, 0.5) * (x1 - x0)
    x, y = rng.uniform(x0, x1 - size), rng.uniform(y0, (y0 + y1) / 2)
    canvas.lay(placed(part, rng, (x, y, x + size, y + size)).planes)


def _icons(canvas: Canvas, habit: Habit, rng: np.random.Generator, *, held_out: bool) -> None:
    """One icon, or one above another; a flower head without any writing gets the company of a plant."""
    category: Category = "flowers" if habit.source == "flowers" else "scenes"
    name = sample_icon(rng, category, held_out=held_out)
    bare_head = category == "flowers" and any(head in name for head in _HEADS)
    x0, y0, x1, y1 = habit.box
    if bare_head and habit.number is None and habit.caption is None:
        _parametric(canvas, HELD_OUT if held_out else FAMILIES, habit, rng, held_out=held_out)
        side = (x1 - x0) * rng.uniform(0.3, 0.5)
        x, y = rng.uniform(x0, x1 - side), rng.uniform(y0, y1 - side)
        engrave(canvas, icon(category, name), (x, y, x + side, y + side), habit.palette, rng)
        return
    if rng.random() < 0.3:
        other: Category = "flowers" if category == "scenes" or rng.random() < 0.5 else "scenes"
        cut = y0 + (y1 - y0) * rng.uniform(0.4, 0.6)
        second = sample_icon(rng, other, held_out=held_out)
        engrave(canvas, icon(other, second), (x0, y0, x1 - (x1 - x0) * 0.2, cut),
                habit.palette, rng)  # fmt: skip
        y0 = cut - (y1 - y0) * 0.06
    engrave(canvas, icon(category, name), (x0, y0, x1, y1), habit.palette, rng)


def _write(canvas: Canvas, habit: Habit, variant: int, rng: np.random.Generator) -> None:
    if habit.caption is not None:
        _write_caption(canvas, habit.caption, variant, rng)
    number = habit.number
    if number is None:
        return
    mask = number.letters.mask(number.texts[variant % 4], number.height)
    mask = fit(mask, 60, 64) if max(mask.shape) > 64 else mask
    if number.ringed:
        mask = ringed(fit(mask, 28, 28))
    put_in_corner(canvas, mask, number.corner, 10, number.ink)
    if number.twice:
        put_in_corner(canvas, turn(mask, 180), CORNERS[3 - CORNERS.index(number.corner)], 10, number.ink)


def _write_caption(canvas: Canvas, caption: Caption, variant: int, rng: np.random.Generator) -> None:
    mask = _caption_mask(caption, caption.texts[variant % 4])
    margin = rng.uniform(8, 12)
    if caption.place == "middle":
        if rng.random() < 0.3:
            canvas.line(
                ellipse((WIDTH / 2, HEIGHT / 2), 84, 96, n=60), rng.uniform(2, 6), caption.ink, closed=True
            )
        canvas.stamp(mask, (WIDTH / 2, HEIGHT / 2), caption.ink)
        return
    put, places = (put_in_corner, CORNERS) if caption.place in CORNERS else (put_at_edge, EDGES)
    put(canvas, mask, caption.place, margin, caption.ink)
    if caption.twice:
        opposite = places[3 - places.index(caption.place)] if places is CORNERS else _FACING[caption.place]
        put(canvas, turn(mask, 180), opposite, margin, caption.ink)


def _caption_mask(caption: Caption, text: str) -> Mask:
    if caption.place in ("left", "right"):
        if caption.column:
            return fit(caption.letters.column(text, 30, 3), 44, caption.size)
        return turn(
            fit(caption.letters.mask(text, 30), caption.size, 34), 90 if caption.place == "left" else 270
        )
    if caption.place in ("top", "bottom"):
        return fit(caption.letters.mask(text, 30, spacing=2), caption.size, 44)
    mask = caption.letters.mask(text, 80)
    mask = fit(mask, WIDTH - 24 if caption.place == "middle" else caption.size * 1.6, caption.size)
    return contour(mask, 2) if caption.hollow else mask
