"""A record's history: its operations as the log has them, without what the device that asks may not read."""

from __future__ import annotations

import json
from datetime import datetime

from intake.database import Reading
from intake.families import Asker, Own
from intake.operation import Operation
from intake.reading import own_records, require_record, stored
from intake.records.values import compact
from intake.settling import SettleDisagreement
from intake.sync.kinds import from_log
from intake.sync.personal import take_apart


def history(tx: Reading, record_id: str, asker: Asker, now: datetime) -> list[str]:
    """What happened to a record, one JSON object a row of the log. Raises NotFound as a record does."""
    if not asker.reads_every_day:
        require_record(tx, record_id, asker, now)
    record = stored(tx, record_id)
    kind = record.kind if record else ""
    own = own_records(tx, asker, {record_id: kind}).get(record_id, "")
    rows = tx.all(
        """
        SELECT disagreement_id, name, kept ->> 'operation_id' AS kept_id FROM disagreement
        WHERE record_id = :record_id
        """,
        record_id=record_id,
    )
    between = {row[said_by]: row["name"] for said_by in ("kept_id", "disagreement_id") for row in rows}
    shown = []
    for row in tx.each(
        "SELECT * FROM operation_log WHERE record_id = :record_id ORDER BY office_seq", record_id=record_id
    ):
        operation, answer = from_log(json.loads(row["operation"])), json.loads(row["answer"])
        hidden = hidden_of(asker, kind, own, operation, between)
        if hidden is None:
            continue
        text = row["operation"]
        logged = json.loads(text)
        # A version of before let stand in the log what is personal now: nobody reads that here, erased or not.
        shows, words = take_apart(logged, operation.personal_in(logged)) if operation else (logged, {})
        if hidden or words:
            text = compact({name: value for name, value in shows.items() if name not in hidden})
        shown.append(
            f'{{"office_seq":{row["office_seq"]},"operation":{text},'
            f'"outcome":"{answer["outcome"]}","problem":{compact(answer["problem"])},'
            f'"received_at":"{row["received_at"]}","clock_off_s":{answer.get("clock_off_s", 0)}}}'
        )
    return shown


def hidden_of(
    asker: Asker, kind: str, own: Own, operation: Operation | None, between: dict[str, str]
) -> set[str] | None:
    """The members of an operation that the device may not read in the history of a record of this kind; None for all
    of it.

    `between` has the field of each disagreement, by the operations that said either value. Nobody can tell which fields
    a kind that is gone was about, or a settlement whose disagreement is not there or was erased: the office alone reads
    those.
    """
    if operation is None:
        names = None
    elif isinstance(operation, SettleDisagreement):
        name = between.get(operation.disagreement_id)
        names = None if name is None else [name]
    else:
        names = operation.field_names()
    if names is None:
        return set() if asker.reads_every_day else None
    hidden = {name for name in names if not asker.may_read(name, kind, own=own)}
    return None if names and len(hidden) == len(names) else hidden
