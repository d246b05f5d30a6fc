"""Records as they are sent, put together once for all devices that read the same of them.

When a day begins, and at each change while it goes on, all tables ask for the same records: what one of them was sent
is kept in memory for the next. Which records a page has is asked of the tables each time; one that was kept is known by
its place in the feed, which it leaves whenever what devices read of it has changed. Left out is that of which one table
reads more than another: visits, and at the table of the owner the items of which they told something. Of which visit
these are is kept with them, so that what is asked each time is where the owners sit, and not what each of them told.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from dataclasses import dataclass, field
from typing import NamedTuple

from intake.database import Reading
from intake.families import Asker
from intake.reading import (
    Stored,
    as_read,
    own_visits,
    places_of_day,
    records_of_day,
    stored_many,
    told_items,
)

#: Ten thousand records, or the ten days of a busy house; beyond that a page costs each what it costs the first.
KEPT_BYTES = 96 * 1024 * 1024

#: Who reads the same: those who work on a day, by the names of the parts that they read.
Circle = tuple[str, tuple[str, ...]]


class Sent(NamedTuple):
    """A record as it was sent: its place in the feed, its bytes, and of an item of which its owner told something the
    visit at whose table more is read of it."""

    place: int
    content: bytes
    told_at: str = ""


@dataclass
class Kept:
    """What was sent to a circle, by record, and how many bytes that is in all."""

    records: dict[str, Sent] = field(default_factory=dict)
    size: int = 0

    def put(self, record_id: str, sent: Sent, room: int) -> None:
        """Keep a record in place of what was kept of it before, if there is room for that: for so many bytes in all."""
        before = self.records.get(record_id)
        size = self.size + len(sent.content) - len(before.content if before else b"")
        if size <= room:
            self.records[record_id] = sent
            self.size = size


class ReadyRecords:
    """The records that were sent, as long as there is room. Readers ask from several threads."""

    def __init__(self, limit: int = KEPT_BYTES) -> None:
        self._limit = limit
        self._circles: OrderedDict[Circle, Kept] = OrderedDict()  # whoever asked last stands last
        self._erased = 0  # how often words had been erased when what is kept was read
        self._lock = threading.Lock()

    def of_day(
        self, tx: Reading, asker: Asker, after: int, limit: int, *, erased: int
    ) -> list[tuple[int, bytes]]:
        """The next records of the day on which the device works, each with its place in the feed.

        `erased`: how often words of a record were erased by then. What was read before that is let go of.
        """
        circle = asker.day_id, tuple(asker.parts(own="", asked=False))
        kept = self._kept_for(circle, erased)
        if not kept:
            records = records_of_day(tx, asker, after, limit)
            sent = self._read(tx, asker, records, circle, erased)
            return [(record.feed_seq, sent[record.record_id]) for record in records]
        places = places_of_day(tx, asker, after, limit)
        known = {
            record_id: kept[record_id]
            for record_id, place in places
            if record_id in kept and kept[record_id].place == place
        }
        own = own_visits(tx, asker, list({sent.told_at for sent in known.values() if sent.told_at}))
        ready = {record_id: sent.content for record_id, sent in known.items() if sent.told_at not in own}
        if len(ready) < len(places):
            # Most of a page is read in its order, which is quicker than one by one.
            others = (
                stored_many(tx, [record_id for record_id, _ in places if record_id not in ready])
                if len(ready) > len(places) // 2
                else records_of_day(tx, asker, after, limit)
            )
            ready |= self._read(tx, asker, others, circle, erased)
        return [(place, ready[record_id]) for record_id, place in places if record_id in ready]

    def _kept_for(self, circle: Circle, erased: int) -> dict[str, Sent]:
        """What is kept for these readers, by record; of what was read before an erasure nothing is."""
        with self._lock:
            if erased > self._erased:
                self._circles.clear()
                self._erased = erased
            if circle not in self._circles:
                return {}
            self._circles.move_to_end(circle)
            return dict(self._circles[circle].records)

    def _read(
        self,
        tx: Reading,
        asker: Asker,
        records: list[Stored],
        circle: Circle,
        erased: int,
    ) -> dict[str, bytes]:
        """These records as the device reads them; they are kept for the next, but for visits and items of its own."""
        read = as_read(tx, asker, records, asked=False)
        sent = {record.record_id: b"".join(pieces) for record, pieces in zip(records, read, strict=True)}
        told = told_items(tx, asker, [record.record_id for record in records if record.kind == "item"])
        own = own_visits(tx, asker, list(set(told.values())))
        with self._lock:
            if erased == self._erased:
                kept = self._circles.setdefault(circle, Kept())
                self._circles.move_to_end(circle)
                for record in records:
                    told_at = told.get(record.record_id, "")
                    if record.kind != "visit" and told_at not in own:
                        as_sent = Sent(record.feed_seq, sent[record.record_id], told_at)
                        kept.put(record.record_id, as_sent, self._limit)
                # What nobody asked for lately goes first, and never what was kept just now: who reads more than there
                # is room for would else find nothing kept, page after page.
                while sum(each.size for each in self._circles.values()) > self._limit:
                    self._circles.popitem(last=False)
        return sent
