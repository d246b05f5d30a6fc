"""An operation: one small immutable fact made on a device or at the desk.

A kind is one class, and says all there is to say of it: its members and their lengths, which record it is of, who may
make it, the field it sets, what must hold, what it does. Everything else is made from that: how the office reads,
answers and rebuilds, and the table from which the app works.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Annotated, Any, ClassVar, Protocol, Self, get_args

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

from intake.database import any_of
from intake.errors import AlreadyThere, ItemStopped
from intake.families import family_of, key_of
from intake.once import worked_out_once
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.values import Disagreement, FieldValue, Source

UUID_PATTERN = r"^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$"
INSTANT_PATTERN = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,6})?Z$"
WORD_PATTERN = r"^[a-z0-9][a-z0-9-]{0,59}$"


def on_calendar(at: str) -> str:
    """An instant, if there is such a one. Raises ValueError for others, such as 31 February."""
    datetime.fromisoformat(at)
    return at


Identifier = Annotated[str, Field(pattern=UUID_PATTERN, examples=["017f22e2-79b0-7cc3-98c4-dc0c0c07398f"])]
Instant = Annotated[
    str,
    Field(pattern=INSTANT_PATTERN, examples=["2026-03-14T10:05:00.000Z"]),
    AfterValidator(on_calendar),
]
Word = Annotated[str, Field(pattern=WORD_PATTERN, examples=["soft-toy"])]
Tag = Annotated[str, Field(min_length=6, max_length=6)]
Line = Annotated[str, Field(max_length=400)]
Name = Annotated[str, Field(max_length=400, pattern=r"\S")]  # of whoever answers for something: never blank
PROSE = 8000  # characters
Prose = Annotated[str, Field(max_length=PROSE)]
Digest = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
Salt = Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]  # from the device's chance, beside personal words
Count = Annotated[int, Field(ge=0, le=100_000)]

CLOCK_OFF_S = 60  # a clock that is off by less changes nobody's reading of a day: common practice

#: Every kind that there is, by its name.
KINDS: dict[str, type[Operation]] = {}
#: The kind whose rules hold for the fields of a family, by the kind of record and the family's key.
FIELD_KINDS: dict[tuple[str, str], type[Operation]] = {}
#: The kind that sets the plain facts of a kind of record, each a field without a family.
FACT_KINDS: dict[str, type[Operation]] = {}


class Rules(Protocol):
    """The house's rows of cautions, as far as an operation asks them."""

    def row_of(self, hazard: str) -> Any:
        """The row of a hazard; of one that nobody knows, the row for what nobody knows."""


