import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tilewitness.engine.faces import FACES
from tilewitness.engine.grammar import parse_hand
from tilewitness.engine.hands import (
    Choice,
    Either,
    Group,
    Hand,
    Honour,
    Number,
    NumberName,
    NumberRule,
    Pool,
    SuitRule,
)
from tilewitness.engine.plans import free_numbers
from tilewitness.engine.wording import GrammarError

WRONG = [
    ("4 of bams; worth 25", '"4"', 'kong of 4'),
    ("kogn of 4 in bam; worth 25", '"kogn"', 'Did you mean "kong"?'),
    ("kong of 4 in bamm; worth 25", '"bamm"', 'Did you mean "bam"?'),
    ("kong of easst; worth 25", '"easst"', 'Did you mean "east"?'),
    ("kong of 12 in bam; worth 25", "1 to 9", "zero is the white dragon"),
    ("kong of 4; worth 25", '"kong of 4" has no suit', '"kong of 4 in one suit"'),
    ("pair of 2 and 4 in bam; worth 25", '"pair" takes one tile', '"pairs of 2, 4 and 6"'),
    ("kong of joker; worth 25", "never asks for a joker", "no jokers"),
    ("kong of 4 in bam", "no worth", "; worth 25"),
    ("kong of 4 in bam; wurth 25", '"wurth"', 'Did you mean "worth"?'),
    ("kong of 4 in bam; worth lots", '"lots"', "worth 25"),
    ("kong of 4 in bam; worth 25 concealed", "expected a semicolon", "worth 25; concealed"),
    ("kong of 4 in bam kong of 5 in bam; worth 25", "a comma is missing", ", kong of 4"),
    ("kong of 4 in bam worth 25", "a semicolon is missing", "; worth 25"),
    ("kong of 4 in bam, worth 25", "a remark goes after a semicolon", "; worth 25"),
    ("kong of east; kong of 4 in bam; worth 25", "groups stand before the first semicolon", "kong of 4 in one suit"),
    ("kong of 4 dots; worth 25", '"dots"', 'Did you mean "dot"?'),
    ("kong of 4 in one suite; worth 25", '"suite"', 'Did you mean "suit"?'),
    ("kong of 4 in two suits; worth 25", "expected a suit", "in two suits in turn"),
    ("triplet of 4 in bam; worth 25", '"triplet"', 'Did you mean "pung"?'),
    ("6 flowers, kong of 1, kong of 3 in bam; worth 25", 'expected a group, found "6"', "sextet of flowers"),
    ("pair of flowers, 4 of 2 bam; worth 25", 'expected a group, found "4"', "kong of 4"),
    ("pair of jokers; worth 25", "never asks for a joker", "no jokers"),
    ("kong of 4 in bam; worth 25; closed", '"closed"', 'Did you mean "concealed"?'),
    ("kong of 4 in bam; worth 25; no joker", '"joker"', 'Did you mean "jokers"?'),
    ("kong of 4 in bam; worth 25; worth 30", '"worth" is there twice', "worth 25"),
    ("either kong of 4 in bam, kong of east; worth 25", 'expected "or"', "either pung of 2 or pung of 4"),
    ("singles of 1 to east in bam; worth 25", '"to" stands between two numbers', "1 to 9"),
    ("kong of any number in bam; the number is 0; worth 25", "numbers from 1 to 9", "odd"),
    ("kong of any number in bam; number is odd; number is 2; worth 25", "no number is both", "odd"),
    ("kong of east bam; worth 25", '"kong of east" has no suit', "kong of east"),
    ("2 pairs of any tiles, kong of east; worth 25", "only beside singles and pairs", "7 different pairs"),
    ("7 pairs of any tile; worth 25", "what to choose from", '"any tiles"'),
    ("kong of any number in bam; second number is odd; worth 25", "no second number", "kong of the second number"),
    ("kong of any number in bam; numbers differ; worth 25", "no second number", "another number"),
    ("kong of any number, kong of any number in bam; worth 25", '"any number" was said before', '"the same number"'),
    ("kong of any wind, kong of another wind, pair of another wind; worth 25", "was said before", '"third wind"'),
    ("kong of any even number in bam; worth 25", 'found "even"', '"the number is even"'),
    ("kong of east or west; worth 25", 'found "or"', "either pung of 2 or kong of 4"),
    ("kong of east; worth 25; no joker", '"joker"', 'Did you mean "jokers"?'),
    ("", "the end of the line", "kong of 4"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "what", "right"), WRONG)
def test_an_error_says_what_is_wrong_and_what_would_be_right(text: str, what: str, right: str) -> None:
    with pytest.raises(GrammarError) as caught:
        parse_hand(text, name="Wrong")

    assert what in str(caught.value)
    assert right in str(caught.value)


def test_an_error_points_at_the_word_as_typed() -> None:
    with pytest.raises(GrammarError) as caught:
        parse_hand("pung of 2, kogn of 4 in bam; worth 25", name="Wrong")

    assert ("kogn", 12) == (caught.value.word, caught.value.column)


