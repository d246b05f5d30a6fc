"""JSON in, JSON out: bodies are read with a limit and checked by a model, replies leave as they are stored."""

from __future__ import annotations

import asyncio
import json
import re
from collections.abc import AsyncIterator
from itertools import pairwise
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import to_json
from starlette.requests import Request
from starlette.responses import Response

from intake.errors import TooLarge, TooSlow, Unreadable

M = TypeVar("M", bound=BaseModel)
JSON_LIMIT = 4 * 1024 * 1024
DEEPEST = 200  # levels of a JSON text; pydantic's reader takes as many
MARK = re.compile(r'"(?:[^"\\]|\\.)*"|[][{},:]')  # a text, in which nothing is a mark, or a mark
PIECE_S = 20.0  # a line that is silent for longer is given up; the device sends again


async def arriving(request: Request) -> AsyncIterator[bytes]:
    """A request's body in pieces as they come. Raises TooSlow if the next one is not there within PIECE_S."""
    pieces = aiter(request.stream())
    silence = Silence(asyncio.get_running_loop(), asyncio.current_task())
    try:
        while True:
            silence.begins()
            try:
                piece = await anext(pieces)
            except StopAsyncIteration:
                return
            except asyncio.CancelledError:
                silence.ended_us()
                raise
            silence.ends()
            yield piece
    finally:
        silence.forget()


class Silence:
    """Ends the task that waits for a line when that has been silent for PIECE_S.

    The timer is looked at when it is due and not set anew for each piece, of which a bundle has dozens (measured:
    `asyncio.timeout` costs some microseconds each time). Only waiting is limited, never what is done with a piece.
    """

    def __init__(self, loop: asyncio.AbstractEventLoop, task: asyncio.Task[Any] | None) -> None:
        self._loop = loop
        self._task = task
        self._timer: asyncio.TimerHandle | None = None
        self._since = 0.0
        self._waiting = self._over = False

    def begins(self) -> None:
        self._since, self._waiting = self._loop.time(), True
        if self._timer is None:
            self._timer = self._loop.call_later(PIECE_S, self._look)

    def ends(self) -> None:
        self._waiting = False

    def _look(self) -> None:
        self._timer = None
        if not self._waiting:
            return
        left = self._since + PIECE_S - self._loop.time()
        if left > 0:
            self._timer = self._loop.call_later(left, self._look)
        elif self._task is not None:
            self._over = True
            self._task.cancel()

    def ended_us(self) -> None:
        """Raises TooSlow if the task was cancelled from here; somebody else's cancelling goes on as it is."""
        if self._over and self._task is not None and self._task.uncancel() == 0:
            raise TooSlow(PIECE_S)

    def forget(self) -> None:
        if self._timer is not None:
            self._timer.cancel()


class BodyReader:
    """A request's body, taken in parts as it arrives. Raises TooLarge as soon as it passes the limit, TooSlow."""

    def __init__(self, request: Request, limit: int, what: str) -> None:
        said = request.headers.get("content-length", "")
        if said.isdigit() and int(said) > limit:
            raise TooLarge(what, limit)
        self._stream = arriving(request)
        self._limit, self._what = limit, what
        self._size = 0
        self._over = memoryview(b"")  # what arrived beyond the last part

    async def take(self, size: int | None = None) -> bytes:
        """The next bytes, or all that is left. Raises Unreadable if the body ends before."""
        if size is not None:
            if size > self._limit:  # before space is made: a length that was said may be nonsense
                raise Unreadable(f"{self._what} is shorter than it says.")
            content = bytearray(size)
            await self.take_into(memoryview(content))
            return bytes(content)
        pieces = [self._over]
        while (piece := await self._next()) is not None:
            pieces.append(piece)
        self._over = memoryview(b"")
        return b"".join(pieces)

    async def take_into(self, space: memoryview) -> None:
        """The next bytes, copied into the space until it is full. Raises Unreadable if the body ends before."""
        filled = 0
        while True:
            part = self._over[: len(space) - filled]
            space[filled : filled + len(part)] = part
            self._over = self._over[len(part) :]
            filled += len(part)
            if filled == len(space):
                return
            piece = await self._next()
            if piece is None:
                raise Unreadable(f"{self._what} is shorter than it says.")
            self._over = piece

    async def _next(self) -> memoryview | None:
        """What arrives next, or None at the end."""
        try:
            piece = memoryview(await anext(self._stream))
        except StopAsyncIteration:
            return None
        self._size += len(piece)
        if self._size > self._limit:
            raise TooLarge(self._what, self._limit)
        return piece


