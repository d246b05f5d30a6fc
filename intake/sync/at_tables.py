"""Which owners came to be read at which tables: noted for each device there, whoever made it so, with what did it.

By what was just answered: a seat, a call, a settlement of either. And by a pairing: who opened visits in other work, or
called their owners, reads them as a table.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from intake.access.devices import Device, stamp, tables_paired
from intake.access.readings import put_down_read
from intake.database import Reading, Writing, any_of
from intake.families import Asker
from intake.reading import is_over, own_visits


def note_seated(
    tx: Writing,
    sent: Sequence[Any],
    answers: Sequence[dict[str, Any]],
    as_heard: Callable[[Device], Device],
    now: datetime,
) -> None:
    """Note the owners whom a table's device reads by what was answered `now`. `as_heard`: where it sits by now."""
    places = [
        answer["office_seq"]
        for operation, answer in zip(sent, answers, strict=True)
        if answer["outcome"] == "kept" and says_where(operation)
    ]
    if not places:
        return
    rows = tx.all(
        f"""
        SELECT DISTINCT record.record_id, record.day_id, stage.device_id AS called_by,
            seat.device_id AS seated_by, seat.value ->> '$' AS seat
        FROM operation_log JOIN record USING (record_id)
            LEFT JOIN field AS stage ON stage.record_id = record.record_id AND stage.name = 'stage'
            LEFT JOIN field AS seat ON seat.record_id = record.record_id AND seat.name = 'table_id'
        WHERE operation_log.office_seq IN {any_of("places")} AND received_at = :now AND record.kind = 'visit'
        """,
        places=json.dumps(places),
        now=stamp(now),
    )
    if not rows:
        return
    for device in map(as_heard, tables_paired(tx)):
        # Of another day it reads none; going there is noted. But what it said itself may come to it without a seat.
        near = [
            row["record_id"]
            for row in rows
            if device.device_id in (row["called_by"], row["seated_by"])
            or (
                device.table_id
                and device.table_id == row["seat"]
                and device.day_id in (None, "", row["day_id"])
            )
        ]
        put_down_read(tx, device.device_id, sorted(own_visits(tx, as_table(device), near)), now)


def says_where(operation: Any) -> bool:
    """Whether it may say anew where an owner sits: as it was sent, so that most uploads ask the log nothing."""
    return isinstance(operation, dict) and (
        operation.get("kind") == "settle_disagreement"
        or (operation.get("kind") == "set_visit" and operation.get("field") in ("stage", "table_id"))
    )


def note_from_other_work(tx: Writing, device: Device, now: datetime) -> None:
    """Note the owners whom a device that was just paired as a table's reads by what it said in other work before."""
    days = [row["record_id"] for row in tx.all("SELECT record_id FROM record WHERE kind = 'day'")]
    visits = visits_of_days(tx, [day_id for day_id in days if not is_over(tx, day_id, now)])
    put_down_read(
        tx, device.device_id, sorted(own_visits(tx, as_table(replace(device, table_id="")), visits)), now
    )


def visits_of_days(tx: Reading, day_ids: Sequence[str]) -> list[str]:
    rows = tx.all(
        f"SELECT record_id FROM record WHERE day_id IN {any_of('day_ids')} AND kind = 'visit'",
        day_ids=json.dumps(day_ids),
    )
    return [row["record_id"] for row in rows]


def as_table(device: Device) -> Asker:
    return Asker(device.device_id, "table", device.day_id or "", device.table_id or "")
