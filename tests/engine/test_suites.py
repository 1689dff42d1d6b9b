"""Verdicts written down in plain text, each with its source on top of its file."""

from __future__ import annotations

from pathlib import Path

import pytest

from tilewitness.engine.card import Card
from tilewitness.engine.judge import judge
from tilewitness.engine.opinion import Fault, Opinion
from tilewitness.engine.rack import Rack

SUITES = Path(__file__).parents[1] / "suites"


def cases(name: str) -> list[tuple[str, str, str]]:
    lines = (SUITES / f"{name}.txt").read_text(encoding="utf-8").splitlines()
    rows = [line.split("|") for line in lines if line.strip() and not line.startswith("#")]
    return [(what.strip(), tiles.strip(), expected.strip()) for what, tiles, expected in rows]


def told(opinion: Opinion, expected: str) -> str:
    """The opinion in the words of a suite, as far as the expected words ask."""
    if expected.startswith("win"):
        return "win " + ", ".join(win.hand.name for win in opinion.wins)
    if expected.startswith("waits"):
        return "waits " + ", ".join(sorted((str(w.face) for w in opinion.waits), key=expected.index))
    hand, reason = expected.split(" ", 1)[1].split(": ")
    near = next(near for near in (*opinion.near_misses, *opinion.nearest) if near.hand.name == hand)
    faults = {r.fault.value for r in (*near.reasons, *opinion.reasons)}
    return f"{near.missing} {hand}: {reason if reason in faults and not opinion.wins else faults}"


@pytest.mark.parametrize(("what", "tiles", "expected"), cases("practice"))
def test_common_practice(what: str, tiles: str, expected: str, demo: Card) -> None:
    opinion = judge(Rack.parse(tiles), demo, limit=len(demo.hands))

    assert expected == told(opinion, expected), what


@pytest.mark.parametrize(("what", "tiles", "expected"), cases("handbook"))
def test_handbook_hands(what: str, tiles: str, expected: str, handbook: Card) -> None:
    opinion = judge(Rack.parse(tiles), handbook)

    assert expected == told(opinion, expected), what


def test_every_fault_has_a_case() -> None:
    words = " ".join(expected for name in ("practice", "handbook") for *_, expected in cases(name))
    # "tiles missing" is what every waiting rack is; "wrong suit" needs a fixed suit, see test_near_misses.
    elsewhere = {Fault.TILES_MISSING, Fault.WRONG_SUIT}

    assert set(Fault) - elsewhere == {fault for fault in Fault if fault.value in words} - elsewhere
