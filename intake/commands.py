"""The commands a person types: demo, serve, pair, verify, rebuild, erase, bench."""

from __future__ import annotations

import argparse
import asyncio
import logging
import secrets
import sys
import time
from collections.abc import Coroutine, Sequence
from pathlib import Path
from typing import Any

import uvicorn

from intake.access.devices import ROLES, PairingCode, make_code, stamp
from intake.access.routes import pairing_address
from intake.app import build_app
from intake.connections import PatientConnection
from intake.database import opened
from intake.errors import IntakeError
from intake.examination.plans import load_plans
from intake.examination.plans import main as check_plans
from intake.settings import Settings, default_data_folder, utc_now
from intake.setup.version import version
from intake.sync.erasing import erase_consignor
from intake.sync.rebuild import find_faults, rebuild
from intake.system import keep_freed_memory
from intake.tagging.qr import qr_terminal

PORT = 8765


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the exit code."""
    options = parser().parse_args(arguments)
    try:
        code: int = options.run(options)
    except IntakeError as error:
        print(f"{error.detail}\n{error.hint}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130
    return code


def parser() -> argparse.ArgumentParser:
    top = argparse.ArgumentParser(prog="intake", description="The valuation-day intake desk.")
    top.add_argument("--version", action="version", version=f"intake {version()}")
    top.add_argument("-v", "--verbose", action="store_true", help="show all that getting ready prints")
    commands = top.add_subparsers(required=True, metavar="COMMAND")

    def command(name: str, run: object, words: str) -> argparse.ArgumentParser:
        one = commands.add_parser(name, help=words, description=words)
        one.add_argument(
            "--data",
            type=Path,
            default=default_data_folder(),
            metavar="FOLDER",
            help="where everything is kept",
        )
        one.set_defaults(run=run)
        return one

    def listening(one: argparse.ArgumentParser) -> None:
        one.add_argument(
            "--host", default="127.0.0.1", help="address to listen on; 0.0.0.0 for the whole network"
        )
        one.add_argument("--port", type=int, default=PORT)
        one.add_argument("--tls-certificate", type=Path, metavar="FILE", help="certificate chain (PEM)")
        one.add_argument("--tls-key", type=Path, metavar="FILE", help="its private key (PEM)")
        one.add_argument(
            "--plans",
            type=Path,
            metavar="FOLDER",
            help="the house's own plans, words and cautions (default: the folder `house` in the data folder)",
        )
        one.add_argument("--address", help="what phones type or scan, such as https://intake.example.org")

    serving = command("serve", run_serve, "Serve the office until it is stopped.")
    listening(serving)
    serving.add_argument(
        "--withdraw-app",
        action="store_true",
        help="make phones forget the copy of the app they keep and fetch a fresh one; what they hold stays",
    )
    demo = command("demo", run_demo, "Serve an invented valuation day to try things on.")
    listening(demo)
    demo.add_argument("--fresh", action="store_true", help="throw the demo's earlier data away first")
    demo.set_defaults(data=default_data_folder().with_name(default_data_folder().name + "-demo"))
    pairing = command("pair", run_pair, "Make a code that pairs one device, once, within ten minutes.")
    pairing.add_argument("--as", dest="role", choices=ROLES, required=True, help="what the device may do")
    pairing.add_argument("--name", required=True, help='what to call it, such as "Table 2"')
    pairing.add_argument("--address", default=f"http://127.0.0.1:{PORT}", help="where the office is reached")
    checking = command(
        "check-plans", run_check_plans, "Name file and line of every mistake in a house's own plans."
    )
    checking.add_argument(
        "folder", type=Path, nargs="?", help="the house's folder; without it the shipped ones"
    )
    command("verify", run_verify, "Check the log's chain, every table against the log, and every photo.")
    command("rebuild", run_rebuild, "Build every table anew from the log. Stop the office first.")
    erase = command("erase", run_erase, "Erase a consignor's personal words for good. Stop the office first.")
    erase.add_argument("visit_id", help="the visit whose consignor is erased")
    bench = command(
        "bench", run_bench, "Measure this machine: ratios against a bare handler and a bare query."
    )
    bench.add_argument("--quick", action="store_true", help="smaller sizes, for a first look")
    bench.add_argument("--only", default="", help="letters of the parts to run: abcdef")
    return top


def settings_of(options: argparse.Namespace) -> Settings:
    address, house = options.address or "", options.data / "house"
    return Settings(
        data_folder=options.data,
        secure_cookie=bool(options.tls_certificate) or address.startswith("https:"),
        withdraw_app=getattr(options, "withdraw_app", False),
        plans_folder=options.plans or (house if house.is_dir() else None),
    )


def run_serve(options: argparse.Namespace) -> int:
    """Serve; on the very first start show the manager's pairing code."""
    settings = settings_of(options)
    address = address_of(options)
    return on_server_loop(serve(settings, options, address, always_pair=False))


def run_demo(options: argparse.Namespace) -> int:
    """Seed the invented day if it is not there, then serve it and show a manager's pairing code."""
    from intake.demo import seed_day, throw_away  # seeding draws pictures; no other command needs that

    settings = settings_of(options)
    if options.fresh:
        throw_away(settings.data_folder)
    asyncio.run(seed_day(settings))
    return on_server_loop(serve(settings, options, address_of(options), always_pair=True))


