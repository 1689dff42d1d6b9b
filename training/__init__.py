"""Draws tiles and scenes, trains the two networks on them, exports and measures them."""
