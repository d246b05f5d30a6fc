"""Every version rebuilds every log that an earlier one wrote, and its records say what they said then."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from intake.custody.moves import RecordMove
from intake.operation import KINDS
from intake.sync.chain import chain_faults
from intake.sync.rebuild import APPLY_VERSION, rebuild
from intake.sync.words_beside import words_lacking
from tests.door import Door
from tests.sync.frozen_logs import (
    LOGS,
    TABLES,
    YEAR_S,
    frozen,
    put_log,
    records_of,
    what_to_do,
)

#: What goes with an owner's words since then, by log and record: what was heard of the bags, the words of a receipt's
#: lines, who signed it for the house and what was written of a paper pad, who took things back, the notes of the day.
#: What the versions that wrote these logs said of it stays in their files.
ERASED_SINCE = {
    "0001": {
        "019cebb1-a5b0-7a54-8a9c-909519593f6f": [
            "kinds",
            "receipts/019cebb1-4020-7491-9063-04b28f1599a7",
            "receipts/019cebb4-f170-7a1c-9e80-42daa3515d5f",
        ],
        "019cebb7-bc48-7815-a1e4-bd0cd4aeb522": ["handed/019cebb3-47a8-7db3-b01b-b9c1825cbab7"],
    },
    "0002": {
        "019cebae-6d78-72d1-aed9-b9e4d6e38b2f": [
            "settlement-notes/019cebbf-0f48-719e-ba14-2102a4486f0d",
            "settlement-notes/019cebbb-2f18-7f17-bfe4-c27aa32dd240",
        ],
        "019cebbc-fff0-74cb-b3b8-a3f03987063a": [
            "kinds",
            "receipts/019cebae-e690-752d-b69c-20e597bfb6fc",
        ],
        "019cebc4-0ca0-76ee-9689-9f9dff0522e9": ["kinds"],
        "019cebbd-1378-7029-8ccf-8f7d9cd5404c": ["handed/019cebb8-8b50-78da-aa89-a70125db62d2"],
    },
    "0003": {
        "019cebc4-d7c0-7fca-bceb-397e5e0aee7f": ["receipts/019cebb3-3420-7403-b01b-b8fefdc59d18"],
    },
}


def expected(file: Path) -> dict[str, Any]:
    """What the records said when the log was frozen, without what is erased since."""
    records: dict[str, Any] = json.loads(file.with_suffix(".records.json").read_text("utf-8"))
    for record in records.values():
        beside_signatures(record["fields"])
        beside_moves(record["fields"])
    for record_id, names in ERASED_SINCE.get(file.stem, {}).items():
        fields = records[record_id]["fields"]
        for name in names:
            value = fields.pop(name)
            if name == "kinds":
                fields[name] = ""
            elif name.startswith("receipts/"):
                lines = [{**line, "words": ""} for line in value["lines"]]
                value.pop("is_on_paper")
                fields[name] = {**value, "lines": lines}
                signature = fields[f"consignor/signatures/{name.partition('/')[2]}"]
                signature |= {"house_by": "", "on_paper": ""}
    return records


def beside_moves(fields: dict[str, Any]) -> None:
    """Whoever is named of the owner stood in the move itself, and where the thing is had it from there."""
    for name, value in list(fields.items()):
        if name == "whereabouts" or name.startswith(("moves/", "whereabouts/")):
            own = {of: value[of] for of in RecordMove.personal_in(value)[1:]}
            value |= dict.fromkeys(own, "")
            if own and name.startswith("moves/"):
                fields[f"handed/{name.partition('/')[2]}"] = own


def beside_signatures(fields: dict[str, Any]) -> None:
    """What those versions read on the receipt itself, and stands beside its signature since then."""
    for name in fields:
        if name.startswith("receipts/"):
            signature = fields[f"consignor/signatures/{name.partition('/')[2]}"]
            signature |= {of: fields[name].pop(of) for of in ("house_by", "on_paper")}
            if signature["on_paper"]:
                fields[name]["is_on_paper"] = True


@pytest.mark.parametrize("file", LOGS, ids=lambda file: file.stem)
async def test_a_frozen_log_is_rebuilt(file: Path, door: Door) -> None:
    rows = frozen(file)
    await door.database.write(lambda tx: put_log(tx, rows))
    await door.database.write(rebuild)
    assert await records_of(door, file.stem) == expected(file)
    assert await door.database.read(lambda tx: list(chain_faults(tx, words_lacking(tx)))) == []
    assert await door.faults() == []
    noted = json.loads(TABLES.read_text("utf-8"))
    now = {"apply_version": APPLY_VERSION, "logs": {**noted["logs"], file.stem: await door.digests()}}
    assert not (to_do := what_to_do(noted, now)), to_do


def test_a_rule_that_changed_asks_for_a_new_version() -> None:
    noted = {"apply_version": 7, "logs": {"0001": {"field": "a", "entry": "b"}}}
    changed = {"apply_version": 7, "logs": {"0001": {"field": "a", "entry": "c"}}}
    to_do = what_to_do(noted, changed)
    assert "entry of log 0001" in to_do
    assert "raise APPLY_VERSION in intake/sync/rebuild.py to 8" in to_do
    assert "raise" not in what_to_do(noted, {**changed, "apply_version": 8})
    assert what_to_do(noted, {**changed, "apply_version": 8})
    assert what_to_do(noted, noted) == ""


#: Kinds that are younger than the newest log. They come off this list when the next one is frozen.
YOUNGER: set[str] = {
    "carry_roll",
    "correct_told_note",
    "count_pieces",
    "explain_differences",
    "list_piece",
    "print_labels",
    "settle_late_act",
    "sign_closing",
}


def test_the_frozen_logs_hold_every_kind() -> None:
    frozen_kinds = {
        json.loads(json.loads(line)["operation"]).get("kind")
        for file in LOGS
        for line in file.read_text("utf-8").splitlines()
    }
    assert set(KINDS) - frozen_kinds == YOUNGER, "freeze a log, or name the kind until the next one is"


def test_the_newest_log_holds_what_came_late_and_by_clocks_that_were_off() -> None:
    answers = [json.loads(json.loads(line)["answer"]) for line in LOGS[-1].read_text("utf-8").splitlines()]
    said = LOGS[-1].with_suffix(".records.json").read_text("utf-8")
    assert {answer.get("clock_off_s", 0) for answer in answers} >= {0, YEAR_S, -YEAR_S}
    assert any(answer["problem"] and answer["problem"]["code"] == "words_erased" for answer in answers)
    assert '"heard-late/' in said
    assert '"settlement-notes/' in said
