"""The command line. Answers go to standard output and nothing else does; heavy libraries load after parsing.

Exit status: 0 an opinion was given, whatever it is; 1 the photo gave none; 2 wrong usage or unreadable
input; 130 interrupted.
"""

from __future__ import annotations

import argparse
import gc
import io
import os
import sys
from collections.abc import Sequence
from typing import Final, NoReturn

from tilewitness.ui.practice_options import add_practise, add_quiz
from tilewitness.ui.set_options import add_set

OPINION, NO_OPINION, UNREADABLE, INTERRUPTED = 0, 1, 2, 130

_EXITS: Final = (
    "exit status: 0 an opinion was given, whatever it is; 1 the photo gave none; "
    "2 wrong usage or unreadable input; 130 interrupted"
)
_COMMANDS: Final = ("read", "judge", "card", "practise", "quiz", "set", "app")


class _Parser(argparse.ArgumentParser):
    """Suggests the nearest word for a misspelled command or option."""

    def error(self, message: str) -> NoReturn:
        import difflib

        typed = [word for word in sys.argv[1:] if word in message]
        options = [option for parser in (self, *self._commands()) for option in parser._option_string_actions]
        known = [*_COMMANDS, *options]
        near = [match for word in typed for match in difflib.get_close_matches(word, known, n=1)]
        hint = f' Did you mean "{near[0]}"?' if near and near[0] not in typed else ""
        self.exit(UNREADABLE, f"{self.prog}: {message}.{hint} Try {self.prog} --help.\n")

    def _commands(self) -> list[argparse.ArgumentParser]:
        """The parsers of the commands below this one: what they do not know is reported here."""
        below = [action for action in self._actions if isinstance(action, argparse._SubParsersAction)]
        return [parser for action in below for parser in action.choices.values()]


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="tilewitness",
        description="A second opinion on a photographed American mah-jongg rack. Photos stay on this computer.",
        epilog=_EXITS,
    )
    parser.add_argument("--version", action="store_true", help="print the version and stop")
    parser.set_defaults(debug=False)
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", parser_class=_Parser)
    _add_read(commands)
    _add_judge(commands)
    card = commands.add_parser("card", help="check a card file and print it back in sentences", epilog=_EXITS)
    card.add_argument("file", metavar="FILE")
    card.add_argument("--against", metavar="OLD", help="say what is new, gone or changed since another card file")
    card.add_argument("--sheet", metavar="OUT.pdf", help="write a practice sheet in large print")
    card.add_argument("--chart", metavar="OUT.pdf", help="write a wall chart in large print")
    card.add_argument("--paper", choices=("a4", "letter"), default="a4", help="paper of the sheet; a chart takes twice its size")
    add_practise(commands, _EXITS)
    add_quiz(commands, _EXITS)
    add_set(commands, _Parser)
    _add_app(commands)
    for each in (parser, *commands.choices.values()):
        text = "show a traceback instead of a sentence on errors"
        each.add_argument("--debug", action="store_true", default=argparse.SUPPRESS, help=text)
    return parser


def _add_read(commands: argparse._SubParsersAction[_Parser]) -> None:
    parser = commands.add_parser("read", help="list the tiles in photos", epilog=_EXITS)
    parser.add_argument("photos", nargs="+", metavar="PHOTO", help="JPEG, PNG, WebP or HEIC")
    _add_output(parser)


def _add_judge(commands: argparse._SubParsersAction[_Parser]) -> None:
    parser = commands.add_parser("judge", help="judge a rack against a card", epilog=_EXITS)
    rack = parser.add_mutually_exclusive_group(required=True)
    rack.add_argument("photo", nargs="?", metavar="PHOTO", help="JPEG, PNG, WebP or HEIC")
    text = 'typed tiles in place of a photo, claimed groups in brackets: "flower, (kong of 3 bam), joker"'
    rack.add_argument("--tiles", help=text)
    parser.add_argument("--card", required=True, help="card file to judge against, such as samples/card.toml")
    parser.add_argument("--discard", metavar="TILE", help='say what a tile just discarded may be claimed for: "4 bam"')
    _add_output(parser)


def _add_app(commands: argparse._SubParsersAction[_Parser]) -> None:
    parser = commands.add_parser("app", help="open the app in a browser")
    text = "let phones and computers on the same network use the app too, until it is stopped"
    parser.add_argument("--home-network", action="store_true", help=text)
    parser.add_argument("--port", type=_port, default=8501, help="port number, 1024 to 65535 (8501)")
    parser.add_argument("--no-browser", action="store_true", help="do not open a browser")


def _port(text: str) -> int:
    if not text.isdecimal() or not 1024 <= int(text) <= 65535:
        raise argparse.ArgumentTypeError(f'"{text}" is no port number from 1024 to 65535')
    return int(text)


def _add_output(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--set", metavar="NAME", help="the set in the photo, if it was learnt: see tilewitness set")
    parser.add_argument("--json", action="store_true", help="one JSON object a photo, on a line of its own")
    parser.add_argument("--mark", metavar="OUT.png", help="draw the photo with every tile outlined and named")
    parser.add_argument("--aloud", action="store_true", help="say the answer as well")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status."""
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")  # a letter that cannot be written there shall not cost the answer
    parser = _parser()
    options = parser.parse_args(arguments)
    if options.version:
        import tilewitness

        print(f"tilewitness {tilewitness.__version__}")
        return OPINION
    if options.command is None:
        parser.print_help(sys.stderr)
        return UNREADABLE
    try:
        if getattr(options, "photos", None) or getattr(options, "photo", None):
            _start_fast()
        from tilewitness.ui import commands

        return commands.run(options)
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        sys.stdout = None  # whoever read the answer has left; nothing to flush
        return OPINION
    except (ValueError, OSError, RuntimeError) as error:
        if options.debug:
            raise
        from tilewitness.ui.typing_words import error_lines

        for line in error_lines(error):
            print(f"tilewitness: {line}", file=sys.stderr)
        return UNREADABLE


def _start_fast() -> None:
    """Get ready to read a photo: the networks open while the rest is loaded."""
    gc.set_threshold(50_000)  # loading leaves many objects and no garbage
    sys.setswitchinterval(0.0005)  # the thread that reads the photo need not wait long for those that load the rest
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # numpy's products are small: starting threads takes longer
    from tilewitness.models import start_opening

    start_opening()
