"""Checks of intake/cataloguing."""
