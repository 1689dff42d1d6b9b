"""One hand as it is being typed: what it comes to, or everything that is wrong with it."""

from __future__ import annotations

from dataclasses import dataclass

from tilewitness.engine.describe import Description, describe_hand
from tilewitness.engine.forms import TooManyForms
from tilewitness.engine.grammar import parse_hand
from tilewitness.engine.wording import GrammarError


@dataclass(frozen=True, slots=True)
class WordFault:
    """Something wrong with the wording of a hand.

    Attributes:
        problem: what is wrong and what would be right.
        start: where the word at fault begins, an index into the wording; its length at the end of it.
        end: where that word ends.
        place: which word it is, counted from 1; 0 at the end of the wording or when no word is at fault.
    """

    problem: str
    start: int
    end: int
    place: int


@dataclass(frozen=True, slots=True)
class TypedHand:
    """A hand as typed.

    Attributes:
        description: what it comes to; None while something is wrong.
        faults: what is wrong, from left to right.
    """

    description: Description | None
    faults: tuple[WordFault, ...]


def read_typed(wording: str, *, name: str = "") -> TypedHand:
    """Read a hand as far as it is typed.

    >>> read_typed("pair of flowers, kogn of 4 in bam; worth 25").faults[0].place
    4
    """
    try:
        return TypedHand(describe_hand(parse_hand(wording, name=name)), ())
    except GrammarError as error:
        return TypedHand(None, tuple(_fault(wording, one) for one in error.all))
    except TooManyForms as error:
        return TypedHand(None, (WordFault(str(error), len(wording), len(wording), 0),))


def _fault(wording: str, error: GrammarError) -> WordFault:
    start = min(error.column - 1, len(wording))
    if not error.word:
        return WordFault(str(error), len(wording), len(wording), 0)
    return WordFault(str(error), start, min(start + len(error.word), len(wording)), len(wording[:start].split()) + 1)
