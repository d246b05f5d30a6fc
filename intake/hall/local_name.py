"""Answering to `NAME.local`: multicast DNS (RFC 6762) on every network that the machine is in, by **zeroconf**.

Each address has a responder of its own, so that a phone hears only of the address in its own network and never
waits for one that it cannot reach.
"""

from __future__ import annotations

import asyncio
import contextlib
import logging
from collections.abc import AsyncIterator, Callable, Sequence
from contextlib import asynccontextmanager
from ipaddress import IPv4Address

from zeroconf import AddressResolverIPv4, IPVersion, ServiceInfo  # type: ignore[attr-defined]  # left out of __all__
from zeroconf.asyncio import AsyncZeroconf

from intake.errors import HallNotReady
from intake.hall.network import Reachable, reachable

log = logging.getLogger("intake.hall")
SERVICE = "_http._tcp.local."  # what the page that brings the certificate is to whoever looks for services
LOOK_EVERY_S = 5.0
ASK_MS = 700

Look = Callable[[], Sequence[Reachable]]


class LocalName:
    """The responders of one name, one for each address of the machine."""

    def __init__(self, name: str, port: int, *, answers_ipv6: bool) -> None:
        self._name, self._port, self._answers_ipv6 = name, port, answers_ipv6
        self._responders: dict[Reachable, AsyncZeroconf] = {}

    @property
    def addresses(self) -> list[IPv4Address]:
        return [responder.address for responder in self._responders]

    async def follow(self, now_there: Sequence[Reachable]) -> bool:
        """Answer for exactly these addresses from now on. True if that is a change."""
        gone = self._responders.keys() - set(now_there)
        new = [host for host in now_there if host not in self._responders]
        for responder in gone:
            await self._stop(responder)
        for host in new:
            await self._start(host)
        return bool(gone or new)

    async def close(self) -> None:
        for responder in list(self._responders):
            await self._stop(responder)

    async def _start(self, there: Reachable) -> None:
        try:
            responder = AsyncZeroconf(interfaces=[str(there.address)], ip_version=IPVersion.V4Only)
        except OSError as error:  # the network went while we looked; the next look tells
            log.warning("%s cannot be answered to at %s: %s", self._name, there.address, error)
            return
        self._responders[there] = responder
        # Several responders of one machine share the name, which is no conflict between them.
        await responder.async_register_service(self._service(there), cooperating_responders=True)

    async def _stop(self, there: Reachable) -> None:
        responder = self._responders.pop(there)
        with contextlib.suppress(OSError):  # a network that is gone hears no farewell
            await responder.async_unregister_all_services()
        with contextlib.suppress(OSError):
            await responder.async_close()

    def _service(self, there: Reachable) -> ServiceInfo:
        """The page as a service; what counts is that its host, our name, gets these addresses."""
        label = f"{self._name.removesuffix('.local')} at {str(there.address).replace('.', '-')}"
        wider = [str(network) for network in there.wider] if self._answers_ipv6 else []
        return ServiceInfo(
            SERVICE,
            f"Intake desk {label}.{SERVICE}",
            port=self._port,
            properties={},
            server=f"{self._name}.",
            parsed_addresses=[str(there.address), *wider],
        )


async def require_free(name: str, there: Sequence[Reachable]) -> None:
    """Raise HallNotReady if another machine on one of the networks answers to the name already."""
    own = {host.address for host in there}
    for host in there:
        others = await who_answers(name, host.address) - own
        if others:
            raise HallNotReady(
                f"Another machine here ({', '.join(map(str, sorted(others)))}) answers to {name} already.",
                hint="If an office runs on it, end that one: two offices under one name mislead phones. "
                "If it is something else, take another name: intake serve --hall NAME",
            )


async def who_answers(name: str, from_address: IPv4Address) -> set[IPv4Address]:
    """The addresses that the network of one of our addresses gives for a `.local` name."""
    try:
        asking = AsyncZeroconf(interfaces=[str(from_address)], ip_version=IPVersion.V4Only)
    except OSError:  # no network there any more, so nobody who answers
        return set()
    try:
        resolver = AddressResolverIPv4(f"{name}.")
        await resolver.async_request(asking.zeroconf, ASK_MS)
        return {IPv4Address(text) for text in resolver.parsed_addresses(IPVersion.V4Only)}
    finally:
        await asking.async_close()


@asynccontextmanager
async def answering(
    name: str,
    port: int,
    *,
    answers_ipv6: bool = False,
    look: Look = reachable,
    look_every_s: float = LOOK_EVERY_S,
    changed: Callable[[Sequence[Reachable]], None] = lambda _: None,
) -> AsyncIterator[LocalName]:
    """Answer to the name for as long as the block lasts, wherever the machine's networks go meanwhile."""
    responders = LocalName(name, port, answers_ipv6=answers_ipv6)

    async def keep_looking() -> None:
        while True:
            await asyncio.sleep(look_every_s)
            there = await asyncio.to_thread(look)
            if await responders.follow(there):
                changed(there)

    await responders.follow(await asyncio.to_thread(look))
    looking = asyncio.create_task(keep_looking())
    try:
        yield responders
    finally:
        looking.cancel()
        with contextlib.suppress(asyncio.CancelledError):
            await looking
        await responders.close()
