"""Lay a rack out as a form: which tile stands where in card order, and where jokers stand for what."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

import numpy as np

from tilewitness.engine.faces import FACES
from tilewitness.engine.forms import COPIES, Counts
from tilewitness.engine.measure import Claimed
from tilewitness.engine.opinion import LaidGroup, Slot
from tilewitness.engine.plans import Plan
from tilewitness.engine.rack import JOKER, Rack


def as_shown(rack: Rack, plan: Plan, slots: Counts) -> tuple[Counts, list[int]] | None:
    """Return slots and the place that fills each, if the rack shows the form in card order, else None.

    Claimed groups lie apart, so only the tiles still on the rack have an order to keep. A free choice (the slots come
    back in its order) may stand in any order of its own. Common practice, no source.
    """
    if len(rack.faces) != len(slots):
        return None
    for order in _orders(rack, plan, slots):
        shown = np.array([rack.faces[place].index for place in order], np.uint8)
        filled = _in_own_order(plan, slots, shown)
        takes = np.repeat([plan.takes_joker(size) for size in plan.sizes], plan.sizes)
        if ((filled == shown) | ((shown == JOKER.index) & takes)).all():
            return filled, order
    return None


def _orders(rack: Rack, plan: Plan, slots: Counts) -> Iterator[list[int]]:
    """Yield, for each way to tell claimed groups from equal ones on the rack, the place of every slot."""
    spans = [range(start, start + size) for start, size in zip(plan.starts, plan.sizes, strict=True)]
    options = [[span for span in spans if _fits(rack, claimed, span, slots)] for claimed in rack.exposed]
    for claims in itertools.product(*options):
        if len(set(claims)) == len(claims):
            apart = dict(zip(itertools.chain(*claims), itertools.chain(*rack.exposed), strict=True))
            rest = iter(rack.hidden)
            yield [apart[slot] if slot in apart else next(rest) for slot in range(len(slots))]


def _fits(rack: Rack, claimed: tuple[int, ...], span: range, slots: Counts) -> bool:
    """Tell whether a claimed group is one of these slots' size and face."""
    face = Claimed.at(rack, claimed).face
    return face is not None and len(span) == len(claimed) and bool(slots[span.start] == face.index)


def _in_own_order(plan: Plan, slots: Counts, shown: Counts) -> Counts:
    """Return the slots with a free choice in the order it is shown in, if whole groups are shown there."""
    choice = plan.choice
    if choice is None:
        return slots
    span = slice(choice.start, choice.start + choice.count * choice.size * len(choice.items[0]))
    chosen = shown[span]
    whole = (chosen.reshape(-1, choice.size) == chosen[:: choice.size, None]).all()
    if not whole or sorted(chosen) != sorted(slots[span]):
        return slots
    result = slots.copy()
    result[span] = chosen
    return result


def lay_out(
    rack: Rack, plan: Plan, slots: Counts, shown: Sequence[int] | None = None
) -> tuple[LaidGroup, ...]:
    """Return the groups of a form in card order, filled from the rack as far as it goes.

    Args:
        slots: the form's face in each slot, uint8 (14,).
        shown: the place that fills each slot, if that is known (`as_shown`).
    """
    places = _places(rack, plan, slots) if shown is None else shown
    claimed = {place for group in rack.exposed for place in group}
    groups = []
    for start, size, phrase in zip(plan.starts, plan.sizes, plan.phrases, strict=True):
        row = tuple(
            Slot(FACES[slots[at]], place, place is not None and rack.faces[place].index == JOKER.index)
            for at, place in enumerate(places[start : start + size], start)
        )
        groups.append(LaidGroup(row, phrase, all(slot.place in claimed for slot in row)))
    return tuple(groups)


def _places(rack: Rack, plan: Plan, slots: Counts) -> list[int | None]:
    """Choose a place of the rack for each slot: claimed groups, then naturals, then jokers."""
    filled: list[int | None] = [None] * len(slots)
    spans = [range(start, start + size) for start, size in zip(plan.starts, plan.sizes, strict=True)]
    for claimed in rack.exposed:
        _place_claim(rack, claimed, spans, slots, filled)
    free: dict[int, list[int]] = {}
    for place in rack.hidden:
        alike = free.setdefault(rack.faces[place].index, [])
        if len(alike) < rack.faces[place].copies:  # more than a set holds is no tile of a hand
            alike.append(place)
    takers = [span for span in spans if plan.takes_joker(len(span))]
    for span in [span for span in spans if span not in takers] + takers:
        standing = free.get(int(slots[span.start]), [])
        for slot in span:
            if filled[slot] is None and standing:
                filled[slot] = standing.pop(0)
    _place_jokers(rack, free.get(JOKER.index, []), takers, slots, filled)
    return filled


def _place_claim(
    rack: Rack, claimed: tuple[int, ...], spans: list[range], slots: Counts, filled: list[int | None]
) -> None:
    for span in spans:
        if filled[span.start] is None and _fits(rack, claimed, span, slots):
            for slot, place in zip(span, claimed, strict=True):
                filled[slot] = place
            return


def _place_jokers(
    rack: Rack, jokers: list[int], spans: list[range], slots: Counts, filled: list[int | None]
) -> None:
    """Give jokers to the slots hardest to fill otherwise, each the joker nearest to its group."""
    if not jokers:
        return
    left = COPIES.astype(int) - np.minimum(rack.counts, COPIES)
    empty = [(slot, span) for span in spans for slot in span if filled[slot] is None]
    empty.sort(key=lambda pair: left[slots[pair[0]]])
    for slot, span in empty[: len(jokers)]:
        standing = [place for s in span if (place := filled[s]) is not None]
        middle = sum(standing) / len(standing) if standing else slot
        nearest = min(jokers, key=lambda place: abs(place - middle))
        filled[slot] = nearest
        jokers.remove(nearest)
