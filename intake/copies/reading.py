"""Reading a copy: only what its head counts, each line against its check, and what does not hold said in words."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pyrage

from intake.copies.folder import ASIDE, Folder
from intake.copies.head import (
    HEADS,
    HOUSE_APART,
    DamagedLine,
    Head,
    Stretch,
    Whole,
    is_whole,
    read_head,
    unframed,
)
from intake.copies.photo_lines import PHOTO_SHAPE, PhotoLines, names_a_photo
from intake.copies.seal import Opener
from intake.copies.source import DEVICE_COLUMNS, LOG_COLUMNS
from intake.copies.states import CopyTrouble, State
from intake.copies.text_lines import OperationIds, WordLines

#: The files of a copy, by the names that its head has for them; of the packs the one that grows.
KINDS = ("log", "words", "erased", "plans", "photos", "pack", "devices", "files", "house")
#: Those of lines. One that is cut or damaged is written anew beside the old, which may be all that is left.
LINES = ("log", "words", "erased", "plans", "photos")
COUNTED = 100_000  # missing lines; a head may claim any number
WORDS_NAME = re.compile(r"words-(\d{1,15})\.jsonl")
ANOTHER = (
    "Plug it in again, in another socket if there is one. If it stays so, look for another copy: *Copies* and the "
    "closing list them."
)
CHANGED = (pyrage.DecryptError, ValueError, KeyError, TypeError)  # what opening a changed line may raise


Shape = dict[str, tuple[type, ...]]
TEXT, NUMBER, MAYBE = (str,), (int,), (str, type(None))
ROW: Shape = {
    **dict.fromkeys(LOG_COLUMNS, TEXT),
    "office_seq": NUMBER,
    "device_seq": NUMBER,
}
DEVICE: Shape = {**dict.fromkeys(DEVICE_COLUMNS, TEXT), "revoked_at": MAYBE, "letters": MAYBE}
WORDS: Shape = {"operation_id": TEXT, "words": TEXT}
PLAN_KEY: Shape = {"class_id": TEXT, "version": TEXT}
PLAN: Shape = {**PLAN_KEY, "body": TEXT}


def has_shape(value: Any, shape: Shape) -> bool:
    """Whether a value is an object with these members: whoever can write to a copy may have put anything in it."""
    return isinstance(value, dict) and all(type(value.get(name)) in types for name, types in shape.items())


def is_row(row: Any) -> bool:
    """Whether this can be a row of the log: its members, and JSON in those that hold some."""
    if not has_shape(row, ROW):
        return False
    try:
        return isinstance(json.loads(row["operation"]), dict) and "outcome" in json.loads(row["answer"])
    except (ValueError, TypeError):
        return False


def stretch_lines(folder: Folder, stretch: Stretch) -> Iterator[dict[str, Any] | None]:
    """The lines of a file as far as it counts, None for each that is damaged or gone. Raises OSError."""
    if stretch.bytes == 0:
        return
    left, seen = stretch.bytes, 0
    with folder.open(stretch.name) as stream:
        while left > 0 and (line := stream.readline(left)):
            left -= len(line)
            seen += 1
            try:
                yield unframed(line)
            except (DamagedLine, ValueError):
                yield None
    for _ in range(min(stretch.lines - seen, COUNTED)):  # what was cut off
        yield None


def whole_start(folder: Folder, stretch: Stretch) -> tuple[Stretch, dict[str, Any] | None]:
    """As much of a file as is whole lines up to the first that is not, and the value of the last. Raises OSError."""
    count = size = 0
    last = b""
    if folder.size(stretch.name):
        with folder.open(stretch.name) as stream:
            while size < stretch.bytes and is_whole(line := stream.readline(stretch.bytes - size)):
                count, size, last = count + 1, size + len(line), line
    return Stretch(name=stretch.name, bytes=size, lines=count), unframed(last) if last else None


def shorter_files(folder: Folder, head: Head) -> set[str]:
    """What of the head is a file that is gone, or shorter than it says, by the head's own names for them."""
    return {kind for kind in KINDS if (file := getattr(head, kind)) and folder.size(file.name) < file.bytes}


def plan_keys(folder: Folder, head: Head) -> set[tuple[str, str]]:
    """The plans' versions that stand in the copy."""
    values = stretch_lines(folder, head.plans)
    return {
        (value["class_id"], value["version"])
        for value in values
        if value is not None and has_shape(value, PLAN_KEY)
    }


def photo_lines(lines: Iterable[Any]) -> PhotoLines:
    """The photos of a copy by digest. A later line replaces an earlier."""
    return PhotoLines(line for line in lines if has_shape(line, PHOTO_SHAPE) and names_a_photo(line))


