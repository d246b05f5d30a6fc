"""Who may say what: a person is on the day's list, under a hat that fits.

What the hats are called is the house's; those that are known here say at which devices they work. A word that is not
known here holds nobody up, and neither does a person without one.
"""

from __future__ import annotations

import json
import unicodedata
from functools import lru_cache
from operator import itemgetter
from typing import Any

from intake.database import Reading, any_of
from intake.errors import HatDoesNotFit, PersonNotOnDay
from intake.families import OFFICE_ROLES
from intake.operation import Opening, Operation, instant
from intake.records.in_hand import Records

# The roles of device that a hat works at. Source: who does what on a valuation day, common practice.
HATS: dict[str, frozenset[str]] = {
    "valuer": frozenset({"door", "table", "desk"}),
    "clerk": frozenset({"door", "table", "desk"}),
    "door": frozenset({"door"}),
    "porter": frozenset({"porter"}),
    "cataloguer": frozenset({"desk"}),
    "manager": frozenset({"door", "table", "porter", "desk", "manager"}),
}


def check_person(records: Records, operation: Operation, role: str) -> None:
    """Whether whoever made it is on the list of the record's day, and may make it.

    At a desk, weeks after the day, whoever is on any day's list may work on what came on another. An empty `made_by` is
    taken, since devices of before did not ask who sat at them. So is what sets up the list itself, and, whatever the
    hat, what comes from the manager's own device. A hat counts that the person has today or had when it was made: it
    says what somebody is asked to do and guards nothing, since whoever holds a device chooses the name.
    Raises PersonNotOnDay or HatDoesNotFit.
    """
    if not operation.made_by or operation.lists_people:
        return
    day_id = day_of(records, operation)
    if day_id is None:
        return  # there is no such record: the operation itself says so
    person = records.look_up(day_id, f"people/{operation.made_by}")
    if person is None and role in OFFICE_ROLES:
        person = person_of_these_days(records, operation.made_by)
    if person is None:
        if records.find(day_id) is None:
            return  # neither is there a day
        raise PersonNotOnDay()
    if role == "manager" or may_make(person, operation):
        return
    if not may_make(person_then(records.tx, day_id, operation), operation):
        raise HatDoesNotFit(person["name"], " and ".join(person["roles"]), operation.in_words())


def may_make(person: Any, operation: Operation) -> bool:
    """Whether a person, as a list has them, may make this; nobody may who was on none."""
    if person is None:
        return False
    hats = person["roles"]
    return not hats or any_fits(tuple(hats), operation.roles)


def person_then(tx: Reading, day_id: str, operation: Operation) -> Any:
    """Whoever made an operation, as the day's list had them when it was made, by the clocks as they were put right: a
    hat that changes in the afternoon is no reason to refuse the morning's work. None if they were not on it yet."""
    found: tuple[str, Any] = ("", None)
    for row in tx.all(
        """
        SELECT operation, answer FROM operation_log
        WHERE record_id = :day_id AND operation ->> 'kind' IN ('open_day', 'add_person') ORDER BY office_seq
        """,
        day_id=day_id,
    ):
        logged, answer = json.loads(row["operation"]), json.loads(row["answer"])
        if answer["outcome"] != "kept" or answer["disagreement"]:
            continue
        said_at = instant({**logged, **answer.get("ruled", {})}["made_at"])
        if not found[0] <= said_at <= instant(operation.made_at):
            continue
        for person in logged.get("people") or [logged.get("person")]:
            if person and person["person_id"] == operation.made_by:
                found = said_at, person
    return found[1]


def person_of_these_days(records: Records, person_id: str) -> Any:
    """A person as the list of the latest day has them, those lists among them that this batch has changed or made."""
    in_hand = [
        day for record_id in records.unwritten() if (day := records.find(record_id)) and day.kind == "day"
    ]
    name = f"people/{person_id}"
    found = [(day.opened_seq, day.value(name)) for day in in_hand if name in day.fields]
    row = records.tx.one(
        f"""
        SELECT opened_seq, value FROM record JOIN field USING (record_id)
        WHERE record.kind = 'day' AND name = :name AND record_id NOT IN {any_of("in_hand")}
        ORDER BY opened_seq DESC LIMIT 1
        """,
        name=name,
        in_hand=json.dumps([day.record_id for day in in_hand]),
    )
    if row is not None:
        found.append((row["opened_seq"], json.loads(row["value"])))
    return max(found, key=itemgetter(0))[1] if found else None


def person_of_any_day(tx: Reading, person_id: str, first: str = "") -> Any:
    """A person as the list of a day has them: of the `first` if it does, else of the latest; None if none has them."""
    text = tx.value(
        """
        SELECT value FROM record JOIN field USING (record_id) WHERE record.kind = 'day' AND name = :name
        ORDER BY record_id = :first DESC, record.opened_seq DESC LIMIT 1
        """,
        name=f"people/{person_id}",
        first=first,
    )
    return text and json.loads(text)


def people_of_days(tx: Reading, role: str) -> list[dict[str, str]]:
    """Who may sit at a device of this role, by the lists of all days: each name as the latest list with it has it, two
    people of one name on that list both, and nobody who has left or has no name. At a manager's anybody may: what comes
    from there is taken whatever their hat, as its other screens offer them all."""
    people: dict[str, tuple[str, list[dict[str, str]]]] = {}
    for row in tx.all(
        """
        SELECT record_id, value FROM record JOIN field USING (record_id)
        WHERE record.kind = 'day' AND name >= 'people/' AND name < 'people0' ORDER BY record.opened_seq DESC, name
        """
    ):
        person = json.loads(row["value"])
        name = as_one_name(person["name"])
        latest, found = people.setdefault(name, (row["record_id"], []))
        hats = [HATS[hat] for hat in person["roles"] or [] if hat in HATS]
        works_here = role == "manager" or not hats or role in frozenset().union(*hats)
        if name and latest == row["record_id"] and works_here and not person.get("left"):
            found.append({"person_id": person["person_id"], "name": person["name"]})
    return sorted(
        (entry for _, found in people.values() for entry in found), key=lambda person: person["name"]
    )


def as_one_name(name: str) -> str:
    """A name by which a person is known again, however it was typed: spaces, capitals, and letters with their accents
    in one sign or in two."""
    return unicodedata.normalize("NFC", " ".join(unicodedata.normalize("NFC", name).split()).casefold())


def day_of(records: Records, operation: Operation) -> str | None:
    """The day of the record that an operation is of, or opens."""
    if isinstance(operation, Opening):
        return str(operation.members("day_id")["day_id"])
    record = records.find(operation.touches)
    return None if record is None else record.day_id


@lru_cache(maxsize=1000)  # it is asked for every operation, and a house has few hats
def any_fits(hats: tuple[str, ...], roles: frozenset[str]) -> bool:
    """Whether any of these hats works at a device of these roles."""
    return any(hat not in HATS or not HATS[hat].isdisjoint(roles) for hat in hats)
