"""Cards being typed in, kept on each change so that a closed window loses nothing, and what is done to them.

A draft holds a whole card file and the hand that is being typed. It becomes a card when it is kept.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Final

from tilewitness.engine.card import CardError, card_text
from tilewitness.engine.card_file import CardFile, TypedLine, one_line
from tilewitness.ui import choices, labels

NEW: Final = ""
"""Stands for the card that has no file yet."""
_NEW_FILE: Final = "+new"  # no kept card is called that: their names hold no sign but - and space


@dataclass(frozen=True, slots=True)
class Draft:
    """A card being typed in.

    Attributes:
        card: name of the kept card it will replace, or `NEW`.
        text: the card file so far.
        section: where the hand being typed will stand.
        hand: its name.
        wording: its words so far.
        changing: section and name of the hand on the card that it replaces; empty for a new hand.
    """

    card: str = NEW
    text: str = f'name = "{labels.NEW_CARD_NAME}"\n'
    section: str = ""
    hand: str = ""
    wording: str = ""
    changing: tuple[str, ...] = ()

    @property
    def file(self) -> CardFile:
        """The card file, to be looked at and edited."""
        return CardFile(self.text)

    @property
    def replaces(self) -> TypedLine | None:
        """The hand that is being changed, if it is still there."""
        return self.file.hand(*self.changing) if len(self.changing) == 2 else None

    @property
    def is_untouched(self) -> bool:
        """Nothing was typed that its card does not hold already; to stand in one of its sections is to type nothing."""
        section = "" if self.section in self.file.sections else self.section
        return replace(self, section=section) == begin(self.card)

    @property
    def has_kept_hands_only(self) -> bool:
        """All hands of the list are on its card; only the hand being typed may not be."""
        return bool(self.card) and self.text == begin(self.card).text


def begin(card: str) -> Draft:
    """Open a kept card for editing, or begin a new one."""
    path = choices.card_path(card) if card else None
    try:
        return Draft(card, card_text(path.read_bytes())) if path else Draft(NEW)
    except (OSError, CardError):
        return Draft(NEW)


def load(card: str) -> Draft:
    """Return what was typed last time; a draft that is damaged or not there begins anew."""
    try:
        kept = json.loads(_path(card).read_text(encoding="utf-8"))
        changing = tuple(kept.pop("changing"))
        if all(isinstance(one, str) for one in (*kept.values(), *changing)):
            return Draft(**kept, changing=changing)
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        pass
    return begin(card)


def save(draft: Draft) -> bool:
    """Keep a draft and tell whether that could be done; one that holds nothing new leaves no file behind."""
    try:
        if draft.is_untouched:
            drop(draft.card)
        else:
            choices.write_whole(_path(draft.card), json.dumps(asdict(draft), indent=1).encode())
    except OSError:
        return False
    return True


def mark(card: str) -> str:
    """Return a fingerprint of the kept draft, empty when there is none: one that changes was changed by another window."""
    try:
        return hashlib.sha256(_path(card).read_bytes()).hexdigest()
    except OSError:
        return ""


def drop(card: str) -> None:
    """Forget a draft."""
    with contextlib.suppress(OSError):
        _path(card).unlink(missing_ok=True)


def latest() -> str | None:
    """The card whose draft was changed last, or None when there is no draft."""
    found = sorted((choices.folder() / "drafts").glob("*.json"), key=lambda path: path.stat().st_mtime)
    return {_NEW_FILE: NEW}.get(found[-1].stem, found[-1].stem) if found else None


def _path(card: str) -> Path:
    return choices.folder() / "drafts" / f"{card or _NEW_FILE}.json"


# What is done to a draft.


def why_not(draft: Draft) -> str:
    """Say what is missing before the hand can be put on the card, or "" when nothing is."""
    section, name = one_line(draft.section), one_line(draft.hand)
    if not section or section == "name":
        return labels.NO_SECTION
    if not name:
        return labels.NO_HAND_NAME
    if draft.file.taken(section, name, by_other_than=draft.replaces):
        return labels.NAME_TAKEN
    return ""


def put(draft: Draft) -> Draft:
    """Put the hand that was typed on the card; the next one is begun in the same section."""
    name = one_line(draft.hand)
    file = draft.file.with_hand(draft.section, name, draft.wording, instead_of=draft.replaces)
    return Draft(draft.card, file.text, one_line(draft.section))


def change(draft: Draft, hand: TypedLine) -> Draft:
    """Take a hand of the card up for changing."""
    return replace(
        draft, section=hand.section, hand=hand.name, wording=hand.wording, changing=(hand.section, hand.name)
    )


def with_file(draft: Draft, file: CardFile) -> Draft:
    """Put another state of the card file in place of the one so far."""
    return replace(draft, text=file.text)
