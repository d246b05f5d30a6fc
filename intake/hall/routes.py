"""What the manager's screens ask of the hall: what phones are to compare and to open, and what is ready for a day."""

from __future__ import annotations

import asyncio
import shutil
from dataclasses import asdict
from pathlib import Path
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from intake.access.checks import checks_by_device
from intake.access.devices import devices, stamp
from intake.database import Reading
from intake.hall.certificates import read_certificates
from intake.hall.network import reachable
from intake.hall.opening import page_addresses
from intake.office import Office
from intake.settings import Settings
from intake.tagging.qr import qr_svg
from intake.wire import reply


async def get_hall(request: Request) -> Response:
    """GET /hall: where phones get the certificate, what they compare, until when it counts; null outside hall mode."""
    office: Office = request.state.office
    await office.device(request, "manager")
    return reply({"hall": await asyncio.to_thread(hall_of, office.settings)})


async def get_preflight(request: Request) -> Response:
    """GET /preflight: what only the office knows before the doors open: certificate, copies, room, time, devices."""
    office: Office = request.state.office
    await office.device(request, "manager")
    hall = await asyncio.to_thread(hall_of, office.settings)
    return reply(
        {
            "hall": hall,
            "office_time": stamp(office.now()),
            "free_bytes": await asyncio.to_thread(free_bytes, office.settings.data_folder),
            "copies": [status.model_dump(mode="json") for status in await office.copies.statuses()],
            "devices": await office.database.read(checked_devices),
        }
    )


def hall_of(settings: Settings) -> dict[str, Any] | None:
    """The open hall as screens show it. Raises HallNotReady if its files were harmed meanwhile."""
    if settings.page_port is None:
        return None
    certificates = read_certificates(settings.data_folder / "hall")
    pages = page_addresses(settings.page_port, reachable())
    return {
        "name": certificates.name,
        "groups": certificates.groups,
        "fingerprint": certificates.fingerprint,
        "shown_until": stamp(certificates.server_at(settings.clock()).not_valid_after_utc),
        "valid_until": stamp(certificates.valid_until),
        "addresses": [str(address) for address in certificates.addresses],
        "pages": pages,
        "qr_svg": qr_svg(pages[0], f"QR code with the address {pages[0]}") if pages else None,
    }


def free_bytes(folder: Path) -> int:
    """What the disk of the data folder has left."""
    return shutil.disk_usage(folder).free


def checked_devices(tx: Reading) -> list[dict[str, Any]]:
    """Every device that takes part, with its latest check or null."""
    checks = checks_by_device(tx)
    return [
        {**asdict(device), "check": checks.get(device.device_id)}
        for device in devices(tx)
        if device.revoked_at is None
    ]


routes = [
    Route("/hall", get_hall, methods=["GET"]),
    Route("/preflight", get_preflight, methods=["GET"]),
]
