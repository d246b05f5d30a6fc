"""A copy of a house's tenth year names millions of photos: whoever looks it through holds a few lines at a time."""

from __future__ import annotations

import json
import random
import sqlite3
import tracemalloc
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from intake.copies.checking import place_faults
from intake.copies.folder import Folder
from intake.copies.head import Stretch, framed, unframed, write_head
from intake.copies.photo_lines import PhotoLines
from intake.copies.reading import head_of, opened_copy, photo_lines
from intake.copies.restore import WholeRows
from intake.copies.source import PHOTO_COLUMNS, source_of
from intake.copies.writer import Writer
from intake.settings import Settings
from intake.sync.canonical import canonical
from intake.sync.chain import link
from tests.builders import digest
from tests.conftest import Office
from tests.copies.tools import copier_of, record_items, restored_from, until_done
from tests.phone import Phone

PHOTOS, HELD = 4_000, 3_000_000  # bytes: the lines alone, each as a dict, would be half as much again


def name_photos(settings: Settings, copy: Path, count: int) -> list[dict[str, Any]]:
    """Put so many photos into the copy and the office's rows that no phone took. Their lines."""
    folder = Folder(copy)
    head = head_of(folder)
    lines, contents = [], []
    for number in range(count):
        contents.append(b"%08d" % number)
        row = dict(
            zip(PHOTO_COLUMNS, (digest(contents[-1]), 8, "image/jpeg", 4, 3, "2026-05-01"), strict=True)
        )
        offset = head.pack.bytes + 8 * number
        lines.append({**row, "pack": head.pack.name, "offset": offset, "stored": 8})
    framed_lines, pack = b"".join(map(framed, lines)), b"".join(contents)
    folder.append(head.photos.name, head.photos.bytes, framed_lines)
    folder.append(head.pack.name, head.pack.bytes, pack)
    photos = Stretch(
        name=head.photos.name,
        bytes=head.photos.bytes + len(framed_lines),
        lines=head.photos.lines + count,
    )
    grown = Stretch(name=head.pack.name, bytes=head.pack.bytes + len(pack), lines=head.pack.lines + count)
    write_head(folder, head.model_copy(update={"serial": head.serial + 1, "photos": photos, "pack": grown}))
    with closing(sqlite3.connect(settings.database_file)) as file, file:
        file.executemany(
            "INSERT INTO photo_file (sha256, bytes, media_type, width, height, received_at) VALUES (?, ?, ?, ?, ?, ?)",
            [[line[name] for name in PHOTO_COLUMNS] for line in lines],
        )
    return lines


def looked_through(settings: Settings, copy: Path) -> None:
    assert place_faults(source_of(settings), Folder(copy)) == []


def read(settings: Settings, copy: Path) -> None:
    assert sum(1 for _ in opened_copy(Folder(copy), None).photos()) == PHOTOS + 1


def read_back(settings: Settings, copy: Path) -> None:
    copier = copier_of(settings, copy, begun=True)
    until_done(copier)
    assert len(copier.have) == PHOTOS + 1


def begun(settings: Settings, copy: Path) -> None:
    assert copier_of(settings, copy.with_name("another")).step().photos > PHOTOS - 100


def written_anew(settings: Settings, copy: Path) -> None:
    folder = Folder(copy)
    head = Writer(folder, source_of(settings), None).write_index_anew(head_of(folder))
    assert head.photos.lines == PHOTOS + 1


