"""How well a learner answers quiz questions: by what is asked and how hard it is, derived from the answers kept."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import Enum

from tilewitness.engine.card import Card
from tilewitness.engine.quiz import Level, MayClaim, Question, StillPossible, WrongTile, is_right


class Asks(Enum):
    """What a question asks."""

    WRONG_TILE = "which tile is wrong"
    STILL_POSSIBLE = "which hands are still possible"
    MAY_CLAIM = "may this be claimed"


_ASKS: dict[type[Question], Asks] = {
    WrongTile: Asks.WRONG_TILE,
    StillPossible: Asks.STILL_POSSIBLE,
    MayClaim: Asks.MAY_CLAIM,
}


def asks(question: Question) -> Asks:
    """Return what a question asks."""
    return _ASKS[type(question)]


@dataclass(frozen=True, slots=True)
class Answer:
    """A question was answered.

    Attributes:
        at: when, with its time zone.
        card: name of the card.
        rack: the tiles that it was about, as a rack is typed.
    """

    learner: str
    at: datetime
    card: str
    asks: Asks
    level: Level
    rack: str
    right: bool


def answer_of(question: Question, chosen: Collection[int], card: Card, level: Level, learner: str, at: datetime) -> Answer:
    """Return what to keep of an answer."""
    return Answer(learner, at, card.name, asks(question), level, str(question.rack), is_right(question, chosen))


@dataclass(frozen=True, slots=True)
class Score:
    """All answers to questions of one kind on one level."""

    asks: Asks
    level: Level
    right: int
    asked: int


def scores(card: Card, answers: Iterable[Answer]) -> tuple[Score, ...]:
    """Return the scores of all kinds and levels that were ever asked about a card, the easiest first.

    Args:
        answers: those of one learner.
    """
    own = [one for one in answers if one.card == card.name]
    alike = {(kind, level): [one.right for one in own if (one.asks, one.level) == (kind, level)] for kind in Asks for level in Level}
    return tuple(Score(kind, level, sum(right), len(right)) for (kind, level), right in alike.items() if right)
