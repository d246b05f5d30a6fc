"""Before the doors open: what was ready for the day, what was not, and that somebody opened it all the same."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from intake.arrival.days import OfDay
from intake.operation import Count, Identifier, Line
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.values import Source

Lines = Annotated[list[Annotated[Line, Field(min_length=1)]], Field(max_length=200)]


class RecordPreflight(OfDay):
    """The manager has read what is ready and what is not, and opens the doors.

    Units: `items_expected` counts things, `labels_printed` labels in hand, None if nobody counted them.
    Source: the manager's screen, from the day's record and what the office knew then; the lines as they were read.
    """

    roles = frozenset()
    sets_too = ("preflights/{preflight_id}",)

    kind: Literal["record_preflight"]
    preflight_id: Identifier
    items_expected: Count
    labels_printed: Count | None
    ready: Lines
    not_ready: Lines

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        value = self.members("items_expected", "labels_printed", "ready", "not_ready")
        record.put(f"preflights/{self.preflight_id}", value, source)
        return False
