"""Why a value gave way, for the device on which it was said: whoever was overruled hears the reason there."""

from __future__ import annotations

import json
from datetime import datetime
from typing import NamedTuple

from intake.database import Reading
from intake.errors import NotFound
from intake.families import Asker, Own
from intake.reading import as_read, own_visits, require_record, stored_many, visits_spoken_of
from intake.records.values import compact
from intake.settling import NOTES

NEWEST = 50  # of one device; whoever works at it says "Seen" long before


def records_overruled(tx: Reading, asker: Asker) -> list[bytes]:
    """The records on which a value of this device gave way, as it reads them: those that were settled last.

    For a desk and a manager, who keep few records or those of one day, and have said something on any.
    """
    rows = tx.all(
        """
        SELECT record_id, max(office_seq) AS newest FROM disagreement
        WHERE (kept ->> 'device_id' = :device_id AND settled ->> 'choose' <> 'kept')
            OR (other ->> 'device_id' = :device_id AND settled ->> 'choose' <> 'other')
        GROUP BY record_id ORDER BY newest DESC LIMIT :limit
        """,
        device_id=asker.device_id,
        limit=NEWEST,
    )
    records = stored_many(tx, [row["record_id"] for row in rows])
    return [b"".join(pieces) for pieces in as_read(tx, asker, records, asked=False)]


def gave_way_since(tx: Reading, last: int, device_id: str) -> list[str]:
    """The disagreements in which a value of this device gave way, on records that changed after a place in the feed."""
    rows = tx.all(
        """
        SELECT disagreement_id FROM record
        CROSS JOIN disagreement USING (record_id) -- in this order: few records have changed
        WHERE feed_seq > :last AND (
            (kept ->> 'device_id' = :device_id AND settled ->> 'choose' <> 'kept')
            OR (other ->> 'device_id' = :device_id AND settled ->> 'choose' <> 'other')
        )
        """,
        last=last,
        device_id=device_id,
    )
    return [row["disagreement_id"] for row in rows]


#: What the screen offers to press for a reason (`web/parts/two_values.tsx`). Such words name nobody.
PRESSED = (
    "Looked at again",
    "Compared with a picture",
    "Measured again",
    "The owner says so",
    "The other was a slip",
)


class Why(NamedTuple):
    """The note of whoever settled a disagreement: "" if they wrote none, if it was erased, or if it is kept back."""

    note: str
    is_kept_back: bool = False


def why_settled(tx: Reading, disagreement_id: str, asker: Asker, now: datetime) -> Why:
    """Why a disagreement was settled so, for whoever reads such notes, and for the device whose own value gave way.

    A note that was written may name the owner: to whoever does not read them it is kept back, and said to be there; one
    that was pressed is told. The table at which that owner sat last is told what was written after they have left, too:
    whoever gave way there had them opposite, and most is settled by then. Where the device reads neither value, it is
    not told even that there is a note: nobody settles what was guessed rightly.
    Raises NotFound for anybody else, and while nobody has settled it.
    """
    between = tx.one(
        "SELECT record_id, name, kept, other, settled FROM disagreement WHERE disagreement_id = :disagreement_id",
        disagreement_id=disagreement_id,
    )
    if between is None or between["settled"] is None:
        raise NotFound("settlement of", disagreement_id)
    record_id, choose = between["record_id"], json.loads(between["settled"])["choose"]
    record = require_record(tx, record_id, asker, now)
    name = f"{NOTES}{disagreement_id}"
    gave_way = [json.loads(between[side])["device_id"] for side in ("kept", "other") if side != choose]
    owner = visit_of_settlement(tx, disagreement_id)
    is_own = owner in own_visits(tx, asker, [owner])
    own: Own = "visit" if is_own and (record.kind == "visit" or asker.device_id in gave_way) else ""
    reads = asker.may_read(name, record.kind, own=own)
    of_owner: Own = ("visit" if record.kind == "visit" else "item") if is_own else ""
    hears = asker.device_id in gave_way and asker.may_read(between["name"], record.kind, own=of_owner)
    if not (hears or reads):
        raise NotFound("settlement of", disagreement_id)
    note = tx.value(
        "SELECT value FROM field WHERE record_id = :record_id AND name = :name",
        record_id=record_id,
        name=name,
    )
    written = json.loads(note) if note else ""
    if reads or written in PRESSED or (asker.device_id in gave_way and sat_at(tx, owner, asker)):
        return Why(written)
    return Why("", is_kept_back=bool(written))


def sat_at(tx: Reading, visit_id: str, asker: Asker) -> bool:
    """Whether the seat of a visit, as it stands or as it was when its owner left, is that of the table that asks."""
    if asker.role != "table" or not asker.table_id:
        return False
    seat = tx.value(
        "SELECT value FROM field WHERE record_id = :visit_id AND name = 'table_id'", visit_id=visit_id
    )
    return bool(seat == compact(asker.table_id))


def visit_of_settlement(tx: Reading, disagreement_id: str) -> str:
    """The visit whose owner the note of a settlement may name: whoever reads it reads of them. Empty if there is none,
    as of what differed on a day."""
    return (
        tx.value(
            """
            SELECT CASE kind WHEN 'visit' THEN record_id ELSE head ->> 'visit_id' END
            FROM disagreement JOIN record USING (record_id) WHERE disagreement_id = :disagreement_id
            """,
            disagreement_id=disagreement_id,
        )
        or ""
    )


def spoken_of_in_settlement(tx: Reading, disagreement_id: str) -> list[str]:
    """The visits of whose owners the note of a settlement may speak; of what belongs to none what stands for them."""
    if visit_id := visit_of_settlement(tx, disagreement_id):
        return [visit_id]
    record_id = tx.value(
        "SELECT record_id FROM disagreement WHERE disagreement_id = :disagreement_id",
        disagreement_id=disagreement_id,
    )
    return visits_spoken_of(tx, record_id, in_notes=True)
