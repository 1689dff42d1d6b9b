"""The program's own sign: a tile that looks at you, alone and with the name beside it."""

from __future__ import annotations

import base64
from typing import Final

from tilewitness.ui.drawing import letter_shapes

_PLUM: Final = "#4a2348"
_TILE: Final = (
    f'<rect x="3" y="2" width="34" height="44" rx="6" fill="#ffffff" stroke="{_PLUM}" stroke-width="4"/>'
    f'<path d="M8 24Q20 9 32 24Q20 39 8 24Z" fill="none" stroke="{_PLUM}" stroke-width="3.4" stroke-linejoin="round"/>'
    f'<circle cx="20" cy="24" r="4.6" fill="{_PLUM}"/>'
)


def icon_address() -> str:
    """The sign alone, as a data address for the browser's tab."""
    sign = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-4 0 48 48" width="48" height="48">{_TILE}</svg>'
    return f"data:image/svg+xml;base64,{base64.b64encode(sign.encode()).decode('ascii')}"


def name_svg() -> str:
    """The sign with the program's name."""
    name, width = letter_shapes("tilewitness", 52, 34, _PLUM, 22)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {52 + width:.0f} 48" width="{52 + width:.0f}" height="48">'
        f"{_TILE}{name}</svg>"
    )
