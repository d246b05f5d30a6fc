"""Photos as records: which picture shows what of which item. The bytes are kept by `photo_files`."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

from pydantic import Field

from intake.arrival.items import ItemEdit
from intake.edits import edit_field
from intake.errors import NotFound
from intake.examination.findings import ZoneKey
from intake.operation import Digest, Edit, Identifier, Instant, Word
from intake.records import Applied, Records

PICTURE_TYPES = ("image/jpeg", "image/png", "image/webp", "image/heic")
PHOTO_LIMIT = 40 * 1024 * 1024
THUMB_LIMIT = 400_000
FILE = ("sha256", "bytes", "media_type", "width", "height", "thumb_sha256", "thumb_bytes")


class TakenPhoto(Edit):
    """What is said of every picture, whatever it shows: its bytes by digest, its size, when it was taken.

    Units: bytes; width and height in pixels of the upright picture. `thumb_sha256` names the small picture that
    the device made, at most 320 px, which travels before the original.
    """

    roles = frozenset({"table", "door", "porter", "desk"})

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

    #: What the picture shows, in the fields of its kind.
    shows: ClassVar[tuple[str, ...]]

    def edited(self) -> tuple[str, Any]:
        told = (*FILE, *self.shows, "taken_at", "withdrawn")
        return f"photos/{self.photo_id}", {name: getattr(self, name) for name in told}


class AttachPhoto(TakenPhoto, ItemEdit):
    """A picture was taken of an item: the view it serves, the zone or finding it shows."""

    shows = ("view", "zone", "finding_id")

    kind: Literal["attach_photo"]
    view: Word | None
    zone: ZoneKey | None
    finding_id: Identifier | None


class AttachRecordPhoto(TakenPhoto):
    """A picture of what is no item yet, or none any more: what was unpacked of a visit, what a difference looks like.

    `of_id` is the visit, or the day on which the difference was raised.
    """

    shows = ("difference_id",)

    kind: Literal["attach_record_photo"]
    of_id: Identifier
    difference_id: Identifier | None

    @property
    def record_id(self) -> str:
        return self.of_id


def attach_record_photo(records: Records, operation: AttachRecordPhoto, at: Applied) -> bool:
    """Keep it. Raises NotFound if there is no such visit, or no such difference on the day."""
    if operation.difference_id is None:
        record = records.require("visit", operation.of_id)
    else:
        record = records.require("day", operation.of_id)
        if record.value(f"differences/{operation.difference_id}") is None:
            raise NotFound("difference", operation.difference_id)
    return edit_field(record, operation, at)


def attach_photo(records: Records, operation: AttachPhoto, at: Applied) -> bool:
    """Keep the photo, on a stopped item too: it shows what stopped it, and it is taken already."""
    return edit_field(records.require("item", operation.item_id), operation, at)
