"""The commands a person types: demo, serve, pair, service, verify, rebuild, erase, bench, check-plans."""

from __future__ import annotations

import argparse
import asyncio
import os
import secrets
import sqlite3
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any

from intake.access.devices import ROLES, PairingCode, make_code, named_device, stamp
from intake.copies import checking
from intake.copies.commands import add_commands, add_copy_options, copy_folders, owed_to_copies
from intake.copies.erasures import list_beside_folder
from intake.copies.source import source_of
from intake.data_folder import existing_office
from intake.database import Writing, as_known, opened, snapshot
from intake.errors import CommandError, IntakeError
from intake.hall.asked import PAGE_PORT, HallAsked
from intake.ids import uuid7
from intake.in_words import counted
from intake.lock import Holder, holder_of, last_address, only_one
from intake.photos.store import remove_gone
from intake.service import container_of, proxy_of, unit_of
from intake.settings import (
    A_PORT,
    EVERYWHERE,
    HOST,
    Said,
    Settings,
    check_certificate,
    default_data_folder,
    read_port,
    read_settings,
    utc_now,
)
from intake.sync.commands import in_tenths, verify
from intake.sync.erasing import NamedVisit, as_compared, erase_consignor, visits_named
from intake.sync.rebuild import Rebuilt, rebuild_whole
from intake.sync.tidying import UNTIDY, tidy
from intake.system import make_files_private
from intake.version import version


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the exit code."""
    options = parser().parse_args(arguments)
    make_files_private()
    try:
        code: int = options.run(options)
    except (CommandError, IntakeError) as error:
        print(f"{error.detail}\n{error.hint}", file=sys.stderr)
        return 1
    except sqlite3.Error as error:
        known = as_known(error)
        words = known if isinstance(known, IntakeError) else cannot_read(error)
        print(f"{words.detail}\n{words.hint}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130
    return code


def cannot_read(error: sqlite3.Error) -> CommandError:
    return CommandError(
        f"The office's tables cannot be read ({error}).",
        hint="Look at the disk, and at whether this account may read and write the data folder; then try again.",
    )


def parser() -> argparse.ArgumentParser:
    top = argparse.ArgumentParser(
        prog="intake",
        description="The valuation-day intake desk.",
        epilog="Each option of serve and demo may stand in the environment instead: INTAKE_PORT for --port, and so on.",
    )
    top.add_argument("--version", action="version", version=f"intake {version()}")
    top.add_argument("-v", "--verbose", action="store_true", help="show all that getting ready prints")
    commands = top.add_subparsers(required=True, metavar="COMMAND")

    def command(name: str, run: object, words: str) -> argparse.ArgumentParser:
        parser = commands.add_parser(name, help=words, description=words)
        parser.add_argument(
            "--data",
            type=Path,
            default=default_data_folder(),
            metavar="FOLDER",
            help="where everything is kept",
        )
        parser.set_defaults(run=run)
        return parser

    serving = command("serve", run_serve, "Serve the office until it is stopped.")
    listening(serving)
    add_copy_options(serving)
    in_hall(serving)
    serving.add_argument(
        "--withdraw-app",
        action="store_true",
        help="make phones forget the copy of the app they keep and fetch a fresh one; what they hold stays",
    )
    serving.add_argument(
        "--begin-empty",
        action="store_true",
        help="begin an empty office although the folder has photos of one whose database is gone",
    )
    serving.add_argument(
        "--numbers",
        metavar="N/OF",
        help="which share of all tag numbers is this office's, such as 2/5; for a house with several offices",
    )
    demo = command("demo", run_demo, "Serve an invented valuation day to try things on.")
    listening(demo)
    in_hall(demo)
    demo.add_argument("--fresh", action="store_true", help="throw the demo's earlier data away first")
    demo.set_defaults(data=default_data_folder().with_name(default_data_folder().name + "-demo"))
    service = command("service", run_service, "Print what makes the office a service of this machine.")
    listening(service)
    kinds = service.add_mutually_exclusive_group(required=True)
    for kind, words in (
        ("systemd", "a unit file that starts it with the machine and keeps it running"),
        ("container", "a container file"),
        ("proxy", "nginx before it, with the certificate named by --tls-certificate and --tls-key"),
    ):
        kinds.add_argument(f"--{kind}", dest="file", action="store_const", const=kind, help=words)
    pairing = command("pair", run_pair, "Make a code that pairs one device, once, within ten minutes.")
    pairing.add_argument("--as", dest="role", choices=ROLES, help="what the device may do")
    pairing.add_argument("--name", help='what to call it, such as "Table 2"')
    pairing.add_argument(
        "--device",
        metavar="NUMBER",
        help="pair this very device again: the number on its pairing page; its beginning is enough where the office "
        "knows it, and then --as and --name may be left out",
    )
    pairing.add_argument("--address", help="where the office is reached (default: where it was reached last)")
    checking = command(
        "check-plans", run_check_plans, "Name file and line of every mistake in a house's own plans."
    )
    checking.add_argument(
        "folder", type=Path, nargs="?", help="the house's folder; without it the shipped ones"
    )
    looking = command(
        "verify", run_verify, "Check the log's chain, every table against the log, and every photo."
    )
    looking.add_argument(
        "--new", action="store_true", help="only the log and the photos since all was well the last time"
    )
    building = command("rebuild", run_rebuild, "Build every table anew from the log. Stop the office first.")
    building.add_argument(
        "--all-the-same",
        action="store_true",
        help="also from a log of which operations were changed or cannot be applied, where no copy is left: what is "
        "left out is named",
    )
    erase = command("erase", run_erase, "Erase a consignor's personal words for good. Stop the office first.")
    erase.add_argument(
        "visit", help="whose words are erased: the visit's number, its ticket, or the owner's whole name"
    )
    erase.add_argument("--yes", action="store_true", help="do not ask first; for where nobody can be asked")
    add_commands(command)
    bench = command(
        "bench", run_bench, "Measure this machine: ratios against a bare handler and a bare query."
    )
    bench.add_argument("--quick", action="store_true", help="smaller sizes, for a first look")
    bench.add_argument("--only", default="", help="letters of the parts to run: abcdefghij")
    bench.add_argument(
        "--beside",
        type=Path,
        metavar="CHECKOUT",
        help="another version, which part j measures in turn with this one",
    )
    return top


def listening(parser: argparse.ArgumentParser) -> None:
    """The options of whatever serves. They are read with the environment's INTAKE_ words and checked in one place."""
    parser.add_argument("--host", help="address to listen on (127.0.0.1); 0.0.0.0 for the whole network")
    parser.add_argument("--port", help="port to listen on (8765)")
    parser.add_argument("--tls-certificate", metavar="FILE", help="certificate chain (PEM)")
    parser.add_argument("--tls-key", metavar="FILE", help="its private key (PEM)")
    parser.add_argument(
        "--plans",
        metavar="FOLDER",
        help="the house's own plans, words and cautions (default: the folder `house` in the data folder)",
    )
    parser.add_argument(
        "--address",
        help="what phones open, such as https://intake.example.org; labels and pairing codes say it, and only "
        "pages opened there may write",
    )
    parser.add_argument(
        "--behind-proxy",
        metavar="ADDRESS",
        help="the address of the proxy before this office, such as 127.0.0.1, whose word for a caller's own "
        "address is taken; several, or networks, parted by commas",
    )


