"""Connections that say nothing are let go, so that they never keep a phone out.

The HTTP server limits how long a connection may rest after an answer, and nothing before its first request. Here the
head of a request has a time to arrive in, and of those that have not arrived only so many may wait: one more, and the
one that has waited longest goes. A phone that is let go asks again.
"""

from __future__ import annotations

import asyncio
from typing import ClassVar

from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol

HEAD_S = 10.0  # from the first moment of a connection, or the first byte of a later request, to the end of its head
SILENT_LIMIT = 200  # far below the 1,024 files that a process may have open on most systems


class PatientConnection(HttpToolsProtocol):
    """The HTTP server's connection, with a limit on how long and how many of them wait for a head."""

    #: Those of this process whose next head is awaited, longest first.
    _awaited: ClassVar[dict[PatientConnection, asyncio.TimerHandle]] = {}

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        super().connection_made(transport)
        self._await_head()

    def connection_lost(self, exc: Exception | None) -> None:
        self._head_ended()
        super().connection_lost(exc)

    def on_message_begin(self) -> None:
        self._await_head()
        super().on_message_begin()

    def on_headers_complete(self) -> None:
        self._head_ended()
        super().on_headers_complete()

    def _await_head(self) -> None:
        if self in self._awaited:
            return  # its first request has begun: the time runs from the connection's first moment
        self._awaited[self] = self.loop.call_later(HEAD_S, self._let_go)
        if len(self._awaited) > SILENT_LIMIT:
            next(iter(self._awaited))._let_go()

    def _head_ended(self) -> None:
        timer = self._awaited.pop(self, None)
        if timer is not None:
            timer.cancel()

    def _let_go(self) -> None:
        self._head_ended()
        self.transport.abort()
