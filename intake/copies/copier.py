"""One copy brought up to date with its office, in steps of bounded size.

Each step leaves the copy whole: files grow behind the head, are waited for, and then the head counts them. All of
this may block, on a stick or a network folder for long, so it runs on a thread of its own. Order of a step: what
was erased, then log rows with their personal words, plans and devices, then photos.
"""

from __future__ import annotations

import hashlib
import uuid
from collections import deque
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
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
from intake.copies.reading import plan_keys, shorter_files, standing_photos, stretch_lines, whole_start
from intake.copies.seal import Seal
from intake.copies.source import ErasedWords, Photo, Source
from intake.copies.states import IN_REACH, CopyTrouble, damaged, forgotten, missing, not_ours, trouble_of
from intake.database import Reading
from intake.sync.log import CHAIN_START, words_lacking

ROWS_A_STEP = 500
ROWS_A_SEALED_LINE = 200
PHOTOS_A_STEP, PHOTO_BYTES_A_STEP = 64, 8 * 1024 * 1024
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
class News:
    """What the office had at one moment that the copy did not."""

    newest: int
    rows: list[dict[str, Any]]
    words: dict[str, str]
    erased_seq: int
    erased: list[str]
    all_words: dict[
        str, str
    ]  # up to where the copy reaches; only where some were erased, came back, or the copy lost them
    lacking: set[str]  # the operations whose words the office has lost; told with those
    aside: list[str]  # the folders of what was set aside that erasures have not reached yet
    erased_ever: ErasedWords | None  # only where there are such
    erasures: Erasures
    plans: list[dict[str, Any]]
    devices: bytes
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
        self.have: set[str] = set()
        self.have_bytes = 0
        self.complete_at: datetime | None = None  # since this copier has been at work
        self.unread: dict[str, str] = {}  # photos that the office itself cannot read, and why
        self._source, self._clock, self._seal_to = source, clock, seal_to
        self._met: Head | None = None  # the head in the folder that was last learned from
        self._packs: dict[
            str, int
        ] = {}  # how long each pack has to be for the photos that are counted as copied
        self._words_lost = False  # the copy's personal words were cut, and have still to be written anew
        self._seal = Seal(seal_to)
        self._plans: set[tuple[str, str]] = set()
        self._pending: deque[Photo] = deque()
        self._pending_bytes = self._arrival = 0
        self._files: tuple[Any, bytes] = (None, b"")
        self._listed: Erasures = {}
        #: What of this copy was set aside, by the folder's name: its id, and how far erasures have reached it.
        self.aside: dict[str, tuple[str | None, int]] = {}

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
            self._met = None
            trouble = trouble_of(error, str(self.folder))
            if trouble.state in IN_REACH:
                with suppress(OSError), self._source.moment() as tx:  # what stands in it counts all the same
                    self._meet(tx)
            raise trouble from error

    def _step(self) -> Lag:
        self._prepare()
        with self.folder.held():
            began = self._clock()
            with self._source.moment() as tx:
                head = self._meet(tx)
                self._note_photos(tx)
                news = self._news(tx, head)
            head = self._copy_texts(head, news)
            try:
                head, taken = self._copy_photos(head)
            except OSError:
                # Texts are small and come first: a photo for which there is no room keeps none of them out.
                self._count(head)
                raise
            self._plans |= {(plan["class_id"], plan["version"]) for plan in news.plans}
            lag = self._lag(head, news)
            if lag.nothing:
                self.complete_at = began
            self._erase_aside(news)
            self._count(head, complete=lag.nothing, schema_step=news.office.schema_step)
            self.have.update(line["sha256"] for line in taken)
            for line in taken:
                self._note_in_pack(line)
            self.have_bytes += sum(line["bytes"] for line in taken)
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
        if self._met != found or short or self._packs_are_short():
            found = self._attach(found, short)
        self.begun = True
        if found.copy_id is None:
            found = found.model_copy(update={"format": FORMAT, "copy_id": str(uuid.uuid4())})
        if found.epoch != ours.epoch:  # the office was restored: its erasures are counted anew
            found = found.model_copy(update={"epoch": ours.epoch, "erased_seq": 0})
        return found

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
        return 0 if self.head is None or self._words_lost else self.head.office_seq

    def _packs_are_short(self) -> bool:
        return any(self.folder.size(name) < size for name, size in self._packs.items())

    def _attach(self, found: Head, short: set[str]) -> Head:
        """Learn what the copy has: when it is first met, another writer or stick was there since, or files were cut.

        What was cut counts no further than it is whole, at once; what is missing is copied anew.
        """
        self._words_lost = "words" in short
        head = self._without_lost(found, short) if short else found
        self._seal = Seal(head.sealed_to)
        self._plans = plan_keys(self.folder, head)
        indexed = standing_photos(self.folder, head)
        self.have, self.have_bytes = set(indexed), sum(line["bytes"] for line in indexed.values())
        self._packs, self._listed = {}, {}
        for line in indexed.values():
            self._note_in_pack(line)
        self._pending, self._pending_bytes, self._arrival, self.unread = deque(), 0, 0, {}
        self.head, self._met = head, found
        self._tidy(found)
        return head

    def _note_in_pack(self, line: dict[str, Any]) -> None:
        end = line["offset"] + line["stored"]
        self._packs[line["pack"]] = max(end, self._packs.get(line["pack"], 0))

    def _without_lost(self, head: Head, short: set[str]) -> Head:
        """The head as far as its files still reach. The office has all of it, or the head's chain would not fit."""
        update: dict[str, Any] = dict.fromkeys(short & {"devices", "files"})
        for kind in short & {"log", "erased", "plans", "photos"}:
            update[kind], last = whole_start(self.folder, getattr(head, kind))
            if kind == "log":
                rows = (last or {}).get("rows")
                if rows:
                    update |= {"office_seq": rows[-1]["office_seq"], "chain": rows[-1]["chain"]}
                else:  # nothing is left, or it is sealed, and who writes it cannot see how far it reaches
                    update |= {"log": Stretch(name=head.log.name), "office_seq": 0, "chain": CHAIN_START}
            if kind == "erased":
                update["erased_seq"] = 0
        if "words" in short:
            update["words"] = Stretch(name=f"words-{head.serial + 1}.jsonl")
        if "pack" in short:  # its photos are copied anew, into the next
            update["pack"] = next_pack(head.pack)
        return head.model_copy(update=update)

    def _tidy(self, head: Head) -> None:
        """Remove files that no head counts any more, where that is possible."""
        kept = {one.name for one in (head.words, head.devices, head.files) if one is not None}
        with suppress(OSError):
            for name in self.folder.names():
                if name.startswith(("words-", "devices-", "files-")) and name not in kept:
                    self.folder.remove(name)

    # -- what is new

    def _news(self, tx: Reading, head: Head) -> News:
        rows = office.rows_after(tx, head.office_seq, ROWS_A_STEP)
        last = rows[-1]["office_seq"] if rows else head.office_seq
        erased_seq, erased = office.erased_after(tx, head.erased_seq)
        # Of a copy that has every row, so many words may stand here and not there only if some came back since.
        came_back = not rows and office.words_count(tx) > head.words.lines
        anew = bool(erased) or came_back or self._words_lost
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
            all_words=office.words_between(tx, 0, head.office_seq) if anew else {},
            lacking=set(words_lacking(tx)) if anew else set(),
            erasures=erasures_of(tx),
            plans=office.plans(tx, self._plans),
            devices=office.devices(tx),
            office=office.office_of(tx),
        )

    def _note_photos(self, tx: Reading) -> None:
        for photo in office.photos_after(tx, self._arrival):
            self._arrival = photo.arrival
            if photo.sha256 not in self.have:
                self._pending.append(photo)
                self._pending_bytes += photo.bytes

    def _lag(self, head: Head, news: News) -> Lag:
        return Lag(
            operations=news.newest - head.office_seq,
            erasures=news.erased_seq - head.erased_seq,
            photos=len(self._pending) + len(self.unread),
            bytes=self._pending_bytes,
        )

    # -- writing

    def _copy_texts(self, head: Head, news: News) -> Head:
        """Erase, then add rows and words, plans, devices and the house's files. They count with the next head."""
        if news.all_words or news.erased or self._words_lost:
            head = self._write_words_anew(head, news)
        if news.rows:
            last = news.rows[-1]
            head = self._add(head, "words", self._word_lines(news.words))
            head = self._add(head, "log", self._log_lines(news.rows))
            head = head.model_copy(update={"office_seq": last["office_seq"], "chain": last["chain"]})
        self._list_erasures(news)
        head = head.model_copy(update={"numbers": news.office.numbers})
        head = self._add(head, "plans", map(self._plan_line, news.plans))
        head = self._add_whole(head, "devices", news.devices)
        return self._add_whole(head, "files", self._own_files())

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

    def _own_files(self) -> bytes:
        """The house's own files, read again only when one of them changed; keys only into what is sealed."""
        found = self._source.files(keys=self._seal.recipient is not None)
        mark = found.mark()
        if mark != self._files[0]:
            self._files = (mark, found.packed())
        return self._files[1]

    def _log_lines(self, rows: list[dict[str, Any]]) -> Iterable[dict[str, Any]]:
        """A line a row, so that a damaged one costs one operation; sealed ones share, since each seal costs space."""
        size = ROWS_A_SEALED_LINE if self._seal.recipient else 1
        for start in range(0, len(rows), size):
            yield self._seal.line({}, {"rows": rows[start : start + size]})

    def _word_lines(self, words: dict[str, str]) -> Iterable[dict[str, Any]]:
        """A line an operation, sealed by itself: erasing must be possible for whoever cannot open it."""
        for operation_id, text in words.items():
            yield self._seal.line({"operation_id": operation_id}, {"words": text})

    def _plan_line(self, plan: dict[str, Any]) -> dict[str, Any]:
        key = {"class_id": plan["class_id"], "version": plan["version"]}
        return self._seal.line(key, {"body": plan["body"]})

    def _write_words_anew(self, head: Head, news: News) -> Head:
        """Write the personal words without those that were erased; the old file goes once the head counts this.

        They come from the office, so that whoever writes a sealed copy need not be able to open it; but what the office
        has lost and nobody erased stays as it stands in the copy, perhaps the only place that has it.
        """
        kept = [line for line in self._standing_words(head) if line["operation_id"] in news.lacking]
        known = {line["operation_id"] for line in kept}
        ours = {one: text for one, text in news.all_words.items() if one not in known}
        fresh = Stretch(name=f"words-{head.serial + 1}.jsonl")
        head = head.model_copy(update={"words": fresh, "erased_seq": news.erased_seq})
        head = self._add(head, "words", [*self._word_lines(ours), *kept], always=True)
        known = {
            value["operation_id"] for value in stretch_lines(self.folder, head.erased) if value is not None
        }
        return self._add(head, "erased", [{"operation_id": one} for one in news.erased if one not in known])

    def _standing_words(self, head: Head) -> list[dict[str, Any]]:
        """The lines of the copy's words that hold, as they are. None of a file that is gone."""
        try:
            lines = list(stretch_lines(self.folder, head.words))
        except FileNotFoundError:
            return []
        return [line for line in lines if line is not None and "operation_id" in line]

    def _copy_photos(self, head: Head) -> tuple[Head, list[dict[str, Any]]]:
        """Add the next photos to the pack, then the lines that say where they lie in it. Which they were."""
        if head.pack.bytes >= PACK_LIMIT:
            head = head.model_copy(update={"pack": next_pack(head.pack)})
        blobs: list[bytes] = []
        lines: list[dict[str, Any]] = []
        offset = head.pack.bytes
        while self._pending and len(lines) < PHOTOS_A_STEP and offset - head.pack.bytes < PHOTO_BYTES_A_STEP:
            photo = self._pending.popleft()
            self._pending_bytes -= photo.bytes
            content = self._read(photo)
            if content is None:
                continue
            blobs.append(self._seal.close(content))
            place = {"pack": head.pack.name, "offset": offset, "stored": len(blobs[-1])}
            lines.append({**photo.row, **place})
            offset += len(blobs[-1])
        if not lines:
            return head, []
        self.folder.append(head.pack.name, head.pack.bytes, b"".join(blobs))
        pack = Stretch(name=head.pack.name, bytes=offset, lines=head.pack.lines + len(lines))
        head = self._add(head, "photos", lines).model_copy(update={"pack": pack})
        return head, lines

    def _read(self, photo: Photo) -> bytes | None:
        """The photo's bytes; None if the office itself cannot read it whole."""
        try:
            content = self._source.photo(photo.sha256)
        except OSError as error:
            self.unread[photo.sha256] = error.strerror or str(error)
            return None
        if hashlib.sha256(content).hexdigest() != photo.sha256:
            self.unread[photo.sha256] = "it was changed on the disk"
            return None
        return content

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

    def _count(self, head: Head, *, complete: bool = False, **changes: Any) -> None:
        """Write the head, if anything changed: from now on all that was added counts."""
        self._words_lost = False
        if head == self._met:
            return
        now = stamp(self._clock())
        update = {"serial": head.serial + 1, "written_at": now, **changes}
        if complete and self.complete_at is not None:
            update["complete_at"] = stamp(self.complete_at)
        head = head.model_copy(update=update)
        write_head(self.folder, head)
        self.head = self._met = head
        self._tidy(head)


def next_pack(pack: Stretch) -> Stretch:
    """The pack after this one, empty."""
    number = int(pack.name.removeprefix("photos-").removesuffix(".pack"))
    return Stretch(name=f"photos-{number + 1}.pack")
