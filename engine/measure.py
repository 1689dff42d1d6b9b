"""How many tiles a rack lacks to each form: exact, jokers and claimed groups included.

For one form and one face let `c` be the naturals on the rack, `t` the tiles asked for and `b` those of them that
must be natural. Naturals go to the bare part first, since nothing else can; jokers then fill what is left of the
rest. So the tiles missing are the larger of the bare tiles missing and of all tiles missing less the jokers.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Self

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import Face
from tilewitness.engine.forms import COPIES, Counts, Forms
from tilewitness.engine.forms import JOKERS as JOKER_COPIES
from tilewitness.engine.plans import HAND_SIZE
from tilewitness.engine.rack import JOKER, Rack, counts_of

NEVER: Final = 99
"""Distance to a form that the claimed groups rule out."""

Distances = NDArray[np.int16]


@dataclass(frozen=True, slots=True)
class Claimed:
    """A claimed group: so many tiles standing for one face, or for none if they are not one group."""

    face: Face | None
    size: int
    jokers: int

    @classmethod
    def at(cls, rack: Rack, places: tuple[int, ...]) -> Self:
        """Return what the tiles at these places make."""
        faces = [rack.faces[place] for place in places]
        naturals = {face for face in faces if face != JOKER}
        sound = len(naturals) == 1 and 3 <= len(faces) <= 6
        return cls(naturals.pop() if sound else None, len(faces), faces.count(JOKER))


def missing_tiles(forms: Forms, rack: Rack) -> Distances:
    """Return for each form how many of its fourteen tiles the rack lacks: int16 (F,), `NEVER` if ruled out.

    Tiles beyond what a set holds count for nothing.
    """
    if not rack.exposed:
        return _lacking(forms.total, forms.bare, held(rack), min(rack.jokers, JOKER_COPIES), HAND_SIZE)
    claims = [Claimed.at(rack, places) for places in rack.exposed]
    result = np.full(len(forms), NEVER, np.int16)
    fitting = np.flatnonzero(fits_claims(forms, claims))
    fixed = np.zeros(len(COPIES), np.uint8)
    for claim in claims:
        if claim.face is not None:
            fixed[claim.face.index] += claim.size
    hidden = [rack.faces[place] for place in rack.hidden]
    counts = np.minimum(counts_of(hidden), COPIES)
    jokers = min(hidden.count(JOKER), JOKER_COPIES)
    total = forms.total[:, fitting] - fixed[:, None]
    bare = np.minimum(forms.bare[:, fitting], total)
    result[fitting] = _lacking(total, bare, counts, jokers, HAND_SIZE - int(fixed.sum()))
    return result


def held(rack: Rack) -> Counts:
    """Return the rack's naturals by face, no more of each than a set holds: uint8 (35,)."""
    return np.minimum(rack.counts, COPIES)


def lacking(total: Counts, bare: Counts, counts: Counts, jokers: int) -> Distances:
    """Return the tiles missing to each form; `counts` is (n,) or one column a form (n, F)."""
    return _lacking(total, bare, counts, jokers, HAND_SIZE)


def _lacking(total: Counts, bare: Counts, counts: Counts, jokers: int, size: int) -> Distances:
    column = counts if counts.ndim == 2 else counts[:, None]
    here = np.flatnonzero(column.any(axis=1))  # faces not on the rack match nothing: leave them out
    matched, bare_matched = (
        np.minimum(asked[here], column[here]).sum(axis=0, dtype=np.uint8) for asked in (total, bare)
    )
    bare_missing = (bare.sum(axis=0, dtype=np.uint8) - bare_matched).astype(np.int16)
    result: Distances = np.maximum(bare_missing, np.int16(size - jokers) - matched.astype(np.int16))
    return result


def fits_claims(forms: Forms, claims: list[Claimed]) -> NDArray[np.bool_]:
    """Tell which forms of hands hold every claimed group, size and face alike: bool (F,).

    Whether the card wants the hand concealed is the caller's to ask.
    """
    fits = np.ones(len(forms), np.bool_)
    for face, size in {(claim.face, claim.size) for claim in claims}:
        if face is None:
            return np.zeros(len(forms), np.bool_)
        alike = [claim for claim in claims if (claim.face, claim.size) == (face, size)]
        tiles = ((forms.slots == face.index) & (forms.sizes == size)).sum(axis=0)
        fits &= tiles >= size * len(alike)
        if any(claim.jokers for claim in alike):
            fits &= forms.total[face.index] > forms.bare[face.index]
    return fits
