"""What was erased stays erased: notes about it, what could not be read, and what comes in late."""

from __future__ import annotations

import hashlib
import json
from typing import Any

import pytest
import rfc8785

from intake.custody.moves import RecordMove
from intake.custody.receipts import SignReceipt
from intake.database import snapshot
from intake.operation import KINDS
from intake.settings import Settings
from intake.sync.personal import take_apart
from tests.builders import (
    a_consignor,
    a_crate,
    a_fact,
    a_finding,
    a_record_photo,
    a_settlement,
    a_visit,
    picture,
)
from tests.door import RECEIVED_AT, Door
from tests.sync.planted import a_return

EARLIER, ERASED, LATER = (f"2026-03-14T11:{minute}:00.000Z" for minute in ("00", "05", "10"))
SIGNED = ("salt", "signed_by", "strokes", "house_by", "on_paper", "head")
WITH_WORDS = ("record", "record_part", "field", "disagreement", "operation_log", "private_words", "set_aside")


async def found(door: Door, words: str) -> list[str]:
    """The tables in which these words stand."""

    def look(tx: Any) -> list[str]:
        return [
            table
            for table in WITH_WORDS
            if words in json.dumps([tuple(row) for row in tx.all(f"SELECT * FROM {table}")])
        ]

    return await door.database.read(look)


def a_receipt(door: Door, visit_id: str) -> tuple[str, dict[str, Any]]:
    """Signed by Tumblewick with two strokes."""
    return "sign_receipt", {
        "visit_id": visit_id,
        "receipt_id": door.ids.id(),
        "number": "Q01/1",
        "what": "left",
        "lines": [{"item_id": door.ids.id(), "tags": [], "words": "a bear"}],
        "replaces": None,
        "house_by": "Ana",
        "on_paper": "",
        "head": {"house": "The Saleroom", "place": "Old Corn Hall", "held_on": "2026-03-14"},
        "signed_by": "Tumblewick",
        "strokes": "M1 1L2 2",
        "salt": "0" * 32,
    }


def without_words(operation: dict[str, Any]) -> dict[str, Any]:
    """What a phone keeps of one whose words were erased: their SHA-256, as RFC 8785 writes them, in their place."""
    personal: dict[str, Any] = {
        name: operation[name] for name in ("salt", "value", "signed_by", "strokes") if name in operation
    }
    kept = {name: value for name, value in operation.items() if name not in personal}
    return {**kept, "private_sha256": hashlib.sha256(rfc8785.dumps(personal)).hexdigest()}


async def erase(door: Door, visit_id: str) -> None:
    await door.keep(("erase_consignor", {"visit_id": visit_id}), made_at=ERASED)


async def test_erased_words_are_in_no_file_while_the_office_serves(door: Door) -> None:
    """Neither in a page of the tables that is free now, nor in the write-ahead log, also if somebody was reading."""
    visit_id = (await door.item())["visit_id"]
    await door.keep(a_consignor(visit_id, "name", "Barnaby Tumblewick"))

    def files() -> bytes:
        return b"".join(file.read_bytes() for file in door.folder.iterdir() if file.is_file())

    assert b"Tumblewick" in files()
    await erase(door, visit_id)
    assert b"Tumblewick" not in files()
    await door.keep(a_consignor(visit_id, "telephone", "Tumblewick 7"), made_at=LATER)
    with snapshot(Settings(door.folder).database_file) as tx:
        assert tx.value("SELECT count(*) FROM record")
        await door.keep(("erase_consignor", {"visit_id": visit_id}), made_at="2026-03-14T11:20:00.000Z")
    await door.keep(a_consignor(visit_id, "acting_for", ""), made_at="2026-03-14T11:30:00.000Z")
    assert b"Tumblewick" not in files()


async def test_the_note_of_a_settlement_is_as_personal_as_what_it_was_about(door: Door) -> None:
    visit_id = (await door.item())["visit_id"]
    await door.keep(a_consignor(visit_id, "name", "Barnaby"))
    between = await door.keep(a_consignor(visit_id, "name", "Barnabas"))
    kind, settling = a_settlement(visit_id, between["operation_id"], "other")
    await door.keep((kind, {**settling, "note": "as on his passport", "salt": "0" * 32}))
    assert "operation_log" not in await found(door, "passport")
    assert "passport" in str(await door.record(visit_id, "table"))
    assert "passport" not in str(await door.record(visit_id, "porter"))
    await erase(door, visit_id)
    assert await found(door, "passport") == []
    assert await door.faults() == []


