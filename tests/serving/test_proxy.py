"""The printed proxy example, tried with the nginx of this machine: certificate, news, large originals, names, callers.

Where there is no nginx and the tests' set-up cannot install it, these are skipped and say so.
"""

from __future__ import annotations

import datetime
import ipaddress
import os
import shutil
import socket
import ssl
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import httpx
import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from intake.access.tries import FREE
from intake.bench.served import free_port
from intake.commands import main
from intake.settings import Settings
from tests.builders import Ids, a_day, digest, picture
from tests.conftest import Clock, Office, running
from tests.phone import Phone
from tests.serving.test_address import ASKED, codes_on

NGINX = shutil.which("nginx") or shutil.which("nginx", path="/usr/sbin:/usr/local/sbin:/opt/homebrew/bin")
HOST = "intake.example.org"
pytestmark = pytest.mark.skipif(
    not NGINX, reason="no nginx here, and none could be installed: the proxy example is not tried"
)


@dataclass
class Proxied:
    """An office behind nginx."""

    office: Office
    port: int
    certificate: Path
    waits: list[float]

    @property
    def name(self) -> str:
        return f"https://{HOST}:{self.port}"

    def client(self) -> httpx.Client:
        """A browser on the office's own page: it finds the name at this machine and trusts the certificate."""
        client = httpx.Client(
            base_url=f"https://127.0.0.1:{self.port}",
            verify=ssl.create_default_context(cafile=self.certificate),
            headers={"Origin": self.name, "Host": f"{HOST}:{self.port}"},
            timeout=20,
        )
        self.office.clients.append(client)
        return client

    def pair(self, role: str) -> Phone:
        client = self.client()
        said = client.post("/pairing", json={"code": self.office.code(role, role)})
        said.raise_for_status()
        client.headers["Cookie"] = said.headers["set-cookie"].split(";")[0]
        return Phone(client, self.office.ids, said.json()["device_id"])


def make_certificate(folder: Path) -> tuple[Path, Path]:
    """A certificate for the name, and for this machine, since no name service knows the name; and its key."""
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, HOST)])
    now = datetime.datetime.now(datetime.UTC)
    names = [x509.DNSName(HOST), x509.IPAddress(ipaddress.ip_address("127.0.0.1"))]
    certificate = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - datetime.timedelta(hours=1))
        .not_valid_after(now + datetime.timedelta(days=1))
        .add_extension(x509.SubjectAlternativeName(names), critical=False)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .sign(key, hashes.SHA256())
    )
    chain, secret = folder / "a chain.pem", folder / "a key.pem"
    chain.write_bytes(certificate.public_bytes(serialization.Encoding.PEM))
    secret.write_bytes(
        key.private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.NoEncryption(),
        )
    )
    return chain, secret


@contextmanager
def nginx(folder: Path, office_file: str, port: int) -> Iterator[None]:
    """nginx with this one file, all of whose own files are in the folder."""
    (folder / "office.conf").write_text(office_file, "utf-8")
    own = [
        f"{kind}_temp_path {folder}/{kind};" for kind in ("client_body", "proxy", "fastcgi", "uwsgi", "scgi")
    ]
    user = "user root;" if hasattr(os, "geteuid") and os.geteuid() == 0 else ""
    (folder / "nginx.conf").write_text(
        f"daemon off; {user} pid {folder}/nginx.pid; error_log {folder}/error.log; worker_processes 1;\n"
        f"events {{ }}\nhttp {{ access_log {folder}/access.log; {' '.join(own)} include {folder}/office.conf; }}\n",
        "utf-8",
    )
    command = [
        str(NGINX),
        "-p",
        str(folder),
        "-c",
        str(folder / "nginx.conf"),
        "-e",
        str(folder / "error.log"),
    ]
    process = subprocess.Popen(command)
    try:
        for _ in range(400):
            assert process.poll() is None, (folder / "error.log").read_text("utf-8")
            with socket.socket() as probe:
                if probe.connect_ex(("127.0.0.1", port)) == 0:
                    break
            time.sleep(0.02)
        yield
    finally:
        process.terminate()
        process.wait(20)


