"""Compiled forms kept in the user's cache folder, so that a card is compiled once.

A cache only saves time: whatever is wrong with it, the forms are compiled instead and nobody is told.
"""

from __future__ import annotations

import hashlib
import io
import os
import zipfile
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final

import numpy as np
import platformdirs

from tilewitness.engine import forms, plans
from tilewitness.engine.forms import NATURALS, Forms, assemble, compile_forms
from tilewitness.engine.hands import Hand
from tilewitness.engine.plans import HAND_SIZE, plans_of

MOST_CARDS: Final = 50
"""Compiled cards kept; the ones unused longest go first."""
_DAMAGED: Final = (OSError, ValueError, KeyError, EOFError, IndexError, zipfile.BadZipFile)


def cached_forms(hands: Sequence[Hand], *, folder: Path | None = None) -> Forms:
    """Return the forms of these hands from the cache, or compile and cache them.

    Args:
        folder: where compiled cards lie; by default in the user's cache folder.
    """
    folder = folder or platformdirs.user_cache_path("tilewitness") / "cards"
    path = folder / f"{_key(hands)}.npz"
    try:
        found = _load(path, hands)
        path.touch()
    except _DAMAGED:
        found = compile_forms(hands)
        with suppress(OSError):
            _store(path, found)
    return found


def _key(hands: Sequence[Hand]) -> str:
    """Name what the forms depend on: the hands and the program that compiles them."""
    digest = hashlib.sha256()
    for module in (forms, plans):
        digest.update(Path(str(module.__file__)).read_bytes())
    for hand in hands:
        digest.update(repr((hand.parts, hand.rules, hand.numbers_differ, hand.no_jokers)).encode())
    return digest.hexdigest()[:32]


def _load(path: Path, hands: Sequence[Hand]) -> Forms:
    with np.load(io.BytesIO(path.read_bytes()), allow_pickle=False) as file:
        total, bare, slots, plan = (file[name] for name in ("total", "bare", "slots", "plan"))
    own = plans_of(hands)
    width = len(plan)
    shapes = (total.shape, bare.shape, slots.shape)
    if shapes != ((NATURALS, width), (NATURALS, width), (HAND_SIZE, width)) or plan.max(initial=-1) >= len(own):
        raise ValueError("not the forms of this card")
    return assemble(own, plan, total, bare, slots)


def _store(path: Path, found: Forms) -> None:
    """Write beside the file and move it into place, so that no reader ever sees half of it."""
    import tempfile  # only now: it takes a while to load

    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=path.parent, suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            np.savez(file, total=found.total, bare=found.bare, slots=found.slots, plan=found.plan)
        os.replace(name, path)
    except BaseException:
        os.unlink(name)
        raise
    for old in sorted(path.parent.glob("*.npz"), key=lambda p: -p.stat().st_mtime)[MOST_CARDS:]:
        old.unlink(missing_ok=True)
