"""Photos as they come from phones, cameras and the web, chosen in the real app."""

import io
import struct
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from pillow_heif import from_pillow
from playwright.sync_api import Browser, Page, Playwright, expect

from tilewitness.ui import labels

from .conftest import PATIENCE, launched

SAMPLES = Path(__file__).parents[2] / "samples"
pytestmark = pytest.mark.filterwarnings("ignore::ResourceWarning")  # Playwright's own pipes at exit


def choose(page: Page, address: str, name: str, data: bytes) -> None:
    page.goto(address)
    expect(page.get_by_role("heading", name=labels.RACK_PAGE, level=1)).to_be_visible()
    page.locator("input[type=file]").first.set_input_files({"name": name, "mimeType": "", "buffer": data})


def answered(page: Page) -> None:
    expect(page.locator(".words .title")).to_contain_text("omplete: Three Beacons")
    expect(page.locator("button.tile")).to_have_count(14)


def jpeg(picture: Image.Image, **options: object) -> bytes:
    file = io.BytesIO()
    picture.save(file, "JPEG", quality=88, **options)
    return file.getvalue()


def win() -> Image.Image:
    return Image.open(SAMPLES / "win.jpg").convert("RGB")


def test_a_heic_photo_is_read(page: Page, address: str) -> None:
    file = io.BytesIO()
    from_pillow(win()).save(file, quality=85)
    choose(page, address, "IMG_0007.HEIC", file.getvalue())

    answered(page)


def test_a_phone_photo_held_upright_is_turned_as_its_file_says(page: Page, address: str) -> None:
    exif = Image.Exif()
    exif[0x0112] = 6  # turn a quarter clockwise to show: Exif 2.32 (CIPA DC-008), tag Orientation
    choose(page, address, "portrait.jpg", jpeg(win().rotate(90, expand=True), exif=exif))

    answered(page)


def test_a_photo_of_60_megapixels_is_read(page: Page, address: str) -> None:
    large = win().resize((8960, 6720), Image.Resampling.BICUBIC)
    choose(page, address, "large.jpg", jpeg(large))

    answered(page)


def test_a_photo_that_says_it_has_a_billion_pixels_gets_a_sentence(page: Page, address: str) -> None:
    header = b"IHDR" + struct.pack(">IIBBBBB", 40_000, 40_000, 8, 2, 0, 0, 0)
    png = b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + header + b"\0\0\0\0"  # PNG (ISO/IEC 15948): signature and header
    choose(page, address, "bomb.png", png)

    expect(page.get_by_role("alert")).to_contain_text("bomb.png")


def test_a_photo_without_tiles_gets_help_and_the_way_to_another(page: Page, address: str) -> None:
    choose(page, address, "no-rack.jpg", (SAMPLES / "no-rack.jpg").read_bytes())

    expect(page.locator(".words .title")).to_have_text("No tiles found")
    with page.expect_file_chooser() as asked:
        page.get_by_role("button", name=labels.ANOTHER_PHOTO).click()
    asked.value.set_files(SAMPLES / "win.jpg")
    answered(page)


def test_after_a_file_that_is_no_photo_the_next_one_is_read(page: Page, address: str) -> None:
    choose(page, address, "broken.jpg", (SAMPLES / "win.jpg").read_bytes()[:300])
    expect(page.get_by_role("alert")).to_contain_text("broken.jpg")
    page.locator("input[type=file]").first.set_input_files(SAMPLES / "win.jpg")

    answered(page)
    expect(page.get_by_role("alert")).to_have_count(0)


def test_a_stranger_sees_an_answer_after_one_press(page: Page, address: str) -> None:
    page.goto(address)
    page.get_by_role("button", name=labels.TRY_SAMPLE).click()

    expect(page.locator(".words .title")).to_have_text("Not complete: one tile missing")


@pytest.fixture(scope="module")
def browser_with_camera(playwright: Playwright, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    """Chromium's own pretended camera, before which the rack of a sample stands."""
    film = tmp_path_factory.mktemp("film") / "rack.mjpeg"
    film.write_bytes(jpeg(win().crop((0, 200, 1600, 1100)).resize((1280, 720))) * 3)
    started = launched(
        playwright, "--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream", f"--use-file-for-fake-video-capture={film}"
    )
    yield started
    started.close()


def test_a_photo_is_taken_with_the_camera(browser_with_camera: Browser, address: str) -> None:
    window = browser_with_camera.new_context(viewport={"width": 1280, "height": 1000}, permissions=["camera"])
    window.set_default_timeout(PATIENCE)
    page = window.new_page()
    page.goto(address)
    page.get_by_text(labels.USE_CAMERA).click()
    shutter = page.get_by_role("button", name="Take Photo")
    expect(shutter).to_be_enabled()
    page.wait_for_function("() => { const v = document.querySelector('video'); return v && v.videoWidth > 0; }")
    shutter.click()

    answered(page)
    window.close()
