"""Scores of quizzes: every answer counts once, under what was asked and how hard it was."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, datetime

from tilewitness.engine.card import Card
from tilewitness.engine.quiz import Level, is_right, questions
from tilewitness.engine.scores import Answer, Asks, answer_of, asks, scores

NOON = datetime(2030, 1, 1, 12, tzinfo=UTC)


def test_answers_are_counted_by_what_was_asked_and_how_hard_it_was(demo: Card) -> None:
    answers: list[Answer] = []
    asked: Counter[tuple[Asks, Level]] = Counter()
    right: Counter[tuple[Asks, Level]] = Counter()
    for level in (Level.EASY, Level.HARD):
        for question in questions(demo, level, 3, 6):
            for chosen in (question.answer, {0}):
                answers.append(answer_of(question, chosen, demo, level, "Ada", NOON))
                asked[asks(question), level] += 1
                right[asks(question), level] += is_right(question, chosen)
    found = scores(demo, answers)

    assert 6 == len(found)
    assert asked == {(one.asks, one.level): one.asked for one in found}
    assert right == {(one.asks, one.level): one.right for one in found}
    assert () == scores(Card("Other", demo.hands, demo.forms), answers)