async def test_the_note_of_an_older_app_has_no_salt(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    await door.keep(a_fact(item_id, "materials", "tin"))
    between = await door.keep(a_fact(item_id, "materials", "oak"))
    kind, settling = a_settlement(item_id, between["operation_id"], "other")
    await door.keep((kind, {**settling, "note": "looked again", "salt": None}))
    assert await door.value(item_id, f"settlement-notes/{between['operation_id']}") == "looked again"
    assert await door.faults() == []


async def a_settled_stage(door: Door, visit: dict[str, Any], note: str, **more: Any) -> None:
    """Two people set where the owner is, and a desk settles it with a note."""
    fact = {"visit_id": visit["visit_id"], "field": "stage", "seen": None}
    between = await door.keep(("set_visit", {**fact, "value": "left"}))
    assert between["disagreement"]
    kind, settling = a_settlement(visit["visit_id"], between["operation_id"], "other")
    await door.keep((kind, {**settling, "note": note, "salt": "0" * 32}), **more)


@pytest.mark.parametrize("late", [False, True])
async def test_a_note_on_any_disagreement_goes_with_the_owner(door: Door, late: bool) -> None:
    """Whether the office hears of the settlement before the erasure or after it. Nobody reads it who reads no owner."""
    visit = await door.item()
    if late:
        await erase(door, visit["visit_id"])
    await a_settled_stage(door.other() if late else door, visit, "Tumblewick told me", made_at=EARLIER)
    if not late:
        assert "Tumblewick" in str(await door.record(visit["visit_id"], "manager"))
        for role in ("porter", "table"):
            assert "Tumblewick" not in str(await door.other().record(visit["visit_id"], role))
        await erase(door, visit["visit_id"])
    assert await found(door, "Tumblewick") == []
    assert await door.faults() == []


@pytest.mark.parametrize("late", [False, True])
async def test_a_note_on_an_item_goes_with_its_owner(door: Door, late: bool) -> None:
    item = await door.item()
    await door.keep(a_fact(item["item_id"], "materials", "tin"))
    between = await door.keep(a_fact(item["item_id"], "materials", "brass"))
    kind, settling = a_settlement(item["item_id"], between["operation_id"], "other")
    settled = kind, {**settling, "note": "Tumblewick says so", "salt": "0" * 32}
    if late:
        await erase(door, item["visit_id"])
        await door.other().keep(settled, made_at=EARLIER)
    else:
        await door.keep(settled)
        assert "Tumblewick" not in str(await door.other().record(item["item_id"], "porter"))
        after = (await door.feed())["cursor"]
        await erase(door, item["visit_id"])
        changed = [record["record_id"] for record in (await door.feed(after))["records"]]
        assert set(changed) == {item["visit_id"], item["item_id"]}
    assert await found(door, "Tumblewick") == []
    assert await door.faults() == []


async def test_words_of_a_visit_that_was_refused_go_with_any_erasure(door: Door) -> None:
    """There is no record whose owner could ask: whose they are, nobody can tell."""
    item = await door.item()
    assert await door.refused(a_consignor(door.ids.id(), "name", "Tumblewick")) == "not_found"
    assert await found(door, "Tumblewick") == ["private_words"]
    await erase(door, item["visit_id"])
    assert await found(door, "Tumblewick") == []
    assert await door.faults() == []


@pytest.mark.parametrize("named", [str.upper, lambda _: "not-an-id", lambda _: 7])
async def test_set_aside_words_are_erased_whatever_they_say_they_are_of(door: Door, named: Any) -> None:
    """Nobody can tell whose they are if they name no record at all; they are still on their device."""
    item = await door.item()
    visit_id = item["visit_id"]
    sent = a_consignor(visit_id, "name", "Barnaby Tumblewick")
    assert await door.refused((sent[0], {**sent[1], "visit_id": named(visit_id)})) == "unreadable"
    assert await door.refused(a_fact(item["item_id"], "weather", "dull")) == "unreadable"
    assert await found(door, "Tumblewick") == ["set_aside"]
    await erase(door, visit_id)
    assert await found(door, "Tumblewick") == []
    assert await found(door, "dull") == ["set_aside"], "it is of another record"
    assert await door.faults() == []


async def test_words_that_were_on_their_way_are_erased_as_well(door: Door) -> None:
    """A phone that was offline wrote them before the owner asked; what is written afterwards is another word."""
    visit_id = (await door.item())["visit_id"]
    await door.keep(a_consignor(visit_id, "name", "Barnaby"))
    await erase(door, visit_id)
    other = door.other()
    await other.keep(a_consignor(visit_id, "telephone", "Tumblewick 7"), made_at=EARLIER)
    await other.keep(a_consignor(visit_id, "name", "Tumblewick"), made_at=EARLIER)
    signing = a_receipt(door, visit_id)
    receipt = signing[1]
    await other.keep(signing, made_at=EARLIER)
    assert await other.refused(signing, made_at=EARLIER) == "already_there"
    assert await other.refused(a_consignor(visit_id, "name", "Tumblewick", surprise=1)) == "unreadable"
    assert await found(door, "Tumblewick") == []
    record = await door.record(visit_id)
    assert record["fields"]["consignor/name"]["value"] == ""
    assert f"receipts/{receipt['receipt_id']}" in record["fields"], "that something was left stays on record"
    await other.keep(a_consignor(visit_id, "email", "new@example.org"), made_at=LATER)
    assert await door.value(visit_id, "consignor/email") == "new@example.org"
    assert await door.faults() == []


async def test_an_operation_comes_without_words_that_its_phone_let_go_of_once_they_were_erased(
    door: Door,
) -> None:
    """An office that never had it takes it in its place; one that knows it sees that it is the same."""
    visit_id = (await door.item())["visit_id"]
    name = door.make(a_consignor(visit_id, "name", "Tumblewick"))
    signed = door.make(a_receipt(door, visit_id))
    for whole in (name, signed):
        [answer] = await door.send(without_words(whole))
        assert answer["outcome"] == "kept", answer["problem"]
        [again] = await door.send(whole)
        assert again == answer
    fields = (await door.record(visit_id))["fields"]
    assert fields["consignor/name"]["value"] == ""
    assert fields[f"receipts/{signed['receipt_id']}"]["value"]["number"] == "Q01/1"
    assert await found(door, "Tumblewick") == []
    assert await door.faults() == []
    known = await door.keep(a_consignor(visit_id, "telephone", "Tumblewick 7"))
    known.pop("disagreement")
    [answer] = await door.send(without_words(known))
    assert answer["outcome"] == "kept"
    assert await door.value(visit_id, "consignor/telephone") == "Tumblewick 7", (
        "nobody asked to erase it here"
    )


@pytest.mark.parametrize("digest", ["", "x" * 64, 7, None])
async def test_words_are_left_out_for_their_digest_alone(door: Door, digest: Any) -> None:
    visit_id = (await door.item())["visit_id"]
    made = without_words(door.make(a_consignor(visit_id, "name", "Tumblewick")))
    [answer] = await door.send({**made, "private_sha256": digest})
    assert answer["problem"]["code"] == "unreadable"


async def test_an_older_erasure_heard_later_takes_nothing_back(door: Door) -> None:
    visit_id = (await door.item())["visit_id"]
    await erase(door, visit_id)
    await door.other().keep(("erase_consignor", {"visit_id": visit_id}), made_at="2026-03-14T10:00:00.000Z")
    await door.other().keep(a_consignor(visit_id, "name", "Tumblewick"), made_at=EARLIER)
    assert await found(door, "Tumblewick") == []
    assert await door.faults() == []


async def test_a_device_s_own_order_says_what_it_wrote_before_it_erased(door: Door) -> None:
    visit_id = (await door.item())["visit_id"]
    before = door.make(a_consignor(visit_id, "name", "Tumblewick"), made_at=LATER)
    await erase(door, visit_id)
    await door.send(before)
    assert await found(door, "Tumblewick") == []
    await door.keep(a_consignor(visit_id, "email", "new@example.org"), made_at=EARLIER)
    assert await door.value(visit_id, "consignor/email") == "new@example.org"
    assert await door.faults() == []


YEAR_S = 365 * 24 * 3600
#: What a clock says at EARLIER or LATER that is a year ahead, or a year behind.
AHEAD, BEHIND = "2027-03-14T11:00:00.000Z", "2025-03-14T11:10:00.000Z"


async def test_a_clock_that_is_ahead_brings_no_erased_word_back(door: Door) -> None:
    """Its device says what it shows now; the word was written before the owner asked."""
    visit_id = (await door.item())["visit_id"]
    await erase(door, visit_id)
    other = door.other()
    other.clock_off_s = YEAR_S
    [answer] = await other.send(other.make(a_consignor(visit_id, "name", "Tumblewick"), made_at=AHEAD))
    assert (answer["outcome"], answer["problem"]["code"]) == ("kept", "words_erased")
    assert await found(door, "Tumblewick") == []
    assert "consignor/name" not in (await door.record(visit_id))["fields"]
    assert await door.faults() == []


async def test_a_picture_of_a_visit_is_judged_as_words_are(door: Door) -> None:
    """A letter stands on it: by a clock that is ahead it was taken after, and nothing shows that it was."""
    visit_id = (await door.item())["visit_id"]
    await erase(door, visit_id)
    ahead, behind = door.other(), door.other()
    ahead.clock_off_s, behind.clock_off_s = YEAR_S, -YEAR_S
    for number, (other, made_at) in enumerate(
        [(ahead, AHEAD), (door.other(), AHEAD), (door.other(), EARLIER), (behind, BEHIND)]
    ):
        taken = a_record_photo(door.ids, visit_id, None, picture(number))
        [answer] = await other.send(other.make(taken, made_at=made_at))
        assert (answer["outcome"], answer["problem"]["code"]) == ("kept", "words_erased")
        assert "taken" in answer["problem"]["detail"]
    assert not [name for name in (await door.record(visit_id))["fields"] if name.startswith("photos/")]
    taken = a_record_photo(door.ids, visit_id, None, picture(9))
    right = door.other()
    [answer] = await right.send(right.make(taken, made_at=LATER))
    assert (answer["outcome"], answer["problem"]) == ("kept", None)
    assert [name for name in (await door.record(visit_id))["fields"] if name.startswith("photos/")]
    assert await door.faults() == []


WEEK_S = 7 * 24 * 3600


@pytest.mark.parametrize(
    ("made_at", "behind_s"), [(EARLIER, 600), ("2026-03-07T12:00:00.000Z", WEEK_S), (BEHIND, YEAR_S)]
)
async def test_a_clock_that_was_set_back_since_brings_no_erased_word_back(
    door: Door, made_at: str, behind_s: int
) -> None:
    """A phone that lay empty for a week sends what was typed before it did, by a clock that has lost that week: put
    right, its words would be of now."""
    visit_id = (await door.item())["visit_id"]
    await erase(door, visit_id)
    other = door.other()
    other.clock_off_s = -behind_s
    taken = a_record_photo(door.ids, visit_id, None, picture(1))
    for made in (a_consignor(visit_id, "name", "Tumblewick"), a_receipt(door, visit_id), taken):
        sent = other.make(made, made_at=made_at)
        [answer] = await other.send(sent)
        assert (answer["outcome"], answer["problem"]["code"]) == ("kept", "words_erased")
        assert answer["ruled"]["made_at"] > ERASED, "the record has the office's time all the same"
        other.clock_off_s = 0
        assert await other.send(sent) == [answer], "nor once its clock is right"
        other.clock_off_s = -behind_s
    assert await found(door, "Tumblewick") == []
    assert await door.faults() == []
    await door.rebuild()
    assert await found(door, "Tumblewick") == []
    assert await door.faults() == []


async def test_whoever_saw_that_the_words_were_erased_wrote_since_whatever_the_clock_shows(
    door: Door,
) -> None:
    """What an erasure left blank has its id, and whoever types there says that they saw it."""
    visit_id = (await door.item())["visit_id"]
    await door.keep(a_consignor(visit_id, "name", "Barnaby"))
    await erase(door, visit_id)
    blank = (await door.record(visit_id))["fields"]["consignor/name"]
    assert blank["value"] == ""
    other = door.other()
    for clock_off_s, made_at in ((-YEAR_S, BEHIND), (0, EARLIER)):
        other.clock_off_s = clock_off_s
        made = a_consignor(visit_id, "name", "Tumblewick", seen=blank["operation_id"])
        [answer] = await other.send(other.make(made, made_at=made_at))
        assert (answer["outcome"], answer["problem"]) == ("kept", None)
    assert await door.value(visit_id, "consignor/name") == "Tumblewick"
    await door.keep(("erase_consignor", {"visit_id": visit_id}), made_at="2026-03-14T11:20:00.000Z")
    assert await found(door, "Tumblewick") == []
    made = a_consignor(visit_id, "name", "Tumblewick", seen=blank["operation_id"])
    [answer] = await other.send(other.make(made, made_at=EARLIER))
    assert answer["problem"]["code"] == "words_erased", "it saw the first of two"
    assert await found(door, "Tumblewick") == []
    assert await door.faults() == []


async def test_what_is_written_by_the_office_s_time_stands_though_the_clock_of_its_phone_is_behind(
    door: Door,
) -> None:
    """It adds what it is behind, which it has heard: to what it makes, and to what it says as it sends."""
    visit_id = (await door.item())["visit_id"]
    await erase(door, visit_id)
    other = door.other()
    for made in (a_consignor(visit_id, "name", "Tumblewick"), a_receipt(door, visit_id)):
        [answer] = await other.send(other.make(made, made_at=LATER))
        assert (answer["outcome"], answer["problem"]) == ("kept", None)
    assert await door.value(visit_id, "consignor/name") == "Tumblewick"
    assert await door.faults() == []


@pytest.mark.parametrize("made_at", [BEHIND, AHEAD])
async def test_what_no_clock_decides_is_told_and_never_just_gone(door: Door, made_at: str) -> None:
    """It was set between writing and sending, or its device does not say what it shows. Words of an owner who asked
    that they be erased do not stand for want of a proof; whoever wrote them hears of it."""
    visit_id = (await door.item())["visit_id"]
    await erase(door, visit_id)
    other = door.other()
    for made in (a_consignor(visit_id, "name", "Tumblewick"), a_receipt(door, visit_id)):
        sent = other.make(made, made_at=made_at)
        [answer] = await other.send(sent)
        assert (answer["outcome"], answer["problem"]["code"]) == ("kept", "words_erased")
        assert answer["disagreement"] is False, "nothing of it stands that a person could settle"
        assert await other.send(sent) == [answer]
    assert await found(door, "Tumblewick") == []
    assert await door.faults() == []


async def test_words_that_say_nothing_are_not_missed(door: Door) -> None:
    visit = await door.item()
    await erase(door, visit["visit_id"])
    await a_settled_stage(door.other(), visit, "", made_at=EARLIER)
    assert await door.other().keep(a_consignor(visit["visit_id"], "acting_for", ""), made_at=EARLIER)
    log = await door.history(visit["visit_id"])
    assert {one["problem"] and one["problem"]["code"] for one in log} == {None}


async def test_an_erasure_by_a_clock_that_is_ahead_is_of_when_it_was_heard(door: Door) -> None:
    visit_id = (await door.item())["visit_id"]
    await door.keep(("erase_consignor", {"visit_id": visit_id}), made_at=AHEAD)
    other = door.other()
    await other.keep(a_consignor(visit_id, "name", "Tumblewick"), made_at=RECEIVED_AT)
    assert await door.value(visit_id, "consignor/name") == "Tumblewick"
    assert await door.faults() == []


@pytest.mark.parametrize("more", [{"Barnaby Tumblewick": 1}, {"kind": "Tumblewick"}])
async def test_an_answer_repeats_nothing_that_no_model_knows(door: Door, more: dict[str, Any]) -> None:
    """An answer stands in the log for good, while what was set aside can be erased."""
    sent = door.make(a_consignor((await door.item())["visit_id"], "name", "B"))
    [answer] = await door.send({**sent, **more})
    assert answer["problem"]["code"] == "unreadable"
    assert await found(door, "Tumblewick") == ["set_aside"]


async def test_a_receipt_is_known_again_without_its_words(door: Door) -> None:
    """A phone that let go of signature and lines sends what it kept, with the digest of what is gone."""
    visit_id = (await door.item())["visit_id"]
    signed = await door.keep(a_receipt(door, visit_id))
    del signed["disagreement"]
    [answer] = await door.send(signed)
    personal = {name: signed[name] for name in SIGNED}
    personal["lines.words"] = ["a bear"]
    kept = {name: value for name, value in signed.items() if name not in personal}
    kept["lines"] = [
        {name: value for name, value in line.items() if name != "words"} for line in signed["lines"]
    ]
    kept["private_sha256"] = hashlib.sha256(rfc8785.dumps(personal)).hexdigest()
    await erase(door, visit_id)
    assert await door.send(kept) == [answer]
    [line] = (await door.value(visit_id, f"receipts/{signed['receipt_id']}"))["lines"]
    assert (line["words"], line["item_id"]) == ("", signed["lines"][0]["item_id"])
    assert await door.faults() == []


def let_go(signed: dict[str, Any], personal: tuple[str, ...]) -> dict[str, Any]:
    """A receipt as an app sends it that keeps the digest of these members alone."""
    kept, words = take_apart(
        {name: value for name, value in signed.items() if name != "disagreement"}, personal
    )
    return {**kept, "private_sha256": hashlib.sha256(rfc8785.dumps(words)).hexdigest()}


@pytest.mark.parametrize("form", SignReceipt.personal_before, ids=len)
@pytest.mark.parametrize("older", ["office", "app"])
async def test_a_receipt_let_go_of_by_another_version_is_no_other_operation(
    door: Door, older: str, form: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The office and the phone took other members for personal: neither digest can be made from the other."""
    visit_id = (await door.item())["visit_id"]
    receipt = door.make(a_receipt(door, visit_id))
    with monkeypatch.context() as before:
        if older == "office":
            before.setattr(SignReceipt, "personal", form)
        [answer] = await door.send(receipt)
    await erase(door, visit_id)
    sent_again = let_go(receipt, form if older == "app" else SignReceipt.personal)
    assert await door.send(sent_again) == [answer]
    [other] = await door.send({**sent_again, "number": "Q99/9"})
    assert other["problem"]["code"] == "operation_id_reused"
    assert await door.faults() == []


@pytest.mark.parametrize("form", SignReceipt.personal_before, ids=len)
async def test_what_an_app_of_before_did_not_let_go_of_stays_out_of_the_log(
    door: Door, form: tuple[str, ...]
) -> None:
    visit_id = (await door.item())["visit_id"]
    kind, receipt = a_receipt(door, visit_id)
    words = {"on_paper": "pad 3, Tumblewick", "house_by": "Tumblewick"}
    line = {**receipt["lines"][0], "words": "Tumblewick's bear"}
    whole = door.make((kind, {**receipt, **words, "lines": [line]}))
    sent = let_go(whole, form)
    await erase(door, visit_id)
    answers = await door.send(sent)
    assert answers[0]["outcome"] == "kept"
    assert await found(door, "Tumblewick") == []
    for again in (sent, let_go(whole, form), whole):
        assert await door.send(again) == answers
    assert await found(door, "Tumblewick") == []
    assert await door.faults() == []
    await door.rebuild()
    assert await found(door, "Tumblewick") == []


async def test_whatever_is_typed_on_a_receipt_goes_with_the_owner(door: Door) -> None:
    """A name may stand beside the number of a paper pad, or in the place of who signs for the house."""
    visit_id = (await door.item())["visit_id"]
    kind, receipt = a_receipt(door, visit_id)
    typed = {"on_paper": "pad 3, Tumblewick", "house_by": "Tumblewick for Ana", "strokes": ""}
    head = {"house": "Tumblewick's", "place": "at Tumblewick's", "held_on": "2026-03-14"}
    await door.keep((kind, {**receipt, **typed, "head": head}))
    assert "operation_log" not in await found(door, "Tumblewick")
    await erase(door, visit_id)
    assert await found(door, "Tumblewick") == []
    kept = await door.value(visit_id, f"receipts/{receipt['receipt_id']}")
    assert (kept["number"], "head" in kept) == ("Q01/1", False)
    signature = await door.value(visit_id, f"consignor/signatures/{receipt['receipt_id']}")
    assert (signature["on_paper"], signature["house_by"]) == ("", "")
    assert await door.faults() == []


@pytest.mark.parametrize("made", ["receipt", "note", "told", "finding"])
async def test_no_history_has_the_words_that_a_version_of_before_logged(
    door: Door, made: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    item = await door.item()
    visit_id = item["visit_id"]
    note = {"visit_id": visit_id, "field": "note", "value": "Tumblewick rings twice", "seen": None}
    words = {"house_by": "Tumblewick", "on_paper": "pad of Tumblewick"}
    operation = door.make(
        {
            "receipt": ("sign_receipt", {**a_receipt(door, visit_id)[1], **words}),
            "note": ("set_visit", note),
            "told": a_fact(item["item_id"], "told_words", "Tumblewick's aunt's"),
            "finding": a_finding(door.ids, item["item_id"], "rim", certainty="told", note="says Tumblewick"),
        }[made]
    )
    kind = KINDS[operation["kind"]]
    with monkeypatch.context() as before:
        before.setattr(kind, "personal", kind.personal_before[-1])
        await door.send(operation)
    record_id = item["item_id"] if made in ("told", "finding") else visit_id
    told = json.dumps(await door.history(record_id))
    assert operation["operation_id"] in told
    assert "Tumblewick" not in told
    await erase(door, visit_id)
    assert "Tumblewick" not in json.dumps(await door.history(record_id))


@pytest.mark.parametrize("made", ["receipt", "note", "visit", "told", "finding"])
async def test_what_a_version_of_before_logged_with_its_words_is_known_again(
    door: Door, made: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is personal now stood in the log then: sent again it is no other operation under a known id."""
    item = await door.item()
    visit_id = item["visit_id"]
    note = {"visit_id": visit_id, "field": "note", "value": "rings twice", "seen": None}
    operation = door.make(
        {
            "receipt": a_receipt(door, visit_id),
            "note": ("set_visit", note),
            "visit": a_visit(door.ids, item["day_id"]),
            "told": a_fact(item["item_id"], "told_words", "his aunt's"),
            "finding": a_finding(door.ids, item["item_id"], "rim", certainty="told", note="so his aunt said"),
        }[made]
    )
    kind = KINDS[operation["kind"]]
    with monkeypatch.context() as before:
        before.setattr(kind, "personal", kind.personal_before[0])
        answers = await door.send(operation)
    assert answers[0]["outcome"] == "kept"
    assert await door.send(operation) == answers
    assert await door.faults() == []


async def test_what_an_owner_told_of_a_finding_leaves_with_them_whoever_logged_it(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also what a version of before logged with its words, and what such a log has behind the erasure of its owner, as
    a phone sent it late. What was found stays, and what is told afterwards stands."""
    item = await door.item()
    told = {"certainty": "told", "note": "Tumblewick's uncle dropped it"}
    first, late = (door.make(a_finding(door.ids, item["item_id"], "rim", **told)) for _ in range(2))
    with monkeypatch.context() as before:
        before.setattr(KINDS["record_finding"], "personal", ())
        await door.send(first)
        assert await found(door, "Tumblewick") == ["record_part", "field", "operation_log"]
        await erase(door, item["visit_id"])
        await door.send(late)
    last = await door.keep(a_finding(door.ids, item["item_id"], "rim", certainty="told", note="mended once"))

    async def stands() -> list[tuple[str, str, str]]:
        fields = (await door.record(item["item_id"]))["fields"]
        notes = [
            fields.get(f"finding-notes/{one['finding_id']}", {"value": ""}) for one in (first, late, last)
        ]
        findings = [fields[f"findings/{one['finding_id']}"]["value"] for one in (first, late, last)]
        return [
            (value["certainty"], value["note"], note["value"])
            for value, note in zip(findings, notes, strict=True)
        ]

    await door.rebuild()
    gone = ("told", "", "")
    assert await stands() == [gone, gone, ("told", "", "mended once")]
    assert await found(door, "Tumblewick") == ["operation_log"]
    assert await door.faults() == []


#: Every form in which a number was ever printed, and words for classes.
PRINTED = [
    ("Q42/1", None),
    ("Q01/RMBF1", "soft-toy"),
    ("RMBF07/RMBF12", "book-map"),
    ("no ticket/A2", "free"),
]


@pytest.mark.parametrize(("number", "class_id"), PRINTED)
async def test_a_number_as_it_was_ever_printed_is_taken(
    door: Door, number: str, class_id: str | None
) -> None:
    kind, receipt = a_receipt(door, (await door.item())["visit_id"])
    lines = [{**receipt["lines"][0], "class_id": class_id}]
    await door.keep((kind, {**receipt, "number": number, "lines": lines}))


NAMED = [{"number": "Tumblewick, Old Corn Hall"}, {"class_id": "Tumblewick's"}]


def named_receipt(door: Door, visit_id: str, named: dict[str, str]) -> dict[str, Any]:
    """A receipt with a name in a member that stays when the owner's words go."""
    kind, receipt = a_receipt(door, visit_id)
    of_line = {name: value for name, value in named.items() if name == "class_id"}
    whole = {**receipt, "lines": [{**receipt["lines"][0], **of_line}]}
    return door.make((kind, whole if of_line else {**whole, **named}))


@pytest.mark.parametrize("named", NAMED, ids=lambda named: next(iter(named)))
async def test_what_stays_of_a_receipt_has_no_room_for_a_name(door: Door, named: dict[str, str]) -> None:
    """It is kept beside the log, not in it, and goes with the owner."""
    visit_id = (await door.item())["visit_id"]
    receipt = named_receipt(door, visit_id, named)
    [answer] = await door.send(receipt)
    assert answer["problem"]["code"] == "unreadable"
    assert await found(door, "Tumblewick") == ["set_aside"]
    await erase(door, visit_id)
    assert await found(door, "Tumblewick") == []
    assert await door.send(receipt) == [answer]


@pytest.mark.parametrize("named", NAMED, ids=lambda named: next(iter(named)))
async def test_a_receipt_that_stands_is_sent_again_whatever_it_says(
    door: Door, named: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A version of before took any number; nor is it asked of what an office answered that is lost."""
    visit_id = (await door.item())["visit_id"]
    receipt = named_receipt(door, visit_id, named)
    with monkeypatch.context() as before:
        before.setattr(SignReceipt, "odd_form", lambda sent: "")
        answers = await door.send(receipt)
    assert answers[0]["outcome"] == "kept"
    assert await door.send(receipt) == answers
    await door.rebuild()
    assert await door.send(receipt) == answers
    assert await door.faults() == []


MOVES = [
    {"taken_by": "Tumblewick", "at": "to Tumblewick's door"},
    {"from_place": "returned", "to_place": "table", "given_by": "Tumblewick", "taken_by": "Hester"},
]


async def moved_thing(door: Door, item: dict[str, Any], thing: str) -> str:
    """The id of the item, or of a crate of its day."""
    if thing == "item":
        return str(item["item_id"])
    box = await door.keep(a_crate(door.ids, item["day_id"], "7K3QW5"))
    return str(box["container_id"])


@pytest.mark.parametrize("said", MOVES, ids=["to", "from"])
@pytest.mark.parametrize("thing", ["item", "container"])
async def test_who_took_a_thing_back_goes_with_the_owner(
    door: Door, said: dict[str, str], thing: str
) -> None:
    """Also on a box, which is of no visit, and may be about any owner of the day."""
    item = await door.item()
    thing_id = await moved_thing(door, item, thing)
    move_id = door.ids.id()
    await door.keep(a_return(move_id, thing_id, **said))
    assert "operation_log" not in await found(door, "Tumblewick")
    named = [name for name, text in said.items() if "Tumblewick" in text]
    handed = await door.value(thing_id, f"handed/{move_id}")
    assert handed == {name: said[name] for name in named}
    for of in (f"moves/{move_id}", "whereabouts"):
        move = await door.value(thing_id, of)
        assert [move[name] for name in named] == [""] * len(named)
    await erase(door, item["visit_id"])
    assert await found(door, "Tumblewick") == []
    assert await door.faults() == []
    await door.rebuild()
    assert await door.faults() == []


@pytest.mark.parametrize("said", MOVES, ids=["to", "from"])
@pytest.mark.parametrize("thing", ["item", "container"])
async def test_who_took_a_thing_back_is_not_on_record_if_that_is_heard_after_the_erasure(
    door: Door, said: dict[str, str], thing: str
) -> None:
    item = await door.item()
    thing_id = await moved_thing(door, item, thing)
    await erase(door, item["visit_id"])
    other, move_id = door.other(), door.ids.id()
    moved = other.make(a_return(move_id, thing_id, **said), made_at=EARLIER)
    [answer] = await other.send(moved)
    assert (answer["outcome"], answer["problem"]["code"]) == ("kept", "words_erased")
    assert await found(door, "Tumblewick") == []
    fields = (await door.record(thing_id))["fields"]
    assert f"handed/{move_id}" not in fields
    assert fields["whereabouts"]["value"]["to_place"] == said.get("to_place", "returned"), (
        "where it went stays"
    )
    assert await other.send(moved) == [answer]
    assert await door.faults() == []
    await door.rebuild()
    assert await door.faults() == []


async def test_the_owner_is_nobodys_name(door: Door) -> None:
    """So that nobody is asked to enter it anew, and a phone of before sends what it always sent."""
    item = await door.item()
    kind, move = a_return(door.ids.id(), item["item_id"], "the owner")
    moved = door.make(
        (kind, {name: value for name, value in move.items() if name != "salt"}), made_at=EARLIER
    )
    await erase(door, item["visit_id"])
    [answer] = await door.send(moved)
    assert (answer["outcome"], answer["problem"]) == ("kept", None)
    assert (await door.value(item["item_id"], "whereabouts"))["taken_by"] == "the owner"


@pytest.mark.parametrize("older", ["office", "app"])
async def test_a_move_of_before_is_known_again(
    door: Door, older: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    item = await door.item()
    kind, move = a_return(door.ids.id(), item["item_id"], "Tumblewick")
    moved = door.make((kind, {name: value for name, value in move.items() if name != "salt"}))
    with monkeypatch.context() as before:
        if older == "office":
            before.setattr(RecordMove, "personal_in", staticmethod(lambda said: ()))
        answers = await door.send(moved)
    assert answers[0]["outcome"] == "kept"
    assert await door.send(moved) == answers
    assert "Tumblewick" not in json.dumps(await door.history(item["item_id"]))
    await erase(door, item["visit_id"])
    assert await door.send(moved) == answers
    assert await door.send(let_go(moved, ("taken_by",))) == answers
    await door.rebuild()
    assert await door.faults() == []
    assert "field" not in await found(door, "Tumblewick")
