"""JSON in, JSON out: bodies are read with a limit and checked by a model, replies leave as they are stored."""

from __future__ import annotations

import asyncio
import json
import re
from collections.abc import AsyncIterator
from dataclasses import dataclass, field
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import to_json
from starlette.requests import Request
from starlette.responses import Response

from intake.errors import TooLarge, TooSlow, Unreadable

M = TypeVar("M", bound=BaseModel)
SMALL_LIMIT = 256 * 1024  # a thousand digests of photos take a third of it
OUTBOX_LIMIT = 4 * 1024 * 1024
DEEPEST = 200  # levels of a JSON text; pydantic's reader takes as many
PARTED = 3  # levels that are told apart: a body's members, its operations, their members
MOST_PARTS = 100_000  # 500 operations of the largest kind have a third of it
MOST_OF_ONE = 150  # parts of one operation: the largest kind has half of it; more are not told apart
#: A text, in which nothing is a mark, or a mark. A text that does not end goes on to the end of all, and nothing is
#: looked at twice: whoever sends quotation marks and brackets at will has each of them read once.
MARK = re.compile(r'"(?:[^"\\]++|\\.)*+"?|[][{},:]', re.DOTALL)
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
        length = request.headers.get("content-length", "")
        if length.isdigit() and int(length) > limit:
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
    """A small body as a model. Raises TooLarge, and Unreadable naming the first thing that does not fit.

    Anybody on the network may send one, so that it is read the quick way or not at all.
    """
    body = await BodyReader(request, SMALL_LIMIT, "The request").take()
    try:
        return model.model_validate_json(body)
    except ValidationError as error:
        raise Unreadable(first_fault(error)) from error


async def read_outbox(body: bytes, model: type[M]) -> M:
    """What a known device hands in, as a model. Raises Unreadable naming the first thing that does not fit.

    A character that a device cut in half makes the text unreadable in which it stands, not the whole body: the strict
    reader takes no such body, so another reads it, and the model says no to the text. So it does where something is
    nested too deep or a number has too many digits for any reader. That takes longer, on a thread of its own.
    """
    try:
        return model.model_validate_json(body)
    except ValidationError as error:
        strict_error = error
    try:
        text = body.decode("utf-8", "surrogateescape")
        return model.model_validate(await asyncio.to_thread(read_in_parts, text))
    except ValidationError as error:
        raise Unreadable(first_fault(error)) from error
    except ValueError:
        raise Unreadable(first_fault(strict_error)) from strict_error


def read_in_parts(text: str) -> Any:
    """A JSON text; a part of it that is JSON and that no reader takes is `{"unread": its text}`, which fits no model.

    Raises ValueError for what is no JSON.
    """
    return read_part(text, parts_of(text))


@dataclass(slots=True)
class Part:
    """The text of one value inside a JSON text, from `start` to `end`.

    `deepest` is how many brackets are open around what lies deepest in it. `parts` is what stands inside its own
    `brackets`, and `between` the commas and colons between those; all empty where nobody needs to tell them apart.
    `whole`: there are more of them than were told apart.
    """

    start: int
    end: int = 0
    deepest: int = 0
    brackets: str = ""
    between: str = ""
    parts: list[Part] = field(default_factory=list)
    whole: bool = False


def parts_of(text: str) -> Part:
    """The parts of a JSON text down to PARTED levels, found in one pass. Raises ValueError for what is no JSON."""
    outer = [Part(0)]  # those that are open, each inside the one before it
    depth = count = 0
    for found in MARK.finditer(text):
        start = found.start()
        mark = text[start]
        if mark in "[{":
            depth += 1
            if depth > outer[-1].deepest:
                outer[-1].deepest = depth
            if depth <= PARTED:
                outer[-1].brackets += mark
                outer.append(Part(start + 1))
        elif depth > PARTED:
            depth -= mark in "]}"
        elif mark in ",:" and depth == PARTED and len(outer[-2].parts) >= MOST_OF_ONE:
            outer[-2].whole = True
        elif mark in ",:]}":
            end_part(outer, start)
            if mark in ",:":
                outer[-1].between += mark
                outer.append(Part(start + 1))
            else:
                depth -= 1
                outer[-1].brackets += mark
            count += 1
            if count > MOST_PARTS:
                raise ValueError("more parts than any outbox has")
    if len(outer) != 1:
        raise ValueError("a bracket is open at the end")
    outer[0].end = len(text)
    return outer[0]


def end_part(outer: list[Part], end: int) -> None:
    """The innermost part that is open ends here. Raises ValueError if that is the whole text."""
    if len(outer) == 1:
        raise ValueError("a mark outside of all brackets")
    part = outer.pop()
    part.end = end
    outer[-1].deepest = max(outer[-1].deepest, part.deepest)
    outer[-1].parts.append(part)


def read_part(text: str, part: Part) -> Any:
    content = text[part.start : part.end]
    if part.deepest <= DEEPEST:
        try:
            return json.loads(content)
        except json.JSONDecodeError:
            raise
        except ValueError:  # a number with too many digits
            pass
    values, count = part.parts, len(part.between)
    if not values or part.whole:
        return {"unread": content}
    if part.brackets == "[]" and part.between == "," * count:
        return [read_part(text, value) for value in values]
    if part.brackets == "{}" and part.between == (":," * count)[:count] and count % 2:
        names = [json.loads(text[name.start : name.end]) for name in values[::2]]
        if all(isinstance(name, str) for name in names):
            return {name: read_part(text, value) for name, value in zip(names, values[1::2], strict=True)}
    raise ValueError("neither a list nor an object")


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
        case "value_error":  # a sentence of ours
            steps, words = fault["loc"], fault["msg"].removeprefix("Value error, ")
            if len(steps) <= 1:  # of all of it, whose kind says nothing to a person
                return f"{words[:1].upper()}{words[1:]}."
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


#: Whoever gets this is to show nothing any more that it was shown before: its browser throws away what it keeps of its
#: own accord, pictures above all, and leaves alone what the app keeps. Source: W3C, Clear Site Data, `cache`.
FORGET_SHOWN = {"Clear-Site-Data": '"cache"'}


def number(request: Request, name: str, default: int, *, least: int = 0) -> int:
    """A whole number from the address. Raises Unreadable for anything else, and for less than the least."""
    text = request.query_params.get(name, str(default))
    if not (text.isascii() and text.isdigit()) or len(text) > 15 or int(text) < least:
        raise Unreadable(f"{name}: it takes a whole number from {least} up.")
    return int(text)
