"""What a hand of a card asks for, as data: groups, the tiles they are made of, and the rules between them.

`str` of a hand is the wording of a card file (see `engine.grammar`), so a hand prints as it is typed.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum
from typing import Final

from tilewitness.engine.faces import FACES, Face, Kind

SIZES: Final = ("single", "pair", "pung", "kong", "quint", "sextet")
"""The trade's words for one to six equal tiles, in that order."""


def size_word(size: int) -> str:
    """Return the trade's word for a group of this many equal tiles (1 to 6).

    >>> size_word(4)
    'kong'
    """
    return SIZES[size - 1]


class SuitRule(Enum):
    """Which suit the numbers and matching dragons of a group stand in; the value is the wording.

    First, second and third suit are free but always different from one another.
    """

    FIRST = "first suit"
    SECOND = "second suit"
    THIRD = "third suit"
    BAM = "bam"
    CRAK = "crak"
    DOT = "dot"
    ANY = "any suit"
    """A suit of the group's own, whatever the other groups use."""
    TWO_IN_TURN = "two suits in turn"
    """Knitted: tile by tile the first suit, the second, the first again."""
    THREE_IN_TURN = "three suits in turn"

    def __str__(self) -> str:
        article = "the " if self in (SuitRule.FIRST, SuitRule.SECOND, SuitRule.THIRD) else ""
        return f"in {article}{self.value}"


class NumberName(Enum):
    """A free number that the player chooses; the value is the wording."""

    FIRST = "first number"
    SECOND = "second number"
    THIRD = "third number"
    SUM = "sum"
    """The first and the second number added together."""


@dataclass(frozen=True, slots=True)
class Number:
    """A numbered tile: a fixed number (`of` is None) or so many above (below, if negative) a free one."""

    offset: int
    of: NumberName | None = None

    def __str__(self) -> str:
        if self.of is None:
            return str(self.offset)
        if self.offset == 0:
            return f"the {self.of.value}"
        return f"{abs(self.offset)} {'above' if self.offset > 0 else 'below'} the {self.of.value}"


class Honour(Enum):
    """A wind or dragon that the hand does not name but ties to something; the value is the wording."""

    MATCHING_DRAGON = "matching dragon"
    """The dragon that belongs to the suit of its group."""
    OPPOSITE_DRAGON = "opposite dragon"
    """A dragon that belongs to no suit used by the hand's numbers."""
    FIRST_DRAGON = "first dragon"
    SECOND_DRAGON = "second dragon"
    THIRD_DRAGON = "third dragon"
    FIRST_WIND = "first wind"
    SECOND_WIND = "second wind"
    THIRD_WIND = "third wind"
    FOURTH_WIND = "fourth wind"
    OPPOSITE_WIND = "opposite wind"
    """The wind across from the first wind: north and south, east and west."""

    def __str__(self) -> str:
        return f"the {self.value}"


Wanted = Number | Honour | Face
"""What a card asks for in one place of a group. A face is a wind, dragon or flower named outright."""


class Pool(Enum):
    """Faces that a free choice is made from; the value is the wording."""

    TILES = "any tiles"
    TERMINALS = "terminals"
    HONOURS = "honours"
    TERMINALS_OR_HONOURS = "terminals or honours"

    @property
    def faces(self) -> tuple[Face, ...]:
        """The faces in stored order; never flowers or jokers."""
        return tuple(face for face in FACES[:34] if self._holds(face))

    def _holds(self, face: Face) -> bool:
        honour = face.kind in (Kind.WIND, Kind.DRAGON)
        terminal = face.number in (1, 9)
        return {
            Pool.TILES: True,
            Pool.TERMINALS: terminal,
            Pool.HONOURS: honour,
            Pool.TERMINALS_OR_HONOURS: terminal or honour,
        }[self]


@dataclass(frozen=True, slots=True)
class Group:
    """One phrase of a hand: so many equal tiles of each wanted face ("pairs of 2, 4 and 6")."""

    size: int
    tiles: tuple[Wanted, ...]
    suit: SuitRule | None = None

    @property
    def needs_suit(self) -> bool:
        """Some tile takes its suit from the phrase."""
        return any(isinstance(tile, Number) or tile is Honour.MATCHING_DRAGON for tile in self.tiles)

    @property
    def names_its_tiles(self) -> bool:
        """Every tile is a given number of a given suit, so that the suit is said as part of its name: "7 crak"."""
        given = all(isinstance(tile, Number) and tile.of is None for tile in self.tiles)
        return given and self.suit in (SuitRule.BAM, SuitRule.CRAK, SuitRule.DOT)

    def __str__(self) -> str:
        plural = "s" if len(self.tiles) > 1 else ""
        words = f"{size_word(self.size)}{plural} of {_listed(_tile_words(self.tiles))}"
        if self.suit is None:
            return words
        return f"{words} {self.suit.value}" if self.names_its_tiles else f"{words} {self.suit}"


@dataclass(frozen=True, slots=True)
class Choice:
    """A free choice of singles or pairs from a pool ("7 different pairs of any tiles").

    Attributes:
        size: 1 for singles, 2 for pairs.
        different: no face is chosen twice.
        pool: what is chosen from; None for knitted pairs: one number in the first suit and in the second.
    """

    count: int
    size: int
    different: bool
    pool: Pool | None

    def __str__(self) -> str:
        word = "different " if self.different else ""
        if self.pool is None:
            return f"{self.count} {word}knitted pairs"
        plural = "s" if self.count > 1 else ""
        return f"{self.count} {word}{size_word(self.size)}{plural} of {self.pool.value}"