def run_check_plans(options: argparse.Namespace) -> int:
    """The exit code is 1 if there is a mistake."""
    return check_plans([str(options.folder)] if options.folder else [])


def address_of(options: argparse.Namespace) -> str:
    scheme = "https" if options.tls_certificate else "http"
    host = "127.0.0.1" if options.host == "0.0.0.0" else options.host
    return str(options.address or f"{scheme}://{host}:{options.port}").rstrip("/")


def on_server_loop(work: Coroutine[Any, Any, int]) -> int:
    """Run it on the loop that uvicorn takes for itself: uvloop where it is installed, much faster with large bodies."""
    keep_freed_memory()
    with asyncio.Runner(loop_factory=uvicorn.Config("").get_loop_factory()) as runner:
        return runner.run(work)


async def serve(settings: Settings, options: argparse.Namespace, address: str, *, always_pair: bool) -> int:
    """Run the server until SIGTERM or Ctrl-C; open streams end first, then the tables close."""
    logging.basicConfig(level=logging.INFO, format="%(asctime)s %(name)s %(message)s", stream=sys.stderr)
    load_plans(settings.plans_folder)  # a mistake in them is told before anything is served, in words
    app = build_app(settings)
    server = uvicorn.Server(
        uvicorn.Config(
            app,
            host=options.host,
            port=options.port,
            http=PatientConnection,
            access_log=False,
            log_level="warning",
            ssl_certfile=options.tls_certificate,
            ssl_keyfile=options.tls_key,
            timeout_graceful_shutdown=5,
        )
    )
    await announce(settings, address, always_pair=always_pair)

    async def end_streams() -> None:
        while not server.should_exit:
            await asyncio.sleep(0.1)
        office = getattr(app.state, "office", None)
        if office is not None:
            office.closing.set()
            office.tell()

    watching = asyncio.create_task(end_streams())
    await server.serve()
    watching.cancel()
    return 0 if server.started else 1


async def announce(settings: Settings, address: str, *, always_pair: bool) -> None:
    """Print where the office is, and a manager's code if nobody is paired yet."""
    async with opened(settings.database_file) as database:
        paired = await database.read(
            lambda tx: tx.value("SELECT count(*) FROM device WHERE revoked_at IS NULL")
        )
        if always_pair or not paired:
            code = await database.write(
                lambda tx: make_code(tx, role="manager", name="Manager", now=utc_now())
            )
            print_code(code, address)
    print(f"The office is at {address}  (data in {settings.data_folder}; stop with Ctrl-C)", flush=True)


def print_code(code: PairingCode, address: str) -> None:
    """A pairing code as text and as a QR in the terminal."""
    print(qr_terminal(pairing_address(f"{address}/", code.code)))
    print(f"Pairing code for {code.name} ({code.role}): {code.shown}")
    print(
        f"It works once, until {stamp(code.expires_at)}. Open {address} on the device and type it.\n",
        flush=True,
    )


def run_pair(options: argparse.Namespace) -> int:
    async def work() -> PairingCode:
        async with opened(Settings(options.data).database_file) as database:
            return await database.write(
                lambda tx: make_code(tx, role=options.role, name=options.name, now=utc_now())
            )

    print_code(asyncio.run(work()), options.address.rstrip("/"))
    return 0


def run_verify(options: argparse.Namespace) -> int:
    """Print every fault found; 0 if there is none."""
    settings = Settings(options.data)
    if not settings.database_file.exists():
        print(f"There is no office in {options.data}; name its folder with --data.", file=sys.stderr)
        return 1

    async def work() -> list[str]:
        async with opened(settings.database_file) as database:
            faults = await find_faults(database, settings.photos_folder)
            count = await database.read(lambda tx: tx.value("SELECT count(*) FROM operation_log"))
            photos = await database.read(lambda tx: tx.value("SELECT count(*) FROM photo_file"))
            print(f"{count} operations, {photos} photos: {'all is well' if not faults else 'see below'}.")
            return faults

    faults = asyncio.run(work())
    for fault in faults:
        print(fault)
    return 1 if faults else 0


def run_rebuild(options: argparse.Namespace) -> int:
    def say(done: int, of: int) -> None:
        print(f"{done} of {of} operations", flush=True)

    async def work() -> int:
        async with opened(Settings(options.data).database_file) as database:
            return await database.write(lambda tx: rebuild(tx, say))

    began = time.perf_counter()
    print(f"{asyncio.run(work())} operations applied anew in {time.perf_counter() - began:.1f} s.")
    return 0


def run_erase(options: argparse.Namespace) -> int:
    """Erase by an operation of the office's own; 1 if there is no such visit."""

    async def work() -> dict[str, Any]:
        async with opened(Settings(options.data).database_file) as database:
            return await database.write(
                lambda tx: erase_consignor(
                    tx, options.visit_id, now=utc_now(), random_bytes=secrets.token_bytes(10)
                )
            )

    problem = asyncio.run(work())["problem"]
    if problem:
        print(f"{problem['detail']}\n{problem['hint']}", file=sys.stderr)
        return 1
    print("The consignor's words are erased; the log's chain still holds, and devices hear of it.")
    return 0


def run_bench(options: argparse.Namespace) -> int:
    from intake.bench.run import (
        run,  # measuring drives a browser where there is one; no other command needs that
    )

    return run(quick=options.quick, only=options.only)
