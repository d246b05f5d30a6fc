"""Tying a tag: a number goes to one item or piece, and is never used for another."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Any, Literal

from pydantic import Field

from intake.arrival.items import OfItem, name_of
from intake.derived_tables import follows_from_log
from intake.errors import NotFound, TagCheckFailed, TagGone, TagSpoiled, TagTaken
from intake.operation import HandsOn, Identifier, Line, Operation, Tag
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.registries import LIES_WITH
from intake.records.values import FieldValue, Source
from intake.tagging.tags import TagError, normalise, parse_tag, shown

follows_from_log("tag", order="tag")

NOT_NAMED = "something not named yet"


class OnTag(OfItem, HandsOn):
    """Hands are at the tag of a thing, where that lies: in a crate they are among all that lies there with it."""

    def lies_with(self, record: Record, records: Records) -> Iterable[Record]:
        return [other for find in LIES_WITH for other in find(record, self.tag_there(record), records)]

    def tag_there(self, record: Record) -> str | None:
        """The number by which the piece lies there; None for the whole of it."""
        return None

    def handles(self, record: Record, records: Records) -> Iterable[Record]:
        return {one.record_id: one for one in (record, *self.lies_with(record, records))}.values()

    def check_on(self, record: Record, records: Records) -> None:
        """Raises ItemStopped for what lies there with it, is stopped and may not be moved; of what is stopped itself
        its own row says it."""
        for other in self.lies_with(record, records):
            if other is not record:
                inside = other.value("short_description") or NOT_NAMED
                self.check_not_stopped(other, "put_inside", records, inside=inside)


class TieTag(OnTag):
    """A tag is on the item. `piece` 1 is the whole or its first piece, `of` how many numbers it takes: one for each of
    its pieces, or one more for a part that is packed apart. How many pieces it has is counted by itself.

    `mark` says what this one is on, such as "the cover", or tells it from a lookalike of the same visit. Who says it
    anew, or another `of`, names in `seen` the operation that said it before; an app of before leaves it out. With
    `parts` the numbers of the item are on parts of it, whether or not they are as many as its pieces.
    """

    roles = frozenset({"table", "porter", "desk"})
    field_name = "tags/{tag}"

    kind: Literal["tie_tag"]
    tag: Annotated[str, Field(min_length=1, max_length=20)]
    piece: Annotated[int, Field(ge=1, le=999)]
    of: Annotated[int, Field(ge=1, le=999)] = 1
    mark: Line = ""
    parts: bool = False
    seen: Identifier | None = None

    @property
    def number(self) -> str:
        return normalise(self.tag)

    @property
    def tied(self) -> dict[str, Any]:
        """The field's value; of before there were parts it has no word of them."""
        parts = {"parts": True} if self.parts else {}
        tied = {"tag": self.number, **self.members("piece", "of", "mark"), **parts}
        return {**tied, "gone": None, "replaced_by": None}

    @property
    def says(self) -> tuple[str, Any] | None:
        return (f"tags/{self.number}", self.tied) if self.tag else None

    def check_on(self, record: Record, records: Records) -> None:
        """Raises TagCheckFailed for a number that is none, TagTaken if it is on another item, TagSpoiled if it is gone
        from this one or was struck through."""
        tag = require_tag(self.tag)
        super().check_on(record, records)
        check_not_gone(record, tag)
        check_free(records, tag, record.record_id, record.day_id)

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        """Tie it. Of two pieces of one item that two devices tied to one number, the first stands and a person settles
        which it is on; of what one device said of it, its later word holds, and so does that of whoever had seen what
        stood."""
        if self.tag is None:
            return False
        name = f"tags/{self.number}"
        take_number(records, self.number, record.record_id, source)
        stands = record.fields.get(name)
        if stands is None or stands.was_seen(self.seen) or is_own_later(stands, source):
            record.put(name, self.tied, source)
        elif stands.device_id != source.device_id and stands.value != self.tied:
            record.disagree(name, kept=stands.with_source(stands.value), other=self.tied, source=source)
            return True
        return False

    def contest(self, records: Records, source: Source) -> bool:
        """Two devices tied one number to two items: the first tie stands, and the second item's record says so too,
        until a person who has seen both settles it. False if this is no such case.

        A number that is gone, or was settled between the two before, is not asked about again.
        """
        name = f"tags/{self.number}"
        item, holder = records.find(self.touches), records.find(str(holder_of(records, self.number)))
        stands = None if holder is None else holder.fields.get(name)
        if item is None or holder is None or stands is None or holder is item or stands.value["gone"]:
            return False
        if any(between.name == name for between in item.disagreements.values()):
            return False
        kept = stands.with_source({"tag": self.number, "item_id": holder.record_id})
        item.disagree(name, kept=kept, other=self.tied, source=source)
        records.tell_of(holder.record_id)
        return True

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """A number goes to the item that asked for it once it is noted as another item's. Raises TagTaken: one that was
        lost or fell off may still turn up where it was; TagSpoiled for one that is gone from this item."""
        tag = name.removeprefix("tags/")
        before = records.find(str(holder_of(records, tag)))
        if before is None:
            return
        if before is record:
            check_not_gone(record, tag)
            return
        standing = before.value(name)
        if standing is None or standing["gone"] != "on-another-item":
            raise TagTaken(shown(tag), name_of(records, before.record_id, record.day_id))

    @classmethod
    def holds(cls, record: Record, name: str, value: Any) -> bool:
        """What was tied to another item first comes into no record of this one, and a tag that has come off since was
        tied as it was."""
        tied = record.value(name)
        if "item_id" in value or tied is None:
            return "item_id" in value
        return bool({**tied, **dict.fromkeys(("gone", "replaced_by"))} == value)

    @classmethod
    def put_value(cls, record: Record, name: str, value: Any, records: Records, source: Source) -> None:
        record.put(name, value, source)
        records.tx.run(
            "UPDATE tag SET item_id = :item_id WHERE tag = :tag",
            item_id=record.record_id,
            tag=name.removeprefix("tags/"),
        )


