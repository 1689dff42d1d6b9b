"""Read with a set that was learnt: what the reader knows in general, weighed against the set's own pictures."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.vision.reader import NO_FACE, Answers
from tilewitness.vision.reading import SURE
from tilewitness.vision.sets import LOOK_BYTES, TileSet, looks_of

TRUST: Final = 0.4  # power to which general probabilities are raised,
WEIGHT: Final = 25.0  # weight of likeness to the set's own pictures as the reader sees it,
UNLIKE: Final = 0.6  # and the likeness below which it says nothing;
WEIGHT_OF_PRINT: Final = 10.0  # the same for likeness in print. All five: chosen on rendered sets
UNLIKE_IN_PRINT: Final = 0.3
LITTLE: Final = 0.02  # so much the reader knows of any set, and so much it does not know of any
FAMILIAR: Final = 0.7  # how well the reader must know a set for its names to tell whether a photo shows that one
OWN: Final = 0.85  # of 1: how alike a photo's tiles and the set's pictures are at least, if they are one set
FEWEST: Final = 5  # tiles by which that can be told


def likeness(answers: Answers, tile_set: TileSet) -> NDArray[np.float32]:
    """Return the cosine (N, 37) between each face and the nearest look of each class; -1 without an example."""
    looks, labels = looks_of(tile_set)
    best = np.full((len(answers.embedding), NO_FACE + 1), -1, np.float32)
    cosines = answers.embedding @ looks.T
    for face in np.unique(labels):
        best[:, face] = cosines[:, labels == face].max(1)
    return best


def with_set(answers: Answers, tile_set: TileSet, prints: NDArray[np.float32]) -> Answers:
    """Return the answers with calibrated probabilities that take the set's own pictures into account.

    They are p_general^TRUST * exp(WEIGHT * likeness + the same for prints), made to sum to 1: a product of experts (Hinton 2002,
    "Training Products of Experts by Minimizing Contrastive Divergence"). A face without an example, or with
    one that is unlike, is left to general knowledge. What the reader thinks in general counts as far as it knew
    the names of the set's own pictures, for designers' artwork it misnames with confidence.

    Args:
        prints: (N, 37) from `prints.print_likeness`.
    """
    like = WEIGHT * np.maximum(likeness(answers, tile_set), UNLIKE)
    like += WEIGHT_OF_PRINT * np.maximum(prints, UNLIKE_IN_PRINT)
    known = min(max(tile_set.known, LITTLE), 1 - LITTLE)
    general = known * answers.probabilities + (1 - known) / answers.probabilities.shape[1]
    logits = TRUST * np.log(general) + like
    powers = np.exp(logits - logits.max(1, keepdims=True))
    return replace(answers, probabilities=np.asarray(powers / powers.sum(1, keepdims=True), np.float32))


def is_another_set(answers: Answers, tile_set: TileSet) -> bool:
    """Say whether these tiles, as they were read in general, belong to another set than this one.

    Tiles of the set are nearly as like its pictures as looks of one picture are among themselves; those of
    another one hardly more than two faces of this set are. Surely read tiles are held against examples of the
    same name; or, where few are sure or the reader does not know this artwork, all against the nearest example.
    """
    _, labels = looks_of(tile_set)
    like = likeness(answers, tile_set)
    named = answers.probabilities[:, :NO_FACE].argmax(1)
    own = like[np.arange(len(named)), named]
    sure = (answers.probabilities[:, :NO_FACE].max(1, initial=0) >= SURE) & np.isin(named, labels)
    by_name = sure.sum() >= FEWEST and tile_set.known >= FAMILIAR
    alike = own[sure] if by_name else like.max(1, initial=-1)
    if len(alike) < FEWEST:
        return False
    same, other = _usual(tile_set)
    return float(alike.mean()) - other < OWN * (same - other)


@lru_cache(maxsize=4)
def _usual(tile_set: TileSet) -> tuple[float, float]:
    """How alike a look and the nearest other one of the same example usually are, and of another face."""
    looks, labels = looks_of(tile_set)
    counts = [len(example.looks) // LOOK_BYTES for example in tile_set.examples]
    example, cosines = np.repeat(np.arange(len(counts)), counts), looks @ looks.T
    pairs = (example[:, None] == example) & ~np.eye(len(looks), dtype=np.bool_)
    return _nearest(cosines, pairs, 1.0), _nearest(cosines, labels[:, None] != labels, 0.0)


def _nearest(cosines: NDArray[np.float32], among: NDArray[np.bool_], otherwise: float) -> float:
    """The mean over looks of the largest cosine among some others; `otherwise` where there are none."""
    some = among.any(1)
    return float(np.where(among, cosines, -1).max(1, initial=-1)[some].mean()) if some.any() else otherwise
