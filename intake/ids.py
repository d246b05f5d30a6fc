"""UUIDv7: ids that any device makes by itself. Source: RFC 9562 section 5.7."""

from __future__ import annotations

import hashlib
import uuid


def uuid7(unix_ms: int, random_bytes: bytes) -> str:
    """A UUIDv7 in lower case from a time in milliseconds and ten random bytes (74 bits of them are used)."""
    chance = int.from_bytes(random_bytes[:10], "big")
    rand_a, rand_b = chance >> 68, chance & (1 << 62) - 1
    return str(uuid.UUID(int=unix_ms << 80 | 7 << 76 | rand_a << 64 | 2 << 62 | rand_b))


def own_id(operation_id: str, device_id: str) -> str:
    """The id under which a device's operation is taken in where another device has used its own for something else: a
    UUIDv8 that follows from both. Source: RFC 9562 section 5.8 (version 8, for what an application makes of it).
    """
    number = int.from_bytes(hashlib.sha256(f"{operation_id} {device_id}".encode()).digest()[:16], "big")
    return str(uuid.UUID(int=number & ~(0xF << 76) & ~(3 << 62) | 8 << 76 | 2 << 62))
