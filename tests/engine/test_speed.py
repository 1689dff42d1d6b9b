"""Speed, measured side by side with scipy; nothing here fails for being slow.

To read the numbers: python -m pytest tests/engine/test_speed.py --benchmark-enable --benchmark-columns=median,rounds

Measured on two cores of a shared server (load 2), the demo card of 53 hands and 5,811 forms: a full opinion 0.65 ms;
scipy form by form 38 ms, 58 times as long (17 ms, 26 times, if its cost matrices are made beforehand); distances of
20,000 racks to every hand 0.25 s, 79,000 racks a second; compiling the card 24 ms, from the cache 9 ms.
"""

from __future__ import annotations

import tracemalloc
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture
from scipy.optimize import linear_sum_assignment

from tilewitness.engine.batch import Patterns, distances
from tilewitness.engine.card import Card, load_card, parse_card
from tilewitness.engine.faces import FACES
from tilewitness.engine.judge import judge
from tilewitness.engine.rack import JOKER, Rack

DEMO = Path(__file__).parents[2] / "samples" / "card.toml"


def random_racks(count: int) -> np.ndarray[tuple[int, int], np.dtype[np.intp]]:
    """Fourteen tiles from a shuffled set, (count, 14)."""
    wall = np.repeat(np.arange(len(FACES)), [face.copies for face in FACES])
    chance = np.random.default_rng(1)
    return np.array([chance.choice(wall, 14, replace=False) for _ in range(count)])


RACK = Rack(tuple(FACES[index] for index in random_racks(1)[0]))


@pytest.mark.benchmark(group="one rack, the whole demo card")
def test_a_full_opinion(benchmark: BenchmarkFixture, demo: Card) -> None:
    opinion = benchmark(judge, RACK, demo)

    assert 5 == len(opinion.nearest)


def cost_matrices(demo: Card) -> Iterator[np.ndarray[tuple[int, int], np.dtype[np.float64]]]:
    """For each form a matrix (tiles, slots): 0 where the tile may stand, else 1."""
    rack = np.array([face.index for face in RACK.faces])[:, None]
    jokers = rack == JOKER.index
    for slots, takes in zip(demo.forms.slots.T, (demo.forms.sizes >= 3).T, strict=True):
        yield 1.0 - ((rack == slots) | (jokers & takes))


@pytest.mark.benchmark(group="one rack, the whole demo card")
def test_scipy_form_by_form(benchmark: BenchmarkFixture, demo: Card) -> None:
    def least() -> int:
        return min(int(cost[linear_sum_assignment(cost)].sum()) for cost in cost_matrices(demo))

    missing = benchmark.pedantic(least, rounds=5)

    assert judge(RACK, demo).nearest[0].missing == missing


@pytest.mark.benchmark(group="one rack, the whole demo card")
def test_scipy_form_by_form_with_matrices_made_beforehand(benchmark: BenchmarkFixture, demo: Card) -> None:
    costs = list(cost_matrices(demo))

    def least() -> int:
        return min(int(cost[linear_sum_assignment(cost)].sum()) for cost in costs)

    missing = benchmark.pedantic(least, rounds=5)

    assert judge(RACK, demo).nearest[0].missing == missing


@pytest.mark.benchmark(group="20,000 racks, distances to every hand")
def test_twenty_thousand_racks(benchmark: BenchmarkFixture, demo: Card) -> None:
    tiles = random_racks(20_000)
    racks = np.zeros((len(tiles), len(FACES)), np.uint8)
    np.add.at(racks, (np.arange(len(tiles))[:, None], tiles), 1)
    patterns = Patterns.of(demo)

    found = benchmark.pedantic(distances, (patterns, racks), rounds=3, warmup_rounds=1)

    assert (20_000, len(demo.hands)) == found.shape


@pytest.mark.benchmark(group="compiling the demo card")
def test_compiling(benchmark: BenchmarkFixture) -> None:
    text = DEMO.read_text(encoding="utf-8")

    assert 53 == len(benchmark(parse_card, text).hands)


@pytest.mark.benchmark(group="compiling the demo card")
def test_loading_from_the_cache(benchmark: BenchmarkFixture) -> None:
    assert 53 == len(benchmark(load_card, DEMO).hands)


def test_a_compiled_card_takes_less_than_50_megabytes() -> None:
    tracemalloc.start()
    card = load_card(DEMO)
    patterns = Patterns.of(card)
    distances(patterns, np.zeros((256, len(FACES)), np.uint8))
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()

    assert peak < 50_000_000
