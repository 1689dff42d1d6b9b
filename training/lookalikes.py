"""Things in rows that are no tiles: dominoes, keys, lettered and numbered pieces, dice, cards, chocolate, switches.

A family draws equal pieces of one material. They lie about in scenes, where the finder learns to pass over
them, and fill rows of the reader's sheets, where they teach "no face". The photos without tiles that measure
this (`tileless.py`) are drawn by other code.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from tilewitness.training import plain_pieces, signed_pieces
from tilewitness.training.pieces import Family

_FAMILIES: tuple[tuple[Callable[[np.random.Generator], Family], float], ...] = (
    (signed_pieces.dominoes, 6),
    (signed_pieces.keys, 4),
    (signed_pieces.inscribed, 6),
    (signed_pieces.lettered_squares, 3),
    (signed_pieces.numbered, 3.5),
    (plain_pieces.cushions, 2),
    (plain_pieces.switches, 1),
    (signed_pieces.dice, 2),
    (signed_pieces.cards, 2),
    (signed_pieces.cells, 2),
    (plain_pieces.plain_pieces, 2),
    (plain_pieces.layered, 1),
    (plain_pieces.icons, 0.7),
    (plain_pieces.coins, 1),
    (plain_pieces.panes, 1),
    (plain_pieces.books, 0.7),
    (plain_pieces.pictures, 0.5),
)


def sample_family(rng: np.random.Generator) -> Family:
    """Draw a family by its share."""
    weights = np.array([weight for _, weight in _FAMILIES])
    return _FAMILIES[int(rng.choice(len(_FAMILIES), p=weights / weights.sum()))][0](rng)
