"""The tables that follow from the log: a rebuild empties them and makes them anew, and `verify` compares them.

Whoever owns one says so beside its SQL, with `follows_from_log`. What has no such line is emptied by nobody: a test
holds that every table of the schema is either here or named there as one that no log gives.
"""

from __future__ import annotations

#: By the table's name, a select of all its rows in a fixed order.
DERIVED: dict[str, str] = {}


def follows_from_log(table: str, *, order: str, columns: str = "*") -> None:
    """Register a table. `columns` leaves out what a rebuild may make otherwise; `order` tells any two rows apart."""
    DERIVED[table] = f"SELECT {columns} FROM {table} ORDER BY {order}"
