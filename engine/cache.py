"""Compiled forms kept in the user's cache folder, so that a card is compiled once.

A cache only saves time: whatever is wrong with it, the forms are compiled instead and nobody is told.
"""

from __future__ import annotations

import hashlib
import io
import os
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

MOST_FILES: Final = 50
"""Files kept, of this version of the program or an older one; the ones unused longest go first."""
_DAMAGED: Final = (OSError, ValueError, EOFError, IndexError)
_DIGEST_BYTES: Final = 32


def cached_forms(hands: Sequence[Hand], *, folder: Path | None = None) -> Forms:
    """Return the forms of these hands from the cache, or compile and cache them.

    Args:
        folder: where compiled cards lie; by default in the user's cache folder.
    """
    folder = folder or platformdirs.user_cache_path("tilewitness") / "cards"
    path = folder / f"{_key(hands)}.forms"
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
    content = path.read_bytes()
    digest, file = content[:_DIGEST_BYTES], io.BytesIO(content[_DIGEST_BYTES:])
    if digest != hashlib.sha256(file.getbuffer()).digest():
        raise ValueError("not as it was written")
    total, bare, slots, plan = (np.load(file, allow_pickle=False) for _ in range(4))
    own = plans_of(hands)
    width = len(plan)
    shapes = (total.shape, bare.shape, slots.shape)
    if shapes != ((NATURALS, width), (NATURALS, width), (HAND_SIZE, width)) or plan.max(initial=-1) >= len(own):
        raise ValueError("not the forms of this card")
    return assemble(own, plan, total, bare, slots)


def _store(path: Path, found: Forms) -> None:
    """Write beside the file and move it into place, so that no reader ever sees half of it.

    Arrays one after the other, behind their digest: an archive of them would take longer to open.
    """
    import tempfile  # only now: it takes a while to load

    arrays = io.BytesIO()
    for array in (found.total, found.bare, found.slots, found.plan):
        np.save(arrays, array)
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=path.parent, suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(hashlib.sha256(arrays.getbuffer()).digest() + arrays.getbuffer())
        os.replace(name, path)
    except BaseException:
        os.unlink(name)
        raise
    for old in sorted(path.parent.iterdir(), key=lambda file: -file.stat().st_mtime)[MOST_FILES:]:
        old.unlink(missing_ok=True)