class Operation(BaseModel):
    """The envelope that every kind shares, and what a kind says of itself.

    Units: `made_at` is UTC by the device's clock, which may be wrong and never decides what is true;
    `device_seq` counts 1, 2, 3 ... on each device without a gap.
    Errors: an unknown member is refused, so that an older office never drops a newer phone's words.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, ignored_types=(worked_out_once,))

    #: The kinds of record that it may be of, and the member that has the record's id.
    record_kinds: ClassVar[tuple[str, ...]]
    record_member: ClassVar[str]
    #: The roles of device that may make this kind; the manager's may make every kind.
    roles: ClassVar[frozenset[str]] = frozenset({"table"})
    #: The members whose words are kept apart from the log and can be erased; `lines.words` are the words of each line.
    personal: ClassVar[tuple[str, ...]] = ()
    #: What they were in versions of before, by which a device's operations from then are known again.
    personal_before: ClassVar[tuple[tuple[str, ...], ...]] = ()
    #: Whether it sets up the list of people, so that whoever makes it need not be on it.
    lists_people: ClassVar[bool] = False
    #: Whether the personal words of its record are erased with it.
    erases_words: ClassVar[bool] = False
    #: The field that it sets, such as "findings/{finding_id}"; what stands in [ ] is left out if its member is null.
    field_name: ClassVar[str] = ""
    #: Other fields that it may set.
    sets_too: ClassVar[tuple[str, ...]] = ()
    #: Whether the app may change one in place that it never tried to send.
    replaceable: ClassVar[bool] = False
    #: Whether it is somebody's word on what stood on record of its thing by then: what was said before it is never
    #: changed in place afterwards, or it would read as if it had been known.
    on_what_stood: ClassVar[bool] = False
    #: Whether it is taken whoever made it, and waits for as long as its record is unknown: what may keep somebody from
    #: harm is never refused for a name. The closing names what is odd about it.
    always_taken: ClassVar[bool] = False
    #: Whether it is not judged, while devices are heard out, before what its device said earlier of its record.
    in_device_order: ClassVar[bool] = False

    _blank: ClassVar[dict[str, Any]]
    _kind: ClassVar[str] = ""
    _said_once: ClassVar[list[str]] = []  # those of the fields it sets that are never set again

    operation_id: Identifier
    made_at: Instant
    made_by: Annotated[str, Field(max_length=80)]
    device_id: Annotated[str, Field(max_length=80)]
    device_seq: Annotated[int, Field(ge=1, le=2**53 - 1)]

    @classmethod
    def __pydantic_init_subclass__(cls, **_: Any) -> None:
        cls._blank = {
            name: None if member.is_required() else member.default
            for name, member in cls.model_fields.items()
        }
        if "kind" not in cls.model_fields:
            return  # a base of kinds
        cls._kind = str(get_args(cls.model_fields["kind"].annotation)[0])
        if cls.apply_to is Operation.apply_to:
            raise TypeError(f"{cls._kind} does not say what it does: it sets one field, or has an apply_to")
        KINDS[cls._kind] = cls
        cls._said_once = [name for name in cls.field_templates() if family_of(name).once]
        if cls.field_name.startswith("{"):
            FACT_KINDS.update(dict.fromkeys(cls.record_kinds, cls))
        elif cls.field_name:
            for name in names_of(cls.field_name):
                for record_kind in cls.record_kinds:
                    if FIELD_KINDS.setdefault((record_kind, key_of(name)), cls) is not cls:
                        raise TypeError(f"two kinds set {name} of a {record_kind}")

    @classmethod
    def kind_name(cls) -> str:
        """Its kind; "" for what is a base of kinds."""
        return cls._kind

    @classmethod
    def in_words(cls) -> str:
        """What it does, for a sentence: `set_entry` is "set an entry", `give_tickets` "give tickets"."""
        verb, what = cls.kind_name().replace("_", " ").split(" ", 1)
        article = "" if what.endswith("s") else "an " if what[0] in "aeiou" else "a "
        return f"{verb} {article}{what}"

    @classmethod
    def from_log(cls, logged: dict[str, Any]) -> Self:
        """An operation as the log has it, whatever version wrote it.

        Nothing is checked: members that this version does not know are left out, missing ones are null or their
        default, and what is inside them stays plain JSON. Checking and applying work on this alone, when an operation
        arrives as in a rebuild years later.
        """
        values = cls._blank | logged
        if len(values) > len(cls._blank):
            values = {name: values[name] for name in cls._blank}
        made = cls.__new__(cls)
        object.__setattr__(made, "__dict__", values)
        object.__setattr__(made, "__pydantic_fields_set__", set())
        object.__setattr__(made, "__pydantic_extra__", None)
        object.__setattr__(made, "__pydantic_private__", None)
        return made

    @worked_out_once
    def touches(self) -> str:
        """The id of the one record that it changes."""
        return str(self.__dict__[self.record_member])

    @property
    def says(self) -> tuple[str, Any] | None:
        """The one field of which it says something that people may disagree about, and its value there."""
        return None

    @property
    def made_in_view_of(self) -> list[str]:
        """The operations whose values its maker was looking at."""
        seen = self.__dict__.get("seen")
        return [seen] if seen else []

    def members(self, *names: str) -> dict[str, Any]:
        """Some of its members, by name."""
        return {name: self.__dict__[name] for name in names}

    @classmethod
    def field_templates(cls) -> list[str]:
        """Every form that the names of the fields which it may set can take."""
        templates = [cls.field_name, *cls.sets_too] if cls.field_name else cls.sets_too
        return [name for template in templates for name in names_of(template)]

    def field_names(self) -> list[str]:
        """The fields that it may set: facts by their names, others by the template, which tells the family."""
        return [
            name.format_map(self.__dict__) if name.startswith("{") else name
            for name in self.field_templates()
        ]

    def check(self, records: Records) -> None:
        """Whether it may happen now. Reads, and raises a Refusal if not."""
        record = records.require(self.touches, *self.record_kinds)
        self.check_not_stopped(record, self.kind_obeyed(record, records), records)
        for template in self._said_once:
            if (name := template.format_map(self.__dict__)) in record.fields:
                raise AlreadyThere(family_of(name).once, name.partition("/")[2])
        self.check_on(record, records)

    def kind_obeyed(self, record: Record, records: Records) -> str:
        """The kind whose rules it obeys."""
        return self.kind_name()

    def handles(self, record: Record, records: Records) -> Iterable[Record]:
        """What is handled when it is done: the thing itself, and what lies in it if it is carried."""
        return [record]

    def check_not_stopped(self, record: Record, kind: str, records: Records, *, inside: str = "") -> None:
        """Whether the record takes this, as something of this kind. Raises ItemStopped, which names it if it is inside.

        A red caution holds up what was made in the knowledge of it; what was done before it was raised is a fact. It
        holds up every record of the thing, whichever of them it was raised on.
        """
        for one in records.same_thing(record):
            stops = one.derived("stops")
            hazard = stops and stops.against(kind, self.heard_of)
            if hazard:
                raise ItemStopped(hazard, inside)

    @property
    def chosen_id(self) -> str | None:
        """The operation whose value it chose of several; None if it says one of its own."""
        return None

    def goes_on_from(self, record: Record, records: Records) -> Disagreement | None:
        """The disagreement in which its maker said what this was changed from; None if there is none."""
        return None

    def ruled(self, records: Records, rules: Rules | None, heard_at: str) -> dict[str, Any]:
        """The members that are applied otherwise than they were sent, since the office knows better: a device is
        believed where it is stricter than the office's own row, and never where it is milder.

        It is asked once, when the operation arrives; the log's answer says what it said, and a rebuild goes by that.
        `heard_at` is when the office hears of it, `rules` the house's rows, None where there are none.
        """
        return {}

    def as_ruled(self, ruled: dict[str, Any]) -> Self:
        """The operation as it is applied."""
        return self.from_log({**self.__dict__, **ruled}) if ruled else self

    def check_by_rules(self, records: Records, rules: Rules) -> None:
        """What the house's own rows say against it. Raises a Refusal. Asked when it arrives, never in a rebuild."""

    def check_at_hand(self, records: Records) -> None:
        """What only whoever is at work now can mend. Raises a Refusal. It reads the tables, which have by then all that
        came before; and is asked of what a device sends to an office that is whole: never in a rebuild, of what another
        office has answered, or while devices are heard out."""

    @classmethod
    def odd_form(cls, sent: dict[str, Any]) -> str:
        """What is wrong with a readable operation in a member whose form was free once; "" if nothing. It is asked of
        what is new alone: what an office has answered, whatever it says there, is sent again and taken in as it was."""
        return ""

    @classmethod
    def personal_in(cls, said: dict[str, Any]) -> tuple[str, ...]:
        """The personal members of one operation: of a kind that sets any of several facts, those of a fact that can be
        erased."""
        if cls.field_name == "{field}" and not family_of(str(said.get("field"))).erasable:
            return ()
        return cls.personal

    @property
    def has_words(self) -> bool:
        """Whether any of its personal words says something."""
        for name in self.personal_in(self.__dict__):
            member, dot, of_each = name.partition(".")
            value = self.__dict__[member]
            if any(one.get(of_each) for one in value or ()) if dot else value and name != "salt":
                return True
        return False

    def words_erased(self, records: Records, heard_at: str, *, said_at: str) -> bool:
        """Whether it has personal words that were erased before the office heard of it, at `heard_at`, and nothing says
        that they were written since: neither what its maker saw, nor its device's own order, nor a clock that may be
        believed. One that is ahead of the time of hearing may not.

        `said_at` is its time as it was sent. Where that was put right the earlier of both counts: nobody can tell
        whether the clock was off as it was made, or was set back since.
        """
        if not self.personal_in(self.__dict__):
            return False
        return self.was_erased(records, self.owners(records), heard_at, said_at=said_at)

    def was_erased(self, records: Records, visit_ids: list[str], heard_at: str, *, said_at: str) -> bool:
        """Whether what is the owner's of any of these visits was erased, as above."""
        erasures = records.tx.all(
            f"""
            SELECT erasure.made_at, erasure.device_id, erasure.device_seq, operation_id
            FROM erasure LEFT JOIN operation_log USING (office_seq) WHERE erasure.record_id IN {any_of("of")}
            """,
            of=json.dumps(visit_ids),
        )
        believed = instant(self.made_at) <= instant(put_right(heard_at, -CLOCK_OFF_S))
        return any(
            operation_id not in self.made_in_view_of
            and not self.came_after(
                device_id, device_seq, made_at, believed=believed and instant(made_at) <= instant(said_at)
            )
            for made_at, device_id, device_seq, operation_id in erasures
        )

    def owners(self, records: Records) -> list[str]:
        """The visits whose owners its words may speak of, as far as any were erased: its own; of what belongs to no
        visit, every one of its day."""
        record = records.find(self.touches)
        if record is None or record.kind == "visit":
            return [self.touches]
        if visit_id := record.head.get("visit_id"):
            return [visit_id]
        erased = records.tx.all("SELECT DISTINCT record_id FROM erasure")
        visits = [visit for row in erased if (visit := records.find(row["record_id"])) is not None]
        return [visit.record_id for visit in visits if visit.day_id == record.day_id]

    def knew_of(self, said: FieldValue) -> bool:
        """Whether a value stood when this was made."""
        return self.came_after(said.device_id, said.device_seq, said.made_at)

    def heard_of(self, stop: FieldValue) -> bool:
        """Whether whoever made this could know of a red caution: as far as anybody can tell, if it stood by then."""
        return self.knew_of(stop)

    def is_done_after(self, taken: FieldValue | None) -> bool:
        """Whether it says what hands did to a thing that an authority had taken away by then."""
        return False

    def said_late(self) -> dict[str, Any]:
        """What is noted of it on a stopped item that it was done to, and that takes nothing of its kind."""
        return {"kind": self.kind_name()}

    def came_after(self, device_id: str, device_seq: int, made_at: str, *, believed: bool = True) -> bool:
        """Whether this was made after something else: of what one device made its own order decides, in which it need
        not send, otherwise the two clocks, of which this one's may be `believed` or not."""
        if device_id == self.device_id:
            return device_seq < self.device_seq
        return believed and instant(made_at) <= instant(self.made_at)

    def check_on(self, record: Record, records: Records) -> None:
        """What must hold of the record beside that it is there and not stopped. Raises a Refusal."""

    def apply(self, records: Records, source: Source) -> bool:
        """Do it. True if it ended as a disagreement.

        It never refuses and runs on any log ever written: what it needs and does not find, it goes on without.
        """
        record = records.find(self.touches)
        if record is None:
            return False
        kind = self.kind_obeyed(record, records)
        handled = list(self.handles(record, records))
        came_late = [(one, self.said_late()) for one in handled if is_stopped_for(one, kind, records)]
        if not came_late and self.is_done_after(taken_away_on(record, records)):
            came_late = [(record, {**self.said_late(), "taken_away": True})]
        disagreement = self.apply_to(record, records, source)
        for one, said in came_late:  # either clock may be wrong, so that the closing names it
            one.put(f"heard-late/{source.operation_id}", said, source)
        return disagreement

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        """Do it to the record. True if it ended as a disagreement."""
        raise NotImplementedError

    def contest(self, records: Records, source: Source) -> bool:
        """What it leaves on record although it was refused, since a person has to settle it. False if nothing."""
        return False

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Whether a value may come into force in a field of this kind's. Raises a Refusal.

        `by` is the operation that brings it: one of this kind, or a settlement. What it knew of counts.
        """

    @classmethod
    def check_settled(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Whether a value that is settled on may come into force: as if the kind said it now. Raises a Refusal."""
        cls.check_value(record, name, value, records, by)

    @classmethod
    def holds(cls, record: Record, name: str, value: Any) -> bool:
        """Whether a value that is settled on is in force already, so that nothing is put."""
        current = record.fields.get(name)
        return current is not None and current.value == value

    @classmethod
    def put_value(cls, record: Record, name: str, value: Any, records: Records, source: Source) -> None:
        """Put a value in force in a field of this kind's."""
        record.put(name, value, source)


