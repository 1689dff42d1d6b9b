"""When to practise what: the learning box of Sebastian Leitner, "So lernt man lernen. Der Weg zum Erfolg", 1972.

The box has five compartments. A card that was known moves one compartment on; one that was not goes back to the
first, from wherever it stood. Leitner gave no days: a compartment is gone through when it is full, and his are 1, 2,
5, 8 and 14 cm long. Here a compartment waits as many days as his has centimetres, so the waits grow as they do there.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final, TypeVar

Item = TypeVar("Item", bound=Hashable)

WAITS: Final = (1, 2, 5, 8, 14)
"""Days that each compartment waits, the first first."""
LAST: Final = len(WAITS)
"""Number of the last compartment, where what is known well stays."""


@dataclass(frozen=True, slots=True)
class Review:
    """Something was tried on a day, and it was right or not."""

    item: Hashable
    on: date
    right: bool


@dataclass(frozen=True, slots=True)
class Box:
    """Where something stands.

    Attributes:
        number: compartment, 1 to 5.
        due: the day from which it wants to be tried again.
    """

    number: int
    due: date


def boxes(reviews: Iterable[Review]) -> dict[Hashable, Box]:
    """Return where everything stands that was ever tried, the reviews taken by day.

    What is right before it is due stays where it is: having done it twice in a row shows little.

    >>> boxes([Review("a", date(2030, 1, 1), True)])["a"]
    Box(number=2, due=datetime.date(2030, 1, 3))
    """
    found: dict[Hashable, Box] = {}
    for review in sorted(reviews, key=lambda review: review.on):
        before = found.get(review.item, Box(1, review.on))
        if not review.right:
            found[review.item] = _put(1, review.on)
        elif review.on >= before.due:
            found[review.item] = _put(min(before.number + 1, LAST), review.on)
    return found


def _put(number: int, on: date) -> Box:
    return Box(number, on + timedelta(days=WAITS[number - 1]))


def next_up(items: Sequence[Item], reviews: Iterable[Review], today: date) -> list[Item]:
    """Return all items, what comes next first.

    First what is due, the lowest compartment first and there what waits longest; then what was never tried, in its
    own order; then what is not due yet, the soonest first.
    """
    standing = boxes(reviews)

    def rank(item: Item) -> tuple[int, int, date]:
        box = standing.get(item)
        if box is None:
            return 1, 0, today
        return (0, box.number, box.due) if box.due <= today else (2, 0, box.due)

    return sorted(items, key=rank)
