"""Receipts: signed as they were shown, never edited, and the signature can be erased while the list stays."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from intake.commands import main
from intake.custody.counted_things import COUNTED
from intake.custody.day_on_record import DayOnRecord
from intake.custody.failed_trials import FAILED
from intake.custody.receipt_changes import class_named
from intake.custody.receipt_lines import (
    LOST_THERE,
    MOST_WORDS,
    OPEN_PIECE,
    SLIGHT_WORDS,
    fault_in_line,
    fault_words,
    in_one_line,
    is_piece_open,
    receipt_line,
)
from intake.custody.receipts import MOST_NUMBERS, SIGNATURE, SignReceipt
from intake.examination.findings import SET
from intake.examination.plans import shipped_plans
from intake.families import without_words_of_receipt
from tests.conftest import Office
from tests.custody.test_loads import record, said
from tests.door import Door
from tests.phone import Phone

SALT = "00112233445566778899aabbccddeeff"


def a_receipt(phone: Phone | Door, item: dict[str, Any], **more: Any) -> tuple[str, dict[str, Any]]:
    line = {"item_id": item["item_id"], "tags": ["7K3QW5"], "words": "plush elephant; 2 pieces"}
    body = {"visit_id": item["visit_id"], "receipt_id": phone.ids.id(), "number": "Q01/1", "what": "left"}
    people = {"house_by": "Hester Quillfeather", "signed_by": "Barnaby Tumblewick", "salt": SALT}
    drawn = {"lines": [line], "replaces": None, "on_paper": "", "strokes": "M30 120L80 60L140 130"}
    return "sign_receipt", {**body, **people, **drawn, **more}


def test_a_signature_stays_out_of_the_log_and_from_the_porter(
    office: Office, phone: Phone, item: dict[str, Any]
) -> None:
    signed = phone.keep(a_receipt(phone, item))
    assert phone.push()[0]["outcome"] == "kept"
    history = phone.client.get(f"/records/{item['visit_id']}/history").text
    assert item["item_id"] in history
    assert "plush elephant" not in history
    assert "plush elephant" in str(phone.record(item["visit_id"]))
    assert "Tumblewick" not in history
    assert "M30 120" not in history
    assert "M30 120" not in str(phone.record(item["visit_id"])), "it stands in no record"
    address = f"/visits/{item['visit_id']}/receipts/{signed['receipt_id']}/signature"
    assert phone.client.get(address).json()["signed_by"] == "Barnaby Tumblewick", (
        "read back where it was signed"
    )
    assert office.pair("table", "Table 9").client.get(address).status_code == 404
    porter = office.pair("porter")
    assert porter.client.get(address).status_code == 404
    seen = porter.record(item["visit_id"])["fields"]
    assert f"receipts/{signed['receipt_id']}" in seen
    assert not any(name.startswith("consignor/") for name in seen)
    assert office.faults() == []


def test_an_erased_signature_leaves_the_receipt(
    office: Office, phone: Phone, item: dict[str, Any], capsys: pytest.CaptureFixture[str]
) -> None:
    signed = phone.keep(a_receipt(phone, item))
    phone.push()
    assert main(["erase", "--data", str(office.settings.data_folder), item["visit_id"], "--yes"]) == 0
    assert "What the house wrote itself stays, and was not searched" in capsys.readouterr().out
    fields = phone.record(item["visit_id"])["fields"]
    address = f"/visits/{item['visit_id']}/receipts/{signed['receipt_id']}/signature"
    assert phone.client.get(address).json() == dict.fromkeys(SIGNATURE, "")
    assert fields[f"receipts/{signed['receipt_id']}"]["value"]["lines"][0]["tags"] == ["7K3QW5"]
    assert office.faults() == []


@pytest.mark.parametrize(
    "wrong",
    [
        {"strokes": ""},
        {"strokes": "", "salt": ""},
        {"salt": ""},
        {"strokes": "M30 120C1 2 3 4 5 6"},
        {"strokes": "<script>"},
        {"strokes": "M30 120" + "L1 1" * 6000},
        {"lines": []},
        {"house_by": ""},
    ],
)
def test_what_is_not_signed_is_no_receipt(phone: Phone, item: dict[str, Any], wrong: dict[str, Any]) -> None:
    phone.keep(a_receipt(phone, item, **wrong))
    (answer,) = phone.push()
    assert (answer["outcome"], answer["problem"]["code"]) == ("refused", "unreadable")


def test_a_signature_on_paper_will_do(phone: Phone, item: dict[str, Any]) -> None:
    phone.keep(a_receipt(phone, item, strokes="", on_paper="pad 3, number 12"))
    assert phone.push()[0]["outcome"] == "kept"


async def test_that_a_receipt_was_signed_on_paper_stands_beside_it_and_which_pad_does_not(door: Door) -> None:
    item = await door.item()
    for on_paper, told in (("pad 1, no. 7", {"is_on_paper": True}), ("", {})):
        signed = await door.keep(a_receipt(door, item, on_paper=on_paper))
        record = await door.record(item["visit_id"])
        receipt = record["fields"][f"receipts/{signed['receipt_id']}"]["value"]
        assert {name: value for name, value in receipt.items() if "paper" in name} == told


async def test_that_nobody_is_named_who_took_back_stands_beside_the_receipt_until_its_words_are_gone(
    door: Door,
) -> None:
    """Apps of before did not ask who it was; once the owner's words are erased every receipt is without a name."""
    item = await door.item()
    for what, signed_by, told in (
        ("taken-back", " ", {"is_unnamed": True}),
        ("taken-back", "Ines Fallow", {}),
        ("left", "", {}),
    ):
        signed = await door.keep(a_receipt(door, item, what=what, signed_by=signed_by))
        receipt = (await door.record(item["visit_id"]))["fields"][f"receipts/{signed['receipt_id']}"]["value"]
        assert {name: value for name, value in receipt.items() if name.startswith("is_")} == told
        assert "is_unnamed" not in without_words_of_receipt(receipt)


