"""One copy brought up to date with its office, in steps of bounded size.

Each step leaves the copy whole: files grow behind the head, are waited for, and then the head counts them. All of
this may block, on a stick or a network folder for long, so it runs on a thread of its own. Order of a step: what
was erased, then log rows with their personal words, plans and devices, then photos, then the reading back of photos
that stood there before. What a copy is said to have is what this copier has read back or written itself.
"""

from __future__ import annotations

import hashlib
import uuid
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from itertools import islice
from pathlib import Path
from typing import Any

from intake.access.devices import stamp
from intake.copies import source as office
from intake.copies.aside import erase_in
from intake.copies.disks import is_apart
from intake.copies.erasures import NAME as ERASURES
from intake.copies.erasures import Erasures, add_to_list, erasures_of
from intake.copies.folder import CutShort, Folder
from intake.copies.head import FORMAT, Head, Stretch, Whole, framed, read_head, write_head
from intake.copies.read_back import (
    PhotosInCopy,
    erased_ids,
    fresh,
    next_pack,
    read_texts,
    whole_values,
    word_lines,
    word_stands,
)
from intake.copies.reading import photo_index, plan_keys, shorter_files
from intake.copies.seal import Seal
from intake.copies.source import Due, ErasedWords, FileMark, Photo, Source
from intake.copies.states import IN_REACH, CopyTrouble, damaged, forgotten, missing, not_ours, trouble_of
from intake.database import Reading
from intake.sync.log import CHAIN_START

ROWS_A_STEP = 500
ROWS_A_SEALED_LINE = 200
PHOTOS_A_STEP, PHOTO_BYTES_A_STEP = 64, 8 * 1024 * 1024
READ_BACK_A_STEP = 32 * 1024 * 1024  # bytes of photos
PACK_LIMIT = 1024**3  # many a stick's file system takes no file of 4 GiB


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


@dataclass(frozen=True)
class Unread:
    """A photo that the office itself cannot read, why, and what its file was then."""

    photo: Photo
    why: str
    mark: FileMark
    tried_again: bool  # whether it is worth another try though the file is as it was


