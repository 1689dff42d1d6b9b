"""Choose how alike two tiles of one photo must be to share their answers (`vision/copies.py`), on held-out artwork.

    python -m tilewitness.training.choose_copies --scenes 80 --seed 41

For each pair of thresholds: groups whose tiles truly show several faces, tiles right, and how honest confidences are,
by expected calibration error (Guo et al. 2017, section 3) and by negative log likelihood. Choose one without a false
group, and among those the one whose confidences are the most honest. Run it again when the reader's embedding changes.
"""

from __future__ import annotations

import argparse
import itertools
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewitness.training.evaluate import OVERLAP, overlap
from tilewitness.training.scenes import Scene, render_scene
from tilewitness.training.shards import SEED_STRIDE
from tilewitness.vision.copies import with_copies
from tilewitness.vision.finder import find_faces
from tilewitness.vision.photo import Photo
from tilewitness.vision.read import Models
from tilewitness.vision.reader import LEAST, NO_FACE, Answers, name_faces
from tilewitness.vision.straighten import straighten

ALIKE = (0.8, 0.9, 0.95, 0.97, 0.98)
IN_PRINT = (0.5, 0.6, 0.7, 0.8)
NEVER = 2.0
"""A likeness that no pair has: every tile on its own."""


@dataclass(frozen=True, slots=True)
class Seen:
    """What was said of one scene's tiles, their pictures, and the true faces (N,); -1 for what is none."""

    answers: Answers
    faces: NDArray[np.uint8]
    labels: NDArray[np.int_]


def seen_scenes(seed: int, count: int, models: Models) -> Iterator[Seen]:
    """Read scenes in held-out artwork, every tile by itself."""
    net = models.reader
    for number in range(count):
        scene = render_scene(seed * SEED_STRIDE + number, held_out=True)
        photo = Photo(scene.image)
        quads = find_faces(photo, models.finder).quads
        if not len(quads):
            continue

        def cut(which: NDArray[np.bool_], margin: float, photo: Photo = photo, quads: NDArray[np.float32] = quads) -> NDArray[np.uint8]:
            return straighten(photo, quads[which], size=net.size, margin=margin)

        faces = cut(np.ones(len(quads), np.bool_), net.margin)
        yield Seen(name_faces(cut, len(quads), net), faces, np.array([_label(quad, scene) for quad in quads]))


def _label(quad: NDArray[np.float32], scene: Scene) -> int:
    found = next((tile for tile in scene.tiles if overlap(tile.quad, quad) >= OVERLAP), None)
    return found.face.index if found is not None and found.face is not None else -1


def measured(scenes: list[Seen], alike: float, in_print: float) -> str:
    """Return one row: false groups, tiles whose answer was shared, share right, calibration error, log likelihood."""
    false = shared = 0
    said, labels = [], []
    for scene in scenes:
        answers = with_copies(scene.answers, scene.faces, alike=alike, in_print=in_print)
        changed = (answers.probabilities != scene.answers.probabilities).any(1)
        shared += int(changed.sum())
        groups = np.unique(answers.probabilities[changed], axis=0, return_inverse=True)[1].reshape(-1)
        true = scene.labels[changed]
        false += sum(len(np.unique(true[groups == group])) > 1 for group in np.unique(groups))
        said.append(answers.probabilities[scene.labels >= 0])
        labels.append(scene.labels[scene.labels >= 0])
    all_said, truth = np.concatenate(said), np.concatenate(labels)
    faces = all_said[:, :NO_FACE]
    right = faces.argmax(1) == truth
    loss = -np.log(np.maximum(all_said[np.arange(len(truth)), truth], LEAST)).mean()
    return (
        f"{false:12d} {shared:12d} {right.mean():8.2%} {_calibration_error(faces.max(1), right):11.2%} {loss:10.4f}"
    )


def _calibration_error(confidences: NDArray[np.float32], right: NDArray[np.bool_], bins: int = 10) -> float:
    bin_of = np.minimum((confidences * bins).astype(int), bins - 1)
    gaps = [abs(float((confidences - right)[bin_of == one].sum())) for one in range(bins)]
    return sum(gaps) / max(len(right), 1)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--scenes", type=int, default=80)
    parser.add_argument("--seed", type=int, default=41)
    given = parser.parse_args()
    scenes = list(seen_scenes(given.seed, given.scenes, Models.shipped()))
    print("   alike  in print  false groups  tiles shared    right  calibration  loss")
    for alike, in_print in [(NEVER, NEVER), *itertools.product(ALIKE, IN_PRINT)]:
        print(f"{alike:8.2f} {in_print:9.2f} {measured(scenes, alike, in_print)}")


if __name__ == "__main__":
    main()
