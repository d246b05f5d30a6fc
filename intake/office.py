"""The office at work: what every route needs, opened once and closed once."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Awaitable
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import partial

from starlette.requests import Request

from intake.access.devices import Device, paired_once, stamp
from intake.access.known import KnownDevices
from intake.access.proofs import Proofs, Told
from intake.access.readings import Readings
from intake.access.tries import Tries
from intake.copies.erasures import keep_erasures
from intake.copies.keeper import Copies
from intake.copies.signed_off import keep_signed_off
from intake.custody.kept_closings import KeptClosings
from intake.database import Database, Reading
from intake.errors import DeviceRevoked, ForeignOrigin, IntakeError, NotPaired, Refusal, RoleMayNot
from intake.examination.plans import Plans
from intake.families import Asker
from intake.in_words import counted
from intake.photos.drawn import Drawn
from intake.photos.parts import Parts
from intake.photos.store import PhotoStore, remove_gone
from intake.reading import day_of_work
from intake.settings import Settings
from intake.sync.ready import ReadyRecords
from intake.sync.rebuild import is_outdated, rebuild_if_outdated
from intake.sync.standing import Known, OfficeStanding, Reached, standing
from intake.sync.tidying import tidy
from intake.wire import number

log = logging.getLogger("intake")

HOUSEKEEPING_S, SWEEP_EVERY = 30.0, timedelta(hours=1)
PUT_OFF_MOST = 10


@dataclass
class Office:
    """One office: its settings, tables, photos and plans, and who is waiting for news."""

    settings: Settings
    database: Database
    photos: PhotoStore
    parts: Parts
    drawn: Drawn
    plans: Plans
    copies: Copies
    epoch: str
    known: KnownDevices
    proofs: Proofs
    readings: Readings
    reached: Reached = field(default_factory=Reached)
    ready: ReadyRecords = field(default_factory=ReadyRecords)
    kept_closings: KeptClosings = field(default_factory=KeptClosings)
    closing: asyncio.Event = field(default_factory=asyncio.Event)
    news: asyncio.Condition = field(default_factory=asyncio.Condition)
    news_told: int = 0  # how often: what is told while nobody waits is not missed
    tries: Tries = field(init=False)
    tables_fault: str = ""  # why the tables could not be made anew since the start; they are those of before
    _put_off: int = 0  # how often the tidying gave way to whoever was sending
    _telling: set[asyncio.Task[None]] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.tries = Tries(self.settings.pause, self.closing)

    def now(self) -> datetime:
        return self.settings.clock()

    @property
    def cookie_name(self) -> str:
        return "__Host-intake" if self.settings.secure_cookie else "intake"

    async def device(self, request: Request, *roles: str) -> Device:
        """The paired device that asks. Raises NotPaired, DeviceRevoked, or RoleMayNot if roles are named."""
        now = self.now()
        device = await self.known.with_secret(request.cookies.get(self.cookie_name), now)
        if roles and device.role not in roles:
            raise RoleMayNot(device.role, "open this")
        self.known.hear(device.device_id, now)
        return device

    async def device_that_lets_go(self, request: Request) -> Device:
        """The device that asks, also one that was signed off: for addresses that say what it may let go of, and nothing
        that anybody recorded. Raises NotPaired."""
        try:
            return await self.device(request)
        except DeviceRevoked:
            secret = request.cookies.get(self.cookie_name)
            return await self.database.read(lambda tx: paired_once(tx, secret))

    async def is_paired_still(self, request: Request) -> bool:
        """Whether whoever asked is the device that it was: a request may last for hours."""
        try:
            await self.known.with_secret(request.cookies.get(self.cookie_name), self.now())
        except (NotPaired, DeviceRevoked):
            return False
        return True

    async def asker(self, request: Request) -> Asker:
        """The paired device that asks, with the day and table at which it works. Raises NotPaired, DeviceRevoked."""
        device = await self.device(request)
        day_id = device.day_id or ""
        if not day_id:
            day_id = await self.database.read(lambda tx: day_of_work(tx, device.role, "", self.now()))
        return Asker(device.device_id, device.role, day_id, device.table_id or "")

    def standing(self, tx: Reading, device: Device, known: Known) -> OfficeStanding:
        """Where the office stands for this device; whoever asks notes what was reached, after a commit."""
        return standing(
            tx,
            device_id=device.device_id,
            known=known,
            reached=self.reached.of(device.device_id),
            safe_seq=self.copies.safe_seq(),
            prove=partial(self._prove, device.device_id),
        )

    def _prove(self, device_id: str, office_seq: int, chain: str, losses: int) -> str:
        return self.proofs.give(device_id, Told(office_seq, chain, losses))

    def address(self, request: Request) -> str:
        """Where people reach the office: by the name it was given, else as this request came. No slash at the end."""
        return self.settings.address or str(request.base_url).rstrip("/")

    def check_origin(self, request: Request) -> None:
        """A write must come from our own page. Raises ForeignOrigin."""
        origin, own, host = request.headers.get("origin"), self.settings.address, request.headers.get("host")
        if origin not in (
            (own, *self.settings.other_addresses) if own else (f"http://{host}", f"https://{host}")
        ):
            raise ForeignOrigin(origin, own)

    def tell(self) -> None:
        """Wake whoever waits for news; called after each commit."""
        task = asyncio.create_task(self._tell())
        self._telling.add(task)
        task.add_done_callback(self._telling.discard)

    async def end_streams(self) -> None:
        """Let whoever waits for news go: the office closes."""
        self.closing.set()
        await self._tell()

    async def keep_house(self) -> None:
        """What is done beside all requests until the office closes.

        Parts are swept, who was heard and who read is written down, tables are made anew where words came back.
        """
        swept_at: datetime | None = None
        while not self.closing.is_set():
            now = self.now()
            if swept_at is None or now - swept_at >= SWEEP_EVERY:
                swept_at = now
                await beside(self.parts.sweep(now, stamp(now)))
                await beside(self.remove_gone())
                await beside(self.drawn.trim(now))
            with suppress(TimeoutError):
                await asyncio.wait_for(self.closing.wait(), HOUSEKEEPING_S)
            await beside(self.known.write_down())
            self.readings.settle(None if self.closing.is_set() else self.now())
            await beside(self.readings.write_down())
            await self.keep_lists_beside()
            await beside(self.tidy_when_quiet())
            await beside(self.make_tables_anew())

    async def make_tables_anew(self) -> None:
        """Once a phone has brought personal words back. What this version cannot make it cannot make a minute later
        either, and trying stops all writing: once a start is enough, and a person is to hear of it."""
        if self.tables_fault or not await self.database.read(is_outdated):
            return
        try:
            await self.database.write_alone(rebuild_if_outdated)
        except Refusal as error:
            self.tables_fault = error.detail
            raise

    async def tidy_when_quiet(self) -> None:
        """Write the file anew after an erasure, when nobody is sending; at the latest after some minutes."""
        if self.database.is_busy and self._put_off < PUT_OFF_MOST:
            self._put_off += 1
            return
        self._put_off = 0
        if await tidy(self.database):
            log.info("the tables were written anew, without what was erased")
            await self.remove_gone()

    async def remove_gone(self) -> None:
        """Remove the files of pictures that went with their owner; one may have come back with a phone or a copy."""
        if count := await remove_gone(self.database, self.photos.folder):
            log.info("%s of pictures that went with their owner were removed", counted(count, "file"))

    async def keep_lists_beside(self) -> None:
        """Note beside the data folder what was erased and who was signed off; do again what was noted there and this
        folder has forgotten."""
        await beside(keep_erasures(self.database, self.settings.data_folder, self.now()))
        await self.keep_signed_off()

    async def keep_signed_off(self) -> None:
        """The same of who was signed off alone."""

        async def keep() -> None:
            if await keep_signed_off(self.database, self.settings.data_folder):
                self.known.forget()
                self.tell()  # their streams end

        await beside(keep())

    async def _tell(self) -> None:
        async with self.news:
            self.news_told += 1
            self.news.notify_all()


async def beside(work: Awaitable[object]) -> None:
    """Work that no request waits for. What it could not do now it does the next time."""
    try:
        await work
    except IntakeError as error:
        log.warning("housekeeping waits: %s", error.detail)
    except Exception:
        log.exception("housekeeping failed")


def known_in(request: Request) -> Known:
    """What the device says it was told: `known_seq`, `known_chain`, `proof` and `before_loss` of the address."""
    asked = request.query_params
    proofs = tuple(filter(None, (asked.get("proof"), asked.get("before_loss"))))
    return Known(number(request, "known_seq", 0), asked.get("known_chain", ""), proofs)
