"""Checked as it comes, applied as the log has it: what is settled on obeys the rules, what was kept stays kept."""

from __future__ import annotations

import json
from itertools import pairwise, permutations
from typing import Any, Literal

import pytest

from intake.arrival.items import OfItem
from intake.custody.containers import NESTED
from intake.errors import TablesNotMade
from intake.families import FAMILIES, family_of
from intake.operation import KINDS
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.registries import VIEWS
from intake.sync import rebuild, verifying
from intake.sync.canonical import canonical
from intake.sync.rebuild import rebuild as rebuild_tables
from intake.sync.rebuild import rebuild_if_outdated
from intake.tagging.tags import codes
from tests.builders import (
    a_caution,
    a_consignor,
    a_crate,
    a_day,
    a_decision,
    a_fact,
    a_finding,
    a_settlement,
    a_tie,
    a_visit,
    a_zone,
    an_item,
    put_in,
)
from tests.door import Door

NUMBERS = [tag for tag, _ in zip(codes(77), range(6), strict=False)]


def test_a_kind_that_does_not_say_what_it_does_is_none() -> None:
    """Found when its module is imported, not when the first one is sent."""
    with pytest.raises(TypeError, match="does not say what it does"):

        class DoNothing(OfItem):
            kind: Literal["do_nothing"]

    assert "do_nothing" not in KINDS


async def crates(door: Door, count: int) -> list[str]:
    day = await door.keep(a_day(door.ids))
    made = [await door.keep(a_crate(door.ids, day["day_id"], number)) for number in NUMBERS[:count]]
    return [crate["container_id"] for crate in made]


async def test_a_circle_of_containers_cannot_be_settled_on(door: Door) -> None:
    """1 into 2; two devices disagree on 1 into 3; 3 into 1; the desk would settle on the other."""
    one, two, three = await crates(door, 3)
    await door.keep(put_in(one, two))
    between = await door.keep(put_in(one, three))
    assert between["disagreement"]
    await door.keep(put_in(three, one))

    assert await door.refused(a_settlement(one, between["operation_id"], "other")) == "inside_itself"
    assert await door.value(one, "inside") == {"container_id": two}
    await door.keep(a_settlement(one, between["operation_id"], "kept"))
    assert await door.faults() == []


@pytest.mark.parametrize("outermost_first", [True, False])
async def test_containers_stand_inside_each_other_a_dozen_deep(door: Door, outermost_first: bool) -> None:
    """Anything that is put in is looked at with all that holds it and all that it holds, so that there is an end."""
    day = await door.keep(a_day(door.ids))
    made = [
        door.make(a_crate(door.ids, day["day_id"], number))
        for number, _ in zip(codes(77), range(NESTED + 8), strict=False)
    ]
    crates = [crate["container_id"] for crate in made]
    puts = [door.make(put_in(inner, outer)) for outer, inner in pairwise(crates)]
    if not outermost_first:
        puts.reverse()
    answers = (await door.send(*made, *puts))[len(made) :]
    told = [answer["problem"] and answer["problem"]["code"] for answer in answers]
    assert told[: NESTED - 1] == [None] * (NESTED - 1)
    assert told[NESTED - 1] == "nested_too_deep"
    assert await door.faults() == []


async def test_a_thing_goes_into_the_innermost_of_a_dozen_containers(door: Door) -> None:
    item = await door.item()
    made = [
        door.make(a_crate(door.ids, item["day_id"], number))
        for number, _ in zip(codes(77), range(NESTED), strict=False)
    ]
    crates = [crate["container_id"] for crate in made]
    puts = [door.make(put_in(inner, outer)) for outer, inner in pairwise(crates)]
    answers = await door.send(*made, *puts, door.make(put_in(item["item_id"], crates[-1])))
    assert {answer["outcome"] for answer in answers} == {"kept"}


