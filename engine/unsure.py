"""A second opinion when the reading is unsure: judged over the likely readings, not over the likeliest alone.

The prior over tiles is flat: that a reading would make a hand complete is no evidence for it.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.batch import Patterns, distances
from tilewitness.engine.card import Card
from tilewitness.engine.faces import FACES, Face
from tilewitness.engine.forms import Counts
from tilewitness.engine.hands import Hand
from tilewitness.engine.judge import judge
from tilewitness.engine.measure import NEVER, missing_tiles
from tilewitness.engine.opinion import Opinion
from tilewitness.engine.plans import HAND_SIZE
from tilewitness.engine.rack import Rack

COVER: Final = 0.9999
"""Readings are judged, likeliest first, until they hold this much of the probability…"""
MOST_READINGS: Final = 4096
"""…or there are this many."""
SURE: Final = 0.999
"""An answer this probable, whatever the readings not judged would say, is called sure."""
_WORTH_SAYING: Final = 0.0005
"""A face less probable than this is told only if it is one of the two likeliest."""
_ALL_COPIES: Final = np.array([face.copies for face in FACES], np.uint8)

Likely = Sequence[tuple[Face, float]]
"""What one tile may be: faces with probabilities; what is missing from 1 is spread over the faces not listed."""


class Certainty(Enum):
    """How sure an answer is."""

    SURE_YES = "sure yes"
    """A win, with at least `SURE` probability."""
    SURE_NO = "sure no"
    """No win, with at least `SURE` probability."""
    LOOK = "look"
    """It hangs on a tile that the reader is not sure of: look at it."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What it comes to if a tile is this face and the others are what they most likely are beside it.

    Attributes:
        probability: of the tile being this face, among the readings judged.
        hand: the hand it wins with, or the nearest one; None when the card has no hand within reach.
        missing: tiles missing to that hand.
    """

    face: Face
    probability: float
    win: bool
    hand: Hand | None
    missing: int


@dataclass(frozen=True, slots=True)
class Look:
    """A tile to look at.

    Attributes:
        place: its place on the rack, counted from 0.
        outcomes: what it may be, likeliest first.
        gain: how much of the doubt (variance of win or no win) knowing this tile removes, 0 to 1.
    """

    place: int
    outcomes: tuple[Outcome, ...]
    gain: float


@dataclass(frozen=True, slots=True)
class UnsureOpinion:
    """A second opinion on a rack that was not read for certain.

    Attributes:
        opinion: on the likeliest reading that a set of 152 tiles can produce.
        win_probability: share of the readings judged that are wins.
        covered: probability of the readings judged or ruled out, of all readings.
        readings: how many were judged.
        looks: tiles to look at, the most telling first; empty when the answer is sure.
    """

    certainty: Certainty
    opinion: Opinion
    win_probability: float
    covered: float
    readings: int
    looks: tuple[Look, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Readings:
    """N joint readings: uint8 (N, places), the faces; float64 (N,), their probabilities."""

    faces: Counts
    weights: NDArray[np.float64]


def judge_unsure(
    tiles: Sequence[Likely],
    card: Card,
    *,
    exposed: tuple[tuple[int, ...], ...] = (),
    seen: Sequence[Face] = (),
    limit: int = 5,
    patterns: Patterns | None = None,
) -> UnsureOpinion:
    """Return a second opinion over the likely readings of a rack.

    Args:
        tiles: for each place, the faces it may show with their probabilities.
        exposed: claimed groups, as in `Rack`.
        seen: other tiles in sight, as for `judge`.
        limit: as for `judge`; also the most tiles to look at.
        patterns: `Patterns.of(card)`, to save compiling it again.
    """
    everything, covered = _likeliest(tiles)
    possible = _possible(everything.faces)
    readings = _Readings(everything.faces[possible], everything.weights[possible])
    if not len(readings.weights):
        readings = _Readings(everything.faces[:1], everything.weights[:1])
    missing = _missing(readings, card, exposed, patterns)
    wins = np.asarray((missing == 0).any(axis=1) & (len(tiles) == HAND_SIZE))
    mass = float(readings.weights.sum())
    rest = max(0.0, 1 - covered)
    won = float(readings.weights[wins].sum())
    certainty = _certainty(won, mass, rest)
    rack = Rack(tuple(FACES[index] for index in readings.faces[0]), exposed)
    return UnsureOpinion(
        certainty=certainty,
        opinion=judge(rack, card, seen=seen, limit=limit),
        win_probability=won / mass,
        covered=covered,
        readings=len(readings.weights),
        looks=_looks(readings, wins, missing, card)[:limit] if certainty is Certainty.LOOK else (),
    )


def _certainty(won: float, mass: float, rest: float) -> Certainty:
    """Be sure only if the readings not judged could not change the answer."""
    if won >= SURE * (mass + rest):
        return Certainty.SURE_YES
    return Certainty.SURE_NO if won + rest <= (1 - SURE) * (mass + rest) else Certainty.LOOK


def _likeliest(tiles: Sequence[Likely]) -> tuple[_Readings, float]:
    """Return joint readings from the likeliest on, and how much of the probability they hold."""
    options = [_options(likely) for likely in tiles]
    faces: list[tuple[int, ...]] = []
    weights: list[float] = []
    covered = 0.0
    for reading, weight in _joint(options):
        faces.append(tuple(options[place][at][0] for place, at in enumerate(reading)))
        weights.append(weight)
        covered += weight
        if covered >= COVER or len(weights) == MOST_READINGS:
            break
    array = np.array(faces, np.uint8).reshape(len(weights), len(tiles))
    return _Readings(array, np.array(weights)), min(covered, 1.0)


def _options(likely: Likely) -> list[tuple[int, float]]:
    """Return every face with its probability, likeliest first, those not listed sharing what is left."""
    listed = {face.index: probability for face, probability in likely}
    others = [face.index for face in FACES if face.index not in listed]
    share = max(0.0, 1 - sum(listed.values())) / len(others) if others else 0.0
    pairs = [*listed.items(), *((index, share) for index in others)]
    return sorted(((i, p) for i, p in pairs if p > 0), key=lambda pair: -pair[1])


def _joint(options: Sequence[Sequence[tuple[int, float]]]) -> Iterator[tuple[tuple[int, ...], float]]:
    """Yield joint choices, one option a place, from the likeliest to the least likely.

    Best-first search: every choice is reached once, by moving on the last place it moved or a later one.
    """
    logs = [np.log([p for _, p in option]) for option in options]
    start = tuple(0 for _ in options)
    heap = [(-sum(float(log[0]) for log in logs), start, 0)]
    while heap:
        cost, reading, first = heapq.heappop(heap)
        yield reading, float(np.exp(-cost))
        for place in range(first, len(options)):
            at = reading[place] + 1
            if at < len(logs[place]):
                moved = (*reading[:place], at, *reading[place + 1 :])
                heapq.heappush(heap, (cost + float(logs[place][at - 1] - logs[place][at]), moved, place))


def _counts(faces: Counts) -> Counts:
    """Return the tiles of each of the 36 faces: uint8 (N, 36)."""
    counts = np.zeros((len(faces), len(FACES)), np.uint8)
    np.add.at(counts, (np.arange(len(faces))[:, None], faces), 1)
    return counts


def _possible(faces: Counts) -> NDArray[np.bool_]:
    """Tell which readings a set of 152 tiles can produce."""
    return np.asarray((_counts(faces) <= _ALL_COPIES).all(axis=1))


def _missing(
    readings: _Readings, card: Card, exposed: tuple[tuple[int, ...], ...], patterns: Patterns | None
) -> Counts:
    """Return the tiles missing to each hand under each reading: uint8 (N, hands)."""
    if not exposed:
        return distances(patterns or Patterns.of(card), _counts(readings.faces))
    result = np.full((len(readings.weights), len(card.hands)), NEVER, np.uint8)
    concealed = np.array([hand.concealed for hand in card.hands])
    for row, faces in enumerate(readings.faces):
        rack = Rack(tuple(FACES[index] for index in faces), exposed)
        forms = card.forms.for_rack(rack.counts)
        np.minimum.at(result[row], forms.hand, missing_tiles(forms, rack).astype(np.uint8))
    result[:, concealed] = NEVER
    return result


def _looks(
    readings: _Readings, wins: NDArray[np.bool_], missing: Counts, card: Card
) -> tuple[Look, ...]:
    """Return the tiles whose face would settle the answer, the most telling first."""
    share = readings.weights / readings.weights.sum()
    chance = float(share[wins].sum())
    doubt = chance * (1 - chance)
    looks = []
    for place in range(readings.faces.shape[1]):
        mass = np.bincount(readings.faces[:, place], share, minlength=len(FACES))
        won = np.bincount(readings.faces[:, place], share * wins, minlength=len(FACES))
        known = mass > 0
        left = float((won[known] * (1 - won[known] / mass[known])).sum())
        gain = 1 - left / doubt if doubt else 0.0
        if known.sum() > 1:
            looks.append(Look(place, _outcomes(readings, place, mass.astype(np.float64), wins, missing, card), gain))
    looks.sort(key=lambda look: (-round(look.gain, 9), look.outcomes[0].probability))
    return tuple(look for look in looks if look.gain > 0.01 or look is looks[0])


def _outcomes(
    readings: _Readings,
    place: int,
    mass: NDArray[np.float64],
    wins: NDArray[np.bool_],
    missing: Counts,
    card: Card,
) -> tuple[Outcome, ...]:
    found = []
    order = np.argsort(-mass, kind="stable")
    for index in (*order[:2], *order[2:][mass[order[2:]] >= _WORTH_SAYING]):
        first = int(np.flatnonzero(readings.faces[:, place] == index)[0])
        nearest = missing[first].min(initial=NEVER)
        tied = [card.hands[hand] for hand in np.flatnonzero(missing[first] == nearest)]
        hand = max(tied, key=lambda hand: hand.worth) if nearest < NEVER else None
        found.append(Outcome(FACES[index], float(mass[index]), bool(wins[first]), hand, int(nearest)))
    return tuple(sorted(found, key=lambda outcome: -outcome.probability))
