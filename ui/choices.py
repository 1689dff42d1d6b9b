"""What a person chose, kept between visits in the user's own data folder. Photos are never kept."""

from __future__ import annotations

import contextlib
import json
import os
import re
import tempfile
from dataclasses import asdict, dataclass, replace
from itertools import count
from pathlib import Path
from typing import Final

import platformdirs

DEMO_CARD: Final = "demo"
"""The name by which choices refer to the card that ships with the program."""


@dataclass(frozen=True, slots=True)
class Choices:
    """Everything that lasts.

    Attributes:
        card: name of a card kept in the data folder, or `DEMO_CARD`.
        rate: speed of speech, 1.0 as the voice was recorded.
        speaks: say each answer aloud without being asked again.
        tile_set: name of the learnt set to read photos with; empty for none.
        learner: who practises here.
        practises_aloud: say everything while practising, each tile put in place too.
        open_rows: what a person last said of a rack in several rows: a letter a row, from the top, "o" where the row
            lies open beside the rack and "r" where it stands in it; meant for photos of as many rows.
    """

    card: str = DEMO_CARD
    rate: float = 0.8
    speaks: bool = True
    tile_set: str = ""
    learner: str = "me"
    practises_aloud: bool = False
    open_rows: str = ""


def folder() -> Path:
    """The data folder; `TILEWITNESS_DATA` moves it, for tests and for a shared computer."""
    moved = os.environ.get("TILEWITNESS_DATA")
    return Path(moved) if moved else platformdirs.user_data_path("tilewitness", appauthor=False)


def load() -> Choices:
    """Return what was kept; what is missing or damaged falls back to the defaults."""
    try:
        kept = json.loads((folder() / "choices.json").read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return Choices()
    defaults = asdict(Choices())
    good = {
        name: value
        for name, value in (kept.items() if isinstance(kept, dict) else ())
        if name in defaults and type(value) is type(defaults[name])
    }
    return replace(Choices(), **good)


def save(choices: Choices) -> None:
    """Keep the choices. A folder that cannot be written to costs the memory, never the work."""
    with contextlib.suppress(OSError):
        write_whole(folder() / "choices.json", json.dumps(asdict(choices), indent=1).encode())


def keep_card(name: str, text: str) -> str:
    """Keep a person's own card and return the name it is known by.

    Raises:
        OSError: the data folder cannot be written to.
    """
    plain = plain_name(name)
    write_whole(folder() / "cards" / f"{plain}.toml", text.encode())
    return plain


def plain_name(name: str) -> str:
    """The name by which a card of this name, or in a file of this name, is kept."""
    plain = re.sub(r"[^\w -]+", " ", Path(name).stem).strip() or "my card"
    return "my demo" if plain == DEMO_CARD else plain


def name_beside(name: str, text: str) -> str:
    """The name under which a card can be kept without replacing another one: numbered where its own is taken."""
    called = plain = plain_name(name)
    numbers = count(2)
    while (path := card_path(called)) and path.read_bytes() != text.encode():
        called = f"{plain} {next(numbers)}"
    return called


def card_path(name: str) -> Path | None:
    """The file of a kept card, or None when there is none of that name."""
    path = folder() / "cards" / f"{name}.toml"
    return path if name != DEMO_CARD and path.is_file() else None


def kept_cards() -> list[str]:
    """Names of all cards a person has kept, in alphabetical order."""
    return sorted(path.stem for path in (folder() / "cards").glob("*.toml"))


def forget_card(name: str) -> None:
    """Delete a kept card."""
    path = card_path(name)
    if path:
        path.unlink(missing_ok=True)


def write_whole(path: Path, data: bytes) -> None:
    """Write all or nothing: another window never reads half a file, and a crash leaves the old one.

    Raises:
        OSError: the folder cannot be written to.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=path.stem, suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        os.replace(temporary, path)
    except OSError:
        Path(temporary).unlink(missing_ok=True)
        raise
