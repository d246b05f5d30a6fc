"""Pairing a device, knowing it again, and signing it off.

Access stands outside the operations on purpose: a rebuild from the log must not let a device back in that was
signed off, and secrets have no place in a log.
"""

from __future__ import annotations

import hashlib
import json
import re
import secrets
import sqlite3
import uuid
from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from intake.access.letters import letters_for
from intake.database import Reading, Writing
from intake.errors import (
    CodeForAnother,
    CommandError,
    DeviceNeedsWord,
    DeviceRevoked,
    NotFound,
    NotPaired,
    PairingCodeUnknown,
)
from intake.operation import UUID_PATTERN

Role = Literal["door", "table", "porter", "desk", "manager"]
ROLES: tuple[Role, ...] = ("door", "table", "porter", "desk", "manager")
CODE_LIFE = timedelta(minutes=10)
LEAST_OF_NUMBER = 8  # characters of a device's number that tell it from others
ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"  # Crockford's 32: no letter that looks like a digit


@dataclass(frozen=True)
class Device:
    """A device as the office knows it."""

    device_id: str
    name: str
    role: str
    paired_at: str
    last_seen_at: str | None
    revoked_at: str | None
    holding: int | None = None
    day_id: str | None = None
    table_id: str | None = None
    letters: str | None = None

    def as_paired(self) -> dict[str, str | None]:
        """What a device is told of itself: as it is paired, and with every reading, since that answer may be lost. One
        that was signed off knows by `paired_at` that it is paired anew."""
        return {
            "device_id": self.device_id,
            "role": self.role,
            "name": self.name,
            "letters": self.letters,
            "paired_at": self.paired_at,
        }


@dataclass(frozen=True)
class PairingCode:
    """A code that pairs one device once, shown as two groups of four. It may be for one device alone."""

    code: str
    name: str
    role: str
    expires_at: datetime

    @property
    def shown(self) -> str:
        return f"{self.code[:4]}-{self.code[4:]}"


def stamp(moment: datetime) -> str:
    """An instant as we store it: UTC with milliseconds."""
    return moment.isoformat(timespec="milliseconds").replace("+00:00", "Z")


