"""JPEG photos the quick way: what their header says, and OpenCV's decoder, which is there already.

Pillow opens every other photo. For a JPEG it makes the same pixels, but takes as long to load as a small photo takes
to read. OpenCV does not tell when a file is cut short, so that is found out here.
"""

from __future__ import annotations

import os
import re
import struct
import threading
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

REDUCTIONS: Final = {
    1: cv2.IMREAD_COLOR,
    2: cv2.IMREAD_REDUCED_COLOR_2,
    4: cv2.IMREAD_REDUCED_COLOR_4,
    8: cv2.IMREAD_REDUCED_COLOR_8,
}  # fmt: skip
"""By how much a decoder can reduce a JPEG, and how OpenCV is told so."""

_BEGIN, _END = b"\xff\xd8", b"\xff\xd9"
_SCAN, _NOTE = 0xDA, 0xE1
_COMMON_FRAMES: Final = (0xC0, 0xC1, 0xC2)  # Huffman-coded: baseline, extended, progressive
_ORIENTATION: Final = 0x0112
_XMP: Final = b"http://ns.adobe.com/xap/1.0/\0"
_XMP_ORIENTATION: Final = re.compile(rb"""tiff:Orientation(?:\s*=\s*["']|>)\s*([1-8])""")
_ONE_AT_A_TIME: Final = threading.Lock()


@dataclass(frozen=True, slots=True)
class JpegHeader:
    """What a JPEG says of its picture.

    Attributes:
        size: width and height as stored.
        orientation: how the camera was held, 1 to 8 by the Exif standard; 1 when the file does not say.
    """

    size: tuple[int, int]
    orientation: int


def read_header(data: bytes) -> JpegHeader | None:
    """Return what a whole JPEG of eight bits, in colour or grey, says of itself; None for anything else, or a doubt.

    Where both notes of a camera say how it was held, Exif or XMP, Exif counts.

    Source: ITU-T T.81 (1992), sections B.1 and B.2; Exif 2.3, CIPA DC-008, section 4.5; XMP Specification Part 3
    (Adobe, 2020), section 1.1.3, from memory.
    """
    if not data.startswith(_BEGIN):
        return None
    size, by_exif, by_xmp, at = None, 0, 0, 2
    try:
        while True:
            mark, kind, length = struct.unpack_from(">BBH", data, at)
            if mark != 0xFF or length < 2:
                return None
            body = data[at + 4 : at + 2 + length]
            if kind in _COMMON_FRAMES:
                bits, height, width, channels = struct.unpack_from(">BHHB", body)
                if bits != 8 or channels not in (1, 3) or not width or not height:
                    return None
                size = width, height
            elif kind == _NOTE and body.startswith(b"Exif\0\0"):
                by_exif = _orientation(body[6:])
            elif kind == _NOTE and body.startswith(_XMP) and (said := _XMP_ORIENTATION.search(body)):
                by_xmp = int(said[1])
            at += 2 + length
            if kind == _SCAN:
                break
    except struct.error:
        return None
    # Within a scan a byte of 255 is always followed by a zero or a restart mark: this one can only be the end.
    whole = data.rfind(_END, at) >= 0  # from behind: there it mostly stands
    return JpegHeader(size, by_exif or by_xmp or 1) if size and whole else None


def decode(data: bytes, scale: int = 1) -> NDArray[np.uint8] | None:
    """Return the pixels as stored, uint8 (H, W, 3) BGR, reduced by one of `REDUCTIONS`; None if they cannot be had."""
    flags = REDUCTIONS[scale] | cv2.IMREAD_IGNORE_ORIENTATION
    with _without_complaints():
        pixels = cv2.imdecode(np.frombuffer(data, np.uint8), flags)
    return None if pixels is None else np.asarray(pixels, np.uint8)


@contextmanager
def _without_complaints() -> Iterator[None]:
    """Keep from standard error what the decoder, which is no Python, writes there about damaged data."""
    with _ONE_AT_A_TIME, ExitStack() as after:
        with suppress(OSError):  # where there is no standard error
            kept, nowhere = os.dup(2), os.open(os.devnull, os.O_WRONLY)
            after.callback(os.close, kept)
            after.callback(os.close, nowhere)
            after.callback(os.dup2, kept, 2)
            os.dup2(nowhere, 2)
        yield


def _orientation(tiff: bytes) -> int:
    """The orientation in an Exif note; 0 where it says none. Raises struct.error where it is damaged."""
    order = {b"II*\0": "<", b"MM\0*": ">"}.get(tiff[:4])
    if order is None:
        raise struct.error("no Exif note")
    (start,) = struct.unpack_from(f"{order}I", tiff, 4)
    (count,) = struct.unpack_from(f"{order}H", tiff, start)
    for entry in range(count):
        tag, _, _, value = struct.unpack_from(f"{order}HHIH", tiff, start + 2 + 12 * entry)
        if tag == _ORIENTATION:
            return int(value)
    return 0