async def read_body(request: Request, model: type[M]) -> M:
    """The body as a model. Raises Unreadable naming the first thing that does not fit."""
    return read_json(await BodyReader(request, JSON_LIMIT, "The request").take(), model)


def read_json(body: bytes, model: type[M]) -> M:
    """JSON bytes as a model. Raises Unreadable naming the first thing that does not fit.

    A character that a device cut in half makes the text unreadable in which it stands, not the whole body: the strict
    reader takes no such body, so another reads it, and the model says no to the text. So it does where something is
    nested too deep or a number has too many digits for any reader.
    """
    try:
        return model.model_validate_json(body)
    except ValidationError as error:
        strict_error = error
    try:
        return model.model_validate(read_in_parts(body.decode("utf-8", "surrogateescape")))
    except ValidationError as error:
        raise Unreadable(first_fault(error)) from error
    except ValueError:
        raise Unreadable(first_fault(strict_error)) from strict_error


def read_in_parts(text: str, levels: int = 3) -> Any:
    """A JSON text; a part of it that is JSON and that no reader takes is `{"unread": its text}`, which fits no model.

    Parts are told apart down to so many levels: a body's operations, each by itself, each member by itself. Raises
    ValueError for what is no JSON.
    """
    try:
        value = json.loads(text)
    except json.JSONDecodeError:
        raise
    except (ValueError, RecursionError):  # a number with too many digits, or nested too deep
        pass
    else:
        if not is_deep(value):
            return value
    if not levels or not text.lstrip().startswith(("[", "{")):
        return {"unread": text}
    parts = parts_of(text)
    if text.lstrip().startswith("["):
        return [read_in_parts(part, levels - 1) for part in parts]
    return {
        json.loads(name): read_in_parts(value, levels - 1)
        for name, value in zip(parts[::2], parts[1::2], strict=True)
    }


def parts_of(text: str) -> list[str]:
    """What stands between the commas and colons of a JSON text's outermost brackets."""
    depth, cuts = 0, []
    for found in MARK.finditer(text):
        mark = found[0]
        depth += (mark in "[{") - (mark in "]}")
        if (depth == 1 and mark in "[{,:") or (depth == 0 and mark in "]}"):
            cuts.append(found.span())
    return [text[end:start] for (_, end), (start, _) in pairwise(cuts)]


def is_deep(value: Any) -> bool:
    """Whether JSON is nested deeper than the strict reader would take, and a writer later might not."""
    level = [value]
    for _ in range(DEEPEST):
        level = [
            inner
            for outer in level
            if isinstance(outer, (list, dict))
            for inner in (outer.values() if isinstance(outer, dict) else outer)
        ]
        if not level:
            return False
    return True


def first_fault(error: ValidationError) -> str:
    """The first thing a model did not like, in words, without repeating what was typed.

    The name of a member that no model has is among what was typed, and so is a kind that there is not.
    """
    fault = error.errors(include_input=False, include_url=False, include_context=False)[0]
    match fault["type"]:
        case "extra_forbidden":
            steps, words = fault["loc"][:-1], "There is a member more than this office knows"
        case "union_tag_invalid":
            steps, words = fault["loc"], "This office knows no such kind"
        case _:
            steps, words = fault["loc"], fault["msg"]
    return f"{'.'.join(map(str, steps)) or 'the whole'}: {words}."


def reply(
    body: BaseModel | dict[str, Any], status: int = 200, headers: dict[str, str] | None = None
) -> Response:
    """A JSON reply that no cache keeps."""
    return stored_reply(to_json(body), status, headers)


def stored_reply(text: str | bytes, status: int = 200, headers: dict[str, str] | None = None) -> Response:
    """A reply whose JSON is at hand as text; it is not parsed on the way out."""
    return Response(
        text, status, headers={"Cache-Control": "no-store", **(headers or {})}, media_type="application/json"
    )


def number(request: Request, name: str, default: int, *, least: int = 0) -> int:
    """A whole number from the address. Raises Unreadable for anything else, and for less than the least."""
    said = request.query_params.get(name, str(default))
    if not (said.isascii() and said.isdigit()) or len(said) > 15 or int(said) < least:
        raise Unreadable(f"{name}: it takes a whole number from {least} up.")
    return int(said)
