"""Runs of ticket numbers: each door calls its own, so that two doors with no network never give one number twice.

A device without a run goes on with letters of its own, which the office gave it when it was paired. What comes up twice
all the same, such as a number typed by hand, is taken as it is and named by the app, since both owners hold the ticket.
"""

from __future__ import annotations

import json
import re
from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from intake.arrival.days import OfDay
from intake.database import Reading
from intake.edits import Edit
from intake.errors import TicketsGiven, TicketsOverlap
from intake.operation import Identifier, Line, Operation
from intake.reading import days_before
from intake.records.in_hand import Records
from intake.records.record import Record

#: A number with its letter has at most four signs, so that it can be called out in a hall and read on a slip.
HIGHEST = 999
TicketNumber = Annotated[int, Field(ge=1, le=HIGHEST)]
RUNS = "ticket-runs/"


def shown(number: int) -> str:
    """A number of a run as it stands on the ticket: Q and at least two figures."""
    return f"Q{number:02}"


class GiveTickets(OfDay, Edit):
    """The manager gives a device a run of ticket numbers, or changes one.

    Once a device has it, it is that device's for good, and can only end later: what it gave with no network is known to
    nobody else, and handed on it would be given twice. One that nobody has can be changed as one likes.

    Units: `first` and `last` are the numbers behind the Q, both in the run. `given_to` is the device's name for people;
    the device itself goes by `for_device_id`, which is null for a run that nobody has.
    """

    roles = frozenset()
    field_name = "ticket-runs/{run_id}"
    replaceable = True

    kind: Literal["give_tickets"]
    run_id: Identifier
    first: TicketNumber
    last: TicketNumber
    given_to: Line
    for_device_id: Annotated[str, Field(max_length=80)] | None

    @model_validator(mode="after")
    def check_run(self) -> GiveTickets:
        """A run ends where it begins, or later."""
        if self.last < self.first:
            raise ValueError(f"a run from {shown(self.first)} on does not end at {shown(self.last)}")
        return self

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Raises TicketsGiven if a device has the run and would lose some of it, TicketsOverlap if another run of the
        day has one of the numbers."""
        stands = record.value(name)
        if stands is not None and takes_from_its_device(stands, value):
            raise TicketsGiven(shown(stands["first"]), shown(stands["last"]), stands["given_to"])
        for other_name, other in record.values(RUNS).items():
            if other_name != name and value["first"] <= other["last"] and other["first"] <= value["last"]:
                stays = other["for_device_id"] is not None
                raise TicketsOverlap(
                    shown(value["first"]), shown(value["last"]), other["given_to"], stays=stays
                )


def takes_from_its_device(run: dict[str, Any], to: dict[str, Any]) -> bool:
    """Whether a run that a device has would be another's, or would lose some of its tickets."""
    holder = run["for_device_id"]
    stays = to["for_device_id"] == holder and to["first"] == run["first"] and to["last"] >= run["last"]
    return holder is not None and not stays


def tickets_left(tx: Reading, day_id: str) -> dict[str, Any]:
    """`runs` are those of the day before that have a device, from behind the last ticket that was given of each:
    whoever goes on with them gives no ticket of yesterday again. `last` is the highest number of any run of the days
    before."""
    runs: list[dict[str, Any]] = []
    last = 0
    for before_id, date in days_before(tx, day_id):
        given = runs_of(tx, before_id)
        last = max([last, *(run["last"] for run in given)])
        if given and not runs:
            used = numbers_given(tx, before_id)
            runs = [
                {**run, "held_on": date, "first": first_left(run, used)}
                for run in given
                if run["for_device_id"]
            ]
    return {"runs": [run for run in runs if run["first"] <= run["last"]], "last": last}


def runs_of(tx: Reading, day_id: str) -> list[dict[str, Any]]:
    rows = tx.all(
        """
        SELECT value FROM field WHERE record_id = :day_id AND name >= 'ticket-runs/' AND name < 'ticket-runs0'
        ORDER BY value ->> 'first'
        """,
        day_id=day_id,
    )
    return [json.loads(row["value"]) for row in rows]


def numbers_given(tx: Reading, day_id: str) -> set[int]:
    """The numbers behind the Q that owners of a day have."""
    rows = tx.all(
        """
        SELECT value ->> '$' AS ticket FROM field JOIN record USING (record_id)
        WHERE record.day_id = :day_id AND record.kind = 'visit' AND name = 'ticket'
        """,
        day_id=day_id,
    )
    found = (re.fullmatch(r"Q(\d{1,3})", as_one_ticket(row["ticket"] or "")) for row in rows)
    return {int(match[1]) for match in found if match}


def as_one_ticket(ticket: str) -> str:
    """A ticket as it is compared: however it was typed."""
    return "".join(ticket.split()).upper()


def first_left(run: dict[str, Any], used: set[int]) -> int:
    """A run is gone through from its first on: what is left of it is behind the last that was given (`ticketRuns`)."""
    first, last = int(run["first"]), int(run["last"])
    return max([first, *(number + 1 for number in used if first <= number <= last)])
