"""Check a rack against one given hand: right, or each fault by place with what would put it right.

A second opinion for a person who practises a card: the card itself and the table's rules decide.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from tilewitness.engine.card import Card
from tilewitness.engine.corrections import Correction, corrections
from tilewitness.engine.faces import Face
from tilewitness.engine.hands import Hand
from tilewitness.engine.judge import judge
from tilewitness.engine.measure import held
from tilewitness.engine.opinion import Fault, LaidGroup
from tilewitness.engine.plans import HAND_SIZE
from tilewitness.engine.rack import Rack
from tilewitness.engine.ways import Way, other_ways, way_of

END: Final = 4
"""Tiles that the quick count takes from each end of a rack; six must lie between. Common practice, no source."""


class ExerciseError(ValueError):
    """A hand that cannot be practised; the message says why."""


@dataclass(frozen=True, slots=True)
class Exercise:
    """A rack checked against one hand.

    Attributes:
        groups: the form that the rack is or comes nearest to, in card order; missing tiles have no place.
        corrections: what is wrong, from left to right, missing tiles last; empty when the rack is right.
        other_ways: the same hand built otherwise, one thing changed at a time.
        instead: other hands of the card that a rack that is wrong here completes.
    """

    hand: Hand
    rack: Rack
    groups: tuple[LaidGroup, ...]
    corrections: tuple[Correction, ...]
    other_ways: tuple[Way, ...]
    instead: tuple[Hand, ...] = ()

    @property
    def right(self) -> bool:
        """The rack is the hand."""
        return not self.corrections

    @property
    def way(self) -> str:
        """The form as a key: its groups whatever their order, as a rack is typed."""
        return way_of((group.size, group.face) for group in self.groups)

    @property
    def count_is_off(self) -> bool:
        """The rack does not have fourteen tiles."""
        return len(self.rack.faces) != HAND_SIZE

    @property
    def between(self) -> int:
        """Tiles left between four from each end: six when the count is right."""
        return max(0, len(self.rack.faces) - 2 * END)

    @property
    def joker_groups(self) -> tuple[LaidGroup, ...]:
        """The groups in which jokers may stand."""
        return tuple(group for group in self.groups if group.size >= 3 and not self.hand.no_jokers)


def only(card: Card, hand: Hand) -> Card:
    """Return the card with this hand alone on it.

    Raises:
        ExerciseError: the hand is not on the card, or no form of it can be built.
    """
    if hand not in card.hands:
        raise ExerciseError(f'there is no hand "{hand.name}" on {card.name}.')
    columns = np.flatnonzero(card.forms.hand == card.hands.index(hand))
    if not len(columns):
        raise ExerciseError(f'"{hand.name}" cannot be built from a set of tiles. Check its wording.')
    forms = card.forms.chosen(columns)
    return Card(card.name, (hand,), replace(forms, hand=np.zeros_like(forms.hand)))


def check(tiles: Rack | Sequence[Face], hand: Hand, card: Card) -> Exercise:
    """Check a rack against one hand of a card.

    Raises:
        ExerciseError: the hand is not on the card, or no form of it can be built.

    >>> from tilewitness.engine.card import parse_card
    >>> card = parse_card('name = "T"\\n["One"]\\n"Own" = "sextet of flowers, kong of 1, kong of the matching dragon in one suit; worth 25"')
    >>> rack = Rack.parse("sextet of flowers, kong of 1 crak, kong of green dragon")
    >>> [(one.fault.value, one.places, one.wanted) for one in check(rack, card.hands[0], card).corrections]
    [('dragon of the wrong suit', (10, 11, 12, 13), (Face.named('red dragon'),))]
    """
    rack = Rack.of(tiles)
    alone = only(card, hand)
    forms = alone.forms.for_rack(held(rack))
    opinion = judge(rack, alone, limit=1)
    if opinion.wins:
        groups = opinion.wins[0].groups
        return Exercise(hand, rack, groups, (), other_ways(hand, groups, forms))
    claims: tuple[Correction, ...] = ()
    near = next(iter([*opinion.near_misses, *opinion.nearest]), None)
    if near is None:  # claimed groups rule every form out: say so, and go on as if nothing were claimed
        opinion = judge(Rack(rack.faces), alone, limit=1)
        claims = (_claims(hand, rack),)
        if opinion.wins:
            groups = opinion.wins[0].groups
            return Exercise(hand, rack, groups, claims, other_ways(hand, groups, forms))
        near = opinion.nearest[0]
    elif (told := near.reasons[0]).fault in (Fault.CONCEALED_HAND_SHOWN, Fault.CLAIM_NOT_IN_HAND):
        claims = (Correction(told.fault, told.places, count=len(told.places)),)
    groups, found = corrections(hand, rack, near, forms)
    instead = tuple(win.hand for win in judge(rack, card, limit=1).wins)
    return Exercise(hand, rack, groups, (*claims, *found), other_ways(hand, groups, forms), instead)


def _claims(hand: Hand, rack: Rack) -> Correction:
    fault = Fault.CONCEALED_HAND_SHOWN if hand.concealed else Fault.CLAIM_NOT_IN_HAND
    places = tuple(place for group in rack.exposed for place in group)
    return Correction(fault, places, count=len(places))
