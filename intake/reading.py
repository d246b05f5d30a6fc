"""What a device reads of the records: which of them, and which parts of each. Feed, records and photos all ask here.

A desk and a manager may read every day; the others the day they work on, until it is over, and a porter beside it the
days of which something is still on its way. What a device keeps is less:
a desk the open days and no more, since it asks for each thing it shows; a manager the day worked on. Of a visit that
is neither its own nor at its table now, a table reads what everyone does and what the owner is called by, and of its
items not what the owner told of them.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from pathlib import Path
from typing import NamedTuple, get_args

import yaml

from intake.database import Reading, any_of
from intake.errors import NotFound
from intake.families import OWNER, RESTRICTED, TOLD, Asker, Own, family_of
from intake.operation import KINDS
from intake.records.values import compact
from intake.records.writing import Piece, in_pieces


def times_of_days() -> dict[str, timedelta]:
    """How long a day is worked on, by what follows: `days.yaml` says each, and why."""
    rows = yaml.safe_load((Path(__file__).parent / "days.yaml").read_text("utf-8"))["times"]
    return {row["time"]: timedelta(hours=row.get("hours", 0), days=row.get("days", 0)) for row in rows}


TIMES = times_of_days()
AFTERWARDS = TIMES["worked-on-after-closing"]
SETTLED_WITHIN = TIMES["settled-after-closing"]
LEFT_OPEN = TIMES["left-open"]
HALL_CLEARED = TIMES["hall-cleared"]

OWNS: tuple[Own, ...] = get_args(Own)


class Stored(NamedTuple):
    """A record as it is stored: its body as JSON of what everyone reads, and where its fields end in it."""

    record_id: str
    kind: str
    day_id: str
    feed_seq: int
    body: bytes
    fields_end: int | None


COLUMNS = "record_id, kind, day_id, feed_seq, CAST(body AS BLOB), fields_end"


def stored(tx: Reading, record_id: str) -> Stored | None:
    """One record, or None."""
    row = tx.one(f"SELECT {COLUMNS} FROM record WHERE record_id = :record_id", record_id=record_id)
    return Stored(*row) if row else None


def stored_many(tx: Reading, record_ids: Sequence[str]) -> list[Stored]:
    """Records by their ids, in the order of these; those that there are, each once."""
    rows = tx.all(
        f"SELECT {COLUMNS} FROM record WHERE record_id IN {any_of('record_ids')}",
        record_ids=json.dumps(record_ids),
    )
    found = {row[0]: Stored(*row) for row in rows}
    return [found[record_id] for record_id in dict.fromkeys(record_ids) if record_id in found]


def is_over(tx: Reading, day_id: str, now: datetime, *, in_office: bool = False) -> bool:
    """Whether a day was closed, and the time to work on after that is over, by the office's clock; in the hall also
    whether it was left open and is long past. `in_office`: where what differed is settled, and days are closed."""
    closed_at = tx.value(
        """
        SELECT received_at FROM field JOIN operation_log USING (operation_id)
        WHERE field.record_id = :day_id AND name = 'closed'
        """,
        day_id=day_id,
    )
    if closed_at is None:
        return not in_office and is_left_open(tx, day_id, now)
    return datetime.fromisoformat(closed_at) + (SETTLED_WITHIN if in_office else AFTERWARDS) <= now


def held_on(of: str) -> str:
    """In SQL the date of a day as it stands now; `of` is what the day's record is called in the statement."""
    return (
        f"coalesce((SELECT value ->> '$' FROM field WHERE field.record_id = {of}.record_id AND name = 'held_on'), "
        f"{of}.head ->> 'held_on')"
    )


