"""How much of a card a learner has built: which hands, in which ways, with which mistakes, and what comes next.

Everything here is derived from the attempts, which are all that is ever kept.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from itertools import groupby, takewhile

from tilewitness.engine.card import Card
from tilewitness.engine.describe import Description
from tilewitness.engine.exercise import Exercise
from tilewitness.engine.hands import Hand
from tilewitness.engine.leitner import Box, Review, boxes, next_up
from tilewitness.engine.opinion import Fault


@dataclass(frozen=True, slots=True)
class HandId:
    """A hand as it is known from one visit to the next.

    Attributes:
        wording: short hash of what the hand asks for: an edited hand is a new one. Its worth and note don't count.
    """

    card: str
    section: str
    hand: str
    wording: str

    @classmethod
    def of(cls, card: Card, hand: Hand) -> HandId:
        """Return the name of a hand of this card."""
        asked = str(replace(hand, worth=0, note=""))
        return cls(card.name, hand.section, hand.name, hashlib.sha256(asked.encode()).hexdigest()[:16])


@dataclass(frozen=True, slots=True)
class Attempt:
    """A hand was built and checked.

    Attributes:
        at: when, with its time zone.
        rack: the tiles as a rack is typed.
        way: the form that was built or meant, as `ways.way_of` names it.
        faults: what was wrong; none when it was right.
        unsure: the answer hangs on a tile of a photo that nobody has looked at yet: it does not count.
    """

    learner: str
    at: datetime
    hand: HandId
    rack: str
    way: str
    faults: tuple[Fault, ...] = ()
    unsure: bool = False

    @property
    def right(self) -> bool:
        """Nothing was wrong."""
        return not self.faults and not self.unsure


def attempt_of(exercise: Exercise, card: Card, learner: str, at: datetime, *, unsure: bool = False) -> Attempt:
    """Return what to keep of an exercise."""
    faults = tuple(one.fault for one in exercise.corrections)
    return Attempt(learner, at, HandId.of(card, exercise.hand), str(exercise.rack), exercise.way, faults, unsure)


@dataclass(frozen=True, slots=True)
class HandCoverage:
    """What a learner has done of one hand.

    Attributes:
        tries: how often it was tried.
        ways: the ways in which it was built right, in the order they were first built.
        forms: ways in which it can be built.
        last: when it was tried last.
        mistakes: what was wrong how often, the commonest first.
        box: where it stands in the learning box; None when it was never tried.
        unsure: photos since then whose answer hangs on a tile that nobody has looked at.
    """

    hand: Hand
    tries: int
    ways: tuple[str, ...]
    forms: int
    last: datetime | None
    mistakes: tuple[tuple[Fault, int], ...]
    box: Box | None
    unsure: int = 0

    @property
    def built(self) -> bool:
        """It was built right at least once."""
        return bool(self.ways)


@dataclass(frozen=True, slots=True)
class SectionCoverage:
    """What a learner has done of one section."""

    name: str
    hands: tuple[HandCoverage, ...]

    @property
    def built(self) -> int:
        """Hands built right at least once."""
        return sum(hand.built for hand in self.hands)


@dataclass(frozen=True, slots=True)
class Coverage:
    """What a learner has done of a card.

    Attributes:
        next_up: all hands that can be built, what to practise next first.
    """

    card: str
    sections: tuple[SectionCoverage, ...]
    next_up: tuple[Hand, ...]

    @property
    def hands(self) -> tuple[HandCoverage, ...]:
        """All hands in card order."""
        return tuple(hand for section in self.sections for hand in section.hands)

    @property
    def built(self) -> int:
        """Hands built right at least once."""
        return sum(section.built for section in self.sections)


def coverage(
    card: Card, described: Sequence[Description], attempts: Iterable[Attempt], today: date
) -> Coverage:
    """Return what these attempts cover of a card; attempts at other cards or at hands since edited don't count.

    Args:
        described: the card as `describe` tells it: hands that no form can build are left out.
        attempts: those of one learner, the oldest first.
    """
    ids = {HandId.of(card, one.hand): one for one in described if one.forms}
    tried: dict[HandId, list[Attempt]] = {}
    for attempt in attempts:
        if attempt.hand in ids:
            tried.setdefault(attempt.hand, []).append(attempt)
    reviews = [
        Review(hand, attempt.at.date(), attempt.right)
        for hand, all_ in tried.items()
        for attempt in all_
        if not attempt.unsure
    ]
    standing = boxes(reviews)
    hands = [_hand(one, tried.get(hand, []), standing.get(hand)) for hand, one in ids.items()]
    sections = tuple(
        SectionCoverage(name, tuple(group)) for name, group in groupby(hands, key=lambda one: one.hand.section)
    )
    order = next_up(list(ids), reviews, today)
    return Coverage(card.name, sections, tuple(ids[hand].hand for hand in order))


def _hand(described: Description, tried: Sequence[Attempt], box: Box | None) -> HandCoverage:
    attempts = [attempt for attempt in tried if not attempt.unsure]
    faults = Counter(fault for attempt in attempts for fault in set(attempt.faults))
    return HandCoverage(
        hand=described.hand,
        tries=len(attempts),
        ways=tuple(dict.fromkeys(attempt.way for attempt in attempts if attempt.right)),
        forms=described.forms,
        last=attempts[-1].at if attempts else None,
        mistakes=tuple(faults.most_common()),
        box=box,
        unsure=sum(1 for _ in takewhile(lambda attempt: attempt.unsure, reversed(tried))),
    )
