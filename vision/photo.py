"""From a file to the photo as a person sees it: upright, in colour, at the resolution the work needs."""

from __future__ import annotations

import io
import struct
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image, UnidentifiedImageError

Pixels = NDArray[np.uint8]
Source = str | Path | bytes | Pixels

MAX_BYTES: Final = 200_000_000
MIN_SIDE: Final = 16
WORKING_SIDE: Final = 1600  # a photo is never reduced so far that its long side falls below this

_ORIENTATION = 0x0112  # the tag's number: Pillow's table of names takes a while to load
_WHAT_WORKS = "JPEG, PNG, WebP and HEIC photos work."
_BROKEN = "broken or cut short. Copy the file again, or take the photo again."


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
    with warnings.catch_warnings():
        warnings.simplefilter(
            "ignore"
        )  # of Pillow about odd notes in the file, which are none of the person's business
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        return _photo_in(data, name)


def _photo_in(data: bytes, name: str) -> Photo:
    image = _open_image(data, name)
    scale = _reduction(image)
    if scale == 1:
        return Photo(_decode(image, name))
    image.draft("RGB", (image.width // scale, image.height // scale))
    orientation = _orientation(image)
    return Photo(_decode(image, name), scale, cache(lambda: _decode_jpeg(data, orientation, name)))


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
        raise PhotoError(f"{path.name}: this is a folder. Name the photos in it, one by one.") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise PhotoError(f"{path.name}: the file cannot be read ({reason}).") from error


def _open_image(data: bytes, name: str) -> Image.Image:
    """Read the header. Pillow's own bound on pixels guards against decompression bombs."""
    try:
        image = Image.open(io.BytesIO(data), formats=_formats_to_try(data))
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        most = (Image.MAX_IMAGE_PIXELS or 0) // 1_000_000
        raise PhotoError(
            f"{name}: too many pixels, over {most} million. Save it at a smaller size."
        ) from None
    except UnidentifiedImageError:
        raise PhotoError(f"{name}: not a photo this program can open. {_WHAT_WORKS}") from None
    except Exception as error:  # whatever a decoder trips over in a hostile header, the file is broken
        raise PhotoError(f"{name}: {_BROKEN}") from error
    if min(image.size) < MIN_SIDE:
        width, height = image.size
        raise PhotoError(f"{name}: only {width} by {height} pixels. Use the photo itself, not its preview.")
    return image


def _formats_to_try(data: bytes) -> tuple[str, ...]:
    """The decoders worth trying; naming them keeps every other one, however odd, away from the data."""
    if data[4:8] != b"ftyp":
        return ("JPEG", "PNG", "WEBP", "GIF", "BMP", "TIFF")
    import pillow_heif  # only now: it takes a while to load

    pillow_heif.register_heif_opener()
    return ("HEIF", "AVIF")


def _reduction(image: Image.Image) -> int:
    """The largest exact reduction that a JPEG decoder offers and that leaves enough to work with."""
    if image.format not in ("JPEG", "MPO") or image.mode not in ("RGB", "L"):
        return 1
    width, height = image.size
    fits = (s for s in (8, 4, 2) if max(width, height) >= s * WORKING_SIDE and width % s == height % s == 0)
    return next(fits, 1)


def _decode(image: Image.Image, name: str) -> Pixels:
    """Decode the first frame, bring its colours to eight-bit BGR, and turn it upright."""
    try:
        image.load()
        rgb = np.asarray(_to_rgb(image))
    except Exception as error:  # truncated or damaged data ends in many kinds of error, one per decoder
        raise PhotoError(f"{name}: {_BROKEN}") from error
    return _upright(cv2.cvtColor(rgb, cv2.COLOR_RGB2BGR), _orientation(image))


def _decode_jpeg(data: bytes, orientation: int, name: str) -> Pixels:
    """Decode every pixel of a JPEG that has been decoded at a smaller scale before, so is known to be whole.

    OpenCV takes half of Pillow's time; but it does not tell when a file is cut short.
    """
    stored = cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_COLOR | cv2.IMREAD_IGNORE_ORIENTATION)
    if stored is None:
        raise PhotoError(f"{name}: {_BROKEN}")
    return _upright(stored, orientation)


def _orientation(image: Image.Image) -> int:
    try:
        return int(image.getexif().get(_ORIENTATION, 1))
    except (
        ValueError,
        TypeError,
        SyntaxError,
        OSError,
        struct.error,
    ):  # a damaged note of how the camera was held is no reason to refuse the photo
        return 1


def _upright(pixels: cv2.typing.MatLike, orientation: int) -> Pixels:
    """Undo an EXIF orientation, 1 to 8; any other value means nothing.

    Source: Exif 2.3, CIPA DC-008, section 4.6.4, tag 0x0112.
    """
    if orientation in (5, 6, 7, 8):
        pixels = cv2.transpose(pixels)
    about = {2: 1, 3: -1, 4: 0, 6: 1, 7: -1, 8: 0}.get(orientation)
    return np.asarray(pixels if about is None else cv2.flip(pixels, about), np.uint8)


def _to_rgb(image: Image.Image) -> Image.Image:
    if image.mode == "RGB":
        return image
    if image.mode == "F":
        raise ValueError("its pixels are measurements, not colours")
    if image.mode.startswith("I"):  # 16 bits of grey: Pillow's own conversion would clip, not scale
        return Image.fromarray(
            (np.asarray(image).astype(np.uint32) >> 8).clip(0, 255).astype(np.uint8)
        ).convert("RGB")
    if image.mode in ("RGBA", "LA", "PA", "La", "RGBa") or "transparency" in image.info:
        rgba = image.convert("RGBA")
        return Image.alpha_composite(Image.new("RGBA", rgba.size, "white"), rgba).convert("RGB")
    return image.convert("RGB")
