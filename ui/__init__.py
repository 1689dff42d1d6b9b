"""Command line, app and the words both use. Holds no rules."""
