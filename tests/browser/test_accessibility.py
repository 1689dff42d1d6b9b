"""axe-core on every screen: no violation of WCAG 2.2 at levels A and AA."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tilewitness.ui import choices, labels, practice_labels

from .conftest import open_page, settle

SAMPLES = Path(__file__).parents[2] / "samples"
LEVELS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]

STREAMLITS_OWN: dict[str, str] = {}
"""Violations in Streamlit's own widgets, rule by rule with the reason. There is none at these levels; of the best
practices one is left, `presentation-role-conflict` on the drop zone of its file chooser, which can take the focus."""


def violations(page: Page, axe: Path) -> list[str]:
    settle(page, pause=500)
    page.add_script_tag(path=axe)
    found: dict[str, Any] = page.evaluate("levels => axe.run(document, {runOnly: levels})", LEVELS)
    return [
        f"{one['id']}: {node['html'][:160]}"
        for one in found["violations"]
        if one["id"] not in STREAMLITS_OWN
        for node in one["nodes"]
    ]


def upload(page: Page, name: str) -> None:
    page.locator("input[type=file]").first.set_input_files(SAMPLES / f"{name}.jpg")
    expect(page.locator(".words .title")).not_to_have_text("")
    page.wait_for_timeout(500)  # the layout below follows the answer


@pytest.mark.parametrize(
    "heading",
    [
        labels.RACK_PAGE, labels.TABLE_PAGE, labels.LISTEN_PAGE, labels.PRACTISE_PAGE, labels.QUIZ_PAGE,
        labels.SETS_PAGE, labels.TYPE_PAGE, labels.CARD_PAGE,
    ],
)
def test_every_page_before_a_photo(heading: str, page: Page, address: str, axe: Path) -> None:
    open_page(page, address, heading)

    assert [] == violations(page, axe)


@pytest.mark.parametrize(
    ("heading", "sample"),
    [
        (labels.RACK_PAGE, "win"),
        (labels.RACK_PAGE, "one-off"),
        (labels.RACK_PAGE, "exposed"),
        (labels.RACK_PAGE, "no-rack"),
        (labels.TABLE_PAGE, "table"),
        (labels.LISTEN_PAGE, "win"),
    ],
)
def test_every_page_with_a_photo(heading: str, sample: str, page: Page, address: str, axe: Path) -> None:
    open_page(page, address, heading)
    upload(page, sample)

    assert [] == violations(page, axe)


def test_a_built_hand_that_was_checked(page: Page, address: str, axe: Path) -> None:
    open_page(page, address, labels.PRACTISE_PAGE)
    page.get_by_label(practice_labels.TYPED).fill("pair of flowers, kong of 1 bam, kong of 5 bam, pung of 9 dot, 8 dot")
    page.keyboard.press("Enter")
    expect(page.locator("button.tile")).to_have_count(14)
    page.wait_for_selector('[data-testid="stApp"][data-test-script-state="notRunning"]')
    page.get_by_role("button", name=practice_labels.CHECK, exact=True).click()
    expect(page.locator(".words .title")).not_to_have_text("")
    page.get_by_text(practice_labels.OTHER_WAYS).click()

    assert [] == violations(page, axe)


def test_a_question_that_was_answered(page: Page, address: str, axe: Path) -> None:
    open_page(page, address, labels.QUIZ_PAGE)
    page.get_by_role("radiogroup", name=practice_labels.CHOOSE_ONE).locator("label").first.click()
    page.wait_for_timeout(500)
    page.wait_for_selector('[data-testid="stApp"][data-test-script-state="notRunning"]')
    page.get_by_role("button", name=practice_labels.ANSWER, exact=True).click()
    expect(page.locator(".words .title")).not_to_have_text("")

    assert [] == violations(page, axe)


def test_the_question_about_a_tile(page: Page, address: str, axe: Path) -> None:
    open_page(page, address, labels.RACK_PAGE)
    upload(page, "win")
    page.locator("button.tile").first.click()
    expect(page.get_by_role("dialog")).to_be_visible()

    assert [] == violations(page, axe)


def test_an_error(page: Page, address: str, axe: Path, tmp_path: Path) -> None:
    (tmp_path / "empty.jpg").write_bytes(b"")
    open_page(page, address, labels.RACK_PAGE)
    page.locator("input[type=file]").first.set_input_files(tmp_path / "empty.jpg")
    expect(page.get_by_role("alert")).to_be_visible()

    assert [] == violations(page, axe)


def test_samples_and_camera_on_offer(page: Page, address: str, axe: Path) -> None:
    open_page(page, address, labels.RACK_PAGE)
    page.get_by_text(labels.OTHER_SAMPLES).click()
    page.get_by_text(labels.USE_CAMERA).click()

    assert [] == violations(page, axe)


def test_hands_that_rows_were_meant_to_be_and_their_layouts(page: Page, address: str, axe: Path) -> None:
    open_page(page, address, labels.TABLE_PAGE)
    upload(page, "table")
    page.get_by_text(labels.MEANT).click()
    page.locator("summary", has_text="Row 1").click()

    assert [] == violations(page, axe)


def test_a_built_hand_on_a_photo(page: Page, address: str, axe: Path) -> None:
    open_page(page, address, labels.PRACTISE_PAGE)
    page.get_by_role("radiogroup", name=practice_labels.HOW).get_by_text(practice_labels.PHOTO).click()
    settle(page, pause=500)
    page.locator("input[type=file]").first.set_input_files(SAMPLES / "win.jpg")
    expect(page.locator("button.tile")).to_have_count(14)

    assert [] == violations(page, axe)


@pytest.fixture
def two_cards(data_folder: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Two cards of the person's own, of which the first is judged by."""
    monkeypatch.setenv("TILEWITNESS_DATA", str(data_folder))
    choices.keep_card("handbook", (SAMPLES / "handbook.toml").read_text(encoding="utf-8"))
    choices.keep_card("coast", (SAMPLES / "card.toml").read_text(encoding="utf-8"))
    choices.save(choices.Choices(card="handbook"))
    yield
    for name in ("handbook", "coast"):
        choices.forget_card(name)
    choices.save(choices.Choices())


