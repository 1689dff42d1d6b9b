"""How to word a hand: every construct by example, told alike in the app and in the README."""

from __future__ import annotations

from typing import Final

GUIDE: Final = (
    ("kong of 4 in one suit", "Single, pair, pung, kong, quint and sextet are one to six equal tiles."),
    ("pair of flowers, kong of red dragon, pung of soap", "Flowers, winds and dragons by name. Soap is the white dragon."),
    ("kong of 7 crak, kong of 7 dot", "A suit that the card names."),
    ("pungs of 2, 4 and 6 in one suit", "Several groups of one kind. The suit counts for all that stand before it."),
    ("pung of 3 in one suit, pung of 5 in a second suit, kong of 7 in a third suit", "Suits that must be different."),
    ("kong of 5 in any suit", "Any suit, used elsewhere or not."),
    ("kong of any number in one suit, kong of the same number in a second suit", "Like numbers."),
    ("pung of any number, kong of 1 above, pung of 2 above in one suit", "A run that starts anywhere."),
    ("pairs of any number to 4 above in one suit", "Five pairs in a row, starting anywhere."),
    ("pung of any number, pung of another number in one suit", "Two free numbers, which may be alike."),
    ("kong of any number in one suit, kong of another number in a second suit; numbers differ", "Two free numbers that must differ."),
    ("kong of any number, kong of another number, pair of the sum in one suit", "The two added together."),
    ("pung of any number in one suit; the number is even", "Or odd, low, high, a multiple of 3; also is 2, 4 or 7; is 1 to 5."),
    ("singles of 1 to 9 in one suit", "One of each."),
    ("singles of 1 8 5 0 in one suit", "A year. Zero is the white dragon."),
    ("singles of all winds, pungs of all dragons", "One of each wind, and three of each dragon."),
    ("pung of any wind, pung of the opposite wind", "East and west, or north and south."),
    ("kong of any dragon, kong of another dragon", "Two different dragons. Winds likewise."),
    ("pung of 8, kong of the matching dragon in one suit", "Green for bam, red for crak, white for dot."),
    ("pung of 8 in one suit, kong of the matching dragon in a second suit", "The dragon of another suit."),
    ("pung of 8 in one suit, kong of the opposite dragon", "A dragon whose suit no number of the hand uses."),
    ("either pung of 2 and kong of 4 or pung of 6 and kong of 8 in one suit", "One or the other, never a mixture."),
    ("singles of 1 to 9 in two suits in turn", "Knitted: 1 of one suit, 2 of the other, 3 of the first again."),
    ("7 different pairs of any tiles", "A free choice. It stands beside singles and pairs only."),
    ("pair of flowers; concealed; no jokers; worth 50; note read this aloud", "Remarks follow after semicolons."),
)
"""Wordings with what they mean; each is a hand, or part of one, as a card file takes it."""
