"""Why a value gave way, for the device on which it was said: whoever was overruled hears the reason there."""

from __future__ import annotations

import json
from datetime import datetime

from intake.database import Reading
from intake.errors import NotFound
from intake.families import Asker
from intake.reading import own_visits, require_record
from intake.settling import NOTES


def why_settled(tx: Reading, disagreement_id: str, asker: Asker, now: datetime) -> str:
    """The note of whoever settled a disagreement, "" if they wrote none or it was erased.

    For whoever reads such notes, and, as it may name the owner, of the others only for the device whose own value gave
    way. Raises NotFound for anybody else, and while nobody has settled it.
    """
    between = tx.one(
        "SELECT record_id, kept, other, settled FROM disagreement WHERE disagreement_id = :disagreement_id",
        disagreement_id=disagreement_id,
    )
    if between is None or between["settled"] is None:
        raise NotFound("settlement of", disagreement_id)
    record_id, choose = between["record_id"], json.loads(between["settled"])["choose"]
    record = require_record(tx, record_id, asker, now)
    name = f"{NOTES}{disagreement_id}"
    gave_way = [json.loads(between[side])["device_id"] for side in ("kept", "other") if side != choose]
    own = record.kind == "visit" and record_id in own_visits(tx, asker, [record_id])
    if asker.device_id not in gave_way and not asker.may_read(name, own=own):
        raise NotFound("settlement of", disagreement_id)
    note = tx.value(
        "SELECT value FROM field WHERE record_id = :record_id AND name = :name",
        record_id=record_id,
        name=name,
    )
    return json.loads(note) if note else ""
