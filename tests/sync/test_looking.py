"""What `verify` sees that somebody changed in the office's file, beside what the chain covers by itself."""

from __future__ import annotations

import hashlib
import os
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from intake.commands import main
from intake.data_folder import check_tables
from intake.errors import CommandError
from intake.examination.plans import keep_plans, load_plans
from intake.photos.picture import Picture
from intake.photos.store import photo_file, record_file
from intake.sync.verified import NAME as NOTED
from intake.sync.verified import as_it_stands, still_stands
from intake.sync.verifying import find_faults, find_new_faults
from tests.builders import a_consignor, a_day, a_fact, a_photo, digest
from tests.conftest import Office
from tests.copies.tools import record_items
from tests.door import RECEIVED_AT, Door
from tests.phone import Phone

CONTENT = b"as if it were a picture"
NAME = hashlib.sha256(CONTENT).hexdigest()


def lain_for_an_hour(file: Path) -> None:
    then = int(file.stat().st_mtime) - 3600  # whole seconds, so that a minute after it is one
    os.utime(file, (then, then))


@pytest.fixture
async def looked_at(door: Door) -> Door:
    """An office with a name, a picture and its plans, in which all is well."""
    item = await door.item()
    await door.keep(a_consignor(item["visit_id"], "name", "Barnaby"))
    kind, photo = a_photo(door.ids, item["item_id"], CONTENT, CONTENT)
    await door.keep((kind, photo))
    await door.send({**door.make((kind, photo)), "surprise": 1})
    file = door.folder / NAME[:2] / NAME
    file.parent.mkdir()
    file.write_bytes(CONTENT)
    lain_for_an_hour(file)
    picture = Picture(NAME, len(CONTENT), "image/jpeg", 4, 3)
    await door.database.write(lambda tx: record_file(tx, picture, RECEIVED_AT))
    await door.database.write(lambda tx: keep_plans(tx, load_plans(None)))
    assert await door.faults() == []
    return door


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ("UPDATE operation_log SET device_id = 'another' WHERE office_seq = 2", "operation 2"),
        ("UPDATE operation_log SET device_seq = 90 WHERE office_seq = 2", "operation 2"),
        ("UPDATE operation_log SET operation_id = 'another' WHERE office_seq = 2", "operation 2"),
        ("UPDATE operation_log SET record_id = 'another' WHERE office_seq = 2", "operation 2"),
        ("UPDATE operation_log SET record_id = 'another' WHERE operation_id LIKE 'aside-%'", "operation 6"),
        ("UPDATE operation_log SET chain = 'no chain' WHERE office_seq = 2", "Operation 2"),
        (
            "UPDATE plan_version SET body = '{}' WHERE class_id = (SELECT min(class_id) FROM plan_version)",
            "plan",
        ),
        ("UPDATE plan_version SET body = replace(body, 'handle', 'candle')", "plan"),
        ("DELETE FROM photo_file", "row is gone"),
        ("UPDATE photo_file SET bytes = 1", "bytes"),
        ("DELETE FROM office", "which office this is"),
        ("UPDATE private_words SET words = substr(words, 1, 9)", "Operation 4"),
        ("UPDATE set_aside SET content = substr(content, 1, 9)", "set-aside words of operation 6"),
    ],
)
async def test_a_change_in_the_file_is_seen(looked_at: Door, change: str, word: str) -> None:
    await looked_at.database.write(lambda tx: tx.run(change))
    assert any(word in fault for fault in await looked_at.faults()), await looked_at.faults()


