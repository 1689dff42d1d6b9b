"""Tiles of one photo that show the same picture share one answer: four equal tiles have one name.

Only general knowledge is shared, before a learnt set has its say: what likeness to the set's pictures says of one
tile is evidence of its own, and strong enough that one wrong pair would spread it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.vision.reader import CLEAR, LEAST, Answers

ALIKE: Final = 0.95  # cosine of two embeddings from which two tiles may show the same picture,
ALIKE_IN_PRINT: Final = 0.7  # if they are alike in print by so much. Both: chosen by training/choose_copies.py


def with_copies(
    answers: Answers, faces: NDArray[np.uint8], *, alike: float = ALIKE, in_print: float = ALIKE_IN_PRINT
) -> Answers:
    """Return the answers with the copies of one picture agreed: the geometric mean of what is said of each.

    The mean and not the product: copies are misread for the same reason, so they are not independent. Copies that
    are all read clearly and alike are left as they are.

    Args:
        faces: uint8 (N, height, width, 3), straightened.
    """
    likely = answers.probabilities.max(1, initial=0)
    cosines = answers.embedding @ answers.embedding.T
    np.fill_diagonal(cosines, 0)
    named = answers.probabilities.argmax(1)
    unclear = likely < CLEAR
    questions = (cosines > alike) & (unclear[:, None] | unclear | (named[:, None] != named))
    at = np.flatnonzero(questions.any(1))
    if not len(at):
        return answers
    # Only now: many photos have no such question, and loading takes time.
    from tilewitness.vision.prints import likeness_in_print

    among = cosines[np.ix_(at, at)]
    pairs = np.where((among > alike) & (likeness_in_print(faces[at]) > in_print), among, 0)
    probabilities = answers.probabilities.copy()
    for group in _groups(pairs):
        members = at[group]
        mean = np.exp(np.log(np.maximum(answers.probabilities[members], LEAST)).mean(0))
        probabilities[members] = mean / mean.sum()
    return replace(answers, probabilities=probabilities)


def _groups(likeness: NDArray[np.float32]) -> list[list[int]]:
    """Return groups of two and more in which each is like every other, the likest joined first; 0 is not alike.

    Source: complete linkage, Sørensen 1948, from memory.
    """
    group_of = {i: [i] for i in range(len(likeness))}
    pairs = np.argwhere(np.triu(likeness, 1) > 0)
    for i, j in pairs[np.argsort(-likeness[tuple(pairs.T)], kind="stable")].tolist():
        one, other = group_of[i], group_of[j]
        if one is not other and (likeness[np.ix_(one, other)] > 0).all():
            one += other
            group_of.update(dict.fromkeys(other, one))
    return [group for i, group in group_of.items() if group[0] == i and len(group) > 1]
