"""`serve --hall` as a process of its own: what is served where, what is on the disk, what it refuses."""

from __future__ import annotations

import re
import signal
import socket
import ssl
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from pathlib import Path

import httpx
import pytest
from cryptography.hazmat.primitives import serialization

from intake.bench.served import free_port
from intake.hall.asked import PAGE_PORT, HallAsked
from intake.hall.certificates import read_certificates
from intake.hall.opening import settings_in_hall
from intake.opening import open_office
from intake.serving import announce, another_port
from intake.settings import Settings
from tests.apart import Apart, begin, run_intake

NAME = "served-hall.local"


@dataclass
class Served:
    """A hall in a process of its own: its ports, and what it said until it served."""

    process: Apart
    port: int
    page_port: int
    said: str


def said_so_far(printed: Path) -> str:
    """What a process has printed while it prints on: the last character of a code may be half written."""
    return printed.read_text("utf-8", errors="replace")


@contextmanager
def serving(folder: Path, *words: str, port: int = 0) -> Iterator[Served]:
    port, page_port = port or free_port(), free_port()
    ports = ["--port", str(port), "--page-port", str(page_port)]
    printed = folder.with_name(f"{folder.name}.printed")
    printed.write_bytes(b"")
    process = begin(("serve", *words, *ports, "--data", str(folder)), out=str(printed))
    try:
        while not re.search(r"^The office is at.*\n", said_so_far(printed), re.MULTILINE):
            if process.poll() is not None:
                break  # it says nothing of an office
            with suppress(subprocess.TimeoutExpired):
                process.wait(0.02)
        yield Served(process, port, page_port, said_so_far(printed))
    finally:
        process.kill()
        process.wait(20)


def refused(*words: str, **environment: str) -> str:
    """What it says in place of serving."""
    done = run_intake("serve", *words, **environment)
    assert (done.returncode, done.stdout) == (1, "")
    assert "Traceback" not in done.stderr
    return done.stderr


def ask_over_tls(folder: Path, port: int, name: str) -> int:
    """The status of /health for somebody who trusts the authority alone. Raises ssl.SSLError for a wrong name."""
    context = ssl.create_default_context(cafile=folder / "hall" / "authority.pem")
    with (
        socket.create_connection(("127.0.0.1", port), timeout=30) as plain,
        context.wrap_socket(plain, server_hostname=name) as secure,
    ):
        secure.sendall(f"GET /health HTTP/1.1\r\nHost: {name}\r\nConnection: close\r\n\r\n".encode())
        return int(secure.recv(64).split()[1])


def test_a_hall_is_served_and_ends_like_any_office(tmp_path: Path) -> None:
    with serving(tmp_path, "--hall", "served-hall") as hall:
        assert ask_over_tls(tmp_path, hall.port, NAME) == 200
        assert ask_over_tls(tmp_path, hall.port, "10.42.0.1") == 200
        with pytest.raises(ssl.SSLCertVerificationError):
            ask_over_tls(tmp_path, hall.port, "elsewhere.local")
        page = httpx.get(f"http://127.0.0.1:{hall.page_port}/")
        assert f"https://{NAME}:{hall.port}/#/check" in page.text
        hall.process.send_signal(signal.SIGTERM)
        hall.process.wait(30)
    groups = " ".join(read_certificates(tmp_path / "hall").groups)
    assert f"The office is at https://{NAME}:{hall.port}" in hall.said
    assert hall.said.index(groups) < hall.said.index("Pairing code"), "trust comes before pairing"


def test_no_private_key_is_on_the_disk_but_the_server_s(tmp_path: Path) -> None:
    """Every byte that the running office has written is looked at."""
    with serving(tmp_path, "--hall", "served-hall"):
        files = {file: file.read_bytes() for file in tmp_path.rglob("*") if file.is_file()}
    hall = read_certificates(tmp_path / "hall")
    assert [file for file, content in files.items() if b"PRIVATE KEY" in content] == [hall.key_file]
    key = serialization.load_pem_private_key(files[hall.key_file], None)
    assert key.public_key() == hall.servers[0].public_key() != hall.authority.public_key()


