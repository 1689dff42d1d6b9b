import pytest

from tilewitness.engine.card import Card
from tilewitness.engine.judge import judge
from tilewitness.engine.opinion import Fault
from tilewitness.engine.rack import Rack
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
