"""Two managers close one day, neither having heard of the other: the first closing stands, and both are on record."""

from __future__ import annotations

from typing import Any

import pytest

from intake.custody.closing_lines import digest_of
from tests.builders import a_day
from tests.door import Door


def a_closing(
    day_id: str, by: str, named: list[str], reasons: list[str] | None = None
) -> tuple[str, dict[str, Any]]:
    closing = {"day_id": day_id, "closed_by": by, "second_by": "Otis Cratehope", "named": named}
    return "close_day", {**closing, **({"reasons": reasons} if reasons else {})}


async def test_the_second_closing_is_refused_in_words_and_kept_beside_the_first(door: Door) -> None:
    day_id = (await door.keep(a_day(door.ids)))["day_id"]
    other = door.other()
    second = other.make(a_closing(day_id, "Ned Lanternfield", []))
    await door.keep(a_closing(day_id, "Winifred Thimblewick", ["Q04: one spoon short", "Q05: no seal"]))
    [answer] = await other.send(second)
    assert (answer["outcome"], answer["disagreement"]) == ("refused", True)
    assert "Winifred Thimblewick" in answer["problem"]["detail"]
    day = await door.record(day_id)
    assert day["fields"]["closed"]["value"]["named"] == ["Q04: one spoon short", "Q05: no seal"]
    [between] = day["disagreements"]
    assert (between["field"], between["other"]["value"]["closed_by"]) == ("closed", "Ned Lanternfield")
    assert between["other"]["value"]["named"] == []
    assert await other.send(second) == [answer], "sent again it is the same"
    assert await door.faults() == []


async def test_a_reason_stands_beside_the_difference_that_it_is_of(door: Door) -> None:
    """A closing of before says no reasons, and its record has none."""
    day_id = (await door.keep(a_day(door.ids)))["day_id"]
    kind, said = a_closing(day_id, "Winifred Thimblewick", ["Q04: one spoon short", "Q05: no seal"])
    [answer] = await door.send(door.make((kind, {**said, "reasons": ["The desk does it"]})))
    assert answer["outcome"] == "refused"
    assert "Each difference has its own reason" in answer["problem"]["detail"]
    await door.keep((kind, {**said, "reasons": ["The desk does it", ""]}))
    value = (await door.record(day_id))["fields"]["closed"]["value"]
    assert dict(zip(value["named"], value["reasons"], strict=True)) == {
        "Q04: one spoon short": "The desk does it",
        "Q05: no seal": "",
    }
    other = (await door.keep(a_day(door.ids)))["day_id"]
    await door.keep(a_closing(other, "Winifred Thimblewick", []))
    assert "reasons" not in (await door.record(other))["fields"]["closed"]["value"]


@pytest.mark.parametrize(("second_by", "differ"), [("Otis Cratehope", False), ("Ada Sallow", True)])
async def test_two_closings_differ_by_what_was_signed_and_not_by_what_their_devices_had_heard(
    door: Door, second_by: str, differ: bool
) -> None:
    day_id = (await door.keep(a_day(door.ids)))["day_id"]
    other = door.other()
    kind, said = a_closing(day_id, "Winifred Thimblewick", [])
    listed = {**said, "reason_ids": [], "count": 0, "digest": digest_of([]), "first_digest": digest_of([])}
    heard = [{"device_id": door.device_id, "device_seq": 1}]
    second = other.make((kind, {**listed, "second_by": second_by, "heard": heard}))
    await door.keep((kind, {**listed, "heard": [{"device_id": door.device_id, "device_seq": 7}]}))
    [answer] = await other.send(second)
    assert (answer["outcome"], answer["disagreement"]) == ("refused", differ)
    day = await door.record(day_id)
    assert [one["other"]["value"]["heard"] for one in day["disagreements"]] == [heard] * differ
    assert day["fields"]["closed"]["value"]["heard"][0]["device_seq"] == 7
    assert await door.faults() == []
