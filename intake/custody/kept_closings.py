"""Closings of days as they were told, kept so that whoever reads one page by page reads all pages of one state.

A closing is made of its whole day. It is made once for all who ask, and again only when something of its day has
changed; what was told before stays for a while, so that a page of it can still be read while phones go on sending.
After an erasure nothing that was made before it is told any more.
"""

from __future__ import annotations

import asyncio
import hashlib
import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from intake.custody.packed import Packed
from intake.database import Reading
from intake.errors import ClosingChanged, NotFound
from intake.records.values import compact

#: Packed: some ten closings of ten thousand items, or hundreds of common ones.
KEPT_BYTES = 16 * 1024 * 1024

#: So many lines of each section come with its count: what a page shows before anybody asks for more.
FIRST_LINES = 12


@dataclass(frozen=True)
class ToldClosing:
    """A closing as it is told: what stands above its sections, and the lines of each: the differences of a kind, what
    was named at the closing, or the receipts. `state` is the same only where all of that is."""

    head: dict[str, Any]
    sections: dict[str, Packed]
    state: str
    size: int

    @classmethod
    def of(cls, head: dict[str, Any], sections: dict[str, Packed]) -> ToldClosing:
        told = {name: lines for name, lines in sections.items() if lines}
        whole = compact([head, {name: lines.digest for name, lines in told.items()}])
        state = hashlib.sha256(whole.encode()).hexdigest()[:16]
        return cls(head, told, state, sum(lines.size for lines in told.values()))

    def opened(self, cursor: int) -> str:
        """How it begins, as JSON: its head, and each section with its count and first lines."""
        told = {"cursor": cursor, "state": self.state, **self.head}
        sections = (
            f'{{"section":{compact(name)},"count":{len(lines)},"lines":[{",".join(lines.page(0, FIRST_LINES))}]}}'
            for name, lines in self.sections.items()
        )
        return f'{compact(told)[:-1]},"sections":[{",".join(sections)}]}}'

    def page(self, name: str, after: int, limit: int) -> str:
        """So many lines of a section behind the first `after`, as JSON. Raises NotFound if it has no such section."""
        lines = self.sections.get(name)
        if lines is None:
            raise NotFound("section", name)
        end = after + limit
        following = end if end < len(lines) else None
        page = compact({"state": self.state, "next": following})
        return f'{page[:-1]},"lines":[{",".join(lines.page(after, limit))}]}}'


@dataclass
class Kept:
    """What of the tables a closing was made of (`mark_of`), by which it is known whether it still holds."""

    mark: tuple[int, ...]
    erased: int
    told: ToldClosing


@dataclass
class KeptClosings:
    """Those that were told last, as long as there is room; the newest always. Readers ask from several threads.

    `turn` is held by whoever may have to make one: twenty who ask at once have it made once, and of two days one is
    made after the other, since a large day takes as much memory as may be had.
    """

    limit: int = KEPT_BYTES
    turn: asyncio.Lock = field(default_factory=asyncio.Lock)
    _kept: OrderedDict[tuple[str, str], Kept] = field(
        default_factory=OrderedDict
    )  # by day and state, oldest first
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def now(self, tx: Reading, day_id: str, make: Callable[[], ToldClosing]) -> ToldClosing:
        """The closing of a day as the tables are now. `make` makes it of them."""
        mark, erased = mark_of(tx, day_id), erased_by(tx)
        with self._lock:
            self._let_go_before(erased)
            for key, kept in reversed(self._kept.items()):
                if key[0] == day_id and (kept.mark, kept.erased) == (mark, erased):
                    self._kept.move_to_end(key)
                    return kept.told
        told = make()
        with self._lock:
            self._kept[day_id, told.state] = Kept(mark, erased, told)
            self._kept.move_to_end((day_id, told.state))
            while len(self._kept) > 1 and sum(kept.told.size for kept in self._kept.values()) > self.limit:
                self._kept.popitem(last=False)
        return told

    def kept(self, tx: Reading, day_id: str, state: str) -> ToldClosing | None:
        """The closing of a day in this state; None if it is not kept, or was made before an erasure."""
        erased = erased_by(tx)
        with self._lock:
            self._let_go_before(erased)
            if kept := self._kept.get((day_id, state)):
                self._kept.move_to_end((day_id, state))
                return kept.told
        return None

    def of_state(self, tx: Reading, day_id: str, state: str, make: Callable[[], ToldClosing]) -> ToldClosing:
        """The same, made if need be. Raises ClosingChanged if the day is in another state by now."""
        told = self.kept(tx, day_id, state) or self.now(tx, day_id, make)
        if told.state != state:
            raise ClosingChanged
        return told

    def _let_go_before(self, erased: int) -> None:
        for key in [key for key, kept in self._kept.items() if kept.erased < erased]:
            del self._kept[key]


def mark_of(tx: Reading, day_id: str) -> tuple[int, ...]:
    """What is another as soon as anything is that a closing goes by: a record of its day, or a plan on record."""
    row = tx.one(
        """
        SELECT count(*), coalesce(max(feed_seq), 0), (SELECT count(*) FROM plan_version) FROM record
        WHERE day_id = :day_id
        """,
        day_id=day_id,
    )
    return tuple(row) if row else ()


def erased_by(tx: Reading) -> int:
    """How many times the words of a record were erased."""
    return int(tx.value("SELECT count(*) FROM erasure"))