def is_left_open(tx: Reading, day_id: str, now: datetime) -> bool:
    """Whether a day that nobody closed is long past: by its date, by when the office first heard of it, and by when a
    manager last said something of the day itself, as when its date is corrected: that opens it again. It has to be what
    managers alone may say: that tells whose it was, whatever work its device does by now or did then."""
    row = tx.one(
        f"""
        SELECT opened_seq, {held_on("record")} AS held_on FROM record WHERE record_id = :day_id AND kind = 'day'
        """,
        day_id=day_id,
    )
    if row is None or not (row["held_on"] or "") < (now - LEFT_OPEN).date().isoformat():
        return False
    heard_at = tx.value(
        f"""
        SELECT max(received_at) FROM operation_log WHERE record_id = :day_id AND (
            office_seq = :opened_seq
            OR (operation ->> 'kind' IN {any_of("of_managers")} AND answer ->> 'outcome' = 'kept')
        )
        """,
        day_id=day_id,
        of_managers=json.dumps([name for name, kind in KINDS.items() if not kind.roles]),
        opened_seq=row["opened_seq"],
    )
    return heard_at is not None and datetime.fromisoformat(heard_at) + LEFT_OPEN <= now


def is_closed(tx: Reading, day_id: str) -> bool:
    """Whether somebody has closed the day."""
    return has_field(tx, day_id, "closed")


def is_let_go(tx: Reading, day_id: str) -> bool:
    """Whether the day was set up twice, and somebody let this one go."""
    return has_field(tx, day_id, "let_go")


def has_field(tx: Reading, record_id: str, name: str) -> bool:
    found = tx.value(
        "SELECT 1 FROM field WHERE record_id = :record_id AND name = :name", record_id=record_id, name=name
    )
    return bool(found)


def open_days(tx: Reading) -> list[str]:
    """The days that nobody has closed."""
    rows = tx.all(
        """
        SELECT record_id FROM record WHERE kind = 'day' AND NOT EXISTS
            (SELECT 1 FROM field WHERE field.record_id = record.record_id AND name = 'closed')
        """
    )
    return [row["record_id"] for row in rows]


def latest_days(tx: Reading, most: int, asked: str = "") -> dict[str, str]:
    """The latest days on which there are things, and the one that is `asked` for, each with its date, the latest
    first."""
    rows = tx.all(
        f"""
        SELECT record_id, {held_on("day")} AS held_on FROM record AS day
        WHERE kind = 'day' AND EXISTS
            (SELECT 1 FROM record AS item WHERE item.kind = 'item' AND item.day_id = day.record_id)
        ORDER BY record_id = :asked DESC, held_on DESC, record_id LIMIT :most
        """,
        asked=asked,
        most=most,
    )
    dates = {row["record_id"]: row["held_on"] or "" for row in rows}
    return dict(sorted(dates.items(), key=lambda day: day[1], reverse=True))


def day_of_work(tx: Reading, role: str, day_id: str, now: datetime) -> str:
    """The day on which a device works: the one it names, else the only one that is open, else with none open the one
    that was closed last, until it is over: a phone that is paired that night still finds the crate that was missing.
    Empty if it has to choose, and for a desk, which works on whatever there is."""
    if role == "desk":
        return ""
    if day_id:
        return day_id
    days = [day for day in open_days(tx) if not is_let_go(tx, day)] or closed_last(tx, now)
    return days[0] if len(days) == 1 else ""


def closed_last(tx: Reading, now: datetime) -> list[str]:
    """The day that was closed last, if it is worked on still."""
    day_id = tx.value(
        """
        SELECT record.record_id FROM record JOIN field USING (record_id) JOIN operation_log USING (operation_id)
        WHERE record.kind = 'day' AND name = 'closed' ORDER BY operation_log.office_seq DESC LIMIT 1
        """
    )
    return [day_id] if day_id and not is_over(tx, day_id, now) else []


def reads_record(tx: Reading, asker: Asker, record: Stored, now: datetime) -> bool:
    """Whether the device reads this record at all."""
    return asker.reads_every_day or record.day_id in days_read(tx, asker, now)


def days_read(tx: Reading, asker: Asker, now: datetime) -> list[str]:
    """The days whose records a device of the hall reads: its own until that is over, and those it awaits."""
    own = [asker.day_id] if asker.day_id and not is_over(tx, asker.day_id, now) else []
    return [*own, *days_awaited(tx, asker, now)]


