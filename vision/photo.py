"""From a file to the photo as a person sees it: upright, in colour, at the resolution the work needs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.vision import jpeg

Pixels = NDArray[np.uint8]
Source = str | Path | bytes | Pixels

MAX_BYTES: Final = 200_000_000
MAX_PIXELS: Final = 89_000_000  # a small file may claim more than any memory holds
MIN_SIDE: Final = 16
WORKING_SIDE: Final = 1600  # a photo is never reduced so far that its long side falls below this


class PhotoError(ValueError):
    """A source is not a photo that can be read. The message names it, says why, and what would work."""


@dataclass(frozen=True, slots=True, eq=False)
class Photo:
    """One photo as displayed: turned as its EXIF orientation says, three channels, eight bits.

    Attributes:
        pixels: uint8 (H, W, 3), BGR; reduced by `scale` in both directions where the file allows.
        scale: pixels of the photo as displayed per pixel of `pixels`, exact: 1, 2, 4 or 8.
    """

    pixels: Pixels
    scale: int = 1
    _reopen: Callable[[], Pixels] | None = None

    @property
    def size(self) -> tuple[int, int]:
        """Width and height of the photo as displayed, in its own full resolution."""
        height, width = self.pixels.shape[:2]
        return width * self.scale, height * self.scale

    def in_full(self) -> Photo:
        """Return the same photo with every pixel the file holds; decoded once."""
        return self if self._reopen is None else Photo(self._reopen())


def open_photo(source: Source) -> Photo:
    """Return the photo in a file, in the bytes of a file, or in an array of pixels.

    A large JPEG is decoded at a half, a quarter or an eighth of its size, which takes half the time;
    `Photo.in_full` decodes the rest when it is needed. Of an animation the first frame is taken;
    transparent parts become white.

    Args:
        source: path; or a whole file as bytes; or uint8 (H, W, 3) BGR or (H, W) grey, as displayed.
    Raises:
        PhotoError: missing, empty, broken, too large, or not a photo.
    """
    if isinstance(source, np.ndarray):
        return Photo(_checked_array(source))
    name = "the photo" if isinstance(source, bytes) else Path(source).name
    data = source if isinstance(source, bytes) else _file_bytes(Path(source))
    if len(data) > MAX_BYTES:
        raise PhotoError(f"{name}: too large, over {MAX_BYTES // 1_000_000} MB. Save it as a JPEG.")
    if not data:
        raise PhotoError(f"{name}: the file is empty. Copy or take the photo again.")
    return _quickly(data, name) or _by_pillow(data, name)


def check_size(size: tuple[int, int], name: str) -> None:
    """Refuse a photo by its width and height, before it is decoded.

    Raises:
        PhotoError: too small or too large.
    """
    width, height = size
    if min(size) < MIN_SIDE:
        raise PhotoError(f"{name}: only {width} by {height} pixels. Use the photo itself, not its preview.")
    if width * height > MAX_PIXELS:
        raise PhotoError(too_many_pixels(name))


def too_many_pixels(name: str) -> str:
    """Return what is said of a photo with more than `MAX_PIXELS`."""
    return f"{name}: too many pixels, over {MAX_PIXELS // 1_000_000} million. Save it at a smaller size."


def _quickly(data: bytes, name: str) -> Photo | None:
    """The photo in a JPEG of the common kind, reduced where that leaves enough; None for every other file."""
    header = jpeg.read_header(data)
    if header is None:
        return None
    check_size(header.size, name)
    scale = _reduction(header.size)
    stored = jpeg.decode(data, scale)
    if stored is None:
        return None

    def in_full() -> Pixels:
        every = jpeg.decode(data)
        assert every is not None  # it was decoded before, at a smaller scale
        return upright(every, header.orientation)

    return Photo(upright(stored, header.orientation), scale, cache(in_full) if scale > 1 else None)


def _reduction(size: tuple[int, int]) -> int:
    """The largest exact reduction that a JPEG decoder offers and that leaves enough to work with."""
    fits = (s for s in (8, 4, 2) if max(size) >= s * WORKING_SIDE and not (size[0] % s or size[1] % s))
    return next(fits, 1)


def _by_pillow(data: bytes, name: str) -> Photo:
    from tilewitness.vision import formats  # only now: it takes a while to load

    return Photo(formats.decode(data, name))


def _checked_array(array: Pixels) -> Pixels:
    grey, colour = array.ndim == 2, array.ndim == 3 and array.shape[2] == 3
    if array.dtype != np.uint8 or not (grey or colour):
        raise PhotoError(
            f"an array of {array.dtype} with shape {array.shape} is not a photo: "
            "give uint8 (height, width, 3) in the order blue, green, red."
        )
    if min(array.shape[:2]) < MIN_SIDE:
        raise PhotoError(
            f"an array with shape {array.shape} is too small: {MIN_SIDE} pixels a side is least."
        )
    return np.ascontiguousarray(array if colour else cv2.cvtColor(array, cv2.COLOR_GRAY2BGR))


def _file_bytes(path: Path) -> bytes:
    """The file's content, of which one byte over the bound is enough to refuse it."""
    try:
        with path.open("rb") as file:
            return file.read(MAX_BYTES + 1)
    except FileNotFoundError:
        raise PhotoError(f"{path.name}: there is no such file in {path.parent.absolute()}.") from None
    except IsADirectoryError:
        raise PhotoError(f"{path.name or path}: this is a folder. Name the photos in it, one by one.") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise PhotoError(f"{path.name}: the file cannot be read ({reason}).") from error


def upright(pixels: cv2.typing.MatLike, orientation: int) -> Pixels:
    """Return pixels with an EXIF orientation undone, 1 to 8; any other value means nothing.

    Source: Exif 2.3, CIPA DC-008, section 4.6.4, tag 0x0112.
    """
    if orientation in (5, 6, 7, 8):
        pixels = cv2.transpose(pixels)
    about = {2: 1, 3: -1, 4: 0, 6: 1, 7: -1, 8: 0}.get(orientation)
    return np.asarray(pixels if about is None else cv2.flip(pixels, about), np.uint8)
