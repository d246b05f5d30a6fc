"""The hall is open: its name is answered to, and the page that brings the certificate is served beside the office."""

from __future__ import annotations

import asyncio
import contextlib
import socket
from collections.abc import AsyncIterator, Callable, Iterator, Sequence
from contextlib import asynccontextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from urllib.parse import urlsplit

import uvicorn
from starlette.applications import Starlette

from intake.address import origin_of
from intake.connections import PatientConnection
from intake.errors import HallNotReady
from intake.hall.asked import HallAsked
from intake.hall.certificates import (
    HallCertificates,
    hall_certificates,
    label_of,
    read_certificates,
    require_known_name,
)
from intake.hall.local_name import LOOK_EVERY_S, Look, answering, require_free
from intake.hall.network import Reachable, reachable
from intake.hall.trust_page import build_trust_app
from intake.settings import Settings
from intake.tagging.qr import qr_terminal

PORT_FILE = "port"  # in the hall's folder, beside the certificates that hold its name
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
    there: Sequence[Reachable]

    def words(self) -> str:
        """What the person at the laptop reads at the start, with the code for phones to scan."""
        return "\n".join(
            [
                page_words(self.page_port, self.there),
                f"  2. It shows six groups to compare:  {' '.join(self.certificates.groups)}",
                f"  3. Then the app is at {self.address}",
                *self.manager_words(),
                f"Nobody has the key that signed this; phones trust it until {self.certificates.valid_until:%B %Y}.\n",
            ]
        )

    def manager_words(self) -> list[str]:
        """Where the manager works: this machine's own browser has to trust the office, too."""
        by_itself = origin_of("https", "localhost", urlsplit(self.address).port or 443)
        return [
            "The manager works in this machine's own browser, which needs the certificate as phones do:",
            f"  http://127.0.0.1:{self.page_port} brings it; then {self.address}, "
            f"or always {by_itself} if that does not open.",
        ]


def settled_port(settings: Settings, asked: HallAsked) -> int:
    """The port to serve the office on: the one phones know, where they know one. Nothing is made or listened on yet.

    A port is a part of a web origin (RFC 6454, section 4): under another one every phone would find its app empty.
    Raises HallNotReady for a name or a port that is not the one phones know, or that cannot be one.
    """
    folder, port = settings.data_folder / "hall", settings.port
    if folder.exists() and not asked.anew:
        require_known_name(read_certificates(folder), asked.name)
        port = known_port(folder) or port
        if asked.port and asked.port != port:
            raise HallNotReady(
                f"Phones know this office at port {port}; at port {asked.port} they would find it empty.",
                hint="Leave --port out. To change it all the same, bring in everything that phones still hold, then "
                "start once with the new port and --new-certificate.",
            )
    elif asked.name is not None:
        label_of(asked.name)
    if port and port == asked.page_port:
        raise HallNotReady(
            f"The office and the page for phones cannot both be at port {port}.",
            hint=f"Leave --page-port out, or name another one: --page-port {port + 1}",
        )
    return port


def known_port(hall_folder: Path) -> int | None:
    """The port at which phones know the office; None if it was not kept, or cannot be read."""
    try:
        return int((hall_folder / PORT_FILE).read_text("utf-8"))
    except (OSError, ValueError):
        return None


def settings_in_hall(settings: Settings, asked: HallAsked) -> tuple[Settings, HallCertificates]:
    """The settings of an office in a hall, whose own port is known already, and its certificates.

    Whoever calls it holds the data folder. Raises HallNotReady.
    """
    now = settings.clock()
    certificates = hall_certificates(
        settings.data_folder,
        name=asked.name,
        addresses=[host.address for host in reachable()],
        now=now,
        anew=asked.anew,
    )
    (certificates.folder / PORT_FILE).write_text(f"{settings.port}\n", "utf-8")
    fixed = ["localhost", *map(str, certificates.addresses)]
    in_hall = replace(
        settings,
        tls_certificate=certificates.certificate_file(now),
        tls_key=certificates.key_file,
        address=origin_of("https", certificates.name, settings.port),
        other_addresses=tuple(origin_of("https", host, settings.port) for host in fixed),
        page_port=asked.page_port,
    )
    return in_hall, certificates


class PageServer(uvicorn.Server):
    """A server beside the office's own, which alone hears Ctrl-C and SIGTERM and ends this one."""

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        yield


@asynccontextmanager
async def open_hall(
    certificates: HallCertificates,
    address: str,
    listener: socket.socket,
    *,
    answers_ipv6: bool = False,
    look: Look = reachable,
    look_every_s: float = LOOK_EVERY_S,
    say: Callable[[str], None] = print,
) -> AsyncIterator[Hall]:
    """Answer to the name and serve the page for as long as the block lasts.

    `address` is the office's own, `listener` the page's socket; `say` gets what the person at the laptop is to read
    when the machine's networks change. Raises HallNotReady if another machine answers to the name.
    """
    there = await asyncio.to_thread(look)
    await require_free(certificates.name, there)
    page_port = listener.getsockname()[1]
    async with (
        served(build_trust_app(certificates, address), listener),
        answering(
            certificates.name,
            page_port,
            answers_ipv6=answers_ipv6,
            look=look,
            look_every_s=look_every_s,
            changed=lambda there: say(page_words(page_port, there)),
        ),
    ):
        yield Hall(certificates, address, page_port, there)


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
    return [f"http://{host.address}:{page_port}" for host in there]


def page_words(page_port: int, there: Sequence[Reachable]) -> str:
    """The page's addresses as a code and in words, or that there is none."""
    pages = page_addresses(page_port, there)
    if not pages:
        return f"\n{NO_NETWORK}\n"
    others = f"\n     If it does not load: {', '.join(pages[1:])}" if pages[1:] else ""
    return (
        f"{qr_terminal(pages[0])}\n"
        f"  1. Each phone joins this machine's network and opens this page once: {pages[0]}{others}"
    )
