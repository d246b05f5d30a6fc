"""Checks of intake/examination."""
