"""Moments as people read them in a terminal."""

from __future__ import annotations

from datetime import datetime


def moment_words(at: str) -> str:
    """An instant by this machine's clock, to the minute."""
    moment = datetime.fromisoformat(at).astimezone()
    return f"{moment.day} {moment:%B %Y, %H:%M}"
