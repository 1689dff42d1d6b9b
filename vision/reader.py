"""Name straightened tile faces and tell which way up they stand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES, Face
from tilewitness.models import ReaderNet

CLEAR: Final = 0.97  # a face read with less probability is looked at again, or one whose artwork stands on its head
PERHAPS_ON_HEAD: Final = 0.7  # with this: below, another look told the way up of none of 412 held-out faces on their heads
ASIDE: Final = (-0.034, 0.034)  # with these margins more than the network's own: 6 % closer and farther
LEAST: Final = 1e-6  # probabilities are not taken for smaller than this, so that no look has a veto
BATCH: Final = 64  # faces per run: bounds memory, and more are no faster
NO_FACE: Final = len(FACES)  # index of the class after the 36 faces
POSSIBLE: Final = 0.001  # faces less probable than this are not listed
SHOWN: Final = 0.65  # finder's probability times that of "some face", on the average: from here a photo shows tiles;
SURE_ENOUGH: Final = 0.8  # finder's probability times the reader's: so many sure faces show it as well,
SURE_FACES: Final = 3  # among whatever else was found
UNFAMILIAR: Final = 0.7  # probability of the likeliest face, on the average: below, the artwork is none that was learnt
FEWEST_UNFAMILIAR: Final = 6  # tiles: of fewer, bad luck may be the reason
SURE_OF_WAY_UP: Final = 0.9  # people put one tile in ten or fewer upside down: what says so must outweigh that
FEWEST_VOTES: Final = 3  # tiles of a row that must stand on their heads before a doubtful one follows them


Cut = Callable[[NDArray[np.bool_], float], NDArray[np.uint8]]
"""Straightens the chosen ones (N,) of a photo's faces with a margin."""

Doubt = Callable[["Answers"], NDArray[np.bool_]]
"""Says of each face (N,), by what the network made of it at one look, whether it is to be looked at again."""


@dataclass(frozen=True, slots=True, eq=False)
class Answers:
    """What the reader says of N straightened faces.

    Attributes:
        probabilities: float32 (N, 37), calibrated: the 36 faces in stored order, then "no face".
        upside_down: float32 (N,), probability that the artwork stands on its head.
        embedding: float32 (N, 128), of unit length: alike for like artwork.
    """

    probabilities: NDArray[np.float32]
    upside_down: NDArray[np.float32]
    embedding: NDArray[np.float32]

    def of(self, chosen: NDArray[np.bool_]) -> Answers:
        """Return the answers for the chosen faces (N,) alone."""
        return Answers(self.probabilities[chosen], self.upside_down[chosen], self.embedding[chosen])


def doubtful(answers: Answers) -> NDArray[np.bool_]:
    """Say of each face (N,) whether the network is not sure of it, or whether it may stand on its head."""
    return np.asarray((answers.probabilities.max(1, initial=0) < CLEAR) | (answers.upside_down > PERHAPS_ON_HEAD))


def name_faces(cut: Cut, count: int, net: ReaderNet, *, doubt: Doubt = doubtful) -> Answers:
    """Return what the network says of `count` faces.

    A face in doubt is shown to it twice more, the other way up: a little closer and a little farther. The answer is the geometric mean of all three, which was right more often,
    and as honest about its doubt, on rendered artwork kept out of training; three looks more made it no better.

    Args:
        cut: straightens the chosen faces with a margin, a share of the face: uint8 (n, height, width, 3) BGR.
        doubt: which faces are looked at again.
    Raises:
        ValueError: the faces are not of the size the network was trained on.
    """
    once = ask(cut(np.ones(count, np.bool_), net.margin), net)
    doubts = doubt(once)
    if not doubts.any():
        return once
    turned = [cut(doubts, net.margin + more)[:, ::-1, ::-1] for more in ASIDE]
    again = ask(np.concatenate(turned), net)
    looks = np.concatenate([once.probabilities[doubts], again.probabilities]).reshape(-1, doubts.sum(), NO_FACE + 1)
    own, other = once.upside_down[doubts], 1 - again.upside_down.reshape(len(turned), -1)
    heads = np.stack([*[own] * len(turned), *other])  # both ways up count the same
    probabilities, upside_down = once.probabilities.copy(), once.upside_down.copy()
    probabilities[doubts] = _geometric_mean(looks)
    upside_down[doubts] = _geometric_mean(np.stack([heads, 1 - heads], 2))[:, 0]
    embedding = once.embedding.copy()
    total = once.embedding[doubts] + again.embedding.reshape(len(turned), *once.embedding[doubts].shape).sum(0)
    embedding[doubts] = total / np.linalg.norm(total, axis=1, keepdims=True).clip(LEAST)
    return Answers(probabilities, upside_down, embedding)


