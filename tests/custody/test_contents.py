"""What lies in what, asked of the office by devices that hold no day, or another one."""

from __future__ import annotations

from itertools import islice
from pathlib import Path
from typing import Any

import pytest

from intake.custody.day_closing import NOBODY_KNOWS
from intake.tagging.tags import codes
from tests.builders import a_crate, a_fact, a_load, a_move, a_tie, a_visit, an_item, put_in
from tests.closings import close_with_all
from tests.conftest import Office
from tests.phone import Phone

OUTER, INNER, OWL, FOX, HARE, BEAR = islice(codes(9000), 6)


@pytest.fixture
def things(manager: Phone, day: dict[str, Any]) -> dict[str, str]:
    """A crate in a crate: in the inner one an owl, in the outer one a fox; a hare was taken out, a bear lay in none."""
    ids, found = manager.ids, {}
    for name, number in {"outer": OUTER, "inner": INNER}.items():
        found[name] = manager.keep(a_crate(ids, day["day_id"], number))["container_id"]
    for name, number in {"owl": OWL, "fox": FOX, "hare": HARE, "bear": BEAR}.items():
        visit = manager.keep(a_visit(ids, day["day_id"], ticket=name))
        found[name] = manager.keep(an_item(ids, visit))["item_id"]
        manager.keep(a_fact(found[name], "short_description", name))
        manager.keep(a_fact(found[name], "told_words", "told-marker"))
        manager.keep(a_tie(found[name], number))
    manager.keep(put_in(found["owl"], found["inner"]))
    inside = manager.keep(put_in(found["hare"], found["outer"]))
    manager.keep(put_in(found["hare"], None, seen=inside["operation_id"]))
    for name in ("fox", "inner"):
        manager.keep(put_in(found[name], found["outer"]))
    assert [answer for answer in manager.push() if answer["outcome"] != "kept"] == []
    return found


def names(records: list[dict[str, Any]], things: dict[str, str]) -> set[str]:
    by_id = {record_id: name for name, record_id in things.items()}
    return {by_id[record["record_id"]] for record in records if record["kind"] != "day"}


def test_a_desk_is_told_what_lies_in_a_container_at_any_depth_and_what_it_stands_in(
    office: Office, things: dict[str, str], day: dict[str, Any]
) -> None:
    desk = office.pair("desk").client
    outer = desk.get(f"/containers/{things['outer']}").json()["records"]
    assert names(outer, things) == {"outer", "inner", "owl", "fox"}
    inner = desk.get(f"/containers/{things['inner']}").json()["records"]
    assert names(inner, things) == {"outer", "inner", "owl"}
    [of_day] = [record for record in inner if record["kind"] == "day"]
    assert of_day["record_id"] == day["day_id"]
    [owl] = [record for record in inner if record["record_id"] == things["owl"]]
    said = {name.partition("/")[0] for name in owl["fields"]}
    assert said == {"short_description", "tags", "inside"}, "and nothing else is read for it"
    assert desk.get(f"/containers/{things['owl']}").status_code == 404
    for role in ("table", "door", "porter"):
        assert office.pair(role).client.get(f"/containers/{things['inner']}").status_code == 403


def test_a_desk_is_told_what_left_with_a_load_what_came_with_it_and_what_lies_in_that(
    office: Office, manager: Phone, things: dict[str, str], day: dict[str, Any]
) -> None:
    load_id = manager.ids.id()
    manager.keep(a_load(day["day_id"], load_id, [INNER]))
    manager.keep(a_load(day["day_id"], manager.ids.id(), [BEAR], to_place="store", of_load=load_id))
    manager.push()
    desk = office.pair("desk").client
    records = desk.get(f"/loads/{load_id}").json()["records"]
    assert names(records, things) == {"inner", "outer", "owl", "bear"}
    assert f"loads/{load_id}" in next(record for record in records if record["kind"] == "day")["fields"]
    assert desk.get(f"/loads/{manager.ids.id()}").status_code == 404
    assert office.pair("table").client.get(f"/loads/{load_id}").status_code == 403


