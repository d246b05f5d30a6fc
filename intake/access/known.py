"""The devices that ask, held in memory: who each is, when it was last heard, what it still holds.

Asking never writes. What was heard is gathered here and written down now and then by the office, so that another
process that holds the tables slows no one who only reads.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any

from intake.access.devices import Device, device_with, digest_of, note_heard, stamp
from intake.database import Database, Writing
from intake.errors import NotPaired

KEPT_FOR = timedelta(minutes=1)  # another process on the same folder may have changed a device


@dataclass(frozen=True)
class Heard:
    """When a device was last heard, how much it said it still holds, and on which day and at which table it works;
    None where it did not say."""

    at: datetime
    holding: int | None = None
    day_id: str | None = None
    table_id: str | None = None


class KnownDevices:
    """Devices by the digest of their cookie, and what was heard of them since it was last written down."""

    def __init__(self, database: Database) -> None:
        self._database = database
        self._known: dict[str, tuple[Device, datetime]] = {}
        self._times_forgotten = 0
        self._heard: dict[str, Heard] = {}

    async def with_secret(self, secret: str | None, now: datetime) -> Device:
        """The device that holds this secret. Raises NotPaired or DeviceRevoked, and asks the table each time then."""
        if not secret:
            raise NotPaired
        key = digest_of(secret)
        device, read_at = self._known.get(key, (None, now))
        if device is not None and now - read_at <= KEPT_FOR:
            return self.as_heard(device)
        before = self._times_forgotten
        device = await self._database.read(lambda tx: device_with(tx, secret))
        if (
            before == self._times_forgotten
        ):  # else it may have been read before the change that made us forget
            self._known[key] = (device, now)
        return self.as_heard(device)

    def forget(self) -> None:
        """Read every device anew: one was paired, signed off, or does other work now."""
        self._times_forgotten += 1
        self._known.clear()

    def hear(self, device_id: str, now: datetime, **said: Any) -> None:
        """A device was heard; `said` are those members of `Heard` of which it spoke."""
        earlier = self._heard.get(device_id, Heard(now))
        self._heard[device_id] = replace(earlier, at=now, **said)

    def as_heard(self, device: Device) -> Device:
        """A device's row with what was heard since it was written."""
        heard = self._heard.get(device.device_id)
        if heard is None:
            return device
        values = {
            name: value
            for name in ("holding", "day_id", "table_id")
            if (value := getattr(heard, name)) is not None
        }
        return replace(device, last_seen_at=stamp(heard.at), **values)

    async def write_down(self) -> None:
        """Put what was heard into the table. It stays here until it is there. Raises OfficeBusy, OfficeFull."""
        heard = dict(self._heard)
        if not heard:
            return

        def job(tx: Writing) -> None:
            for device_id, last in heard.items():
                note_heard(
                    tx,
                    device_id,
                    last.at,
                    holding=last.holding,
                    day_id=last.day_id,
                    table_id=last.table_id,
                )

        await self._database.write(job)
        self._known = {
            key: (self.as_heard(device), read_at) for key, (device, read_at) in self._known.items()
        }
        for device_id, last in heard.items():
            if self._heard[device_id] is last:  # else it was heard again meanwhile
                del self._heard[device_id]
