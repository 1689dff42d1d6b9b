"""Fit how much each expert counts when tiles are read with a learnt set: the weights in `vision/blend.py`.

    python -m tilewitness.training.fit_blend [--symbols 10] [--usual 8]

renders that many sets of held-out symbols and of held-out usual artwork, learns each from the photo of its layout, or
two where the lesson asks for another, and fits the weights one expert after the other, in the order in which they are
asked, to the tiles of two photos in play.
It prints the weights that stand in `blend.py` and those that fit best, with what either makes of the tiles, and how
alike tiles are to their own set and to another one, which `OWN` has to part. No designer's set and no photo of real
tiles is among them. To be done anew with a new reader: a few seconds a set.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from dataclasses import astuple, dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize

from tilewitness.training.dataset import photo_truth
from tilewitness.training.evaluate_sets import true_faces
from tilewitness.training.scenes import Artwork, Scene
from tilewitness.training.set_photos import render_set
from tilewitness.training.symbols import SymbolSet
from tilewitness.vision.blend import (
    FITTED,
    OWN,
    Weights,
    at_first_sight,
    differences,
    in_print,
    likeness,
    prints_of,
    with_set,
)
from tilewitness.vision.finder import find_faces
from tilewitness.vision.lesson import layout, study
from tilewitness.vision.photo import open_photo
from tilewitness.vision.prints import Prints
from tilewitness.vision.read import Models
from tilewitness.vision.reader import CLEAR, NO_FACE, Answers, ask
from tilewitness.vision.sets import TileSet
from tilewitness.vision.straighten import straighten

ROWS = layout(flowers=8, jokers=2)
SEED = 5000  # of the first set of either kind; no other script draws these
LEAST = 0.03  # a tile is not taken for less probable: some are worn away, or their faces one, and no weight helps with those


@dataclass(frozen=True, slots=True, eq=False)
class Played:
    """Tiles of one set in play: what the reader says at one look, faces uint8 (N, height, width, 3), true faces (N,)."""

    tile_set: TileSet
    answers: Answers
    faces: NDArray[np.uint8]
    truth: NDArray[np.int_]

    def of(self, chosen: NDArray[np.bool_]) -> Played:
        """Return the chosen tiles (N,) alone."""
        return Played(self.tile_set, self.answers.of(chosen), self.faces[chosen], self.truth[chosen])


def played(number: int, models: Models, *, symbols: bool) -> Played:
    """Render the set with this number, learn it, and look once at its tiles in play."""
    seed = SEED + number
    artwork: Artwork | None = SymbolSet.sample(np.random.default_rng((seed, 5)), held_out=True) if symbols else None
    photos = render_set(seed, ROWS, held_out=True, artwork=artwork)
    tile_set = TileSet(str(seed))
    for scene in (photos.laid_out, photos.laid_out_again):
        lesson = study([scene.image], ROWS, models=models)
        tile_set = lesson.as_laid_out().learn(tile_set, models=models)
        if not lesson.again:
            break
    parts = [_seen(scene, models) for scene in photos.in_play]
    faces = np.concatenate([part[0] for part in parts])
    return Played(tile_set, ask(faces, models.reader), faces, np.concatenate([part[1] for part in parts]))


def _seen(scene: Scene, models: Models) -> tuple[NDArray[np.uint8], NDArray[np.int_]]:
    """The tiles that were found, straightened, and their true faces."""
    photo = open_photo(scene.image)
    quads = find_faces(photo, models.finder).quads
    true = true_faces(quads, photo_truth(scene, ""))
    faces = straighten(photo, quads[list(true)], size=models.reader.size, margin=models.reader.margin)
    return faces, np.array(list(true.values()), np.int_)


class Fit:
    """The experts' opinions of all tiles, and what weights make of them.

    Whatever an expert is asked depends on the ones before it, so it is asked anew once their weights are fitted.
    """

    def __init__(self, sets: Sequence[Played], models: Models) -> None:
        self._sets, self._net = sets, models.reader

    def first_sight(self, weights: Weights) -> float:
        """Mean negative log likelihood of the true faces at first sight."""
        return _loss([at_first_sight(one.answers, one.tile_set, weights).probabilities for one in self._sets], self._sets)

    def unclear(self, weights: Weights) -> tuple[list[Played], list[NDArray[np.float32]], list[Prints]]:
        """The tiles that are not clear at first sight: their probabilities then, and what they are like in print."""
        some, seen = [], []
        for one in self._sets:
            probabilities = at_first_sight(one.answers, one.tile_set, weights).probabilities
            unclear = probabilities.max(1) < CLEAR
            some.append(one.of(unclear))
            seen.append(probabilities[unclear])
        prints = [prints_of(each, one.faces, one.tile_set, self._net) for one, each in zip(some, seen, strict=True)]
        return some, seen, prints

    def fitted(self, start: Weights) -> Weights:
        """Return the weights that fit best."""
        weights = _best(self.first_sight, start, ("likeness",))
        some, seen, prints = self.unclear(weights)

        def printed(tried: Weights) -> list[NDArray[np.float32]]:
            return [in_print(each, found, tried) for each, found in zip(seen, prints, strict=True)]

        weights = _best(lambda tried: _loss(printed(tried), some), weights, ("in_print",))
        read = printed(weights)
        told = [
            differences(each, found, one.faces, one.tile_set, self._net)
            for each, found, one in zip(read, prints, some, strict=True)
        ]

        def compared(tried: Weights) -> float:
            logits = [np.log(each.clip(1e-30)) + tried.difference * own for each, own in zip(read, told, strict=True)]
            return _loss([np.exp(each) / np.exp(each).sum(1, keepdims=True) for each in logits], some)

        return _best(compared, weights, ("difference",))

    def report(self, weights: Weights) -> str:
        """What weights make of the tiles, in a line."""
        read = [with_set(one.answers, one.faces, one.tile_set, self._net, weights).probabilities for one in self._sets]
        right = np.concatenate([each[:, :NO_FACE].argmax(1) == one.truth for each, one in zip(read, self._sets, strict=True)])
        sure = np.concatenate([each.max(1) >= CLEAR for each in read])
        return (
            f"{len(right)} tiles, {np.count_nonzero(~right)} wrong, {np.count_nonzero(~right & sure)} of them at {CLEAR} and more, "
            f"{sure.mean():.1%} so; loss {_loss(read, self._sets):.4f}"
        )

    def alike(self) -> tuple[float, float]:
        """The least likeness in print of half of a set's tiles to their own pictures, and the most to the next set's."""
        own: list[float] = []
        other: list[float] = []
        for one, following in zip(self._sets, [*self._sets[1:], self._sets[0]], strict=True):
            for tile_set, found in ((one.tile_set, own), (following.tile_set, other)):
                seen = likeness(one.answers, tile_set)
                found.append(float(np.median(prints_of(seen, one.faces, tile_set, self._net).likeness.max(1))))
        return min(own), max(other)


def _loss(probabilities: Sequence[NDArray[np.floating]], sets: Sequence[Played]) -> float:
    true = [each[np.arange(len(each)), one.truth] for each, one in zip(probabilities, sets, strict=True)]
    return float(-np.log(np.concatenate(true).clip(LEAST)).mean())


def _best(loss: Callable[[Weights], float], start: Weights, names: Sequence[str]) -> Weights:
    """Change the named weights so that the loss is least: Nelder & Mead 1965, on their logarithms, for all are positive.

    The floors `unlike` and `unlike_in_print`, and `trust`, are left as they stand: they matter to faces without an example,
    and to sets that the reader knows, of which too few tiles are in doubt to fit them to.
    """

    def with_values(values: NDArray[np.float64]) -> Weights:
        return replace(start, **dict(zip(names, np.exp(values).tolist(), strict=True)))

    first = np.log([getattr(start, name) for name in names])
    found = minimize(lambda values: loss(with_values(values)), first, method="Nelder-Mead", options={"maxfev": 120, "xatol": 0.02})
    return with_values(found.x)


def main() -> None:
    """Render, fit and print."""
    parser = argparse.ArgumentParser(description="Fit the weights of reading with a learnt set.")
    parser.add_argument("--symbols", type=int, default=10, help="sets of held-out symbols")
    parser.add_argument("--usual", type=int, default=8, help="sets of held-out usual artwork")
    given = parser.parse_args()
    models = Models.shipped()
    kinds = [True] * given.symbols + [False] * given.usual
    sets = []
    for number, symbols in enumerate(kinds):
        sets.append(played(number, models, symbols=symbols))
        print(f"set {number + 1} of {len(kinds)}: {len(sets[-1].truth)} tiles", flush=True)
    fit = Fit(sets, models)
    weights = fit.fitted(FITTED)
    for title, each in (("as they stand", FITTED), ("fitted", weights)):
        values = zip(fields(each), astuple(each), strict=True)
        print(f"{title}: {', '.join(f'{field.name} = {value:.3g}' for field, value in values)}\n  {fit.report(each)}")
    own, other = fit.alike()
    print(f"likeness in print, half of the tiles: own set {own:.2f} and more, another set {other:.2f} and less; OWN = {OWN}")


if __name__ == "__main__":
    main()
