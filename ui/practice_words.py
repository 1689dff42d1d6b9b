"""What is said while a card is practised: the task, what is wrong with a rack, other ways, what has been learnt."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from datetime import date
from typing import Final

from tilewitness.engine.coverage import Coverage, HandCoverage, SectionCoverage
from tilewitness.engine.exercise import Exercise
from tilewitness.engine.faces import Face, Kind, Suit
from tilewitness.engine.hands import Group, Hand, Honour, SuitRule, size_word
from tilewitness.engine.opinion import LaidGroup
from tilewitness.engine.plans import HAND_SIZE, alternatives, free_numbers, group_count
from tilewitness.engine.scores import Score
from tilewitness.engine.ways import Change, Way
from tilewitness.ui.correction_words import correction_sentence, suits_name
from tilewitness.ui.fault_words import TITLES
from tilewitness.ui.phrasing import amount, capital, count, listed, plural
from tilewitness.ui.practice_labels import LEVELS
from tilewitness.ui.words import (
    Places,
    Tone,
    Verdict,
    groups_named,
    hand_name,
    joker_sentences,
)

DRAGONS: Final = "Green dragons go with bams, red dragons with craks, white dragons, called soap, with dots."
BOXES: Final = (
    "Hands move through the five boxes of Sebastian Leitner, 1972: one box on when right, back to the first when "
    "wrong. They come again after 1, 2, 5, 8 and 14 days."
)

# The task.


def task_sentences(hand: Hand) -> list[str]:
    """A hand to be built: its name, what the card asks for, its note, its rules of suits and jokers."""
    asked, *clauses = str(hand).split("; ")
    rules = [capital(f"{clause}.") for clause in clauses if clause.startswith("the ")]
    rules += ["The numbers must differ."] * hand.numbers_differ
    notes = [f"Your card notes: {hand.note}."] * bool(hand.note)
    sentences = [f"Build {hand_name(hand)}.", f"Your card asks for {asked}.", *rules, *notes]
    return [*sentences, *_suit_rules(hand), task_jokers(hand)]


def _suit_rules(hand: Hand) -> list[str]:
    groups = [p for phrases in alternatives(hand) for p in phrases if isinstance(p, Group)]
    rules = {group.suit for group in groups}
    free = len(rules & {SuitRule.FIRST, SuitRule.SECOND, SuitRule.THIRD})
    free = max([free, *(number for rule, number in _IN_TURN.items() if rule in rules)])
    said = []
    if free == 1:
        said.append("One suit of your choice.")
    elif free:
        said.append(f"{capital(count(free))} different suits of your choice.")
    tiles = {tile for group in groups for tile in group.tiles}
    return [*said, *[DRAGONS] * bool(tiles & {Honour.MATCHING_DRAGON, Honour.OPPOSITE_DRAGON})]


_IN_TURN: Final = {SuitRule.TWO_IN_TURN: 2, SuitRule.THREE_IN_TURN: 3}


def task_jokers(hand: Hand) -> str:
    """Where jokers may stand in a hand."""
    if hand.no_jokers:
        return "No joker may stand in this hand."
    sizes = {p.size: group_count(p) for phrases in alternatives(hand) for p in phrases}
    large = [f"{size_word(size)}s" for size in sorted(sizes) if size >= 3]
    small = [f"{size_word(size)}s" for size in sorted(sizes) if size < 3]
    if not large:
        return f"No joker may stand in it: it is all {listed(small)}."
    not_in = f", never in {listed(small, 'or')}" if small else ""
    return f"Jokers may stand in {listed(large)}{not_in}."


# The check.


def exercise_verdict(exercise: Exercise, places: Places, looks: Sequence[str] = ()) -> Verdict:
    """A rack checked against its hand, in words.

    Args:
        looks: for a photo that was not read surely, what to look at first; what is said then is said of it as read.
    """
    name, right = exercise.hand.name, exercise.right
    said = [correction_sentence(one, exercise, places) for one in exercise.corrections]
    instead = [f"As it stands it is {listed([hand_name(hand) for hand in exercise.instead])}."] * bool(exercise.instead)
    counted = [count_sentence(exercise)] * exercise.count_is_off
    found = joker_sentences(exercise.groups, places) if right else [*instead, *counted, *said]
    meant = [] if right else [f"Then it is {listed(groups_named(exercise.groups))}.", *_jokers_due(exercise.groups)]
    ways, jokers = way_sentences(exercise), (*meant, joker_sentence(exercise))
    if looks:
        title = f"Look first: as read, {name} is {'right' if right else 'not yet right'}"
        return Verdict(Tone.LOOK, title, tuple(looks), (*found, *jokers, *ways), is_complete=right)
    if right:
        return Verdict(Tone.YES, f"Right: {name}", (*found, *ways), jokers, is_complete=True)
    title = TITLES[exercise.corrections[0].fault] if len(said) == 1 else f"{amount(len(said), 'thing')} to change"
    return Verdict(Tone.NO, f"Not yet {name}: {title}", tuple(found), (*jokers, *ways))


def count_sentence(exercise: Exercise) -> str:
    """The quick count, when there are not fourteen tiles."""
    tiles = len(exercise.rack.faces)
    if tiles < HAND_SIZE - 6:
        return f"There {'is' if tiles == 1 else 'are'} {amount(tiles)}; a hand has 14."
    lie = "lies" if exercise.between == 1 else "lie"
    return (
        "Count four tiles from the left end and four from the right: six must lie between, "
        f"and here {count(exercise.between)} {lie}."
    )


def _jokers_due(groups: Sequence[LaidGroup]) -> list[str]:
    """That the groups hold more of a tile than a set does, if so."""
    tiles = Counter(slot.face for group in groups for slot in group.slots)
    due = sum(max(0, number - face.copies) for face, number in tiles.items())
    return [f"It needs {amount(due, 'joker')} at least."] * bool(due)


def more_than_a_hand(tiles: int) -> str:
    """That a photo shows too many tiles to be checked as one hand."""
    return f"The photo shows {amount(tiles)}; a hand has 14. Photograph the hand alone."


def joker_sentence(exercise: Exercise) -> str:
    """Where jokers could stand in what was built."""
    groups = exercise.joker_groups
    if exercise.hand.no_jokers or not groups:
        return task_jokers(exercise.hand)
    return f"Jokers may stand in the {listed(list(dict.fromkeys(groups_named(groups))))}."


# Other ways.


def way_sentences(exercise: Exercise) -> list[str]:
    """Other ways to build the same hand, one sentence for each kind of change."""
    by_change: dict[Change, list[Way]] = {}
    for way in exercise.other_ways:
        by_change.setdefault(way.change, []).append(way)
    return [_WAYS[change](ways, exercise) for change, ways in by_change.items()]


def _other_suits(ways: Sequence[Way], exercise: Exercise) -> str:
    names = list(dict.fromkeys(" then ".join(map(suits_name, _suits_of(way))) for way in ways))
    if all(" then " not in name for name in names):
        return f"Also in {listed(names, 'or')}."
    return f"Also in {'; or '.join(names)}."


def _suits_of(way: Way) -> list[Suit | None]:
    return list(dict.fromkeys(face.suit for _, face in way.groups if face.kind is Kind.SUITED))


def _other_numbers(ways: Sequence[Way], exercise: Exercise) -> str:
    numbers = [list(dict.fromkeys(face.number for _, face in way.groups if face.number)) for way in ways]
    here = [group.face.number for group in exercise.groups if group.face.number]
    lowest = {min(one) for one in numbers}
    if len(free_numbers(exercise.hand)) == 1 and len(lowest) == len(ways) and min(here) not in lowest:
        starts = "with" if all(len(one) == 1 for one in numbers) else "starting from"
        return f"Also {starts} {listed(sorted({str(min(one)) for one in numbers}), 'or')}."
    if not lowest - {min(here)}:  # the free number stands beside fixed ones
        return _also([_unlike(way.groups, [(g.size, g.face) for g in exercise.groups]) for way in ways], "other numbers")
    return _also([listed(list(map(str, one))) for one in numbers], "other numbers")


def _other_groups(ways: Sequence[Way], exercise: Exercise) -> str:
    here = [(group.size, group.face) for group in exercise.groups]
    unlike = [[one for one in way.groups if one not in here] or list(way.groups) for way in ways]
    if len(set(map(tuple, unlike))) < len(ways):  # two ways bring the same tiles, for different groups
        at = [at for at, own in enumerate(here) if any(way.groups[at] != own for way in ways)]
        unlike = [[way.groups[place] for place in at] for way in ways]
    names = [listed([f"{size_word(size)} of {plural(face)}" for size, face in one]) for one in unlike]
    return _also(names, "other winds and dragons")


def _other_choice(ways: Sequence[Way], exercise: Exercise) -> str:
    """Tiles that could stand in place of some that were chosen freely: all of them if they are few, else one."""
    here = [(group.size, group.face) for group in exercise.groups]
    gone = _unlike(here, ways[0].groups)
    came = [_unlike(way.groups, here) for way in ways]
    if len(came) > MOST_WAYS:
        came = [came[0], f"any of {count(len(came) - 1)} others"]
    return f"Also with other tiles of your choice: in place of {gone} could stand {listed(came, 'or')}."


def _unlike(groups: Sequence[tuple[int, Face]], others: Sequence[tuple[int, Face]]) -> str:
    """The groups that differ from those at the same places of another way."""
    unlike = [one for one, other in zip(groups, others, strict=True) if one != other]
    return listed([f"the {face}" if size == 1 else f"the {size_word(size)} of {plural(face)}" for size, face in unlike])


MOST_WAYS: Final = 6
"""Ways of one kind that are named one by one."""


def _also(names: Sequence[str], things: str) -> str:
    """Each of these, unless there are too many to be listened to."""
    if len(names) > MOST_WAYS:
        return f"Also with {things}, in {count(len(names))} ways."
    return f"Also with {'; or '.join(names)}."


_WAYS: Final[dict[Change, Callable[[Sequence[Way], Exercise], str]]] = {
    Change.SUITS: _other_suits,
    Change.NUMBERS: _other_numbers,
    Change.HONOURS: _other_groups,
    Change.ALTERNATIVE: _other_groups,
    Change.CHOICE: _other_choice,
}


# What has been learnt.

def kept_sentence(learner: str, *, unsure: bool = False) -> str:
    """That something was written down, and in whose notebook."""
    kept = f"Written down in {'your notebook' if learner == ME else f'the notebook of {learner}'}"
    return f"{kept} as unsure: it does not count until a person has looked at the tile." if unsure else f"{kept}."


ME: Final = "me"
"""The learner where there is only one, who gave no name."""
LOOK_AGAIN: Final = "Take the photo again, or name the tiles yourself with --tiles."


def exported(number: int, thing: str, path: str) -> str:
    """What was written for a spreadsheet."""
    return f"{capital(amount(number, thing))} written to {path}."


def coverage_lines(done: Coverage, scores: Sequence[Score], today: date) -> list[str]:
    """How much of a card was built, section by section, hand by hand, what comes next, how quizzes went."""
    lines = [card_sentence(done)]
    for section in done.sections:
        lines += ["", section_sentence(section), *(f"  {hand_sentence(hand, today)}" for hand in section.hands)]
    if done.next_up:
        lines += ["", f"Next: {hand_name(done.next_up[0])}."]
    quizzes = ["", "In quizzes:", *(f"  {score_line(score)}" for score in scores)] if scores else []
    return [*lines, BOXES, *quizzes]


def score_line(score: Score) -> str:
    """How questions of one kind on one level were answered."""
    return f"{capital(score.asks.value)}, {LEVELS[score.level.value - 1]}: {score.right} of {score.asked} right."


def card_sentence(done: Coverage) -> str:
    """How much of a card was built."""
    return f"{done.card}: {done.built} of {amount(len(done.hands), 'hand')} built."


def section_sentence(section: SectionCoverage) -> str:
    """How much of a section was built."""
    return f"{section.name}: {count(section.built) if section.built else 'none'} of {amount(len(section.hands), 'hand')} built."


def hand_sentence(one: HandCoverage, today: date) -> str:
    """What was done of one hand."""
    left = f" {capital(unsure_photos(one.unsure))}." if one.unsure else ""
    if one.box is None or one.last is None:
        return f"{one.hand.name}: not tried yet.{left}"
    ways = f"built in {count(len(one.ways))} of {amount(one.forms, 'way')}" if one.built else "not built right yet"
    due = "due now" if one.box.due <= today else f"due on {day(one.box.due)}"
    tries = f"{amount(one.tries, 'try').replace('trys', 'tries')}, the last on {day(one.last.date())}"
    mistakes = [f"{TITLES[fault]}, {_times(number)}" for fault, number in one.mistakes]
    told = f" Mistakes: {'; '.join(mistakes)}." if mistakes else ""
    return f"{one.hand.name}: {ways}; {tries}; box {one.box.number}, {due}.{told}{left}"


def unsure_photos(number: int) -> str:
    """Photos that do not count, because nobody has looked at a tile."""
    return f"{amount(number, 'photo')} left unsure"


def _times(number: int) -> str:
    return {1: "once", 2: "twice"}.get(number, f"{count(number)} times")


def day(on: date) -> str:
    """A day in words, the same in every locale.

    >>> day(date(2030, 1, 3))
    '3 January 2030'
    """
    return f"{on.day} {_MONTHS[on.month - 1]} {on.year}"


_MONTHS: Final = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
