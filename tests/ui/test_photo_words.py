from collections.abc import Callable

import pytest

from tilewitness.ui import photo_words
from tilewitness.vision.reading import Advice, Reading, Trouble


def test_equal_tiles_side_by_side_are_counted_once(make_reading: Callable[..., Reading]) -> None:
    reading = make_reading("flower, flower, 4 bam, 4 bam, 4 bam, joker")

    assert ["Six tiles: two flowers, three 4 bam, joker."] == photo_words.rows_summary(reading)


def test_each_row_is_said_with_its_number(make_reading: Callable[..., Reading]) -> None:
    reading = make_reading("east, east", "2 dot")

    assert ["Row 1, two tiles: two east.", "Row 2, one tile: 2 dot."] == photo_words.rows_summary(reading)


def test_an_unsure_tile_is_named_by_its_place(make_reading: Callable[..., Reading]) -> None:
    reading = make_reading("east, 8 bam", unsure={1: "6 bam"})

    assert [
        "Look at place 2. It was read as 8 bam. The reading is 71 percent sure. It may be a 6 bam."
    ] == photo_words.unsure_summary(reading)


def test_a_photo_of_nothing_gets_help(make_reading: Callable[..., Reading]) -> None:
    reading = make_reading(advice=(Advice(Trouble.NO_TILES),))

    assert [photo_words.NO_TILES, photo_words.NO_TILES_HELP] == photo_words.reading_lines(reading)


@pytest.mark.parametrize("trouble", Trouble)
def test_every_trouble_has_a_sentence_that_says_what_to_do(
    trouble: Trouble, make_reading: Callable[..., Reading]
) -> None:
    (sentence,) = photo_words.advice_sentences(make_reading("east", advice=(Advice(trouble, ((0, 0),)),)))

    assert sentence.count(".") >= 2
    assert sentence.endswith("It concerns place 1.")


def test_rows_of_which_the_same_is_said_are_told_together() -> None:
    told = photo_words.told_of_racks([((0,), ["No."]), ((1,), ["Yes."]), ((2,), ["No."]), ((3, 4), ["No."])])

    assert [["Rows 1 and 3.", "No."], ["Row 2.", "Yes."], ["Rows 4 and 5.", "No."]] == told
    assert [["No."]] == photo_words.told_of_racks([((0,), ["No."])])
