"""Picture faces: the bird of 1 bam, picture dragons, flowers and jokers, as one physical set has them.

A style holds only seeds: everything about a design follows from its seed, so two calls draw the same design
and `rng` adds no more than the small play between two tiles of one set.

    python -m tilewitness.training.pictures --sheet OUT.png --seed 1
"""

from __future__ import annotations

import argparse
import colorsys
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Literal

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from tilewitness.training import birds, dragons, flowers, jokers
from tilewitness.training.engraving import HEIGHT, WIDTH, coloured, moved
from tilewitness.training.inks import RGB, Inks, sample_inks

DragonFace = Literal["red", "green", "white"]
Picture = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class PictureStyle:
    """The designs of one physical set, as seeds.

    Attributes:
        bird: the one bird.
        dragon: the one picture that its dragons share.
        dragon_print: how the dragons' inks are chosen.
        flowers: two groups of four; equal seeds repeat one group.
        flower_tiles: one picture for each of the eight.
        jokers: one or two designs.
        extras: a fifth and sixth ink beside the set's four, RGB.
        slip: standard deviation in pixels by which one ink misses its place beside another; 0 in most sets.
        held_out: whether the designs come from the families kept out of training.
    """

    bird: int
    dragon: int
    dragon_print: int
    flowers: tuple[int, int]
    flower_tiles: tuple[int, ...]
    jokers: tuple[int, ...]
    extras: tuple[RGB, RGB]
    slip: float
    held_out: bool


def sample_pictures(rng: np.random.Generator, *, held_out: bool = False) -> PictureStyle:
    """Draw the picture designs of one set."""
    seeds = [int(seed) for seed in rng.integers(2**31, size=15)]
    groups = (seeds[3], seeds[3]) if rng.random() < 0.3 else (seeds[3], seeds[4])
    tiles = seeds[5:13]
    habit = rng.random()
    if habit < 0.2:
        tiles = tiles[:1] * 8
    elif habit < 0.35:
        tiles = tiles[:4] * 2
    return PictureStyle(
        bird=seeds[0], dragon=seeds[1], dragon_print=seeds[2], flowers=groups, flower_tiles=tuple(tiles),
        jokers=tuple(seeds[13 : 15 if rng.random() < 0.25 else 14]), extras=(_extra_ink(rng), _extra_ink(rng)),
        slip=float(rng.uniform(1, 4)) if rng.random() < 0.1 else 0.0,
        held_out=held_out,
    )  # fmt: skip


def _extra_ink(rng: np.random.Generator) -> RGB:
    """Yellow, orange, brown, pink, purple, teal: any ink that reads on a light tile."""
    hue, saturation, value = rng.random(), rng.uniform(0.4, 1), rng.uniform(0.2, 0.9)
    red, green, blue = (round(255 * part) for part in colorsys.hsv_to_rgb(hue, saturation, value))
    return red, green, blue


def draw_bird(style: PictureStyle, inks: Inks, rng: np.random.Generator) -> Picture:
    """Draw the set's 1 bam, straight-alpha RGBA uint8 (256, 192, 4)."""
    return _finished(_bird(style.bird, style.held_out), style, inks, rng)


def draw_dragon(style: PictureStyle, inks: Inks, rng: np.random.Generator, *, face: DragonFace) -> Picture:
    """Draw the set's dragon picture in the inks of one dragon, RGBA uint8 (256, 192, 4)."""
    return _finished(_dragon(style.dragon, style.dragon_print, face, style.held_out), style, inks, rng)


