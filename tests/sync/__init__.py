"""Checks of intake/sync."""
