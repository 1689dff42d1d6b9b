"""A rack checked against one hand: right forms are right, planted faults are named where they are, with the remedy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import pytest
from oracle import Form, assigned, completes, plain_forms

from tilewitness.engine.card import Card, parse_card
from tilewitness.engine.corrections import Correction
from tilewitness.engine.describe import describe
from tilewitness.engine.exercise import Exercise, ExerciseError, check
from tilewitness.engine.faces import FACES, Face, Kind
from tilewitness.engine.hands import Hand, size_word
from tilewitness.engine.opinion import Fault
from tilewitness.engine.rack import JOKER, Rack
from tilewitness.engine.ways import Change, way_of

FORMS_PER_HAND = 4
DRAGON_FAULTS = {Fault.DRAGON_OF_WRONG_SUIT, Fault.WRONG_DRAGON}
SUIT_FAULTS = {Fault.SUITS_NOT_ALIKE, Fault.SUITS_NOT_DIFFERENT, Fault.WRONG_SUIT}

Groups = list[list[Face]]


@dataclass(frozen=True)
class Built:
    """A form of a hand as tiles by group, a joker for what a set has no more of."""

    hand: Hand
    groups: tuple[tuple[Face, ...], ...]

    @property
    def tiles(self) -> list[Face]:
        return [tile for group in self.groups for tile in group]

    def start(self, at: int) -> int:
        return sum(len(group) for group in self.groups[:at])

    def places(self, at: int) -> tuple[int, ...]:
        return tuple(range(self.start(at), self.start(at) + len(self.groups[at])))

    def with_group(self, at: int, group: Sequence[Face]) -> list[Face]:
        return [tile for i, own in enumerate(self.groups) for tile in (group if i == at else own)]


@pytest.fixture(scope="module")
def plain(demo: Card) -> dict[str, list[Form]]:
    """The forms of each hand as the oracle sees them, in an order of their own."""
    return {hand.name: sorted(plain_forms(hand)) for hand in demo.hands}


def built(hand: Hand, forms: list[Form]) -> Iterator[Built]:
    """A few forms of a hand, spread over all it has."""
    for at in np.unique(np.linspace(0, len(forms) - 1, FORMS_PER_HAND).astype(int)).tolist():
        left = {face: face.copies for face in FACES}
        groups: dict[int, tuple[Face, ...]] = {}
        for index, (size, name) in sorted(enumerate(forms[at]), key=lambda one: one[1][0] >= 3):
            face = Face.named(name)
            natural = min(size, left[face])
            left[face] -= natural
            groups[index] = (face,) * natural + (JOKER,) * (size - natural)
        yield Built(hand, tuple(groups[index] for index in range(len(groups))))


@pytest.fixture(scope="module")
def examples(demo: Card, plain: dict[str, list[Form]]) -> list[Built]:
    return [one for hand in demo.hands for one in built(hand, plain[hand.name])]


def corrected(exercise: Exercise) -> list[Face]:
    """The rack after doing all that the corrections say, the first remedy of each."""
    tiles: list[Face | None] = list(exercise.rack.faces)
    for one in exercise.corrections:
        for place in one.places:
            tiles[place] = one.wanted[0] if one.wanted else None
        if not one.places:
            tiles += [one.wanted[0]] * one.count
    return [tile for tile in tiles if tile is not None]


def only_correction(tiles: Sequence[Face], hand: Hand, card: Card) -> Correction:
    (one,) = check(tiles, hand, card).corrections
    return one


def test_every_form_of_every_hand_is_right(demo: Card, examples: list[Built]) -> None:
    assert [] == [one for one in examples if not check(one.tiles, one.hand, demo).right]


def test_a_right_form_is_named_by_its_groups_whatever_their_order(demo: Card, examples: list[Built]) -> None:
    for one in examples:
        groups = ((len(group), next(t for t in group if t != JOKER)) for group in one.groups)

        assert way_of(groups) == check(one.tiles, one.hand, demo).way


def test_doing_what_is_said_puts_any_rack_right(demo: Card, examples: list[Built], plain: dict[str, list[Form]]) -> None:
    random = np.random.default_rng(5)
    for one in examples:
        tiles = one.tiles
        for place in random.choice(14, random.integers(1, 5), replace=False):
            tiles[place] = FACES[random.integers(len(FACES))]
        tiles = tiles[: random.integers(11, 15)] + [FACES[i] for i in random.integers(0, 34, random.integers(0, 3))]
        exercise = check(tiles, one.hand, demo)

        assert completes(corrected(exercise), plain[one.hand.name], one.hand.no_jokers)


def test_no_more_tiles_are_to_be_changed_than_the_hand_needs(
    demo: Card, examples: list[Built], plain: dict[str, list[Form]]
) -> None:
    random = np.random.default_rng(8)
    for one in examples[::4]:
        tiles = [tile if tile != JOKER else FACES[0] for tile in one.tiles]
        for place in random.choice(14, random.integers(1, 5), replace=False):
            tiles[place] = FACES[random.integers(34)]
        if any(tiles.count(face) > face.copies for face in tiles):
            continue
        forms = [tuple(zip(*form, strict=True)) for form in plain[one.hand.name]]
        least = min(assigned(Rack(tuple(tiles)), list(sizes), list(names), False) for sizes, names in forms)

        assert least == sum(found.count for found in check(tiles, one.hand, demo).corrections)


def test_a_joker_in_a_pair_is_named_even_where_it_could_help_elsewhere(demo: Card) -> None:
    hand = next(hand for hand in demo.hands if hand.name == "Two Lanterns")
    exercise = check(Rack.parse("flower, joker, kong of 1 bam, kong of 5 bam, kong of 9 bam"), hand, demo)

    assert [
        (Fault.JOKER_IN_PAIR, (1,), (Face.named("flower"),)),
        (Fault.SUITS_NOT_DIFFERENT, (10, 11, 12, 13), (Face.named("9 crak"), Face.named("9 dot"))),
    ] == [(one.fault, one.places, one.wanted) for one in exercise.corrections]


def test_a_rack_that_is_another_hand_of_the_card_is_told_to_be_that(demo: Card) -> None:
    hands = {hand.name: hand for hand in demo.hands}
    pier = Rack.parse("pair of 2 bam, pung of 4 bam, pung of 6 bam, pung of 6 dot, pung of 8 dot")

    assert (hands["Long Pier"],) == check(pier, hands["Two Lanterns"], demo).instead
    assert () == check(pier, hands["Long Pier"], demo).instead


def test_a_joker_in_a_pair_is_named_with_the_tile_that_belongs_there(demo: Card, examples: list[Built]) -> None:
    tried = 0
    for one in examples:
        for at, group in enumerate(one.groups):
            if len(group) == 2 and JOKER not in one.tiles:
                tiles = one.with_group(at, [group[0], JOKER])
                found = only_correction(tiles, one.hand, demo)
                place = one.start(at) + 1
                tried += 1

                assert (Fault.JOKER_IN_PAIR, (place,), JOKER, (group[0],)) == (
                    found.fault, found.places, found.found, found.wanted
                )  # fmt: skip
    assert tried > 50


def test_a_wrong_dragon_is_named_with_the_right_one(demo: Card, examples: list[Built]) -> None:
    """One dragon of a group of three or more: its neighbours leave no doubt of what it must be."""
    tried = 0
    for one in examples:
        for at, group in enumerate(one.groups):
            if len(group) < 3 or group[-1].kind is not Kind.DRAGON:
                continue
            for dragon in (face for face in FACES if face.kind is Kind.DRAGON and face not in one.tiles):
                found = only_correction(one.with_group(at, [*group[:-1], dragon]), one.hand, demo)
                tried += 1

                assert ((one.places(at)[-1],), dragon, (group[0],)) == (found.places, found.found, found.wanted)
                assert found.fault in DRAGON_FAULTS
    assert tried > 50


@pytest.mark.parametrize(
    ("name", "tiles", "wanted"),
    [
        ("Anchor Chain", "pair of 3 bam, 3 bam, 3 bam, joker, joker, kong of 3 crak, kong of red dragon", ["white"]),
        ("Spring Tide", "pung of 3 bam, kong of 4 bam, pung of 5 bam, kong of green dragon", ["red", "white"]),
        ("Soap and Water", "sextet of soap, kong of 2 dot, kong of 8 dot", []),
    ],
)
def test_a_whole_group_of_the_wrong_dragon_is_one_fault(demo: Card, name: str, tiles: str, wanted: list[str]) -> None:
    hand = next(hand for hand in demo.hands if hand.name == name)
    rack = Rack.parse(tiles.replace("sextet of soap", "kong of soap, joker, joker"))
    found = check(rack, hand, demo).corrections

    assert [Face.named(one) for one in wanted] == [face for one in found for face in one.wanted]
    assert ([(10, 11, 12, 13)] if wanted else []) == [one.places for one in found]


def test_a_tile_of_another_suit_is_named_with_the_suit_it_must_be(demo: Card, examples: list[Built]) -> None:
    """One tile of a group of three or more: its neighbours leave no doubt of what it must be."""
    tried = 0
    for one in examples:
        for at, group in enumerate(one.groups):
            face = group[-1]
            if len(group) < 3 or face.kind is not Kind.SUITED:
                continue
            for other in (FACES[(face.index + step) % 27] for step in (9, 18)):
                if other in one.tiles:
                    continue
                found = only_correction(one.with_group(at, [*group[:-1], other]), one.hand, demo)
                tried += 1

                assert ((one.places(at)[-1],), (face,)) == (found.places, found.wanted)
                assert found.fault in {Fault.SUITS_NOT_ALIKE, Fault.WRONG_SUIT}
    assert tried > 100


def test_a_number_out_of_the_run_is_named_with_the_number_it_must_be(demo: Card, examples: list[Built]) -> None:
    tried = 0
    for one in examples:
        for at, group in enumerate(one.groups):
            face = group[-1]
            if len(group) < 3 or face.kind is not Kind.SUITED:
                continue
            other = FACES[face.index + 1] if face.number != 9 else FACES[face.index - 1]
            if other in one.tiles:
                continue
            found = only_correction(one.with_group(at, [*group[:-1], other]), one.hand, demo)
            tried += 1

            assert (Fault.NUMBER_OUT_OF_RUN, (one.places(at)[-1],), (face,)) == (
                found.fault, found.places, found.wanted
            )  # fmt: skip
    assert tried > 100


def test_one_tile_too_few_is_named_with_its_group(demo: Card, examples: list[Built]) -> None:
    for one in examples:
        at = max(range(len(one.groups)), key=lambda at: len(one.groups[at]))
        found = only_correction(one.with_group(at, one.groups[at][:-1]), one.hand, demo)

        assert (Fault.TILES_MISSING, (), 1) == (found.fault, found.places, found.count)


def test_one_tile_too_many_is_named_where_it_stands(demo: Card, examples: list[Built]) -> None:
    for one in examples:
        extra = next(face for face in FACES if face not in one.tiles)
        exercise = check([*one.tiles, extra], one.hand, demo)

        assert ((Correction(Fault.TILES_TOO_MANY, (14,), extra)),) == exercise.corrections
        assert exercise.count_is_off
        assert 7 == exercise.between  # four from each end


def test_other_ways_are_forms_of_the_hand_and_none_is_the_one_that_was_built(
    demo: Card, examples: list[Built], plain: dict[str, list[Form]]
) -> None:
    for one in examples:
        real = {way_of((size, Face.named(name)) for size, name in form) for form in plain[one.hand.name]}
        exercise = check(one.tiles, one.hand, demo)
        keys = [way.key for way in exercise.other_ways]

        assert set(keys) <= real - {exercise.way}
        assert len(keys) == len(set(keys))


def _apart(one: Form, other: Form) -> set[str]:
    """What differs between two forms of one hand, group by group; "shape" when they are of different alternatives."""
    if [size for size, _ in one] != [size for size, _ in other]:
        return {"shape"}
    pairs = [(Face.named(a), Face.named(b)) for (_, a), (_, b) in zip(one, other, strict=True)]
    if any(a.kind is not b.kind for a, b in pairs):
        return {"shape"}
    suited = [(a, b) for a, b in pairs if a.kind is Kind.SUITED]
    return {
        *({"suits"} if any(a.suit is not b.suit for a, b in suited) else ()),
        *({"numbers"} if any(a.number != b.number for a, b in suited) else ()),
        *({"honours"} if any(a != b for a, b in pairs if a.kind is not Kind.SUITED) else ()),
    }


def test_all_ways_that_differ_in_one_thing_alone_are_there(
    demo: Card, examples: list[Built], plain: dict[str, list[Form]]
) -> None:
    for one in examples[::2]:
        here = tuple((len(group), next(tile for tile in group if tile != JOKER).name) for group in one.groups)
        ways = {way.key for way in check(one.tiles, one.hand, demo).other_ways}
        own = way_of((size, Face.named(name)) for size, name in here)
        due = {
            way_of((size, Face.named(name)) for size, name in form)
            for form in plain[one.hand.name]
            if len(_apart(here, form) - {"shape"}) == 1
        }

        assert set() == due - ways - {own}


def test_a_hand_has_as_many_ways_as_its_description_says(demo: Card, plain: dict[str, list[Form]]) -> None:
    """So that a learner can come to know all of them."""
    ways = {
        hand.name: len({way_of((size, Face.named(name)) for size, name in form) for form in plain[hand.name]})
        for hand in demo.hands
    }

    assert ways == {one.hand.name: one.forms for one in describe(demo)}


def test_hands_with_a_free_choice_are_checked_too(handbook: Card) -> None:
    random = np.random.default_rng(2)
    for one in describe(handbook):
        tiles = [slot.face for group in one.example for slot in group.slots]

        assert check(tiles, one.hand, handbook).right
        for _ in range(20):
            spoilt = list(tiles)
            for place in random.choice(14, 2, replace=False):
                spoilt[place] = FACES[random.integers(34)]

            assert check(corrected(check(spoilt, one.hand, handbook)), one.hand, handbook).right


def test_a_hand_in_one_suit_can_be_built_in_the_two_others(demo: Card) -> None:
    hand = next(hand for hand in demo.hands if hand.name == "Splice")
    exercise = check(Rack.parse("pair of 5 bam, pung of 5 bam, quint of 6 bam, kong of flowers"), hand, demo)

    assert [Change.SUITS] * 2 == [way.change for way in exercise.other_ways]
    assert describe(demo)[demo.hands.index(hand)].forms == 1 + len(exercise.other_ways)


def test_claimed_groups_of_a_concealed_hand_are_named(demo: Card) -> None:
    hand = next(hand for hand in demo.hands if hand.name == "Cast Net")
    singles = "1 bam, 2 dot, 3 bam, 4 dot, 5 bam, 6 dot, 7 bam, 8 dot, 9 bam"
    exercise = check(Rack.parse(f"{singles}, (quint of flowers)"), hand, demo)

    assert [(Fault.CONCEALED_HAND_SHOWN, (9, 10, 11, 12, 13))] == [
        (one.fault, one.places) for one in exercise.corrections
    ]


def test_a_hand_of_another_card_cannot_be_practised(demo: Card) -> None:
    other = parse_card('name = "Other"\n["One"]\n"Steps" = "sextet of flowers, kongs of 1 and 2 bam; worth 25"')

    with pytest.raises(ExerciseError, match='no hand "Steps" on Lighthouse'):
        check(Rack.parse("flower"), other.hands[0], demo)


def test_a_way_is_written_as_a_rack_is_typed() -> None:
    way = way_of([(size, FACES[at]) for at, size in enumerate((4, 3, 2, 1), 10)])

    assert 10 == len(Rack.parse(way).faces)
    assert size_word(4) in way


def test_a_remedy_never_asks_for_a_tile_of_which_the_rack_holds_all(demo: Card) -> None:
    hand = next(hand for hand in demo.hands if hand.name == "Green Buoy")
    exercise = check(
        Rack.parse("two jokers, kong of 1 bam, 2 bam, pung of green dragon, kong of 9 bam"), hand, demo
    )

    assert [((6,), Face.named("2 bam"), (Face.named("green dragon"),))] == [
        (one.places, one.found, one.wanted) for one in exercise.corrections
    ]


def test_ways_with_other_tiles_of_a_free_choice_are_hands_too(handbook: Card) -> None:
    for one in describe(handbook):
        tiles = [slot.face for group in one.example for slot in group.slots]
        exercise = check(tiles, one.hand, handbook)
        keys = [way.key for way in exercise.other_ways]

        assert keys
        assert exercise.way not in keys
        assert len(set(keys)) == len(keys)
        assert all(check(Rack.parse(key), one.hand, handbook).right for key in keys)


def test_any_other_pair_may_stand_in_place_of_the_last_of_seven(handbook: Card) -> None:
    hand = next(hand for hand in handbook.hands if hand.name == "Seven Pairs")
    exercise = check(Rack.parse("pairs of 1 bam, 2 bam, 3 bam, 4 bam, 5 bam, 6 bam, east"), hand, handbook)

    # 34 different tiles and no joker in a pair (common practice, no source), less the seven that stand there
    assert [Change.CHOICE] * 27 == [way.change for way in exercise.other_ways]
