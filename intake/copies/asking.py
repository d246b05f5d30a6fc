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
from typing import Any, TypeVar

from intake.copies.whereabouts import Whereabouts, whereabouts_of

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


async def answer_in_pieces(
    question: Callable[[Callable[[], None]], T],
    name: str,
    silent_s: float,
    *,
    elapsed: Callable[[], float] = time.monotonic,
    on_wait: Callable[[], object] = lambda: None,
) -> T:
    """What a question says that takes long, and is given what to call each time its folder gave something. Raises
    TimeoutError once the folder has been silent for so long, and what the question raises. `on_wait` is called each
    time that so long has passed and it still gives something."""
    heard = [elapsed()]

    def answered() -> None:
        heard[0] = elapsed()

    asked: Future[T] = Future()
    _begin(lambda: question(answered), asked, name)
    while True:
        left_s = heard[0] + silent_s - elapsed()
        try:
            return await asyncio.wait_for(asyncio.shield(asyncio.wrap_future(asked)), max(left_s, 0.0))
        except TimeoutError:
            if asked.done() or heard[0] + silent_s <= elapsed():
                raise
            on_wait()


async def where_they_are(folders: Iterable[str], limit_s: float) -> dict[str, Whereabouts]:
    """Where each folder lies. Those that do not answer in time are left out."""
    named = sorted(set(folders))
    answers = await asyncio.gather(
        *(answer(whereabouts_of, folder, limit_s) for folder in named), return_exceptions=True
    )
    return {
        folder: where for folder, where in zip(named, answers, strict=True) if isinstance(where, Whereabouts)
    }


def _asked(question: Callable[[str], T], folder: str, now: float) -> tuple[Future[T], float]:
    key = (question, folder)
    with _turn:
        if key in _asking:
            return _asking[key]
        asked = Future[T]()
        _asking[key] = (asked, now)

    def ask() -> T:
        try:
            return question(folder)
        finally:
            with _turn:
                del _asking[key]

    _begin(ask, asked, f"looking at {folder}")
    return asked, now


def _begin(question: Callable[[], T], asked: Future[T], name: str) -> None:
    """Ask on a thread of its own, which nobody waits for."""

    def ask() -> None:
        try:
            outcome = question()
        except BaseException as error:
            asked.set_exception(error)
        else:
            asked.set_result(outcome)

    threading.Thread(target=ask, name=name, daemon=True).start()
