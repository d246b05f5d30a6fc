"""An item: one thing that could be one lot. What was seen, concluded and told are three different places."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from intake.database import Reading
from intake.edits import Edit
from intake.errors import NotFound
from intake.families import TOLD
from intake.operation import Identifier, Line, Opening, Operation, Prose, Salt, Word
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.registries import reads_anew
from intake.records.values import Source

# How near the maker stands, nearest first. Source: the trade's usual ladder, common practice.
MAKER_CERTAINTIES = (
    "by",
    "attributed-to",
    "workshop-of",
    "circle-of",
    "follower-of",
    "manner-of",
    "after",
    "region-period",
    "unknown",
)
DATE_CERTAINTIES = ("certain", "probable", "possible", "not-determined")
# What speaks for a maker or a date. Source: the trade's usual kinds of evidence, common practice.
EVIDENCE = (
    "mark",
    "label",
    "construction",
    "materials",
    "wear",
    "style",
    "provenance-paper",
    "owner-told",
    "comparison",
    "test",
)
WORDS = frozenset(
    [
        "class_id",
        "plan_version",
        "short_description",
        "seen_words",
        "concluded_words",
        "told_words",
        "materials",
        "colour_now",
        "colour_was",
        "maker",
        "marks_looked",
        "packaging",
        "heading",
        "lot_description",
        "condition_words",
        "class_grade",
    ]
)
#: Of one thing: a hoard that is counted, and no more than anybody counts.
MOST_PIECES = 9999
#: The fields that hold one or several of a list.
LISTED = ("maker_certainty", "maker_evidence", "dates_certainty", "dates_evidence")


class OfItem(Operation):
    """An operation on an item."""

    record_kinds = ("item",)
    record_member = "item_id"

    item_id: Identifier


class OpenItem(OfItem, Opening):
    """A thing is on the table.

    `allowed_by` is the manager who was asked, where the day was closed by then; it stays on record with the item. The
    device asks for it: the office refuses no item for it, since the phone may not have heard of the closing.
    """

    roles = frozenset({"table", "desk"})
    head_members = ("visit_id",)
    sets_too = ("allowed_by",)

    kind: Literal["open_item"]
    visit_id: Identifier
    day_id: Identifier
    allowed_by: Line = ""

    def check_opening(self, records: Records) -> None:
        visit = records.require(self.visit_id, "visit")
        if visit.day_id != self.day_id:
            raise NotFound("visit of that day", self.visit_id)

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        if self.allowed_by:
            record.put("allowed_by", self.allowed_by, source)
        return False


class ItemEdit(OfItem, Edit):
    """An edit of one field of an item."""


class Correctable(ItemEdit):
    """What a desk may put right once the table has left. `correction` says why, for who reads the history."""

    roles = frozenset({"table", "desk"})

    correction: Line = ""


class CountPieces(Correctable):
    """How many pieces a thing has, as somebody counted them: one, a pair, six glasses; a cover goes with its pot.

    It can be said before any of them has a number. That each piece has a number of its own, and how many have, is said
    by the ties. `back` is how many of them the counter knew to be back with their owner, whom the count includes: one
    that was made where nobody had heard of the others is asked for again. An app of before does not say it.
    """

    sets_too = ("pieces-back",)
    field_name = "pieces"
    whole_value = "pieces"
    replaceable = True

    kind: Literal["count_pieces"]
    pieces: Annotated[int, Field(ge=1, le=MOST_PIECES)]
    back: Annotated[int, Field(ge=0, le=MOST_PIECES)] | None = None

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        disagreement = super().apply_to(record, records, source)
        counted = record.fields.get("pieces")
        if self.back is not None and counted and counted.operation_id == source.operation_id:
            record.put("pieces-back", self.back, source)
        return disagreement


class ListPiece(Correctable):
    """A line of what a thing of unlike pieces consists of: two chisels, a plane, of a box of fourteen tools.

    Source: whoever lists it, at the table or the desk. How many there are in all is said by the count (`count_pieces`):
    the lines may be fewer, and where they are more a person counts again. What was found on a piece names its line by
    these words (`piece_words` of a finding), and so does the number that it gets as it goes (`mark` of a tie).
    """

    field_name = "listed/{line_id}"
    replaceable = True

    kind: Literal["list_piece"]
    line_id: Identifier
    words: Line
    count: Annotated[int, Field(ge=1, le=MOST_PIECES)]
    withdrawn: bool


class SetItem(Correctable):
    """One fact about what the item is, in words or as one of a list. What its owner told of it can be erased."""

    personal = ("salt", "value")
    personal_before = ((),)
    field_name = "{field}"
    whole_value = "value"
    replaceable = True

    kind: Literal["set_item"]
    field: Annotated[str, Field(max_length=60, json_schema_extra={"enum": sorted([*WORDS, *LISTED])})]
    value: Prose | Annotated[list[Word], Field(max_length=200)] | None
    salt: Salt | None = None

    @model_validator(mode="after")
    def check_fact(self) -> SetItem:
        """Each field takes its own kind of value; a field nobody knows is refused."""
        match self.field:
            case "maker_certainty":
                allowed = self.value in MAKER_CERTAINTIES
            case "dates_certainty":
                allowed = self.value in DATE_CERTAINTIES
            case "maker_evidence" | "dates_evidence":
                allowed = isinstance(self.value, list) and set(self.value) <= set(EVIDENCE)
            case name:
                if name not in WORDS:
                    raise ValueError("an item has no such field")
                allowed = isinstance(self.value, str)
        if not allowed:
            raise ValueError(f"{self.field} does not take this value")
        return self


@reads_anew("visit", "stage", "table_id")
def told_of_at_a_table(tx: Reading, visit_id: str) -> list[str]:
    """The items of a visit of which its owner told something: what is told is read where they sit, and nowhere else."""
    rows = tx.all(
        """
        SELECT entry.item_id FROM entry JOIN record_part ON record_part.record_id = entry.item_id AND readers = :told
        WHERE entry.visit_id = :visit_id ORDER BY entry.entry_seq
        """,
        visit_id=visit_id,
        told=TOLD.name,
    )
    return [row["item_id"] for row in rows]


def name_of(records: Records, record_id: str, day_id: str) -> str:
    """An item in words for somebody who works on this day: its short description, and of a thing of another day, which
    they may not read, no more than that."""
    record = records.find(record_id)
    if record is not None and record.day_id != day_id:
        return "a thing of another day"
    words = None if record is None else record.value("short_description")
    return f'"{words}"' if words else "another item or container"
