"""What is put into one copy, in the shape that it has there: lines behind lines, photos in packs, small files whole.

Nothing here counts until the head that each of these returns is written. What is sealed is closed on its way.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from itertools import islice
from typing import Any

from intake.copies import source as office
from intake.copies.folder import Folder
from intake.copies.head import Head, Stretch, Whole, framed
from intake.copies.news import ROWS_A_STEP, News, not_met
from intake.copies.read_back import erased_ids, fresh, next_pack, whole_values, word_lines, word_stands
from intake.copies.reading import photo_lines
from intake.copies.seal import Seal
from intake.copies.source import NOTHING, Due, OwnFiles, Photo, Source

ROWS_A_SEALED_LINE = 200
LINES_A_WRITE = 2000  # each waits for the disk
PACK_LIMIT = 1024**3  # many a stick's file system takes no file of 4 GiB


class Writer:
    """Writes to one copy. Everything raises OSError, and CutShort where a file is shorter than the head says."""

    def __init__(self, folder: Folder, source: Source, sealed_to: str | None) -> None:
        self._folder, self._source, self._seal = folder, source, Seal(sealed_to)
        self._packed: dict[str, tuple[Any, bytes]] = {}
        self.keeps_house = False  # the copy has the house's own files, and the office has them no longer

    def add_rows(self, head: Head, news: News) -> Head:
        """Rows of the log, and before them the personal words that belong to them."""
        head = self._add(head, "words", self._word_lines(news.words, news.due))
        head = self._add(head, "log", self._log_lines(news.rows))
        last = news.rows[-1]
        return head.model_copy(update={"office_seq": last["office_seq"], "chain": last["chain"]})

    def add_words_back(self, head: Head, news: News, owed: Mapping[str, Due]) -> Head:
        """Personal words that the office had lost when their rows were copied."""
        return self._add(head, "words", self._word_lines(news.back, owed))

    def add_small_files(self, head: Head, news: News) -> Head:
        """Plans that are new; devices, and the office's own files, where they changed."""
        head = self._add(head, "plans", map(self._plan_line, news.plans))
        head = self._add_whole(head, "devices", news.devices)
        head = self._add_whole(head, "files", self._beside(news.copies))
        return self._add_house(head)

    def _add_house(self, head: Head) -> Head:
        """The house's own files. Where the office finds none any more the copy keeps those it has: a folder that is
        not mounted looks like one that was emptied, and the copy may be the only place that has them."""
        found = self._source.house()
        self.keeps_house = not found.found and head.house is not None and is_of_house(head.house)
        if not found.found:
            return head
        if (
            self._seal.recipient and "house" not in self._packed
        ):  # it cannot be seen whether the sealed one holds
            head = head.model_copy(update={"house": None})
        return self._add_whole(head, "house", self._once("house", found))

    def add_photos(self, head: Head, photos: list[tuple[Photo, bytes]]) -> tuple[Head, list[dict[str, Any]]]:
        """Photos behind those in the pack, then the lines that say where they lie in it, which are returned."""
        if not photos:
            return head, []
        if head.pack.bytes >= PACK_LIMIT:
            head = head.model_copy(update={"pack": next_pack(head.pack)})
        blobs: list[bytes] = []
        lines: list[dict[str, Any]] = []
        offset = head.pack.bytes
        for photo, content in photos:
            blobs.append(self._seal.close(content))
            entry = {"pack": head.pack.name, "offset": offset, "stored": len(blobs[-1])}
            check = {"check": hashlib.sha256(blobs[-1]).hexdigest()} if self._seal.recipient else {}
            lines.append({**photo.row, **entry, **check})
            offset += len(blobs[-1])
        self._folder.append(head.pack.name, head.pack.bytes, b"".join(blobs))
        pack = Stretch(name=head.pack.name, bytes=offset, lines=head.pack.lines + len(lines))
        return self._add(head, "photos", lines).model_copy(update={"pack": pack}), lines

    # -- once more, beside what does not hold, which stays until the new one counts

    def write_index_anew(self, head: Head) -> Head:
        index = iter(photo_lines(whole_values(self._folder, head.photos)))
        head = self._add(head.model_copy(update={"photos": fresh(head, "photos")}), "photos", [], always=True)
        while lines := list(islice(index, LINES_A_WRITE)):
            head = self._add(head, "photos", lines)
        return head

    def write_log_anew(self, head: Head) -> Head:
        last = head.office_seq
        head = head.model_copy(update={"log": fresh(head, "log")})
        after = 0
        while after < last:
            with self._source.moment() as tx:
                rows = office.rows_after(tx, after, min(ROWS_A_STEP, last - after))
            head = self._add(head, "log", self._log_lines(rows))
            after = rows[-1]["office_seq"]
        return head

    def write_words_anew(self, head: Head, news: News, *, erased_too: bool) -> tuple[Head, dict[str, Due]]:
        """The personal words without those that were erased, and to which operations words are owed then; the old file
        goes once the head counts this. `erased_too`: the list of what was erased does not hold either.

        They come from the office, so that whoever writes a sealed copy need not be able to open it; but what the office
        has lost and nobody erased stays as it stands in the copy, perhaps the only place that has it.
        """
        due, ours = news.all_due, news.all_words
        lost = not_met(due, ours)
        standing = {line["operation_id"]: line for line in word_lines(self._folder, head.words)}
        kept = {
            operation_id: standing[operation_id]
            for operation_id, what in lost.items()
            if operation_id in standing
            and (operation_id not in ours or word_stands(standing[operation_id], what))
        }
        lines = self._word_lines(
            {operation_id: text for operation_id, text in ours.items() if operation_id not in kept}, due
        )
        known = erased_ids(self._folder, head.erased)
        head = head.model_copy(update={"words": fresh(head, "words"), "erased_seq": news.erased_seq})
        head = self._add(head, "words", [*lines, *kept.values()], always=True)
        gone = news.erased
        if erased_too:
            head = head.model_copy(update={"erased": fresh(head, "erased")})
            gone, known = [*dict.fromkeys([*(known - ours.keys()), *gone])], set()
        head = self._add(
            head,
            "erased",
            [{"operation_id": operation_id} for operation_id in gone if operation_id not in known],
        )
        return head, {
            operation_id: what
            for operation_id, what in lost.items()
            if operation_id not in kept or not word_stands(kept[operation_id], what)
        }

    # -- the shapes

    def _log_lines(self, rows: list[dict[str, Any]]) -> Iterable[dict[str, Any]]:
        """A line a row, so that a damaged one costs one operation; sealed ones share, since each seal costs space."""
        size = ROWS_A_SEALED_LINE if self._seal.recipient else 1
        for start in range(0, len(rows), size):
            yield self._seal.line({}, {"rows": rows[start : start + size]})

    def _word_lines(self, words: Mapping[str, str], due: Mapping[str, Due]) -> Iterable[dict[str, Any]]:
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

    def _beside(self, copies: bytes) -> bytes:
        """Which other copies there are; in what is sealed also what phones in a hall know the office by."""
        found = self._source.hall() if self._seal.recipient else OwnFiles({})
        return self._once("files", found, {office.COPIES: copies})

    def _once(self, kind: str, found: OwnFiles, beside: Mapping[str, bytes] = NOTHING) -> bytes:
        """Files packed, which are read again only when one of them changed."""
        mark = found.mark(), beside
        if kind not in self._packed or self._packed[kind][0] != mark:
            self._packed[kind] = (mark, found.packed(beside))
        return self._packed[kind][1]

    def _add(self, head: Head, kind: str, values: Iterable[dict[str, Any]], *, always: bool = False) -> Head:
        """Put lines behind what counts of a file."""
        lines = [framed(value) for value in values]
        if not lines and not always:
            return head
        content, old = b"".join(lines), getattr(head, kind)
        self._folder.append(old.name, old.bytes, content)
        new = Stretch(name=old.name, bytes=old.bytes + len(content), lines=old.lines + len(lines))
        return head.model_copy(update={kind: new})

    def _add_whole(self, head: Head, kind: str, content: bytes) -> Head:
        """Write a small file anew if it is not what it was."""
        digest, old = hashlib.sha256(content).hexdigest(), getattr(head, kind)
        if old is not None and old.sha256 == digest:
            return head
        name, closed = f"{kind}-{head.serial + 1}.json", self._seal.close(content)
        self._folder.write_whole(name, closed)
        return head.model_copy(update={kind: Whole(name=name, bytes=len(closed), sha256=digest)})


def is_of_house(whole: Whole) -> bool:
    """Whether a file has the house's own files for certain: what earlier versions wrote may have others alone."""
    return whole.name.startswith("house-")