#: So long after it came a thing is taken in still: compared with its pictures, put on its shelf, counted once more.
TAKEN_IN_WITHIN = timedelta(days=1)

#: How many days before one are looked through for what goes on from them: a house holds as many in a row.
DAYS_BACK = 5


def days_before(tx: Reading, day_id: str) -> list[tuple[str, str]]:
    """The days that were held before one, each with its date, the latest first."""
    rows = tx.all(
        f"""
        WITH day AS (
            SELECT record_id, opened_seq, {held_on("record")} AS held_on FROM record WHERE kind = 'day'
        )
        SELECT day.record_id, day.held_on FROM day JOIN day AS this ON this.record_id = :day_id
        WHERE (day.held_on, day.opened_seq) < (this.held_on, this.opened_seq)
        ORDER BY day.held_on DESC, day.opened_seq DESC LIMIT :most
        """,
        day_id=day_id,
        most=DAYS_BACK,
    )
    return [(row["record_id"], row["held_on"]) for row in rows]


def days_awaited(tx: Reading, asker: Asker, now: datetime) -> list[str]:
    """Beside the day that a porter works on those of which something stands in the van, or was left in the holding area
    in nothing: it comes when it comes, and whoever takes it in has to know what it is. As long after its closing as
    what differed is settled, or until the hall is cleared; by then nobody waits for it at the door. Nor does a day
    leave under the hand that takes in the last of it, and compares it with its pictures. What came inside of something
    else may count as well: a day too many is no harm."""
    if asker.role != "porter":
        return []
    own = asker.day_id if asker.day_id and not is_over(tx, asker.day_id, now) else ""
    still_open = {day_id for day_id in open_days(tx) if not is_left_open(tx, day_id, now)}
    days = still_open | closed_lately(tx, now, SETTLED_WITHIN)
    in_hall = still_open | closed_lately(tx, now, HALL_CLEARED)
    since = f"{now - TAKEN_IN_WITHIN:%Y-%m-%dT%H:%M:%S}"  # as the log writes instants, and sorts them
    rows = tx.all(
        f"""
        SELECT day.record_id FROM record AS day WHERE day.record_id IN {any_of("days")} AND (
            day.record_id IN (
                SELECT thing.day_id FROM field CROSS JOIN record AS thing USING (record_id)
                WHERE name >= 'whereabouts' AND name < 'whereabouts0' AND value ->> 'to_place' = 'van'
                    AND thing.kind IN ('item', 'container')
            ) OR day.record_id IN {any_of("in_hall")} AND EXISTS (
                SELECT 1 FROM record AS thing CROSS JOIN field USING (record_id)
                WHERE thing.day_id = day.record_id AND thing.kind IN ('item', 'container')
                    AND name >= 'whereabouts' AND name < 'whereabouts0' AND value ->> 'to_place' = 'holding'
                    AND NOT EXISTS (
                        SELECT 1 FROM field AS put WHERE put.record_id = field.record_id
                            AND put.name IN ('inside', replace(field.name, 'whereabouts', 'inside'))
                            AND put.value ->> 'container_id' IS NOT NULL AND put.made_at > field.made_at
                    )
            ) OR EXISTS (
                SELECT 1 FROM record AS thing CROSS JOIN field USING (record_id)
                WHERE thing.day_id = day.record_id AND thing.feed_seq >= :since_seq
                    AND thing.kind IN ('item', 'container') AND name >= 'whereabouts' AND name < 'whereabouts0'
                    AND value ->> 'to_place' IN ('store', 'shelf', 'isolation') AND (
                        SELECT received_at > :since FROM operation_log
                        WHERE operation_log.operation_id = field.operation_id
                    )
            )
        ) ORDER BY feed_seq
        """,
        days=json.dumps(sorted(days - {own})),
        in_hall=json.dumps(sorted(in_hall)),
        since=since,
        since_seq=first_heard_since(tx, since),  # no record stands before the last that touched it
    )
    return [row["record_id"] for row in rows]


