"""Operations in, records out: what devices and the desk send and read."""

from __future__ import annotations

import asyncio
import re
from collections.abc import AsyncIterator
from contextlib import suppress
from datetime import datetime
from functools import partial
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, field_validator
from starlette.datastructures import QueryParams
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse
from starlette.routing import Route

from intake.access.devices import Device, paired_of_late, stamp
from intake.access.hearing import (
    has_yet_to_come,
    hear_of_loss,
    is_hearing,
    losses,
    note_brought,
    still_to_come,
)
from intake.database import Reading, Writing
from intake.errors import Unreadable
from intake.families import OFFICE_ROLES, Asker
from intake.office import Office, known_in
from intake.operation import INSTANT_PATTERN, Digest, Instant, Line, on_calendar
from intake.photos.bundle import BUNDLE_LIMIT, BundledPhoto, put_bundled
from intake.photos.store import note_sender, record_file
from intake.reading import (
    day_of_work,
    hears_of_photo,
    is_over,
    is_own_photo,
    record_body,
    visits_spoken_of,
)
from intake.sync.at_tables import note_seated
from intake.sync.erasing import answer_erasing
from intake.sync.feed import feed_page
from intake.sync.history import history
from intake.sync.news import DEVICES_CHANGED, OFFICE_CHANGED, News, newest_change, news_since
from intake.sync.operations import answer_batch
from intake.sync.overruled import PRESSED, records_overruled, spoken_of_in_settlement, why_settled
from intake.sync.sent import is_text
from intake.sync.standing import Known, OfficeStanding
from intake.sync.unread import as_told
from intake.wire import (
    FORGET_SHOWN,
    OUTBOX_LIMIT,
    BodyReader,
    number,
    read_body,
    read_outbox,
    reply,
    stored_reply,
)

BATCH_LIMIT = 500
DAYS_AT_ONCE = 50
QUIET_S = 15.0  # a line of comment this often keeps a proxy from closing a quiet stream


class Batch(BaseModel):
    """Operations in the order in which the device made them. Each is read by itself later.

    `holds_from` is the least device_seq that the device can still send: what stood before it is safe or gone.
    `dealt_with` names those that the office refused once, before it lost them, and that a person has put right since:
    they come again only so that none is missing from the device's order. `sent_at` is the device's clock as it sends.
    """

    model_config = ConfigDict(extra="forbid")
    operations: Annotated[list[Any], Field(max_length=BATCH_LIMIT)]
    holds_from: Annotated[int, Field(ge=1, le=2**53 - 1)] = 1
    dealt_with: Annotated[list[Line], Field(max_length=BATCH_LIMIT)] = []
    sent_at: Instant | None = None

    @field_validator("sent_at", mode="before")
    @classmethod
    def said_moment(cls, sent_at: Any) -> Any:
        """None for a moment that cannot be read: that costs the clock's reading, never the operations."""
        try:
            return on_calendar(sent_at) if re.fullmatch(INSTANT_PATTERN, sent_at) else None
        except (TypeError, ValueError):
            return None

    @field_validator("dealt_with", mode="before")
    @classmethod
    def readable_ids(cls, dealt_with: Any) -> Any:
        """Without those that are no text: no operation has such an id."""
        return (
            [operation_id for operation_id in dealt_with if is_text(operation_id)]
            if isinstance(dealt_with, list)
            else dealt_with
        )

    def clock_off_s(self, now: datetime) -> int:
        """How many seconds the device's clock is ahead of the office's; 0 if it did not say, or said no moment."""
        try:
            return round((datetime.fromisoformat(self.sent_at or "") - now).total_seconds())
        except ValueError:
            return 0


class BundleHead(Batch):
    """What a bundle holds: operations, and the photos whose bytes follow in this order."""

    photos: Annotated[list[BundledPhoto], Field(max_length=200)]


async def post_operations(request: Request) -> Response:
    """POST /sync/operations: a device hands in its outbox, and hears about each one.

    The reply is 200 even if some are refused: one bad operation must not hold up the rest.
    """
    office: Office = request.state.office
    device = await office.device(request)
    batch = await read_outbox(await BodyReader(request, OUTBOX_LIMIT, "The request").take(), Batch)
    known = known_in(request)
    answers, stands = await office.database.write(lambda tx: answer(tx, batch, device, office, known))
    office.reached.note(device.device_id, stands.device_seq)
    return reply({"answers": answers, "office_time": stamp(office.now()), "office": stands})


