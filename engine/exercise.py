"""Check a rack against one given hand: right, or each fault by place with what would put it right.

A second opinion for a person who practises a card: the card itself and the table's rules decide.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Final

import numpy as np

from tilewitness.engine.card import Card
from tilewitness.engine.faces import FACES, Face, Kind, Suit
from tilewitness.engine.forms import Forms
from tilewitness.engine.hands import Group, Hand, Honour
from tilewitness.engine.judge import judge
from tilewitness.engine.measure import held
from tilewitness.engine.opinion import Fault, LaidGroup, Slot
from tilewitness.engine.plans import HAND_SIZE, alternatives
from tilewitness.engine.rack import JOKER, Rack
from tilewitness.engine.reasons import FIXED_SUITS
from tilewitness.engine.ways import Way, other_ways, way_of

END: Final = 4
"""Tiles that the quick count takes from each end of a rack; six must lie between. Common practice, no source."""


class ExerciseError(ValueError):
    """A hand that cannot be practised; the message says why."""


@dataclass(frozen=True, slots=True)
class Correction:
    """One fault of the rack and what would put it right.

    Attributes:
        places: places, counted from 0, of the tiles it is about; empty when tiles are missing.
        found: the tile that stands there; None when tiles are missing or when it is not about one tile.
        wanted: tiles of which any would put it right; empty: take away what is there.
        count: how many tiles it is about.
        size: tiles of the group that they belong to; 0 when to none.
        beside: places of the tiles of the same group that are right.
    """

    fault: Fault
    places: tuple[int, ...]
    found: Face | None = None
    wanted: tuple[Face, ...] = ()
    count: int = 1
    size: int = 0
    beside: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Exercise:
    """A rack checked against one hand.

    Attributes:
        groups: the form that the rack is or comes nearest to, in card order; missing tiles have no place.
        corrections: what is wrong, from left to right, missing tiles last; empty when the rack is right.
        other_ways: the same hand built otherwise, one thing changed at a time.
    """

    hand: Hand
    rack: Rack
    groups: tuple[LaidGroup, ...]
    corrections: tuple[Correction, ...]
    other_ways: tuple[Way, ...]

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
    elif near.reasons[0].fault in (Fault.CONCEALED_HAND_SHOWN, Fault.CLAIM_NOT_IN_HAND):
        claims = (_claims(hand, rack),)
    case = _Case(hand, rack, near.groups, near.let_go, forms)
    return Exercise(hand, rack, near.groups, (*claims, *case.corrections()), other_ways(hand, near.groups, forms))


def _claims(hand: Hand, rack: Rack) -> Correction:
    fault = Fault.CONCEALED_HAND_SHOWN if hand.concealed else Fault.CLAIM_NOT_IN_HAND
    places = tuple(place for group in rack.exposed for place in group)
    return Correction(fault, places, count=len(places))


@dataclass(frozen=True, slots=True, eq=False)
class _Case:
    """A rack laid out as a form that it is not: every tile to let go is set against a tile that is missing."""

    hand: Hand
    rack: Rack
    groups: tuple[LaidGroup, ...]
    let_go: tuple[int, ...]
    forms: Forms

    def corrections(self) -> tuple[Correction, ...]:
        """Return what to change, equal changes to one group as one."""
        pairs = self._pairs()
        single = [self._correction(place, group) for place, group in pairs.items()]
        single += [self._extra(place) for place in self.let_go if place not in pairs]
        filled = list(pairs.values())
        for index, group in enumerate(self.groups):
            empty = sum(slot.place is None for slot in group.slots) - filled.count(index)
            if empty:
                single.append(self._missing(index, empty))
        single.sort(key=lambda one: (not one.places, one.places))
        return tuple(self._merged(single))

    def _pairs(self) -> dict[int, int]:
        """Set tiles to let go against groups with empty slots, the most alike first: place to group."""
        empty = [sum(slot.place is None for slot in group.slots) for group in self.groups]
        options = sorted(
            (*self._unlike(place, index), place, index)
            for place in self.let_go
            for index in range(len(self.groups))
            if empty[index]
        )
        pairs: dict[int, int] = {}
        for *_, place, index in options:
            if place not in pairs and empty[index]:
                pairs[place] = index
                empty[index] -= 1
        return dict(sorted(pairs.items()))

    def _unlike(self, place: int, index: int) -> tuple[bool, bool, float]:
        """How badly a tile passes for a tile of a group: another kind, neither number nor suit, far away."""
        found, group = self.rack.faces[place], self.groups[index]
        standing = _standing(group.slots)
        start = sum(before.size for before in self.groups[:index])
        at = standing or list(range(start, start + group.size))
        distance = min(abs(place - other) for other in at)
        suited = found.kind is group.face.kind is Kind.SUITED
        neither = suited and found.number != group.face.number and found.suit != group.face.suit
        return found != JOKER and found.kind is not group.face.kind, neither, distance

    def _correction(self, place: int, index: int) -> Correction:
        group, found = self.groups[index], self.rack.faces[place]
        return Correction(
            fault=self._fault(found, group),
            places=(place,),
            found=found,
            wanted=(JOKER if found == group.face else group.face,),  # more of them than a set holds
            size=group.size,
            beside=tuple(_standing(group.slots)),
        )

    def _extra(self, place: int) -> Correction:
        face = self.rack.faces[place]
        over = self.rack.faces.count(face) > face.copies
        return Correction(Fault.MORE_THAN_A_SET_HOLDS if over else Fault.TILES_TOO_MANY, (place,), face)

    def _missing(self, index: int, count: int) -> Correction:
        group = self.groups[index]
        wanted = (group.face,)
        return Correction(
            Fault.TILES_MISSING, (), None, wanted, count, group.size, tuple(_standing(group.slots))
        )

    def _merged(self, single: Sequence[Correction]) -> Iterator[Correction]:
        for _, run in groupby(single, key=lambda one: replace(one, places=())):
            alike = list(run)
            places = tuple(place for one in alike for place in one.places)
            whole = replace(alike[0], places=places, count=max(len(places), alike[0].count))
            yield replace(whole, wanted=self._any_of(whole)) if whole.wanted else whole

    def _any_of(self, correction: Correction) -> tuple[Face, ...]:
        """Return every face that puts a whole group right while all others stay, the one laid out first."""
        (asked,) = correction.wanted
        natural = any(self.rack.faces[place] != JOKER for place in correction.beside)
        if natural or correction.count + len(correction.beside) != correction.size or asked == JOKER:
            return correction.wanted
        faces = np.array([slot.face.index for group in self.groups for slot in group.slots])
        here = faces == asked.index
        if here.sum() != correction.size:
            return correction.wanted
        alike = (self.forms.slots == faces[:, None])[~here].all(axis=0)
        others = sorted({int(face) for face in self.forms.slots[here][0, alike]} - {asked.index})
        return (asked, *(FACES[face] for face in others))

    def _fault(self, found: Face, group: LaidGroup) -> Fault:
        wanted = group.face
        if self.rack.faces.count(found) > found.copies:
            return Fault.MORE_THAN_A_SET_HOLDS
        if found == JOKER:
            return {1: Fault.JOKER_AMONG_SINGLES, 2: Fault.JOKER_IN_PAIR}.get(group.size, Fault.JOKER_NOT_ALLOWED)
        if found.kind is not wanted.kind:
            return Fault.WRONG_TILES
        if found.kind is Kind.WIND:
            return Fault.WRONG_WIND
        if found.kind is Kind.DRAGON:
            return Fault.DRAGON_OF_WRONG_SUIT if self._dragon_is_tied(group) else Fault.WRONG_DRAGON
        if found.suit is wanted.suit:
            return Fault.NUMBER_OUT_OF_RUN
        return self._suit_fault(group) if found.number == wanted.number else Fault.WRONG_TILES

    def _suit_fault(self, group: LaidGroup) -> Fault:
        """Tell a suit that the card names from tiles that should share one, or should not."""
        if any(phrase.suit in FIXED_SUITS for phrase in self._phrases(group)):
            return Fault.WRONG_SUIT
        return Fault.SUITS_NOT_ALIKE if group.face.suit in self._suits_standing() else Fault.SUITS_NOT_DIFFERENT

    def _suits_standing(self) -> set[Suit | None]:
        """Suits of the numbered tiles that are right."""
        return {
            slot.face.suit
            for group in self.groups
            for slot in group.slots
            if slot.place is not None and slot.face.kind is Kind.SUITED and not slot.joker
        }

    def _dragon_is_tied(self, group: LaidGroup) -> bool:
        tied = (Honour.MATCHING_DRAGON, Honour.OPPOSITE_DRAGON)
        return any(tile in tied for phrase in self._phrases(group) for tile in phrase.tiles)

    def _phrases(self, group: LaidGroup) -> Iterator[Group]:
        """The phrase that a group belongs to, in each alternative of the hand."""
        for phrases in alternatives(self.hand):
            if group.phrase < len(phrases) and isinstance(phrase := phrases[group.phrase], Group):
                yield phrase


def _standing(slots: Sequence[Slot]) -> list[int]:
    return [slot.place for slot in slots if slot.place is not None]