SAME = [
    ("pung of 2 bam", "a pung of 2 in bam"),
    ("kong of any number in one suit", "kong of the first number in the first suit"),
    ("kongs of 2, 4 and 6 in one suit", "kong of 2, kong of 4 and kong of 6 in the first suit"),
    ("singles of 2 0 2 7 in one suit", "singles of 2, zero, 2, 7 in the first suit"),
    ("kong of soap", "kong of white dragon"),
    ("kong of red dragons", "kong of red dragon"),
    ("pair of two in bam", "pair of 2 in bam"),
    ("kong of any wind, kong of another wind", "kong of the first wind, kong of the second wind"),
]


@pytest.mark.parametrize(("one", "other"), SAME)
def test_two_ways_to_say_it_are_one_hand(one: str, other: str) -> None:
    first, second = (parse_hand(f"{text}; worth 25", name="Same") for text in (one, other))

    assert flat(first) == flat(second)


def test_a_hand_may_end_in_a_full_stop_as_it_is_printed() -> None:
    hand = parse_hand("kong of soap; worth 25", name="Same")

    assert hand == parse_hand(f"{hand}.", name="Same")


def flat(hand: Hand) -> list[object]:
    groups = [part for part in hand.parts if isinstance(part, Group)]
    return [(group.size, tile, group.suit) for group in groups for tile in group.tiles]


def test_a_suit_counts_for_the_phrases_before_it_that_have_none() -> None:
    hand = parse_hand("pair of flowers, pung of 1, pung of 2 in one suit, pung of 3 in a second suit; worth 25", name="S")

    suits = [None, SuitRule.FIRST, SuitRule.FIRST, SuitRule.SECOND]
    assert suits == [part.suit for part in hand.parts if isinstance(part, Group)]


PRINTED = [
    "kong of 7 crak, kong of 7 dot, kong of red dragon, pair of flowers",
    "singles of 1 to 9 bam, quint of any number in dot",
    "pung of any number, kong of 1 above, pung of 2 above in one suit",
    "pung of any number in the first suit, pung of the same number in the second suit",
    "pungs of all winds, pair of another dragon",
    "1 single of terminals or honours",
    "7 different pairs of any tiles",
    "7 knitted pairs",
    "either kong of 2 bam or kong of any number and pair of 1 below in one suit, kong of the opposite dragon",
    "singles of 1, zero, 2 and zero in one suit",
    "singles of 1 to 9 in two suits in turn",
]


@pytest.mark.parametrize("wording", PRINTED)
def test_a_hand_prints_as_it_would_be_said(wording: str) -> None:
    assert f"{wording}; exposed; worth 25" == str(parse_hand(f"{wording}; worth 25", name="Said"))


def test_a_note_is_kept_as_typed() -> None:
    hand = parse_hand("kong of 4 in bam; worth 25; note: Mind the Gap, a kong is 4!", name="N")

    assert "Mind the Gap, a kong is 4!" == hand.note


numbers = st.one_of(
    st.builds(Number, st.integers(1, 9)),
    st.builds(Number, st.integers(-8, 8), st.sampled_from(NumberName)),
)
honours = st.one_of(st.sampled_from(FACES[27:35]), st.sampled_from(Honour))


@st.composite
def groups(draw: st.DrawFn) -> Group:
    tiles = tuple(draw(st.lists(st.one_of(numbers, honours), min_size=1, max_size=6)))
    group = Group(draw(st.integers(1, 6)), tiles)
    return Group(group.size, tiles, draw(st.sampled_from(SuitRule))) if group.needs_suit else group


def parts() -> st.SearchStrategy[Group | Either]:
    branches = st.lists(groups(), min_size=1, max_size=3).map(tuple)
    return st.one_of(groups(), st.builds(Either, st.lists(branches, min_size=2, max_size=3).map(tuple)))


choices = st.builds(
    Choice, st.integers(1, 14), st.just(2), st.booleans(), st.sampled_from([*Pool])
) | st.builds(Choice, st.integers(1, 7), st.just(1), st.booleans(), st.none())
rules = st.lists(
    st.builds(
        NumberRule,
        st.sampled_from([NumberName.FIRST, NumberName.SECOND, NumberName.THIRD]),
        st.sets(st.integers(1, 9), min_size=1).map(lambda found: tuple(sorted(found))),
    ),
    unique_by=lambda rule: rule.name,
    max_size=2,
).map(tuple)
notes = st.text("abc XYZ,.!0123'-").map(str.strip)


@settings(deadline=None)
@given(
    hand=st.builds(
        Hand,
        st.just("Any"),
        st.just("Section"),
        st.lists(parts(), min_size=1, max_size=5).map(tuple) | choices.map(lambda choice: (choice,)),
        st.integers(1, 500),
        concealed=st.booleans(),
        no_jokers=st.booleans(),
        rules=rules,
        numbers_differ=st.booleans(),
        note=notes,
    )
)
def test_a_printed_hand_reads_back_as_the_same_hand(hand: Hand) -> None:
    used = free_numbers(hand)
    rules = tuple(rule for rule in hand.rules if rule.name in used)
    hand = replace(hand, rules=rules, numbers_differ=hand.numbers_differ and len(used) > 1)

    assert hand == parse_hand(str(hand), name=hand.name, section=hand.section), str(hand)


@given(text=st.text("abeginkoprstuw ,;0123456789\"'") | st.text())
def test_any_text_is_a_hand_or_a_clear_error(text: str) -> None:
    try:
        parse_hand(text, name="Any")
    except GrammarError as error:
        assert re.search(r"Write for example|Did you mean", str(error))