@pytest.mark.parametrize(
    ("table", "change"),
    [
        ("record", "UPDATE record SET body = replace(body, 'item', 'itum') WHERE kind = 'item'"),
        ("record_part", "UPDATE record_part SET fields = replace(fields, 'Barnaby', 'Barnabas')"),
        ("field", "DELETE FROM field WHERE name = 'consignor/name'"),
        ("field", "UPDATE field SET agreed = '{}' WHERE name = 'consignor/name'"),
        (
            "disagreement",
            "INSERT INTO disagreement SELECT operation_id, record_id, name, 1, '{}', '{}', NULL FROM field LIMIT 1",
        ),
        ("tag", "INSERT INTO tag SELECT 'ABCDEF', record_id, operation_id FROM field LIMIT 1"),
        ("roll", "INSERT INTO roll VALUES ('roll', 1, 2)"),
        ("spoiled_tag", "INSERT INTO spoiled_tag VALUES ('ABCDEF')"),
        ("erasure", "INSERT INTO erasure VALUES ('visit', 1, '', '', 1)"),
        ("photo_of", "UPDATE photo_of SET record_id = 'another'"),
        ("custody_move", "INSERT INTO custody_move VALUES (1, 'item', NULL, 'van', '')"),
        ("entry", "UPDATE entry SET photo_count = 7"),
        ("entry_words", "UPDATE entry_words SET marks = marks || ' stopped'"),
        ("entry_words", "INSERT INTO entry_words (rowid, words, marks) VALUES (99, 'a', 'b')"),
        ("visit_word", "UPDATE visit_word SET visit_id = 'another'"),
    ],
)
async def test_a_table_that_says_other_than_the_log_is_named(
    looked_at: Door, table: str, change: str
) -> None:
    """It alone: a row changed, gone, or there beside the others."""
    await looked_at.database.write(lambda tx: tx.run(change))
    assert [fault.split()[2] for fault in await looked_at.faults()] == [table]
    await looked_at.rebuild()
    assert await looked_at.faults() == []


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE operation_log SET operation = '{' WHERE office_seq = 2",
        "UPDATE operation_log SET operation = '[]' WHERE office_seq = 2",
        """UPDATE operation_log SET operation = '{"kind": "set_item"}' WHERE office_seq = 2""",
        "UPDATE operation_log SET answer = 'kept' WHERE office_seq = 2",
        "UPDATE operation_log SET answer = '{}' WHERE office_seq = 2",
    ],
)
async def test_a_row_that_says_nothing_any_more_is_told_in_words(looked_at: Door, change: str) -> None:
    """And a rebuild is advised against, since the tables have what the row lost."""
    await looked_at.database.write(lambda tx: tx.run(change))
    faults = await looked_at.faults()
    assert "Operation 2 was changed after it was logged." in faults
    assert all("do not rebuild" in fault for fault in faults if "table" in fault)


def test_rows_that_others_speak_of_and_that_may_be_lost_are_told(
    office: Office, manager: Phone, phone: Phone, item: dict[str, Any], capsys: pytest.CaptureFixture[str]
) -> None:
    """A device that sent something, and the plan that an item was made with. Neither need be a loss: it is no fault."""
    version = office.ask("SELECT version FROM plan_version WHERE class_id = 'clock'")[0][0]
    for field, value in (("class_id", "clock"), ("plan_version", version)):
        phone.keep(a_fact(item["item_id"], field, value))
    phone.push()
    office.end()
    folder = str(office.settings.data_folder)
    assert main(["verify", "--data", folder]) == 0
    assert "not known here" not in (well := capsys.readouterr().out)
    assert "not kept here" not in well
    office.change("DELETE FROM device WHERE device_id = ?", phone.device_id)
    office.change("DELETE FROM plan_version WHERE class_id = 'clock'")
    assert main(["verify", "--data", folder]) == 0
    told = capsys.readouterr().out
    assert "1 device that sent something: not known here." in told
    assert "1 version of plans that records were made with: not kept here." in told


async def test_looking_leaves_the_file_as_it_is(looked_at: Door) -> None:
    """What is applied anew goes into tables of its own, also where the office's are another version's."""
    await looked_at.database.write(lambda tx: tx.run("UPDATE entry SET photo_count = 7"))
    before = await looked_at.digests()
    assert await looked_at.faults()
    assert await looked_at.digests() == before


async def test_a_folder_in_a_photo_s_place_is_said(looked_at: Door) -> None:
    file = looked_at.folder / NAME[:2] / NAME
    file.unlink()
    file.mkdir()
    assert [fault for fault in await looked_at.faults() if NAME[:12] in fault]


LATER = "f" * 64


async def test_what_came_since_all_was_well_is_looked_at_alone(looked_at: Door) -> None:
    """A change before it is for a whole look; one behind it is seen, and so is a log that was written anew."""
    database, item = looked_at.database, await looked_at.item()
    verified = await database.read(lambda tx: as_it_stands(tx, RECEIVED_AT))
    heard: list[tuple[str, int, int]] = []

    async def faults() -> list[str]:
        return await find_new_faults(
            database, looked_at.folder, verified, heard=lambda *one: heard.append(one)
        )

    await looked_at.keep(a_fact(item["item_id"], "maker", "unmarked"))
    await looked_at.keep(a_consignor(item["visit_id"], "name", "Winifred"))
    assert await faults() == []
    await database.write(lambda tx: tx.run("UPDATE operation_log SET device_seq = 90 WHERE office_seq = 2"))
    assert await faults() == []
    assert len(await looked_at.faults()) == 1
    await database.write(lambda tx: tx.run("UPDATE private_words SET words = '{}'"))
    assert [fault for fault in await faults() if "personal words" in fault]
    (looked_at.folder / NAME[:2] / NAME).write_bytes(b"another")
    assert not [fault for fault in await faults() if NAME[:12] in fault]
    await database.write(
        lambda tx: tx.run(
            """
            INSERT INTO photo_file (sha256, bytes, media_type, width, height, received_at)
            SELECT :later, bytes, media_type, width, height, '2001-01-01T00:00:00.000Z' FROM photo_file
            """,
            later=LATER,
        )
    )
    assert [fault for fault in await faults() if LATER[:12] in fault], (
        "the office's clock was put back meanwhile"
    )
    assert ("photos", 0, 1) in heard
    await database.write(
        lambda tx: tx.run(
            "DELETE FROM operation_log WHERE office_seq = (SELECT max(office_seq) FROM operation_log)"
        )
    )
    assert [fault for fault in await faults() if "its end was cut off" in fault]
    await database.write(lambda tx: tx.run("UPDATE operation_log SET chain = '0'"))
    assert not await database.read(lambda tx: still_stands(tx, verified))


