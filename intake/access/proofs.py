"""Proofs of what the office told a device of its log.

A device that was told of more than the office has shows that something was lost, and all others wait until it is found.
So what it says counts only with the proof that came with it: a device cannot claim to have been told what it never was.
"""

from __future__ import annotations

import hashlib
import hmac
from collections.abc import Iterable
from dataclasses import dataclass

from intake.database import Reading

SIGNS = 32  # hexadecimal digits of a proof's seal: 128 bits


@dataclass(frozen=True)
class Told:
    """What a device was told: a place in the log, its value there, and how many losses the office knew of then."""

    office_seq: int
    chain: str
    losses: int

    def shows_loss(self, tx: Reading) -> bool:
        """Whether it is gone and that is news: it was told since the latest loss that the office knows of."""
        return bool(
            tx.value(
                """
                SELECT 1 FROM office WHERE :losses >= losses AND NOT EXISTS (
                    SELECT 1 FROM operation_log WHERE office_seq = :office_seq AND chain = :chain
                )
                """,
                losses=self.losses,
                office_seq=self.office_seq,
                chain=self.chain,
            )
        )


class Proofs:
    """Gives proofs and reads them. The key is the file's own, so a folder that was put back still knows its proofs."""

    def __init__(self, key: str) -> None:
        self._key = key.encode()

    def give(self, device_id: str, proof: Told) -> str:
        """A line of text for an address; empty while there is nothing to prove."""
        if not proof.office_seq:
            return ""
        return f"{proof.office_seq}_{proof.chain}_{proof.losses}_{self._seal(device_id, proof)}"

    def read(self, device_id: str, proofs: Iterable[str]) -> list[Told]:
        """What those say that were given to this device; all others say nothing."""
        return [
            found for proof in dict.fromkeys(proofs) if (found := self._read(device_id, proof)) is not None
        ]

    def _read(self, device_id: str, proof: str) -> Told | None:
        office_seq, _, rest = proof.partition("_")
        chain, _, rest = rest.partition("_")
        losses, _, seal = rest.partition("_")
        if not (is_count(office_seq) and is_count(losses) and seal.isascii()):
            return None
        opened = Told(int(office_seq), chain, int(losses))
        return opened if hmac.compare_digest(seal, self._seal(device_id, opened)) else None

    def _seal(self, device_id: str, proof: Told) -> str:
        text = "\n".join((device_id, str(proof.office_seq), proof.chain, str(proof.losses)))
        return hmac.new(self._key, text.encode(errors="replace"), hashlib.sha256).hexdigest()[:SIGNS]


def is_count(text: str) -> bool:
    return text.isascii() and text.isdecimal() and len(text) < 16