async def test_what_is_in_hand_is_asked_once_where_it_is(door: Door, monkeypatch: pytest.MonkeyPatch) -> None:
    """Not once more for every container that is opened on the way: a load of nested crates holds up nobody."""
    day = await door.keep(a_day(door.ids))
    made = [
        door.make(a_crate(door.ids, day["day_id"], number))
        for number, _ in zip(codes(77), range(60), strict=False)
    ]
    crates = [crate["container_id"] for crate in made]
    asked = []
    find = Records.find

    def find_and_note(records: Records, record_id: str) -> Record | None:
        asked.append(record_id)
        return find(records, record_id)

    monkeypatch.setattr(Records, "find", find_and_note)
    nested = [door.make(put_in(inner, outer)) for outer, inner in pairwise(crates[:NESTED])]
    await door.send(*made, *nested)
    # Four rules ask what is inside before it is put in; what is handled is asked of it and of what it goes into.
    assert len(asked) < 9 * len(made) * len(nested)


async def test_a_circle_in_an_old_log_ends_no_writer(door: Door) -> None:
    """An earlier version could settle on a circle: the tables have it, and what comes next is answered."""
    one, two, *_ = await crates(door, 2)
    visit = await door.keep(a_visit(door.ids, (await door.record(one))["day_id"]))
    inside = await door.keep(an_item(door.ids, visit))
    await door.keep(a_tie(inside["item_id"], next(codes(9000))))
    await door.keep(put_in(inside["item_id"], one))
    await door.keep(put_in(one, two))
    made = await door.keep(put_in(two, None))
    circle = json.dumps({**made, "container_id": one}, sort_keys=True, separators=(",", ":"))
    await door.database.write(
        lambda tx: tx.run(
            "UPDATE operation_log SET operation = :circle WHERE operation_id = :id",
            circle=circle,
            id=made["operation_id"],
        )
    )
    await door.rebuild()
    assert await door.value(two, "inside") == {"container_id": one}
    described = {"item_id": inside["item_id"], "state": "described", "seen": None}
    await door.keep(("set_entry", described))
    item = await door.keep(an_item(door.ids, visit))
    assert await door.refused(put_in(item["item_id"], one)) == "inside_itself"
    await door.keep(put_in(two, None, seen=made["operation_id"]))
    await door.keep(put_in(item["item_id"], one))


