"""What is recorded of an item beside its findings, over real HTTP: kept as said, or refused with what to do."""

from __future__ import annotations

from typing import Any

import pytest

from tests.builders import a_fact, a_finding, a_tie, a_zone
from tests.conftest import Office
from tests.phone import Phone

DATE = {"words": "circa 1910", "earliest": 1905, "latest": 1915, "edtf": "1910~"}
MEASURE = {"measure": "height", "value": 184.2, "unit": "mm", "typed": "7 1/4 in"}
TEST = {"test": "wind-few", "result": "works", "why": "", "note": ""}
GRADE = {"word": "fair", "computed": "good", "reason": "plain to see"}
MARK = {
    "mark_id": "018f0000-0000-7000-8000-0000000000aa",
    "place": "base",
    "technique": "printed",
    "colour": "",
    "completeness": "worn",
    "text": "FENNIMORE\nWORKS",
    "reading": "",
    "withdrawn": False,
}
CAUTION = {
    "caution_id": "018f0000-0000-7000-8000-0000000000cc",
    "hazard": "H02",
    "level": "red",
    "sign": "brass cases in the tin",
    "zone": None,
    "called": "Winifred",
    "place": "table 2",
}
DECISION = {
    "caution_id": CAUTION["caution_id"],
    "decision": "cleared",
    "decided_by": "the officer called",
    "cleared_for": "description",
    "place": "",
    "paper_given": True,
    "note": "",
}


def said(kind: str, item: dict[str, Any], body: dict[str, Any], **change: Any) -> tuple[str, dict[str, Any]]:
    return kind, {"item_id": item["item_id"], "seen": None, **body, **change}


REFUSED = [
    pytest.param("record_date", DATE, {"latest": 19200}, "latest", id="a year 19200"),
    pytest.param("record_date", DATE, {"earliest": 1920}, "earliest year comes after", id="turned round"),
    pytest.param("record_measure", MEASURE, {"value": 0}, "value", id="nothing high"),
    pytest.param("record_measure", MEASURE, {"value": -3}, "value", id="minus three"),
    pytest.param("record_measure", MEASURE, {"value": "heavy"}, "value", id="a weight that is no weight"),
    pytest.param("record_measure", MEASURE, {"value": 1.2345}, "hundredth", id="finer than measured"),
    pytest.param("record_measure", MEASURE, {"unit": "hands"}, "unit", id="an unknown unit"),
    pytest.param("record_test", TEST, {"result": "not-done"}, "needs its reason", id="not done, no reason"),
    pytest.param("record_test", TEST, {"result": "perfect"}, "result", id="a fifth result"),
    pytest.param("record_grade", GRADE, {"reason": " "}, "needs its reason", id="moved for no reason"),
    pytest.param("record_grade", GRADE, {"word": "mint"}, "word", id="a word that is none of the six"),
    pytest.param("record_mark", MARK, {"completeness": "mostly"}, "completeness", id="mostly complete"),
    pytest.param("raise_caution", CAUTION, {"hazard": "radium"}, "hazard", id="a hazard by name"),
    pytest.param("decide_caution", DECISION, {"decided_by": ""}, "decided_by", id="nobody decided"),
]


@pytest.mark.parametrize(("kind", "body", "change", "words"), REFUSED)
def test_what_cannot_be_is_refused_and_named(
    phone: Phone, item: dict[str, Any], kind: str, body: dict[str, Any], change: dict[str, Any], words: str
) -> None:
    phone.keep(said(kind, item, body, **change))
    answer = phone.push()[-1]
    assert answer["problem"]["code"] == "unreadable"
    assert words in answer["problem"]["detail"]
    assert answer["problem"]["hint"]


@pytest.mark.parametrize("change", [{"extent_count": -3}, {"extent_percent": 101}, {"extent_mm": 0}])
def test_minus_three_chips_are_refused(phone: Phone, item: dict[str, Any], change: dict[str, Any]) -> None:
    phone.keep(a_finding(phone.ids, item["item_id"], "rim", **change))
    assert phone.push()[-1]["problem"]["code"] == "unreadable"


def test_twelve_metres_are_kept(phone: Phone, item: dict[str, Any]) -> None:
    """A size beyond the usual is asked about on the screen and never refused: somebody may have measured it."""
    phone.keep(said("record_measure", item, MEASURE, value=12000, typed="12 m"))
    assert phone.push()[-1]["outcome"] == "kept"
    assert phone.record(item["item_id"])["fields"]["measures/height"]["value"]["value"] == 12000


def test_sizes_come_back_as_they_went(office: Office, phone: Phone, item: dict[str, Any]) -> None:
    """A fraction of a millimetre or gram is the same in the log, in the record and after a rebuild."""
    phone.keep(said("record_measure", item, MEASURE))
    phone.keep(said("record_measure", item, MEASURE, measure="weight", value=3.12, unit="g", typed="3.12"))
    phone.keep(a_finding(phone.ids, item["item_id"], "rim", extent_mm=0.5))
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    fields = phone.record(item["item_id"])["fields"]
    assert fields["measures/height"]["value"]["value"] == 184.2
    assert fields["measures/weight"]["value"]["value"] == 3.12
    assert office.faults() == []


def test_a_red_caution_stops_the_item_for_everybody_until_it_is_cleared(
    office: Office, phone: Phone, item: dict[str, Any]
) -> None:
    item_id = item["item_id"]
    phone.keep(said("raise_caution", item, CAUTION, hazard="H26", still_allowed=["tag"]))
    phone.keep(a_zone(item_id, "rim"))
    phone.keep(a_tie(item_id, "7K3QW5"))
    answers = phone.push()
    assert [one["outcome"] for one in answers[-3:]] == ["kept", "refused", "kept"]
    assert answers[-2]["problem"]["code"] == "item_stopped"

    desk = office.pair("desk", "Desk")
    desk.keep(said("set_entry", item, {"state": "described"}))
    desk.keep(a_fact(item_id, "heading", "A tin"))
    assert [one["problem"]["code"] for one in desk.push()] == ["item_stopped", "item_stopped"]
    entry = desk.client.get("/queue").json()["entries"][0]
    assert (entry["state"], entry["caution"]) == ("waiting", "red")

    phone.keep(said("decide_caution", item, DECISION))
    phone.keep(a_zone(item_id, "rim"))
    assert {one["outcome"] for one in phone.push()[-2:]} == {"kept"}
    assert desk.client.get("/queue").json()["entries"][0]["caution"] is None
    assert "cautions/" + str(CAUTION["caution_id"]) in phone.record(item_id)["fields"]
    assert office.faults() == []


def test_two_people_who_date_it_differently_disagree(
    office: Office, phone: Phone, item: dict[str, Any]
) -> None:
    phone.keep(said("record_date", item, DATE))
    phone.push()
    other = office.pair("table", "Table 2")
    other.keep(said("record_date", item, {"words": "1931", "earliest": 1931, "latest": 1931, "edtf": "1931"}))
    assert other.push()[-1]["disagreement"] is True
    record = other.record(item["item_id"])
    assert record["fields"]["dates"]["value"] == DATE
    assert record["disagreements"][0]["other"]["value"]["words"] == "1931"


def test_marks_and_dates_are_found_by_search(office: Office, phone: Phone, item: dict[str, Any]) -> None:
    phone.keep(said("record_mark", item, MARK))
    phone.keep(said("record_date", item, DATE))
    phone.push()
    desk = office.pair("desk", "Desk")
    for words in ("fennimore", "circa 1910"):
        assert desk.client.get("/queue", params={"words": words}).json()["count"] == 1, words
