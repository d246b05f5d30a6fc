"""Erasing a consignor's words from the office's own computer: an operation like any other, made by the office."""

from __future__ import annotations

from typing import Any

from intake.database import Writing
from intake.sync.operations import answer_batch

OFFICE = "office"  # what the log calls the device


def erase_consignor(tx: Writing, visit_id: str, *, operation_id: str, now: str) -> dict[str, Any]:
    """Erase the personal words of a visit. The answer, whose `problem` says why it was refused, if it was."""
    made_before = tx.value(
        "SELECT max(device_seq) FROM operation_log WHERE device_id = :device_id", device_id=OFFICE
    )
    operation = {
        "operation_id": operation_id,
        "kind": "erase_consignor",
        "made_at": now,
        "made_by": "",
        "device_id": OFFICE,
        "device_seq": 1 + (made_before or 0),
        "visit_id": visit_id,
    }
    [answer] = answer_batch(tx, [operation], device_id=OFFICE, role="manager", received_at=now)
    return answer
