"""Hearing the phones out: an office that lacks what it once had judges less until they have brought it.

It lacks something when it was restored from a copy, when a device proves that it was told of more than is here, or when
a device comes back to an office that never knew it. Until then nothing is refused that something missing may have
allowed, and no edit of a lost value ends as a disagreement that nobody had: it waits, and is judged again.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from intake.access.devices import stamp
from intake.access.proofs import Told
from intake.database import Reading, Writing


class Until(StrEnum):
    """What ends the waiting."""

    PHONES = "phones"  # every device that was paired before has come, or was signed off
    WORD = "word"  # the manager says so: which devices there were, nobody knows


@dataclass(frozen=True)
class Hearing:
    """Since when the office waits, what ends it, the names of the devices that have yet to come, and of the one that
    showed the loss, null if none had to."""

    since: str
    until: str
    left: list[str]
    shown_by: str | None


def begin_hearing(tx: Writing, until: Until, now: datetime, *, shown_by: str | None = None) -> None:
    """Count one more loss and wait, for those that have come before, too: what is found to be missing now they may
    have. Where the manager's word was needed before, it still is.

    `now` is for people to read. What came before the loss is told by its number alone: the office's clock may be off.
    """
    tx.run(
        """
        UPDATE office SET hearing_since = :now, hearing = CASE hearing WHEN 'word' THEN 'word' ELSE :until END,
            loss_shown_by = :shown_by, losses = losses + 1
        """,
        now=stamp(now),
        until=until.value,
        shown_by=shown_by,
    )


def hear_of_loss(tx: Writing, device_id: str, told: Iterable[Told], now: datetime) -> None:
    """Begin to wait if the office no longer has what it told this device.

    Each loss counts once: what was told before the latest one is being waited for already. A folder that was put back
    counts from an older number; from now on it counts from the highest that it is shown.
    """
    lost = [one.losses for one in told if one.shows_loss(tx)]
    if lost:
        tx.run("UPDATE office SET losses = max(losses, :losses)", losses=max(lost))
        begin_hearing(tx, Until.PHONES, now, shown_by=device_id)


def losses(tx: Reading) -> int:
    """How often the office was found to lack what it had."""
    return int(tx.value("SELECT losses FROM office") or 0)


def is_hearing(tx: Reading) -> bool:
    return tx.value("SELECT hearing FROM office") is not None


def end_hearing(tx: Writing) -> None:
    """Wait for nobody any more: what still waits is judged when it is sent again."""
    tx.run("UPDATE office SET hearing = NULL, hearing_since = NULL, loss_shown_by = NULL")


def hearing(tx: Reading) -> Hearing | None:
    """For whom the office waits; None if it does not."""
    office = tx.one(
        """
        SELECT hearing, hearing_since, name FROM office LEFT JOIN device ON device_id = loss_shown_by
        """
    )
    if office is None or office["hearing"] is None:
        return None
    left = [row["name"] for row in still_to_come(tx)]
    return Hearing(office["hearing_since"], office["hearing"], left, office["name"])


def still_to_come(tx: Reading) -> list[sqlite3.Row]:
    """The devices that were known before the latest loss and have not brought all since; being paired again, or at
    another time by the clock, makes no difference."""
    return tx.all(
        """
        SELECT device_id, device.name FROM device JOIN office ON known_since < losses AND brought_for < losses
        WHERE revoked_at IS NULL ORDER BY device.name
        """
    )


def note_brought(tx: Writing, device_id: str, loss: int) -> None:
    """A device that knows the office as it is has sent all that it holds, after so many losses. The last of them ends
    the waiting."""
    tx.run(
        """
        UPDATE device SET brought_for = max(brought_for, :loss), brought_no = (SELECT max(brought_no) + 1 FROM device)
        WHERE device_id = :device_id
        """,
        loss=loss,
        device_id=device_id,
    )
    end_if_all_came(tx)


def note_progress(tx: Writing, device_id: str) -> None:
    """A device that has yet to come has brought something: what waits elsewhere may go through now."""
    if any(one["device_id"] == device_id for one in still_to_come(tx)):
        tx.run(
            "UPDATE device SET brought_no = (SELECT max(brought_no) + 1 FROM device) WHERE device_id = :device_id",
            device_id=device_id,
        )


def last_brought(tx: Reading) -> int:
    """The place of the last time that a device brought something or all, in the order in which they did."""
    return int(tx.value("SELECT max(brought_no) FROM device WHERE revoked_at IS NULL") or 0)


def end_if_the_rest_waits(tx: Writing, device_id: str, tried: dict[str, int]) -> None:
    """A device holds nothing but what waits for something that nobody brought. If that is so of whoever is left, the
    waiting ends.

    `tried`: after how much was brought each such device was last answered so. It counts only if nobody has brought
    anything since: what waited before may go through now, and what builds on it is not to be judged first.
    """
    newest = last_brought(tx)
    tried[device_id] = newest
    waits = hearing(tx)
    if waits is None or waits.until != Until.PHONES:
        return
    if all(tried.get(one["device_id"]) == newest for one in still_to_come(tx)):
        end_hearing(tx)


def end_if_all_came(tx: Writing) -> None:
    """End the waiting if it was for devices, and none of them is left."""
    waits = hearing(tx)
    if waits is not None and waits.until == Until.PHONES and not waits.left:
        end_hearing(tx)
