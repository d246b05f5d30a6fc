"""Second places over HTTP: how each copy is doing, and where the manager wants copies."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from intake.access.devices import stamp
from intake.copies.asking import answer, where_they_are
from intake.copies.keeper import CopyStatus
from intake.copies.places import (
    FormerCopy,
    PlaceRefused,
    add_place,
    check_fit,
    check_ours,
    checked_folder,
    copy_recipient,
    drop_place,
    forget_copy,
    no_answer,
    office_there,
    places,
    same_place,
    take_recipient,
)
from intake.copies.seal import make_key, paper_of
from intake.copies.source import office_of, source_of
from intake.database import Writing
from intake.office import Office
from intake.wire import read_body, reply

LOOK_S = 10.0  # a folder of the network that is gone may hang for minutes


class PlaceAsked(BaseModel):
    """A folder of the machine that the office runs on, as a whole path, and whether what lies there is closed."""

    model_config = ConfigDict(extra="forbid")
    folder: Annotated[str, Field(min_length=1, max_length=1000)]
    sealed: bool = False


class PlacesAsked(BaseModel):
    """All second places; those not named are no longer kept up to date, and what lies there stays."""

    model_config = ConfigDict(extra="forbid")
    places: Annotated[list[PlaceAsked], Field(max_length=8)]


class CopiesStatus(BaseModel):
    """Every copy, and what stands in all that are in reach: `safe_seq` is null while no second place is set up.

    `former` are copies that are kept up to date no longer, and what erasures are owed to them.
    """

    copies: list[CopyStatus]
    former: list[FormerCopy]
    safe_seq: int | None
    sealed_to: str | None  # how the present key's public half begins, as its paper says it


async def get_copies(request: Request) -> Response:
    """GET /copies: how each copy is doing. It has them looked at anew, for whoever has just plugged one in."""
    office: Office = request.state.office
    await office.device(request, "manager", "desk")
    office.copies.wake()
    return await told(office)


async def put_copies(request: Request) -> Response:
    """PUT /copies: the manager says where copies are to be kept."""
    office: Office = request.state.office
    await office.device(request, "manager")
    asked = await read_body(request, PlacesAsked)
    kept = await office.database.read(places)
    own = source_of(office.settings).folders
    named = {*own, *(place.folder for place in kept), *(place.folder for place in asked.places)}
    looked = await where_they_are(named, LOOK_S)
    wanted = {checked_folder(place.folder, own, looked): place.sealed for place in asked.places}
    now = stamp(office.now())
    known, ours = await office.database.read(
        lambda tx: ({folder for folder in wanted if same_place(tx, folder, looked)}, office_of(tx).office_id)
    )
    for folder in wanted.keys() - known:
        if folder not in looked:
            raise no_answer(folder)
        await look_at(folder, ours)

    def job(tx: Writing) -> None:
        if any(wanted.values()) and copy_recipient(tx) is None:
            raise PlaceRefused(
                "There is no key yet to seal copies with.",
                hint="Make one first, further down on this screen, and write its secret half on paper.",
            )
        for place in places(tx):
            # A sealed copy stays one, whatever it is called: only the reverse would begin another.
            if place.folder not in wanted or wanted[place.folder] > place.sealed:
                drop_place(tx, place.folder)
        for folder, sealed in wanted.items():
            add_place(tx, folder, sealed=sealed, now=now, looked=looked)

    await office.database.write(job)
    await office.copies.open()
    return await told(office)


async def look_at(folder: str, ours: str) -> None:
    """Whether a copy of this office can be kept there. Raises PlaceRefused, also if the folder does not answer."""
    try:
        check_ours(folder, await answer(office_there, folder, LOOK_S), ours)
        await answer(check_fit, folder, LOOK_S)
    except TimeoutError:
        raise no_answer(folder) from None


class CopyGone(BaseModel):
    """The folder of a former copy that is destroyed."""

    model_config = ConfigDict(extra="forbid")
    folder: Annotated[str, Field(max_length=1000)]
    copy_id: Annotated[str, Field(max_length=80)] | None = None


async def post_gone(request: Request) -> Response:
    """POST /copies/gone: a former copy was destroyed, and can hold nothing any more."""
    office: Office = request.state.office
    await office.device(request, "manager")
    gone = await read_body(request, CopyGone)
    await office.database.write(lambda tx: forget_copy(tx, gone.folder, gone.copy_id))
    return await told(office)


async def post_key(request: Request) -> Response:
    """POST /copies/key: make a key for sealed copies. Its secret half is in this reply and nowhere else.

    Nothing is sealed to it before PUT /copies/key: a key that nobody has on paper closes a copy for ever.
    """
    office: Office = request.state.office
    await office.device(request, "manager")
    secret, recipient = make_key()
    return reply({"secret_key": secret, "recipient": recipient})


class KeyTaken(BaseModel):
    """The public half of a key whose secret half is on paper."""

    model_config = ConfigDict(extra="forbid")
    recipient: Annotated[str, Field(max_length=100)]


async def put_key(request: Request) -> Response:
    """PUT /copies/key: copies begun from now on are sealed to this key; older ones stay with theirs."""
    office: Office = request.state.office
    await office.device(request, "manager")
    taken = await read_body(request, KeyTaken)
    await office.database.write(lambda tx: take_recipient(tx, taken.recipient))
    return await told(office)


async def told(office: Office) -> Response:
    recipient = await office.database.read(copy_recipient)
    return reply(
        CopiesStatus(
            copies=await office.copies.statuses(),
            former=await office.copies.former(),
            safe_seq=office.copies.safe_seq(),
            sealed_to=paper_of(recipient),
        )
    )


routes = [
    Route("/copies", get_copies, methods=["GET"]),
    Route("/copies", put_copies, methods=["PUT"]),
    Route("/copies/gone", post_gone, methods=["POST"]),
    Route("/copies/key", post_key, methods=["POST"]),
    Route("/copies/key", put_key, methods=["PUT"]),
]
