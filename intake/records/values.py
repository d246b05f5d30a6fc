"""The values of a record's fields, where each comes from, and two of them side by side until a person settles it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Any, NamedTuple

from pydantic_core import to_json

NOBODY: Mapping[str, str] = MappingProxyType({})


class Source(NamedTuple):
    """Where a value comes from: which operation, made by whom, when, on which device, there in which place; its place
    in the log. `made_at` is UTC by the device's clock, put right where the office saw that it was off.

    `words_gone`: its personal words had been erased before the office heard of it. `goes_on_from`: the disagreement in
    which its maker said what it was changed from; empty if in none. The log's answer says so, and a rebuild goes by it.
    """

    operation_id: str
    made_by: str
    made_at: str
    device_id: str
    device_seq: int
    office_seq: int
    words_gone: bool = False
    goes_on_from: str = ""


def compact(value: Any) -> str:
    """JSON as we store it: keys in the order given, no spaces, letters as they are."""
    return to_json(value).decode()


in_ascii = json.JSONEncoder().encode


@lru_cache(maxsize=1000)
def quoted(name: str) -> str:
    """The same of a name that is written again and again, such as a device's or a person's."""
    return compact(name)


def member(name: str) -> str:
    """A field's name as it stands before its value. Most have an id in them and come once."""
    return f"{in_ascii(name)}:"


class FieldValue(NamedTuple):
    """The value in force of one field, and where it comes from. `text` is the value as JSON.

    `agreed`: the last operation of each device that said the same since, by the device. Whoever made it was looking at
    this value.
    """

    value: Any
    operation_id: str
    made_by: str
    made_at: str
    device_id: str
    device_seq: int
    text: str
    agreed: Mapping[str, str] = NOBODY

    @classmethod
    def of(cls, value: Any, source: Source) -> FieldValue:
        made = source.operation_id, source.made_by, source.made_at, source.device_id, source.device_seq
        return cls(value, *made, compact(value))

    def was_seen(self, seen: str | None) -> bool:
        """Whether an editor who saw what this operation said saw this value."""
        return seen is not None and (seen == self.operation_id or seen in self.agreed.values())

    def with_source(self, value: Any) -> dict[str, Any]:
        """A value with the source of this one, as disagreements carry it."""
        return {
            "value": value,
            "operation_id": self.operation_id,
            "made_by": self.made_by,
            "made_at": self.made_at,
            "device_id": self.device_id,
            "device_seq": self.device_seq,
        }

    def body(self) -> str:
        return (
            f'{{"value":{self.text},"operation_id":"{self.operation_id}","made_by":{quoted(self.made_by)},'
            f'"made_at":"{self.made_at}","device_id":{quoted(self.device_id)},"device_seq":{self.device_seq}'
            + (f',"agreed":{compact(dict(self.agreed))}}}' if self.agreed else "}")
        )


@dataclass
class Disagreement:
    """Two values of one field, each with its source, as JSON; `settled` says who chose what, null while open."""

    disagreement_id: str
    name: str
    office_seq: int
    kept: str
    other: str
    settled: str | None

    @property
    def kept_by(self) -> str:
        """The operation that said what was in force then; the one beside it is the disagreement's own id."""
        return str(json.loads(self.kept)["operation_id"])

    def value_of(self, side: str) -> Any:
        """What one side said: `kept` is the value that was in force then, `other` the one beside it."""
        return json.loads(self.kept if side == "kept" else self.other)["value"]

    @property
    def source(self) -> Source:
        """Where the value beside the one in force comes from."""
        other = json.loads(self.other)
        del other["value"]
        return Source(**other, office_seq=self.office_seq)

    @property
    def settled_on(self) -> str | None:
        """The operation that said what was settled on; None while it is open, or if that is neither of the two."""
        choose = None if self.settled is None else json.loads(self.settled)["choose"]
        return {"kept": self.kept_by, "other": self.disagreement_id}.get(choose or "")

    @property
    def settled_by(self) -> str | None:
        """The operation that settled it; None while it is open."""
        return None if self.settled is None else str(json.loads(self.settled)["operation_id"])

    def body(self) -> str:
        return (
            f'{{"disagreement_id":"{self.disagreement_id}","field":{json.dumps(self.name)},'
            f'"kept":{self.kept},"other":{self.other},"settled":{self.settled or "null"}}}'
        )
