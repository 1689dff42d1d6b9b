"""Read with a set that was learnt: what the reader knows in general, weighed against the set's own pictures."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.vision.reader import NO_FACE, Answers
from tilewitness.vision.sets import TileSet, looks_of

TRUST: Final = 0.4  # power to which general probabilities are raised,
WEIGHT: Final = 25.0  # weight of likeness to the set's own pictures as the reader sees it,
UNLIKE: Final = 0.6  # and the likeness below which it says nothing;
WEIGHT_OF_PRINT: Final = 10.0  # the same for likeness in print. All five: chosen on rendered sets
UNLIKE_IN_PRINT: Final = 0.3
LITTLE: Final = 0.02  # so much the reader knows of any set, and so much it does not know of any
OWN: Final = 0.63  # likeness in print below which most tiles are another set's,
FEWEST: Final = 5  # and so many tiles it takes to tell


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


def is_another_set(prints: NDArray[np.float32]) -> bool:
    """Say whether tiles, by their likeness in print to the pictures of a set, belong to another one.

    On rendered sets half of the tiles are alike by 0.73 and more to their own set's pictures, whatever the artwork,
    and by 0.53 and less to another's.

    Args:
        prints: (N, 37) from `prints.print_likeness`.
    """
    return len(prints) >= FEWEST and float(np.median(prints.max(1))) < OWN
