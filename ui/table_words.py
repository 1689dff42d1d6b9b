"""What is said of a table of layouts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Final

from tilewitness.engine.opinion import Win
from tilewitness.ui.phrasing import amount, capital, count
from tilewitness.ui.words import Tone, Verdict

ANSWERS: Final = {Tone.YES: "right", Tone.NO: "wrong", Tone.LOOK: "look again"}

_TOLD: Final = {Tone.YES: "right", Tone.NO: "wrong", Tone.LOOK: "to look at again"}


def table_verdict(verdicts: Sequence[Verdict], cells: Sequence[Sequence[str]]) -> Verdict:
    """All layouts of a table in one answer; `cells` begin with row, hand, answer and reason."""
    right = sum(said.tone is Tone.YES for said in verdicts)
    if right == len(verdicts):
        return Verdict(Tone.YES, f"All right: {amount(right, 'layout')}", ())
    lines = [f"{row}, {hand}: {reason}." for row, hand, answer, reason, *_ in cells if answer != ANSWERS[Tone.YES]]
    numbers = Counter(said.tone for said in verdicts)
    told = [f"{count(numbers[tone])} {words}" for tone, words in _TOLD.items() if numbers[tone]]
    title = f"{capital(amount(len(verdicts), 'layout'))}: {', '.join(told)}"
    tone = Tone.NO if any(said.tone is Tone.NO for said in verdicts) else Tone.LOOK
    return Verdict(tone, title, tuple(lines))


def reason_in_short(said: Verdict) -> str:
    """Why a layout is wrong, in a few words; empty when it is right."""
    if said.tone is Tone.YES:
        return ""
    reason = said.title.removeprefix("Not complete: ") if said.tone is Tone.NO else said.lead[0].rstrip(".")
    return reason[:1].lower() + reason[1:]


def card_order(win: Win) -> str:
    """Whether a winning rack already shows card order."""
    return "yes" if win.in_card_order else "no"