def in_hall(parser: argparse.ArgumentParser) -> None:
    """The options of an office on a laptop that phones find by its name."""
    parser.add_argument(
        "--hall",
        nargs="?",
        const="",
        metavar="NAME",
        help="serve phones in a hall with no technician: the office is NAME.local (at first intake.local) and makes "
        "a certificate of its own, which a page brings to each phone",
    )
    parser.add_argument("--page-port", help=f"port of that page ({PAGE_PORT})")
    parser.add_argument(
        "--new-certificate",
        action="store_true",
        help="with --hall: make new certificates; every phone has to trust the office once more",
    )


def hall_of(options: argparse.Namespace) -> HallAsked | None:
    """The hall that was asked for, or None. Raises CommandError for options that do not go with it."""
    named = os.environ.get("INTAKE_HALL") if options.hall is None else options.hall
    if named is None:
        if options.new_certificate or options.page_port:
            raise CommandError(
                "--new-certificate and --page-port say how a hall is opened, and none was asked for.",
                hint="Add --hall, or leave them out.",
            )
        return None
    options_said = Said(vars(options), os.environ)
    for name in ("tls_certificate", "tls_key", "address", "behind_proxy"):
        typed, where = options_said.value(name)
        if typed:
            raise CommandError(
                f"{where} does not go with --hall, which makes certificate and address itself.",
                hint="Take --hall where phones meet a laptop, and the other where the office has a name of its own.",
            )
    return HallAsked(
        name=named or None,
        page_port=options_said.read("page_port", read_port, PAGE_PORT, what=A_PORT),
        anew=options.new_certificate,
        port=options_said.read("port", read_port, None, what=A_PORT),
    )


