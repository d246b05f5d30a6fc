"""Records in hand: what is read, written, put off and let go of, and what of two values was said by whom."""

from __future__ import annotations

import json
from collections.abc import Callable
from itertools import count
from typing import Any

import pytest

from intake.database import Writing
from intake.errors import NotFound, OfficeFull
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.registries import VIEWS, shows
from intake.records.same_thing import ids_of_thing
from intake.records.values import Disagreement, Source, compact
from intake.records.writing import in_pieces
from tests.builders import a_consignor, a_fact, a_settlement, a_visit, an_item
from tests.door import Door

Job = Callable[[Writing, Records], Any]


async def in_hand(door: Door, job: Job) -> Any:
    return await door.database.write(lambda tx: job(tx, Records(tx, feed_after=1000)))


def by(door: Door, office_seq: int = 99) -> Source:
    return Source(door.ids.id(), "hester", door.ids.instant(), door.device_id, 9, office_seq)


async def two_items(door: Door) -> tuple[str, str]:
    first = await door.item()
    return first["item_id"], (await door.keep(an_item(door.ids, first)))["item_id"]


def require(records: Records, record_id: str) -> Record:
    return records.require(record_id, "item", "visit", "day")


async def test_a_record_is_found_once_and_asked_for_by_its_kind(door: Door) -> None:
    opened = await door.item()

    def job(_: Writing, records: Records) -> None:
        item = records.require(opened["item_id"], "visit", "item")
        assert records.find(opened["item_id"]) is item
        assert (item.kind, item.day_id, item.new, item.written) == ("item", opened["day_id"], False, True)
        assert records.find("no such record") is None
        assert (records.hearing, records.logged("any")) == (False, None), "unless the job says otherwise"
        for record_id in (opened["visit_id"], "no such record"):
            with pytest.raises(NotFound):
                records.require(record_id, "item", "container")

    await in_hand(door, job)


async def test_one_value_is_looked_up_as_it_stands_in_memory(door: Door) -> None:
    """Read from the table as long as nobody has the record's fields in hand, and then from them."""
    item_id = (await door.item())["item_id"]
    await door.keep(a_fact(item_id, "maker", "Plumb"))

    def job(tx: Writing, records: Records) -> None:
        assert records.look_up(item_id, "maker") == "Plumb"
        assert records.look_up(item_id, "materials") is None
        assert records.look_up("no such record", "maker") is None
        tx.run("UPDATE field SET value = '\"other\"' WHERE record_id = :item_id", item_id=item_id)
        assert records.look_up(item_id, "maker") == "Plumb", "once a job"
        records.forget()
        assert records.look_up(item_id, "maker") == "other"
        require(records, item_id).put("maker", "newest", by(door))
        assert records.look_up(item_id, "maker") == "newest"
        new = records.open("new", "item", "day", {}, by(door))
        assert records.look_up("new", "maker") is None
        new.put("maker", "fresh", by(door))
        assert records.look_up("new", "maker") == "fresh"

    await in_hand(door, job)


async def test_a_new_record_has_what_every_record_has_and_what_it_was_opened_with(door: Door) -> None:
    source = by(door, 41)

    def job(tx: Writing, records: Records) -> Any:
        record = records.open("new", "container", "day", {"number": "7K3QW5"}, source)
        assert (record.new, record.fields, record.disagreements) == (True, {}, {})
        records.touch("new", 41)
        records.write()
        row = tx.one("SELECT opened_seq, office_seq, head, feed_seq FROM record WHERE record_id = 'new'")
        return row and dict(row)

    row = await in_hand(door, job)
    assert (row["opened_seq"], row["office_seq"], row["feed_seq"]) == (41, 41, 1001)
    assert list(json.loads(row["head"]).items()) == [
        ("kind", "container"),
        ("record_id", "new"),
        ("day_id", "day"),
        ("opened_at", source.made_at),
        ("opened_by", "hester"),
        ("number", "7K3QW5"),
    ]


async def test_changed_records_follow_the_feed_in_the_order_of_their_operations(door: Door) -> None:
    first, second = await two_items(door)

    def job(tx: Writing, records: Records) -> Any:
        for item_id, office_seq in ((first, 50), (second, 49)):
            require(records, item_id)
            records.touch(item_id, office_seq)
        records.touch("no such record", 51)
        assert records.unwritten() == {first, second}
        records.write()
        assert records.unwritten() == set()
        records.write()
        rows = "SELECT record_id, office_seq FROM record WHERE feed_seq > 1000 ORDER BY feed_seq"
        return [tuple(row) for row in tx.all(rows)]

    assert await in_hand(door, job) == [(second, 49), (first, 50)]


