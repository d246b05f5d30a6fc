"""Erasing a consignor's words from the office's own computer: an operation like any other, made by the office."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from intake.access.devices import stamp
from intake.database import Writing
from intake.ids import uuid7
from intake.sync.operations import answer_batch

OFFICE = "office"  # what the log calls the device


def erase_consignor(tx: Writing, visit_id: str, *, now: datetime, random_bytes: bytes) -> dict[str, Any]:
    """Erase the personal words of a visit. The answer, whose `problem` says why it was refused, if it was."""
    made_before = tx.value(
        "SELECT max(device_seq) FROM operation_log WHERE device_id = :device_id", device_id=OFFICE
    )
    operation = {
        "operation_id": uuid7(int(now.timestamp() * 1000), random_bytes),
        "kind": "erase_consignor",
        "made_at": stamp(now),
        "made_by": "",
        "device_id": OFFICE,
        "device_seq": 1 + (made_before or 0),
        "visit_id": visit_id,
    }
    [answer] = answer_batch(tx, [operation], device_id=OFFICE, role="manager", received_at=stamp(now))
    return answer