def draw_flower(style: PictureStyle, inks: Inks, rng: np.random.Generator, *, variant: int) -> Picture:
    """Draw one of the set's eight flowers, `variant` 0 to 7, RGBA uint8 (256, 192, 4)."""
    variant %= 8
    group = style.flowers[variant // 4]
    return _finished(_flower(group, style.flower_tiles[variant], variant, style.held_out), style, inks, rng)


def draw_joker(style: PictureStyle, inks: Inks, rng: np.random.Generator, *, variant: int) -> Picture:
    """Draw one of the set's one or two jokers, RGBA uint8 (256, 192, 4); `variant` wraps around."""
    return _finished(_joker(style.jokers[variant % len(style.jokers)], style.held_out), style, inks, rng)


@lru_cache(maxsize=64)
def _bird(seed: int, held_out: bool) -> NDArray[np.uint8]:
    return birds.bird(np.random.default_rng(seed), held_out=held_out).planes


@lru_cache(maxsize=64)
def _dragon(seed: int, print_seed: int, face: DragonFace, held_out: bool) -> NDArray[np.uint8]:
    canvas = dragons.dragon(np.random.default_rng(seed), held_out=held_out)
    return dragons.printed(canvas, face, np.random.default_rng(print_seed)).planes


@lru_cache(maxsize=128)
def _flower(group: int, tile: int, variant: int, held_out: bool) -> NDArray[np.uint8]:
    return flowers.flower(
        _habit(group, held_out), variant, np.random.default_rng(tile), held_out=held_out
    ).planes


@lru_cache(maxsize=64)
def _habit(group: int, held_out: bool) -> flowers.Habit:
    return flowers.sample_habit(np.random.default_rng(group), held_out=held_out)


@lru_cache(maxsize=64)
def _joker(seed: int, held_out: bool) -> NDArray[np.uint8]:
    return jokers.joker(np.random.default_rng(seed), held_out=held_out).planes


def _finished(
    planes: NDArray[np.uint8], style: PictureStyle, inks: Inks, rng: np.random.Generator
) -> Picture:
    """Colour a design after shifting and turning it by the little that tiles of one set differ."""
    angle, scale = rng.normal(0, 0.012), rng.normal(1, 0.012)
    c, s = scale * np.cos(angle), scale * np.sin(angle)
    x, y = WIDTH / 2, HEIGHT / 2
    shift = rng.normal(0, 1.6, 2)
    matrix = np.array([[c, -s, x - c * x + s * y + shift[0]], [s, c, y - s * x - c * y + shift[1]]])
    placed = moved(planes, matrix)
    for plane in placed if style.slip else ():
        if plane.any():
            astray = np.array([[1.0, 0.0, rng.normal(0, style.slip)], [0.0, 1.0, rng.normal(0, style.slip)]])
            plane[:] = cv2.warpAffine(plane, astray, (WIDTH, HEIGHT))
    return coloured(placed, inks, style.extras)


def sheet(seed: int, *, held_out: bool = False, rows: int = 10) -> Picture:
    """A contact sheet, one set a row: bird, three dragons, eight flowers, two jokers; RGB uint8."""
    rng = np.random.default_rng(seed)
    lines = []
    for _ in range(rows):
        style, inks = sample_pictures(rng, held_out=held_out), sample_inks(rng)
        cells = [draw_bird(style, inks, rng)]
        cells += [draw_dragon(style, inks, rng, face=face) for face in ("red", "green", "white")]
        cells += [draw_flower(style, inks, rng, variant=variant) for variant in range(8)]
        cells += [draw_joker(style, inks, rng, variant=variant) for variant in range(2)]
        lines.append(np.hstack([_on_tile(cell) for cell in cells]))
    return np.vstack(lines)


def _on_tile(picture: Picture) -> Picture:
    small = Image.fromarray(picture).resize((WIDTH * 5 // 9, HEIGHT * 5 // 9), Image.Resampling.BOX)
    tile = Image.new("RGBA", (small.width + 6, small.height + 6), (120, 110, 100))
    tile.paste((244, 238, 224), (2, 2, small.width + 4, small.height + 4))
    tile.alpha_composite(small, (3, 3))
    return np.asarray(tile.convert("RGB"))


def main() -> None:
    """Write a contact sheet."""
    parser = argparse.ArgumentParser(description="Draw a contact sheet of picture tiles.")
    parser.add_argument("--sheet", type=Path, required=True, help="PNG file to write")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--held-out", action="store_true", help="use the families kept out of training")
    arguments = parser.parse_args()
    Image.fromarray(sheet(arguments.seed, held_out=arguments.held_out)).save(arguments.sheet)


if __name__ == "__main__":
    main()
