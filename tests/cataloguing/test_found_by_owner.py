"""Finding things by their owner's name in a house whose owners share names."""

from __future__ import annotations

from typing import Any

import pytest

from intake.cataloguing import search
from tests.builders import a_consignor, a_fact, a_visit, an_item
from tests.conftest import Office
from tests.phone import Phone

OWNERS = search.VISITS_LIMIT + 12


@pytest.fixture
def tickets(manager: Phone, day: dict[str, Any]) -> list[str]:
    """Visits of owners of one first name, each with two things, of which one is a stool; every fifth has the surname
    of all other fifths, and every seventh a second name."""
    found = []
    for number in range(OWNERS):
        visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket=f"QA{number:03}"))
        surname = "Common" if number % 5 == 0 else f"Rare{number:03}"
        manager.keep(a_consignor(visit["visit_id"], "name", f"Qanna {'Mid ' * (number % 7 == 0)}{surname}"))
        for words in ("A stool", "A Qanna doll"):
            item = manager.keep(an_item(manager.ids, visit))
            manager.keep(a_fact(item["item_id"], "short_description", words))
        found.append(visit["ticket"])
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    return found


def listed(desk: Phone, words: str) -> dict[str, Any]:
    page: dict[str, Any] = desk.client.get("/queue", params={"words": words, "limit": 200}).json()
    return page


def tickets_of(page: dict[str, Any]) -> list[str]:
    return [row["ticket"] for row in page["entries"]]


def test_a_word_of_many_owners_stands_for_all_of_them(office: Office, tickets: list[str]) -> None:
    desk = office.pair("desk")
    assert listed(desk, "qanna")["count"] == 2 * OWNERS
    assert tickets_of(listed(desk, "Qanna stool")) == tickets
    assert set(tickets_of(listed(desk, "common qann"))) == set(tickets[::5])
    for number in (1, OWNERS - 1):
        ours = [tickets[number]] * 2
        assert tickets_of(listed(desk, f"Qanna Rare{number:03}")) == ours
        assert tickets_of(listed(desk, f"rare{number:03} {tickets[number]} qan")) == ours
    assert tickets_of(listed(desk, "Qanna Rare001 stool")) == [tickets[1]]
    assert listed(desk, "Rare001 Rare002")["count"] == 0


def test_a_name_that_is_another_finds_by_that_and_an_erased_one_by_none(
    office: Office, manager: Phone, tickets: list[str]
) -> None:
    desk = office.pair("desk")
    visit_id = listed(desk, tickets[0])["entries"][0]["visit_id"]
    name = manager.client.get(f"/records/{visit_id}").json()["fields"]["consignor/name"]
    manager.keep(a_consignor(visit_id, "name", "Zelda Quill", seen=name["operation_id"]))
    manager.push()
    assert tickets_of(listed(desk, "zelda")) == [tickets[0]] * 2
    assert tickets[0] not in tickets_of(listed(desk, "qanna stool"))
    manager.keep(("erase_consignor", {"visit_id": visit_id}))
    manager.push()
    assert not manager.refused
    assert listed(desk, "zelda")["count"] == 0
    assert tickets_of(listed(desk, tickets[0])) == [tickets[0]] * 2
    assert office.faults() == []


def test_of_words_that_many_share_the_note_goes_with_the_owner_in_whom_they_meet(
    office: Office, manager: Phone, tickets: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Common practice: what was looked for names whoever it found, and goes with them, however common each word is."""
    monkeypatch.setattr(search, "VISITS_LIMIT", 4)
    desk = office.pair("desk")
    last = listed(desk, tickets[-2])["entries"][0]["visit_id"]
    words = "Qanna Mid Common"
    listed(desk, words)
    assert words in {note["words"] for note in manager.client.get("/readings").json()["readings"]}
    manager.keep(("erase_consignor", {"visit_id": last}))
    manager.push()
    assert words not in {note["words"] for note in manager.client.get("/readings").json()["readings"]}


#: A name as it is written, and as it is typed in haste or on a keyboard that has not its letters. Source of the letters
#: that no accent is taken off: Unicode 15, decompositions; how they are typed instead: common practice.
WRITTEN_AND_TYPED = [
    *(("Quin O'Brackle", typed) for typed in ("o'brackle", "O’Brackle", "obrackle", "o brackle", "brackle")),
    *(("Petra d’Ombre-Vale", typed) for typed in ("dombre", "vale", "ombre-vale", "ombrevale", "dombrevale")),
    *(
        ("Ann Bo-Cu-De-El-Fi-Go-Ha", typed) for typed in ("bocudeelfigo", "figo", "ha ann")
    ),  # of six parts at most
    *(("Łucja Żabczyńska", typed) for typed in ("lucja zabczynska", "ŁUCJA", "Żab")),
    *(("Søren Ærkjær", typed) for typed in ("soren aerkjaer", "Ærk", "SØREN")),
    *(("Dilara Yıldırıcı", typed) for typed in ("yildirici", "YILDIRICI", "YILDIRICI".lower())),
    *(("Jörg Straßgang", typed) for typed in ("jorg strassgang", "STRASSGANG", "straß")),
]


@pytest.mark.parametrize(("name", "typed"), WRITTEN_AND_TYPED)
def test_a_name_is_found_as_people_type_it(
    office: Office, manager: Phone, day: dict[str, Any], name: str, typed: str
) -> None:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q-07"))
    manager.keep(a_consignor(visit["visit_id"], "name", name))
    item = manager.keep(an_item(manager.ids, visit))
    manager.keep(a_fact(item["item_id"], "short_description", "A stool, 5½ in high"))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    desk = office.pair("desk")
    for words in (typed, "q07", "Q-07", "5½", "5 1/2"):
        assert tickets_of(listed(desk, words)) == ["Q-07"], words
    assert listed(desk, f"{typed} chair")["count"] == 0
