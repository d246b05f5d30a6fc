"""Taking in what a copy has and the office has not: through the same door that phones use, in the order of the copy.

Needed when an office went on from an older state than the copy's, or when a copy is damaged in its middle. Each
operation is recognised by its id, so that nothing is taken in twice, and gets a new place in the office's log.
"""

from __future__ import annotations

import hashlib
import itertools
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from functools import partial
from itertools import islice
from typing import Any

from intake.access.devices import stamp
from intake.access.hearing import is_hearing
from intake.copies.folder import Folder
from intake.copies.head import Head
from intake.copies.places import Place, places
from intake.copies.reading import opened_copy
from intake.copies.source import PHOTO_COLUMNS, Photo, erased_ever, office_of, photos_named
from intake.copies.states import CopyTrouble, State
from intake.database import Reading, Writing, opened
from intake.disk import write_whole
from intake.examination.plans import load_plans
from intake.ids import own_id
from intake.in_words import counted, moment_words
from intake.operation import KINDS, Rules
from intake.photos.store import photo_file
from intake.reading import photos_gone
from intake.settings import Settings
from intake.sync.at_tables import note_seated
from intake.sync.canonical import canonical
from intake.sync.chain import CHAIN_START, columns_fit, is_linked
from intake.sync.erasing import answer_erasing
from intake.sync.log import Answered, find_answered, words_of
from intake.sync.logged import as_salted_here, whole_operation
from intake.sync.operations import answer_batch
from intake.sync.rebuild import rebuild_if_outdated
from intake.sync.sent import has_id
from intake.sync.words_beside import words_lacking

BATCH = 200


@dataclass
class BroughtIn:
    """How many operations were taken in so, how many wait for something that is not here, and how many that the office
    had got back the personal words that it had lost.

    `others`: how many have an id under which this office has something else; both are kept. Of these `renamed` says, by
    their id, under which they were taken in, since the copy proves that the id is their device's.
    """

    kept: int = 0
    refused: int = 0
    waiting: int = 0
    words: int = 0
    others: int = 0
    renamed: dict[str, str] = field(default_factory=dict)


def batches(rows: Iterable[dict[str, Any]]) -> Iterator[list[dict[str, Any]]]:
    """Runs of rows of one device that were answered alike, in order."""
    for _, run in itertools.groupby(rows, key=lambda row: (row["device_id"], was_kept(row))):
        while batch := list(itertools.islice(run, BATCH)):
            yield batch


def was_kept(row: dict[str, Any]) -> bool:
    return bool(json.loads(row["answer"])["outcome"] == "kept")


def as_sent(text: str, words: str | None) -> Any:
    """A row's operation as its device sent it: from the log and the words beside it, or what was set aside whole. One
    whose words are gone has their digest in their place, as a device sends it that has let go of them."""
    logged = json.loads(text)
    if words is None:
        return logged
    return json.loads(words) if "content_sha256" in logged else whole_operation(text, words)


def fits(row: dict[str, Any], words: Mapping[str, str]) -> bool:
    """Whether the copy has the words of a row, as the log's digest says they were."""
    content, operation = words.get(row["operation_id"]), json.loads(row["operation"])
    digest = operation.get("private_sha256", operation.get("content_sha256"))
    return content is not None and hashlib.sha256(content.encode()).hexdigest() == digest


def is_another(
    tx: Reading,
    here: Answered | None,
    row: dict[str, Any],
    words: Mapping[str, str],
    renamed: dict[str, str],
) -> bool:
    """Whether the office has something else under the id of a row: a device may have used another's id again. What two
    offices gave a salt of their own is the same."""
    if here is None or here.operation == row["operation"]:
        return False
    operation = under_own_ids(json.loads(row["operation"]), renamed, own=False)
    if "content_sha256" in operation:
        return True
    if canonical(operation) == here.operation:
        return False
    kind, operation_id = KINDS.get(operation["kind"]), row["operation_id"]
    if kind is None:
        return True
    own_words = words.get(operation_id) if fits(row, words) else None
    sent = under_own_ids(as_sent(row["operation"], own_words), renamed, own=False)
    return as_salted_here(kind, sent, here.operation, words_of(tx, operation_id)) is None


