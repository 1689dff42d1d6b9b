"""Distances of many racks to every hand of a card at once.

A form's tiles fall into four parts that do not touch: bam, crak, dot and the rest. Few patterns occur in them (a
pung of 2 and a kong of 4 is one pattern whatever the suit), so every rack is measured against every pattern once, by
one matrix product, and a form is the sum of its four patterns.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Self

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.card import Card
from tilewitness.engine.forms import COPIES, JOKERS, NATURALS, Counts, Forms, Ints
from tilewitness.engine.measure import NEVER, lacking
from tilewitness.engine.plans import HAND_SIZE

BLOCK: Final = 512
"""Racks measured together, so that the working arrays stay in the processor's cache."""
_BARE: Final = 16
"""Matched tiles and matched bare tiles, of which a form has at most 14, travel in one byte: matched + 16 * bare."""
_SPANS: Final = (slice(0, 9), slice(9, 18), slice(18, 27), slice(27, NATURALS))


@dataclass(frozen=True, slots=True, eq=False)
class Patterns:
    """A card's forms as sums of patterns, ready for `distances`.

    Attributes:
        suits: float32 (U, 36), the suit patterns; column 4 * (number - 1) + k says whether tile k + 1 is asked for.
        others: float32 (V, 64), the patterns of winds, dragons and flowers, eight columns a face.
        parts: (4, F), pattern of each form in bam, crak, dot and the rest.
        bare: uint8 (F,), tiles of each form that must be natural.
        starts: first form of each hand that has forms.
        hands: the place of each of those hands on its card.
        chosen: the forms that hold a free choice, measured one rack at a time.
        width: number of hands on the card.
    """

    suits: NDArray[np.float32]
    others: NDArray[np.float32]
    parts: Ints
    bare: Counts
    starts: Ints
    hands: Ints
    chosen: Forms
    width: int

    @classmethod
    def of(cls, card: Card) -> Self:
        """Compile a card."""
        forms = card.forms.chosen(np.flatnonzero(~card.forms.is_free))
        stacked = np.stack([forms.total, forms.bare])
        suits, suit_parts = _patterns(np.concatenate([stacked[:, span] for span in _SPANS[:3]], axis=2), 4)
        others, other_parts = _patterns(stacked[:, _SPANS[3]], 8)
        parts = np.concatenate([suit_parts.reshape(3, -1), other_parts[None]])
        rows = np.concatenate([forms.hand[None], parts])
        _, first = np.unique(_as_numbers(rows), return_index=True)
        rows = rows[:, first]
        hands, starts = np.unique(rows[0], return_index=True)
        bare = forms.bare.sum(axis=0, dtype=np.uint8)[first]
        chosen = card.forms.chosen(np.flatnonzero(card.forms.is_free))
        return cls(suits, others, rows[1:], bare, starts, hands, chosen, len(card.hands))


def _patterns(counts: Counts, levels: int) -> tuple[NDArray[np.float32], Ints]:
    """Return the different patterns as weights of a matrix product, and the pattern of each form."""
    if not counts.size:
        return np.zeros((0, counts.shape[1] * levels), np.float32), np.zeros(0, np.intp)
    stacked = counts.reshape(-1, counts.shape[2])
    _, first, which = np.unique(_as_numbers(stacked), return_index=True, return_inverse=True)
    rows = stacked[:, first]
    total, bare = np.split(rows.T[:, :, None] > np.arange(levels), 2, axis=1)
    weights = total + np.float32(_BARE) * bare
    return weights.reshape(len(weights), -1).astype(np.float32), which.reshape(-1)


def _as_numbers(rows: Ints | Counts) -> Ints:
    """Return a number for each column, the same for equal ones alone: numbers are sorted ten times as fast."""
    return np.asarray(np.ravel_multi_index(tuple(rows), tuple(rows.max(axis=1, initial=0).astype(int) + 1)), np.intp)


def distances(patterns: Patterns, racks: Counts) -> Counts:
    """Return how many tiles each rack lacks to each hand, nothing claimed: uint8 (R, hands).

    Args:
        racks: uint8 (R, 36), tiles of each face, the joker last.

    A hand without forms is `NEVER` away. Agrees with `measure.missing_tiles`.
    """
    result = np.full((patterns.width, len(racks)), NEVER, np.uint8)
    for start in range(0, len(racks), BLOCK):
        block = racks[start : start + BLOCK]
        if len(patterns.hands):
            result[patterns.hands, start : start + BLOCK] = _block(patterns, block)
    if len(patterns.chosen):
        _measure_choices(patterns.chosen, racks, result)
    return result.T


def _block(patterns: Patterns, racks: Counts) -> Counts:
    held = np.minimum(racks[:, :NATURALS], COPIES)
    steps = [_steps(held[:, span], 4) for span in _SPANS[:3]]
    matched = [(patterns.suits @ s).astype(np.uint8) for s in steps]
    matched.append((patterns.others @ _steps(held[:, _SPANS[3]], 8)).astype(np.uint8))
    total = matched[0].take(patterns.parts[0], axis=0)
    work = np.empty_like(total)  # used again and again: new memory takes longer than what is done with it
    for table, part in zip(matched[1:], patterns.parts[1:], strict=True):
        total += table.take(part, axis=0, out=work, mode="clip")
    bare_missing = np.subtract(patterns.bare[:, None], np.right_shift(total, 4, out=work), out=work)
    total &= _BARE - 1
    missing = total.view(np.int8)  # below 0 where jokers are left over
    np.subtract((HAND_SIZE - np.minimum(racks[:, NATURALS], JOKERS)).view(np.int8), missing, out=missing)
    np.maximum(missing, bare_missing.view(np.int8), out=missing)
    nearest = np.empty((len(patterns.hands), len(racks)), np.int8)
    for row, first, end in zip(nearest, patterns.starts, [*patterns.starts[1:], len(missing)], strict=True):
        missing[first:end].min(axis=0, out=row)  # faster than reduceat
    return nearest.view(np.uint8)


def _steps(counts: Counts, levels: int) -> NDArray[np.float32]:
    """Return float32 (faces * levels, R): whether the rack holds a first, second… tile of each face."""
    return (counts[:, :, None] > np.arange(levels)).reshape(len(counts), -1).T.astype(np.float32)


def _measure_choices(chosen: Forms, racks: Counts, result: Counts) -> None:
    for row, counts in enumerate(np.minimum(racks[:, :NATURALS], COPIES)):
        forms = chosen.for_rack(counts)
        missing = lacking(forms.total, forms.bare, counts, min(int(racks[row, NATURALS]), JOKERS))
        np.minimum.at(result[:, row], chosen.hand, missing.astype(np.uint8))
