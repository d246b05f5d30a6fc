"""A house in which everything goes wrong, driven by one seed: phones, an office that is lost and put back, its copies.

The office is the real app on real files, without a socket; copies and what is restored from them are the real ones,
brought up to date when the simulation says so. A process ends in the middle of a write to a copy, or with a change
half made; what a phone does is broken off at each of its requests.
"""

from __future__ import annotations

import json
import random
import shutil
import sqlite3
from collections.abc import Callable, Iterable, Iterator
from contextlib import AsyncExitStack, closing, suppress
from datetime import UTC, datetime, timedelta
from functools import cache, partial
from pathlib import Path
from typing import Any

import httpx
from starlette.applications import Starlette

from intake.access.devices import make_code, revoke
from intake.app import build_app
from intake.copies.bring_in import bring_in
from intake.copies.copier import Copier
from intake.copies.folder import Folder
from intake.copies.head import read_head
from intake.copies.reading import CopyReader, head_of
from intake.copies.restore import restore
from intake.copies.seal import Opener
from intake.copies.source import source_of
from intake.copies.states import IN_REACH, CopyTrouble
from intake.office import Office
from intake.opening import open_office
from intake.settings import Settings
from intake.tagging.tags import codes
from tests.builders import (
    Ids,
    a_caution,
    a_day,
    a_decision,
    a_fact,
    a_finding,
    a_photo,
    a_tie,
    a_visit,
    an_item,
    picture,
)
from tests.copies.tools import Crash, FailingFolder
from tests.keeping_phone import KeepingPhone, LineCut

FIELDS = ("short_description", "materials", "maker", "packaging")
FEW_NUMBERS = 6  # which two phones tie to two things, now and then


@cache
def service() -> Starlette:
    """The app; which office it serves is said with each request, since describing all routes is slow."""
    return build_app(Settings(Path("unused")))


class HandDrivenCopies:
    """In place of the office's threads: copies that take a step when they are told to."""

    def __init__(self) -> None:
        self.copiers: dict[Path, Copier] = {}
        self.plugged: set[Path] = set()
        self.reached: dict[Path, int] = {}  # of those that answered their last look, how far each goes

    def _in_reach(self) -> list[Path]:
        return [path for path in self.reached if path in self.plugged]

    def safe_seq(self) -> int | None:
        if not self.copiers:
            return None
        return min((self.reached[path] for path in self._in_reach()), default=0)

    def safe_photos(self, digests: Iterable[str]) -> set[str]:
        reached = [self.copiers[path] for path in self._in_reach()]
        return {one for one in digests if reached and all(one in copier.have for copier in reached)}

    def step(self, path: Path) -> None:
        """One look at one copy, which may be in no state to be written to."""
        copier = self.copiers[path]
        try:
            copier.step()
        except CopyTrouble as trouble:
            if trouble.state not in IN_REACH:
                self.reached.pop(path, None)
                return
        if copier.head is not None:
            self.reached[path] = copier.holds_seq

    def forget(self) -> None:
        """The process has ended."""
        self.copiers.clear()
        self.reached.clear()