async def post_bundle(request: Request) -> Response:
    """POST /sync/bundle: operations and whole photos in one request, answered when all of it is on disk.

    Body: four bytes, big-endian, the length of the head; the head (JSON); the photos' bytes one after another.
    """
    office: Office = request.state.office
    device = await office.device(request)
    body = BodyReader(request, BUNDLE_LIMIT, "The bundle")
    length = int.from_bytes(await body.take(4), "big")
    if length > OUTBOX_LIMIT:
        raise Unreadable("The head of the bundle is longer than an outbox.")
    head = await read_outbox(await body.take(length), BundleHead)
    known = known_in(request)
    photos = await put_bundled(office.photos, body, head.photos)

    def job(tx: Writing) -> tuple[list[dict[str, Any]], OfficeStanding]:
        for _, picture in photos:
            if picture is not None:
                record_file(tx, picture, stamp(office.now()))
                note_sender(tx, picture.sha256, device.device_id)
        return answer(tx, head, device, office, known)

    answers, stands = await office.database.write(job)
    office.reached.note(device.device_id, stands.device_seq)
    return reply(
        {
            "answers": answers,
            "photos": [result for result, _ in photos],
            "office_time": stamp(office.now()),
            "office": stands,
        }
    )


def answer(
    tx: Writing, batch: Batch, device: Device, office: Office, known: Known
) -> tuple[list[dict[str, Any]], OfficeStanding]:
    """The answers, and where the office stands after them."""
    now = office.now()
    hear_of_loss(tx, device.device_id, office.proofs.read(device.device_id, known.proofs), now)
    clock_off_s = batch.clock_off_s(now)
    at_the_door = partial(
        answer_batch,
        tx,
        device_id=device.device_id,
        role=device.role,
        received_at=stamp(now),
        holds_from=batch.holds_from,
        hearing=is_hearing(tx),
        dealt_with=batch.dealt_with,
        clock_off_s=clock_off_s,
        rules=office.plans.cautions,
    )
    may_erase = device.role == "manager"
    answers = answer_erasing(
        tx, batch.operations, at_the_door, may_erase=may_erase, now=stamp(now), clock_off_s=clock_off_s
    )
    note_seated(tx, batch.operations, answers, office.known.as_heard, now)
    heard = office.known.as_heard(device)
    asker = Asker(device.device_id, device.role, heard.day_id or "", heard.table_id or "")
    told = as_told(tx, asker, batch.operations, answers)
    return told, office.standing(tx, device, known)


class PhotosAsked(BaseModel):
    """Photos that a device holds, by their digests."""

    model_config = ConfigDict(extra="forbid")
    sha256: Annotated[list[Digest], Field(max_length=1000)]


class PhotosStanding(BaseModel):
    """Which of the photos are `here` at the office, and which are `copied`: in every second place in reach."""

    here: list[str]
    copied: list[str]


async def post_photos(request: Request) -> Response:
    """POST /sync/photos: which of the photos that a device holds stand at the office, and which in every copy.

    Those that it sent or reads: of any other it is told as of one that is not here.
    """
    office: Office = request.state.office
    device, now = await office.device_that_lets_go(request), office.now()
    asker = None if device.revoked_at else await office.asker(request)
    asked = await read_body(request, PhotosAsked)
    stand = await office.photos.standing(asked.sha256)

    def tells(tx: Reading, sha256: str) -> bool:
        if asker is None:
            return is_own_photo(tx, device.device_id, sha256)
        return hears_of_photo(tx, asker, sha256, now)

    here = await office.database.read(lambda tx: [sha256 for sha256 in stand if tells(tx, sha256)])
    return reply(PhotosStanding(here=here, copied=sorted(office.copies.safe_photos(here))))


class Erasure(BaseModel):
    """A record whose personal words were erased, when that was asked for, by the clock of whoever asked, put right, and
    where that stands in the log: what came before it had words that are gone."""

    record_id: str
    made_at: str
    office_seq: int


class Erasures(BaseModel):
    """Every time that any were, so that a device lets go of those words and an office that forgot it can be told."""

    erasures: list[Erasure]


async def get_erasures(request: Request) -> Response:
    """GET /sync/erasures: of which records the personal words were erased; ids and times, and nothing else of them."""
    office: Office = request.state.office
    await office.device_that_lets_go(request)
    rows = await office.database.read(
        lambda tx: tx.all("SELECT record_id, made_at, office_seq FROM erasure ORDER BY office_seq")
    )
    return reply(Erasures(erasures=[Erasure(**dict(row)) for row in rows]))


