"""The real app in a real browser, on the sample photos, with the shipped networks."""

import re
from collections.abc import Sequence
from functools import cache
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tilewitness import Face, load_card
from tilewitness.ui import labels, photo_words
from tilewitness.ui.judging import judge_reading
from tilewitness.ui.sight import Sight, see, with_face

from .conftest import open_page, settle

SAMPLES = Path(__file__).parents[2] / "samples"
pytestmark = pytest.mark.filterwarnings("ignore::ResourceWarning")  # Playwright's own pipes at exit


@cache
def seen(name: str) -> Sight:
    """What the app must have read: the same photo, read in this process."""
    return see(f"{name}.jpg", (SAMPLES / f"{name}.jpg").read_bytes())


def title(sight: Sight) -> str:
    return judge_reading(sight.reading, load_card(SAMPLES / "card.toml"))[0].verdict.title


def upload(page: Page, *names: str) -> None:
    page.locator("input[type=file]").first.set_input_files([SAMPLES / f"{name}.jpg" for name in names])


def verdict(page: Page, wanted: str) -> None:
    expect(page.locator(".words .title")).to_have_text(wanted)


def said(page: Page) -> Sequence[str]:
    spoken: list[str] = page.evaluate("window.said")
    return spoken


def test_a_sample_photo_gets_its_verdict(page: Page, address: str) -> None:
    open_page(page, address, labels.RACK_PAGE)
    upload(page, "win")

    verdict(page, title(seen("win")))
    expect(page.locator(".note")).to_contain_text("second opinion")


def test_a_corrected_tile_changes_the_opinion_at_once_and_can_be_undone(page: Page, address: str) -> None:
    open_page(page, address, labels.RACK_PAGE)
    upload(page, "win")
    before = seen("win")
    verdict(page, title(before))
    page.locator("button.tile").first.click()
    page.get_by_role("button", name="north", exact=True).click()

    verdict(page, title(with_face(before, 0, Face.named("north"))))
    expect(page.locator("button.tile").first).to_contain_text("north")
    page.get_by_role("button", name=labels.UNDO).click()
    verdict(page, title(before))


def test_a_tile_is_corrected_by_keyboard_alone(page: Page, address: str) -> None:
    open_page(page, address, labels.RACK_PAGE)
    upload(page, "win")
    verdict(page, title(seen("win")))
    page.locator("button.tile").first.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(page.get_by_role("dialog")).to_be_visible()
    page.keyboard.press("ArrowDown")  # from the likely faces to the bams
    page.keyboard.press("End")
    page.keyboard.press("Enter")

    expect(page.locator("button.tile").nth(1)).to_contain_text("9 bam")
    verdict(page, title(with_face(seen("win"), 1, Face.named("9 bam"))))
    expect(page.locator("button.tile").nth(1)).to_be_focused()


def test_escape_leaves_the_tile_as_it_was(page: Page, address: str) -> None:
    open_page(page, address, labels.RACK_PAGE)
    upload(page, "win")
    verdict(page, title(seen("win")))
    page.locator("button.tile").nth(2).press("Enter")
    page.keyboard.press("Escape")

    expect(page.get_by_role("dialog")).to_be_hidden()
    expect(page.locator("button.tile").nth(2)).to_be_focused()


def test_listening_says_tiles_doubts_and_verdict_at_once(page: Page, address: str) -> None:
    open_page(page, address, labels.LISTEN_PAGE)
    upload(page, "win")
    verdict(page, title(seen("win")))

    spoken = said(page)
    assert photo_words.rows_summary(seen("win").reading)[0] == spoken[0]
    assert f"{title(seen('win'))}." in spoken
    assert "second opinion" in spoken[-1]


def test_arrow_keys_step_from_tile_to_tile_and_say_each(page: Page, address: str) -> None:
    open_page(page, address, labels.LISTEN_PAGE)
    upload(page, "win")
    verdict(page, title(seen("win")))
    page.locator("button.tile").first.focus()
    page.evaluate("window.said = []")
    for key in ("ArrowRight", "ArrowRight", "End", "Home"):
        page.keyboard.press(key)

    tiles = seen("win").reading.tiles
    last = max(one.place for one in tiles if one.row == tiles[0].row)
    expected = [photo_words.tile_sentence(tiles[at], many_rows=seen("win").many_rows) for at in (1, 2, last, 0)]
    assert expected == list(said(page))


def test_what_is_at_a_place_is_answered_aloud_and_in_writing(page: Page, address: str) -> None:
    open_page(page, address, labels.LISTEN_PAGE)
    upload(page, "win")
    verdict(page, title(seen("win")))
    page.evaluate("window.said = []")
    page.get_by_label(labels.TILES["ask"]).fill("7")
    page.keyboard.press("Enter")

    expected = photo_words.tile_sentence(seen("win").reading.tiles[6], many_rows=seen("win").many_rows)
    expect(page.locator("output")).to_have_text(expected)
    assert [expected] == list(said(page))


