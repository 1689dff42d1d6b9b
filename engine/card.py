"""A card: the hands a person typed in from the paper card they own.

A card is a TOML file: a `name`, then one table a section, then one line a hand, worded as `engine.grammar` tells:

    name = "My card"

    ["Warming up"]
    "Small steps" = "pair of flowers, kongs of 2, 4 and 6 in one suit; worth 25"
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from tilewitness.engine.cache import cached_forms
from tilewitness.engine.card_file import typed_lines
from tilewitness.engine.forms import Forms, TooManyForms, compile_forms
from tilewitness.engine.grammar import parse_hand
from tilewitness.engine.hands import Hand
from tilewitness.engine.slips import A_LINE, without_slips
from tilewitness.engine.wording import GrammarError


@dataclass(frozen=True, slots=True)
class CardFault:
    """One thing that is wrong with a card file.

    Attributes:
        problem: what is wrong and what would be right.
        line: line at fault, counted from 1; 0 when the whole file is at fault.
        hand: name of the hand at fault, or "".
        word: the word at fault, or "".
        column: where that word begins in the wording of the hand, counted from 1; 0 when no word is at fault.
    """

    problem: str
    line: int = 0
    hand: str = ""
    word: str = ""
    column: int = 0

    def __str__(self) -> str:
        where = [f"line {self.line}"] * bool(self.line) + [f'hand "{self.hand}"'] * bool(self.hand)
        return f"{', '.join(where)}: {self.problem}" if where else self.problem


class CardError(ValueError):
    """A file that is no card. The message has a line for each fault: file, line, hand, and what would be right.

    Attributes:
        source: the file, as it was given.
        faults: everything that is wrong, from the first line to the last.
    """

    def __init__(self, source: str, faults: Sequence[CardFault]) -> None:
        super().__init__("\n".join(f"{source}{', ' if one.line else ': '}{one}" for one in faults))
        self.source = source
        self.faults = tuple(faults)


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
        data = Path(path).read_bytes()
    except FileNotFoundError as error:
        raise CardError(str(path), [CardFault(f"there is no such file in {Path(path).absolute().parent}.")]) from error
    except IsADirectoryError as error:
        raise CardError(str(path), [CardFault("this is a folder. Name the card file in it.")]) from error
    except OSError as error:
        raise CardError(str(path), [CardFault(f"cannot be read: {error.strerror}.")]) from error
    name, hands = _parse(card_text(data, source=str(path)), str(path))
    return _compiled(name, hands, str(path), cached_forms)


def card_text(data: bytes, *, source: str = "card") -> str:
    """Return the text of a card file, without the mark of byte order that some editors put first.

    Raises:
        CardError: the text is not in UTF-8; letters taken for others would be lost when the card is kept.
    """
    try:
        return data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        raise CardError(source, [CardFault(_NO_UTF_8)]) from error


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
        raise CardError(source, _too_open(hands)) from error


def _too_open(hands: Iterable[Hand]) -> list[CardFault]:
    """Find all hands that leave more open than can be compared."""
    faults: list[CardFault] = []
    for hand in hands:
        try:
            compile_forms((hand,))
        except TooManyForms as error:
            faults.append(CardFault(str(error), hand.line, hand.name))
    return faults


_NO_UTF_8: Final = (
    'not a text file, or its letters are not in UTF-8. In your editor choose "Save as" and the encoding UTF-8.'
)
_NO_CARD: Final = f"this is no card file: it has no line for a hand. {A_LINE}"


def _is_other_text(text: str) -> bool:
    """Whether this is a text of another kind, of which it helps nobody to be told line by line."""
    lines = [line for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#")]
    return len(lines) > 3 and not any("=" in line for line in lines)


def _parse(text: str, source: str) -> tuple[str, tuple[Hand, ...]]:
    """Return name and hands of a card; whatever is wrong with the file is found before it is refused."""
    if _is_other_text(text):
        raise CardError(source, [CardFault(_NO_CARD)])
    text, slips = without_slips(text)
    faults = [CardFault(slip.problem, slip.line, slip.hand) for slip in slips]
    lines = {(one.section, one.name): one.line for one in typed_lines(text)}
    tables = tomllib.loads(text)
    name = tables.pop("name", None)
    if not isinstance(name, str) or not name.strip():
        name = ""
        if text:
            problem = 'the card has no name. Begin the file with a line like name = "My card".'
            faults.append(CardFault(problem, 1))
    hands: list[Hand] = []
    for section, entries in tables.items():
        if isinstance(entries, dict):
            for key, value in entries.items():
                hands += _hand(value, section, key, lines.get((section, key), 0), faults)
        else:
            problem = f'"{section}" stands in no section. Put a line like ["Warming up"] above it.'
            faults.append(CardFault(problem, lines.get(("", section), 0), section))
    if not hands and not faults:
        faults.append(CardFault(f"the card has no hands. {A_LINE}"))
    if faults:
        faults += _too_open(hands)
        raise CardError(source, sorted(faults, key=lambda fault: fault.line))
    return name, tuple(hands)


def _hand(wording: object, section: str, name: str, line: int, faults: list[CardFault]) -> list[Hand]:
    """Return the hand, or none after telling what is wrong with it."""
    if not isinstance(wording, str):
        problem = 'a hand is one line of words in quotes, like "kong of 4 in one suit, …; worth 25".'
        faults.append(CardFault(problem, line, name))
        return []
    try:
        return [parse_hand(wording, name=name, section=section, line=line)]
    except GrammarError as error:
        faults += [CardFault(str(one), line, name, one.word, one.column) for one in error.all]
        return []
