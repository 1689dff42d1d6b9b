"""The learnt sets in the user's own data folder, one file each."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from tilewitness.ui.choices import folder, write_whole
from tilewitness.ui.set_files import SUFFIX, packed, unpacked
from tilewitness.vision.sets import SetError, TileSet


def names() -> list[str]:
    """Names of all sets, in alphabetical order; damaged ones too, so that they can be deleted."""
    return sorted((path.stem for path in _folder().glob(f"*{SUFFIX}")), key=str.casefold)


def load_set(name: str) -> TileSet:
    """Return a kept set, ready to read with.

    A set that another version's network has looked at is looked at again, once; that takes seconds.

    Raises:
        SetError: there is no such set, or its file is damaged.
        ModelError: the network is missing or does not fit.
    """
    from tilewitness.models import open_reader
    from tilewitness.vision.learning import seen_by

    kept = peek(name)
    fresh = seen_by(kept, open_reader())
    if fresh != kept:
        _keep_if_possible(fresh)
    return fresh


def peek(name: str) -> TileSet:
    """Return a kept set as its file has it, without opening a network. Raises SetError as `load_set` does."""
    path = _path(name)
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        raise SetError(f'There is no set "{name}". {_offer()}') from None
    return replace(unpacked(data, f'The set "{name}"'), name=path.stem)


def save_set(tile_set: TileSet) -> None:
    """Keep a set under its name, in place of what was kept there.

    Raises:
        SetError: its name is no name for a set.
        OSError: the data folder cannot be written to.
    """
    write_whole(_path(tile_set.name), packed(tile_set))


def change(name: str, step: Callable[[TileSet], TileSet]) -> TileSet:
    """Keep and return what a step makes of a kept set: `change("Mine", lambda it: it.without_last())`."""
    changed = step(load_set(name))
    save_set(changed)
    return changed


def rename(name: str, new: str) -> None:
    """Give a set another name.

    Raises:
        SetError: there is no such set, or there is one of the new name, or it is no name.
    """
    _there(name)
    _free(new)
    save_set(replace(peek(name), name=new))
    if _path(new) != _path(name):
        _path(name).unlink()


def delete(name: str) -> None:
    """Delete a set, damaged or not. Raises SetError: there is none of that name."""
    _there(name).unlink()


def export(name: str, file: Path) -> None:
    """Write a set to one file, to keep or to give away. Raises SetError as `load_set` does, OSError."""
    write_whole(file, packed(peek(name)))


def take_in(data: bytes, called: str, *, name: str | None = None) -> TileSet:
    """Keep a set from an exported file, under its own or another name, and return it.

    Args:
        called: what the file is called in messages.
    Raises:
        SetError: the file is damaged, or there is a set of that name.
        OSError: the data folder cannot be written to.
    """
    from tilewitness.models import open_reader
    from tilewitness.vision.learning import seen_by

    tile_set = unpacked(data, called)
    tile_set = replace(tile_set, name=plain(name or tile_set.name))
    _free(tile_set.name)
    # its looks are taken anew from the pictures: a damaged one is refused now, and no stranger's numbers are believed
    tile_set = seen_by(replace(tile_set, reader=""), open_reader())
    save_set(tile_set)
    return tile_set


def plain(name: str) -> str:
    """Return a name as it is kept: letters, digits, spaces and hyphens.

    Raises:
        SetError: nothing is left of it, or it is too long.
    """
    kept = " ".join(re.sub(r"[^\w -]+", " ", name).split())
    if not kept or len(kept) > 60:
        raise SetError(f'"{name}" is no name for a set. Use up to 60 letters, digits, spaces and hyphens.')
    return kept


def _keep_if_possible(tile_set: TileSet) -> None:
    """A folder that cannot be written to costs seconds the next time, never the reading."""
    with contextlib.suppress(OSError):
        save_set(tile_set)


def _folder() -> Path:
    return folder() / "sets"


def _path(name: str) -> Path:
    return _folder() / f"{plain(name)}{SUFFIX}"


def _there(name: str) -> Path:
    path = _path(name)
    if not path.is_file():
        raise SetError(f'There is no set "{name}". {_offer()}')
    return path


def _free(name: str) -> None:
    if _path(name).is_file():
        raise SetError(f'There is a set "{plain(name)}" already. Choose another name, or delete that one first.')


def _offer() -> str:
    kept = names()
    return f"There is {', '.join(kept)}." if kept else "None has been learnt yet."
