"""What the forms of a hand have in common: its groups in card order, and what it leaves to a free choice."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from tilewitness.engine.hands import Choice, Either, Group, Hand, Number, NumberName

HAND_SIZE: Final = 14


@dataclass(frozen=True, slots=True)
class OpenSlots:
    """A free choice of `count` items, each taken at most `most` times.

    Attributes:
        start: first slot of the choice.
        size: equal tiles of each face of an item, 1 or 2.
        items: the faces of each item; no face is in two items.
    """

    start: int
    count: int
    size: int
    most: int
    items: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """What the forms of one hand (one choice of its alternatives) have in common.

    Attributes:
        hand: place of the hand on its card.
        sizes: number of equal tiles of each group, in card order; they add up to 14.
        phrases: for each group, which phrase of the hand it belongs to.
        no_jokers: the hand allows no joker anywhere.
        choice: what the hand leaves to a free choice, if anything.
    """

    hand: int
    sizes: tuple[int, ...]
    phrases: tuple[int, ...]
    no_jokers: bool
    choice: OpenSlots | None = None

    @property
    def starts(self) -> tuple[int, ...]:
        """First slot of each group."""
        return tuple(itertools.accumulate(self.sizes[:-1], initial=0))

    def takes_joker(self, size: int) -> bool:
        """A group of this size may hold jokers in this hand."""
        return size >= 3 and not self.no_jokers


def plans_of(hands: Sequence[Hand]) -> list[Plan]:
    """Return the plans of all forms of these hands, in the order of `Forms.plans`."""
    return [
        plan
        for index, hand in enumerate(hands)
        for _, plans in plans_by_alternative(index, hand)
        for plan in plans
    ]


def plans_by_alternative(
    index: int, hand: Hand
) -> Iterator[tuple[tuple[Group | Choice, ...], list[Plan]]]:
    """Yield the phrases of each alternative of fourteen tiles with its plans, one unless its choice is knitted."""
    for phrases in alternatives(hand):
        sizes, owners, choice_at = _layout(phrases)
        if sum(sizes) == HAND_SIZE:
            choices = _open_slots(phrases, choice_at)
            shape = tuple(sizes), tuple(owners), hand.no_jokers
            yield phrases, [Plan(index, *shape, choice) for choice in choices]


def alternatives(hand: Hand) -> list[tuple[Group | Choice, ...]]:
    """Return the hand's phrases once for every way to choose among its alternatives.

    >>> from tilewitness.engine.grammar import parse_hand
    >>> hand = parse_hand("either pung of 1 or kong of 2 in bam, pair of flowers; worth 25", name="Fork")
    >>> [", ".join(map(str, phrases)) for phrases in alternatives(hand)]
    ['pung of 1 bam, pair of flowers', 'kong of 2 bam, pair of flowers']
    """
    options = [part.branches if isinstance(part, Either) else ((part,),) for part in hand.parts]
    return [tuple(itertools.chain(*picked)) for picked in itertools.product(*options)]


def _layout(phrases: Sequence[Group | Choice]) -> tuple[list[int], list[int], int]:
    """Return group sizes, the phrase of each, and the first slot of a free choice."""
    sizes: list[int] = []
    owners: list[int] = []
    choice_at = 0
    for number, phrase in enumerate(phrases):
        if isinstance(phrase, Choice):
            choice_at = sum(sizes)
        groups = [phrase.size] * group_count(phrase)
        sizes += groups
        owners += [number] * len(groups)
    return sizes, owners, choice_at


def free_numbers(hand: Hand) -> tuple[NumberName, ...]:
    """Return the free numbers that the hand uses, in order; a sum uses the first and the second."""
    phrases = [phrase for phrases in alternatives(hand) for phrase in phrases if isinstance(phrase, Group)]
    names = {tile.of for phrase in phrases for tile in phrase.tiles if isinstance(tile, Number)}
    if NumberName.SUM in names:
        names |= {NumberName.FIRST, NumberName.SECOND}
    return tuple(name for name in NumberName if name in names and name is not NumberName.SUM)


def size_of(phrase: Group | Choice) -> int:
    """Return how many tiles a phrase takes."""
    return phrase.size * group_count(phrase)


def group_count(phrase: Group | Choice) -> int:
    """Return how many groups of equal tiles a phrase stands for."""
    if isinstance(phrase, Group):
        return len(phrase.tiles)
    return phrase.count * (2 if phrase.pool is None else 1)


def _open_slots(phrases: Sequence[Group | Choice], start: int) -> list[OpenSlots | None]:
    """Return the free choice of these phrases, once for each pair of suits if it is knitted."""
    choice = next((phrase for phrase in phrases if isinstance(phrase, Choice)), None)
    if choice is None:
        return [None]
    most = 1 if choice.different else 4 // choice.size
    if choice.pool is None:
        pairs = itertools.combinations(range(3), 2)
        pools: list[tuple[tuple[int, ...], ...]] = [
            tuple((a * 9 + number, b * 9 + number) for number in range(9)) for a, b in pairs
        ]
    else:
        pools = [tuple((face.index,) for face in choice.pool.faces)]
    return [OpenSlots(start, choice.count, choice.size, most, items) for items in pools]
