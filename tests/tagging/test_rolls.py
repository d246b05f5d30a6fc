"""Rolls of numbers over real HTTP: no number is given out twice, and what became of each adds up."""

from __future__ import annotations

from itertools import islice
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_2

from intake.tagging.tags import SYMBOLS, codes, parse_tag, serial_of, shown
from tests.builders import a_tie
from tests.conftest import Office
from tests.phone import Phone


def a_roll(
    phone: Phone, day: dict[str, Any], first: str, count: int, **more: Any
) -> tuple[str, dict[str, Any]]:
    last = list(islice(codes(serial_of(first)), count))[-1]
    body = {"day_id": day["day_id"], "roll_id": phone.ids.id(), "first_tag": first, "last_tag": last}
    return "issue_roll", {**body, "count": count, "given_to": "Table 1", "for_device_id": None, **more}


def test_two_rolls_never_have_a_number_in_common(office: Office, manager: Phone, day: dict[str, Any]) -> None:
    first, *_, inside = islice(codes(5000), 60)
    manager.keep(a_roll(manager, day, first, 100))
    manager.keep(a_roll(manager, day, inside, 10))
    answers = manager.push()[-2:]
    assert [one["outcome"] for one in answers] == ["kept", "refused"]
    assert answers[1]["problem"]["code"] == "roll_overlaps"
    free = parse_tag(answers[1]["problem"]["hint"].split()[2].strip(","))
    manager.keep(a_roll(manager, day, free, 10))
    assert manager.push()[-1]["outcome"] == "kept"
    assert office.faults() == []


def test_a_roll_that_does_not_add_up_is_refused(manager: Phone, day: dict[str, Any]) -> None:
    first = next(codes(5000))
    kind, body = a_roll(manager, day, first, 100)
    manager.keep((kind, {**body, "count": 101}))
    assert "do not end at" in manager.push()[-1]["problem"]["detail"]


def test_a_spare_is_given_to_a_table(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any]
) -> None:
    _, body = roll = a_roll(manager, day, next(codes(5000)), 50, given_to="spare")
    manager.keep(roll)
    manager.push()
    seen = manager.record(day["day_id"])["fields"][f"roll-holders/{body['roll_id']}"]["operation_id"]
    given_on = {"day_id": day["day_id"], "roll_id": body["roll_id"], "for_device_id": None, "seen": seen}
    phone.keep(("give_roll", {**given_on, "given_to": "Table 2"}))
    assert phone.push()[-1]["outcome"] == "kept"
    holder = manager.record(day["day_id"])["fields"][f"roll-holders/{body['roll_id']}"]["value"]
    assert holder["given_to"] == "Table 2"
    assert office.faults() == []


def test_a_spoiled_number_is_tied_to_nothing(
    office: Office, phone: Phone, item: dict[str, Any], day: dict[str, Any]
) -> None:
    tag, other = islice(codes(5000), 2)
    phone.keep(("spoil_tag", {"day_id": day["day_id"], "tag": tag, "why": "torn"}))
    phone.keep(a_tie(item["item_id"], tag))
    phone.keep(a_tie(item["item_id"], other))
    phone.keep(("spoil_tag", {"day_id": day["day_id"], "tag": other, "why": "wet"}))
    answers = phone.push()[-4:]
    assert [one["problem"] and one["problem"]["code"] for one in answers] == [
        None,
        "tag_spoiled",
        None,
        "tag_taken",
    ]
    assert office.faults() == []


def test_every_code_of_a_full_roll() -> None:
    """No single wrong character and no swap of neighbours goes unnoticed: every code of 5,000, every such error.

    Source: ISO/IEC 7064 MOD 37-2 by python-stdnum, which also says that each code is valid.
    """
    for tag in islice(codes(5000), 5000):
        assert mod_37_2.is_valid(tag)
    for tag in islice(codes(5000), 0, 5000, 50):  # the oracle is slow: every error on every fiftieth code
        wrong = [tag[:at] + sign + tag[at + 1 :] for at in range(6) for sign in SYMBOLS if sign != tag[at]]
        wrong += [
            tag[:at] + tag[at + 1] + tag[at] + tag[at + 2 :] for at in range(5) if tag[at] != tag[at + 1]
        ]
        assert not any(map(mod_37_2.is_valid, wrong))


def test_every_error_on_every_code_of_a_full_roll() -> None:
    """The same with our own check, for all 5,000 codes: about 950,000 wrong ones, none accepted."""
    from intake.tagging.tags import check_character

    for tag in islice(codes(5000), 5000):
        for at in range(6):
            for sign in SYMBOLS:
                wrong = tag[:at] + sign + tag[at + 1 :]
                assert sign == tag[at] or check_character(wrong[:5]) != wrong[5]
        for at in range(5):
            wrong = tag[:at] + tag[at + 1] + tag[at] + tag[at + 2 :]
            assert tag[at] == tag[at + 1] or check_character(wrong[:5]) != wrong[5]


@given(st.integers(0, 32**5 - 200))
def test_a_serial_is_read_back_from_its_code(start: int) -> None:
    for tag in islice(codes(start), 3):
        assert next(codes(serial_of(tag))) == tag
        assert parse_tag(shown(tag)) == tag


@pytest.mark.parametrize("role", ["table", "porter", "door"])
def test_only_the_manager_gives_out_numbers(office: Office, day: dict[str, Any], role: str) -> None:
    device = office.pair(role)
    device.keep(a_roll(device, day, next(codes(9000)), 10))
    assert device.push()[-1]["problem"]["code"] == "role_may_not"
