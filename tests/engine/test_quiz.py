"""Questions of the quiz: their answers against the oracle, which shares nothing with the engine."""

from __future__ import annotations

import dataclasses

import pytest
from oracle import NEVER, assigned, completes, plain_forms

from tilewitness.engine.card import Card, parse_card
from tilewitness.engine.faces import FACES, Face
from tilewitness.engine.hands import Hand
from tilewitness.engine.quiz import (
    USES,
    Level,
    MayClaim,
    Question,
    StillPossible,
    Use,
    WrongTile,
    is_right,
    questions,
)
from tilewitness.engine.rack import JOKER, Rack

COUNT = 24


@pytest.fixture(scope="module")
def forms(demo: Card) -> dict[Hand, list[tuple[tuple[int, str], ...]]]:
    return {hand: sorted(plain_forms(hand)) for hand in demo.hands}


@pytest.fixture(scope="module")
def asked(demo: Card) -> list[Question]:
    return [question for level in Level for question in questions(demo, level, 11, COUNT)]


def one_more(tiles: list[Face], hand: Hand, forms: list[tuple[tuple[int, str], ...]]) -> bool:
    """Some tile completes this hand."""
    wanted = {name for form in forms for _, name in form} | {"joker"}
    return any(completes([*tiles, face], forms, hand.no_jokers) for face in FACES if face.name in wanted)


def test_the_same_seed_asks_the_same_and_another_asks_otherwise(demo: Card) -> None:
    assert questions(demo, Level.HARD, 5, 6) == questions(demo, Level.HARD, 5, 6)
    assert questions(demo, Level.HARD, 5, 6) != questions(demo, Level.HARD, 6, 6)


def test_every_level_asks_all_kinds_and_as_many_as_wanted(asked: list[Question]) -> None:
    kinds = [type(question) for question in asked]

    assert 3 * COUNT == len(asked)
    assert [COUNT] * 3 == [kinds.count(kind) for kind in (WrongTile, StillPossible, MayClaim)]
    assert set(Use) == {question.use for question in asked if isinstance(question, MayClaim)}


def test_changing_the_wrong_tile_and_no_other_puts_the_rack_right(
    asked: list[Question], forms: dict[Hand, list[tuple[tuple[int, str], ...]]]
) -> None:
    for question in asked:
        if isinstance(question, WrongTile):
            tiles = list(question.rack.faces)
            mends = {
                place
                for place in range(14)
                if one_more(tiles[:place] + tiles[place + 1 :], question.hand, forms[question.hand])
            }

            assert question.answer == mends
            assert question.answer == {p for one in question.exercise.corrections for p in one.places}


def test_a_hand_is_possible_when_some_tile_completes_it(
    asked: list[Question], forms: dict[Hand, list[tuple[tuple[int, str], ...]]]
) -> None:
    for question in asked:
        if isinstance(question, StillPossible):
            possible = {
                at
                for at, hand in enumerate(question.hands)
                if one_more(list(question.rack.faces), hand, forms[hand])
            }

            assert question.answer == possible
            assert possible == {at for at, hand in enumerate(question.hands) for w in question.waits if hand in w.hands}


def may_claim(question: MayClaim, forms: list[tuple[tuple[int, str], ...]]) -> Use:
    """By the rules of claiming as common practice has them, no source: to win anything, else only a whole group."""
    faces = [*question.rack.faces, question.discard]
    if completes(faces, forms, question.hand.no_jokers):
        return Use.WIN
    if question.hand.concealed:
        return Use.NO
    own = [p for p, face in enumerate(question.rack.faces) if face == question.discard]
    jokers = [p for p, face in enumerate(question.rack.faces) if face == JOKER]
    for size in range(3, 7):
        group = (*own, *jokers)[: size - 1]
        laid = Rack(tuple(faces), ((*group, 13),)) if len(group) == size - 1 else None
        for form in forms if laid else ():
            if laid and (size, question.discard.name) in form:
                sizes, names = map(list, zip(*form, strict=True))
                if assigned(laid, sizes, names, question.hand.no_jokers) < NEVER:
                    return Use.GROUP
    return Use.NO


def test_a_discard_may_be_claimed_as_common_practice_has_it(
    asked: list[Question], forms: dict[Hand, list[tuple[tuple[int, str], ...]]]
) -> None:
    for question in asked:
        if isinstance(question, MayClaim):
            assert may_claim(question, forms[question.hand]) is question.use


def test_no_question_shows_more_of_a_tile_than_a_set_holds(asked: list[Question]) -> None:
    for question in asked:
        tiles = [*question.rack.faces, *([question.discard] if isinstance(question, MayClaim) else [])]

        assert [] == [face for face in tiles if tiles.count(face) > face.copies]


def test_only_all_right_choices_together_are_right(asked: list[Question]) -> None:
    for question in asked:
        assert is_right(question, list(question.answer))
        assert not is_right(question, [])
        assert not is_right(question, range(question.options))


def test_easy_questions_about_a_wrong_tile_show_another_kind_of_tile(demo: Card) -> None:
    for question in questions(demo, Level.EASY, 2, COUNT):
        if isinstance(question, WrongTile):
            (found,) = question.exercise.corrections

            assert found.found
            assert found.found.kind is not found.wanted[0].kind


def test_free_choices_are_asked_about_too(handbook: Card) -> None:
    asked = questions(handbook, Level.MIDDLE, 1, 12)

    assert 12 == len(asked)


def test_a_card_of_one_hand_gives_questions_of_those_kinds_that_it_can() -> None:
    card = parse_card('name = "T"\n["One"]\n"Steps" = "pair of flowers, kongs of 2, 4, 6 in one suit; worth 25"')
    kinds = {type(question) for question in questions(card, Level.EASY, 1, 6)}

    assert {WrongTile, MayClaim} == kinds  # with no other hand there is none to tell it from


def test_a_card_of_which_nothing_can_be_built_gives_none(demo: Card) -> None:
    none = dataclasses.replace(demo, hands=(), forms=demo.forms.chosen(demo.forms.hand[:0].astype(int)))

    assert () == questions(none, Level.EASY, 1, 3)
    assert 3 == len(USES)
