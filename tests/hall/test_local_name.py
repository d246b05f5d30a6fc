"""Answering to NAME.local: a query made by hand (RFC 1035 4, RFC 6762 6.7) on the loopback interface is answered."""

from __future__ import annotations

import asyncio
import socket
import struct
from collections.abc import Sequence
from ipaddress import IPv4Address, IPv6Address

import pytest

from intake.errors import HallNotReady
from intake.hall.local_name import answering, require_free, who_answers
from intake.hall.network import Reachable, outward_address, reachable

LOOPBACK = Reachable(IPv4Address("127.0.0.1"), "lo", (IPv6Address("fd00::7"),))
OTHER = Reachable(IPv4Address("127.0.0.2"), "lo")
A, AAAA = 1, 28


def question(name: str, kind: int) -> bytes:
    """One query: a header with one question, the name as labels, its type, class IN."""
    labels = b"".join(bytes([len(part)]) + part.encode() for part in name.split("."))
    return struct.pack("!6H", 7, 0, 1, 0, 0, 0) + labels + b"\0" + struct.pack("!2H", kind, 1)


def addresses_in(answer: bytes, kind: int) -> list[str]:
    """The addresses of one type in a reply's answer section. Names are skipped, as labels or as pointers."""
    questions, answers = struct.unpack("!2H", answer[4:8])
    at = 12
    for _ in range(questions):
        at = behind_name(answer, at) + 4
    found = []
    for _ in range(answers):
        at = behind_name(answer, at)
        this, _class, _life, size = struct.unpack("!2HIH", answer[at : at + 10])
        if this == kind:
            family = socket.AF_INET if kind == A else socket.AF_INET6
            found.append(socket.inet_ntop(family, answer[at + 10 : at + 10 + size]))
        at += 10 + size
    return found


def behind_name(answer: bytes, at: int) -> int:
    while answer[at]:
        if answer[at] & 0xC0:
            return at + 2
        at += answer[at] + 1
    return at + 1


async def ask(name: str, kind: int, *, limit_s: float = 3) -> list[str]:
    """Ask from a port of our own, as simple resolvers do; an empty list if nobody answers in time."""
    loop = asyncio.get_running_loop()
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        asking.setblocking(False)
        asking.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_IF, socket.inet_aton("127.0.0.1"))
        asking.bind(("127.0.0.1", 0))
        await loop.sock_sendto(asking, question(name, kind), ("224.0.0.251", 5353))
        try:
            return addresses_in(await asyncio.wait_for(loop.sock_recv(asking, 9000), limit_s), kind)
        except TimeoutError:
            return []


async def test_a_query_for_the_name_is_answered_with_the_address() -> None:
    async with answering("thimblewick.local", 8766, look=lambda: [LOOPBACK]):
        assert await ask("thimblewick.local", A) == ["127.0.0.1"]
        assert await ask("ThimbleWick.local", A) == ["127.0.0.1"]
        assert await ask("elsewhere.local", A, limit_s=0.5) == []
    assert await ask("thimblewick.local", A, limit_s=0.5) == []


async def test_ipv6_is_told_only_where_the_office_listens_on_it() -> None:
    async with answering("thimblewick.local", 8766, look=lambda: [LOOPBACK], answers_ipv6=True):
        assert await ask("thimblewick.local", AAAA) == ["fd00::7"]
    async with answering("thimblewick.local", 8766, look=lambda: [LOOPBACK]):
        assert await ask("thimblewick.local", AAAA, limit_s=0.5) == []


async def test_the_name_follows_the_machine_to_another_network() -> None:
    """First there is no network; then one comes, and another takes its place."""
    there: list[Reachable] = []
    changes: asyncio.Queue[list[Reachable]] = asyncio.Queue()

    def changed(now_there: Sequence[Reachable]) -> None:
        changes.put_nowait(list(now_there))

    async with answering(
        "thimblewick.local", 8766, look=lambda: list(there), look_every_s=0.01, changed=changed
    ) as responders:
        assert responders.addresses == []
        for one in (LOOPBACK, OTHER):
            there[:] = [one]
            assert await asyncio.wait_for(changes.get(), 10) == [one]
            assert responders.addresses == [one.address]
            assert await ask("thimblewick.local", A) == [str(one.address)]


async def test_a_second_office_under_one_name_is_told() -> None:
    async with answering("thimblewick.local", 8766, look=lambda: [LOOPBACK]):
        assert await who_answers("thimblewick.local", OTHER.address) == {LOOPBACK.address}
        with pytest.raises(HallNotReady, match=r"Another machine here \(127.0.0.1\) answers to thimblewick"):
            await require_free("thimblewick.local", [OTHER])
        await require_free("elsewhere.local", [OTHER])
        await require_free("thimblewick.local", [LOOPBACK])  # that is this machine itself


def test_the_machine_s_addresses_leave_out_its_own_loopback() -> None:
    found = [one.address for one in reachable()]
    assert not any(address.is_loopback for address in found)
    outward = outward_address()
    assert outward is None or outward in found
