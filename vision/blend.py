"""Read with a set that was learnt: what the reader knows in general, weighed against the set's own pictures."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray
from threadpoolctl import ThreadpoolController

from tilewitness.models import ReaderNet
from tilewitness.vision.differences import preferences, prepared
from tilewitness.vision.learning import as_read, seen_by
from tilewitness.vision.prints import Prints, compare
from tilewitness.vision.reader import CLEAR, NO_FACE, SURE_OF_WAY_UP, Answers, Cut, doubtful, name_faces
from tilewitness.vision.sets import TileSet, looks_of


@dataclass(frozen=True, slots=True)
class Weights:
    """How much each expert counts; `training/fit_blend.py` fits them to rendered sets kept out of training.

    Attributes:
        trust: power to which general probabilities are raised.
        likeness: weight of the cosine to the set's own pictures as the reader sees them,
        unlike: and the cosine below which it says nothing.
        in_print, unlike_in_print: the same for the correlation in print.
        difference: weight of the comparison where likely faces differ.
    """

    trust: float = 0.2
    likeness: float = 53.0
    unlike: float = 0.6
    in_print: float = 24.0
    unlike_in_print: float = 0.35
    difference: float = 4.7


FITTED: Final = Weights()
LITTLE: Final = 0.02  # so much the reader knows of any set, and so much it does not know of any
COMPARED: Final = 5  # so many of the likeliest faces are compared in print,
UNCLEAR: Final = 0.9  # probability below which that leaves a tile open:
RIVALS: Final = 3  # so many are then compared where they differ,
RIVAL: Final = 0.005  # unless less probable than this
ALIKE: Final = 0.95  # cosine from which most tiles are surely the set's own;
OWN: Final = 0.63  # likeness in print below which most are another set's,
SURELY_OWN: Final = 0.85  # cosine from which a tile is surely the set's own, though the finder hardly saw it
FEWEST: Final = 5  # so many tiles it takes to tell,
ASKED: Final = 8  # and so many are enough


@lru_cache(maxsize=4)
def _looks(tile_set: TileSet) -> tuple[NDArray[np.float32], NDArray[np.int_], NDArray[np.int_]]:
    """All looks of a set by face, (M, 128), the faces that have any, and where each one's looks start."""
    looks, labels = looks_of(tile_set)
    order = np.argsort(labels, kind="stable")
    faces, starts = np.unique(labels[order], return_index=True)
    return looks[order], faces, starts


@lru_cache(maxsize=2)
def _pictures(tile_set: TileSet, net: ReaderNet) -> tuple[NDArray[np.float32], ...]:
    """The pictures of a set, prepared for `preferences`."""
    return tuple(prepared(picture) for picture in as_read(tile_set, net))


def likeness(answers: Answers, tile_set: TileSet) -> NDArray[np.float32]:
    """Return the cosine (N, 37) between each face and the nearest look of each class; -1 without an example."""
    looks, faces, starts = _looks(tile_set)
    best = np.full((len(answers.embedding), NO_FACE + 1), -1, np.float32)
    if len(faces):
        best[:, faces] = np.maximum.reduceat(answers.embedding @ looks.T, starts, axis=1)
    return best


def at_first_sight(answers: Answers, tile_set: TileSet, weights: Weights = FITTED) -> Answers:
    """Return the answers with probabilities that take likeness to the set's own pictures into account, as the reader sees it.

    They are p_general^trust * exp(weight * likeness), made to sum to 1: a product of experts (Hinton 2002, "Training
    Products of Experts by Minimizing Contrastive Divergence"). A face without an example, or with one that is unlike,
    is left to general knowledge. What the reader thinks in general, of the face and of the way up, counts as far as it
    knew the names of the set's own pictures, for designers' artwork it misnames with confidence.
    """
    known = min(max(tile_set.known, LITTLE), 1 - LITTLE)
    general = known * answers.probabilities + (1 - known) / answers.probabilities.shape[1]
    logits = weights.trust * np.log(general) + weights.likeness * np.maximum(likeness(answers, tile_set), weights.unlike)
    return replace(answers, probabilities=_shares(logits), upside_down=known * answers.upside_down + (1 - known) / 2)


def in_print(seen: NDArray[np.float32], prints: Prints, weights: Weights = FITTED) -> NDArray[np.float32]:
    """Return probabilities (N, 37) at first sight weighed against likeness in print, one more expert."""
    like = np.maximum(prints.likeness, weights.unlike_in_print)
    return _shares(np.log(seen.clip(1e-30)) + weights.in_print * like)


def prints_of(seen: NDArray[np.float32], faces: NDArray[np.uint8], tile_set: TileSet, net: ReaderNet) -> Prints:
    """Compare each face in print with the likeliest ones by these probabilities (N, 37)."""
    likely = np.zeros_like(seen, np.bool_)
    np.put_along_axis(likely, np.argsort(-seen, axis=1)[:, :COMPARED], True, axis=1)
    return compare(faces, tile_set, net, likely)


