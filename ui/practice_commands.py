"""What `tilewitness practise` does: name a hand to build, check what was built, keep it, tell what was learnt."""

from __future__ import annotations

from argparse import Namespace
from datetime import datetime
from pathlib import Path

from tilewitness.engine.card import Card, load_card
from tilewitness.engine.hands import Hand
from tilewitness.ui import practising
from tilewitness.ui.cli import NO_OPINION, OPINION
from tilewitness.ui.commands import give, read_and_mark, typed_rack
from tilewitness.ui.notebook import Notebook, NotebookError
from tilewitness.ui.practice_words import KEPT, NOT_KEPT, coverage_lines, exported, task_sentences
from tilewitness.ui.words import SECOND_OPINION


def run(options: Namespace) -> int:
    """Run the command that was parsed and return its exit status."""
    notebook = Notebook()
    if options.export:
        attempts = notebook.attempts()
        Path(options.export).write_text(notebook.csv(), encoding="utf-8", newline="")
        give(options, {}, [exported(len(attempts), options.export)])
        return OPINION
    card = load_card(options.card)
    if options.hand is not None and not options.coverage:
        hand = practising.named_hand(card, options.hand, options.section)
    else:
        done = practising.covered(card, options.learner, notebook)
        if options.coverage:
            give(options, {}, coverage_lines(done, datetime.now().astimezone().date()))
            return OPINION
        hand = practising.chosen_hand(card, done, name=None, section=options.section)
    if options.photo is None and options.tiles is None:
        give(options, {}, task_sentences(hand))
        return OPINION
    return _check(options, hand, card, notebook)


def _check(options: Namespace, hand: Hand, card: Card, notebook: Notebook) -> int:
    """Check the photo or the typed tiles; what may be misread is told but not kept."""
    if options.tiles is not None:
        checked = practising.check_rack(typed_rack(options.tiles), hand, card)
    else:
        reading = read_and_mark(options.photo, options)
        if not reading.tiles:
            from tilewitness.ui.photo_words import reading_lines

            give(options, {}, reading_lines(reading))
            return NO_OPINION
        checked = practising.check_reading(reading, hand, card)
    kept = _keep(checked, card, options.learner, notebook) if checked.sure else NOT_KEPT
    give(options, {}, [*checked.verdict.sentences, kept, SECOND_OPINION])
    return OPINION


def _keep(checked: practising.Checked, card: Card, learner: str, notebook: Notebook) -> str:
    """Write a check down and tell whether that went well: the check is told either way."""
    try:
        practising.keep(checked, card, learner, notebook)
    except NotebookError as error:
        return str(error)
    return KEPT.format(learner=learner)
