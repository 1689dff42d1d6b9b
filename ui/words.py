"""What is said of an opinion, for screen, speech and command line alike: short sentences, plain words.

Rules for everything said: one thought a sentence; tiles by their plain names; places count from 1, left to
right; no abbreviation, symbol or bracket that a screen reader would spell out. What is said of photos stands
in `photo_words`, of tables in `table_words`, of cards in `card_words`, of tiles to get in `get_words`; `labels` names
what can be pressed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Final

from tilewitness.engine.faces import Face, Kind
from tilewitness.engine.hands import Hand, size_word
from tilewitness.engine.opinion import (
    Exchange,
    Fault,
    LaidGroup,
    Near,
    Opinion,
    Reason,
    Standing,
    Wait,
    Win,
)
from tilewitness.engine.unsure import Certainty, Look, Outcome, UnsureOpinion
from tilewitness.ui.fault_words import PLAIN, REASONS, TITLES
from tilewitness.ui.get_words import all_to_get, get_sentence, left_sentence
from tilewitness.ui.phrasing import a, amount, capital, count, listed, percent, plural, several

SECOND_OPINION: Final = "This is a second opinion. Your card and the rules of your table decide."
READ_SURELY: Final = "Every tile that matters was read surely."
GUESSED: Final = "The artwork of these tiles is not known, so that their names are guesses: check every tile."
NO_WIN_HOWEVER: Final = "No likely reading of the unsure tiles makes it a win."

Places = Sequence[str]
"""What each place of a rack is called: "place 7", or "row 2 place 7"."""

TELLING: Final = 4
"""Tiles missing up to which it helps to be told why and how; further away a list of tiles says it all."""
SETTLES: Final = 0.5
"""Part of the doubt that one tile must settle to be the one to look at."""
AT_ONCE: Final = 3
"""Most tiles to send a person to, or to name in a title, at once."""

LIKELY, EVEN = 0.9, 0.5
"""Probability from which an answer is called very likely, and probable."""


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
        lead: what to know or do next, a few sentences.
        details: what the answer rests on.
        likely: "very likely", "probably" or "perhaps" where the answer hangs on an unsure tile; else empty.
        is_complete: the answer, if the likeliest reading is right.
    """

    tone: Tone
    title: str
    lead: tuple[str, ...]
    details: tuple[str, ...] = ()
    likely: str = ""
    is_complete: bool = False

    @property
    def sentences(self) -> list[str]:
        """Everything, the answer first, as read aloud."""
        return [f"{self.title}.", *self.lead, *self.details]


def places_in_one_row(number: int) -> Places:
    """Names of the places of a rack that stands in one row."""
    return [f"place {place}" for place in range(1, number + 1)]


def verdict(opinion: Opinion, places: Places) -> Verdict:
    """Put an opinion on known tiles into words."""
    if opinion.wins:
        return _win(opinion, places)
    rack_faults = [_rack_sentence(reason, opinion, places) for reason in opinion.reasons]
    exchanges = exchange_sentences(opinion.exchanges, places)
    winning = next((one for one in opinion.exchanges if one.wins), None)
    if winning:
        hands = listed([hand_name(hand) for hand in winning.wins])
        lead = [*rack_faults, *exchanges, f"Once they have changed places, it is {hands}: by common practice a win."]
        return Verdict(Tone.NO, "Not complete, but an exchange wins", tuple(lead))
    if opinion.standing is Standing.DEAD:
        return _dead(opinion, rack_faults, exchanges)
    if opinion.waits:
        waits = [wait_sentence(wait) for wait in opinion.waits]
        lead, details = [*rack_faults, *waits[:AT_ONCE]], [*waits[AT_ONCE:], *exchanges]
        return Verdict(Tone.NO, f"One tile away: {_waiting_for(opinion.waits)}", tuple(lead), tuple(details))
    return _near_verdict(opinion, places, rack_faults, exchanges)


