from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import poisson_binom

from tilewitness.engine.batch import Patterns, distances
from tilewitness.engine.card import Card
from tilewitness.engine.faces import FACES, Face
from tilewitness.engine.readings import (
    COVER,
    Likely,
    chance_of_others,
    each_for_itself,
    equals_together,
    half_and_half,
    likeliest,
)


def tile(**odds: float) -> Likely:
    """One tile's faces, as tile(bam3=0.9, east=0.1)."""
    return [(Face.named(name[3:] + " " + name[:3] if name[-1].isdigit() else name), p) for name, p in odds.items()]


TILES = [tile(bam1=0.6, bam2=0.3, bam3=0.1), tile(east=0.5, west=0.5), tile(flower=0.9, joker=0.1)]


def test_joint_readings_come_likeliest_first_each_once() -> None:
    found = likeliest(each_for_itself(TILES))
    expected = {
        tuple(face.index for face, _ in choice): math.prod(p for _, p in choice) for choice in itertools.product(*TILES)
    }
    listed = dict(zip(map(tuple, found.faces.tolist()), found.weights.tolist(), strict=True))

    assert expected == pytest.approx(listed)
    assert len(listed) == len(found.weights)
    assert sorted(listed.values(), reverse=True) == pytest.approx(found.weights.tolist())
    assert 0 == pytest.approx(found.rest)


def test_of_many_readings_the_likeliest_are_listed() -> None:
    odds = np.random.default_rng(1).dirichlet(np.full(36, 0.3), 4)
    found = likeliest(each_for_itself([list(zip(FACES, p.tolist(), strict=True)) for p in odds]))
    every = odds[0]
    for p in odds[1:]:
        every = np.outer(every, p).ravel()

    assert np.sort(every)[::-1][: len(found.weights)] == pytest.approx(found.weights)
    assert found.rest >= 1 - COVER or found.mass >= COVER
    assert 1 == pytest.approx(found.mass + found.rest)


def test_what_is_missing_from_one_is_spread_over_the_faces_not_listed() -> None:
    found = likeliest(each_for_itself([tile(east=0.65)]))

    assert (36, 27) == (len(found.weights), found.faces[0, 0])
    assert [0.65, 0.01] == pytest.approx(found.weights[:2].tolist())


def test_equal_tiles_are_misread_alike_as_far_as_their_readings_allow() -> None:
    singles = each_for_itself([tile(bam1=0.9, east=0.1), tile(west=1.0), tile(bam1=0.6, east=0.3, joker=0.1)])
    first, second = equals_together(singles)
    found = likeliest((first, second))

    assert [(0, 2), (1,)] == [first.places, second.places]
    assert {(0, 29, 0): 0.6, (27, 29, 27): 0.1, (0, 29, 27): 0.2, (0, 29, 35): 0.1} == pytest.approx(
        dict(zip(map(tuple, found.faces.tolist()), found.weights.tolist(), strict=True))
    )


@settings(max_examples=40, deadline=None)
@given(st.lists(st.lists(st.floats(0.01, 1), min_size=3, max_size=3), min_size=1, max_size=6))
def test_together_each_tile_is_as_probably_this_or_that_as_it_was_read(odds: list[list[float]]) -> None:
    shares = [np.array(row) / sum(row) for row in odds]
    tiles = [tile(bam1=p[0], bam2=p[1], east=p[2]) for p in shares]
    found = likeliest(equals_together(each_for_itself(tiles)))

    for place, share in enumerate(shares):
        mass = np.bincount(found.faces[:, place], found.weights, minlength=36)
        assert share == pytest.approx(mass[[0, 1, 27]], abs=10 * (1 - COVER))


def test_each_kind_of_mistake_is_believed_by_half() -> None:
    singles = each_for_itself([tile(bam1=0.8, east=0.2), tile(bam1=0.8, east=0.2)])
    both = half_and_half(likeliest(singles), likeliest(equals_together(singles)))
    found = dict(zip(map(tuple, both.faces.tolist()), both.weights.tolist(), strict=True))

    assert {(0, 0): (0.64 + 0.8) / 2, (0, 27): 0.08, (27, 0): 0.08, (27, 27): (0.04 + 0.2) / 2} == pytest.approx(found, abs=1e-6)
    assert (0, 0) == next(iter(found))


def test_readings_that_no_set_can_produce_are_left_out() -> None:
    five = likeliest(each_for_itself([tile(bam1=0.9, east=0.1)] * 5))

    assert [0, 0, 0, 0, 0] == five.faces[0].tolist()
    assert 4 == (five.that_can_be().faces[0] == 0).sum()
    assert 0.9**5 == pytest.approx(five.mass - five.that_can_be().mass)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(0.5, 1), min_size=1, max_size=14), st.integers(0, 15))
def test_the_chance_of_many_mistakes_is_that_of_a_reference_library(sure: list[float], least: int) -> None:
    # Source: scipy.stats.poisson_binom, the sum of independent trials that are not alike.
    parts = each_for_itself([tile(east=p, west=1 - p) for p in sure])
    expected = poisson_binom([1 - p for p in sure]).sf(least - 1)

    assert expected == pytest.approx(chance_of_others(parts, least), abs=1e-12)


def test_equal_tiles_change_all_at_once() -> None:
    parts = equals_together(each_for_itself([tile(east=0.9, west=0.1)] * 4))

    assert [1, 0.1, 0.1, 0] == pytest.approx([chance_of_others(parts, least) for least in (0, 1, 4, 5)])


def test_one_tile_that_changes_brings_no_hand_nearer_by_more_than_one(demo: Card) -> None:
    chance = np.random.default_rng(4)
    wall = np.repeat(np.arange(36), [face.copies for face in FACES])
    before = np.array([np.bincount(chance.choice(wall, 14, replace=False), minlength=36) for _ in range(300)], np.uint8)
    after = before.copy()
    for rack in after:
        rack[chance.choice(np.flatnonzero(rack))] -= 1
        rack[chance.integers(36)] += 1
    patterns = Patterns.of(demo)
    change = distances(patterns, after).astype(int) - distances(patterns, before)

    assert np.abs(change).max() == 1
