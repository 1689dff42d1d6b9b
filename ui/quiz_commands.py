"""What `tilewitness quiz` does: ask, read the choice from standard input, answer, keep it, count."""

from __future__ import annotations

import sys
from argparse import Namespace
from datetime import datetime
from random import randrange

from tilewitness.engine.card import load_card
from tilewitness.engine.quiz import Level, Question, is_right, questions
from tilewitness.engine.scores import answer_of
from tilewitness.ui import quiz_words
from tilewitness.ui.cli import NO_OPINION, OPINION
from tilewitness.ui.commands import give
from tilewitness.ui.notebook import Notebook, NotebookError
from tilewitness.ui.practice_commands import learner, write_csv
from tilewitness.ui.practice_records import answer_record, question_record
from tilewitness.ui.practice_words import exported
from tilewitness.ui.words import SECOND_OPINION


def run(options: Namespace) -> int:
    """Run the command that was parsed and return its exit status. The end of the input ends the quiz."""
    notebook = Notebook()
    if options.export:
        answers = notebook.answers()
        write_csv(options.export, notebook.answers_csv())
        give(options, {"answers": len(answers)}, [exported(len(answers), "answer", options.export)])
        return OPINION
    card, level, trouble = load_card(options.card), Level(options.level), ""
    who = learner(options, notebook)
    seed = options.seed if options.seed is not None else randrange(10_000)
    asked = questions(card, level, seed, options.count)
    if not asked:
        give(options, {"sentences": [quiz_words.NO_QUESTIONS]}, [quiz_words.NO_QUESTIONS])
        return NO_OPINION
    right = answered = 0
    for number, question in enumerate(asked, 1):
        labels, lines = quiz_words.option_labels(question), quiz_words.question_sentences(question)
        numbered = [f"  {choice}. {label}" for choice, label in enumerate(labels, 1)]
        give(options, question_record(number, question, labels, lines), [*lines, *numbered])
        chosen = _choice(question)
        if chosen is None:
            break
        answered += 1
        right += is_right(question, chosen)
        try:
            notebook.record_answer(answer_of(question, chosen, card, level, who, datetime.now().astimezone()))
        except NotebookError as error:
            trouble = str(error)  # told at the end: it costs the memory, never the quiz
        lines = quiz_words.answer_sentences(question, chosen)
        give(options, answer_record(number, question, chosen, lines), [*lines, ""])
    lines = [quiz_words.score_sentence(right, answered), *[trouble] * bool(trouble), SECOND_OPINION]
    give(options, {"right": right, "answered": answered, "learner": who, "sentences": lines}, ["", *lines])
    return OPINION


def _choice(question: Question) -> set[int] | None:
    """Ask until the choice is one; None at the end of the input. Standard output is for answers, so this is asked beside it."""
    ask = quiz_words.CHOOSE
    if sys.stdin is None:  # it was closed: nobody can answer
        return None
    while True:
        print(ask, end="", file=sys.stderr, flush=True)
        try:
            typed = input()
        except EOFError:
            return None
        numbers = typed.replace(",", " ").split()
        if numbers and all(number.isdecimal() and 1 <= int(number) <= question.options for number in numbers):
            return {int(number) - 1 for number in numbers}
        ask = quiz_words.NO_NUMBER.format(options=question.options) + quiz_words.CHOOSE
