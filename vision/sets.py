"""A physical set of tiles that was learnt: a few pictures of its faces, and how they came in.

Kept are small pictures and not only what one network made of them, so a set outlives new networks.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from enum import Enum
from itertools import chain
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import Face

LOOK_BYTES: Final = 256
"""Bytes of one embedding: 128 numbers of 16 bits."""


class SetError(ValueError):
    """A set cannot be used, kept or changed as asked. The message says why and what to do."""


class Source(Enum):
    """How examples came into a set."""

    LAYOUT = "layout"
    """From photos of one of each face in the rows of the layout."""
    CORRECTION = "correction"
    """A person named a tile that had been read otherwise."""


@dataclass(frozen=True, slots=True)
class Example:
    """One tile of a set with its true name.

    Attributes:
        picture: JPEG file of the straightened face, upright, of `learning.PICTURE_SIZE` and `PICTURE_MARGIN`.
        looks: float16 (K, 128) as bytes: the reader's embeddings of the picture, seen a little differently each
            time; empty where no reader has seen it yet.
        known: the mean probability that this reader, which knows nothing of the set, gives the true name.
    """

    face: Face
    picture: bytes
    looks: bytes = b""
    known: float = 0.0


@dataclass(frozen=True, slots=True)
class Addition:
    """Examples that came in together; the last addition can be undone."""

    source: Source
    examples: tuple[Example, ...]


@dataclass(frozen=True, slots=True)
class TileSet:
    """One set under a person's own name for it.

    Attributes:
        additions: in the order in which they came, oldest first.
        reader: fingerprint of the network that made the `looks` of all examples.
    """

    name: str
    additions: tuple[Addition, ...] = ()
    reader: str = ""

    @property
    def examples(self) -> tuple[Example, ...]:
        """All of them, oldest first."""
        return tuple(chain.from_iterable(addition.examples for addition in self.additions))

    @property
    def counts(self) -> Counter[Face]:
        """How many examples there are of each face that has any."""
        return Counter(example.face for example in self.examples)

    @property
    def known(self) -> float:
        """How well the reader knows this artwork in general, 0 to 1: the mean over what was laid out."""
        laid_out = [one.known for addition in self.additions if addition.source is Source.LAYOUT for one in addition.examples]
        return sum(laid_out) / len(laid_out) if laid_out else 1.0

    def with_addition(self, addition: Addition) -> TileSet:
        """Return the set with more examples."""
        return replace(self, additions=(*self.additions, addition))

    def without_last(self) -> TileSet:
        """Return the set as it was before its last addition.

        Raises:
            SetError: nothing was added since the set was first learnt.
        """
        if len(self.additions) < 2:
            raise SetError(f'Nothing was added to the set "{self.name}" since it was learnt. To be rid of it, delete it.')
        return replace(self, additions=self.additions[:-1])


def looks_of(tile_set: TileSet) -> tuple[NDArray[np.float32], NDArray[np.int_]]:
    """Return the embeddings of all looks, float32 (M, 128) of unit length, and the index of each one's face (M,)."""
    examples = tile_set.examples
    looks = [np.frombuffer(example.looks, np.float16).reshape(-1, 128) for example in examples]
    labels = [np.full(len(each), example.face.index) for each, example in zip(looks, examples, strict=True)]
    if not looks:
        return np.empty((0, 128), np.float32), np.empty(0, np.int_)
    vectors = np.concatenate(looks).astype(np.float32)
    return vectors / np.linalg.norm(vectors, axis=1, keepdims=True).clip(1e-6), np.concatenate(labels)
