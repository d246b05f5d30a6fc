"""What only the office can say at the closing of a day: devices that still hold something, photos and their records."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from intake.access.devices import devices
from intake.database import Reading
from intake.office import Office
from intake.wire import reply

CLOSERS = ("manager", "porter", "desk")


async def get_closing(request: Request) -> Response:
    """GET /closing: devices with what they still hold, photos that no record names, photos still on their way."""
    office: Office = request.state.office
    await office.device(request, *CLOSERS)
    paired, photos = await office.database.read(lambda tx: (devices(tx), photos_at_odds(tx)))
    return reply({"devices": [asdict(office.known.as_heard(device)) for device in paired], **photos})


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


routes = [Route("/closing", get_closing, methods=["GET"])]
