"""Checks of how an office is started, held, reached and ended."""
