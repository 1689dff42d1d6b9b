"""Practising in a real browser, by keyboard and by speech alone."""

import re
from collections.abc import Sequence
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tilewitness import Face, Rack, load_card
from tilewitness.training.samples import rack_photo
from tilewitness.ui import labels, practising
from tilewitness.ui import practice_labels as words
from tilewitness.ui.practice_words import task_sentences

from .conftest import settle
from .test_accessibility import violations

SAMPLES = Path(__file__).parents[2] / "samples"
SEED = 248  # a set whose artwork the reader knows well
RIGHT = "pair of flowers, kong of 1 bam, kong of 5 bam, kong of 9 dot"
pytestmark = pytest.mark.filterwarnings("ignore::ResourceWarning")  # Playwright's own pipes at exit


def open_practice(page: Page, address: str, learner: str) -> None:
    page.goto(f"{address}/practise")
    expect(page.locator(".palette button").first).to_be_visible()
    page.get_by_label(words.LEARNER).fill(learner)
    page.keyboard.press("Enter")
    page.get_by_role("heading", name=labels.PRACTISE_PAGE, level=1).click()
    settle(page)
    page.wait_for_timeout(500)
    settle(page)


def press_until(page: Page, key: str, wanted: str, most: int = 60) -> None:
    """Press a key until the keyboard is on what is called this."""
    for _ in range(most):
        if wanted == page.evaluate(NAME_OF_FOCUS):
            return
        page.keyboard.press(key)
    raise AssertionError(f"{key} never led to {wanted}")


NAME_OF_FOCUS = """() => {
  let at = document.activeElement;
  while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
  return at?.ariaLabel ?? at?.labels?.[0]?.textContent?.trim() ?? at?.textContent?.trim() ?? "";
}"""


def said(page: Page) -> Sequence[str]:
    spoken: list[str] = page.evaluate("window.said")
    return spoken


def rack(page: Page) -> list[str]:
    return page.locator("button.tile .name").all_inner_texts()


def test_a_hand_is_built_checked_and_read_out_by_keyboard_and_speech_alone(page: Page, address: str) -> None:
    """No mouse and no eyes: all that is done here is done by keys, and all that is known is heard."""
    card = load_card(SAMPLES / "card.toml")
    open_practice(page, address, "Who hears")  # somebody new, whom the card's first hand is given
    press_until(page, "Tab", words.ALOUD)
    if not page.get_by_label(words.ALOUD).is_checked():  # kept from another visit
        page.keyboard.press("Space")
    settle(page)
    press_until(page, "Tab", words.SAY_TASK)
    page.evaluate("window.said = []")
    page.keyboard.press("Enter")
    assert task_sentences(card.hands[0]) == list(said(page))

    press_until(page, "Tab", "1 bam")
    page.evaluate("window.said = []")
    page.keyboard.press("4")  # four of it
    press_until(page, "ArrowRight", "5 bam")
    page.keyboard.press("4")
    press_until(page, "ArrowDown", "5 dot")
    press_until(page, "ArrowRight", "9 dot")
    page.keyboard.press("4")
    for _ in range(3):
        page.keyboard.press("ArrowDown")
    press_until(page, "ArrowLeft", "flower")
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    heard = [sentence for sentence in said(page) if "You have" in sentence]
    assert [
        "four 1 bam at places 1 to 4. You have four tiles.",
        "four 5 bam at places 5 to 8. You have eight tiles.",
        "four 9 dot at places 9 to 12. You have 12 tiles.",
        "flower at place 13. You have 13 tiles.",
        "flower at place 14. You have 14 tiles.",
    ] == heard

    settle(page)
    press_until(page, "Tab", words.CHECK)
    page.evaluate("window.said = []")
    page.keyboard.press("Enter")
    expect(page.locator(".words .title")).to_have_text("Right: Two Lanterns")
    built = Rack(tuple(map(Face.named, rack(page))))
    expected = practising.check_rack(built, card.hands[0], card).verdict.sentences
    page.wait_for_function("window.said.length > 3")
    assert expected[:2] == list(said(page))[:2]
    assert "second opinion" in said(page)[-1]


def test_tiles_are_moved_and_taken_away_by_keys_and_each_step_is_said(page: Page, address: str) -> None:
    open_practice(page, address, "keys")
    page.get_by_label(words.TYPED).fill("1 bam, 2 bam, 3 bam, east")
    page.keyboard.press("Enter")
    expect(page.locator("button.tile")).to_have_count(4)
    news = page.locator(".news")
    page.locator("button.tile").last.focus()
    page.keyboard.press("Shift+ArrowLeft")
    expect(news).to_have_text("east is now at place 3.")
    assert ["1 bam", "2 bam", "east", "3 bam"] == rack(page)

    page.keyboard.press("Home")
    page.keyboard.press("Delete")
    expect(news).to_have_text("1 bam is gone from place 1. You have three tiles.")
    expect(page.locator("button.tile").first).to_be_focused()
    page.keyboard.press("Enter")
    expect(news).to_have_text("Place 1, 2 bam. Chosen: new tiles go behind it.")
    page.locator(".palette").get_by_role("button", name="red dragon").press("2")
    expect(news).to_have_text("two red dragons at places 2 to 3. You have five tiles.")
    assert ["2 bam", "red dragon", "red dragon", "east", "3 bam"] == rack(page)


