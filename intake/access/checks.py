"""What a device found out about itself on the check page: whether it is fit for a day in the hall."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from intake.access.devices import stamp
from intake.database import Reading, Writing

#: In the order of the page. `trusted`: a secure page, so that the rest exists at all.
CheckName = Literal["trusted", "installed", "offline", "camera", "codes", "kept", "room", "clock", "battery"]
CheckState = Literal["good", "not-good", "unknown"]


class DeviceCheck(BaseModel):
    """One check of one device.

    Units: `room_bytes` is what the browser says this app may still store; `clock_off_ms` is the device's clock less
    the office's, half the way there and back taken off; `battery_percent` 0 to 100. None where nobody could tell.
    Source: the browser. The device judges, since it says so on its own screen as well, with or without a network.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    states: dict[CheckName, CheckState]
    room_bytes: Annotated[int, Field(ge=0)] | None
    clock_off_ms: int | None
    battery_percent: Annotated[int, Field(ge=0, le=100)] | None
    charging: bool | None
    app_version: Annotated[str, Field(max_length=40)]


def note_check(tx: Writing, device_id: str, check: DeviceCheck, now: datetime) -> None:
    """Keep it in place of the device's check before."""
    tx.run(
        """
        INSERT INTO device_check (device_id, checked_at, report) VALUES (:device_id, :checked_at, :report)
        ON CONFLICT (device_id) DO UPDATE SET checked_at = excluded.checked_at, report = excluded.report
        """,
        device_id=device_id,
        checked_at=stamp(now),
        report=check.model_dump_json(),
    )


def checks_by_device(tx: Reading) -> dict[str, dict[str, Any]]:
    """Each device's latest check; `passed` if nothing in it is not good."""
    found = {}
    for row in tx.all("SELECT device_id, checked_at, report FROM device_check"):
        report = json.loads(row["report"])
        passed = "not-good" not in report["states"].values()
        found[row["device_id"]] = {**report, "checked_at": row["checked_at"], "passed": passed}
    return found
