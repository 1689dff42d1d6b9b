"""What a declared win pays under common practice. The table's rules decide.

Source: common practice of the American game, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

from tilewitness.engine.hands import Either, Group, Hand, Part


@dataclass(frozen=True, slots=True)
class Payment:
    """What each player pays the winner, in points of the card.

    Attributes:
        worth: points printed on the card.
        doubled: the hand stood without jokers, which doubles every payment.
        discarder: from the player who discarded the winning tile.
        others: from each of the other two then.
        each: from each of the three when the winner drew the tile.
    """

    worth: int
    doubled: bool
    discarder: int
    others: int
    each: int


def payment(hand: Hand, *, jokerless: bool) -> Payment:
    """Return what a win pays: discarder double, self-drawn double from all, jokerless double again.

    A hand that can hold no joker anyway is not doubled for lacking one.
    """
    doubled = jokerless and can_hold_jokers(hand)
    points = hand.worth * (2 if doubled else 1)
    return Payment(hand.worth, doubled, 2 * points, points, 2 * points)


def can_hold_jokers(hand: Hand) -> bool:
    """Tell whether some group of the hand may hold a joker."""
    return not hand.no_jokers and any(map(_takes_joker, hand.parts))


def _takes_joker(part: Part) -> bool:
    if isinstance(part, Either):
        return any(_takes_joker(phrase) for branch in part.branches for phrase in branch)
    return isinstance(part, Group) and part.size >= 3
