"""Judge a rack by a card: the hands it completes, or the nearest ones and what they still want.

A second opinion: the card itself and the table's rules decide.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.card import Card
from tilewitness.engine.faces import FACES, Face
from tilewitness.engine.forms import NATURALS, Counts, Forms, Ints
from tilewitness.engine.hands import Hand
from tilewitness.engine.layout import as_shown, lay_out
from tilewitness.engine.measure import NEVER, Claimed, Distances, held, missing_tiles
from tilewitness.engine.opinion import (
    Exchange,
    Get,
    LaidGroup,
    Near,
    Opinion,
    Source,
    Standing,
    Wait,
    Win,
)
from tilewitness.engine.plans import HAND_SIZE, Plan
from tilewitness.engine.rack import JOKER, Rack
from tilewitness.engine.reasons import Lifted, explain, lift_rules, rack_reasons
from tilewitness.engine.worth import payment


def judge(tiles: Rack | Sequence[Face], card: Card, *, seen: Sequence[Face] = (), limit: int = 5) -> Opinion:
    """Return a second opinion on a rack.

    Args:
        tiles: a rack, or just its faces in reading order, nothing claimed.
        seen: other tiles in sight (discards, groups laid open by others), to count what is left.
        limit: at most this many hands in `nearest` and in `near_misses`.

    >>> from tilewitness.engine.card import parse_card
    >>> card = parse_card('name = "Tiny"\\n["One"]\\n"Steps" = "pair of flowers, kongs of 2, 4, 6 in one suit; worth 25"')
    >>> judge(Rack.parse("pair of flowers, kong of 2 bam, kong of 4 bam, pung of 6 bam, joker"), card).is_complete
    True
    """
    rack = Rack.of(tiles)
    return _Judgement(rack, card, seen, limit).opinion()


class _Judgement:
    """One rack measured against one card."""

    def __init__(self, rack: Rack, card: Card, seen: Sequence[Face], limit: int) -> None:
        self.rack = rack
        self.card = card
        self.limit = limit
        self.forms = card.forms.for_rack(held(rack))
        self.concealed = np.array([hand.concealed for hand in card.hands], np.bool_)
        self.missing = self._missing()
        self.left = _copies_left(rack, seen)
        self.bounds = np.searchsorted(self.forms.hand, np.arange(len(card.hands) + 1))

    @cached_property
    def lifted(self) -> Lifted:
        return lift_rules(self.forms, self.rack.claims_settled, None if self.rack.exposed else self.missing)

    def _missing(self) -> Distances:
        missing = missing_tiles(self.forms, self.rack)
        if self.rack.exposed:
            missing[self.concealed[self.forms.hand]] = NEVER
        return missing

    def opinion(self) -> Opinion:
        wins = self.wins()
        size = len(self.rack.faces)
        return Opinion(
            rack=self.rack,
            standing=_standing(size),
            wins=wins,
            nearest=() if wins else self.nearest(),
            near_misses=() if wins else self.near_misses(),
            waits=self.waits() if size == HAND_SIZE - 1 else (),
            exchanges=() if wins else self.exchanges(),
            reasons=rack_reasons(self.rack, claims_fit=bool(len(self.missing)) and self.missing.min() < NEVER),
        )

    def wins(self) -> tuple[Win, ...]:
        if len(self.rack.faces) != HAND_SIZE:
            return ()
        best: dict[int, tuple[int, list[int] | None]] = {}
        for column in np.flatnonzero(self.missing == 0).tolist():
            hand = int(self.forms.hand[column])
            if hand in best and best[hand][1]:
                continue
            plan, slots = self._form(column)
            shown = as_shown(self.rack, plan, slots)
            if shown:
                self.forms.slots[:, column] = shown[0]
            if shown or hand not in best:
                best[hand] = column, shown[1] if shown else None
        wins = [self._win(self.card.hands[hand], *found) for hand, found in best.items()]
        return tuple(sorted(wins, key=lambda win: -win.hand.worth))

    def _form(self, column: int) -> tuple[Plan, Counts]:
        return self.forms.plans[self.forms.plan[column]], self.forms.slots[:, column]

    def _win(self, hand: Hand, column: int, shown: list[int] | None) -> Win:
        jokerless = JOKER not in self.rack.faces
        groups = lay_out(self.rack, *self._form(column), shown)
        return Win(hand, groups, shown is not None, payment(hand, jokerless=jokerless))

    def exchanges(self) -> tuple[Exchange, ...]:
        """Jokers that could be bought back, and what each would win."""
        found = _exchanges(self.rack)
        if len(self.rack.faces) != HAND_SIZE:
            return found
        after = [_Judgement(_exchanged(self.rack, one), self.card, (), 0).wins() for one in found]
        return tuple(replace(one, wins=tuple(win.hand for win in wins)) for one, wins in zip(found, after, strict=True))

    def nearest(self) -> tuple[Near, ...]:
        """The hands with fewest tiles missing; then most copies left of what they want; then worth most."""
        least = self._least(self.missing)
        reachable = np.sort(least[least < NEVER])
        cutoff = reachable[: self.limit].max(initial=0)
        return self._ranked(np.flatnonzero(least <= cutoff), self.missing)

    def near_misses(self) -> tuple[Near, ...]:
        """The hands that this rack would be, or would wait for, but for one rule."""
        due = max(0, HAND_SIZE - len(self.rack.faces))
        if due > 1:
            return ()
        hands = set(self.forms.hand[self.lifted.smallest() == due].tolist())
        hands -= set(self.forms.hand[self.missing == due].tolist())
        return self._ranked(np.array(sorted(hands)), self.lifted.claims) if hands else ()

    def _least(self, missing: Distances) -> Distances:
        """Fewest tiles missing to any form of each hand, `NEVER` without forms."""
        result = np.full(len(self.card.hands), NEVER, np.int16)
        filled = np.flatnonzero(np.diff(self.bounds))
        if len(filled):
            result[filled] = np.minimum.reduceat(missing, self.bounds[filled])
        return result

    def _ranked(self, hands: Ints, missing: Distances) -> tuple[Near, ...]:
        """Lay out the best form of each of these hands, the best hands first."""
        wanted = np.full(len(self.card.hands), -1, np.int16)
        wanted[hands] = self._least(missing)[hands]
        columns = np.flatnonzero(missing == wanted[self.forms.hand])
        owner = self.forms.hand[columns]
        worth = np.array([hand.worth for hand in self.card.hands])[owner]
        order = np.lexsort((-worth, -self._copies_of_wanted(columns), missing[columns]))
        best: dict[int, int] = {}
        for at in order.tolist():
            if len(best) == self.limit:
                break
            best.setdefault(int(owner[at]), int(columns[at]))
        return tuple(self._near(hand, column) for hand, column in best.items())

    def _copies_of_wanted(self, columns: Ints) -> NDArray[np.int64]:
        """Copies left of the tiles that each form wants; none if it wants more of one than are left."""
        counts, copies = held(self.rack)[:, None], self.left[:NATURALS]
        total, bare = self.forms.total[:, columns], self.forms.bare[:, columns]
        wanted = total > counts
        left = copies @ wanted
        left += ((total > bare) & wanted).any(axis=0) * int(self.left[JOKER.index])
        left[(np.maximum(bare, counts) - counts > copies[:, None]).any(axis=0)] = 0
        return np.asarray(left)

    def _near(self, hand: int, column: int) -> Near:
        """Lay out the rack as this form, or as the form that one rule alone keeps it from."""
        asked, columns = self.card.hands[hand], np.arange(self.bounds[hand], self.bounds[hand + 1])
        reasons, but_for = explain(asked, self.forms, self.lifted, columns, self.rack, self.missing)
        column = column if but_for is None else but_for
        rack = self.rack if self.missing[column] < NEVER else Rack(self.rack.faces)
        groups = lay_out(rack, *self._form(column))
        used = {slot.place for group in groups for slot in group.slots}
        places = range(len(rack.faces))
        missing = sum(slot.place is None for group in groups for slot in group.slots)
        return Near(
            hand=asked,
            missing=missing,
            groups=groups,
            keep=tuple(place for place in places if place in used),
            let_go=tuple(place for place in places if place not in used),
            get=self._get(asked, groups, missing),
            reasons=reasons,
        )

    def _get(self, hand: Hand, groups: tuple[LaidGroup, ...], missing: int) -> tuple[Get, ...]:
        counted: dict[tuple[Face, bool, Source], int] = {}
        for group in groups:
            empty = sum(slot.place is None for slot in group.slots)
            if empty:
                serves = group.size >= 3 and not hand.no_jokers
                source = self._source(hand, group, empty, missing)
                key = group.face, serves, source
                counted[key] = counted.get(key, 0) + empty
        return tuple(
            Get(face, count, int(self.left[face.index]), serves, source)
            for (face, serves, source), count in counted.items()
        )

    def _source(self, hand: Hand, group: LaidGroup, empty: int, missing: int) -> Source:
        if not self.left[group.face.index]:
            return Source.NONE_LEFT
        if group.size >= 3 and not hand.concealed:
            return Source.CLAIM if empty == 1 else Source.DRAW_THEN_CLAIM
        return Source.CLAIM_TO_WIN if missing == 1 else Source.DRAW

    def waits(self) -> tuple[Wait, ...]:
        """Try every face as the fourteenth tile of the forms that lack one."""
        forms = self.card.forms
        forms = forms.chosen(np.flatnonzero((self.missing == 1) | forms.is_free))
        found = []
        for face in FACES:
            hands = self._completed(forms, Rack((*self.rack.faces, face), self.rack.exposed))
            if hands:
                found.append(Wait(face, hands, int(self.left[face.index])))
        return tuple(sorted(found, key=lambda wait: -wait.hands[0].worth))

    def _completed(self, forms: Forms, rack: Rack) -> tuple[Hand, ...]:
        forms = forms.for_rack(held(rack))
        complete = np.unique(forms.hand[missing_tiles(forms, rack) == 0])
        hands = [self.card.hands[i] for i in complete if not (rack.exposed and self.concealed[i])]
        return tuple(sorted(hands, key=lambda hand: -hand.worth))


def _standing(size: int) -> Standing:
    if size < HAND_SIZE - 1:
        return Standing.FEW
    return {HAND_SIZE - 1: Standing.WAITING, HAND_SIZE: Standing.DECLARED}.get(size, Standing.DEAD)


def _copies_left(rack: Rack, seen: Sequence[Face]) -> NDArray[np.int64]:
    """Copies of each of the 36 faces that are not in sight."""
    copies = np.array([face.copies for face in FACES])
    visible = np.bincount([face.index for face in (*rack.faces, *seen)], minlength=len(FACES))
    return np.maximum(copies - visible, 0)


def _exchanges(rack: Rack) -> tuple[Exchange, ...]:
    """Pair jokers of claimed groups with the natural tiles on the rack that could buy them back."""
    found = []
    free = list(rack.hidden)
    for places in rack.exposed:
        face = Claimed.at(rack, places).face
        for joker in (place for place in places if rack.faces[place] == JOKER):
            natural = next((place for place in free if rack.faces[place] == face), None)
            if natural is not None:
                free.remove(natural)
                found.append(Exchange(joker, natural))
    return tuple(found)


def _exchanged(rack: Rack, exchange: Exchange) -> Rack:
    """The rack once a joker and the natural tile have changed places."""
    faces = list(rack.faces)
    faces[exchange.joker], faces[exchange.natural] = faces[exchange.natural], faces[exchange.joker]
    return replace(rack, faces=tuple(faces))