def photo_holds(folder: Folder, line: dict[str, Any], *, sealed: bool) -> bool:
    """Whether a photo's bytes stand in the copy, as far as whoever cannot open it can see. Raises OSError.

    What is sealed has a check of its own. Lines of earlier versions have none, and count for their photo's length, or
    an upgrade would fill each stick with what it has already.
    """
    with folder.open(line["pack"]) as stream:
        stream.seek(line["offset"])
        content = stream.read(line["stored"])
    if sealed and "check" not in line:
        return len(content) == int(line["stored"])
    return hashlib.sha256(content).hexdigest() == str(line["check" if sealed else "sha256"])


def head_of(folder: Folder) -> Head:
    """The head of a copy that must be there. Raises CopyTrouble."""
    try:
        head = read_head(folder)
    except (FileNotFoundError, NotADirectoryError):
        head = None
    except OSError as error:
        raise CopyTrouble(
            State.MISSING,
            f"The copy in {folder} cannot be read ({error.strerror or error}).",
            hint="Plug it in again, or look at the network and whether you may read there.",
        ) from error
    except CopyTrouble as trouble:
        if trouble.state is State.DAMAGED:
            raise CopyTrouble(trouble.state, trouble.detail, hint=ANOTHER) from trouble
        raise
    if head is None:
        within = copies_within(folder.path)
        raise CopyTrouble(
            State.MISSING,
            f"There is no copy in {folder}.",
            hint=f"There is one in {' and one in '.join(map(str, within))}: name that folder."
            if within
            else "Name the folder that has head-0.json and log.jsonl in it.",
        )
    return head


def head_faults(folder: Folder) -> list[str]:
    """A sentence if the disk did not give one of the two heads, which may have been the newer one."""
    return [
        f"{name} cannot be read. The other head counts, with what stands whole behind it; what else was copied last "
        "may be missing until a phone or another copy brings it."
        for name in HEADS
        if name in folder.unreadable
    ]


def read_on(folder: Folder, head: Head) -> Head:
    """A head with the whole lines that stand behind it, as one that is lost may have counted them.

    Nothing is believed for that: rows show by the chain that they follow, words and photos by their digests. Raises
    OSError.
    """
    return head.model_copy(update={kind: with_lines_behind(folder, getattr(head, kind)) for kind in LINES})


def with_lines_behind(folder: Folder, stretch: Stretch) -> Stretch:
    size, lines, end = folder.size(stretch.name), stretch.lines, stretch.bytes
    if size > end:
        with folder.open(stretch.name) as stream:
            stream.seek(end)
            while is_whole(line := stream.readline(size - end)):
                lines, end = lines + 1, end + len(line)
    return Stretch(name=stretch.name, bytes=end, lines=lines)


def copies_within(folder: Path) -> list[Path]:
    """The folders in this one, or in one of its own, that have a copy; what was set aside in one is left out."""
    heads = (file for name in HEADS for inner in ("*", "*/*") for file in folder.glob(f"{inner}/{name}"))
    with suppress(OSError):
        return sorted({head.parent for head in heads if not head.parent.name.startswith(ASIDE)})
    return []


