"""One version of the office behind its door, with no line before it: what it takes of the processor, turn by turn.

Run as a program, with the checkout that is to be measured first on PYTHONPATH, so that two versions can take turns. It
asks of a version only what versions have long had: its routes, `answer_batch`, and the bench's own pile. A turn is done
for each line that is read, and printed as one line of JSON: milliseconds of the processor by what was asked.
"""

from __future__ import annotations

import asyncio
import json
import statistics
import sys
import time
from collections.abc import Awaitable, Callable
from functools import partial
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response

from intake.access.devices import stamp
from intake.bench.pile import Pile
from intake.bench.upload import prepare
from intake.settings import Settings, utc_now
from intake.sync.operations import answer_batch
from intake.sync.routes import get_feed, post_operations
from intake.system import keep_freed_memory

try:
    from intake.opening import open_office
except ImportError:  # versions of before had it there
    from intake.office import open_office  # type: ignore[attr-defined, no-redef]
try:
    from intake.system import spare_what_is_loaded
except ImportError:  # nor did they do this

    def spare_what_is_loaded() -> None:
        """Nothing."""


PHOTOS = [bytes([number]) * 1000 for number in range(6)]  # of an item, which is 23 operations with them
Handler = Callable[[Request], Awaitable[Response]]


class Behind:
    """An office, a table's device with its secret, and the two days on which it works: what is read does not grow by
    what is sent."""

    def __init__(self, office: Any, device_id: str, secret: str) -> None:
        self._office, self._device_id, self._secret = office, device_id, secret
        self._records = 0  # that are read
        self._pile = Pile(1, device_id)
        self._read_day = self._sent_day = ""
        self._visit: dict[str, Any] = {}

    async def begin(self, manager: str, items: int) -> None:
        """Open the days, and put on the first so many items, which are read."""
        self._records = items + 2
        days = [{**self._pile.day(), "device_id": manager, "device_seq": seq} for seq in (1, 2)]
        await self._answer(days, manager, "manager")
        self._read_day, self._sent_day = (day["day_id"] for day in days)
        self._pile = Pile(2, self._device_id)
        visit = self._pile.visit(self._read_day)
        self._visit = self._pile.visit(self._sent_day)
        made = [operation for _ in range(items) for operation in self._pile.record(visit, PHOTOS)]
        await self._answer([visit, self._visit, *made], self._device_id, "table")

    async def turn(self, times: int) -> dict[str, float]:
        """The median of each, asked so many times, and the mean, which has in it what takes long now and then. Pages
        are read one after another, as by the devices of a table when a day begins."""
        asked = {"batch": self._batch, "upload": self._upload, "first": self._first_page, "page": self._page}
        taken = {name: [await ask() for _ in range(times)] for name, ask in asked.items()}
        medians = {name: statistics.median(each) for name, each in taken.items()}
        return medians | {f"mean {name}": statistics.fmean(each) for name, each in taken.items()}

    async def _batch(self) -> float:
        """An item's operations answered, without reading them from JSON and without the commit."""
        return await self._answer(self._pile.record(self._visit, PHOTOS), self._device_id, "table")

    async def _upload(self) -> float:
        """The same as a request, with its commit."""
        body = json.dumps({"operations": self._pile.record(self._visit, PHOTOS)}).encode()
        taken, answer = await self._ask(post_operations, "POST", "/sync/operations", body=body)
        check_kept(json.loads(answer)["answers"])
        return taken

    async def _first_page(self) -> float:
        """A page of the feed with all of a day, of which nothing is ready since it was sent to another device."""
        if (
            ready := getattr(self._office, "ready", None)
        ) is not None:  # versions of before had nothing ready
            self._office.ready = type(ready)()
        return await self._page()

    async def _page(self) -> float:
        """A page of the feed with all of a day."""
        asked = {"after": 0, "limit": 500, "day_id": self._read_day, "table_id": ""}
        taken, page = await self._ask(get_feed, "GET", "/sync/feed", query=urlencode(asked))
        found = len(json.loads(page)["records"])
        if found < self._records:
            raise RuntimeError(f"The page has {found} records.")
        return taken

    async def _answer(self, operations: list[Any], device_id: str, role: str) -> float:
        answering = partial(answer_batch, sent=operations, device_id=device_id, role=role)
        taken, answers = await self._office.database.write(
            partial(timed, partial(answering, received_at=stamp(utc_now())))
        )
        check_kept(answers)
        return float(taken)

    async def _ask(
        self, handler: Handler, method: str, path: str, *, query: str = "", body: bytes = b""
    ) -> tuple[float, bytes]:
        async def receive() -> dict[str, Any]:
            return {"type": "http.request", "body": body, "more_body": False}

        headers = {"host": "127.0.0.1", "cookie": f"intake={self._secret}", "content-length": str(len(body))}
        scope = {
            "type": "http",
            "method": method,
            "path": path,
            "query_string": query.encode(),
            "headers": [(name.encode(), value.encode()) for name, value in headers.items()],
            "state": {"office": self._office},
        }
        began = time.process_time()
        reply = await handler(Request(scope, receive))
        return 1000 * (time.process_time() - began), bytes(reply.body)


def timed(job: Callable[[Any], Any], tx: Any) -> tuple[float, Any]:
    """Milliseconds of the processor that a job took, and what it returned."""
    began = time.process_time()
    result = job(tx)
    return 1000 * (time.process_time() - began), result


def check_kept(answers: list[dict[str, Any]]) -> None:
    refused = [answer for answer in answers if answer["outcome"] != "kept"]
    if refused:
        raise RuntimeError(f"The office refused what the bench sent: {refused[0]}")


async def take_turns(folder: Path, times: int, items: int) -> None:
    """Open an office in an empty folder, and do a turn for each line that is read."""
    keep_freed_memory()
    [(manager, _), (device_id, secret)] = await prepare(folder, 2)
    async with open_office(Settings(folder)) as office:
        spare_what_is_loaded()
        behind = Behind(office, device_id, secret)
        await behind.begin(manager, items)
        print("ready", flush=True)
        while await asyncio.to_thread(sys.stdin.readline):
            print(json.dumps(await behind.turn(times)), flush=True)


if __name__ == "__main__":
    asyncio.run(take_turns(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])))
