"""What is said of each fault that keeps a rack from being a win."""

from __future__ import annotations

from typing import Final

from tilewitness.engine.opinion import Fault

PLAIN: Final = {Fault.TILES_MISSING, Fault.TILES_TOO_MANY, Fault.WRONG_TILES}
"""Said already by the number of tiles missing and the tiles to let go."""

TITLES: Final = {
    Fault.TILES_MISSING: "tiles are missing",
    Fault.TILES_TOO_MANY: "tiles are left over",
    Fault.WRONG_TILES: "some tiles do not fit",
    Fault.DRAGON_OF_WRONG_SUIT: "the dragon is of the wrong suit",
    Fault.WRONG_DRAGON: "a dragon does not fit",
    Fault.SUITS_NOT_DIFFERENT: "the suits must be different",
    Fault.SUITS_NOT_ALIKE: "the suits must be alike",
    Fault.WRONG_SUIT: "the suit is not the one the card names",
    Fault.NUMBER_OUT_OF_RUN: "a number does not fit",
    Fault.WRONG_WIND: "a wind does not fit",
    Fault.JOKER_IN_PAIR: "a joker stands in a pair",
    Fault.JOKER_AMONG_SINGLES: "a joker stands for a single tile",
    Fault.JOKER_NOT_ALLOWED: "this hand allows no joker",
    Fault.CONCEALED_HAND_SHOWN: "this hand must be concealed",
    Fault.CLAIM_NOT_IN_HAND: "a claimed group does not belong to the hand",
    Fault.MORE_THAN_A_SET_HOLDS: "more of one tile than a set holds",
}

REASONS: Final = {
    Fault.TILES_MISSING: "Tiles are still missing.",
    Fault.TILES_TOO_MANY: "There are more tiles than the hand takes.",
    Fault.WRONG_TILES: "Some tiles do not belong to the hand.",
    Fault.DRAGON_OF_WRONG_SUIT: (
        "The dragon is not the one the card asks for. "
        "The green dragon belongs to bam, the red dragon to crak, the white dragon to dot."
    ),
    Fault.WRONG_DRAGON: "It is not the dragon the card asks for.",
    Fault.SUITS_NOT_DIFFERENT: "The card asks for more different suits than are there.",
    Fault.SUITS_NOT_ALIKE: "Groups that must share one suit do not.",
    Fault.WRONG_SUIT: "The card names a suit for this group, and it stands in another.",
    Fault.NUMBER_OUT_OF_RUN: "The number of one group does not fit the others.",
    Fault.WRONG_WIND: "It is not the wind the card asks for.",
    Fault.JOKER_IN_PAIR: "A joker never stands in a pair, only in a group of three or more equal tiles.",
    Fault.JOKER_AMONG_SINGLES: "A joker never stands for a single tile, only in a group of three or more equal tiles.",
    Fault.JOKER_NOT_ALLOWED: "The card allows no joker in this hand.",
    Fault.CONCEALED_HAND_SHOWN: "The card wants this hand concealed, and groups were claimed.",
    Fault.CLAIM_NOT_IN_HAND: "A claimed group is not a whole group of this hand.",
    Fault.MORE_THAN_A_SET_HOLDS: "A set holds fewer of them, so a tile was mistaken or two sets are mixed.",
}