def test_it_is_said_again_slower_when_asked(page: Page, address: str) -> None:
    open_page(page, address, labels.LISTEN_PAGE)
    upload(page, "win")
    verdict(page, title(seen("win")))
    once = list(said(page))
    page.evaluate(
        "() => { window.said = []; window.rates = []; const speak = speechSynthesis.speak;"
        " speechSynthesis.speak = (one) => { window.rates.push(one.rate); speak(one); }; }"
    )
    page.get_by_role("button", name=labels.SPEECH["slower"]).click()

    assert once == list(said(page))
    assert page.evaluate("window.rates[0]") < 0.8


def test_after_a_correction_only_the_news_is_said(page: Page, address: str) -> None:
    open_page(page, address, labels.LISTEN_PAGE)
    upload(page, "win")
    verdict(page, title(seen("win")))
    page.evaluate("window.said = []")
    page.locator("button.tile").first.click()
    page.evaluate("window.said = []")
    page.get_by_role("button", name="north", exact=True).click()
    verdict(page, title(with_face(seen("win"), 0, Face.named("north"))))

    assert "Place 1 is now a north." == said(page)[0]
    assert f"{title(with_face(seen('win'), 0, Face.named('north')))}." == said(page)[1]


def test_a_page_chosen_puts_the_keyboard_on_its_heading(page: Page, address: str) -> None:
    open_page(page, address, labels.TABLE_PAGE)

    expect(page.get_by_role("heading", name=labels.TABLE_PAGE, level=1)).to_be_focused()


def test_each_row_of_a_table_is_listed_and_can_be_kept(page: Page, address: str, tmp_path: Path) -> None:
    open_page(page, address, labels.TABLE_PAGE)
    upload(page, "table")
    rows = len(judge_reading(seen("table").reading, load_card(SAMPLES / "card.toml")))
    expect(page.locator("table tbody tr")).to_have_count(rows)
    settle(page, pause=500)
    with page.expect_download() as listed:
        page.get_by_role("button", name=labels.RESULT_LIST).click()
    settle(page, pause=500)
    with page.expect_download() as marked:
        page.get_by_role("button", name=labels.MARKED_PHOTO).click()

    assert rows + 1 == len(Path(listed.value.path()).read_text().splitlines())
    assert Path(marked.value.path()).read_bytes().startswith(b"\x89PNG")


def test_a_table_prints_on_one_page(window: BrowserContext, address: str, tmp_path: Path) -> None:
    page = window.new_page()
    page.add_init_script("window.print = () => {};")
    open_page(page, address, labels.TABLE_PAGE)
    upload(page, "table")
    page.get_by_role("button", name=labels.PRINT).click()
    page.wait_for_selector("iframe", state="attached")
    html = page.locator("iframe").first.get_attribute("srcdoc") or ""
    sheet = window.new_page()
    sheet.set_content(html)
    pdf = sheet.pdf(prefer_css_page_size=True)

    assert 1 == len(re.findall(rb"/Type\s*/Page\b", pdf))


def test_a_photo_of_nothing_gets_help(page: Page, address: str) -> None:
    open_page(page, address, labels.RACK_PAGE)
    upload(page, "no-rack")

    expect(page.locator(".words .title")).not_to_have_text("")
    expect(page.get_by_text("Traceback")).to_have_count(0)


def test_a_broken_photo_gets_a_sentence(page: Page, address: str, tmp_path: Path) -> None:
    broken = tmp_path / "broken.jpg"
    broken.write_bytes((SAMPLES / "win.jpg").read_bytes()[:300])
    open_page(page, address, labels.RACK_PAGE)
    page.locator("input[type=file]").first.set_input_files(broken)

    expect(page.get_by_role("alert")).to_contain_text("broken.jpg")


def test_two_windows_do_not_disturb_each_other(window: BrowserContext, address: str) -> None:
    one, other = window.new_page(), window.new_page()
    for page in (one, other):
        open_page(page, address, labels.RACK_PAGE)
    upload(one, "win")
    upload(other, "one-off")

    verdict(one, title(seen("win")))
    verdict(other, title(seen("one-off")))
    one.locator("button.tile").first.click()
    one.get_by_role("button", name="north", exact=True).click()
    verdict(one, title(with_face(seen("win"), 0, Face.named("north"))))
    verdict(other, title(seen("one-off")))


def test_nothing_is_fetched_from_anywhere_else(page: Page, address: str) -> None:
    strangers: list[str] = []
    page.on("request", lambda request: strangers.append(request.url) if not request.url.startswith(OWN) else None)
    open_page(page, address, labels.RACK_PAGE)
    upload(page, "win")
    verdict(page, title(seen("win")))

    assert [] == strangers


OWN = ("http://localhost:", "ws://localhost:", "data:", "blob:")
