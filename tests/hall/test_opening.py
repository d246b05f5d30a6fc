"""An open hall: the page on a real socket, the name on the network, and what the person at the laptop reads."""

from __future__ import annotations

import asyncio
import contextlib
import socket
from collections.abc import Iterator
from datetime import UTC, datetime
from ipaddress import IPv4Address
from pathlib import Path

import httpx
import pytest

from intake.hall.asked import HallAsked
from intake.hall.certificates import HallCertificates, hall_certificates
from intake.hall.network import Reachable
from intake.hall.opening import open_hall, settings_in_hall
from intake.serving import bound
from intake.settings import Settings
from tests.hall.test_local_name import LOOPBACK, A, ask

ADDRESS = "https://open-hall.local:8765"
NOW = datetime(2026, 3, 14, 8, 0, tzinfo=UTC)
WIRELESS = Reachable(IPv4Address("10.42.0.1"), "wlan0")


@pytest.fixture
def certificates(tmp_path: Path) -> HallCertificates:
    return hall_certificates(tmp_path, name="open-hall", addresses=[], now=NOW)


@pytest.fixture
def listener() -> Iterator[socket.socket]:
    with contextlib.closing(bound("127.0.0.1", 0)) as listener:
        yield listener


async def test_the_page_and_the_name_are_there_while_the_hall_is_open(
    certificates: HallCertificates, listener: socket.socket
) -> None:
    async with open_hall(certificates, ADDRESS, listener, look=lambda: [LOOPBACK]) as hall:
        assert await ask("open-hall.local", A) == ["127.0.0.1"]
        async with httpx.AsyncClient(follow_redirects=True) as phone:
            page = await phone.get(f"http://127.0.0.1:{hall.page_port}/anything")
        assert "Let this phone trust the intake desk" in page.text
        assert ADDRESS in page.text
    with pytest.raises(httpx.ConnectError):
        httpx.get(f"http://127.0.0.1:{hall.page_port}/")


async def test_the_laptop_shows_what_phones_need(
    certificates: HallCertificates, listener: socket.socket
) -> None:
    async with open_hall(certificates, ADDRESS, listener, look=lambda: [LOOPBACK, WIRELESS]) as hall:
        words = hall.words()
    assert f"opens this page once: http://127.0.0.1:{hall.page_port}" in words
    assert f"If it does not load: http://10.42.0.1:{hall.page_port}" in words
    assert " ".join(certificates.groups) in words
    assert f"the app is at {ADDRESS}" in words
    assert (
        f"http://127.0.0.1:{hall.page_port} brings it; then {ADDRESS}, or always https://localhost:8765"
        in words
    )
    assert "▀" in words  # the code to scan


async def test_with_no_network_it_opens_says_so_and_tells_when_one_is_there(
    certificates: HallCertificates, listener: socket.socket
) -> None:
    there: list[Reachable] = []
    read: asyncio.Queue[str] = asyncio.Queue()
    async with open_hall(
        certificates, ADDRESS, listener, look=lambda: list(there), look_every_s=0.01, say=read.put_nowait
    ) as hall:
        assert "in no network that a phone could join" in hall.words()
        assert "opens this page" not in hall.words()
        there.append(LOOPBACK)
        assert f"http://127.0.0.1:{hall.page_port}" in await asyncio.wait_for(read.get(), 10)


def test_the_settings_of_a_hall(tmp_path: Path) -> None:
    """The name is the address, for ever; the fixed addresses may write as well, for phones that know no names."""
    settings, certificates = settings_in_hall(Settings(tmp_path, port=8765), HallAsked("open-hall", 9000))
    assert settings.address == ADDRESS
    assert "https://10.42.0.1:8765" in settings.other_addresses
    assert "https://localhost:8765" in settings.other_addresses
    assert settings.page_port == 9000
    assert settings.tls_key == certificates.key_file
    assert settings.secure_cookie