class HandsOn(Operation):
    """An operation by which somebody says what their hands have done: where a thing is now, and under which number.

    It is no plan that an office could forbid: refusing it would leave the ledger wrong of what nobody may touch.
    So it says in `heard_stops` of which red cautions its device had heard, each by the operation that raised it, and of
    which decisions that an authority took something away. One that is not among them keeps nothing from being on
    record, whatever the clocks say; one that is among them does.
    Null from a device that keeps no copy of the day, and from apps of before: then the clocks tell.
    """

    heard_stops: Annotated[list[Identifier], Field(max_length=1000)] | None = None

    #: Whether it says where a thing is: with the house, so that nobody can have done it to what an authority has.
    is_of_place: ClassVar[bool] = False

    def is_done_after(self, taken: FieldValue | None) -> bool:
        return self.is_of_place and taken is not None and self.knew_of(taken)

    def heard_of(self, stop: FieldValue) -> bool:
        """Of what its own device raised the order there decides."""
        if self.heard_stops is None or stop.device_id == self.device_id:
            return self.knew_of(stop)
        return stop.operation_id in self.heard_stops

    def said_late(self) -> dict[str, Any]:
        """What it was done to, and what was done, as far as it says."""
        said = {name: self.__dict__.get(name) for name in SAID_LATE}
        return {
            "kind": self.kind_name(),
            "of": self.touches,
            **{name: value for name, value in said.items() if value},
        }