def is_proven(here: Answered | None, row: dict[str, Any]) -> bool:
    """Whether the copy proves that an id is of the row's device, and not of the one that has it here: the row hangs
    together with all that the office had logged before."""
    if here is None or not row.get("linked") or "content_sha256" in row["operation"]:
        return False
    return bool(json.loads(here.operation).get("device_id") != row["device_id"])


def under_own_ids(operation: Any, renamed: dict[str, str], *, own: bool = True) -> Any:
    """An operation of the copy with the ids by which this office knows what the copy means; `own`: its own as well."""
    if not renamed or not isinstance(operation, dict):
        return operation
    names = ("seen", "disagreement_id", "kept_id", "standing_id", *(("operation_id",) if own else ()))
    meant: dict[str, Any] = {
        name: renamed[operation[name]] for name in names if operation.get(name) in renamed
    }
    if beside := operation.get("beside_ids"):
        meant["beside_ids"] = [renamed.get(value_id, value_id) for value_id in beside]
    return {**operation, **meant}


def linked(rows: Iterable[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    """The rows, each with whether it follows from all before it and its columns say what its text says."""
    previous, holds = CHAIN_START, True
    for row in rows:
        holds = holds and is_linked(previous, row)
        previous = row["chain"]
        yield {**row, "linked": holds and columns_fit(row)}


def take_in(
    tx: Writing,
    rows: list[dict[str, Any]],
    words: Mapping[str, str],
    roles: dict[str, str],
    received_at: str,
    done: BroughtIn,
    rules: Rules | None,
) -> None:
    """Answer a run of rows anew. What was kept once was within its device's role then, whatever that is today; what was
    refused once stays refused, since its device was told so and may have made another in its place. Where the office
    that answered it was stricter than its device, that holds, and so does what `rules` say, this office's own rows.
    While phones are heard out, what hangs on something missing waits in the copy, as it would on a phone."""
    known = find_answered(tx, [row["operation_id"] for row in rows])
    theirs = [row for row in rows if is_proven(known.get(row["operation_id"]), row)]
    done.renamed |= {row["operation_id"]: own_id(row["operation_id"], row["device_id"]) for row in theirs}
    others = [row for row in rows if is_another(tx, known.get(row["operation_id"]), row, words, done.renamed)]
    done.others += len(others)
    here = find_answered(tx, list(done.renamed.values()))
    others = [row for row in others if done.renamed.get(row["operation_id"]) not in here]
    lacking = words_lacking(tx, rows[0]["device_id"]) if known else {}
    found = [row for row in rows if row["operation_id"] in lacking and row not in others and fits(row, words)]
    new = [row for row in rows if row["operation_id"] not in known or row in others] + found
    done.words += len(found)
    if not new:
        return
    device_id = new[0]["device_id"]
    role = "manager" if was_kept(new[0]) else roles.get(device_id, "")
    sent = [
        under_own_ids(as_sent(row["operation"], words.get(row["operation_id"])), done.renamed) for row in new
    ]
    refused = (
        [] if was_kept(new[0]) else [operation["operation_id"] for operation in sent if has_id(operation)]
    )
    at_the_door = partial(
        answer_batch,
        tx,
        device_id=device_id,
        role=role,
        received_at=received_at,
        hearing=is_hearing(tx),
        dealt_with=refused,
        rules=rules,
        ruled_before={
            done.renamed.get(row["operation_id"], row["operation_id"]): json.loads(row["answer"]).get(
                "ruled", {}
            )
            for row in new
        },
    )
    answers = answer_erasing(tx, sent, at_the_door, may_erase=role == "manager", now=received_at)
    # Who sits at a table that is at work comes to be read there, as if a phone had said so.
    note_seated(tx, sent, answers, lambda device: device, datetime.fromisoformat(received_at))
    for answer in answers[: len(new) - len(found)]:
        if answer["outcome"] == "kept":
            done.kept += 1
        elif answer["outcome"] == "refused":
            done.refused += 1
        else:
            done.waiting += 1


def add_photos(tx: Writing, lines: list[dict[str, Any]]) -> None:
    """Make photos exist whose bytes are on the disk."""
    tx.run_many(
        """
        INSERT INTO photo_file (sha256, bytes, media_type, width, height, received_at)
        VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING
        """,
        [[line[name] for name in PHOTO_COLUMNS] for line in lines],
    )


def stands(photo: Photo, settings: Settings) -> bool:
    """Whether a photo that has a row has its file, too; what `verify` set aside has none."""
    try:
        return photo_file(settings.photos_folder, photo.sha256).stat().st_size == photo.bytes
    except OSError:
        return False


def begun_at(tx: Reading) -> str | None:
    """When this office first took something in or paired a device; None if it never did."""
    at = tx.value(
        """
        SELECT min(at) FROM (
            SELECT min(received_at) AS at FROM operation_log UNION ALL SELECT min(paired_at) FROM device
        )
        """
    )
    return None if at is None else str(at)


def of_another_office(folder: Folder, head: Head, begun: str | None, kept: list[Place]) -> CopyTrouble:
    """What such a copy is, and how to go on from it where this office was begun after it: in the place of one that was
    lost, with nothing of its own that phones cannot bring to the one that was found."""
    made = f"`intake restore {folder} --data NEW`"
    if begun is not None and begun < head.written_at:
        hint = f"What it has is apart from this one; {made} makes an office of it."
    else:
        hint = (
            "This office was begun after that. If the copy is of the one that was lost, go on from it: stop this "
            f"office, {made}, serve NEW under the same address, and pair again each device that does not find itself "
            "known: each brings the rest."
        )
        if any(place.begun for place in kept):
            hint += (
                " Keep this folder and its own copies as well: what stands in them phones may have let go of, and it "
                "is entered anew."
            )
    return CopyTrouble(
        State.FOREIGN,
        f"{folder} holds a copy of another office: {counted(head.office_seq, 'operation')}, as of "
        f"{moment_words(head.written_at)}. Nothing of it was taken in.",
        hint=hint,
    )


async def bring_in(
    folder: Folder, settings: Settings, *, secret: str | None
) -> tuple[BroughtIn, int, list[str]]:
    """Take in all that the copy has and this office has not, also beside a serving one.

    What came of it, how many photos were new, and a sentence for everything that could not be read.
    Raises CopyTrouble, WrongKey.
    """
    reader, done = opened_copy(folder, secret), BroughtIn()
    head = reader.head
    async with opened(settings.database_file) as database:
        ours = await database.read(office_of)
        if head.office_id != ours.office_id:
            raise of_another_office(folder, head, *await database.read(lambda tx: (begun_at(tx), places(tx))))
        words = reader.words()
        await database.read(lambda tx: words.remove(erased_ever(tx)))
        roles = {device["device_id"]: device["role"] for device in reader.devices()}
        now = stamp(settings.clock())
        rules = load_plans(settings.plans_folder).cautions
        for run in batches(linked(reader.rows())):
            await database.write(
                partial(take_in, rows=run, words=words, roles=roles, received_at=now, done=done, rules=rules)
            )
        await database.write_alone(rebuild_if_outdated)
        gone = await database.read(photos_gone)
        new, lines = 0, iter(reader.photo_lines())
        while some := list(islice(lines, BATCH)):
            digests = [line["sha256"] for line in some]
            rows = await database.read(partial(photos_named, digests=digests))
            here = {photo.sha256 for photo in rows if stands(photo, settings)}
            here |= gone
            for line, content in reader.photos(line for line in some if line["sha256"] not in here):
                file = photo_file(settings.photos_folder, line["sha256"])
                file.parent.mkdir(parents=True, exist_ok=True)
                write_whole(file, content)
                await database.write(partial(add_photos, lines=[line]))
                new += 1
    return done, new, reader.faults
