"""Why a rack is no win, by name: lift one rule of the card at a time and see whether that completes the rack."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from tilewitness.engine.faces import FACES, Kind, Suit
from tilewitness.engine.forms import JOKERS as JOKER_COPIES
from tilewitness.engine.forms import NATURALS, Counts, Forms, Ints
from tilewitness.engine.hands import Group, Hand, Honour, SuitRule, Wanted
from tilewitness.engine.layout import lay_out
from tilewitness.engine.measure import NEVER, Claimed, Distances, fits_claims, held, lacking
from tilewitness.engine.opinion import Fault, Reason
from tilewitness.engine.plans import HAND_SIZE, alternatives
from tilewitness.engine.rack import JOKER, Rack

_KINDS: Final = np.array([0] * 9 + [1] * 9 + [2] * 9 + [3] * 4 + [4] * 3 + [5])
"""What a group can be off by one step in: a suit, the winds, the dragons, flowers."""
FIXED_SUITS: Final = (SuitRule.BAM, SuitRule.CRAK, SuitRule.DOT)


def rack_reasons(rack: Rack, *, claims_fit: bool) -> tuple[Reason, ...]:
    """Return what is wrong with a rack whatever the hand.

    That is more of a tile than a set holds, or claimed groups that no hand of the card allows (`claims_fit`).
    """
    counts = Counter(face.index for face in rack.faces)
    over = [index for index, count in sorted(counts.items()) if count > FACES[index].copies]
    claimed = tuple(place for group in rack.exposed for place in group)
    unfit = () if claims_fit or not claimed else (Reason(Fault.CLAIM_NOT_IN_HAND, claimed),)
    return unfit + tuple(
        Reason(
            Fault.MORE_THAN_A_SET_HOLDS,
            tuple(place for place, face in enumerate(rack.faces) if face.index == index),
        )
        for index in over
    )


@dataclass(frozen=True, slots=True, eq=False)
class Lifted:
    """Tiles missing to each form (F,) with one rule of the card lifted, claimed groups taken as unclaimed.

    Attributes:
        claims: no other rule lifted.
        jokers: a joker may stand anywhere.
        dragons: any dragon is as good as another.
        suits: any suit is as good as another.
        one_group: the tiles of one face may be read as those of another.
        moved: for each form the face that `one_group` reads otherwise, and the face it is read as: (2, F).
    """

    claims: Distances
    jokers: Distances
    dragons: Distances
    suits: Distances
    one_group: Distances
    moved: Ints

    def smallest(self) -> Distances:
        """The least of these distances for each form."""
        rules = (self.claims, self.jokers, self.dragons, self.suits, self.one_group)
        least: Distances = np.minimum.reduce(rules)
        return least


def lift_rules(forms: Forms, rack: Rack, unclaimed: Distances | None = None) -> Lifted:
    """Measure the rack with each rule lifted, where that could complete it: elsewhere distances are 14.

    `unclaimed` are the distances with nothing claimed, if they are known. A form that lifting a rule completes has a use for every tile that the rule does not touch.
    """
    counts, jokers = held(rack), min(rack.jokers, JOKER_COPIES)
    here = np.flatnonzero(counts)
    asked = forms.total[here]
    extra = np.maximum(counts[here, None], asked) - asked
    spare = max(0, len(rack.faces) - HAND_SIZE)
    kinds = [here < 27, (here >= 31) & (here < 34), ((here >= 27) & (here < 31)) | (here == 34)]
    suited, dragons, others = (extra[kind].sum(axis=0, dtype=np.uint8) for kind in kinds)
    fitting = {
        "jokers": suited + dragons + others <= spare,
        "dragons": suited + others <= spare,
        "suits": dragons + others <= spare,
    }

    def measured(rule: str, merge: Callable[[Counts], Counts]) -> Distances:
        columns = np.flatnonzero(fitting[rule])
        bare = forms.bare[:, columns] if rule != "jokers" else np.zeros((NATURALS, len(columns)), np.uint8)
        result = np.full(len(forms), HAND_SIZE, np.int16)
        result[columns] = lacking(merge(forms.total[:, columns]), merge(bare), merge(counts), jokers)
        return result

    one_group, moved = _one_group_moved(forms, counts, jokers, here, extra)
    return Lifted(
        claims=lacking(forms.total, forms.bare, counts, jokers) if unclaimed is None else unclaimed,
        jokers=measured("jokers", lambda counts: counts),
        dragons=measured("dragons", _merge_dragons),
        suits=measured("suits", _merge_suits),
        one_group=one_group,
        moved=moved,
    )


def _merge_dragons(counts: Counts) -> Counts:
    merged = counts[31:34].sum(axis=0, keepdims=True, dtype=np.uint8)
    return np.concatenate([counts[:31], merged, counts[34:]])


def _merge_suits(counts: Counts) -> Counts:
    return np.concatenate([counts[:9] + counts[9:18] + counts[18:27], counts[27:]])


def _one_group_moved(
    forms: Forms, counts: Counts, jokers: int, here: Ints, extra: Counts
) -> tuple[Distances, Ints]:
    """Read the one face a form has no use for as the face it lacks most.

    `extra` are the tiles that each form has no use for, of the faces `here` on the rack.
    """
    result = np.full(len(forms), HAND_SIZE, np.int16)
    moved = np.zeros((2, len(forms)), np.intp)
    column = counts[:, None]
    columns = np.flatnonzero((extra > 0).sum(axis=0, dtype=np.uint8) == 1)
    columns = columns[~forms.is_free[columns]]  # a free choice has no number to be out of run
    if not len(columns):
        return result, moved
    source, amount = here[extra[:, columns].argmax(axis=0)], extra[:, columns].max(axis=0, initial=0)
    lack, bare_lack = (
        np.maximum(column, asked[:, columns]) - column for asked in (forms.total, forms.bare)
    )
    wanted = (lack + 16 * bare_lack) * (_KINDS[:, None] == _KINDS[source])
    target = wanted.argmax(axis=0)
    in_target = forms.slots[:, columns] == target.astype(np.uint8)
    smallest = np.where(in_target, forms.sizes[:, columns], np.uint8(HAND_SIZE)).min(axis=0, initial=HAND_SIZE)
    whole = counts[target] + smallest <= forms.total[target, columns]
    whole &= wanted.max(axis=0, initial=0) > 0
    columns, source, target, amount = columns[whole], source[whole], target[whole], amount[whole]
    shifted = np.repeat(column, len(columns), axis=1)
    order = np.arange(len(columns))
    shifted[source, order] -= amount
    shifted[target, order] += amount
    result[columns] = lacking(forms.total[:, columns], forms.bare[:, columns], shifted, jokers)
    moved[:, columns] = source, target
    return result, moved


def explain(
    hand: Hand, forms: Forms, lifted: Lifted, columns: Ints, rack: Rack, missing: Distances
) -> tuple[tuple[Reason, ...], int | None]:
    """Return why this rack is not the hand, and the form that it would be but for that.

    Of several rules that explain it alone, the one whose form takes the fewest tiles to change is named.

    Args:
        columns: the forms of the hand.
        missing: tiles missing to each form, `NEVER` where the claimed groups rule it out.
    """
    due = max(0, HAND_SIZE - len(rack.faces))
    if missing[columns].min() == due:
        return (Reason(Fault.TILES_MISSING if due else Fault.TILES_TOO_MANY),), None

    rules = (lifted.claims, lifted.jokers, lifted.dragons, lifted.suits, lifted.one_group)
    found = [columns[rule[columns] == due] for rule in rules]
    ways = [(int(lifted.claims[f].min()), at, int(f[lifted.claims[f].argmin()])) for at, f in enumerate(found) if len(f)]
    if not ways:
        return (Reason(Fault.WRONG_TILES),), None
    _, rule, column = min(ways)
    laid = rack if missing[column] < NEVER else Rack(rack.faces)
    return _NAMES[rule](_Case(hand, forms, lifted, column, rack, laid)), column


@dataclass(frozen=True, slots=True, eq=False)
class _Case:
    """A rack that one lifted rule makes a certain form of a hand; `laid` without claims that this form rules out."""

    hand: Hand
    forms: Forms
    lifted: Lifted
    column: int
    rack: Rack
    laid: Rack


def _claim_reasons(case: _Case) -> tuple[Reason, ...]:
    """Say which claimed groups the form does not hold; all, if each for itself would do, or it should be concealed."""
    form, claimed = case.forms.chosen(np.array([case.column])), case.rack.exposed
    unfit = [group for group in claimed if not fits_claims(form, [Claimed.at(case.rack, group)]).all()]
    shown = claimed if case.hand.concealed or not unfit else unfit
    fault = Fault.CONCEALED_HAND_SHOWN if case.hand.concealed else Fault.CLAIM_NOT_IN_HAND
    return (Reason(fault, tuple(place for group in shown for place in group)),)


def _dragon_reasons(case: _Case) -> tuple[Reason, ...]:
    tied = (Honour.MATCHING_DRAGON, Honour.OPPOSITE_DRAGON)
    by_suit = any(tile in tied for tile in _tiles(case.hand))
    fault = Fault.DRAGON_OF_WRONG_SUIT if by_suit else Fault.WRONG_DRAGON
    return (Reason(fault, _unused(case, Kind.DRAGON)),)


def _tiles(hand: Hand) -> Iterator[Wanted]:
    """Everything the hand asks for, in all its alternatives."""
    for phrases in alternatives(hand):
        for phrase in phrases:
            yield from phrase.tiles if isinstance(phrase, Group) else ()


def _joker_reasons(case: _Case) -> tuple[Reason, ...]:
    """Say where the jokers stand that may not stand there."""
    plan = case.forms.plans[case.forms.plan[case.column]]
    slots = case.forms.slots[:, case.column]
    groups = lay_out(case.laid, plan, slots)
    used = {slot.place for group in groups for slot in group.slots}
    spare = [place for place in case.laid.hidden if case.laid.faces[place] == JOKER and place not in used]
    reasons: dict[Fault, tuple[int, ...]] = {}
    for group in groups:
        empty = sum(slot.place is None for slot in group.slots)
        if empty and spare:
            fault = {1: Fault.JOKER_AMONG_SINGLES, 2: Fault.JOKER_IN_PAIR}.get(group.size, Fault.JOKER_NOT_ALLOWED)
            standing = [slot.place for slot in group.slots if slot.place is not None]
            spare.sort(key=lambda place: min((abs(place - p) for p in standing), default=0))
            reasons[fault] = (*reasons.get(fault, ()), *spare[:empty])
            del spare[:empty]
    return tuple(Reason(fault, tuple(sorted(places))) for fault, places in reasons.items())


def _suit_reasons(case: _Case) -> tuple[Reason, ...]:
    """Tell too few suits from groups that should share one."""
    used = {face.suit for face in case.rack.faces if face.kind is Kind.SUITED}
    wanted: set[Suit | None] = {FACES[s].suit for s in case.forms.slots[:, case.column] if s < 27}
    if any(isinstance(p, Group) and p.suit in FIXED_SUITS for ps in alternatives(case.hand) for p in ps):
        fault = Fault.WRONG_SUIT
    else:
        fault = Fault.SUITS_NOT_DIFFERENT if len(used) < len(wanted) else Fault.SUITS_NOT_ALIKE
    return (Reason(fault, _unused(case, Kind.SUITED)),)


def _moved_reasons(case: _Case) -> tuple[Reason, ...]:
    source = FACES[case.lifted.moved[0, case.column]]
    places = tuple(place for place, face in enumerate(case.rack.faces) if face == source)
    fault = Fault.WRONG_WIND if source.kind is Kind.WIND else Fault.NUMBER_OUT_OF_RUN
    return (Reason(fault, places),)


_NAMES: Final = (_claim_reasons, _joker_reasons, _dragon_reasons, _suit_reasons, _moved_reasons)
"""What each lifted rule is called, in the order of `explain`."""


def _unused(case: _Case, kind: Kind) -> tuple[int, ...]:
    """Places of the tiles of this kind that the form has no use for."""
    left = case.forms.total[:, case.column].astype(int)
    places = []
    for place, face in enumerate(case.rack.faces):
        if face != JOKER and face.kind is kind:
            left[face.index] -= 1
            if left[face.index] < 0:
                places.append(place)
    return tuple(places)