def differences(
    read: NDArray[np.float32], prints: Prints, faces: NDArray[np.uint8], tile_set: TileSet, net: ReaderNet
) -> NDArray[np.float32]:
    """Return (N, 37) what speaks for each of the likeliest faces where they differ, from -1 to 1; 0 for the others."""
    found = np.zeros_like(read)
    for number, face in enumerate(faces):
        rivals = [
            one for one in np.argsort(-read[number])[:RIVALS] if read[number, one] > RIVAL and prints.likeness[number, one] > -1
        ]
        if len(rivals) > 1:
            laid = [_pictures(tile_set, net)[prints.example[number, one]] for one in rivals]
            turned = prints.turned[number, rivals]
            found[number, rivals] = preferences(prepared(face), [one[::-1, ::-1] if way else one for one, way in zip(laid, turned, strict=True)])
    return found


def with_set(
    answers: Answers, faces: NDArray[np.uint8], tile_set: TileSet, net: ReaderNet, weights: Weights = FITTED
) -> Answers:
    """Return the answers with calibrated probabilities that take the set's own pictures into account.

    Where the first sight is not clear, the likeliest faces are also compared in print; and where that is not clear
    either, once more where they differ.

    Args:
        faces: uint8 (N, height, width, 3), straightened as the network takes them.
    """
    return _Weighing(faces, tile_set, net, weights).weighed(answers)


class _Weighing:
    """Weighs answers for the same faces, perhaps twice: what was compared in print is kept."""

    def __init__(self, faces: NDArray[np.uint8], tile_set: TileSet, net: ReaderNet, weights: Weights = FITTED) -> None:
        self._faces, self._set, self._net, self._weights = faces, tile_set, net, weights
        self._compared, self._prints = np.zeros(len(faces), np.bool_), Prints.none(len(faces))

    def without_differences(self, answers: Answers) -> Answers:
        """The answers at first sight and, where that is not clear, in print."""
        seen = at_first_sight(answers, self._set, self._weights)
        unclear = seen.probabilities.max(1, initial=0) < CLEAR
        new = unclear & ~self._compared
        if new.any():
            self._prints.put(new, prints_of(seen.probabilities[new], self._faces[new], self._set, self._net))
            self._compared |= new
        probabilities = seen.probabilities.copy()
        probabilities[unclear] = in_print(probabilities[unclear], self._prints.of(unclear), self._weights)
        return replace(seen, probabilities=probabilities)

    def weighed(self, answers: Answers) -> Answers:
        """The answers with everything that the set's pictures tell."""
        read = self.without_differences(answers)
        unclear = read.probabilities.max(1, initial=0) < UNCLEAR
        told = differences(read.probabilities[unclear], self._prints.of(unclear), self._faces[unclear], self._set, self._net)
        probabilities = read.probabilities.copy()
        probabilities[unclear] = _shares(np.log(probabilities[unclear].clip(1e-30)) + self._weights.difference * told)
        return replace(read, probabilities=probabilities)


def is_another_set(answers: Answers, faces: NDArray[np.uint8], tile_set: TileSet, net: ReaderNet) -> bool:
    """Say whether tiles, by their likeness to the pictures of a set, belong to another one.

    Where the reader does not find most of them like the set's, some are compared in print. On rendered sets half of
    the tiles are alike by 0.77 and more to their own set's pictures, whatever the artwork, and by 0.53 and less to another's.

    Args:
        faces: uint8 (N, height, width, 3), straightened as the network takes them.
    """
    count = len(faces)
    if count < FEWEST or float(np.median(likeness(answers, tile_set).max(1))) > ALIKE:
        return False
    some = np.linspace(0, count - 1, min(count, ASKED)).astype(int)
    return float(np.median(prints_of(likeness(answers, tile_set)[some], faces[some], tile_set, net).likeness.max(1))) < OWN


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


@lru_cache(maxsize=1)
def _algebra() -> ThreadpoolController:
    """What multiplies numpy's matrices."""
    return ThreadpoolController()


def named_with(cut: Cut, faces: NDArray[np.uint8], tile_set: TileSet, net: ReaderNet) -> Named:
    """Name faces with a set, unless they are another's.

    Args:
        cut: as for `name_faces`.
        faces: uint8 (N, height, width, 3), straightened as the network takes them.
    """
    with _algebra().limit(limits=1, user_api="blas"):  # many small products: beside the network's, more threads only wait
        return _named_with(cut, faces, tile_set, net)


def _named_with(cut: Cut, faces: NDArray[np.uint8], tile_set: TileSet, net: ReaderNet) -> Named:
    own = seen_by(tile_set, net)
    weighing = _Weighing(faces, own, net)
    tells_way_up = own.known + (1 - own.known) / 2 >= SURE_OF_WAY_UP
    strange = False

    def doubt(once: Answers) -> NDArray[np.bool_]:
        nonlocal strange
        strange = is_another_set(once, faces, own, net)
        if strange:
            return doubtful(once)
        read = weighing.without_differences(once)
        return np.asarray((read.probabilities.max(1, initial=0) < UNCLEAR) | (tells_way_up & (read.upside_down > 0.5)))

    answers = name_faces(cut, len(faces), net, doubt=doubt)
    if strange:
        return Named(answers, np.zeros(len(faces), np.bool_), True)
    return Named(weighing.weighed(answers), likeness(answers, own).max(1, initial=-1) >= SURELY_OWN, False)


def _shares(logits: NDArray[np.floating]) -> NDArray[np.float32]:
    powers = np.exp(logits - logits.max(1, keepdims=True))
    return np.asarray(powers / powers.sum(1, keepdims=True), np.float32)
