"""The wording of a hand: from one typed line to `Hand`.

A line is a list of phrases, then remarks after semicolons, and reads aloud as a player would say it:

    pair of flowers, pung of any number, kong of 1 above in one suit,
    pung of the same number and pair of the matching dragon in a second suit; worth 30; exposed

- Groups: single, pair, pung, kong, quint, sextet "of" a tile; the plural takes several: "pairs of 2, 4 and 6",
  "singles of 1 to 9", "singles of 2 0 2 7" (zero is the white dragon), "singles of all winds".
- Numbers: a figure; "any number" (the first number); "2 above", "1 below"; "second number", "third number",
  "3 above the second number"; "sum" of the first two.
- Suits: "in one suit" or "in the first suit", "in a second suit", "in a third suit" (all different), "in bam",
  "in any suit", "in two suits in turn". A suit counts for every phrase before it that has none yet; inside
  "either … or …" only for the phrases in there.
- Winds and dragons: by name; "matching dragon", "opposite dragon" (of no suit the numbers use), "any dragon",
  "another dragon", "any wind", "another wind", "opposite wind", "third wind".
- Alternatives: "either pung of 2 and kong of 4 or pung of 6 and kong of 8"; a comma ends the last one.
- Free choices: "7 different pairs of any tiles", "1 single of terminals or honours", "7 knitted pairs".
- Remarks: "worth 25", "concealed" or "exposed", "no jokers", "the number is odd", "the second number is 3, 6 or 9",
  "the number is 1 to 5", "numbers differ", "note" with a text to be read aloud.

The words "a", "an" and "the" may stand anywhere.
"""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import Final

from tilewitness.engine.faces import Face
from tilewitness.engine.hands import (
    SIZES,
    Choice,
    Either,
    Group,
    Hand,
    Honour,
    Number,
    NumberName,
    Part,
    Pool,
    SuitRule,
    Wanted,
    size_word,
)
from tilewitness.engine.plans import free_numbers
from tilewitness.engine.remarks import GROUPS, NUMBER_NAMES, REMARKS, with_remark
from tilewitness.engine.wording import FIGURES, Cursor, GrammarError, pieces_of, together

_ORDER: Final = {"any": "first", "same": "first", "another": "second"}
_AGAIN: Final = {"any": "same", "another": "second"}
"""How to say again what "any" and "another" have brought in; either is said only once of a noun."""
_NOUNS: Final = ("number", "wind", "dragon")
_SUITS: Final = {"bam": SuitRule.BAM, "crak": SuitRule.CRAK, "dot": SuitRule.DOT}
_HONOURS: Final = {honour.value: honour for honour in Honour}
_WINDS: Final = ("east", "south", "west", "north")
_DRAGONS: Final = ("red dragon", "green dragon", "white dragon", "red", "green", "white", "soap")
_NAMED: Final = {
    name + plural: Face.named(name) for name in (*_WINDS, *_DRAGONS, "flower") for plural in ("", "s")
}
_TILE_STARTS: Final = (
    "any", "same", "first", "second", "third", "fourth", "another", "matching", "opposite", "all", "sum",
    *_WINDS, "red", "green", "white", "soap", "flower", "flowers", *FIGURES,
)  # fmt: skip


def parse_hand(text: str, *, name: str, section: str = "", line: int = 0) -> Hand:
    """Return the hand that a line of a card describes.

    Raises:
        GrammarError: the line is no hand; the message says what would be right. Further errors come with it: at
            most one for each phrase and remark, and those between phrases only where the phrases have none.

    >>> hand = parse_hand("pair of flowers, kongs of 2, 4 and 6 in one suit; worth 25", name="Steps")
    >>> str(hand)
    'pair of flowers, kongs of 2, 4 and 6 in one suit; exposed; worth 25'
    """
    body, *clauses = pieces_of(text)
    errors: list[GrammarError] = []
    hand = Hand(name, section, (), worth=0, line=line)
    try:
        hand = replace(hand, parts=_Phrases(body).parts())
    except GrammarError as error:
        errors.append(error)
    of_groups = len(errors)
    for clause in clauses:
        try:
            hand = with_remark(hand, clause, text)
        except GrammarError as error:
            errors.append(error)
    end = Cursor([], len(text) + 1)
    if not hand.worth and len(errors) == of_groups:
        errors.append(end.refusal("it has no worth", '"; worth 25" at the end', 0))
    if errors:
        raise together(errors)
    _check_numbers(hand, end)
    return hand