def is_own_later(stands: FieldValue, source: Source) -> bool:
    return stands.device_id == source.device_id and stands.device_seq < source.device_seq


class RemoveTag(OnTag):
    """A tag is off the item: fallen off, lost, voided since the owner took the item back, or another item's after all.

    Its number stays the item's for good and never comes back; `replaced_by` links it to the new one.
    """

    roles = frozenset({"table", "porter", "desk", "door"})
    sets_too = ("tags/{tag}",)

    kind: Literal["remove_tag"]
    tag: Tag
    why: Literal["fallen-off", "lost", "damaged", "taken-back", "on-another-item"]
    replaced_by: Tag | None

    def tag_there(self, record: Record) -> str | None:
        return self.tag if f"tags/{self.tag}" in record.fields else None

    def check_on(self, record: Record, records: Records) -> None:
        """Raises NotFound if the tag is not on this item, TagGone if it is gone from it and somebody said why; that
        it is another item's after all can still be said. And what every `OnTag` raises."""
        super().check_on(record, records)
        tied = record.value(f"tags/{self.tag}")
        if tied is None:
            raise NotFound("tag", shown(self.tag))
        if tied["gone"] not in (None, self.why) and self.why != "on-another-item":
            raise TagGone(shown(self.tag), tied["gone"])

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        tied = record.value(f"tags/{self.tag}")
        if tied is not None:
            gone = {"gone": self.why, "replaced_by": self.replaced_by}
            record.put(f"tags/{self.tag}", {**tied, **gone}, source)
        return False


def check_not_gone(item: Record, tag: str) -> None:
    """Raises TagSpoiled for a number that was on the item and is gone from it."""
    tied = item.value(f"tags/{tag}")
    if tied is not None and tied["gone"] is not None:
        raise TagSpoiled(shown(tag), "is gone from this item")


def require_tag(typed: str) -> str:
    """A tag's six characters. Raises TagCheckFailed."""
    try:
        return parse_tag(typed)
    except TagError as error:
        raise TagCheckFailed(str(error)) from error


def holder_of(records: Records, tag: str) -> str | None:
    """The item or container that has the number, or None."""
    holder: str | None = records.tx.value("SELECT item_id FROM tag WHERE tag = :tag", tag=tag)
    return holder


def check_free(records: Records, tag: str, thing_id: str, day_id: str) -> None:
    """Whether an item or a container of this day may have the number. Raises TagTaken or TagSpoiled."""
    holder = holder_of(records, tag)
    if holder is not None and holder != thing_id:
        raise TagTaken(shown(tag), name_of(records, holder, day_id))
    if records.tx.value("SELECT 1 FROM spoiled_tag WHERE tag = :tag", tag=tag):
        raise TagSpoiled(shown(tag))


def take_number(records: Records, tag: str, thing_id: str, source: Source) -> None:
    """Give a number to an item or a container for good."""
    records.tx.run(
        "INSERT INTO tag (tag, item_id, operation_id) VALUES (:tag, :item_id, :operation_id) ON CONFLICT DO NOTHING",
        tag=tag,
        item_id=thing_id,
        operation_id=source.operation_id,
    )
