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

from intake.database import Reading
from intake.errors import ClosingChanged, NotFound
from intake.records.values import compact

#: Some ten closings of three thousand visits, or hundreds of common ones.
KEPT_BYTES = 32 * 1024 * 1024

#: So many lines of each section come with its count: what a page shows before anybody asks for more.
FIRST_LINES = 12


@dataclass(frozen=True)
class Section:
    """The differences of a kind, what was named at the closing, or the receipts; each line as JSON, in its order."""

    name: str
    lines: list[str]


@dataclass(frozen=True)
class ToldClosing:
    """A closing as it is told: what stands above its sections, and their lines. `state` is the same only where all of
    that is."""

    head: dict[str, Any]
    sections: list[Section]
    state: str
    size: int

    @classmethod
    def of(cls, head: dict[str, Any], sections: dict[str, list[dict[str, Any]]]) -> ToldClosing:
        made = [Section(name, [compact(line) for line in lines]) for name, lines in sections.items() if lines]
        digest, size = hashlib.sha256(compact(head).encode()), 0
        for text in (text for section in made for text in (section.name, *section.lines)):
            encoded = text.encode()
            digest.update(b"\n" + encoded)
            size += len(encoded)
        return cls(head, made, digest.hexdigest()[:16], size)

    def opened(self, cursor: int) -> str:
        """How it begins, as JSON: its head, and each section with its count and first lines."""
        told = {"cursor": cursor, "state": self.state, **self.head}
        sections = (
            f'{{"section":{compact(name)},"count":{len(lines)},"lines":[{",".join(lines[:FIRST_LINES])}]}}'
            for name, lines in ((section.name, section.lines) for section in self.sections)
        )
        return f'{compact(told)[:-1]},"sections":[{",".join(sections)}]}}'

    def page(self, name: str, after: int, limit: int) -> str:
        """So many lines of a section behind the first `after`, as JSON. Raises NotFound if it has no such section."""
        lines = next((section.lines for section in self.sections if section.name == name), None)
        if lines is None:
            raise NotFound("section", name)
        end = after + limit
        following = end if end < len(lines) else None
        page = compact({"state": self.state, "next": following})
        return f'{page[:-1]},"lines":[{",".join(lines[after:end])}]}}'


@dataclass
class Kept:
    """What of the tables a closing was made of (`mark_of`), by which it is known whether it still holds."""

    mark: tuple[int, ...]
    erased: int
    told: ToldClosing


@dataclass
class KeptClosings:
    """Those that were told last, as long as there is room; the newest always. Readers ask from several threads.

    `turn` is held by whoever may have to make one, so that twenty who ask at once have it made once.
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

    def of_state(self, tx: Reading, day_id: str, state: str, make: Callable[[], ToldClosing]) -> ToldClosing:
        """The closing of a day in this state. Raises ClosingChanged if it is in another by now, and the one of then is
        not kept or was made before an erasure."""
        erased = erased_by(tx)
        with self._lock:
            self._let_go_before(erased)
            if kept := self._kept.get((day_id, state)):
                self._kept.move_to_end((day_id, state))
                return kept.told
        now = self.now(tx, day_id, make)
        if now.state != state:
            raise ClosingChanged
        return now

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
