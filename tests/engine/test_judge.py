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


def test_claimed_groups_lie_apart_so_only_the_rest_has_an_order_to_keep(card: Card) -> None:
    """Common practice, no source: an exposure stays where it was laid."""
    opinion = judge(Rack.parse("pair of flowers, kong of 6 bam, (kong of 4 bam), (pung of 2 bam, joker)"), card)
    mixed = judge(Rack.parse("kong of 6 bam, pair of flowers, (kong of 4 bam), (pung of 2 bam, joker)"), card)
    groups = opinion.wins[0].groups

    assert [True] == [win.in_card_order for win in opinion.wins]
    assert [[0, 1], [10, 11, 12, 13], [6, 7, 8, 9], [2, 3, 4, 5]] == [[s.place for s in g.slots] for g in groups]
    assert [False] == [win.in_card_order for win in mixed.wins]


def test_either_of_two_equal_groups_may_be_the_claimed_one() -> None:
    card = parse_card('name = "T"\n["S"]\n"Twice" = "kong of 1, pair of flowers, kong of 1, kong of 2 in one suit; worth 25"')
    shown = ["(pung of 1 bam, joker), pair of flowers, pair of jokers, pair of jokers, kong of 2 bam"]
    shown += ["pung of 1 bam, joker, pair of flowers, (1 bam, pung of jokers), kong of 2 bam"]
    shown += ["1 bam, pung of jokers, pair of flowers, kong of 2 bam, (pung of 1 bam, joker)"]

    assert [True] * 3 == [judge(Rack.parse(tiles), card).wins[0].in_card_order for tiles in shown]


def test_joker_in_a_pair_is_not_a_win(card: Card) -> None:
    opinion = judge(Rack.parse("flower, joker, kong of 2 bam, kong of 4 bam, kong of 6 bam"), card)

    assert not opinion.is_complete
    assert [(Fault.JOKER_IN_PAIR, (1,))] == [(r.fault, r.places) for r in opinion.nearest[0].reasons]


def test_thirteen_tiles_wait_for_every_tile_that_wins(card: Card) -> None:
    opinion = judge(Rack.parse("pair of flowers, kong of 2 bam, kong of 4 bam, pung of 6 bam"), card)

    assert Standing.WAITING is opinion.standing
    assert {"6 bam": 1, "joker": 8} == {str(wait.face): wait.left for wait in opinion.waits}
    assert [Source.CLAIM] == [get.source for get in opinion.nearest[0].get]


def test_the_hand_worth_most_comes_first() -> None:
    card = parse_card(f'name = "Test"\n["Two"]\n{STEPS}\n{STEPS.replace("Steps", "Stairs").replace("25", "40")}')
    opinion = judge(Rack.parse("pair of flowers, kong of 2 bam, kong of 4 bam, kong of 6 bam"), card)

    assert ["Stairs", "Steps"] == [win.hand.name for win in opinion.wins]


def test_a_win_tells_where_jokers_stand_for_what(card: Card) -> None:
    opinion = judge(Rack.parse("kong of 4 dot, joker, pung of 2 dot, pair of flowers, 6 dot, joker, 6 dot, joker"), card)
    (win,) = opinion.wins
    standing = {slot.place: str(slot.face) for group in win.groups for slot in group.slots if slot.joker}

    assert {4: "2 dot", 11: "6 dot", 13: "6 dot"} == standing
    assert not win.jokerless
    assert list(range(14)) == sorted(slot.place for group in win.groups for slot in group.slots if slot.place is not None)


def test_keep_let_go_and_get_add_up(card: Card) -> None:
    opinion = judge(Rack.parse("flower, east, kong of 2 bam, kong of 4 bam, pung of 6 bam, 9 dot"), card)
    near = opinion.nearest[0]

    assert 2 == near.missing
    assert (1, 13) == near.let_go
    assert 12 == len(near.keep)
    assert {("flower", 1, 7, False, Source.DRAW), ("6 bam", 1, 1, True, Source.CLAIM)} == {
        (str(get.face), get.count, get.left, get.joker_serves, get.source) for get in near.get
    }


def test_the_last_tile_of_a_group_may_be_claimed_once_the_others_were_drawn() -> None:
    card = parse_card('name = "T"\n["A"]\n"Open" = "quint of east, quint of west, kong of north; worth 25"')
    hidden = parse_card('name = "T"\n["A"]\n"Shut" = "quint of east, quint of west, kong of north; concealed; worth 25"')
    rack = Rack.parse("quint of flowers, quint of flowers, pair of north, pair of east")

    assert {Source.DRAW_THEN_CLAIM} == {get.source for get in judge(rack, card).nearest[0].get}
    assert {Source.DRAW} == {get.source for get in judge(rack, hidden).nearest[0].get}


def test_the_last_tile_may_be_claimed_to_win_even_for_a_pair(card: Card) -> None:
    opinion = judge(Rack.parse("flower, east, kong of 2 bam, kong of 4 bam, kong of 6 bam"), card)

    assert [Source.CLAIM_TO_WIN] == [get.source for get in opinion.nearest[0].get]


