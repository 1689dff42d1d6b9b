"""Small pieces of English that every sentence is made of."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Final

from tilewitness.engine.faces import Face, Kind

_COUNTS: Final = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def count(number: int) -> str:
    """A number as a word up to ten, in digits above.

    >>> count(3), count(14), count(5379616)
    ('three', '14', '5,379,616')
    """
    return _COUNTS[number] if 0 <= number < len(_COUNTS) else f"{number:,}"


def several(number: int, face: Face) -> str:
    """So many of one tile.

    >>> several(3, Face.named("4 bam")), several(2, Face.named("joker")), several(1, Face.named("east"))
    ('three 4 bam', 'two jokers', 'east')
    """
    return face.name if number == 1 else f"{count(number)} {plural(face)}"


def plural(face: Face) -> str:
    """The name of several of one tile; numbered tiles and winds have no plural."""
    return f"{face.name}s" if face.kind in (Kind.FLOWER, Kind.JOKER, Kind.DRAGON) else face.name


def tiles_in_order(faces: Iterable[Face]) -> str:
    """Tiles from left to right; equal tiles side by side are counted once.

    >>> tiles_in_order(Face.named(name) for name in ("4 bam", "4 bam", "4 bam", "joker"))
    'three 4 bam, joker'
    """
    return ", ".join(several(len(list(run)), face) for face, run in groupby(faces))


def listed(parts: Sequence[str], last: str = "and") -> str:
    """Parts of a sentence with commas and a closing word.

    >>> listed(["a", "b", "c"])
    'a, b and c'
    """
    return " ".join(filter(None, [", ".join(parts[:-1]), last if len(parts) > 1 else "", *parts[-1:]]))


def amount(number: int, noun: str = "tile") -> str:
    """A counted noun.

    >>> amount(1), amount(14), amount(2, "hand")
    ('one tile', '14 tiles', 'two hands')
    """
    return f"{count(number)} {noun}{'' if number == 1 else 's'}"


def a(name: str) -> str:
    """A tile with its article.

    >>> a("joker"), a("8 bam"), a("east")
    ('a joker', 'an 8 bam', 'an east')
    """
    return f"{'an' if name[0] in 'aeio8' else 'a'} {name}"


def capital(sentence: str) -> str:
    """A sentence that starts with a capital letter, the rest untouched.

    >>> capital("place 7 is East's")
    "Place 7 is East's"
    """
    return sentence[:1].upper() + sentence[1:]


def percent(probability: float) -> str:
    """A probability in whole percent; never all and never nothing, for no reading is certain.

    >>> percent(0.714), percent(0.9999), percent(0.0002)
    ('71 percent', '99 percent', 'less than 1 percent')
    """
    return f"{min(99, round(100 * probability)) or 'less than 1'} percent"