def _check_numbers(hand: Hand, end: Cursor) -> None:
    """Remarks about free numbers speak of numbers that the hand has."""
    used = free_numbers(hand)
    for rule in hand.rules:
        if rule.name not in used:
            end.refuse(f'"{rule}", but the hand has no {rule.name.value}', f'"kong of the {rule.name.value}"')
    if hand.numbers_differ and len(used) < 2:
        end.refuse('"numbers differ", but the hand has no second number', '"kong of another number"')


class _Phrases:
    """Reads the phrases of a hand from its words."""

    def __init__(self, cursor: Cursor) -> None:
        self.cursor = cursor
        self.said: set[tuple[str, str]] = set()
        self.starts: list[int] = []

    def parts(self) -> tuple[Part, ...]:
        """Read the whole piece; after an error go on with the next phrase, to find the others too."""
        parts: list[Part] = []
        errors: list[GrammarError] = []
        more = True
        while more:
            try:
                more = self._part(parts)
            except GrammarError as error:
                errors.append(error)
                more = self._skip_to_next()
        if errors:
            raise together(errors)
        self._check_suits(parts)
        self._check_choices(parts)
        return tuple(parts)

    def _part(self, parts: list[Part]) -> bool:
        """Read one part with its suit and tell whether another follows."""
        parts.append(self._either() if self.cursor.peek() == "either" else self._phrase())
        self._suit(parts)
        if self._separator():
            return True
        if self.cursor.peek() in (*GROUPS, "either"):
            self.cursor.fail("a comma is missing", [], f'", {self.cursor.peek()} of 4"')
        if self.cursor.peek() in REMARKS:
            self.cursor.fail("a semicolon is missing", [], '"; worth 25"')
        if self.cursor.peek():
            example = '"either pung of 2 or kong of 4"' if self.cursor.peek() == "or" else '"pung of 2, kong of 4"'
            self.cursor.fail("expected a comma or semicolon", ["and", "in", *_SUITS], example)
        return False

    def _skip_to_next(self) -> bool:
        """Step behind the next comma that a phrase follows, if there is one."""
        while self.cursor.peek():
            self.cursor.at += 1
            if self.cursor.peek(-1) == "," and (self.cursor.peek() in (*GROUPS, "either") or self._a_choice_follows()):
                return True
        return False

    def _a_choice_follows(self) -> bool:
        return self.cursor.peek(1) in ("different", "knitted") or self.cursor.peek(1) in GROUPS

    def _separator(self) -> bool:
        return self.cursor.accept(",", "and") or self.cursor.accept(",") or self.cursor.accept("and")

    def _either(self) -> Either:
        self.cursor.expect("either", "")
        inside: list[Part] = []
        starts = [0]
        while True:
            inside.append(self._phrase())
            self._suit(inside)
            if self.cursor.accept("or") or self.cursor.accept(",", "or"):
                starts.append(len(inside))
            elif not self.cursor.accept("and"):
                break
        if len(starts) == 1:
            self.cursor.fail('expected "or"', ["or"], '"either pung of 2 or pung of 4"')
        cuts = zip(starts, [*starts[1:], len(inside)], strict=True)
        return Either(tuple(tuple(p for p in inside[a:b] if not isinstance(p, Either)) for a, b in cuts))

    def _phrase(self) -> Group | Choice:
        self.starts.append(self.cursor.at)
        chosen = self._choice()
        if chosen is not None:
            return chosen
        word = self.cursor.peek()
        size = GROUPS.get(word)
        if word in REMARKS:
            self.cursor.fail("a remark goes after a semicolon", [], '"; worth 25"')
        if size is None:
            self.cursor.fail("expected a group", [*GROUPS, "either"], '"kong of 4"')
        self.cursor.at += 1
        self.cursor.expect("of", f'"{word} of 4"')
        tiles = self._tiles()
        if len(tiles) > 1 and self.cursor.peek() == "of":
            self.cursor.at -= 1
            self.cursor.fail("expected a group", [], '"kong of 4"')
        if len(tiles) > 1 and word in SIZES:
            self.cursor.refuse(f'"{word}" takes one tile; for several write "{word}s"', f'"{word}s of 2, 4 and 6"')
        suit = _SUITS.get(self.cursor.peek())
        self.cursor.at += suit is not None
        group = Group(size, tiles, suit)
        if suit and not group.needs_suit:
            self.cursor.refuse(f'"{replace(group, suit=None)}" has no suit', f'"{replace(group, suit=None)}"')
        return group

    def _choice(self) -> Choice | None:
        start = self.cursor.at
        count = self.cursor.figure()
        if count is None:
            return None
        different = self.cursor.accept("different")
        if self.cursor.accept("knitted", "pairs"):
            return Choice(count, 1, different, None)
        size = GROUPS.get(self.cursor.peek(), 0)
        if size not in (1, 2):
            meant = self.cursor.peek()
            self.cursor.at = start if not different else self.cursor.at
            if not different and count <= len(SIZES) and meant.isalnum() and meant != "of":  # "6 flowers", as racks are typed
                self.cursor.fail("expected a group", [], f'"{size_word(count)} of {meant}"')
            self.cursor.fail("expected a group", [*GROUPS], '"kong of 4" or "7 different pairs of any tiles"')
        self.cursor.at += 1
        self.cursor.expect("of", '"7 different pairs of any tiles"')
        for pool in sorted(Pool, key=lambda pool: -len(pool.value)):
            if self.cursor.accept(*pool.value.split()):
                return Choice(count, size, different, pool)
        self.cursor.fail(
            "expected what to choose from", [p.value.split()[0] for p in Pool], '"any tiles" or "terminals or honours"'
        )

    def _tiles(self) -> tuple[Wanted, ...]:
        """Read one or more tiles: "2", "2, 4 and 6", "1 to 9", "any number to 4 above", "all winds"."""
        tiles = list(self._tile())
        while True:
            if self.cursor.accept("to"):
                last = self._tile()[-1]
                tiles += self._run(tiles[-1], last)
            elif self._more_tiles(0):
                tiles += self._tile()
            elif self.cursor.peek() in (",", "and") and self._more_tiles(1):
                self.cursor.at += 1
                tiles += self._tile()
            elif self.cursor.peek() == "," and self.cursor.peek(1) == "and" and self._more_tiles(2):
                self.cursor.at += 2
                tiles += self._tile()
            else:
                return tuple(tiles)

    def _more_tiles(self, ahead: int) -> bool:
        word, after = self.cursor.peek(ahead), self.cursor.peek(ahead + 1)
        a_choice = after in ("different", "knitted") or after in GROUPS
        return (word in _TILE_STARTS or word.isdecimal()) and not a_choice

    def _run(self, first: Wanted, last: Wanted) -> list[Wanted]:
        if not (isinstance(first, Number) and isinstance(last, Number)) or first.of is not last.of:
            self.cursor.refuse('"to" stands between two numbers of one kind', '"1 to 9" or "any number to 4 above"')
        return [Number(offset, first.of) for offset in range(first.offset + 1, last.offset + 1)]

    def _tile(self) -> tuple[Wanted, ...]:
        cursor = self.cursor
        figure = cursor.figure()
        if figure is not None:
            return (self._figured(figure),)
        if cursor.accept("all"):
            if cursor.accept("winds") or cursor.accept("dragons"):
                faces = range(27, 31) if cursor.peek(-1) == "winds" else range(31, 34)
                return tuple(Face(index) for index in faces)
            cursor.fail('expected "winds" or "dragons"', ["winds", "dragons"], '"singles of all winds"')
        if cursor.accept("sum"):
            return (Number(0, NumberName.SUM),)
        tied = self._tied()
        return (tied,) if tied is not None else (self._named(),)

    def _figured(self, figure: int) -> Wanted:
        """Finish a tile that starts with a figure: itself, zero, or so many above a free number."""
        for word, sign in (("above", 1), ("below", -1)):
            if self.cursor.accept(word):
                base = self._tied_name(("number",)) or "first number"
                return Number(sign * figure, NumberName.SUM if self.cursor.accept("sum") else NUMBER_NAMES[base])
        if figure == 0:
            return Face.named("white dragon")
        if figure > 9:
            self.cursor.refuse("numbers go from 1 to 9", '"singles of 1 0" for ten: zero is the white dragon')
        return Number(figure)

    def _tied(self) -> Wanted | None:
        name = self._tied_name(_NOUNS)
        if name is None:
            return None
        return Number(0, NUMBER_NAMES[name]) if name in NUMBER_NAMES else _HONOURS[name]

    def _tied_name(self, nouns: tuple[str, ...]) -> str | None:
        """Read "any number", "third wind", "matching dragon" and return its full wording."""
        word, noun = self.cursor.peek(), self.cursor.peek(1)
        name = f"{_ORDER.get(word, word)} {noun}"
        if noun not in nouns or (name not in NUMBER_NAMES and name not in _HONOURS):
            return None
        self.cursor.at += 2
        if word in _AGAIN and (word, noun) in self.said:
            other = "another" if word == "any" else "third"
            example = f'"the {_AGAIN[word]} {noun}", or "{other} {noun}" if it is one more'
            self.cursor.refuse(f'"{word} {noun}" was said before', example)
        self.said.add((word, noun))
        return name

    def _named(self) -> Face:
        """Read a wind, dragon or flower called by its name."""
        cursor = self.cursor
        for name in (f"{cursor.peek()} {cursor.peek(1)}", cursor.peek()):
            if name in _NAMED:
                cursor.at += len(name.split())
                return _NAMED[name]
        if cursor.peek() in ("joker", "jokers"):
            cursor.fail("a card never asks for a joker", [], '"no jokers" after a semicolon to forbid them')
        if cursor.accept("any") or cursor.accept("another") or cursor.accept("same"):
            example = '"any number"; what it may be follows after a semicolon, like "the number is even"'
            cursor.fail('expected "number", "wind" or "dragon"', _NOUNS, example)
        cursor.fail("expected a tile", [*_TILE_STARTS], '"3", "any number", "east", "matching dragon" or "flowers"')

    def _suit(self, parts: list[Part]) -> None:
        """Read a suit, if one comes next, and give it to every phrase before it that has none yet."""
        if not (self.cursor.accept("in") or self.cursor.accept(",", "in")):
            return
        rule = self._suit_rule()
        for at, part in enumerate(parts):
            if isinstance(part, Either):
                parts[at] = Either(tuple(tuple(_suited(p, rule) for p in branch) for branch in part.branches))
            else:
                parts[at] = _suited(part, rule)

    def _suit_rule(self) -> SuitRule:
        if self.cursor.accept("one", "suit"):
            return SuitRule.FIRST
        for rule in SuitRule:
            if self.cursor.accept(*rule.value.split()):
                return rule
        if self.cursor.peek() in ("one", "first", "second", "third", "any"):
            self.cursor.at += 1
            self.cursor.expect("suit", '"in one suit"')
        valid = {rule.value.split()[0] for rule in SuitRule} | {"one"}
        example = '"in one suit", "in a second suit", "in bam" or "in two suits in turn"'
        self.cursor.fail("expected a suit", valid, example)

    def _check_suits(self, parts: list[Part]) -> None:
        errors = [
            self.cursor.refusal(f'"{phrase}" has no suit', f'"{phrase} in one suit"', start)
            for start, phrase in zip(self.starts, _phrases(parts), strict=True)
            if isinstance(phrase, Group) and phrase.needs_suit and phrase.suit is None
        ]
        if errors:
            raise together(errors)

    def _check_choices(self, parts: list[Part]) -> None:
        """A free choice is exact only beside groups that take no joker, and only one at a time."""
        phrases = _phrases(parts)
        choices = [phrase for phrase in phrases if isinstance(phrase, Choice)]
        groups = [phrase for phrase in phrases if isinstance(phrase, Group) and phrase.size > 2]
        if choices and (groups or len(choices) > 1):
            other = groups[0] if groups else choices[1]
            problem = f'"{choices[0]}" cannot stand beside "{other}", only beside singles and pairs'
            self.cursor.refuse(problem, '"7 different pairs of any tiles"')


def _phrases(parts: list[Part]) -> list[Group | Choice]:
    """Return all phrases in the order they are said."""
    return [p for part in parts for p in (itertools.chain(*part.branches) if isinstance(part, Either) else (part,))]


def _suited(phrase: Group | Choice, rule: SuitRule) -> Group | Choice:
    if isinstance(phrase, Group) and phrase.needs_suit and phrase.suit is None:
        return replace(phrase, suit=rule)
    return phrase
