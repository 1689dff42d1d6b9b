"""What is said of two cards compared."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from tilewitness.engine.compare import Change, Comparison, Difference
from tilewitness.engine.hands import Hand
from tilewitness.ui.phrasing import amount, capital

HEADINGS: Final = ("New", "Changed", "Moved to another section", "Gone")
"""Parts of a comparison in the order they are told."""


def comparison_summary(found: Comparison) -> str:
    """A comparison in a sentence."""
    against = f"{found.new} against {found.old}"
    if not found.differences:
        return f"{against}: all {amount(found.same, 'hand')} are the same." if found.same else f"{against}: no hands."
    counts = [f"{amount(len(ones), 'hand')} {heading[0].lower()}{heading[1:]}" for heading, ones in _parts(found) if ones]
    return f"{against}: {', '.join(counts)}, {amount(found.same, 'hand')} the same."


def comparison_lines(found: Comparison) -> list[str]:
    """The whole comparison, part by part."""
    lines = [comparison_summary(found)]
    for heading, ones in _parts(found):
        if ones:
            lines += ["", heading, *(f"  {line}" for one in ones for line in difference_lines(one))]
    return lines


def comparison_parts(found: Comparison) -> list[tuple[str, list[list[str]]]]:
    """Headings, each with the lines of every hand below it; headings without hands are left out."""
    return [(heading, [difference_lines(one) for one in ones]) for heading, ones in _parts(found) if ones]


def _parts(found: Comparison) -> list[tuple[str, list[Difference]]]:
    parts: dict[str, list[Difference]] = {heading: [] for heading in HEADINGS}
    for one in found.differences:
        parts[_heading(one)].append(one)
    return list(parts.items())


def _heading(one: Difference) -> str:
    if Change.NEW in one.changes:
        return HEADINGS[0]
    if Change.GONE in one.changes:
        return HEADINGS[3]
    return HEADINGS[2] if one.changes == (Change.SECTION,) else HEADINGS[1]


def difference_lines(one: Difference) -> list[str]:
    """One hand: its name, then a sentence for each way in which it differs."""
    hand = one.new or one.old
    assert hand is not None
    title = f"{hand.name}, in {hand.section}"
    if one.old is None or one.new is None:
        return [f"{title}: {hand}."]
    return [f"{title}:", *(f"  {_SENTENCES[change](one.old, one.new, one)}" for change in one.changes)]


def _meaning(old: Hand, new: Hand, one: Difference) -> str:
    ways = [f"{amount(one.lost, 'form')} gone"] * bool(one.lost) + [f"{amount(one.gained, 'form')} new"] * bool(one.gained)
    return f"Other tiles complete it: {', '.join(ways)}. It was: {old}. It is now: {new}."


def _either_way(now: bool, yes: str, no: str) -> str:
    return f"It is now {yes}; it was {no}." if now else f"It is now {no}; it was {yes}."


_SENTENCES: Final[dict[Change, Callable[[Hand, Hand, Difference], str]]] = {
    Change.MEANING: _meaning,
    Change.NAME: lambda old, new, one: f"It was called {old.name}.",
    Change.SECTION: lambda old, new, one: f"It stood in {old.section}.",
    Change.WORTH: lambda old, new, one: f"It is now worth {new.worth}; it was worth {old.worth}.",
    Change.CONCEALED: lambda old, new, one: _either_way(new.concealed, "concealed", "exposed"),
    Change.JOKERS: lambda old, new, one: _either_way(new.no_jokers, "without jokers", "open to jokers"),
    Change.WORDING: lambda old, new, one: f"The same tiles in other words. They were: {old}. They are now: {new}.",
    Change.NOTE: lambda old, new, one: capital(_note(old, new)),
}


def _note(old: Hand, new: Hand) -> str:
    was = f"it was: {old.note}" if old.note else "there was none"
    return f"the note is now: {new.note}; {was}." if new.note else f"the note is gone; {was}."
