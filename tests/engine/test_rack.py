import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewitness.engine.faces import FACES, Face
from tilewitness.engine.rack import Rack, RackError


@given(st.lists(st.sampled_from(FACES), max_size=15), st.lists(st.integers(3, 6), max_size=2))
def test_a_printed_rack_reads_back_as_the_same_rack(faces: list[Face], sizes: list[int]) -> None:
    exposed, start = [], 0
    for size in sizes:
        if start + size <= len(faces):
            exposed.append(tuple(range(start, start + size)))
            start += size + 1
    rack = Rack(tuple(faces), tuple(exposed))

    assert rack == Rack.parse(str(rack))
    assert rack == eval(repr(rack))


def test_groups_may_be_written_in_the_words_of_the_trade() -> None:
    assert Rack.parse("pair of flowers, pung of 3 bam").faces == Rack.parse("flower, flower, 3 bam,3 bam,3 BAM").faces


@pytest.mark.parametrize(
    ("text", "words"),
    [("3 bam, 4 bamm", 'tile 2: "4 bamm"'), ("(3 bam", "no partner"), ("3 bam)", "no partner"), ("((", "no partner")],
)
def test_a_wrong_rack_says_where(text: str, words: str) -> None:
    with pytest.raises(RackError, match=words.replace("(", r"\(")):
        Rack.parse(text)


def test_claimed_places_must_exist_and_be_claimed_once() -> None:
    with pytest.raises(RackError):
        Rack(FACES[:3], ((0, 1, 2), (2,)))
    with pytest.raises(RackError):
        Rack(FACES[:3], ((3,),))


def test_one_tile_can_be_read_as_another() -> None:
    assert Rack.parse("1 bam, 8 bam") == Rack.parse("1 bam, 6 bam").with_tile(1, Face.named("8 bam"))


def test_tiles_may_be_typed_as_they_are_read_out() -> None:
    assert Rack.parse("pung of 2 bam, pair of joker, east") == Rack.parse("Three 2 bam, two jokers, east")


def test_six_flowers_may_be_typed_with_a_figure() -> None:
    assert Rack.parse("sextet of flowers, kong of 1 bam, 2 bam") == Rack.parse("6 flowers, 4 1 bam, 2 bam")
    assert Rack.parse("pair of soap, 3 bam, joker") == Rack.parse("2 soap, 3 bam, 1 joker")


def test_a_misspelt_numbered_tile_is_no_amount() -> None:
    with pytest.raises(RackError, match='tile 1: "3 bamboo" is not a tile. Did you mean "3 bam"'):
        Rack.parse("3 bamboo")


def test_a_plural_holds_for_all_that_and_joins() -> None:
    assert Rack.parse("kong of 2 dot, kong of 8 dot, east") == Rack.parse("kongs of 2 dot and 8 dot, east")


def test_a_group_may_be_plural() -> None:
    assert Rack.parse("kong of red dragons, pair of soaps") == Rack.parse("kong of red dragon, pair of white dragon")


@given(st.text("abdfjkoprst 0123456789,()") | st.text())
def test_any_text_is_a_rack_or_a_clear_error(text: str) -> None:
    try:
        Rack.parse(text)
    except RackError as error:
        assert re.search("Write|Did you mean", str(error))
