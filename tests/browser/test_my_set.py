"""A set is learnt in the real app by keyboard, kept, and photos are read with it."""

from functools import cache
from pathlib import Path

import cv2
import pytest
from playwright.sync_api import Page, expect

from tilewitness.training.set_photos import render_set
from tilewitness.ui import kept_sets, labels, set_words
from tilewitness.vision.lesson import layout
from tilewitness.vision.sets import TileSet

from .conftest import open_page, settle
from .test_accessibility import violations

pytestmark = pytest.mark.filterwarnings("ignore::ResourceWarning")  # Playwright's own pipes at exit


@cache
def photo_of_layout() -> bytes:
    scene = render_set(1, layout(), count=0).laid_out
    return cv2.imencode(".jpg", scene.image)[1].tobytes()


def show_layout(page: Page, address: str, folder: Path) -> None:
    file = folder / "layout.jpg"
    file.write_bytes(photo_of_layout())
    open_page(page, address, labels.SETS_PAGE)
    page.locator("input[type=file]").first.set_input_files(file)
    expect(page.locator("button.tile")).to_have_count(sum(map(len, layout())))
    settle(page)


def test_a_set_is_learnt_corrected_by_keyboard_and_kept(page: Page, address: str, tmp_path: Path) -> None:
    show_layout(page, address, tmp_path)
    page.locator("button.tile").first.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(page.get_by_role("dialog")).to_be_visible()
    page.keyboard.press("Enter")  # what the layout says comes first
    expect(page.locator("button.tile").nth(1)).to_contain_text(labels.CORRECTED)
    settle(page)
    page.get_by_label(labels.SET_NAME).fill("Learnt in a browser")
    page.get_by_label(labels.SET_NAME).press("Tab")
    settle(page)
    page.get_by_role("button", name=labels.KEEP_SET).click()
    expect(page.get_by_text('The set "Learnt in a browser" is kept')).to_be_visible()
    page.get_by_role("link", name=labels.RACK_PAGE).first.click()

    expect(page.get_by_role("combobox", name=labels.WHICH_SET)).to_have_value("Learnt in a browser")


def test_the_layout_is_told_in_words_that_can_be_heard(page: Page, address: str) -> None:
    open_page(page, address, labels.SETS_PAGE)
    settle(page)
    page.get_by_role("button", name=labels.SPEECH["again"]).click()
    said: list[str] = page.evaluate("window.said")

    assert set_words.layout_lines(layout()) == said[1:]


def test_what_was_made_of_a_layout_has_no_barriers(page: Page, address: str, axe: Path, tmp_path: Path) -> None:
    show_layout(page, address, tmp_path)

    assert [] == violations(page, axe)


def test_the_keyboard_is_never_lost_while_a_set_is_deleted(
    page: Page, address: str, data_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TILEWITNESS_DATA", str(data_folder))
    kept_sets.save_set(TileSet("Größe 2"))
    page.goto(f"{address}/sets")
    page.locator("summary", has_text="Größe 2").click()
    delete = page.locator(".st-key-sets-delete-Gr--e-2").get_by_role("button")
    no = page.get_by_role("button", name=labels.DELETE_NO)
    delete.press("Enter")
    expect(no).to_be_focused()
    no.press("Enter")
    expect(delete).to_be_focused()
    delete.press("Enter")
    page.get_by_role("button", name=labels.DELETE_YES).press("Enter")

    expect(page.get_by_role("heading", name=labels.KEPT_SETS)).to_be_focused()
    assert "Größe 2" not in kept_sets.names()
