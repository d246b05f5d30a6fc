"""Reading back what stands in a copy that is met: only that, and what is written to it since, counts as kept twice.

What a copy says of itself is no proof: it may have been damaged while it was away, or written for tables that were put
back since. So what is erased, and which words stand, is told by what the files hold and by no number in the head. Texts
are read whole at once, photos a little at a time, since a copy may have many gigabytes of them.
"""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Iterable, Iterator, Set
from dataclasses import dataclass
from typing import Any

from intake.copies import source as office
from intake.copies.erasures import Erasures, erasures_of
from intake.copies.folder import Folder
from intake.copies.head import HOUSE_APART, Head, Stretch, Whole
from intake.copies.photo_lines import PhotoLines, line_of
from intake.copies.reading import LINES, photo_holds, photo_lines, stretch_lines, whole_start
from intake.copies.source import Due, Source
from intake.database import Reading


@dataclass(frozen=True)
class Texts:
    """What a copy's texts were found to be. `head` is its head as far as its files bear it out.

    `anew` are the files of lines to be written anew. The log is whole up to `whole_seq`. `owed` are the operations
    whose personal words are not in the copy, or not as the log says they are. `erasures` is what the office knew of
    then.
    """

    head: Head
    anew: frozenset[str]
    whole_seq: int
    owed: dict[str, Due]
    erasures: Erasures


def read_texts(source: Source, folder: Folder, found: Head, short: set[str]) -> Texts:
    """Read all texts of a copy, of which `short` are files that are gone or were cut. Raises OSError.

    What stands in it is read first, then the tables in one moment: a copy that hangs keeps no moment open.
    """
    whole = {kind: whole_start(folder, getattr(found, kind)) for kind in LINES}
    words = {line["operation_id"]: line for line in word_lines(folder, found.words)}
    erased = erased_ids(folder, found.erased)
    with source.moment() as tx:
        due, erasures = office.words_due(tx, 0, found.office_seq), erasures_of(tx)
        erased_seq = erased_up_to(tx, words.keys(), erased)
    anew = {kind for kind in LINES if whole[kind][0].bytes < getattr(found, kind).bytes}
    if words.keys() - due.keys():  # words that were erased, as the office knows now
        anew.add("words")
    if erased & due.keys():  # who restores would leave words out that stand here
        anew.add("erased")
    owed = {
        operation_id: what
        for operation_id, what in due.items()
        if operation_id in erased or operation_id not in words or not word_stands(words[operation_id], what)
    }
    return Texts(
        with_lists_that_hold(folder, found, short, anew).model_copy(update={"erased_seq": erased_seq}),
        frozenset(anew),
        last_row(whole["log"][1]) if "log" in anew else found.office_seq,
        owed,
        erasures,
    )


def erased_up_to(tx: Reading, words: Iterable[str], erased: set[str]) -> int:
    """Up to where the copy has the office's erasures: none of the words stand in it, and it says of each that they are
    gone."""
    order, standing = office.erased_order(tx), set(words)
    lacking = [
        seq for operation_id, seq in order.items() if operation_id in standing or operation_id not in erased
    ]
    return min(lacking, default=office.newest_erased(tx) + 1) - 1


def last_row(value: dict[str, Any] | None) -> int:
    """The place of the last row of a line; 0 if there is none, or it is sealed, and who writes it cannot see that."""
    rows = (value or {}).get("rows")
    return int(rows[-1]["office_seq"]) if rows else 0


def with_lists_that_hold(folder: Folder, head: Head, short: set[str], anew: set[str]) -> Head:
    """The head without what does not hold of small files and plans, and with another pack if the newest was cut: what
    they had is written again."""
    update: dict[str, Any] = {}
    sealed = head.sealed_to is not None
    for kind in ("devices", "files"):
        if kind in short or not is_held(folder, getattr(head, kind), sealed=sealed):
            update[kind] = None
    # The office may have the house's own files no longer: they stay for as long as nothing shows that they are damaged.
    house, kind = (head.files, "files") if head.format < HOUSE_APART else (head.house, "house")
    stands = house is not None and kind not in short and (sealed or is_held(folder, house, sealed=False))
    update["house"] = house if stands else None
    if "plans" in anew:
        update["plans"] = fresh(head, "plans")
    if "pack" in short:
        update["pack"] = next_pack(head.pack)
    return head.model_copy(update=update)


def is_held(folder: Folder, whole: Whole | None, *, sealed: bool) -> bool:
    """Whether a small file is as the head says. A sealed one cannot be opened here, and is written once more."""
    return (
        whole is not None
        and not sealed
        and hashlib.sha256(folder.read(whole.name)).hexdigest() == whole.sha256
    )


def fresh(head: Head, kind: str) -> Stretch:
    """A new file of lines beside the one that counts."""
    return Stretch(name=f"{kind}-{head.serial + 1}.jsonl")


def next_pack(pack: Stretch) -> Stretch:
    """The pack after this one, empty."""
    number = int(pack.name.removeprefix("photos-").removesuffix(".pack"))
    return Stretch(name=f"photos-{number + 1}.pack")


