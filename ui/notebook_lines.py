"""Attempts and quiz answers as lines of text: in the notebook's tables, and for a spreadsheet."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Final

from tilewitness.engine.coverage import Attempt, HandId
from tilewitness.engine.opinion import Fault
from tilewitness.engine.quiz import Level
from tilewitness.engine.scores import Answer, Asks

ATTEMPT_COLUMNS: Final = (
    "learner", "at", "card", "section", "hand", "wording", "rack", "way", "faults", "unsure"
)  # fmt: skip
ANSWER_COLUMNS: Final = ("learner", "at", "card", "question", "level", "rack", "correct")
ATTEMPT_HEADS: Final = ("learner", "when", "card", "section", "hand", "right", "faults", "way", "rack")
ANSWER_HEADS: Final = ("learner", "when", "card", "question", "level", "right", "rack")


def _yes(so: bool) -> str:
    return "yes" if so else "no"


def attempt_row(attempt: Attempt) -> tuple[str, ...]:
    """An attempt as a line of its table, in the order of `ATTEMPT_COLUMNS`."""
    hand = attempt.hand
    return (
        attempt.learner, attempt.at.isoformat(), hand.card, hand.section, hand.hand, hand.wording, attempt.rack,
        attempt.way, json.dumps([fault.value for fault in attempt.faults]), _yes(attempt.unsure),
    )  # fmt: skip


def answer_row(answer: Answer) -> tuple[str, ...]:
    """A quiz answer as a line of its table, in the order of `ANSWER_COLUMNS`."""
    return (
        answer.learner, answer.at.isoformat(), answer.card, answer.asks.value, answer.level.name.lower(), answer.rack,
        _yes(answer.right),
    )  # fmt: skip


def attempt_in(
    learner: str, at: str, card: str, section: str, hand: str, wording: str, rack: str, way: str, faults: str, unsure: str
) -> Attempt:
    """Return the attempt in a line of its table.

    Raises:
        ValueError: it holds something else.
    """
    known = tuple(Fault(value) for value in json.loads(faults))
    when, what = datetime.fromisoformat(at), HandId(card, section, hand, wording)
    return Attempt(learner, when, what, rack, way, known, unsure == "yes")


def answer_in(learner: str, at: str, card: str, asked: str, level: str, rack: str, right: str) -> Answer:
    """Return the quiz answer in a line of its table.

    Raises:
        ValueError, KeyError: it holds something else.
    """
    return Answer(learner, datetime.fromisoformat(at), card, Asks(asked), Level[level.upper()], rack, right == "yes")


def attempt_cells(attempt: Attempt) -> tuple[str, ...]:
    """An attempt for a spreadsheet, in the order of `ATTEMPT_HEADS`."""
    hand = attempt.hand
    faults = "; ".join(fault.value for fault in attempt.faults)
    right = "unsure" if attempt.unsure else _yes(attempt.right)
    when = attempt.at.isoformat(timespec="seconds")
    return attempt.learner, when, hand.card, hand.section, hand.hand, right, faults, attempt.way, attempt.rack


def answer_cells(answer: Answer) -> tuple[str, ...]:
    """A quiz answer for a spreadsheet, in the order of `ANSWER_HEADS`."""
    when = answer.at.isoformat(timespec="seconds")
    level = answer.level.name.lower()
    return answer.learner, when, answer.card, answer.asks.value, level, _yes(answer.right), answer.rack
