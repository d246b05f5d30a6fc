"""An operation of an old log that lacks what its kind has today: it is applied without, and nothing else suffers."""

from __future__ import annotations

from collections.abc import Callable
from itertools import count

import pytest

from intake.database import Writing
from intake.operation import KINDS
from intake.records.in_hand import Records
from intake.records.values import Source
from tests.builders import a_crate
from tests.door import Door

#: A settlement is nothing without what it chose, and it has had that from the first version on.
WHOLE_FROM_THE_FIRST = {"settle_disagreement"}


@pytest.mark.parametrize("kind", sorted(set(KINDS) - WHOLE_FROM_THE_FIRST))
async def test_what_lacks_all_but_its_record_is_applied_and_contests_nothing(door: Door, kind: str) -> None:
    item = await door.item()
    crate = await door.keep(a_crate(door.ids, item["day_id"], "0002D4"))
    ids = {one: item[f"{one}_id"] for one in ("day", "visit", "item")} | {"container": crate["container_id"]}
    places = count(1000, 10)

    def applied(record_id: str) -> Callable[[Writing], bool]:
        bare = KINDS[kind].from_log(door.make((kind, {KINDS[kind].record_member: record_id})))
        made = bare.operation_id, bare.made_by, bare.made_at, bare.device_id, bare.device_seq

        def job(tx: Writing) -> bool:
            records = Records(tx, feed_after=next(places))
            disagreement = bare.apply(records, Source(*made, next(places)))
            records.touch(record_id, next(places))
            records.write()
            return disagreement

        return job

    for record_kind in KINDS[kind].record_kinds:
        assert not await door.database.write(applied(ids[record_kind]))