#: The members of such an operation that tell where something went, or what was done to its number or its seal.
SAID_LATE = ("to_place", "container_id", "tag", "why", "seal", "state")


class Opening(Operation):
    """An operation that opens a record."""

    #: The members that the record keeps for good.
    head_members: ClassVar[tuple[str, ...]] = ()

    def check(self, records: Records) -> None:
        """Raises AlreadyThere if the id is in use, and what `check_opening` raises."""
        self.check_opening(records)
        if records.find(self.touches) is not None:
            raise AlreadyThere(self.record_kinds[0], self.touches)

    def check_opening(self, records: Records) -> None:
        """What must hold beside that the id is free. Raises a Refusal."""

    def apply(self, records: Records, source: Source) -> bool:
        if records.find(self.touches) is None:
            day_id = str(self.__dict__["day_id"])
            head = self.members(*self.head_members)
            record = records.open(self.touches, self.record_kinds[0], day_id, head, source)
            self.apply_to(record, records, source)
        return False

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        """The fields that it has from the start."""
        return False


def is_stopped_for(thing: Record, kind: str, records: Records) -> bool:
    """Whether any record of the thing takes nothing of this kind, whoever knew of it."""
    for one in records.same_thing(thing):  # a loop and no any(): it is asked for every operation
        stops = one.derived("stops")
        if stops and stops.against(kind, lambda _: True):
            return True
    return False


