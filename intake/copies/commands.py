"""The commands about copies: copy, restore, bring-in, seal, and where `serve` is to keep copies."""

from __future__ import annotations

import argparse
import asyncio
import codecs
import os
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from functools import partial
from pathlib import Path

from intake.copies.asking import where_they_are
from intake.copies.at_start import LOOK_S, take_key
from intake.copies.bring_in import bring_in
from intake.copies.by_hand import run_copy
from intake.copies.erasures import ErasedAgain
from intake.copies.folder import ASIDE, Folder
from intake.copies.new_folder import check_new_folder
from intake.copies.paper import key_on_paper
from intake.copies.places import (
    FormerCopy,
    check_no_key,
    checked_folder,
    former_copies,
    places,
)
from intake.copies.reading import head_of
from intake.copies.restore import Restored, restore
from intake.copies.seal import SECRET_SIGNS, Opener, WrongKey, signs_of
from intake.copies.source import source_of
from intake.data_folder import existing_office, full_disk_told
from intake.database import Database, opened
from intake.disk import is_of_a_full_disk
from intake.errors import CommandError
from intake.in_words import counted, moment_words
from intake.lock import not_writable, only_one
from intake.settings import Settings, named_data_folder

Command = Callable[[str, object, str], argparse.ArgumentParser]
KEY_VARIABLE = "INTAKE_COPY_KEY"
FAULTS_SHOWN = 20


def add_commands(command: Command) -> None:
    """The parsers of `copy`, `restore`, `bring-in` and `seal`."""
    copying = command("copy", run_copy, "Bring a copy up to date once, also beside a serving office.")
    copying.add_argument("folder", type=Path, help="where the copy lies, or is to be begun: an empty folder")
    copying.add_argument("--sealed", action="store_true", help="close what lies there with the copy key")
    how = copying.add_mutually_exclusive_group()
    how.add_argument(
        "--anew", action="store_true", help="set what is there aside, in a folder inside it, and begin again"
    )
    how.add_argument(
        "--no-longer",
        action="store_true",
        help="take the folder off the office's list; what lies there stays",
    )
    restoring = command("restore", run_restore, "Make an office from a copy, in a new folder (--data).")
    restoring.add_argument("copy", type=Path, help="the folder of the copy")
    restoring.set_defaults(data=named_data_folder())  # no other is meant unless somebody says so
    restoring.add_argument("--forget-devices", action="store_true", help="keep no device paired")
    taking = command(
        "bring-in", run_bring_in, "Take what a copy has and this office has not into this office."
    )
    taking.add_argument("copy", type=Path, help="the folder of the copy")
    for parser in (restoring, taking):
        parser.add_argument(
            "--key-file",
            type=Path,
            metavar="FILE",
            help=f"a file with the key of a sealed copy; else it is taken from {KEY_VARIABLE}, or asked for",
        )
    sealing = command(
        "seal", run_seal, "Make the key that sealed copies are closed with, and print its secret half once."
    )
    sealing.add_argument("--anew", action="store_true", help="make another, for copies begun from now on")


def add_copy_options(serving: argparse.ArgumentParser) -> None:
    """What `serve` can be told about copies."""
    serving.add_argument(
        "--copy-to",
        type=Path,
        action="append",
        metavar="FOLDER",
        help="keep a copy there from now on: a stick, a second disk, a network folder; may be given several times",
    )
    serving.add_argument(
        "--sealed", action="store_true", help="close what is copied to the folders named with --copy-to"
    )


def copy_folders(
    options: argparse.Namespace, environment: Mapping[str, str], settings: Settings
) -> tuple[str, ...]:
    """The folders named with --copy-to, else in INTAKE_COPY_TO, parted as in PATH. Raises PlaceRefused.

    One that does not answer is taken as it is named: the office is to be served without it.
    """
    if not hasattr(options, "copy_to"):
        return ()
    named = options.copy_to or filter(None, environment.get("INTAKE_COPY_TO", "").split(os.pathsep))
    folders, own = [str(Path(folder).absolute()) for folder in named], source_of(settings).folders
    looked = asyncio.run(where_they_are([*folders, *own], LOOK_S)) if folders else {}
    return tuple(checked_folder(folder, own, looked) for folder in folders)