def verdict_of_reading(
    unsure: UnsureOpinion, places: Places, *, all_sure: bool = True, guessed: bool = False
) -> Verdict:
    """Put into words an opinion on tiles that were read from a photo, and how sure it is.

    Args:
        all_sure: no tile of the rack is marked unsure, so nothing else is said of its reading.
        guessed: the tiles' artwork was never learnt, so that their names are guesses.
    """
    said = verdict(unsure.opinion, places)
    if unsure.certainty is not Certainty.LOOK:
        return Verdict(said.tone, said.title, said.lead, (*said.details, *_why_sure(unsure, all_sure)))
    likely = _LIKELY[-1][1] if guessed else _likely(unsure)
    plain = not unsure.win_probability and not guessed
    title = said.title if plain else f"{capital(likely)} {said.title[:1].lower()}{said.title[1:]}"
    chance = GUESSED if guessed else _chance(unsure.win_probability)
    lead = (*look_sentences(unsure, places), chance)
    return Verdict(Tone.LOOK, title, lead, (*said.lead, *said.details), likely, unsure.opinion.is_complete)


def _why_sure(unsure: UnsureOpinion, all_sure: bool) -> list[str]:
    """Why an answer is sure; nothing where an unsure tile may change how far a rack of another size is."""
    if all_sure or unsure.certainty is Certainty.SURE_YES:
        return [READ_SURELY]
    return [NO_WIN_HOWEVER] if unsure.opinion.standing is Standing.DECLARED else []


def _chance(probability: float) -> str:
    if not probability:
        return "None of its likely readings is a win."
    return f"All likely readings taken together, it is a win with {percent(probability)} probability."


def _likely(unsure: UnsureOpinion) -> str:
    """How likely all readings together make the answer to the likeliest one."""
    chance = unsure.win_probability if unsure.opinion.is_complete else 1 - unsure.win_probability
    return next(word for least, word in _LIKELY if chance >= least)


_LIKELY: Final = ((LIKELY, "very likely"), (EVEN, "probably"), (0.0, "perhaps"))
"""How likely an answer must be to be called so."""


# A win.


def _win(opinion: Opinion, places: Places) -> Verdict:
    win, *others = opinion.wins
    pay = win.payment
    doubled = " No joker is used, so every payment is doubled." if pay.doubled else ""
    lead = [f"It is worth {pay.worth}.{doubled}", *joker_sentences(win.groups, places)]
    details = payment_sentences(win)
    if win.hand.note:
        details.append(f"Your card notes: {win.hand.note}.")
    if others:
        details.append(f"The same tiles also make {listed([hand_name(other.hand) for other in others])}.")
    return Verdict(Tone.YES, f"Complete: {win.hand.name}", tuple(lead), tuple(details))


def joker_sentences(groups: Sequence[LaidGroup], places: Places) -> list[str]:
    """Where jokers stand and for what."""
    by_face: dict[Face, list[int]] = {}
    for group in groups:
        for slot in group.slots:
            if slot.joker and slot.place is not None:
                by_face.setdefault(slot.face, []).append(slot.place)
    return [
        f"The joker{'' if len(at) == 1 else 's'} at {places_listed(sorted(at), places)} "
        f"{'stands' if len(at) == 1 else 'stand'} for {face}."
        for face, at in by_face.items()
    ]


def payment_sentences(win: Win) -> list[str]:
    """What a win pays, marked as common practice."""
    pay = win.payment
    return [
        f"By common practice, whoever threw the last tile pays {pay.discarder}, the others {pay.others} each.",
        f"If you drew it yourself, everybody pays {pay.each}.",
    ]


# Not a win.


def _dead(opinion: Opinion, rack_faults: list[str], exchanges: list[str]) -> Verdict:
    lead = [
        "By common practice a hand of more than 14 tiles is dead.",
        "If some of these tiles are not yours, leave them out.",
        *rack_faults,
    ]
    return Verdict(Tone.NO, f"Too many tiles: {len(opinion.rack.faces)}", tuple(lead), tuple(exchanges))


