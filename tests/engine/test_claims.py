"""Claims on a discard. Common practice, no source."""

import pytest

from tilewitness.engine.card import Card, parse_card
from tilewitness.engine.claims import claims_for
from tilewitness.engine.faces import Face
from tilewitness.engine.rack import Rack

CARD = """
name = "Test"
["Open"]
"Steps" = "pair of flowers, kongs of 2, 4 and 6 in one suit; worth 25"
"Heavy" = "quint of 2, quint of 4, kong of 6 in one suit; worth 40"
["Shut"]
"Shut" = "pungs of 2, 4, 6 and 8 in one suit, pair of east; concealed; worth 30"
"""


@pytest.fixture(scope="module")
def card() -> Card:
    return parse_card(CARD)


def claims(discard: str, rack: str, card: Card) -> list[tuple[str, int, int, int]]:
    found = claims_for(Face.named(discard), Rack.parse(rack), card)
    return [(claim.hand.name, claim.size, claim.jokers, claim.missing) for claim in found]


def test_the_last_tile_may_be_claimed_even_for_a_pair(card: Card) -> None:
    rack = "flower, kong of 2 bam, kong of 4 bam, kong of 6 bam"

    assert ("Steps", 0, 0, 0) == claims("flower", rack, card)[0]
    assert claims_for(Face.named("flower"), Rack.parse(rack), card)[0].wins


def test_the_last_tile_may_be_claimed_for_a_concealed_hand(card: Card) -> None:
    rack = "pung of 2 bam, pung of 4 bam, pung of 6 bam, pair of 8 bam, pair of east"

    assert [("Shut", 0, 0, 0)] == [claim for claim in claims("8 bam", rack, card) if claim[0] == "Shut"]


def test_a_pair_may_not_be_claimed_before_the_end(card: Card) -> None:
    assert [] == claims("flower", "flower, kong of 2 bam, pung of 4 bam, kong of 6 bam, east", card)


def test_a_group_may_be_claimed_with_jokers_in_the_size_its_hand_asks_for(card: Card) -> None:
    rack = "pair of flowers, 2 bam, 2 bam, joker, kong of 4 bam, pair of 6 bam, 1 dot, 2 dot"

    assert [("Steps", 4, 1, 2)] == claims("2 bam", rack, card)
    assert [("Heavy", 5, 2, 3), ("Steps", 4, 1, 3)] == sorted(
        claims("2 bam", rack.replace("1 dot", "joker").replace("pair of flowers", "3 dot, 3 dot"), card)
    )


def test_a_concealed_hand_claims_nothing_but_its_last_tile(card: Card) -> None:
    rack = "pair of 2 bam, pung of 4 bam, pung of 6 bam, pung of 8 bam, east, west"

    assert "Shut" not in {claim[0] for claim in claims("2 bam", rack, card)}


def test_a_discarded_joker_is_dead(card: Card) -> None:
    assert [] == claims("joker", "pair of flowers, kong of 2 bam, kong of 4 bam, pung of 6 bam", card)


def test_claimed_groups_stay_as_they_are(card: Card) -> None:
    rack = "(2 bam, 2 bam, 2 bam, joker), pair of flowers, kong of 4 bam, pung of 6 bam"

    assert {"Steps"} == {claim[0] for claim in claims("6 bam", rack, card)}
