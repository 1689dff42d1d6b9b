"""What is said of a table of layouts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from tilewitness.engine.opinion import Win
from tilewitness.ui.phrasing import amount, capital, count
from tilewitness.ui.words import Tone, Verdict


def answer_in_short(said: Verdict) -> str:
    """Right or wrong, and how likely where that hangs on an unsure tile."""
    if said.tone is not Tone.LOOK:
        return "right" if said.tone is Tone.YES else "wrong"
    return f"{said.likely} {'right' if said.is_complete else 'wrong'}"


def table_verdict(verdicts: Sequence[Verdict], cells: Sequence[Sequence[str]]) -> Verdict:
    """All layouts of a table in one answer; `cells` begin with row, hand, answer and reason."""
    layouts = amount(len(verdicts), "layout")
    numbers = Counter(answer_in_short(said) for said in verdicts)
    told = ", ".join(f"{count(number)} {answer}" for answer, number in numbers.most_common())
    title = f"{capital(layouts)}: {told}" if len(numbers) > 1 else f"All {next(iter(numbers))}: {layouts}"
    lines = tuple(f"{row}, {hand}, {answer}: {reason}." for row, hand, answer, reason, *_ in cells if answer != "right")
    tones = {said.tone for said in verdicts}
    return Verdict(next(tone for tone in (Tone.NO, Tone.LOOK, Tone.YES) if tone in tones), title, lines)


def reason_in_short(said: Verdict) -> str:
    """Why a layout is wrong, in a few words; empty when it is right."""
    if said.tone is Tone.YES:
        return ""
    reason = said.title.removeprefix("Not complete: ") if said.tone is Tone.NO else said.lead[0].rstrip(".")
    return reason[:1].lower() + reason[1:]


def card_order(win: Win) -> str:
    """Whether a winning rack already shows card order."""
    return "yes" if win.in_card_order else "no"
