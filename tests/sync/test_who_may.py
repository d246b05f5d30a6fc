"""Who may do what, by the device's role: each kind at the door under each role.

Source: common practice. Whoever carries does not clear, whoever describes does not run the day, and everybody may say
what they saw: a hazard, a difference, a move.
"""

from __future__ import annotations

from typing import Any

import pytest

from intake.errors import HatDoesNotFit
from intake.operation import KINDS
from tests.door import Door
from tests.sync.test_cases import CASES, operations_of, read_case

ROLES = ("table", "desk", "door", "porter")
#: Who may, and what; a manager's device may do all of it.
DUTIES: dict[tuple[str, ...], set[str]] = {
    (): {
        "add_person",
        "carry_roll",
        "close_day",
        "correct_day",
        "explain_differences",
        "give_tickets",
        "issue_roll",
        "open_day",
    }
    | {"record_preflight", "set_table", "sign_closing", "erase_consignor"},
    ("desk",): {"order_sentences", "set_entry", "settle_disagreement", "write_sentence"},
    ("table",): {"examine_rest", "record_origin"},
    ("table", "desk"): {
        "decide_caution",
        "settle_incident",
        "settle_late_act",
        "merge_item",
        "open_item",
        "set_item",
        "skip_view",
    }
    | {
        "correct_told_note",
        "count_pieces",
        "examine_zone",
        "list_piece",
        "record_date",
        "record_denial",
        "record_finding",
        "record_grade",
        "record_mark",
        "record_measure",
        "record_statement",
        "record_test",
    },
    ("table", "desk", "door"): {"open_visit", "set_consignor", "set_visit", "sign_receipt"},
    ("table", "desk", "porter"): {"tie_tag"},
    ("table", "door", "porter"): {"give_roll"},
    ROLES: {
        "raise_caution",
        "record_incident",
        "raise_difference",
        "settle_difference",
        "check_in",
        "count_load",
    }
    | {"attach_photo", "attach_record_photo", "open_container", "put_inside", "record_move", "remove_tag"}
    | {"seal_container", "spoil_tag", "print_labels"},
}
WHO = {kind: roles for roles, kinds in DUTIES.items() for kind in kinds}
#: Operations by which each kind comes about on a case's record, the last of them of that kind.
SHOWN = {
    operation["kind"]: operations[: place + 1]
    for case in map(read_case, CASES)
    if "refused" not in case
    for operations in [operations_of(case, "")]
    for place, operation in enumerate(operations)
}
#: What no device makes: the office does it.
BY_THE_OFFICE = {"erase_consignor"}


def test_every_kind_is_somebody_s_duty() -> None:
    assert WHO.keys() == KINDS.keys() == SHOWN.keys() | BY_THE_OFFICE


@pytest.mark.parametrize("kind", sorted(SHOWN))
async def test_a_role_does_what_is_its_duty_and_no_more(door: Door, kind: str) -> None:
    *before, last = [{**operation, "device_id": door.device_id} for operation in SHOWN[kind]]
    await door.send(*before)
    refused = {role for role in ROLES if await is_role_refused(door, role, last)}
    assert refused == set(ROLES) - set(WHO[kind])
    assert not await is_role_refused(door, "manager", last)


async def is_role_refused(door: Door, role: str, operation: dict[str, Any]) -> bool:
    """Whether a device of this role hears that it may not; an id of its own, since a repeat has the same answer."""
    door.role = role
    door.next_seq += 1000
    fresh = {**operation, "operation_id": door.ids.id(), "device_seq": door.next_seq}
    [answer] = await door.send(fresh)
    return bool(answer["problem"]) and answer["problem"]["code"] == "role_may_not"


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("open_visit", "open a visit"),
        ("set_entry", "set an entry"),
        ("give_tickets", "give tickets"),
        ("examine_rest", "examine the rest"),
        ("put_inside", "put a thing inside"),
    ],
)
def test_what_somebody_may_not_is_said_in_a_sentence(kind: str, words: str) -> None:
    assert KINDS[kind].in_words() == words
    assert str(HatDoesNotFit("Ana Thistle", "porter", words)) == (
        f"Ana Thistle is on the day's list as porter, and as such may not {words}."
    )