def _near_verdict(opinion: Opinion, places: Places, rack_faults: list[str], exchanges: list[str]) -> Verdict:
    nearest = next(iter([*opinion.near_misses, *opinion.nearest]), None)
    if nearest is None:
        return Verdict(Tone.NO, "Not complete: no hand of this card is near", tuple(rack_faults), tuple(exchanges))
    fault = nearest.reasons[0].fault if nearest.reasons else None
    telling = fault if fault and (opinion.near_misses or not nearest.missing) else None
    title = TITLES[telling] if telling else f"{amount(nearest.missing)} missing"
    why, what_to_do = near_sentences(nearest, opinion, places)
    if fault in (Fault.CLAIM_NOT_IN_HAND, Fault.CONCEALED_HAND_SHOWN):  # said of this hand, it need not be said of all
        told = [reason for reason in opinion.reasons if reason.fault is not Fault.CLAIM_NOT_IN_HAND]
        rack_faults = [_rack_sentence(reason, opinion, places) for reason in told]
    lead = [*rack_faults, f"The nearest hand is {hand_name(nearest.hand)}.", *why]
    if len(what_to_do) > AT_ONCE:
        return Verdict(Tone.NO, f"Not complete: {title}", tuple(lead), (*what_to_do, *exchanges))
    return Verdict(Tone.NO, f"Not complete: {title}", (*lead, *what_to_do), tuple(exchanges))


def near_sentences(near: Near, opinion: Opinion, places: Places) -> tuple[list[str], list[str]]:
    """A hand that is near: why it is no win; and what to get, where jokers stand, what to let go."""
    why = [reason_sentence(reason, opinion, places) for reason in near.reasons if reason.fault not in PLAIN]
    if near.missing > TELLING:
        return [], [f"To get: {listed(all_to_get(near.get))}."]
    what_to_do = [*map(get_sentence, near.get), *joker_sentences(near.groups, places)]
    if near.let_go:
        what_to_do.append(f"Let go {_tiles_at(near.let_go, opinion, places)}.")
    return why, what_to_do


def near_title(near: Near) -> str:
    """A hand that is near, in a few words."""
    distance = f"{amount(near.missing)} missing" if near.missing else "not all tiles fit"
    return f"{hand_name(near.hand)}: {distance}"


def hand_name(hand: Hand) -> str:
    """A hand by its name, worth and whether it must stay concealed."""
    return f"{hand.name}, worth {hand.worth}{', concealed' if hand.concealed else ''}"


def wait_sentence(wait: Wait) -> str:
    """A tile that would win."""
    hands = listed([hand_name(hand) for hand in wait.hands], "or")
    drawn = " It must be drawn." if wait.face.kind is Kind.JOKER else ""
    return f"{capital(a(wait.face.name))} makes {hands}. {left_sentence(wait.left)}{drawn}"


def _waiting_for(waits: Sequence[Wait]) -> str:
    if len(waits) > AT_ONCE:
        return f"{count(len(waits))} different tiles would win"
    return f"{listed([a(wait.face.name) for wait in waits], 'or')} would win"


def exchange_sentences(exchanges: Sequence[Exchange], places: Places) -> list[str]:
    """Jokers in claimed groups that the rack could buy back."""
    return [
        f"The joker at {places[one.joker]} can be exchanged for the tile at {places[one.natural]}." for one in exchanges
    ]


def reason_sentence(reason: Reason, opinion: Opinion, places: Places) -> str:
    """Why a rack is no win, with the tiles it is about."""
    about = _tiles_at(reason.places, opinion, places)
    if reason.fault is Fault.MORE_THAN_A_SET_HOLDS:
        return f"There are {about.removeprefix('the ')}. {REASONS[reason.fault]}"
    return REASONS[reason.fault] + (f" Look at {about}." if about else "")


