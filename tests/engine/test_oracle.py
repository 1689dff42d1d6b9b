from __future__ import annotations

import random
from pathlib import Path

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from oracle import Form, assigned, plain_forms

from tilewitness.engine.card import Card, parse_card
from tilewitness.engine.describe import describe
from tilewitness.engine.faces import FACES, Face
from tilewitness.engine.forms import Forms
from tilewitness.engine.measure import missing_tiles
from tilewitness.engine.rack import Rack

DEMO = parse_card((Path(__file__).parents[2] / "samples" / "card.toml").read_text(encoding="utf-8"))
HANDS = sorted(set(DEMO.forms.hand.tolist()))


def forms_in(forms: Forms, hand: int) -> set[Form]:
    """The engine's forms of a hand, in the oracle's terms."""
    found = set()
    for column in np.flatnonzero(forms.hand == hand):
        plan = forms.plans[forms.plan[column]]
        starts = zip(plan.starts, plan.sizes, strict=True)
        found.add(tuple((size, FACES[forms.slots[start, column]].name) for start, size in starts))
    return found


def test_every_hand_of_the_demo_card_has_the_forms_that_plain_loops_find(demo: Card) -> None:
    for index, hand in enumerate(demo.hands):
        assert plain_forms(hand) == forms_in(demo.forms, index), hand.name


def test_the_number_of_forms_told_counts_sets_of_groups_whatever_their_order(demo: Card) -> None:
    for told in describe(demo):
        expected = {tuple(sorted(form)) for form in plain_forms(told.hand)}

        assert len(expected) == told.forms, told.hand.name


def random_rack(forms: Forms, chance: random.Random) -> Rack:
    """A rack from a shuffled set, made more or less like some form, sometimes with groups claimed."""
    wall = [face for face in FACES for _ in range(face.copies)]
    chance.shuffle(wall)
    column = chance.choice(np.flatnonzero(forms.hand == chance.choice(HANDS)).tolist())
    plan = forms.plans[forms.plan[column]]
    faces: list[Face] = []
    exposed: list[tuple[int, ...]] = []
    like = chance.random()
    for start, size in zip(plan.starts, plan.sizes, strict=True):
        face = FACES[forms.slots[start, column]]
        if size >= 3 and chance.random() < 0.25 * like:
            tiles = [face if chance.random() < 0.7 and face in wall else FACES[35] for _ in range(size)]
        else:
            tiles = [face if chance.random() < like else chance.choice(wall) for _ in range(size)]
            tiles = [tile if tile in wall else chance.choice(wall) for tile in tiles]
            size = 0
        for tile in tiles:
            if tile in wall:
                wall.remove(tile)
        if size and face in tiles:
            exposed.append(tuple(range(len(faces), len(faces) + size)))
        faces += tiles
    extra = chance.choice((0, 0, 0, -1, 1))
    faces = faces + wall[:1] if extra > 0 else faces
    if extra < 0 and not any(len(faces) - 1 in group for group in exposed):
        faces.pop()
    return Rack(tuple(faces), tuple(exposed))


def check_distances(forms: Forms, seed: int, checked: int) -> None:
    """Compare the nearest forms and some random ones of one random rack with the assignment."""
    chance = random.Random(seed)
    rack = random_rack(forms, chance)
    if any(n > face.copies for face in FACES for n in [rack.faces.count(face)]):
        return
    distances = missing_tiles(forms, rack)
    columns = [int(distances.argmin()), *chance.sample(range(len(forms)), checked)]
    for column in columns:
        plan = forms.plans[forms.plan[column]]
        faces = [FACES[forms.slots[start, column]].name for start in plan.starts]

        assert assigned(rack, list(plan.sizes), faces, plan.no_jokers) == distances[column], (rack, column)


@settings(max_examples=2200, deadline=None)
@given(seed=st.integers(0, 2**63))
def test_distances_of_20000_random_racks_agree_with_an_assignment_solver(seed: int) -> None:
    for step in range(10):
        check_distances(DEMO.forms, seed + step, 2)
