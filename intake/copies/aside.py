"""What was set aside when a copy was begun anew: it is kept for what it may have, and what is erased goes from it, too.

It may be damaged, or have what this office no longer has, so each line is looked at by itself, and what cannot be told
to be nobody's erased words goes.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

from intake.copies.folder import Folder
from intake.copies.head import DamagedLine, Head, Stretch, framed, read_head, unframed, write_head
from intake.copies.source import ErasedWords
from intake.copies.states import CopyTrouble

OPERATION = re.compile(rb'"operation_id": ?"([^"]{1,120})"')


def erase_in(folder: Folder, erased: ErasedWords) -> str | None:
    """Take the words of erased operations out of a copy that was set aside; its id, null if it says none.

    Raises OSError.
    """
    try:
        head = read_head(folder)
    except CopyTrouble:
        head = None
    if not (erased.operations or erased.records):
        return None if head is None else head.copy_id
    of_records = operations_of(folder, erased.records) - erased.standing
    for name in [name for name in folder.own_names() if name.startswith("words-")]:
        lines = folder.read(name).splitlines(keepends=True)
        kept = [line for line in lines if not is_erased(line, erased, of_records)]
        if len(kept) == len(lines):
            continue
        gone = sorted({*lines} - {*kept})
        if head is not None and head.words.name == name:
            head = write_anew(folder, head, kept, gone)
            folder.remove(name)
        else:
            folder.write_whole(name, b"".join(kept))
    return None if head is None else head.copy_id


def write_anew(folder: Folder, head: Head, kept: list[bytes], gone: list[bytes]) -> Head:
    """Words under another name, then a head that counts them and not what stood there; it can be restored as before."""
    name = f"words-{head.serial + 1}.jsonl"
    content = b"".join(kept)
    folder.write_whole(name, content)
    ids = [found[1].decode(errors="replace") for line in gone if (found := OPERATION.search(line))]
    lines = b"".join(framed({"operation_id": operation_id}) for operation_id in ids)
    erased = head.erased
    folder.append(erased.name, min(erased.bytes, folder.size(erased.name)), lines)
    update = {
        "serial": head.serial + 1,
        "words": Stretch(name=name, bytes=len(content), lines=len(kept)),
        "erased": Stretch(name=erased.name, bytes=erased.bytes + len(lines), lines=erased.lines + len(ids)),
    }
    head = head.model_copy(update=update)
    write_head(folder, head)
    return head


def is_erased(line: bytes, erased: ErasedWords, of_records: set[str]) -> bool:
    """Whether a line has words that were erased, or is too damaged to tell whose it has."""
    found = OPERATION.search(line)
    if found is None:
        return True
    operation_id = found[1].decode(errors="replace")
    if operation_id in erased.operations or operation_id in of_records:
        return True
    return operation_id.startswith("aside-") and any(
        record_id.encode() in line for record_id in erased.records
    )


def operations_of(folder: Folder, records: frozenset[str]) -> set[str]:
    """The operations on these records, and on what came with them, as the log that was set aside says; of a sealed one
    nobody can tell."""
    of, found = set(records), set()
    for row in rows_of(folder) if records else ():
        if row["record_id"] in of or row.get("visit_id") in of:
            of.add(row["record_id"])
            found.add(row["operation_id"])
    return found


def rows_of(folder: Folder) -> Iterator[dict[str, Any]]:
    """Of each row of an open log that can be read its operation, its record, and the visit that it names."""
    for name in [name for name in folder.own_names() if name.startswith("log")]:
        with folder.open(name) as stream:
            for line in stream:
                try:
                    for row in unframed(line)["rows"]:
                        operation = json.loads(row["operation"])
                        named = {name: row[name] for name in ("operation_id", "record_id")}
                        yield {**named, "visit_id": operation.get("visit_id")}
                except (DamagedLine, ValueError, KeyError, TypeError, AttributeError):
                    continue
