"""Records of one thing: it was recorded more than once, so that one record stands behind another."""

from __future__ import annotations

from collections.abc import Mapping


def ids_of_thing(record_id: str, behind: Mapping[str, str]) -> list[str]:
    """The ids of all records of the thing that a record is of, its own the first: whichever stands behind which,
    however often. `behind` names, for each that stands behind another, that one."""
    found = [record_id]
    for one in found:
        near = [behind[one]] if one in behind else []
        near += [other for other, into_id in behind.items() if into_id == one]
        found += [other for other in near if other not in found]
    return found
