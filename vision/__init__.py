"""From a photograph to named tiles in rows. Knows nothing of cards."""
