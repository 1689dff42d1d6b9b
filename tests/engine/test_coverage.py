"""What the attempts of a learner cover of a card."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from tilewitness.engine.card import Card, parse_card
from tilewitness.engine.coverage import Attempt, Coverage, HandId, attempt_of, coverage
from tilewitness.engine.describe import describe
from tilewitness.engine.exercise import check
from tilewitness.engine.hands import Hand
from tilewitness.engine.leitner import Box
from tilewitness.engine.opinion import Fault
from tilewitness.engine.rack import Rack

CARD = """
name = "Test"
["One"]
"Steps" = "pair of flowers, kongs of 2, 4 and 6 in one suit; worth 25"
"Twins" = "kong of any number in one suit, kong of the same number in a second suit, sextet of flowers; worth 30"
["Two"]
"Never" = "pair of east, pair of east, pair of east, kongs of 1 and 2 bam; worth 25"
"Winds" = "kongs of east, south and west, pair of flowers; worth 25"
"""
NOON = datetime(2030, 1, 1, 12, tzinfo=UTC)
STEPS = "pair of flowers, kong of 2 {0}, kong of 4 {0}, kong of 6 {0}"


@pytest.fixture(scope="module")
def card() -> Card:
    return parse_card(CARD)


def hand(card: Card, name: str) -> Hand:
    return next(hand for hand in card.hands if hand.name == name)


def tried(card: Card, name: str, tiles: str, days: int = 0) -> Attempt:
    return attempt_of(check(Rack.parse(tiles), hand(card, name), card), card, "Ada", NOON + timedelta(days=days))


def covered(card: Card, attempts: list[Attempt], days: int = 0) -> Coverage:
    return coverage(card, describe(card), attempts, NOON.date() + timedelta(days=days))


def test_nothing_tried_is_nothing_built_and_the_card_comes_in_its_order(card: Card) -> None:
    done = covered(card, [])

    assert (0, ["Steps", "Twins", "Winds"]) == (done.built, [hand.name for hand in done.next_up])
    assert [("One", 0, 2), ("Two", 0, 1)] == [(one.name, one.built, len(one.hands)) for one in done.sections]
    assert {(0, (), None)} == {(one.tries, one.ways, one.box) for one in done.hands}


def test_a_hand_that_cannot_be_built_is_not_asked_for(card: Card) -> None:
    assert "Never" not in [one.hand.name for one in covered(card, []).hands]


def test_ways_mistakes_and_the_box_come_from_the_attempts(card: Card) -> None:
    attempts = [
        tried(card, "Steps", "flower, joker, kong of 2 bam, kong of 4 bam, kong of 6 bam"),
        tried(card, "Steps", STEPS.format("bam"), 1),
        tried(card, "Steps", STEPS.format("bam"), 1),
        tried(card, "Steps", STEPS.format("dot"), 3),
    ]
    one = covered(card, attempts).hands[0]

    assert (4, 2, 3) == (one.tries, len(one.ways), one.forms)
    assert ((Fault.JOKER_IN_PAIR, 1),) == one.mistakes
    assert Box(3, date(2030, 1, 9)) == one.box
    assert attempts[-1].at == one.last


def test_all_ways_are_built_when_each_form_was(card: Card) -> None:
    racks = [
        f"kong of {number} {one}, kong of {number} {two}, sextet of flowers"
        for number in range(1, 10)
        for one, two in [("bam", "crak"), ("bam", "dot"), ("crak", "dot"), ("dot", "bam")]
    ]
    one = covered(card, [tried(card, "Twins", rack) for rack in racks]).hands[1]

    assert (27, 27) == (len(one.ways), one.forms)


def test_an_edited_hand_counts_as_new_but_not_for_another_worth_or_note(card: Card) -> None:
    attempts = [tried(card, "Steps", STEPS.format("bam"))]
    dearer = parse_card(CARD.replace("6 in one suit; worth 25", "6 in one suit; worth 50; note well"))
    edited = parse_card(CARD.replace("2, 4 and 6", "2, 4 and 8"))

    assert (1, 1, 0) == tuple(covered(one, attempts).built for one in (card, dearer, edited))


def test_attempts_at_another_card_do_not_count(card: Card) -> None:
    other = parse_card(CARD.replace('"Test"', '"Other"'))

    assert 0 == covered(other, [tried(card, "Steps", STEPS.format("bam"))]).built


def test_what_was_wrong_comes_first_once_it_is_due(card: Card) -> None:
    attempts = [
        tried(card, "Steps", STEPS.format("bam")),
        tried(card, "Winds", "kong of east, kong of south, kong of north, pair of flowers"),
    ]
    names = [[hand.name for hand in covered(card, attempts, n).next_up] for n in (0, 1, 2)]

    assert [["Twins", "Winds", "Steps"], ["Winds", "Twins", "Steps"], ["Winds", "Steps", "Twins"]] == names


def test_a_hand_is_known_by_card_section_name_and_wording(card: Card) -> None:
    known = HandId.of(card, hand(card, "Steps"))

    assert ("Test", "One", "Steps", 16) == (known.card, known.section, known.hand, len(known.wording))


def test_an_unsure_photo_does_not_count_until_it_was_looked_at(card: Card) -> None:
    wrong, right = "flower, joker, kong of 2 bam, kong of 4 bam, kong of 6 bam", STEPS.format("bam")
    unsure = [replace(tried(card, "Steps", tiles), unsure=True) for tiles in (wrong, right)]
    steps, looked = covered(card, unsure).hands[0], covered(card, [*unsure, tried(card, "Steps", right)]).hands[0]

    assert (0, (), None, None, 2) == (steps.tries, steps.mistakes, steps.last, steps.box, steps.unsure)
    assert (1, (), True, 0) == (looked.tries, looked.mistakes, looked.built, looked.unsure)
    assert [False, False] == [one.right for one in unsure]
