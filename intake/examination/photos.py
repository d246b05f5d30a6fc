"""Photos as records: which picture shows what of which item. The bytes are kept by `photo_files`."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from intake.arrival.items import ItemEdit
from intake.database import Writing
from intake.edits import Applied, edit_field, require_record
from intake.examination.findings import ZoneKey
from intake.operation import Digest, Identifier, Instant, Word

PICTURE_TYPES = ("image/jpeg", "image/png", "image/webp", "image/heic")
PHOTO_LIMIT = 40 * 1024 * 1024
THUMB_LIMIT = 400_000


class AttachPhoto(ItemEdit):
    """A picture was taken of an item: its bytes by digest, the view it serves, the zone or finding it shows.

    Units: bytes; width and height in pixels of the upright picture. `thumb_sha256` names the small picture that
    the device made, at most 320 px, which travels before the original.
    """

    roles = frozenset({"table", "door", "porter", "desk"})

    kind: Literal["attach_photo"]
    photo_id: Identifier
    sha256: Digest
    bytes: Annotated[int, Field(ge=1, le=PHOTO_LIMIT)]
    media_type: Literal["image/jpeg", "image/png", "image/webp", "image/heic"]
    width: Annotated[int, Field(ge=1, le=100_000)]
    height: Annotated[int, Field(ge=1, le=100_000)]
    thumb_sha256: Digest
    thumb_bytes: Annotated[int, Field(ge=1, le=THUMB_LIMIT)]
    view: Word | None
    zone: ZoneKey | None
    finding_id: Identifier | None
    taken_at: Instant
    withdrawn: bool

    def edited(self) -> tuple[str, Any]:
        told = "sha256 bytes media_type width height thumb_sha256 thumb_bytes view zone finding_id taken_at withdrawn"
        return f"photos/{self.photo_id}", {name: getattr(self, name) for name in told.split()}


def attach_photo(tx: Writing, operation: AttachPhoto, at: Applied) -> bool:
    """Keep the photo, on a stopped item too: it shows what stopped it, and it is taken already."""
    require_record(tx, "item", operation.item_id)
    return edit_field(tx, operation, at)
