"""Where phones can reach this machine: its addresses on the networks it is in, the likeliest first."""

from __future__ import annotations

import socket
from dataclasses import dataclass
from ipaddress import IPv4Address, IPv6Address

import ifaddr

from intake.hall.certificates import SHARED

#: How adapters are named that lead into this machine itself and to no phone. From memory.
INSIDE = ("docker", "br-", "veth", "virbr", "vmnet", "vboxnet", "vethernet", "podman", "cni")
#: An address that never answers (RFC 5737); the machine only says which of its own it would send from.
NOWHERE = ("192.0.2.254", 9)


@dataclass(frozen=True)
class Reachable:
    """One address of this machine, and the IPv6 addresses of the same adapter that work beyond one link."""

    address: IPv4Address
    adapter: str
    wider: tuple[IPv6Address, ...] = ()


def reachable() -> list[Reachable]:
    """This machine's addresses for phones, the likeliest first; empty with no network.

    A connection that this machine shares comes first, since phones join that one; then the network it would itself
    go out by; then the others, those of containers and virtual machines last.
    """
    outward = outward_address()

    def rank(found: Reachable) -> tuple[bool, bool, bool, IPv4Address]:
        inside = found.adapter.lower().startswith(INSIDE)
        return inside, found.address not in SHARED, found.address != outward, found.address

    return sorted(all_addresses(), key=rank)


def all_addresses() -> list[Reachable]:
    """Every IPv4 address that is not the machine's own loopback."""
    found = []
    for adapter in ifaddr.get_adapters():
        four = [IPv4Address(address.ip) for address in adapter.ips if isinstance(address.ip, str)]
        six = [
            IPv6Address(address.ip[0].split("%")[0])
            for address in adapter.ips
            if not isinstance(address.ip, str)
        ]
        wider = tuple(address for address in six if not address.is_link_local and not address.is_loopback)
        found += [Reachable(address, adapter.nice_name, wider) for address in four if not address.is_loopback]
    return found


def outward_address() -> IPv4Address | None:
    """The address that this machine sends from, if it has a way out. Nothing is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(NOWHERE)
        except OSError:
            return None
        return IPv4Address(probe.getsockname()[0])