def whole_values(folder: Folder, stretch: Stretch) -> Iterator[dict[str, Any]]:
    """The lines that hold. None of a file that is gone."""
    try:
        yield from (value for value in stretch_lines(folder, stretch) if value is not None)
    except FileNotFoundError:
        return


def word_lines(folder: Folder, stretch: Stretch) -> Iterator[dict[str, Any]]:
    return (line for line in whole_values(folder, stretch) if "operation_id" in line)


def erased_ids(folder: Folder, stretch: Stretch) -> set[str]:
    """The operations of which a copy says that their words were erased."""
    return {line["operation_id"] for line in whole_values(folder, stretch) if "operation_id" in line}


def word_stands(line: dict[str, Any], due: Due) -> bool:
    """Whether a line has the words that are due. Of a sealed one the office said so when it wrote it."""
    return due.is_met_by(line["words"]) if "words" in line else not line.get("unproven", False)


class PhotosInCopy:
    """The photos of one copy: whose bytes were read back or written, and whose nobody has looked at yet."""

    def __init__(self, folder: Folder, head: Head) -> None:
        """Raises OSError."""
        self._folder, self._sealed = folder, head.sealed_to is not None
        self._lines = photo_lines(whole_values(folder, head.photos))
        self.have = SeenPhotos(self._lines)
        self.bytes = 0
        self.unseen = len(self._lines)
        self._any = self.unseen > 0
        self._looked_at = 0  # so far in the order of the lines
        self._ends: dict[str, int] = {}  # how long each pack has to be for those
        #: Those that count for their length alone: their bytes in the copy, and so far as they were taken out.
        self.unchecked, self._taken = 0, 0

    def __contains__(self, sha256: object) -> bool:
        # Of a new copy, which has none yet, each of the house's millions is asked about.
        return self._any and self._lines.was_seen(sha256) is not None

    def add(self, lines: list[dict[str, Any]]) -> None:
        """Photos that were written, and that the head counts."""
        for line in lines:
            before = self._lines.row_of(line["sha256"])
            if before is not None:
                self._forget(before)
            self._lines.put([line], seen=True)
            self._any = True
            self._count(line)

    def read_on(self, limit: int) -> int:
        """Read back further photos, of so many bytes. How many of them do not hold."""
        damaged = read = 0
        while read < limit and (rows := self._lines.unseen_after(self._looked_at)):
            for row in rows:
                if read >= limit:
                    break
                self._looked_at, line = row["seq"], line_of(row)
                read += line["stored"]
                self.unseen -= 1
                if self._holds(line):
                    self._lines.note_seen(row["seq"])
                    self._count(line)
                else:
                    self._lines.remove(line["sha256"])
                    damaged += 1
        return damaged

    def next_unchecked(self, count: int, limit: int) -> list[str]:
        """Take out the next photos that count for their length alone: so many, and bytes up to about so many."""
        taken: list[str] = []
        for row in self._lines.without_check_after(self._taken, count):
            if limit <= 0:
                break
            self._taken = row["seq"]
            self.unchecked -= row["stored"]
            limit -= row["stored"]
            taken.append(row["sha256"].hex())
        return taken

    def are_cut(self) -> bool:
        """Whether a pack is gone, or shorter than it was."""
        return any(self._folder.size(pack) < end for pack, end in self._ends.items())

    def _count(self, line: dict[str, Any]) -> None:
        """A photo whose bytes stand in the copy."""
        self.have.count += 1
        self.bytes += line["bytes"]
        if self._sealed and "check" not in line:
            self.unchecked += line["stored"]
        end = line["offset"] + line["stored"]
        self._ends[line["pack"]] = max(end, self._ends.get(line["pack"], 0))

    def _forget(self, before: sqlite3.Row) -> None:
        """A photo is in the copy once more: what was counted of it before is not any more."""
        if not before["seen"]:
            self.unseen -= 1
            return
        self.have.count -= 1
        self.bytes -= before["bytes"]
        if self._sealed and before["check"] is None and before["seq"] > self._taken:
            self.unchecked -= before["stored"]

    def _holds(self, line: dict[str, Any]) -> bool:
        """A bad place on a stick costs one photo; where the stick is gone the next step says so."""
        try:
            return photo_holds(self._folder, line, sealed=self._sealed)
        except OSError:
            return False


class SeenPhotos(Set[str]):
    """The photos whose bytes were read back or written, by digest; any thread may ask."""

    def __init__(self, lines: PhotoLines) -> None:
        self.count, self._lines = 0, lines

    def __contains__(self, sha256: object) -> bool:
        return bool(self._lines.was_seen(sha256))

    def __iter__(self) -> Iterator[str]:
        return (line["sha256"] for line in self._lines.seen())

    def __len__(self) -> int:
        return self.count

    @classmethod
    def _from_iterable(cls, it: Iterable[Any]) -> Any:
        """What comes of this and another set."""
        return frozenset(it)
