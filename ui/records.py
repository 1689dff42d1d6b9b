"""Opinions as JSON, for other programs; readings are in `photo_records`. Keys may be added; none changes its meaning or goes.

Rows and places count from 0 here, and a place of an opinion is an index into its list of tiles.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tilewitness.engine.claims import Claim
from tilewitness.engine.faces import Face
from tilewitness.engine.hands import Hand
from tilewitness.engine.opinion import Get, LaidGroup, Near, Opinion, Reason, Source, Win
from tilewitness.engine.unsure import Certainty, Look
from tilewitness.ui.photo_records import Record
from tilewitness.ui.words import Verdict

if TYPE_CHECKING:
    from tilewitness.ui.judging import Judged


def judged_record(judged: Judged) -> Record:
    """One rack of a photo.

    Returns:
        `rows` of the photo it takes up; `tiles_of_photo`, for each place of the rack the index of its tile in
        the photo's list; `certainty` ("sure yes", "sure no", "look"); `win_probability`; `looks`, the places to
        look at with what each may be and what it then comes to; and all of `opinion_record`.
    """
    unsure = judged.unsure
    record = opinion_record(unsure.opinion, judged.verdict)
    if unsure.certainty is Certainty.LOOK:
        record["verdict"] = "look"
    return {
        "rows": list(judged.rows),
        "tiles_of_photo": list(judged.tiles),
        "certainty": unsure.certainty.value,
        "win_probability": round(unsure.win_probability, 4),
        "looks": [_look(look) for look in unsure.looks],
        **record,
    }


def _look(look: Look) -> Record:
    outcomes = [
        {
            "face": outcome.face.name,
            "probability": round(outcome.probability, 4),
            "win": outcome.win,
            "hand": outcome.hand.name if outcome.hand else None,
            "missing": outcome.missing,
        }
        for outcome in look.outcomes
    ]
    return {"place": look.place, "outcomes": outcomes}


def opinion_record(opinion: Opinion, said: Verdict) -> Record:
    """Everything the engine thinks of one rack.

    Returns:
        `verdict` "complete" or "not complete"; `hand` the hand completed, else the nearest, with `groups` as
        laid out in card order, `jokers`, `missing` and `claimable`; then every list of the opinion in full.
    """
    found: list[Win | Near] = [*opinion.wins, *opinion.near_misses, *opinion.nearest]
    best = found[0] if found else None
    groups = best.groups if best else ()
    missing = best.get if isinstance(best, Near) else ()
    return {
        "verdict": "complete" if opinion.wins else "not complete",
        "rack": [face.name for face in opinion.rack.faces],
        "exposed": [list(places) for places in opinion.rack.exposed],
        "standing": opinion.standing.value,
        "hand": hand_record(best.hand) if best else None,
        "layout": layout_record(groups),
        "jokers": [
            {"place": slot.place, "stands_for": slot.face.name}
            for group in groups
            for slot in group.slots
            if slot.joker
        ],
        "missing": [_get(get) for get in missing],
        "claimable": [get.face.name for get in missing if get.source in (Source.CLAIM, Source.CLAIM_TO_WIN)],
        "worth": best.hand.worth if best else None,
        "wins": [_win(win) for win in opinion.wins],
        "nearest": [_near(near) for near in opinion.nearest],
        "near_misses": [_near(near) for near in opinion.near_misses],
        "waits": [
            {"face": wait.face.name, "hands": [hand.name for hand in wait.hands], "left": wait.left}
            for wait in opinion.waits
        ],
        "exchanges": [
            {"joker": one.joker, "natural": one.natural, "wins": [hand.name for hand in one.wins]}
            for one in opinion.exchanges
        ],
        "reasons": [_reason(reason) for reason in opinion.reasons],
        "sentences": said.sentences,
    }


def claims_record(discard: Face, claims: Sequence[Claim]) -> Record:
    """What a discard may be claimed for.

    Returns:
        `discard`; `claims`, each with its `hand`, `wins` (it completes the hand), `size` of the group laid open
        (0 for a win), `jokers` the group takes, tiles `missing` afterwards.
    """
    uses = [
        {
            "hand": hand_record(claim.hand),
            "wins": claim.wins,
            "size": claim.size,
            "jokers": claim.jokers,
            "missing": claim.missing,
        }
        for claim in claims
    ]
    return {"discard": discard.name, "claims": uses}


def hand_record(hand: Hand) -> Record:
    """A hand as the card asks for it."""
    return {
        "name": hand.name,
        "section": hand.section,
        "worth": hand.worth,
        "concealed": hand.concealed,
        "wording": str(hand),
        "note": hand.note,
    }


def layout_record(groups: Sequence[LaidGroup]) -> list[Record]:
    """Groups in card order, each tile with its place; null where it is missing."""
    return [
        {
            "face": group.face.name,
            "size": group.size,
            "claimed": group.claimed,
            "tiles": [{"face": slot.face.name, "place": slot.place, "joker": slot.joker} for slot in group.slots],
        }
        for group in groups
    ]


def _win(win: Win) -> Record:
    pay = win.payment
    return {
        "hand": hand_record(win.hand),
        "layout": layout_record(win.groups),
        "in_card_order": win.in_card_order,
        "payment": {
            "worth": pay.worth,
            "doubled": pay.doubled,
            "discarder": pay.discarder,
            "others": pay.others,
            "each": pay.each,
        },
    }


def _near(near: Near) -> Record:
    return {
        "hand": hand_record(near.hand),
        "missing": near.missing,
        "layout": layout_record(near.groups),
        "keep": list(near.keep),
        "let_go": list(near.let_go),
        "get": [_get(get) for get in near.get],
        "reasons": [_reason(reason) for reason in near.reasons],
    }


def _get(get: Get) -> Record:
    return {
        "face": get.face.name,
        "count": get.count,
        "left": get.left,
        "joker_serves": get.joker_serves,
        "source": get.source.value,
    }


def _reason(reason: Reason) -> Record:
    return {"fault": reason.fault.value, "places": list(reason.places)}
