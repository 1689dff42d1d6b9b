"""The 36 faces of an American mah-jongg set, their names, and how many of each a set holds.

A face is what a tile means, not what is drawn on it: a parrot and a peacock are both 1 bam.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum
from typing import Final, Self


class Suit(Enum):
    """The three suits; the value is the word used in every name."""

    BAM = "bam"
    CRAK = "crak"
    DOT = "dot"


class Kind(Enum):
    """What sort of tile a face belongs to."""

    SUITED = "suited"
    WIND = "wind"
    DRAGON = "dragon"
    FLOWER = "flower"
    JOKER = "joker"


class FaceError(ValueError):
    """A text names no face. The message quotes it and offers the nearest name."""


@dataclass(frozen=True, slots=True, order=True)
class Face:
    """One of the 36 faces. Order, equality and hash follow `index`, the order of `FACES`."""

    index: int

    @classmethod
    def named(cls, text: str) -> Self:
        """Return the face with this name, in any letter case and spacing; "soap" is the white dragon.

        Raises:
            FaceError: no face has this name.

        >>> Face.named("3 Bam")
        Face.named('3 bam')
        """
        name = " ".join(text.lower().split())
        name = _OTHER_NAMES.get(name, name)
        if name not in _INDEX_OF_NAME:
            raise FaceError(f'"{text}" is not a tile. {_hint(name)}')
        return cls(_INDEX_OF_NAME[name])

    @property
    def name(self) -> str:
        """The plain name: "3 bam", "east", "white dragon", "joker"."""
        return NAMES[self.index]

    @property
    def kind(self) -> Kind:
        """Suited, wind, dragon, flower or joker."""
        if self.index < 27:
            return Kind.SUITED
        return (
            Kind.WIND if self.index < 31
            else Kind.DRAGON if self.index < 34
            else Kind.FLOWER if self.index == 34
            else Kind.JOKER
        )

    @property
    def number(self) -> int | None:
        """1 to 9 for suited tiles, otherwise None. (Only a card can use a white dragon as zero.)"""
        return self.index % 9 + 1 if self.index < 27 else None

    @property
    def suit(self) -> Suit | None:
        """The suit of a numbered tile, or the suit a dragon belongs to (green bam, red crak, white dot).

        Source: common practice of the American game, no source.
        """
        if self.index < 27:
            return (Suit.BAM, Suit.CRAK, Suit.DOT)[self.index // 9]
        return {31: Suit.CRAK, 32: Suit.BAM, 33: Suit.DOT}.get(self.index)

    @property
    def unicode(self) -> str | None:
        """The character of the Unicode Standard's block Mahjong Tiles (U+1F000 to U+1F02F), if one exists.

        The standard has eight flowers and seasons but none for "a flower", so a flower gives None.
        """
        return _UNICODE[self.index]

    @property
    def copies(self) -> int:
        """How many a set of 152 tiles holds: 8 flowers, 8 jokers, 4 of everything else."""
        return 8 if self.index >= 34 else 4

    def __str__(self) -> str:
        return self.name

    def __repr__(self) -> str:
        return f"Face.named({self.name!r})"


NAMES: Final[tuple[str, ...]] = (
    *(f"{number} {suit.value}" for suit in Suit for number in range(1, 10)),
    "east", "south", "west", "north",
    "red dragon", "green dragon", "white dragon",
    "flower", "joker",
)  # fmt: skip

_INDEX_OF_NAME = {name: index for index, name in enumerate(NAMES)}
_OTHER_NAMES = {
    "soap": "white dragon", "red": "red dragon", "green": "green dragon", "white": "white dragon",
    "east wind": "east", "south wind": "south", "west wind": "west", "north wind": "north",
}  # fmt: skip

_UNICODE: tuple[str | None, ...] = (
    *(chr(0x1F010 + i) for i in range(9)),
    *(chr(0x1F007 + i) for i in range(9)),
    *(chr(0x1F019 + i) for i in range(9)),
    *(chr(0x1F000 + i) for i in range(7)),
    None,
    chr(0x1F02A),
)

FACES: Final[tuple[Face, ...]] = tuple(Face(index) for index in range(len(NAMES)))
SET_SIZE: Final = sum(face.copies for face in FACES)

_SUIT_WORDS: Final = (("b", "bam"), ("d", "dot"), ("ci", "dot"), ("c", "crak"))
"""How words for a suit begin, short or long: "b", "bamboos", "circle", "character"."""


def _hint(name: str) -> str:
    """Say which tile somebody probably meant who typed this."""
    import difflib  # only for those who misspell: it takes a while to load

    if re.fullmatch("[1-9]", name):
        return f'Write its suit too, for example "{name} bam".'
    if name in (suit.value for suit in Suit):
        return f'Write its number too, for example "3 {name}".'
    near = difflib.get_close_matches(name, [*NAMES, *_OTHER_NAMES], n=1)
    if numbered := re.fullmatch(r"([1-9])\W*([a-z]+)|([a-z]+)\W*([1-9])", name):
        number, word = numbered[1] or numbered[4], numbered[2] or numbered[3]
        near = [f"{number} {suit}" for start, suit in _SUIT_WORDS if word.startswith(start)] or near
    return f'Did you mean "{near[0]}"?' if near else 'Write for example "3 bam" or "red dragon".'
