"""The options of the commands `practise` and `quiz`."""

from __future__ import annotations

import argparse
from typing import Any


def add_practise(commands: Any, exits: str) -> None:
    """Add the command `practise` with its options; `commands` is what `add_subparsers` gave."""
    parser: argparse.ArgumentParser = commands.add_parser(
        "practise", help="build the hands of a card, checked and remembered", epilog=exits
    )
    parser.add_argument("--card", required=True, help="card file to practise, such as samples/card.toml")
    which = parser.add_mutually_exclusive_group()
    which.add_argument("--hand", metavar="NAME", help="build this hand")
    which.add_argument("--next", action="store_true", help="build the hand that comes next (this, if none is named)")
    parser.add_argument("--section", metavar="NAME", help="only hands of this section")
    rack = parser.add_mutually_exclusive_group()
    rack.add_argument("--photo", metavar="PHOTO", help="photo of what you built: JPEG, PNG, WebP or HEIC")
    rack.add_argument("--tiles", help='what you built, typed: "pair of flowers, kong of 3 bam, ..."')
    rack.add_argument("--coverage", action="store_true", help="say what was built so far, and what comes next")
    rack.add_argument("--export", metavar="OUT.csv", help="write every attempt down for a spreadsheet")
    parser.add_argument("--set", metavar="NAME", help="the set in the photo, if it was learnt: see tilewitness set")
    _add_learner(parser)
    parser.add_argument("--json", action="store_true", help="one JSON object on a line")
    parser.add_argument("--aloud", action="store_true", help="say the answer as well")


def add_quiz(commands: Any, exits: str) -> None:
    """Add the command `quiz` with its options; `commands` is what `add_subparsers` gave."""
    parser: argparse.ArgumentParser = commands.add_parser("quiz", help="answer questions about your card", epilog=exits)
    parser.add_argument("--card", required=True, help="card file to ask about, such as samples/card.toml")
    parser.add_argument("--level", type=int, choices=(1, 2, 3), default=1, help="how hard (1)")
    parser.add_argument("--count", type=_count, default=9, help="how many questions (9)")
    parser.add_argument("--seed", type=int, help="a number: the same one asks the same questions again")
    parser.add_argument("--export", metavar="OUT.csv", help="write every answer up to now down for a spreadsheet")
    _add_learner(parser)
    parser.add_argument("--json", action="store_true", help="one JSON object a line: a question, what came of it, the score")
    parser.add_argument("--aloud", action="store_true", help="say questions and answers as well")


def _count(text: str) -> int:
    if not text.isdecimal() or int(text) < 1:
        raise argparse.ArgumentTypeError(f'"{text}" is no number of questions: ask for one or more')
    return int(text)


def _add_learner(parser: argparse.ArgumentParser) -> None:
    learner = parser.add_mutually_exclusive_group()
    learner.add_argument("--learner", metavar="NAME", help="whose notebook to use (me)")
    learner.add_argument("--new-learner", metavar="NAME", help="begin a notebook for somebody whose name is like another's")
