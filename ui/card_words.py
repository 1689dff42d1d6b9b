"""What is said of a card: its hands as they read aloud."""

from __future__ import annotations

from tilewitness.engine.card import Card
from tilewitness.ui.phrasing import amount


def card_lines(card: Card) -> list[str]:
    """The whole card, section by section."""
    lines = [f"{card.name}: {amount(len(card.hands), 'hand')} in {amount(len(card.sections), 'section')}."]
    for section in card.sections:
        lines += ["", section]
        lines += [f"  {hand.name}: {hand}." for hand in card.hands if hand.section == section]
    return lines
