"""Which numbers are this office's to give out, so that no two offices ever print the same one.

There are 32^5 = 33,554,432 serial numbers, of which about seven in eight may be issued. A house with several offices
tells each its share. An office that was told nothing takes one of 255 blocks by its own id: two such offices share a
block once in 255 times, five once in 26.
"""

from __future__ import annotations

from uuid import UUID

from intake.database import Reading, Writing
from intake.tagging.tags import DATA_LENGTH, SYMBOLS, codes

SERIALS = len(SYMBOLS) ** DATA_LENGTH
BLOCK = (
    SERIALS // 256
)  # the first one is nobody's: its numbers begin with zeros and are typed wrongly most easily


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
    """The first number of the office's after all that were given out; None if there is none left."""
    own = own_serials(tx)
    last = tx.value(
        "SELECT max(last_serial) FROM roll WHERE first_serial BETWEEN :first AND :last",
        first=own.start,
        last=own.stop - 1,
    )
    after = own.start if last is None else last + 1
    return next(codes(after), None) if after in own else None