def test_tiles_in_sight_are_not_left_to_get(card: Card) -> None:
    rack = Rack.parse("pair of flowers, kong of 2 bam, kong of 4 bam, pung of 6 bam, east")
    opinion = judge(rack, card, seen=Rack.parse("6 bam, joker, joker").faces)

    assert [(0, Source.NONE_LEFT)] == [(get.left, get.source) for get in opinion.nearest[0].get]


def test_of_equally_near_hands_the_one_with_more_tiles_left_comes_first() -> None:
    wordings = ['"East" = "kong of east, quint of 2 bam, quint of 4 bam; worth 90"',
                '"West" = "kong of west, quint of 2 bam, quint of 4 bam; worth 25"']  # fmt: skip
    card = parse_card('name = "Test"\n["Two"]\n' + "\n".join(wordings))
    rack = Rack.parse("kong of 2 bam, kong of 4 bam, pair of joker, 1 dot, 2 dot, 3 dot, 4 dot")

    assert ["East", "West"] == [near.hand.name for near in judge(rack, card).nearest]
    assert ["West", "East"] == [
        near.hand.name for near in judge(rack, card, seen=Rack.parse("pair of east").faces).nearest
    ]


def test_a_joker_in_a_claimed_group_can_be_exchanged_for_the_natural_tile(card: Card) -> None:
    opinion = judge(Rack.parse("(2 bam, 2 bam, joker, joker), 2 bam, pair of flowers, kong of 4 bam, pung of 6 bam"), card)

    assert [(2, 4)] == [(exchange.joker, exchange.natural) for exchange in opinion.exchanges]


def test_an_exchange_that_wins_is_told(card: Card) -> None:
    # Common practice, no source: whoever declares may first buy back a joker with the natural tile and use it.
    rack = Rack.parse("(2 bam, 2 bam, 2 bam, joker), pair of flowers, kong of 4 bam, pung of 6 bam, 2 bam")
    opinion = judge(rack, card)

    assert not opinion.is_complete
    assert [(3, 13, True)] == [(one.joker, one.natural, bool(one.wins)) for one in opinion.exchanges]
    assert not any(one.wins for one in judge(Rack(rack.faces[:-2], rack.exposed), card).exchanges)


def test_claimed_groups_that_no_hand_allows_are_said_of_the_rack(card: Card) -> None:
    opinion = judge(Rack.parse("(pung of east), kong of 2 bam"), card)

    assert () == opinion.nearest
    assert [(Fault.CLAIM_NOT_IN_HAND, (0, 1, 2))] == [(r.fault, r.places) for r in opinion.reasons]


@pytest.mark.parametrize("text", ["", "kong of joker", "(pung of joker), east", "sextet of joker, sextet of joker, pair of joker"])
def test_any_rack_gets_an_opinion(text: str, card: Card, handbook: Card) -> None:
    for some in (card, handbook):
        assert not judge(Rack.parse(text), some).is_complete


@pytest.mark.parametrize(
    ("tiles", "standing"),
    [(12, Standing.FEW), (13, Standing.WAITING), (14, Standing.DECLARED), (15, Standing.DEAD), (20, Standing.DEAD)],
)
def test_the_number_of_tiles_tells_the_standing(tiles: int, standing: Standing, card: Card) -> None:
    faces = Rack.parse("pair of flowers, kong of 2 bam, kong of 4 bam, kong of 6 bam, sextet of joker").faces

    assert standing is judge(faces[:tiles], card).standing


def test_at_most_as_many_hands_as_asked_for(demo: Card) -> None:
    assert 3 == len(judge(Rack.parse("kong of 2 bam"), demo, limit=3).nearest)
    assert () == judge(Rack.parse("kong of 2 bam"), demo, limit=0).nearest


def test_a_free_choice_is_in_card_order_whatever_its_own_order(handbook: Card) -> None:
    rack = Rack.parse("pair of 9 dot, pair of 1 bam, pair of east, pair of 3 crak, pair of 2 bam, pair of soap, pair of 8 bam")
    mixed = Rack((rack.faces[13], *rack.faces[:13]))

    assert [True] == [win.in_card_order for win in judge(rack, handbook).wins]
    assert [False] == [win.in_card_order for win in judge(mixed, handbook).wins]


def test_a_claimed_group_of_a_hand_without_jokers_is_not_missed() -> None:
    text = 'name = "T"\n["One"]\n"Pure" = "pair of flowers, kongs of 2, 4 and 6 in one suit; no jokers; worth 25"'
    opinion = judge(Rack.parse("pair of flowers, (kong of 2 bam), kong of 4 bam, (kong of 6 bam)"), parse_card(text))

    assert opinion.is_complete


def test_a_card_without_a_form_gives_an_empty_opinion() -> None:
    none = parse_card('name = "T"\n["One"]\n"Short" = "kong of east; worth 25"')
    opinion = judge(Rack.parse("kong of east"), none)

    assert ((), (), ()) == (opinion.wins, opinion.nearest, opinion.near_misses)


def test_a_joker_at_fault_beside_a_claim_that_does_not_fit_is_named(demo: Card) -> None:
    rack = Rack.parse("(1 bam), pung of 1 bam, kong of 2 bam, quint of joker")
    near = next(near for near in judge(rack, demo).near_misses if near.hand.name == "Neap Tide")

    assert [Fault.JOKER_IN_PAIR] == [reason.fault for reason in near.reasons]
