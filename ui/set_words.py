"""What is said about learning a set of tiles: what to lay out, what was made of it, what is kept."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Final

from tilewitness.engine.faces import FACES, Face
from tilewitness.ui.phrasing import a, amount, capital, count, listed, plural
from tilewitness.ui.words import Tone, Verdict
from tilewitness.vision.lesson import OPTIONAL, Agreement, Lesson, Place
from tilewitness.vision.places import Layout
from tilewitness.vision.sets import Source, TileSet

LAY_OUT: Final = (
    "Lay out one of each tile, face up, in these rows from left to right. The tiles of a row touch; "
    "leave a finger's width between rows."
)
EACH_PICTURE: Final = "Of flowers and jokers, lay one of each different picture, in any order."
PHOTOGRAPH: Final = (
    "Photograph all rows from straight above, or a row or two at a time, close enough that the tiles fill the photo."
)
IN_DOUBT_HELP: Final = (
    "Tiles in doubt are not learnt until you say what they are, or that the layout is right."
)
NEW_ARTWORK: Final = (
    "This artwork is new to the reader, so it cannot tell when a tile lies in a wrong place. Look whether every tile has its "
    "right name."
)
AGAIN: Final = (
    "What is faint or not learnt is read badly. Keep this set, then lay out all rows once more, with another copy of such a tile or "
    "in other light, and add that photo to the set."
)
MOST_NAMED: Final = 5
"""So many places are named one by one, each in a sentence."""
NO_SETS: Final = "No set has been learnt yet."
UNDONE: Final = "The last addition is undone."
CHANGED_SINCE: Final = "The set was changed since, so nothing was taken back. The page My set undoes additions one by one."


def layout_lines(rows: Layout) -> list[str]:
    """How to lay out a set, a line a row."""
    return [LAY_OUT, *(f"Row {number}: {_runs(row)}." for number, row in enumerate(rows, 1)), EACH_PICTURE, PHOTOGRAPH]


def _runs(row: Sequence[Face]) -> str:
    """The faces of a row, a whole suit and like pictures said short.

    >>> _runs(FACES[:9]), _runs(FACES[34:])
    ('1 bam to 9 bam', 'flower, joker')
    """
    if len(row) == 9 and row[0].suit is not None and row[0].number == 1:
        return f"{row[0]} to {row[-1]}"
    runs = [(face, len(list(run))) for face, run in groupby(row)]
    return ", ".join(str(face) if size == 1 else f"{count(size)} different {plural(face)}" for face, size in runs)


def place_of_layout(place: Place) -> str:
    """Where in the layout, counted from 1."""
    return f"row {place.row + 1} place {place.place + 1}"


def place_sentence(place: Place) -> str:
    """One place of the layout: what it should be and what was made of it."""
    where = f"{capital(place_of_layout(place))}, {place.expected}"
    if place.left_out:
        return f"{where}: left out."
    match place.agreement:
        case Agreement.AGREES:
            return f"{where}: as laid out."
        case Agreement.UNSURE:
            return f"{where}: new artwork, learnt as laid out."
        case Agreement.OTHER:
            return f"{where}: it looks like {a(str(place.looks_like))}. Which is it?"
        case Agreement.NOT_SEEN:
            return f"{where}: no tile was seen there."
        case Agreement.FADED:
            return f"{where}: its print hardly shows, so it is not learnt."
        case Agreement.TOLD:
            return f"{where}: {place.told}, as you said."


def lesson_lines(lesson: Lesson) -> list[str]:
    """What was made of a layout: what is as it should be, and each place where a person should look."""
    good = sum(place.agreement in (Agreement.AGREES, Agreement.TOLD) for place in lesson.places)
    new = [place for place in lesson.places if place.agreement is Agreement.UNSURE]
    lines = [f"{capital(amount(good))} of the layout known."]
    if new:
        lines.append(f"{capital(amount(len(new)))} with new artwork, learnt as laid out: {_names(new)}.")
    if any(place.picture and not place.known_set for place in lesson.places):
        lines.append(NEW_ARTWORK)
    swapped = _swapped(lesson.doubts)
    for first, second in swapped:
        lines.append(
            f"{capital(place_of_layout(first))} looks like {a(str(first.looks_like))} and {place_of_layout(second)} "
            f"like {a(str(second.looks_like))}: these two seem to have changed places."
        )
    told = {id(place) for pair in swapped for place in pair}
    lines += [
        f"{capital(place_of_layout(place))} should be {a(str(place.expected))}, but looks like {a(str(place.looks_like))}."
        for place in lesson.doubts
        if id(place) not in told
    ]
    if lesson.doubts:
        lines.append(IN_DOUBT_HELP)
    lines += [
        f"{capital(place_of_layout(place))}, {place.expected}, hardly shows any print, so it is not learnt."
        for place in lesson.places
        if place.agreement is Agreement.FADED
    ]
    lines += _pale([place for place in lesson.again if place.pale and not place.faded])
    lines += _not_seen(lesson.not_seen)
    if lesson.again:
        lines.append(AGAIN)
    for stray in lesson.strays:
        where = f"photo {stray.photo + 1}, row {stray.row + 1} place {stray.place + 1}"
        lines.append(f"A tile that looks like {a(str(stray.looks_like))} has no place in the layout: {where}.")
    return lines


def _swapped(doubts: Sequence[Place]) -> list[tuple[Place, Place]]:
    """Pairs of places that look like each other's tiles."""
    return [
        (first, second)
        for number, first in enumerate(doubts)
        for second in doubts[number + 1 :]
        if first.looks_like == second.expected and second.looks_like == first.expected
    ]


