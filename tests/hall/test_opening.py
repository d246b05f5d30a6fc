"""An open hall: the page on a real socket, the name on the network, and what the person at the laptop reads."""

from __future__ import annotations

import socket
from collections.abc import Sequence
from datetime import UTC, datetime
from ipaddress import IPv4Address
from pathlib import Path

import httpx
import pytest

from intake.errors import HallNotReady
from intake.hall.certificates import HallCertificates, hall_certificates
from intake.hall.network import Reachable
from intake.hall.opening import open_hall
from tests.hall.test_local_name import LOOPBACK, A, ask

NOW = datetime(2026, 3, 14, 8, 0, tzinfo=UTC)
WIRELESS = Reachable(IPv4Address("10.42.0.1"), "wlan0")


@pytest.fixture
def certificates(tmp_path: Path) -> HallCertificates:
    return hall_certificates(tmp_path, name="thimblewick", addresses=[], now=NOW)


def look_at(*there: Reachable) -> Sequence[Reachable]:
    return there


async def test_the_page_and_the_name_are_there_while_the_hall_is_open(certificates: HallCertificates) -> None:
    read: list[str] = []
    async with open_hall(
        certificates, port=8765, page_port=0, look=lambda: [LOOPBACK], say=read.append
    ) as hall:
        assert hall.address == "https://thimblewick.local:8765"
        assert await ask("thimblewick.local", A) == ["127.0.0.1"]
        async with httpx.AsyncClient(follow_redirects=True) as phone:
            page = await phone.get(f"http://127.0.0.1:{hall.page_port}/anything")
        assert "Let this phone trust the intake desk" in page.text
    assert " ".join(certificates.groups) in read[0]
    assert f"http://127.0.0.1:{hall.page_port}" in read[0]
    assert "▀" in read[0]  # the code to scan
    with pytest.raises(httpx.ConnectError):
        httpx.get(f"http://127.0.0.1:{hall.page_port}/")


async def test_with_no_network_it_opens_and_says_so(certificates: HallCertificates) -> None:
    read: list[str] = []
    async with open_hall(certificates, port=8765, page_port=0, look=list, say=read.append):
        assert "in no network that a phone could join" in read[0]
        assert "http://" not in read[0]


async def test_a_port_in_use_is_said_before_anything_is_announced(certificates: HallCertificates) -> None:
    read: list[str] = []
    with socket.socket() as other:
        other.bind(("0.0.0.0", 0))
        other.listen()
        taken = other.getsockname()[1]
        with pytest.raises(HallNotReady, match=f"port {taken}") as refused:
            async with open_hall(
                certificates, port=8765, page_port=taken, look=lambda: [LOOPBACK], say=read.append
            ):
                pass
    assert "--page-port" in refused.value.hint
    assert read == []