async def get_standing(request: Request) -> Response:
    """GET /sync/standing?days=: where the office stands for a device that reads nothing else of it: one that was signed
    off keeps what it sent until that is safe, and would never hear so. `settled` are those of the days that it names
    with commas between on which nothing is settled any more: with no second place that is when it may let go.
    """
    office: Office = request.state.office
    device, known, now = await office.device_that_lets_go(request), known_in(request), office.now()
    days = request.query_params.get("days", "").split(",")[:DAYS_AT_ONCE]

    def job(tx: Reading) -> tuple[OfficeStanding, list[str]]:
        settled = [day_id for day_id in days if is_over(tx, day_id, now, in_office=True)]
        return office.standing(tx, device, known), settled

    stands, settled = await office.database.read(job)
    return reply({"office_time": stamp(now), "office": stands, "settled": settled})


async def get_feed(request: Request) -> Response:
    """GET /sync/feed?after=&limit=&day_id=&table_id=&by=&holding=&to_send=: records that changed after a cursor.

    In order: those of the day on which it works, as far as its role reads them, and of the other days what belongs to
    none; without `day_id` the only open day. A desk works on no day: it reads the open days themselves, and asks for
    whatever else it shows.
    At which table a table's device sits it says itself, and reads the owners there: each change is noted for the
    manager, with who is at the device (`by`), as a desk's reading of an owner is.
    `holding` is how much is on the device only, so that the closing of a day can name it; `to_send` how many
    operations it has not tried to send yet to the office as it is.
    """
    office: Office = request.state.office
    device = await office.device(request)
    asked = request.query_params
    if "holding" in asked:
        office.known.hear(device.device_id, office.now(), holding=number(request, "holding", 0))
    after, limit = number(request, "after", 0), min(number(request, "limit", 500, least=1), 2000)
    known, now = known_in(request), office.now()
    proofs = office.proofs.read(device.device_id, known.proofs)
    day_id = shown_in(asked, "day_id")
    table_id = shown_in(asked, "table_id") if device.role == "table" else ""  # no other sits at one
    if device.role not in OFFICE_ROLES and is_other(device, day_id or device.day_id or "", table_id):
        office.readings.check_moves(device.device_id, device.paired_at, now)

    def job(tx: Reading) -> tuple[bytes, Asker, OfficeStanding, bool, int | None]:
        asker = Asker(device.device_id, device.role, day_of_work(tx, device.role, day_id, now), table_id)
        stands = office.standing(tx, device, known)
        page = feed_page(
            tx,
            asker,
            office.ready,
            after=after,
            limit=limit,
            office_time=stamp(now),
            stands=stands,
            paired=device.as_paired(),
        )
        loss = losses(tx) if stands.hearing and has_yet_to_come(tx, device.device_id) else None
        return page, asker, stands, any(proof.shows_loss(tx) for proof in proofs), loss

    page, asker, stands, lost, loss = await office.database.read(job)
    device = office.known.as_heard(device)  # another of its requests may have been answered meanwhile
    if (asker.day_id, table_id) != (device.day_id, device.table_id):
        office.known.hear(device.device_id, now, day_id=asker.day_id, table_id=table_id)
        office.readings.note_move(asker, device, shown_in(asked, "by"), now)
    office.reached.note(device.device_id, stands.device_seq)
    if lost:
        await office.database.write(lambda tx: hear_of_loss(tx, device.device_id, proofs, office.now()))
    elif loss is not None and known.stands_in(stands) and number(request, "to_send", 1) == 0:
        await office.database.write(lambda tx: note_brought(tx, device.device_id, loss))
    left_day = bool(device.day_id) and asker.day_id != device.day_id and not asker.reads_every_day
    return stored_reply(page, headers=FORGET_SHOWN if left_day else None)


def shown_in(asked: QueryParams, name: str) -> str:
    """What the address says there, as far as people can see it: it stands in what a manager reads."""
    return "".join(filter(str.isprintable, asked.get(name, "")))[:80]


def is_other(device: Device, day_id: str, table_id: str) -> bool:
    """Whether this is another table than the one that it said last, or another day."""
    return (device.day_id or "", device.table_id or "") != (day_id, table_id)


async def post_forget(request: Request) -> Response:
    """POST /sync/forget: a device that lets go of what it held has its browser forget what that was shown."""
    office: Office = request.state.office
    await office.device_that_lets_go(request)
    return Response(status_code=204, headers=FORGET_SHOWN)


