"""Writes rendered photos and their truth: `python -m tilewitness.training.dataset OUT --count N`."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import Any

import cv2

from tilewitness.training.scenes import Scene, render_scene

SKIP_ABOVE = 0.3
"""A face of which more than this share is hidden is neither asked for nor a false alarm."""


def photo_truth(scene: Scene, file: str) -> dict[str, Any]:
    """Return a photo's entry of truth.json."""
    h, w = scene.image.shape[:2]
    tiles = [
        {
            "quad": [[round(float(x), 2), round(float(y), 2)] for x, y in tile.quad],
            "label": "blank" if tile.face is None else tile.face.name,
            "row": tile.row,
            "col": tile.place,
            "skip": tile.hidden > SKIP_ABOVE,
        }
        for tile in scene.tiles
    ]
    return {"file": file, "size": [w, h], "kind": scene.kind, "tiles": tiles}


def write(out: Path, count: int, seed: int, *, held_out: bool = False) -> None:
    """Write `count` JPEG photos and truth.json; photo i depends only on (seed, i)."""
    out.mkdir(parents=True, exist_ok=True)
    photos = []
    for i in range(count):
        scene = render_scene(seed * 1_000_000 + i, held_out=held_out)
        file = f"{i:05d}.jpg"
        cv2.imwrite(str(out / file), scene.image, [cv2.IMWRITE_JPEG_QUALITY, 96])
        photos.append(photo_truth(scene, file))
    (out / "truth.json").write_text(json.dumps({"photos": photos}) + "\n", encoding="utf-8")


def main() -> None:
    """Read the command line and write the folder."""
    parser = argparse.ArgumentParser(prog="python -m tilewitness.training.dataset", description=__doc__)
    parser.add_argument("out", type=Path)
    parser.add_argument("--count", type=int, default=24)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--held-out", action="store_true")
    given = parser.parse_args()
    write(given.out, given.count, given.seed, held_out=given.held_out)


if __name__ == "__main__":
    main()
