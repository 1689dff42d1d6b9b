"""What is said of tiles to get: how they may come, how many are left, and where only jokers can help."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from tilewitness.engine.faces import Face
from tilewitness.engine.opinion import Get, Source
from tilewitness.engine.rack import JOKER
from tilewitness.ui.phrasing import a, capital, count, plural, several


def get_sentence(get: Get) -> str:
    """A tile to get and how it may come."""
    jokers = _jokers_instead(get)
    if jokers == get.count:
        stood_for = a(get.face.name) if jokers == 1 else plural(get.face)
        return f"Get {_instead(jokers)} for {stood_for}: no {get.face} may still come."
    left = "" if get.source is Source.NONE_LEFT else f" {left_sentence(get.left)}"
    joker = f" It takes {_instead(jokers)} at least." if jokers else " A joker would do as well." if get.joker_serves else ""
    if get.count == 1:
        return f"Get {a(get.face.name)}: it {_SOURCES[get.source]}.{left}{joker}"
    return f"Get {several(get.count, get.face)}: they {_SOURCES[get.source]}.{left}{joker}"


def _instead(jokers: int) -> str:
    return a(JOKER.name) if jokers == 1 else several(jokers, JOKER)


def _jokers_instead(*gets: Get) -> int:
    """How many jokers it takes, because fewer of a tile may still come than are missing."""
    lacking = sum(get.count for get in gets) - gets[0].left
    return max(0, min(lacking, sum(get.count for get in gets if get.joker_serves)))


def all_to_get(gets: Sequence[Get]) -> list[str]:
    """Many tiles to get: how many of each, and the jokers for those that cannot come."""
    by_face: dict[Face, list[Get]] = {}
    for get in gets:
        by_face.setdefault(get.face, []).append(get)
    jokers = {face: _jokers_instead(*alike) for face, alike in by_face.items()}
    naturals = {face: sum(get.count for get in alike) - jokers[face] for face, alike in by_face.items()}
    tiles = [several(number, face) for face, number in naturals.items() if number]
    return [*tiles, *[_instead(sum(jokers.values()))] * any(jokers.values())]


_SOURCES: Final = {
    Source.CLAIM: "may be claimed from a discard",
    Source.CLAIM_TO_WIN: "may be claimed from a discard only to win",
    Source.DRAW_THEN_CLAIM: "must be drawn, but the last may be claimed from a discard",
    Source.DRAW: "must be drawn, unless the last tile to win is claimed",
    Source.NONE_LEFT: "cannot come any more",
}


def left_sentence(left: int) -> str:
    """How many of a tile are not in sight."""
    return f"{capital(count(left)) if left else 'None'} may still come."
