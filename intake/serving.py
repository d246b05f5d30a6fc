"""Serving an office until it is stopped: the folder held, the port bound, then the tables open, then told to people.

Everything that can be wrong is found out before the first line is printed and before a pairing code is made.
"""

from __future__ import annotations

import asyncio
import contextlib
import errno
import logging
import socket
import sys
from collections.abc import Awaitable, Callable, Coroutine, Iterator
from dataclasses import replace
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any

import uvicorn
from starlette.applications import Starlette

from intake.access.devices import PairingCode, make_code
from intake.access.routes import pairing_address
from intake.address import reach_warning
from intake.app import build_app
from intake.connections import PatientConnection
from intake.copies.at_start import keep_copies, settle_key
from intake.copies.source import files_below
from intake.data_folder import check_may_begin, check_tables, full_disk_told, was_served
from intake.ending import Ending
from intake.errors import CommandError
from intake.examination.plans import Plans, load_plans
from intake.hall.asked import PAGE_PORT, HallAsked
from intake.hall.opening import Hall, open_hall, settings_in_hall, settled_port
from intake.lock import last_plans, note, only_one
from intake.office import Office
from intake.opening import open_office
from intake.settings import EVERYWHERE, Settings
from intake.sync.looking_over import look_for_gaps
from intake.system import close_to_others, keep_freed_memory, spare_what_is_loaded
from intake.tagging.qr import qr_terminal

#: Opens what stands round the office: a hall, or nothing.
Opening = Callable[[], contextlib.AbstractAsyncContextManager[Hall | None]]

OFFICE_OF_A_HALL = (
    "End the other program, perhaps an office that runs already: phones know an office by its port, and at another "
    "one they would find it empty."
)
UNHEARD_HALL = (
    "Note: phones know this office in a hall, and it is not served there now: they cannot send to it. To serve them, "
    "stop it and type the same command with --hall added."
)
ENDING_S = 1  # requests under way at the end have this long; a stream ends at once, an upload resumes


def run_office(
    settings: Settings,
    *,
    hall: HallAsked | None = None,
    begin_empty: bool = False,
    before: Callable[[Plans], Coroutine[Any, Any, object]] | None = None,
) -> int:
    """Hold folder and ports, do what comes before, serve until SIGTERM or Ctrl-C; the exit code.

    With something to do before it this is a demo, which shows a pairing code at every start. `begin_empty`: an
    empty office may be begun beside what is left of another. Raises CommandError, LogHasGaps, and HallNotReady where a
    hall was asked for.
    """
    with contextlib.ExitStack() as held:
        held.enter_context(full_disk_told(settings.data_folder))
        held.enter_context(only_one(settings.data_folder, "serving"))
        close_to_others(settings.data_folder)
        if hall is not None:
            settings = replace(settings, port=settled_port(settings, hall))
        instead = OFFICE_OF_A_HALL if hall is not None else another_port("--port", settings.port, PAGE_PORT)
        listener = held.enter_context(contextlib.closing(bound(settings.host, settings.port, instead)))
        settings = replace(settings, port=listener.getsockname()[1])
        opening: Opening = contextlib.nullcontext
        if hall is not None:
            instead = another_port("--page-port", hall.page_port, settings.port)
            page = held.enter_context(contextlib.closing(bound(EVERYWHERE, hall.page_port, instead)))
            hall = replace(hall, page_port=page.getsockname()[1])
            settings, certificates = settings_in_hall(settings, hall)
            opening = partial(
                open_hall, certificates, settings.address, page, answers_ipv6=":" in settings.host
            )
        plans = load_plans(settings.plans_folder)  # read once; a mistake in them is told in words
        if not begin_empty:
            check_may_begin(settings)
        begun = begun_words(settings.data_folder) if before is None and not was_served(settings) else ""
        check_tables(settings.database_file)
        asyncio.run(look_for_gaps(settings))
        settle_key(settings)
        if before is not None:
            asyncio.run(before(plans))
        return on_server_loop(
            serve(settings, plans, listener, opening, begun=begun, always_pair=before is not None)
        )


def on_server_loop(work: Coroutine[Any, Any, int]) -> int:
    """Run it on the loop that uvicorn takes for itself: uvloop where it is installed, much faster with large bodies."""
    keep_freed_memory()
    with asyncio.Runner(loop_factory=uvicorn.Config("").get_loop_factory()) as runner:
        return runner.run(work)


async def serve(
    settings: Settings,
    plans: Plans,
    listener: socket.socket,
    opening: Opening,
    *,
    begun: str,
    always_pair: bool,
) -> int:
    """Run the server until it is told to end; open streams end first, then the tables close.

    `opening` opens the hall round it, if there is one; `begun` is said of an office that is served the first time.
    """
    logging.basicConfig(
        level=logging.INFO,
        format="%(asctime)s %(name)s %(message)s",
        datefmt="%Y-%m-%d %H:%M:%S",
        stream=sys.stderr,
    )
    with Ending() as ending:
        async with open_office(settings, plans) as office, opening() as hall:
            await keep_copies(
                office.copies, office.database, office.settings
            )  # what is refused, before phones come

            async def tell_people() -> None:
                if hall is not None:
                    print(hall.words(), flush=True)
                await announce(office, always_pair=always_pair)
                if begun:
                    print(begun, flush=True)

            server = OfficeServer(server_config(settings, build_app(settings, office)), tell_people)
            ending.pass_on(server.handle_exit)
            spare_what_is_loaded()
            await server.serve([listener])
    return ending.code if server.started else 1


