"""What the office says at the closing of a day: what only it can know, and to who keeps no copy the day itself."""

from __future__ import annotations

import json
from dataclasses import asdict, replace
from datetime import datetime, timedelta
from functools import partial
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from intake.access.devices import Device, devices, stamp
from intake.custody.contents import container_told, load_told
from intake.custody.day_closing import closing_told, days_listed, still_open
from intake.custody.day_on_record import day_on_record
from intake.custody.differences import Closing
from intake.custody.kept_closings import ToldClosing
from intake.custody.plan_used import plans_used
from intake.database import Reading, any_of
from intake.errors import NotFound
from intake.families import OFFICE_ROLES, Asker
from intake.office import Office
from intake.reading import days_before, is_over, open_days, require_owner
from intake.sync.news import newest_change
from intake.wire import number, reply, stored_reply

CLOSERS = ("manager", "porter", "desk")
NEWEST = 10**15 - 1  # behind every operation there will be
DAYS_A_PAGE = 50
LINES_A_PAGE, MOST_LINES_A_PAGE = 100, 500
LINES_OF_BEFORE = 6
AHEAD_OF_ITS_DAY = timedelta(days=1)  # a photo may come before the words that open its day


async def get_closing(request: Request) -> Response:
    """GET /closing?day_id=: devices with what they still hold, photos that no record names, photos still on their way.

    Of the photos only those of that day, without one of the days that are open: what lies before was named when they
    were closed. A porter hears of the day on which the device works, and of no other that there is one; photos that no
    record names are then those that a device of that day sent. `clock_off_s` of a device is how far its clock was
    ahead when it last sent operations. `log` is its newest operation and the log's value there: printed, it tells
    later whether the log was cut or rewritten. `copies` is how each second place is doing.
    """
    office: Office = request.state.office
    await office.device(request, *CLOSERS)
    asker, now = await office.asker(request), office.now()
    day_id = request.query_params.get("day_id", "")

    def job(tx: Reading) -> tuple[list[Device], dict[str, Any], dict[str, Any], dict[str, int]]:
        photos = photos_at_odds(tx, days_told(tx, asker, day_id, now), every_day=asker.reads_every_day)
        return devices(tx), photos, log_end(tx), clocks_off(tx)

    paired, photos, log, off = await office.database.read(job)
    heard = [
        {
            **asdict(as_told(office.known.as_heard(device), asker)),
            "clock_off_s": off.get(device.device_id, 0),
        }
        for device in paired
    ]
    return reply(
        {
            "devices": heard,
            **photos,
            "log": log,
            "copies": await office.copies.statuses(),
            "former": await office.copies.former(),
        }
    )


def as_told(device: Device, asker: Asker) -> Device:
    """A device as a closing tells of it: where it works is told of the day of whoever asks alone."""
    if asker.reads_every_day or (asker.day_id and device.day_id == asker.day_id):
        return device
    return replace(device, day_id=None, table_id=None)


def days_told(tx: Reading, asker: Asker, day_id: str, now: datetime) -> list[str]:
    """The days of which a closing tells. Raises NotFound for one on which the device does not work."""
    if asker.reads_every_day:
        return [day_id] if day_id else open_days(tx)
    own = [asker.day_id] if asker.day_id and not is_over(tx, asker.day_id, now) else []
    if day_id and day_id not in own:
        raise NotFound("day", day_id)
    return own


async def get_days(request: Request) -> Response:
    """GET /days?before=&limit=: the days that there were, the latest first. `next` is what the next page is before.

    `is_over`: no manager's device works on it any more, since it was closed too long ago.
    """
    office: Office = request.state.office
    await office.device(request, *OFFICE_ROLES)
    before, limit = (
        number(request, "before", NEWEST),
        min(number(request, "limit", DAYS_A_PAGE, least=1), 200),
    )
    now = office.now()

    def job(tx: Reading) -> list[dict[str, Any]]:
        days = days_listed(tx, before, limit)
        return [{**day, "is_over": is_over(tx, day["day_id"], now, in_office=True)} for day in days]

    days = await office.database.read(job)
    return reply({"days": days, "next": days[-1]["opened_seq"] if len(days) == limit else None})


