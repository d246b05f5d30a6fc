"""Photos as records: which picture shows what of which item. The bytes are kept by `intake.photos`."""

from __future__ import annotations

import json
from typing import Annotated, Any, Literal

from pydantic import Field

from intake.arrival.items import ItemEdit
from intake.database import Reading
from intake.derived_tables import follows_from_log
from intake.edits import Edit
from intake.errors import NotFound
from intake.examination.findings import ZoneKey
from intake.operation import Digest, Identifier, Instant, Line, Word
from intake.photos.picture import PHOTO_LIMIT
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.values import Source

THUMB_LIMIT = 400_000


follows_from_log("photo_of", order="sha256, record_id")


class TakenPhoto(Edit):
    """What is said of every picture, whatever it shows: its bytes by digest, its size, when it was taken.

    Units: bytes; width and height in pixels of the upright picture. `thumb_sha256` names the small picture that
    the device made, at most 320 px, which travels before the original.
    """

    roles = frozenset({"table", "door", "porter", "desk"})
    field_name = "photos/{photo_id}"

    photo_id: Identifier
    sha256: Digest
    bytes: Annotated[int, Field(ge=1, le=PHOTO_LIMIT)]
    media_type: Literal["image/jpeg", "image/png", "image/webp", "image/heic"]
    width: Annotated[int, Field(ge=1, le=100_000)]
    height: Annotated[int, Field(ge=1, le=100_000)]
    thumb_sha256: Digest
    thumb_bytes: Annotated[int, Field(ge=1, le=THUMB_LIMIT)]
    taken_at: Instant
    withdrawn: bool

    @classmethod
    def put_value(cls, record: Record, name: str, value: Any, records: Records, source: Source) -> None:
        """The record names the picture and its small copy from now on: whoever reads it reads them."""
        record.put(name, value, source)
        note_pictures(record, value, records)


class AttachPhoto(TakenPhoto, ItemEdit):
    """A picture was taken of an item: the view it serves, the zone or finding it shows."""

    kind: Literal["attach_photo"]
    view: Word | None
    zone: ZoneKey | None
    finding_id: Identifier | None


class SkipView(ItemEdit):
    """A view that the class asks for is not taken, and why; null takes that back, and the view is asked for again.

    `reason` is one of the house's own reasons for not examining a zone. Source: whoever had the item in front of them.
    """

    roles = frozenset({"table", "desk"})
    field_name = "views/{view}"
    replaceable = True

    kind: Literal["skip_view"]
    view: Word
    reason: Word | None
    note: Line


class AttachRecordPhoto(TakenPhoto):
    """A picture of what is no item yet, or none any more: what was unpacked of a visit, what a difference looks like.

    One of a visit is read by who reads the owner, and goes with their words. `of_id` is the visit, or the day on which
    the difference was raised.
    """

    record_kinds = ("visit", "day")
    record_member = "of_id"

    kind: Literal["attach_record_photo"]
    of_id: Identifier
    difference_id: Identifier | None

    @property
    def has_words(self) -> bool:
        """One that is withdrawn is missed by nobody."""
        return not self.withdrawn

    def words_erased(self, records: Records, heard_at: str, *, said_at: str) -> bool:
        """One of a visit is its owner's: it went with them unless something shows that it was taken since."""
        record = records.find(self.of_id)
        if record is None or record.kind != "visit":
            return False
        return self.was_erased(records, [record.record_id], heard_at, said_at=said_at)

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        """One that went with the owner is on no record; that it was of this visit is known still."""
        if source.words_gone:
            note_pictures(record, self.members("sha256", "thumb_sha256"), records)
            return False
        return super().apply_to(record, records, source)

    def check_on(self, record: Record, records: Records) -> None:
        """Raises NotFound unless it is of a visit, or of a difference that was raised on the day."""
        if self.difference_id is None:
            records.require(self.of_id, "visit")
        elif f"differences/{self.difference_id}" not in record.fields:
            raise NotFound("difference", self.difference_id)


def note_pictures(record: Record, photo: dict[str, Any], records: Records) -> None:
    """Which record it was that named a picture and its small copy."""
    named = [photo[of] for of in ("sha256", "thumb_sha256") if photo[of] is not None]
    records.add_rows(
        "INSERT INTO photo_of (sha256, record_id) VALUES (?, ?) ON CONFLICT DO NOTHING",
        [(sha256, record.record_id) for sha256 in named],
    )


def photos_missing(tx: Reading) -> set[str]:
    """The digests of pictures that records name and the office does not have: still with a phone, or lost."""
    missing: set[str] = set()
    for row in tx.each(
        """
        SELECT value FROM field WHERE name LIKE 'photos/%'
        UNION ALL SELECT other FROM disagreement WHERE name LIKE 'photos/%'
        """
    ):
        value = json.loads(row["value"])
        photo = value.get("value", value)
        named = {photo["sha256"], photo["thumb_sha256"]}
        missing |= {sha256 for sha256 in named if sha256 is not None and not is_here(tx, sha256)}
    return missing


def is_here(tx: Reading, sha256: str) -> bool:
    return tx.value("SELECT 1 FROM photo_file WHERE sha256 = :sha256", sha256=sha256) is not None
