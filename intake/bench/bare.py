"""The yardstick: a bare Starlette handler that writes one file and makes one SQLite transaction, nothing else.

Run as `python -m intake.bench.bare PORT FOLDER`.
"""

from __future__ import annotations

import asyncio
import itertools
import os
import sys
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import aiosqlite
import uvicorn
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route


def bare_app(folder: Path) -> Starlette:
    numbers = itertools.count()

    @asynccontextmanager
    async def lifespan(app: Starlette) -> AsyncIterator[dict[str, Any]]:
        async with aiosqlite.connect(folder / "bare.sqlite3", isolation_level=None) as database:
            await database.execute("PRAGMA journal_mode = WAL")
            await database.execute("PRAGMA synchronous = FULL")
            await database.execute("CREATE TABLE row (number INTEGER PRIMARY KEY, body BLOB)")
            yield {"database": database}

    async def post(request: Request) -> Response:
        body = await request.body()
        size, number = int.from_bytes(body[:4], "big"), next(numbers)
        await asyncio.to_thread(write, folder / str(number), body[4 + size :])
        await request.state.database.execute("INSERT INTO row VALUES (?, ?)", (number, body[4 : 4 + size]))
        return Response(b"ok")

    return Starlette(routes=[Route("/", post, methods=["POST"])], lifespan=lifespan)


def write(file: Path, content: bytes) -> None:
    with file.open("wb") as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())


if __name__ == "__main__":
    uvicorn.run(bare_app(Path(sys.argv[2])), port=int(sys.argv[1]), log_level="error", access_log=False)
