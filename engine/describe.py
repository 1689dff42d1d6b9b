"""A card told back to the person who typed it: how many forms each hand has, an example, and what cannot be built."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np

from tilewitness.engine.card import Card
from tilewitness.engine.faces import FACES, Face
from tilewitness.engine.forms import (
    COPIES,
    NATURALS,
    OPEN,
    Counts,
    buildable,
    count_tiles,
    forms_of,
    group_sets,
)
from tilewitness.engine.hands import Hand
from tilewitness.engine.layout import lay_out
from tilewitness.engine.opinion import LaidGroup
from tilewitness.engine.plans import HAND_SIZE, OpenSlots, Plan, alternatives, size_of
from tilewitness.engine.rack import Rack


class Concern(Enum):
    """Why a hand, or some of its forms, cannot be what its card meant."""

    NOT_FOURTEEN_TILES = "not fourteen tiles"
    """The hand, or one of its alternatives, does not come to fourteen tiles."""
    NO_FORM = "no form"
    """No choice of its free numbers, suits and dragons satisfies it."""
    TOO_MANY_WITHOUT_JOKERS = "too many without jokers"
    """Singles and pairs, which take no joker, ask for more of a tile than a set holds."""
    MORE_THAN_EIGHT_FLOWERS = "more than eight flowers"
    """It asks for more flowers than a set holds."""
    TOO_MANY_JOKERS_NEEDED = "too many jokers needed"
    """It needs more jokers than a set holds."""


@dataclass(frozen=True, slots=True)
class Warned:
    """A concern about a hand.

    Attributes:
        tiles: for `NOT_FOURTEEN_TILES`, how many tiles there are; otherwise how many forms are concerned.
        face: a tile that there are too many of, if that is the concern.
        never: no form of the hand can be built.
    """

    concern: Concern
    tiles: int
    face: Face | None
    never: bool


@dataclass(frozen=True, slots=True)
class Description:
    """What one hand comes to.

    Attributes:
        forms: different sets of groups that build it, whatever their order.
        example: one of them laid out in card order without jokers where possible; empty when there is none.
        fewest_jokers: jokers that the example needs.
    """

    hand: Hand
    forms: int
    example: tuple[LaidGroup, ...]
    fewest_jokers: int
    warnings: tuple[Warned, ...]


def describe(card: Card) -> tuple[Description, ...]:
    """Describe every hand of a card, in card order.

    >>> from tilewitness.engine.card import parse_card
    >>> card = parse_card('name = "T"\\n["One"]\\n"Steps" = "pair of flowers, kongs of 2, 4, 6 in one suit; worth 25"')
    >>> describe(card)[0].forms
    3
    """
    return tuple(describe_hand(hand) for hand in card.hands)


def describe_hand(hand: Hand) -> Description:
    """Describe one hand.

    Raises:
        TooManyForms: it leaves too much open.
    """
    groups: set[bytes] = set()
    free = 0
    example: tuple[int, Plan, Counts] | None = None
    everything: list[tuple[Counts, Counts]] = []
    for plan, slots in forms_of(0, hand):
        total, bare = count_tiles(plan, slots)
        everything.append((total, bare))
        fine = np.flatnonzero(buildable(total, bare))
        groups |= set() if plan.choice else group_sets(plan, slots[:, fine])
        free += sum(_choices(plan.choice, bare[:, column]) for column in fine) if plan.choice else 0
        if len(fine):
            jokers = (np.maximum(total[:, fine], COPIES[:, None]) - COPIES[:, None]).sum(axis=0)
            fewest = int(jokers.argmin())
            if example is None or jokers[fewest] < example[0]:
                example = int(jokers[fewest]), plan, slots[:, fine[fewest]]
    forms = len(groups) + free
    return Description(
        hand,
        forms,
        _example(example[1], example[2]) if example and forms else (),
        example[0] if example else 0,
        tuple(_warnings(hand, everything, never=not forms)),
    )


def _choices(choice: OpenSlots, bare: Counts) -> int:
    """Count the ways to make a free choice: the coefficient of x^count in a product over its items."""
    ways = [1] + [0] * choice.count
    for item in choice.items:
        room = min(int(COPIES[face] - bare[face]) // choice.size for face in item)
        most = min(choice.most, room)
        ways = [sum(ways[n - taken] for taken in range(min(most, n) + 1)) for n in range(choice.count + 1)]
    return ways[choice.count]


def _example(plan: Plan, slots: Counts) -> tuple[LaidGroup, ...]:
    """Lay out a form; tiles beyond what a set holds are jokers, a free choice takes what comes first."""
    filled = slots.copy()
    if plan.choice:
        picked = [face for item in plan.choice.items[: plan.choice.count] for face in item]
        filled[filled == OPEN] = np.repeat(picked, plan.choice.size)
    left = COPIES.astype(int)
    faces: list[Face] = []
    for face in filled:
        left[face] -= 1
        faces.append(FACES[face] if left[face] >= 0 else FACES[NATURALS])
    return lay_out(Rack(tuple(faces)), plan, filled)


def _warnings(hand: Hand, everything: Sequence[tuple[Counts, Counts]], *, never: bool) -> list[Warned]:
    sizes = {sum(map(size_of, phrases)) for phrases in alternatives(hand)} - {HAND_SIZE}
    warnings = [Warned(Concern.NOT_FOURTEEN_TILES, size, None, never) for size in sorted(sizes)]
    if not everything:
        return warnings
    total = np.concatenate([total for total, _ in everything], axis=1)
    bare = np.concatenate([bare for _, bare in everything], axis=1)
    if not total.shape[1]:
        return [*warnings, Warned(Concern.NO_FORM, 0, None, never)]
    over = bare > COPIES[:, None]
    flowers = total[34] > COPIES[34]
    jokers = (np.maximum(total, COPIES[:, None]) - COPIES[:, None]).sum(axis=0) > FACES[35].copies
    for concern, forms in (
        (Concern.TOO_MANY_WITHOUT_JOKERS, over.any(axis=0)),
        (Concern.MORE_THAN_EIGHT_FLOWERS, flowers),
        (Concern.TOO_MANY_JOKERS_NEEDED, jokers),
    ):
        if forms.any():
            face = FACES[int(over.any(axis=1).argmax())] if concern is Concern.TOO_MANY_WITHOUT_JOKERS else None
            warnings.append(Warned(concern, int(forms.sum()), face, never))
    return warnings
