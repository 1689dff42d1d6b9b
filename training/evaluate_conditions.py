"""Measure which conditions of home photos the finder or the reader suffers from, on drawn sets kept out of training.

    python -m tilewitness.training.evaluate_conditions [--count 60] [--models FOLDER] [--pictures OUT]

The same racks and tables are photographed clean, under each of `conditions.CONDITIONS` at two strengths, from steeper
and farther away, with the camera rolled, and as old bakelite. Everything depends on the number of the scene alone, so
the figures of two pairs of networks compare tile by tile. Six minutes on one core.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray
from onnxruntime import InferenceSession

from tilewitness.models import FinderNet, ReaderNet
from tilewitness.training.bodies import Body, sample_body
from tilewitness.training.conditions import CONDITIONS, Photo
from tilewitness.training.dataset import photo_truth
from tilewitness.training.effects import lit
from tilewitness.training.evaluate import SURE, Scored, Truth, report, score, truths_of
from tilewitness.training.faces import sample_style
from tilewitness.training.kinds import KINDS, View
from tilewitness.training.lens import photographed
from tilewitness.training.scenes import Scene, aim, paint_plan, truth
from tilewitness.vision.read import Models, read_photo

FIRST_SEED: Final = 970 * 10_000_000
LONG: Final = 1024
WIDTHS: Final = (40.0, 90.0)
"""Pixels across the tiles of a clean photo."""

ASPECT: Final = 4 / 3
"""Of a photo that would else be cut to its tiles."""

LEAST_TILES: Final = 8
LEAST_CONTRAST: Final = 8.0
"""Grey levels by which a usual face must vary in a clean photo: print that a person does not see either measures nothing."""

SHOWN: Final = ("rack", "rows", "rack", "standing", "rack", "grid")
"""Kinds of scenes, in turn."""

Change = Callable[[View, Body, float, bool], tuple[View, Body]]
"""Takes the view and body of a clean photo, the width of its tiles and whether the strong form is wanted."""

TAKEN_OTHERWISE: Final[dict[str, Change]] = {
    "steep": lambda view, body, _, strong: (replace(view, elevation=25 if strong else 33), body),
    "far": lambda view, body, width, strong: (replace(view, fill=view.fill * (25 if strong else 30) / width), body),
    "rolled": lambda view, body, _, strong: (replace(view, roll=view.roll + (30 if strong else -18)), body),
    "old bakelite": lambda view, body, _, strong: (view, _bakelite(body, strong)),
}


@dataclass(frozen=True, slots=True, eq=False)
class Taken:
    """One photo with its truth."""

    photo: Photo
    truths: tuple[Truth, ...]


def _bakelite(body: Body, strong: bool) -> Body:
    """The same tiles of butterscotch or brown resin, all one piece, polished, the paint partly gone."""
    front = (60.0, 120.0, 185.0) if strong else (105.0, 175.0, 225.0)
    return replace(body, front=front, back=front, gloss=0.9, engraving=0.5, fade=0.6 if strong else 0.8)


def take(number: int, change: Change | None = None, width: float = 0.0, strong: bool = False) -> Taken:
    """Photograph the scene with this number, as in `scenes.render_scene` but with a mild lens and at one size.

    Args:
        change: alters the view or the body. width: that of the tiles in the photo without it.
    """
    rng = np.random.default_rng(FIRST_SEED + number)
    body = sample_body(rng)
    plan = KINDS[SHOWN[number % len(SHOWN)]][0](rng, body)
    style = sample_style(rng, held_out=True)
    view = replace(plan.view, aspect=plan.view.aspect or ASPECT, offset=(0.0, 0.0))
    if change:
        view, body = change(view, body, width, strong)
    plan = replace(plan, view=view, goods=False)  # a home, not a shop
    camera = aim(plan, LONG)
    painting = paint_plan(plan, body, style, camera, rng)
    tiles = truth(plan.layout.spots, body, camera, painting)
    scene_light = np.random.default_rng((FIRST_SEED, number))
    image = photographed(lit(painting, 0.3, scene_light), scene_light, detail=60, heavy=0.0)
    truths = tuple(truths_of(photo_truth(Scene(image, tiles, ""), "")))
    quads = np.array([one.quad for one in truths if one.counts], np.float32)
    return Taken(Photo(image, quads.reshape(-1, 4, 2)), truths)


def contrast(photo: Photo) -> float:
    """Standard deviation of the grey levels within a usual face."""
    grey = cv2.cvtColor(photo.image, cv2.COLOR_BGR2GRAY)
    spreads = []
    for quad in photo.quads:
        inside = np.zeros_like(grey)
        cv2.fillConvexPoly(inside, (quad.mean(0) + 0.8 * (quad - quad.mean(0))).astype(np.int32), 1)
        spreads.append(cv2.meanStdDev(grey, mask=inside)[1].item())
    return float(np.median(spreads))


def fits(photo: Photo) -> bool:
    """Tell whether a clean photo shows enough tiles, of a usual size, that can be read at all."""
    return len(photo.quads) >= LEAST_TILES and WIDTHS[0] <= photo.width <= WIDTHS[1] and contrast(photo) >= LEAST_CONTRAST


def fitting(count: int) -> Iterator[tuple[int, Taken]]:
    """The first scenes, as many as wanted, whose clean photo fits."""
    number = 0
    while count:
        taken = take(number)
        if fits(taken.photo):
            yield number, taken
            count -= 1
        number += 1


def photos_of(number: int, clean: Taken) -> Iterator[tuple[str, NDArray[np.uint8], tuple[Truth, ...]]]:
    """Every photo of one scene: the condition's name, pixels, truth."""
    yield "clean", clean.photo.image, clean.truths
    for strong in (False, True):
        for place, (name, condition) in enumerate(CONDITIONS.items()):
            image = condition(clean.photo, strong, np.random.default_rng((FIRST_SEED, number, place, strong)))
            scale = image.shape[1] / clean.photo.image.shape[1]
            yield f"{name}{' !' if strong else ''}", image, tuple(replace(one, quad=one.quad * scale) for one in clean.truths)
        for name, change in TAKEN_OTHERWISE.items():
            taken = take(number, change, clean.photo.width, strong)
            yield f"{name}{' !' if strong else ''}", taken.photo.image, taken.truths


