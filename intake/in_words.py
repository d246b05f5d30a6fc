"""Counts and moments as people read them in a terminal or in what the office says."""

from __future__ import annotations

from datetime import datetime


def counted(count: int, noun: str) -> str:
    """A count with its noun: "1 photo", "2 photos"."""
    return f"{count} {noun}{'s' * (count != 1)}"


def moment_words(at: str) -> str:
    """An instant by this machine's clock, to the minute."""
    moment = datetime.fromisoformat(at).astimezone()
    return f"{moment.day} {moment:%B %Y, %H:%M}"
