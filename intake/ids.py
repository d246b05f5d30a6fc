"""UUIDv7: ids that any device makes by itself. Source: RFC 9562 section 5.7."""

from __future__ import annotations

import uuid


def uuid7(unix_ms: int, random_bytes: bytes) -> str:
    """A UUIDv7 in lower case from a time in milliseconds and ten random bytes (74 bits of them are used)."""
    chance = int.from_bytes(random_bytes[:10], "big")
    rand_a, rand_b = chance >> 68, chance & (1 << 62) - 1
    return str(uuid.UUID(int=unix_ms << 80 | 7 << 76 | rand_a << 64 | 2 << 62 | rand_b))