def test_the_next_start_needs_no_name_and_new_certificates_are_asked_for(tmp_path: Path) -> None:
    with serving(tmp_path, "--hall", "served-hall") as hall:
        before, port = read_certificates(tmp_path / "hall"), hall.port
    with serving(tmp_path, "--hall", port=port) as hall:
        assert ask_over_tls(tmp_path, hall.port, NAME) == 200
        assert read_certificates(tmp_path / "hall").fingerprint == before.fingerprint
    with serving(tmp_path, "--hall", "--new-certificate") as hall:
        assert ask_over_tls(tmp_path, hall.port, NAME) == 200
        assert read_certificates(tmp_path / "hall").fingerprint != before.fingerprint


@pytest.mark.parametrize(
    ("words", "environment", "said"),
    [
        (["--hall", "--address", "https://intake.example.org"], {}, "--address does not go with --hall"),
        (["--hall"], {"INTAKE_TLS_KEY": "key.pem"}, "INTAKE_TLS_KEY does not go with --hall"),
        (["--hall", "two words"], {"INTAKE_PAGE_PORT": "0"}, "cannot be a name"),
        (["--hall", "--page-port", "many"], {}, "--page-port is 'many'"),
        (["--new-certificate"], {}, "none was asked for"),
        ([], {"INTAKE_HALL": "under_score", "INTAKE_PAGE_PORT": "0"}, "cannot be a name"),
    ],
)
def test_what_does_not_go_together_is_said(
    words: list[str], environment: dict[str, str], said: str, tmp_path: Path
) -> None:
    assert said in refused(*words, "--data", str(tmp_path), "--port", "0", **environment)


def test_a_port_that_phones_do_not_know_is_refused(tmp_path: Path) -> None:
    """Source: RFC 6454, section 4: the port is a part of the origin, and a browser keeps what it keeps by origin."""
    with serving(tmp_path, "--hall", "served-hall") as hall:
        known = hall.port
    said = refused("--hall", "--data", str(tmp_path), "--port", str(free_port()), "--page-port", "0")
    assert f"Phones know this office at port {known}" in said
    assert "--new-certificate" in said
    with socket.create_server(("127.0.0.1", known)):
        said = refused("--hall", "--data", str(tmp_path), "--host", "127.0.0.1", "--page-port", "0")
    assert f"Port {known} on 127.0.0.1 is in use" in said, "the known port is taken without being typed"
    assert "End the other program" in said
    assert "another port" not in said


def test_office_and_page_are_not_put_at_one_port(tmp_path: Path) -> None:
    port = str(free_port())
    said = refused("--hall", "--data", str(tmp_path), "--port", port, "--page-port", port)
    assert f"cannot both be at port {port}" in said


async def test_a_hall_s_office_that_is_served_without_it_says_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    settings = Settings(tmp_path, numbers=(1, 1))
    async with open_office(settings) as office:
        await announce(office, always_pair=False)
        assert "with --hall added" not in capsys.readouterr().out
        in_hall, _ = settings_in_hall(settings, HallAsked())
        await announce(office, always_pair=False)
        assert "not served there now" in (said := capsys.readouterr().out)
        assert "with --hall added" in said
        office.settings = replace(in_hall, clock=settings.clock)
        await announce(office, always_pair=False)
        assert "with --hall added" not in capsys.readouterr().out


@pytest.mark.parametrize("name", ["Müller & Söhne", "two words"])
def test_a_name_that_is_none_is_told_before_any_port(tmp_path: Path, name: str) -> None:
    with socket.create_server(("127.0.0.1", 0)) as other:
        taken = str(other.getsockname()[1])
        ports = ["--port", "0", "--page-port", taken]
        assert "cannot be a name" in refused("--hall", name, "--data", str(tmp_path), *ports)


def test_no_port_is_proposed_that_a_hall_uses_for_something_else() -> None:
    assert "--port 8767" in another_port("--port", 8765, PAGE_PORT)
    assert "--page-port 8767" in another_port("--page-port", 8766, 8765)
    assert "--page-port 8766" in another_port("--page-port", 8764, 8765)


def test_the_page_s_port_in_use_is_told_by_its_own_option(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as other:
        taken = other.getsockname()[1]
        ports = ["--port", "0", "--page-port", str(taken)]
        assert f"--page-port {taken + 1}" in refused("--hall", "--data", str(tmp_path), *ports)
    assert not (tmp_path / "hall").exists(), "nothing is made before the ports are held"
