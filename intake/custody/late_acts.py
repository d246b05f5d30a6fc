"""What was done to a stopped thing by hands that had not heard of the stop: kept, since it happened, and named until
somebody has looked. In the app: `web/job/late_acts.ts`; `fixtures/closing.json` holds both to the same words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Any, Literal

from pydantic import Field

from intake.arrival.items import ItemEdit
from intake.custody.day_on_record import listed
from intake.custody.whereabouts import Things, thing_name, to_words
from intake.errors import NotFound
from intake.operation import Identifier, Operation
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.values import FieldValue
from intake.tagging.tags import shown

#: What was seen of a seal, or done to it, of the container that it is on.
OF_SEAL = {
    "sealed": "was sealed",
    "intact": "was found sealed",
    "differs": "was found with another seal",
    "broken": "was found with a broken seal",
    "opened": "was opened",
}


class SettleLateAct(ItemEdit):
    """Somebody has looked at what was done to a stopped thing before its doer had heard of the stop, and says what is
    so now. `late_id` is the operation that did it."""

    roles = frozenset({"table", "desk"})
    field_name = "late-ends/{late_id}"

    kind: Literal["settle_late_act"]
    late_id: Identifier
    words: Annotated[str, Field(max_length=8000, pattern=r"\S")]

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Raises NotFound if nothing of that was heard late."""
        late_id = name.removeprefix("late-ends/")
        if f"heard-late/{late_id}" not in record.fields:
            raise NotFound("act that was heard late", late_id)


def late_acts(item: Record) -> Iterator[tuple[str, FieldValue]]:
    """What of it nobody has settled, each by its operation's id, in the order of the ids, which go by the clock."""
    for late_id, late in sorted(listed(item, "heard-late/")):
        if f"late-ends/{late_id}" not in item.fields:
            yield late_id, late


def late_words(item: Record, late: FieldValue, *, day: Record, things: Things, clock: str) -> str:
    """What was done, by whom and when, which `clock` says. What a version of before kept says its kind alone."""
    said = late.value
    of = things.get(said.get("of") or item.record_id, item)
    name = "it" if of is item else f"{thing_name(of)}, which it lay in or beside,"
    person = day.value(f"people/{late.made_by}")
    by = f" by {person['name']}" if person else ""
    done = done_words(name, said, things)
    unheard = "that it was taken away" if said.get("taken_away") else "of the stop"
    return f"{done}{by} at {clock}, before that device had heard {unheard}"


def done_words(name: str, said: Mapping[str, Any], things: Things) -> str:
    match said.get("kind"):
        case "record_move" if "to_place" in said:
            place = said["to_place"]
            where = "given back to its owner" if place == "returned" else f"moved {to_words(place, '')}"
            return f"{name} was {where}"
        case "put_inside" if "of" in said:
            into = things.get(said.get("container_id", ""))
            return f"{name} was put into {thing_name(into)}" if into else f"{name} was taken out"
        case "seal_container" if "state" in said:
            return f"{name} {OF_SEAL[said['state']]}"
        case "tie_tag" if "tag" in said:
            return f"tag {shown(said['tag'])} was tied to {name}"
        case "remove_tag" if "tag" in said:
            return f"tag {shown(said['tag'])} was taken off {name}"
        case "check_in" if "state" in said:
            return f"{name} was checked in"
    return f"something was done to {name}"
