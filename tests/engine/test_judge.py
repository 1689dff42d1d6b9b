import pytest

from tilewitness.engine.card import Card, parse_card
from tilewitness.engine.judge import judge
from tilewitness.engine.opinion import Fault, Source, Standing
from tilewitness.engine.rack import Rack

STEPS = '"Steps" = "pair of flowers, kongs of 2, 4 and 6 in one suit; worth 25"'


@pytest.fixture(scope="module")
def card() -> Card:
    return parse_card(f'name = "Test"\n["Only"]\n{STEPS}')


def test_a_complete_rack_is_a_win(card: Card) -> None:
    opinion = judge(Rack.parse("pair of flowers, kong of 2 bam, kong of 4 bam, kong of 6 bam"), card)

    assert ["Steps"] == [win.hand.name for win in opinion.wins]
    assert opinion.wins[0].in_card_order


def test_order_does_not_matter_but_is_told(card: Card) -> None:
    opinion = judge(Rack.parse("kong of 2 bam, pair of flowers, kong of 4 bam, kong of 6 bam"), card)

    assert [False] == [win.in_card_order for win in opinion.wins]
    assert [4, 5] == [slot.place for slot in opinion.wins[0].groups[0].slots]


def test_joker_in_a_pair_is_not_a_win(card: Card) -> None:
    opinion = judge(Rack.parse("flower, joker, kong of 2 bam, kong of 4 bam, kong of 6 bam"), card)

    assert not opinion.is_complete
    assert [(Fault.JOKER_IN_PAIR, (1,))] == [(r.fault, r.places) for r in opinion.nearest[0].reasons]


def test_thirteen_tiles_wait_for_every_tile_that_wins(card: Card) -> None:
    opinion = judge(Rack.parse("pair of flowers, kong of 2 bam, kong of 4 bam, pung of 6 bam"), card)

    assert Standing.WAITING is opinion.standing
    assert {"6 bam": 1, "joker": 8} == {str(wait.face): wait.left for wait in opinion.waits}
    assert [Source.CLAIM] == [get.source for get in opinion.nearest[0].get]
