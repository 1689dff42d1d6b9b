"""A second opinion when the reading is unsure: judged over the likely readings, not over the likeliest alone.

The prior over tiles is flat: that a reading would make a hand complete is no evidence for it.
"""

from __future__ import annotations

from collections.abc import Sequence
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
from tilewitness.engine.readings import (
    Likely,
    Readings,
    chance_of_others,
    counts,
    each_for_itself,
    equals_together,
    half_and_half,
    likeliest,
)

SURE_TILE: Final = 0.9
"""A win is sure if every one of its tiles is read with this probability at least…"""
SURE_WIN: Final = 0.8
"""…and this much of the probability says that it is one.

That is far less than certainty of every tile, and enough: what is read as a win and is none must differ from one by
just the tile that was misread. How often that happens is measured by `tests/engine/certainty.py`; see `models/README.md`.
"""
SURE_NO: Final = 0.999
"""No win is sure with this probability, whatever the readings not judged would say."""
_WORTH_SAYING: Final = 0.0005
"""A face less probable than this is told only if it is one of the two likeliest."""


class Certainty(Enum):
    """How sure an answer is."""

    SURE_YES = "sure yes"
    """A win, and every tile of it read surely: see `SURE_TILE` and `SURE_WIN`."""
    SURE_NO = "sure no"
    """No win, with at least `SURE_NO` probability."""
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
    singles = each_for_itself(tiles)
    equals = equals_together(singles)
    singly, together = likeliest(singles), likeliest(equals)
    readings = half_and_half(singly, together).that_can_be()
    missing = _missing(readings, card, exposed, patterns)
    wins = np.asarray((missing == 0).any(axis=1) & (len(tiles) == HAND_SIZE))
    won = float(readings.weights[wins].sum())
    if wins[0] and _is_sure(won, readings):
        certainty = Certainty.SURE_YES
    else:
        # A tile that changes brings a rack nearer by one at most; but a claimed group may bar a hand until it does.
        as_read = [int(part.as_read[0]) for part in singles] == readings.faces[0].tolist()
        least = int(missing[0].min(initial=NEVER)) if as_read and not exposed else 0
        unjudged = [min(one.rest, chance_of_others(parts, least)) for one, parts in ((singly, singles), (together, equals))]
        might_win = won + sum(unjudged) / 2 if len(tiles) == HAND_SIZE else 0.0
        certainty = Certainty.SURE_NO if might_win <= (1 - SURE_NO) * readings.mass else Certainty.LOOK
    rack = Rack(tuple(FACES[index] for index in readings.faces[0]), exposed)
    return UnsureOpinion(
        certainty=certainty,
        opinion=judge(rack, card, seen=seen, limit=limit),
        win_probability=won / readings.mass,
        covered=1 - readings.rest,
        readings=len(readings.weights),
        looks=_looks(readings, wins, missing, card)[:limit] if certainty is Certainty.LOOK else (),
    )


def _is_sure(won: float, readings: Readings) -> bool:
    """Whether what the likeliest reading wins is a sure win: see `SURE_TILE` and `SURE_WIN`."""
    likely = won >= SURE_WIN * (readings.mass + readings.rest)
    return likely and bool((readings.shares(readings.faces[0]) >= SURE_TILE).all())


def _missing(
    readings: Readings, card: Card, exposed: tuple[tuple[int, ...], ...], patterns: Patterns | None
) -> Counts:
    """Return the tiles missing to each hand under each reading: uint8 (N, hands)."""
    if not exposed:
        return distances(patterns or Patterns.of(card), counts(readings.faces))
    result = np.full((len(readings.weights), len(card.hands)), NEVER, np.uint8)
    concealed = np.array([hand.concealed for hand in card.hands])
    for row, faces in enumerate(readings.faces):
        rack = Rack(tuple(FACES[index] for index in faces), exposed)
        forms = card.forms.for_rack(rack.counts)
        np.minimum.at(result[row], forms.hand, missing_tiles(forms, rack).astype(np.uint8))
    result[:, concealed] = NEVER
    return result


def _looks(
    readings: Readings, wins: NDArray[np.bool_], missing: Counts, card: Card
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
    readings: Readings,
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
