"""A field set by two people: replaced, or a disagreement that a person settles.

If the value in force is the one the editor saw, or had said as well, it is replaced. If not, and the values differ, the
value in force stays, both are kept, and a person settles it. A later word of whoever said the other goes on from it, in
its place while that is open, and in place of what was settled on. Fields never clash with each other.
"""

from __future__ import annotations

import re
from typing import Any, ClassVar

from pydantic import ValidationError

from intake.errors import Unreadable
from intake.once import worked_out_once
from intake.operation import HandsOn, Identifier, Operation, names_of
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.values import Disagreement, FieldValue, Source
from intake.wire import first_fault

#: Why a value is otherwise than it was said stands in the log and its history, and is no part of the value.
CORRECTION = "correction"
ENVELOPE = (*HandsOn.model_fields, "kind", "seen", "salt", CORRECTION)


class Edit(Operation):
    """An operation that sets one field. `seen` is the operation whose value the editor was looking at.

    A plain edit is its model and `field_name`. One whose values have a rule of their own has a `check_value`, which
    holds for a value that is settled on, too.
    """

    #: The members that make the field's value; by default all that are neither envelope nor in the field's name.
    value_members: ClassVar[tuple[str, ...]] = ()
    #: Those that stand in the value only if something was said with them: a kind got them later, and the records of
    #: before stay what they were.
    if_said: ClassVar[tuple[str, ...]] = ()
    #: The one member that is the whole value, in place of an object with members.
    whole_value: ClassVar[str | None] = None

    _full_name: ClassVar[str]
    _short_name: ClassVar[str]
    _optional: ClassVar[str]  # the member without which the name is the short one; "" if there is none

    seen: Identifier | None

    @classmethod
    def __pydantic_init_subclass__(cls, **more: Any) -> None:
        super().__pydantic_init_subclass__(**more)
        if cls.whole_value is None and "value_members" not in cls.__dict__:
            taken = {*ENVELOPE, getattr(cls, "record_member", ""), *re.findall(r"{(\w+)}", cls.field_name)}
            cls.value_members = tuple(name for name in cls.model_fields if name not in taken)
        cls._full_name, cls._short_name = (names_of(cls.field_name) * 2)[:2]
        optional = re.search(r"\[.*?{(\w+)}.*?\]", cls.field_name)
        cls._optional = optional[1] if optional else ""

    @worked_out_once
    def edited(self) -> tuple[str, Any]:
        """The field's name, and the value that it is to get. Check and apply ask for it in turn."""
        without = self._optional and self.__dict__[self._optional] is None
        name = (self._short_name if without else self._full_name).format_map(self.__dict__)
        if self.whole_value is not None:
            return name, self.__dict__[self.whole_value]
        value = self.value_said()
        for member in self.if_said:
            if not value[member]:
                del value[member]
        return name, value

    def value_said(self) -> dict[str, Any]:
        """The members that make the value, as they stand in it."""
        return self.members(*self.value_members)

    @property
    def says(self) -> tuple[str, Any]:
        return self.edited

    def check_on(self, record: Record, records: Records) -> None:
        self.check_value(record, *self.edited, records, self)

    def goes_on_from(self, record: Record, records: Records) -> Disagreement | None:
        return gone_on_from(record, *self.edited, self.seen, records)

    def replaces(self, record: Record, records: Records) -> bool:
        """Whether its value comes into force, and stands beside no other."""
        current = record.fields.get(self.edited[0])
        between = self.goes_on_from(record, records)
        return current is None or current.was_seen(self.seen) or bool(between and between.settled)

    @classmethod
    def check_settled(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """The whole check of the kind: what its model takes, and what must hold of the record and of what lies in it.

        Raises Unreadable for a value that the model no longer takes, and what `check` raises.
        """
        current = record.fields.get(name)
        said = {
            **by.members(*Operation.model_fields),
            "kind": cls.kind_name(),
            cls.record_member: record.record_id,
            "seen": current and current.operation_id,
            **({"salt": "0" * 32} if "salt" in cls.model_fields else {}),
            **cls.named_in(name),
            **cls.members_of(value),
        }
        try:
            cls.model_validate(said)
        except ValidationError as error:
            raise Unreadable(first_fault(error)) from error
        cls.from_log(said).check(records)

    @classmethod
    def named_in(cls, name: str) -> dict[str, str]:
        """The members that stand in the name of a field of this kind's."""
        for template in names_of(cls.field_name):
            members = re.fullmatch(re.sub(r"{(\w+)}", r"(?P<\1>.+)", template), name)
            if members:
                return members.groupdict()
        return {}

    @classmethod
    def members_of(cls, value: Any) -> dict[str, Any]:
        """The members that made a field's value; those that a later version no longer has are left out."""
        if cls.whole_value is not None:
            return {cls.whole_value: value}
        return {name: value[name] for name in cls.value_members if name in value}

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        """Set the field, or keep the value beside the one that stands. Words that were erased before they came do
        neither."""
        if source.words_gone:
            return False
        name, value = self.edited
        if not comes_into_force(record, name, self.seen, source):
            return say_beside(record, name, value, source)
        self.put_value(record, name, value, records, source)
        return False


def with_what_it_chose(operation_id: str | None, records: Records) -> list[str]:
    """An operation, and if that is a settlement also the one whose value it chose: they said the same."""
    found = []
    while operation_id is not None and operation_id not in found:
        found.append(operation_id)
        operation = records.logged(operation_id)
        operation_id = None if operation is None else operation.chosen_id
    return found


def gone_on_from(
    record: Record, name: str, value: Any, seen: str | None, records: Records
) -> Disagreement | None:
    """The disagreement in which its maker said what this was changed from: an open one, or one that was settled on that
    value, which is in force since. None if there is none."""
    current = record.fields.get(name)
    if current is None or seen is None or current.was_seen(seen):
        return None
    for between in record.disagreements.values():
        if between.name == name and was_said_by(between, seen, current, records):
            return None if between.settled and current.value == value else between
    return None


def was_said_by(between: Disagreement, seen: str, current: FieldValue, records: Records) -> bool:
    """Whether this operation said the value that stands beside the one in force, or the one that was settled on and
    that is in force since; or chose it where that stood otherwise."""
    if between.settled is None:
        return between.disagreement_id in with_what_it_chose(seen, records)
    if between.settled_by != current.operation_id:
        return False
    return seen in (between.settled_on, *with_what_it_chose(current.operation_id, records))


def comes_into_force(record: Record, name: str, seen: str | None, source: Source) -> bool:
    """Whether what is said of a field takes the place of what stands: its maker had seen that, or goes on from what was
    settled on."""
    current = record.fields.get(name)
    goes_on = record.disagreements.get(source.goes_on_from)
    return current is None or current.was_seen(seen) or bool(goes_on and goes_on.settled)


def say_beside(record: Record, name: str, value: Any, source: Source) -> bool:
    """Keep a value beside the one in force; whether they disagree. Whoever said what stood beside it until now has said
    this in its place. Of two who say the same the first stands."""
    if source.goes_on_from in record.disagreements:
        record.drop_disagreement(source.goes_on_from)
    current = record.fields[name]
    if current.value == value:
        record.agree(name, source)
        return False
    record.disagree(name, kept=current.with_source(current.value), other=value, source=source)
    return True
