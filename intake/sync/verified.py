"""Up to where an office was found whole: what came since can be looked at by itself, in a moment each evening.

It is noted in `verified.json` in the data folder, and believed as long as the log has the same value there still, and
the photos up to there are the same.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

from pydantic import BaseModel, ConfigDict, ValidationError

from intake.database import Reading
from intake.sync.chain import CHAIN_START

NAME = "verified.json"


class Verified(BaseModel):
    """The newest operation then and the log's value there, the newest photo by the order in which they came, whatever
    the office's clock said, with a digest of all photos up to it, and when it was.

    The order alone proves nothing: of tables that were put back, or a row that went, others take the same places.
    """

    model_config = ConfigDict(frozen=True)
    office_seq: int
    chain: str
    photo_arrival: int
    photos_sha256: str
    verified_at: str


def as_it_stands(tx: Reading, now: str) -> Verified:
    """What can be noted if nothing is found. Read it before looking: what comes meanwhile is looked at next time."""
    newest = tx.one("SELECT office_seq, chain FROM operation_log ORDER BY office_seq DESC LIMIT 1")
    photo = tx.value("SELECT max(arrival) FROM photo_file")
    return Verified(
        office_seq=newest["office_seq"] if newest else 0,
        chain=newest["chain"] if newest else CHAIN_START,
        photo_arrival=photo or 0,
        photos_sha256=photos_digest(tx, photo or 0),
        verified_at=now,
    )


def photos_digest(tx: Reading, arrival: int) -> str:
    """Another value when any photo up to that one is another, went, or has another place."""
    digest = hashlib.sha256()
    for row in tx.each(
        "SELECT arrival, sha256 FROM photo_file WHERE arrival <= :arrival ORDER BY arrival", arrival=arrival
    ):
        digest.update(f"{row['arrival']} {row['sha256']}\n".encode())
    return digest.hexdigest()


def last_verified(data_folder: Path) -> Verified | None:
    """What was noted last; None if nothing was, or it cannot be read."""
    try:
        return Verified.model_validate_json((data_folder / NAME).read_text("utf-8"))
    except (OSError, ValidationError):
        return None


def note_verified(data_folder: Path, verified: Verified) -> None:
    """A note that is cut by a power cut cannot be read, and all is looked at the next time."""
    (data_folder / NAME).write_text(verified.model_dump_json(), "utf-8")


def still_stands(tx: Reading, verified: Verified) -> bool:
    """Whether the log has the value at that operation that it had then, and the photos up to that one are the same."""
    if photos_digest(tx, verified.photo_arrival) != verified.photos_sha256:
        return False
    if verified.office_seq == 0:
        return True
    chain = tx.value("SELECT chain FROM operation_log WHERE office_seq = :seq", seq=verified.office_seq)
    return bool(chain == verified.chain)
