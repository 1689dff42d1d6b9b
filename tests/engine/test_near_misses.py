"""Every form of every hand of the demo card is a win, and changed by one step it is not, for the reason named."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pytest
from oracle import Form, completes, plain_forms

from tilewitness.engine.card import Card
from tilewitness.engine.faces import FACES, Face, Kind
from tilewitness.engine.forms import NATURALS, Forms
from tilewitness.engine.judge import judge
from tilewitness.engine.opinion import Fault, Opinion
from tilewitness.engine.rack import JOKER, Rack

FORMS_PER_HAND = 5
SUITS = {Fault.SUITS_NOT_ALIKE, Fault.SUITS_NOT_DIFFERENT, Fault.WRONG_SUIT, Fault.DRAGON_OF_WRONG_SUIT}


@dataclass(frozen=True)
class Laid:
    """One form with real tiles: faces by group, jokers where a set has no more of a tile."""

    hand: int
    groups: tuple[tuple[Face, ...], ...]

    @property
    def tiles(self) -> list[Face]:
        return [tile for group in self.groups for tile in group]

    def with_group(self, at: int, group: tuple[Face, ...]) -> Laid:
        return Laid(self.hand, (*self.groups[:at], group, *self.groups[at + 1 :]))

    def face(self, at: int) -> Face:
        return next(tile for tile in self.groups[at] if tile != JOKER)


def laid(forms: Forms, column: int) -> Laid:
    plan = forms.plans[forms.plan[column]]
    left = Counter({face: face.copies for face in FACES})
    spans = list(zip(plan.starts, plan.sizes, strict=True))
    groups: dict[int, tuple[Face, ...]] = {}
    for start, size in sorted(spans, key=lambda span: span[1] >= 3):
        face = FACES[forms.slots[start, column]]
        natural = min(size, left[face])
        left[face] -= natural
        groups[start] = (face,) * natural + (JOKER,) * (size - natural)
    return Laid(int(forms.hand[column]), tuple(groups[start] for start, _ in spans))


def examples(card: Card) -> Iterator[Laid]:
    """A few forms of each hand, spread over all it has."""
    for hand in range(len(card.hands)):
        columns = np.flatnonzero(card.forms.hand == hand)
        steps = np.unique(np.linspace(0, len(columns) - 1, FORMS_PER_HAND).astype(int))
        for column in columns[steps]:
            form = laid(card.forms, int(column))
            if all(any(tile != JOKER for tile in group) for group in form.groups):
                yield form


@pytest.fixture(scope="module")
def single(demo: Card) -> dict[int, Card]:
    """One card a hand of the demo card."""
    cards = {}
    for index, hand in enumerate(demo.hands):
        forms = demo.forms.chosen(np.flatnonzero(demo.forms.hand == index))
        cards[index] = Card(demo.name, (hand,), Forms(
            forms.total, forms.bare, forms.slots, forms.sizes, forms.plan, forms.hand * 0, forms.plans
        ))  # fmt: skip
    return cards


@pytest.fixture(scope="module")
def plain(demo: Card) -> dict[int, set[Form]]:
    """The forms of each hand as the oracle sees them."""
    return {index: plain_forms(hand) for index, hand in enumerate(demo.hands)}


def faults(opinion: Opinion) -> set[Fault]:
    nearest = {reason.fault for near in opinion.nearest for reason in near.reasons}
    return nearest | {reason.fault for near in opinion.near_misses for reason in near.reasons}


def is_real(tiles: list[Face]) -> bool:
    return all(count <= face.copies for face, count in Counter(tiles).items())


def test_every_form_of_every_hand_is_a_win_in_card_order(demo: Card) -> None:
    for column in range(len(demo.forms)):
        form = laid(demo.forms, column)
        opinion = judge(form.tiles, demo)
        wins = {win.hand: win for win in opinion.wins}

        assert demo.hands[form.hand] in wins
        assert wins[demo.hands[form.hand]].in_card_order
        assert not opinion.nearest


def check(
    demo: Card,
    single: dict[int, Card],
    plain: dict[int, set[Form]],
    changed: Laid,
    expected: set[Fault],
    changed_tiles: int = 0,
) -> int:
    """Judge a changed form by its own hand; return 1 if it was a real near miss and the reason is one expected."""
    hand = demo.hands[changed.hand]
    if not is_real(changed.tiles) or completes(changed.tiles, plain[changed.hand], hand.no_jokers):
        return 0
    opinion = judge(changed.tiles, single[changed.hand])

    assert not opinion.is_complete, (hand.name, changed)
    if not expected & faults(opinion):  # then another rule must explain it with no more tiles to change
        assert SUITS & faults(opinion), (hand.name, str(opinion.rack), faults(opinion))
        assert min(near.missing for near in opinion.near_misses) <= changed_tiles
        return 0
    return 1


def test_a_joker_in_a_pair_or_among_singles_is_named(
    demo: Card, single: dict[int, Card], plain: dict[int, set[Form]]
) -> None:
    checked = Counter[Fault]()
    for form in examples(demo):
        no_jokers = demo.hands[form.hand].no_jokers
        for at, group in enumerate(form.groups):
            fault = {1: Fault.JOKER_AMONG_SINGLES, 2: Fault.JOKER_IN_PAIR}.get(len(group))
            fault = fault or (Fault.JOKER_NOT_ALLOWED if no_jokers else None)
            if fault:
                changed = form.with_group(at, (*group[:-1], JOKER))
                checked[fault] += check(demo, single, plain, changed, {fault})

    assert all(checked[fault] > 5 for fault in checked) and len(checked) == 3, checked


def test_one_tile_too_few_waits_for_it(demo: Card, single: dict[int, Card]) -> None:
    for form in examples(demo):
        for at, group in enumerate(form.groups):
            opinion = judge(form.with_group(at, group[1:]).tiles, single[form.hand])

            assert not opinion.is_complete
            assert group[0] in {wait.face for wait in opinion.waits}
            assert {Fault.TILES_MISSING} == {reason.fault for reason in opinion.nearest[0].reasons}


def test_one_tile_too_many_is_named(demo: Card, single: dict[int, Card]) -> None:
    for form in examples(demo):
        for extra in FACES[::7]:
            tiles = [*form.tiles, extra]
            if is_real(tiles):
                opinion = judge(tiles, single[form.hand])

                assert not opinion.is_complete
                assert Fault.TILES_TOO_MANY in {reason.fault for reason in opinion.nearest[0].reasons}


def moved(form: Laid, at: int, face: Face) -> Laid:
    return form.with_group(at, tuple(face if tile != JOKER else tile for tile in form.groups[at]))


def test_a_dragon_of_the_wrong_suit_is_named(
    demo: Card, single: dict[int, Card], plain: dict[int, set[Form]]
) -> None:
    checked = 0
    for form in examples(demo):
        for at in range(len(form.groups)):
            if form.face(at).kind is Kind.DRAGON:
                for dragon in FACES[31:34]:
                    expected = {Fault.DRAGON_OF_WRONG_SUIT, Fault.WRONG_DRAGON}
                    checked += check(demo, single, plain, moved(form, at, dragon), expected)

    assert checked > 100


def test_a_number_out_of_run_is_named(
    demo: Card, single: dict[int, Card], plain: dict[int, set[Form]]
) -> None:
    checked = 0
    for form in examples(demo):
        for at in range(len(form.groups)):
            face = form.face(at)
            if face.number:
                for number in range(1, 10):
                    other = FACES[face.index - face.number + number]
                    expected = {Fault.NUMBER_OUT_OF_RUN}
                    size = len(form.groups[at])
                    checked += check(demo, single, plain, moved(form, at, other), expected, size)

    assert checked > 1000


def test_a_wrong_wind_is_named(demo: Card, single: dict[int, Card], plain: dict[int, set[Form]]) -> None:
    checked = 0
    for form in examples(demo):
        for at in range(len(form.groups)):
            if form.face(at).kind is Kind.WIND:
                for wind in FACES[27:31]:
                    checked += check(demo, single, plain, moved(form, at, wind), {Fault.WRONG_WIND})

    assert checked > 50


def test_a_group_in_another_suit_is_named(
    demo: Card, single: dict[int, Card], plain: dict[int, set[Form]]
) -> None:
    checked = 0
    for form in examples(demo):
        for at in range(len(form.groups)):
            face = form.face(at)
            if face.number:
                for start in (0, 9, 18):
                    checked += check(demo, single, plain, moved(form, at, FACES[start + face.index % 9]), SUITS)

    assert checked > 300


def test_two_suits_made_one_are_named(
    demo: Card, single: dict[int, Card], plain: dict[int, set[Form]]
) -> None:
    checked = 0
    for form in examples(demo):
        for suit, other in ((0, 9), (9, 18), (18, 0)):
            changed = form
            for at in range(len(form.groups)):
                index = form.face(at).index
                if suit <= index < suit + 9:
                    changed = moved(changed, at, FACES[other + index % 9])
            suits = {face.suit for face in form.tiles if face.number}
            if len({face.suit for face in changed.tiles if face.number}) < len(suits):
                checked += check(demo, single, plain, changed, {Fault.SUITS_NOT_DIFFERENT, Fault.WRONG_SUIT})

    assert checked > 100


def test_a_concealed_hand_with_a_claimed_group_is_named(demo: Card, single: dict[int, Card]) -> None:
    checked = 0
    for form in examples(demo):
        start = 0
        for group in form.groups:
            places = tuple(range(start, start + len(group)))
            start += len(group)
            if len(group) >= 3:
                opinion = judge(Rack(tuple(form.tiles), (places,)), single[form.hand])
                concealed = demo.hands[form.hand].concealed

                assert opinion.is_complete is not concealed
                assert not concealed or faults(opinion) == {Fault.CONCEALED_HAND_SHOWN}
                checked += concealed

    assert checked > 20


def test_a_pung_claimed_out_of_a_kong_is_named(demo: Card, single: dict[int, Card]) -> None:
    checked = 0
    for form in examples(demo):
        start = 0
        faces = Counter((form.face(at), len(group)) for at, group in enumerate(form.groups))
        for at, group in enumerate(form.groups):
            places = (start, start + 1, start + 2)
            start += len(group)
            hidden = demo.hands[form.hand].concealed or (form.face(at), 3) in faces
            if len(group) == 4 and JOKER not in group and not hidden:
                opinion = judge(Rack(tuple(form.tiles), (places,)), single[form.hand])

                assert not opinion.is_complete
                assert {Fault.CLAIM_NOT_IN_HAND} == faults(opinion)
                checked += 1

    assert checked > 100


def test_of_several_claimed_groups_the_one_that_does_not_fit_is_named(demo: Card) -> None:
    rack = Rack.parse("(kong of 1 bam), (pung of 5 bam), 5 bam, kong of 9 dot, pair of flowers")
    near = judge(rack, demo).near_misses[0]

    assert "Two Lanterns" == near.hand.name  # it takes kongs of 1 bam and 5 bam
    assert [(Fault.CLAIM_NOT_IN_HAND, (4, 5, 6))] == [(reason.fault, reason.places) for reason in near.reasons]


def test_more_of_a_tile_than_a_set_holds_is_named(demo: Card) -> None:
    for form in examples(demo):
        for face in FACES[:NATURALS:9]:
            spare = [at for at, tile in enumerate(form.tiles) if tile != face]
            short = face.copies + 1 - form.tiles.count(face)
            tiles = form.tiles
            for at in spare[:short]:
                tiles[at] = face
            if tiles.count(face) == face.copies + 1:
                opinion = judge(tiles, demo)

                assert not opinion.is_complete
                assert Fault.MORE_THAN_A_SET_HOLDS in {reason.fault for reason in opinion.reasons}


def test_a_claimed_joker_serves_only_its_own_group(demo: Card) -> None:
    # Common practice, no source: a joker in a claimed group moves only in exchange for the natural tile.
    rack = Rack.parse("(pung of 1 bam, joker), 1 bam, pair of flowers, kong of 5 bam, pung of 9 dot")
    opinion = judge(rack, demo)

    assert () == opinion.near_misses
    assert "Two Lanterns" == opinion.nearest[0].hand.name
    assert [Fault.WRONG_TILES] == [reason.fault for reason in opinion.nearest[0].reasons]
    assert [(3, 4)] == [(exchange.joker, exchange.natural) for exchange in opinion.exchanges]
