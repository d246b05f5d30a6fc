"""What somebody who starts the office asks for its hall: nothing of how it is opened, which takes a while to load."""

from __future__ import annotations

from dataclasses import dataclass

PAGE_PORT = 8766


@dataclass(frozen=True)
class HallAsked:
    """What was asked for: the first part of `NAME.local` or None for the one phones know, and where the page goes.

    `port` is the office's own as it was typed, None for the one phones know.
    `anew`: make new certificates, which every phone has to trust once more.
    """

    name: str | None = None
    page_port: int = PAGE_PORT
    anew: bool = False
    port: int | None = None