def run_seal(options: argparse.Namespace) -> int:
    """Make a key, and take it once its last signs were read off the paper. Raises KeyNotTaken."""
    settings = existing_office(options.data)

    async def check() -> None:
        async with opened(settings.database_file) as database:
            await database.read(partial(check_no_key, anew=options.anew))

    asyncio.run(check())
    asyncio.run(take_key(settings, key_on_paper()))
    print("Copies that are begun from now on are sealed to this key.")
    return 0


async def owed_to_copies(database: Database) -> list[str]:
    """Where words may still stand that were just erased, a sentence each."""
    kept, former = await database.read(lambda tx: (places(tx), former_copies(tx)))
    return [
        f"The copy in {place.folder} still holds them; a serving office erases them there when it next reaches it."
        for place in kept
        if place.begun
    ] + [
        f"The copy in {copy.folder}, {whole_last(copy)}, may still hold them: bring it up to "
        f"date with `intake copy {folder_of(copy.folder)}`, or destroy it."
        for copy in former
        if copy.erasures
    ]


def whole_last(copy: FormerCopy) -> str:
    return f"whole last {moment_words(copy.complete_at)}" if copy.complete_at else "never whole"


def folder_of(former: str) -> str:
    """The folder to name so that erasures reach a former copy: of what was set aside that of the copy it lies in."""
    path = Path(former)
    return str(path.parent if path.name.startswith(ASIDE) else path)


def key_for(options: argparse.Namespace) -> str | None:
    """The secret half for a sealed copy: from the file that was named, the environment, or the person."""
    if options.key_file is not None:
        return key_in(options.key_file)
    if KEY_VARIABLE in os.environ:
        return os.environ[KEY_VARIABLE]
    sealed_to = head_of(Folder(options.copy)).sealed_to
    if sealed_to and sys.stdin.isatty():
        return asked_key(sealed_to, input)
    return None


def key_in(file: Path) -> str:
    """The key in a file, whichever way an editor saved it: a key is ASCII, and what editors put before and between its
    signs is not. Raises CommandError."""
    try:
        content = file.read_bytes()
    except OSError as error:
        raise CommandError(
            f"The key cannot be read from {file} ({error.strerror or error}).",
            hint=f"Name a file with the key in it, or leave --key-file out: the key is asked for, or taken from "
            f"{KEY_VARIABLE}.",
        ) from error
    return content.translate(None, b"\0" + codecs.BOM_UTF8 + codecs.BOM_UTF16).decode(
        "ascii", errors="replace"
    )


def asked_key(sealed_to: str, ask: Callable[[str], str]) -> str | None:
    """Ask for the key until it fits; None if the person gives up with an empty line.

    It is shown as it is typed, since nobody copies so many signs unseen. It may be given in several lines.
    """
    print(f"This copy is sealed. Its key is on the paper that says {sealed_to[:12]}…; an empty line ends.")
    typed = ""
    while True:
        have = len(signs_of(typed))
        further = f"{have} of {SECRET_SIGNS} signs; the rest, or an empty line to begin again: "
        line = ask(further if typed else "The key of this copy: ").strip()
        if not line and not typed:
            return None
        typed = typed + line if line else ""
        if len(signs_of(typed)) < SECRET_SIGNS:
            continue
        try:
            Opener(sealed_to, typed)
        except WrongKey as wrong:
            print(f"{wrong.detail} {wrong.hint}")
            typed = ""
        else:
            return typed


def run_restore(options: argparse.Namespace) -> int:
    """The exit code is 1 if something was damaged or missing; the office is made all the same."""
    if options.data is None:
        raise CommandError(
            "Nobody said where the office is to be made.",
            hint=f"Name a new folder on this machine's own disk: `intake restore {options.copy} --data NEW`. `intake "
            "serve` is given the same afterwards.",
        )
    settings, folder = Settings(options.data), Folder(options.copy)
    head = head_of(folder)
    # Before a lock is laid there, which among a copy's files would be in its way.
    check_new_folder(settings, folder)
    secret = key_for(options)
    Opener(head.sealed_to, secret)  # a wrong key is told before anything is made
    began = time.perf_counter()
    with disk_told(options.data), only_one(options.data, "restoring"):
        restored = asyncio.run(
            restore(folder, settings, secret=secret, keep_devices=not options.forget_devices)
        )
    print_restored(restored, options.data, time.perf_counter() - began)
    return 1 if restored.faults or restored.photos_missing else 0