def test_a_porter_of_another_day_hears_which_day_it_is_while_its_van_is_awaited(
    office: Office, manager: Phone, things: dict[str, str], day: dict[str, Any]
) -> None:
    load_id = manager.ids.id()
    manager.keep(
        a_load(day["day_id"], load_id, [FOX])
    )  # nobody moved it: what stands in the van it reads itself
    said = {name: day[name] for name in ("house", "place", "currency", "tables", "people")}
    second = manager.keep(("open_day", {"day_id": manager.ids.id(), "held_on": "2026-03-15", **said}))
    manager.push()
    close_with_all(manager, day["day_id"])
    porter, table = office.pair("porter").client, office.pair("table").client
    for client in (porter, table):
        client.get("/sync/feed", params={"day_id": second["day_id"], "table_id": ""})
    dated = {"held_on": "2026-03-14", "closed": True}
    of_another = {"kind": "of another day", "record_id": "", **dated, "thing": "fox", "ticket": "fox"}
    asked = f"/tags/{FOX}", f"/loads/{load_id}"

    def told() -> list[Any]:
        return [porter.get(address).json() for address in asked]

    back = {"day_id": day["day_id"]}
    assert told() == [{**of_another, **back}, {"records": [], **dated, **back}]
    assert table.get(asked[0]).json() == of_another
    manager.keep(a_load(day["day_id"], manager.ids.id(), [FOX], to_place="store", of_load=load_id))
    manager.push()
    assert told() == [of_another, {"records": [], **dated}], "it has come"


def test_to_a_day_that_is_over_no_porter_goes_back(
    office: Office, manager: Phone, things: dict[str, str], day: dict[str, Any]
) -> None:
    load_id = manager.ids.id()
    manager.keep(a_load(day["day_id"], load_id, [FOX]))
    said = {name: day[name] for name in ("house", "place", "currency", "tables", "people")}
    second = manager.keep(("open_day", {"day_id": manager.ids.id(), "held_on": "2026-03-15", **said}))
    manager.push()
    close_with_all(manager, day["day_id"])
    porter = office.pair("porter").client
    porter.get("/sync/feed", params={"day_id": second["day_id"], "table_id": ""})
    assert "day_id" in porter.get(f"/loads/{load_id}").json()
    office.clock.pass_by(days=3)
    assert "day_id" not in porter.get(f"/loads/{load_id}").json()


def test_of_the_days_before_what_has_not_come_or_is_not_explained_is_told(
    office: Office, manager: Phone, things: dict[str, str], day: dict[str, Any]
) -> None:
    """On the day that follows, with what is settled left out, and for as long as a manager settles it."""
    load_id = manager.ids.id()
    for name in ("fox", "bear"):
        manager.keep(a_move(manager.ids, things[name], "van"))
    manager.keep(a_load(day["day_id"], load_id, [FOX, BEAR]))
    said = {name: day[name] for name in ("house", "place", "currency", "tables", "people")}
    second = manager.keep(("open_day", {"day_id": manager.ids.id(), "held_on": "2026-03-15", **said}))
    manager.push()

    def told() -> list[tuple[bool, list[str]]]:
        found = manager.client.get(f"/days/{second['day_id']}/before").json()["days"]
        assert all(one["count"] >= len(one["lines"]) > 0 and one["held_on"] == "2026-03-14" for one in found)
        return [(one["closed"], one["lines"]) for one in found]

    [(closed, lines)] = told()
    assert not closed
    assert any("2 of 2 things not come" in line for line in lines), lines
    close_with_all(manager, day["day_id"])
    [(closed, lines)] = told()
    assert closed
    assert "2 of 2 things not come" in lines[0]
    assert not any("signature" in line for line in lines), "explained, and settled"
    assert manager.client.get(f"/days/{day['day_id']}/before").json() == {"days": []}
    assert office.pair("table").client.get(f"/days/{second['day_id']}/before").status_code == 403
    office.clock.pass_by(days=31)
    assert told() == []


def test_what_the_office_calls_unexplained_is_what_the_app_offers() -> None:
    app = (Path(__file__).parents[2] / "web/job/closing_reasons.ts").read_text("utf-8")
    assert f'"{NOBODY_KNOWS}"' in app
