"""Copies at work: a thread for each second place, what each says of itself, and what may be let go of elsewhere.

A thread may hang in a stick or a network folder for as long as it likes: nobody waits for it. What it is doing is
read off it from outside, so that one that hangs is seen to.
"""

from __future__ import annotations

import asyncio
import logging
import re
import sqlite3
import threading
import time
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path

from pydantic import BaseModel

from intake.access.devices import stamp
from intake.copies import source as office
from intake.copies.copier import Copier
from intake.copies.folder import Folder, InUse
from intake.copies.head import read_head
from intake.copies.places import (
    FormerCopy,
    Place,
    Reached,
    copy_recipient,
    former_copies,
    note_copy,
    note_erased_aside,
    places,
)
from intake.copies.seal import paper_of
from intake.copies.source import Source
from intake.copies.states import IN_REACH, NO_SECOND_PLACE, CopyTrouble, State
from intake.database import Database, Reading, Writing
from intake.in_words import counted

log = logging.getLogger("intake.copies")


@dataclass(frozen=True)
class Pace:
    """In seconds: between two steps while there is news, before looking again, and when a place that is asked for
    something and has done nothing since counts as slow."""

    pause_s: float = 0.25
    look_s: float = 5.0
    slow_s: float = 20.0
    note_s: float = 60.0
    end_s: float = 5.0
    elapsed: Callable[[], float] = time.monotonic


class LagStatus(BaseModel):
    """What the office has that a copy has not: operations, erasures still owed to it (so many owners), photos and their
    bytes."""

    operations: int
    erasures: int
    photos: int
    bytes: int


class CopyStatus(BaseModel):
    """How one copy is doing. `copy_id` tells it from others that come in turn to the same folder, null until it was
    met. `age_s` is how long ago it last had everything, null if it never had.

    `sealed_to` is how the public half of its key begins, as the paper that opens it says; null of an open copy, and of
    one that was not met yet. `same_disk`: it is lost with the office's own disk, for all that can be told, and counts
    as no second place.
    """

    folder: str
    copy_id: str | None
    sealed: bool
    sealed_to: str | None
    state: State
    says: str
    hint: str
    in_reach: bool
    office_seq: int
    lag: LagStatus
    age_s: int | None
    complete_at: str | None
    same_disk: bool
    unreadable_photos: int


@dataclass(frozen=True)
class Totals:
    """What the office has in all."""

    office_seq: int
    photos: int
    photo_bytes: int


def totals(tx: Reading) -> Totals:
    photos = tx.one("SELECT count(*) AS photos, coalesce(sum(bytes), 0) AS bytes FROM photo_file")
    assert photos is not None
    return Totals(office.newest(tx), photos["photos"], photos["bytes"])


