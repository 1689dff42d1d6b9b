"""Typing in a card in a real browser: word by word, by keyboard alone, with nothing lost."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tilewitness.ui import choices, drafts, labels
from tilewitness.ui.drafts import Draft

from .conftest import open_page
from .test_accessibility import violations

pytestmark = pytest.mark.filterwarnings("ignore::ResourceWarning")  # Playwright's own pipes at exit

HAND = "pair of flowers, kongs of 2, 4 and 6 in one suit; worth 25"


@pytest.fixture(autouse=True)
def no_drafts(data_folder: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The folder of the app as this process sees it, and no draft or card in it afterwards."""
    monkeypatch.setenv("TILEWITNESS_DATA", str(data_folder))
    drafts.drop(drafts.NEW)
    yield
    drafts.drop(drafts.NEW)
    for name in choices.kept_cards():
        choices.forget_card(name)
        drafts.drop(name)
    choices.save(choices.Choices())


def found(page: Page, text: str) -> None:
    expect(page.locator(".found")).to_contain_text(text)


def test_faulty_words_are_marked_and_told_while_typing(page: Page, address: str, axe: Path) -> None:
    open_page(page, address, labels.TYPE_PAGE)
    page.get_by_label(labels.TYPING["wording"]).fill("pair of flowers, kogn of 4 in bam; wroth 25")

    found(page, 'Word 4: expected a group, found "kogn". Did you mean "kong"?')
    assert ["kogn", "wroth"] == page.locator(".marked mark").all_inner_texts()
    assert [] == violations(page, axe)


def test_the_example_is_drawn_while_typing(page: Page, address: str, axe: Path) -> None:
    open_page(page, address, labels.TYPE_PAGE)
    page.get_by_label(labels.TYPING["wording"]).fill(HAND)

    found(page, "Three forms.")
    expect(page.get_by_role("img", name="four 2 bam")).to_be_visible()
    assert ["pair of flowers", "kong of 2 bam", "kong of 4 bam", "kong of 6 bam"] == page.locator(".groups p").all_inner_texts()
    assert [] == violations(page, axe)


def test_a_draft_survives_a_closed_window(browser: Browser, address: str) -> None:
    typed = {"pair of flo": 'found "flo"', "pair of flowers, kogn": 'found "kogn"'}
    for before, (wording, answer) in zip(("", *typed), typed.items(), strict=False):
        window = browser.new_context()
        page = window.new_page()
        open_page(page, address, labels.TYPE_PAGE)
        expect(page.get_by_label(labels.TYPING["wording"])).to_have_value(before)
        page.get_by_label(labels.TYPING["hand"]).fill("Half a hand")
        page.get_by_label(labels.TYPING["wording"]).fill(wording)
        found(page, answer)
        window.close()

    assert Draft(hand="Half a hand", wording="pair of flowers, kogn") == drafts.load(drafts.NEW)


def test_a_whole_card_is_typed_by_keyboard_alone(page: Page, address: str, axe: Path) -> None:
    open_page(page, address, labels.TYPE_PAGE)
    page.get_by_label(labels.TYPING["section"]).focus()
    page.keyboard.type("First")
    page.keyboard.press("Tab")
    page.keyboard.type("Steps")
    page.keyboard.press("Tab")
    page.keyboard.type(HAND)
    page.keyboard.press("Enter")
    found(page, f"{labels.ON_THE_CARD} Steps.")
    expect(page.get_by_label(labels.TYPING["hand"])).to_be_focused()
    page.keyboard.type("Winds")
    page.keyboard.press("Tab")
    page.keyboard.type("kongs of east, south and west, pair of north; worth 25")
    page.keyboard.press("Enter")
    found(page, f"{labels.ON_THE_CARD} Winds.")
    assert [] == violations(page, axe)
    keep = page.get_by_role("button", name=labels.KEEP_CARD)
    for _ in range(20):
        if keep.evaluate("button => button === document.activeElement"):
            break
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")

    expect(page.get_by_text("My card: two hands in one section.")).to_be_visible()
    assert ["My card"] == choices.kept_cards()


def test_the_keyboard_is_never_lost_while_a_card_is_forgotten(page: Page, address: str) -> None:
    choices.keep_card("mine", f'name = "Mine"\n["One"]\n"Only" = "{HAND}"\n')
    choices.save(choices.Choices(card="mine"))
    page.goto(f"{address}/card")
    forget = page.get_by_role("button", name=f"{labels.FORGET} mine")
    no = page.get_by_role("button", name=labels.DELETE_NO)
    forget.press("Enter")
    expect(no).to_be_focused()
    no.press("Enter")
    expect(forget).to_be_focused()
    forget.press("Enter")
    page.get_by_role("button", name=labels.DELETE_YES).press("Enter")

    expect(page.get_by_role("radio").first).to_be_focused()
    assert [] == choices.kept_cards()
