"""The remarks after the semicolons of a hand: worth, concealed or exposed, no jokers, rules for numbers, a note."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from tilewitness.engine.hands import NUMBER_SETS, SIZES, Hand, NumberName, NumberRule
from tilewitness.engine.wording import Cursor

GROUPS: Final = {word + s: size for size, word in enumerate(SIZES, 1) for s in ("", "s")}
"""What groups are called, one or several, and how many equal tiles they have."""
NUMBER_NAMES: Final = {name.value: name for name in NumberName}
REMARKS: Final = ("worth", "concealed", "exposed", "no", "number", "numbers", "note")
"""Words that remarks begin with; "first", "second" and "third" may stand before "number"."""


def with_remark(hand: Hand, cursor: Cursor, text: str) -> Hand:
    """Return the hand with the remark that this piece of its line `text` holds.

    Raises:
        GrammarError: it is no remark.
    """
    if cursor.accept("worth"):
        if hand.worth:
            cursor.refuse('"worth" is there twice', '"worth 25" once')
        worth = cursor.figure()
        if not worth:
            cursor.fail("expected a number of points", [], '"worth 25"')
        return _finished(replace(hand, worth=worth), cursor)
    if cursor.accept("concealed") or cursor.accept("exposed"):
        return _finished(replace(hand, concealed=cursor.peek(-1) == "concealed"), cursor)
    if cursor.accept("no"):
        cursor.expect("jokers", '"no jokers"')
        return _finished(replace(hand, no_jokers=True), cursor)
    if cursor.accept("numbers", "differ"):
        return _finished(replace(hand, numbers_differ=True), cursor)
    if cursor.accept("note"):
        start = cursor.words[cursor.at - 1].column + len("note") - 1
        return replace(hand, note=text[start : cursor.end - 1].strip(" :"))
    return _finished(replace(hand, rules=_with_rule(hand.rules, _number_rule(cursor), cursor)), cursor)


def _finished(hand: Hand, cursor: Cursor) -> Hand:
    if cursor.peek():
        cursor.fail("expected a semicolon", [], '"worth 25; concealed"')
    return hand


def _with_rule(rules: tuple[NumberRule, ...], rule: NumberRule, cursor: Cursor) -> tuple[NumberRule, ...]:
    """Add a rule; two for the same number hold together."""
    others = tuple(old for old in rules if old.name is not rule.name)
    allowed = set(rule.allowed).intersection(*(old.allowed for old in rules if old.name is rule.name))
    if not allowed:
        cursor.refuse(f"no number is both this and what was asked before: {rule}", '"the number is odd"')
    return (*others, NumberRule(rule.name, tuple(sorted(allowed))))


def _number_rule(cursor: Cursor) -> NumberRule:
    """Read "the number is odd", "the second number is 3, 6 or 9", "the number is 1 to 5"."""
    order = cursor.peek() if cursor.peek() in ("first", "second", "third") else "first"
    cursor.accept(order)
    if not cursor.accept("number"):
        if cursor.peek() in GROUPS:
            what = "groups stand before the first semicolon, commas between them"
            cursor.fail(what, [], '"pair of flowers, kong of 4 in one suit; worth 25"')
        cursor.fail("expected a remark", REMARKS, '"worth 25", "concealed", "no jokers" or "the number is odd"')
    cursor.expect("is", '"the number is odd"')
    return NumberRule(NUMBER_NAMES[f"{order} number"], _allowed(cursor))


def _allowed(cursor: Cursor) -> tuple[int, ...]:
    for word, values in NUMBER_SETS.items():
        if cursor.accept(word):
            return values
    if cursor.accept("multiple", "of"):
        step = cursor.figure()
        if not step:
            cursor.fail("expected a number", [], '"a multiple of 3"')
        return tuple(n for n in range(1, 10) if step and n % step == 0)
    found: set[int] = set()
    while True:
        figure = cursor.figure()
        if figure is None or not 1 <= figure <= 9:
            cursor.at -= figure is not None
            cursor.fail("expected numbers from 1 to 9", [*NUMBER_SETS, "multiple"], '"odd", "1 to 5" or "3, 6 or 9"')
        last = cursor.figure() if cursor.accept("to") else figure
        found |= set(range(figure, (last or 9) + 1))
        if not (cursor.accept("or") or cursor.accept(",", "or") or cursor.accept(",")):
            return tuple(sorted(found))
