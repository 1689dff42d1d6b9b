import csv
import io
from collections.abc import Callable

import cv2
import numpy as np
import pytest

from tilewitness.engine.card import Card
from tilewitness.ui import sight as sights
from tilewitness.ui import table_words, tables
from tilewitness.ui.judging import judge_reading
from tilewitness.ui.tables import RowResult
from tilewitness.ui.words import Tone, Verdict
from tilewitness.vision.reading import Reading

WIN = "pair of flowers, kong of 2 bam, kong of 4 bam, kong of 6 bam"
PHOTO = cv2.imencode(".png", np.full((700, 1000, 3), 90, np.uint8))[1].tobytes()


@pytest.fixture
def seen(make_reading: Callable[..., Reading], monkeypatch: pytest.MonkeyPatch) -> sights.Sight:
    reading = make_reading(WIN, WIN.replace("pair of flowers", "flower, joker"), sure=True)
    monkeypatch.setattr(sights, "read_photo", lambda data, tile_set=None: reading)
    return sights.see("table.png", PHOTO)


def test_the_list_of_rows_reads_back_from_csv(seen: sights.Sight, card: Card) -> None:
    results = [RowResult(judged, None) for judged in judge_reading(seen.reading, card)]
    rows = list(csv.DictReader(io.StringIO(tables.results_csv(results))))

    assert ["right", "wrong"] == [row["Answer"] for row in rows]
    assert ["", "a joker stands in a pair"] == [row["Reason"] for row in rows]
    assert "yes" == rows[0]["Card order"]


def test_a_row_is_judged_by_the_hand_it_was_meant_to_be(seen: sights.Sight, card: Card) -> None:
    judged = judge_reading(seen.reading, card)[0]
    meant = card.hands[1]
    result = RowResult(tables.judge_by(judged, meant, seen, card), meant)

    assert ("Own dragon", "wrong") == result.cells[1:3]


def test_the_list_of_tiles_reads_back_from_csv(seen: sights.Sight) -> None:
    rows = list(csv.DictReader(io.StringIO(tables.tiles_csv(seen))))

    assert 28 == len(rows)
    assert ("2", "2", "joker") == (rows[15]["row"], rows[15]["place"], rows[15]["tile"])


def doubtful(likely: str, is_complete: bool) -> Verdict:
    return Verdict(Tone.LOOK, "", ("Look at place 7.",), (), likely, is_complete)


@pytest.mark.parametrize(
    ("verdicts", "tone", "title"),
    [
        ([Verdict(Tone.YES, "", ())] * 2, Tone.YES, "All right: two layouts"),
        ([Verdict(Tone.YES, "", ()), doubtful("very likely", True)], Tone.LOOK, "Two layouts: one right, one very likely right"),
        ([doubtful("probably", True), doubtful("very likely", True)], Tone.LOOK, "Two layouts: one probably right, one very likely right"),
        ([Verdict(Tone.YES, "", ()), Verdict(Tone.NO, "Not complete: x", ())], Tone.NO, "Two layouts: one right, one wrong"),
        ([doubtful("probably", True), doubtful("probably", False)], Tone.LOOK, "Two layouts: one probably right, one probably wrong"),
        ([Verdict(Tone.NO, "Not complete: x", ())] * 2, Tone.NO, "All wrong: two layouts"),
    ],
)
def test_a_table_has_one_answer(verdicts: list[Verdict], tone: Tone, title: str) -> None:
    cells = [
        ("Row 1", "A hand", table_words.answer_in_short(said), table_words.reason_in_short(said)) for said in verdicts
    ]
    whole = table_words.table_verdict(verdicts, cells)

    assert (tone, title) == (whole.tone, whole.title)
    assert sum(said.tone is not Tone.YES for said in verdicts) == len(whole.lead)
