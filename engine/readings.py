"""Joint readings of a rack: what its tiles may be together, and how probably.

The prior over tiles is flat: that a reading would make a hand complete is no evidence for it. Tiles may be misread each
for itself, by glare or a scratch; or equal ones alike, since they show the same artwork. Which of the two it is nobody
can know from one rack, so each is believed by half. Either way a single tile is as probably this or that as it was read.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES, Face
from tilewitness.engine.forms import Counts

COVER: Final = 0.9999
"""Readings are listed, likeliest first, until they hold this much of the probability…"""
MOST_READINGS: Final = 4096
"""…or there are this many."""
_MOST_OPTIONS: Final = 256
"""Likewise for the ways to misread some equal tiles each for itself: four tiles alone may be 36 to the fourth."""
_FACES_IN_A_NUMBER: Final = 12
"""36 to the twelfth is below 2 to the 63rd."""
_COPIES: Final = np.array([face.copies for face in FACES], np.uint8)

Likely = Sequence[tuple[Face, float]]
"""What one tile may be: faces with probabilities; what is missing from 1 is spread over the faces not listed."""
Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """Tiles that are read together.

    Attributes:
        places: where they stand on the rack.
        options: uint8 (K, places), the faces that they may be.
        probabilities: float64 (K,), of each option.
    """

    places: tuple[int, ...]
    options: Counts
    probabilities: Floats

    @property
    def as_read(self) -> Counts:
        """The most probable option: uint8 (places,)."""
        return np.asarray(self.options[self.probabilities.argmax()])


@dataclass(frozen=True, slots=True, eq=False)
class Readings:
    """N joint readings, the likeliest first.

    Attributes:
        faces: uint8 (N, places).
        weights: float64 (N,), their probabilities.
        rest: probability of all readings that are not listed.
    """

    faces: Counts
    weights: Floats
    rest: float

    @property
    def mass(self) -> float:
        """Probability of those that are listed."""
        return float(self.weights.sum())

    def that_can_be(self) -> Readings:
        """Leave out what a set of 152 tiles cannot produce; if that is all, the likeliest stays."""
        possible = (counts(self.faces) <= _COPIES).all(axis=1)
        kept = np.flatnonzero(possible) if possible.any() else np.zeros(1, np.intp)
        return Readings(self.faces[kept], self.weights[kept], self.rest)

    def shares(self, reading: Counts) -> Floats:
        """How probable each face of one reading (places,) is at its place, among the listed: float64 (places,)."""
        return np.asarray((self.faces == reading).T @ self.weights / self.mass)


def counts(faces: Counts) -> Counts:
    """Return the tiles of each of the 36 faces in each reading (N, places): uint8 (N, 36)."""
    rows = np.arange(len(faces))[:, None] * len(FACES)
    found = np.bincount((rows + faces).ravel(), minlength=len(faces) * len(FACES))
    return found.reshape(-1, len(FACES)).astype(np.uint8)


def each_for_itself(tiles: Sequence[Likely]) -> tuple[Part, ...]:
    """Return every tile as a part of its own."""
    return tuple(_single(place, _probabilities(likely)) for place, likely in enumerate(tiles))


def _single(place: int, probabilities: Floats) -> Part:
    options = np.flatnonzero(probabilities)
    return Part((place,), options[:, None].astype(np.uint8), probabilities[options])


def _probabilities(likely: Likely) -> Floats:
    """Return the probability of every face, those not listed sharing what is left: float64 (36,), summing to 1."""
    found = np.full(len(FACES), -1.0)
    for face, probability in likely:
        found[face.index] = probability
    others = found < 0
    found[others] = max(0.0, 1 - found[~others].sum()) / max(1, others.sum())
    return np.asarray(found / found.sum())


def equals_together(singles: Iterable[Part]) -> tuple[Part, ...]:
    """Return the tiles that most likely are the same face as one part, misread alike as far as their readings allow.

    Source: the maximal coupling, Lindvall 1992, "Lectures on the Coupling Method", section I.5; what each tile may be
    remains as it is.
    """
    groups: dict[int, list[Part]] = {}
    for part in singles:
        groups.setdefault(int(part.as_read[0]), []).append(part)
    return tuple(_coupled(parts) if len(parts) > 1 else parts[0] for parts in groups.values())


def _coupled(singles: Sequence[Part]) -> Part:
    odds = np.zeros((len(singles), len(FACES)))
    for row, part in zip(odds, singles, strict=True):
        row[part.options[:, 0]] = part.probabilities
    alike = odds.min(axis=0)
    common = np.flatnonzero(alike)
    options, probabilities = np.repeat(common[:, None], len(singles), axis=1).astype(np.uint8), alike[common]
    unlike = 1 - float(alike.sum())
    if unlike > 1 - COVER:
        apart = likeliest([_single(place, row / unlike) for place, row in enumerate(odds - alike)], _MOST_OPTIONS)
        options, probabilities = np.concatenate([options, apart.faces]), np.append(probabilities, unlike * apart.weights)
    return Part(tuple(part.places[0] for part in singles), options, probabilities)


def likeliest(parts: Sequence[Part], most: int = MOST_READINGS) -> Readings:
    """Return joint readings from the likeliest on, until they hold `COVER` or are `most`.

    Part by part the most probable ways so far are kept: whatever is among the most probable in the end was so all along.
    """
    faces, weights = np.zeros((1, sum(len(part.places) for part in parts)), np.uint8), np.ones(1)
    for part in parts:
        joint = np.outer(weights, part.probabilities).ravel()
        kept = np.argpartition(-joint, min(most, len(joint)) - 1)[:most]
        before, last = np.divmod(kept, len(part.options))
        faces, weights = faces[before], joint[kept]
        faces[:, part.places] = part.options[last]
    order = np.argsort(-weights, kind="stable")
    held = np.cumsum(weights[order])
    order = order[: int(np.searchsorted(held, COVER)) + 1]
    return Readings(faces[order], weights[order], max(0.0, 1 - float(held[len(order) - 1])))


def half_and_half(one: Readings, other: Readings) -> Readings:
    """Return the readings of both, each believed by half."""
    both = np.concatenate([one.faces, other.faces])
    _, first, which = np.unique(_ranks(both), return_index=True, return_inverse=True)
    weights = np.asarray(np.bincount(which, np.concatenate([one.weights, other.weights]) / 2), np.float64)
    order = np.argsort(-weights, kind="stable")
    return Readings(both[first[order]], weights[order], (one.rest + other.rest) / 2)


def _ranks(faces: Counts) -> NDArray[np.intp]:
    """Return a number for each reading (N, places), in their order: numbers are sorted five times as fast as rows."""
    ranks = np.zeros(len(faces), np.intp)
    for start in range(0, faces.shape[1], _FACES_IN_A_NUMBER):
        part = faces[:, start : start + _FACES_IN_A_NUMBER]
        numbers, which = np.unique(part @ len(FACES) ** np.arange(part.shape[1])[::-1], return_inverse=True)
        ranks = ranks * len(numbers) + which
    return ranks


def chance_of_others(parts: Iterable[Part], least: int) -> float:
    """Return the probability that at least so many tiles are not the face they are most likely."""
    number = np.ones(1)  # probability of each number of such tiles
    for part in parts:
        others = (part.options != part.as_read).sum(axis=1)
        here = np.bincount(others, part.probabilities, minlength=len(part.places) + 1)
        here[-1] += max(0.0, 1 - here.sum())  # options that are not listed
        number = np.convolve(number, here)
    return float(number[least:].sum())
