"""A card: the hands a person typed in from the paper card they own.

A card is a TOML file: a `name`, then one table a section, then one line a hand, worded as `engine.grammar` tells:

    name = "My card"

    ["Warming up"]
    "Small steps" = "pair of flowers, kongs of 2, 4 and 6 in one suit; worth 25"
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from tilewitness.engine.cache import cached_forms
from tilewitness.engine.forms import Forms, TooManyForms, compile_forms
from tilewitness.engine.grammar import parse_hand
from tilewitness.engine.hands import Hand
from tilewitness.engine.wording import GrammarError


class CardError(ValueError):
    """A file that is no card. The message names the file, the line, the hand and what would be right.

    Attributes:
        source: the file, as it was given.
        line: line at fault, counted from 1; 0 when the whole file is at fault.
        hand: name of the hand at fault, or "".
        word: the word at fault, or "".
    """

    def __init__(self, source: str, problem: str, *, line: int = 0, hand: str = "", word: str = "") -> None:
        where = source + (f", line {line}" if line else "") + (f', hand "{hand}"' if hand else "")
        super().__init__(f"{where}: {problem}")
        self.source = source
        self.line = line
        self.hand = hand
        self.word = word


@dataclass(frozen=True, slots=True)
class Card:
    """The hands of one card, in card order.

    Attributes:
        name: what the card calls itself.
        forms: every concrete form of every hand, ready to be compared with a rack.
    """

    name: str
    hands: tuple[Hand, ...]
    forms: Forms = field(repr=False, compare=False)

    @property
    def sections(self) -> tuple[str, ...]:
        """Section names in card order."""
        return tuple(dict.fromkeys(hand.section for hand in self.hands))


def load_card(path: str | Path) -> Card:
    """Return the card in a TOML file; its forms come from the user's cache when they were compiled before.

    Raises:
        CardError: the file cannot be read or is no card.
    """
    try:
        text = Path(path).read_text(encoding="utf-8")
    except UnicodeDecodeError as error:
        raise CardError(str(path), "not a text file. Save the card as plain text in UTF-8.") from error
    except FileNotFoundError as error:
        raise CardError(str(path), f"there is no such file in {Path(path).absolute().parent}.") from error
    except IsADirectoryError as error:
        raise CardError(str(path), "this is a folder. Name the card file in it.") from error
    except OSError as error:
        raise CardError(str(path), f"cannot be read: {error.strerror}.") from error
    name, hands = _parse(text, str(path))
    return _compiled(name, hands, str(path), cached_forms)


def parse_card(text: str, *, source: str = "card") -> Card:
    """Return the card written in this TOML text; `source` is the name used in errors.

    Raises:
        CardError: the text is no card.

    >>> parse_card('name = "Tiny"\\n["One"]\\n"Only" = "singles of 1 to 9 bam, quint of flowers; worth 50"').name
    'Tiny'
    """
    name, hands = _parse(text, source)
    return _compiled(name, hands, source, compile_forms)


def _compiled(
    name: str, hands: tuple[Hand, ...], source: str, compiler: Callable[[tuple[Hand, ...]], Forms]
) -> Card:
    try:
        return Card(name, hands, compiler(hands))
    except TooManyForms as error:
        raise CardError(source, str(error), line=error.hand.line, hand=error.hand.name) from error


def _parse(text: str, source: str) -> tuple[str, tuple[Hand, ...]]:
    try:
        tables = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _not_toml(text, source, error) from error
    name = tables.pop("name", None)
    if not isinstance(name, str) or not name.strip():
        raise CardError(source, 'the card has no name. Begin the file with a line like name = "My card".', line=1)
    hands: list[Hand] = []
    for section, lines in tables.items():
        if not isinstance(lines, dict):
            problem = f'"{section}" stands in no section. Put a line like ["Warming up"] above it.'
            raise CardError(source, problem, line=_line_of(text, "", section), hand=section)
        hands += [_hand(text, source, section, key, value) for key, value in lines.items()]
    if not hands:
        raise CardError(source, "the card has no hands.")
    return name, tuple(hands)


def _hand(text: str, source: str, section: str, name: str, wording: object) -> Hand:
    line = _line_of(text, section, name)
    if not isinstance(wording, str):
        problem = 'a hand is one line of words in quotes, like "kong of 4 in one suit, …; worth 25".'
        raise CardError(source, problem, line=line, hand=name)
    try:
        return parse_hand(wording, name=name, section=section, line=line)
    except GrammarError as error:
        raise CardError(source, str(error), line=line, hand=name, word=error.word) from error


_A_LINE: Final = 'Write each hand on a line of its own: "Its name" = "kong of 4 in one suit, …; worth 25".'


def _not_toml(text: str, source: str, error: tomllib.TOMLDecodeError) -> CardError:
    """Say where the file is no TOML: the commonest slips in words of the card."""
    seen: set[tuple[str, str]] = set()
    for line, section, key in _keys(text):
        if (section, key) in seen:
            problem = "this name is there twice in its section. Give each hand a name of its own."
            return CardError(source, problem, line=line, hand=key)
        seen.add((section, key))
    where = re.search(r"line (\d+)", str(error))
    lines = text.splitlines()
    number = int(where[1]) if where else next((n for n, line in enumerate(lines, 1) if line.count('"') % 2), 0)
    return CardError(source, _slip(lines[number - 1] if 0 < number <= len(lines) else "", str(error)), line=number)


def _slip(line: str, error: str) -> str:
    """Say what is probably wrong with a line that is no TOML."""
    if re.search("[\u201c\u201d\u201e\u2018\u2019]", line.split("#")[0]):
        return 'the quotes are curly. Use the straight quote ", and turn "smart quotes" off in your editor.'
    if line.lstrip().startswith("["):
        if "twice" in error:
            return "this section is there twice. Give each section a name of its own, or put its hands together."
        return 'a section is its name in quotes and square brackets, like ["Warming up"].'
    if line.strip().startswith("name"):
        return 'the name stands in quotes, like name = "My card".'
    if line.count('"') % 2:
        return f"a quote is missing. {_A_LINE}"
    return f"not a hand. {_A_LINE}"


def _keys(text: str) -> Iterator[tuple[int, str, str]]:
    """Yield line, section and name of everything typed as a hand on a line of its own."""
    section = ""
    for number, line in enumerate(text.splitlines(), 1):
        if header := re.match(r"\s*\[\s*([\"']?)(.*?)\1\s*\]\s*(#.*)?$", line):
            section = header[2]
        elif key := re.match(r"\s*(?:\"([^\"]*)\"|'([^']*)'|([\w-]+))\s*=", line):
            yield number, section, next(name for name in key.groups() if name is not None)


def _line_of(text: str, section: str, key: str) -> int:
    """Return the line on which a hand is typed, counted from 1, or 0 if it is written in another way."""
    return next((line for line, *where in _keys(text) if where == [section, key]), 0)
