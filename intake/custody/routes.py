"""What only the office can say at the closing of a day: what devices still hold, photos and their records, copies."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from intake.access.devices import devices
from intake.database import Reading
from intake.errors import NotFound
from intake.office import Office
from intake.reading import require_owner
from intake.wire import reply, stored_reply

CLOSERS = ("manager", "porter", "desk")


async def get_closing(request: Request) -> Response:
    """GET /closing: devices with what they still hold, photos that no record names, photos still on their way.

    `clock_off_s` of a device is how far its clock was ahead when it last sent operations. `log` is its newest operation
    and the log's value there: printed, it tells later whether the log was cut or rewritten. `copies` is how each second
    place is doing.
    """
    office: Office = request.state.office
    await office.device(request, *CLOSERS)
    paired, photos, log, off = await office.database.read(
        lambda tx: (devices(tx), photos_at_odds(tx), log_end(tx), clocks_off(tx))
    )
    heard = [
        {**asdict(office.known.as_heard(device)), "clock_off_s": off.get(device.device_id, 0)}
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


def photos_at_odds(tx: Reading) -> dict[str, Any]:
    """`orphans` are digests of photos that no record names; `awaited` those named whose bytes are not here."""
    named: dict[str, str] = {}
    for row in tx.all("SELECT record_id, value FROM field WHERE name >= 'photos/' AND name < 'photos0'"):
        photo = json.loads(row["value"])
        named[photo["sha256"]] = named[photo["thumb_sha256"]] = row["record_id"]
    here = {row["sha256"] for row in tx.all("SELECT sha256 FROM photo_file")}
    return {
        "orphans": sorted(here - named.keys()),
        "awaited": [{"sha256": sha256, "item_id": named[sha256]} for sha256 in sorted(named.keys() - here)],
    }


async def get_signature(request: Request) -> Response:
    """GET /visits/{visit_id}/receipts/{receipt_id}/signature: who signed a receipt, and the strokes, to read it back.

    For whoever reads the owner of that visit; both are empty once they are erased.
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
    await office.readings.note(asker, [visit_id], office.now())
    return stored_reply(signature)


routes = [
    Route("/visits/{visit_id}/receipts/{receipt_id}/signature", get_signature, methods=["GET"]),
    Route("/closing", get_closing, methods=["GET"]),
]
