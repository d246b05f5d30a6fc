"""Pairing over HTTP: a code becomes a cookie; the manager makes codes and signs devices off."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict
from datetime import datetime
from typing import Annotated
from urllib.parse import urlsplit

from pydantic import BaseModel, ConfigDict, Field
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from intake.access.checks import DeviceCheck, checks_by_device, note_check
from intake.access.devices import (
    Device,
    Role,
    devices,
    make_code,
    note_returning,
    pair,
    returning,
    revoke,
    role_of,
    stamp,
)
from intake.access.hearing import begin_hearing, end_hearing, hearing
from intake.access.letters import LETTERS
from intake.access.readings import named, notes
from intake.address import origin_of, reach_warning, stays_here
from intake.database import Writing
from intake.errors import DeviceNeedsWord, PairingCodeUnknown
from intake.hall.network import Reachable, reachable
from intake.office import Office, known_in
from intake.operation import Identifier
from intake.settings import EVERYWHERE, Settings
from intake.sync.at_tables import note_from_other_work
from intake.sync.erasing import erasures_owed
from intake.sync.tidying import erasures_untidy
from intake.tagging.qr import qr_svg
from intake.wire import FORGET_SHOWN, number, read_body, reply

SAFE_INTEGER = 10**15 - 1
COOKIE_LIFE_S = 180 * 24 * 3600


class Pairing(BaseModel):
    """A code as typed. A device that was paired before says its id, so that it keeps it.

    The id is proven by the device's cookie, or by a code that was made for it. It says its letters as well: tickets of
    them may wait on it that an office begun anew has never seen.
    """

    model_config = ConfigDict(extra="forbid")
    code: Annotated[str, Field(max_length=40)]
    device_id: Identifier | None = None
    letters: Annotated[str, Field(pattern=rf"^[{LETTERS}]{{1,8}}$")] | None = None


class Paired(BaseModel):
    device_id: str
    role: str
    name: str
    letters: str | None
    paired_at: str


class NewCode(BaseModel):
    """For whom a pairing code is: a new device, or one that is to be paired again."""

    model_config = ConfigDict(extra="forbid")
    role: Role
    name: Annotated[str, Field(min_length=1, max_length=80)]
    device_id: Identifier | None = None


class NobodyElse(BaseModel):
    """The waiting that the manager saw when saying that nobody else will come, as `GET /devices` tells it."""

    model_config = ConfigDict(extra="forbid")
    since: Annotated[str, Field(max_length=40)]
    loss: Annotated[int, Field(ge=0, le=SAFE_INTEGER)]


async def post_pairing(request: Request) -> Response:
    """POST /pairing: a device gives its one-time code and becomes known."""
    office: Office = request.state.office
    asked = await read_body(request, Pairing)
    caller = request.client.host if request.client else ""
    now, old_secret = office.now(), request.cookies.get(office.cookie_name)
    try:
        device, secret = await office.database.write(lambda tx: let_in(tx, asked, old_secret, now))
    except PairingCodeUnknown:
        await office.tries.failed(caller, now)
        raise
    except DeviceNeedsWord:
        device_id = asked.device_id or ""
        await office.database.write(lambda tx: note_returning(tx, asked.code, device_id, now))
        raise
    office.known.hear(device.device_id, now, table_id="")
    office.known.forget()  # the device may have been another one until now
    office.tell()  # a stream of before ends
    was_another = bool(asked.device_id or old_secret)  # it may have been shown what its role now may not see
    paired = Paired.model_validate(device.as_paired())
    response = reply(paired, headers=FORGET_SHOWN if was_another else None)
    response.set_cookie(
        office.cookie_name,
        secret,
        max_age=COOKIE_LIFE_S,
        httponly=True,
        samesite="strict",
        secure=office.settings.secure_cookie,
        path="/",
    )
    return response


def let_in(tx: Writing, asked: Pairing, old_secret: str | None, now: datetime) -> tuple[Device, str]:
    """Pair the device. One that comes back to an office which never knew it may have what the office lacks."""
    did = role_of(tx, asked.device_id)
    returns = asked.device_id is not None and not did
    paired = pair(
        tx,
        typed=asked.code,
        device_id=asked.device_id,
        secret=old_secret,
        now=now,
        letters=asked.letters if asked.device_id else None,
    )
    if returns:
        begin_hearing(tx, now)
    if asked.device_id and paired[0].role == "table" and did != "table":
        note_from_other_work(tx, paired[0], now)
    return paired


async def get_me(request: Request) -> Response:
    """GET /pairing/me: who this device is to the office, the office's time, and where the office stands."""
    office: Office = request.state.office
    device = await office.device(request)
    stands = await office.database.read(lambda tx: office.standing(tx, device, known_in(request)))
    office.reached.note(device.device_id, stands.device_seq)
    return reply(
        {
            **device.as_paired(),
            "office_time": stamp(office.now()),
            "app_version": request.state.app_version,
            "epoch": office.epoch,
            "office": stands,
        }
    )


