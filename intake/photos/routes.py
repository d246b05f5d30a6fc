"""Photos over HTTP: sent in pieces that resume, given back unchanged, drawn for the screen."""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path

from starlette.requests import ClientDisconnect, Request
from starlette.responses import FileResponse, Response
from starlette.routing import Route

from intake.access.devices import stamp
from intake.database import Reading
from intake.errors import CannotBeDrawn, NotFound, Unreadable
from intake.families import Asker
from intake.office import Office
from intake.photos.parts import Standing, Tells
from intake.reading import hears_of_photo, reads_photo, visits_pictured
from intake.wire import arriving
from intake.word_page import word_page

DIGEST = re.compile(r"[0-9a-f]{64}")
# What a browser must not do with bytes that came from outside.
PHOTO_HEADERS = {
    "Content-Security-Policy": "default-src 'none'; sandbox",
    # Asked for each time, and answered in a line if it is the same: whoever may see it no longer is shown none.
    "Cache-Control": "private, no-cache",
}


def digest_in(request: Request) -> str:
    sha256: str = request.path_params["sha256"]
    if not DIGEST.fullmatch(sha256):
        raise Unreadable("The address of a photo is the 64 hexadecimal digits of its SHA-256.")
    return sha256


async def digest_read(request: Request) -> tuple[str, bool]:
    """The digest in the address, and whether it is of a picture of a visit: then it is noted that a desk opens it.
    Raises NotFound unless the device reads a record that names the picture."""
    office: Office = request.state.office
    asker, sha256 = await office.asker(request), digest_in(request)

    def job(tx: Reading) -> list[str]:
        if not reads_photo(tx, asker, sha256, office.now()):
            raise NotFound("photo", sha256)
        return visits_pictured(tx, sha256)

    visits = await office.database.read(job)
    office.readings.note(asker, visits, office.now())
    return sha256, bool(visits)


def tells_of(asker: Asker, now: datetime) -> Tells:
    """Of which pictures this device is told that they are here."""

    def tells(tx: Reading, sha256: str) -> bool:
        return hears_of_photo(tx, asker, sha256, now)

    return tells


async def head_photo(request: Request) -> Response:
    """HEAD /photos/{sha256}: how many bytes the office has of it, and whether that is all.

    `Upload-Complete: ?1` is said only of a photo that stands with its row; nothing else frees an original. What others
    sent, and this device does not read, is as if it were not here: it sends its bytes if it has them.
    """
    office: Office = request.state.office
    asker, sha256 = await office.asker(request), digest_in(request)
    tells = tells_of(asker, office.now())
    return upload_reply(200, await office.parts.standing(asker.device_id, sha256, tells))


def upload_reply(status: int, standing: Standing) -> Response:
    headers = {
        "Upload-Offset": str(standing.offset),
        "Upload-Length": str(standing.length),
        "Upload-Complete": "?1" if standing.complete else "?0",
        "Cache-Control": "no-store",
    }
    return Response(status_code=status, headers=headers)


async def patch_photo(request: Request) -> Response:
    """PATCH /photos/{sha256}: the next bytes, from Upload-Offset on, of Upload-Length in all."""
    office: Office = request.state.office
    asker, sha256 = await office.asker(request), digest_in(request)
    try:
        offset, length = int(request.headers["upload-offset"]), int(request.headers["upload-length"])
        if offset < 0 or length < 1:
            raise ValueError
    except (KeyError, ValueError) as error:
        raise Unreadable("Upload-Offset and Upload-Length are needed, in bytes.") from error
    try:
        standing = await office.parts.append(
            asker.device_id,
            sha256,
            offset=offset,
            length=length,
            content=arriving(request),
            received_at=stamp(office.now()),
            tells=tells_of(asker, office.now()),
        )
    except ClientDisconnect:
        return Response(status_code=204)  # what came is kept; nobody hears this answer
    return upload_reply(204, standing)


async def get_photo(request: Request) -> Response:
    """GET /photos/{sha256}: the original bytes, unchanged, for whoever reads a record that names it.

    Words come before their pictures: to a page that would show one that is still on its way there is nothing wrong, and
    nothing to show yet."""
    office: Office = request.state.office
    sha256, is_of_visit = await digest_read(request)
    try:
        picture = await office.photos.require(sha256)
    except NotFound:
        if request.headers.get("sec-fetch-dest") != "image":
            raise
        return Response(status_code=204, headers={"Cache-Control": "no-store"})
    file = office.photos.file_of(picture.sha256)
    answer = shown(request, sha256=picture.sha256, picture=file, media_type=picture.media_type)
    return kept_nowhere(answer) if is_of_visit else answer


def kept_nowhere(answer: Response) -> Response:
    """A picture of a visit is read for as long as its owner is: no browser keeps it for the time after that."""
    answer.headers["Cache-Control"] = "no-store"
    return answer


def shown(request: Request, *, sha256: str, picture: Path | bytes, media_type: str) -> Response:
    """A picture for whoever may see it; a line alone where the browser has it, since bytes of a digest never change."""
    headers = PHOTO_HEADERS | {"ETag": f'"{sha256}"'}
    if f'"{sha256}"' in request.headers.get("if-none-match", ""):
        return Response(status_code=304, headers=headers)
    if isinstance(picture, bytes):
        return Response(picture, media_type=media_type, headers=headers)
    return FileResponse(picture, media_type=media_type, headers=headers)


async def get_large(request: Request) -> Response:
    """GET /photos/{sha256}/large: an upright JPEG of at most 2016 px for the screen."""
    office: Office = request.state.office
    sha256, is_of_visit = await digest_read(request)
    try:
        drawn = await office.drawn.large(sha256, office.now())
    except CannotBeDrawn as error:
        if "text/html" in request.headers.get("accept", ""):
            return as_it_came(sha256, error)
        raise
    answer = shown(request, sha256=sha256, picture=drawn, media_type="image/jpeg")
    return kept_nowhere(answer) if is_of_visit else answer


def as_it_came(sha256: str, error: CannotBeDrawn) -> Response:
    """A page for a person who opened a picture that cannot be drawn: words, and the picture to download as it came."""
    link = f"<p><a href='/photos/{sha256}' download='{sha256[:12]}'>Download it as it came</a></p>"
    return word_page(error.title, [error.detail], int(error.status), more=link)


routes = [
    Route("/photos/{sha256}", head_photo, methods=["HEAD"]),
    Route("/photos/{sha256}", patch_photo, methods=["PATCH"]),
    Route("/photos/{sha256}", get_photo, methods=["GET"]),
    Route("/photos/{sha256}/large", get_large, methods=["GET"]),
]
