"""What must hold of every opinion on any rack whatever."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from tilewitness.engine.card import parse_card
from tilewitness.engine.claims import claims_for
from tilewitness.engine.faces import FACES, Face
from tilewitness.engine.judge import judge
from tilewitness.engine.opinion import LaidGroup, Opinion, Standing
from tilewitness.engine.rack import JOKER, Rack

SAMPLES = Path(__file__).parents[2] / "samples"
CARDS = [parse_card((SAMPLES / name).read_text(encoding="utf-8")) for name in ("card.toml", "handbook.toml")]


@st.composite
def racks(draw: st.DrawFn) -> Rack:
    """Any tiles, but leaning to few faces, with some runs of them claimed."""
    pool = draw(st.lists(st.sampled_from(FACES), min_size=1, max_size=7)) + [JOKER]
    faces = draw(st.lists(st.sampled_from(pool), max_size=16))
    if draw(st.booleans()):
        faces.sort()
    exposed, start = [], 0
    for size in draw(st.lists(st.integers(1, 6), max_size=3)):
        if start + size <= len(faces):
            exposed.append(tuple(range(start, start + size)))
            start += size
    return Rack(tuple(faces), tuple(exposed))


def check_groups(rack: Rack, groups: tuple[LaidGroup, ...], no_jokers: bool) -> None:
    slots = [slot for group in groups for slot in group.slots]
    places = [slot.place for slot in slots if slot.place is not None]

    assert 14 == len(slots)
    assert len(set(places)) == len(places)
    for group in groups:
        for slot in group.slots:
            if slot.place is not None:
                face = rack.faces[slot.place]

                assert face == (JOKER if slot.joker else slot.face)
                assert not slot.joker or (group.size >= 3 and not no_jokers)


def check(rack: Rack, opinion: Opinion) -> None:
    for win in opinion.wins:
        check_groups(rack, win.groups, win.hand.no_jokers)

        assert Standing.DECLARED is opinion.standing
        assert all(slot.place is not None for group in win.groups for slot in group.slots)
        assert {p for claim in rack.exposed for p in claim} == {
            slot.place for group in win.groups if group.claimed for slot in group.slots
        }
    for near in (*opinion.nearest, *opinion.near_misses):
        check_groups(rack, near.groups, near.hand.no_jokers)

        assert near.reasons
        assert sorted((*near.keep, *near.let_go)) == list(range(len(rack.faces)))
        assert near.missing == sum(get.count for get in near.get) == 14 - len(near.keep)
        assert all(0 <= place < len(rack.faces) for reason in near.reasons for place in reason.places)
    worth = [win.hand.worth for win in opinion.wins]

    assert sorted(worth, reverse=True) == worth


@settings(max_examples=150, deadline=None)
@given(rack=racks())
def test_every_opinion_adds_up(rack: Rack) -> None:
    for card in CARDS:
        check(rack, judge(rack, card))


@settings(max_examples=100, deadline=None)
@given(rack=racks(), face=st.sampled_from(FACES))
def test_a_wait_is_a_win_when_it_comes_and_every_win_was_waited_for(rack: Rack, face: Face) -> None:
    rack = Rack(rack.faces[:13], tuple(g for g in rack.exposed if max(g) < 13))
    for card in CARDS:
        waits = {wait.face: wait.hands for wait in judge(rack, card).waits}
        wins = judge(Rack((*rack.faces, face), rack.exposed), card).wins
        waited = set(waits.get(face, ())) if len(rack.faces) == 13 else {win.hand for win in wins}

        assert {win.hand for win in wins} == waited


@settings(max_examples=100, deadline=None)
@given(rack=racks(), face=st.sampled_from(FACES))
def test_every_claim_could_be_laid_open(rack: Rack, face: Face) -> None:
    rack = Rack(rack.faces[:13], tuple(g for g in rack.exposed if max(g) < 13))
    for claim in claims_for(face, rack, CARDS[0]):
        hidden = [rack.faces[place] for place in rack.hidden]

        assert claim.wins or 3 <= claim.size <= 6
        assert claim.wins or hidden.count(face) + hidden.count(JOKER) >= claim.size - 1
        assert claim.wins or not claim.hand.concealed
