"""How a served office ends: SIGTERM or Ctrl-C asks for it, and the process goes once everything is closed."""

from __future__ import annotations

import signal
import threading
from collections.abc import Callable
from types import FrameType
from typing import Self

from uvicorn.server import HANDLED_SIGNALS

from intake.system import INTERRUPTED


class Ending:
    """Hears the signals that end the office, from when it serves until everything that was opened is closed.

    The HTTP server's own way is to raise a signal anew as soon as it has stopped listening, which would end the
    process with the tables open: the copies without what came last, the write-ahead log not folded in. While the
    office opens, which may take long, a signal ends the process as ever: what an open file needs is done at the next
    start.
    """

    def __init__(self) -> None:
        self._heard: list[int] = []
        self._before: dict[int, signal._HANDLER] = {}

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        for number, handler in self._before.items():
            signal.signal(number, handler)

    def pass_on(self, ask: Callable[[int, FrameType | None], None]) -> None:
        """Hear signals from now on, and ask the server to end for each."""

        def hear(number: int, frame: FrameType | None) -> None:
            self._heard.append(number)
            ask(number, frame)

        if threading.current_thread() is threading.main_thread():  # nobody else may listen to signals
            self._before = {number: signal.signal(number, hear) for number in HANDLED_SIGNALS}

    @property
    def code(self) -> int:
        """The process's exit code, by how it was ended."""
        return INTERRUPTED if signal.SIGINT in self._heard else 0