@dataclass(frozen=True)
class News:
    """What the office had at one moment that the copy did not."""

    newest: int
    rows: list[dict[str, Any]]
    words: dict[str, str]
    erased_seq: int
    erased: list[str]
    due: dict[str, Due]  # what has to stand beside these rows
    anew: bool  # whether the words are to be written anew
    all_words: dict[str, str]  # up to where the copy reaches; only where the words are to be written anew
    all_due: dict[str, Due]  # the same
    back: dict[str, str]  # words that the copy has to get still, and that the office has by now
    aside: list[str]  # the folders of what was set aside that erasures have not reached yet
    erased_ever: ErasedWords | None  # only where there are such
    erasures: Erasures
    plans: list[dict[str, Any]]
    devices: bytes
    copies: bytes
    office: office.Office


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
        self.unread: dict[str, Unread] = {}
        self.owed: dict[str, Due] = {}  # of the rows in the copy, those whose personal words are not
        #: What of this copy was set aside, by the folder's name: its id, and how far erasures have reached it.
        self.aside: dict[str, tuple[str | None, int]] = {}
        self._source, self._clock, self._seal_to = source, clock, seal_to
        self._met: Head | None = None  # the head in the folder that was last learned from
        self._short: set[str] = set()  # what of it was gone or cut then
        self._epoch = ""  # of the office, then
        self._anew: frozenset[str] = (
            frozenset()
        )  # files of lines that do not hold, and are still to be written anew
        self._whole_seq = 0  # how far the log is whole, where that is one of them
        self._photos: PhotosInCopy | None = None
        self._seal = Seal(seal_to)
        self._plans: set[tuple[str, str]] = set()
        self._pending: dict[str, Photo] = {}
        self._arrival = 0
        self._files: tuple[Any, bytes] = (None, b"")
        self._listed: Erasures = {}
        self._erased: Erasures = {}  # the owners of whom nothing stands in the copy any more

    @property
    def have(self) -> set[str]:
        """The photos whose bytes were read back or written, and stand in the copy."""
        return self._photos.have if self._photos else set()

    @property
    def have_bytes(self) -> int:
        return self._photos.bytes if self._photos else 0

    @property
    def unseen(self) -> int:
        """How many photos that the copy says it has are still to be read back."""
        return len(self._photos.unseen) if self._photos else 0

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
            with self._source.moment() as tx:
                self._meet(tx)
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
            with self._source.moment() as tx:
                head = self._meet(tx)
                self._note_photos(tx)
                news = self._news(tx, head)
            head, owed = self._copy_texts(head, news)
            try:
                head, taken = self._copy_photos(head)
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

    def _meet(self, tx: Reading) -> Head:
        """The copy's head, after checking that it is this office's and that the office has all that it has."""
        found, ours = read_head(self.folder), office.office_of(tx)
        if found is None:
            found = self._begin(ours)
        elif found.office_id != ours.office_id:
            raise not_ours(str(self.folder), "holds a copy of another office")
        elif self._seal_to and not found.sealed_to:
            raise not_ours(str(self.folder), "holds a copy that is not sealed, and this one is to be")
        if office.chain_at(tx, found.office_seq) != found.chain:
            raise forgotten(str(self.folder), found.office_seq, office.newest(tx))
        short = shorter_files(self.folder, found)
        if (
            self.head is None
            or (self._met, self._short, self._epoch) != (found, short, ours.epoch)
            or self._packs_are_cut()
        ):
            self.head = self._attach(tx, found, short, ours.epoch)
        head, self.begun = self.head, True
        if head.copy_id is None:
            head = head.model_copy(update={"format": FORMAT, "copy_id": str(uuid.uuid4())})
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

    def _attach(self, tx: Reading, found: Head, short: set[str], epoch: str) -> Head:
        """Learn what the copy has: when it is first met, was away, or another writer was there, or files were cut."""
        self._met = None
        texts = read_texts(tx, self.folder, found, short)
        self._anew, self._whole_seq, self.owed = texts.anew, texts.whole_seq, texts.owed
        self._seal = Seal(found.sealed_to)
        self._plans = plan_keys(self.folder, texts.head)
        self._photos = PhotosInCopy(self.folder, found)
        self._pending, self._arrival, self.unread, self._listed = {}, 0, {}, {}
        self._met, self._short, self._epoch, self._erased = found, short, epoch, erasures_of(tx)
        self._tidy(found)
        return texts.head

    def _read_back(self) -> int:
        """Look at further photos that stood in the copy before. How many do not hold; the next step copies those."""
        damaged = self._photos.read_on(READ_BACK_A_STEP) if self._photos else 0
        if damaged:
            self._arrival = 0
        return damaged

    def _tidy(self, head: Head, before: Head | None = None) -> None:
        """Remove files that no head counts any more, where that is possible.

        Words that may be erased go at once. A log, and lists, stay until neither of the two heads names them: without
        their log all that an older head counts would be lost with the newer one.
        """
        kept = {
            one.name
            for head in (head, before)
            if head is not None
            for one in (head.log, head.plans, head.photos, head.erased)
        }
        kept |= {one.name for one in (head.words, head.devices, head.files) if one is not None}
        gone = ("words-", "devices-", "files-", *(("log", "plans", "photos", "erased") if before else ()))
        with suppress(OSError):
            for name in self.folder.own_names():
                if name.startswith(gone) and not name.endswith(".pack") and name not in kept:
                    self.folder.remove(name)

    # -- what is new

    def _news(self, tx: Reading, head: Head) -> News:
        rows = office.rows_after(tx, head.office_seq, ROWS_A_STEP)
        last = rows[-1]["office_seq"] if rows else head.office_seq
        erased_seq, erased = office.erased_after(tx, head.erased_seq)
        erasures = erasures_of(tx)
        # Of an owner whose words the office had lost before, the copy may have them, and no operation is noted.
        anew = bool(erased or self._anew & {"words", "erased"} or erasures != self._erased)
        newest_erased = office.newest_erased(tx)
        aside = [name for name in self.folder.asides() if self.aside.get(name, (None, -1))[1] < newest_erased]
        return News(
            aside=aside,
            erased_ever=office.erased_words(tx) if aside else None,
            newest=office.newest(tx),
            rows=rows,
            words=office.words_between(tx, head.office_seq, last),
            erased_seq=erased_seq,
            erased=erased,
            due=office.words_due(tx, head.office_seq, last),
            all_words=office.words_between(tx, 0, head.office_seq) if anew else {},
            all_due=office.words_due(tx, 0, head.office_seq) if anew else {},
            back={} if anew else office.words_back(tx, self.owed),
            anew=anew,
            erasures=erasures,
            plans=office.plans(tx, self._plans),
            devices=office.devices(tx),
            copies=office.copies(tx),
            office=office.office_of(tx),
        )

    def _note_photos(self, tx: Reading) -> None:
        """Which photos are still to be copied: those that came, and those that the office could not read before."""
        assert self._photos is not None
        for photo in office.photos_after(tx, self._arrival):
            self._arrival = photo.arrival
            if photo.sha256 not in self._photos and photo.sha256 not in self.unread:
                self._pending[photo.sha256] = photo
        for sha256, unread in list(self.unread.items()):
            if unread.tried_again or self._source.photo_mark(sha256) != unread.mark:
                self._pending[sha256] = self.unread.pop(sha256).photo

    def _note_copied(self, lines: list[dict[str, Any]]) -> None:
        assert self._photos is not None
        self._photos.add(lines)
        for line in lines:
            del self._pending[line["sha256"]]

    def _lag(self, head: Head, news: News, taken: list[dict[str, Any]], *, damaged: int) -> Lag:
        copied = {line["sha256"] for line in taken}
        pending = [photo for sha256, photo in self._pending.items() if sha256 not in copied]
        return Lag(
            operations=news.newest - head.office_seq,
            erasures=news.erased_seq - head.erased_seq,
            photos=len(pending) + len(self.unread) + self.unseen + damaged,
            bytes=sum(photo.bytes for photo in pending),
        )

    # -- writing

    def _copy_texts(self, head: Head, news: News) -> tuple[Head, dict[str, Due]]:
        """Erase, then add rows and words, plans, devices and the house's files; also the operations to which words are
        owed afterwards. They count with the next head.
        """
        owed = self.owed
        if news.anew:
            head, owed = self._write_words_anew(head, news)
        elif news.back:
            head = self._add(head, "words", self._word_lines(news.back, owed))
            owed = {one: due for one, due in owed.items() if one not in news.back}
        head = self._write_anew(head)
        if news.rows:
            last = news.rows[-1]
            head = self._add(head, "words", self._word_lines(news.words, news.due))
            head = self._add(head, "log", self._log_lines(news.rows))
            head = head.model_copy(update={"office_seq": last["office_seq"], "chain": last["chain"]})
            owed = owed | not_met(news.due, news.words)
        self._list_erasures(news)
        head = head.model_copy(update={"numbers": news.office.numbers})
        head = self._add(head, "plans", map(self._plan_line, news.plans))
        head = self._add_whole(head, "devices", news.devices)
        return self._add_whole(head, "files", self._own_files(news.copies)), owed

    def _write_anew(self, head: Head) -> Head:
        """Write a log or an index that does not hold once more, beside the old one, which stays until this counts."""
        if "photos" in self._anew:
            index = photo_index(whole_values(self.folder, head.photos))
            head = self._add(
                head.model_copy(update={"photos": fresh(head, "photos")}),
                "photos",
                index.values(),
                always=True,
            )
        if "log" in self._anew:
            last = head.office_seq
            head = head.model_copy(update={"log": fresh(head, "log")})
            after = 0
            while after < last:
                with self._source.moment() as tx:
                    rows = office.rows_after(tx, after, min(ROWS_A_STEP, last - after))
                head = self._add(head, "log", self._log_lines(rows))
                after = rows[-1]["office_seq"]
        return head

    def _list_erasures(self, news: News) -> None:
        """Whose words were erased stands in the copy behind no head, so that no head of before takes it back."""
        if news.erasures != self._listed:
            add_to_list(self.folder, ERASURES, news.office.office_id, news.erasures)
            self._listed = news.erasures

    def _erase_aside(self, news: News) -> None:
        """What was set aside when the copy was begun anew is a copy, too, that nobody else keeps up to date."""
        if news.erased_ever is None:
            return
        for name in news.aside:
            place = Folder(self.folder.path / name)
            copy_id = erase_in(place, news.erased_ever)
            add_to_list(place, ERASURES, news.office.office_id, news.erasures)
            self.aside[name] = copy_id, news.erased_ever.erased_seq

    def _own_files(self, copies: bytes) -> bytes:
        """The house's own files, read again only when one of them changed; keys only into what is sealed. Beside them
        stands which other copies there are."""
        found = self._source.files(keys=self._seal.recipient is not None)
        mark = found.mark(), copies
        if mark != self._files[0]:
            self._files = (mark, found.packed({office.COPIES: copies}))
        return self._files[1]

    def _log_lines(self, rows: list[dict[str, Any]]) -> Iterable[dict[str, Any]]:
        """A line a row, so that a damaged one costs one operation; sealed ones share, since each seal costs space."""
        size = ROWS_A_SEALED_LINE if self._seal.recipient else 1
        for start in range(0, len(rows), size):
            yield self._seal.line({}, {"rows": rows[start : start + size]})

    def _word_lines(self, words: dict[str, str], due: Mapping[str, Due]) -> Iterable[dict[str, Any]]:
        """A line an operation, sealed by itself: erasing must be possible for whoever cannot open it.

        Words that are not what the log says they were are marked, since nobody could see it of a sealed line.
        """
        for operation_id, text in words.items():
            proven = operation_id not in due or due[operation_id].is_met_by(text)
            mark = {} if proven else {"unproven": True}
            yield self._seal.line({"operation_id": operation_id, **mark}, {"words": text})

    def _plan_line(self, plan: dict[str, Any]) -> dict[str, Any]:
        key = {"class_id": plan["class_id"], "version": plan["version"]}
        return self._seal.line(key, {"body": plan["body"]})

    def _write_words_anew(self, head: Head, news: News) -> tuple[Head, dict[str, Due]]:
        """Write the personal words without those that were erased; the old file goes once the head counts this.

        They come from the office, so that whoever writes a sealed copy need not be able to open it; but what the office
        has lost and nobody erased stays as it stands in the copy, perhaps the only place that has it.
        """
        due, ours = news.all_due, news.all_words
        lost = not_met(due, ours)
        standing = {line["operation_id"]: line for line in word_lines(self.folder, head.words)}
        kept = {
            one: standing[one]
            for one, what in lost.items()
            if one in standing and (one not in ours or word_stands(standing[one], what))
        }
        lines = self._word_lines({one: text for one, text in ours.items() if one not in kept}, due)
        known = erased_ids(self.folder, head.erased)
        head = head.model_copy(update={"words": fresh(head, "words"), "erased_seq": news.erased_seq})
        head = self._add(head, "words", [*lines, *kept.values()], always=True)
        if "erased" in self._anew:
            head = head.model_copy(update={"erased": fresh(head, "erased")})
            known, gone = set(), [*dict.fromkeys([*(known - ours.keys()), *news.erased])]
        else:
            gone = news.erased
        head = self._add(head, "erased", [{"operation_id": one} for one in gone if one not in known])
        return head, {
            one: what for one, what in lost.items() if one not in kept or not word_stands(kept[one], what)
        }

    def _copy_photos(self, head: Head) -> tuple[Head, list[dict[str, Any]]]:
        """Add the next photos to the pack, then the lines that say where they lie in it. Which they were."""
        if head.pack.bytes >= PACK_LIMIT:
            head = head.model_copy(update={"pack": next_pack(head.pack)})
        blobs: list[bytes] = []
        lines: list[dict[str, Any]] = []
        offset = head.pack.bytes
        for photo in list(islice(self._pending.values(), PHOTOS_A_STEP)):
            if offset - head.pack.bytes >= PHOTO_BYTES_A_STEP:
                break
            content = self._read(photo)
            if content is None:
                continue
            blobs.append(self._seal.close(content))
            place = {"pack": head.pack.name, "offset": offset, "stored": len(blobs[-1])}
            check = {"check": hashlib.sha256(blobs[-1]).hexdigest()} if self._seal.recipient else {}
            lines.append({**photo.row, **place, **check})
            offset += len(blobs[-1])
        if not lines:
            return head, []
        self.folder.append(head.pack.name, head.pack.bytes, b"".join(blobs))
        pack = Stretch(name=head.pack.name, bytes=offset, lines=head.pack.lines + len(lines))
        head = self._add(head, "photos", lines).model_copy(update={"pack": pack})
        return head, lines

    def _read(self, photo: Photo) -> bytes | None:
        """The photo's bytes; None if the office itself cannot read it whole, until its file is another one."""
        mark, tried_again = self._source.photo_mark(photo.sha256), False
        try:
            content = self._source.photo(photo.sha256)
        except OSError as error:
            why, tried_again = error.strerror or str(error), not isinstance(error, FileNotFoundError)
        else:
            if hashlib.sha256(content).hexdigest() == photo.sha256:
                return content
            why = "it was changed on the disk"
        self.unread[photo.sha256] = Unread(photo, why, mark, tried_again)
        del self._pending[photo.sha256]
        return None

    def _add(self, head: Head, kind: str, values: Iterable[dict[str, Any]], *, always: bool = False) -> Head:
        """Put lines behind what counts of a file. They count with the next head."""
        lines = [framed(value) for value in values]
        if not lines and not always:
            return head
        content, old = b"".join(lines), getattr(head, kind)
        self.folder.append(old.name, old.bytes, content)
        new = Stretch(name=old.name, bytes=old.bytes + len(content), lines=old.lines + len(lines))
        return head.model_copy(update={kind: new})

    def _add_whole(self, head: Head, kind: str, content: bytes) -> Head:
        """Write a small file anew if it is not what it was."""
        digest, old = hashlib.sha256(content).hexdigest(), getattr(head, kind)
        if old is not None and old.sha256 == digest:
            return head
        name, closed = f"{kind}-{head.serial + 1}.json", self._seal.close(content)
        self.folder.write_whole(name, closed)
        return head.model_copy(update={kind: Whole(name=name, bytes=len(closed), sha256=digest)})

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


def not_met(due: Mapping[str, Due], words: Mapping[str, str]) -> dict[str, Due]:
    """The operations whose words are not among these, or not as the log says they were."""
    return {one: what for one, what in due.items() if one not in words or not what.is_met_by(words[one])}
