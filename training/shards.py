"""Render scenes in bulk into shards: plain arrays that training reads straight into GPU memory.

    python -m tilewitness.training.shards OUT --count 20000 --workers 16 --seed 1

Scene i depends on (seed, i) alone, whatever the number of workers. A shard appears under its final name
only when it is whole, so training may watch the folder while rendering goes on.
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.foreign import render_foreign
from tilewitness.training.scenes import Scene, render_scene
from tilewitness.training.sheets import render_sheet, render_symbols

SIDE = 1024
"""Every scene is stored in a square of this many pixels, padded right and below with grey."""

GREY = 114
MOST_TILES = 192
PER_SHARD = 16
SEED_STRIDE = 10_000_000
NO_FACE = 36
UNNAMED = -2
"""Stands for the face of an unnamed symbol: only its look counts."""
STRANGE = -3
"""Stands for the face of one that no usual tile shows: no name for it shall be likely."""

KINDS: dict[str, Callable[..., Scene]] = {
    "scenes": render_scene,
    "foreign": render_foreign,
    "lookalikes": partial(render_scene, kind="lookalikes"),
    "sheets": render_sheet,
    "symbols": render_symbols,
}
"""What can be rendered: scenes, scenes whose tiles show unnamed symbols, scenes of look-alikes, sheets of faces and of symbols."""

TILE_DTYPE = np.dtype(
    [("quad", np.float32, (4, 2)), ("face", np.int16), ("upside_down", np.bool_), ("hidden", np.float32), ("look", np.int16)]
)


def pack(scene: Scene) -> tuple[NDArray[np.uint8], NDArray[np.void], int]:
    """Return the padded picture (SIDE, SIDE, 3), tile records (MOST_TILES,) and their number."""
    height, width = scene.image.shape[:2]
    scale = min(1.0, SIDE / max(height, width))
    image = scene.image
    if scale < 1.0:
        size = (round(width * scale), round(height * scale))
        image = np.asarray(cv2.resize(image, size, interpolation=cv2.INTER_AREA), np.uint8)
    square = np.full((SIDE, SIDE, 3), GREY, np.uint8)
    square[: image.shape[0], : image.shape[1]] = image
    records = np.zeros(MOST_TILES, TILE_DTYPE)
    tiles = scene.tiles[:MOST_TILES]
    for record, tile in zip(records, tiles, strict=False):
        nameless = NO_FACE if tile.look < 0 else STRANGE if tile.strange else UNNAMED
        record["quad"], record["look"] = tile.quad * scale, tile.look
        record["face"] = nameless if tile.face is None else tile.face.index
        record["upside_down"], record["hidden"] = tile.upside_down, tile.hidden
    return square, records, len(tiles)


def render_shards(out: Path, seed: int, numbers: range, held_out: bool, kind: str, until: float) -> None:
    """Render the pictures of a kind with these numbers, `PER_SHARD` to a file, until the clock passes `until`."""
    cv2.setNumThreads(1)
    for first in numbers[::PER_SHARD]:
        if time.time() > until:
            return
        packed = [
            pack(KINDS[kind](seed * SEED_STRIDE + number, held_out=held_out))
            for number in range(first, first + PER_SHARD)
        ]
        images, tiles, counts = (np.stack(column) for column in zip(*packed, strict=True))
        unfinished = out / f"{first:08d}.part"
        with unfinished.open("wb") as file:
            np.savez(file, images=images, tiles=tiles, counts=counts)
        unfinished.rename(out / f"{first:08d}.npz")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("out", type=Path)
    parser.add_argument("--count", type=int, default=20000)
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--held-out", action="store_true")
    parser.add_argument("--kind", choices=KINDS, default="scenes", help="scenes of three kinds, or sheets of faces or of unnamed symbols")
    parser.add_argument("--seconds", type=float, default=float("inf"), help="stop early after this long")
    given = parser.parse_args()
    given.out.mkdir(parents=True, exist_ok=True)
    until = time.time() + given.seconds
    firsts = range(0, given.count, PER_SHARD)
    jobs = [
        (given.out, given.seed, range(first, first + PER_SHARD), given.held_out, given.kind, until)
        for first in firsts
    ]
    with multiprocessing.get_context("spawn").Pool(given.workers) as pool:
        pool.starmap(render_shards, jobs, chunksize=1)
    print(f"{len(list(given.out.glob('*.npz'))) * PER_SHARD} pictures in {given.out}")


if __name__ == "__main__":
    main()
