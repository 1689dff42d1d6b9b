"""What is said of a card while it is typed in."""

from __future__ import annotations

from typing import Final

from tilewitness.engine.card import CardError
from tilewitness.engine.typed_hand import TypedHand, WordFault
from tilewitness.ui import labels
from tilewitness.ui.card_words import forms_sentence, jokers_needed, warning_sentence
from tilewitness.ui.phrasing import amount

MOST_FAULTS: Final = 20


def typed_sentences(typed: TypedHand, wording: str) -> list[str]:
    """What a hand comes to so far, or everything that is wrong with it, word by word."""
    if not wording.strip():
        return [labels.BEGIN_TYPING]
    if typed.description is None:
        return [fault_sentence(fault) for fault in typed.faults]
    one = typed.description
    built = [forms_sentence(one), *jokers_needed(one)] if one.forms else []
    return [*built, *(f"Warning: {warning_sentence(each)}" for each in one.warnings)]


def fault_sentence(fault: WordFault) -> str:
    """One thing that is wrong, with the place of its word."""
    where = f"Word {fault.place}" if fault.place else "At the end"
    return f"{where}: {fault.problem}"


def error_lines(error: Exception) -> list[str]:
    """What the command line says of an error, line by line."""
    if isinstance(error, CardError):
        return card_faults(error)
    if isinstance(error, OSError) and error.strerror:
        where = f"{error.filename}: " if error.filename else ""
        return [f"{where}{error.strerror}."]
    return str(error).splitlines()


def card_faults(error: CardError) -> list[str]:
    """Everything that keeps a file from being a card; of very many the first ones."""
    sentences = str(error).splitlines()[:MOST_FAULTS]
    more = len(error.faults) - MOST_FAULTS
    return [*sentences, f"And {amount(more, 'fault')} more."] if more > 0 else sentences
