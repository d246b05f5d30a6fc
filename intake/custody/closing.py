"""Differences, and the closing of the day: every one has a name and ends by being settled, never by vanishing."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

from intake.access.devices import is_known
from intake.arrival.days import OfDay
from intake.arrival.items import MOST_PIECES, ItemEdit
from intake.arrival.people import as_one_name
from intake.custody.closing_lines import digest_of, lines_of, unexplained
from intake.custody.containers import check_beside, check_piece
from intake.custody.day_on_record import day_on_record
from intake.custody.differences import Closing
from intake.edits import Edit
from intake.errors import (
    DayClosed,
    DifferenceUnexplained,
    FirstNotSigned,
    ListDiffers,
    NotFound,
    SecondIsFirst,
    SecondNotThere,
)
from intake.operation import Digest, HandsOn, Identifier, Line, Name, Operation, Prose, Tag, is_stopped_for
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.values import Source

DifferenceKind = Literal[
    "item-short",
    "item-over",
    "piece-short",
    "tag-without-item",
    "item-without-tag",
    "seal-differs",
    "new-damage",
    "record-without-item",
    "wrong-item",
    "wrong-place",
    "load-count",
]

MOST_NAMED = 500_000  # signs in all differences that a closing names itself, as apps of before did
MOST_OF_ONE = 200  # differences that one reason is said of at once: more of them are said in several
Key = Annotated[str, Field(max_length=400, pattern=r"^[ -~]+$")]  # what a difference is known by


#: What a closing says of the list that two people signed.
OF_A_LIST = ("reason_ids", "count", "digest", "first_digest")
IF_GIVEN = ("second_device", "first_signing", "heard")


class RaiseDifference(OfDay, Edit):
    """Something does not agree: what kind it is, of which item or container, what was done first, who was told."""

    roles = frozenset({"table", "porter", "door", "desk"})
    field_name = "differences/{difference_id}"

    kind: Literal["raise_difference"]
    difference_id: Identifier
    difference: DifferenceKind
    thing_id: Identifier | None
    words: Prose
    owner_told: bool
    told: Line = ""  # who else was told


class SettleDifference(OfDay, Edit):
    """How a difference ended, and who was there. It stays on record as settled."""

    roles = frozenset({"table", "porter", "door", "desk"})
    field_name = "difference-ends/{difference_id}"

    kind: Literal["settle_difference"]
    difference_id: Identifier
    ended: Literal["found", "owner-has-it", "matched", "re-tagged", "moved", "corrected", "claim-opened"]
    words: Prose
    second_by: Line

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Raises NotFound if nobody has raised it."""
        difference_id = name.removeprefix("difference-ends/")
        if f"differences/{difference_id}" not in record.fields:
            raise NotFound("difference", difference_id)


class CheckIn(ItemEdit, HandsOn):
    """Two people compared an item with its photographs of the table, when its crate was opened.

    `tag` is the number of which this is said, where only some of its numbers lay there; null is all of it. Of a thing
    of several pieces `pieces` of the `of` that were looked for were counted there; null if nobody counted.
    """

    roles = frozenset({"table", "porter", "door", "desk"})
    on_what_stood = True
    field_name = "check-in[/{tag}]"
    if_said = ("pieces", "of")

    kind: Literal["check_in"]
    state: Literal["as-recorded", "differs", "not-here"]
    words: Prose
    second_by: Annotated[Line, Field(min_length=1)]
    tag: Tag | None = None
    pieces: Annotated[int, Field(ge=1, le=MOST_PIECES)] | None = None
    of: Annotated[int, Field(ge=1, le=MOST_PIECES)] | None = None

    def check_on(self, record: Record, records: Records) -> None:
        """Raises NotFound for no such number, and what `check_beside` raises."""
        check_piece(record, self.tag)
        super().check_on(record, records)
        if not is_stopped_for(record, "put_inside", records):  # of what is stopped itself its own row says it
            check_beside(self, record, self.tag, records)