def first_heard_since(tx: Reading, since: str) -> int:
    """The place in the log of the first operation that was received after that moment; behind its end if none was.
    By halves, since the log is in the order of the office's clock; where that was set back in between, some of it may
    be passed over."""
    low, high = 0, int(tx.value("SELECT max(office_seq) FROM operation_log") or 0)
    while low < high:
        middle = (low + high) // 2
        row = tx.one(
            "SELECT office_seq, received_at FROM operation_log WHERE office_seq > :middle ORDER BY office_seq LIMIT 1",
            middle=middle,
        )
        if row is None or row["received_at"] > since:
            high = middle
        else:
            low = row["office_seq"]
    return low + 1


def closed_lately(tx: Reading, now: datetime, within: timedelta) -> set[str]:
    """The days that were closed no longer ago than that."""
    rows = tx.all(
        """
        SELECT record.record_id, received_at
        FROM record JOIN field USING (record_id) JOIN operation_log USING (operation_id)
        WHERE record.kind = 'day' AND name = 'closed'
        """
    )
    return {row["record_id"] for row in rows if datetime.fromisoformat(row["received_at"]) + within > now}


def require_record(tx: Reading, record_id: str, asker: Asker, now: datetime) -> Stored:
    """The record. Raises NotFound if there is none, or none that the device reads: it does not hear which."""
    record = stored(tx, record_id)
    if record is None or not reads_record(tx, asker, record, now):
        raise NotFound("record", record_id)
    return record


def own_visits(tx: Reading, asker: Asker, visit_ids: Sequence[str]) -> set[str]:
    """Those of these visits that a table opened, or that are at it now: at its seat, or called by it to no seat that
    anybody said, or to none again. Who called an owner to where they sat before reads them by no other seat of its own,
    and by none either: whoever has no seat says that they sit at none, which is noted."""
    if not visit_ids or asker.role != "table":
        return set()
    rows = tx.all(
        f"""
        SELECT record.record_id FROM record JOIN operation_log AS opened ON opened.office_seq = record.opened_seq
            LEFT JOIN field AS stage ON stage.record_id = record.record_id AND stage.name = 'stage'
            LEFT JOIN field AS seat ON seat.record_id = record.record_id AND seat.name = 'table_id'
        WHERE record.record_id IN {any_of("visit_ids")} AND (
            opened.device_id = :device_id OR (
                stage.value = '"at-table"' AND (seat.value = :seat OR (
                    stage.device_id = :device_id AND coalesce(seat.value, 'null') IN ('null', '""')
                ))
            )
        )
        """,
        visit_ids=json.dumps(visit_ids),
        device_id=asker.device_id,
        seat=compact(asker.table_id) if asker.table_id else None,
    )
    return {row["record_id"] for row in rows}


def told_items(tx: Reading, asker: Asker, record_ids: Sequence[str]) -> dict[str, str]:
    """Those of these records that are items of which their owner told something, each with its visit: a table reads
    more of its own than other tables do. Empty for whoever reads of none by where its owner sits."""
    if not record_ids or asker.role != "table":
        return {}
    rows = tx.all(
        f"""
        SELECT item.record_id, item.head ->> 'visit_id' AS visit_id
        FROM record_part CROSS JOIN record AS item USING (record_id)
        WHERE record_part.record_id IN {any_of("record_ids")} AND readers = :told
        """,
        record_ids=json.dumps(record_ids),
        told=TOLD.name,
    )
    return {record_id: visit_id for record_id, visit_id in rows if visit_id}


def own_items(tx: Reading, asker: Asker, record_ids: Sequence[str]) -> set[str]:
    """Those of these records that are items of a table's own visits, and of which their owner told something."""
    told = told_items(tx, asker, record_ids)
    own = own_visits(tx, asker, list(set(told.values())))
    return {record_id for record_id, visit_id in told.items() if visit_id in own}


