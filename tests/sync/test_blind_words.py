"""A device that may not read an owner's words may write them all the same, and learns nothing of them by that."""

from __future__ import annotations

from typing import Any

from tests.builders import a_consignor, a_fact, a_settlement
from tests.conftest import Office
from tests.phone import Phone
from tests.sync.planted import Planted, set_visit


def a_table(office: Office, planted: Planted, seat: str) -> Phone:
    table = office.pair("table", seat)
    asked = {"day_id": planted.day_id, "table_id": seat}
    assert table.client.get("/sync/feed", params=asked).status_code == 200
    return table


def heard(table: Phone, planted: Planted, guess: tuple[str, dict[str, Any]]) -> Any:
    """All that a table hears as it says this, says it again as one that had looked at its own word, and asks."""
    first = table.keep(guess)
    kind, body = guess
    table.keep((kind, {**body, "seen": first["operation_id"]}))
    answers = [{**answer, "operation_id": "", "office_seq": 0} for answer in table.push()]
    visit = table.record(planted.visit_id)["fields"]
    settled = table.client.get(f"/settlements/{first['operation_id']}").status_code
    return answers, {name: sorted(field) for name, field in visit.items()}, settled


def test_a_right_guess_looks_like_a_wrong_one(office: Office, manager: Phone, day: dict[str, Any]) -> None:
    planted = Planted(office, manager, day)
    visit_id = planted.visit_id
    for number, (right, wrong) in enumerate(
        [
            (
                a_consignor(visit_id, "name", "Given Marker-Name"),
                a_consignor(visit_id, "name", "Given Nobody"),
            ),
            (a_consignor(visit_id, "telephone", "marker-telephone"), a_consignor(visit_id, "telephone", "7")),
            (set_visit(visit_id, "needs", "marker-needs"), set_visit(visit_id, "needs", "a chair")),
            (
                a_fact(planted.item_id, "told_words", "marker-told"),
                a_fact(planted.item_id, "told_words", "x"),
            ),
        ]
    ):
        first = heard(a_table(office, planted, f"{number} a"), planted, right)
        second = heard(a_table(office, planted, f"{number} b"), planted, wrong)
        assert first == second
    assert office.faults() == []


def test_what_was_settled_of_words_that_it_does_not_read_it_does_not_hear(
    office: Office, manager: Phone, day: dict[str, Any]
) -> None:
    """Nobody settles what was guessed rightly, so that even an answer without its note would tell."""
    planted = Planted(office, manager, day)
    table = a_table(office, planted, "9")
    said = table.keep(a_consignor(planted.visit_id, "telephone", "a guess"))
    table.push()
    manager.keep(a_settlement(planted.visit_id, said["operation_id"], "kept"))
    assert manager.push()[0]["outcome"] == "kept"
    assert table.client.get(f"/settlements/{said['operation_id']}").status_code == 404


def test_the_office_has_both_and_who_reads_the_owner_hears_that_they_differ(
    office: Office, manager: Phone, day: dict[str, Any]
) -> None:
    planted = Planted(office, manager, day)
    table = a_table(office, planted, "9")
    table.keep(a_consignor(planted.visit_id, "telephone", "a guess"))
    assert not table.push()[0]["disagreement"]
    [between] = [
        one
        for one in manager.record(planted.visit_id)["disagreements"]
        if one["field"] == "consignor/telephone"
    ]
    assert between["other"]["value"] == "a guess"
    door = office.pair("door")
    door.client.get("/sync/feed", params={"day_id": planted.day_id})
    door.keep(a_consignor(planted.visit_id, "telephone", "another"))
    assert door.push()[0]["disagreement"]
