"""Payments. Common practice, no source."""

from tilewitness.engine.grammar import parse_hand
from tilewitness.engine.worth import can_hold_jokers, payment


def test_the_discarder_pays_double_and_a_drawn_win_is_paid_double_by_all() -> None:
    paid = payment(parse_hand("kong of 4 in bam; worth 25", name="K"), jokerless=False)

    assert (50, 25, 50) == (paid.discarder, paid.others, paid.each)


def test_a_win_without_jokers_doubles_again() -> None:
    paid = payment(parse_hand("kong of 4 in bam; worth 25", name="K"), jokerless=True)

    assert (True, 100, 50, 100) == (paid.doubled, paid.discarder, paid.others, paid.each)


def test_a_hand_that_can_hold_no_joker_is_not_doubled_for_lacking_one() -> None:
    for text in ("pairs of 1 to 7 in bam; worth 50", "kong of 4 in bam; no jokers; worth 50"):
        hand = parse_hand(text, name="P")

        assert not can_hold_jokers(hand)
        assert not payment(hand, jokerless=True).doubled


def test_an_alternative_that_takes_jokers_counts() -> None:
    assert can_hold_jokers(parse_hand("either pair of east or pung of west; worth 25", name="E"))
