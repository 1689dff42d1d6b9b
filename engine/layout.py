"""Lay a rack out as a form: which tile stands where in card order, and where jokers stand for what."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES
from tilewitness.engine.forms import COPIES, Counts, Forms
from tilewitness.engine.measure import Claimed
from tilewitness.engine.opinion import LaidGroup, Slot
from tilewitness.engine.plans import Plan
from tilewitness.engine.rack import JOKER, Rack


def in_card_order(forms: Forms, rack: Rack) -> NDArray[np.bool_]:
    """Tell which forms the rack shows tile by tile in card order: bool (F,)."""
    if len(rack.faces) != len(forms.slots) or not len(forms):
        return np.zeros(len(forms), np.bool_)
    faces = np.array([face.index for face in rack.faces])[:, None]
    no_jokers = np.array([forms.plans[plan].no_jokers for plan in forms.plan])
    takes = (forms.sizes >= 3) & ~no_jokers
    return np.asarray(((forms.slots == faces) | ((faces == JOKER.index) & takes)).all(axis=0))


def in_own_order(plan: Plan, slots: Counts, rack: Rack) -> Counts:
    """Return the slots with a free choice in the order the rack shows it, if it shows whole groups there."""
    choice = plan.choice
    if choice is None or len(rack.faces) != len(slots):
        return slots
    span = slice(choice.start, choice.start + choice.count * choice.size * len(choice.items[0]))
    shown = np.array([face.index for face in rack.faces[span]], np.uint8)
    whole = (shown.reshape(-1, choice.size) == shown[:: choice.size, None]).all()
    if not whole or sorted(shown) != sorted(slots[span]):
        return slots
    result = slots.copy()
    result[span] = shown
    return result


def lay_out(rack: Rack, plan: Plan, slots: Counts, *, as_it_stands: bool = False) -> tuple[LaidGroup, ...]:
    """Return the groups of a form in card order, filled from the rack as far as it goes.

    Args:
        slots: the form's face in each slot, uint8 (14,).
        as_it_stands: the rack shows the form in card order, so slot n is filled from place n.
    """
    places: list[int | None] = list(range(len(slots))) if as_it_stands else _places(rack, plan, slots)
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
    face = Claimed.at(rack, claimed).face
    for span in spans:
        fits = face is not None and len(span) == len(claimed) and slots[span.start] == face.index
        if fits and filled[span.start] is None:
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
