"""What `tilewitness quiz` does: ask, read the choice from standard input, answer, count."""

from __future__ import annotations

from argparse import Namespace
from random import randrange

from tilewitness.engine.card import load_card
from tilewitness.engine.quiz import Level, Question, is_right, questions
from tilewitness.ui import quiz_words
from tilewitness.ui.cli import NO_OPINION, OPINION
from tilewitness.ui.commands import give
from tilewitness.ui.words import SECOND_OPINION


def run(options: Namespace) -> int:
    """Run the command that was parsed and return its exit status. The end of the input ends the quiz."""
    seed = options.seed if options.seed is not None else randrange(10_000)
    asked = questions(load_card(options.card), Level(options.level), seed, options.count)
    if not asked:
        give(options, {}, [quiz_words.NO_QUESTIONS])
        return NO_OPINION
    right = answered = 0
    for question in asked:
        labels = [f"  {number}. {label}" for number, label in enumerate(quiz_words.option_labels(question), 1)]
        give(options, {}, [*quiz_words.question_sentences(question), *labels])
        chosen = _choice(question)
        if chosen is None:
            break
        answered += 1
        right += is_right(question, chosen)
        give(options, {}, [*quiz_words.answer_sentences(question, chosen), ""])
    give(options, {}, ["", quiz_words.score_sentence(right, answered), SECOND_OPINION])
    return OPINION


def _choice(question: Question) -> set[int] | None:
    """Ask until the choice is one; None at the end of the input."""
    ask = quiz_words.CHOOSE
    while True:
        try:
            typed = input(ask)
        except EOFError:
            return None
        numbers = typed.replace(",", " ").split()
        if numbers and all(number.isdecimal() and 1 <= int(number) <= question.options for number in numbers):
            return {int(number) - 1 for number in numbers}
        ask = quiz_words.NO_NUMBER.format(options=question.options) + quiz_words.CHOOSE
