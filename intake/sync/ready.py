"""Records as they are sent, put together once for all devices that read the same of them.

When a day begins, and at each change while it goes on, all tables ask for the same records: what one of them was sent
is kept in memory for the next. Which records a page has is asked of the tables each time; one that was kept is known by
its place in the feed, which it leaves whenever what devices read of it has changed. Left out is that of which one table
reads more than another: visits, and at the table of the owner the items of which they told something.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from dataclasses import dataclass, field

from intake.database import Reading
from intake.families import Asker
from intake.reading import Stored, as_read, own_items, places_of_day, records_of_day, stored_many

#: Ten thousand records, or the ten days of a busy house; beyond that a page costs each what it costs the first.
KEPT_BYTES = 96 * 1024 * 1024

#: Who reads the same: those who work on a day, by the names of the parts that they read.
Circle = tuple[str, tuple[str, ...]]


@dataclass
class Kept:
    """What was sent to a circle: by record its place in the feed and its bytes, and how many bytes they are in all."""

    records: dict[str, tuple[int, bytes]] = field(default_factory=dict)
    size: int = 0

    def put(self, record: Stored, content: bytes, room: int) -> None:
        """Keep a record in place of what was kept of it before, if there is room for that: for so many bytes in all."""
        _, before = self.records.get(record.record_id, (0, b""))
        size = self.size + len(content) - len(before)
        if size <= room:
            self.records[record.record_id] = record.feed_seq, content
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
            own = own_items(tx, asker, [record.record_id for record in records])
            sent = self._read(tx, asker, records, own, circle, erased)
            return [(record.feed_seq, sent[record.record_id]) for record in records]
        places = places_of_day(tx, asker, after, limit)
        own = own_items(tx, asker, [record_id for record_id, _ in places])
        ready: dict[str, bytes] = {}
        for record_id, place in places:
            known = kept.get(record_id)
            if known is not None and known[0] == place and record_id not in own:
                ready[record_id] = known[1]
        if len(ready) < len(places):
            # Most of a page is read in its order, which is quicker than one by one.
            others = (
                stored_many(tx, [record_id for record_id, _ in places if record_id not in ready])
                if len(ready) > len(places) // 2
                else records_of_day(tx, asker, after, limit)
            )
            ready |= self._read(tx, asker, others, own, circle, erased)
        return [(place, ready[record_id]) for record_id, place in places if record_id in ready]

    def _kept_for(self, circle: Circle, erased: int) -> dict[str, tuple[int, bytes]]:
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
        own: set[str],
        circle: Circle,
        erased: int,
    ) -> dict[str, bytes]:
        """These records as the device reads them; they are kept for the next, but for visits and its `own` items."""
        read = as_read(tx, asker, records, asked=False)
        sent = {record.record_id: b"".join(pieces) for record, pieces in zip(records, read, strict=True)}
        with self._lock:
            if erased == self._erased:
                kept = self._circles.setdefault(circle, Kept())
                self._circles.move_to_end(circle)
                for record in records:
                    if record.kind != "visit" and record.record_id not in own:
                        kept.put(record, sent[record.record_id], self._limit)
                # What nobody asked for lately goes first, and never what was kept just now: who reads more than there
                # is room for would else find nothing kept, page after page.
                while sum(each.size for each in self._circles.values()) > self._limit:
                    self._circles.popitem(last=False)
        return sent
