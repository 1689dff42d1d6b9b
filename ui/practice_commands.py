"""What `tilewitness practise` does: name a hand to build, check what was built, keep it, tell what was learnt."""

from __future__ import annotations

from argparse import Namespace
from datetime import datetime
from pathlib import Path

from tilewitness.engine.card import Card, load_card
from tilewitness.engine.hands import Hand
from tilewitness.engine.scores import scores
from tilewitness.ui import practising
from tilewitness.ui.cli import NO_OPINION, OPINION
from tilewitness.ui.commands import give, read_tiles, typed_rack, writing
from tilewitness.ui.notebook import Notebook, NotebookError
from tilewitness.ui.photo_records import Record, reading_record
from tilewitness.ui.photo_words import advice_sentences, reading_lines
from tilewitness.ui.practice_records import checked_record, coverage_record, task_record
from tilewitness.ui.practice_words import (
    LOOK_AGAIN,
    ME,
    coverage_lines,
    exported,
    kept_sentence,
    more_than_a_hand,
    task_sentences,
)
from tilewitness.ui.words import SECOND_OPINION


def run(options: Namespace) -> int:
    """Run the command that was parsed and return its exit status."""
    notebook = Notebook()
    if options.export:
        attempts = notebook.attempts()
        write_csv(options.export, notebook.attempts_csv())
        give(options, {"attempts": len(attempts)}, [exported(len(attempts), "attempt", options.export)])
        return OPINION
    card = load_card(options.card)
    if options.coverage:
        return _coverage(options, card, notebook)
    if options.hand is not None:
        hand = practising.named_hand(card, options.hand, options.section)
    else:
        done = practising.covered(card, learner(options, notebook), notebook)
        hand = practising.chosen_hand(card, done, name=None, section=options.section)
    if options.photo is None and options.tiles is None:
        sentences = task_sentences(hand)
        give(options, task_record(hand, sentences), sentences)
        return OPINION
    return _check(options, hand, card, notebook)


def write_csv(path: str, text: str) -> None:
    """Write a list for a spreadsheet."""
    with writing(path):
        Path(path).write_text(text, encoding="utf-8", newline="")


def learner(options: Namespace, notebook: Notebook) -> str:
    """Whose notebook it is.

    Raises:
        ValueError: there is nobody of this name, but somebody of nearly this name.
        NotebookError: the notebook cannot be read.
    """
    known = notebook.learners()
    name = practising.learner_called(options.learner or options.new_learner or ME, known)
    near = practising.learner_like(options.learner or "", known) if name not in known else None
    if near:
        raise ValueError(
            f'there is no "{name}" in the notebook. Did you mean "{near}"? '
            f'To begin a notebook for somebody new, write --new-learner "{name}".'
        )
    return name


def _coverage(options: Namespace, card: Card, notebook: Notebook) -> int:
    who = learner(options, notebook)
    done = practising.covered(card, who, notebook)
    quizzes = scores(card, notebook.answers(who))
    lines = coverage_lines(done, quizzes, datetime.now().astimezone().date())
    give(options, {"learner": who, **coverage_record(done, quizzes, lines)}, lines)
    return OPINION


def _check(options: Namespace, hand: Hand, card: Card, notebook: Notebook) -> int:
    """Check the photo or the typed tiles, and write it down; what may be misread as unsure."""
    seen: Record = {}
    if options.tiles is not None:
        checked = practising.check_rack(typed_rack(options), hand, card)
    else:
        reading = read_tiles(options.photo, options)
        seen = reading_record(options.photo, reading, advice_sentences(reading))
        if not reading.tiles:
            lines = reading_lines(reading)
            give(options, {**seen, "verdict": "no tiles", "sentences": lines}, lines)
            return NO_OPINION
        if len(reading.tiles) > practising.MOST_TILES:
            lines = [more_than_a_hand(len(reading.tiles))]
            give(options, {**seen, "verdict": "too many tiles", "sentences": lines}, lines)
            return NO_OPINION
        checked = practising.check_reading(reading, hand, card)
    kept, told = _keep(checked, card, options, notebook)
    lines = [*checked.verdict.sentences, *told]
    record = checked_record(checked, kept, lines)
    give(options, {**seen, **record, "note": SECOND_OPINION}, [*lines, SECOND_OPINION])
    return OPINION


def _keep(checked: practising.Checked, card: Card, options: Namespace, notebook: Notebook) -> tuple[str, list[str]]:
    """Write a check down and tell whether that went well: the check is told either way."""
    try:
        who = learner(options, notebook)
        practising.keep(checked, card, who, notebook)
    except NotebookError as error:
        return "no", [str(error)]
    if checked.sure:
        return "counts", [kept_sentence(who)]
    return "unsure", [kept_sentence(who, unsure=True), LOOK_AGAIN]
