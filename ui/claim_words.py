"""What is said of a discard: whether it may be claimed, and for what."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from tilewitness.engine.claims import Claim
from tilewitness.engine.faces import Face, Kind
from tilewitness.engine.hands import size_word
from tilewitness.engine.plans import HAND_SIZE
from tilewitness.engine.rack import Rack
from tilewitness.ui.phrasing import a, amount, listed, plural, several
from tilewitness.ui.words import AT_ONCE, Tone, Verdict, hand_name

ON_CLAIMS: Final = "This is common practice. The rules of your table decide."


def claim_verdict(discard: Face, rack: Rack, claims: Sequence[Claim]) -> Verdict:
    """Put into words what a discard may be claimed for."""
    if not claims:
        return Verdict(Tone.NO, f"You may not claim the {discard}", (_refusal(discard, rack), ON_CLAIMS))
    wins = [claim for claim in claims if claim.wins]
    groups = [claim for claim in claims if claim.missing]
    if wins:  # who may win does not ask for which group of another hand it would serve
        title = f"You may claim the {discard} {'' if groups else 'only '}to win"
        return Verdict(Tone.YES, title, (*map(claim_sentence, wins), ON_CLAIMS))
    told = [claim_sentence(claim) for claim in groups[:AT_ONCE]]
    if len(groups) > AT_ONCE:
        told.append(f"For {amount(len(groups) - AT_ONCE, 'other group')} of hands as far away or further.")
    return Verdict(Tone.YES, f"You may claim the {discard} for a group", (*told, ON_CLAIMS))


def claim_sentence(claim: Claim) -> str:
    """One use of a discard."""
    if claim.wins:
        return f"To win: it completes {hand_name(claim.hand)}."
    own = claim.size - 1 - claim.jokers
    parts = [f"{amount(own, 'tile')} of your own"] * bool(own) + [amount(claim.jokers, "joker")] * bool(claim.jokers)
    group = f"For a {size_word(claim.size)}, with {listed(parts)}, of {hand_name(claim.hand)}"
    return f"{group}: {amount(claim.missing)} missing after that."


def _refusal(discard: Face, rack: Rack) -> str:
    if discard.kind is Kind.JOKER:
        return "A discarded joker is dead: nobody may claim it."
    if (copies := rack.faces.count(discard)) >= discard.copies:
        return f"The rack holds all {several(copies, discard)} of a set, so look again which tile was discarded."
    if len(rack.faces) >= HAND_SIZE:
        return f"It is claimed before drawing, with 13 tiles at most. This rack has {amount(len(rack.faces))}."
    if len(rack.faces) == HAND_SIZE - 1:
        return (
            f"It completes no hand of the card, and the rack has no exposed hand for which {a(discard.name)} "
            "and tiles of the rack make a whole group of three or more."
        )
    return f"No exposed hand of the card takes a group of {plural(discard)} that this rack can lay open."
