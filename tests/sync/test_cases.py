"""The cases under fixtures/operations, at the office's door; the web app's tests read the same files.

All of them run without a socket; a few go over HTTP as well, so that the door is the one behind the address.
"""

from __future__ import annotations

import json
import re
from functools import partial
from pathlib import Path
from typing import Any

import pytest

import intake
from intake.database import Writing
from intake.families import FAMILIES, OFFICE, family_of
from intake.field_words import UNNAMED, field_words
from intake.operation import KINDS, Operation
from intake.sync.kinds import STEPS
from intake.sync.rebuild import rebuild
from tests.conftest import Office
from tests.door import Door
from tests.samples import sampled

CASES = sorted((Path(__file__).parents[2] / "fixtures" / "operations").glob("*.json"))
OVER_HTTP = {"disagreement-settled", "stopped-item-refuses", "receipt-signed"}


def read_case(file: Path) -> dict[str, Any]:
    case: dict[str, Any] = json.loads(file.read_text("utf-8"))
    return case


def operations_of(case: dict[str, Any], device_id: str) -> list[dict[str, Any]]:
    operations = [*case["before"], *case["given"], case["operation"]]
    return [{**operation, "device_id": device_id} for operation in operations]


def record_of(operation: dict[str, Any]) -> str:
    return str(operation[KINDS[operation["kind"]].record_member])


def check_answers(case: dict[str, Any], answers: list[dict[str, Any]]) -> None:
    *before, last = answers
    assert {answer["outcome"] for answer in before} == {"kept"}
    assert (last["problem"] and last["problem"]["code"]) == case.get("refused")


def check_record(case: dict[str, Any], record: dict[str, Any]) -> None:
    values = {name: field["value"] for name, field in record["fields"].items()}
    assert values == case["expected"]["values"]
    for name in values:
        key = family_of(name).key
        assert key in FAMILIES, f"{key} has no line in intake/families.py: nobody but the office reads it"
        assert family_of(name).readers is not OFFICE
        assert field_words(name) != UNNAMED, f"{key} has no words in intake/field_words.py"
    disagreements = [
        [
            between["field"],
            between["kept"]["value"],
            between["other"]["value"],
            between["settled"] and between["settled"]["choose"],
        ]
        for between in record["disagreements"]
    ]
    assert disagreements == case["expected"]["disagreements"]


@pytest.mark.parametrize("file", CASES, ids=lambda file: file.stem)
async def test_case(file: Path, door: Door) -> None:
    """Given these operations, one more does what the file says."""
    case = read_case(file)
    answers = await door.send(*operations_of(case, door.device_id))
    check_answers(case, answers)
    if "refused" not in case:
        record = await door.record(record_of(case["operation"]))
        check_record(case, record)
        check_said_beside(case["operation"], answers[-1], record)
    assert await door.faults() == []


def check_said_beside(operation: dict[str, Any], answer: dict[str, Any], record: dict[str, Any]) -> None:
    """Whoever said it is told that it stands beside another value exactly where it does."""
    beside = [between["other"]["operation_id"] for between in record["disagreements"]]
    assert answer["disagreement"] == (operation["operation_id"] in beside)


class TakenBack(Exception):
    """Ends a transaction that must leave nothing behind."""


def rebuild_without(tx: Writing, operation: dict[str, Any], member: str) -> None:
    """Rebuild from a log in which the operation never had the member, and take all of it back."""
    tx.run(
        """
        UPDATE operation_log SET operation = json_remove(operation, '$.' || :member)
        WHERE operation_id = :operation_id
        """,
        member=member,
        operation_id=operation["operation_id"],
    )
    if left_out := rebuild(tx).left_out:
        raise ValueError(left_out)
    raise TakenBack


def members_of_cases() -> dict[Path, list[tuple[int, str]]]:
    """Of each case the members of its operations that are tried to be lacking, each member of each kind somewhere."""
    every = [
        (file, number, operation["kind"], member)
        for file in CASES
        for number, operation in enumerate(operations_of(read_case(file), ""))
        for member in sorted(operation.keys() - Operation.model_fields.keys() - {"kind"})
    ]
    found: dict[Path, list[tuple[int, str]]] = {}
    for file, number, _, member in sampled(every, of=4, kind=lambda one: one[2:]):
        found.setdefault(file, []).append((number, member))
    return found


@pytest.mark.parametrize(
    ("file", "lacking"), members_of_cases().items(), ids=lambda one: one.stem if isinstance(one, Path) else ""
)
async def test_a_member_that_an_old_log_lacks_ends_no_rebuild(
    file: Path, lacking: list[tuple[int, str]], door: Door
) -> None:
    """Whatever version wrote the log: what can be made of an operation is made, also of one without this member."""
    operations = operations_of(read_case(file), door.device_id)
    await door.send(*operations)
    failed = []
    for number, member in lacking:
        operation = operations[number]
        try:
            await door.database.write(partial(rebuild_without, operation=operation, member=member))
        except TakenBack:
            continue
        except Exception as fault:
            failed.append(f"{operation['kind']}.{member}: {fault!r}")
    assert failed == []
    assert await door.faults() == []


@pytest.mark.parametrize("name", sorted(OVER_HTTP))
def test_case_over_http(name: str, office: Office) -> None:
    case = read_case(next(file for file in CASES if file.stem == name))
    phone = office.pair("manager")
    phone.outbox = operations_of(case, phone.device_id)
    check_answers(case, phone.push())
    if "refused" not in case:
        check_record(case, phone.record(record_of(case["operation"])))
    assert office.faults() == []


def test_every_field_that_a_kind_sets_has_a_family_and_words() -> None:
    """Also those of which no case speaks."""
    for kind in KINDS.values():
        for template in kind.field_templates():
            if not template.startswith("{"):
                key = family_of(template).key
                assert key in FAMILIES, f"{key} of {kind.kind_name()} has no line in intake/families.py"
                assert field_words(template) != UNNAMED, f"{template} has no words in intake/field_words.py"
    for key in FAMILIES:
        assert field_words(key.rstrip("/")) != UNNAMED, f"{key} has no words in intake/field_words.py"


def test_every_module_with_a_kind_is_among_the_steps() -> None:
    """A kind whose module nobody imports would be refused as unknown, and no other test would miss it."""
    office = Path(intake.__file__).parent
    gathered = {Path(str(step.__file__)) for step in STEPS}
    for file in office.rglob("*.py"):
        if re.search(r"^    kind: Literal\[", file.read_text("utf-8"), re.MULTILINE):
            name = file.relative_to(office.parent)
            assert file in gathered, f"{name} has a kind: name the module among STEPS in intake/sync/kinds.py"


def test_every_kind_has_a_case() -> None:
    """A plain edit is one model, one case, one control: whoever adds a kind adds its case."""
    assert STEPS, "all kinds are gathered"
    shown = {
        operation["kind"] for file in CASES for operation in operations_of(read_case(file), device_id="")
    }
    assert set(KINDS) - shown == BY_THE_OFFICE


#: What no device makes or shows before the office has done it.
BY_THE_OFFICE = {"erase_consignor"}
