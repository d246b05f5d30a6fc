"""Where the office stands, said with every answer: either side sees at once that the other has forgotten something."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass

from pydantic import BaseModel

from intake.database import Reading
from intake.sync.chain import CHAIN_START
from intake.sync.words_beside import words_lacking


class OfficeStanding(BaseModel):
    """Where the office stands as the device that asks sees it.

    `office_id` is the office's for good, also once it is restored from a copy; `epoch` names its file: one that was
    restored or begun anew has another. `office_seq` is the newest operation, `chain` the log's value there.
    `known_chain` is its value at the operation that the device named, null if it named none or there is none.
    `proof`: that this device was told of the newest operation, to be said again once the office has forgotten it.
    `device_seq`: every operation of this device up to that one has been answered, and none of them has lost its
    personal words as far as an office that is `hearing` can see.
    One that waits, or never comes, leaves it where it is. A device that hears of a loss sends again all after it, and
    what the office has is recognised: too low a number costs a repeat, too high a one an operation.
    `safe_seq`: every operation up to that one stands in every second place in reach; null while none is set up.
    `hearing`: the office lacks something, and waits for the phones that may have it. `erased`: how many times the
    words of a record were erased; a device that knows of more or fewer asks which.
    """

    office_id: str
    epoch: str
    office_seq: int
    chain: str
    known_chain: str | None
    proof: str
    device_seq: int
    safe_seq: int | None
    hearing: bool
    erased: int


@dataclass(frozen=True)
class Known:
    """What a device says that it was told last: a place in the log and its value there; 0 if nothing.

    `proofs` came with that, and with what it was told before the office was found to lack something.
    """

    office_seq: int = 0
    chain: str = ""
    proofs: tuple[str, ...] = ()

    def stands_in(self, stands: OfficeStanding) -> bool:
        """Whether it was told something, and the office still has it."""
        return bool(self.office_seq) and stands.known_chain == self.chain


class Reached:
    """How far each device was answered without a gap, remembered so that nobody counts from 1 each time.

    The log only grows while an office is open, so what was reached once stays reached.
    """

    def __init__(self) -> None:
        self._by_device: dict[str, int] = {}
        self._lock = threading.Lock()  # readers and the writer run on threads of their own

    def of(self, device_id: str) -> int:
        return self._by_device.get(device_id, 0)

    def note(self, device_id: str, device_seq: int) -> None:
        """Only after the commit: what was taken back was not reached."""
        with self._lock:
            self._by_device[device_id] = max(device_seq, self.of(device_id))


def standing(
    tx: Reading,
    *,
    device_id: str,
    known: Known,
    reached: int,
    safe_seq: int | None,
    prove: Callable[[int, str, int], str] = lambda office_seq, chain, losses: "",
) -> OfficeStanding:
    """Where the office stands.

    `reached` is how far the device had been answered without a gap before; `prove` gives the proof that it was told of
    an operation.
    """
    row = tx.one(
        """
        SELECT office.office_id, office.epoch, office.hearing_since, office.losses, newest.office_seq, newest.chain,
            named.chain AS known_chain, (SELECT count(*) FROM erasure) AS erased,
            CASE WHEN EXISTS (
                SELECT 1 FROM operation_log WHERE device_id = :device_id AND device_seq = :first
            ) THEN (
                SELECT device_seq FROM operation_log AS one WHERE device_id = :device_id AND device_seq >= :first
                    AND NOT EXISTS (
                        SELECT 1 FROM operation_log AS after
                        WHERE after.device_id = :device_id AND after.device_seq = one.device_seq + 1
                    ) ORDER BY device_seq LIMIT 1
            ) END AS device_seq
        FROM office
            LEFT JOIN (SELECT office_seq, chain FROM operation_log ORDER BY office_seq DESC LIMIT 1) AS newest ON 1 = 1
            LEFT JOIN operation_log AS named ON named.office_seq = :known_seq
        """,
        device_id=device_id,
        first=max(reached, 1),
        known_seq=known.office_seq,
    )
    assert row is not None, "an office is named before it answers"
    device_seq = row["device_seq"] or 0
    if row["hearing_since"] is not None:  # only then is it looked for: it reads all that the device ever sent
        lost = [seq for seq in words_lacking(tx, device_id).values() if seq > 0]
        device_seq = min([device_seq, *(seq - 1 for seq in lost)])
    return OfficeStanding(
        office_id=row["office_id"] or "",
        epoch=row["epoch"],
        office_seq=row["office_seq"] or 0,
        chain=row["chain"] or CHAIN_START,
        known_chain=row["known_chain"],
        proof=prove(row["office_seq"] or 0, row["chain"] or CHAIN_START, row["losses"]),
        device_seq=device_seq,
        safe_seq=safe_seq,
        hearing=row["hearing_since"] is not None,
        erased=row["erased"],
    )
