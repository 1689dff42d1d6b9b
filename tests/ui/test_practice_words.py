"""What is said while practising."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from tilewitness.engine.card import Card, load_card, parse_card
from tilewitness.engine.coverage import attempt_of, coverage
from tilewitness.engine.describe import describe
from tilewitness.engine.exercise import check
from tilewitness.engine.hands import Hand
from tilewitness.engine.quiz import Level, questions
from tilewitness.engine.rack import Rack
from tilewitness.ui import practice_words, quiz_words
from tilewitness.ui.words import Tone, Verdict, places_in_one_row

SAMPLES = Path(__file__).parents[2] / "samples"


@pytest.fixture(scope="module")
def demo() -> Card:
    return load_card(SAMPLES / "card.toml")


def hand(card: Card, name: str) -> Hand:
    return next(hand for hand in card.hands if hand.name == name)


def said(card: Card, name: str, tiles: str) -> Verdict:
    rack = Rack.parse(tiles)
    exercise = check(rack, hand(card, name), card)
    return practice_words.exercise_verdict(exercise, places_in_one_row(len(rack.faces)))


@pytest.mark.parametrize(
    ("name", "tiles", "sentence"),
    [
        (
            "High Water", "quint of 5 crak, quint of 7 crak, kong of green dragon",
            "Places 11, 12, 13 and 14: green dragons go with bams; your numbers are craks, so they must be red dragons.",
        ),
        (
            "High Water", "quint of 5 crak, quint of 7 crak, pung of red dragon, green dragon",
            "Place 14: a green dragon goes with bams; your numbers are craks, so it must be a red dragon.",
        ),
        (
            "Odd Lamp", "pung of 1 bam, pung of 3 bam, pung of 5 bam, kong of green dragon, joker",
            ("Places 10, 11, 12 and 13: green dragons go with bams, and so do your numbers; the card asks for another "
            "suit here, so they must be red dragons or white dragons."),
        ),
        (
            "Two Lanterns", "flower, joker, kong of 1 bam, kong of 5 bam, kong of 9 dot",
            ("Place 2: a joker never stands in a pair, only in a group of three or more equal tiles, "
            "so it must be a flower."),
        ),
        (
            "Two Lanterns", "pair of flowers, kong of 1 bam, kong of 5 bam, kong of 9 bam",
            ("Places 11, 12, 13 and 14: 9 bam are of a suit that is used already; the card asks for another here, "
            "so they must be 9 crak or 9 dot."),
        ),
        (
            "Spring Tide", "pung of 3 bam, kong of 4 bam, pung of 6 bam, kong of red dragon",
            "Places 8, 9 and 10: 6 bam do not fit the other numbers, so they must be 5 bam.",
        ),
        (
            "Red Buoy", "kong of 7 crak, kong of 7 bam, kong of red dragon, pair of flowers",
            "Places 5, 6, 7 and 8: 7 bam are of the wrong suit; the card names the suit here, so they must be 7 dot.",
        ),
        (
            "Four Corners", "pung of east, pung of south, pung of west, pair of north, east, pair of flowers",
            "Place 12: an east does not fit here; it must be a north.",
        ),
        (
            "Long Pier", "pair of 2 bam, pung of 4 bam, pung of 6 bam, pung of 6 dot, pung of 8 dot, east",
            "Place 15: the east is more than the hand takes. Take it away.",
        ),
        (
            "Long Pier", "pair of 2 bam, pung of 4 bam, pair of 6 bam, pung of 6 dot, pung of 8 dot",
            "Missing: a 6 bam, or a joker, for the pung at places 6 and 7.",
        ),
        (
            "Long Pier", "2 bam, pung of 4 bam, pung of 6 bam, pung of 6 dot, pung of 8 dot",
            "Missing: a 2 bam, for the pair at place 1.",
        ),
        (
            "By Hand Alone", "pung of 1 dot, joker, kong of 2 dot, kong of 3 dot, pair of flowers",
            "Place 4: the card allows no joker in this hand, so it must be a 1 dot.",
        ),
        (
            "Green Buoy", "sextet of 1 bam, kong of green dragon, kong of 9 bam",
            "Places 5 and 6: a set holds only four of them, so they must be jokers.",
        ),
        (
            "Night Watch", "pair of east, pair of south, pair of west, pair of north, pair of red, pair of green, white, 1 dot",
            "Place 14: a 1 dot does not belong here; it must be a white dragon.",
        ),
        (
            "Anchor Chain", "3 crak, 3 crak, joker, 3 crak, joker, 3 dot, 3 dot, joker, 3 dot, kong of green dragon",
            "Missing: a 3 crak, or a joker, for the kong at places 3, 4 and 5.",
        ),
        (
            "Splice", "pair of 5 dot, pair of 5 dot, joker, 2 dot, pung of 6 dot, joker, pair of flowers, joker, joker",
            "Place 6: a 2 dot does not fit the other numbers, so it must be a 6 dot.",
        ),
        (
            "Soap and Water", "kong of soap, joker, joker, pung of 2 dot, 2 bam, kong of 8 dot",
            "Place 10: a 2 bam is of the wrong suit; the card names the suit here, so it must be a 2 dot.",
        ),
        (
            "Cast Net", "1 bam, 2 dot, 3 bam, 4 dot, 5 bam, 6 dot, 7 bam, 8 dot, 9 bam, (quint of flowers)",
            "Places 10, 11, 12, 13 and 14: the card wants this hand concealed, and groups were claimed.",
        ),
    ],
)  # fmt: skip
def test_a_fault_is_told_by_place_and_name_with_what_puts_it_right(
    demo: Card, name: str, tiles: str, sentence: str
) -> None:
    verdict = said(demo, name, tiles)

    assert sentence in verdict.lead
    assert (Tone.NO, True) == (verdict.tone, verdict.title.startswith(f"Not yet {name}: "))


def test_a_hand_with_more_of_a_tile_than_a_set_holds_is_said_to_need_jokers(demo: Card) -> None:
    verdict = said(demo, "Green Buoy", "sextet of 2 bam, kong of green dragon, kong of 9 bam")

    assert "Places 1, 2, 3, 4, 5 and 6: a set holds only four of them, so they must be 1 bam." in verdict.lead
    assert "It needs two jokers at least." == verdict.details[1]


@pytest.mark.parametrize(
    ("name", "tiles", "sentences"),
    [
        (
            "Splice", "pair of 5 bam, pair of 5 bam, joker, kong of 6 bam, joker, kong of flowers",
            ["Also in craks or dots."],
        ),
        (
            "Spring Tide", "pung of 3 bam, kong of 4 bam, pung of 5 bam, kong of red dragon",
            ["Also in craks or dots.", "Also starting from 1, 2, 4, 5, 6 or 7.", "Also with kong of white dragons."],
        ),
        (
            "Mirror Cove", "kong of 3 bam, joker, joker, pair of flowers, kong of 3 dot, joker, joker",
            ["Also in bams then craks; or craks then dots.", "Also with 1, 2, 4, 5, 6, 7, 8 or 9."],
        ),
        (
            "Reef Knot", "pair of soap, kong of 3 dot, kong of 6 dot, kong of 9 dot",
            ["Also in bams or craks.", "Also with pair of flowers."],
        ),
        (
            "Free Passage", "kong of 1 bam, kong of 2 crak, kong of 3 dot, pair of flowers",
            ["Also with other numbers, in 503 ways."],
        ),
        ("Night Watch", "pair of east, pair of south, pair of west, pair of north, pair of red, pair of green, pair of soap", []),
    ],
)  # fmt: skip
def test_other_ways_are_told(demo: Card, name: str, tiles: str, sentences: list[str]) -> None:
    exercise = check(Rack.parse(tiles), hand(demo, name), demo)

    assert [] == list(exercise.corrections)
    assert sentences == practice_words.way_sentences(exercise)


def test_a_right_rack_is_told_with_where_jokers_may_stand(demo: Card) -> None:
    verdict = said(demo, "Long Pier", "pair of 2 bam, pung of 4 bam, pung of 6 bam, pung of 6 dot, 8 dot, 8 dot, joker")

    assert (Tone.YES, "Right: Long Pier") == (verdict.tone, verdict.title)
    assert "The joker at place 14 stands for 8 dot." in verdict.lead
    assert ("Jokers may stand in the pung of 4 bam, pung of 6 bam, pung of 6 dot and pung of 8 dot.",) == verdict.details


@pytest.mark.parametrize(
    ("tiles", "sentence"),
    [
        (13, "Count four tiles from the left end and four from the right: six must lie between, and here five lie."),
        (15, "Count four tiles from the left end and four from the right: six must lie between, and here seven lie."),
        (9, "Count four tiles from the left end and four from the right: six must lie between, and here one lies."),
        (3, "There are three tiles; a hand has 14."),
    ],
)
def test_the_quick_count_is_offered_when_the_count_is_off(demo: Card, tiles: int, sentence: str) -> None:
    assert sentence in said(demo, "Night Watch", ", ".join(["east"] * tiles)).lead


def test_the_task_names_hand_note_suits_and_jokers(demo: Card) -> None:
    assert [
        "Build Ground Swell, worth 35.",
        ("Your card asks for single of any number, pair of 1 above, pung of 2 above, kong of 3 above in one suit, "
        "kong of the opposite dragon."),
        "Your card notes: the dragon is one of the two that do not belong to the suit of the numbers.",
        "One suit of your choice.",
        practice_words.DRAGONS,
        "Jokers may stand in pungs and kongs, never in singles or pairs.",
    ] == practice_words.task_sentences(hand(demo, "Ground Swell"))


def test_every_task_and_every_question_can_be_said(demo: Card) -> None:
    asked = [one for level in Level for one in questions(demo, level, 4, 15)]
    told = [practice_words.task_sentences(hand) for hand in demo.hands]
    told += [quiz_words.question_sentences(one) for one in asked]
    told += [quiz_words.answer_sentences(one, chosen) for one in asked for chosen in (one.answer, set())]

    assert [] == [line for lines in told for line in lines if line[-1] not in ".?" or line[0] != line[0].upper()]
    assert [one.options for one in asked] == [len(quiz_words.option_labels(one)) for one in asked]


def test_what_was_learnt_is_told_hand_by_hand(demo: Card) -> None:
    noon = datetime(2030, 1, 1, 12, tzinfo=UTC)
    racks = ["flower, joker, kong of 1 bam, kong of 5 bam, kong of 9 dot", "pair of flowers, kong of 1 bam, kong of 5 bam, kong of 9 dot"]
    attempts = [
        attempt_of(check(Rack.parse(rack), hand(demo, "Two Lanterns"), demo), demo, "Ada", noon) for rack in racks
    ]
    lines = practice_words.coverage_lines(coverage(demo, describe(demo), attempts, noon.date()), (), date(2030, 1, 2))

    assert f"{demo.name}: 1 of 53 hands built." == lines[0]
    assert "Harbour Lights: one of six hands built." in lines
    assert (
        "  Two Lanterns: built in one of six ways; two tries, the last on 1 January 2030; box 1, due now. "
        "Mistakes: a joker stands in a pair, once."
    ) in lines
    assert "Tide Tables: none of six hands built." in lines
    assert ["Next: Long Pier, worth 25.", practice_words.BOXES] == lines[-2:]


def test_two_ways_that_bring_the_same_dragon_are_told_apart(demo: Card) -> None:
    hand = next(hand for hand in demo.hands if hand.name == "Two Keepers")
    one = next(one for one in describe(demo) if one.hand == hand)
    exercise = check([slot.face for group in one.example for slot in group.slots], hand, demo)
    dragons = "Also with pung of red dragons and pung of white dragons; or pung of green dragons and pung of white dragons."

    assert dragons in practice_words.way_sentences(exercise)


def test_a_free_choice_tells_what_else_could_stand_there() -> None:
    card = parse_card('name = "T"\n["One"]\n"Pairs" = "7 different pairs of any tiles; worth 40"')
    exercise = check(Rack.parse("pairs of 1 bam, 2 bam, 3 bam, 4 bam, 5 bam, 6 bam, east"), card.hands[0], card)

    assert [
        "Also with other tiles of your choice: in place of the pair of east could stand the pair of 7 bam or any of 26 others."
    ] == practice_words.way_sentences(exercise)
