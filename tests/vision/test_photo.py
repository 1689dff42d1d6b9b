import contextlib
import io
import struct
import zlib
from pathlib import Path

import cv2
import numpy as np
import pillow_heif
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from PIL import Image, ImageOps

from tilewitness.vision import photo as photo_module
from tilewitness.vision.photo import PhotoError, open_photo


def scene(width: int = 96, height: int = 64) -> NDArray[np.uint8]:
    """A BGR picture that tells its corners apart: smooth, so that lossy formats keep it."""
    y, x = np.mgrid[:height, :width].astype(np.float32)
    return np.stack([x * 255 / width, y * 255 / height, 255 - (x + y) * 255 / (width + height)], 2).astype(
        np.uint8
    )


def as_file(image: Image.Image, kind: str, **options: object) -> bytes:
    file = io.BytesIO()
    image.save(file, kind, **options)
    return file.getvalue()


def rgb(pixels: NDArray[np.uint8]) -> Image.Image:
    return Image.fromarray(pixels[..., ::-1])


def difference(one: NDArray[np.uint8], other: NDArray[np.uint8]) -> float:
    assert one.shape == other.shape
    return float(np.abs(one.astype(int) - other).mean())


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "GIF", "BMP", "TIFF", "HEIF"])
def test_photos_of_every_common_format_open(kind: str) -> None:
    pillow_heif.register_heif_opener()

    opened = open_photo(as_file(rgb(scene()), kind))

    assert (96, 64) == opened.size
    assert difference(scene(), opened.pixels) < (8 if kind == "GIF" else 3)


def test_a_photo_opens_from_path_text_bytes_and_pixels_alike(tmp_path: Path) -> None:
    path = tmp_path / "rack.png"
    path.write_bytes(as_file(rgb(scene()), "PNG"))

    for source in (path, str(path), path.read_bytes(), scene()):
        np.testing.assert_array_equal(scene(), open_photo(source).pixels)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_each_exif_orientation_is_undone(orientation: int) -> None:
    # What the stored picture must be for the displayed one to be `scene`.
    # Source: Exif 2.3, CIPA DC-008, section 4.6.4, tag 0x0112 Orientation.
    stored = {
        1: scene(), 2: scene()[:, ::-1], 3: scene()[::-1, ::-1], 4: scene()[::-1],
        5: scene().transpose(1, 0, 2), 6: np.rot90(scene(), 1),
        7: np.rot90(scene(), 2).transpose(1, 0, 2), 8: np.rot90(scene(), -1),
    }[orientation]  # fmt: skip
    exif = Image.Exif()
    exif[0x0112] = orientation
    file = as_file(rgb(np.ascontiguousarray(stored)), "PNG", exif=exif)

    np.testing.assert_array_equal(scene(), open_photo(file).pixels)
    np.testing.assert_array_equal(
        np.asarray(ImageOps.exif_transpose(Image.open(io.BytesIO(file))))[..., ::-1], open_photo(file).pixels
    )


