"""The office's door without a socket: a file, one device, and what the office says to it."""

from __future__ import annotations

import json
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import datetime
from pathlib import Path
from typing import Any

from intake.database import Database, Reading, opened
from intake.examination.plans import load_plans
from intake.families import Asker
from intake.opening import name_office
from intake.reading import day_of_work, record_body
from intake.settings import Settings
from intake.sync.feed import feed_page
from intake.sync.history import history
from intake.sync.operations import answer_batch
from intake.sync.ready import ReadyRecords
from intake.sync.rebuild import Rebuilt, rebuild
from intake.sync.standing import Known, standing
from intake.sync.verifying import find_faults
from tests.builders import Ids, a_day, a_visit, an_item
from tests.tables import digests

CAUTIONS = load_plans().cautions
RECEIVED_AT = "2026-03-14T18:00:00.000Z"


class Door:
    """One device at the door; `role` is the manager's, unless a test says otherwise."""

    def __init__(self, database: Database, folder: Path, ids: Ids, device_id: str) -> None:
        self.database, self.folder, self.ids, self.device_id = database, folder, ids, device_id
        self.role, self.person = "manager", "hester"
        self.next_seq = self.holds_from = 1
        self.clock_off_s = 0  # how far its clock is ahead, as it says when it sends
        self.hearing = False  # whether the office hears devices out
        self.day = ""
        self.now = datetime.fromisoformat(RECEIVED_AT)
        self.ready = ReadyRecords()

    def other(self, role: str = "manager") -> Door:
        """Another device at the same office."""
        other = Door(self.database, self.folder, self.ids, self.ids.id())
        other.role, other.ready = role, self.ready
        return other

    def make(self, made: tuple[str, dict[str, Any]], **envelope: Any) -> dict[str, Any]:
        kind, body = made
        self.next_seq += 1
        return {
            "operation_id": self.ids.id(),
            "kind": kind,
            "made_at": self.ids.instant(),
            "made_by": self.person,
            "device_id": self.device_id,
            "device_seq": self.next_seq - 1,
            **body,
            **envelope,
        }

    async def send(self, *operations: Any) -> list[dict[str, Any]]:
        """Hand in operations as they are."""
        return await self.database.write(
            lambda tx: answer_batch(
                tx,
                operations,
                device_id=self.device_id,
                role=self.role,
                received_at=RECEIVED_AT,
                holds_from=self.holds_from,
                hearing=self.hearing,
                clock_off_s=self.clock_off_s,
                rules=CAUTIONS,
            )
        )

    async def keep(self, made: tuple[str, dict[str, Any]], **envelope: Any) -> dict[str, Any]:
        """Make an operation and have it kept."""
        operation = self.make(made, **envelope)
        [answer] = await self.send(operation)
        assert answer["outcome"] == "kept", answer["problem"]
        return {**operation, "disagreement": answer["disagreement"]}

    async def refused(self, made: tuple[str, dict[str, Any]], **envelope: Any) -> str:
        """Make an operation and have it refused; the code."""
        [answer] = await self.send(self.make(made, **envelope))
        assert answer["outcome"] == "refused"
        return str(answer["problem"]["code"])

    async def item(self) -> dict[str, Any]:
        """An item of a visit of a new day."""
        day = await self.keep(a_day(self.ids))
        return await self.keep(an_item(self.ids, await self.keep(a_visit(self.ids, day["day_id"]))))

    async def asker(self, role: str = "manager", day_id: str = "", table_id: str = "") -> Asker:
        """This device as it asks under a role; on the only open day, if none is said."""
        day_id = await self.database.read(lambda tx: day_of_work(tx, role, day_id, self.now))
        return Asker(self.device_id, role, day_id, table_id)

    async def record(self, record_id: str, role: str = "manager", table_id: str = "") -> dict[str, Any]:
        """A record as this device reads it when it asks for it. Raises NotFound."""
        asker = await self.asker(role, table_id=table_id)
        _, body = await self.database.read(lambda tx: record_body(tx, record_id, asker, self.now))
        record: dict[str, Any] = json.loads(body)
        return record

    async def value(self, record_id: str, name: str) -> Any:
        return (await self.record(record_id))["fields"][name]["value"]

    async def feed(
        self,
        after: int = 0,
        role: str = "manager",
        limit: int = 500,
        *,
        day_id: str = "",
        table_id: str = "",
    ) -> dict[str, Any]:
        """A page of the feed: of a day, of the only open one if its id is empty."""
        asker = await self.asker(role, day_id, table_id)
        page = await self.database.read(lambda tx: self.page(tx, asker, self.ready, after, limit))
        answer: dict[str, Any] = json.loads(page)
        return answer

    def page(self, tx: Reading, asker: Asker, ready: ReadyRecords, after: int, limit: int) -> bytes:
        """A page of the feed as it is sent, by what is ready."""
        return feed_page(
            tx,
            asker,
            ready,
            after=after,
            limit=limit,
            office_time=self.now.isoformat(),
            stands=standing(tx, device_id=self.device_id, known=Known(), reached=0, safe_seq=None),
            paired={
                "device_id": self.device_id,
                "role": asker.role,
                "name": "",
                "letters": None,
                "paired_at": "",
            },
        )

    async def record_ids(self) -> list[str]:
        """Every record that there is, as the office wrote them."""
        rows = await self.database.read(lambda tx: tx.all("SELECT record_id FROM record ORDER BY feed_seq"))
        return [row["record_id"] for row in rows]

    async def history(self, record_id: str, role: str = "manager") -> list[dict[str, Any]]:
        asker = await self.asker(role)
        rows = await self.database.read(lambda tx: history(tx, record_id, asker, self.now))
        return [json.loads(row) for row in rows]

    async def rebuild(self) -> Rebuilt:
        """Make the tables anew; nothing may be left out."""
        again = await self.database.write(rebuild)
        assert again.left_out == []
        return again

    async def digests(self) -> dict[str, str]:
        return await self.database.read(digests)

    async def faults(self) -> list[str]:
        return await find_faults(self.database, self.folder)


@asynccontextmanager
async def at_the_door(
    folder: Path, ids: Ids, numbers: tuple[int, int] | None = (1, 1)
) -> AsyncIterator[Door]:
    """An office in this folder, and a device at its door."""
    async with opened(Settings(folder).database_file) as database:
        await database.write(lambda tx: name_office(tx, numbers))
        yield Door(database, folder, ids, ids.id())
