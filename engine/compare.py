"""Two cards compared: what is new, gone, changed or moved, hands being told apart by meaning before wording.

The meaning of a hand is the set of its concrete forms: two wordings that the same tiles complete are one hand.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, replace
from enum import Enum

import numpy as np

from tilewitness.engine.card import Card
from tilewitness.engine.forms import group_sets
from tilewitness.engine.hands import Hand
from tilewitness.engine.plans import OpenSlots


class Change(Enum):
    """In what way a hand differs from one card to the other."""

    NEW = "new"
    GONE = "gone"
    MEANING = "meaning"
    """Other tiles complete it."""
    NAME = "name"
    SECTION = "section"
    WORTH = "worth"
    CONCEALED = "concealed"
    JOKERS = "jokers"
    """Jokers were allowed and are not any more, or the other way round."""
    WORDING = "wording"
    """Said in other words, while the same tiles complete it."""
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Difference:
    """One hand that is not the same on both cards.

    Attributes:
        old: the hand on the old card; None when it is new.
        new: the hand on the new card; None when it is gone.
        changes: in what ways it differs, in the order of `Change`.
        lost: forms of the old hand that the new one has no more; 0 unless the meaning changed.
        gained: forms that only the new one has. A free choice counts once, whatever may be chosen.
    """

    old: Hand | None
    new: Hand | None
    changes: tuple[Change, ...]
    lost: int = 0
    gained: int = 0


@dataclass(frozen=True, slots=True)
class Comparison:
    """What became of a card.

    Attributes:
        old: name of the old card.
        new: name of the new card.
        differences: hands of the new card in its order, then hands that are gone in the order of the old card.
        same: how many hands are the same in every way.
    """

    old: str
    new: str
    differences: tuple[Difference, ...]
    same: int


Meaning = frozenset[Hashable]


@dataclass(frozen=True, slots=True)
class _Meant:
    """A hand with its meaning."""

    hand: Hand
    meaning: Meaning


def compare_cards(old: Card, new: Card) -> Comparison:
    """Compare two cards hand by hand.

    Hands are matched by meaning, section and name; then by meaning alone; then by name alone, in the same section
    first. What is left over is gone or new.
    """
    before, after = _meant(old), _meant(new)
    match: dict[int, int] = {}
    for key in _KEYS:
        waiting: dict[Hashable, list[int]] = defaultdict(list)
        for index, one in enumerate(before):
            if index not in match.values():
                waiting[key(one)].append(index)
        for index, one in enumerate(after):
            if index not in match and waiting[key(one)]:
                match[index] = waiting[key(one)].pop(0)
    found = [_difference(before[match[at]] if at in match else None, one) for at, one in enumerate(after)]
    gone = [_difference(one, None) for at, one in enumerate(before) if at not in match.values()]
    differences = tuple(one for one in (*found, *gone) if one.changes)
    return Comparison(old.name, new.name, differences, len(found) + len(gone) - len(differences))


_KEYS: Sequence[Callable[[_Meant], Hashable]] = (
    lambda one: (one.meaning, one.hand.section, one.hand.name),
    lambda one: (one.meaning, one.hand.name),
    lambda one: one.meaning,
    lambda one: (one.hand.section, one.hand.name),
    lambda one: one.hand.name,
)
"""What two hands must share to be one, the surest sign first."""


def _meant(card: Card) -> list[_Meant]:
    meanings: list[set[Hashable]] = [set() for _ in card.hands]
    for index, plan in enumerate(card.forms.plans):
        slots = card.forms.slots[:, np.flatnonzero(card.forms.plan == index)]
        meanings[plan.hand].update((_pool(plan.choice), groups) for groups in group_sets(plan, slots))
    return [
        # A hand that cannot be built means only what it says.
        _Meant(hand, frozenset(meaning or {(hand.parts, hand.rules, hand.numbers_differ)}))
        for hand, meaning in zip(card.hands, meanings, strict=True)
    ]


def _pool(choice: OpenSlots | None) -> OpenSlots | None:
    """A free choice wherever it stands in the hand."""
    return replace(choice, start=0) if choice else None


def _difference(old: _Meant | None, new: _Meant | None) -> Difference:
    if old is None or new is None:
        kind = Change.NEW if old is None else Change.GONE
        return Difference(old.hand if old else None, new.hand if new else None, (kind,))
    was, now = old.hand, new.hand
    same_meaning = old.meaning == new.meaning
    found = {
        Change.MEANING: not same_meaning,
        Change.NAME: was.name != now.name,
        Change.SECTION: was.section != now.section,
        Change.WORTH: was.worth != now.worth,
        Change.CONCEALED: was.concealed != now.concealed,
        Change.JOKERS: was.no_jokers != now.no_jokers,
        Change.WORDING: same_meaning and _tiles(was) != _tiles(now),
        Change.NOTE: was.note != now.note,
    }
    return Difference(
        was,
        now,
        tuple(change for change in Change if found.get(change)),
        len(old.meaning - new.meaning),
        len(new.meaning - old.meaning),
    )


def _tiles(hand: Hand) -> str:
    """What is said of its tiles; jokers are compared by themselves."""
    return replace(hand, no_jokers=False).tiles_wording