def test_a_look_goes_on_from_the_last_good_one(office: Office, item: dict[str, Any], capsys: Any) -> None:
    """Until something is wrong: then nothing is noted, and the next look finds it again."""
    new = ["verify", "--new", "--data", str(office.settings.data_folder)]
    assert main(new) == 0
    assert "all is looked at" in capsys.readouterr().out
    assert main(new) == 0
    assert "0 operations since" in capsys.readouterr().out
    another = office.pair("manager", "another")
    another.keep(a_day(office.ids))
    another.push()
    office.change(
        "UPDATE operation_log SET device_seq = 90 WHERE office_seq = (SELECT max(office_seq) FROM operation_log)"
    )
    for _ in range(2):
        assert main(new) == 1
    (office.settings.data_folder / NOTED).write_text("{", "utf-8")
    main(new)
    assert "all is looked at" in capsys.readouterr().out


def test_a_photo_whose_row_went_is_missed_by_a_look_at_what_is_new(
    office: Office, phone: Phone, day: dict[str, Any], capsys: Any
) -> None:
    """And the next look misses it again."""
    new = ["verify", "--new", "--data", str(office.settings.data_folder)]
    record_items(phone, day, 1, seed=1)
    assert main(new) == 0
    (photo,) = record_items(phone, day, 1, seed=2)
    office.change("DELETE FROM photo_file WHERE sha256 = ?", digest(photo))
    lain_for_an_hour(photo_file(office.settings.photos_folder, digest(photo)))
    capsys.readouterr()
    for _ in range(2):
        assert main(new) == 1
        assert (
            f"{digest(photo)[:12]}… lies in the photo folder, and its row is gone" in capsys.readouterr().out
        )


async def test_a_photo_that_waits_for_its_row_is_no_fault(looked_at: Door) -> None:
    """An office that serves puts the file in its place first. Whoever looks a minute later sees what is missing."""
    verified = await looked_at.database.read(lambda tx: as_it_stands(tx, RECEIVED_AT))
    await looked_at.database.write(lambda tx: tx.run("DELETE FROM photo_file"))
    came = datetime.fromtimestamp(photo_file(looked_at.folder, NAME).stat().st_mtime, UTC)

    async def faults(seconds: float) -> list[list[str]]:
        how: Any = {"clock": lambda: came + timedelta(seconds=seconds)}
        return [
            await find_faults(looked_at.database, looked_at.folder, **how),
            await find_new_faults(looked_at.database, looked_at.folder, verified, **how),
        ]

    assert await faults(59) == [[], []]
    for [fault] in await faults(60):
        assert "its row is gone" in fault


def test_photos_that_took_the_places_of_others_are_looked_at(
    office: Office, phone: Phone, day: dict[str, Any], capsys: Any
) -> None:
    """Tables with the same log and fewer photos were put back: the same photos came again, in another order."""
    new = ["verify", "--new", "--data", str(office.settings.data_folder)]
    _, second, third = record_items(phone, day, 3)
    assert main(new) == 0
    assert main(new) == 0
    assert "0 operations since" in capsys.readouterr().out
    office.change("DELETE FROM photo_file WHERE sha256 IN (?, ?)", digest(second), digest(third))
    for photo in (third, second):
        assert phone.bundle([photo], operations=[]).json()["photos"][0]["outcome"] == "kept"
    photo_file(office.settings.photos_folder, digest(second)).write_bytes(b"another")
    assert main(new) == 1
    assert f"{digest(second)[:12]}… was changed on the disk" in capsys.readouterr().out


def test_a_file_of_no_bytes_is_no_new_office(tmp_path: Path) -> None:
    file = tmp_path / "intake.sqlite3"
    file.touch()
    with pytest.raises(CommandError, match="is empty"):
        check_tables(file)
    assert file.stat().st_size == 0