class Keeper:
    """Keeps one copy up to date from a thread of its own, until it is closed."""

    def __init__(self, place: Place, copier: Copier, pace: Pace, on_change: Callable[[Keeper], None]) -> None:
        self.place, self.reached = place, place.reached
        self.state: State = State.BEHIND
        self.trouble: CopyTrouble | None = None
        self._heard = False  # whether the copy has answered since the start
        self.is_apart: bool | None = None  # on another disk than the office, when it last answered
        self.copier, self._pace, self._on_change = copier, pace, on_change
        self._woken, self._closing = threading.Event(), threading.Event()
        self.stepped = threading.Event()  # set after each look, for whoever waits for one
        self._silent_since: float | None = None  # while it is at work
        self._held: tuple[float, int | None] | None = (
            None  # since when another holds it at this serial of its head
        )
        self._noted = pace.elapsed()
        copier.folder.answered = self._answered
        self._thread = threading.Thread(target=self._run, name=f"copy to {place.folder}", daemon=True)

    def start(self) -> None:
        self._thread.start()

    def wake(self) -> None:
        self._woken.set()

    def close(self) -> None:
        """Ask for one last step; `join` waits for it, for so long."""
        self._closing.set()
        self._woken.set()

    def join(self) -> None:
        self._thread.join(self._pace.end_s)

    def _run(self) -> None:
        while True:
            last = self._closing.is_set()
            more = self._look()
            if last:
                return
            if not more:
                self._woken.wait(self._pace.look_s)
            self._woken.clear()
            self._closing.wait(self._pace.pause_s)

    def _look(self) -> bool:
        """One step, and what came of it. Whether there is more to do at once."""
        before = self._mark()
        self._silent_since = self._pace.elapsed()
        more = False
        try:
            lag = self.copier.step()
            self._held = None
            self._set(State.CURRENT if lag.nothing else State.BEHIND, None)
            more = bool(lag.operations or lag.erasures or lag.photos > len(self.copier.unread))
        except InUse:
            self._note_held()
        except CopyTrouble as trouble:
            self._set(trouble.state, trouble)
        except sqlite3.Error as error:
            log.warning("copy to %s: the office's tables could not be read: %s", self.place.folder, error)
        except Exception:
            log.exception("copy to %s", self.place.folder)
            self._set(State.DAMAGED, fault(self.place.folder))
        self._silent_since = None
        self.stepped.set()
        now = self._pace.elapsed()
        if self._mark() != before or now - self._noted > self._pace.note_s:
            self._noted = now
            self._on_change(self)
        return more

    def _note_held(self) -> None:
        """Somebody is bringing it up to date by hand; what we know of it stays. One that holds it and moves nothing on,
        such as a restore that stands still, keeps what is new out of it."""
        serial: int | None = None
        with suppress(OSError, CopyTrouble):
            head = read_head(self.copier.folder)
            serial = head.serial if head else None
        if self._held is None or self._held[1] != serial:
            self._held = self._pace.elapsed(), serial

    def _mark(self) -> tuple[object, ...]:
        """What is noted in the tables when it changes: which copy it is, how it is doing, and what erasures reached."""
        head = self.copier.head
        which = (head.copy_id, head.erased_seq) if head else None
        return self.state, self._heard, which, dict(self.copier.aside)

    def _set(self, state: State, trouble: CopyTrouble | None) -> None:
        head, copier, before = self.copier.head, self.copier, self.state
        if state in IN_REACH and head is not None:
            self.reached = reached_by(copier)
            self._heard, self.is_apart = True, copier.is_apart()
            # What the copy says of itself holds: after a restore it may have been named without a word on sealing.
            self.place = replace(self.place, sealed=head.sealed_to is not None, sealed_to=head.sealed_to)
        elif state is State.FOREIGN and self.is_apart is None:
            self.is_apart = (
                copier.is_apart()
            )  # it is there, and counts for nothing; where it lies is said all the same
        self.state, self.trouble = state, trouble
        if state != before:
            says = trouble.detail if trouble else str(state)
            counts = "" if self.is_apart is not False or state not in IN_REACH else f". It {NO_SECOND_PLACE}"
            log.warning("copy to %s: %s%s", self.place.folder, says, counts)

    def _answered(self) -> None:
        self._silent_since = self._pace.elapsed()

    @property
    def mark(self) -> tuple[object, ...]:
        """What whoever shows this copy has to draw anew when it changes. What may change with each commit is left out:
        that it lacks something for a moment, and how its trouble is put."""
        return (
            self.place.folder,
            self.trouble and self.state,
            self.in_reach,
            self.is_slow,
            self.is_apart,
            bool(self.copier.unread),
        )

    @property
    def is_slow(self) -> bool:
        """Whether it has not answered for a while, or another has held it for as long."""
        since = self._silent_since
        return self.is_held or (since is not None and self._pace.elapsed() - since > self._pace.slow_s)

    @property
    def is_held(self) -> bool:
        """Whether another process has kept what is new out of it for a while."""
        return self._held is not None and self._pace.elapsed() - self._held[0] > self._pace.slow_s

    @property
    def in_reach(self) -> bool:
        return self._heard and self.state in IN_REACH and not self.is_slow

    def status(self, have: Totals, erasures: int, now: datetime) -> CopyStatus:
        """How it is doing, beside what the office has; so many `erasures` have not reached it yet."""
        at, state = self.reached, State.SLOW if self.is_slow else self.state
        lag = LagStatus(
            operations=max(0, have.office_seq - at.office_seq),
            erasures=erasures,
            photos=max(0, have.photos - at.photos),
            bytes=max(0, have.photo_bytes - at.photo_bytes),
        )
        if state == State.CURRENT and (lag.operations or lag.erasures or lag.photos):
            state = State.BEHIND  # what came since the last step is being copied
        if self.is_held:
            says, hint = HELD
        elif not self.is_slow and self.trouble is not None:
            says, hint = self.trouble.detail, self.trouble.hint
        else:
            says, hint = words_of(state, self.copier)
        age = now - datetime.fromisoformat(at.complete_at) if at.complete_at else None
        return CopyStatus(
            folder=self.place.folder,
            copy_id=self.copier.head.copy_id if self.copier.head else self.place.copy_id,
            sealed=self.place.sealed,
            sealed_to=paper_of(self.place.sealed_to),
            state=state,
            says=says,
            hint=with_folder(hint, self.copier.data_folder),
            in_reach=self.in_reach,
            office_seq=at.office_seq,
            lag=lag,
            age_s=None if age is None else max(0, int(age.total_seconds())),
            complete_at=at.complete_at,
            same_disk=self.is_apart is False,
            unreadable_photos=len(self.copier.unread),
        )


