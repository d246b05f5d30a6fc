"""Checks of intake/tagging."""