async def test_what_a_visit_says_who_reads_is_read_anew_once_and_behind_it(door: Door) -> None:
    """An item that was changed with its visit has its place by that; the others get one, and are what they were."""
    changed, other = await two_items(door)
    for item_id in (changed, other):
        await door.keep(a_fact(item_id, "told_words", "out of a loft"))

    def job(tx: Writing, records: Records) -> Any:
        visit_id = require(records, changed).head["visit_id"]
        require(records, visit_id).put("table_id", "another table", by(door, 50))
        records.touch(visit_id, 50)
        records.touch(changed, 51)
        records.write()
        rows = "SELECT record_id, feed_seq, office_seq FROM record WHERE feed_seq > 1000 ORDER BY feed_seq"
        return visit_id, [tuple(row) for row in tx.all(rows)]

    visit_id, (*placed, last) = await in_hand(door, job)
    assert placed == [(visit_id, 1001, 50), (changed, 1002, 51)]
    assert last[:2] == (other, 1003)
    assert last[2] < 50


async def test_rows_of_the_steps_are_written_once_and_with_the_records(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    insert = "INSERT INTO spoiled_tag (tag) VALUES (?)"

    def job(tx: Writing, records: Records) -> None:
        def spoiled() -> list[str]:
            return [row["tag"] for row in tx.all("SELECT tag FROM spoiled_tag ORDER BY tag")]

        records.add_rows(insert, [("a",)])
        records.add_rows(insert, [("b",), ("c",)])
        records.write()
        assert spoiled() == [], "nothing was changed"
        records.touch(item_id, 99)
        records.write()
        records.touch(item_id, 100)
        records.write()
        assert spoiled() == ["a", "b", "c"]
        records.add_rows(insert, [("d",)])
        records.forget()
        records.touch(item_id, 101)
        records.write()
        assert spoiled() == ["a", "b", "c"]

    await in_hand(door, job)


async def test_what_is_let_go_of_was_not_written(door: Door) -> None:
    item_id = (await door.item())["item_id"]

    def job(_: Writing, records: Records) -> None:
        require(records, item_id).put("maker", "Plumb", by(door))
        assert records.unwritten() == {item_id}
        records.forget()
        assert records.unwritten() == set()
        records.write()
        assert require(records, item_id).value("maker") is None

    await in_hand(door, job)


async def test_a_disagreement_alone_that_is_settled_or_let_go_of_is_written(door: Door) -> None:
    """Though no operation touches the record: erased words let go of what was said of them on others."""
    item_id = (await door.item())["item_id"]
    await door.keep(a_fact(item_id, "materials", "tin"))
    between = (await door.other().keep(a_fact(item_id, "materials", "oak")))["operation_id"]

    def job(tx: Writing, records: Records) -> None:
        def written() -> list[str | None]:
            assert records.unwritten() == {item_id}
            records.write()
            rows = tx.all("SELECT settled FROM disagreement WHERE record_id = :item_id", item_id=item_id)
            return [row["settled"] for row in rows]

        item = require(records, item_id)
        item.settle(between, {"choose": "kept"})
        assert written() == ['{"choose":"kept"}']
        item.drop_disagreement(between)
        assert written() == []

    await in_hand(door, job)


@pytest.mark.parametrize("fault", [ValueError("ours"), MemoryError()])
async def test_a_view_that_fails_fails_all_unless_somebody_hears_of_it(
    door: Door, monkeypatch: pytest.MonkeyPatch, fault: Exception
) -> None:
    """A fault of the machine always does: nothing is left out for want of room."""
    item_id = (await door.item())["item_id"]

    def failing(records: Records, record: Record) -> None:
        records.tx.run("INSERT INTO spoiled_tag (tag) VALUES ('half')")
        raise fault

    monkeypatch.setitem(VIEWS, "item", [failing, *VIEWS["item"]])
    heard: list[tuple[str, str, Exception]] = []

    def job(tx: Writing, records: Records) -> Any:
        records.touch(item_id, 99)
        with pytest.raises(type(fault)):
            tx.undoable(records.write)
        require(records, item_id).written = False
        records.write(lambda record, view, error: heard.append((record.record_id, view.__name__, error)))
        return tx.value("SELECT count(*) FROM spoiled_tag")

    if isinstance(fault, MemoryError):
        with pytest.raises((MemoryError, OfficeFull)):
            await in_hand(door, job)
        assert heard == []
    else:
        assert await in_hand(door, job) == 0, "what it had begun is taken back"
        assert heard == [(item_id, "failing", fault)]


async def test_records_of_one_thing_are_shown_together_and_once_more_when_they_part(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    first, second = await two_items(door)
    shown: list[str] = []
    places = count(2000)
    monkeypatch.setitem(VIEWS, "item", [lambda _, record: shown.append(record.record_id)])

    def shown_after(records: Records, touched: str) -> set[str]:
        shown.clear()
        records.touch(touched, next(places))
        records.write()
        assert len(shown) == len(set(shown))
        return set(shown)

    def job(_: Writing, records: Records) -> None:
        assert shown_after(records, first) == {first}
        records.note_behind(second, first)
        assert records.behind() == {second: first}
        assert [one.record_id for one in records.same_thing(require(records, first))] == [first, second]
        assert shown_after(records, first) == {first, second}
        records.note_behind(second, None)
        assert records.behind() == {}
        assert shown_after(records, second) == {first, second}, "the other is told that it parted"
        assert shown_after(records, second) == {second}
        day = records.require(require(records, first).day_id, "day")
        records.note_behind(second, first)
        assert records.same_thing(day) == [day]

    await in_hand(door, job)


def test_one_thing_is_all_that_hangs_together_whichever_is_asked() -> None:
    behind = {"b": "a", "c": "b", "d": "a", "y": "x"}
    assert ids_of_thing("c", behind) == ["c", "b", "a", "d"]
    for one in "abcd":
        assert sorted(ids_of_thing(one, behind)) == ["a", "b", "c", "d"]
    assert (ids_of_thing("x", behind), ids_of_thing("alone", behind)) == (["x", "y"], ["alone"])


@pytest.mark.parametrize(("tables", "missing"), [((), "no table"), (("entry", "no_such"), "no_such")])
def test_a_view_names_the_tables_that_a_rebuild_empties(tables: tuple[str, ...], missing: str) -> None:
    with pytest.raises(TypeError, match=f"a view of a item names {missing}:"):
        shows("item", *tables)


async def test_a_field_that_is_taken_away_is_gone_from_the_tables_with_its_part(door: Door) -> None:
    """Of a visit several circles read something; a circle that has nothing left to read has no part."""
    visit = await door.keep(a_visit(door.ids, (await door.item())["day_id"], ticket="Q02"))
    visit_id = visit["visit_id"]
    await door.keep(a_consignor(visit_id, "name", "Gloamwell, Auda"))

    def job(tx: Writing, records: Records) -> tuple[dict[str, list[str]], dict[str, list[str]], list[str]]:
        def parts() -> dict[str, list[str]]:
            rows = tx.all("SELECT readers, fields FROM record_part WHERE record_id = :id", id=visit_id)
            return {row["readers"]: list(json.loads(f"{{{row['fields']}}}")) for row in rows}

        before, record = parts(), require(records, visit_id)
        for name in before["owner"]:
            record.remove(name)
        records.write()
        rows = tx.all("SELECT name FROM field WHERE record_id = :id", id=visit_id)
        return before, parts(), [row["name"] for row in rows]

    before, after, names = await in_hand(door, job)
    assert "consignor/name" in before.pop("owner")
    assert any("called" in names for names in before.values()), "what follows from it is sent beside it"
    assert "owner" not in after
    assert not any(name.startswith("consignor/") for name in names)
    assert names != []


async def test_what_was_said_is_what_stands_and_both_sides_of_what_is_open(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    await door.keep(a_fact(item_id, "maker", "Plumb"))
    await door.keep(a_fact(item_id, "materials", "tin"))
    between = (await door.other().keep(a_fact(item_id, "materials", "oak")))["operation_id"]

    def said(records: Records, name: str | None = None) -> list[tuple[str, Any]]:
        return sorted((name, value.value) for name, value in require(records, item_id).said(name))

    def open_job(_: Writing, records: Records) -> None:
        both = [("materials", "oak"), ("materials", "tin"), ("materials", "tin")]
        assert said(records) == [("maker", "Plumb"), *both]
        assert said(records, "materials") == both
        assert said(records, "maker") == [("maker", "Plumb")]
        item = require(records, item_id)
        assert (item.is_contested("materials"), item.is_contested("maker")) == (True, False)
        assert item.open_disagreements == 1
        assert item.values("ma") == {"maker": "Plumb", "materials": "tin"}
        assert list(item.values("ma")) == ["maker", "materials"]

    await in_hand(door, open_job)
    await door.keep(a_settlement(item_id, between, "kept"))

    def settled_job(_: Writing, records: Records) -> None:
        assert said(records, "materials") == [("materials", "tin")]
        item = require(records, item_id)
        assert (item.is_contested("materials"), item.open_disagreements) == (False, 0)

    await in_hand(door, settled_job)


async def test_who_said_the_same_since_is_noted_beside_the_value(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    first = await door.keep(a_fact(item_id, "maker", "Plumb"))
    again = await door.other().keep(a_fact(item_id, "maker", "Plumb"))
    agreed = (await door.record(item_id))["fields"]["maker"]["agreed"]
    assert list(agreed.values()) == [again["operation_id"]]

    def job(_: Writing, records: Records) -> list[bool]:
        value = require(records, item_id).fields["maker"]
        return [
            value.was_seen(seen) for seen in (first["operation_id"], again["operation_id"], "another", None)
        ]

    assert await in_hand(door, job) == [True, True, False, False]


KEPT, OTHER = ({"operation_id": name, "value": f"what {name} said"} for name in ("k", "o"))


@pytest.mark.parametrize(
    ("settled", "settled_on"),
    [
        (None, None),
        ({"operation_id": "s", "choose": "kept"}, "k"),
        ({"operation_id": "s", "choose": "other"}, "o"),
        ({"operation_id": "s", "choose": "standing"}, None),
    ],
)
def test_whose_word_was_settled_on(settled: dict[str, str] | None, settled_on: str | None) -> None:
    between = Disagreement(
        "o", "maker", 7, compact(KEPT), compact(OTHER), compact(settled) if settled else None
    )
    assert (between.settled_on, between.settled_by) == (settled_on, settled and "s")
    assert (between.value_of("kept"), between.value_of("other")) == ("what k said", "what o said")
    assert between.kept_by == "k"
    assert json.loads(between.body()) == {
        "disagreement_id": "o",
        "field": "maker",
        "kept": KEPT,
        "other": OTHER,
        "settled": settled,
    }


@pytest.mark.parametrize("common", [[], ['"a":1']])
@pytest.mark.parametrize("between", [[], ['{"d":1}']])
@pytest.mark.parametrize(
    ("more", "fields", "disagreements"),
    [
        ([], [], []),
        ([(b"", b"")], [], []),
        ([(b'"b":2', b"")], ["b"], []),
        ([(b"", b'{"d":2}')], [], [2]),
        ([(b'"b":2', b'{"d":2}')], ["b"], [2]),
        ([(b'"b":2', b""), (b'"c":3', b'{"d":3}')], ["b", "c"], [3]),
        ([(b'"b":2', b'{"d":2}'), (b"", b""), (b'"c":3', b'{"d":3}')], ["b", "c"], [2, 3]),
    ],
)
def test_parts_put_into_a_record_make_one_record(
    common: list[str],
    between: list[str],
    more: list[tuple[bytes, bytes]],
    fields: list[str],
    disagreements: list[int],
) -> None:
    """Whichever of both are empty: it is JSON, and holds all of each."""
    start = f'{{"fields":{{{",".join(common)}'
    body = f'{start}}},"disagreements":[{",".join(between)}]}}'.encode()
    whole = json.loads(b"".join(in_pieces(body, len(start), more)))
    assert list(whole["fields"]) == ["a"] * len(common) + fields
    assert [one["d"] for one in whole["disagreements"]] == [1] * len(between) + disagreements


async def test_a_record_knows_the_others_of_its_thing_and_no_other_kind_has_any(door: Door) -> None:
    """What is asked of one of two records of a thing (is it tagged, did it go home) is asked of the thing."""
    first, second = await two_items(door)

    def job(_: Writing, records: Records) -> None:
        records.note_behind(second, first)
        of_each = [[other.record_id for other in require(records, one).others()] for one in (first, second)]
        assert of_each == [[second], [first]]
        new = records.open("new", "item", require(records, first).day_id, {}, by(door))
        records.note_behind("new", first)
        assert {other.record_id for other in new.others()} == {first, second}
        assert records.require(require(records, first).day_id, "day").others() == []

    await in_hand(door, job)
