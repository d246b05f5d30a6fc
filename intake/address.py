"""Where people reach the office: an address as typed, and whether a phone can get there."""

from __future__ import annotations

import ipaddress
from urllib.parse import urlsplit

DEFAULT_PORTS = {"http": 80, "https": 443}


def read_address(typed: str) -> str:
    """An address as a browser writes the origin of its pages: lower case, no usual port, no slash at the end.

    Raises ValueError in words for anything but scheme, name and port. Source of the form: RFC 6454, section 6.1.
    """
    try:
        parts = urlsplit(typed.strip())
        port = parts.port
    except ValueError as error:
        raise ValueError(f"{typed} is no address ({error})") from error
    if parts.scheme not in DEFAULT_PORTS or not parts.hostname:
        raise ValueError(f"{typed} is no address of a page: it begins with https:// and a name")
    if parts.path.strip("/") or parts.query or parts.fragment or parts.username:
        raise ValueError(f"{typed} says more than a name and a port")
    return origin_of(parts.scheme, parts.hostname, port)


def origin_of(scheme: str, host: str, port: int | None) -> str:
    """Scheme, host and port in one; a usual port is left out, an IPv6 address stands in brackets."""
    try:
        host = host.encode("idna").decode() if not host.isascii() else host
    except UnicodeError as error:
        raise ValueError(f"{host} is no name of a machine") from error
    shown = f"[{host}]" if ":" in host else host
    return f"{scheme}://{shown}" if port in (None, DEFAULT_PORTS[scheme]) else f"{scheme}://{shown}:{port}"


def is_loopback(host: str) -> bool:
    """Whether only the machine itself can get there. Source: RFC 6761 section 6.3, RFC 1122, RFC 4291."""
    if host == "localhost" or host.endswith(".localhost"):
        return True
    try:
        found = ipaddress.ip_address(host)
    except ValueError:
        return False
    return found.is_loopback or found.is_unspecified


def stays_here(address: str) -> bool:
    """Whether an address leads nowhere but to the machine that opens it."""
    return is_loopback(urlsplit(address).hostname or "")


def reach_warning(address: str) -> str:
    """What stands in the way of a phone that opens this address, and what to do; empty if nothing is known to."""
    if stays_here(address):
        return (
            f"{address} can be opened on the office's own machine only, so no phone can reach it. Start the office "
            "with --hall, which gives it a name and a certificate in the hall's network, or with --address and the "
            "name that phones reach it by."
        )
    if not address.startswith("https:"):
        return (
            f"{address} is not https, so phones open it but neither keep the app nor use their camera. Give the "
            "office a certificate, or a proxy that has one, and start it with --address https://…"
        )
    return ""
