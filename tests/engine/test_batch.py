import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from tilewitness.engine.batch import Patterns, distances
from tilewitness.engine.card import Card, parse_card
from tilewitness.engine.faces import FACES
from tilewitness.engine.measure import NEVER, missing_tiles
from tilewitness.engine.rack import Rack


def nearest(card: Card, rack: Rack) -> list[int]:
    forms = card.forms.for_rack(rack.counts)
    missing = missing_tiles(forms, rack)
    return [int(missing[forms.hand == hand].min(initial=NEVER)) for hand in range(len(card.hands))]


def check(card: Card, racks: list[Rack]) -> None:
    counts = np.array([np.bincount([f.index for f in rack.faces], minlength=36) for rack in racks], np.uint8)
    found = distances(Patterns.of(card), counts)

    assert [nearest(card, rack) for rack in racks] == found.tolist()


@settings(max_examples=30, deadline=None)
@given(racks=st.lists(st.lists(st.sampled_from(FACES), min_size=1, max_size=15), min_size=1, max_size=5))
def test_a_batch_agrees_with_rack_by_rack(racks: list[list[object]]) -> None:
    check(DEMO, [Rack(tuple(faces)) for faces in racks])  # type: ignore[arg-type]  # drawn from FACES


DEMO = parse_card(
    'name = "T"\n["One"]\n"Steps" = "pair of flowers, kongs of any number to 2 above in one suit; worth 25"\n'
    '"None" = "kong of east; worth 25"\n"Twice" = "pair of 2, kong of 2, quint of 5 in one suit, pung of any dragon; worth 30"'
)


def test_a_batch_agrees_on_the_demo_card_and_on_free_choices(demo: Card, handbook: Card) -> None:
    wall = [face for face in FACES for _ in range(face.copies)]
    chance = np.random.default_rng(5)
    racks = [Rack(tuple(wall[i] for i in chance.choice(len(wall), 14, replace=False))) for _ in range(300)]

    check(demo, racks)
    check(handbook, racks[:60])


def test_no_racks_and_no_forms_are_fine() -> None:
    empty = parse_card('name = "T"\n["One"]\n"None" = "kong of east; worth 25"')

    assert [[NEVER]] == distances(Patterns.of(empty), np.zeros((1, 36), np.uint8)).tolist()
    assert (0, 3) == distances(Patterns.of(DEMO), np.zeros((0, 36), np.uint8)).shape