def taken_away_on(thing: Record, records: Records) -> FieldValue | None:
    """The decision by which an authority took a thing away, on whichever record of it; None if none did."""
    stops = (raised for one in records.same_thing(thing) for raised in one.derived("stops") or ())
    return next((raised.taken for raised in stops if raised.taken), None)


def names_of(template: str) -> list[str]:
    """The forms that a field's name can take: with what stands in [ ], and without it."""
    return list(dict.fromkeys([re.sub(r"[\[\]]", "", template), re.sub(r"\[.*?\]", "", template)]))


def instant(at: str) -> str:
    """An instant as a text that sorts in its order, with a fraction of a second or without."""
    return at.rstrip("Z")


def put_right(at: str, clock_off_s: int) -> str:
    """An instant by a clock that was so many seconds ahead, as the office's would have it; one that is on no calendar
    stays as it is."""
    try:
        moment = datetime.fromisoformat(at) - timedelta(seconds=clock_off_s)
    except (ValueError, OverflowError):
        return at
    return moment.isoformat(timespec="milliseconds").replace("+00:00", "Z")


def by_office_clock(at: str, clock_off_s: int) -> str:
    """An instant as the office has it: put right if its device's clock is off by more than a clock may be."""
    return put_right(at, clock_off_s) if abs(clock_off_s) > CLOCK_OFF_S else at


def earlier(one: str, other: str) -> str:
    """The earlier of two instants."""
    return min(one, other, key=instant)
