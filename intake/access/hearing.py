"""Hearing the phones out: an office that lacks what it once had judges less until they have brought it.

It lacks something when it was restored from a copy, when a device proves that it was told of more than is here, or when
a device comes back to an office that never knew it. Until then what names something unknown waits, in place of being
refused or ending as a disagreement that nobody had.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Mapping
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
    """Wait from now on, for those that have come before, too: what is found to be missing now they may have.

    Where the manager's word was needed before, it still is.
    """
    tx.run(
        """
        UPDATE office SET hearing_since = :now, hearing = CASE hearing WHEN 'word' THEN 'word' ELSE :until END,
            loss_shown_by = :shown_by, loss_known_at = max(coalesce(loss_known_at, ''), :now)
        """,
        now=stamp(now),
        until=until.value,
        shown_by=shown_by,
    )


def hear_of_loss(tx: Writing, device_id: str, told: Iterable[Told], now: datetime) -> None:
    """Begin to wait if the office no longer has what it told this device.

    Each loss counts once: what was told before the latest one is being waited for already. The office's clock may have
    been ahead when it told, and was put right since; what it told then counts as known, too.
    """
    lost = [one.told_at for one in told if one.shows_loss(tx)]
    if lost:
        begin_hearing(tx, Until.PHONES, now, shown_by=device_id)
        tx.run("UPDATE office SET loss_known_at = max(loss_known_at, :told_at)", told_at=max(lost))


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
    left = [row["name"] for row in still_to_come(tx, office["hearing_since"])]
    return Hearing(office["hearing_since"], office["hearing"], left, office["name"])


def still_to_come(tx: Reading, since: str) -> list[sqlite3.Row]:
    """The devices that were paired before and have not brought all since."""
    return tx.all(
        """
        SELECT device_id, name FROM device WHERE revoked_at IS NULL AND paired_at <= :since
            AND coalesce(brought_at, '') <= :since ORDER BY name
        """,
        since=since,
    )


def note_brought(tx: Writing, device_id: str, now: datetime) -> None:
    """A device that knows the office as it is has sent all that it holds. The last of them ends the waiting."""
    tx.run(
        "UPDATE device SET brought_at = :now WHERE device_id = :device_id",
        now=stamp(now),
        device_id=device_id,
    )
    end_if_all_came(tx)


def end_if_the_rest_waits(tx: Writing, tried: Mapping[str, datetime]) -> None:
    """End the waiting if whoever is left has nothing but what waits for something that nobody brought.

    `tried`: when each such device was last answered so. It counts only if that was after the last other device had
    brought all: what waited before may go through now, and what builds on it is not to be judged first.
    """
    waits = hearing(tx)
    if waits is None or waits.until != Until.PHONES:
        return
    newest = tx.value("SELECT max(brought_at) FROM device WHERE revoked_at IS NULL") or ""
    left = still_to_come(tx, waits.since)
    if all((at := tried.get(one["device_id"])) is not None and stamp(at) > newest for one in left):
        end_hearing(tx)


def end_if_all_came(tx: Writing) -> None:
    """End the waiting if it was for devices, and none of them is left."""
    waits = hearing(tx)
    if waits is not None and waits.until == Until.PHONES and not waits.left:
        end_hearing(tx)
