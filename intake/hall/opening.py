"""The hall is open: its name is answered to, and the page that brings the certificate is served beside the office."""

from __future__ import annotations

import asyncio
import contextlib
import os
import socket
from collections.abc import AsyncIterator, Callable, Iterator, Sequence
from contextlib import asynccontextmanager
from dataclasses import dataclass

import uvicorn
from starlette.applications import Starlette

from intake.connections import PatientConnection
from intake.errors import HallNotReady
from intake.hall.certificates import HallCertificates
from intake.hall.local_name import LOOK_EVERY_S, Look, answering, require_free
from intake.hall.network import Reachable, reachable
from intake.hall.trust_page import build_trust_app
from intake.tagging.qr import qr_terminal

PAGE_PORT = 8766
NO_NETWORK = (
    "This machine is in no network that a phone could join. Share its connection in its own settings, or join the "
    "hall's Wi-Fi: the address for phones appears here by itself."
)


@dataclass(frozen=True)
class Hall:
    """An open hall: its certificates, the office's address in it, and the port of the page for phones."""

    certificates: HallCertificates
    address: str
    page_port: int


class PageServer(uvicorn.Server):
    """A server beside the office's own, which alone hears Ctrl-C and SIGTERM and ends this one."""

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        yield


@asynccontextmanager
async def open_hall(
    certificates: HallCertificates,
    *,
    port: int,
    page_port: int = PAGE_PORT,
    look: Look = reachable,
    look_every_s: float = LOOK_EVERY_S,
    say: Callable[[str], None] = print,
) -> AsyncIterator[Hall]:
    """Answer to the name and serve the page for as long as the block lasts; `port` is the office's own.

    `say` gets what the person at the laptop is to read: at the start, and when the machine's networks change.
    Raises HallNotReady if the page's port is in use, or another machine answers to the name.
    """
    with page_socket(page_port) as listener:
        there = await asyncio.to_thread(look)
        await require_free(certificates.name, there)
        hall = Hall(certificates, f"https://{certificates.name}:{port}", listener.getsockname()[1])
        page = build_trust_app(certificates, hall.address)
        async with (
            served(page, listener),
            answering(
                certificates.name,
                hall.page_port,
                look=look,
                look_every_s=look_every_s,
                changed=lambda there: say(page_words(hall, there)),
            ),
        ):
            say(opening_words(hall, there))
            yield hall


@contextlib.contextmanager
def page_socket(port: int) -> Iterator[socket.socket]:
    """The page's own socket on every network. Raises HallNotReady if it cannot be had."""
    with socket.socket() as listener:
        if os.name == "posix":  # elsewhere the option would share the port with another office
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listener.bind(("0.0.0.0", port))
            listener.listen()
        except OSError as error:
            raise HallNotReady(
                f"The page for phones cannot be served on port {port}: {error.strerror}.",
                hint="If another office runs here, end it. Else name a free port with --page-port.",
            ) from error
        yield listener


@asynccontextmanager
async def served(app: Starlette, listener: socket.socket) -> AsyncIterator[None]:
    """Serve it on this socket until the block ends."""
    server = PageServer(
        uvicorn.Config(
            app,
            http=PatientConnection,
            access_log=False,
            log_level="warning",
            lifespan="off",
            timeout_graceful_shutdown=1,
        )
    )
    serving = asyncio.create_task(server.serve([listener]))
    try:
        yield
    finally:
        server.should_exit = True
        await serving


def page_addresses(page_port: int, there: Sequence[Reachable]) -> list[str]:
    """Where phones find the page, the likeliest first: by number, since a phone may not know the name yet."""
    return [f"http://{one.address}:{page_port}" for one in there]


def opening_words(hall: Hall, there: Sequence[Reachable]) -> str:
    """What the person at the laptop reads, with the code for phones to scan."""
    certificates = hall.certificates
    return "\n".join(
        [
            page_words(hall, there),
            f"  2. It shows six groups to compare:  {' '.join(certificates.groups)}",
            f"  3. Then the app is at {hall.address}",
            f"Nobody has the key that signed this; phones trust it until {certificates.valid_until:%B %Y}.\n",
        ]
    )


def page_words(hall: Hall, there: Sequence[Reachable]) -> str:
    """The page's addresses as a code and in words, or that there is none."""
    pages = page_addresses(hall.page_port, there)
    if not pages:
        return f"\n{NO_NETWORK}\n"
    others = f"\n     If it does not load: {', '.join(pages[1:])}" if pages[1:] else ""
    return (
        f"{qr_terminal(pages[0])}\n"
        f"  1. Each phone joins this machine's network and opens this page once: {pages[0]}{others}"
    )
