"""Scenes whose tiles show unnamed symbols: from them the finder learns that a tile is one whatever it shows.

Among so many look-alikes it would else learn that unusual print is no tile.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from tilewitness.training.scenes import VARIANTS, Scene, render_scene
from tilewitness.training.symbols import SymbolSet


def render_foreign(seed: int, *, held_out: bool = False) -> Scene:
    """Render the scene with this number; its tiles have looks and no names."""
    artwork = SymbolSet.sample(np.random.default_rng((seed, held_out, VARIANTS)), held_out=held_out)
    scene = render_scene(seed, held_out=held_out, artwork=artwork)
    return replace(scene, tiles=tuple(replace(tile, face=None) for tile in scene.tiles))
