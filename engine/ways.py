"""The ways to build one hand: a name for each, and those that differ from one in a single thing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from tilewitness.engine.faces import FACES, Face, Kind, Suit
from tilewitness.engine.forms import Forms
from tilewitness.engine.hands import Group, Hand, Honour, size_word
from tilewitness.engine.opinion import LaidGroup
from tilewitness.engine.plans import Plan, alternatives


class Change(Enum):
    """What differs between two ways to build a hand."""

    SUITS = "suits"
    """The suits, and the dragons that go with them."""
    NUMBERS = "numbers"
    """The free numbers."""
    HONOURS = "honours"
    """Which winds or dragons."""
    ALTERNATIVE = "alternative"
    """The other branch of an "either"."""
    CHOICE = "choice"
    """One of the tiles that the hand leaves to a free choice."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way to build a hand, and what sets it apart from the way it is compared with.

    Attributes:
        groups: size and face of every group, in card order.
    """

    change: Change
    groups: tuple[tuple[int, Face], ...]

    @property
    def key(self) -> str:
        """Its name, as `way_of` gives it."""
        return way_of(self.groups)


def way_of(groups: Iterable[tuple[int, Face]]) -> str:
    """Name a way to build a hand: its groups whatever their order, as a rack is typed.

    >>> way_of([(4, Face.named("1 dot")), (2, Face.named("flower"))])
    'kong of 1 dot, pair of flower'
    """
    ordered = sorted(groups, key=lambda group: (group[1].index, group[0]))
    return ", ".join(f"{size_word(size)} of {face.name}" for size, face in ordered)


Groups = tuple[tuple[int, Face], ...]
"""Size and face of every group, in card order."""


def other_ways(hand: Hand, groups: Sequence[LaidGroup], forms: Forms) -> tuple[Way, ...]:
    """Return the same hand in other suits, from other numbers, with other winds or dragons, in its other branch.

    Each way changes one thing, and of the rest no more than that brings along: other suits bring other dragons. Ways
    with the same groups in another order are one way. Of tiles left to a free choice the last alone is changed: there
    are as many ways for each of the others.

    Args:
        groups: the way to compare with, in card order.
        forms: the forms of this hand, with every free choice made for the rack that holds these groups.
    """
    here: Groups = tuple((group.size, group.face) for group in groups)
    built = [_groups(forms, column) for column in range(len(forms))]
    if here not in built:
        return ()
    plans = [forms.plans[index] for index in forms.plan]
    plan = plans[built.index(here)]
    picks = _picks(plan, here)
    tied = _is_tied(hand)
    best: dict[tuple[Change, Hashable], tuple[int, Groups]] = {}
    for made, its_plan in zip(built, plans, strict=True):
        other = _picked(its_plan, made, picks) or made
        unlike = sum(one not in here for one in other)
        change = _change(here, other, tied) if _is_same(plan, its_plan) else Change.ALTERNATIVE
        if change is None or way_of(other) == way_of(here):
            continue
        same = {Change.SUITS: _suits(other), Change.ALTERNATIVE: None}.get(change, other)
        if (change, same) not in best or unlike < best[change, same][0]:
            best[change, same] = unlike, other
    ways: dict[str, Way] = {}
    for (change, _), (_, other) in best.items():
        ways.setdefault(way_of(other), Way(change, other))
    for other in _other_picks(plan, here, picks):
        ways.setdefault(way_of(other), Way(Change.CHOICE, other))
    order = list(Change)
    return tuple(sorted(ways.values(), key=lambda way: (order.index(way.change), _indexes(way.groups))))


def _is_same(plan: Plan, other: Plan) -> bool:
    """Two plans are of one branch of a hand; a free choice of knitted tiles has a plan for each two suits."""
    if plan is other or plan.choice is None or other.choice is None:
        return plan is other
    return (plan.sizes, plan.phrases, plan.choice.start) == (other.sizes, other.phrases, other.choice.start)


def _chosen_groups(plan: Plan) -> range:
    """Which groups of a plan are left to a free choice."""
    choice = plan.choice
    if choice is None:
        return range(0)
    first = plan.starts.index(choice.start)
    return range(first, first + choice.count * len(choice.items[0]))


def _picks(plan: Plan, groups: Groups) -> tuple[int, ...]:
    """Return which items of the free choice were chosen, by their number; none where nothing is free."""
    if plan.choice is None:
        return ()
    faces = [groups[at][1].index for at in _chosen_groups(plan)][:: len(plan.choice.items[0])]
    return tuple(next(at for at, item in enumerate(plan.choice.items) if face in item) for face in faces)


def _picked(plan: Plan, groups: Groups, picks: Sequence[int]) -> Groups | None:
    """Return the groups with these items chosen, or None where a plan leaves no such choice or a set lacks the tiles."""
    choice = plan.choice
    if choice is None or choice.count != len(picks) or max(picks) >= len(choice.items):
        return None
    faces = [FACES[face] for pick in picks for face in choice.items[pick]]
    own = _chosen_groups(plan)
    changed = (*groups[: own.start], *((choice.size, face) for face in faces), *groups[own.stop :])
    tiles: Counter[Face] = Counter()
    for size, face in changed:
        tiles[face] += size
    enough = all(count <= face.copies for face, count in tiles.items())
    return changed if enough and max(Counter(picks).values()) <= choice.most else None


def _other_picks(plan: Plan, here: Groups, picks: Sequence[int]) -> Iterator[Groups]:
    """Yield the groups with another item in place of the last one that was chosen."""
    items = plan.choice.items if plan.choice else ()
    for pick in range(len(items)):
        other = _picked(plan, here, (*picks[:-1], pick))
        if other and way_of(other) != way_of(here):
            yield other


def _groups(forms: Forms, column: int) -> Groups:
    plan = forms.plans[forms.plan[column]]
    slots = forms.slots[:, column]
    return tuple((size, FACES[slots[start]]) for start, size in zip(plan.starts, plan.sizes, strict=True))


def _is_tied(hand: Hand) -> bool:
    """Some dragon of the hand hangs on the suits."""
    tiles = {t for phrases in alternatives(hand) for p in phrases if isinstance(p, Group) for t in p.tiles}
    return bool(tiles & {Honour.MATCHING_DRAGON, Honour.OPPOSITE_DRAGON})


def _change(here: Groups, other: Groups, tied: bool) -> Change | None:
    """Return what alone differs between two ways of one plan, or None when several things do."""
    suits = _suits(here) != _suits(other)
    numbers = [face.number for _, face in here] != [face.number for _, face in other]
    honours = _honours(here) != _honours(other)
    if suits and not numbers and (tied or not honours):
        return Change.SUITS
    if numbers and not suits and not honours:
        return Change.NUMBERS
    return Change.HONOURS if honours and not suits and not numbers else None


def _suits(groups: Groups) -> tuple[Suit | None, ...]:
    return tuple(face.suit for _, face in groups if face.kind is Kind.SUITED)


def _honours(groups: Groups) -> tuple[Face, ...]:
    return tuple(face for _, face in groups if face.kind is not Kind.SUITED)


def _indexes(groups: Groups) -> list[int]:
    return [face.index for _, face in groups]
