"""A house that grows day by day, through the door, as an office of many years has grown."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any

from intake.access.devices import make_code, pair, stamp
from intake.bench.pile import Pile, batches
from intake.bench.served import Served, asked
from intake.bench.upload import prepare
from intake.database import opened
from intake.settings import utc_now
from intake.sync.operations import answer_batch

ITEMS_A_DAY = 500
ITEMS_A_VISIT = 5
BATCH = 2000  # operations handed in at once


class House:
    """An office's folder, and what lies in it: every day but the last is closed.

    `first_item` and `last_item` are of the days that came first and last; `day_id` is the open one's.
    """

    def __init__(self, folder: Path, device_id: str, manager: str, table: str) -> None:
        self.folder, self.manager, self.table = folder, manager, table  # the two are devices' secrets
        self._device_id = device_id
        self._pile = Pile(1, device_id)
        self.items = 0
        self.day_id = self.first_item = self.last_item = ""

    @classmethod
    async def begun(cls, folder: Path) -> House:
        """An office with nothing in it, and two devices."""
        folder.mkdir()
        (device_id, manager), (_, table) = await prepare(folder, 2)
        return cls(folder, device_id, manager, table)

    @property
    def file(self) -> Path:
        return self.folder / "intake.sqlite3"

    async def grow(self, items: int, a_day: int = 0) -> None:
        """Add days until there are so many items; `a_day`: of so many each, if that is otherwise than usual."""
        async with opened(self.file) as database:
            while self.items < items:
                for batch in batches(self._one_day(a_day or ITEMS_A_DAY), BATCH):
                    answering = partial(answer_batch, sent=batch, device_id=self._device_id, role="manager")
                    await database.write(partial(answering, received_at=stamp(utc_now())))

    def _one_day(self, items: int) -> list[dict[str, Any]]:
        """The last day is closed, and another opened with its visits and items."""
        names = {"closed_by": "Hester Quillfeather", "second_by": "Ana Thistle", "named": []}
        made = [self._pile.make("close_day", day_id=self.day_id, **names)] if self.day_id else []
        day = self._pile.day()
        made.append(day)
        for _ in range(0, items, ITEMS_A_VISIT):
            visit = self._pile.visit(day["day_id"])
            of_visit = [self._pile.record(visit, []) for _ in range(ITEMS_A_VISIT)]
            made += [visit, *(operation for item in of_visit for operation in item)]
            self.last_item = of_visit[-1][0]["item_id"]
            self.first_item = self.first_item or of_visit[0][0]["item_id"]
        self.day_id = day["day_id"]
        self.items += items
        return made

    def change(self, served: Served, item_id: str) -> None:
        """Its device sends what an item is made of, in other words."""
        words = f"plush and tin, {self.items}"
        change = self._pile.make("set_item", item_id=item_id, field="materials", value=words, seen=None)
        asked(served, self.manager, "/sync/operations", {"operations": [change]})

    async def operations(self) -> int:
        async with opened(self.file) as database:
            return int(await database.read(lambda tx: tx.value("SELECT count(*) FROM operation_log")))

    async def code(self, role: str, name: str) -> str:
        """A pairing code as a person types it."""
        async with opened(self.file) as database:
            made = await database.write(partial(make_code, role=role, name=name, now=utc_now()))
        return made.shown

    async def secret(self, role: str, name: str) -> str:
        """That of another device, which is paired."""
        async with opened(self.file) as database:
            code = await database.write(partial(make_code, role=role, name=name, now=utc_now()))
            paired = partial(pair, typed=code.code, device_id=None, secret=None, now=utc_now())
            _, secret = await database.write(paired)
        return secret
