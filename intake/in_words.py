"""Counts and moments as people read them in a terminal or in what the office says."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime


def counted(count: int, noun: str) -> str:
    """A count with its noun: "1 photo", "2 photos"."""
    return f"{count} {noun}{'s' * (count != 1)}"


def some_of(words: Sequence[str], most: int, between: str = ", ") -> str:
    """Some of several, and how many more there are: "7K3-QW5, 7K3-QW6 and 3 more"."""
    more = f" and {len(words) - most} more" if len(words) > most else ""
    return between.join(words[:most]) + more


def moment_words(at: str) -> str:
    """An instant by this machine's clock, to the minute."""
    moment = datetime.fromisoformat(at).astimezone()
    return f"{moment.day} {moment:%B %Y, %H:%M}"
