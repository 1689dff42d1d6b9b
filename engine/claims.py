"""May a discard be claimed, and for what? Common practice of the American game, no source; the table's rules decide."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tilewitness.engine.card import Card
from tilewitness.engine.faces import Face
from tilewitness.engine.hands import Hand
from tilewitness.engine.measure import NEVER, held, missing_tiles
from tilewitness.engine.plans import HAND_SIZE
from tilewitness.engine.rack import JOKER, Rack


@dataclass(frozen=True, slots=True)
class Claim:
    """One use of a discard.

    Attributes:
        size: number of tiles of the group to lay open with it; 0 when it completes the hand, which shows all.
        jokers: jokers that the group takes from the rack.
        missing: tiles still missing to the hand afterwards.
    """

    hand: Hand
    size: int
    jokers: int
    missing: int

    @property
    def wins(self) -> bool:
        """The claim completes the hand."""
        return self.size == 0


def claims_for(discard: Face, rack: Rack, card: Card) -> tuple[Claim, ...]:
    """Return what a discard may be claimed for: wins first, then the claims that leave fewest tiles missing.

    A discard may be claimed to complete any hand, a concealed one too; otherwise only to lay open a group of three
    or more equal tiles of an exposed hand, the rest of the group coming from the rack. A discarded joker may never
    be claimed. The rack is the one before the claim: with more than 13 tiles nothing may be claimed,
    and a tile of which the rack holds every copy cannot have been discarded.
    """
    if discard == JOKER or len(rack.faces) >= HAND_SIZE or rack.faces.count(discard) >= discard.copies:
        return ()
    wins = _wins(discard, rack, card)
    groups = [claim for size in range(3, 7) for claim in _groups(discard, size, rack, card)]
    groups.sort(key=lambda claim: (claim.missing, -claim.hand.worth, claim.size))
    return (*wins, *groups)


def _wins(discard: Face, rack: Rack, card: Card) -> list[Claim]:
    if len(rack.faces) != HAND_SIZE - 1:
        return []
    whole = Rack((*rack.faces, discard), rack.exposed)
    found = _least(whole, card)
    wins = [Claim(card.hands[hand], 0, 0, 0) for hand, missing in found.items() if missing == 0]
    return sorted(wins, key=lambda claim: -claim.hand.worth)


def _groups(discard: Face, size: int, rack: Rack, card: Card) -> list[Claim]:
    """Lay open this discard as a group of this size, with naturals of the rack first and jokers for the rest."""
    naturals = [place for place in rack.hidden if rack.faces[place] == discard][: size - 1]
    jokers = [place for place in rack.hidden if rack.faces[place] == JOKER][: size - 1 - len(naturals)]
    if len(naturals) + len(jokers) < size - 1:
        return []
    claimed = (*naturals, *jokers, len(rack.faces))
    after = Rack((*rack.faces, discard), (*rack.exposed, claimed))
    found = _least(after, card)
    return [
        Claim(card.hands[hand], size, len(jokers), missing)
        for hand, missing in found.items()
        if not card.hands[hand].concealed
    ]


def _least(rack: Rack, card: Card) -> dict[int, int]:
    """Return, for each hand that the claimed groups allow, the least tiles missing to it."""
    forms = card.forms.for_rack(held(rack))
    missing = missing_tiles(forms, rack)
    least: dict[int, int] = {}
    for hand in np.unique(forms.hand[missing < NEVER]).tolist():
        if not (rack.exposed and card.hands[hand].concealed):
            least[hand] = int(missing[forms.hand == hand].min())
    return least
