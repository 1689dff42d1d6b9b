from collections.abc import Callable

from tilewitness.engine.card import Card
from tilewitness.ui import words
from tilewitness.ui.judging import as_one_rack, judge_found, judge_reading
from tilewitness.ui.words import Tone
from tilewitness.vision.reading import Advice, Reading, Trouble

WIN = "pair of flowers, kong of 2 bam, kong of 4 bam, kong of 6 bam"


def test_a_tile_that_decides_is_the_answer(make_reading: Callable[..., Reading], card: Card) -> None:
    (judged,) = judge_reading(make_reading(WIN, unsure={9: "5 bam"}, sure=True), card)

    assert Tone.LOOK is judged.verdict.tone
    assert "Probably complete: Small steps" == judged.verdict.title
    assert (
        "Look at place 10: it is a win if it is a 4 bam, but one tile is missing if it is a 5 bam."
        == judged.verdict.lead[0]
    )
    assert judged.verdict.lead[1].endswith("it is a win with 71 percent probability.")


def test_a_likely_answer_says_so_and_what_speaks_against_it(make_reading: Callable[..., Reading], card: Card) -> None:
    one_off = WIN.replace("kong of 6 bam", "pung of 6 bam, 5 bam")
    (judged,) = judge_reading(make_reading(one_off, unsure={13: "6 bam"}, sure=True), card)

    assert "Probably not complete: one tile missing" == judged.verdict.title
    assert judged.verdict.lead[0].startswith("Look at place 14: one tile is missing if it is a 5 bam, but it is a win")


def test_where_no_likely_reading_is_a_win_the_answer_is_plain(make_reading: Callable[..., Reading], card: Card) -> None:
    open_tiles: dict[int, str] = dict.fromkeys(range(14), "soap")
    (judged,) = judge_reading(make_reading("kong of 2 dot, kong of 5 crak, kong of east, pair of 9 bam", unsure=open_tiles), card)

    assert (Tone.LOOK, "very likely") == (judged.verdict.tone, judged.verdict.likely)
    assert judged.verdict.title.startswith("Not complete")
    assert "None of its likely readings is a win." == judged.verdict.lead[-1]


def test_a_doubt_that_changes_nothing_is_no_look(make_reading: Callable[..., Reading], card: Card) -> None:
    (judged,) = judge_reading(make_reading("3 dot, 4 dot, east, west", unsure={0: "2 dot"}, sure=True), card)

    assert Tone.NO is judged.verdict.tone


def test_an_unsure_tile_is_never_said_to_be_read_surely(make_reading: Callable[..., Reading], card: Card) -> None:
    few = judge_reading(make_reading("3 dot, 4 dot, east, west", unsure={0: "2 dot"}, sure=True), card)
    far = "1 dot, 5 dot, 7 dot, 9 dot, 3 crak, 5 crak, east, south, west, north, 1 bam, 8 bam, soap, soap"
    many = judge_reading(make_reading(far, unsure={0: "2 dot"}, sure=True), card)

    assert words.READ_SURELY not in few[0].verdict.sentences
    assert words.READ_SURELY not in many[0].verdict.sentences
    assert words.NO_WIN_HOWEVER in many[0].verdict.sentences


def test_nothing_is_sure_of_tiles_with_unfamiliar_artwork_until_each_is_corrected(
    make_reading: Callable[..., Reading], card: Card
) -> None:
    advice = (Advice(Trouble.UNFAMILIAR),)
    far = "1 dot, 5 dot, 7 dot, 9 dot, 3 crak, 5 crak, east, south, west, north, 1 bam, 8 bam, soap, soap"
    (judged,) = judge_reading(make_reading(far, unsure={0: "2 dot"}, sure=True, advice=advice), card)
    (corrected,) = judge_reading(make_reading(far, sure=True, advice=advice), card)

    assert (Tone.LOOK, "perhaps") == (judged.verdict.tone, judged.verdict.likely)
    assert judged.verdict.title.startswith("Perhaps not complete")
    assert words.GUESSED == judged.verdict.lead[-1]
    assert Tone.NO is corrected.verdict.tone


def test_rows_of_fourteen_are_judged_each_on_its_own(make_reading: Callable[..., Reading], card: Card) -> None:
    judged = judge_reading(make_reading(WIN, WIN.replace("6", "8"), sure=True), card)

    assert [Tone.YES, Tone.NO] == [one.verdict.tone for one in judged]
    assert [(0,), (1,)] == [one.rows for one in judged]


def test_rows_that_lie_open_are_claimed_groups(make_reading: Callable[..., Reading], card: Card) -> None:
    reading = make_reading("kong of 2 bam", "pair of flowers, kong of 4 bam, kong of 6 bam", sure=True)
    found = as_one_rack(reading, open_rows=[0])

    assert ((0, 1, 2, 3),) == found.rack.exposed
    assert Tone.YES is judge_found(found, reading, card).verdict.tone


def test_places_of_a_rack_in_two_rows_name_the_row(make_reading: Callable[..., Reading], card: Card) -> None:
    reading = make_reading("kong of 2 bam", "flower, joker, kong of 4 bam, kong of 6 bam", sure=True)
    (judged,) = judge_reading(reading, card)

    assert "row 2 place 2" == judged.places[5]