@pytest.mark.parametrize("look", [looked_through, read, read_back, begun, written_anew])
def test_what_goes_through_a_copys_photos_holds_a_few_at_a_time(
    look: Callable[[Settings, Path], None], office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    name_photos(office.settings, copy, PHOTOS)
    tracemalloc.start()
    try:
        look(office.settings, copy)
        _, most = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert most < HELD


@pytest.mark.parametrize("seed", range(3))
def test_rows_and_lines_are_compared_in_whatever_order_they_stand(
    seed: int, office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    """A copy has its photos mostly as they came; one that could not be read for a while stands behind others."""
    chance = random.Random(seed)
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    lines = name_photos(office.settings, copy, 40)
    gone, changed = chance.sample(lines, 2)
    with closing(sqlite3.connect(office.settings.database_file)) as file, file:
        file.execute("DELETE FROM photo_file WHERE sha256 = ?", (gone["sha256"],))
        file.execute("UPDATE photo_file SET width = 5 WHERE sha256 = ?", (changed["sha256"],))
        rows = file.execute("SELECT arrival FROM photo_file").fetchall()
        places = chance.sample(range(100, 1000), len(rows))
        file.executemany(
            "UPDATE photo_file SET arrival = ? WHERE arrival = ?",
            [(place, *row) for place, row in zip(places, rows, strict=True)],
        )
    missing, other = place_faults(source_of(office.settings), Folder(copy))
    assert missing.startswith("1 photos in the copy")
    assert changed["sha256"][:12] in other
    assert "(width)" in other


def test_the_last_line_of_a_photo_counts_in_the_place_of_the_first(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    record_items(phone, day, 3)
    until_done(copier_of(office.settings, copy))
    first, second, third = map(unframed, (copy / "photos.jsonl").read_bytes().splitlines(keepends=True))
    again = [{**line, "offset": 1000 + number} for number, line in enumerate([second, first, second])]
    found = photo_lines([first, second, *again[:2], third, again[2]])
    assert list(found) == [again[1], again[2], third]
    found.put([again[0], {**third, "check": "none"}])
    assert list(found) == [again[1], again[0], {**third, "check": "none"}]


@pytest.mark.parametrize(
    "what", [{"offset": 2**63}, {"width": -1}, {"media_type": "\ud800"}, {"sha256": "A" * 64}]
)
def test_a_line_that_no_photo_has_names_none(
    what: dict[str, Any], office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    """Whoever can write to a copy may have put anything into it."""
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    (line,) = map(unframed, (copy / "photos.jsonl").read_bytes().splitlines(keepends=True))
    assert list(photo_lines([{**line, **what}])) == []
    assert list(photo_lines([line, {**line, **what}])) == [line]


WORDS, WORDS_LONG = 4_000, 1_000  # operations, and signs of each one's words: four million in all


def say_words(copy: Path, count: int) -> None:
    """Put so many further words of an owner into the copy that no phone said: rows that hang together, and lines."""
    folder = Folder(copy)
    head = head_of(folder)
    rows = [
        row for line in (copy / head.log.name).read_bytes().splitlines(True) for row in unframed(line)["rows"]
    ]
    last, template = rows[-1], next(row for row in rows if '"private_sha256"' in row["operation"])
    operation, answer = json.loads(template["operation"]), json.loads(template["answer"])
    seq, chain = last["office_seq"], last["chain"]
    device_seq = max(row["device_seq"] for row in rows if row["device_id"] == template["device_id"])
    log, words = [], []
    for number in range(1, count + 1):
        said = canonical({"salt": "ab" * 16, "value": f"{number} ".ljust(WORDS_LONG, "w")})
        operation |= {
            "operation_id": f"019ceb00-{number % 65536:04x}-7{number // 65536:03x}-8000-000000000000",
            "device_seq": device_seq + number,
            "private_sha256": digest(said.encode()),
        }
        text, told = canonical(operation), canonical(answer | {"operation_id": operation["operation_id"]})
        seq += 1
        chain = link(chain, seq, text, told, template["received_at"])
        ids = {name: operation[name] for name in ("operation_id", "device_seq")}
        row = {**template, **ids, "operation": text, "answer": told, "office_seq": seq, "chain": chain}
        log.append(framed({"rows": [row]}))
        words.append(framed({"operation_id": operation["operation_id"], "words": said}))
    update = {}
    for kind, lines in (("log", log), ("words", words)):
        before = getattr(head, kind)
        folder.append(before.name, before.bytes, b"".join(lines))
        size = before.bytes + sum(map(len, lines))
        update[kind] = Stretch(name=before.name, bytes=size, lines=before.lines + count)
    counted = {"serial": head.serial + 1, "office_seq": seq, "chain": chain}
    write_head(folder, head.model_copy(update={**update, **counted}))


@pytest.mark.parametrize("harm", ["whole", "broken"])
def test_who_restores_holds_neither_all_words_nor_what_stands_behind_a_break(
    harm: str, office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    before = head_of(Folder(copy)).office_seq
    say_words(copy, WORDS)
    if harm == "broken":
        log = (copy / "log.jsonl").read_bytes().splitlines(keepends=True)
        (copy / "log.jsonl").write_bytes(b"".join([*log[:before], *log[before + 1 :]]))
    reader = opened_copy(Folder(copy), None)
    tracemalloc.start()
    try:
        words, rows = reader.words(), WholeRows(reader)
        count = sum(1 for _ in rows)
        found = sum(1 for row in rows.rest if row["operation_id"] in words)
        _, most = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert (count, found) == ((before + WORDS, 0) if harm == "whole" else (before, WORDS - 1))
    assert len(words) > WORDS
    assert most < WORDS * WORDS_LONG / 4


def test_an_office_that_is_made_of_such_a_copy_has_all_of_it(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, tmp_path: Path
) -> None:
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    say_words(copy, 50)
    made = restored_from(copy, Settings(tmp_path / "made", clock=office.clock))
    assert (made.faults, made.operations) == ([], head_of(Folder(copy)).office_seq)
    with closing(sqlite3.connect(tmp_path / "made" / "intake.sqlite3")) as file:
        [(count,)] = file.execute("SELECT count(*) FROM private_words WHERE length(words) > 900")
    assert count == 50


def test_a_new_copy_is_not_looked_through_for_what_it_cannot_have(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its first step takes up all of the house's millions."""
    record_items(phone, day, 3)
    until_done(copier_of(office.settings, copy))
    name_photos(office.settings, copy, 20)
    asked: list[object] = []
    was_seen = PhotoLines.was_seen

    def counted(self: PhotoLines, sha256: object) -> bool | None:
        asked.append(sha256)
        return was_seen(self, sha256)

    monkeypatch.setattr(PhotoLines, "was_seen", counted)
    copier_of(office.settings, copy.with_name("another")).step()
    assert asked == []
    copier_of(office.settings, copy, begun=True).step()
    assert len(asked) >= 20, "one that was met is"
