"""Measure reading with learnt sets: learn one copy of each face, read the others, with and without what was learnt.

    python -m tilewitness.training.evaluate_sets FOLDER... [--rounds N] [--one-picture]

A folder is one for `training.evaluate` whose photos also name their "set". Which copy is learnt changes with the
round. Pictures of flowers and jokers differ within a set and the truth does not tell them apart: as the layout asks
for one of each different picture, one of each is learnt that no earlier one looks like; or, to see what becomes of
pictures that nobody laid out, a single flower and a single joker.
"""

from __future__ import annotations

import argparse
import json
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import Face
from tilewitness.training.evaluate import OVERLAP, calibration_error, overlap, truths_of
from tilewitness.vision.blend import is_another_set, with_set
from tilewitness.vision.finder import find_faces
from tilewitness.vision.learning import pictures_of, with_examples
from tilewitness.vision.photo import Photo, open_photo
from tilewitness.vision.quads import Quads
from tilewitness.vision.read import Models
from tilewitness.vision.reader import NO_FACE, Answers, name_faces
from tilewitness.vision.sets import Source, TileSet
from tilewitness.vision.straighten import straighten

SAME_PICTURE: Final = 0.9
"""Cosine of two embeddings from which two flowers, or two jokers, count as one picture."""


@dataclass(frozen=True, slots=True, eq=False)
class SetTiles:
    """All tiles of one set whose truth is known: what the reader says of them, true faces (N,), and how they look.

    Attributes:
        straight: uint8 (N, height, width, 3), straightened as the reader takes them.
        pictures: as an example keeps them.
    """

    name: str
    answers: Answers
    faces: NDArray[np.int_]
    straight: NDArray[np.uint8]
    pictures: tuple[bytes, ...]

    def of(self, chosen: NDArray[np.bool_]) -> SetTiles:
        """Return the chosen tiles (N,) alone."""
        pictures = tuple(picture for picture, taken in zip(self.pictures, chosen, strict=True) if taken)
        return SetTiles(self.name, self.answers.of(chosen), self.faces[chosen], self.straight[chosen], pictures)


@dataclass(frozen=True, slots=True, eq=False)
class Compared:
    """One set: tiles read, how many are wrong in general and with the set, and confidences with the set."""

    name: str
    tiles: int
    wrong: int
    wrong_with_set: int
    confidences: NDArray[np.float32]
    right: NDArray[np.bool_]
    refused: bool


def tiles_of(name: str, photos: Iterable[tuple[Path, dict[str, Any]]], models: Models) -> SetTiles:
    """Find and read all tiles of some photos of one set."""
    parts = [_tiles(open_photo(path), entry, models) for path, entry in photos]
    answers = Answers(
        *(np.concatenate([getattr(part[0], field) for part in parts]) for field in ("probabilities", "upside_down", "embedding"))
    )
    faces, straight = (np.concatenate([part[which] for part in parts]) for which in (1, 2))
    return SetTiles(name, answers, faces, straight, tuple(picture for part in parts for picture in part[3]))


def _tiles(
    photo: Photo, entry: dict[str, Any], models: Models
) -> tuple[Answers, NDArray[np.int_], NDArray[np.uint8], tuple[bytes, ...]]:
    quads = find_faces(photo, models.finder).quads

    def cut(which: NDArray[np.bool_], margin: float) -> NDArray[np.uint8]:
        return straighten(photo, quads[which], size=models.reader.size, margin=margin)

    answers = name_faces(cut, len(quads), models.reader)
    face_of = true_faces(quads, entry)
    known = np.array([number in face_of for number in range(len(quads))], np.bool_)
    heads = (answers.upside_down > 0.5)[:, None, None]
    upright = np.where(heads, np.roll(quads, -2, axis=1), quads)[known]
    straight = cut(known, models.reader.margin)
    return answers.of(known), np.array(list(face_of.values()), np.int_), straight, pictures_of(photo, upright)


def true_faces(quads: Quads, entry: dict[str, Any]) -> dict[int, int]:
    """The index of the true face for the number of each quad (N, 4, 2) that lies on a tile of a truth file's photo."""
    return {
        number: Face.named(truth.label).index
        for number, quad in enumerate(quads)
        for truth in truths_of(entry)
        if truth.counts
        and np.abs(truth.quad.mean(0) - quad.mean(0)).max() < np.ptp(quad, axis=0).max()
        and overlap(truth.quad, quad) > OVERLAP
    }