def ask(faces: NDArray[np.uint8], net: ReaderNet) -> Answers:
    """Return what the network says of faces, uint8 (N, height, width, 3) BGR, at one look.

    Raises:
        ValueError: the faces are not of the size the network was trained on.
    """
    if faces.dtype != np.uint8 or faces.shape[1:] != (*net.size, 3):
        raise ValueError(f"faces are {faces.dtype} {faces.shape}; the reader takes uint8 (N, {net.size[0]}, {net.size[1]}, 3).")
    names = ["probabilities", "upside_down", "embedding"]
    parts = [net.session.run(names, {"faces": faces[i : i + BATCH]}) for i in range(0, len(faces), BATCH)]
    if not parts:
        return Answers(*(np.empty(shape, np.float32) for shape in ((0, NO_FACE + 1), (0,), (0, 128))))
    return Answers(*(np.concatenate(output) for output in zip(*parts, strict=True)))


def _geometric_mean(looks: NDArray[np.float32]) -> NDArray[np.float32]:
    """The geometric mean (N, classes) of several looks' probabilities (looks, N, classes), summing to 1."""
    mean = np.exp(np.log(np.maximum(looks, LEAST)).mean(0))
    return np.asarray(mean / mean.sum(1, keepdims=True), np.float32)


def are_faces(answers: Answers, scores: NDArray[np.float32]) -> NDArray[np.bool_]:
    """Say of each (N,) whether it is to be kept as a tile.

    Where "no face" (a tile's back, a blank, some other pattern) is more probable than any one face, there is
    no tile. And the photo shows no tiles at all (but keys, bricks, cards) where what was found does not look like
    faces on the whole and hardly one is sure. Whether they can be named does not count: a tile with artwork that
    was never learnt is one. Both bounds are chosen on rendered scenes of held-out artwork: `models/README.md`.
    Anything else stays, and shows its doubt as a low confidence.

    Args:
        scores: float32 (N,), the finder's probability that a face is there.
    """
    likeliest, no_face = answers.probabilities[:, :NO_FACE].max(1, initial=0), answers.probabilities[:, NO_FACE]
    faces = no_face <= likeliest
    if not faces.any():
        return np.asarray(faces)
    shown = (scores * (1 - no_face)).mean() >= SHOWN
    sure = (scores * likeliest)[faces] >= SURE_ENOUGH
    return np.asarray(faces & (shown | (sure.sum() >= SURE_FACES)))


def are_unfamiliar(answers: Answers) -> bool:
    """Whether a photo's tiles look like none that the network has learnt: hardly one can be named with any certainty."""
    likeliest = answers.probabilities[:, :NO_FACE].max(1, initial=0)
    return len(likeliest) >= FEWEST_UNFAMILIAR and float(likeliest.mean()) < UNFAMILIAR


def possible_faces(probabilities: NDArray[np.float32]) -> tuple[tuple[Face, float], ...]:
    """Return the faces worth naming for one tile (37,), likeliest first: at least two."""
    order = np.argsort(-probabilities[:NO_FACE], kind="stable")
    count = max(2, int((probabilities[:NO_FACE] >= POSSIBLE).sum()))
    return tuple((FACES[i], float(probabilities[i])) for i in order[:count])


def on_their_heads(upside_down: NDArray[np.float32], rows: tuple[tuple[int, ...], ...]) -> NDArray[np.bool_]:
    """Decide for each tile (N,) whether it stands on its head.

    Where its artwork says so clearly, it decides. Where the artwork looks the same both ways up, or is
    hard to make out, the tile stands as the photo shows it, upright; unless at least three tiles of its row,
    and most of those that can be told, clearly stand on their heads.

    Args:
        upside_down: float32 (N,), probability that the artwork stands on its head.
        rows: indices of the tiles of each row.
    """
    on_head = upside_down >= SURE_OF_WAY_UP
    for row in rows:
        tiles = np.array(row)
        likely = upside_down[tiles]
        heads, feet = int((likely >= SURE_OF_WAY_UP).sum()), int((likely <= 1 - SURE_OF_WAY_UP).sum())
        if heads >= FEWEST_VOTES and heads > 2 * feet:
            on_head[tiles] |= likely > 1 - SURE_OF_WAY_UP
    return np.asarray(on_head)