async def get_day_closing(request: Request) -> Response:
    """GET /days/{day_id}/closing: what the closing of a day names, as a device that holds the day would name it: each
    section with its count and its first lines.

    The sections are the kinds of difference; before them `named` once the day is closed, and last `receipts`. The other
    lines of a section are told by pages, of this `state`. Hours are by the clock of the office's own machine. `cursor`
    says where the feed stood: news of that place tell nothing beyond it.
    """
    office: Office = request.state.office
    await office.device(request, *OFFICE_ROLES)
    day_id = request.path_params["day_id"]

    def job(tx: Reading) -> str:
        told = office.kept_closings.now(tx, day_id, lambda: made_now(tx, office, day_id))
        return told.opened(newest_change(tx))

    async with office.kept_closings.turn:
        return stored_reply(await office.database.read(job))


async def get_days_before(request: Request) -> Response:
    """GET /days/{day_id}/before: of the days before one, as long as they are settled, what has not come still and what
    nobody has explained, each with its count and first lines; days of which there is nothing are left out."""
    office: Office = request.state.office
    await office.device(request, *OFFICE_ROLES)
    day_id, now = request.path_params["day_id"], office.now()

    def job(tx: Reading) -> list[dict[str, Any]]:
        found = []
        for before_id, held_on in days_before(tx, day_id):
            if is_over(tx, before_id, now, in_office=True):
                continue
            told = office.kept_closings.now(tx, before_id, partial(made_now, tx, office, before_id))
            if lines := still_open(told):
                about = {"day_id": before_id, "held_on": held_on, "closed": bool(told.head["closed"])}
                found.append({**about, "count": len(lines), "lines": lines[:LINES_OF_BEFORE]})
        return found

    async with office.kept_closings.turn:
        return reply({"days": await office.database.read(job)})


async def get_closing_lines(request: Request) -> Response:
    """GET /days/{day_id}/closing/lines?state=&section=&after=&limit=: a page of one section of a day's closing.

    `after` is how many of its lines come before, `next` the same for the next page. All pages are of the one `state`
    that is asked for: if the office has another by now, it says so, and the closing is read anew.
    """
    office: Office = request.state.office
    await office.device(request, *OFFICE_ROLES)
    day_id, asked = request.path_params["day_id"], request.query_params
    after = number(request, "after", 0)
    limit = min(number(request, "limit", LINES_A_PAGE, least=1), MOST_LINES_A_PAGE)

    state, section = asked.get("state", ""), asked.get("section", "")
    kept = office.kept_closings

    def page_kept(tx: Reading) -> str | None:
        told = kept.kept(tx, day_id, state)
        return None if told is None else told.page(section, after, limit)

    def page_made(tx: Reading) -> str:
        told = kept.of_state(tx, day_id, state, lambda: made_now(tx, office, day_id))
        return told.page(section, after, limit)

    page = await office.database.read(page_kept)
    if page is None:
        async with kept.turn:
            page = await office.database.read(page_made)
    return stored_reply(page)


def made_now(tx: Reading, office: Office, day_id: str) -> ToldClosing:
    """The closing of a day made of the tables as they are. Raises NotFound if there is no such day."""
    rows = {row.hazard: row.name for row in office.plans.cautions.cautions}
    day = day_on_record(tx, day_id)
    try:
        plan_used = plans_used(tx, office.plans.plans)
        return closing_told(Closing(day, plan_used, rows, class_names=office.plans.class_names))
    finally:
        day.hand.let_go()


def log_end(tx: Reading) -> dict[str, Any]:
    """The newest operation's place in the log and the log's value there, empty while there is none."""
    newest = tx.one("SELECT office_seq, chain FROM operation_log ORDER BY office_seq DESC LIMIT 1")
    return dict(newest) if newest else {"office_seq": 0, "chain": ""}


def clocks_off(tx: Reading) -> dict[str, int]:
    """How many seconds each device's clock was ahead when its newest operation came; only those that were off."""
    rows = tx.all(
        """
        SELECT device_id, (
            SELECT answer ->> 'clock_off_s' FROM operation_log AS newest
            WHERE newest.device_id = device.device_id ORDER BY device_seq DESC LIMIT 1
        ) AS clock_off_s FROM device
        """
    )
    return {row["device_id"]: row["clock_off_s"] for row in rows if row["clock_off_s"]}


