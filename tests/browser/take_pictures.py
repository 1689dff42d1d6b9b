"""Take the README's pictures from the running app: `python tests/browser/take_pictures.py`, after installing."""

import io
import os
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

from PIL import Image
from playwright.sync_api import Page, expect, sync_playwright

from tilewitness.ui import labels, practice_labels

ROOT = Path(__file__).parents[2]
OUT = ROOT / "ui" / "pictures"
PORT = 8655
PICTURES = (
    ("rack", labels.RACK_PAGE, "one-off", 1160),
    ("table", labels.TABLE_PAGE, "table", 1180),
    ("listen", labels.LISTEN_PAGE, "win", 1220),
    ("practise", labels.PRACTISE_PAGE, "", 1720),
)
BUILT = "pair of flowers, kong of 1 bam, kong of 5 bam, kong of 9 bam"  # the last kong should be of another suit


def take(page: Page, name: str, heading: str, sample: str, height: int) -> None:
    """Show a sample on a page, or a built hand, and keep what a person sees."""
    page.set_viewport_size({"width": 1240, "height": height})
    page.add_init_script("window.speechSynthesis.speak = () => {};")  # a browser without voices complains of that
    page.goto(f"http://localhost:{PORT}")
    page.get_by_role("link", name=heading).first.click()
    expect(page.get_by_role("heading", name=heading, level=1)).to_be_visible(timeout=60_000)
    if sample:
        page.locator("input[type=file]").first.set_input_files(ROOT / "samples" / f"{sample}.jpg")
    else:
        page.get_by_label(practice_labels.TYPED).fill(BUILT)
        page.keyboard.press("Enter")
    expect(page.locator("button.tile").first).to_be_attached(timeout=60_000)
    page.wait_for_timeout(1500)
    if not sample:
        page.get_by_role("button", name=practice_labels.CHECK, exact=True).click()
        expect(page.locator(".words .title")).not_to_have_text("")
        page.wait_for_timeout(1500)
        page.locator(".builder").evaluate("part => part.scrollIntoView()")
        page.locator("[data-testid=stMain]").evaluate("main => main.scrollBy(0, -80)")  # from under the menu
        page.wait_for_timeout(300)
    page.evaluate("document.activeElement.blur()")
    image = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    image.quantize(256, dither=Image.Dither.NONE).save(OUT / f"{name}.png", optimize=True)


def main() -> None:
    """Start the app with choices of its own, take every picture, stop it."""
    with tempfile.TemporaryDirectory() as data:
        command = [sys.executable, "-m", "tilewitness", "app", "--no-browser", "--port", str(PORT)]
        server = subprocess.Popen(command, env={**os.environ, "TILEWITNESS_DATA": data})
        try:
            _wait()
            with sync_playwright() as playwright:
                options = ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run"]
                browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=options)
                for picture in PICTURES:
                    take(browser.new_page(), *picture)
                browser.close()
        finally:
            server.terminate()
            server.wait()


def _wait() -> None:
    for _ in range(300):
        try:
            urllib.request.urlopen(f"http://localhost:{PORT}/_stcore/health", timeout=1).close()
            return
        except OSError:
            time.sleep(0.1)
    raise SystemExit("The app did not start.")


if __name__ == "__main__":
    main()
