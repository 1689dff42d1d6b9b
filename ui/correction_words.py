"""What is said of one fault of a rack that was built for practice: where it is, why, and what puts it right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from tilewitness.engine.corrections import Correction
from tilewitness.engine.exercise import Exercise
from tilewitness.engine.faces import Face, Kind, Suit
from tilewitness.engine.hands import size_word
from tilewitness.engine.opinion import Fault, LaidGroup
from tilewitness.ui.fault_words import REASONS
from tilewitness.ui.phrasing import a, capital, count, listed, plural, several
from tilewitness.ui.words import Places, places_listed


def correction_sentence(correction: Correction, exercise: Exercise, places: Places) -> str:
    """One fault: where it is, why, and what would put it right."""
    if not correction.places:
        return _missing_sentence(correction, exercise, places)
    where = capital(places_listed(correction.places, places))
    if correction.found is None:
        return f"{where}: {_lower(REASONS[correction.fault])}"
    return f"{where}: {_REMEDIES.get(correction.fault, _wrong_tile)(correction, exercise)}"


def _missing_sentence(correction: Correction, exercise: Exercise, places: Places) -> str:
    wanted = _several(correction.count, correction.wanted)
    if correction.size >= 3 and not exercise.hand.no_jokers:
        wanted += f", or {'a joker' if correction.count == 1 else 'jokers'}"
    if not correction.beside:
        return f"Missing: {wanted}."
    return f"Missing: {wanted}, for the {size_word(correction.size)} at {places_listed(correction.beside, places)}."


def _several(number: int, faces: Sequence[Face]) -> str:
    """So many of any one of these tiles: "a red dragon", "four red dragons or four white dragons"."""
    return listed([a(face.name) if number == 1 else several(number, face) for face in faces], "or")


def _found(correction: Correction) -> tuple[Face, str, str]:
    """The tile that is wrong, as a subject, and what it must be instead."""
    assert correction.found is not None  # its caller has asked
    one = correction.count == 1
    subject = a(correction.found.name) if one else plural(correction.found)
    names = [a(face.name) if one else plural(face) for face in correction.wanted]
    return correction.found, subject, f"{'it' if one else 'they'} must be {listed(names, 'or')}"


def _tied_dragon(correction: Correction, exercise: Exercise) -> str:
    found, subject, must = _found(correction)
    goes = f"{subject} {'goes' if correction.count == 1 else 'go'} with {suits_name(found.suit)}"
    own = _numbers_in(exercise.groups)
    asked = [face.suit for face in correction.wanted]
    if len(own) == 1 and asked == own:
        return f"{goes}; your numbers are {suits_name(own[0])}, so {must}."
    if own == [found.suit]:
        return f"{goes}, and so do your numbers; the card asks for another suit here, so {must}."
    return f"{goes}; the card asks for {listed([suits_name(suit) for suit in asked], 'or')} here, so {must}."


def _numbers_in(groups: Sequence[LaidGroup]) -> list[Suit | None]:
    return list(dict.fromkeys(group.face.suit for group in groups if group.face.kind is Kind.SUITED))


def suits_name(suit: Suit | None) -> str:
    """A suit as all its tiles are called: "bams"."""
    return f"{suit.value}s" if suit else "no suit"


def _other_dragon(correction: Correction, exercise: Exercise) -> str:
    _, subject, must = _found(correction)
    return f"{subject} {_do(correction)} not fit here; {must}."


def _not_alike(correction: Correction, exercise: Exercise) -> str:
    found, subject, must = _found(correction)
    return (
        f"{subject} {_is(correction)} of the {suits_name(found.suit)}, but here the numbers share one suit, "
        f"the {suits_name(correction.wanted[0].suit)}, so {must}."
    )


def _not_different(correction: Correction, exercise: Exercise) -> str:
    _, subject, must = _found(correction)
    return f"{subject} {_is(correction)} of a suit that is used already; the card asks for another here, so {must}."


def _named_suit(correction: Correction, exercise: Exercise) -> str:
    _, subject, must = _found(correction)
    return f"{subject} {_is(correction)} of the wrong suit; the card names the suit here, so {must}."


def _wrong_number(correction: Correction, exercise: Exercise) -> str:
    _, subject, must = _found(correction)
    return f"{subject} {_do(correction)} not fit the other numbers, so {must}."


def _joker(correction: Correction, exercise: Exercise) -> str:
    *_, must = _found(correction)
    return f"{_lower(REASONS[correction.fault]).rstrip('.')}, so {must}."


def _too_many(correction: Correction, exercise: Exercise) -> str:
    found, *_ = _found(correction)
    many = correction.count > 1
    name = plural(found) if many else found.name
    return f"the {name} {'are' if many else 'is'} more than the hand takes. Take {'them' if many else 'it'} away."


def _more_than_a_set(correction: Correction, exercise: Exercise) -> str:
    found, _, must = _found(correction)
    return f"a set holds only {count(found.copies)} of them{f', so {must}' if correction.wanted else ''}."


def _wrong_tile(correction: Correction, exercise: Exercise) -> str:
    _, subject, must = _found(correction)
    return f"{subject} {_do(correction)} not belong here; {must}."


def _do(correction: Correction) -> str:
    return "does" if correction.count == 1 else "do"


def _is(correction: Correction) -> str:
    return "is" if correction.count == 1 else "are"


def _lower(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]


_REMEDIES: Final[dict[Fault, Callable[[Correction, Exercise], str]]] = {
    Fault.DRAGON_OF_WRONG_SUIT: _tied_dragon,
    Fault.WRONG_DRAGON: _other_dragon,
    Fault.WRONG_WIND: _other_dragon,
    Fault.SUITS_NOT_ALIKE: _not_alike,
    Fault.SUITS_NOT_DIFFERENT: _not_different,
    Fault.WRONG_SUIT: _named_suit,
    Fault.NUMBER_OUT_OF_RUN: _wrong_number,
    Fault.JOKER_IN_PAIR: _joker,
    Fault.JOKER_AMONG_SINGLES: _joker,
    Fault.JOKER_NOT_ALLOWED: _joker,
    Fault.TILES_TOO_MANY: _too_many,
    Fault.MORE_THAN_A_SET_HOLDS: _more_than_a_set,
}
