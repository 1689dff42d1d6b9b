"""axe-core on every screen: no violation of WCAG 2.2 at levels A and AA."""

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tilewitness.ui import labels, practice_labels

SAMPLES = Path(__file__).parents[2] / "samples"
LEVELS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]

STREAMLITS_OWN: dict[str, str] = {}
"""Violations in Streamlit's own widgets, rule by rule with the reason. There is none at these levels; of the best
practices one is left, `presentation-role-conflict` on the drop zone of its file chooser, which can take the focus."""


def violations(page: Page, axe: Path) -> list[str]:
    page.wait_for_timeout(500)  # what is being drawn anew is paler than what it becomes
    page.wait_for_selector('[data-testid="stApp"][data-test-script-state="notRunning"]')
    page.add_script_tag(path=axe)
    found: dict[str, Any] = page.evaluate("levels => axe.run(document, {runOnly: levels})", LEVELS)
    return [
        f"{one['id']}: {node['html'][:160]}"
        for one in found["violations"]
        if one["id"] not in STREAMLITS_OWN
        for node in one["nodes"]
    ]


def open_page(page: Page, address: str, heading: str) -> None:
    page.goto(address)
    page.get_by_role("link", name=heading).first.click()
    expect(page.get_by_role("heading", name=heading, level=1)).to_be_visible()


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


@pytest.mark.parametrize("heading", [labels.PRACTISE_PAGE, labels.QUIZ_PAGE])
def test_at_200_percent_zoom_practice_fits_as_well(heading: str, page: Page, address: str) -> None:
    page.set_viewport_size({"width": 640, "height": 500})
    open_page_small(page, address, heading)
    expect(page.locator("#task-heading")).not_to_have_text("")
    page.wait_for_timeout(500)

    assert fits(page)


@pytest.mark.parametrize("heading", [labels.RACK_PAGE, labels.LISTEN_PAGE])
def test_at_200_percent_zoom_nothing_scrolls_sideways(heading: str, page: Page, address: str) -> None:
    page.set_viewport_size({"width": 640, "height": 500})  # what a window of 1280 by 1000 shows at 200 percent
    open_page_small(page, address, heading)
    upload(page, "win")

    assert fits(page)


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
    paths = {labels.RACK_PAGE: "", labels.LISTEN_PAGE: "listen", labels.PRACTISE_PAGE: "practise", labels.QUIZ_PAGE: "quiz"}
    page.goto(f"{address}/{paths[heading]}")
    expect(page.get_by_role("heading", name=heading, level=1)).to_be_visible()
