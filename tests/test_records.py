"""Records in hand: what changes one is written, whichever record the operation is of."""

from __future__ import annotations

from typing import Any

from intake.records.in_hand import Records
from intake.records.registries import DERIVATIONS, DERIVED_FROM, derives
from intake.records.values import Source
from intake.settling import name_of_maker
from tests.builders import a_fact, an_item
from tests.door import Door


async def test_another_record_that_was_changed_is_written(door: Door) -> None:
    """An operation may blank a word on a record beside its own; that record keeps the operation that touched it."""
    first = await door.item()
    second = await door.keep(an_item(door.ids, first))
    before = await door.record(second["item_id"])

    def job(tx: Any) -> None:
        records = Records(tx, feed_after=100)
        other = records.find(second["item_id"])
        assert other is not None
        other.put(
            "maker", "a maker", Source(door.ids.id(), "hester", door.ids.instant(), door.device_id, 9, 99)
        )
        records.touch(first["item_id"], 99)
        records.write()

    await door.database.write(job)
    after = await door.record(second["item_id"])
    assert after["fields"]["maker"]["value"] == "a maker"
    assert after["office_seq"] == before["office_seq"]


async def test_what_follows_from_a_disagreement_goes_with_it(door: Door, monkeypatch: Any) -> None:
    monkeypatch.setitem(DERIVATIONS, ("item", "contested"), lambda item: item.is_contested("materials"))
    monkeypatch.setitem(DERIVED_FROM, ("item", "materials"), ["contested"])
    item_id = (await door.item())["item_id"]
    await door.keep(a_fact(item_id, "materials", "tin"))
    between = await door.keep(a_fact(item_id, "materials", "oak"))

    def job(tx: Any) -> None:
        item = Records(tx, feed_after=100).find(item_id)
        assert item is not None
        assert item.derived("contested")
        item.drop_disagreement(between["operation_id"])
        assert not item.derived("contested")

    await door.database.write(job)


async def test_what_follows_from_a_field_follows_anew_once_it_is_set(door: Door, monkeypatch: Any) -> None:
    monkeypatch.setitem(DERIVATIONS, ("item", "made_by_whom"), None)
    monkeypatch.setitem(DERIVED_FROM, ("item", "maker"), [])
    derives("item", "made_by_whom", "maker")(lambda item: item.value("maker"))
    item_id = (await door.item())["item_id"]

    def job(tx: Any) -> None:
        item = Records(tx, feed_after=100).find(item_id)
        assert item is not None
        assert item.derived("made_by_whom") is None
        item.put("maker", "Plumb", Source("", "hester", door.ids.instant(), door.device_id, 9, 99))
        assert item.derived("made_by_whom") == "Plumb"
        item.remove("maker")
        assert item.derived("made_by_whom") is None

    await door.database.write(job)


async def test_nobody_is_named_for_a_word_that_stands_nowhere(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    await door.keep(a_fact(item_id, "maker", "a maker"))

    def job(tx: Any) -> list[str]:
        records = Records(tx, feed_after=100)
        item = records.find(item_id)
        assert item is not None
        return [name_of_maker(item, name, records) for name in ("maker", "materials")]

    assert await door.database.write(job) == ["Hester Quillfeather", ""]
