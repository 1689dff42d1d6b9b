"""The white dragon: frames of many patterns, with or without something inside."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from tilewitness.training.artboard import Artboard, Point, Points
from tilewitness.training.boxes import Box
from tilewitness.training.characters import Lettering, character_mask, sample_lettering
from tilewitness.training.glyphs import Script
from tilewitness.training.inks import RGB, Inks
from tilewitness.training.layouts import INK_NAMES, InkName, ink_of
from tilewitness.training.ornate_frames import ORNATE

# A held-out set never has a pattern that a training one has.
PATTERNS: Final = {
    False: (
            "plain", "double", "dashed", "cornered", "hatched", "rounded", "thick and thin", "notched", "beads", "cut corners",
            "curled corners", "solid band", "inlaid band", "leafed", "knotted", "fans", "ticked", "oval", "scooped",
    ),
    True: ("key", "scalloped", "triple", "wavy", "chequered", "bamboo", "scrolls", "braided"),
}
_OPEN_BANDS: Final = ("dashed", "wavy", "scalloped", "inlaid band")
_INSIDE: Final = ("白", "龍", "B", "P", "W", "0", "WHITE", "SOAP", "White", "Wh", "P0")


@dataclass(frozen=True, slots=True)
class WhiteStyle:
    """The white dragon of one set.

    An empty `pattern` is a tile that is blank but for its index; `inside` is what is written in the frame, and
    `dragon` says that the set's small dragon stands in it.
    """

    pattern: str
    ink: InkName
    inner_ink: InkName
    width: float
    apart: float
    corner: float
    reach: tuple[float, float]
    ornament: str
    inside: str
    dragon: bool
    lettering: Lettering | None


def sample_white(rng: np.random.Generator, *, held_out: bool, lettered: bool = False) -> WhiteStyle:
    """Fix the white dragon of one set; only where a letter in the corner tells it may the rest be bare."""
    dragon = rng.random() < 0.06
    inside = str(rng.choice(_INSIDE)) if not dragon and rng.random() < 0.24 else ""
    script: Script = "latin" if inside.isascii() else "chinese"
    weights = np.array([0.14, 0.2, 0.5, 0.2])
    first, second = (INK_NAMES[int(rng.choice(4, p=weights / weights.sum()))] for _ in range(2))
    return WhiteStyle(
        pattern="" if lettered and not dragon and rng.random() < 0.04 else str(rng.choice(PATTERNS[held_out])),
        ink=first,
        inner_ink=first if rng.random() < 0.7 else second,
        width=float(rng.uniform(0.03, 0.12)),
        apart=float(rng.uniform(0.06, 0.2)),
        corner=float(rng.uniform(0.08, 0.4)),
        reach=(float(rng.uniform(0.72, 1.0)), float(rng.uniform(0.72, 1.0))),
        ornament=str(rng.choice(["none", "none", "none", "corners", "diamond", "inner frame", "sides"])) if not dragon else "none",
        inside=inside,
        dragon=dragon,
        lettering=sample_lettering(rng, script, inside, held_out=held_out) if inside else None,
    )


def draw_white(board: Artboard, style: WhiteStyle, inks: Inks, centre: Point, half: Point) -> None:
    """Draw the white dragon into the box around `centre`."""
    ink, inner = ink_of(inks, style.ink), ink_of(inks, style.inner_ink)
    box = Box(centre, (half[0] * style.reach[0], half[1] * style.reach[1]))
    width = max(style.width * half[0], 1.0)
    if style.pattern:
        _draw_pattern(board, box, style, width, ink, inner)
        _draw_ornament(board, box, style, width, inner)
    if style.lettering:
        room = (box.half[0] * 1.2, box.half[1] * (1.0 if len(style.inside) < 3 else 0.4))
        mask = character_mask(style.inside, style.lettering, *room)
        if mask.shape[1] > 3 * box.half[0]:
            mask = mask[:, :0]
        board.stamp(mask, centre, inner)


def _draw_pattern(board: Artboard, box: Box, style: WhiteStyle, width: float, ink: RGB, inner: RGB) -> None:
    gap = max(style.apart * box.half[0], 2 * width)
    radius = style.corner * box.half[0]
    pattern = style.pattern
    if pattern in ("plain", "double", "triple", "thick and thin"):
        thick = width * (2.2 if pattern == "thick and thin" else 1)
        board.line(box.corners(), thick, ink, closed=True)
        for ring in range({"plain": 0, "triple": 2}.get(pattern, 1)):
            board.line(box.smaller(gap * (ring + 1)).corners(), width, inner, closed=True)
    elif pattern in ("rounded", "notched"):
        board.line(box.rounded(radius, inwards=pattern == "notched"), width, ink, closed=True)
        board.line(box.smaller(gap).rounded(radius, inwards=pattern == "notched"), width, inner, closed=True)
    elif pattern == "cornered":
        for corner in box.corners():
            way = np.sign(np.array(box.centre) - corner) * np.array(box.half) * (0.35 + style.corner)
            board.line(np.array([corner + (way[0], 0), corner, corner + (0, way[1])]), width * 1.3, ink)
    elif pattern == "cut corners":
        board.line(box.corners(), width, ink, closed=True)
        board.line(box.smaller(gap).rounded(radius)[[0, 6, 7, 13, 14, 20, 21, 27]], width, inner, closed=True)
    elif pattern == "curled corners":
        board.line(box.corners(), width, ink, closed=True)
        for corner in box.smaller(gap).corners():
            way = np.sign(np.array(box.centre) - corner)
            turn = np.linspace(0, 5.5, 16)
            curl = np.stack([np.cos(turn), np.sin(turn)], axis=1) * (gap + radius) * np.linspace(0.9, 0.1, 16)[:, None]
            board.line(corner + (curl + (gap + radius) * 0.6) * way, width * 0.9, inner)
    elif pattern == "solid band":
        board.polygon(box.corners(), ink)
        board.polygon(box.smaller(gap * 1.2).rounded(radius, inwards=style.corner > 0.25), None)
    elif pattern == "bamboo":
        board.line(box.corners(), width * 2, ink, closed=True)
        for x, y in box.walk(gap * 2.2):
            board.disc((float(x), float(y)), width * 1.7, ink)
            board.disc((float(x), float(y)), width * 0.5, None)
    elif pattern == "beads":
        for x, y in box.walk(gap * 1.1):
            board.disc((float(x), float(y)), gap * 0.42, ink)
    elif pattern in ORNATE:
        ORNATE[pattern](board, box, gap, width, ink, inner)
    else:
        _draw_band(board, box, style, width, ink, inner)


def _draw_band(board: Artboard, box: Box, style: WhiteStyle, width: float, ink: RGB, inner: RGB) -> None:
    """Patterns in a band along the border: dashes, waves, scallops, inlays, scrolls, squares, hatching, a key."""
    gap = max(style.apart * box.half[0], 6.0)
    outer, middle = box.walk(gap), box.smaller(gap)
    scale = np.array(middle.half) / np.array(box.half)
    inside = (outer - box.centre) * scale + box.centre
    if style.pattern in _OPEN_BANDS:
        _draw_open_band(board, box, style, width, ink, inner, gap)
        return
    board.line(box.corners(), width, ink, closed=True)
    board.line(middle.corners(), width, ink if style.pattern == "scrolls" else inner, closed=True)
    if style.pattern == "scrolls":
        turn = np.linspace(0, 6.5, 14)
        for index, (x, y) in enumerate(box.smaller(gap / 2).walk(gap * 1.15)):
            curl = np.stack([np.cos(turn), np.sin(turn) * (1 if index % 2 else -1)], axis=1)
            board.line(curl * np.linspace(0.42, 0.08, 14)[:, None] * gap + (x, y), max(width * 0.6, 0.8), inner)
    elif style.pattern == "chequered":
        for index in range(0, len(outer) - 1, 2):
            board.polygon(np.array([outer[index], outer[index + 1], inside[index + 1], inside[index]]), ink)
    elif style.pattern == "hatched":
        for start, end in zip(outer, np.roll(inside, -1, axis=0), strict=True):
            board.line(np.array([start, end]), max(width * 0.7, 0.8), ink)
    else:
        _draw_key(board, outer, inside, max(width * 0.8, 0.8), ink)


def _draw_open_band(
    board: Artboard, box: Box, style: WhiteStyle, width: float, ink: RGB, inner: RGB, gap: float
) -> None:
    """Bands without a line on both sides."""
    outer = box.walk(gap)
    if style.pattern == "dashed":
        for start, end in zip(outer[::2], np.roll(outer, -1, axis=0)[::2], strict=False):
            board.line(np.array([start, end]), width * 1.5, ink)
    elif style.pattern == "wavy":
        wave = box.walk(gap / 3)
        inward = np.sign(np.array(box.centre) - wave) * (np.sin(np.arange(len(wave)) * 2.1)[:, None] > 0) * gap * 0.5
        board.line(wave + inward, width, ink, closed=True)
    elif style.pattern == "scalloped":
        for x, y in outer:
            board.ring((float(x), float(y)), gap * 0.62, width, ink)
        board.polygon(box.smaller(width).corners(), None)
        board.line(box.smaller(width).corners(), width, inner, closed=True)
    else:  # an inlaid band: diamonds left bare in a solid one
        board.polygon(box.corners(), ink)
        for index, (x, y) in enumerate(box.smaller(gap / 2).walk(gap * 0.8)):
            size = gap * (0.26 if index % 2 or style.corner < 0.2 else 0.14)
            board.polygon(np.array([(x - size, y), (x, y - size), (x + size, y), (x, y + size)]), None)
        board.polygon(box.smaller(gap).corners(), None)


def _draw_key(board: Artboard, outer: Points, inside: Points, width: float, ink: RGB) -> None:
    """A key fret: in and out, turn by turn."""
    for index in range(len(outer)):
        low, high = (0.22, 0.78) if index % 2 else (0.78, 0.22)
        here, there = outer[index], inside[index]
        after, beyond = outer[(index + 1) % len(outer)], inside[(index + 1) % len(outer)]
        path = [here + (there - here) * low, here + (there - here) * high, after + (beyond - after) * high]
        board.line(np.array(path), width, ink)


def _draw_ornament(board: Artboard, box: Box, style: WhiteStyle, width: float, ink: RGB) -> None:
    inside = box.smaller(max(style.apart * box.half[0] * 1.6, 4 * width))
    if style.ornament == "corners":
        for corner in inside.corners():
            way = np.sign(np.array(box.centre) - corner) * box.half[0] * 0.22
            board.polygon(np.array([corner, corner + (way[0], 0), corner + (0, way[1])]), ink)
    elif style.ornament == "diamond" and not style.inside:
        shape = np.array([(0, -1), (0.6, 0), (0, 1), (-0.6, 0)]) * box.half[0] * 0.4 + box.centre
        board.line(shape, width, ink, closed=True)
    elif style.ornament == "inner frame":
        board.line(inside.corners(), max(width * 0.6, 0.8), ink, closed=True)
    elif style.ornament == "sides":
        for x, y in ((0, -1), (1, 0), (0, 1), (-1, 0)):
            spot = (box.centre[0] + x * inside.half[0], box.centre[1] + y * inside.half[1])
            board.disc(spot, box.half[0] * 0.1, ink)
