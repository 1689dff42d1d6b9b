"""Every concrete form of every hand, as arrays of counts.

A form is one way to build a hand: every free suit, number, wind and dragon chosen. Its tiles fall in two parts:
groups of three or more equal tiles, where a joker may stand, and the rest, where every tile must be natural.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES, Face
from tilewitness.engine.hands import Choice, Group, Hand, Honour, Number, NumberName, SuitRule, Wanted
from tilewitness.engine.plans import (
    HAND_SIZE,
    OpenSlots,
    Plan,
    free_numbers,
    group_count,
    plans_by_alternative,
)

NATURALS: Final = 35
"""Faces that a card can ask for: all but the joker."""
JOKERS: Final = FACES[35].copies
COPIES: Final = np.array([face.copies for face in FACES[:NATURALS]], np.uint8)
OPEN: Final = NATURALS
"""Stands in `Forms.slots` for a tile of a free choice, which depends on the rack."""

MOST_FORMS: Final = 300_000
"""Ways to build one hand that this program compares; beyond that the wording leaves too much open."""

Counts = NDArray[np.uint8]
Ints = NDArray[np.intp]


class TooManyForms(ValueError):
    """A hand leaves more open than this program can compare.

    Attributes:
        hand: that hand.
    """

    def __init__(self, hand: Hand, ways: int) -> None:
        super().__init__(
            f"there are {ways:,} ways to choose its numbers, suits, winds and dragons, more than {MOST_FORMS:,}. "
            "Write it as two hands with fewer choices."
        )
        self.hand = hand


@dataclass(frozen=True, slots=True, eq=False)
class Forms:
    """F concrete forms side by side.

    Attributes:
        total: uint8 (35, F), tiles of each face.
        bare: uint8 (35, F), those of them that must be natural.
        slots: uint8 (14, F), the face in each slot in card order.
        sizes: uint8 (14, F), how many equal tiles the group of each slot has.
        plan: int32 (F,), index into `plans`.
        hand: int32 (F,), place of the hand on its card.
    """

    total: Counts
    bare: Counts
    slots: Counts
    sizes: Counts
    plan: NDArray[np.int32]
    hand: NDArray[np.int32]
    plans: tuple[Plan, ...]

    def __len__(self) -> int:
        return len(self.hand)

    def chosen(self, columns: Ints) -> Forms:
        """Return only these forms."""
        return replace(
            self,
            total=self.total[:, columns],
            bare=self.bare[:, columns],
            slots=self.slots[:, columns],
            sizes=self.sizes[:, columns],
            plan=self.plan[columns],
            hand=self.hand[columns],
        )

    @property
    def is_free(self) -> NDArray[np.bool_]:
        """Whether each form leaves tiles to a free choice: bool (F,)."""
        free = [plan.choice is not None for plan in self.plans]
        return np.array(free, np.bool_)[self.plan]

    def for_rack(self, counts: Counts) -> Forms:
        """Return the forms with every free choice made as well as a rack with these counts (35,) can.

        Choices come only beside groups of one and two, which take no joker, and cost on different faces adds
        up, so taking the best items one by one is exact.
        """
        if not any(plan.choice for plan in self.plans):
            return self
        total, bare, slots = self.total.copy(), self.bare.copy(), self.slots.copy()
        for index, plan in enumerate(self.plans):
            if plan.choice:
                for column in np.flatnonzero(self.plan == index):
                    faces = _choose(plan.choice, bare[:, column], counts)
                    slots[slots[:, column] == OPEN, column] = faces
                    np.add.at(total[:, column], faces, 1)
                    np.add.at(bare[:, column], faces, 1)
        return replace(self, total=total, bare=bare, slots=slots)


def compile_forms(hands: Sequence[Hand]) -> Forms:
    """Return every form of these hands that has fourteen tiles and can be built from a set of 152.

    Raises:
        TooManyForms: a hand leaves too much open.
    """
    plans: list[Plan] = []
    pieces: list[tuple[Counts, Counts, Counts]] = []
    for index, hand in enumerate(hands):
        for plan, slots in forms_of(index, hand):
            total, bare = count_tiles(plan, slots)
            fine = buildable(total, bare)
            pieces.append((total[:, fine], bare[:, fine], slots[:, fine]))
            plans.append(plan)
    widths = [piece[0].shape[1] for piece in pieces]
    total, bare, slots = (
        np.concatenate([np.zeros((height, 0), np.uint8), *(piece[at] for piece in pieces)], axis=1)
        for at, height in enumerate((NATURALS, NATURALS, HAND_SIZE))
    )
    return assemble(plans, np.repeat(np.arange(len(plans), dtype=np.int32), widths), total, bare, slots)


def assemble(
    plans: Sequence[Plan], plan: NDArray[np.int32], total: Counts, bare: Counts, slots: Counts
) -> Forms:
    """Return forms whose plan, counts and slots are known."""
    sizes = np.array([np.repeat(p.sizes, p.sizes) for p in plans], np.uint8).reshape(-1, HAND_SIZE)
    hand = np.array([p.hand for p in plans], np.int32)
    return Forms(total, bare, slots, sizes[plan].T, plan, hand[plan], tuple(plans))


def buildable(total: Counts, bare: Counts) -> NDArray[np.bool_]:
    """Tell which forms (35, F) a set of 152 tiles can build, jokers standing in where they may."""
    copies = COPIES[:, None]
    short = np.maximum(total, copies) - copies
    short_of_jokers = short.sum(axis=0) > JOKERS
    result: NDArray[np.bool_] = (bare <= copies).all(axis=0) & ~short_of_jokers
    return result


def forms_of(index: int, hand: Hand) -> Iterator[tuple[Plan, Counts]]:
    """Yield, for each choice of the hand's alternatives, its plan and slots (14, F), buildable or not.

    Alternatives that do not come to fourteen tiles yield nothing.
    """
    for phrases, plans in plans_by_alternative(index, hand):
        faces = _Enumeration(hand, phrases).faces()
        slots = np.unique(np.repeat(faces, plans[0].sizes, axis=0), axis=1)
        for plan in plans:
            yield plan, slots


def count_tiles(plan: Plan, slots: Counts) -> tuple[Counts, Counts]:
    """Return the tiles of each face (35, F) and how many of them must be natural."""
    total = np.zeros((OPEN + 1, slots.shape[1]), np.uint8)
    bare = np.zeros_like(total)
    columns = np.arange(slots.shape[1])
    for start, size in zip(plan.starts, plan.sizes, strict=True):
        total[slots[start], columns] += np.uint8(size)
        if not plan.takes_joker(size):
            bare[slots[start], columns] += np.uint8(size)
    return total[:OPEN], bare[:OPEN]


def group_sets(plan: Plan, slots: Counts) -> set[bytes]:
    """Return what forms (14, F) of this plan are made of: their groups, whatever the order."""
    sizes = np.array(plan.sizes, np.uint16)
    # Fewer than eight equal tiles make a group, so face and size fit in one number that sorts by face.
    groups = np.sort(slots[list(plan.starts)].astype(np.uint16) * 8 + sizes[:, None], axis=0)
    return {column.tobytes() for column in groups.T}


_MATCHING: Final = np.array([32, 31, 33])
"""Face of the dragon that belongs to bam, crak, dot."""
_ORDINAL: Final = (SuitRule.FIRST, SuitRule.SECOND, SuitRule.THIRD)
_FIXED: Final = (SuitRule.BAM, SuitRule.CRAK, SuitRule.DOT)
_WINDS: Final = (Honour.FIRST_WIND, Honour.SECOND_WIND, Honour.THIRD_WIND, Honour.FOURTH_WIND)
_DRAGONS: Final = (Honour.FIRST_DRAGON, Honour.SECOND_DRAGON, Honour.THIRD_DRAGON)


class _Enumeration:
    """All values of the free suits, numbers, winds and dragons of one list of phrases, side by side."""

    def __init__(self, hand: Hand, phrases: Sequence[Group | Choice]) -> None:
        self.phrases = phrases
        self.tiles = [t for phrase in phrases if isinstance(phrase, Group) for t in phrase.tiles]
        suits = max(map(self._suits_needed, phrases), default=0)
        any_suits = sum(isinstance(p, Group) and p.suit is SuitRule.ANY for p in phrases)
        axes = [
            np.array(list(itertools.permutations(range(3), suits))),
            self._numbers(hand),
            _permutations(27, 4, self._highest(_WINDS, (Honour.OPPOSITE_WIND,))),
            _permutations(31, 3, self._highest(_DRAGONS)),
            _permutations(31, 3, int(Honour.OPPOSITE_DRAGON in self.tiles)),
            np.array(list(itertools.product(range(3), repeat=any_suits))),
        ]
        ways = math.prod(len(axis) for axis in axes)
        if ways > MOST_FORMS:
            raise TooManyForms(hand, ways)
        grid = np.indices([len(axis) for axis in axes]).reshape(len(axes), -1)
        self.suits, self.numbers, self.winds, self.dragons, self.opposite, self.any_suits = (
            axis[rows].T for axis, rows in zip(axes, grid, strict=True)
        )
        self.valid = np.ones(grid.shape[1], np.bool_)
        self.used_suits = np.zeros((3, grid.shape[1]), np.bool_)

    @staticmethod
    def _suits_needed(phrase: Group | Choice) -> int:
        rule = phrase.suit if isinstance(phrase, Group) else None
        if rule in _ORDINAL:
            return _ORDINAL.index(rule) + 1
        return {SuitRule.TWO_IN_TURN: 2, SuitRule.THREE_IN_TURN: 3}.get(rule, 0) if rule else 0

    def _highest(self, ordered: tuple[Honour, ...], first: tuple[Honour, ...] = ()) -> int:
        """How many different ones of this kind must be chosen."""
        ranks = [ordered.index(t) + 1 for t in self.tiles if isinstance(t, Honour) and t in ordered]
        return max([*ranks, *(1 for t in self.tiles if t in first)], default=0)

    def _numbers(self, hand: Hand) -> Ints:
        """All values (n, 3) of the free numbers that are used; unused ones stay at 1."""
        names = free_numbers(hand)
        order = [NumberName.FIRST, NumberName.SECOND, NumberName.THIRD]
        allowed = {name: set(range(1, 10)) for name in order}
        for rule in hand.rules:
            allowed[rule.name] &= set(rule.allowed)
        values = [sorted(allowed[name]) if name in names else [1] for name in order]
        rows = list(itertools.product(*values))
        if hand.numbers_differ:
            used = [at for at, name in enumerate(order) if name in names]
            rows = [row for row in rows if len({row[at] for at in used}) == len(used)]
        return np.array(rows, np.intp).reshape(-1, 3)

    def faces(self) -> Counts:
        """Return the face of every group (groups, F) for every valid assignment."""
        rows: list[Ints] = []
        any_suits = iter(self.any_suits)
        for phrase in self.phrases:
            if isinstance(phrase, Choice):
                rows += [np.full(len(self.valid), OPEN)] * group_count(phrase)
                continue
            own = next(any_suits) if phrase.suit is SuitRule.ANY else None
            for turn, tile in enumerate(phrase.tiles):
                rows.append(self._face(tile, self._suit(phrase.suit, turn, own)))
        if Honour.OPPOSITE_DRAGON in self.tiles:
            owner = np.array([1, 0, 2])[self.opposite[0] - 31]
            self.valid &= ~self.used_suits[owner, np.arange(len(owner))]
        return np.stack(rows)[:, self.valid].astype(np.uint8)

    def _suit(self, rule: SuitRule | None, turn: int, own: Ints | None) -> Ints:
        if own is not None:
            return own
        if rule in _FIXED:
            return np.full(len(self.valid), _FIXED.index(rule))
        if rule in _ORDINAL:
            return np.asarray(self.suits[_ORDINAL.index(rule)])
        cycle = {SuitRule.TWO_IN_TURN: 2, SuitRule.THREE_IN_TURN: 3}.get(rule, 0) if rule else 0
        return np.asarray(self.suits[turn % cycle]) if cycle else np.zeros(len(self.valid), np.intp)

    def _face(self, tile: Wanted, suit: Ints) -> Ints:
        if isinstance(tile, Face):
            return np.full(len(self.valid), tile.index)
        if isinstance(tile, Number):
            value = self._value(tile)
            self.valid &= (value >= 1) & (value <= 9)
            self.used_suits[suit, np.arange(len(suit))] = True
            return suit * 9 + np.clip(value, 1, 9) - 1
        if tile is Honour.MATCHING_DRAGON:
            return np.asarray(_MATCHING[suit])
        if tile is Honour.OPPOSITE_WIND:
            return np.asarray(27 + (self.winds[0] - 27 + 2) % 4)
        if tile is Honour.OPPOSITE_DRAGON:
            return np.asarray(self.opposite[0])
        ordered, values = (_WINDS, self.winds) if tile in _WINDS else (_DRAGONS, self.dragons)
        return np.asarray(values[ordered.index(tile)])

    def _value(self, tile: Number) -> Ints:
        if tile.of is None:
            return np.full(len(self.valid), tile.offset)
        if tile.of is NumberName.SUM:
            return np.asarray(self.numbers[0] + self.numbers[1] + tile.offset)
        order = [NumberName.FIRST, NumberName.SECOND, NumberName.THIRD]
        return np.asarray(self.numbers[order.index(tile.of)] + tile.offset)


def _permutations(first: int, count: int, length: int) -> Ints:
    """All ways to pick `length` different faces, in order, out of `count` from face `first` on."""
    return np.array(list(itertools.permutations(range(first, first + count), length)), np.intp)


def _choose(choice: OpenSlots, bare: Counts, counts: Counts) -> Ints:
    """Return the faces, in slot order, of the choice that a rack with these counts comes nearest to."""
    rest = np.maximum(counts.astype(np.intp) - bare, 0)
    room = COPIES.astype(np.intp) - bare
    gains: list[tuple[int, int, int]] = []
    for place, item in enumerate(choice.items):
        for copy in range(choice.most):
            if all(room[face] >= (copy + 1) * choice.size for face in item):
                gain = sum(int(np.clip(rest[face] - copy * choice.size, 0, choice.size)) for face in item)
                gains.append((-gain, copy, place))
    picked = sorted(place for _, _, place in sorted(gains)[: choice.count])
    faces = [face for place in picked for face in choice.items[place]]
    return np.repeat(np.array(faces, np.intp), choice.size)
