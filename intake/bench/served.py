"""A server of our own in a process of its own, what it cost, and a client that costs little."""

from __future__ import annotations

import asyncio
import http.client
import json
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, Protocol

from intake.system import processor_seconds


@dataclass
class Served:
    """A server process on a loopback port."""

    process: subprocess.Popen[bytes]
    port: int

    @property
    def origin(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def cpu_s(self) -> float:
        """Processor seconds that the server has used so far; not a number where the system does not tell."""
        return processor_seconds(self.process.pid)


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def serving(*command: str, port: int) -> Iterator[Served]:
    """Run `python -m ...` until the block ends; wait until it answers. Raises RuntimeError."""
    process = subprocess.Popen(
        [sys.executable, "-m", *command], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    try:
        asyncio.run(until_open(process, port))
        yield Served(process, port)
    finally:
        process.terminate()
        process.wait(20)


class Ending(Protocol):
    """A process that can be asked whether it has ended."""

    @property
    def returncode(self) -> int | None: ...

    def poll(self) -> int | None: ...


async def until_open(process: Ending, port: int) -> None:
    """Wait for the first byte of an answer: an office takes connections a moment before it answers them."""
    for _ in range(600):
        if process.poll() is not None:
            raise RuntimeError(f"The server ended with {process.returncode} before it answered.")
        try:
            reader, writer = await asyncio.open_connection("127.0.0.1", port)
            writer.write(b"GET /health HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n")
            answered = await reader.read(1)
            writer.close()
        except OSError:
            answered = b""
        if answered:
            return
        await asyncio.sleep(0.05)
    raise RuntimeError("The server did not answer within 30 seconds.")


def asked(served: Served, secret: str, path: str, sent: Any = None) -> bytes:
    """What the office answers. Raises RuntimeError unless it is a 200."""
    line = http.client.HTTPConnection("127.0.0.1", served.port)
    headers = {"Cookie": f"intake={secret}", "Origin": served.origin, "Content-Type": "application/json"}
    if sent is None:
        line.request("GET", path, headers=headers)
    else:
        line.request("POST", path, json.dumps(sent).encode(), headers)
    response = line.getresponse()
    body = response.read()
    line.close()
    if response.status != 200:
        raise RuntimeError(f"{path}: {response.status} {body[:300]!r}")
    return body


class Line:
    """One kept-open HTTP/1.1 connection. Only for servers of our own that send Content-Length."""

    def __init__(self, served: Served, cookie: str = "") -> None:
        self._served = served
        self._cookie = cookie

    async def __aenter__(self) -> Line:
        self._reader, self._writer = await asyncio.open_connection(
            "127.0.0.1", self._served.port, limit=2**26
        )
        return self

    async def __aexit__(self, *_: object) -> None:
        self._writer.close()

    async def ask(self, method: str, path: str, body: bytes = b"") -> bytes:
        """Send a request; the reply's body. Raises RuntimeError unless it is a 2xx."""
        head = (
            f"{method} {path} HTTP/1.1\r\nHost: 127.0.0.1:{self._served.port}\r\nOrigin: {self._served.origin}\r\n"
            f"Cookie: {self._cookie}\r\nContent-Type: application/octet-stream\r\n"
            f"Content-Length: {len(body)}\r\n\r\n"
        )
        self._writer.write(head.encode() + body)
        await self._writer.drain()
        response = (await self._reader.readuntil(b"\r\n\r\n")).decode()
        lines = response.lower().split("\r\n")
        length = next(int(line.split(":")[1]) for line in lines if line.startswith("content-length:"))
        answer = await self._reader.readexactly(length)
        if not lines[0].split()[1].startswith("2"):
            raise RuntimeError(f"{method} {path}: {lines[0]} {answer[:300]!r}")
        return answer
