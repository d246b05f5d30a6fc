"""Photos and plans over HTTP."""

from __future__ import annotations

import hashlib
import json
import re

from starlette.requests import ClientDisconnect, Request
from starlette.responses import FileResponse, Response
from starlette.routing import Route

from intake.access.devices import stamp
from intake.errors import NotFound, Unreadable
from intake.examination.photo_files import picture_of
from intake.office import Office
from intake.wire import stored_reply

DIGEST = re.compile(r"^[0-9a-f]{64}$")
# What a browser must not do with bytes that came from outside.
PHOTO_HEADERS = {
    "Content-Security-Policy": "default-src 'none'; sandbox",
    "Cache-Control": "private, max-age=31536000, immutable",
}


def digest_in(request: Request) -> str:
    sha256: str = request.path_params["sha256"]
    if not DIGEST.match(sha256):
        raise Unreadable("The address of a photo is the 64 hexadecimal digits of its SHA-256.")
    return sha256


async def head_photo(request: Request) -> Response:
    """HEAD /photos/{sha256}: how many bytes the office has of it, and whether that is all."""
    office: Office = request.state.office
    await office.device(request)
    offset, whole = await office.photos.offset_of(digest_in(request))
    return Response(headers=upload_headers(offset, whole))


def upload_headers(offset: int, whole: bool) -> dict[str, str]:
    return {
        "Upload-Offset": str(offset),
        "Upload-Complete": "?1" if whole else "?0",
        "Cache-Control": "no-store",
    }


async def patch_photo(request: Request) -> Response:
    """PATCH /photos/{sha256}: the next bytes, from Upload-Offset on, of Upload-Length in all."""
    office: Office = request.state.office
    await office.device(request)
    sha256 = digest_in(request)
    try:
        offset, length = int(request.headers["upload-offset"]), int(request.headers["upload-length"])
        if offset < 0 or length < 1:
            raise ValueError
    except (KeyError, ValueError) as error:
        raise Unreadable("Upload-Offset and Upload-Length are needed, in bytes.") from error
    try:
        have, whole = await office.photos.append(
            sha256, offset=offset, length=length, content=request.stream(), received_at=stamp(office.now())
        )
    except ClientDisconnect:
        have, whole = await office.photos.offset_of(sha256)  # what came is kept; nobody hears this answer
    return Response(status_code=204, headers=upload_headers(have, whole))


async def get_photo(request: Request) -> Response:
    """GET /photos/{sha256}: the original bytes, unchanged."""
    office: Office = request.state.office
    await office.device(request)
    sha256 = digest_in(request)
    picture = await office.database.read(lambda tx: picture_of(tx, sha256))
    if picture is None:
        raise NotFound("photo", sha256)
    return FileResponse(office.photos.file_of(sha256), media_type=picture.media_type, headers=PHOTO_HEADERS)


async def get_large(request: Request) -> Response:
    """GET /photos/{sha256}/large: an upright JPEG of at most 2016 px for the screen."""
    office: Office = request.state.office
    await office.device(request)
    file = await office.photos.large(digest_in(request))
    return FileResponse(file, media_type="image/jpeg", headers=PHOTO_HEADERS)


async def get_plans(request: Request) -> Response:
    """GET /plans: every class's plan, the vocabulary and the words, with an entity tag."""
    office: Office = request.state.office
    await office.device(request)
    text = json.dumps(office.plans.body(), ensure_ascii=False, separators=(",", ":"))
    tag = f'"{hashlib.sha256(text.encode()).hexdigest()[:16]}"'
    if request.headers.get("if-none-match") == tag:
        return Response(status_code=304, headers={"ETag": tag})
    return stored_reply(text, headers={"ETag": tag})


async def get_plan(request: Request) -> Response:
    """GET /plans/{class_id}/{version}: a plan as it was when a record was made with it."""
    office: Office = request.state.office
    await office.device(request)
    class_id, version = request.path_params["class_id"], request.path_params["version"]
    body = await office.database.read(
        lambda tx: tx.value(
            "SELECT body FROM plan_version WHERE class_id = :class_id AND version = :version",
            class_id=class_id,
            version=version,
        )
    )
    if body is None:
        raise NotFound("plan", f"{class_id} {version}")
    return stored_reply(body)


routes = [
    Route("/photos/{sha256}", head_photo, methods=["HEAD"]),
    Route("/photos/{sha256}", patch_photo, methods=["PATCH"]),
    Route("/photos/{sha256}", get_photo, methods=["GET"]),
    Route("/photos/{sha256}/large", get_large, methods=["GET"]),
    Route("/plans", get_plans, methods=["GET"]),
    Route("/plans/{class_id}/{version}", get_plan, methods=["GET"]),
]
