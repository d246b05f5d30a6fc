"""Wrong pairing codes slow down whoever tries them, and nobody else.

Failures are counted by the caller's address. The first few cost nothing, since people mistype; then the answer to
every wrong code from there waits, longer and longer, up to a limit. A code is looked at before anybody waits: a good
one works at once, and a hall of phones behind one address is never locked out by a stranger among them. Who is in
many places at once is not kept from guessing by this; that a code has 40 random bits and lives ten minutes is what
lets nobody find one (at 10 000 tries a second: one chance in 180 000).
"""

from __future__ import annotations

import asyncio
import ipaddress
from collections import Counter
from collections.abc import Awaitable, Callable
from datetime import datetime, timedelta

from intake.errors import TooManyTries

FREE = 5  # failures that cost nothing
LONGEST_S = 8.0
FORGOTTEN_AFTER = timedelta(minutes=5)
MOST_WAITING = 20  # wrong codes from one address that may wait at once: more are told to come again later
MOST_KNOWN = 10_000  # addresses; beyond that the ones whose last failure is oldest are forgotten


class Tries:
    """The failures of each address.

    `pause` waits for so many seconds without holding up anybody else; no wait outlasts `closing`, the office's end.
    """

    def __init__(self, pause: Callable[[float], Awaitable[None]], closing: asyncio.Event) -> None:
        self._pause, self._closing = pause, closing
        self._failures: dict[str, tuple[int, datetime]] = {}  # in the order of their last failure
        self._waiting: Counter[str] = Counter()

    def delay_s(self, address: str, now: datetime) -> float:
        """How long the answer to a wrong code from here waits."""
        count, last = self._failures.get(caller(address), (0, now))
        if count < FREE or now - last > FORGOTTEN_AFTER:
            return 0.0
        return float(min(LONGEST_S, 2.0 ** min(count - FREE, 10)))

    async def failed(self, address: str, now: datetime) -> None:
        """A wrong code came from here: wait as long as its answer must. Raises TooManyTries if many wait already."""
        delay, who = self.delay_s(address, now), caller(address)
        self._count(who, now)
        if not delay:
            return
        if self._waiting[who] >= MOST_WAITING:
            raise TooManyTries(int(LONGEST_S))
        self._waiting[who] += 1
        try:
            await self._pause_or_end(delay)
        finally:
            self._waiting[who] -= 1
            if not self._waiting[who]:
                del self._waiting[who]

    async def _pause_or_end(self, seconds: float) -> None:
        ways = [asyncio.ensure_future(self._pause(seconds)), asyncio.ensure_future(self._closing.wait())]
        try:
            await asyncio.wait(ways, return_when=asyncio.FIRST_COMPLETED)
        finally:
            for way in ways:
                way.cancel()

    def _count(self, who: str, now: datetime) -> None:
        count, last = self._failures.pop(who, (0, now))
        self._failures[who] = (1 if now - last > FORGOTTEN_AFTER else count + 1, now)
        if len(self._failures) > MOST_KNOWN:
            del self._failures[next(iter(self._failures))]


def caller(address: str) -> str:
    """Whom to count: an address, or the /64 network of an IPv6 one, of which one machine has as many as it likes.

    Source of the 64 bits: RFC 4291 section 2.5.4.
    """
    try:
        found = ipaddress.ip_address(address)
    except ValueError:
        return address
    if found.version == 4:
        return address
    return str(found.ipv4_mapped or ipaddress.ip_network((found.packed[:8] + bytes(8), 64)))
