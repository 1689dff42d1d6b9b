"""Read with a set that was learnt: what the reader knows in general, weighed against the set's own pictures."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.models import ReaderNet
from tilewitness.vision.learning import seen_by
from tilewitness.vision.prints import print_likeness
from tilewitness.vision.reader import CLEAR, NO_FACE, Answers, Cut, name_faces
from tilewitness.vision.sets import TileSet, looks_of

TRUST: Final = 0.2  # power to which general probabilities are raised,
WEIGHT: Final = 48.0  # weight of likeness to the set's own pictures as the reader sees it,
UNLIKE: Final = 0.6  # and the likeness below which it says nothing;
WEIGHT_OF_PRINT: Final = 32.0  # the same for likeness in print. All five: fitted to rendered sets of symbols and usual
UNLIKE_IN_PRINT: Final = 0.35  # artwork, all kept out of training
LITTLE: Final = 0.02  # so much the reader knows of any set, and so much it does not know of any
COMPARED: Final = 5  # so many of the likeliest faces are compared in print
ALIKE: Final = 0.95  # cosine from which most tiles are surely the set's own;
OWN: Final = 0.63  # likeness in print below which most are another set's,
SURELY_OWN: Final = 0.85  # cosine from which a tile is surely the set's own, though the finder hardly saw it
FEWEST: Final = 5  # so many tiles it takes to tell,
ASKED: Final = 8  # and so many are enough

_looks = lru_cache(maxsize=4)(looks_of)


def likeness(answers: Answers, tile_set: TileSet) -> NDArray[np.float32]:
    """Return the cosine (N, 37) between each face and the nearest look of each class; -1 without an example."""
    looks, labels = _looks(tile_set)
    best = np.full((len(answers.embedding), NO_FACE + 1), -1, np.float32)
    cosines = answers.embedding @ looks.T
    for face in np.unique(labels):
        best[:, face] = cosines[:, labels == face].max(1)
    return best


def at_first_sight(answers: Answers, tile_set: TileSet) -> Answers:
    """Return the answers with probabilities that take likeness to the set's own pictures into account, as the reader sees it.

    They are p_general^TRUST * exp(WEIGHT * likeness), made to sum to 1: a product of experts (Hinton 2002, "Training
    Products of Experts by Minimizing Contrastive Divergence"). A face without an example, or with one that is unlike,
    is left to general knowledge. What the reader thinks in general, of the face and of the way up, counts as far as it
    knew the names of the set's own pictures, for designers' artwork it misnames with confidence.
    """
    known = min(max(tile_set.known, LITTLE), 1 - LITTLE)
    general = known * answers.probabilities + (1 - known) / answers.probabilities.shape[1]
    logits = TRUST * np.log(general) + WEIGHT * np.maximum(likeness(answers, tile_set), UNLIKE)
    return replace(answers, probabilities=_shares(logits), upside_down=known * answers.upside_down + (1 - known) / 2)


def with_set(answers: Answers, faces: NDArray[np.uint8], tile_set: TileSet, net: ReaderNet) -> Answers:
    """Return the answers with calibrated probabilities that take the set's own pictures into account.

    Where the first sight is not clear, the likeliest faces are also compared in print, which takes time: likeness in print
    is one more expert.

    Args:
        faces: uint8 (N, height, width, 3), straightened as the network takes them.
    """
    seen = at_first_sight(answers, tile_set)
    unclear = seen.probabilities.max(1, initial=0) < CLEAR
    if not unclear.any():
        return seen
    doubted = seen.probabilities[unclear]
    likely = np.zeros_like(doubted, np.bool_)
    np.put_along_axis(likely, np.argsort(-doubted, axis=1)[:, :COMPARED], True, axis=1)
    prints = np.maximum(print_likeness(faces[unclear], tile_set, net, likely), UNLIKE_IN_PRINT)
    probabilities = seen.probabilities.copy()
    probabilities[unclear] = _shares(np.log(doubted.clip(1e-30)) + WEIGHT_OF_PRINT * prints)
    return replace(seen, probabilities=probabilities)


def is_another_set(answers: Answers, faces: NDArray[np.uint8], tile_set: TileSet, net: ReaderNet) -> bool:
    """Say whether tiles, by their likeness to the pictures of a set, belong to another one.

    Where the reader does not find most of them like the set's, some are compared in print. On rendered sets half of
    the tiles are alike by 0.75 and more to their own set's pictures, whatever the artwork, and by 0.43 and less to another's.

    Args:
        faces: uint8 (N, height, width, 3), straightened as the network takes them.
    """
    count = len(faces)
    if count < FEWEST or float(np.median(likeness(answers, tile_set).max(1))) > ALIKE:
        return False
    some = np.linspace(0, count - 1, min(count, ASKED)).astype(int)
    return float(np.median(print_likeness(faces[some], tile_set, net).max(1))) < OWN


@dataclass(frozen=True, slots=True, eq=False)
class Named:
    """Faces named with a set.

    Attributes:
        own: bool (N,), which are surely tiles of the set, for they look like its pictures.
        strange: the tiles are another set's, so this one was left aside.
    """

    answers: Answers
    own: NDArray[np.bool_]
    strange: bool


def named_with(cut: Cut, faces: NDArray[np.uint8], tile_set: TileSet, net: ReaderNet) -> Named:
    """Name faces with a set, unless they are another's.

    Args:
        cut: as for `name_faces`.
        faces: uint8 (N, height, width, 3), straightened as the network takes them.
    """
    own = seen_by(tile_set, net)
    strange = False

    def weigh(once: Answers) -> Answers:
        nonlocal strange
        strange = is_another_set(once, faces, own, net)
        return once if strange else at_first_sight(once, own)

    answers = name_faces(cut, len(faces), net, weigh=weigh)
    if strange:
        return Named(answers, np.zeros(len(faces), np.bool_), True)
    return Named(with_set(answers, faces, own, net), likeness(answers, own).max(1, initial=-1) >= SURELY_OWN, False)


def _shares(logits: NDArray[np.floating]) -> NDArray[np.float32]:
    powers = np.exp(logits - logits.max(1, keepdims=True))
    return np.asarray(powers / powers.sum(1, keepdims=True), np.float32)