def settings_of(options: argparse.Namespace, *, in_a_hall: bool) -> Settings:
    settings = read_settings(
        vars(options),
        os.environ,
        options.data,
        host=EVERYWHERE if in_a_hall else HOST,
        withdraw_app=getattr(options, "withdraw_app", False),
        seal_copies=getattr(options, "sealed", False),
    )
    check_certificate(settings.tls_certificate, settings.tls_key)
    return replace(settings, copy_to=copy_folders(options, os.environ, settings))


def run_serve(options: argparse.Namespace) -> int:
    """Serve; on the very first start show the manager's pairing code."""
    from intake.serving import (
        run_office,  # half of all that there is to load, and most commands serve nothing
    )

    hall = hall_of(options)
    settings = settings_of(options, in_a_hall=hall is not None)
    return run_office(settings, hall=hall, begin_empty=options.begin_empty)


def run_demo(options: argparse.Namespace) -> int:
    """Seed the invented day if it is not there, then serve it and show a manager's pairing code."""
    from intake.demo.seed import seed_day, throw_away  # seeding draws pictures; no other command needs that
    from intake.serving import run_office

    hall = hall_of(options)
    settings = settings_of(options, in_a_hall=hall is not None)
    if options.fresh:
        with only_one(settings.data_folder, "throwing the demo's day away"):
            throw_away(settings.data_folder)
    return run_office(settings, hall=hall, begin_empty=True, before=lambda plans: seed_day(settings, plans))


def run_check_plans(options: argparse.Namespace) -> int:
    """The exit code is 1 if there is a mistake."""
    from intake.examination.plans import main as check_plans

    return check_plans([str(options.folder)] if options.folder else [])


def run_service(options: argparse.Namespace) -> int:
    """Print one of the files that make an office a service, filled in with what this installation is."""
    settings = read_settings(vars(options), os.environ, options.data.absolute())
    if not settings.address:
        raise CommandError(
            "A service has a name of its own, which labels and phones keep.",
            hint="Say it: --address https://intake.example.org, with the name that phones will reach it by.",
        )
    print({"systemd": unit_of, "container": container_of, "proxy": proxy_of}[options.file](settings), end="")
    return 0


def code_for(
    tx: Writing, number: str | None, role: str | None, name: str | None, now: datetime
) -> PairingCode:
    """A code for a new device, or for exactly the one with this number. Raises CommandError."""
    device = None if number is None else named_device(tx, number)
    role, name = role or (device.role if device else ""), name or (device.name if device else "")
    if not role or not name:
        raise CommandError(
            "Nobody said what the device may do and what to call it.",
            hint='Add both, such as: --as table --name "Table 2".',
        )
    return make_code(tx, role=role, name=name, now=now, device_id=device.device_id if device else None)


def run_pair(options: argparse.Namespace) -> int:
    """Works beside a running office, and before it starts."""
    from intake.serving import print_code

    settings = existing_office(options.data)

    async def work() -> PairingCode:
        async with opened(settings.database_file) as database:
            return await database.write(
                lambda tx: code_for(tx, options.device, options.role, options.name, utc_now())
            )

    named = read_address_option(options) or last_address(options.data) or settings.shown_address
    print_code(asyncio.run(work()), named)
    if not serves(holder_of(options.data)):
        print("The office is not running now: start it with `intake serve` before the code is typed.")
    return 0


def read_address_option(options: argparse.Namespace) -> str:
    return read_settings({"address": options.address}, {}, options.data).address


def serves(holder: Holder | None) -> bool:
    return holder is not None and holder.doing == "serving"


def run_verify(options: argparse.Namespace) -> int:
    """Print every fault found; 0 if there is none. Works beside a running office."""
    return verify(existing_office(options.data), new=options.new)


def run_rebuild(options: argparse.Namespace) -> int:
    settings = existing_office(options.data)
    say = partial(in_tenths(), "operations")

    async def work() -> Rebuilt:
        async with opened(settings.database_file) as database:
            return await database.write_alone(
                lambda tx: rebuild_whole(tx, say, all_the_same=options.all_the_same)
            )

    began = time.perf_counter()
    asyncio.run(checking.refuse_rebuild(source_of(settings), checking.SILENT_S))
    with only_one(options.data, "rebuilding"):
        again = asyncio.run(work())
    for fault in again.left_out:
        print(fault)
    print(f"{counted(again.applied, 'operation')} applied anew in {time.perf_counter() - began:.1f} s.")
    return 0