class Explained(BaseModel):
    """A difference of which a reason is said: what it is known by, and what it is called now."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)
    key: Key
    words: Line


class ExplainDifferences(OfDay, Edit):
    """What is known of one difference of the day, or of several at once; said before anybody closes it.

    Of what is said of one difference the newest counts, by the ids, which go by the clock; an empty reason takes back
    what was said. `said_by` names whoever said it if that was not whose device it is: a closing's second person.
    """

    roles = frozenset()
    field_name = "reasons/{reason_id}"
    if_said = ("said_by",)

    kind: Literal["explain_differences"]
    reason_id: Identifier
    reason: Line
    of: Annotated[list[Explained], Field(min_length=1, max_length=MOST_OF_ONE)]
    said_by: Line = ""


class SignClosing(OfDay, Edit):
    """A manager has read the differences of the day with what is said of each, and signs first.

    It closes nothing and keeps nobody from anything: whoever is second reads it, at this device or at their own, and
    closes the day with it (`CloseDay.first_signing`). Of several that stand the earliest is the first. `reason_ids`,
    `count` and `digest` are of the list that was signed, as a closing has them. Taken back (`withdrawn`) it signs
    nothing.
    """

    roles = frozenset()
    on_what_stood = True
    field_name = "first-signings/{signing_id}"
    if_said = ("withdrawn",)

    kind: Literal["sign_closing"]
    signing_id: Identifier
    signed_by: Name
    reason_ids: Annotated[list[Identifier], Field(max_length=12_000)]
    count: Annotated[int, Field(ge=0)]
    digest: Digest | None
    withdrawn: bool = False

    @model_validator(mode="after")
    def check_signed(self) -> SignClosing:
        if (self.digest is None) != self.withdrawn:
            raise ValueError("what is signed has the digest of its list, and what is taken back has none")
        return self

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Raises NotFound for a reason that is not here, or where nothing was signed that could be taken back, and
        ListDiffers if what was signed is not what is on record."""
        if value.get("withdrawn"):
            if name not in record.fields:
                raise NotFound("signature", name.removeprefix("first-signings/"))
            return
        check_list(record, value)


def check_list(day: Record, signed: dict[str, Any]) -> None:
    """Raises NotFound for a reason that is not here, and ListDiffers if those that are say something else."""
    for reason_id in signed["reason_ids"]:
        if f"reasons/{reason_id}" not in day.fields:
            raise NotFound("reason", reason_id)
    if digest_of(lines_of(day, signed)) != signed["digest"]:
        raise ListDiffers