def reached_by(copier: Copier) -> Reached:
    """What stands in the copy that this copier has met."""
    assert copier.head is not None
    complete_at = stamp(copier.complete_at) if copier.complete_at else copier.head.complete_at
    head = copier.head
    photos = len(copier.have) + len(copier.gone)
    photo_bytes = copier.have_bytes + sum(copier.gone.values())
    return Reached(copier.holds_seq, head.erased_seq, photos, photo_bytes, complete_at)


def note_copier(tx: Writing, folder: str, copier: Copier, now: str) -> None:
    """Remember the copy that this copier has met, and what was set aside in it."""
    head = copier.head
    if head is None:
        return
    sealed_to = head.sealed_to
    note_copy(
        tx, Place(folder, sealed_to is not None, True, reached_by(copier), head.copy_id, sealed_to), now
    )
    for name, (copy_id, erased_seq) in copier.aside.items():
        note_erased_aside(tx, str(Path(folder) / name), copy_id, erased_seq, now)


def fault(folder: str) -> CopyTrouble:
    return CopyTrouble(
        State.DAMAGED,
        f"The copy in {folder} could not be brought up to date: the office made a mistake, see its log.",
        hint=f"It is tried again. If it stays so, begin a new one: `intake copy {folder} --anew`.",
    )


def with_folder(hint: str, data_folder: Path) -> str:
    """The commands in a hint as they are to be typed for this office: whoever reads a screen sits elsewhere."""
    folder = f'"{data_folder}"' if " " in str(data_folder) else str(data_folder)
    return re.sub(r"`(intake (?!restore )[^`]+)`", lambda found: f"`{found[1]} --data {folder}`", hint)


HELD = (
    "Another command holds the copy, and nothing new has come into it for a while.",
    "Look for a restore or a copy by hand that stands still, on this machine or where the stick is plugged in, and end "
    "it. Phones keep what they have meanwhile; it goes on by itself.",
)


def words_of(state: State, copier: Copier) -> tuple[str, str]:
    """What is so and what to do, where nothing stands in the way."""
    unread, owed, unseen = len(copier.unread), len(copier.owed), copier.unseen
    if state is State.SLOW:
        return (
            "The copy has not answered for a while.",
            "Look at the stick or the network. Phones keep what they have meanwhile; it goes on by itself.",
        )
    if unread:
        return (
            f"{counted(unread, 'photo')} could not be copied: the office itself cannot read "
            f"{'it' if unread == 1 else 'them'}.",
            "Run `intake verify`. Phones keep their originals.",
        )
    if owed:
        return (
            f"The personal words of {counted(owed, 'operation')} stand neither at the office nor in the copy.",
            "Run `intake verify`. Phones keep what they have.",
        )
    if copier.keeps_house:
        return keeps_house_words(copier)
    if unseen:
        return f"The copy is being read back; {counted(unseen, 'photo')} still to be looked at.", ""
    if state is State.BEHIND:
        return "The copy is being brought up to date.", ""
    return "Everything the office has stands in the copy.", ""


def keeps_house_words(copier: Copier) -> tuple[str, str]:
    """Of a copy that may be the only place that has the house's own plans."""
    return (
        f"The copy keeps the house's own plans and words, which the office does not find in {copier.house_folder}.",
        "Bring that folder back, or start the office with --plans and where they are now. If the house has none any "
        f"more: `intake copy {copier.folder} --anew`.",
    )