def photos_at_odds(tx: Reading, day_ids: list[str], *, every_day: bool) -> dict[str, Any]:
    """`orphans` are digests of photos that came since these days and that no record names; `awaited` those whose bytes
    are not here, and which record of these days names each. Without `every_day` the orphans are those that devices of
    these days sent: of which day another is nobody knows."""
    days = json.dumps(day_ids)
    opened_at = tx.value(
        f"""
        SELECT min(received_at) FROM record JOIN operation_log ON operation_log.office_seq = record.opened_seq
        WHERE record.record_id IN {any_of("days")}
        """,
        days=days,
    )
    if opened_at is None:
        return {"orphans": [], "awaited": []}
    orphans = tx.all(
        f"""
        SELECT sha256 FROM photo_file WHERE received_at >= :since
            AND NOT EXISTS (SELECT 1 FROM photo_of WHERE photo_of.sha256 = photo_file.sha256)
            AND (:every_day OR EXISTS (
                SELECT 1 FROM photo_from JOIN device USING (device_id)
                WHERE photo_from.sha256 = photo_file.sha256 AND device.day_id IN {any_of("days")}
            ))
        """,  # in no order, for the sake of which the engine would go through every photo there ever was
        since=stamp(datetime.fromisoformat(opened_at) - AHEAD_OF_ITS_DAY),
        every_day=every_day,
        days=days,
    )
    awaited = tx.all(
        f"""
        SELECT photo_of.sha256, photo_of.record_id AS item_id FROM record JOIN photo_of USING (record_id)
        WHERE record.day_id IN {any_of("days")}
            AND NOT EXISTS (SELECT 1 FROM photo_file WHERE photo_file.sha256 = photo_of.sha256)
        ORDER BY photo_of.sha256
        """,
        days=days,
    )
    return {"orphans": sorted(row["sha256"] for row in orphans), "awaited": [dict(row) for row in awaited]}


async def get_container(request: Request) -> Response:
    """GET /containers/{container_id}: its record and those of its day, of what lies in it at any depth, and of what it
    stands in; of each what tells where it is. For who keeps no copy of the day.
    """
    office: Office = request.state.office
    await office.device(request, *OFFICE_ROLES)
    asker, container_id = await office.asker(request), request.path_params["container_id"]
    records = await office.database.read(lambda tx: container_told(tx, asker, container_id))
    return reply({"records": records})


async def get_load(request: Request) -> Response:
    """GET /loads/{load_id}: the record of the day on which it left, and those of what left or came with it, as in
    `GET /containers/{container_id}`.

    A porter whose device works on another day hears of it as in `GET /tags/{tag}`.
    """
    office: Office = request.state.office
    await office.device(request, *OFFICE_ROLES, "porter")
    asker, load_id, now = await office.asker(request), request.path_params["load_id"], office.now()
    return reply(await office.database.read(lambda tx: load_told(tx, asker, load_id, now)))


async def get_signature(request: Request) -> Response:
    """GET /visits/{visit_id}/receipts/{receipt_id}/signature: who signed a receipt, the strokes or the paper pad, and
    who signed for the house, to read it back.

    For whoever reads the owner of that visit; all are empty once they are erased.
    """
    office: Office = request.state.office
    asker = await office.asker(request)
    visit_id, receipt_id = request.path_params["visit_id"], request.path_params["receipt_id"]

    def job(tx: Reading) -> str | None:
        require_owner(tx, visit_id, asker, office.now())
        value: str | None = tx.value(
            "SELECT value FROM field WHERE record_id = :visit_id AND name = :name",
            visit_id=visit_id,
            name=f"consignor/signatures/{receipt_id}",
        )
        return value

    signature = await office.database.read(job)
    if signature is None:
        raise NotFound("receipt", receipt_id)
    office.readings.note(asker, [visit_id], office.now())
    return stored_reply(signature)


routes = [
    Route("/visits/{visit_id}/receipts/{receipt_id}/signature", get_signature, methods=["GET"]),
    Route("/containers/{container_id}", get_container, methods=["GET"]),
    Route("/loads/{load_id}", get_load, methods=["GET"]),
    Route("/closing", get_closing, methods=["GET"]),
    Route("/days", get_days, methods=["GET"]),
    Route("/days/{day_id}/before", get_days_before, methods=["GET"]),
    Route("/days/{day_id}/closing", get_day_closing, methods=["GET"]),
    Route("/days/{day_id}/closing/lines", get_closing_lines, methods=["GET"]),
]
