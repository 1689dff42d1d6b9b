"""The invented demo card and its photos, so that the program can be tried before a card is typed in."""
