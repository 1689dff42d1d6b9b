import io
import os

import numpy as np
import pytest
from PIL import Image

from tilewitness.vision import formats, jpeg
from tilewitness.vision.photo import open_photo


def a_jpeg(mode: str = "RGB", **options: object) -> bytes:
    y, x = np.mgrid[:64, :96]
    pixels = np.stack([x * 2, y * 3, 255 - x - y], 2).astype(np.uint8)
    file = io.BytesIO()
    Image.fromarray(pixels).convert(mode).save(file, "JPEG", **options)
    return file.getvalue()


@pytest.mark.parametrize("mode", ["RGB", "L"])
@pytest.mark.parametrize("options", [{}, {"progressive": True}, {"subsampling": 0}, {"restart_marker_blocks": 3}])
def test_the_quick_way_and_pillow_give_the_same_pixels(mode: str, options: dict[str, object]) -> None:
    file = a_jpeg(mode, **options)
    header = jpeg.read_header(file)

    assert header is not None
    assert (96, 64) == header.size
    np.testing.assert_array_equal(formats.decode(file, "x"), open_photo(file).pixels)


def test_the_end_of_a_thumbnail_is_not_taken_for_the_end_of_the_photo() -> None:
    note = b"Exif\0\0" + b"II*\0\x08\0\0\0\0\0" + a_jpeg()
    file = a_jpeg(exif=note)

    assert jpeg.read_header(file) is not None
    assert jpeg.read_header(file[:-2]) is None


@pytest.mark.parametrize("doubtful", [a_jpeg("CMYK"), b"", b"\xff\xd8", b"\xff\xd8\xff\xe1\0\0", b"\x89PNG"])
def test_whatever_is_not_of_the_common_kind_is_left_to_pillow(doubtful: bytes) -> None:
    assert jpeg.read_header(doubtful) is None


def test_what_follows_the_photo_does_no_harm() -> None:
    # Phones append a second picture or a film. Source: CIPA DC-007 (Multi-Picture Format), from memory.
    file = a_jpeg()

    np.testing.assert_array_equal(open_photo(file).pixels, open_photo(file + a_jpeg("L") + b"film").pixels)


def test_the_decoder_complains_of_damaged_data_to_nobody(capfd: pytest.CaptureFixture[str]) -> None:
    file = bytearray(a_jpeg(quality=95))
    file[-200:-100] = bytes(100)

    assert (64, 96, 3) == open_photo(bytes(file)).pixels.shape
    os.write(2, b"and others are heard again")
    assert ("", "and others are heard again") == capfd.readouterr()


@pytest.mark.parametrize("wording", ['tiff:Orientation="6"', "<tiff:Orientation>6</tiff:Orientation>"])
def test_a_photo_turned_by_xmp_alone_is_turned_as_pillow_turns_it(wording: str) -> None:
    # Pillow is the reference: it looks into XMP where Exif says nothing.
    inside = f"{wording}>" if "=" in wording else f">{wording}"
    file = a_jpeg(xmp=f'<rdf:Description xmlns:tiff="http://ns.adobe.com/tiff/1.0/" {inside}</rdf:Description>'.encode())
    header = jpeg.read_header(file)

    assert header is not None
    assert 6 == header.orientation
    np.testing.assert_array_equal(formats.decode(file, "x"), open_photo(file).pixels)


def test_exif_counts_where_xmp_says_otherwise() -> None:
    note = Image.Exif()
    note[0x0112] = 8
    header = jpeg.read_header(a_jpeg(exif=note, xmp=b'<x tiff:Orientation="6"/>'))

    assert header is not None
    assert 8 == header.orientation