def test_nobody_signs_without_a_name_once_the_owner_has_left(phone: Phone, item: dict[str, Any]) -> None:
    """Whoever stands there then is known by a name alone. What was signed before it was known that they left stays."""
    seen = phone.record(item["visit_id"])["fields"]["stage"]["operation_id"]
    phone.keep(a_receipt(phone, item, signed_by="", number="Q01/1"))
    stage = {"visit_id": item["visit_id"], "field": "stage", "value": "left", "seen": seen, "salt": SALT}
    phone.keep(("set_visit", stage))
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    for signed_by, outcome in ((" ", "refused"), ("Petronella Vance", "kept")):
        phone.keep(a_receipt(phone, item, signed_by=signed_by, number="Q01/2"))
        (answer,) = phone.push()
        assert answer["outcome"] == outcome
        if outcome == "refused":
            assert answer["problem"]["code"] == "signed_by_nobody"
            assert "receipt Q01/2" in answer["problem"]["detail"]


async def test_who_is_known_to_be_in_the_hall_signs_without_a_name(door: Door) -> None:
    """Whether an owner waits, sits at a table or was sent back to one: they stand before whoever asks."""
    item = await door.item()
    for stage in ("at-table", "waiting", "left", "at-table"):
        before = (await door.record(item["visit_id"]))["fields"]["stage"]["operation_id"]
        told = {"visit_id": item["visit_id"], "field": "stage", "value": stage, "seen": before, "salt": SALT}
        await door.keep(("set_visit", told))
        nameless = a_receipt(door, item, signed_by="")
        if stage == "left":
            assert await door.refused(nameless) == "signed_by_nobody"
        else:
            await door.keep(nameless)


