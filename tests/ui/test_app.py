"""The pages without a browser: what they show for a photo. Reading is replaced, everything after it is real."""

from collections.abc import Callable
from importlib import resources
from pathlib import Path
from typing import Any

import cv2
import numpy as np
import pytest
from streamlit.testing.v1 import AppTest

from tilewitness.ui import choices, labels, photo_words
from tilewitness.ui.choices import Choices
from tilewitness.vision.photo import PhotoError
from tilewitness.vision.reading import Advice, Reading, Trouble

WIN = "pair of flowers, kong of 1 bam, kong of 5 bam, pung of 9 dot, joker"
ONE_OFF = "pair of flowers, kong of 1 bam, kong of 5 bam, pung of 9 dot, east"
PIER = "pair of 2 crak, pung of 4 crak, pung of 6 crak, pung of 6 dot, pung of 8 dot"
PHOTO = cv2.imencode(".png", np.full((700, 1000, 3), 200, np.uint8))[1].tobytes()

MakeReading = Callable[..., Reading]
Part = Callable[[AppTest, str], dict[str, Any]]


@pytest.fixture(autouse=True)
def data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TILEWITNESS_DATA", str(tmp_path))


@pytest.fixture
def show(monkeypatch: pytest.MonkeyPatch) -> Callable[[Reading | Exception], None]:
    """Let every photo be read as this."""

    def shows(result: Reading | Exception) -> None:
        def read_photo(source: object, *, tile_set: object = None) -> Reading:
            if isinstance(result, Exception):
                raise result
            return result

        monkeypatch.setattr("tilewitness.ui.sight.read_photo", read_photo)

    return shows


def opened(page: str = "") -> AppTest:
    app = AppTest.from_file(str(resources.files("tilewitness.ui") / "app.py"), default_timeout=30).run()
    if page:
        app.switch_page(f"screens/{page}.py").run()
    assert not app.exception
    return app


def upload(app: AppTest, name: str = "rack.png") -> AppTest:
    app.file_uploader[0].set_value((name, PHOTO, "image/png"))
    app.run()
    assert not app.exception
    return app


def test_the_first_visit_invites_to_take_a_photo() -> None:
    app = opened()

    assert [labels.RACK_PAGE] == [title.value for title in app.title]
    assert labels.RACK_INTRO in [text.value for text in app.markdown]


def test_the_answer_to_a_win_comes_first(show: Any, make_reading: MakeReading, part: Part) -> None:
    show(make_reading(WIN, sure=True))
    answer = part(upload(opened()), "answer")

    assert "Complete: Two Lanterns" == answer["title"]
    assert "yes" == answer["tone"]
    assert "second opinion" in answer["note"]
    assert not answer["speech"]["byItself"]


def test_the_hand_is_laid_out_with_the_persons_own_tiles(show: Any, make_reading: MakeReading) -> None:
    show(make_reading(ONE_OFF, sure=True))
    (layout,) = [html.proto.body for html in upload(opened()).get("html") if "tw-groups" in html.proto.body][:1]

    assert 14 == layout.count("<img ")
    assert ">missing</li>" in layout
    assert 'alt="east"' in layout.split("let go")[1]


def test_every_tile_is_offered_for_correction(show: Any, make_reading: MakeReading, part: Part) -> None:
    show(make_reading(WIN, unsure={9: "6 bam"}))
    tiles = part(upload(opened()), "tiles")
    tenth = tiles["rows"][0]["tiles"][9]

    assert "unsure" == tenth["state"]
    assert "Place 10 was read as a 5 bam, 71 percent sure. What is it?" == tenth["question"]
    assert ["5 bam", "6 bam"] == [face["name"] for face in tenth["likely"]]
    assert 36 == sum(len(family["faces"]) for family in tiles["faces"])


def test_a_photo_of_nothing_gets_help(show: Any, make_reading: MakeReading, part: Part) -> None:
    show(make_reading(advice=(Advice(Trouble.NO_TILES),)))
    answer = part(upload(opened()), "answer")

    assert "No tiles found" == answer["title"]
    assert [photo_words.NO_TILES_HELP] == answer["lead"]


def test_a_file_that_is_no_photo_gets_a_sentence(show: Any) -> None:
    show(PhotoError("the photo: the file is empty. Copy or take the photo again."))
    app = upload(opened(), "empty.png")

    assert ["empty.png: the file is empty. Copy or take the photo again."] == [error.value for error in app.error]


def test_listening_says_tiles_then_doubts_then_the_verdict(show: Any, make_reading: MakeReading, part: Part) -> None:
    show(make_reading(WIN, unsure={9: "6 bam"}))
    speech = part(upload(opened("listen")), "answer")["speech"]

    assert speech["byItself"]
    assert "14 tiles: two flowers, four 1 bam, four 5 bam, three 9 dot, joker." == speech["full"][0]
    assert speech["full"][1].startswith("Look at place 10.")
    assert "Probably complete: Two Lanterns." == speech["full"][2]
    assert speech["full"][3].startswith("Look at place 10: it is a win if")
    assert "second opinion" in speech["full"][-1]