#: What an erasure does not look into: it is the house's, and may name an owner all the same.
STAYS = (
    "What the house wrote itself stays, and was not searched: tickets, descriptions, marks, what differed at a "
    "closing and why, why two records are of one thing, why something was corrected, and pictures of things. Where "
    "one of these names the owner, correct it there: that is read from then on, and the log keeps both. Pictures of "
    "the visit itself are gone here; copies keep their files, which no office opens or restores, until `intake copy "
    "FOLDER --anew`. What a version of before wrote into the log in clear (who signed a receipt for the house and on "
    "which pad, what stood above its lines, who took a thing back) stays in the file and its copies, where no screen "
    "and no address reads it; so does the digest of words that an app of before sent to it without a salt, by which "
    "whoever guesses them sees that it was these."
)


def run_erase(options: argparse.Namespace) -> int:
    """Erase by an operation of the office's own; 1 if there is no such visit, or more than one is meant."""
    settings = existing_office(options.data)

    now = utc_now()
    operation_id = uuid7(int(now.timestamp() * 1000), secrets.token_bytes(10))

    async def work(visit: NamedVisit) -> tuple[dict[str, Any] | None, list[str]]:
        async with opened(settings.database_file) as database:
            answer = await database.write(
                lambda tx: erase_consignor(tx, visit.visit_id, operation_id=operation_id, now=stamp(now))
            )
            await list_beside_folder(database, settings.data_folder)
            await remove_gone(database, settings.photos_folder)
            try:
                await tidy(database)
            except IntakeError as error:
                print(f"The file could not be written anew yet: {error.detail} {error.hint} {UNTIDY}")
            return answer["problem"], await owed_to_copies(database)

    with only_one(options.data, "erasing"):
        visit = meant_visit(settings, options.visit, sure=options.yes)
        problem, owed = asyncio.run(work(visit))
    if problem:
        print(f"{problem['detail']}\n{problem['hint']}", file=sys.stderr)
        return 1
    print("The consignor's words are erased; the log's chain still holds, and devices hear of it.")
    print(STAYS)
    for folder in owed:
        print(folder)
    return 0


def asked(question: str) -> str:
    """What the person types; nothing where they end it (Ctrl-D)."""
    try:
        return input(question)
    except EOFError:
        print()
        return ""


def meant_visit(settings: Settings, typed: str, *, sure: bool) -> NamedVisit:
    """The visit whose words are to be erased, once the person has said so. Raises CommandError."""
    ask = asked if sys.stdin.isatty() else None
    with snapshot(settings.database_file) as tx:
        found = visits_named(tx, typed)
    visit = one_of(found, typed, ask)
    print(f"The words of: {visit}.")
    if not sure:
        check_meant(visit, ask)
    return visit


def one_of(found: list[NamedVisit], typed: str, ask: Callable[[str], str] | None) -> NamedVisit:
    """The visit that is meant; where several are, the person is asked. Raises CommandError."""
    if not found:
        raise CommandError(
            f"No visit has the number, the ticket or the owner {typed!r}.",
            hint="Type the ticket or the owner's whole name as it stands on the visit. Nothing was erased.",
        )
    if len(found) == 1:
        return found[0]
    listed = "\n".join(f"{number}. {visit}" for number, visit in enumerate(found, start=1))
    chosen = ask(f"{listed}\nWhich of these? A number, or nothing to leave all as it is: ") if ask else ""
    if chosen.strip() in map(str, range(1, len(found) + 1)):
        return found[int(chosen) - 1]
    raise CommandError(
        f"{typed!r} may be any of {len(found)} visits:\n{listed}",
        hint="Name one of them by its number. Nothing was erased.",
    )


def check_meant(visit: NamedVisit, ask: Callable[[str], str] | None) -> None:
    """Have the person type whose words are erased: nothing brings them back. Raises CommandError."""
    meant = visit.ticket or visit.visit_id
    if ask is None:
        raise CommandError(
            "Nobody can be asked here, and what is erased is gone for good. Nothing was erased.",
            hint="If this is the visit that is meant, add --yes.",
        )
    typed = ask(
        f"They are erased for good, here, on phones and in copies. Type {meant} to erase them, or nothing to leave all "
        "as it is: "
    )
    if as_compared(typed) != as_compared(meant):
        raise CommandError(
            f"{meant} was not typed. Nothing was erased.",
            hint="If it is the visit that is meant, type the command again, and then that.",
        )


def run_bench(options: argparse.Namespace) -> int:
    from intake.bench.run import (
        run,  # measuring drives a browser where there is one; no other command needs that
    )

    return run(quick=options.quick, only=options.only, beside=options.beside)
