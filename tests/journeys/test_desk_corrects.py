"""The desk puts the record right once the table has left: by whom, when and why stands in its history."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.builders import a_fact, a_finding, a_photo, a_visit, a_zone, an_item, picture
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, choose_at_desk, pair
from tests.phone import Phone


@pytest.fixture
def violin(manager: Phone, day: dict[str, Any]) -> str:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q17"))
    item_id = str(manager.keep(an_item(manager.ids, visit))["item_id"])
    for field, value in (
        ("class_id", "stringed-instrument"),
        ("short_description", "violin in its case"),
        ("materials", "maple, plastic"),
    ):
        manager.keep(a_fact(item_id, field, value))
    measured = {"item_id": item_id, "measure": "back-length", "value": 35.6, "unit": "mm", "typed": "35.6 mm"}
    manager.keep(("record_measure", {**measured, "seen": None}))
    mark: dict[str, Any] = {
        "mark_id": manager.ids.id(),
        "place": "inside",
        "technique": None,
        "colour": "",
        "reading": "",
    }
    mark |= {"completeness": "complete", "text": "Pelham Oakapple 1791", "withdrawn": False, "seen": None}
    manager.keep(("record_mark", {"item_id": item_id, **mark}))
    manager.keep(a_zone(item_id, "table", state="finding"))
    manager.keep(a_finding(manager.ids, item_id, "table", term="crack", severity=3))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    return item_id


def at_the_violin(office: Office, open_browser: Open) -> Page:
    """A desk at which somebody is, with the entry open."""
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    choose_at_desk(desk, "Hester Quillfeather")
    desk.get_by_role("link", name=re.compile("violin in its case")).click()
    return desk


def correcting(desk: Page, called: str) -> Locator:
    desk.get_by_role("button", name=f"Correct: {called}", exact=True).click()
    return desk.get_by_role("form", name=f"Correct: {called}", exact=True)


def test_the_desk_corrects_what_the_table_recorded_and_says_why(
    office: Office, manager: Phone, violin: str, open_browser: Open
) -> None:
    desk = at_the_violin(office, open_browser)
    history = desk.get_by_role("list").filter(has_text="corrected: read in inches")

    size = correcting(desk, "Length of the back without button")
    expect(size.get_by_role("button", name="Change it first")).to_be_disabled()
    size.get_by_label("Length of the back without button").fill("35.6 cm")
    expect(size).to_contain_text("That is 35.6 cm (14 in).")
    expect(size.get_by_role("button", name="Say why first")).to_be_disabled()
    size.get_by_label("Why").fill("read in inches")
    size.get_by_role("button", name="Correct it").click()
    expect(size).to_have_count(0)
    expect(history).to_contain_text("Hester Quillfeather")
    materials = correcting(desk, "Materials")
    materials.get_by_label("Materials").fill("maple, spruce")
    materials.get_by_label("Why").fill("its belly is spruce")
    materials.get_by_role("button", name="Correct it").click()
    expect(materials).to_have_count(0)
    mark = correcting(desk, "Mark, inside")
    mark.get_by_label("Why").fill("it is on the case")
    mark.get_by_role("button", name="There is no such mark").click()
    expect(mark).to_have_count(0)
    desk.locator(".finding-line").first.click()
    finding = correcting(desk, "finding 1, crack")
    finding.get_by_role("button", name="Slight").click()
    finding.get_by_label("Why").fill("a hairline in the varnish")
    finding.get_by_role("button", name="Correct it").click()
    expect(finding).to_have_count(0)
    expect(desk.get_by_text("corrected: a hairline in the varnish").last).to_be_visible()
    expect(desk.get_by_text("All at the desk").first).to_be_attached()

    fields = manager.record(violin)["fields"]
    said = {name.partition("/")[0]: field["value"] for name, field in fields.items()}
    assert said["measures"] == {"value": 356, "unit": "mm", "typed": "35.6 cm"}, "why is no part of the value"
    assert (said["materials"], said["marks"]["withdrawn"]) == ("maple, spruce", True)
    assert said["findings"]["severity"] == 1
    assert office.faults() == []


def test_what_was_begun_at_the_desk_outlives_the_page(
    office: Office, violin: str, open_browser: Open
) -> None:
    desk = at_the_violin(office, open_browser)
    materials = correcting(desk, "Materials")
    materials.get_by_label("Materials").fill("maple, spruce")
    expect(materials.get_by_role("button", name="Say why first")).to_be_disabled()
    desk.reload()
    expect(materials.get_by_label("Materials")).to_have_value("maple, spruce")
    materials.get_by_role("button", name="Leave it as it is").click()
    expect(materials).to_have_count(0)
    expect(desk.get_by_role("button", name="Correct: Materials")).to_be_visible()


def test_what_another_says_while_a_correction_is_typed_is_not_replaced(
    office: Office, manager: Phone, violin: str, open_browser: Open
) -> None:
    desk = at_the_violin(office, open_browser)
    materials = correcting(desk, "Materials")
    materials.get_by_label("Materials").fill("maple, spruce")
    expect(materials.get_by_role("status")).to_have_count(0)

    seen = manager.record(violin)["fields"]["materials"]["operation_id"]
    manager.keep(a_fact(violin, "materials", "maple, ebony", seen=seen))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    expect(materials.get_by_role("status")).to_contain_text("changed while you had it open")
    expect(materials.get_by_label("Materials")).to_have_value("maple, spruce")
    desk.reload()
    expect(materials.get_by_role("status")).to_contain_text("changed while you had it open")
    materials.get_by_label("Why").fill("its belly is spruce")
    materials.get_by_role("button", name="Correct it").click()
    expect(materials).to_have_count(0)
    expect(desk.get_by_text("What was said meanwhile stands beside it.")).to_be_visible()
    expect(desk.get_by_text("All at the desk").first).to_be_attached()

    record = manager.record(violin)
    assert record["fields"]["materials"]["value"] == "maple, ebony"
    [two] = record["disagreements"]
    assert (two["field"], two["other"]["value"]) == ("materials", "maple, spruce")
    again = correcting(desk, "Materials")
    expect(again.get_by_label("Materials")).to_have_value("maple, ebony")
    expect(again.get_by_role("status")).to_have_count(0)
    assert office.faults() == []


def test_a_copied_answer_says_so_where_it_was_pressed(
    office: Office, violin: str, open_browser: Open
) -> None:
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    desk.get_by_role("link", name=re.compile("violin in its case")).click()
    copy = desk.locator(".answers button").first
    expect(copy).to_have_text("Copy")
    desk.context.grant_permissions(["clipboard-read", "clipboard-write"])
    copy.click()
    expect(copy).to_contain_text("Copied")
    expect(desk.locator(".answers button").nth(1)).to_have_text("Copy")


def record_more(manager: Phone, violin: str) -> None:
    """What else a table says of it: its pieces, when it was made, a trial, what was looked for."""
    of = {"item_id": violin, "seen": None}
    denied = {"zone": "back", "term": "crack", "light": "inside-lamp", "withdrawn": False}
    for kind, said in (
        ("count_pieces", {"pieces": 3, "back": 0}),
        ("list_piece", {"line_id": manager.ids.id(), "words": "bows", "count": 2, "withdrawn": False}),
        ("record_date", {"words": "circa 1880", "earliest": 1875, "latest": 1885, "edtf": "1880~"}),
        ("record_test", {"test": "pegs-turn", "result": "works", "why": "", "note": ""}),
        ("record_denial", denied),
        ("record_statement", {"statement": "not-played", "words": "not played", "withdrawn": False}),
    ):
        manager.keep((kind, {**of, **said}))
    manager.keep(a_zone(violin, "back", light="daylight"))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}


def put_right(form: Locator, why: str, key: str = "Correct it") -> None:
    form.get_by_label("Why", exact=True).fill(why)
    form.get_by_role("button", name=key, exact=True).click()
    expect(form).to_have_count(0)


def test_the_desk_corrects_pieces_date_trial_statement_and_class(
    office: Office, manager: Phone, violin: str, open_browser: Open
) -> None:
    record_more(manager, violin)
    desk = at_the_violin(office, open_browser)

    pieces = correcting(desk, "Pieces")
    pieces.get_by_label("Pieces in all").fill("no")
    expect(pieces.get_by_role("button", name="Give a whole number")).to_be_disabled()
    pieces.get_by_label("Pieces in all").fill("4")
    put_right(pieces, "the rosin was not counted")
    line = correcting(desk, "pieces, 2 bows")
    line.get_by_label("As it is printed").fill("1 bow")
    put_right(line, "the other is the next lot's")
    desk.get_by_role("button", name="Add: a line of its pieces").click()
    more = desk.get_by_role("form", name="Add: a line of its pieces")
    expect(more.get_by_role("button", name="Write it first")).to_be_disabled()
    more.get_by_label("As it is printed").fill("a box of rosin")
    put_right(more, "it lay in the case", "Put it on record")
    expect(desk.get_by_text("2 of 4 listed, 2 to go.")).to_be_visible()

    date = correcting(desk, "Date")
    date.get_by_label("Date").fill("the year of the great fire")
    expect(date).to_contain_text("The words are kept.")
    date.get_by_label("From the year").fill("1884")
    date.get_by_label("To the year").fill("1884")
    put_right(date, "a letter in the case")
    sure = correcting(desk, "How sure of the date")
    sure.get_by_role("button", name="Probable").click()
    put_right(sure, "a letter in the case")
    speaks = correcting(desk, "What speaks for the date")
    speaks.get_by_role("button", name="papers").click()
    put_right(speaks, "a letter in the case")

    trial = correcting(desk, "trial, turning a peg")
    trial.get_by_role("button", name="Not done").click()
    expect(trial.get_by_role("button", name="Say why it was not tried")).to_be_disabled()
    trial.get_by_label("Or in your own words").fill("strings are tight")
    put_right(trial, "the film shows it")
    stated = correcting(desk, "Stated")
    stated.get_by_role("button", name="Not played").click()
    stated.get_by_role("button", name="Label not relied on").click()
    put_right(stated, "it was played in the hall")
    expect(desk.get_by_text("corrected: it was played in the hall").first).to_be_visible()

    kind = correcting(desk, "Class")
    kind.get_by_role("combobox", name="Class").select_option(label="Furniture")
    put_right(kind, "for the try")
    expect(desk.locator(".entry-head")).to_contain_text("furniture")
    expect(desk.get_by_text("All at the desk").first).to_be_attached()

    fields = {name: field["value"] for name, field in manager.record(violin)["fields"].items()}
    assert fields["pieces"] == 4
    lines = sorted(
        (said["count"], said["words"]) for name, said in fields.items() if name.startswith("listed/")
    )
    assert lines == [(1, "a box of rosin"), (1, "bow")]
    assert (fields["dates"]["words"], fields["dates"]["earliest"]) == ("the year of the great fire", 1884)
    assert (fields["dates_certainty"], fields["dates_evidence"]) == ("probable", ["provenance-paper"])
    assert fields["tests/pegs-turn"] == {"result": "not-done", "why": "strings are tight", "note": ""}
    assert fields["statements/not-played"]["withdrawn"]
    assert not fields["statements/label-not-relied-on"]["withdrawn"]
    assert (fields["class_id"], bool(fields["plan_version"])) == ("furniture", True)
    assert office.faults() == []


def test_the_desk_corrects_how_a_zone_was_and_what_was_looked_for(
    office: Office, manager: Phone, violin: str, open_browser: Open
) -> None:
    record_more(manager, violin)
    desk = at_the_violin(office, open_browser)
    desk.get_by_text("Condition, zone by zone").click()

    looked_for = desk.get_by_role("button", name=re.compile("Correct: no crack"))
    looked_for.click()
    denial = desk.get_by_role("form", name=re.compile("Correct: no crack"))
    denial.get_by_label("Why", exact=True).fill("no lamp went in")
    denial.get_by_role("button", name="Nobody looked for it").click()
    expect(denial).to_have_count(0)
    back = correcting(desk, "back")
    expect(back.get_by_role("button", name="Finding", exact=True)).to_have_count(0)
    table = desk.locator(".zone-table").bounding_box()
    form = back.bounding_box()
    assert table is not None
    assert form is not None
    assert form["width"] > 0.9 * table["width"], "it has the width of the whole row"
    back.get_by_role("button", name="Not examined").click()
    expect(back.get_by_role("button", name="Say why nobody looked")).to_be_disabled()
    back.get_by_label("Why nobody looked").select_option(
        label="Covered by clothing, lining, later paint or dirt"
    )
    put_right(back, "it lay in its case")
    top = correcting(desk, "table")
    top.get_by_role("button", name="Clear").click()
    expect(top.get_by_role("button", name="Its findings come off the record first")).to_be_disabled()
    top.get_by_role("button", name="Leave it as it is").click()
    side = correcting(desk, "scroll")
    side.get_by_role("button", name="Clear").click()
    side.get_by_label("Looked at with").select_option(label="lamp")
    with desk.expect_response("**/sync/operations?*"):
        put_right(side, "seen at the desk")
    with desk.expect_response("**/sync/operations?*") as taken_back:
        desk.get_by_role("button", name="Undo").click()
    taken_back.value.finished()

    fields = {name: field["value"] for name, field in manager.record(violin)["fields"].items()}
    assert fields["denials/back/crack"]["withdrawn"]
    assert (fields["zones/back"]["state"], fields["zones/back"]["reason"]) == ("not-examined", "covered")
    assert fields["zones/table"]["state"] == "finding"
    assert fields["zones/scroll"]["reason"] == "to-look-at"


def test_what_was_found_stands_on_the_printed_entry(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open, violin: str
) -> None:
    """It is a key on the screen, and keys are not printed."""
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    desk.goto(f"{office.address}/#/entry/{violin}")
    found = desk.locator(".findings").get_by_text("crack", exact=False).first
    expect(found).to_be_visible()
    desk.emulate_media(media="print", color_scheme="dark")
    expect(found).to_be_visible()
    assert office.faults() == []


def test_the_printed_entry_has_a_small_photo_of_each_view_with_its_name(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open, violin: str
) -> None:
    taken = ["front", "back", "front"]
    shots = [picture(seed, size=(160, 120)) for seed in range(len(taken))]
    for view, shot in zip(taken, shots, strict=True):
        manager.keep(a_photo(manager.ids, violin, shot, shot, view=view))
    manager.bundle(shots)
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    desk.goto(f"{office.address}/#/entry/{violin}")
    expect(desk.locator(".strip button")).to_have_count(len(taken))
    desk.emulate_media(media="print", color_scheme="dark")
    printed = desk.locator(".printed-pictures")
    expect(printed.get_by_role("listitem")).to_have_text(["front", "back"])
    expect(printed).to_contain_text("1 more on record.")
    expect(desk.locator(".big-picture")).to_be_hidden()
    paper = desk.evaluate("getComputedStyle(document.body).backgroundColor")
    assert paper == "rgb(255, 255, 255)", "a dark screen prints as a light one does"
    expect(desk.get_by_text("The office notes which desk")).to_be_hidden()