async def get_events(request: Request) -> Response:
    """GET /sync/events: what has changed, a line after each commit; so a page asks for what it shows and no more.

    The first line says where the feed stands, a later one what changed since the one before: see news.py. A stream
    that was cut goes on from its `Last-Event-ID`. Managers and desks also hear, first of all and then each time it
    changes, that how the office itself is doing is to be asked for (`office`), and who is paired (`devices`).
    """
    office: Office = request.state.office
    device = await office.device(request)
    last_heard = request.headers.get("last-event-id", "")

    def look(tx: Reading, last: int | None) -> tuple[News, tuple[Any, Any]]:
        shows_office = device.role in OFFICE_ROLES
        awaited = [row["device_id"] for row in still_to_come(tx)] if shows_office and is_hearing(tx) else None
        news = news_since(tx, last, device.role, device.device_id)
        return news, ((office.copies.marks(), awaited), paired_of_late(tx)) if shows_office else (None, None)

    async def lines() -> AsyncIterator[str]:
        last = int(last_heard) if re.fullmatch(r"[0-9]{1,15}", last_heard) else None
        stood: tuple[Any, Any] = (None, None)
        while not office.closing.is_set():
            counted = office.news_told
            if not await office.is_paired_still(request):
                return
            news, stands = await office.database.read(partial(look, last=last))
            if news.cursor == last and stands == stood:
                yield ": still here\n\n"
            if news.cursor != last:
                yield news.line()
            for now, before, line in zip(stands, stood, (OFFICE_CHANGED, DEVICES_CHANGED), strict=True):
                if now != before:
                    yield line
            last, stood = news.cursor, stands
            async with office.news:
                with suppress(TimeoutError):
                    # Not `asyncio.wait_for`: its task of its own may leave the lock unheld as a stream ends.
                    async with asyncio.timeout(QUIET_S):
                        await office.news.wait_for(lambda counted=counted: office.news_told != counted)  # type: ignore[misc]

    return StreamingResponse(lines(), media_type="text/event-stream", headers={"Cache-Control": "no-store"})


async def get_record(request: Request) -> Response:
    """GET /records/{record_id}: one record as it stands, as far as the device reads it."""
    office: Office = request.state.office
    asker = await office.asker(request)
    record_id = request.path_params["record_id"]

    def job(tx: Reading) -> tuple[bytes, list[str]]:
        record, body = record_body(tx, record_id, asker, office.now())
        if record.kind == "visit":
            return body, [record_id]
        return body, visits_spoken_of(tx, record_id, in_notes=True)

    body, visits = await office.database.read(job)
    office.readings.note(asker, visits, office.now())
    return stored_reply(body)


async def get_history(request: Request) -> Response:
    """GET /records/{record_id}/history: who said what, when, in the office's order; personal words left out.

    What sets only fields that the device may not read is left out, and so are such members of what sets others, too.
    """
    office: Office = request.state.office
    asker = await office.asker(request)
    record_id = request.path_params["record_id"]
    rows = await office.database.read(lambda tx: history(tx, record_id, asker, office.now()))
    return stored_reply(f'{{"operations":[{",".join(rows)}]}}')


async def get_overruled(request: Request) -> Response:
    """GET /settlements: the records on which a value of this device gave way, for a desk or a manager.

    `cursor` says where the feed stood then: news of that place tell nothing beyond it.
    """
    office: Office = request.state.office
    await office.device(request, *OFFICE_ROLES)
    asker = await office.asker(request)
    cursor, records = await office.database.read(lambda tx: (newest_change(tx), records_overruled(tx, asker)))
    return stored_reply(b'{"cursor":%d,"records":[%b]}' % (cursor, b",".join(records)))


async def get_why_settled(request: Request) -> Response:
    """GET /settlements/{disagreement_id}: why two values were settled so, for the device whose own value gave way.

    The note may name the owner: whoever does not read them hears that one is `kept_back`, and whoever does is noted.
    """
    office: Office = request.state.office
    asker = await office.asker(request)
    disagreement_id = request.path_params["disagreement_id"]
    why, visits = await office.database.read(
        lambda tx: (
            why_settled(tx, disagreement_id, asker, office.now()),
            spoken_of_in_settlement(tx, disagreement_id),
        )
    )
    if why.note and why.note not in PRESSED:
        office.readings.note(asker, visits, office.now(), in_hall=True)
    return reply({"note": why.note, "kept_back": why.is_kept_back})


routes = [
    Route("/sync/operations", post_operations, methods=["POST"]),
    Route("/sync/bundle", post_bundle, methods=["POST"]),
    Route("/sync/standing", get_standing, methods=["GET"]),
    Route("/sync/photos", post_photos, methods=["POST"]),
    Route("/sync/forget", post_forget, methods=["POST"]),
    Route("/sync/erasures", get_erasures, methods=["GET"]),
    Route("/sync/feed", get_feed, methods=["GET"]),
    Route("/sync/events", get_events, methods=["GET"]),
    Route("/settlements", get_overruled, methods=["GET"]),
    Route("/settlements/{disagreement_id}", get_why_settled, methods=["GET"]),
    Route("/records/{record_id}", get_record, methods=["GET"]),
    Route("/records/{record_id}/history", get_history, methods=["GET"]),
]