def own_records(tx: Reading, asker: Asker, kinds: Mapping[str, str]) -> dict[str, Own]:
    """Those of these records, by their kinds, that are a table's own visits or items of these, each as what it is."""
    visits = own_visits(tx, asker, [record_id for record_id, kind in kinds.items() if kind == "visit"])
    items = own_items(tx, asker, [record_id for record_id, kind in kinds.items() if kind == "item"])
    return {**dict.fromkeys(visits, "visit"), **dict.fromkeys(items, "item")}


def as_read(tx: Reading, asker: Asker, records: Sequence[Stored], *, asked: bool) -> list[list[Piece]]:
    """Records as JSON, each in pieces, with the parts that the device reads. `asked`: it asks for these by themselves.

    Bodies are never parsed, and copied where they leave. Of another day than its own a device reads the list alone.
    """
    parts = parts_read(tx, asker, [record for record in records if record.fields_end is not None], asked)
    return [
        in_pieces(record.body, record.fields_end, parts[record.record_id])
        if record.fields_end is not None and record.record_id in parts
        else [record.body]
        for record in records
    ]


def record_body(tx: Reading, record_id: str, asker: Asker, now: datetime) -> tuple[Stored, bytes]:
    """One record, and its JSON as this device reads it when it asks for it. Raises NotFound."""
    record = require_record(tx, record_id, asker, now)
    [pieces] = as_read(tx, asker, [record], asked=True)
    return record, b"".join(pieces)


def require_owner(tx: Reading, visit_id: str, asker: Asker, now: datetime) -> None:
    """Whether the device reads the owner of this visit when it asks for it. Raises NotFound if not."""
    visit = require_record(tx, visit_id, asker, now)
    own: Own = "visit" if visit_id in own_visits(tx, asker, [visit_id]) else ""
    if visit.kind != "visit" or not OWNER.include(asker.role, own=own, asked=True):
        raise NotFound("visit", visit_id)


def parts_read(
    tx: Reading, asker: Asker, records: Iterable[Stored], asked: bool
) -> dict[str, list[tuple[bytes, bytes]]]:
    """The parts of these records that not everyone reads but this device does, by record."""
    in_parts = {record.record_id: record.kind for record in records}
    own = own_records(tx, asker, in_parts)
    read = {mine: set(asker.parts(own=mine, asked=asked)) for mine in OWNS}
    parts: dict[str, list[tuple[bytes, bytes]]] = defaultdict(list)
    if not in_parts or not any(read.values()):
        return parts
    # What it reads of no record stays where it is: signatures are long. Asked the other way round, the engine looks
    # for each of the readers by itself.
    unread = {part.name for part in RESTRICTED}.difference(*read.values())
    for record_id, readers, fields, disagreements in tx.each(
        f"""
        SELECT record_id, readers, CAST(fields AS BLOB), CAST(disagreements AS BLOB) FROM record_part
        WHERE record_id IN {any_of("record_ids")} AND readers NOT IN {any_of("unread")}
        ORDER BY record_id, readers
        """,
        record_ids=json.dumps(list(in_parts)),
        unread=json.dumps(sorted(unread)),
    ):
        if readers in read[own.get(record_id, "")]:
            parts[record_id].append((fields, disagreements))
    return parts


def as_listed(day: bytes) -> list[Piece]:
    """A day, in one piece, as devices read it that work on another: what it is, and its members that belong to no day.
    Of a closing that it was, and not the hundreds of differences that were named, nor what was said of each."""
    record = json.loads(day)
    record["fields"] = {name: value for name, value in record["fields"].items() if family_of(name).of_no_day}
    if closed := record["fields"].get("closed"):
        for name in ("named", "reasons", "reason_ids", "heard"):
            if name in closed["value"]:
                closed["value"][name] = []
    record["disagreements"] = []
    return [compact(record).encode()]


def records_of_day(tx: Reading, asker: Asker, after: int, limit: int) -> list[Stored]:
    """The next records of the day on which the device works."""
    rows = tx.all(
        f"""
        SELECT {COLUMNS} FROM record WHERE day_id = :day_id AND feed_seq > :after
        ORDER BY feed_seq LIMIT :limit
        """,
        day_id=asker.day_id,
        after=after,
        limit=limit,
    )
    return [Stored(*row) for row in rows]