async def post_code(request: Request) -> Response:
    """POST /pairing/codes: the manager makes a code for one more device.

    `warning` says what keeps a phone from the address, empty if nothing is known to.
    """
    office: Office = request.state.office
    await office.device(request, "manager")
    asked = await read_body(request, NewCode)
    now = office.now()
    code = await office.database.write(lambda tx: make_code(tx, now=now, **asked.model_dump()))
    base = address_for_phones(office.address(request), office.settings, reachable)
    address = pairing_address(base, code.code)
    return reply(
        {
            "code": code.shown,
            "expires_at": stamp(code.expires_at),
            "address": address,
            "qr_svg": qr_svg(address, f"Pairing code {code.shown}"),
            "warning": reach_warning(base),
        }
    )


def address_for_phones(base: str, settings: Settings, look: Callable[[], list[Reachable]]) -> str:
    """Where a phone opens the office: as the manager does, unless that leads nowhere but to this machine.

    Then it is this machine's likeliest address in the networks it is in, if the office listens there at all; `look`
    finds those, the likeliest first. With a name of its own the office goes by that.
    """
    if settings.address or not stays_here(base) or settings.host not in (EVERYWHERE, "::"):
        return base
    found = look()
    if not found:
        return base
    parts = urlsplit(base)
    return origin_of(parts.scheme, str(found[0].address), parts.port)


def pairing_address(base: str, code: str) -> str:
    """The address in a pairing QR. The code stands behind `#`, so that it never reaches a server's log."""
    return f"{base}/#/pair/{code}"


async def get_devices(request: Request) -> Response:
    """GET /devices: every device that was ever paired, with its latest check or null; for whom the office waits, who
    asked to come back under an id that this office does not know, after how many erasures the file is still to be
    written anew, which visits' words are to be erased as they come, and why tables could not be made anew, "" if they
    could."""
    office: Office = request.state.office
    await office.device(request, "manager")
    found, checks, waits, back = await office.database.read(
        lambda tx: (devices(tx), checks_by_device(tx), hearing(tx), returning(tx))
    )
    untidy, owed = await office.database.read(lambda tx: (erasures_untidy(tx), erasures_owed(tx)))
    shown = [
        {**asdict(office.known.as_heard(device)), "check": checks.get(device.device_id)} for device in found
    ]
    asked = [asdict(device) for device in back]
    waits_for = asdict(waits) if waits else None
    to_erase = [asdict(device) for device in owed]
    return reply(
        {
            "devices": shown,
            "hearing": waits_for,
            "returning": asked,
            "untidy": untidy,
            "tables_fault": office.tables_fault,
            "erasures_owed": to_erase,
        }
    )


async def get_readings(request: Request) -> Response:
    """GET /readings?before=: which desk read which owner's words, and when, the latest first."""
    office: Office = request.state.office
    await office.device(request, "manager")
    before = number(request, "before", SAFE_INTEGER)
    taken = office.readings.unwritten if before == SAFE_INTEGER else []
    named_first, (found, further) = await office.database.read(
        lambda tx: (named(tx, taken), notes(tx, before))
    )
    found = [*(note for note in named_first if note not in found), *found]  # some may be written by now
    found.sort(key=lambda note: note.read_at, reverse=True)  # a search is noted when it has stood
    return reply({"readings": [asdict(device) for device in found], "before": further})


async def post_heard(request: Request) -> Response:
    """POST /devices/heard: the manager says that no other phone will come; what still waits is judged as it is.

    Refused if another waiting began since the one that was seen: a page may have stood open for hours.
    """
    office: Office = request.state.office
    await office.device(request, "manager")
    seen = await read_body(request, NobodyElse)
    await office.database.write(lambda tx: end_hearing(tx, seen.since, seen.loss))
    return reply({"hearing": None})


async def post_check(request: Request) -> Response:
    """POST /devices/check: a device says what its check page found, for the manager's screens."""
    office: Office = request.state.office
    device, now = await office.device(request), office.now()
    check = await read_body(request, DeviceCheck)
    await office.database.write(lambda tx: note_check(tx, device.device_id, check, now))
    return reply({"device_id": device.device_id, "checked_at": stamp(now)})


async def post_revoke(request: Request) -> Response:
    """POST /devices/{device_id}/revoke: sign a device off."""
    office: Office = request.state.office
    await office.device(request, "manager")
    device_id, now = request.path_params["device_id"], office.now()
    await office.database.write(lambda tx: revoke(tx, device_id, now))
    office.known.forget()
    office.tell()  # its stream ends
    await office.keep_signed_off()  # at once, since a folder may be put back at any moment
    return reply({"device_id": device_id, "revoked_at": stamp(now)})


routes = [
    Route("/pairing", post_pairing, methods=["POST"]),
    Route("/pairing/me", get_me, methods=["GET"]),
    Route("/pairing/codes", post_code, methods=["POST"]),
    Route("/devices", get_devices, methods=["GET"]),
    Route("/readings", get_readings, methods=["GET"]),
    Route("/devices/heard", post_heard, methods=["POST"]),
    Route("/devices/check", post_check, methods=["POST"]),
    Route("/devices/{device_id}/revoke", post_revoke, methods=["POST"]),
]
