"""What is said of an opinion, for screen, speech and command line alike: short sentences, plain words.

Rules for everything said: one thought a sentence; tiles by their plain names; places count from 1, left to
right; no abbreviation, symbol or bracket that a screen reader would spell out. What is said of photos
stands in `photo_words`, of cards in `card_words`; `labels` names what can be pressed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Final

from tilewitness.engine.faces import Face
from tilewitness.engine.hands import Hand, size_word
from tilewitness.engine.opinion import (
    Exchange,
    Fault,
    Get,
    LaidGroup,
    Near,
    Opinion,
    Reason,
    Source,
    Standing,
    Wait,
    Win,
)
from tilewitness.ui.phrasing import a, amount, capital, count, listed, several

SECOND_OPINION: Final = "This is a second opinion. Your card and the rules of your table decide."

Places = Sequence[str]
"""What each place of a rack is called: "place 7", or "row 2 place 7"."""


class Tone(Enum):
    """What an answer comes down to."""

    YES = "yes"
    NO = "no"
    LOOK = "look"


@dataclass(frozen=True, slots=True)
class Verdict:
    """An opinion in words.

    Attributes:
        title: the answer in a few words, without a full stop.
        lines: what the answer rests on, a sentence or two each.
    """

    tone: Tone
    title: str
    lines: tuple[str, ...]

    @property
    def sentences(self) -> list[str]:
        """Everything, the title first and what it is worth last, as read aloud."""
        return [f"{self.title}.", *self.lines, SECOND_OPINION]


def places_in_one_row(number: int) -> Places:
    """Names of the places of a rack that stands in one row."""
    return [f"place {place}" for place in range(1, number + 1)]


def verdict(opinion: Opinion, places: Places) -> Verdict:
    """Put an opinion into words."""
    if opinion.wins:
        return Verdict(Tone.YES, f"Complete: {opinion.wins[0].hand.name}", tuple(_won(opinion, places)))
    rack_faults = [reason_sentence(reason, opinion, places) for reason in opinion.reasons]
    lines = [*rack_faults, *_not_won(opinion, places), *exchange_sentences(opinion.exchanges, places)]
    return Verdict(Tone.NO, _title(opinion, places), tuple(lines))


# A win.


def _won(opinion: Opinion, places: Places) -> list[str]:
    win, *others = opinion.wins
    lines = [f"{capital(amount(len(opinion.rack.faces)))} make this hand of the section {win.hand.section}."]
    lines += joker_sentences(win.groups, places)
    lines += payment_sentences(win)
    if win.hand.note:
        lines.append(f"Your card notes: {win.hand.note}.")
    if others:
        names = listed([f"{other.hand.name}, worth {other.hand.worth}" for other in others])
        lines.append(f"The same tiles also make {names}.")
    return lines


def joker_sentences(groups: Sequence[LaidGroup], places: Places) -> list[str]:
    """Where jokers stand and for what."""
    stands = [slot for group in groups for slot in group.slots if slot.joker and slot.place is not None]
    by_face: dict[str, list[int]] = {}
    for slot in stands:
        by_face.setdefault(slot.face.name, []).append(slot.place or 0)
    return [
        f"The joker at {places_listed(at, places)} stands for {face}."
        if len(at) == 1
        else f"The jokers at {places_listed(at, places)} stand for {face}."
        for face, at in by_face.items()
    ]


def payment_sentences(win: Win) -> list[str]:
    """What a win pays, marked as common practice."""
    pay = win.payment
    doubled = " No joker is used, so everything is doubled." if pay.doubled else ""
    return [
        f"The hand is worth {pay.worth}.{doubled}",
        f"By common practice, whoever threw the last tile pays {pay.discarder}, the others {pay.others} each.",
        f"If you drew it yourself, everybody pays {pay.each}.",
    ]


# Not a win.

_TELLING: Final = 4
"""Tiles missing up to which it helps to be told why; further away the tiles to get say it all."""


def _title(opinion: Opinion, places: Places) -> str:
    if opinion.standing is Standing.DEAD:
        return f"Too many tiles: {len(opinion.rack.faces)}"
    if opinion.standing is Standing.WAITING:
        if not opinion.waits:
            return f"Not complete: {_away(opinion)}"
        return f"One tile away: {_waiting_for(opinion.waits)}"
    if opinion.near_misses:
        return f"Not complete: {_TITLES[opinion.near_misses[0].reasons[0].fault]}"
    return f"Not complete: {_away(opinion)}"


def _waiting_for(waits: Sequence[Wait]) -> str:
    if len(waits) > 3:
        return f"{count(len(waits))} different tiles would win"
    return f"{listed([a(wait.face.name) for wait in waits], 'or')} would win"


def _away(opinion: Opinion) -> str:
    if not opinion.nearest:
        return "no hand of this card is near"
    missing = opinion.nearest[0].missing
    return f"{amount(missing)} missing" if missing else _TITLES[opinion.nearest[0].reasons[0].fault]


def _not_won(opinion: Opinion, places: Places) -> list[str]:
    lines = []
    if opinion.standing is Standing.DEAD:
        lines.append("By common practice a hand of more than 14 tiles is dead.")
        lines.append("If the photo shows tiles that are not yours, leave them out below, or take it again.")
    lines += [wait_sentence(wait) for wait in opinion.waits]
    best = opinion.near_misses[:1] or ([] if opinion.waits else opinion.nearest[:1])
    for near in best:
        lines += near_sentences(near, opinion, places)
    return lines


def wait_sentence(wait: Wait) -> str:
    """A tile that would win."""
    hands = listed([f"{hand.name}, worth {hand.worth}" for hand in wait.hands], "or")
    return f"{capital(a(wait.face.name))} makes {hands}. {_left(wait.left)}"


def near_sentences(near: Near, opinion: Opinion, places: Places) -> list[str]:
    """A hand that is near: what it is, why it is no win, what to get and what to let go."""
    lines = [f"The nearest hand is {hand_name(near.hand)}: {_distance(near)}."]
    if near.missing <= _TELLING:
        lines += [reason_sentence(reason, opinion, places) for reason in near.reasons if reason.fault not in _PLAIN]
    lines += [get_sentence(get) for get in near.get]
    lines += joker_sentences(near.groups, places)
    if near.let_go:
        lines.append(f"Let go {_tiles_at(near.let_go, opinion, places)}.")
    return lines


def _distance(near: Near) -> str:
    return f"{amount(near.missing)} missing" if near.missing else "the right number of tiles, but not all of them fit"


def hand_name(hand: Hand) -> str:
    """A hand by its name, worth and whether it must stay concealed."""
    return f"{hand.name}, worth {hand.worth}{', concealed' if hand.concealed else ''}"


def get_sentence(get: Get) -> str:
    """A tile to get and how it may come."""
    joker = " A joker would do as well." if get.joker_serves else ""
    if get.count == 1:
        return f"Get {a(get.face.name)}: it {_SOURCES[get.source]}. {_left(get.left)}{joker}"
    return f"Get {several(get.count, get.face)}: they {_SOURCES[get.source]}. {_left(get.left)}{joker}"


_SOURCES: Final = {
    Source.CLAIM: "may be claimed from a discard",
    Source.CLAIM_TO_WIN: "may be claimed from a discard only to win",
    Source.DRAW: "must be drawn",
    Source.NONE_LEFT: "cannot come any more",
}


def _left(left: int) -> str:
    return f"{capital(count(left)) if left else 'None'} may still come."


def exchange_sentences(exchanges: Sequence[Exchange], places: Places) -> list[str]:
    """Jokers in claimed groups that the rack could buy back."""
    return [
        f"The joker at {places[one.joker]} can be exchanged for the tile at {places[one.natural]}." for one in exchanges
    ]


# Reasons.

_PLAIN: Final = {Fault.TILES_MISSING, Fault.TILES_TOO_MANY, Fault.WRONG_TILES}
"""Said already by the number of tiles missing and the tiles to let go."""

_TITLES: Final = {
    Fault.TILES_MISSING: "tiles are missing",
    Fault.TILES_TOO_MANY: "tiles are left over",
    Fault.WRONG_TILES: "some tiles do not fit",
    Fault.DRAGON_OF_WRONG_SUIT: "the dragon is of the wrong suit",
    Fault.SUITS_NOT_DIFFERENT: "the suits must be different",
    Fault.SUITS_NOT_ALIKE: "the suits must be alike",
    Fault.WRONG_SUIT: "the suit is not the one the card names",
    Fault.NUMBER_OUT_OF_RUN: "a number does not fit",
    Fault.WRONG_WIND: "a wind does not fit",
    Fault.JOKER_IN_PAIR: "a joker stands in a pair",
    Fault.JOKER_AMONG_SINGLES: "a joker stands for a single tile",
    Fault.JOKER_NOT_ALLOWED: "this hand allows no joker",
    Fault.CONCEALED_HAND_SHOWN: "this hand must be concealed",
    Fault.CLAIM_NOT_IN_HAND: "a claimed group does not belong to the hand",
    Fault.MORE_THAN_A_SET_HOLDS: "more of one tile than a set holds",
}

_REASONS: Final = {
    Fault.TILES_MISSING: "Tiles are still missing.",
    Fault.TILES_TOO_MANY: "There are more tiles than the hand takes.",
    Fault.WRONG_TILES: "Some tiles do not belong to the hand.",
    Fault.DRAGON_OF_WRONG_SUIT: (
        "The dragon is not the one the card asks for. "
        "The green dragon belongs to bam, the red dragon to crak, the white dragon to dot."
    ),
    Fault.SUITS_NOT_DIFFERENT: "The card asks for more different suits than are there.",
    Fault.SUITS_NOT_ALIKE: "Groups that must share one suit do not.",
    Fault.WRONG_SUIT: "The card names a suit for this group, and it stands in another.",
    Fault.NUMBER_OUT_OF_RUN: "The number of one group does not fit the others.",
    Fault.WRONG_WIND: "It is not the wind the card asks for.",
    Fault.JOKER_IN_PAIR: "A joker never stands in a pair, only in a group of three or more equal tiles.",
    Fault.JOKER_AMONG_SINGLES: "A joker never stands for a single tile, only in a group of three or more equal tiles.",
    Fault.JOKER_NOT_ALLOWED: "The card allows no joker in this hand.",
    Fault.CONCEALED_HAND_SHOWN: "The card wants this hand concealed, and groups were claimed.",
    Fault.CLAIM_NOT_IN_HAND: "A claimed group is not a group of this hand.",
    Fault.MORE_THAN_A_SET_HOLDS: (
        "There are more of one tile than a set of 152 holds, so a tile was misread or two sets are mixed."
    ),
}


def reason_sentence(reason: Reason, opinion: Opinion, places: Places) -> str:
    """Why a rack is no win, with the tiles it is about."""
    about = _tiles_at(reason.places, opinion, places)
    return _REASONS[reason.fault] + (f" Look at {about}." if about else "")


def _tiles_at(at: Sequence[int], opinion: Opinion, places: Places) -> str:
    """Tiles of the rack with their places, equal tiles together: "the two jokers at places 2 and 9"."""
    by_face: dict[Face, list[int]] = {}
    for place in at:
        by_face.setdefault(opinion.rack.faces[place], []).append(place)
    return listed([f"the {several(len(where), face)} at {places_listed(where, places)}" for face, where in by_face.items()])


def places_listed(at: Sequence[int], places: Places) -> str:
    """Several places in one phrase: "places 2 and 9", "row 1 place 4 and row 2 place 1"."""
    names = [places[place] for place in at]
    rows = {name.rpartition(" ")[0] for name in names}
    if len(names) == 1 or len(rows) > 1:
        return listed(names)
    return f"{rows.pop()}s {listed([name.rpartition(' ')[2] for name in names])}"


def group_name(group: LaidGroup) -> str:
    """A group laid out: "kong of 4 bam", and that it was claimed.

    Groups of one are called by their tile.
    """
    name = group.face.name if group.size == 1 else f"{size_word(group.size)} of {several(2, group.face)[4:]}"
    return f"{name}, claimed" if group.claimed else name
