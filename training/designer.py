"""Invented designer sets, which break the conventions of tiles: what learning a set is measured on.

    python -m tilewitness.training.designer OUT --sets kitchen letters --seed 1 --count 4

renders each set: `OUT/kitchen-1/` holds two photos to learn it from, and photos in play with their truth,
which `evaluate --learnt 1` reads. `--sheet OUT.png` writes a contact sheet. No scene that a network learns from shows them.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES, Face, Kind
from tilewitness.training.artboard import HEIGHT, WIDTH, Artboard, straight_alpha
from tilewitness.training.dataset import photo_truth
from tilewitness.training.designer_abstract import abstract_face
from tilewitness.training.designer_garden import garden_face
from tilewitness.training.designer_kitchen import kitchen_face
from tilewitness.training.designer_letters import letters_face
from tilewitness.training.evaluate import LAID_OUT
from tilewitness.training.scenes import Scene
from tilewitness.training.set_photos import render_set
from tilewitness.vision.lesson import layout

PICTURES = {Kind.FLOWER: 8, Kind.JOKER: 4}
"""How many different pictures of these every designer set shows."""


@dataclass(frozen=True, slots=True)
class DesignerSet:
    """A set of one designer. `paint` draws a face, or one of a face's different pictures."""

    name: str
    paint: Callable[[Artboard, Face, int], None]

    def draw(self, face: Face, rng: np.random.Generator, *, variant: int = 0) -> NDArray[np.uint8]:
        """Draw one tile's face, straight-alpha RGBA uint8 (256, 192, 4); two tiles differ by a little play."""
        board = Artboard()
        self.paint(board, face, variant % PICTURES.get(face.kind, 1))
        matrix = cv2.getRotationMatrix2D((WIDTH / 2, HEIGHT / 2), rng.normal(0, 0.6), rng.normal(0.96, 0.008))
        moved = matrix + [[0, 0, rng.normal(0, 1.2)], [0, 0, rng.normal(0, 1.2)]]
        return straight_alpha(np.asarray(cv2.warpAffine(board.shrunk(), moved, (WIDTH, HEIGHT)), np.uint8))


DESIGNER_SETS = {
    made.name: made
    for made in (
        DesignerSet("kitchen", kitchen_face),
        DesignerSet("letters", letters_face),
        DesignerSet("abstract", abstract_face),
        DesignerSet("garden", garden_face),
    )
}


def contact_sheet() -> NDArray[np.uint8]:
    """Show every face and picture of every family, three lines each: uint8 (H, W, 3) BGR."""
    rng, lines = np.random.default_rng(0), []
    for made in DESIGNER_SETS.values():
        cells = [(face, variant) for face in FACES for variant in range(PICTURES.get(face.kind, 1))]
        tiles = [_on_white(made.draw(face, rng, variant=variant)) for face, variant in cells]
        tiles += [np.full_like(tiles[0], 255)] * (-len(tiles) % 16)
        lines += [np.hstack(tiles[i : i + 16]) for i in range(0, len(tiles), 16)]
    return np.ascontiguousarray(np.vstack(lines)[:, :, ::-1])


def _on_white(face: NDArray[np.uint8]) -> NDArray[np.uint8]:
    alpha = face[:, :, 3:] / 255.0
    small = cv2.resize(face[:, :, :3] * alpha + 245 * (1 - alpha), (84, 112), interpolation=cv2.INTER_AREA)
    return np.pad(small, ((2, 2), (2, 2), (0, 0))).astype(np.uint8)


def write_photos(out: Path, made: DesignerSet, seed: int, count: int) -> None:
    """Write a set laid out, `count` photos of it in play, and their truth: everything but the artwork by lot."""
    out.mkdir(parents=True, exist_ok=True)
    photos = render_set(seed, layout(flowers=8, jokers=2), artwork=made, count=count)
    for file, scene in zip(LAID_OUT, (photos.laid_out, photos.laid_out_again), strict=True):
        _write(out / file, scene)
    truths = []
    for number, scene in enumerate(photos.in_play):
        _write(out / f"{number:05d}.jpg", scene)
        truths.append(photo_truth(scene, f"{number:05d}.jpg"))
    (out / "truth.json").write_text(json.dumps({"photos": truths}) + "\n", encoding="utf-8")


def _write(file: Path, scene: Scene) -> None:
    cv2.imwrite(str(file), scene.image, [cv2.IMWRITE_JPEG_QUALITY, 92])


def main() -> None:
    """Write photos, or a contact sheet to look at."""
    parser = argparse.ArgumentParser(description="Render photos of the designer sets, or draw a contact sheet.")
    parser.add_argument("out", type=Path, nargs="?", help="folder for one folder a set")
    parser.add_argument("--sets", nargs="+", choices=DESIGNER_SETS, default=list(DESIGNER_SETS))
    parser.add_argument("--seed", type=int, default=1, help="picks the tiles' bodies, the table, the light and the camera")
    parser.add_argument("--count", type=int, default=4, help="photos in play for each set")
    parser.add_argument("--sheet", type=Path, help="contact sheet to write")
    given = parser.parse_args()
    if given.sheet:
        cv2.imwrite(str(given.sheet), contact_sheet())
    if given.out:
        for name in given.sets:
            write_photos(given.out / f"{name}-{given.seed}", DESIGNER_SETS[name], given.seed, given.count)


if __name__ == "__main__":
    main()
