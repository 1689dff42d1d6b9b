"""Photos of every format by Pillow: whatever is no JPEG of the common kind."""

from __future__ import annotations

import io
import struct
import warnings

import cv2
import numpy as np
from PIL import Image, UnidentifiedImageError

from tilewitness.vision.photo import PhotoError, Pixels, check_size, too_many_pixels, upright

_ORIENTATION = 0x0112  # the tag's number: Pillow's table of names takes a while to load
_WHAT_WORKS = "JPEG, PNG, WebP and HEIC photos work."
_BROKEN = "broken or cut short. Copy the file again, or take the photo again."


def decode(data: bytes, name: str) -> Pixels:
    """Return the photo in the bytes of a file as displayed, uint8 (H, W, 3) BGR.

    Of an animation the first frame is taken; transparent parts become white.

    Raises:
        PhotoError: broken, too large, too small, or not a photo.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of Pillow about odd notes in the file, which are none of the person's business
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        return _decode(_open_image(data, name), name)


def _open_image(data: bytes, name: str) -> Image.Image:
    """Read the header. Pillow's own bound on pixels guards against decompression bombs."""
    try:
        image = Image.open(io.BytesIO(data), formats=_formats_to_try(data))
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise PhotoError(too_many_pixels(name)) from None
    except UnidentifiedImageError:
        raise PhotoError(f"{name}: not a photo this program can open. {_WHAT_WORKS}") from None
    except Exception as error:  # whatever a decoder trips over in a hostile header, the file is broken
        raise PhotoError(f"{name}: {_BROKEN}") from error
    check_size(image.size, name)
    return image


def _formats_to_try(data: bytes) -> tuple[str, ...]:
    """The decoders worth trying; naming them keeps every other one, however odd, away from the data."""
    if data[4:8] != b"ftyp":
        return ("JPEG", "PNG", "WEBP", "GIF", "BMP", "TIFF")
    import pillow_heif  # only now: it takes a while to load

    pillow_heif.register_heif_opener()
    return ("HEIF", "AVIF")


def _decode(image: Image.Image, name: str) -> Pixels:
    """Decode the first frame, bring its colours to eight-bit BGR, and turn it upright."""
    try:
        image.load()
        rgb = np.asarray(_to_rgb(image))
    except Exception as error:  # truncated or damaged data ends in many kinds of error, one per decoder
        raise PhotoError(f"{name}: {_BROKEN}") from error
    return upright(cv2.cvtColor(rgb, cv2.COLOR_RGB2BGR), _orientation(image))


def _orientation(image: Image.Image) -> int:
    try:
        return int(image.getexif().get(_ORIENTATION, 1))
    except (ValueError, TypeError, SyntaxError, OSError, struct.error):
        return 1  # a damaged note of how the camera was held is no reason to refuse the photo


def _to_rgb(image: Image.Image) -> Image.Image:
    if image.mode == "RGB":
        return image
    if image.mode == "F":
        raise ValueError("its pixels are measurements, not colours")
    if image.mode.startswith("I"):  # 16 bits of grey: Pillow's own conversion would clip, not scale
        grey = (np.asarray(image).astype(np.uint32) >> 8).clip(0, 255).astype(np.uint8)
        return Image.fromarray(grey).convert("RGB")
    if image.mode in ("RGBA", "LA", "PA", "La", "RGBa") or "transparency" in image.info:
        rgba = image.convert("RGBA")
        return Image.alpha_composite(Image.new("RGBA", rgba.size, "white"), rgba).convert("RGB")
    return image.convert("RGB")
