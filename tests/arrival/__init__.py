"""Checks of intake/arrival."""