@dataclass
class Copies:
    """All second places of a running office."""

    database: Database
    source: Source
    clock: Callable[[], datetime]
    pace: Pace = field(default_factory=Pace)
    on_change: list[Callable[[], None]] = field(
        default_factory=list
    )  # called when one of them does otherwise
    folder_at: Callable[[str], Folder] = lambda path: Folder(Path(path))
    _keepers: dict[str, Keeper] = field(default_factory=dict)
    _noting: set[asyncio.Task[None]] = field(default_factory=set)

    async def open(self) -> None:
        """Begin with every place that is set up, and end with every one that is not any more."""
        self._loop = asyncio.get_running_loop()
        found, recipient = await self.database.read(lambda tx: (places(tx), copy_recipient(tx)))
        wanted = {(place.folder, place.sealed) for place in found}
        for folder, keeper in list(self._keepers.items()):
            if (folder, keeper.place.sealed) not in wanted:
                self._keepers.pop(folder).close()
        for place in found:
            if place.folder not in self._keepers:
                copier = Copier(
                    self.folder_at(place.folder),
                    self.source,
                    clock=self.clock,
                    seal_to=recipient if place.sealed else None,
                    begun=place.begun,
                )
                self._keepers[place.folder] = Keeper(place, copier, self.pace, self._changed)
                self._keepers[place.folder].start()

    async def close(self) -> None:
        """Let each copy take what is left, for a few seconds, and remember where it stands."""
        for keeper in self._keepers.values():
            keeper.close()
        for keeper in self._keepers.values():
            await asyncio.to_thread(keeper.join)
            await self._note(keeper)

    def wake(self) -> None:
        """There may be news: called after each commit."""
        for keeper in self._keepers.values():
            keeper.wake()

    def _changed(self, keeper: Keeper) -> None:
        """A copy's state changed; called on its thread."""

        def note() -> None:
            for call in self.on_change:
                call()
            task = asyncio.ensure_future(self._note(keeper))
            self._noting.add(task)
            task.add_done_callback(self._noting.discard)

        with suppress(RuntimeError):  # the office is closing, and notes it itself
            self._loop.call_soon_threadsafe(note)

    async def _note(self, keeper: Keeper) -> None:
        if keeper.copier.begun:
            folder, copier = keeper.place.folder, keeper.copier
            await self.database.write(lambda tx: note_copier(tx, folder, copier, stamp(self.clock())))

    async def former(self) -> list[FormerCopy]:
        """The copies that were made once and are kept up to date no longer, the key of each as its paper says it."""
        found = await self.database.read(former_copies)
        return [replace(copy, sealed_to=paper_of(copy.sealed_to)) for copy in found]

    async def statuses(self) -> list[CopyStatus]:
        """How each copy is doing."""
        keepers, now = list(self._keepers.values()), self.clock()
        if not keepers:
            return []  # nothing is counted for nobody: a house has millions of photos

        def look(tx: Reading) -> tuple[Totals, list[int]]:
            return totals(tx), [
                office.owners_erased_after(tx, keeper.reached.erased_seq) for keeper in keepers
            ]

        have, owed = await self.database.read(look)
        return [keeper.status(have, erasures, now) for keeper, erasures in zip(keepers, owed, strict=True)]

    def marks(self) -> tuple[tuple[object, ...], ...]:
        """What changes with how they are doing, read off them without the tables."""
        return tuple(keeper.mark for keeper in self._keepers.values())

    def in_reach(self) -> list[Keeper]:
        """The second places that answer. A copy on the office's own disk is none: it is lost with the office."""
        return [keeper for keeper in self._keepers.values() if keeper.in_reach and keeper.is_apart]

    def safe_seq(self) -> int | None:
        """The newest operation that stands, with all before it and their personal words, in every copy in reach.

        None while no second place is set up, or none but on the office's own disk; 0 while there are some and none
        is in reach. Photos are not covered: ask `safe_photos`. It may go back, when a copy that is behind comes
        back; what was let go of by then stood in every copy that was in reach at that time.
        """
        if all(keeper.is_apart is False for keeper in self._keepers.values()):
            return None
        return min((keeper.reached.office_seq for keeper in self.in_reach()), default=0)

    def safe_photos(self, digests: Iterable[str]) -> set[str]:
        """Those of these photos whose bytes, checked against their digest, stand in every copy in reach, or went with
        their owner before they came there.

        None of them while no second place is set up or in reach.
        """
        reached = self.in_reach()
        if not reached:
            return set()
        copiers = [keeper.copier for keeper in reached]
        return {one for one in digests if all(one in copier.have or one in copier.gone for copier in copiers)}