def one_of_each(tiles: SetTiles, turn: int, *, one_picture: bool = False) -> NDArray[np.bool_]:
    """Choose (N,) one copy of each face, the one that is `turn` later each time, and of each different picture."""
    chosen = np.zeros(len(tiles.faces), np.bool_)
    for face in np.unique(tiles.faces):
        copies = np.roll(np.flatnonzero(tiles.faces == face), -turn)
        if face < NO_FACE - 2 or one_picture:
            chosen[copies[0]] = True
            continue
        for copy in copies:
            earlier = tiles.answers.embedding[chosen & (tiles.faces == face)]
            chosen[copy] = not len(earlier) or float((earlier @ tiles.answers.embedding[copy]).max()) < SAME_PICTURE
    return chosen


def compare(learnt: SetTiles, others: SetTiles, models: Models) -> Compared:
    """Learn from some tiles of a set and read others, with and without."""
    faces = [Face(int(face)) for face in learnt.faces]
    tile_set = with_examples(TileSet(learnt.name), Source.LAYOUT, learnt.pictures, faces, models.reader)
    refused = is_another_set(others.answers, others.straight, tile_set, models.reader)
    blended = others.answers if refused else with_set(others.answers, others.straight, tile_set, models.reader)
    named = blended.probabilities[:, :NO_FACE]
    general = others.answers.probabilities[:, :NO_FACE].argmax(1)
    right = named.argmax(1) == others.faces
    return Compared(
        learnt.name, len(right), int((general != others.faces).sum()), int((~right).sum()), named.max(1), right, refused
    )  # fmt: skip


def sets_in(folder: Path, models: Models) -> list[SetTiles]:
    """Read all photos of a folder, set by set."""
    photos: dict[str, list[tuple[Path, dict[str, Any]]]] = defaultdict(list)
    for entry in json.loads((folder / "truth.json").read_text())["photos"]:
        photos[entry["set"]].append((folder / entry["file"], entry))
    return [tiles_of(name, entries, models) for name, entries in photos.items()]


def measured(sets: Sequence[SetTiles], turn: int, models: Models, *, one_picture: bool = False) -> list[Compared]:
    """Learn one copy of each face of every set that has copies to spare, and read the others."""
    results = []
    for tiles in sets:
        learnt = one_of_each(tiles, turn, one_picture=one_picture)
        if (~learnt).sum() >= learnt.sum():
            results.append(compare(tiles.of(learnt), tiles.of(~learnt), models))
    return results


def figures(results: Sequence[Compared]) -> dict[str, float]:
    """What is promised, over all sets."""
    tiles = sum(result.tiles for result in results)
    return {
        "tiles": tiles,
        "named right in general": 1 - sum(result.wrong for result in results) / tiles,
        "named right with the set": 1 - sum(result.wrong_with_set for result in results) / tiles,
        "sets worse for it": sum(result.wrong_with_set > result.wrong for result in results),
        "taken for another set": sum(result.refused for result in results),
        "calibration error": calibration_error(
            np.concatenate([result.confidences for result in results]).tolist(),
            np.concatenate([result.right for result in results]).tolist(),
        ),
    }


def main() -> None:
    """Read the command line and print a line a set and the figures."""
    parser = argparse.ArgumentParser(description="Measure reading with learnt sets.")
    parser.add_argument("folders", type=Path, nargs="+")
    parser.add_argument("--rounds", type=int, default=1, help="how many times another copy of each face is learnt")
    parser.add_argument("--one-picture", action="store_true", help="learn a single flower and a single joker")
    given = parser.parse_args()
    models = Models.shipped()
    sets = [tiles for folder in given.folders for tiles in sets_in(folder, models)]
    everything: list[Compared] = []
    for turn in range(given.rounds):
        for result in measured(sets, turn, models, one_picture=given.one_picture):
            everything.append(result)
            print(
                f"  {result.name:8s} {result.tiles:4d} tiles, wrong in general {result.wrong:3d}, with the set "
                f"{result.wrong_with_set:3d}{', taken for another set' if result.refused else ''}"
            )
    for name, value in figures(everything).items():
        print(f"  {name:26s} {value:.2%}" if 0 < value < 1 else f"  {name:26s} {value:.0f}")


if __name__ == "__main__":
    main()
