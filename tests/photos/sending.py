"""Sending a large photo as a phone does, and as a phone whose line goes dead."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from contextlib import contextmanager

import httpx

from tests.builders import digest
from tests.conftest import Office
from tests.phone import Phone


def send(
    phone: Phone,
    content: bytes,
    *,
    offset: int = 0,
    upto: int | None = None,
    name: str = "",
    length: int | None = None,
) -> httpx.Response:
    """PATCH some of a photo; `name` and `length` where they are not what the bytes say."""
    headers = {"Upload-Offset": str(offset), "Upload-Length": str(length or len(content))}
    return phone.client.patch(
        f"/photos/{name or digest(content)}", content=content[offset:upto], headers=headers
    )


@contextmanager
def dead_line(
    office: Office, phone: Phone, method: str, path: str, body: bytes, *, sent: int, headers: str = ""
) -> Iterator[socket.socket]:
    """A request whose line goes silent after so many bytes of its body, and stays open for the block."""
    cookie = "; ".join(f"{name}={value}" for name, value in phone.client.cookies.items())
    head = (
        f"{method} {path} HTTP/1.1\r\nHost: 127.0.0.1:{office.port}\r\nOrigin: {office.address}\r\n"
        f"Cookie: {cookie}\r\nContent-Length: {len(body)}\r\n{headers}\r\n"
    )
    with socket.create_connection(("127.0.0.1", office.port), timeout=20) as line:
        line.sendall(head.encode() + body[:sent])
        yield line


def answer_on(line: socket.socket) -> str:
    """All that comes until the other side closes."""
    pieces = []
    while piece := line.recv(65536):
        pieces.append(piece)
    return b"".join(pieces).decode()
