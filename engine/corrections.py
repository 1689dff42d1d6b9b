"""What would put a rack right that is not the hand it was meant to be: each fault by place, with its remedy."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

import numpy as np

from tilewitness.engine.faces import FACES, Face, Kind, Suit
from tilewitness.engine.forms import Forms
from tilewitness.engine.hands import Group, Hand, Honour
from tilewitness.engine.opinion import Fault, LaidGroup, Near, Slot
from tilewitness.engine.plans import alternatives
from tilewitness.engine.rack import JOKER, Rack
from tilewitness.engine.reasons import FIXED_SUITS


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


def corrections(
    hand: Hand, rack: Rack, near: Near, forms: Forms
) -> tuple[tuple[LaidGroup, ...], tuple[Correction, ...]]:
    """Return a rack laid out as the form it comes nearest to, and what to change, from left to right.

    Args:
        near: what the engine thinks of the rack as this hand.
        forms: the forms of this hand.
    """
    groups, let_go = _with_jokers_where_they_stand(hand, rack, near)
    return groups, _Case(hand, rack, groups, let_go, forms).found()


def _with_jokers_where_they_stand(
    hand: Hand, rack: Rack, near: Near
) -> tuple[tuple[LaidGroup, ...], tuple[int, ...]]:
    """Return the groups with every joker in the group that it stands beside, and the tiles to let go.

    The engine lets jokers help wherever they may. A person who built the hand put each where she meant it, and wants to
    hear of a joker in a pair as well: that one is taken out of a group, if a tile to let go was meant for its place.
    """
    groups, let_go = list(_by_nearness(hand, rack, near)), list(near.let_go)
    meant = {
        at
        for group in groups
        if not _takes_jokers(hand, group) and any(slot.place is None for slot in group.slots)
        for place in _standing(group.slots)
        for at in (place - 1, place + 1)
    }
    for index, group in enumerate(groups):
        strange = sum(rack.faces[at] != JOKER and _alike(rack.faces[at], group.face) for at in near.let_go)
        jokers = [slot.place for slot in group.slots if slot.joker and slot.place in meant and not group.claimed]
        moved = jokers[:strange]
        slots = tuple(Slot(slot.face, None) if slot.place in moved else slot for slot in group.slots)
        groups[index] = replace(group, slots=slots) if moved else group
        let_go += [place for place in moved if place is not None]
    return tuple(groups), tuple(let_go)


def _by_nearness(hand: Hand, rack: Rack, near: Near) -> tuple[LaidGroup, ...]:
    """Return the groups with their jokers dealt out anew, each to the nearest group that has room.

    A tile to let go that touches a group it is like was meant for it: its slot is left free as long as that can be,
    and as a set holds one more of the tile that it would have to be.
    """
    groups = near.groups
    taking = [at for at, group in enumerate(groups) if _takes_jokers(hand, group) and not group.claimed]
    jokers = [slot.place for at in taking for slot in groups[at].slots if slot.joker and slot.place is not None]
    naturals = [[slot.place for slot in group.slots if slot.place is not None and not slot.joker] for group in groups]
    starts = list(itertools.accumulate((group.size for group in groups), initial=0))
    room = Counter({at: groups[at].size - len(naturals[at]) for at in taking})
    kept: Counter[int] = Counter()
    for place in near.let_go:
        touched = [at for at in taking if {place - 1, place + 1} & set(naturals[at]) and room[at] > kept[at]]
        meant = [at for at in touched if _alike(rack.faces[place], groups[at].face)]
        kept.update([at for at in meant if rack.faces.count(groups[at].face) < groups[at].face.copies][:1])
    options = []
    for at in taking:
        standing = naturals[at] or list(range(starts[at], starts[at + 1]))
        options += [(min(abs(joker - place) for place in standing), joker, standing[0], at) for joker in jokers]
    dealt: dict[int, int] = {}
    for free in (room - kept, room):
        for _, joker, _, at in sorted(options):  # between two groups a joker ends the one to its left
            if joker not in dealt and list(dealt.values()).count(at) < free[at]:
                dealt[joker] = at
    return tuple(
        replace(group, slots=_filled(group, naturals[at], sorted(joker for joker in dealt if dealt[joker] == at)))
        if at in taking
        else group
        for at, group in enumerate(groups)
    )


def _filled(group: LaidGroup, naturals: Sequence[int], jokers: Sequence[int]) -> tuple[Slot, ...]:
    """The slots of a group: its own tiles, then jokers, then what is missing."""
    empty = group.size - len(naturals) - len(jokers)
    return (
        *(Slot(group.face, place) for place in naturals),
        *(Slot(group.face, place, joker=True) for place in jokers),
        *(Slot(group.face, None) for _ in range(empty)),
    )


def _takes_jokers(hand: Hand, group: LaidGroup) -> bool:
    return group.size >= 3 and not hand.no_jokers


def _alike(one: Face, other: Face) -> bool:
    """Of one kind, and numbered tiles of one number or one suit."""
    return one.kind is other.kind and (one.number == other.number or one.suit is other.suit)


@dataclass(frozen=True, slots=True, eq=False)
class _Case:
    """A rack laid out as a form that it is not: every tile to let go is set against a tile that is missing."""

    hand: Hand
    rack: Rack
    groups: tuple[LaidGroup, ...]
    let_go: tuple[int, ...]
    forms: Forms

    def found(self) -> tuple[Correction, ...]:
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
        same_kind = found == JOKER or found.kind is group.face.kind
        return not same_kind, same_kind and found != JOKER and not _alike(found, group.face), distance

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
    return sorted(slot.place for slot in slots if slot.place is not None)