async def test_a_receipt_has_at_most_so_many_numbers_and_none_that_is_no_text(door: Door) -> None:
    """One that is full is kept; one number more, or a line that says something else, is refused."""
    item = await door.item()

    async def answered(*lines: Any) -> str:
        signed = a_receipt(door, item, lines=list(lines))
        [answer] = await door.send(door.make(signed))
        return str(answer["outcome"] if answer["problem"] is None else answer["problem"]["code"])

    def line(count: int) -> dict[str, Any]:
        return {"item_id": item["item_id"], "tags": ["7K3QW5"] * count, "words": "plush elephant"}

    full = [line(500)] * (MOST_NUMBERS // 500)
    assert await answered(*full) == "kept"
    assert await answered(*full, line(1)) == "unreadable"
    assert await answered(*full[1:], line(501)) == "unreadable"
    assert await answered(line(1), {**line(1), "words": None}) == "unreadable"
    assert await answered({**line(1), "price": "9"}) == "unreadable"
    assert await answered({**line(1), "item_id": 7}) == "unreadable"


FAULTS = json.loads((Path(__file__).parents[2] / "fixtures" / "receipt-faults.json").read_text("utf-8"))


@pytest.mark.parametrize(("of", "words"), FAULTS["faults"])
def test_a_fault_reads_at_the_office_as_on_the_receipt(of: dict[str, Any], words: str) -> None:
    assert fault_words(FAULTS["blank"] | of) == words


@pytest.mark.parametrize(("of", "is_open", "words"), FAULTS["lines"])
def test_a_line_says_what_is_missing_and_that_nobody_noted_on_which_piece_a_fault_is(
    of: dict[str, Any], is_open: bool, words: str
) -> None:
    assert fault_in_line(FAULTS["blank"] | of, is_open=is_open) == words


def test_what_a_line_calls_missing_is_what_the_plan_of_its_zone_names() -> None:
    lost = {
        zone.zone: zone.lost
        for plan in shipped_plans().plans.values()
        for zone in plan.zones
        if len(zone.lost) == 1 and not zone.lost[0].startswith("a part ")
    }
    assert lost.keys() == LOST_THERE.keys()
    assert all(set(LOST_THERE[zone].split()) <= set(words[0].split()) for zone, words in lost.items())


@pytest.mark.parametrize(("of", "is_open", "called"), [(*case, "")[:3] for case in FAULTS["open"]])
def test_the_office_knows_of_which_faults_of_a_set_nobody_noted_the_piece(
    of: dict[str, Any], is_open: bool, called: str
) -> None:
    assert is_piece_open(FAULTS["blank"] | of, called) is is_open


@pytest.mark.parametrize(
    ("fields", "is_open"),
    [
        ({"pieces": 2}, True),
        ({f"zones/{SET}": {"count": 2, "state": "seen"}}, True),
        ({"pieces": 1, f"zones/{SET}": {"count": 2, "state": "seen"}}, False),
        ({}, False),
        ({"pieces": 2, "short_description": "two vases"}, False),
    ],
)
def test_a_line_asks_of_which_piece_a_fault_is_where_several_were_counted_and_no_words_say_it(
    fields: dict[str, Any], is_open: bool
) -> None:
    """Counted by themselves, else on the walk; "on the left vase" tells it of what is called two vases."""
    fault = {**FAULTS["blank"], "severity": 2, "note": "on the left vase", "withdrawn": False}
    item = record(
        "item", "i", {name: said(value, 1) for name, value in {**fields, "findings/f": fault}.items()}
    )
    line = receipt_line(item, DayOnRecord(record("day", "d", {}), [], [item], []))
    assert (OPEN_PIECE in line.words) is is_open


@pytest.mark.parametrize(("severity", "is_said"), [(None, False), (0, False), (1, True), (2, False)])
@pytest.mark.parametrize("withdrawn", [False, True])
def test_a_line_says_that_slight_faults_are_on_record_and_names_the_others(
    severity: int | None, is_said: bool, withdrawn: bool
) -> None:
    fault = {**FAULTS["blank"], "severity": severity, "withdrawn": withdrawn}
    item = record("item", "i", {"findings/f": said(fault, 1)})
    line = receipt_line(item, DayOnRecord(record("day", "d", {}), [], [item], [])).words
    assert (SLIGHT_WORDS in line) is (is_said and not withdrawn)
    assert (fault_words(fault) in line) is (severity == 2 and not withdrawn)


@pytest.mark.parametrize("fitting", range(5))
def test_a_line_names_as_many_faults_as_fit_and_counts_the_rest(fitting: int) -> None:
    faults = ["chip to the rim"] * fitting + ["x" * MOST_WORDS] * (4 - fitting)
    rest = ["", "and 1 more fault", "and 2 more faults", "and 3 more faults", "and 4 more faults"][
        4 - fitting
    ]
    said_of_it = ["cup", "2 pieces", *faults[:fitting], *filter(None, [rest]), "held apart"]
    assert in_one_line("cup", "2 pieces", faults, ["", "held apart"]) == "; ".join(said_of_it)


def test_what_is_counted_reads_on_a_receipt_as_in_its_plan() -> None:
    said = {
        measure.measure: [measure.one, measure.print]
        for plan in shipped_plans().plans.values()
        for measure in plan.measures
        if measure.unit == "n" and measure.print
    }
    assert said == COUNTED


def test_what_did_not_work_reads_on_a_receipt_as_in_the_plan_of_its_trial() -> None:
    """Of what can be wrong with what was tried, and not of what was only looked at."""
    of_working = {"seized", "stiff", "stops", "no-action", "catch-fails"}
    of_standing = {"loose-part", "detached-part", "distortion"}
    said: dict[str, str] = {}
    for plan in shipped_plans().plans.values():
        for trial in plan.tests:
            if trial.failed and trial.rules_out and (of_working | of_standing) & set(trial.rules_out.terms):
                said.setdefault(trial.test, trial.failed.removeprefix("it ").removeprefix("was "))
                assert said[trial.test] == trial.failed.removeprefix("it ").removeprefix("was ")
    assert said == FAILED


def test_a_class_that_has_no_name_here_is_another_one_and_none_is_none() -> None:
    names = {"watch": "Watches"}
    assert class_named(("clock", "watch"), names) == "its class: Watches"
    assert class_named(("watch", "clock"), names) == "its class: another one, was Watches"
    assert class_named(("watch", None), names) == "its class: none, was Watches"
    assert class_named((None, "clock"), names) == "its class: another one"


@pytest.mark.parametrize(
    ("lines", "has_words"),
    [([{"words": ""}, {"words": "a bear"}], True), ([{"words": ""}], False), (None, False)],
)
def test_a_receipt_says_something_where_one_of_its_lines_does(lines: Any, has_words: bool) -> None:
    nothing: dict[str, Any] = dict.fromkeys(("signed_by", "strokes", "house_by", "on_paper"), "")
    assert SignReceipt.model_construct(**nothing, head=None, salt=SALT, lines=lines).has_words == has_words
