"""The options of the command `set`."""

from __future__ import annotations

import argparse
from typing import Any

PLACE_HELP = 'say what a tile is, by its place: "row 2 place 3: 5 crak", or "row 2 place 3: leave out"; may be repeated'


def add_set(commands: Any, parser_class: type[argparse.ArgumentParser]) -> None:
    """Add the command and the commands below it."""
    parser = commands.add_parser("set", help="learn the artwork of your own set of tiles")
    actions = parser.add_subparsers(dest="action", metavar="ACTION", required=True, parser_class=parser_class)
    _add_layout(actions.add_parser("layout", help="say which tiles to lay out in which rows"))
    learn = actions.add_parser("learn", help="learn a set, or more of it, from photos of the layout")
    _add_name(learn)
    learn.add_argument("photos", nargs="+", metavar="PHOTO", help="JPEG, PNG, WebP or HEIC")
    _add_layout(learn)
    learn.add_argument("--place", action="append", default=[], metavar='"ROW: TILE"', help=PLACE_HELP)
    learn.add_argument("--as-laid-out", action="store_true", help="the layout is right, whatever the tiles look like")
    learn.add_argument("--json", action="store_true", help="what was made of each place as one JSON object")
    correct = actions.add_parser("correct", help="teach a set tiles of a photo that were misread")
    _add_name(correct)
    correct.add_argument("photo", metavar="PHOTO")
    correct.add_argument("--place", action="append", required=True, metavar='"ROW: TILE"', help=PLACE_HELP)
    actions.add_parser("list", help="list the sets that were learnt")
    _add_name(actions.add_parser("undo", help="take back the last correction, or the last photos learnt"))
    rename = actions.add_parser("rename", help="give a set another name")
    _add_name(rename)
    rename.add_argument("new", metavar="NEW")
    _add_name(actions.add_parser("delete", help="delete a set"))
    export = actions.add_parser("export", help="write a set to one file")
    _add_name(export)
    export.add_argument("file", metavar="FILE")
    taken = actions.add_parser("import", help="take in a set from a file that was exported")
    taken.add_argument("file", metavar="FILE")
    taken.add_argument("--name", help="keep it under this name")


def _add_name(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name", metavar="NAME", help="your name for the set")


def _add_layout(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--flowers", type=int, default=8, help="how many different flowers the set has (8)")
    parser.add_argument("--jokers", type=int, default=1, help="how many different jokers the set has (1)")
    parser.add_argument("--aloud", action="store_true", help="say the answer as well")