@dataclass
class CopyReader:
    """A copy opened for reading. What does not hold is left out and noted in `faults`, a sentence each.

    `lost` are the photos among that, `index_damaged` says that some lines which name photos do not hold.
    """

    folder: Folder
    head: Head
    opener: Opener
    faults: list[str] = field(default_factory=list)
    lost: set[str] = field(default_factory=set)
    index_damaged: bool = False

    def _lines(self, stretch: Stretch, what: str, shape: Shape) -> Iterator[dict[str, Any]]:
        """The lines that hold, opened. How many do not is noted."""
        broken = 0
        try:
            for value in stretch_lines(self.folder, stretch):
                try:
                    opened = None if value is None else self.opener.line(value)
                except CHANGED:
                    opened = None
                if opened is None or not has_shape(opened, shape):
                    broken += 1
                else:
                    yield opened
        except OSError as error:
            self.faults.append(f"{stretch.name} cannot be read any further: {error.strerror or error}.")
        if broken:
            bad = " (the disk has bad places there)" if stretch.name in self.folder.unreadable else ""
            of = f"{broken} of {stretch.lines}" if stretch.lines else str(broken)
            self.faults.append(f"{of} lines with {what} in {stretch.name} are damaged{bad}.")

    def rows(self) -> Iterator[dict[str, Any]]:
        """The log's rows that can be read, in order; whether they hang together is for the caller to see."""
        for line in self._lines(self.head.log, "operations", {"rows": (list,)}):
            for row in line["rows"]:
                if is_row(row):
                    yield row
                else:
                    self.faults.append(
                        f"{self.head.log.name} has a row that is no operation. It was left out."
                    )

    def words(self) -> WordLines:
        """The personal words by operation."""
        lines = self._lines(self._words_file(), "personal words", WORDS)
        return WordLines((line["operation_id"], line["words"]) for line in lines)

    def _words_file(self) -> Stretch:
        """Where the words stand. Written anew they lie under another name at once: where the head that says so is lost,
        the one before names a file that is gone."""
        lines, found = self.head.words, []
        with suppress(OSError):
            found = self.folder.own_names()
        others = {int(fit[1]): fit[0] for name in found if (fit := WORDS_NAME.fullmatch(name))}
        if not lines.bytes or lines.name in found or not others:
            return lines
        newest = others[max(others)]
        return Stretch(name=newest, bytes=self.folder.size(newest))

    def erased(self) -> OperationIds:
        """The operations whose personal words were erased."""
        lines = self._lines(self.head.erased, "erasures", {"operation_id": TEXT})
        return OperationIds(line["operation_id"] for line in lines)

    def plans(self) -> list[dict[str, Any]]:
        return list(self._lines(self.head.plans, "plans", PLAN))

    def devices(self) -> list[dict[str, Any]]:
        """The devices that were paired; none if that cannot be read."""
        content = self._whole(self.head.devices, "the paired devices", "Pair every device again.")
        found = self._json(content, "the paired devices", [])
        fit = (
            {device["device_id"]: device for device in found if has_shape(device, DEVICE)}
            if type(found) is list
            else {}
        )
        if len(fit) < len(found):
            self.faults.append("Some of the paired devices cannot be read. Pair those again.")
        return list(fit.values())

    def files(self) -> dict[str, str]:
        """The house's own files, which other copies there are, and of a sealed copy the hall's keys, by name, in
        base64."""
        house, beside = self.head.house, self.head.files
        if self.head.format < HOUSE_APART:
            house, beside = beside, None
        plans = self._files(
            house, "the house's own plans and words", "Put them into the folder `house` by hand."
        )
        if beside is None or beside == house:
            return plans
        others = "the list of the office's other copies"
        return plans | self._files(beside, others, "Destroy by hand those that are not needed.")

    def _files(self, whole: Whole | None, what: str, hint: str) -> dict[str, str]:
        found = self._json(self._whole(whole, what, hint), what, {})
        return (
            {name: text for name, text in found.items() if type(text) is str} if type(found) is dict else {}
        )

    def _json(self, content: bytes | None, what: str, nothing: Any) -> Any:
        try:
            return nothing if content is None else json.loads(content)
        except ValueError:
            self.faults.append(f"Of {what} nothing can be read.")
            return nothing

    def _whole(self, whole: Whole | None, what: str, hint: str) -> bytes | None:
        if whole is None:
            return None
        try:
            content = self.opener.open(self.folder.read(whole.name))
        except (OSError, pyrage.DecryptError):
            content = b""
        if hashlib.sha256(content).hexdigest() != whole.sha256:
            self.faults.append(f"{whole.name}, {what}, is damaged or gone. {hint}")
            return None
        return content

    def photo_lines(self) -> PhotoLines:
        """Each photo's line, in the order in which they arrived."""
        before = len(self.faults)
        index = photo_lines(self._lines(self.head.photos, "photos", PHOTO_SHAPE))
        self.index_damaged = len(self.faults) > before
        return index

    def photos(self, lines: Iterable[dict[str, Any]] | None = None) -> Iterator[tuple[dict[str, Any], bytes]]:
        """Each photo's line, or each of these, and its bytes, checked against their digest, in their order."""
        for line in self.photo_lines() if lines is None else lines:
            content = self._photo(line)
            if content is None:
                self.lost.add(line["sha256"])
                self.faults.append(f"The photo {line['sha256'][:12]}… is damaged or gone.")
            else:
                yield line, content

    def _photo(self, line: dict[str, Any]) -> bytes | None:
        try:
            with self.folder.open(line["pack"]) as stream:
                stream.seek(line["offset"])
                content = self.opener.open(stream.read(line["stored"]))
        except (OSError, pyrage.DecryptError):
            return None
        return content if hashlib.sha256(content).hexdigest() == line["sha256"] else None


def opened_copy(folder: Folder, secret: str | None) -> CopyReader:
    """A copy that must be there, opened. Raises CopyTrouble, WrongKey, OSError."""
    head = head_of(folder)
    opener, faults = Opener(head.sealed_to, secret), head_faults(folder)
    return CopyReader(folder, read_on(folder, head) if faults else head, opener, faults)
