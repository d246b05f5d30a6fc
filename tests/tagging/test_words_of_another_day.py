"""A number that is on a thing of another day: who keys it hears so, and nothing of that thing."""

from __future__ import annotations

from tests.builders import a_crate, a_fact, a_tie
from tests.door import Door

NUMBER = "0002D4"


async def test_a_refusal_tells_nothing_of_another_day(door: Door) -> None:
    there, here = await door.item(), await door.item()
    await door.keep(a_tie(there["item_id"], NUMBER))
    await door.keep(a_fact(there["item_id"], "short_description", "tiara of the hall"))
    table = door.other("table")
    for made in (a_tie(here["item_id"], NUMBER), a_crate(door.ids, here["day_id"], NUMBER)):
        [answer] = await table.send(table.make(made))
        assert answer["problem"]["code"] == "tag_taken"
        assert "a thing of another day" in answer["problem"]["detail"]
        assert "tiara" not in str(answer)
    assert "tiara" not in str(await door.record(here["item_id"]))
    [answer] = await table.send(table.make(a_crate(door.ids, there["day_id"], NUMBER)))
    assert "tiara of the hall" in answer["problem"]["detail"], "of the same day it is named"
