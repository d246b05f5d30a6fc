"""Operations in, records out: what devices and the desk send and read."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse
from starlette.routing import Route

from intake.access.devices import Device, stamp
from intake.database import Reading, Writing
from intake.edits import SettleDisagreement
from intake.errors import NotFound
from intake.families import may_read, parts_for
from intake.office import Office
from intake.photos.bundle import BUNDLE_LIMIT, BundledPhoto, put_bundled
from intake.photos.store import record_file
from intake.records import compact, glue
from intake.sync.kinds import from_log
from intake.sync.operations import answer_batch
from intake.wire import BodyReader, number, read_body, read_json, reply, stored_reply

BATCH_LIMIT = 500
QUIET_S = 15.0  # a line of comment this often keeps a proxy from closing a quiet stream


class Batch(BaseModel):
    """Operations in the order in which the device made them. Each is read by itself later."""

    model_config = ConfigDict(extra="forbid")
    operations: Annotated[list[Any], Field(max_length=BATCH_LIMIT)]


class BundleHead(BaseModel):
    """What a bundle holds: operations, and the photos whose bytes follow in this order."""

    model_config = ConfigDict(extra="forbid")
    operations: Annotated[list[Any], Field(max_length=BATCH_LIMIT)]
    photos: Annotated[list[BundledPhoto], Field(max_length=200)]


async def post_operations(request: Request) -> Response:
    """POST /sync/operations: a device hands in its outbox, and hears about each one.

    The reply is 200 even if some are refused: one bad operation must not hold up the rest.
    """
    office: Office = request.state.office
    device = await office.device(request)
    batch = await read_body(request, Batch)
    answers = await office.database.write(lambda tx: answer(tx, batch.operations, device, office))
    return reply({"answers": answers, "office_time": stamp(office.now())})


async def post_bundle(request: Request) -> Response:
    """POST /sync/bundle: operations and whole photos in one request, answered when all of it is on disk.

    Body: four bytes, big-endian, the length of the head; the head (JSON); the photos' bytes one after another.
    """
    office: Office = request.state.office
    device = await office.device(request)
    body = BodyReader(request, BUNDLE_LIMIT, "The bundle")
    head = read_json(await body.take(int.from_bytes(await body.take(4), "big")), BundleHead)
    photos = await put_bundled(office.photos, body, head.photos)

    def job(tx: Writing) -> list[dict[str, Any]]:
        for _, picture in photos:
            if picture is not None:
                record_file(tx, picture, stamp(office.now()))
        return answer(tx, head.operations, device, office)

    answers = await office.database.write(job)
    return reply(
        {"answers": answers, "photos": [told for told, _ in photos], "office_time": stamp(office.now())}
    )


def answer(tx: Writing, operations: list[Any], device: Device, office: Office) -> list[dict[str, Any]]:
    return answer_batch(
        tx, operations, device_id=device.device_id, role=device.role, received_at=stamp(office.now())
    )


async def get_feed(request: Request) -> Response:
    """GET /sync/feed?after=&limit=&day_id=&holding=: records that changed after a cursor, as stored, in order.

    `holding` is how much is on the device only, so that the closing of a day can name it.
    """
    office: Office = request.state.office
    device = await office.device(request)
    if "holding" in request.query_params:
        office.known.hear(device.device_id, office.now(), number(request, "holding", 0))
    after, limit = number(request, "after", 0), min(number(request, "limit", 500, least=1), 2000)
    day_id = request.query_params.get("day_id")
    time_now = stamp(office.now())
    page = await office.database.read(
        lambda tx: feed_page(
            tx,
            after=after,
            limit=limit,
            day_id=day_id,
            role=device.role,
            epoch=office.epoch,
            office_time=time_now,
        )
    )
    return stored_reply(page)


def feed_page(
    tx: Reading, *, after: int, limit: int, day_id: str | None, role: str, epoch: str, office_time: str
) -> bytes:
    """A page of the feed as JSON: bodies are glued as bytes, never parsed, of the parts that the role reads."""
    rows = tx.all(
        f"""
        SELECT feed_seq, CAST(body AS BLOB), record_id, fields_end FROM record
        WHERE feed_seq > :after {"AND day_id = :day_id" if day_id else ""} ORDER BY feed_seq LIMIT :limit
        """,
        after=after,
        limit=limit,
        day_id=day_id,
    )
    cursor = rows[-1][0] if rows else after
    more = "true" if len(rows) == limit else "false"
    tail = f'],"cursor":{cursor},"more":{more},"epoch":"{epoch}","office_time":"{office_time}"}}'
    parts = parts_read(tx, [row[2] for row in rows if row[3] is not None], role)
    bodies = [glue(row[1], row[3], parts[row[2]]) if row[2] in parts else row[1] for row in rows] or [b""]
    # Head and tail are put on the first and the last, so that the page, megabytes of it, is copied once.
    bodies[0] = b'{"records":[' + bodies[0]
    bodies[-1] += tail.encode()
    return b",".join(bodies)


def parts_read(tx: Reading, record_ids: list[str], role: str) -> dict[str, list[tuple[bytes, bytes]]]:
    """The parts of these records that not everyone reads but this role does, by record."""
    parts: dict[str, list[tuple[bytes, bytes]]] = {}
    readers = parts_for(role)
    if not record_ids or not readers:
        return parts
    for row in tx.each(
        """
        SELECT record_id, CAST(fields AS BLOB), CAST(disagreements AS BLOB) FROM record_part
        WHERE record_id IN (SELECT value FROM json_each(:record_ids))
            AND readers IN (SELECT value FROM json_each(:readers)) ORDER BY record_id, readers
        """,
        record_ids=json.dumps(record_ids),
        readers=json.dumps(readers),
    ):
        parts.setdefault(row[0], []).append((row[1], row[2]))
    return parts


async def get_events(request: Request) -> Response:
    """GET /sync/events: a line after each commit, so that a desk page reads anew without a reload."""
    office: Office = request.state.office
    await office.device(request)

    async def lines() -> AsyncIterator[str]:
        last = -1
        while not office.closing.is_set():
            newest = await office.database.read(lambda tx: tx.value("SELECT max(feed_seq) FROM record") or 0)
            yield f'data: {{"cursor":{newest}}}\n\n' if newest != last else ": still here\n\n"
            last = newest
            async with office.news:
                try:
                    await asyncio.wait_for(office.news.wait(), QUIET_S)
                except TimeoutError:
                    continue

    return StreamingResponse(lines(), media_type="text/event-stream", headers={"Cache-Control": "no-store"})


async def get_record(request: Request) -> Response:
    """GET /records/{record_id}: one record as it stands."""
    office: Office = request.state.office
    device = await office.device(request)
    record_id = request.path_params["record_id"]
    body = await office.database.read(lambda tx: record_body(tx, record_id, device.role))
    if body is None:
        raise NotFound("record", record_id)
    return stored_reply(body)


def record_body(tx: Reading, record_id: str, role: str) -> bytes | None:
    """One record as a device of this role reads it, or None if there is none."""
    row = tx.one(
        "SELECT CAST(body AS BLOB), fields_end FROM record WHERE record_id = :record_id", record_id=record_id
    )
    if row is None:
        return None
    parts = parts_read(tx, [record_id], role) if row[1] is not None else {}
    return glue(row[0], row[1], parts[record_id]) if parts else bytes(row[0])


async def get_history(request: Request) -> Response:
    """GET /records/{record_id}/history: who said what, when, in the office's order; personal words left out.

    What sets only fields that the asking role may not read is left out, too.
    """
    office: Office = request.state.office
    device = await office.device(request)
    record_id = request.path_params["record_id"]
    rows = await office.database.read(lambda tx: history(tx, record_id, device.role))
    return stored_reply(f'{{"operations":[{",".join(rows)}]}}')


def history(tx: Reading, record_id: str, role: str) -> list[str]:
    """What happened to a record, one JSON object a row of the log."""
    between = {
        row["disagreement_id"]: row["name"]
        for row in tx.all(
            "SELECT disagreement_id, name FROM disagreement WHERE record_id = :record_id", record_id=record_id
        )
    }
    shown = []
    for row in tx.each(
        "SELECT * FROM operation_log WHERE record_id = :record_id ORDER BY office_seq", record_id=record_id
    ):
        operation, answer = from_log(json.loads(row["operation"])), json.loads(row["answer"])
        names = operation.field_names() if operation is not None else []
        if isinstance(operation, SettleDisagreement):
            names = [between.get(operation.disagreement_id, "")]
        if names and not any(may_read(role, name) for name in names):
            continue
        shown.append(
            f'{{"office_seq":{row["office_seq"]},"operation":{row["operation"]},'
            f'"outcome":"{answer["outcome"]}","problem":{compact(answer["problem"])},'
            f'"received_at":"{row["received_at"]}"}}'
        )
    return shown


routes = [
    Route("/sync/operations", post_operations, methods=["POST"]),
    Route("/sync/bundle", post_bundle, methods=["POST"]),
    Route("/sync/feed", get_feed, methods=["GET"]),
    Route("/sync/events", get_events, methods=["GET"]),
    Route("/records/{record_id}", get_record, methods=["GET"]),
    Route("/records/{record_id}/history", get_history, methods=["GET"]),
]
