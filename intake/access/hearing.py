"""Hearing the phones out: an office that lacks what it once had judges less until they have brought it.

It lacks something when it was restored from a copy, when a device proves that it was told of more than is here, or when
a device comes back to an office that never knew it. Until then nothing is refused that something missing may have
allowed, and no edit of a lost value ends as a disagreement that nobody had: it waits, and is judged again.

It ends by the manager's word alone. That the devices which are known have come is not enough: which were paired after
the copy was made, nobody can know, and what such a one brings may be what the others wait for.
"""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from intake.access.devices import stamp
from intake.access.proofs import Told
from intake.database import Reading, Writing
from intake.errors import OthersBeganToCome


@dataclass(frozen=True)
class WaitingOn:
    """How many operations of a device wait, by the device's name, and what each is `of` as a person calls it; empty if
    that is not here."""

    device: str
    of: str
    count: int


@dataclass(frozen=True)
class Hearing:
    """Since when the office waits, after how many losses; the names of the known devices that have yet to come, and of
    the one that showed the loss, null if none had to; and what waits."""

    since: str
    loss: int
    left: list[str]
    shown_by: str | None
    waits: list[WaitingOn]


def begin_hearing(tx: Writing, now: datetime, *, shown_by: str | None = None) -> None:
    """Count one more loss and wait, for those that have come before, too: what is found to be missing now they may
    have.

    `now` is for people to read. What came before the loss is told by its number alone: the office's clock may be off.
    """
    tx.run(
        "UPDATE office SET hearing_since = :now, loss_shown_by = :shown_by, losses = losses + 1",
        now=stamp(now),
        shown_by=shown_by,
    )


def hear_of_loss(tx: Writing, device_id: str, proofs: Iterable[Told], now: datetime) -> None:
    """Begin to wait if the office no longer has what it told this device.

    Each loss counts once: what was told before the latest one is being waited for already. A folder that was put back
    counts from an older number; from now on it counts from the highest that it is shown.
    """
    lost = [proof.losses for proof in proofs if proof.shows_loss(tx)]
    if lost:
        tx.run("UPDATE office SET losses = max(losses, :losses)", losses=max(lost))
        begin_hearing(tx, now, shown_by=device_id)


def losses(tx: Reading) -> int:
    """How often the office was found to lack what it had."""
    return int(tx.value("SELECT losses FROM office") or 0)


def is_hearing(tx: Reading) -> bool:
    return tx.value("SELECT hearing_since FROM office") is not None


def end_hearing(tx: Writing, since: str, loss: int) -> None:
    """Wait for nobody any more: what still waits is judged when it is sent again.

    `since`, `loss`: the waiting that the manager saw. One that began after it is not ended by a word that was about
    another. Raises OthersBeganToCome.
    """
    office = tx.one("SELECT hearing_since, losses FROM office")
    if office is None or office["losses"] != loss or office["hearing_since"] not in (None, since):
        raise OthersBeganToCome
    tx.run("UPDATE office SET hearing_since = NULL, loss_shown_by = NULL")


def hearing(tx: Reading) -> Hearing | None:
    """For whom the office waits; None if it does not."""
    office = tx.one(
        "SELECT hearing_since, losses, name FROM office LEFT JOIN device ON device_id = loss_shown_by"
    )
    if office is None or office["hearing_since"] is None:
        return None
    left = [row["name"] for row in still_to_come(tx)]
    return Hearing(office["hearing_since"], office["losses"], left, office["name"], what_waits(tx))


def still_to_come(tx: Reading) -> list[sqlite3.Row]:
    """The devices that were known before the latest loss and have not brought all since; being paired again, or at
    another time by the clock, makes no difference."""
    return tx.all(
        """
        SELECT device_id, device.name FROM device JOIN office ON known_since < losses AND brought_for < losses
        WHERE revoked_at IS NULL ORDER BY device.name
        """
    )


def has_yet_to_come(tx: Reading, device_id: str) -> bool:
    return any(row["device_id"] == device_id for row in still_to_come(tx))


def note_brought(tx: Writing, device_id: str, loss: int) -> None:
    """A device that knows the office as it is has sent all that it holds, after so many losses; some of it may wait."""
    tx.run(
        "UPDATE device SET brought_for = max(brought_for, :loss) WHERE device_id = :device_id",
        loss=loss,
        device_id=device_id,
    )


def what_waits(tx: Reading) -> list[WaitingOn]:
    """What was answered that it waits, and is with its device: by device, and by what it is of."""
    rows = tx.all(
        """
        SELECT device.name AS device, record.kind, ticket.value ->> '$' AS ticket, what.value ->> '$' AS what
        FROM waiting_operation AS one
            JOIN device ON device.device_id = one.device_id AND revoked_at IS NULL
            LEFT JOIN record ON record.record_id = one.record_id
            LEFT JOIN field AS what ON what.record_id = one.record_id AND what.name = 'short_description'
            LEFT JOIN field AS ticket
                ON ticket.record_id = coalesce(record.head ->> 'visit_id', record.record_id) AND ticket.name = 'ticket'
        """
    )
    count = Counter((row["device"], as_called(row)) for row in rows)
    return [WaitingOn(device, of, several) for (device, of), several in sorted(count.items())]


def as_called(row: sqlite3.Row) -> str:
    """What a record is called by its ticket and its short description, else by its kind; empty if it is not here."""
    if row["kind"] is None:
        return ""
    words = ", ".join(filter(None, (row["ticket"], row["what"])))
    return words or f"{'an' if row['kind'] == 'item' else 'a'} {row['kind']}"