@pytest.mark.parametrize(
    "note",
    [b"Exif\0\0garbage", b"Exif\0\0II*\0\xff\xff\xff\xff", b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x02"],
)
def test_a_damaged_exif_note_is_no_reason_to_refuse_a_photo(note: bytes) -> None:
    file = as_file(rgb(scene()), "JPEG", exif=note, quality=95)

    assert difference(scene(), open_photo(file).pixels) < 3


def test_a_heic_photo_is_not_turned_twice() -> None:
    # In HEIC the container's own boxes turn the picture, which its decoder has done by then; the Exif tag
    # that phones repeat beside them is for information. Source: ISO/IEC 23008-12, section 6.5.10 (irot),
    # from memory.
    exif = Image.Exif()
    exif[0x0112] = 6
    pillow_heif.register_heif_opener()

    opened = open_photo(as_file(rgb(scene()), "HEIF", exif=exif, quality=95))

    assert (96, 64) == opened.size
    assert difference(scene(), opened.pixels) < 4


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_large_jpeg_is_halved_and_still_upright(orientation: int) -> None:
    exif = Image.Exif()
    exif[0x0112] = orientation
    large = cv2.resize(scene(), (3200, 2400))
    file = as_file(rgb(large), "JPEG", exif=exif, quality=95)

    opened = open_photo(file)
    displayed = np.asarray(ImageOps.exif_transpose(Image.open(io.BytesIO(file))))[..., ::-1]

    assert 2 == opened.scale
    assert displayed.shape[1::-1] == opened.size
    np.testing.assert_array_equal(displayed, opened.in_full().pixels)
    halved = cv2.resize(displayed, None, fx=0.5, fy=0.5, interpolation=cv2.INTER_AREA)
    assert difference(halved, opened.pixels) < 1


@pytest.mark.parametrize(
    ("size", "scale"), [((1600, 1200), 1), ((3200, 2401), 1), ((4032, 3024), 2), ((8064, 6048), 4)]
)
def test_a_jpeg_is_reduced_only_by_what_divides_it_and_leaves_enough(
    size: tuple[int, int], scale: int
) -> None:
    assert scale == open_photo(as_file(Image.new("RGB", size, "white"), "JPEG")).scale


def test_a_png_is_never_reduced() -> None:
    assert 1 == open_photo(as_file(Image.new("L", (3200, 3200)), "PNG")).scale


def test_a_cmyk_jpeg_shows_its_colours() -> None:
    file = as_file(rgb(scene()).convert("CMYK"), "JPEG", quality=95)

    assert difference(scene(), open_photo(file).pixels) < 6


def test_sixteen_bits_of_grey_are_scaled_not_clipped() -> None:
    ramp = np.linspace(0, 65535, 96 * 64).reshape(64, 96).astype(np.uint16)

    opened = open_photo(as_file(Image.fromarray(ramp), "PNG")).pixels

    np.testing.assert_array_equal((ramp >> 8).astype(np.uint8), opened[..., 0])


@pytest.mark.parametrize("mode", ["RGBA", "LA", "P"])
def test_transparent_parts_become_white(mode: str) -> None:
    image = Image.new("RGBA", (32, 32), (0, 0, 0, 0))
    image.paste((0, 0, 0, 255), (0, 0, 16, 32))

    opened = open_photo(as_file(image.convert(mode), "PNG")).pixels

    assert [0, 255] == [int(opened[16, x, 0]) for x in (4, 28)]


def test_palette_and_black_and_white_pictures_open() -> None:
    half = Image.new("1", (32, 32))
    half.paste(1, (16, 0, 32, 32))

    for mode in ("1", "P", "L"):
        opened = open_photo(as_file(half.convert(mode), "PNG")).pixels

        assert [0, 255] == [int(opened[16, x, 1]) for x in (4, 28)]


def test_the_first_frame_of_an_animation_is_taken() -> None:
    first, second = Image.new("RGB", (32, 32), "white"), Image.new("RGB", (32, 32), "black")

    for kind in ("GIF", "WEBP", "PNG"):
        file = as_file(first, kind, save_all=True, append_images=[second])

        assert 255 == int(open_photo(file).pixels[16, 16, 0])


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "GIF", "HEIF", "TIFF", "BMP"])
@pytest.mark.parametrize("part", [0.02, 0.5, 0.95])
def test_a_photo_that_is_cut_short_is_refused_in_a_sentence(kind: str, part: float) -> None:
    pillow_heif.register_heif_opener()
    noise = np.random.default_rng(1).integers(0, 256, (200, 200, 3), np.uint8)
    file = as_file(Image.fromarray(noise), kind)

    with pytest.raises(PhotoError, match=r"^the photo: .*\.$"):
        open_photo(file[: int(len(file) * part)])


