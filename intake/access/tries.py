"""Wrong pairing codes slow down whoever tries them, and nobody else.

Failures are counted by the caller's address. The first few cost nothing, since people mistype; then every try from
there waits before it is looked at, longer and longer, up to a limit: a good code always works in the end, and a hall
of phones behind one address is never locked out by a stranger among them. A code has 40 random bits and lives ten
minutes, so that even the few tries a second which remain find nothing.
"""

from __future__ import annotations

import ipaddress
from collections import Counter
from collections.abc import Awaitable, Callable
from datetime import datetime, timedelta

from intake.errors import TooManyTries

FREE = 5  # failures that cost nothing
LONGEST_S = 8.0
FORGOTTEN_AFTER = timedelta(minutes=5)
MOST_WAITING = (
    20  # tries from one address that may wait at once: more are sent away, and may come again at once
)
MOST_KNOWN = 10_000  # addresses; beyond that the ones whose last failure is oldest are forgotten


class Tries:
    """The failures of each address. `pause` waits for so many seconds without holding up anybody else."""

    def __init__(self, pause: Callable[[float], Awaitable[None]]) -> None:
        self._pause = pause
        self._failures: dict[str, tuple[int, datetime]] = {}  # in the order of their last failure
        self._waiting: Counter[str] = Counter()

    def delay_s(self, address: str, now: datetime) -> float:
        """How long a try from here waits."""
        count, last = self._failures.get(caller(address), (0, now))
        if count < FREE or now - last > FORGOTTEN_AFTER:
            return 0.0
        return float(min(LONGEST_S, 2.0 ** min(count - FREE, 10)))

    async def slow_down(self, address: str, now: datetime) -> None:
        """Wait as long as a try from here must. Raises TooManyTries if many from here wait already."""
        delay, who = self.delay_s(address, now), caller(address)
        if not delay:
            return
        if self._waiting[who] >= MOST_WAITING:
            raise TooManyTries(int(LONGEST_S))
        self._waiting[who] += 1
        try:
            await self._pause(delay)
        finally:
            self._waiting[who] -= 1
            if not self._waiting[who]:
                del self._waiting[who]

    def note_failure(self, address: str, now: datetime) -> None:
        """A wrong code came from here."""
        count, last = self._failures.pop(caller(address), (0, now))
        self._failures[caller(address)] = (1 if now - last > FORGOTTEN_AFTER else count + 1, now)
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