def digest_of(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()


def normalise_code(typed: str) -> str:
    """A code as typed: any case, spaces and hyphens, O for 0, I and L for 1."""
    bare = "".join(sign for sign in typed.upper() if sign not in " -")
    return bare.translate(str.maketrans("OIL", "011"))


def make_code(
    tx: Writing, *, role: str, name: str, now: datetime, device_id: str | None = None
) -> PairingCode:
    """A new pairing code. Only its digest is stored. With `device_id` it pairs that device again, and no other."""
    code = PairingCode("".join(secrets.choice(ALPHABET) for _ in range(8)), name, role, now + CODE_LIFE)
    tx.run(
        """
        INSERT INTO pairing_code (code_sha256, name, role, expires_at, device_id)
        VALUES (:digest, :name, :role, :expires_at, :device_id)
        """,
        digest=digest_of(code.code),
        name=name,
        role=role,
        expires_at=stamp(code.expires_at),
        device_id=device_id,
    )
    return code


def pair(
    tx: Writing,
    *,
    typed: str,
    device_id: str | None,
    secret: str | None,
    now: datetime,
    letters: str | None = None,
) -> tuple[Device, str]:
    """Turn a code into a paired device and the secret for its cookie.

    A device that was paired before keeps its id, so that what still waits on it can be sent: it shows the secret it
    had, or the code was made for it; it sits nowhere until it says so again. At an office that knows nobody yet the
    first manager's code is enough. `letters` are those that it has: an office that does not know it lets it keep them.
    Raises PairingCodeUnknown if the code is wrong, used or too old, CodeForAnother, DeviceNeedsWord.
    """
    row = open_code(tx, typed, now)
    if row is None:
        raise PairingCodeUnknown
    if row["device_id"] is None:
        check_is_new_or_proven(tx, device_id, secret, row["role"])
    elif row["device_id"] != device_id:
        raise CodeForAnother(row["name"])
    tx.run(
        "UPDATE pairing_code SET used_at = :now WHERE code_sha256 = :digest",
        now=stamp(now),
        digest=row["code_sha256"],
    )
    secret = secrets.token_urlsafe(32)  # from now on
    device_id = device_id or str(uuid.uuid4())
    letters = letters_for(tx, device_id, brought=letters)
    device = Device(device_id, row["name"], row["role"], stamp(now), None, None, letters=letters)
    tx.run(
        """
        INSERT INTO device (device_id, name, role, key_sha256, paired_at, letters, roles_before, known_since)
        VALUES (:device_id, :name, :role, :key, :paired_at, :letters, '[]',
            coalesce((SELECT losses FROM office), 0))
        ON CONFLICT (device_id) DO UPDATE SET
            name = excluded.name, role = excluded.role, key_sha256 = excluded.key_sha256,
            paired_at = excluded.paired_at, letters = excluded.letters, revoked_at = NULL, brought_for = 0,
            table_id = NULL, roles_before = :roles_before
        """,
        device_id=device.device_id,
        name=device.name,
        role=device.role,
        key=digest_of(secret),
        paired_at=device.paired_at,
        letters=letters,
        roles_before=json.dumps(roles_before(tx, device)),
    )
    tx.run("DELETE FROM returning_device WHERE device_id = :device_id", device_id=device_id)
    return device, secret


def roles_before(tx: Reading, paired: Device) -> list[tuple[str, str]]:
    """What work a device that is paired just now did before, each with until when: the last time that it did so."""
    known = tx.one("SELECT role, roles_before FROM device WHERE device_id = :id", id=paired.device_id)
    if known is None:
        return []
    until = {**dict(json.loads(known["roles_before"])), known["role"]: paired.paired_at}
    return [(role, at) for role, at in until.items() if role != paired.role]


def role_then(tx: Reading, device_id: str, roles: Collection[str], made_at: str) -> str:
    """The work by which a device may have made this, that it did at that time, by the clocks; "" if there is none. What
    it owes from then is sent by a device of other work. What the manager's alone may make nobody makes who was one.
    """
    before = tx.value("SELECT roles_before FROM device WHERE device_id = :id", id=device_id)
    made = datetime.fromisoformat(made_at)
    fits = (
        role
        for role, until in json.loads(before or "[]")
        if (role in roles or (role == "manager" and roles)) and made <= datetime.fromisoformat(until)
    )
    return next(fits, "")


def open_code(tx: Reading, typed: str, now: datetime) -> sqlite3.Row | None:
    """The row of a code as typed, if it can still be used."""
    return tx.one(
        "SELECT * FROM pairing_code WHERE code_sha256 = :digest AND used_at IS NULL AND expires_at > :now",
        digest=digest_of(normalise_code(typed)),
        now=stamp(now),
    )


def check_is_new_or_proven(tx: Reading, device_id: str | None, secret: str | None, role: str) -> None:
    """Whether a device may come under this id with a code for anybody. Ids stand in every record, so one alone proves
    nothing, and least at an office that was begun anew and knows nobody's secret. Whoever has the first manager's code
    could name any device, and so comes with it. Raises DeviceNeedsWord."""
    if device_id is None:
        return
    row = tx.one(
        "SELECT name, key_sha256, revoked_at FROM device WHERE device_id = :device_id", device_id=device_id
    )
    if row is not None:
        if row["revoked_at"] is None and secret and digest_of(secret) == row["key_sha256"]:
            return
        raise DeviceNeedsWord(row["name"], device_id)
    if role == "manager" and tx.value("SELECT 1 FROM device LIMIT 1") is None:
        return
    raise DeviceNeedsWord("one that was here before", device_id)


@dataclass(frozen=True)
class Returning:
    """A device that asked to be known by an id that this office cannot know it by; name and role as its code said."""

    device_id: str
    name: str
    role: str
    asked_at: str


def note_returning(tx: Writing, typed: str, device_id: str, now: datetime) -> None:
    """A device with a good code asked for an id that nobody has here: the manager is to say whether it is the one."""
    code = open_code(tx, typed, now)
    if code is None or is_known(tx, device_id):
        return
    tx.run(
        """
        INSERT INTO returning_device (device_id, name, role, asked_at) VALUES (:device_id, :name, :role, :now)
        ON CONFLICT (device_id) DO UPDATE SET name = excluded.name, role = excluded.role, asked_at = excluded.asked_at
        """,
        device_id=device_id,
        name=code["name"],
        role=code["role"],
        now=stamp(now),
    )


def returning(tx: Reading) -> list[Returning]:
    """Every device that waits for the manager's word, the latest first."""
    rows = tx.all(
        "SELECT device_id, name, role, asked_at FROM returning_device ORDER BY asked_at DESC, device_id"
    )
    return [Returning(**dict(row)) for row in rows]


def is_known(tx: Reading, device_id: str) -> bool:
    """Whether a device was ever paired with this office."""
    return tx.value("SELECT 1 FROM device WHERE device_id = :device_id", device_id=device_id) is not None


def device_with(tx: Reading, secret: str | None) -> Device:
    """The device that holds this secret. Raises NotPaired or DeviceRevoked."""
    device = paired_once(tx, secret)
    if device.revoked_at is not None:
        raise DeviceRevoked(device.name)
    return device


def paired_once(tx: Reading, secret: str | None) -> Device:
    """The device that holds this secret, also if it was signed off. Raises NotPaired."""
    if not secret:
        raise NotPaired
    row = tx.one(f"SELECT {COLUMNS} FROM device WHERE key_sha256 = :key", key=digest_of(secret))
    if row is None:
        raise NotPaired
    return Device(**dict(row))


COLUMNS = "device_id, name, role, paired_at, last_seen_at, revoked_at, holding, day_id, table_id, letters"


def devices(tx: Reading) -> list[Device]:
    """Every device that was ever paired, the latest first."""
    return [Device(**dict(row)) for row in tx.all(f"SELECT {COLUMNS} FROM device ORDER BY paired_at DESC")]


def tables_paired(tx: Reading) -> list[Device]:
    """The devices that work as a table's now."""
    rows = tx.all(
        f"SELECT {COLUMNS} FROM device WHERE role = 'table' AND revoked_at IS NULL ORDER BY device_id"
    )
    return [Device(**dict(row)) for row in rows]


def role_of(tx: Reading, device_id: str | None) -> str:
    """What work a device does, or did before it was signed off; empty if nobody knows it."""
    return tx.value("SELECT role FROM device WHERE device_id = :device_id", device_id=device_id) or ""


def paired_of_late(tx: Reading) -> tuple[int, str | None]:
    """How many devices were ever paired, and when the last one was: another pair once a code was used."""
    row = tx.one("SELECT count(*) AS devices, max(paired_at) AS paired_at FROM device")
    return (row["devices"], row["paired_at"]) if row else (0, None)


def named_device(tx: Reading, number: str) -> Device:
    """The device whose number is or begins so; one that this office never knew has to say all of it, and has neither
    name nor role yet. Raises CommandError."""
    number = number.strip().lower()
    found = [device for device in devices(tx) if device.device_id.startswith(number)]
    if len(found) == 1 and len(number) >= LEAST_OF_NUMBER:
        return found[0]
    if not found and re.fullmatch(UUID_PATTERN, number):
        return Device(number, "", "", "", None, None)
    raise CommandError(
        f"{len(found) or 'No'} device{'s have' if len(found) > 1 else ' has'} a number that begins with {number}.",
        hint="Type more of it, at least eight characters; for a device that this office never knew, all of it: it "
        "stands on the device's own pairing page.",
    )


def revoke(tx: Writing, device_id: str, now: datetime) -> None:
    """Sign a device off: from now on it can neither read nor send. Raises NotFound."""
    changed = tx.run(
        "UPDATE device SET revoked_at = coalesce(revoked_at, :now) WHERE device_id = :device_id",
        now=stamp(now),
        device_id=device_id,
    )
    if not changed:
        raise NotFound("device", device_id)


def note_heard(
    tx: Writing,
    device_id: str,
    at: datetime,
    *,
    holding: int | None,
    day_id: str | None = None,
    table_id: str | None = None,
) -> None:
    """When the device was last heard, and what it said of itself: what it still holds, which the closing of a day
    names, and where it works. None leaves what it said before."""
    tx.run(
        """
        UPDATE device SET last_seen_at = :at, holding = coalesce(:holding, holding),
            day_id = coalesce(:day_id, day_id), table_id = coalesce(:table_id, table_id)
        WHERE device_id = :device_id
        """,
        at=stamp(at),
        holding=holding,
        day_id=day_id,
        table_id=table_id,
        device_id=device_id,
    )
