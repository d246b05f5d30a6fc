"""The files that make an office a service: a unit for systemd, a container file, and nginx as the proxy before it.

They are printed, filled in with this installation's own paths and names, and kept by whoever looks after the machine.
"""

from __future__ import annotations

import getpass
import json
import re
import shlex
import sys
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from string import Template
from urllib.parse import urlsplit

from intake.address import origin_of
from intake.errors import CommandError
from intake.settings import HOST, Settings

FOLDER = Path(__file__).parent / "setup" / "templates"
PRIVATE_NETWORKS = "10.0.0.0/8,172.16.0.0/12,192.168.0.0/16"  # Source: RFC 1918, section 3
LOWEST_FREE_PORT = 1024  # below it, listening needs a right of its own
PLAIN_WORD = re.compile(r"[\w./:,@%+=-]+")
REDIRECT = """
server {
    listen 80;
    server_name @{name};
    access_log off;
    return 301 @{address}$request_uri;
}"""


class Filled(Template):
    """A template whose places are written @{so}: the three formats have their own uses for $ and %."""

    delimiter = "@"


def filled(template: str, **values: object) -> str:
    return Filled((FOLDER / template).read_text("utf-8")).substitute(values).rstrip() + "\n"


def unit_of(settings: Settings) -> str:
    """Without a certificate of its own it stands behind a proxy on the same machine."""
    if settings.tls_certificate is None and not settings.behind_proxy:
        settings = replace(settings, behind_proxy=HOST)
    command = [sys.executable, "-m", "intake", "serve", "--data", str(settings.data_folder)]
    for name, value in settings.spoken().items():
        command += [f"--{name.replace('_', '-')}", value]
    user = getpass.getuser()
    return systemd_unit(
        command,
        folder=Path(__file__).parents[1],
        data=settings.data_folder,
        user="intake" if user == "root" else user,
        port=settings.port,
    )


def container_of(settings: Settings) -> str:
    """The proxy before it calls from one of the private networks that containers have among themselves."""
    inside = replace(
        settings,
        host="0.0.0.0",
        behind_proxy=settings.behind_proxy or PRIVATE_NETWORKS,
        tls_certificate=None,
        tls_key=None,
        plans_folder=None,
    )
    environment = {f"INTAKE_{name.upper()}": value for name, value in inside.spoken().items()}
    return container_file({"INTAKE_DATA": "/data", **environment}, port=settings.port)


def proxy_of(settings: Settings) -> str:
    if not settings.address.startswith("https:"):
        raise CommandError(
            f"{settings.address} is not https, and phones keep an app only over https.",
            hint="Give the name with https://; the proxy holds its certificate (--tls-certificate, --tls-key).",
        )
    host = HOST if settings.host in ("0.0.0.0", "::") else settings.host
    return proxy_file(
        settings.address,
        office=origin_of("http", host, settings.port).removeprefix("http://"),
        certificate=str((settings.tls_certificate or Path("/etc/ssl/intake/chain.pem")).absolute()),
        key=str((settings.tls_key or Path("/etc/ssl/intake/key.pem")).absolute()),
    )


def systemd_unit(command: Sequence[str], *, folder: Path, data: Path, user: str, port: int) -> str:
    """A unit that runs the command in a folder, as a user who may write the data folder alone."""
    low = (
        "AmbientCapabilities=CAP_NET_BIND_SERVICE"
        if 0 < port < LOWEST_FREE_PORT
        else "CapabilityBoundingSet="
    )
    return filled(
        "intake.service",
        command=" ".join(map(systemd_word, command)),
        folder=systemd_path(folder),
        data=systemd_path(data),
        typed_data=shlex.quote(str(data)),
        user=user,
        capabilities=low,
    )


def systemd_word(word: str) -> str:
    """A word of a command line. Source: systemd.service(5), command lines: quotes, and doubled $ and %."""
    quoted = word if PLAIN_WORD.fullmatch(word) else json.dumps(word, ensure_ascii=False)
    return quoted.replace("$", "$$").replace("%", "%%")


def systemd_path(path: Path) -> str:
    """A path as the value of a setting. Source: systemd.unit(5), specifiers; systemd.syntax(7), escapes."""
    return str(path).replace("\\", "\\\\").replace("%", "%%").replace(" ", "\\x20")


def container_file(environment: Mapping[str, str], *, port: int) -> str:
    """A container of the office that listens on every address in it, whose options stand in its environment."""
    lines = [f"ENV {name}={json.dumps(value)}" for name, value in environment.items() if value]
    return filled(
        "Containerfile", environment="\n".join(lines), port=port, health=f"http://127.0.0.1:{port}/health"
    )


def proxy_file(address: str, *, office: str, certificate: str, key: str) -> str:
    """nginx before an office (host and port) that people reach by `address`, which begins with https."""
    parts = urlsplit(address)
    port = parts.port or 443
    redirect = Filled(REDIRECT).substitute(name=parts.hostname, address=address) if port == 443 else ""
    return filled(
        "proxy.conf",
        address=address,
        name=parts.hostname,
        host=parts.netloc,
        port=port,
        office=office,
        office_port=office.rpartition(":")[2],
        certificate=certificate,
        key=key,
        redirect=redirect,
    )