def places_of_day(tx: Reading, asker: Asker, after: int, limit: int) -> list[tuple[str, int]]:
    """The same records, each by its id and its place in the feed alone."""
    rows = tx.all(
        """
        SELECT record_id, feed_seq FROM record WHERE day_id = :day_id AND feed_seq > :after
        ORDER BY feed_seq LIMIT :limit
        """,
        day_id=asker.day_id,
        after=after,
        limit=limit,
    )
    return [(record_id, feed_seq) for record_id, feed_seq in rows]


def other_days(tx: Reading, asker: Asker, after: int, limit: int) -> list[Stored]:
    """The next of the days on which the device does not work: those open, and once it has read the list also those
    closed since."""
    rows = tx.all(
        f"""
        SELECT {COLUMNS} FROM record WHERE kind = 'day' AND record_id <> :day_id AND feed_seq > :after AND (
            :after > 0 OR NOT EXISTS
                (SELECT 1 FROM field WHERE field.record_id = record.record_id AND name = 'closed')
        ) ORDER BY feed_seq LIMIT :limit
        """,
        day_id=asker.day_id,
        after=after,
        limit=limit,
    )
    return [Stored(*row) for row in rows]


#: The operations that name a picture, in every record that does. Whoever says a digest may have read it elsewhere, so a
#: naming counts only of a device that had the bytes: it sent them. Versions of before noted no sender, and a copy holds
#: none: there it is the first that spoke of the picture.
NAMINGS = """
    WITH naming AS (
        SELECT operation_log.office_seq, operation_log.device_id, record_id
        FROM photo_of JOIN operation_log USING (record_id)
        WHERE photo_of.sha256 = :sha256 AND operation LIKE '%' || :sha256 || '%'
    ),
    sender AS (SELECT device_id FROM photo_from WHERE sha256 = :sha256)
"""


def named(sha256: str) -> str:
    """That a field in force names the picture, or has it as its small copy; `sha256` is where the digest stands."""
    return f"field.name LIKE 'photos/%' AND {sha256} IN (value ->> 'sha256', value ->> 'thumb_sha256')"


def gone(tables: str) -> str:
    """The pictures of visits whose owners' words were erased, and that no record names any more in which a device that
    had it did; where no sender is on record, nobody can tell, and each naming counts. `CROSS` keeps the order of its
    tables, whatever the engine thinks of those that it has not counted."""
    return f"""
        SELECT DISTINCT photo_of.sha256 FROM {tables} USING (record_id) WHERE NOT EXISTS (
            SELECT 1 FROM photo_of AS other JOIN field ON field.record_id = other.record_id
            WHERE other.sha256 = photo_of.sha256 AND {named("photo_of.sha256")} AND (
                NOT EXISTS (SELECT 1 FROM photo_from WHERE photo_from.sha256 = other.sha256)
                OR EXISTS (
                    SELECT 1 FROM operation_log JOIN photo_from USING (device_id)
                    WHERE operation_log.record_id = other.record_id AND photo_from.sha256 = other.sha256
                    AND operation LIKE '%' || other.sha256 || '%'
                )
            )
        )
    """


def reads_photo(tx: Reading, asker: Asker, sha256: str, now: datetime) -> bool:
    """Whether the device reads a record in which a device that had it names this picture, or its small copy: in the
    hall one in which it was not withdrawn, and a visit's as its owner is read."""
    if asker.reads_every_day:
        return not went_with_owner(tx, sha256)
    days = days_read(tx, asker, now)
    if not days:
        return False
    rows = tx.all(
        f"""
        {NAMINGS}
        SELECT DISTINCT record_id, record.kind FROM naming JOIN record USING (record_id)
        WHERE record.day_id IN {any_of("days")} AND (
            (SELECT count(*) = 0 FROM sender) AND naming.office_seq = (SELECT min(office_seq) FROM naming)
            OR naming.device_id IN (SELECT device_id FROM sender)
        ) AND EXISTS (
            SELECT 1 FROM field
            WHERE field.record_id = record.record_id AND {named(":sha256")} AND NOT value ->> 'withdrawn'
        )
        """,
        sha256=sha256,
        days=json.dumps(days),
    )
    visits = [record_id for record_id, kind in rows if kind == "visit"]
    if len(visits) < len(rows):
        return True
    own = own_visits(tx, asker, visits)
    mine: list[Own] = ["visit" if visit_id in own else "" for visit_id in visits]
    return any(OWNER.include(asker.role, own=one, asked=True) for one in mine)


