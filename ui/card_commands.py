"""What the command `card` does: check a card file, compare it with another, put it on paper."""

from __future__ import annotations

import sys
from argparse import Namespace
from pathlib import Path

from tilewitness.engine.card import load_card
from tilewitness.engine.compare import compare_cards
from tilewitness.ui.card_words import card_lines, paper_lost
from tilewitness.ui.cli import OPINION
from tilewitness.ui.commands import writing
from tilewitness.ui.compare_words import comparison_lines
from tilewitness.ui.paper import Paper, Sheet, print_card


def run(options: Namespace) -> int:
    """Print a card back in sentences, or what changed since another card; write the PDF files that were asked for."""
    card = load_card(options.file)
    for option, path, sheet in (("--sheet", options.sheet, Sheet.PRACTICE), ("--chart", options.chart, Sheet.CHART)):
        if path and not path.lower().endswith(".pdf"):
            raise ValueError(f"{path}: {option} writes a PDF file. Give it a name that ends in .pdf.")
        if path:
            printed = print_card(card, sheet, Paper(options.paper))
            with writing(path):
                Path(path).write_bytes(printed.pdf)
            if not printed.complete:
                print(f"tilewitness: {path}: {paper_lost(printed.lost)}", file=sys.stderr)
    if options.against:
        lines = comparison_lines(compare_cards(load_card(options.against), card))
    else:
        lines = card_lines(card)
    print("\n".join(lines))
    return OPINION
