"""The fifteen corruptions of Hendrycks & Dietterich (2019), to measure how reading suffers from a bad camera.

Kinds and strengths are those of PyPI package imagecorruptions-imaug version 1.1.5 (Apache licence), applied to
the photo at its own size. That package asks for a second build of OpenCV, which would overwrite ours, so it is
in no extra: pip install --no-deps imagecorruptions-imaug numba llvmlite
"""

from __future__ import annotations

import zlib

import numpy as np
from numpy.typing import NDArray

SEVERITY = 3

KINDS = (
    "gaussian_noise",
    "shot_noise",
    "impulse_noise",
    "defocus_blur",
    "glass_blur",
    "motion_blur",
    "zoom_blur",
    "snow",
    "frost",
    "fog",
    "brightness",
    "contrast",
    "elastic_transform",
    "pixelate",
    "jpeg_compression",
)
"""Source: Hendrycks & Dietterich 2019, "Benchmarking Neural Network Robustness", section 3.1."""


def corrupted(image: NDArray[np.uint8], kind: str, *, severity: int = SEVERITY) -> NDArray[np.uint8]:
    """Return the photo as a bad camera or bad weather would show it.

    Args:
        image: uint8 (H, W, 3), BGR.
        kind: one of `KINDS`.
    Raises:
        ModuleNotFoundError: the package named above is not installed.
    """
    from imagecorruptions import corrupt

    np.random.seed(zlib.crc32(kind.encode()))  # the package draws from numpy's global stream
    rgb = np.ascontiguousarray(image[..., ::-1])
    return np.ascontiguousarray(corrupt(rgb, severity, kind)[..., ::-1])
