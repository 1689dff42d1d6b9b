"""A card file as it was typed: which line holds which section and hand, and edits that leave every other line alone.

Works on lines, not on values, so that remarks, order and the wording of other hands stay as a person typed them, and
so that a file with mistakes in it can be mended here.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, replace

_KEY = r"\"(?:[^\"\\]|\\.)*\"|'[^']*'"
_HEADING = re.compile(rf"\s*\[\s*(?P<key>{_KEY}|[^\[\]]*?)\s*\]\s*(?:#.*)?$")
_ENTRY = re.compile(rf"\s*(?P<key>{_KEY}|[\w-]+)\s*=\s*(?P<value>.*)$")
_WITHOUT_SECTION = ""


@dataclass(frozen=True, slots=True)
class TypedLine:
    """A section or a hand on a line of its own.

    Attributes:
        line: counted from 1.
        section: the section it opens or stands in; "" above the first.
        name: name of the hand; "" for the line that opens a section.
        wording: the words of the hand; "" where they are not a text in quotes.
    """

    line: int
    section: str
    name: str = ""
    wording: str = ""

    @property
    def is_heading(self) -> bool:
        """It opens a section."""
        return not self.name


def lines_of(text: str) -> list[str]:
    """Return the lines of a text as TOML counts them, without their ends."""
    lines = text.replace("\r\n", "\n").split("\n")
    return lines[:-1] if lines[-1] == "" else lines


def typed_lines(text: str) -> Iterator[TypedLine]:
    """Yield every section and hand of a card file, from the first line to the last."""
    section = _WITHOUT_SECTION
    for number, line in enumerate(lines_of(text), 1):
        if heading := _HEADING.match(line):
            section = _unquoted(heading["key"])
            yield TypedLine(number, section)
        elif entry := _ENTRY.match(line):
            yield TypedLine(number, section, _unquoted(entry["key"]), _value(entry["value"]))


def _unquoted(key: str) -> str:
    """Return a name without its quotes; a word that stands in none is its own name."""
    return _value(key) if key[:1] in ("'", '"') else key


def _value(typed: str) -> str:
    try:
        value = tomllib.loads(f"it = {typed}")["it"]
    except tomllib.TOMLDecodeError:
        return ""
    return value if isinstance(value, str) else ""


def one_line(text: str) -> str:
    """Return a text as it can stand on one line: every run of spaces and unprintable signs is one space."""
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())


def quoted(text: str) -> str:
    """Return a text as a card file holds it, between straight quotes on one line.

    >>> print(quoted('the "long" one'))
    "the \\"long\\" one"
    """
    return '"' + one_line(text).replace("\\", "\\\\").replace('"', '\\"') + '"'


@dataclass(frozen=True, slots=True)
class CardFile:
    """A card file open for editing; every edit returns another one.

    Attributes:
        text: all of it, as typed.
    """

    text: str

    @property
    def entries(self) -> tuple[TypedLine, ...]:
        """Sections and hands in order, without the line that names the card."""
        return tuple(one for one in typed_lines(self.text) if one.is_heading or one.section)

    @property
    def hands(self) -> tuple[TypedLine, ...]:
        """Hands in order."""
        return tuple(one for one in self.entries if not one.is_heading)

    @property
    def sections(self) -> tuple[str, ...]:
        """Section names in order."""
        return tuple(dict.fromkeys(one.section for one in self.entries if one.is_heading))

    @property
    def name(self) -> str:
        """What the card calls itself, or ""."""
        line = self._name_line()
        return line.wording if line else ""

    def _name_line(self) -> TypedLine | None:
        return next((one for one in typed_lines(self.text) if not one.section and one.name == "name"), None)

    def hand(self, section: str, name: str) -> TypedLine | None:
        """The hand of this name, if there is one."""
        return next((one for one in self.hands if (one.section, one.name) == (section, name)), None)

    def named(self, name: str) -> CardFile:
        """Give the card a name."""
        typed = f"name = {quoted(name)}"
        line = self._name_line()
        if line is None:
            return self._with_lines(1, 1, [typed, ""])
        return self._with_lines(line.line, line.line + 1, [typed + _remark(self._lines[line.line - 1])])

    def with_section(self, section: str) -> CardFile:
        """Open a section at the end, unless there is one of that name."""
        if section in self.sections:
            return self
        end = len(self._lines) + 1
        return self._with_lines(end, end, ["", f"[{quoted(section)}]"])

    def taken(self, section: str, name: str, *, by_other_than: TypedLine | None = None) -> bool:
        """Tell whether another hand of the section has this name."""
        found = self.hand(section, name)
        return found is not None and found != by_other_than

    def with_hand(self, section: str, name: str, wording: str, *, instead_of: TypedLine | None = None) -> CardFile:
        """Add a hand at the end of a section, which is opened if need be, or word a hand of the file anew.

        A hand that stays in its section stays on its line. A remark behind it on that line goes with it.
        """
        section = one_line(section)
        file = self.with_section(section)
        if instead_of is None:
            return file._at_end_of(section, f"{quoted(name)} = {quoted(wording)}")
        typed = f"{quoted(name)} = {quoted(wording)}{_remark(self._lines[instead_of.line - 1])}"
        if instead_of.section == section:
            return file._with_lines(instead_of.line, instead_of.line + 1, [typed])
        return file.without(instead_of)._at_end_of(section, typed)

    def _at_end_of(self, section: str, typed: str) -> CardFile:
        last = [one for one in self.entries if one.section == section][-1]
        return self._with_lines(last.line + 1, last.line + 1, [typed])

    def without(self, hand: TypedLine) -> CardFile:
        """Take a hand out; remarks above it stay, for they may be about more than this hand."""
        return self._with_lines(hand.line, hand.line + 1, [])

    def renamed_section(self, old: str, new: str) -> CardFile:
        """Give a section another name."""
        file = self
        for one in self.entries:
            if one.is_heading and one.section == old:
                remark = _remark(self._lines[one.line - 1])
                file = file._with_lines(one.line, one.line + 1, [f"[{quoted(new)}]{remark}"])
        return file

    def moved(self, hand: TypedLine, steps: int) -> CardFile:
        """Change places with the hand above (-1) or below (1) in its section, if there is one."""
        section = [one for one in self.hands if one.section == hand.section]
        to = section.index(hand) + steps
        if not 0 <= to < len(section):
            return self
        lines = list(self._lines)
        here, there = hand.line - 1, section[to].line - 1
        lines[here], lines[there] = lines[there], lines[here]
        return self._with_lines(1, len(lines) + 1, lines)

    def moved_section(self, section: str, steps: int) -> CardFile:
        """Change places with the section above (-1) or below (1), all its lines with it."""
        starts = [one.line for one in self.entries if one.is_heading]
        names = [one.section for one in self.entries if one.is_heading]
        first = min(names.index(section), names.index(section) + steps)
        if not 0 <= first < len(starts) - 1:
            return self
        ends = [*starts[1:], len(self._lines) + 1]
        above, below = (self._lines[starts[at] - 1 : ends[at] - 1] for at in (first, first + 1))
        gap = [] if above and not above[-1].strip() and below[-1:] and not below[-1].strip() else [""]
        return self._with_lines(starts[first], ends[first + 1], [*below, *gap, *above])

    @property
    def _lines(self) -> list[str]:
        return lines_of(self.text)

    def _with_lines(self, first: int, end: int, typed: list[str]) -> CardFile:
        """Put these lines in place of those from `first` up to `end`, counted from 1."""
        lines = self._lines
        lines[first - 1 : end - 1] = typed
        return replace(self, text="\n".join(lines) + "\n")


def _remark(line: str) -> str:
    """Return what is said behind a line that ends in quotes or a bracket: "  # ask Ann", or nothing."""
    end = re.match(rf"(?:{_KEY}|[^#\"'])*", line)
    return f"  {line[end.end() :]}" if end and line[end.end() :].startswith("#") else ""