class HeardTo(BaseModel):
    """How far the closing device had heard another: the last place in that one's order of which it held something."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)
    device_id: Annotated[str, Field(max_length=40)]
    device_seq: Annotated[int, Field(ge=0)]


class CloseDay(OfDay):
    """Two people close the day with the differences that they have read, each with what is known of it.

    What they were and what was said of each stands in the reasons that `reason_ids` name, so that there may be any
    number of them. `digest` is of that list, which the second person has signed, `first_digest` of
    the one that the first had; `count` says how many they were. `second_device` is the device off which the second
    person's code was read; none where they close the day at their own, and the first signed at another:
    `first_signing` is what that one signed. `heard` tells what came later from what they read: nobody signed for what a
    phone brought the next morning, though it was made before. Apps of before said none of it, named the differences
    here, with their reasons in the same order, and put no first signature on record.
    """

    roles = frozenset()
    on_what_stood = True
    field_name = "closed"

    kind: Literal["close_day"]
    closed_by: Name
    second_by: Name
    named: Annotated[list[Line], Field(max_length=20_000)]
    second_device: Annotated[str, Field(max_length=80)] | None = None
    reasons: Annotated[list[Line], Field(max_length=20_000)] = []  # noqa: RUF012 - each model gets its own
    reason_ids: Annotated[list[Identifier], Field(max_length=12_000)] = []  # noqa: RUF012
    count: Annotated[int, Field(ge=0)] = 0
    digest: Digest | None = None
    first_digest: Digest | None = None
    first_signing: Identifier | None = None
    heard: Annotated[list[HeardTo], Field(max_length=300)] = []  # noqa: RUF012

    @model_validator(mode="after")
    def check_named(self) -> CloseDay:
        """It fits into one request."""
        if sum(map(len, [*self.named, *self.reasons])) > MOST_NAMED:
            raise ValueError(
                f"a closing names its differences in at most {MOST_NAMED} signs: end some of them first"
            )
        return self

    @model_validator(mode="after")
    def check_reasons(self) -> CloseDay:
        if self.reasons and len(self.reasons) != len(self.named):
            raise ValueError("each difference has its own reason, or an empty one")
        return self

    def check_on(self, record: Record, records: Records) -> None:
        """Raises SecondIsFirst if two names are one, DayClosed if somebody has closed it, SecondNotThere if the code
        was of the closing device itself, or of none that the office knows, or if there is none and it is not the
        second's own; FirstNotSigned if what the first signed was taken back; NotFound for a reason that is not here,
        and ListDiffers if what was signed is not what is on record."""
        if as_one_name(self.closed_by) == as_one_name(self.second_by):
            raise SecondIsFirst(self.closed_by)
        if closed := record.value("closed"):
            raise DayClosed(closed["closed_by"], closed["second_by"])
        second = self.second_device
        if second is not None and (second == self.device_id or not is_known(records.tx, second)):
            raise SecondNotThere(self.second_by)
        if self.first_signing:
            self.check_first(record, self.first_signing)
        if self.digest:
            check_list(record, self.value)

    def check_first(self, day: Record, signing_id: str) -> None:
        """Raises NotFound, FirstNotSigned or SecondNotThere."""
        first = day.fields.get(f"first-signings/{signing_id}")
        if first is None:
            raise NotFound("signature", signing_id)
        is_theirs = as_one_name(first.value["signed_by"]) == as_one_name(self.closed_by)
        if not is_theirs or first.value["digest"] is None or first.value["digest"] != self.first_digest:
            raise FirstNotSigned(self.closed_by)
        if self.second_device is None:
            at_it = day.value(f"people/{self.made_by}") or {"name": ""}
            is_own = as_one_name(at_it["name"]) == as_one_name(self.second_by)
            if first.device_id == self.device_id or not is_own:
                raise SecondNotThere(self.second_by)

    def check_at_hand(self, records: Records) -> None:
        """Raises DifferenceUnexplained if the office finds what nobody can mend tomorrow, and no reason was said of
        it."""
        day = day_on_record(records.tx, self.day_id)
        try:
            # What hangs on a class's plan needs no reason.
            found = Closing(day, lambda _: None, {}).differences()
            lacking = [one.words for one in unexplained(found, lines_of(day.day, self.value))]
        finally:
            day.hand.let_go()
        if lacking:
            raise DifferenceUnexplained(lacking)

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        record.put("closed", self.value, source)
        return False

    @property
    def says(self) -> tuple[str, Any]:
        return "closed", self.value

    @property
    def value(self) -> dict[str, Any]:
        """The field's value."""
        if self.digest:
            members = [*OF_A_LIST, *(name for name in IF_GIVEN if getattr(self, name))]
        else:
            members = [name for name in ("second_device", "reasons") if getattr(self, name)]
        return self.members("closed_by", "second_by", "named", *members)

    def contest(self, records: Records, source: Source) -> bool:
        """What somebody named who had not heard that the day was closed stays beside it, for a person to settle."""
        record = records.find(self.touches)
        first = None if record is None else record.fields.get("closed")
        if record is None or first is None or without_heard(first.value) == without_heard(self.value):
            return False
        record.disagree("closed", kept=first.with_source(first.value), other=self.value, source=source)
        return True

    @classmethod
    def put_value(cls, record: Record, name: str, value: Any, records: Records, source: Source) -> None:
        """Of two closings another one is settled on: it says who closed and what they named. The day stays closed since
        the first, or the settlement would open it to phones once more."""
        first = record.fields.get(name)
        since = source if first is None else Source(source.operation_id, *first[2:6], source.office_seq)
        record.put(name, value, since)


def without_heard(closed: dict[str, Any]) -> dict[str, Any]:
    """What two people said as they closed a day, whatever their device had heard."""
    return {name: value for name, value in closed.items() if name != "heard"}
