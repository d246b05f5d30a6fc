"""Labels over HTTP: what sheets there are, labels as a PDF, and a page to calibrate a printer with."""

from __future__ import annotations

import asyncio
import json
from datetime import datetime
from itertools import islice
from typing import Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from intake.address import reach_warning, stays_here
from intake.arrival.tickets import tickets_left
from intake.custody.contents import day_told
from intake.database import Reading
from intake.errors import NotFound, NumbersOfAnother, Unreadable
from intake.office import Office
from intake.reading import Stored, held_on, is_closed, is_over, reads_record, stored
from intake.tagging.labels import KINDS, calibration_pdf, label_pdf, labels_of, sheet_named, sheets
from intake.tagging.numbers import next_free, own_serials
from intake.tagging.rolls import LONGEST_ROLL, PRINTS, left_before
from intake.tagging.tags import TagError, codes, parse_tag, serial_of, shown
from intake.wire import first_fault, reply

TRIAL = "for trying out only"  # on every label whose code leads nowhere that a phone can go
PRINTERS = ("manager", "desk", "porter", "table", "door")


class LabelsAsked(BaseModel):
    """Which labels: so many numbers from `first` on, on a sheet, from a position of a half-used one.

    With `print_id` they are those of the labels that the day `day_id` has on record under it, and of their kind.
    `pieces` gives each thing so many numbers, one a piece, and `piece` is the first label's; `part` is what the number
    of one label is on, in words; `dots_per_inch` is the printer's.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    sheet: str
    kind: str = "tag"
    first: str = ""
    count: int = Field(default=1, ge=1, le=LONGEST_ROLL)
    day_id: str = ""
    print_id: str = ""
    pieces: int = Field(default=1, ge=1, le=99)
    piece: int = Field(default=1, ge=1, le=99)
    start: int = Field(default=1, ge=1, le=1000)
    dots_per_inch: int = Field(default=300, ge=150, le=1200)
    caution: str = Field(default="", max_length=40)
    part: str = Field(default="", max_length=400)


async def get_thing(request: Request) -> Response:
    """GET /tags/{tag}: the item or container that has a number, of those that the device reads.

    Of what it does not read, since that is of another day, it hears the date, whether that day is closed, what the
    thing is called and the ticket it came with: whoever has it in hand, or its owner before them, has to know whom to
    ask. A porter hears which day it is while its van is awaited; a manager, to go back and give the thing back, as
    long as
    that day is worked on.
    """
    office: Office = request.state.office
    asker, tag, now = await office.asker(request), request.path_params["tag"], office.now()

    def job(tx: Reading) -> dict[str, Any]:
        thing_id = tx.value("SELECT item_id FROM tag WHERE tag = :tag", tag=tag)
        thing = stored(tx, thing_id) if thing_id else None
        if thing is None:
            raise NotFound("tag", tag)
        if reads_record(tx, asker, thing, now):
            found = {"kind": thing.kind, "record_id": thing.record_id}
            is_of_another = asker.role == "manager" and thing.day_id != asker.day_id
            return {**found, **named(tx, thing), **gone_back_to(tx, thing, now)} if is_of_another else found
        of_day = day_told(tx, asker, thing.day_id, now)
        return {"kind": "of another day", "record_id": "", **of_day, **named(tx, thing)}

    return reply(await office.database.read(job))


def named(tx: Reading, thing: Stored) -> dict[str, str]:
    """What a thing is called and the ticket it came with, of what every device of the hall reads of its own day."""
    record = json.loads(thing.body)
    if thing.kind == "container":
        return {"thing": record["kind_of"], "ticket": ""}
    called = record["fields"].get("short_description", {}).get("value") or ""
    ticket = tx.value(
        "SELECT value ->> '$' FROM field WHERE record_id = :visit_id AND name = 'ticket'",
        visit_id=record["visit_id"],
    )
    return {"thing": called, "ticket": ticket or ""}


def gone_back_to(tx: Reading, thing: Stored, now: datetime) -> dict[str, Any]:
    """The day of a thing, for a manager; without the day itself once it was closed too long ago to be worked on."""
    date = tx.value(f"SELECT {held_on('record')} FROM record WHERE record_id = :day_id", day_id=thing.day_id)
    told = {"held_on": date or "", "closed": is_closed(tx, thing.day_id)}
    is_settled = is_over(tx, thing.day_id, now, in_office=True)
    return told if is_settled else {**told, "day_id": thing.day_id}


async def get_sheets(request: Request) -> Response:
    """GET /labels/sheets: the label sheets and rolls that are known, and the office's next free number.

    `address` is what the codes will say; `warning` says why a phone could not open it, empty if nothing is known.
    """
    office: Office = request.state.office
    await office.device(request, *PRINTERS)
    free, own = await office.database.read(lambda tx: (next_free(tx), own_serials(tx)))
    return reply(
        {
            "sheets": [sheet.model_dump() for sheet in sheets(office.settings.plans_folder).values()],
            "kinds": list(KINDS),
            "next_tag": free,
            "serials": {"first": own.start, "last": own.stop - 1},
            "address": office.address(request),
            "warning": label_warning(office.address(request)),
        }
    )


async def get_rolls_left(request: Request) -> Response:
    """GET /rolls/left?day_id=: rolls of the days before this one that have unused numbers, which may go on on it."""
    office: Office = request.state.office
    await office.device(request, "manager")
    day_id = request.query_params.get("day_id", "")
    return reply({"rolls": await office.database.read(lambda tx: left_before(tx, day_id))})


async def get_tickets_left(request: Request) -> Response:
    """GET /tickets/left?day_id=: what is left of the runs of tickets of the day before, which may go on on this one."""
    office: Office = request.state.office
    await office.device(request, "manager")
    day_id = request.query_params.get("day_id", "")
    return reply(await office.database.read(lambda tx: tickets_left(tx, day_id)))


async def get_labels(request: Request) -> Response:
    """GET /labels.pdf: labels to print. The same question gives the same bytes.

    Numbers that another office may give out are refused: two things would carry the same one.
    """
    office: Office = request.state.office
    await office.device(request, *PRINTERS)
    try:
        asked = LabelsAsked.model_validate(dict(request.query_params))
    except ValidationError as error:
        raise Unreadable(first_fault(error)) from error
    if asked.kind not in KINDS:
        raise Unreadable(f"A label is for one of: {', '.join(KINDS)}.")
    kind, tags = await office.database.read(lambda tx: labels_asked(tx, asked))
    address = office.address(request)
    labels = list(
        labels_of(
            iter(tags),
            kind=kind,
            pieces=asked.pieces,
            piece=asked.piece,
            caution=asked.caution,
            part=asked.part,
            note=TRIAL if stays_here(address) else "",
        )
    )
    content = await asyncio.to_thread(
        label_pdf,
        labels,
        sheet_named(asked.sheet, office.settings.plans_folder),
        address=address,
        start=asked.start,
        dots_per_inch=asked.dots_per_inch,
    )
    return pdf_reply(content, f"labels-{tags[0]}.pdf")


def labels_asked(tx: Reading, asked: LabelsAsked) -> tuple[str, list[str]]:
    """For what the labels are, and their numbers.

    Raises NotFound for labels that are not on record, NumbersOfAnother for numbers that are not the office's,
    Unreadable for what is no number.
    """
    kind, rows = asked.kind, [(asked.first, asked.count)]
    if asked.print_id:
        printed = printed_on(tx, asked)
        if printed is None:
            raise NotFound("set of labels", asked.print_id)
        kind, rows = printed["label"], [(row["first_tag"], row["count"]) for row in printed["rows"]]
    own = own_serials(tx)
    tags: list[str] = []
    for first, count in rows:
        try:
            run = list(islice(codes(serial_of(parse_tag(first))), count))
        except TagError as error:
            raise Unreadable(str(error)) from error
        if serial_of(first := run[0]) not in own or serial_of(run[-1]) not in own:
            free = next_free(tx)
            raise NumbersOfAnother(shown(first), shown(free) if free else None)
        tags += run
    return kind, tags


def printed_on(tx: Reading, asked: LabelsAsked) -> dict[str, Any] | None:
    """What a day has on record of labels that were made; None if it has nothing under their id."""
    text = tx.value(
        "SELECT value FROM field WHERE record_id = :day_id AND name = :name",
        day_id=asked.day_id,
        name=f"{PRINTS}{asked.print_id}",
    )
    return json.loads(text) if text else None


def label_warning(address: str) -> str:
    """What to know before a roll is printed: a printed code keeps its address for good."""
    trial = f" Labels printed now say so: {TRIAL}." if stays_here(address) else ""
    return f"{warning}{trial}" if (warning := reach_warning(address)) else ""


async def get_calibration(request: Request) -> Response:
    """GET /labels/calibration.pdf: a sheet's edges and rulers, to lay over the stock."""
    office: Office = request.state.office
    await office.device(request, *PRINTERS)
    sheet = sheet_named(request.query_params.get("sheet", ""), office.settings.plans_folder)
    return pdf_reply(calibration_pdf(sheet), f"calibration-{sheet.sheet}.pdf")


def pdf_reply(content: bytes, name: str) -> Response:
    headers = {"Content-Disposition": f'inline; filename="{name}"', "Cache-Control": "no-store"}
    return Response(content, media_type="application/pdf", headers=headers)


routes = [
    Route("/tags/{tag}", get_thing, methods=["GET"]),
    Route("/labels/sheets", get_sheets, methods=["GET"]),
    Route("/rolls/left", get_rolls_left, methods=["GET"]),
    Route("/tickets/left", get_tickets_left, methods=["GET"]),
    Route("/labels.pdf", get_labels, methods=["GET"]),
    Route("/labels/calibration.pdf", get_calibration, methods=["GET"]),
]
