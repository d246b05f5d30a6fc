"""A day at an office that is lost afterwards, and its devices as they come to another one."""

from __future__ import annotations

import random
from typing import Any

from intake.access.devices import make_code, pair
from tests.builders import a_day, a_visit, an_item
from tests.door import Door


class LostDay:
    """A day at an office that is lost afterwards: what each device sent, all of it kept."""

    def __init__(self, manager: Door) -> None:
        self.manager, self.one, self.two = manager, manager.other("table"), manager.other("table")
        self.sent: dict[str, list[dict[str, Any]]] = {
            door.device_id: [] for door in (self.manager, self.one, self.two)
        }

    async def say(self, door: Door, made: tuple[str, dict[str, Any]], **envelope: Any) -> dict[str, Any]:
        operation = door.make(made, **envelope)
        [answer] = await door.send(operation)
        assert answer["outcome"] == "kept", answer["problem"]
        self.sent[door.device_id].append(operation)
        return operation

    async def item(self) -> dict[str, Any]:
        day = await self.say(self.manager, a_day(self.manager.ids))
        visit = await self.say(self.one, a_visit(self.manager.ids, day["day_id"]))
        return await self.say(self.one, an_item(self.manager.ids, visit))

    async def come_to(self, anew: Door, order: tuple[Door, ...]) -> list[str]:
        """Each device in turn hands in what was not answered for good, as often as that changes something; the codes of
        what was refused."""
        refused, left = [], {door.device_id: list(self.sent[door.device_id]) for door in order}
        for _ in range(len(order) + 1):
            for door in order:
                here = await self._at(anew, door)
                answers = await here.send(*left[door.device_id])
                refused += [one["problem"]["code"] for one in answers if one["outcome"] == "refused"]
                waits = {one["operation_id"] for one in answers if one["outcome"] == "waiting"}
                left[door.device_id] = [one for one in left[door.device_id] if one["operation_id"] in waits]
        return refused + [one["kind"] for operations in left.values() for one in operations]

    async def come_in_parts(self, anew: Door, chance: random.Random) -> list[str]:
        """Devices hand in some of what they have, in an order of chance, and at last all of it: as `come_to`."""
        doors, parts = [self.manager, self.one, self.two], list[tuple[Door, int]]()
        for door in doors:
            parts += [(door, upto) for upto in range(len(self.sent[door.device_id]))]
        refused = []
        for door, upto in chance.sample(parts, len(parts)):
            here = await self._at(anew, door)
            answers = await here.send(*self.sent[door.device_id][:upto])
            refused += [one["problem"]["detail"] for one in answers if one["outcome"] == "refused"]
        waited: list[str] = []
        while (now := await self.come_to(anew, tuple(chance.sample(doors, len(doors))))) not in ([], waited):
            waited = now
        return refused + now

    async def _at(self, anew: Door, door: Door) -> Door:
        """The device at the other office, which hears it out."""
        here = Door(anew.database, anew.folder, anew.ids, door.device_id)
        here.role, here.hearing = door.role, True
        await know(here)
        return here


async def know(door: Door) -> None:
    """Pair the device with the office, if it is not."""

    def job(tx: Any) -> None:
        if not tx.value("SELECT 1 FROM device WHERE device_id = :device_id", device_id=door.device_id):
            code = make_code(tx, role=door.role, name=door.role, now=door.now, device_id=door.device_id)
            pair(tx, typed=code.code, device_id=door.device_id, secret=None, now=door.now)

    await door.database.write(job)