async def test_a_caution_that_is_settled_to_stand_stops_the_item(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    caution = await door.keep(a_caution(door.ids, item_id))
    await door.keep(a_decision(item_id, caution["caution_id"], "cleared"))
    between = await door.keep(a_decision(item_id, caution["caution_id"], "referred"))
    assert await door.refused(a_fact(item_id, "materials", "tin")) == "item_stopped", "while it is contested"

    await door.keep(a_settlement(item_id, between["operation_id"], "other"))
    assert await door.refused(a_fact(item_id, "maker", "unmarked")) == "item_stopped"
    assert await door.faults() == []


async def test_a_clearing_that_was_contested_and_holds_lets_the_item_go_on(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    caution = await door.keep(a_caution(door.ids, item_id))
    await door.keep(a_decision(item_id, caution["caution_id"], "cleared"))
    between = await door.keep(a_decision(item_id, caution["caution_id"], "referred"))
    await door.keep(a_settlement(item_id, between["operation_id"], "kept"))
    await door.keep(a_fact(item_id, "maker", "unmarked"))
    assert await door.faults() == []


async def test_a_caution_that_is_settled_as_cleared_lets_the_item_go_on(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    caution = await door.keep(a_caution(door.ids, item_id))
    await door.keep(a_decision(item_id, caution["caution_id"], "referred"))
    between = await door.keep(a_decision(item_id, caution["caution_id"], "cleared"))
    assert await door.refused(a_fact(item_id, "maker", "unmarked")) == "item_stopped"

    await door.keep(a_settlement(item_id, between["operation_id"], "other"))
    await door.keep(a_fact(item_id, "maker", "unmarked"))
    assert await door.faults() == []


async def test_two_items_cannot_be_settled_behind_each_other(door: Door) -> None:
    first = await door.item()
    second = await door.keep(an_item(door.ids, first))
    third = await door.keep(an_item(door.ids, first))

    def behind(item: dict[str, Any], into: dict[str, Any] | None, seen: Any = None) -> Any:
        into_id = into and into["item_id"]
        return "merge_item", {"item_id": item["item_id"], "into_id": into_id, "why": "", "seen": seen}

    merged = await door.keep(behind(first, third))
    between = await door.keep(behind(first, second))
    assert between["disagreement"]
    await door.keep(behind(first, None, merged["operation_id"]))
    await door.keep(behind(second, first))
    settling = a_settlement(first["item_id"], between["operation_id"], "other")
    assert await door.refused(settling) == "already_there"
    queue = await door.database.read(
        lambda tx: [row["item_id"] for row in tx.all("SELECT item_id FROM entry WHERE merged_into IS NULL")]
    )
    assert queue == [first["item_id"], third["item_id"]]
    assert await door.faults() == []


async def test_items_of_two_days_are_not_one(door: Door) -> None:
    first, second = await door.item(), await door.item()
    body = {"item_id": first["item_id"], "into_id": second["item_id"], "why": "", "seen": None}
    assert await door.refused(("merge_item", body)) == "of_another_day"


async def test_a_move_is_recorded_once(door: Door) -> None:
    """Sent under another operation's id, with other words, it is no second move and does not change the first."""
    item_id = (await door.item())["item_id"]
    move = {"move_id": door.ids.id(), "thing_id": item_id, "from_place": None, "to_place": "van", "at": ""}
    move |= {"given_by": "Ana", "taken_by": "Otis", "count": None, "signed": False}
    await door.keep(("record_move", move))
    assert await door.refused(("record_move", {**move, "to_place": "store"})) == "already_there"
    assert (await door.value(item_id, "whereabouts"))["to_place"] == "van"


async def test_clear_is_not_settled_on_a_zone_with_findings(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    await door.keep(a_zone(item_id, "nose", state="finding"))
    await door.keep(a_finding(door.ids, item_id, "nose"))
    between = await door.keep(a_zone(item_id, "nose", state="clear"))
    assert between["disagreement"], "somebody who saw no finding may say so all the same"
    settling = a_settlement(item_id, between["operation_id"], "other")
    assert await door.refused(settling) == "findings_on_zone"


def a_seal(container_id: str, seal: str) -> tuple[str, dict[str, Any]]:
    body = {"container_id": container_id, "seal": seal, "state": "sealed", "second_by": "Ned", "seen": None}
    return "seal_container", body


async def test_a_crate_that_may_not_be_handled_gets_no_seal_by_settling_on_it(door: Door) -> None:
    """What a direct seal is refused for, a settlement is: what lies in the crate is stopped."""
    item = await door.item()
    crate = (await door.keep(a_crate(door.ids, item["day_id"], NUMBERS[0])))["container_id"]
    await door.keep(put_in(item["item_id"], crate))
    await door.keep(a_seal(crate, "7103"))
    between = await door.keep(a_seal(crate, "7104"))
    assert between["disagreement"]
    await door.keep(a_caution(door.ids, item["item_id"], still_allowed=[]))
    assert await door.refused(a_seal(crate, "7104")) == "item_stopped"
    assert await door.refused(a_settlement(crate, between["operation_id"], "other")) == "item_stopped"
    await door.keep(a_settlement(crate, between["operation_id"], "kept"))


async def test_a_word_said_of_an_earlier_value_takes_the_place_of_none_that_is_contested(door: Door) -> None:
    """Its maker had seen neither of the two that stand beside each other: all three are for a person."""
    item_id = (await door.item())["item_id"]
    first = (await door.keep(a_fact(item_id, "materials", "tin")))["operation_id"]
    await door.keep(a_fact(item_id, "materials", "oak", seen=first))
    for value in ("brass", "silver"):
        made = await door.other().keep(a_fact(item_id, "materials", value, seen=first))
        assert made["disagreement"]
    record = await door.record(item_id)
    assert record["fields"]["materials"]["value"] == "oak"
    assert [between["other"]["value"] for between in record["disagreements"]] == ["brass", "silver"]
    assert await door.faults() == []


async def test_a_value_that_the_model_no_longer_takes_is_not_settled_on(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As if it were said now: it is unreadable, and so is what a later version's list no longer has."""
    item_id = (await door.item())["item_id"]
    await door.keep(a_fact(item_id, "maker_certainty", "by"))
    between = await door.keep(a_fact(item_id, "maker_certainty", "circle-of"))
    assert between["disagreement"]
    monkeypatch.setattr("intake.arrival.items.MAKER_CERTAINTIES", ("by",))
    assert await door.refused(a_fact(item_id, "maker_certainty", "circle-of")) == "unreadable"
    assert await door.refused(a_settlement(item_id, between["operation_id"], "other")) == "unreadable"
    await door.keep(a_settlement(item_id, between["operation_id"], "standing"))
    assert await door.value(item_id, "maker_certainty") == "by"


async def test_what_was_changed_from_the_value_in_force_goes_on_from_no_disagreement(door: Door) -> None:
    """Its maker saw what was settled on; whoever saw only what stands beside the other goes on from that."""

    async def said(value: str, seen: str | None = None) -> tuple[str, str | None]:
        """Who said it, and from which disagreement it went on, as the log has it."""
        answer = await door.keep(a_fact(item_id, "maker", value, seen=seen))
        in_log = "SELECT answer ->> 'goes_on_from' FROM operation_log WHERE operation_id = :operation_id"
        return answer["operation_id"], await door.database.read(
            lambda tx: tx.value(in_log, operation_id=answer["operation_id"])
        )

    item_id = (await door.item())["item_id"]
    await said("Plumb")
    between, _ = await said("Thorn")
    settled = await door.keep(a_settlement(item_id, between, "other"))
    assert (await said("Quill", settled["operation_id"]))[1] is None
    blind, goes_on_from = await said("Reed")
    assert goes_on_from is None
    assert (await said("Sedge", blind))[1] == blind


def fails(*_: Any) -> None:
    raise KeyError("Barnaby")


async def test_nobody_goes_on_without_what_a_rebuild_had_to_leave_out(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is named, without its words, and the tables stay what they were: the version of before goes on with them."""
    item_id = (await door.item())["item_id"]
    await door.keep(a_caution(door.ids, item_id))
    seq = await door.database.read(lambda tx: tx.value("SELECT max(office_seq) FROM operation_log"))
    monkeypatch.setattr(KINDS["raise_caution"], "apply_to", fails)
    await door.database.write(lambda tx: tx.run("UPDATE office SET apply_version = 0"))
    for again in (rebuild_if_outdated, rebuild.rebuild_whole):
        with pytest.raises(TablesNotMade) as told:
            await door.database.write(again)
        assert (
            f"Operation {seq} (raise_caution) is left out of the tables: KeyError in fails"
            in told.value.detail
        )
        assert "Barnaby" not in told.value.detail
    assert await door.database.read(lambda tx: tx.value("SELECT apply_version FROM office")) == 0
    assert await door.refused(a_fact(item_id, "maker", "unmarked")) == "item_stopped"
    assert any(f"Operation {seq} (raise_caution)" in said for said in await door.faults())
    monkeypatch.undo()
    assert await door.database.write(rebuild_if_outdated)
    assert await door.faults() == []


async def test_an_operation_that_is_left_out_is_not_among_those_that_were_applied(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    await door.keep(a_caution(door.ids, (await door.item())["item_id"]))
    whole = await door.rebuild()
    monkeypatch.setattr(KINDS["raise_caution"], "apply_to", fails)
    again = await door.database.write(rebuild.rebuild)
    assert (again.applied, len(again.left_out)) == (whole.applied - 1, 1)


async def test_a_view_that_fails_on_one_record_leaves_out_that_one(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    good, bad = [(await door.item())["item_id"] for _ in range(2)]
    await door.keep(a_fact(bad, "maker", "unmarked"))
    [view] = VIEWS["item"]

    def half_a_list(records: Records, record: Record) -> None:
        view(records, record)
        if record.record_id == bad:
            fails()

    monkeypatch.setitem(VIEWS, "item", [half_a_list])
    left_out = (await door.database.write(rebuild_tables)).left_out
    assert len(left_out) == 2, "where it was opened, and where its maker was said"
    assert all("is applied, and half_a_list does not show its item: KeyError" in said for said in left_out)
    assert await door.value(bad, "maker") == "unmarked"
    listed = await door.database.read(
        lambda tx: [row["item_id"] for row in tx.all("SELECT item_id FROM entry")]
    )
    assert listed == [good]


async def test_a_retired_field_in_the_log_does_not_end_a_rebuild(door: Door) -> None:
    """Members, fields and kinds that this version no longer has: what can be made of them is made."""
    item_id = (await door.item())["item_id"]
    rows = []
    for made in (a_fact(item_id, "materials", "tin"), a_zone(item_id, "nose"), a_tie(item_id, NUMBERS[0])):
        rows.append(await door.keep(made))
    retired = [
        {**rows[0], "field": "weather", "forecast": 3},
        {key: value for key, value in rows[1].items() if key not in ("light", "count")},
        {**rows[2], "kind": "tie_ribbon"},
    ]

    def age(tx: Any) -> None:
        for row, old in zip(rows, retired, strict=True):
            tx.run(
                "UPDATE operation_log SET operation = :old WHERE operation_id = :id",
                old=canonical(old),
                id=row["operation_id"],
            )

    await door.database.write(age)
    await door.rebuild()
    fields = (await door.record(item_id))["fields"]
    assert fields["weather"]["value"] == "tin"
    assert fields["zones/nose"]["value"] == {"state": "clear", "reason": None, "light": None, "count": None}
    assert not any(name.startswith("tags/") for name in fields)


async def test_a_number_with_a_point_is_taken_as_the_log_writes_it(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    await door.keep(a_finding(door.ids, item_id, "nose", extent_mm=40.0))
    assert await door.faults() == []


@pytest.mark.parametrize("made_by_version", [0, 99])
async def test_tables_of_another_version_are_made_anew(door: Door, made_by_version: int) -> None:
    """An older one whose rules have changed since, and a newer one that was rolled back."""
    item_id = (await door.item())["item_id"]
    await door.keep(a_fact(item_id, "materials", "mohair"))
    body = "replace(body, 'mohair', 'silk')"
    heard: list[tuple[int, int]] = []

    def spoil(tx: Any) -> None:
        tx.run(f"UPDATE record SET body = {body}")
        tx.run("UPDATE office SET apply_version = :version", version=made_by_version)

    await door.database.write(spoil)
    cursor = (await door.feed())["cursor"]
    assert await door.database.write(lambda tx: rebuild_if_outdated(tx, lambda *row: heard.append(row)))
    assert heard[-1] == (4, 4)
    assert await door.value(item_id, "materials") == "mohair"
    page = await door.feed(after=cursor)
    assert [record["record_id"] for record in page["records"]] == [item_id], (
        "devices read what came out otherwise, and only that"
    )
    assert not await door.database.write(rebuild_if_outdated)


async def test_what_comes_out_otherwise_of_an_owner_s_words_is_read_anew(door: Door) -> None:
    """They stand in a part of the record that not everybody reads, and the rest of it is as it was."""
    visit_id = (await door.item())["visit_id"]
    await door.item()
    await door.keep(a_consignor(visit_id, "name", "Barnaby"))
    fields = "replace(fields, 'Barnaby', 'Barnabas')"
    await door.database.write(lambda tx: tx.run(f"UPDATE record_part SET fields = {fields}"))
    day_id = (await door.record(visit_id))["day_id"]
    cursor = (await door.feed(day_id=day_id))["cursor"]
    await door.rebuild()
    page = await door.feed(after=cursor, day_id=day_id)
    assert [record["record_id"] for record in page["records"]] == [visit_id]
    assert page["records"][0]["fields"]["consignor/name"]["value"] == "Barnaby"


async def test_what_was_applied_before_the_next_step_comes_out_in_parts_too(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A rebuild lets go of what it holds in memory now and then; it ends the same, and counts them all."""
    item_id = (await door.item())["item_id"]
    for words in ("tin", "oak", "brass"):
        await door.keep(a_fact(item_id, "materials", words))
    await door.refused(a_fact(door.ids.id(), "materials", "tin"))
    for module in (rebuild, verifying):
        monkeypatch.setattr(module, "IN_HAND_LIMIT", 2)
    before = await door.digests()
    assert (await door.rebuild()).applied == 6
    assert await door.digests() == before
    assert await door.faults() == []


async def test_erasing_reaches_devices_and_is_rebuilt(door: Door) -> None:
    item = await door.item()
    visit_id = item["visit_id"]
    await door.keep(a_consignor(visit_id, "name", "Barnaby Tumblewick"))
    between = await door.keep(a_consignor(visit_id, "name", "Barnabas Tumblewick"))
    assert between["disagreement"]
    await door.keep(a_settlement(visit_id, between["operation_id"], "other"))
    [unread] = await door.send(door.make(a_consignor(visit_id, "name", "Tumblewick", surprise=1)))
    assert unread["outcome"] == "refused"
    cursor = (await door.feed())["cursor"]

    await door.keep(("erase_consignor", {"visit_id": visit_id}))
    page = await door.feed(after=cursor)
    # Its things are found by its owner's name, and are read anew with it.
    assert [record["record_id"] for record in page["records"]] == [visit_id, item["item_id"]]
    assert page["records"][0]["fields"]["consignor/name"]["value"] == ""
    assert page["records"][0]["disagreements"] == []
    assert await door.faults() == []
    tables = ("record", "record_part", "field", "disagreement", "operation_log", "private_words", "set_aside")
    for table in tables:
        rows = await door.database.read(
            lambda tx, table=table: [tuple(row) for row in tx.all(f"SELECT * FROM {table}")]  # type: ignore[misc]
        )
        assert "Tumblewick" not in repr(rows), table
    await door.keep(a_consignor(visit_id, "telephone", "07700 900001"))
    assert await door.faults() == []


async def test_an_erasure_that_is_refused_erases_nothing(door: Door) -> None:
    """A device that may not erase leaves the words where they were, also for a rebuild to read."""
    visit_id = (await door.item())["visit_id"]
    await door.keep(a_consignor(visit_id, "name", "Barnaby Tumblewick"))
    assert await door.other("porter").refused(("erase_consignor", {"visit_id": visit_id})) == "role_may_not"
    assert (
        await door.refused(("erase_consignor", {"visit_id": visit_id}), made_by="nobody")
        == "person_not_on_day"
    )
    assert await door.faults() == []
    await door.database.write(rebuild.rebuild)
    assert (await door.record(visit_id))["fields"]["consignor/name"]["value"] == "Barnaby Tumblewick"


async def roles_that_read(door: Door, record_id: str, words: str) -> set[str]:
    """The roles in whose history of a record these words stand."""
    return {
        role
        for role in ("door", "table", "porter", "desk", "manager")
        if words in str(await door.history(record_id, role))
    }


async def test_what_a_settlement_was_about_is_forgotten_with_the_words(door: Door) -> None:
    """Once its disagreement is erased nobody can tell that it was about an owner: it is the office's alone."""
    visit_id = (await door.item())["visit_id"]
    await door.keep(a_consignor(visit_id, "name", "Barnaby Tumblewick"))
    between = await door.keep(a_consignor(visit_id, "name", "Barnabas Tumblewick"))
    kind, settling = a_settlement(visit_id, between["operation_id"], "other")
    await door.keep((kind, {**settling, "note": "as on the letter"}))
    assert await roles_that_read(door, visit_id, "settle_disagreement") == {
        "door",
        "table",
        "desk",
        "manager",
    }
    await door.keep(("erase_consignor", {"visit_id": visit_id}))
    assert await roles_that_read(door, visit_id, "settle_disagreement") == {"desk", "manager"}


async def test_a_settlement_of_nothing_is_read_by_the_office_alone(door: Door) -> None:
    item = await door.item()
    await door.keep(a_consignor(item["visit_id"], "name", "Barnaby Tumblewick"))
    between = await door.keep(a_consignor(item["visit_id"], "name", "Barnabas Tumblewick"))
    kind, settling = a_settlement(item["item_id"], between["operation_id"], "other")
    assert await door.refused((kind, {**settling, "note": "as on the letter"})) == "not_found"
    assert await roles_that_read(door, item["item_id"], "settle_disagreement") == {"desk", "manager"}


async def test_a_kind_that_is_gone_is_read_by_the_office_alone(door: Door) -> None:
    visit_id = (await door.item())["visit_id"]
    made = await door.keep(
        ("set_visit", {"visit_id": visit_id, "field": "table_id", "value": "rings twice", "seen": None})
    )
    await door.database.write(
        lambda tx: tx.run(
            "UPDATE operation_log SET operation = replace(operation, 'set_visit', 'note_of_owner') "
            "WHERE operation_id = :operation_id",
            operation_id=made["operation_id"],
        )
    )
    assert await roles_that_read(door, visit_id, "rings twice") == {"desk", "manager"}


def test_every_field_that_a_kind_sets_has_a_family() -> None:
    """What is kept out of the log can be erased, and is not everyone's to read."""
    for kind in KINDS.values():
        names = kind.field_templates()
        for name in names:
            assert name[0] == "{" or family_of(name).key in FAMILIES, f"{kind.__name__} sets {name}"
        if kind.personal and names != ["{field}"]:  # of those the field decides
            assert any(family_of(name).erasable for name in names), kind.__name__


def off(item_id: str, tag: str, why: str) -> tuple[str, dict[str, Any]]:
    return "remove_tag", {"item_id": item_id, "tag": tag, "why": why, "replaced_by": None}


async def test_why_a_tag_is_gone_is_said_once(door: Door) -> None:
    """A second phone's other reason does not take the first one's place; that it is another item's still may."""
    item_id, tag = (await door.item())["item_id"], NUMBERS[0]
    await door.keep(a_tie(item_id, tag))
    await door.keep(off(item_id, tag, "lost"))
    assert await door.other().refused(off(item_id, tag, "taken-back")) == "tag_gone"
    assert (await door.value(item_id, f"tags/{tag}"))["gone"] == "lost"
    await door.keep(("remove_tag", {**off(item_id, tag, "lost")[1], "replaced_by": NUMBERS[1]}))
    await door.keep(off(item_id, tag, "on-another-item"))
    assert await door.faults() == []


async def test_a_lost_number_is_not_settled_to_another_item(door: Door) -> None:
    """It may turn up where it fell off; it goes over once somebody has seen that it is on the other."""
    one, tag = await door.item(), NUMBERS[0]
    other = await door.keep(an_item(door.ids, one))
    await door.keep(a_tie(one["item_id"], tag))
    tie = door.make(a_tie(other["item_id"], tag))
    [answer] = await door.send(tie)
    assert answer["disagreement"]
    await door.keep(off(one["item_id"], tag, "lost"))
    settle = a_settlement(other["item_id"], tie["operation_id"], "other")
    assert await door.refused(settle) == "tag_taken"
    await door.keep(off(one["item_id"], tag, "on-another-item"))
    await door.keep(settle)
    assert await door.faults() == []


async def test_a_circle_cannot_be_settled_on_by_what_stood_before(door: Door) -> None:
    """1 into 2, disputed, then 1 into 3, then 2 into 1: that 1 is in 2 after all is refused as if it were said anew."""
    one, two, three = await crates(door, 3)
    first = await door.keep(put_in(one, two))
    between = await door.keep(put_in(one, None))
    await door.keep(put_in(one, three, seen=first["operation_id"]))
    await door.keep(put_in(two, one))
    assert await door.refused(a_settlement(one, between["operation_id"], "kept")) == "inside_itself"
    await door.keep(a_settlement(one, between["operation_id"], "standing"))
    assert await door.value(one, "inside") == {"container_id": three}
    assert await door.faults() == []


@pytest.mark.parametrize("choose", ["kept", "other", "standing"])
@pytest.mark.parametrize("decisions", list(permutations(["isolated", "referred", "cleared"])))
async def test_red_lifts_by_a_settlement_on_the_clearing_alone(
    door: Door, decisions: tuple[str, ...], choose: str
) -> None:
    """Two decide otherwise, and a third who saw the first decides again before it is settled."""
    item_id = (await door.item())["item_id"]
    caution_id = (await door.keep(a_caution(door.ids, item_id)))["caution_id"]
    kept, other, standing = decisions
    first = await door.keep(a_decision(item_id, caution_id, kept))
    between = await door.keep(a_decision(item_id, caution_id, other))
    await door.keep(a_decision(item_id, caution_id, standing, seen=first["operation_id"]))
    await door.keep(a_settlement(item_id, between["operation_id"], choose))
    chosen = {"kept": kept, "other": other, "standing": standing}[choose]
    assert (await door.value(item_id, f"caution-decisions/{caution_id}"))["decision"] == chosen
    [answer] = await door.send(door.make(a_fact(item_id, "materials", "tin")))
    assert answer["outcome"] == ("kept" if chosen == "cleared" else "refused")
    assert await door.faults() == []