def test_tiles_are_put_moved_and_taken_away_by_mouse(page: Page, address: str) -> None:
    open_practice(page, address, "mouse")
    palette = page.locator(".palette")
    for name in ("4 crak", "soap", "joker"):
        palette.get_by_role("button", name="white dragon" if name == "soap" else name).click()
    expect(page.locator("button.tile")).to_have_count(3)
    page.locator("button.tile").first.click()
    page.get_by_role("button", name=words.BUILDER["right"]).click()
    assert ["white dragon", "4 crak", "joker"] == rack(page)
    page.get_by_role("button", name=words.BUILDER["remove"]).click()
    assert ["white dragon", "joker"] == rack(page)
    page.get_by_role("button", name=words.BUILDER["empty"]).click()
    expect(page.locator(".nothing")).to_have_text(words.BUILDER["nothing"])


def test_a_photographed_hand_is_checked_corrected_and_counted(page: Page, address: str) -> None:
    """A rendered rack with a mistake planted at its end, and a tile that the learner names otherwise afterwards."""
    photo = rack_photo(Rack.parse(f"{RIGHT.rpartition(',')[0]}, pung of 9 dot, 8 dot").faces, SEED, long=1200)
    open_practice(page, address, "photographer")
    page.get_by_text(words.PHOTO, exact=True).click()
    page.locator("input[type=file]").first.set_input_files({"name": "rack.jpg", "mimeType": "image/jpeg", "buffer": photo})
    expect(page.locator("button.tile")).to_have_count(14)
    settle(page)
    page.get_by_role("button", name=words.CHECK, exact=True).click()
    title = page.locator(".words .title")
    expect(title).to_have_text(re.compile("Two Lanterns"))
    settle(page)
    if "Look first" in title.inner_text():
        page.get_by_role("button", name=words.CONFIRM).click()
    expect(title).to_have_text("Not yet Two Lanterns: a number does not fit")
    expect(page.locator(".words")).to_contain_text("Place 14: an 8 dot does not fit the other numbers, so it must be a 9 dot.")

    page.locator("button.tile").last.click()
    page.get_by_role("dialog").get_by_role("button", name="9 dot", exact=True).first.click()
    expect(page.locator("button.tile .name").last).to_have_text("9 dot")
    settle(page)
    page.get_by_role("button", name=words.CHECK, exact=True).click()
    expect(title).to_have_text(re.compile("right|Right"))
    settle(page)
    if "Look first" in title.inner_text():
        page.get_by_role("button", name=words.CONFIRM).click()
    expect(title).to_have_text("Right: Two Lanterns")
    expect(page.get_by_text(": 1 of 53 hands built.")).to_be_visible()


def test_a_name_like_a_learners_is_asked_about(page: Page, address: str, axe: Path) -> None:
    open_practice(page, address, "Ruth")
    page.get_by_label(words.TYPED).fill(RIGHT)
    page.keyboard.press("Enter")
    expect(page.locator("button.tile")).to_have_count(14)
    settle(page)
    page.get_by_role("button", name=words.CHECK, exact=True).click()
    expect(page.get_by_text("Written down in the notebook of Ruth.")).to_be_visible()
    settle(page)
    page.get_by_label(words.LEARNER).fill("Rut")
    page.keyboard.press("Enter")
    expect(page.get_by_role("alert")).to_contain_text("Did you mean Ruth?")
    assert [] == violations(page, axe)
    page.get_by_role("button", name=words.MEANT_YES.format(known="Ruth")).click()
    expect(page.get_by_label(words.LEARNER)).to_have_value("Ruth")
    expect(page.get_by_text(": 1 of 53 hands built.")).to_be_visible()


def test_tiles_in_place_are_there_after_another_page(page: Page, address: str) -> None:
    open_practice(page, address, "wanderer")
    page.locator(".palette").get_by_role("button", name="4 crak").click()
    expect(page.locator("button.tile")).to_have_count(1)
    settle(page)
    page.get_by_role("link", name=labels.CARD_PAGE).first.click()
    expect(page.get_by_role("heading", name=labels.CARD_PAGE, level=1)).to_be_visible()
    page.get_by_role("link", name=labels.PRACTISE_PAGE).first.click()

    expect(page.locator("button.tile .name")).to_have_text(["4 crak"])


def test_what_was_practised_can_be_kept_as_a_list(page: Page, address: str) -> None:
    open_practice(page, address, "lister")
    page.get_by_label(words.TYPED).fill(RIGHT)
    page.keyboard.press("Enter")
    expect(page.locator("button.tile")).to_have_count(14)
    settle(page)
    page.get_by_role("button", name=words.CHECK, exact=True).click()
    expect(page.locator(".words .title")).to_have_text(re.compile("Two Lanterns"))
    settle(page, pause=500)
    with page.expect_download() as listed:
        page.get_by_role("button", name=words.ATTEMPT_LIST).click()

    assert ["lister"] == [line.split(",")[0] for line in Path(listed.value.path()).read_text().splitlines()[1:]]


def test_practice_survives_a_window_that_is_closed(window: BrowserContext, address: str) -> None:
    page = window.new_page()
    open_practice(page, address, "closer")
    page.get_by_label(words.TYPED).fill(RIGHT)
    page.keyboard.press("Enter")
    expect(page.locator("button.tile")).to_have_count(14)
    settle(page)
    page.get_by_role("button", name=words.CHECK, exact=True).click()
    expect(page.locator(".words .title")).to_have_text("Right: Two Lanterns")
    page.close()

    again = window.new_page()
    open_practice(again, address, "closer")
    expect(again.get_by_text(": 1 of 53 hands built.")).to_be_visible()
