"""Who may say what: a person is on the day's list, under a hat that fits.

What the hats are called is the house's; those that are known here say at which devices they work. A word that is not
known here holds nobody up, and neither does a person without one.
"""

from __future__ import annotations

import json
from operator import itemgetter
from typing import Any

from intake.database import Reading, any_of
from intake.errors import HatDoesNotFit, PersonNotOnDay
from intake.families import OFFICE_ROLES
from intake.operation import Opening, Operation
from intake.records import Records

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
    hat, what comes from the manager's own device. Raises PersonNotOnDay or HatDoesNotFit.
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
    hats = person["roles"]
    if role != "manager" and hats and not any(fits(hat, operation) for hat in hats):
        raise HatDoesNotFit(person["name"], " and ".join(hats), operation.in_words())


def person_of_these_days(records: Records, person_id: str) -> Any:
    """A person as the list of the latest day has them, those lists among them that this batch has changed or made."""
    in_hand = [day for one in records.unwritten() if (day := records.find(one)) and day.kind == "day"]
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
    """Who may sit at a device of this role, by the lists of all days: each name once, as the latest list has it."""
    people: dict[str, dict[str, str]] = {}
    for row in tx.all(
        """
        SELECT value FROM record JOIN field USING (record_id)
        WHERE record.kind = 'day' AND name >= 'people/' AND name < 'people0' ORDER BY record.opened_seq DESC, name
        """
    ):
        person = json.loads(row["value"])
        hats = [HATS[hat] for hat in person["roles"] or [] if hat in HATS]
        if not hats or role in frozenset().union(*hats):
            people.setdefault(person["name"], {"person_id": person["person_id"], "name": person["name"]})
    return sorted(people.values(), key=lambda person: person["name"])


def day_of(records: Records, operation: Operation) -> str | None:
    """The day of the record that an operation is of, or opens."""
    if isinstance(operation, Opening):
        return str(operation.members("day_id")["day_id"])
    record = records.find(operation.touches)
    return None if record is None else record.day_id


def fits(hat: str, operation: Operation) -> bool:
    """Whether this hat works at a device that makes such operations."""
    devices = HATS.get(hat)
    return devices is None or not devices.isdisjoint(operation.roles)
