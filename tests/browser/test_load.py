"""How the app bears use: time to the verdict, many photos in a row, several at once."""

import subprocess
import time
from pathlib import Path
from statistics import median
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tilewitness import load_card, read_photo
from tilewitness.ui import labels
from tilewitness.ui.judging import judge_reading

SAMPLES = Path(__file__).parents[2] / "samples"
ROUNDS = 5
"""How often four photos come at once."""
NAMES = ("win", "one-off", "joker-in-pair", "exposed", "upside-down-tile")


def open_rack(page: Page, address: str) -> None:
    page.goto(address)
    expect(page.get_by_role("heading", name=labels.RACK_PAGE, level=1)).to_be_visible()


def upload(page: Page, name: str, as_name: str) -> None:
    """Choose a sample under a new name and wait for its answer."""
    payload = {"name": f"{as_name}.jpg", "mimeType": "image/jpeg", "buffer": (SAMPLES / f"{name}.jpg").read_bytes()}
    page.locator("input[type=file]").first.set_input_files(payload)
    expect(page.locator(f".answer[data-photo$=' {as_name}.jpg']")).to_be_visible(timeout=60_000)


def megabytes(process: subprocess.Popen[bytes]) -> float:
    """Resident memory of the app; 0 where the system does not tell."""
    status = Path(f"/proc/{process.pid}/status")
    if not status.exists():
        pytest.skip("memory is read from /proc, which this system lacks")
    (line,) = [line for line in status.read_text().splitlines() if line.startswith("VmRSS")]
    return int(line.split()[1]) / 1024


def test_the_app_adds_little_to_the_time_of_judging(
    page: Page, address: str, benchmark: Any
) -> None:
    """Run with `--benchmark-enable -s` on a quiet machine: at most 0.7 s between the two is wished for."""
    card = load_card(SAMPLES / "card.toml")
    photo = (SAMPLES / "win.jpg").read_bytes()
    judge_reading(read_photo(photo), card)  # opens the networks
    alone, in_app = [], []
    open_rack(page, address)
    upload(page, "win", "first")

    def both() -> None:
        start = time.perf_counter()
        judge_reading(read_photo(photo), card)
        alone.append(time.perf_counter() - start)
        upload(page, "win", f"photo {len(alone)}")
        in_app.append(time.perf_counter() - start - alone[-1])

    benchmark.pedantic(both, rounds=7)
    print(f"judging alone {median(alone):.2f} s, in the app {median(in_app):.2f} s")


def test_thirty_photos_in_a_row_leave_memory_flat(
    page: Page, address: str, server: subprocess.Popen[bytes]
) -> None:
    open_rack(page, address)
    sizes = []
    for number in range(30):
        upload(page, NAMES[number % len(NAMES)], f"row {number}")
        sizes.append(megabytes(server))
    print("megabytes:", [round(size) for size in sizes])

    assert max(sizes) <= 1.1 * sizes[0]


def test_four_photos_at_once_are_all_answered_and_leave_memory_flat(
    browser: Browser, address: str, server: subprocess.Popen[bytes]
) -> None:
    windows: list[BrowserContext] = [browser.new_context() for _ in range(4)]
    pages = [window.new_page() for window in windows]
    for page in pages:
        open_rack(page, address)
        upload(page, "win", "first")
    before = megabytes(server)
    for turn in range(ROUNDS):
        for number, page in enumerate(pages):
            name = NAMES[(number + turn) % len(NAMES)]
            payload = {"name": f"turn {turn}.jpg", "mimeType": "image/jpeg", "buffer": (SAMPLES / f"{name}.jpg").read_bytes()}
            page.locator("input[type=file]").first.set_input_files(payload)
        for page in pages:
            expect(page.locator(f".answer[data-photo$=' turn {turn}.jpg']")).to_be_visible(timeout=60_000)
    after = megabytes(server)
    print("megabytes:", round(before), round(after))
    for window in windows:
        window.close()

    assert after <= 1.1 * before
