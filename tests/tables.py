"""What stands in the derived tables, for tests that hold two offices or two moments of one together."""

from __future__ import annotations

import hashlib

from intake.database import Reading
from intake.derived_tables import DERIVED


def digests(tx: Reading) -> dict[str, str]:
    """A digest of every derived table's rows in a fixed order."""
    found = {}
    for table, sql in DERIVED.items():
        digest = hashlib.sha256()
        for row in tx.each(sql):
            digest.update(repr(tuple(row)).encode())
        found[table] = digest.hexdigest()
    return found
