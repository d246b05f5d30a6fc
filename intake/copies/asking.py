"""Asking about a folder that may never answer: a stick or a network folder can hang whoever looks at it for ever.

Each question has a thread of its own, which ends with the process and which nobody waits for beyond a limit: neither
the event loop, nor its pool of threads (whose end it would keep from coming), nor a connection to the tables.
"""

from __future__ import annotations

import asyncio
import threading
import time
from collections.abc import Callable, Iterable
from concurrent.futures import Future
from pathlib import Path
from typing import Any, TypeVar

T = TypeVar("T")

#: What is being asked, and since when. What hangs is not asked a second time.
_asking: dict[tuple[Callable[[str], Any], str], tuple[Future[Any], float]] = {}
_turn = threading.Lock()


async def answer(
    question: Callable[[str], T],
    folder: str,
    limit_s: float,
    *,
    elapsed: Callable[[], float] = time.monotonic,
) -> T:
    """What the question says of a folder. Raises TimeoutError if it does not answer in time, and what it raises.

    The time counts from when it was first asked: whoever asks again about a folder that hangs learns so at once.
    """
    asked, since = _asked(question, folder, elapsed())
    left_s = max(0.0, limit_s - (elapsed() - since))
    return await asyncio.wait_for(asyncio.shield(asyncio.wrap_future(asked)), left_s)


async def real_paths(folders: Iterable[str], limit_s: float) -> dict[str, str]:
    """Each folder by the one way to name it, without links. Those that do not answer in time are left out."""
    named = sorted(set(folders))
    answers = await asyncio.gather(
        *(answer(real_path, folder, limit_s) for folder in named), return_exceptions=True
    )
    return {folder: real for folder, real in zip(named, answers, strict=True) if isinstance(real, str)}


def real_path(folder: str) -> str:
    return str(Path(folder).resolve())


def _asked(question: Callable[[str], T], folder: str, now: float) -> tuple[Future[T], float]:
    key = (question, folder)
    with _turn:
        if key in _asking:
            return _asking[key]
        asked = Future[T]()
        _asking[key] = (asked, now)

    def ask() -> None:
        outcome: T | BaseException
        try:
            outcome = question(folder)
        except BaseException as error:
            outcome = error
        with _turn:
            del _asking[key]
        if isinstance(outcome, BaseException):
            asked.set_exception(outcome)
        else:
            asked.set_result(outcome)

    threading.Thread(target=ask, name=f"looking at {folder}", daemon=True).start()
    return asked, now
