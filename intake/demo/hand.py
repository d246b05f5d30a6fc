"""The hand that makes the day's operations: one device, one clock, one chance."""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta
from itertools import count
from typing import Any

from intake.access.devices import stamp
from intake.ids import uuid7

SEED = 20260314
DEVICE = "017f0000-0000-7000-8000-000000000001"


class Hand:
    """Makes one operation after the other; its clock goes on with each."""

    def __init__(self) -> None:
        self.chance = random.Random(SEED)
        self.clock = datetime(2026, 3, 14, 9, 30, tzinfo=UTC)
        self._seq = count(1)

    def wait_until(self, moment: str) -> None:
        """Nothing happens before this moment of the day, such as "10:15"; one that has passed changes nothing."""
        hours, minutes = map(int, moment.split(":"))
        self.clock = max(self.clock, self.clock.replace(hour=hours, minute=minutes, second=0))

    def make(self, kind: str, made_by: str, **body: Any) -> dict[str, Any]:
        self.clock += timedelta(seconds=2)
        return {
            "operation_id": self.id(),
            "kind": kind,
            "made_at": stamp(self.clock),
            "made_by": made_by,
            "device_id": DEVICE,
            "device_seq": next(self._seq),
            **body,
        }

    def id(self) -> str:
        self.clock += timedelta(milliseconds=7)
        return uuid7(int(self.clock.timestamp() * 1000), self.chance.randbytes(10))