@pytest.mark.usefixtures("two_cards")
def test_two_cards_compared(page: Page, address: str, axe: Path) -> None:
    open_page(page, address, labels.CARD_PAGE)
    box = page.get_by_role("combobox", name=labels.COMPARE_WITH)
    box.scroll_into_view_if_needed()  # scrolling closes an open list as well
    settle(page, pause=500)
    box.click()
    page.get_by_role("option", name="coast").click()
    expect(page.get_by_role("heading", name="Gone", level=3)).to_be_visible()
    page.locator("summary").first.click()

    assert [] == violations(page, axe)


@pytest.mark.usefixtures("two_cards")
def test_another_card_is_chosen_by_keyboard(page: Page, address: str, axe: Path) -> None:
    open_page(page, address, labels.CARD_PAGE)
    page.get_by_role("radio", name="handbook").focus()
    page.keyboard.press("ArrowUp")
    expect(page.get_by_role("radio", name="coast")).to_be_checked()

    assert [] == violations(page, axe)
    assert "coast" == choices.load().card


def test_the_list_of_pages_on_a_phone(page: Page, address: str, axe: Path) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(address)
    page.get_by_test_id("stExpandSidebarButton").click()
    expect(page.get_by_role("link", name=labels.LISTEN_PAGE)).to_be_visible()
    assert [] == violations(page, axe)
    page.get_by_role("link", name=labels.LISTEN_PAGE).click()

    expect(page.get_by_role("heading", name=labels.LISTEN_PAGE, level=1)).to_be_focused()
    page.get_by_role("button", name=labels.TRY_SAMPLE).click(trial=True)  # nothing lies over it


