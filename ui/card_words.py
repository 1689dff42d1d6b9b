"""What is said of a card: its hands as they read aloud, and what is wrong with them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import groupby
from typing import Final

from tilewitness.engine.card import Card
from tilewitness.engine.describe import Concern, Description, Warned, describe
from tilewitness.engine.hands import Hand
from tilewitness.ui import labels
from tilewitness.ui.phrasing import amount, capital, listed, plural
from tilewitness.ui.words import AT_ONCE, groups_named


def card_summary(card: Card) -> str:
    """A card in one sentence."""
    return f"{card.name}: {amount(len(card.hands), 'hand')} in {amount(len(card.sections), 'section')}."


def card_lines(card: Card) -> list[str]:
    """The whole card, section by section, each hand with its forms, an example, and what is wrong with it."""
    lines = [card_summary(card)]
    for section, hands in groupby(described(card), key=lambda one: one.hand.section):
        lines += ["", section]
        for one in hands:
            lines += [f"  {line}" for line in hand_lines(one)]
    return lines


def kept_lines(card: Card) -> list[str]:
    """That a card is kept, and what is wrong with hands of it all the same."""
    warned = [(one.hand, warning) for one in described(card) for warning in one.warnings]
    return [f"{labels.KEPT} {card_summary(card)}", *(f"{hand.name}: {warning_sentence(warning)}" for hand, warning in warned)]


@lru_cache(maxsize=4)
def described(card: Card) -> tuple[Description, ...]:
    """What each hand comes to; kept, because a page is drawn again and again."""
    return describe(card)


def hand_lines(one: Description) -> list[str]:
    """One hand: its wording, how many forms it has, an example, and warnings."""
    lines = [f"{one.hand.name}: {one.hand}."]
    if one.example:
        example = ", ".join(groups_named(one.example))
        lines.append("  " + " ".join([forms_sentence(one), f"Example: {example}.", *jokers_needed(one)]))
    return [*lines, *(f"  Warning: {warning_sentence(warned)}" for warned in one.warnings)]


def forms_sentence(one: Description) -> str:
    """In how many ways a hand can be built."""
    return f"{capital(amount(one.forms, 'form'))}."


def jokers_needed(one: Description) -> list[str]:
    """That the hand needs jokers, if it does."""
    return [f"It needs {amount(one.fewest_jokers, 'joker')}."] if one.fewest_jokers else []


def terms(hand: Hand) -> str:
    """What the card says of a hand beside its tiles."""
    return f"Worth {hand.worth}, {'concealed' if hand.concealed else 'exposed'}"


_WARNINGS: Final = {
    Concern.NO_FORM: "No choice of numbers, suits and dragons satisfies it.",
    Concern.MORE_THAN_EIGHT_FLOWERS: "It asks for more flowers than the eight of a set.",
    Concern.TOO_MANY_JOKERS_NEEDED: "It needs more jokers than the eight of a set.",
    Concern.TOO_MANY_WITHOUT_JOKERS: "It asks for more of a tile in singles and pairs than a set holds.",
}


def warning_sentence(warned: Warned) -> str:
    """What cannot be built from 152 tiles, and whether some form still can."""
    if warned.concern is Concern.NOT_FOURTEEN_TILES:
        return f"It comes to {amount(warned.tiles)}; a hand has 14."
    said = _WARNINGS[warned.concern]
    if warned.face:
        said = f"It asks for more {plural(warned.face)} in singles and pairs than a set holds."
    if warned.concern is Concern.NO_FORM:
        return said
    scope = "No form of it can be built." if warned.never else f"This concerns {amount(warned.tiles, 'form')}."
    return f"{said} {scope}"


def paper_lost(letters: Sequence[str]) -> str:
    """What is said when letters of a card have no font; the letters are named as far as they are known."""
    some = [f"{letter} (U+{ord(letter):04X})" for letter in letters[:AT_ONCE]]
    named = f", {listed([*some, *['others'] * (len(letters) > AT_ONCE)])}," if some else ""
    return labels.PAPER_LOST.format(letters=named)