@pytest.fixture
def proxied(
    settings: Settings, clock: Clock, ids: Ids, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> Iterator[Proxied]:
    port, waits = free_port(), []
    chain, key = make_certificate(tmp_path)

    async def pause(seconds: float) -> None:
        waits.append(seconds)

    name = f"https://{HOST}:{port}"
    settings = replace(settings, address=name, behind_proxy="127.0.0.1", pause=pause)
    with running(settings, clock, ids) as office:
        asked = ["--address", name, "--port", str(office.port), "--data", str(settings.data_folder)]
        assert (
            main(["service", "--proxy", *asked, "--tls-certificate", str(chain), "--tls-key", str(key)]) == 0
        )
        with nginx(tmp_path, capsys.readouterr().out, port):
            yield Proxied(office, port, chain, waits)


def test_news_comes_through_at_once(proxied: Proxied) -> None:
    """The second line is asked for before the stream ends: a proxy that gathered it would never give it."""
    manager = proxied.pair("manager")
    with manager.client.stream("GET", "/sync/events") as stream:
        news = (line for line in stream.iter_lines() if line.startswith("id: "))
        first = next(news)
        other = proxied.pair("manager")
        other.keep(a_day(other.ids))
        assert other.push()[0]["outcome"] == "kept"
        assert next(news) != first


def test_an_original_of_twenty_megabytes_arrives_in_pieces(proxied: Proxied) -> None:
    """Each piece is larger than what nginx takes by itself (1 MB; source: client_max_body_size of its manual)."""
    phone = proxied.pair("table")
    content = picture(7) + bytes(20_000_000)  # what stands behind a JPEG's end is kept with it
    place, piece = f"/photos/{digest(content)}", 8_000_000
    for offset in range(0, len(content), piece):
        headers = {"Upload-Offset": str(offset), "Upload-Length": str(len(content))}
        said = phone.client.patch(place, content=content[offset : offset + piece], headers=headers)
        assert said.status_code == 204, said.text
    assert phone.client.head(place).headers["upload-complete"] == "?1"
    assert proxied.pair("manager").client.get(place).content == content


def test_whom_a_desk_looks_for_stands_in_no_file_of_the_proxy(proxied: Proxied, tmp_path: Path) -> None:
    """Nothing there would ever be erased. Also while the office is away, of which a proxy writes what was asked."""
    desk = proxied.pair("desk")
    asked = "/queue?words=Tumblewick"
    assert desk.client.get(asked).status_code == 200
    proxied.office.end()
    assert desk.client.get(asked).status_code == 502
    logs = [file for file in tmp_path.glob("*.log") if "Tumblewick" in file.read_text("utf-8")]
    assert [file.name for file in logs] == []


def test_the_office_s_name_is_the_one_that_people_reach_it_by(proxied: Proxied) -> None:
    manager = proxied.pair("manager")
    manager.client.headers["Host"] = "evil.example.net"
    pdf = manager.client.get("/labels.pdf", params=ASKED).content
    assert codes_on(pdf) == [f"{proxied.name.upper()}/T/7K3QW5"]
    made: dict[str, Any] = manager.client.post("/pairing/codes", json={"role": "table", "name": "T"}).json()
    assert made["address"].startswith(f"{proxied.name}/#/pair/")
    assert made["warning"] == ""
    cookie = proxied.client().post("/pairing", json={"code": made["code"]}).headers["set-cookie"]
    assert cookie.startswith("__Host-intake=")
    assert "Secure" in cookie


def test_a_caller_is_who_the_proxy_says_and_not_what_it_says_of_itself(proxied: Proxied) -> None:
    guesser = proxied.client()
    for number in range(FREE + 1):
        headers = {"X-Forwarded-For": f"192.0.2.{number}"}
        guesser.post("/pairing", json={"code": "0000-0000"}, headers=headers)
    assert proxied.waits == [1]