PAGES = {
    labels.RACK_PAGE: "", labels.TABLE_PAGE: "table", labels.LISTEN_PAGE: "listen", labels.PRACTISE_PAGE: "practise",
    labels.QUIZ_PAGE: "quiz", labels.SETS_PAGE: "sets", labels.TYPE_PAGE: "type_card", labels.CARD_PAGE: "card",
}  # fmt: skip
PROBES = ("/_stcore/health", "/_stcore/host-config")
"""A page opened by its address makes Streamlit ask for these below that address first, in vain, before it asks
where they are: its own way to find out under which path it is served."""


@pytest.mark.parametrize("heading", PAGES)
def test_every_page_says_its_title_and_language_and_complains_of_nothing(heading: str, page: Page, address: str) -> None:
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on(
        "console",
        lambda message: complaints.append(f"{message.text} {message.location['url']}")
        if message.type in ("error", "warning") and not message.location["url"].endswith(PROBES)
        else None,
    )
    page.goto(f"{address}/{PAGES[heading]}")
    expect(page.get_by_role("heading", name=heading, level=1)).to_be_visible()
    settle(page, pause=500)

    assert heading == page.title()
    assert "en" == page.locator("html").get_attribute("lang")
    assert [] == complaints


@pytest.mark.parametrize("heading", PAGES)
def test_at_200_percent_zoom_every_page_fits(heading: str, page: Page, address: str) -> None:
    page.set_viewport_size({"width": 640, "height": 500})  # what a window of 1280 by 1000 shows at 200 percent
    open_page_small(page, address, heading)
    settle(page, pause=500)

    assert fits(page)


@pytest.mark.parametrize("heading", PAGES)
def test_every_page_fits_320_pixels(heading: str, page: Page, address: str) -> None:
    """WCAG 2.2, success criterion 1.4.10 Reflow."""
    page.set_viewport_size({"width": 320, "height": 640})
    open_page_small(page, address, heading)
    settle(page, pause=500)

    assert fits(page)


@pytest.mark.parametrize("heading", [labels.PRACTISE_PAGE, labels.QUIZ_PAGE])
def test_at_200_percent_zoom_practice_fits_as_well(heading: str, page: Page, address: str) -> None:
    page.set_viewport_size({"width": 640, "height": 500})
    open_page_small(page, address, heading)
    expect(page.locator("#task-heading")).not_to_have_text("")
    page.wait_for_timeout(500)

    assert fits(page)


@pytest.mark.parametrize("width", [740, 820, 1000])
def test_on_a_tablet_no_drawn_tile_lies_beyond_the_edge(width: int, page: Page, address: str) -> None:
    page.set_viewport_size({"width": width, "height": 1000})
    open_page_small(page, address, labels.PRACTISE_PAGE)
    expect(page.get_by_role("button", name="9 bam")).to_be_visible()
    settle(page, pause=500)

    assert fits(page)


@pytest.mark.parametrize("heading", [labels.RACK_PAGE, labels.LISTEN_PAGE])
def test_at_200_percent_zoom_the_answer_is_seen_from_its_beginning(heading: str, page: Page, address: str) -> None:
    page.set_viewport_size({"width": 640, "height": 500})  # what a window of 1280 by 1000 shows at 200 percent
    open_page_small(page, address, heading)
    upload(page, "win")
    settle(page, pause=500)
    title = page.locator(".words .title").bounding_box()
    header = page.get_by_test_id("stHeader").bounding_box()

    assert fits(page)
    assert title and header
    assert header["y"] + header["height"] <= title["y"] <= 250


def fits(page: Page) -> bool:
    """Nothing is wider than the window."""
    return bool(
        page.evaluate(
            "() => { const main = document.querySelector('[data-testid=stMain]');"
            " return main.scrollWidth <= main.clientWidth; }"
        )
    )


def open_page_small(page: Page, address: str, heading: str) -> None:
    """In a narrow window the pages stand in a menu, so go there by address."""
    page.goto(f"{address}/{PAGES[heading]}")
    expect(page.get_by_role("heading", name=heading, level=1)).to_be_visible()