def server_config(settings: Settings, app: Starlette) -> uvicorn.Config:
    """How the HTTP server works for us: a caller's own address is taken from a proxy only where one was named."""
    return uvicorn.Config(
        app,
        http=PatientConnection,
        access_log=False,
        log_level="warning",
        proxy_headers=bool(settings.behind_proxy),
        forwarded_allow_ips=settings.behind_proxy or None,
        server_header=False,
        ssl_certfile=settings.tls_certificate,
        ssl_keyfile=settings.tls_key,
        timeout_graceful_shutdown=ENDING_S,
    )


class OfficeServer(uvicorn.Server):
    """The HTTP server, with a word to people once it answers, and open streams ended before it waits for them."""

    def __init__(self, config: uvicorn.Config, tell_people: Callable[[], Awaitable[None]]) -> None:
        super().__init__(config)
        self._tell_people = tell_people

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Signals are heard by `Ending`, which outlives the server."""
        yield

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        if self.started:
            await self._tell_people()

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        office: Office = self.config.app.state.office  # type: ignore[union-attr]
        await office.end_streams()
        await super().shutdown(sockets)
        # One that was taken while the others were told to end knows nothing of it, and would be answered by nobody.
        for connection in list(self.server_state.connections):
            connection.transport.abort()


def another_port(option: str, port: int, taken: int) -> str:
    """What a person may do whose port is in use: never take the one that is taken by the other half of a hall."""
    free = next(other for other in (port + 1, port + 2) if other != taken)
    return f"Perhaps an office runs there already. End it, or take another port, such as {option} {free}."


def bound(host: str, port: int, instead: str = "") -> socket.socket:
    """A socket that listens there, on IPv4 as well where all of IPv6 is asked for. Raises CommandError.

    `instead` says what to do where another program has the port.
    """
    try:
        family, *_, address = socket.getaddrinfo(
            host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE
        )[0]
        both = host == "::" and socket.has_dualstack_ipv6()
        listener = socket.create_server(address[:2], family=family, backlog=2048, dualstack_ipv6=both)
        # What it accepts inherits this. Python's own loop, which serves where there is no uvloop, sets it only on
        # sockets that name their protocol; without it an answer in two parts waits 40 ms and more for the other side.
        listener.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        return listener
    except OSError as error:
        raise cannot_listen(error, host, port, instead) from error


def cannot_listen(error: OSError, host: str, port: int, instead: str) -> CommandError:
    """Why nobody can listen there, and what to do."""
    if error.errno == errno.EADDRINUSE:
        return CommandError(f"Port {port} on {host} is in use by another program.", hint=instead)
    if error.errno in (errno.EACCES, errno.EPERM):
        return CommandError(
            f"This account may not listen on port {port}.",
            hint="Take a port above 1023, such as 8765, with a proxy before it (`intake service --proxy`).",
        )
    return CommandError(
        f"This machine cannot listen on {host} ({error.strerror or error}).",
        hint="Name an address of this machine with --host: 127.0.0.1 for itself, 0.0.0.0 for the whole network.",
    )


def begun_words(folder: Path) -> str:
    """What is said last when an office is begun: a slip in its folder's name begins one, too."""
    return (
        f"A new, empty office was begun in {folder}. If one was to be there already, stop this one (Ctrl-C) before a "
        "phone is paired: look for its folder and name it with --data (the one with intake.sqlite3 in it), or bring it "
        "back from a copy: `intake restore COPY --data NEW`."
    )


async def announce(office: Office, *, always_pair: bool) -> None:
    """Print where the office is, and a manager's code if nobody is paired yet; keep the address for `pair`."""
    settings = office.settings
    address = settings.shown_address
    plans = str(settings.plans_folder.absolute()) if settings.plans_folder else ""
    unfound = plans_unfound(settings)
    note(settings.data_folder, address=address, plans=plans)
    paired = await office.database.read(
        lambda tx: tx.value("SELECT count(*) FROM device WHERE revoked_at IS NULL")
    )
    if always_pair or not paired:
        now = office.now()
        code = await office.database.write(lambda tx: make_code(tx, role="manager", name="Manager", now=now))
        print_code(code, address)
    print(f"The office is at {address}  (data in {settings.data_folder}; stop with Ctrl-C)", flush=True)
    if settings.page_port is None and (settings.data_folder / "hall").is_dir():
        print(UNHEARD_HALL, flush=True)
    if unfound:
        print(unfound, flush=True)


def plans_unfound(settings: Settings) -> str:
    """What to say where the house has plans and words of its own, and the office does not find them; else empty."""
    now, before = settings.plans_folder, last_plans(settings.data_folder)
    if now is not None and not any(files_below(now)):
        return (
            f"Note: nothing is in {now}, where the house's own plans are to be, and the office is served with the "
            "shipped ones alone. Where they lie on a share or a stick, see that it is there, and start again."
        )
    if now is None and before is not None:
        return (
            f"Note: this office was served last with the house's own plans in {before}, and is served with the shipped "
            f"ones alone now. To have them back, start it again with --plans {before} added."
        )
    return ""


def print_code(code: PairingCode, address: str) -> None:
    """A pairing code as text and as a QR in the terminal, and what keeps a phone from its address."""
    print(qr_terminal(pairing_address(address, code.code)))
    print(f"Pairing code for {code.name} ({code.role}): {code.shown}")
    print(f"It works once, until {local_time(code.expires_at)}. Open {address} on the device and type it.")
    warning = reach_warning(address)
    print(f"{f'Note: {warning}' if warning else ''}\n", flush=True)


def local_time(moment: datetime) -> str:
    """A moment by this machine's clock on the wall, to the minute."""
    return f"{moment.astimezone():%H:%M}"
