"""JSON in, JSON out: bodies are read with a limit and checked by a model, replies leave as they are stored."""

from __future__ import annotations

import json
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from starlette.requests import Request
from starlette.responses import Response

from intake.errors import TooLarge, Unreadable

M = TypeVar("M", bound=BaseModel)
JSON_LIMIT = 4 * 1024 * 1024


async def read_bytes(request: Request, limit: int, what: str) -> bytes:
    """The whole body. Raises TooLarge as soon as it passes the limit."""
    said = request.headers.get("content-length", "")
    if said.isdigit() and int(said) > limit:
        raise TooLarge(what, limit)
    pieces: list[bytes] = []
    size = 0
    async for piece in request.stream():
        size += len(piece)
        if size > limit:
            raise TooLarge(what, limit)
        pieces.append(piece)
    return b"".join(pieces)


async def read_body(request: Request, model: type[M]) -> M:
    """The body as a model. Raises Unreadable naming the first thing that does not fit."""
    return read_json(await read_bytes(request, JSON_LIMIT, "The request"), model)


def read_json(body: bytes, model: type[M]) -> M:
    """JSON bytes as a model. Raises Unreadable naming the first thing that does not fit."""
    try:
        return model.model_validate_json(body)
    except ValidationError as error:
        raise Unreadable(first_fault(error)) from error


def first_fault(error: ValidationError) -> str:
    """The first thing a model did not like, in words, without repeating what was typed."""
    fault = error.errors(include_input=False, include_url=False, include_context=False)[0]
    place = ".".join(str(step) for step in fault["loc"]) or "the whole"
    return f"{place}: {fault['msg']}."


def reply(
    body: BaseModel | dict[str, Any], status: int = 200, headers: dict[str, str] | None = None
) -> Response:
    """A JSON reply that no cache keeps."""
    text = body.model_dump_json() if isinstance(body, BaseModel) else json.dumps(body, ensure_ascii=False)
    return stored_reply(text, status, headers)


def stored_reply(text: str | bytes, status: int = 200, headers: dict[str, str] | None = None) -> Response:
    """A reply whose JSON is at hand as text; it is not parsed on the way out."""
    return Response(
        text, status, headers={"Cache-Control": "no-store", **(headers or {})}, media_type="application/json"
    )


def number(request: Request, name: str, default: int) -> int:
    """A whole number from the address. Raises Unreadable for anything else."""
    said = request.query_params.get(name, str(default))
    if not (said.isascii() and said.isdigit()) or len(said) > 15:
        raise Unreadable(f"{name}: it takes a whole number from 0 up.")
    return int(said)
