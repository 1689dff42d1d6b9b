from __future__ import annotations

import itertools
import math
import re
from pathlib import Path

import numpy as np
import pytest

from tilewitness.engine.batch import Patterns
from tilewitness.engine.card import Card
from tilewitness.engine.faces import FACES, NAMES, Face
from tilewitness.engine.judge import judge
from tilewitness.engine.rack import Rack
from tilewitness.engine.unsure import Certainty, Likely, _joint, judge_unsure

WIN = Rack.parse("pair of flowers, kong of 1 bam, kong of 5 bam, kong of 9 dot")
SURE = 0.999999


def read(rack: Rack, **doubts: list[tuple[str, float]]) -> list[Likely]:
    """Readings that are certain but for the places named, as p8=[("5 bam", 0.7), …]."""
    tiles: list[Likely] = [[(face, SURE)] for face in rack.faces]
    for place, likely in doubts.items():
        tiles[int(place[1:])] = [(Face.named(name), probability) for name, probability in likely]
    return tiles


def test_a_clear_reading_of_a_win_is_a_sure_yes(demo: Card) -> None:
    told = judge_unsure(read(WIN), demo)

    assert Certainty.SURE_YES is told.certainty
    assert () == told.looks
    assert told.opinion == judge(WIN, demo)


def test_a_doubt_that_cannot_matter_is_no_doubt(demo: Card) -> None:
    rack = WIN.with_tile(0, Face.named("east")).with_tile(3, Face.named("west"))
    told = judge_unsure(read(rack, p0=[("east", 0.5), ("south", 0.5)]), demo)

    assert Certainty.SURE_NO is told.certainty


def test_the_tile_that_decides_is_named_with_what_it_would_mean(demo: Card) -> None:
    told = judge_unsure(read(WIN, p8=[("5 bam", 0.6), ("6 bam", 0.4)]), demo)
    look = told.looks[0]

    assert Certainty.LOOK is told.certainty
    assert 8 == look.place
    assert [("5 bam", True, "Two Lanterns", 0), ("6 bam", False, "Two Lanterns", 1)] == [
        (str(o.face), o.win, o.hand.name if o.hand else "", o.missing) for o in look.outcomes[:2]
    ]
    assert 0.6 == pytest.approx(told.win_probability, abs=0.01)


def test_the_wish_for_a_win_bends_nothing(demo: Card) -> None:
    told = judge_unsure(read(WIN, p8=[("6 bam", 0.9), ("5 bam", 0.1)]), demo)

    assert not told.opinion.is_complete
    assert 0.1 == pytest.approx(told.win_probability, abs=0.01)


def test_readings_that_a_set_cannot_produce_are_dropped(demo: Card) -> None:
    # A fifth 1 bam cannot be: the tile must be the flower that it may also be.
    told = judge_unsure(read(WIN, p0=[("1 bam", 0.7), ("flower", 0.3)]), demo)

    assert Certainty.SURE_YES is told.certainty
    assert told.opinion.is_complete


def test_claimed_groups_count_in_every_reading(demo: Card) -> None:
    pung = ((2, 3, 4),)
    told = judge_unsure(read(WIN), demo, exposed=pung)

    assert Certainty.SURE_NO is told.certainty
    assert Certainty.SURE_YES is judge_unsure(read(WIN), demo, exposed=((2, 3, 4, 5),)).certainty


def test_thirteen_tiles_are_never_a_win(demo: Card) -> None:
    assert Certainty.SURE_NO is judge_unsure(read(WIN)[1:], demo).certainty


def test_a_reading_that_is_impossible_in_every_way_is_still_judged(demo: Card) -> None:
    told = judge_unsure([[(FACES[0], 1.0)]] * 14, demo)

    assert Certainty.SURE_NO is told.certainty
    assert 1 == len(told.opinion.reasons)


def test_no_tiles_are_no_win(demo: Card) -> None:
    assert Certainty.SURE_NO is judge_unsure([], demo).certainty


def test_joint_readings_come_likeliest_first_each_once() -> None:
    options = [[(0, 0.6), (1, 0.3), (2, 0.1)], [(0, 0.5), (1, 0.5)], [(0, 0.9), (1, 0.1)]]
    found = list(_joint(options))
    expected = {
        choice: math.prod(option[at][1] for option, at in zip(options, choice, strict=True))
        for choice in itertools.product(range(3), range(2), range(2))
    }

    assert expected == pytest.approx(dict(found))
    assert len(found) == len(expected)
    assert sorted((p for _, p in found), reverse=True) == pytest.approx([p for _, p in found])


def mistakes() -> dict[str, list[tuple[Face, float]]]:
    """For each face the faces a real reader takes it for, with counts (tests/suites/confusions.txt)."""
    text = (Path(__file__).parents[1] / "suites" / "confusions.txt").read_text(encoding="utf-8")
    found: dict[str, list[tuple[Face, float]]] = {}
    for line in text.splitlines():
        name, row = line[:12].strip(), re.split(r"of +[0-9]+", line)
        if name in NAMES and len(row) == 2:
            said = re.findall(r"([0-9]?[a-z ]+?) ([0-9]+)(?:,|$)", row[1].strip())
            found[name] = [(Face.named(face), float(n)) for face, n in said if face.strip() in NAMES]
    return found


MISTAKES = mistakes()


def noisy(face: Face, chance: np.random.Generator) -> Likely:
    """A calibrated reading: the probability of the likeliest face drawn first, then whether it is the truth.

    Most tiles are as good as certain, some are anything down to a coin's toss; wrong faces are those a real reader
    takes this one for.
    """
    doubt = 10 ** -chance.uniform(5, 8) if chance.random() < 0.97 else chance.uniform(0.001, 0.5)
    weights = np.array([weight for _, weight in MISTAKES[face.name]])
    other = MISTAKES[face.name][int(chance.choice(len(weights), p=weights / weights.sum()))][0]
    said, instead = (other, face) if chance.random() < doubt else (face, other)
    return [(said, 1 - doubt), (instead, doubt)]


def test_the_confusion_table_names_every_face() -> None:
    assert set(NAMES) == set(MISTAKES)
    assert all(MISTAKES.values())


def test_sure_answers_are_right_under_simulated_reading_noise(demo: Card) -> None:
    chance = np.random.default_rng(11)
    patterns = Patterns.of(demo)
    clean = sure_clean = sure_yes = wrong_yes = 0
    for _ in range(400):
        column = int(chance.integers(len(demo.forms)))
        faces = [FACES[index] for index in demo.forms.slots[:, column]]
        if chance.random() < 0.5:
            faces[int(chance.integers(14))] = FACES[int(chance.integers(36))]
        if any(faces.count(face) > face.copies for face in faces):
            continue
        tiles = [noisy(face, chance) for face in faces]
        told = judge_unsure(tiles, demo, patterns=patterns)
        won = judge(faces, demo).is_complete
        is_clean = won and all(likely[0][1] > 0.9999 for likely in tiles)
        clean += is_clean
        sure_clean += is_clean and told.certainty is not Certainty.LOOK
        sure_yes += told.certainty is Certainty.SURE_YES
        wrong_yes += told.certainty is Certainty.SURE_YES and not won

    assert sure_yes > 50
    assert 0 == wrong_yes  # at most 1 in 1,000 over long runs: none of 2,496 when 8,000 racks were drawn
    assert sure_clean >= 0.95 * clean
