"""What is wrong with a card file that is no TOML: the commonest slips, said in words of the card."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from typing import Final

from tilewitness.engine.card_file import lines_of, typed_lines


@dataclass(frozen=True, slots=True)
class Slip:
    """A line that is no TOML.

    Attributes:
        line: counted from 1; 0 when it cannot be said where.
        hand: name of the hand on it, or "".
    """

    line: int
    hand: str
    problem: str


A_LINE: Final = 'Write each hand on a line of its own: "Its name" = "kong of 4 in one suit, …; worth 25".'
"""What to do where a file holds no hand."""


def without_slips(text: str) -> tuple[str, list[Slip]]:
    """Return the text with what is no TOML taken out, line for line, so that the rest can be checked too."""
    if _is_toml(text):
        return text, []
    slips: list[Slip] = []
    lines = lines_of(text)
    for number, line in enumerate(lines, 1):
        if not _is_toml(line):
            slips.append(Slip(number, "", _slip(line)))
            lines[number - 1] = _stand_in(line, number)
    seen: set[tuple[str, str]] = set()
    for one in typed_lines("\n".join(lines)):
        if (one.section, one.name) in seen:
            if one.is_heading:
                problem = "this section is there twice. Give each section a name of its own, or put its hands together."
            else:
                problem = "this name is there twice in its section. Give each hand a name of its own."
            slips.append(Slip(one.line, one.name, problem))
            lines[one.line - 1] = f'["{one.line}"]' if one.is_heading else ""
        seen.add((one.section, one.name))
    rest = "\n".join(lines)
    if _is_toml(rest):
        return rest, slips
    return "", slips or [Slip(0, "", f"it cannot be read. {A_LINE}")]


def _is_toml(text: str) -> bool:
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return False
    return True


def _stand_in(line: str, number: int) -> str:
    """What stands for a faulty line, so that it causes no second fault further down."""
    if line.lstrip().startswith("["):
        return f'["{number}"]'
    return 'name = "?"' if line.strip().startswith("name") else ""


def _slip(line: str) -> str:
    """Say what is probably wrong with a line that is no TOML."""
    if re.search("[\u201c\u201d\u201e\u2018\u2019]", line.split("#")[0]):
        return 'the quotes are curly. Use the straight quote ", and turn "smart quotes" off in your editor.'
    if line.lstrip().startswith("["):
        return 'a section is its name in quotes and square brackets, like ["Warming up"].'
    if line.strip().startswith("name"):
        return 'the name stands in quotes, like name = "My card".'
    if line.count('"') % 2:
        return f"a quote is missing. {A_LINE}"
    return f"not a hand. {A_LINE}"
