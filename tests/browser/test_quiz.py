"""A quiz in a real browser, by keyboard and by speech."""

import pytest
from playwright.sync_api import Page, expect

from tilewitness.ui import practice_labels as words

from .conftest import settle

pytestmark = pytest.mark.filterwarnings("ignore::ResourceWarning")  # Playwright's own pipes at exit


def test_questions_are_heard_answered_and_explained_without_a_mouse(page: Page, address: str) -> None:
    page.goto(f"{address}/quiz")
    heading = page.locator("#task-heading")
    expect(heading).to_have_text("Question 1 of 10")
    settle(page, pause=500)
    aloud = page.get_by_label(words.ALOUD)
    aloud.focus()
    if not aloud.is_checked():  # kept from another visit
        page.keyboard.press("Space")
    settle(page, pause=500)
    page.get_by_label(words.WRONG_TILE).focus()
    page.evaluate("window.said = []")
    page.keyboard.press("Space")
    page.wait_for_function("window.said.length > 14")  # the question and its fourteen choices
    assert "Question 1 of 10." == page.evaluate("window.said[0]")
    assert page.evaluate("window.said.at(-1)").startswith("Place 14: ")

    settle(page, pause=500)
    page.get_by_role("radiogroup", name=words.CHOOSE_ONE).get_by_role("radio").first.focus()
    page.keyboard.press("Space")
    settle(page, pause=500)
    page.get_by_role("button", name=words.ANSWER, exact=True).focus()
    page.evaluate("window.said = []")
    page.keyboard.press("Enter")
    expect(page.locator(".words .title")).to_contain_text("ight")
    page.wait_for_function("window.said.length > 2")
    assert page.evaluate("window.said[0]").startswith(("Right.", "Not right. The answer is: Place "))

    further = page.get_by_role("button", name=words.NEXT_QUESTION)
    expect(further).to_be_focused()
    page.keyboard.press("Enter")
    expect(heading).to_have_text("Question 2 of 10")
    expect(page.get_by_role("button", name=words.ANSWER, exact=True)).to_be_focused()