def measured(count: int, models: Models, pictures: Path | None = None) -> dict[str, list[Scored]]:
    """Read every photo; write each as a JPEG into a folder, if asked."""
    of: dict[str, list[Scored]] = {}
    for number, clean in fitting(count):
        for name, image, truths in photos_of(number, clean):
            if pictures:
                cv2.imwrite(str(pictures / f"{number:03d} {name.replace('!', 'strong')}.jpg"), image)
            of.setdefault(name, []).append(score(Path(f"{number} {name}"), truths, read_photo(image, models=models)))
    return of


def networks_in(folder: Path) -> Models:
    """Open other networks than the shipped ones."""
    finder, reader = (InferenceSession(folder / name, providers=["CPUExecutionProvider"]) for name in ("finder.onnx", "reader.onnx"))
    return Models(FinderNet(finder), ReaderNet(reader))


def main() -> None:
    """Read the command line, measure, and print one line a condition."""
    parser = argparse.ArgumentParser(description="Measure reading under the conditions of home photos.")
    parser.add_argument("--count", type=int, default=60, help="scenes")
    parser.add_argument("--models", type=Path, help="a folder with another finder.onnx and reader.onnx")
    parser.add_argument("--pictures", type=Path, help="also write the photos into this folder")
    given = parser.parse_args()
    models = networks_in(given.models) if given.models else Models.shipped()
    if given.pictures:
        given.pictures.mkdir(parents=True, exist_ok=True)
    print(f"{'condition (! strong)':24s} {'tiles':>6s} {'found':>8s} {'extra':>8s} {'named':>8s} {'wrong>=' + str(SURE):>10s}")
    for name, scored in sorted(measured(given.count, models, given.pictures).items()):
        said = report(scored)
        shares = [said[key] for key in ("found", "extra", "named right of found", f"wrong at {SURE} or more")]
        print(f"{name:24s} {said['tiles']:6.0f} " + " ".join(f"{share:8.1%}" for share in shares))


if __name__ == "__main__":
    main()
