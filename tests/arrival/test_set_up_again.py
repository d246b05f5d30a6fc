"""A day that is set up again at an office that has it: the manager's device could not know that it had come back."""

from __future__ import annotations

from typing import Any

import pytest

from tests.builders import a_day
from tests.door import Door


async def again(door: Door, day: dict[str, Any], **otherwise: Any) -> dict[str, Any]:
    """What the office answers to the same day from a device that sets it up again."""
    names = ("day_id", "house", "place", "held_on", "currency", "tables", "people")
    other = door.other()
    [answer] = await other.send(
        other.make(("open_day", {**{name: day[name] for name in names}, **otherwise}))
    )
    return answer


async def test_a_day_that_is_there_is_kept_as_it_stands(door: Door) -> None:
    """Also with what was corrected since it was set up; the record stays as it was, and a rebuild comes out equal."""
    day = await door.keep(a_day(door.ids))
    said = {"day_id": day["day_id"], "seen": None}
    await door.keep(("correct_day", {**said, "field": "house", "value": "Quillfeather"}))
    await door.keep(("set_table", {**said, "table_id": "2", "name": "By the door", "gone": False}))
    person = {"person_id": "ana", "name": "Ana Thistle", "roles": ["door"], "left": False}
    await door.keep(("add_person", {**said, "person": person}))
    before = await door.record(day["day_id"])
    assert (await again(door, day))["outcome"] == "kept"
    now = {
        "house": "Quillfeather",
        "tables": [*day["tables"], {"table_id": "2", "name": "By the door"}],
        "people": [*day["people"], person],
    }
    assert (await again(door, day, **now))["outcome"] == "kept"
    after = await door.record(day["day_id"])
    assert (after["fields"], after["disagreements"]) == (before["fields"], before["disagreements"])
    made = await door.digests()
    await door.rebuild()
    assert await door.digests() == made


@pytest.mark.parametrize(
    "otherwise",
    [
        {"house": "Another house"},
        {"currency": "EUR"},
        {"tables": [{"table_id": "9", "name": "Table 9"}]},
        {"people": [{"person_id": "zeb", "name": "Zeb Marrow", "roles": []}]},
    ],
    ids=lambda otherwise: next(iter(otherwise)),
)
async def test_another_day_under_its_id_is_refused_without_an_id_in_the_words(
    door: Door, otherwise: dict[str, Any]
) -> None:
    day = await door.keep(a_day(door.ids))
    answer = await again(door, day, **otherwise)
    assert (answer["outcome"], answer["problem"]["code"]) == ("refused", "already_there")
    assert day["day_id"] not in answer["problem"]["detail"]
