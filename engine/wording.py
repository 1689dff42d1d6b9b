"""The words of a line of a card, read from left to right, and errors that say which word is wrong."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, NoReturn


class GrammarError(ValueError):
    """A line that is no hand.

    Attributes:
        word: the word at fault as typed, or "" at the end of the line.
        column: where that word begins in the line, counted from 1.
        others: what else is wrong with the line, each with a word of its own.
    """

    def __init__(self, message: str, word: str, column: int) -> None:
        super().__init__(message)
        self.word = word
        self.column = column
        self.others: tuple[GrammarError, ...] = ()

    @property
    def all(self) -> tuple[GrammarError, ...]:
        """This error and the others, from left to right."""
        return tuple(sorted((self, *self.others), key=lambda error: error.column))


def together(errors: Sequence[GrammarError]) -> GrammarError:
    """Return the first of these errors with all the others behind it."""
    first, *others = errors
    first.others += tuple(one for error in others for one in (error, *error.others))
    return first


@dataclass(frozen=True, slots=True)
class Word:
    """A word of a line and the column it begins in, counted from 1."""

    text: str
    column: int


_ARTICLES: Final = frozenset({"a", "an", "the"})
FIGURES: Final = {
    word: figure
    for figure, word in enumerate(
        ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
    )
}
_MEANT: Final = {
    "triplet": "pung", "triple": "pung", "three": "pung", "triplets": "pungs", "quad": "kong", "quads": "kongs",
    "two": "pair", "four": "kong", "five": "quint", "six": "sextet", "run": "singles",
    "closed": "concealed", "hidden": "concealed", "open": "exposed", "points": "worth", "value": "worth",
    "bamboo": "bam", "bamboos": "bam", "bams": "bam", "crack": "crak", "character": "crak", "characters": "crak",
    "craks": "crak", "circle": "dot", "circles": "dot", "dots": "dot", "next": "above", "blank": "white",
}  # fmt: skip
"""Words that people type, and the card's word for them."""
_ALIKE: Final = 0.65
"""How alike a word must be to be offered in place of another (difflib's ratio): "bma" for "bam" is 0.67."""



def pieces_of(text: str) -> list[Cursor]:
    """Cut a line at its semicolons; a full stop at its end, as hands are printed, is no word."""
    pieces: list[Cursor] = []
    start = 0
    for piece in text.split(";"):
        words = [
            Word(match[0].lower(), start + match.start() + 1)
            for match in re.finditer(r"[^\W\d_]+|[0-9]{1,6}|\S", piece)
        ]
        end = start + len(piece) + 1
        pieces.append(Cursor([word for word in words if word.text not in _ARTICLES], end))
        start = end
    if len(pieces) > 1 and not pieces[-1].words:
        pieces.pop()
    last = pieces[-1].words
    if last and last[-1].text == "." and last[0].text != "note":
        last.pop()
    return pieces


def _nearest(word: str, valid: set[str]) -> str:
    """Return the word that was probably meant, or "" if none is near."""
    meant = _MEANT.get(word, "")
    import difflib  # only for those who misspell: it takes a while to load

    alike = difflib.get_close_matches(word, sorted(valid), n=1, cutoff=_ALIKE)
    return meant if meant in valid else next(iter(alike), "")


class Cursor:
    """The words of one piece of a line, read from left to right."""

    def __init__(self, words: list[Word], end: int) -> None:
        self.words = words
        self.at = 0
        self.end = end

    def peek(self, ahead: int = 0) -> str:
        """The word this far ahead, or "" past the end."""
        return self.words[self.at + ahead].text if self.at + ahead < len(self.words) else ""

    def accept(self, *words: str) -> bool:
        """Step over these words if they come next."""
        if all(self.peek(ahead) == word for ahead, word in enumerate(words)):
            self.at += len(words)
            return True
        return False

    def expect(self, word: str, example: str) -> None:
        """Step over this word or say that it is missing."""
        if not self.accept(word):
            self.fail(f'expected "{word}"', [word], example)

    def figure(self) -> int | None:
        """Step over a number in figures or in words, if one comes next."""
        word = self.peek()
        value = int(word) if word.isdecimal() else FIGURES.get(word)
        if value is not None:
            self.at += 1
        return value

    def fail(self, what: str, valid: Iterable[str], example: str) -> NoReturn:
        """Raise the error for the next word: what is wrong, the nearest valid word, an example."""
        word = self.peek()
        column = self.words[self.at].column if word else self.end
        near = _nearest(word, set(valid) - {word})
        hint = f' Did you mean "{near}"?' if near else f" Write for example {example}."
        found = f'"{word}"' if word else "the end of the line"
        raise GrammarError(f"{what}, found {found}.{hint}", word, column)

    def refuse(self, problem: str, example: str) -> NoReturn:
        """Raise the error for words that are right one by one but not together."""
        raise self.refusal(problem, example, max(self.at - 1, 0))

    def refusal(self, problem: str, example: str, at: int) -> GrammarError:
        """Return the error for words that are right one by one but not together, pointing at one of them."""
        word = self.words[at] if at < len(self.words) else Word("", self.end)
        return GrammarError(f"{problem}. Write for example {example}.", word.text, word.column)