def visits_pictured(tx: Reading, sha256: str) -> list[str]:
    """The visits of which this is a picture, or its small copy: whoever opens it reads of their owners."""
    rows = tx.all(
        f"""
        SELECT record_id FROM photo_of JOIN record USING (record_id)
        WHERE sha256 = :sha256 AND kind = 'visit' AND EXISTS (
            SELECT 1 FROM field WHERE field.record_id = record.record_id AND {named(":sha256")}
        )
        """,
        sha256=sha256,
    )
    return [row["record_id"] for row in rows]


def visits_spoken_of(tx: Reading, record_id: str, *, in_notes: bool) -> list[str]:
    """The visits of a thing of which it is on record who took it back or brought it again, or `in_notes`, why one of
    two values holds: whoever reads that reads of the owners. Of an item its own, of a container those of what lies in
    it, or if nothing does the container itself, which stands for whoever it was, as a day does; empty if nothing is on
    record."""
    kind = tx.value(
        """
        SELECT kind FROM record WHERE record_id = :record_id AND EXISTS (
            SELECT 1 FROM field WHERE field.record_id = record.record_id AND (
                (name >= 'handed/' AND name < 'handed0')
                OR (:in_notes AND name >= 'settlement-notes/' AND name < 'settlement-notes0')
            )
        )
        """,
        record_id=record_id,
        in_notes=in_notes,
    )
    if kind is None:
        return []
    rows = tx.all(
        """
        WITH RECURSIVE within (record_id) AS (
            VALUES (:record_id)
            UNION
            SELECT field.record_id FROM within JOIN field
            ON name >= 'inside' AND name < 'inside0' AND value ->> 'container_id' = within.record_id
        )
        SELECT DISTINCT head ->> 'visit_id' AS visit_id FROM within JOIN record USING (record_id)
        WHERE kind = 'item' ORDER BY visit_id
        """,
        record_id=record_id,
    )
    found = [row["visit_id"] for row in rows if row["visit_id"]]
    return found or ([record_id] if kind in ("container", "day") else [])


def went_with_owner(tx: Reading, sha256: str) -> bool:
    """Whether a picture was of a visit whose owner's words were erased, and no record names it any more: its row stays,
    so that nobody takes it for lost, and its file goes."""
    of_it = f"{gone('photo_of CROSS JOIN erasure')} AND photo_of.sha256 = :sha256"
    return tx.value(of_it, sha256=sha256) is not None


def photos_gone(tx: Reading) -> set[str]:
    """All of these, from the erasures, which are few."""
    return {sha256 for (sha256,) in tx.all(gone("erasure CROSS JOIN photo_of"))}


def is_own_photo(tx: Reading, device_id: str, sha256: str) -> bool:
    """Whether the device sent this picture, or was the first to say on record that it took it."""
    return bool(
        tx.value(
            f"""
            {NAMINGS}
            SELECT :device_id IN (SELECT device_id FROM sender) OR (SELECT count(*) = 0 FROM sender) AND EXISTS (
                SELECT 1 FROM naming
                WHERE device_id = :device_id AND office_seq = (SELECT min(office_seq) FROM naming)
            )
            """,
            sha256=sha256,
            device_id=device_id,
        )
    )


def hears_of_photo(tx: Reading, asker: Asker, sha256: str, now: datetime) -> bool:
    """Whether the device is told that this picture is here: one that it reads, or its own, of which it has to know
    whether it may let go. To every other it is as if there were none."""
    return reads_photo(tx, asker, sha256, now) or is_own_photo(tx, asker.device_id, sha256)
