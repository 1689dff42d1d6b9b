"""A running app and a real browser. Skipped, with the reason, where Chromium is not installed."""

import os
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, expect, sync_playwright

CHROMIUM = Path("/usr/bin/chromium")
OPTIONS = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run")
AXE = Path(os.environ.get("TILEWITNESS_AXE", "/nonexistent"))
SPY = "window.said = []; window.speechSynthesis.speak = (utterance) => window.said.push(utterance.text);"

PATIENCE = 60_000
"""Milliseconds to wait for what must come: a first photo on a busy machine takes its time."""
expect.set_options(timeout=PATIENCE)


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("localhost", 0))
        return int(probe.getsockname()[1])


@pytest.fixture(scope="session")
def data_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("data")


@pytest.fixture(scope="session")
def server(data_folder: Path) -> Iterator[subprocess.Popen[bytes]]:
    """The app as the command line starts it; `server.args[-1]` is its port."""
    port = _free_port()
    command = [sys.executable, "-m", "tilewitness", "app", "--no-browser", "--port", str(port)]
    environment = {**os.environ, "TILEWITNESS_DATA": str(data_folder)}
    with subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL) as process:
        _wait_until_up(f"http://localhost:{port}/_stcore/health", process)
        yield process
        process.terminate()


def _wait_until_up(address: str, process: subprocess.Popen[bytes]) -> None:
    for _ in range(300):
        try:
            with urllib.request.urlopen(address, timeout=1):
                return
        except OSError:
            assert process.poll() is None, "the app stopped while it was starting"
            time.sleep(0.1)
    raise AssertionError("the app did not start within 30 seconds")


@pytest.fixture(scope="session")
def address(server: subprocess.Popen[bytes]) -> str:
    assert isinstance(server.args, list)
    return f"http://localhost:{server.args[-1]}"


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    if not CHROMIUM.exists():
        pytest.skip("needs Chromium: sudo apt-get install chromium")
    with sync_playwright() as started:
        yield started


def launched(playwright: Playwright, *more: str) -> Browser:
    """A Chromium without a face."""
    return playwright.chromium.launch(executable_path=CHROMIUM, args=[*OPTIONS, *more])


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    started = launched(playwright)
    yield started
    started.close()


@pytest.fixture
def window(browser: Browser) -> Iterator[BrowserContext]:
    """A window of its own, in which speech is written down in place of being heard."""
    context = browser.new_context(viewport={"width": 1280, "height": 1000})
    context.set_default_timeout(PATIENCE)
    context.add_init_script(SPY)
    yield context
    context.close()


@pytest.fixture
def page(window: BrowserContext) -> Page:
    return window.new_page()


@pytest.fixture(scope="session")
def axe() -> Path:
    if not AXE.exists():
        pytest.skip("needs axe-core: npm install axe-core@4.14.1, then set TILEWITNESS_AXE to its axe.min.js")
    return AXE


def open_page(page: Page, address: str, heading: str) -> None:
    """Choose a page from the list of pages."""
    page.goto(address)
    page.get_by_role("link", name=heading).first.click()
    expect(page.get_by_role("heading", name=heading, level=1)).to_be_visible()


def settle(page: Page, *, pause: int = 0) -> None:
    """Wait until the page is drawn to its end: what is drawn anew is paler, and a button pressed meanwhile does nothing.

    Args:
        pause: milliseconds to wait first, where drawing may not have begun yet.
    """
    page.wait_for_timeout(pause)
    page.wait_for_selector('[data-testid="stApp"][data-test-script-state="notRunning"]')
