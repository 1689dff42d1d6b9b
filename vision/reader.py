"""Name straightened tile faces and tell which way up they stand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES, Face
from tilewitness.models import ReaderNet
from tilewitness.vision.reading import SURE

BATCH: Final = 64  # faces per run: bounds memory, and more are no faster
NO_FACE: Final = len(FACES)  # index of the class after the 36 faces
POSSIBLE: Final = 0.001  # faces less probable than this are not listed
SOME_CERTAINTY: Final = (
    0.55  # finder's probability times the root of the reader's: of one tile at least in a photo
)
SURE_OF_WAY_UP: Final = (
    0.9  # people put one tile in ten or fewer upside down: what says so must outweigh that
)
FEWEST_VOTES: Final = 3  # tiles of a row that must stand on their heads before a doubtful one follows them


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


def name_faces(faces: NDArray[np.uint8], net: ReaderNet) -> Answers:
    """Return what the network says of straightened faces, uint8 (N, height, width, 3) BGR.

    A face that it is not sure of, or that may stand on its head, is shown to it once more the other way up,
    and the two answers are averaged: probabilities as they are, the way up in log odds.

    Raises:
        ValueError: the faces are not of the size the network was trained on.
    """
    if faces.dtype != np.uint8 or faces.shape[1:] != (*net.size, 3):
        raise ValueError(
            f"faces are {faces.dtype} {faces.shape}; "
            f"the reader takes uint8 (N, {net.size[0]}, {net.size[1]}, 3)."
        )
    once = _answers(faces, net)
    doubtful = (once.probabilities.max(1, initial=0) < SURE) | (once.upside_down > 0.5)
    turned = _answers(np.ascontiguousarray(faces[doubtful, ::-1, ::-1]), net)
    probabilities, upside_down = once.probabilities.copy(), once.upside_down.copy()
    probabilities[doubtful] = (probabilities[doubtful] + turned.probabilities) / 2
    upside_down[doubtful] = _mean_odds(upside_down[doubtful], 1 - turned.upside_down)
    return Answers(probabilities, upside_down, once.embedding)


def _answers(faces: NDArray[np.uint8], net: ReaderNet) -> Answers:
    names = ["probabilities", "upside_down", "embedding"]
    parts = [net.session.run(names, {"faces": faces[i : i + BATCH]}) for i in range(0, len(faces), BATCH)]
    if not parts:
        return Answers(*(np.empty(shape, np.float32) for shape in ((0, NO_FACE + 1), (0,), (0, 128))))
    return Answers(*(np.concatenate(output) for output in zip(*parts, strict=True)))


def _mean_odds(one: NDArray[np.float32], other: NDArray[np.float32]) -> NDArray[np.float32]:
    """The probability whose log odds are the mean of two others'."""
    yes, no = np.sqrt(one * other), np.sqrt((1 - one) * (1 - other))
    return np.asarray(yes / np.maximum(yes + no, 1e-9), np.float32)


def are_faces(answers: Answers, scores: NDArray[np.float32]) -> NDArray[np.bool_]:
    """Say of each (N,) whether it is to be kept as a tile.

    Two rules. Where "no face" (a tile's back, a blank, some other pattern) is more probable than any one
    face, there is no tile. And where not one face of the photo is both found and read with some certainty,
    the photo shows no tiles: these are playing cards, coins, windows. Anything else stays, and shows its
    doubt as a low confidence.

    Args:
        scores: float32 (N,), the finder's probability that a face is there.
    """
    likeliest = answers.probabilities[:, :NO_FACE].max(1, initial=0)
    faces = answers.probabilities[:, NO_FACE] <= likeliest
    certainty = scores * np.sqrt(likeliest)
    return np.asarray(faces & (certainty[faces].max(initial=0) >= SOME_CERTAINTY))


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