def _rack_sentence(reason: Reason, opinion: Opinion, places: Places) -> str:
    """What is wrong with a rack whatever the hand."""
    if reason.fault is Fault.CLAIM_NOT_IN_HAND:
        return f"No exposed hand of the card takes what was claimed. Look at {_tiles_at(reason.places, opinion, places)}."
    return reason_sentence(reason, opinion, places)


# An unsure reading.


def look_sentences(unsure: UnsureOpinion, places: Places) -> list[str]:
    """The tiles to look at, from left to right: the one that settles the answer, or the few on which something hangs."""
    return [look_sentence(look, places) for look in sorted(_looks(unsure), key=lambda look: look.place)]


def _looks(unsure: UnsureOpinion) -> tuple[Look, ...]:
    if not unsure.looks or unsure.looks[0].gain >= SETTLES:
        return unsure.looks[:1]
    telling = [look for look in unsure.looks if len(set(map(_outcome, look.outcomes))) > 1]
    return tuple(telling[:AT_ONCE]) or unsure.looks[:1]


def look_sentence(look: Look, places: Places) -> str:
    """A tile to look at, and what hangs on it."""
    cases: dict[str, list[str]] = {}
    for one in look.outcomes:
        cases.setdefault(_outcome(one), []).append(a(one.face.name))
    told = [f"{result} if it is {listed(faces[:AT_ONCE], 'or')}" for result, faces in list(cases.items())[:AT_ONCE]]
    return f"Look at {places[look.place]}: {listed(told, 'but').replace(' but ', ', but ')}."


def _outcome(outcome: Outcome) -> str:
    if outcome.hand is None:
        return "no hand is near"
    if outcome.win:
        return "it is a win"
    if not outcome.missing:
        return "a whole hand is there"
    return f"{amount(outcome.missing)} {'is' if outcome.missing == 1 else 'are'} missing"


# Places.


def _tiles_at(at: Sequence[int], opinion: Opinion, places: Places) -> str:
    """Tiles of the rack with their places, equal tiles together: "the two jokers at places 2 and 9"."""
    by_face: dict[Face, list[int]] = {}
    for place in at:
        by_face.setdefault(opinion.rack.faces[place], []).append(place)
    return listed([f"the {several(len(where), face)} at {places_listed(where, places)}" for face, where in by_face.items()])


def places_listed(at: Sequence[int], places: Places) -> str:
    """Several places in one phrase: "places 2 and 9", "row 1 places 4 and 5 and row 2 place 1"."""
    by_row: dict[str, list[str]] = {}
    for place in at:
        row, _, number = places[place].rpartition(" ")
        by_row.setdefault(row, []).append(number)
    return listed([f"{row}{'' if len(numbers) == 1 else 's'} {listed(numbers)}" for row, numbers in by_row.items()])


# A hand laid out.


def groups_named(groups: Sequence[LaidGroup]) -> list[str]:
    """The groups of a hand in card order, those of one block of singles together."""
    return [block_name(block) for block in blocks(groups)]


def blocks(groups: Sequence[LaidGroup]) -> list[tuple[LaidGroup, ...]]:
    """Groups as they are laid out: each of its own, but the singles of one phrase side by side."""
    found: list[tuple[LaidGroup, ...]] = []
    for group in groups:
        if found and group.size == 1 and found[-1][-1].size == 1 and found[-1][-1].phrase == group.phrase:
            found[-1] = (*found[-1], group)
        else:
            found.append((group,))
    return found


def block_name(block: Sequence[LaidGroup]) -> str:
    """What a block is called: "kong of 4 bam", "singles of 3 bam, 5 bam and 7 bam", and that it was claimed."""
    first = block[0]
    if first.size > 1:
        name = f"{size_word(first.size)} of {plural(first.face)}"
    else:
        faces = [group.face.name for group in block]
        name = f"single{'' if len(faces) == 1 else 's'} of {listed(faces)}"
    return f"{name}, claimed" if first.claimed else name