def test_photo_advice_is_said(show: Any, make_reading: MakeReading, part: Part) -> None:
    show(make_reading(WIN, sure=True, advice=(Advice(Trouble.TOO_DARK),)))
    full = part(upload(opened("listen")), "answer")["speech"]["full"]

    assert "The photo is too dark. Turn on a light." in full


def test_the_photo_comes_along_from_looking_to_listening(show: Any, make_reading: MakeReading, part: Part) -> None:
    show(make_reading(WIN, sure=True))
    app = upload(opened())
    app.switch_page("screens/listen.py").run()

    assert "Complete: Two Lanterns" == part(app, "answer")["title"]


def test_each_row_of_a_table_is_judged_on_its_own(show: Any, make_reading: MakeReading, part: Part) -> None:
    show(make_reading(WIN, PIER, ONE_OFF, sure=True))
    app = upload(opened("table"))
    (table,) = app.table

    assert "Three layouts: two right, one wrong" == part(app, "answer")["title"]
    assert ["right", "right", "wrong"] == list(table.value["Answer"])
    assert ["Two Lanterns", "Long Pier", "Two Lanterns"] == list(table.value["Hand"])
    assert "one tile missing" == list(table.value["Reason"])[2]


def test_a_row_can_be_judged_by_the_hand_it_was_meant_to_be(show: Any, make_reading: MakeReading) -> None:
    show(make_reading(WIN, WIN, sure=True))
    app = upload(opened("table"))
    app.selectbox(key="table first 1").select_index(1).run()  # the rows follow the card from its first hand
    (table,) = app.table

    assert ["Two Lanterns", "Long Pier"] == list(table.value["Hand"])
    assert ["right", "wrong"] == list(table.value["Answer"])


def with_card_file(name: str, text: str) -> AppTest:
    app = opened("card")
    app.file_uploader[0].set_value((name, text.encode(), "application/toml")).run()
    assert not app.exception
    return app


def test_a_card_file_is_checked_kept_and_used() -> None:
    app = with_card_file("spring.toml", 'name = "Spring"\n["One"]\n"Only" = "kongs of 2, 4 and 6 in one suit, pair of flowers; worth 25"')

    assert ["spring"] == choices.kept_cards()
    assert "spring" == choices.load().card
    assert "one hand" in app.success[0].value


def test_a_wrong_card_is_refused_with_line_and_hand() -> None:
    app = with_card_file("x.toml", 'name = "x"\n["One"]\n"Only" = "kong off 4 bam; worth 25"')

    assert [] == choices.kept_cards()
    assert 'line 3, hand "Only"' in app.error[0].value


def test_one_press_reads_a_sample_photo(show: Any, make_reading: MakeReading, part: Part) -> None:
    show(make_reading(WIN, sure=True))
    app = opened()
    (sample,) = (button for button in app.button if button.label == labels.TRY_SAMPLE)
    sample.click().run()

    assert "Complete: Two Lanterns" == part(app, "answer")["title"]
    assert [] == [button for button in app.button if button.label == labels.TRY_SAMPLE]


def test_the_newest_photo_counts_whichever_way_it_came(show: Any, make_reading: MakeReading, part: Part) -> None:
    show(make_reading(WIN, sure=True))
    app = upload(opened())
    show(make_reading(PIER, sure=True))
    (sample,) = (button for button in app.button if button.label == labels.SAMPLES["win"])
    sample.click().run()
    assert "Complete: Long Pier" == part(app, "answer")["title"]
    show(make_reading(WIN, sure=True))

    assert "Complete: Two Lanterns" == part(upload(app, "next.png"), "answer")["title"]


def test_every_sample_photo_is_offered_by_a_name() -> None:
    shipped = {one.name.removesuffix(".jpg") for one in resources.files("tilewitness.samples").iterdir() if one.name.endswith(".jpg")}

    assert shipped == set(labels.SAMPLES)


def test_choices_of_the_last_visit_are_back(show: Any, make_reading: MakeReading, part: Part) -> None:
    choices.save(Choices(rate=1.25, speaks=False))
    show(make_reading(WIN, sure=True))
    speech = part(upload(opened("listen")), "answer")["speech"]

    assert 1.25 == speech["rate"]
    assert not speech["byItself"]


def test_which_rows_lie_open_is_remembered_for_racks_of_as_many_rows(show: Any, make_reading: MakeReading) -> None:
    def boxes(app: AppTest) -> list[bool]:
        return [bool(box.value) for box in app.checkbox if box.label.startswith("Row")]

    show(make_reading("kong of 1 bam", "pair of flowers, kong of 5 bam, kong of 9 dot", sure=True))
    app = upload(opened())
    assert [True, False] == boxes(app)
    app.checkbox[0].uncheck().run()

    assert "rr" == choices.load().open_rows
    assert [[False, False]] * 2 == [boxes(app), boxes(upload(opened(), "next.png"))]
    show(make_reading("kong of 1 bam", "kong of 5 bam", "pair of flowers, kong of 9 dot", sure=True))
    assert [True, True, False] == boxes(upload(opened(), "other.png"))


def test_no_folder_is_called_pages() -> None:
    # Streamlit makes a menu of its own from such a folder for whoever opens the address of a page first.
    here = resources.files("tilewitness.ui")

    assert not here.joinpath("pages").is_dir()
    assert here.joinpath("screens").is_dir()
