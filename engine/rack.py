"""A rack: the tiles a player holds, in the order they stand, and which of them were claimed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from tilewitness.engine.faces import FACES, NAMES, Face, FaceError
from tilewitness.engine.forms import NATURALS, Counts
from tilewitness.engine.hands import SIZES
from tilewitness.engine.wording import FIGURES

JOKER = FACES[35]
_SEVERAL: Final = {
    **{f"{word} of": size for size, word in enumerate(SIZES, 1)},
    **{f"{word}s of": size for size, word in enumerate(SIZES, 1)},
    **{word: figure for word, figure in FIGURES.items() if figure > 1},
}
"""How several equal tiles are written: "kong of", "four"."""
_UNNUMBERED: Final = {"soap", *(name.split()[0] for name in NAMES if not name[0].isdecimal())}
_SEVERAL_TILES: Final = re.compile(
    rf"({'|'.join(_SEVERAL)}|[1-9](?= (?:[1-9]|{'|'.join(sorted(_UNNUMBERED))}))) (.+)", re.IGNORECASE
)
"""So many of a tile. A figure is an amount only where it cannot be the tile's number: "6 flowers", "4 1 bam"."""


class RackError(ValueError):
    """A text or set of places that is no rack; the message says where and what would be right."""


@dataclass(frozen=True, slots=True)
class Rack:
    """Tiles by place.

    Attributes:
        faces: one face a place, in reading order.
        exposed: claimed groups lying open, each the places (counted from 0) of its tiles.
    Raises:
        RackError: a claimed group names a place that does not exist or one already claimed.

    >>> Rack.parse("(pung of 3 bam), east")
    Rack.parse('(3 bam, 3 bam, 3 bam), east')
    """

    faces: tuple[Face, ...]
    exposed: tuple[tuple[int, ...], ...] = ()

    def __post_init__(self) -> None:
        claimed = [place for group in self.exposed for place in group]
        if len(set(claimed)) < len(claimed) or any(not 0 <= p < len(self.faces) for p in claimed):
            raise RackError(f"claimed groups {self.exposed} do not fit a rack of {len(self.faces)} tiles.")

    @classmethod
    def of(cls, tiles: Rack | Sequence[Face]) -> Rack:
        """Return a rack as it is, or make one of a plain sequence of faces."""
        return tiles if isinstance(tiles, Rack) else cls(tuple(tiles))

    @classmethod
    def parse(cls, text: str) -> Rack:
        """Return the rack written as tiles between commas, claimed groups in round brackets.

        A group may be written in the trade's words: "pair of flowers" or "pair of flower" is "flower, flower"; and
        so may tiles as they are read out: "two flowers" or "2 flowers", and singles as a card is printed back:
        "singles of 1 bam, 2 bam and 3 bam".

        Raises:
            RackError: a word is no tile or a bracket has no partner.
        """
        faces: list[Face] = []
        exposed: list[tuple[int, ...]] = []
        opened: int | None = None
        for piece in re.findall(r"[()]|[^(),;\n]+", text):
            if piece in "()":
                if (piece == "(") != (opened is None):
                    raise RackError(f'"{piece}" has no partner. Write a claimed group as (3 bam, 3 bam, joker).')
                if opened is not None:
                    exposed.append(tuple(range(opened, len(faces))))
                opened = len(faces) if piece == "(" else None
            elif piece.strip():
                faces += _tiles(piece.strip(), len(faces) + 1)
        if opened is not None:
            raise RackError('"(" has no partner. Write a claimed group as (3 bam, 3 bam, joker).')
        return cls(tuple(faces), tuple(group for group in exposed if group))

    @property
    def counts(self) -> Counts:
        """How many of each face but the joker: uint8 (35,)."""
        return counts_of(self.faces)

    @property
    def jokers(self) -> int:
        """How many jokers."""
        return self.faces.count(JOKER)

    @property
    def hidden(self) -> tuple[int, ...]:
        """Places that are not in a claimed group."""
        claimed = {place for group in self.exposed for place in group}
        return tuple(place for place in range(len(self.faces)) if place not in claimed)

    @property
    def claims_settled(self) -> Rack:
        """This rack with every claimed joker as the tile that its group stands for: it serves nowhere else."""
        settled = list(self.faces)
        for group in self.exposed:
            natural = next((self.faces[place] for place in group if self.faces[place] != JOKER), JOKER)
            for place in group:
                settled[place] = natural if self.faces[place] == JOKER else self.faces[place]
        return Rack(tuple(settled), self.exposed)

    def with_tile(self, place: int, face: Face) -> Rack:
        """Return this rack with one tile read as another face."""
        faces = list(self.faces)
        faces[place] = face
        return Rack(tuple(faces), self.exposed)

    def __str__(self) -> str:
        opens = {min(group): group for group in self.exposed}
        words: list[str] = []
        done: set[int] = set()
        for place, face in enumerate(self.faces):
            if place in opens:
                words.append(f"({', '.join(str(self.faces[p]) for p in opens[place])})")
                done |= set(opens[place])
            elif place not in done:
                words.append(str(face))
        return ", ".join(words)

    def __repr__(self) -> str:
        return f"Rack.parse({str(self)!r})"


def counts_of(faces: Sequence[Face]) -> Counts:
    """Return how many of each face but the joker: uint8 (35,)."""
    naturals = [face.index for face in faces if face != JOKER]
    return np.bincount(np.array(naturals, np.intp), minlength=NATURALS).astype(np.uint8)


def _tiles(words: str, place: int) -> list[Face]:
    """Return the tiles of one entry: "3 bam", "kong of 3 bam", or as they are read out, "four 3 bam", "3 bam and 5 bam".

    A plural holds for all of an entry: "pungs of 3 bam and 5 bam" are two pungs.
    """
    tiles: list[Face] = []
    shared = 1
    for part in re.split(r"\band\b", " ".join(words.split()), flags=re.IGNORECASE):
        name, size = part.strip(), shared
        if group := _SEVERAL_TILES.fullmatch(name):
            amount, name = group[1].lower(), group[2]
            size = int(amount) if amount.isdecimal() else _SEVERAL[amount]
            shared = size if amount.endswith("s of") else 1
        if size > 1 and name[-1:].lower() == "s":
            name = name[:-1]
        try:
            tiles += [Face.named(name)] * size if name else []
        except FaceError as error:
            raise RackError(f"tile {place + len(tiles)}: {error}") from error
    return tiles
