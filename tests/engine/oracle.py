"""Programs that do what the engine does and share nothing with it: plain loops and scipy's assignment solver."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from functools import cache

import numpy as np
from scipy.optimize import linear_sum_assignment

from tilewitness.engine.faces import Face, Suit
from tilewitness.engine.hands import Either, Group, Hand, Honour, Number, NumberName, SuitRule
from tilewitness.engine.rack import Rack

NEVER = 99

Form = tuple[tuple[int, str], ...]
"""Groups in card order: size and name of the face."""

WINDS = ("north", "east", "south", "west")
DRAGONS = {"bam": "green dragon", "crak": "red dragon", "dot": "white dragon"}


def plain_forms(hand: Hand) -> set[Form]:
    """Every form of a hand without free choices, by trying all values of everything that is free."""
    branches = [part.branches if isinstance(part, Either) else [[part]] for part in hand.parts]
    found: set[Form] = set()
    for picked in itertools.product(*branches):
        groups = [group for branch in picked for group in branch]
        assert all(isinstance(group, Group) for group in groups)
        found |= {form for form in _plain(hand, groups) if fits(hand, form)}  # type: ignore[arg-type]  # asserted
    return found


def _plain(hand: Hand, groups: list[Group]) -> Iterator[Form]:
    tiles = [tile for group in groups for tile in group.tiles]
    names = {tile.of for tile in tiles if isinstance(tile, Number) and tile.of}
    if NumberName.SUM in names:
        names = (names | {NumberName.FIRST, NumberName.SECOND}) - {NumberName.SUM}
    order = sorted(names, key=lambda name: name.value)
    uses_winds = any(isinstance(t, Honour) and "wind" in t.value for t in tiles)
    uses_dragons = any(t in (Honour.FIRST_DRAGON, Honour.SECOND_DRAGON, Honour.THIRD_DRAGON) for t in tiles)
    own = sum(group.suit is SuitRule.ANY for group in groups)
    suits = [suit.value for suit in Suit]
    for numbers in itertools.product(range(1, 10), repeat=len(order)):
        value = dict(zip(order, numbers, strict=True))
        if any(value.get(rule.name, rule.allowed[0]) not in rule.allowed for rule in hand.rules):
            continue
        if hand.numbers_differ and len(set(numbers)) < len(numbers):
            continue
        value[NumberName.SUM] = value.get(NumberName.FIRST, 0) + value.get(NumberName.SECOND, 0)
        for three in itertools.permutations(suits):
            for winds in itertools.permutations(WINDS) if uses_winds else [WINDS]:
                for dragons in itertools.permutations(DRAGONS.values()) if uses_dragons else [()]:
                    for opposite in DRAGONS if Honour.OPPOSITE_DRAGON in tiles else ["none"]:
                        for free in itertools.product(suits, repeat=own):
                            form = _build(groups, value, three, winds, dragons, opposite, list(free))
                            if form is not None:
                                yield form


def _build(
    groups: list[Group],
    value: dict[NumberName, int],
    three: tuple[str, ...],
    winds: tuple[str, ...],
    dragons: tuple[str, ...],
    opposite: str,
    free: list[str],
) -> Form | None:
    form: list[tuple[int, str]] = []
    used: set[str] = set()
    for group in groups:
        rule = group.suit
        own = free.pop() if rule is SuitRule.ANY else ""
        for turn, tile in enumerate(group.tiles):
            suit = {
                SuitRule.FIRST: three[0],
                SuitRule.SECOND: three[1],
                SuitRule.THIRD: three[2],
                SuitRule.TWO_IN_TURN: three[turn % 2],
                SuitRule.THREE_IN_TURN: three[turn % 3],
                SuitRule.ANY: own,
            }.get(rule, rule.value if rule else "") if rule else ""
            if isinstance(tile, Number):
                number = tile.offset + (value[tile.of] if tile.of else 0)
                if not 1 <= number <= 9:
                    return None
                used.add(suit)
                form.append((group.size, f"{number} {suit}"))
            elif isinstance(tile, Face):
                form.append((group.size, tile.name))
            elif tile is Honour.MATCHING_DRAGON:
                form.append((group.size, DRAGONS[suit]))
            elif tile is Honour.OPPOSITE_DRAGON:
                form.append((group.size, DRAGONS[opposite]))
            elif tile is Honour.OPPOSITE_WIND:
                form.append((group.size, WINDS[(WINDS.index(winds[0]) + 2) % 4]))
            else:
                rank = ("first", "second", "third", "fourth").index(tile.value.split()[0])
                form.append((group.size, winds[rank] if "wind" in tile.value else dragons[rank]))
    return None if opposite in used else tuple(form)


def fits(hand: Hand, form: Form) -> bool:
    """Fourteen tiles that a set of 152 holds, with at most eight jokers where they may stand."""
    jokers = 0
    for name in {name for _, name in form}:
        copies = 8 if name == "flower" else 4
        natural = sum(size for size, n in form if n == name and (size < 3 or hand.no_jokers))
        total = sum(size for size, n in form if n == name)
        if natural > copies:
            return False
        jokers += max(0, total - copies)
    return sum(size for size, _ in form) == 14 and jokers <= 8


def assigned(rack: Rack, sizes: list[int], faces: list[str], no_jokers: bool) -> int:
    """Tiles missing to one form by optimal assignment of tiles to slots, over all ways to place the claims."""
    groups = list(zip(sizes, faces, strict=True))
    best = NEVER
    for placed in itertools.permutations(range(len(groups)), len(rack.exposed)):
        if all(_same(rack, claim, *groups[at], no_jokers) for claim, at in zip(rack.exposed, placed, strict=True)):
            left = [group for at, group in enumerate(groups) if at not in placed]
            best = min(best, unfilled([rack.faces[p] for p in rack.hidden], left, no_jokers))
            break  # equal groups are interchangeable
    return best


def _same(rack: Rack, claim: tuple[int, ...], size: int, face: str, no_jokers: bool) -> bool:
    names = {rack.faces[place].name for place in claim}
    jokers_fine = "joker" not in names or not no_jokers
    return len(claim) == size >= 3 and face in names and names <= {face, "joker"} and jokers_fine


def unfilled(tiles: list[Face], groups: list[tuple[int, str]], no_jokers: bool) -> int:
    slots = [(face, size >= 3 and not no_jokers) for size, face in groups for _ in range(size)]
    fits = [[tile.name == face or (tile.name == "joker" and takes) for face, takes in slots] for tile in tiles]
    if not slots or not tiles:
        return len(slots)
    cost = 1 - np.array(fits, float)
    rows, columns = linear_sum_assignment(cost)
    return len(slots) - int((1 - cost[rows, columns]).sum())


def completes(tiles: Sequence[Face], forms: Iterable[Form], no_jokers: bool) -> bool:
    """Fourteen tiles are one of these forms, jokers standing in groups of three or more."""
    held = Counter(tile.name for tile in tiles)
    jokers = held.pop("joker", 0)
    for form in forms:
        wanted, bare = _wanted(form, no_jokers)
        if any(wanted.get(face, 0) < n for face, n in held.items()):
            continue
        natural = all(held[face] >= n for face, n in bare.items())
        if natural and sum(n - held[face] for face, n in wanted.items()) == jokers:
            return True
    return False


@cache
def _wanted(form: Form, no_jokers: bool) -> tuple[dict[str, int], dict[str, int]]:
    """Tiles of each face that a form takes, and how many of them must be natural."""
    wanted: Counter[str] = Counter()
    bare: Counter[str] = Counter()
    for size, face in form:
        wanted[face] += size
        bare[face] += size if size < 3 or no_jokers else 0
    return dict(wanted), dict(bare)
