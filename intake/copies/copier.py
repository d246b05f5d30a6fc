"""One copy brought up to date with its office, in steps of bounded size.

Each step leaves the copy whole: files grow behind the head, are waited for, and then the head counts them. All of
this may block, on a stick or a network folder for long, so it runs on a thread of its own. Order of a step: what
was erased, then log rows with their personal words, plans and devices, then photos, then the reading back of photos
that stood there before. What a copy is said to have is what this copier has read back or written itself.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable, Set
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from intake.access.devices import stamp
from intake.copies import source as office
from intake.copies.aside import erase_in
from intake.copies.disks import is_apart
from intake.copies.erasures import ERASURES, Erasures
from intake.copies.folder import CutShort, Folder
from intake.copies.head import FORMAT, Head, Stretch, read_head, write_head
from intake.copies.news import CopyLacks, News, news_for, not_met
from intake.copies.photos_due import PHOTO_BYTES_A_STEP, PHOTOS_A_STEP, PhotosDue, Unread
from intake.copies.read_back import PhotosInCopy, read_texts
from intake.copies.reading import plan_keys, shorter_files
from intake.copies.source import Due, Source
from intake.copies.states import (
    IN_REACH,
    CopyTrouble,
    another_office,
    damaged,
    forgotten,
    missing,
    not_ours,
    trouble_of,
)
from intake.copies.writer import Writer
from intake.sync.chain import CHAIN_START
from intake.system import close_below, close_to_others

READ_BACK_A_STEP = 32 * 1024 * 1024  # bytes of photos
SPARE = 4  # how many times the room that sealing photos once more takes has to be free


@dataclass(frozen=True)
class Lag:
    """What a copy had still to get at the end of a step: operations, erasures, photos and their bytes."""

    operations: int
    erasures: int
    photos: int
    bytes: int

    @property
    def nothing(self) -> bool:
        return not (self.operations or self.erasures or self.photos)


class Copier:
    """Writes one copy. `begun` says that a copy stood in the folder before, so that none is begun where it is gone."""

    def __init__(
        self,
        folder: Folder,
        source: Source,
        *,
        clock: Callable[[], datetime],
        seal_to: str | None = None,
        begun: bool = False,
    ) -> None:
        self.folder, self.begun = folder, begun
        self.head: Head | None = None
        self.complete_at: datetime | None = None  # since this copier has been at work
        self.owed: dict[str, Due] = {}  # of the rows in the copy, those whose personal words are not
        #: What of this copy was set aside, by the folder's name: its id, and how far erasures have reached it.
        self.aside: dict[str, tuple[str | None, int]] = {}
        self._source, self._clock, self._seal_to = source, clock, seal_to
        self._met: Head | None = None  # the head in the folder that was last learned from
        self._short: set[str] = set()  # what of it was gone or cut then
        self._epoch = ""  # of the office, then
        #: Files of lines that do not hold, and are still to be written anew.
        self._anew: frozenset[str] = frozenset()
        self._whole_seq = 0  # how far the log is whole, where that is one of them
        self._photos: PhotosInCopy | None = None
        self._due = PhotosDue(source)
        self._writer = Writer(folder, source, seal_to)
        self._plans: set[tuple[str, str]] = set()
        self._listed: Erasures = {}
        self._erased: Erasures = {}  # the owners of whom nothing stands in the copy any more

    @property
    def have(self) -> Set[str]:
        """The photos whose bytes were read back or written, and stand in the copy."""
        return self._photos.have if self._photos else frozenset()

    @property
    def have_bytes(self) -> int:
        return self._photos.bytes if self._photos else 0

    @property
    def gone(self) -> dict[str, int]:
        """The photos that are not to be copied any more, and their bytes."""
        return self._due.gone

    @property
    def unread(self) -> dict[str, Unread]:
        """The photos that the office itself cannot read."""
        return self._due.unread

    @property
    def keeps_house(self) -> bool:
        """Whether the copy has the house's own files, and the office has them no longer."""
        return self._writer.keeps_house

    @property
    def house_folder(self) -> Path:
        """Where the office looks for the house's own files."""
        return self._source.house_folder

    @property
    def unseen(self) -> int:
        """How many photos that the copy says it has are still to be read back."""
        return self._photos.unseen if self._photos else 0

    def step(self) -> Lag:
        """Do a bounded piece of work. Raises CopyTrouble, or InUse while another process writes to the copy."""
        try:
            return self._step()
        except CutShort as error:
            self._met = None
            raise damaged(str(self.folder), str(error)) from error
        except CopyTrouble:
            self._met = None
            raise
        except OSError as error:
            trouble = trouble_of(error, str(self.folder))
            if trouble.state in IN_REACH:
                self._meet_all_the_same()
            else:
                self._met = None
            raise trouble from error

    def _meet_all_the_same(self) -> None:
        """What stands in a copy that takes nothing more counts as before. Raises CopyTrouble if it cannot be read."""
        try:
            self._meet()
            self._read_back()
        except CopyTrouble:
            self._met = None
            raise
        except OSError as error:
            self._met = None
            raise trouble_of(error, str(self.folder)) from error

    def _step(self) -> Lag:
        self._prepare()
        with self.folder.held():
            began = self._clock()
            head, lacks = self._meet(), self._lacks()
            assert self._photos is not None, "a copy that was met"
            with self._source.moment() as tx:
                self._due.note(tx, self._photos)
                news = news_for(tx, head, lacks)
            head, owed = self._copy_texts(head, news)
            try:
                head, taken = self._writer.add_photos(head, self._due.next())
            except OSError:
                # Texts are small and come first: a photo for which there is no room keeps none of them out.
                self._count(head, owed, news)
                raise
            lag = self._lag(head, news, taken, damaged=self._read_back())
            if lag.nothing:
                self.complete_at = began
            self._erase_aside(news)
            self._count(head, owed, news, complete=lag.nothing)
            self._note_copied(taken)
            if lag.nothing and not taken:
                self._give_checks(news)
            return lag

    @property
    def data_folder(self) -> Path:
        """The office's own folder, which a command about this copy has to name."""
        return self._source.database_file.parent

    def is_apart(self) -> bool:
        """Whether the copy lies elsewhere than the office, as far as can be told, and is not lost with its disk."""
        with suppress(OSError):
            return is_apart(self.folder.path, self._source.database_file)
        return False

    def _prepare(self) -> None:
        """Make the folder if a copy may be begun in it."""
        if not self.begun:
            self.folder.make()
        elif not self.folder.path.is_dir():
            raise missing(str(self.folder))

    # -- whose copy it is

    def _meet(self) -> Head:
        """The copy's head, after checking that it is this office's and that the office has all that it has."""
        found = read_head(self.folder)
        with self._source.moment() as tx:
            ours, newest = office.office_of(tx), office.newest(tx)
            chain = CHAIN_START if found is None else office.chain_at(tx, found.office_seq)
        if found is None:
            found = self._begin(ours)
        elif found.office_id != ours.office_id:
            raise another_office(str(self.folder))
        elif self._seal_to and not found.sealed_to:
            raise not_ours(str(self.folder), "holds a copy that is not sealed, and this one is to be")
        if chain != found.chain:
            raise forgotten(str(self.folder), found.office_seq, newest)
        short = shorter_files(self.folder, found)
        if (
            self.head is None
            or (self._met, self._short, self._epoch) != (found, short, ours.epoch)
            or self._packs_are_cut()
        ):
            self.head = self._attach(found, short, ours.epoch)
            with suppress(
                OSError
            ):  # many a stick knows no modes, and one that went away is noticed by what follows
                close_to_others(self.folder.path)  # it was made by hand, or by an earlier version
                for name in self.folder.asides():
                    close_below(self.folder.path / name, lambda: False)  # a few large files each
        head, self.begun = self.head, True
        if head.format < FORMAT:
            head = head.model_copy(update={"format": FORMAT, "copy_id": head.copy_id or str(uuid.uuid4())})
        return head.model_copy(update={"epoch": ours.epoch})

    def _begin(self, ours: office.Office) -> Head:
        """The first head of a new copy, in an empty folder."""
        if self.begun:
            raise missing(str(self.folder))
        if others := self.folder.other_names():
            raise not_ours(str(self.folder), f"has other things in it ({others[0]})")
        first = Head(
            format=FORMAT,
            serial=0,
            office_id=ours.office_id,
            copy_id=str(uuid.uuid4()),
            epoch=ours.epoch,
            schema_step=ours.schema_step,
            numbers=ours.numbers,
            sealed_to=self._seal_to,
            office_seq=0,
            chain=CHAIN_START,
            erased_seq=0,
            log=Stretch(name="log.jsonl"),
            words=Stretch(name="words-0.jsonl"),
            erased=Stretch(name="erased.jsonl"),
            plans=Stretch(name="plans.jsonl"),
            photos=Stretch(name="photos.jsonl"),
            pack=Stretch(name="photos-0.pack"),
            devices=None,
            files=None,
            written_at=stamp(self._clock()),
            complete_at=None,
        )
        write_head(self.folder, first)
        return first

    @property
    def holds_seq(self) -> int:
        """The newest operation that stands in the copy with all before it and their personal words."""
        if self.head is None:
            return 0
        whole = self._whole_seq if "log" in self._anew else self.head.office_seq
        return min([whole, *(due.office_seq - 1 for due in self.owed.values())])

    def _packs_are_cut(self) -> bool:
        return self._photos is not None and self._photos.are_cut()

    def _attach(self, found: Head, short: set[str], epoch: str) -> Head:
        """Learn what the copy has: when it is first met, was away, or another writer was there, or files were cut."""
        self._met = None
        texts = read_texts(self._source, self.folder, found, short)
        self._anew, self._whole_seq, self.owed = texts.anew, texts.whole_seq, texts.owed
        self._writer = Writer(self.folder, self._source, found.sealed_to)
        self._plans = plan_keys(self.folder, texts.head)
        self._photos = PhotosInCopy(self.folder, found)
        self._due, self._listed = PhotosDue(self._source), {}
        self._met, self._short, self._epoch, self._erased = found, short, epoch, texts.erasures
        self._tidy(found)
        return texts.head

    def _read_back(self) -> int:
        """Look at further photos that stood in the copy before. How many do not hold; the next step copies those."""
        damaged = self._photos.read_on(READ_BACK_A_STEP) if self._photos else 0
        if damaged:
            self._due.look_at_all_again()
        return damaged

    def _give_checks(self, news: News) -> None:
        """Seal some photos once more that an earlier version sealed without a check, when all else is done: of one that
        is damaged nobody knows before it is restored, and phones let go of it. They come from the office's own bytes,
        and what was sealed before stays as it is; so not where the room may be needed for what is new."""
        assert self._photos is not None
        assert self.head is not None
        size = self._photos.unchecked
        if not size or self.folder.free() < SPARE * size:
            return
        some = self._photos.next_unchecked(PHOTOS_A_STEP, PHOTO_BYTES_A_STEP)
        with self._source.moment() as tx:
            photos = office.photos_named(tx, some)
        head, lines = self._writer.add_photos(self.head, self._due.whole(photos))
        self._count(head, self.owed, news)
        self._photos.add(lines)

    def _tidy(self, head: Head, before: Head | None = None) -> None:
        """Remove files that no head counts any more, where that is possible.

        Words that may be erased go at once. All else stays until neither of the two heads names it: without it what an
        older head counts would be lost with the newer one.
        """
        named = {
            file.name
            for head in (head, before)
            if head is not None
            for file in (head.log, head.plans, head.photos, head.erased, head.devices, head.files, head.house)
            if file is not None
        }
        kept = {*named, head.words.name}
        often = ("log", "plans", "photos", "erased", "devices-", "files-", "house-")
        gone = ("words-", *(often if before else ()))
        with suppress(OSError):
            for name in self.folder.own_names():
                if name.startswith(gone) and not name.endswith(".pack") and name not in kept:
                    self.folder.remove(name)

    # -- what is new

    def _lacks(self) -> CopyLacks:
        aside = {name: self.aside.get(name, (None, -1))[1] for name in self.folder.asides()}
        return CopyLacks(self._anew, self.owed, self._plans, self._erased, aside)

    def _note_copied(self, lines: list[dict[str, Any]]) -> None:
        assert self._photos is not None
        self._photos.add(lines)
        self._due.note_copied([line["sha256"] for line in lines])

    def _lag(self, head: Head, news: News, taken: list[dict[str, Any]], *, damaged: int) -> Lag:
        count, size = self._due.left({line["sha256"] for line in taken})
        return Lag(
            operations=news.newest - head.office_seq,
            erasures=news.erased_seq - head.erased_seq,
            photos=count + len(self.unread) + self.unseen + damaged,
            bytes=size,
        )

    # -- writing

    def _copy_texts(self, head: Head, news: News) -> tuple[Head, dict[str, Due]]:
        """Erase, then add rows and words, plans, devices and the house's files; also the operations to which words are
        owed afterwards. They count with the next head.
        """
        owed, writer = self.owed, self._writer
        if news.anew:
            head, owed = writer.write_words_anew(head, news, erased_too="erased" in self._anew)
        elif news.back:
            head = writer.add_words_back(head, news, owed)
            owed = {operation_id: due for operation_id, due in owed.items() if operation_id not in news.back}
        if "photos" in self._anew:
            head = writer.write_index_anew(head)
        if "log" in self._anew:
            head = writer.write_log_anew(head)
        if news.rows:
            head = writer.add_rows(head, news)
            owed = owed | not_met(news.due, news.words)
        self._list_erasures(news)
        head = head.model_copy(update={"numbers": news.office.numbers})
        return writer.add_small_files(head, news), owed

    def _list_erasures(self, news: News) -> None:
        """Whose words were erased stands in the copy behind no head, so that no head of before takes it back."""
        if news.erasures != self._listed:
            ERASURES.add(self.folder, ERASURES.name, news.office.office_id, news.erasures)
            self._listed = news.erasures

    def _erase_aside(self, news: News) -> None:
        """What was set aside when the copy was begun anew is a copy, too, that nobody else keeps up to date."""
        if news.erased_ever is None:
            return
        for name in news.aside:
            aside = Folder(self.folder.path / name)
            copy_id = erase_in(aside, news.erased_ever)
            ERASURES.add(aside, ERASURES.name, news.office.office_id, news.erasures)
            self.aside[name] = copy_id, news.erased_ever.erased_seq

    def _count(self, head: Head, owed: dict[str, Due], news: News, *, complete: bool = False) -> None:
        """Write the head, if anything changed: from now on all that was added counts."""
        if head != self._met:
            update: dict[str, Any] = {"serial": head.serial + 1, "written_at": stamp(self._clock())}
            if complete and self.complete_at is not None:
                update |= {"complete_at": stamp(self.complete_at), "schema_step": news.office.schema_step}
            head, before = head.model_copy(update=update), self._met
            write_head(self.folder, head)
            self.head = self._met = head
            self._tidy(head, before)
        self._plans |= {(plan["class_id"], plan["version"]) for plan in news.plans}
        self.owed, self._anew, self._short, self._erased = owed, frozenset(), set(), news.erasures
