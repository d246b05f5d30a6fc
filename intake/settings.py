"""Options and environment, read once and checked at the start."""

from __future__ import annotations

import asyncio
import ipaddress
import os
import ssl
from collections.abc import Awaitable, Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, NoReturn

from platformdirs import user_data_path

from intake.address import origin_of, read_address
from intake.errors import CommandError
from intake.web_folder import web_folder

HOST, PORT = "127.0.0.1", 8765
MOST_OFFICES = 1000
EVERYWHERE = "0.0.0.0"
A_PORT = "a whole number from 0 to 65535, such as 8765"


def utc_now() -> datetime:
    return datetime.now(UTC)


def named_data_folder() -> Path | None:
    """`INTAKE_DATA`, if anybody set it."""
    named = os.environ.get("INTAKE_DATA")
    return Path(named) if named else None


def default_data_folder() -> Path:
    """`INTAKE_DATA`, else the platform's folder for a user's data."""
    return named_data_folder() or user_data_path("intake-desk", appauthor=False)


@dataclass(frozen=True)
class Settings:
    """Everything the service needs to know before it starts.

    `data_folder` holds the database, the photos and the keys: copying it moves the house.
    `address` is where people reach the office, as a browser writes an origin; empty if nobody named it. Once named
    it alone decides what labels and pairing codes say, whose writes are taken and how the cookie is kept.
    `other_addresses` are taken for our own page as well: the fixed ones of a hall, for phones that know no names.
    `behind_proxy` lists the addresses or networks, parted by commas, of the proxies whose word for a caller's own
    address is taken; empty for none.
    `withdraw_app` makes phones forget the copy of the app that they keep, and nothing else.
    `copy_to` names folders in which a copy is to be kept from now on, closed with the copy key if `seal_copies`.
    `page_port` is where the page that brings the hall's certificate is served; None outside hall mode.
    `numbers` is the office's share of all tag numbers, such as (2, 5); None leaves it as it is.
    """

    data_folder: Path
    web: Path = field(default_factory=web_folder)
    plans_folder: Path | None = None
    host: str = HOST
    port: int = PORT
    tls_certificate: Path | None = None
    tls_key: Path | None = None
    address: str = ""
    other_addresses: tuple[str, ...] = ()
    behind_proxy: str = ""
    withdraw_app: bool = False
    page_port: int | None = None
    numbers: tuple[int, int] | None = None
    copy_to: tuple[str, ...] = ()
    seal_copies: bool = False
    readers: int = 3
    picture_workers: int = 1
    clock: Callable[[], datetime] = utc_now
    pause: Callable[[float], Awaitable[None]] = asyncio.sleep

    def spoken(self) -> dict[str, str]:
        """What differs from the defaults, by the name of its option: what another process is to be told."""
        options = {
            "host": self.host if self.host != HOST else "",
            "port": str(self.port) if self.port != PORT else "",
            "address": self.address,
            "behind_proxy": self.behind_proxy,
            "tls_certificate": absolute(self.tls_certificate),
            "tls_key": absolute(self.tls_key),
            "plans": absolute(self.plans_folder),
            "numbers": "/".join(map(str, self.numbers or ())),
        }
        return {name: value for name, value in options.items() if value}

    @property
    def database_file(self) -> Path:
        return self.data_folder / "intake.sqlite3"

    @property
    def unfinished_file(self) -> Path:
        """What a database is called while it is made from a copy. Still there, the making was interrupted."""
        return self.data_folder / "restoring.sqlite3"

    @property
    def photos_folder(self) -> Path:
        return self.data_folder / "photos"

    @property
    def secure_cookie(self) -> bool:
        """Whether people reach the office over TLS, be it ours or that of a proxy before us."""
        return self.tls_certificate is not None or self.address.startswith("https:")

    @property
    def shown_address(self) -> str:
        """What to type on a device: the office's name, else where it listens."""
        if self.address:
            return self.address
        everywhere = {"0.0.0.0": HOST, "::": "::1"}
        return origin_of(
            "https" if self.tls_certificate else "http", everywhere.get(self.host, self.host), self.port
        )


def absolute(path: Path | None) -> str:
    """A path as another process, which starts in another folder, is told it; empty for none."""
    return str(path.absolute()) if path else ""


