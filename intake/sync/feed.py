"""The feed: what has changed since a device read last, of the day on which it works, for a porter also of those of
which something is on its way; of a desk's days alone."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from operator import itemgetter

from intake.database import Reading
from intake.families import Asker
from intake.reading import (
    as_listed,
    as_read,
    days_awaited,
    is_over,
    other_days,
)
from intake.sync.ready import ReadyRecords
from intake.sync.standing import OfficeStanding


def feed_page(
    tx: Reading,
    asker: Asker,
    ready: ReadyRecords,
    *,
    after: int,
    limit: int,
    office_time: str,
    stands: OfficeStanding,
    paired: Mapping[str, str | None],
) -> bytes:
    """A page of the feed as JSON: of the asker's day and those it `awaits`, and of other days what belongs to none.
    `paired` is what the asker is to this office: one that believes itself another reads it all anew. So does one that
    hears of another day awaited, since what is of that stands before its place.

    Nobody reads more in one go, whatever they leave out of the address: what was copied once is the whole house's
    register, and of what an owner said to whom nobody would know who read it.
    """
    now = datetime.fromisoformat(office_time)
    over = bool(asker.day_id) and is_over(tx, asker.day_id, now, in_office=asker.role == "manager")
    awaited = days_awaited(tx, asker, now)
    placed: list[tuple[int, bytes]] = []
    if asker.day_id and not over:
        placed = ready.of_day(tx, asker, after, limit, erased=stands.erased)
    for day_id in awaited:
        placed += ready.of_day(tx, replace(asker, day_id=day_id), after, limit, erased=stands.erased)
    others = [day for day in other_days(tx, asker, after, limit) if day.record_id not in awaited]
    if others:
        is_desk = asker.role == "desk"
        days = as_read(tx, asker, others, asked=False) if is_desk else [as_listed(day.body) for day in others]
        placed += zip([day.feed_seq for day in others], map(b"".join, days), strict=True)
    placed = sorted(placed, key=itemgetter(0))[:limit]
    cursor = placed[-1][0] if placed else after
    more = "true" if len(placed) == limit else "false"
    tail = f'],"cursor":{cursor},"more":{more},"epoch":"{stands.epoch}",'
    tail += f'"day_id":"{asker.day_id}","day_over":{"true" if over else "false"},'
    tail += f'"awaits":{json.dumps(awaited)},'
    tail += f'"office_time":"{office_time}","device":{json.dumps(paired)},'
    tail += f'"office":{stands.model_dump_json()}}}'
    page = [content for _, content in placed] or [b""]
    # Head and tail are put on the first and the last, so that the page, megabytes of it, is copied once.
    page[0] = b'{"records":[' + page[0]
    page[-1] += tail.encode()
    return b",".join(page)
