"""Connections that say nothing never keep anybody out, and none waits for nothing."""

from __future__ import annotations

import asyncio
import socket
import subprocess
import sys
from contextlib import ExitStack
from pathlib import Path

import httpx
import pytest

from intake.bench.served import free_port, until_open
from intake.office import Office as IntakeOffice
from intake.serving import bound
from intake.settings import Settings
from tests.builders import Ids
from tests.conftest import Clock, Office, in_own_loop, running


def open_silent(stack: ExitStack, port: int, how_many: int, said: bytes = b"") -> list[socket.socket]:
    made = []
    for _ in range(how_many):
        made.append(stack.enter_context(socket.create_connection(("127.0.0.1", port), timeout=20)))
        made[-1].sendall(said)
    return made


def is_closed(line: socket.socket) -> bool:
    try:
        return line.recv(1) == b""
    except ConnectionResetError:
        return True


@pytest.mark.parametrize("said", [b"", b"GET /health HTTP/1.1\r\nHost: ", b"\r\n"])
def test_the_longest_silent_go_when_there_are_too_many(
    office: Office, monkeypatch: pytest.MonkeyPatch, said: bytes
) -> None:
    monkeypatch.setattr("intake.connections.SILENT_LIMIT", 20)
    with ExitStack() as stack:
        lines = open_silent(stack, office.port, 60, said)
        assert office.client().get("/health").status_code == 200
        assert all(is_closed(line) for line in lines[:40])
        lines[-1].sendall(b"GET /health HTTP/1.1\r\nHost: h\r\n\r\n" if not said else b"h\r\n\r\n")
        if said != b"\r\n":
            assert lines[-1].recv(12) == b"HTTP/1.1 200"


@pytest.mark.parametrize(
    "said", [b"", b"GET /health HTTP/1.1\r\nHost: h", b"GET /health HTTP/1.1\r\nHost: h\r\n\r\nGET /he"]
)
def test_a_head_has_a_time_to_arrive_in(office: Office, monkeypatch: pytest.MonkeyPatch, said: bytes) -> None:
    monkeypatch.setattr("intake.connections.HEAD_S", 0.2)
    with ExitStack() as stack:
        (line,) = open_silent(stack, office.port, 1, said)
        while True:  # what was asked in whole is answered, then the office closes
            try:
                if not line.recv(65536):
                    break
            except ConnectionResetError:
                break
    assert office.client().get("/health").status_code == 200


def test_half_open_connections_never_use_up_what_a_process_may_open(tmp_path: Path) -> None:
    """A real process that may open 280 files, and 400 connections that say nothing."""
    resource = pytest.importorskip("resource", reason="only POSIX systems have such a limit")
    port = free_port()
    process = subprocess.Popen(
        [sys.executable, "-m", "intake", "serve", "--data", str(tmp_path), "--port", str(port)],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_NOFILE, (280, 280)),
    )
    try:
        in_own_loop(lambda: until_open(process, port))
        with ExitStack() as stack:
            open_silent(stack, port, 400)
            assert httpx.get(f"http://127.0.0.1:{port}/health", timeout=5).status_code == 200
    finally:
        process.terminate()
        process.wait(20)


def test_an_answer_in_two_parts_does_not_wait_for_the_other_side() -> None:
    """On every loop that serves, Python's own as well. Source: RFC 1122, 4.2.3.4 (Nagle), and tcp(7), TCP_NODELAY."""
    with bound("127.0.0.1", 0) as listener, socket.create_connection(listener.getsockname()) as phone:
        accepted, _ = listener.accept()
        with accepted, phone:
            assert accepted.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY)


@pytest.mark.parametrize("turns", range(5))
def test_a_phone_that_comes_as_the_office_ends_is_not_left_waiting(
    settings: Settings, clock: Clock, ids: Ids, monkeypatch: pytest.MonkeyPatch, turns: int
) -> None:
    """Its connection closes with all others, however far it has come, and the phone asks again."""
    came: list[socket.socket] = []
    end_streams = IntakeOffice.end_streams

    async def end_streams_late(office: IntakeOffice) -> None:
        await end_streams(office)
        if came:
            return  # it is asked twice
        came.append(socket.create_connection(("127.0.0.1", port)))
        for _ in range(
            turns
        ):  # of the loop: it is not accepted yet, or accepted, or taken, as the server ends
            await asyncio.sleep(0)

    monkeypatch.setattr(IntakeOffice, "end_streams", end_streams_late)
    with running(settings, clock, ids) as office:
        port = office.port
    with came[0] as phone:
        phone.settimeout(5)
        assert is_closed(phone)