@dataclass(frozen=True, slots=True)
class Either:
    """Alternatives inside a hand: exactly one branch is played."""

    branches: tuple[tuple[Group | Choice, ...], ...]


Part = Group | Choice | Either


NUMBER_SETS: Final = {
    "odd": (1, 3, 5, 7, 9),
    "even": (2, 4, 6, 8),
    "low": (1, 2, 3, 4, 5),
    "high": (5, 6, 7, 8, 9),
    "a multiple of 3": (3, 6, 9),
}
"""Sets of numbers with a name of their own."""


@dataclass(frozen=True, slots=True)
class NumberRule:
    """The values a free number may take, ascending."""

    name: NumberName
    allowed: tuple[int, ...]

    def __str__(self) -> str:
        subject = "the number" if self.name is NumberName.FIRST else f"the {self.name.value}"
        named = next((words for words, numbers in NUMBER_SETS.items() if numbers == self.allowed), None)
        return f"{subject} is {named or _listed([str(n) for n in self.allowed], 'or')}"


@dataclass(frozen=True, slots=True)
class Hand:
    """One hand of a card.

    Attributes:
        name: as typed; unique within its section.
        section: heading it stands under.
        parts: phrases in card order.
        worth: points of the card.
        concealed: no group may be claimed from a discard except with the winning tile.
        no_jokers: not even groups of three or more may hold a joker.
        rules: values allowed to free numbers.
        numbers_differ: no two free numbers may be equal.
        note: a remark to be read aloud, or "".
        line: line of the card file, counted from 1; 0 when it came from no file.
    """

    name: str
    section: str
    parts: tuple[Part, ...]
    worth: int
    concealed: bool = False
    no_jokers: bool = False
    rules: tuple[NumberRule, ...] = ()
    numbers_differ: bool = False
    note: str = ""
    line: int = 0

    @property
    def tiles_wording(self) -> str:
        """What may be said of its tiles: groups, rules for numbers, that jokers are barred."""
        clauses = [_spoken(", ".join(_runs(self.parts))), *map(str, self.rules)]
        clauses += ["numbers differ"] * self.numbers_differ + ["no jokers"] * self.no_jokers
        return "; ".join(clauses)

    def __str__(self) -> str:
        clauses = [self.tiles_wording, "concealed" if self.concealed else "exposed", f"worth {self.worth}"]
        clauses += [f"note {self.note}"] * bool(self.note)
        return "; ".join(clauses)


def _runs(parts: Sequence[Part]) -> list[str]:
    """Return the wording of each phrase, the suit named once at the end of a run that shares it."""
    words: list[str] = []
    for part, after in zip(parts, [*parts[1:], None], strict=True):
        if isinstance(part, Either):
            words.append("either " + " or ".join(" and ".join(_runs(branch)) for branch in part.branches))
        elif isinstance(part, Group) and isinstance(after, Group) and _share_suit(part, after):
            words.append(str(replace(part, suit=None)))
        else:
            words.append(str(part))
    return words


def _share_suit(part: Group, after: Group) -> bool:
    """The suit said after the second phrase counts for the first too."""
    alone = part.suit is SuitRule.ANY or part.names_its_tiles or after.names_its_tiles
    return part.suit is after.suit and not alone


def _spoken(words: str) -> str:
    """Say "any number" and "the same number" for the first number, "another wind" for the second, and so on."""
    for noun in ("number", "wind", "dragon"):
        words = re.sub(rf"(above|below) the first {noun}", r"\1", words)
        words = words.replace(f"the first {noun}", f"any {noun}", 1).replace(f"the first {noun}", f"the same {noun}")
        words = re.sub(rf"(?<!above )(?<!below )the second {noun}", f"another {noun}", words, count=1)
    if "the second suit" in words or "the third suit" in words or "in turn" in words:
        return words
    return words.replace("in the first suit", "in one suit")


def _listed(words: list[str], last: str = "and") -> str:
    """Join words as in a sentence: "2, 4 and 6"."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}"


_ALL: Final = {"all winds": FACES[27:31], "all dragons": FACES[31:34]}


def _tile_words(tiles: tuple[Wanted, ...]) -> list[str]:
    """Return the wording of each tile; runs of numbers, all winds and all dragons in few words."""
    words: list[str] = []
    numbers = any(isinstance(tile, Number) for tile in tiles)
    rest = list(tiles)
    while rest:
        phrase = next((p for p, faces in _ALL.items() if tuple(rest[: len(faces)]) == faces), None)
        run = _run_length(rest)
        if phrase:
            words.append(phrase)
            del rest[: len(_ALL[phrase])]
        elif run >= 3:
            words.append(f"{rest[0]} to {rest[run - 1]}")
            del rest[:run]
        else:
            tile = rest.pop(0)
            words.append(_face_words(tile, numbers) if isinstance(tile, Face) else str(tile))
    return words


def _face_words(face: Face, among_numbers: bool) -> str:
    if face.kind is Kind.FLOWER:
        return "flowers"
    return "zero" if among_numbers and face.name == "white dragon" else face.name


def _run_length(tiles: Sequence[Wanted]) -> int:
    """How many tiles from the first on are numbers one above the other."""
    first = tiles[0]
    if not isinstance(first, Number):
        return 0
    run = itertools.takewhile(
        lambda pair: pair[1] == replace(first, offset=first.offset + pair[0]), enumerate(tiles)
    )
    return sum(1 for _ in run)
