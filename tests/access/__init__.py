"""Checks of intake/access."""
