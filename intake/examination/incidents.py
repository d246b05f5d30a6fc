"""An incident: Stop was pressed where there is no item, at the door, on a visit, in an aisle.

It stands on the day until somebody has settled it by name. Nothing is asked for before people are away: which sign was
pressed and when is all that it needs, and ticket and place can be added to it later.
"""

from __future__ import annotations

from typing import Any, Literal

from intake.arrival.days import OfDay
from intake.arrival.people import as_one_name
from intake.edits import Edit
from intake.errors import NameNotOnDay, NotFound, NotHome
from intake.examination.cautions import Hazard, graver
from intake.operation import Identifier, Instant, Line, Name, Operation, Prose, Rules
from intake.records.in_hand import Records
from intake.records.record import Record


class RecordIncident(OfDay, Edit):
    """A sign was noticed, and no item of it is on record. `level` is that of the country pack on the day.

    Units: `seen_at` is UTC by the device's clock when Stop was pressed; it stays when ticket or place are added later.
    Source: whoever pressed Stop. `sign` is what was seen, not what it is; the pack's own words until somebody types.
    """

    roles = frozenset({"table", "door", "porter", "desk"})
    field_name = "incidents/{incident_id}"
    replaceable = True
    always_taken = True

    kind: Literal["record_incident"]
    incident_id: Identifier
    hazard: Hazard
    level: Literal["red", "amber", "note"]
    sign: Prose
    ticket: Line
    place: Line
    seen_at: Instant

    def ruled(self, records: Records, rules: Rules | None, heard_at: str) -> dict[str, Any]:
        """Ticket and place can be told later; that changes neither the row nor makes it milder, nor takes away what was
        seen. No device makes a row milder than the office has it."""
        day = records.find(self.touches)
        before = (day and day.value(f"incidents/{self.incident_id}")) or {}
        stricter: dict[str, Any] = {"hazard": before.get("hazard") or self.hazard}
        level = graver(self.level, before.get("level") or self.level)
        stricter["level"] = graver(level, rules.row_of(stricter["hazard"]).level) if rules else level
        stricter["sign"] = self.sign if self.sign.strip() else before.get("sign", self.sign)
        stricter["seen_at"] = before.get("seen_at", self.seen_at)
        return {name: value for name, value in stricter.items() if value != self.__dict__[name]}


class SettleIncident(OfDay, Edit):
    """How an incident ended, who says so by name, and who was there. It stays on record as settled."""

    roles = frozenset({"table", "desk"})
    field_name = "incident-ends/{incident_id}"

    kind: Literal["settle_incident"]
    incident_id: Identifier
    ended: Literal["taken-away", "set-apart", "let-go-on", "left-with-owner", "on-an-item", "by-mistake"]
    settled_by: Name
    present: Line
    words: Prose

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Raises NotFound if there is no such incident."""
        incident_id = name.removeprefix("incident-ends/")
        if f"incidents/{incident_id}" not in record.fields:
            raise NotFound("incident", incident_id)

    def check_by_rules(self, records: Records, rules: Rules) -> None:
        """Raises NameNotOnDay unless somebody of the day says so, and NotHome if the thing left with its owner and the
        incident's row does not let it."""
        day = records.require(self.touches, "day")
        names = {as_one_name(person["name"]) for person in day.values("people/").values()}
        if names and as_one_name(self.settled_by) not in names:
            raise NameNotOnDay(self.settled_by.strip())
        incident = day.value(f"incidents/{self.incident_id}")
        if self.ended == "left-with-owner" and not rules.row_of(incident["hazard"]).goes_home:
            raise NotHome(incident["hazard"])
