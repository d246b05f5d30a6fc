"""Which numbers are this office's to give out, so that no two offices ever print the same one.

There are 32^5 = 33,554,432 serial numbers, of which about seven in eight may be issued. A house with several offices
tells each its share. An office that was told nothing takes one of 255 blocks by its own id: two such offices share a
block once in 255 times, five once in 26.
"""

from __future__ import annotations

import hashlib
from uuid import UUID

from intake.database import Reading, Writing
from intake.tagging.tags import DATA_LENGTH, SYMBOLS, codes

SERIALS = len(SYMBOLS) ** DATA_LENGTH
BLOCK = (
    SERIALS // 256
)  # the first one is nobody's: its numbers begin with zeros and are typed wrongly most easily

MOST_HALVES = 8  # after more losses than these an office has too few numbers left to begin further on still


def serials_of(office_id: str, share: tuple[int, int] | None) -> range:
    """The serial numbers of an office."""
    if share is None:
        first = (1 + UUID(office_id).int % 255) * BLOCK
        return range(first, first + BLOCK)
    number, of = share
    return range(max(1, SERIALS * (number - 1) // of), SERIALS * number // of)


def settle_numbers(tx: Writing, share: tuple[int, int] | None) -> None:
    """Note which numbers are the office's: its share, or, the first time, a block of its own."""
    row = tx.one("SELECT office_id, first_serial FROM office")
    if row is None or (share is None and row["first_serial"] is not None):
        return
    serials = serials_of(row["office_id"], share)
    tx.run("UPDATE office SET first_serial = :first, last_serial = :last", first=serials[0], last=serials[-1])


def own_serials(tx: Reading) -> range:
    """The serial numbers that are this office's."""
    row = tx.one("SELECT first_serial, last_serial FROM office")
    if row is None or row["first_serial"] is None:
        return range(0)
    return range(row["first_serial"], row["last_serial"] + 1)


def next_free(tx: Reading) -> str | None:
    """The first number of the office's that may be given out next; None if there is none left.

    It comes after all that are known to be given out, and after those that may be: an office that was found to lack
    something may have given out numbers of which it knows nothing.
    """
    own = own_serials(tx)
    last = tx.value(
        "SELECT max(last_serial) FROM roll WHERE first_serial BETWEEN :first AND :last",
        first=own.start,
        last=own.stop - 1,
    )
    row = tx.one("SELECT epoch, losses FROM office")
    after = max(own.start if last is None else last + 1, after_losses(own, *row) if row else own.start)
    return next(codes(after), None) if after in own else None


def after_losses(own: range, epoch: str, losses: int) -> int:
    """From which serial number on nothing was given out before the latest loss.

    Each loss leaves behind half of what was left, so that no roll which anybody made in between is met again, and there
    is always some left. Where it goes on from differs by `epoch`: of two files made of one copy neither knows of the
    other's loss. Turned down: to give out nothing until every phone was heard, since a table needs numbers at nine.
    """
    if not losses:
        return own.start
    left = len(own) >> min(losses, MOST_HALVES)
    return own.stop - left + int(hashlib.sha256(epoch.encode()).hexdigest(), 16) % max(1, left // 2)
