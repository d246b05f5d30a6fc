"""Who may say what: a person is on the day's list, under a hat that fits.

What the hats are called is the house's; those that are known here say at which devices they work. A word that is not
known here holds nobody up, and neither does a person without one.
"""

from __future__ import annotations

from intake.errors import HatDoesNotFit, PersonNotOnDay
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

    An empty `made_by` is taken: a desk does not ask who sits at it. So is what sets up the list itself, and, whatever
    the hat, what comes from the manager's own device. Raises PersonNotOnDay or HatDoesNotFit.
    """
    if not operation.made_by or operation.lists_people:
        return
    day_id = day_of(records, operation)
    if day_id is None:
        return  # there is no such record: the operation itself says so
    person = records.look_up(day_id, f"people/{operation.made_by}")
    if person is None:
        if records.find(day_id) is None:
            return  # neither is there a day
        raise PersonNotOnDay()
    hats = person["roles"]
    if role != "manager" and hats and not any(fits(hat, operation) for hat in hats):
        raise HatDoesNotFit(person["name"], " and ".join(hats), operation.in_words())


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
