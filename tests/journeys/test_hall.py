"""A real browser that has the hall's authority in its own trust store, with nothing told to ignore errors.

Needs `certutil` (Debian: libnss3-tools), by which Chromium on Linux is given an authority as a person would.
"""

from __future__ import annotations

import asyncio
import os
import shutil
import socket
import ssl
import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric import ec
from playwright.sync_api import BrowserContext, Error, Page, Playwright, expect

from intake.hall.certificates import (
    HallCertificates,
    hall_certificates,
    private_pem,
    sign_authority,
    sign_server,
)
from intake.settings import Settings
from tests.builders import Ids
from tests.conftest import Clock, Office, running
from tests.journeys.conftest import ARGUMENTS, PHONE
from tests.presses import at_a_persons_pace

NAME = "thimblewick.local"
FOREIGN = "bank.example.org"


def trusting_browser(
    playwright: Playwright, home: Path, authority: x509.Certificate | None
) -> BrowserContext:
    """A browser with a home of its own, whose trust store has the authority if one is given."""
    if shutil.which("certutil") is None:
        pytest.skip(
            "certutil is not on this machine (Debian: libnss3-tools), so no browser can be given an authority"
        )
    store = home / ".pki" / "nssdb"
    store.mkdir(parents=True)
    certutil = ["certutil", "-d", f"sql:{store}"]
    subprocess.run([*certutil, "-N", "--empty-password"], check=True)
    if authority is not None:
        (home / "authority.der").write_bytes(authority.public_bytes(serialization.Encoding.DER))
        added = [*certutil, "-A", "-t", "C,,", "-n", "hall", "-i", str(home / "authority.der")]
        subprocess.run(added, check=True)
    context = playwright.chromium.launch_persistent_context(
        home / "browser",
        executable_path=os.environ.get("INTAKE_BROWSER") or shutil.which("chromium"),
        args=[
            *ARGUMENTS,
            f"--host-resolver-rules=MAP {NAME} 127.0.0.1, MAP *.local 127.0.0.1, MAP {FOREIGN} 127.0.0.1",
        ],
        env={**os.environ, "HOME": str(home)},
        viewport=PHONE,
    )
    return at_a_persons_pace(context)


@pytest.fixture
def hall(settings: Settings) -> HallCertificates:
    """Certificates of today: the browser's clock is the machine's."""
    return hall_certificates(settings.data_folder, name=NAME, addresses=[], now=datetime.now(UTC))


@pytest.fixture
def hall_office(hall: HallCertificates, settings: Settings, clock: Clock, ids: Ids) -> Iterator[Office]:
    file = hall.certificate_file(datetime.now(UTC))
    with running(replace(settings, tls_certificate=file, tls_key=hall.key_file), clock, ids) as office:
        yield office


def test_a_phone_that_trusts_the_hall_keeps_the_app_and_uses_its_camera(
    playwright: Playwright, hall: HallCertificates, hall_office: Office, tmp_path: Path
) -> None:
    browser = trusting_browser(playwright, tmp_path / "home", hall.authority)
    try:
        page = browser.pages[0]
        page.goto(f"https://{NAME}:{hall_office.port}/")
        assert page.evaluate("isSecureContext")
        page.evaluate("navigator.serviceWorker.ready")
        tracks = "navigator.mediaDevices.getUserMedia({video: true}).then((film) => film.getTracks().length)"
        assert page.evaluate(tracks) == 1
        browser.set_offline(True)
        page.reload()
        expect(page.get_by_label("Code")).to_be_visible()
    finally:
        browser.close()


def test_a_phone_that_does_not_trust_it_yet_is_stopped(
    playwright: Playwright, hall_office: Office, tmp_path: Path
) -> None:
    """So that the test above shows trust, and not a browser that takes anything."""
    browser = trusting_browser(playwright, tmp_path / "home", None)
    try:
        assert "ERR_CERT_AUTHORITY_INVALID" in failure(
            browser.pages[0], f"https://{NAME}:{hall_office.port}/"
        )
    finally:
        browser.close()


def test_the_authority_vouches_for_no_other_name(playwright: Playwright, tmp_path: Path) -> None:
    """Not even with its key, which this test has kept: a foreign name in a certificate makes all of it invalid."""
    now, key, server_key = datetime.now(UTC), *(ec.generate_private_key(ec.SECP256R1()) for _ in range(2))
    authority = sign_authority(key, NAME, begin=now)
    server = sign_server(key, authority, server_key.public_key(), FOREIGN, addresses=[], begin=now)
    browser = trusting_browser(playwright, tmp_path / "home", authority)
    try:
        with handshaking(server, server_key, tmp_path) as port:
            assert "ERR_CERT_INVALID" in failure(browser.pages[0], f"https://{FOREIGN}:{port}/")
            assert "ERR_CERT_INVALID" in failure(browser.pages[0], f"https://{NAME}:{port}/")
    finally:
        browser.close()


def test_the_hall_s_certificate_does_not_pass_under_another_name(
    playwright: Playwright, hall: HallCertificates, hall_office: Office, tmp_path: Path
) -> None:
    browser = trusting_browser(playwright, tmp_path / "home", hall.authority)
    try:
        said = failure(browser.pages[0], f"https://elsewhere.local:{hall_office.port}/")
        assert "ERR_CERT_COMMON_NAME_INVALID" in said
    finally:
        browser.close()


def failure(page: Page, address: str) -> str:
    """What the browser says of an address that it does not open."""
    with pytest.raises(Error) as refused:
        page.goto(address)
    return refused.value.message


@contextmanager
def handshaking(server: x509.Certificate, key: ec.EllipticCurvePrivateKey, folder: Path) -> Iterator[int]:
    """A server that shows this certificate to whoever comes, and closes; its port."""
    certificate, key_file = folder / "server.pem", folder / "server-key.pem"
    certificate.write_bytes(server.public_bytes(serialization.Encoding.PEM))
    key_file.write_bytes(private_pem(key))
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(certificate, key_file)
    ready, ending, ports = threading.Event(), asyncio.Event(), []

    async def serve() -> None:
        listener = socket.create_server(("127.0.0.1", 0))
        ports.append(listener.getsockname()[1])
        async with await asyncio.start_server(lambda _, writer: writer.close(), sock=listener, ssl=context):
            ready.set()
            await ending.wait()

    loop = asyncio.new_event_loop()
    thread = threading.Thread(target=lambda: loop.run_until_complete(serve()))
    thread.start()
    ready.wait(10)
    try:
        yield ports[0]
    finally:
        loop.call_soon_threadsafe(ending.set)
        thread.join(10)
        loop.close()