@contextmanager
def disk_told(folder: Path) -> Iterator[None]:
    """For the block, what the office's own disk does not take is told in words. Raises CommandError.

    What a copy does not give is told by whoever reads it.
    """
    with full_disk_told(folder):
        try:
            yield
        except OSError as error:
            if is_of_a_full_disk(error):
                raise
            raise not_writable(folder, error) from error


def print_restored(restored: Restored, data: Path, seconds: float) -> None:
    print(
        f"The office is in {data}: {counted(restored.operations, 'operation')} and "
        f"{counted(restored.photos, 'picture')} (with the small ones), as of "
        f"{moment_words(restored.copied_at)} ({seconds:.1f} s)."
    )
    if restored.devices:
        print("Still paired, as they were then: " + ", ".join(restored.devices) + ".")
        print("Take off on the Devices screen what was lost or taken off since.")
    if restored.signed_off_since:
        print(
            "Signed off after this copy was made, as was noted beside the folder, and signed off here, too: "
            f"{', '.join(restored.signed_off_since)}."
        )
    if restored.photos_missing:
        why = "they stood on its damaged lines, " if restored.index_damaged else ""
        print(
            f"Pictures that records name and the copy has not, {restored.photos_missing} in all: {why}phones had not "
            "sent them, or the copy was never finished. Phones that hold them send them; another copy: "
            "`intake bring-in`."
        )
    print_erased(restored.erased_since)
    print_faults(restored.faults)
    again = restored.brought_in
    if again.kept or again.refused or again.waiting:
        print(
            f"Behind the damage {counted(again.kept, 'operation')} taken in anew; refused: {again.refused}; waiting "
            f"for what is missing: {again.waiting}. Once phones have sent, run `intake bring-in` with this copy."
        )
    if restored.other_copies:
        print(
            "The office had other copies, which may have more and are owed what is erased: "
            + ", ".join(restored.other_copies)
            + ". Attach each again with --copy-to or on the Copies screen; first `intake bring-in` takes what it has."
        )
    print(
        "Who read which owner's words is in no copy: that is noted from now on, and nothing of before is known."
    )
    print("Serve it under the same address as before; phones then send what came after the copy.")
    print(
        "A device that was paired after the copy was made must be paired again. Nothing that names what is not here is "
        "refused until the manager says on the Devices screen that no other device will come."
    )


def print_erased(since: ErasedAgain) -> None:
    """What the lists of erasures say that the copy did not know."""
    if since.tickets:
        print(
            f"After this copy was made the words of {owners(len(since.tickets))} were erased (tickets "
            f"{', '.join(since.tickets)}). They are erased here, too."
        )
    if since.unknown:
        print(
            f"After this copy was made the words of {owners(since.unknown, 'further ')} were erased, whose visits "
            "are not in it. If phones bring them, their words are erased as soon as they are here."
        )


def owners(count: int, which: str = "") -> str:
    return f"{count} {which}owner{'' if count == 1 else 's'}"


def print_faults(faults: list[str]) -> None:
    for fault in faults[:FAULTS_SHOWN]:
        print(fault)
    if len(faults) > FAULTS_SHOWN:
        print(f"... and {len(faults) - FAULTS_SHOWN} more like these.")


def run_bring_in(options: argparse.Namespace) -> int:
    """The exit code is 1 if something could not be read, or waits."""
    settings = existing_office(options.data)
    secret = key_for(options)
    with disk_told(options.data):
        done, photos, faults = asyncio.run(bring_in(Folder(options.copy), settings, secret=secret))
    print(
        f"Taken in: {counted(done.kept, 'operation')} and {counted(photos, 'photo')}. Refused: {done.refused}. "
        f"Waiting for something that is not here: {done.waiting}."
    )
    if done.words:
        print(
            f"The personal words of {counted(done.words, 'operation')}, which this office had lost, are back."
        )
    if done.others:
        print(
            f"{done.others} operations have an id under which this office has something else; both are kept. "
            f"{len(done.renamed)} of them were taken in under another id, since the copy proves whose the id is. The "
            "others are set aside, and history shows what is in force."
        )
    print_faults(faults)
    return 1 if faults or done.waiting or done.others else 0