def _pale(places: Sequence[Place]) -> list[str]:
    if len(places) > MOST_NAMED:
        return [f"{capital(amount(len(places)))} show their print only faintly. Turn on a light, or use other tiles."]
    return [f"{capital(place_of_layout(place))}, {place.expected}, shows its print only faintly." for place in places]


def _not_seen(places: Sequence[Place]) -> list[str]:
    lines = []
    for row, run in groupby((place for place in places if place.expected.kind not in OPTIONAL), key=lambda place: place.row):
        unseen = list(run)
        if len(unseen) == 1:
            lines.append(f"{capital(place_of_layout(unseen[0]))}, {unseen[0].expected}, was not seen.")
        else:
            names = [place.expected for place in unseen]
            lines.append(f"Row {row + 1}: {_runs(names) if len(names) == 9 else listed(list(map(str, names)))} were not seen.")
    fewer = [place for place in places if place.expected.kind in OPTIONAL]
    if fewer:
        lines.append(f"{capital(amount(len(fewer), 'place'))} for flowers and jokers without a tile, which is right if the set has fewer pictures.")
    return lines


def _names(places: Iterable[Place]) -> str:
    """The faces of places, each once."""
    return listed(list(dict.fromkeys(str(place.face) for place in places)))


def learnt(tile_set: TileSet) -> str:
    """What was kept, after learning or a correction."""
    counts = tile_set.counts
    missing = [str(face) for face in FACES if not counts[face]]
    said = f'The set "{tile_set.name}" is kept: {amount(counts.total(), "picture")} of {amount(len(counts), "face")}.'
    if missing and len(missing) <= 8:
        said += f" There is none of {listed(missing)}; those are read by general knowledge."
    elif missing:
        said += f" The other {amount(len(missing), 'face')} are read by general knowledge."
    return said


def set_line(tile_set: TileSet) -> str:
    """One line of a list of sets."""
    corrections = sum(addition.source is Source.CORRECTION for addition in tile_set.additions)
    counts = tile_set.counts
    line = f"{tile_set.name}: {amount(counts.total(), 'picture')} of {amount(len(counts), 'face')}"
    return f"{line}, {amount(corrections, 'correction')}" if corrections else line


def corrected(tile_set: TileSet, face: Face) -> str:
    """After a person's correction was kept in her set."""
    return f'The set "{tile_set.name}" now knows this {face}.'


def invitation(rows: Layout) -> Verdict:
    """What to do before there is a photo of the layout."""
    return Verdict(Tone.LOOK, "Lay out one of each tile", (), tuple(layout_lines(rows)))


def lesson_verdict(lesson: Lesson) -> Verdict:
    """What was made of a layout, as an answer."""
    first, *lines = lesson_lines(lesson)
    doubts = len(lesson.doubts)
    tone, title = Tone.YES, "The layout is read"
    if lesson.again:
        tone, title = Tone.LOOK, f"Another photo is needed for {amount(len(lesson.again))}"
    if doubts:
        tone, title = Tone.LOOK, f"Look at {amount(doubts)}"
    return Verdict(tone, title, (first,), tuple(lines))


def place_question(place: Place) -> str:
    """What a person is asked who wants to say what lies at a place of the layout."""
    where = f"{capital(place_of_layout(place))} should be {a(str(place.expected))}"
    if place.told is not None:
        return f"{where}, and is {a(str(place.told))}, as you said. What is it?"
    if place.looks_like in (None, place.expected):
        return f"{where}. What is it?"
    return f"{where}, and looks like {a(str(place.looks_like))}. What is it?"


def teaching(name: str, faces: Sequence[Face]) -> str:
    """The button that adds corrected tiles to a set."""
    return f'Teach this to my set "{name}": {listed([str(face) for face in faces])}'


def taught(tile_set: TileSet, faces: Sequence[Face]) -> str:
    """After a person's corrections were kept in her set."""
    return " ".join(corrected(tile_set, face) for face in dict.fromkeys(faces))


def delete_question(name: str) -> str:
    """Asked back before a set is gone."""
    return f'Delete the set "{name}" with all its pictures? This cannot be undone. A copy saved to a file stays.'


def deleted(name: str) -> str:
    """After a set was deleted."""
    return f'The set "{name}" is deleted.'


def renamed(name: str, new: str) -> str:
    """After a set got another name."""
    return f'The set "{name}" is now called "{new}".'


def not_kept(reason: str) -> str:
    """The data folder cannot be written to."""
    return f"The set could not be kept: {reason}."
