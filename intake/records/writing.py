"""A record as the tables have it: its JSON by who may read which part, its fields, and its disagreements."""

from __future__ import annotations

import json
from collections import defaultdict
from dataclasses import dataclass, field

from intake.database import Writing, any_of
from intake.derived_tables import follows_from_log
from intake.families import EVERYONE, family_of
from intake.records.contested import contested_beside
from intake.records.record import Record
from intake.records.registries import SENT_BESIDE
from intake.records.values import compact, member

follows_from_log(
    "record",
    columns="record_id, kind, day_id, office_seq, opened_seq, head, body, fields_end",
    order="record_id",
)
follows_from_log("record_part", order="record_id, readers")
follows_from_log("field", order="record_id, name")
follows_from_log("disagreement", order="disagreement_id")

Piece = bytes | memoryview  # of a JSON text that is joined once, where it leaves


@dataclass
class Part:
    """What one circle of readers reads of a record: members of `fields`, and members of `disagreements`, as JSON."""

    fields: list[str] = field(default_factory=list)
    disagreements: list[str] = field(default_factory=list)


def parts_of(record: Record) -> dict[str, Part]:
    """The record's fields and disagreements by the name of who may read them."""
    parts: dict[str, Part] = defaultdict(Part)
    for name in sorted(record.fields):
        part = parts[family_of(name, record.kind).readers.name]
        part.fields.append(member(name) + record.fields[name].body())
    for name, derive in SENT_BESIDE.get(record.kind, {}).items():
        if (beside := derive(record)) is not None:
            parts[family_of(name, record.kind).readers.name].fields.append(member(name) + beside.body())
    for between in record.disagreements.values():
        parts[family_of(between.name, record.kind).readers.name].disagreements.append(between.body())
    return parts


def in_pieces(body: bytes, fields_end: int, parts: list[tuple[bytes, bytes]]) -> list[Piece]:
    """A record's body with more parts put in, uncopied: each is what goes into its `fields` and its `disagreements`.

    `body` is the whole JSON of what everyone reads, `fields_end` where its fields end, in bytes.
    """
    whole = memoryview(body)
    if len(parts) == 1 and parts[0][0] and not parts[0][1]:  # most have one more part, of fields alone
        comma = b"" if body[fields_end - 1] == ord("{") else b","
        return [whole[:fields_end], comma, parts[0][0], whole[fields_end:]]
    pieces: list[Piece] = [whole[:fields_end]]
    if fields := b",".join([text for text, _ in parts if text]):
        pieces.append(fields if body[fields_end - 1] == ord("{") else b"," + fields)
    disagreements = b",".join([text for _, text in parts if text])
    if not disagreements:
        return [*pieces, whole[fields_end:]]
    return [
        *pieces,
        whole[fields_end:-2],
        disagreements if body[-3] == ord("[") else b"," + disagreements,
        b"]}",
    ]


def write_record(tx: Writing, record: Record, feed_seq: int) -> None:
    """Write a record, the parts of it that not everyone reads, and those of its fields that changed."""
    parts = parts_of(record)
    common = parts.pop(EVERYONE.name, Part())
    head = compact(record.head)
    beside = contested_beside(record)
    told = f'"contested_beside":{compact(beside)},' if beside else ""
    start = f'{head[:-1]},"office_seq":{record.office_seq},{told}"fields":{{{",".join(common.fields)}'
    tx.run(
        """
        INSERT INTO record (record_id, kind, day_id, office_seq, feed_seq, opened_seq, head, body, fields_end)
        VALUES (:record_id, :kind, :day_id, :office_seq, :feed_seq, :opened_seq, :head, :body, :fields_end)
        ON CONFLICT (record_id) DO UPDATE SET office_seq = excluded.office_seq,
            feed_seq = excluded.feed_seq, body = excluded.body, fields_end = excluded.fields_end
        """,
        record_id=record.record_id,
        kind=record.kind,
        day_id=record.day_id,
        office_seq=record.office_seq,
        feed_seq=feed_seq,
        opened_seq=record.opened_seq,
        head=head,
        body=f'{start}}},"disagreements":[{",".join(common.disagreements)}]}}',
        fields_end=len(start.encode()) if parts else None,
    )
    tx.run_many(
        """
        INSERT INTO record_part (record_id, readers, fields, disagreements) VALUES (?, ?, ?, ?)
        ON CONFLICT (record_id, readers) DO UPDATE SET
            fields = excluded.fields, disagreements = excluded.disagreements
        """,
        [
            (record.record_id, readers, ",".join(part.fields), ",".join(part.disagreements))
            for readers, part in parts.items()
        ],
    )
    if record.changed - record.fields.keys():  # of what was taken away a whole part may be gone
        tx.run(
            f"DELETE FROM record_part WHERE record_id = :record_id AND readers NOT IN {any_of('readers')}",
            record_id=record.record_id,
            readers=json.dumps(list(parts)),
        )
    write_fields(tx, record)
    write_disagreements(tx, record)


def write_fields(tx: Writing, record: Record) -> None:
    tx.run_many(
        """
        INSERT INTO field (record_id, name, value, operation_id, made_by, made_at, device_id, device_seq, agreed)
        VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
        ON CONFLICT (record_id, name) DO UPDATE SET
            value = excluded.value, operation_id = excluded.operation_id, made_by = excluded.made_by,
            made_at = excluded.made_at, device_id = excluded.device_id, device_seq = excluded.device_seq,
            agreed = excluded.agreed
        """,
        [
            (
                record.record_id,
                name,
                current.text,
                current.operation_id,
                current.made_by,
                current.made_at,
                current.device_id,
                current.device_seq,
                compact(dict(current.agreed)) if current.agreed else None,
            )
            for name, current in ((name, record.fields.get(name)) for name in record.changed)
            if current is not None
        ],
    )
    tx.run_many(
        "DELETE FROM field WHERE record_id = ? AND name = ?",
        [(record.record_id, name) for name in record.changed - record.fields.keys()],
    )
    record.changed.clear()


def write_disagreements(tx: Writing, record: Record) -> None:
    tx.run_many(
        """
        INSERT INTO disagreement (disagreement_id, record_id, name, office_seq, kept, other, settled)
        VALUES (?, ?, ?, ?, ?, ?, ?)
        ON CONFLICT (disagreement_id) DO UPDATE SET settled = excluded.settled
        """,
        [
            (
                between.disagreement_id,
                record.record_id,
                between.name,
                between.office_seq,
                between.kept,
                between.other,
                between.settled,
            )
            for between in record.disagreements.values()
        ],
    )
    tx.run_many(
        "DELETE FROM disagreement WHERE disagreement_id = ?",
        [(disagreement_id,) for disagreement_id in record.dropped],
    )
    record.dropped.clear()