def test_a_large_jpeg_that_is_cut_short_is_refused() -> None:
    file = as_file(rgb(cv2.resize(scene(), (3200, 2400))), "JPEG")

    with pytest.raises(PhotoError, match="cut short"):
        open_photo(file[: len(file) // 2])


@pytest.mark.parametrize(
    "content", [b"not a photo", b"%PDF-1.7\n", b"<svg xmlns='http://www.w3.org/2000/svg'/>", bytes(5000)]
)
def test_a_file_that_is_no_photo_says_which_formats_work(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "rack.jpg"
    path.write_bytes(content)

    with pytest.raises(PhotoError) as refused:
        open_photo(path)

    assert "rack.jpg: not a photo this program can open. JPEG, PNG, WebP and HEIC photos work." == str(
        refused.value
    )


def test_an_empty_file_a_folder_and_a_missing_file_are_named(tmp_path: Path) -> None:
    (tmp_path / "empty.jpg").touch()

    for name, says in (
        ("empty.jpg", "empty.jpg: the file is empty"),
        ("none.jpg", "none.jpg: there is no such file"),
    ):
        with pytest.raises(PhotoError, match=says):
            open_photo(tmp_path / name)
    with pytest.raises(PhotoError, match="this is a folder"):
        open_photo(tmp_path)
    with pytest.raises(PhotoError, match="cannot be read"):
        open_photo("rack\0.jpg")


def bomb(side: int) -> bytes:
    """A few bytes of PNG that claim side × side pixels.

    Source: PNG specification, W3C 2003, section 11.2.2.
    """

    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    header = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", header)
        + chunk(b"IDAT", zlib.compress(b""))
        + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize("side", [10_000, 60_000])
def test_a_decompression_bomb_is_refused_before_it_is_decoded(side: int) -> None:
    with pytest.raises(
        PhotoError, match=r"the photo: too many pixels, over 89 million\. Save it at a smaller size\."
    ):
        open_photo(bomb(side))


def test_a_file_of_too_many_bytes_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(photo_module, "MAX_BYTES", 1_000_000)
    path = tmp_path / "film.mov"
    path.write_bytes(bytes(1_000_001))

    with pytest.raises(PhotoError, match=r"film\.mov: too large, over 1 MB"):
        open_photo(path)


def test_a_tiny_picture_is_refused() -> None:
    with pytest.raises(PhotoError, match="only 8 by 8 pixels"):
        open_photo(as_file(Image.new("RGB", (8, 8)), "PNG"))


@pytest.mark.parametrize(
    "array",
    [
        np.zeros((64, 64, 4), np.uint8),
        np.zeros((64, 64, 3), np.float32),
        np.zeros(64, np.uint8),
        np.zeros((0, 0, 3), np.uint8),
    ],
)
def test_an_array_that_is_no_photo_is_refused_by_its_shape(array: NDArray[np.uint8]) -> None:
    with pytest.raises(PhotoError, match="array"):
        open_photo(array)


def test_a_grey_array_becomes_three_channels() -> None:
    assert (64, 96, 3) == open_photo(scene()[..., 0]).pixels.shape


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "GIF", "BMP", "TIFF", "HEIF"])
@given(
    damage=st.lists(st.tuples(st.floats(0, 0.999), st.binary(min_size=1, max_size=8)), min_size=1, max_size=4)
)
@settings(max_examples=40, deadline=None)
def test_a_damaged_photo_opens_or_is_refused_but_never_crashes(
    kind: str, damage: list[tuple[float, bytes]]
) -> None:
    pillow_heif.register_heif_opener()
    exif = Image.Exif()
    exif[0x0112] = 6
    file = bytearray(as_file(rgb(scene()), kind, **({} if kind in ("GIF", "BMP") else {"exif": exif})))
    for where, junk in damage:
        start = int(where * len(file))
        file[start : start + len(junk)] = junk

    with contextlib.suppress(PhotoError):
        assert 3 == open_photo(bytes(file)).pixels.ndim