class Said:
    """The options of a command as typed, and the environment's INTAKE_ words for those that nobody typed."""

    def __init__(self, options: Mapping[str, Any], environment: Mapping[str, str]) -> None:
        self._options, self._environment = options, environment

    def value(self, name: str) -> tuple[str, str]:
        """What was said, and where; two empty words if nobody said anything."""
        if self._options.get(name):
            return str(self._options[name]), f"--{name.replace('_', '-')}"
        variable = f"INTAKE_{name.upper()}"
        return self._environment.get(variable, ""), variable

    def read(self, name: str, reader: Callable[[str], Any], otherwise: Any, *, what: str) -> Any:
        """A value as `reader` understands it. Raises CommandError saying what the option takes."""
        typed, where = self.value(name)
        if not typed:
            return otherwise
        try:
            return reader(typed)
        except ValueError as error:
            raise CommandError(f"{where} is {typed!r}: {error}.", hint=f"{where} takes {what}.") from error


def read_settings(
    options: Mapping[str, Any],
    environment: Mapping[str, str],
    data_folder: Path,
    *,
    host: str = HOST,
    **more: Any,
) -> Settings:
    """The settings of a service, each from its option, else from the environment. Raises CommandError.

    `host` is where it listens if nobody says otherwise.
    """
    said = Said(options, environment)
    house = data_folder / "house"
    return Settings(
        data_folder=data_folder,
        plans_folder=said.read("plans", Path, house if house.is_dir() else None, what="a folder"),
        host=said.read("host", str, host, what="an address of this machine"),
        port=said.read("port", read_port, PORT, what=A_PORT),
        tls_certificate=said.read("tls_certificate", Path, None, what="a file"),
        tls_key=said.read("tls_key", Path, None, what="a file"),
        address=said.read(
            "address", read_address, "", what="what phones open, such as https://intake.example.org"
        ),
        behind_proxy=said.read(
            "behind_proxy", read_proxies, "", what="the proxy's own address, such as 127.0.0.1"
        ),
        numbers=said.read(
            "numbers", read_share, None, what="a share such as 2/5, the second of five offices"
        ),
        **more,
    )


def read_port(typed: str) -> int:
    if not (typed.isascii() and typed.isdigit()) or int(typed) > 65535:
        raise ValueError("this is no port")
    return int(typed)


def read_share(typed: str) -> tuple[int, int]:
    """A share of the numbers such as "2/5". Raises ValueError for anything else."""
    number, stroke, of = typed.partition("/")
    if not (stroke and number.isdecimal() and of.isdecimal() and 1 <= int(number) <= int(of) <= MOST_OFFICES):
        raise ValueError("this is no share of the numbers")
    return int(number), int(of)


def read_proxies(typed: str) -> str:
    """Addresses and networks, parted by commas. Raises ValueError for anything else, `*` too: trust has an address."""
    return ",".join(str(read_network(word.strip())) for word in typed.split(","))


def read_network(typed: str) -> object:
    return ipaddress.ip_network(typed) if "/" in typed else ipaddress.ip_address(typed)


def check_certificate(certificate: Path | None, key: Path | None) -> None:
    """Raises CommandError unless the two files are there, fit together, and open without a password."""
    if certificate is None:
        if key is not None:
            raise CommandError(
                f"--tls-key names {key}, but there is no certificate.",
                hint="Name the certificate's chain as well: --tls-certificate FILE.",
            )
        return
    for option, file in (("--tls-certificate", certificate), ("--tls-key", key)):
        if file is not None and not file.is_file():
            raise CommandError(
                f"{option} names {file}, and there is no such file.",
                hint="Correct the name. On this machine alone, plain http://127.0.0.1 needs no certificate.",
            )

    def locked() -> NoReturn:
        raise CommandError(
            f"The key in {key or certificate} is locked with a password, and nobody is there to type it.",
            hint="Keep a copy without a password that only the office's account can read, and name that one.",
        )

    try:
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(certificate, key, password=locked)
    except PermissionError as error:
        raise CommandError(
            f"This account may not read {certificate} or its key.",
            hint="Let it read both files, nobody else the key.",
        ) from error
    except ssl.SSLError as error:
        apart = "KEY_VALUES_MISMATCH" in str(error)
        raise CommandError(
            f"The key does not belong to the certificate in {certificate}."
            if apart
            else f"{certificate}{f' and {key}' if key else ''} cannot be read as a certificate and its key.",
            hint="Both are PEM files: the chain with this office's own certificate first, and the key that belongs "
            "to it (--tls-key).",
        ) from error
