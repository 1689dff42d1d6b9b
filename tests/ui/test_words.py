from pathlib import Path

import pytest

from tilewitness.engine.card import Card, load_card, parse_card
from tilewitness.engine.describe import describe
from tilewitness.engine.faces import Face
from tilewitness.engine.judge import judge
from tilewitness.engine.opinion import Fault
from tilewitness.engine.rack import Rack
from tilewitness.engine.unsure import judge_unsure
from tilewitness.ui import fault_words, words
from tilewitness.ui.words import Tone, Verdict


def said(card: Card, tiles: str) -> Verdict:
    rack = Rack.parse(tiles)
    return words.verdict(judge(rack, card), words.places_in_one_row(len(rack.faces)))


def test_a_win_names_the_hand_first_and_says_what_it_pays(card: Card) -> None:
    answer = said(card, "pair of flowers, kong of 2 bam, kong of 4 bam, pung of 6 bam, joker")

    assert Tone.YES is answer.tone
    assert "Complete: Small steps" == answer.title
    assert "The joker at place 14 stands for 6 bam." in answer.sentences
    assert any("By common practice" in line and "50" in line for line in answer.sentences)


def test_a_missing_tile_is_named_with_how_it_may_come(card: Card) -> None:
    answer = said(card, "pair of flowers, kong of 2 bam, kong of 4 bam, pung of 6 bam, east")

    assert Tone.NO is answer.tone
    assert "Not complete: one tile missing" == answer.title
    assert any(line.startswith("Get a 6 bam: it may be claimed from a discard.") for line in answer.sentences)
    assert "Let go the east at place 14." in answer.sentences


def test_a_joker_in_a_pair_is_told_with_its_place(card: Card) -> None:
    answer = said(card, "flower, joker, kong of 2 bam, kong of 4 bam, kong of 6 bam")

    assert "Not complete: a joker stands in a pair" == answer.title
    assert any("never stands in a pair" in line and "place 2" in line for line in answer.sentences)


def test_thirteen_tiles_wait_for_what_would_win(card: Card) -> None:
    answer = said(card, "pair of flowers, kong of 2 bam, kong of 4 bam, pung of 6 bam")

    assert "One tile away: a 6 bam or a joker would win" == answer.title


def test_fifteen_tiles_are_dead_by_common_practice(card: Card) -> None:
    answer = said(card, "pair of flowers, kong of 2 bam, kong of 4 bam, kong of 6 bam, east")

    assert "Too many tiles: 15" == answer.title
    assert any("dead" in line and "common practice" in line for line in answer.sentences)


def test_a_fault_is_told_once(card: Card) -> None:
    answer = said(card, "(pair of flowers), kong of 2 bam, kong of 4 bam, kong of 6 bam")

    assert Tone.NO is answer.tone
    assert len(set(answer.sentences)) == len(answer.sentences)


def test_only_the_last_tile_of_a_pair_may_be_claimed(card: Card) -> None:
    answer = said(card, "kong of 2 bam, kong of 4 bam, kong of 6 bam")

    assert any(line.startswith("Get two flowers: they must be drawn, unless the last tile") for line in answer.sentences)


def test_equal_tiles_are_told_together_with_their_places(card: Card) -> None:
    answer = said(card, "pair of flowers, kong of 2 bam, kong of 3 bam, kong of red dragon")

    assert "Not complete: the dragon is of the wrong suit" == answer.title
    assert any("the four red dragons at places 11, 12, 13 and 14" in line for line in answer.sentences)


def test_places_in_several_rows_keep_their_row() -> None:
    names = ["row 1 place 1", "row 2 place 1", "row 2 place 2"]

    assert "row 1 place 1 and row 2 place 1" == words.places_listed([0, 1], names)
    assert "row 2 places 1 and 2" == words.places_listed([1, 2], names)


@pytest.mark.parametrize("tiles", ["3 bam", "joker, joker", "kong of 2 bam, (pung of east), 5 dot, 5 dot, flower"])
def test_sentences_can_be_read_aloud(card: Card, tiles: str) -> None:
    for sentence in said(card, tiles).sentences:
        assert sentence[0].isupper() and sentence.endswith(".")
        assert not set("()[]_/%") & set(sentence)


def test_every_fault_has_its_words() -> None:
    assert set(Fault) == set(fault_words.TITLES) == set(fault_words.REASONS)


def test_a_tile_of_which_none_may_come_is_got_as_a_joker_alone(card: Card) -> None:
    sextet = parse_card('name = "T"\n["One"]\n"Long" = "sextet of soap, kongs of 2 and 8 dot; worth 25"')

    assert "Get a joker for a white dragon: no white dragon may still come." in said(
        sextet, "kong of soap, joker, kong of 2 dot, kong of 8 dot, east"
    ).lead
    assert "Get three white dragons: they must be drawn, but the last may be claimed from a discard. One may still come. "        "It takes two jokers at least." in said(sextet, "pung of soap, kong of 2 dot, kong of 8 dot, pung of east").lead


def test_a_list_of_tiles_to_get_names_no_more_than_may_come() -> None:
    knots = parse_card('name = "T"\n["One"]\n"Knots" = "pair of 1, quint of 1, quint of 9, pair of 5 in one suit; worth 25"')

    assert ("To get: three 1 bam, four 9 bam, 5 bam and four jokers.",) == said(knots, "1 bam, 5 bam, 3 crak").lead[1:]


def test_claimed_groups_that_no_hand_takes_are_told_once_and_rightly(card: Card) -> None:
    shown = said(card, "(pair of 1 bam), pair of 2 bam, pair of 3 bam, pair of 4 bam, pair of 5 bam, pair of 6 bam, pair of 7 bam")
    nothing = said(card, "(pung of east), kong of 2 bam")

    assert "Not complete: this hand must be concealed" == shown.title
    assert 1 == len([line for line in shown.lead if "claimed" in line])
    assert ("No exposed hand of the card takes what was claimed. Look at the three east at places 1, 2 and 3.",) == nothing.lead


def test_tiles_to_look_at_are_told_from_left_to_right(card: Card) -> None:
    tiles = [[(face, 1.0)] for face in Rack.parse("pair of flowers, kong of 2 bam, kong of 4 bam, kong of 6 bam").faces]
    for place, chance in ((12, 0.6), (5, 0.7), (8, 0.65)):
        tiles[place] = [(tiles[place][0][0], chance), (Face.named("north"), 1 - chance)]
    lead = words.verdict_of_reading(judge_unsure(tiles, card), words.places_in_one_row(14)).lead

    assert ["place 6", "place 9", "place 13"] == [line.split(":")[0].removeprefix("Look at ") for line in lead[:3]]


def test_the_example_of_every_hand_of_a_card_can_be_typed_as_a_rack() -> None:
    for described in describe(load_card(Path(__file__).parents[2] / "samples" / "card.toml")):
        printed = ", ".join(words.groups_named(described.example))

        assert 14 == len(Rack.parse(printed).faces), printed
