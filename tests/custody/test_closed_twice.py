"""Two managers close one day, neither having heard of the other: the first closing stands, and both are on record."""

from __future__ import annotations

from typing import Any

from tests.builders import a_day
from tests.door import Door


def a_closing(day_id: str, by: str, named: list[str]) -> tuple[str, dict[str, Any]]:
    return "close_day", {"day_id": day_id, "closed_by": by, "second_by": "Otis Cratehope", "named": named}


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