class House:
    """The office at one address, whatever file stands behind it, and all that can happen to it."""

    def __init__(self, folder: Path, seed: int, *, with_copies: bool, rests_on_others: bool = False) -> None:
        self.chance = random.Random(seed)
        self.rests_on_others, self.own_chance = rests_on_others, random.Random(f"stops of {seed}")
        self.folder, self.with_copies = folder, with_copies
        self.ids = Ids(seed)
        self.now = datetime(2026, 3, 14, 8, 0, tzinfo=UTC)
        self._count = 0
        self._open = AsyncExitStack()
        self.copies = HandDrivenCopies()
        self.all_copies: list[Path] = []  # also those that are kept up to date no longer
        self.numbers = codes(1000)
        self.rolls = codes(100_000)
        self.stopped: dict[
            str, bool
        ] = {}  # items on which somebody pressed Stop, and whether another cleared it
        self.few_numbers = [next(self.numbers) for _ in range(FEW_NUMBERS)]
        self.snapshots: list[Path] = []
        self.phones: list[KeepingPhone] = []
        self.clients: dict[str, httpx.AsyncClient] = {}
        self.kept_back: list[tuple[str, str, str, Any]] = []  # requests that arrive late
        self.line_is_bad = True
        self.day: dict[str, Any] = {}
        self.visits: list[dict[str, Any]] = []
        self.last_of: dict[tuple[str, str], dict[str, Any]] = {}  # the last operation on each field, in truth
        self.settings = self._settings()

    def _settings(self) -> Settings:
        return Settings(self._new_path("office"), clock=self.tick, numbers=(1, 1), readers=1)

    def _new_path(self, name: str) -> Path:
        self._count += 1
        return self.folder / f"{name}-{self._count}"

    def tick(self) -> datetime:
        self.now += timedelta(milliseconds=7)
        return self.now

    async def open(self) -> None:
        self.office: Office = await self._open.enter_async_context(open_office(self.settings))
        self.office.copies.__dict__.update(safe_seq=self.copies.safe_seq, safe_photos=self.copies.safe_photos)

        app = service()
        app.state.office = self.office

        async def with_state(scope: Any, receive: Any, send: Any) -> None:
            await app({**scope, "state": {"office": self.office, "app_version": ""}}, receive, send)

        self._transport = httpx.ASGITransport(app=with_state)

    async def close(self) -> None:
        await self._open.aclose()

    async def pair(self, phone_id: str | None, role: str, client: httpx.AsyncClient) -> str:
        """With a code for any device; where an older copy knows the id, with the manager's word for it."""
        for named in (None, phone_id):
            code = await self.office.database.write(
                partial(make_code, role=role, name=role, now=self.tick(), device_id=named)
            )
            answer = await client.post("/pairing", json={"code": code.code, "device_id": phone_id})
            if answer.status_code != 403:
                break
        answer.raise_for_status()
        return str(answer.json()["device_id"])

    def _client(self) -> httpx.AsyncClient:
        return httpx.AsyncClient(
            transport=self._transport, base_url="http://office", headers={"Origin": "http://office"}
        )

    async def add_phone(self, role: str) -> KeepingPhone:
        client = self._client()
        device_id = await self.pair(None, role, client)
        self.clients[device_id] = client

        async def ask(method: str, path: str, body: Any = None) -> Any:
            return await self.over_the_line(device_id, method, path, body)

        phone = KeepingPhone(self.ids, device_id, ask, lambda: next(self.numbers))
        self.phones.append(phone)
        return phone

    async def over_the_line(self, device_id: str, method: str, path: str, body: Any) -> Any:
        """A request over a line that loses, doubles and crosses messages."""
        fate = self.chance.random() if self.line_is_bad else 1.0
        if fate < 0.05:
            raise LineCut
        if fate < 0.06:
            await self._end_in_the_middle(device_id, method, path, body)
            raise LineCut
        if fate < 0.10 and method == "POST":
            self.kept_back.append((device_id, method, path, body))
            raise LineCut
        answer = await self._deliver(device_id, method, path, body)
        if fate < 0.16 and method == "POST":
            answer = await self._deliver(device_id, method, path, body)
        if fate < 0.26:
            raise LineCut
        return answer

    async def _deliver(self, device_id: str, method: str, path: str, body: Any) -> Any:
        sent = {"content": body} if isinstance(body, bytes) else {"json": body} if body is not None else {}
        answer = await self.clients[device_id].request(method, path, **sent)
        if answer.status_code == 401:  # another office, which does not know it: the manager pairs it again
            self.clients[device_id] = client = self._client()
            role = "manager" if device_id == self.phones[0].device_id else "table"
            await self.pair(device_id, role, client)
            answer = await client.request(method, path, **sent)
        answer.raise_for_status()
        return answer.json()

    async def _end_in_the_middle(self, device_id: str, method: str, path: str, body: Any) -> None:
        """The office's process ends while it does this: before its change is kept, or with it kept and unanswered."""

        async def ends(job: Callable[[Any], Any]) -> Any:
            raise Crash

        self.office.database.__dict__["write"] = ends
        with suppress(Crash, BaseExceptionGroup):
            await self._deliver(device_id, method, path, body)
        self.office.database.__dict__.pop("write")
        await self.restart()

    async def let_late_ones_arrive(self) -> None:
        for device_id, method, path, body in self.kept_back:
            await self._deliver(device_id, method, path, body)
        self.kept_back.clear()

    # What people do.

    async def begin(self, phones: int) -> None:
        await self.open()
        manager = await self.add_phone("manager")
        self.day = manager.keep(a_day(self.ids))
        for _ in range(phones - 1):
            await self.add_phone("table")

    def work(self, phone: KeepingPhone) -> None:
        """One more thing on this phone, of what it knows."""
        if self.rests_on_others and self.own_chance.random() < 0.5:
            self._build_on_others(phone)
            return
        known = [visit for visit in self.visits if visit["visit_id"] in phone.records]
        items = [record for record in phone.records.values() if record["kind"] == "item"]
        items = [record for record in items if record["record_id"] not in self.stopped]
        if self.day["day_id"] not in phone.records and phone is not self.phones[0]:
            return
        choice = self.chance.random()
        if choice < 0.25 or not (known or items):
            self.visits.append(phone.keep(a_visit(self.ids, self.day["day_id"])))
        elif choice < 0.5 and known:
            phone.keep(an_item(self.ids, self.chance.choice(known)))
        elif choice < 0.65 and items:
            content = picture(self.chance.randrange(10**6), size=(8, 8))
            item_id = self.chance.choice(items)["record_id"]
            phone.keep(a_photo(self.ids, item_id, content, content), content)
        elif choice < 0.72 and items:
            number = self.chance.choice(self.few_numbers)
            phone.keep(a_tie(self.chance.choice(items)["record_id"], number))
        elif items:
            self._edit(phone, self.chance.choice(items))

    def _edit(self, phone: KeepingPhone, item: dict[str, Any]) -> None:
        """Change a field, if this phone knows its last value: so nobody ever disagrees."""
        field = self.chance.choice(FIELDS)
        last = self.last_of.get((item["record_id"], field))
        shown = item["fields"].get(field, {}).get("operation_id")
        if last and last["operation_id"] != shown and last["device_id"] != phone.device_id:
            return
        seen = last["operation_id"] if last else None
        made = a_fact(item["record_id"], field, f"value {self.ids.id()}", seen=seen)
        self.last_of[item["record_id"], field] = phone.keep(made)

    def _build_on_others(self, phone: KeepingPhone) -> None:
        """What is allowed because of what somebody else said: a Stop that another clears, a person whom the manager
        adds, a roll that he gives out. Who goes on knows of it, so that an office which is whole refuses none of it."""
        chance, day_id = self.own_chance, self.day["day_id"]
        day = phone.records.get(day_id, {"fields": {}})["fields"]
        items = [phone.records[item_id] for item_id in self.stopped if item_id in phone.records]
        people = [name.partition("/")[2] for name in day if name.startswith("people/")]
        known = [visit for visit in self.visits if visit["visit_id"] in phone.records]
        if phone is self.phones[0] and chance.random() < 0.3:
            person = {"person_id": f"helper {self.ids.id()}", "name": self.ids.id(), "roles": ["valuer"]}
            phone.keep(("add_person", {"day_id": day_id, "person": person}))
        elif phone is self.phones[0] and chance.random() < 0.3:
            phone.keep(self._a_roll())
        elif chance.random() < 0.3 and known:
            item = phone.keep(an_item(self.ids, chance.choice(known)))
            phone.keep(a_caution(self.ids, item["item_id"]))
            self.stopped[item["item_id"]] = False
        elif chance.random() < 0.15 and (rolls := [name for name in day if name.startswith("roll-holders/")]):
            self._give(phone, chance.choice(rolls), day)
        elif people:
            for item in items:
                self._go_on_with(phone, item, chance.choice(people))

    def _a_roll(self) -> tuple[str, dict[str, Any]]:
        ten = [next(self.rolls) for _ in range(10)]
        roll = {"roll_id": self.ids.id(), "first_tag": ten[0], "last_tag": ten[-1], "count": 10}
        return "issue_roll", {"day_id": self.day["day_id"], **roll, "given_to": "", "for_device_id": None}

    def _give(self, phone: KeepingPhone, name: str, day: dict[str, Any]) -> None:
        """Give a roll on, if this phone knows who has it."""
        last = self.last_of.get((self.day["day_id"], name))
        if last is None or last["operation_id"] == day[name]["operation_id"]:
            given = {"roll_id": name.partition("/")[2], "given_to": phone.device_id, "for_device_id": None}
            made = "give_roll", {"day_id": self.day["day_id"], **given, "seen": day[name]["operation_id"]}
            self.last_of[self.day["day_id"], name] = phone.keep(made)

    def _go_on_with(self, phone: KeepingPhone, item: dict[str, Any], person: str) -> None:
        """Clear an item that another stopped; once that is known, describe it, in anybody's name."""
        item_id, fields = item["record_id"], item["fields"]
        for stop in [name.partition("/")[2] for name in fields if name.startswith("cautions/")]:
            if f"caution-decisions/{stop}" in fields:
                phone.keep(a_finding(self.ids, item_id, "head"), made_by=person)
            elif not self.stopped[item_id] and fields[f"cautions/{stop}"]["device_id"] != phone.device_id:
                self.stopped[item_id] = True
                made = phone.keep(a_decision(item_id, stop, "cleared"))
                self.last_of[item_id, f"caution-decisions/{stop}"] = made

    # What happens to the office.

    async def restart(self) -> None:
        await self._exchange(self.settings)

    async def take_snapshot(self) -> None:
        await self._open.aclose()
        self.snapshots.append(self._new_path("snapshot"))
        shutil.copytree(self.settings.data_folder, self.snapshots[-1])
        await self._exchange(self.settings)

    async def put_snapshot_back(self) -> None:
        """The folder as it was, without a word to anybody."""
        if self.snapshots:
            settings = self._settings()
            shutil.copytree(self.chance.choice(self.snapshots), settings.data_folder)
            await self._exchange(settings)

    async def restore_copy(self) -> None:
        """An office made from any copy there is, old ones too; the copies may be kept up to date from there."""
        if begun := self.begun_copies():
            await self._open.aclose()
            settings = self._settings()
            await restore(Folder(self.chance.choice(begun)), settings)
            await self._exchange(settings)

    async def set_clock(self, chance: random.Random) -> None:
        """The office's clock is months off from now on, or right again."""
        self.now += timedelta(days=chance.choice([-90, 90]))

    async def pair_again(self, chance: random.Random) -> None:
        """A phone is paired once more, with the manager's word for it."""
        phone = chance.choice(self.phones)
        role = "manager" if phone is self.phones[0] else "table"
        self.clients[phone.device_id] = client = self._client()
        await self.pair(phone.device_id, role, client)

    async def lose_a_row(self, chance: random.Random) -> None:
        """A row goes from the middle of the log; an office is made from a copy of what is left."""
        newest = await self.office.database.read(
            lambda tx: tx.value("SELECT max(office_seq) FROM operation_log")
        )
        await self._open.aclose()
        settings = self.settings
        if newest and newest > 2:
            with closing(sqlite3.connect(settings.database_file)) as file, file:
                file.execute("DELETE FROM operation_log WHERE office_seq = ?", (chance.randrange(1, newest),))
            copy = self._new_path("left")
            copier = Copier(Folder(copy), source_of(settings), clock=self.tick)
            while not copier.step().nothing:
                pass
            self.all_copies.append(copy)
            settings = self._settings()
            await restore(Folder(copy), settings)
            if (
                not self.with_copies
            ):  # a folder of before has another key, and takes no proof that it lost something
                self.snapshots.clear()
        await self._exchange(settings)

    async def swap_sticks(self, chance: random.Random) -> None:
        """Two sticks change places: each comes under the other's path."""
        if len(paths := list(self.copies.copiers)) == 2 and all(path.is_dir() for path in paths):
            away = paths[0].rename(self._new_path("pocket"))
            paths[1].rename(paths[0])
            away.rename(paths[1])

    async def lie(self, chance: random.Random) -> None:
        """A device says something of its own under the id of another's operation, which the office may lack."""
        held = [one["operation_id"] for phone in self.phones for one in phone.held()]
        if not held:
            return
        client = self._client()
        device_id = await self.pair(None, "table", client)
        body = a_visit(self.ids, self.day["day_id"])[1]
        told = {"made_at": self.ids.instant(), "made_by": "hester", "device_id": device_id, "device_seq": 1}
        lie = {"operation_id": chance.choice(held), "kind": "open_visit", **told, **body}
        sent = await client.post("/sync/operations", json={"operations": [lie]})
        sent.raise_for_status()
        await self.office.database.write(lambda tx: revoke(tx, device_id, self.now))
        self.office.known.forget()

    async def lose_all(self) -> None:
        """Office and copies are gone; an empty office is begun."""
        for path in [*self.all_copies, *self.snapshots]:
            shutil.rmtree(path, ignore_errors=True)
        self.all_copies.clear()
        self.snapshots.clear()
        await self._exchange(self._settings(), copies=[])

    async def _exchange(self, settings: Settings, *, copies: list[Path] | None = None) -> None:
        """Another process, perhaps on another folder; without a word of its own it keeps some of the copies."""
        await self._open.aclose()
        if copies is None:
            same = settings is self.settings
            copies = [path for path in self.copies.copiers if same or self.chance.random() < 0.5]
        self.settings = settings
        self.copies.forget()
        for path in copies:
            self._keep_copy_in(path)
        await self.open()
        for device_id, client in list(self.clients.items()):
            again = self._client()
            again.cookies.update(client.cookies)
            self.clients[device_id] = again

    def _keep_copy_in(self, path: Path) -> None:
        begun = read_head(Folder(path)) is not None
        self.copies.copiers[path] = Copier(
            Folder(path), source_of(self.settings), clock=self.tick, begun=begun
        )

    def begin_copy(self) -> None:
        if self.with_copies and len(self.copies.copiers) < 2:
            path = self._new_path("copy")
            path.mkdir()
            self.all_copies.append(path)
            self._keep_copy_in(path)
            self.copies.plugged.add(path)

    def plug(self) -> None:
        for path in self.copies.copiers:
            if self.chance.random() < 0.4:
                self.copies.plugged ^= {path}

    def step_copies(self) -> None:
        for path in self._plugged():
            self.copies.step(path)

    def end_while_copying(self) -> None:
        """The process ends in the middle of a write to a copy; another goes on with it."""
        for path in self._plugged():
            begun = self.copies.copiers[path].begun
            folder = FailingFolder(path, at=self.chance.randrange(1, 8), chance=self.chance, fault=Crash)
            self.copies.reached.pop(path, None)
            with suppress(Crash, CopyTrouble):
                Copier(folder, source_of(self.settings), clock=self.tick, begun=begun).step()
            self._keep_copy_in(path)

    def _plugged(self) -> Iterator[Path]:
        return (path for path in list(self.copies.copiers) if path in self.copies.plugged)

    def begun_copies(self) -> list[Path]:
        return [path for path in self.all_copies if read_head(Folder(path)) is not None]

    # The end.

    async def all_come(self) -> None:
        """The line is good, every copy is back, and every phone comes as often as it takes."""
        self.line_is_bad = False
        await self.let_late_ones_arrive()
        await self.bring_in_copies()
        for _ in range(4):
            for phone in self.chance.sample(self.phones, len(self.phones)):
                await phone.sync()
        await self.bring_in_copies()  # what waited for what phones brought
        for phone in self.phones:
            await phone.sync()

    async def bring_in_copies(self) -> None:
        for path in self.begun_copies():
            await bring_in(Folder(path), self.settings, secret=None)

    async def say_nobody_else_will_come(self) -> None:
        manager = self.phones[0].device_id
        if seen := (await self.over_the_line(manager, "GET", "/devices", None))["hearing"]:
            word = {"since": seen["since"], "loss": seen["loss"]}
            await self.over_the_line(manager, "POST", "/devices/heard", word)
        for phone in self.phones * 2:
            await phone.sync()

    def said(self) -> list[dict[str, Any]]:
        """All that a phone holds, and what was set aside in copies: it may stand under any id, or be set aside here."""
        held = [one for phone in self.phones for one in phone.held()]
        for path in self.begun_copies():
            reader = CopyReader(Folder(path), head_of(Folder(path)), Opener(None, None))
            held += [json.loads(words) for key, words in reader.words().items() if is_aside(key)]
        return held

    def survivors(self) -> tuple[set[str], set[str]]:
        """Every operation and every original that a phone or a copy has, but what was set aside: see `said`."""
        operations = {one for phone in self.phones for one in phone.holds()}
        photos = {one for phone in self.phones for one in phone.photos}
        for path in self.begun_copies():
            head = head_of(Folder(path))
            reader = CopyReader(Folder(path), head, Opener(head.sealed_to, None))
            operations |= {row["operation_id"] for row in reader.rows() if not is_aside(row["operation_id"])}
            photos |= {line["sha256"] for line, _ in reader.photos()}
        return operations, photos


def is_aside(key: str) -> bool:
    """Whether the log has so what was set aside."""
    return key.startswith("aside-")
