"""What a device has sent and what waits for something: it is with the device, and no gap in the device's order.

An operation that names something unknown waits if what it names may be in an earlier one that was not received, or is
in one that waits itself. What depends on neither is answered: a Stop on an item that never comes holds up nothing else.
"""

from __future__ import annotations

import json
from functools import cached_property
from typing import NamedTuple

from intake.database import Writing
from intake.operation import Operation
from intake.sync.log import UNTOLD


class Waiting(NamedTuple):
    """One that waits: its id, and the id of the record that it is of."""

    operation_id: str
    record_id: str


class WaitingOperations:
    """Those of one device, while a batch of it is answered."""

    def __init__(self, tx: Writing, device_id: str) -> None:
        self._tx, self._device_id = tx, device_id

    @cached_property
    def _by_place(self) -> dict[int, Waiting]:
        rows = self._tx.all(
            "SELECT device_seq, operation_id, record_id FROM waiting_operation WHERE device_id = :device_id",
            device_id=self._device_id,
        )
        return {seq: Waiting(operation_id, record_id) for seq, operation_id, record_id in rows}

    def note(self, operation: Operation) -> None:
        """One was answered that it waits."""
        waiting = Waiting(operation.operation_id, operation.touches)
        if self._by_place.get(operation.device_seq) == waiting:
            return
        self._by_place[operation.device_seq] = waiting
        self._tx.run(
            """
            INSERT INTO waiting_operation (device_id, device_seq, operation_id, record_id)
            VALUES (:device_id, :device_seq, :operation_id, :record_id)
            ON CONFLICT (device_id, device_seq) DO UPDATE SET
                operation_id = excluded.operation_id, record_id = excluded.record_id
            """,
            device_id=self._device_id,
            device_seq=operation.device_seq,
            operation_id=waiting.operation_id,
            record_id=waiting.record_id,
        )

    def answered(self, device_seq: int) -> None:
        """What stands at this place in the device's order waits no longer."""
        if self._by_place.pop(device_seq, None) is not None:
            self._tx.run(
                "DELETE FROM waiting_operation WHERE device_id = :device_id AND device_seq = :device_seq",
                device_id=self._device_id,
                device_seq=device_seq,
            )

    def hold_up(self, operation: Operation, holds_from: int) -> bool:
        """Whether it names an earlier one that waits, or the record of one; what its device can send no more does not
        count."""
        earlier = [names for seq, names in self._by_place.items() if holds_from <= seq < operation.device_seq]
        if not earlier:
            return False
        text = json.dumps({**operation.__dict__, "operation_id": ""})
        return any(f'"{named}"' in text for names in earlier for named in names)

    def earlier_one_of_record(self, operation: Operation, holds_from: int) -> bool:
        """Whether an earlier one of the same record waits that its device can still send."""
        return any(
            names.record_id == operation.touches
            for seq, names in self._by_place.items()
            if holds_from <= seq < operation.device_seq
        )

    def earlier_one_missing(self, operation: Operation, holds_from: int) -> bool:
        """Whether one that this device made before was not received yet; none before `holds_from` can come. What is in
        the log has to be written by then.

        One whose place could not be told fills a gap all the same: it will never come with another place.
        """
        here = self._tx.value(
            """
            SELECT count(*) + (
                SELECT count(*) FROM operation_log WHERE device_id = :device_id AND device_seq = :untold
            ) FROM (
                SELECT device_seq FROM operation_log
                WHERE device_id = :device_id AND device_seq BETWEEN :first AND :last
                UNION
                SELECT device_seq FROM waiting_operation
                WHERE device_id = :device_id AND device_seq BETWEEN :first AND :last
            ) AS received
            """,
            device_id=operation.device_id,
            untold=UNTOLD,
            first=holds_from,
            last=operation.device_seq - 1,
        )
        return bool(here < operation.device_seq - holds_from)
