"""`verify` looks at the copies in reach: they know what the office's own file can no longer tell."""

from __future__ import annotations

import asyncio
import errno
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from intake.commands import main
from intake.copies import checking, comparing
from intake.copies.asking import answer_in_pieces
from intake.copies.checking import look_at_copies, place_faults
from intake.copies.comparing import differences
from intake.copies.folder import Folder
from intake.copies.head import HEADS, Head, read_head
from intake.copies.places import Place, Reached, add_place, note_copy
from intake.copies.reading import head_of
from intake.copies.seal import make_key
from intake.copies.source import source_of
from intake.database import Writing, opened
from intake.settings import Settings
from intake.sync.chain import CHAIN_START, link
from intake.sync.rebuild import rebuild
from tests.conftest import Office
from tests.copies.tools import (
    copier_of,
    faults_of,
    flip,
    record_items,
    restored_from,
    spoil,
    until_done,
    watch_moments,
)
from tests.phone import Phone


def write(settings: Settings, job: Callable[[Writing], object]) -> None:
    """Somebody writes into the office's file."""

    async def work() -> None:
        async with opened(settings.database_file) as database:
            await database.write(job)

    asyncio.run(work())


def looked_at(settings: Settings) -> list[str]:
    return asyncio.run(look_at_copies(source_of(settings), 30)).faults


@pytest.fixture
def copied(office: Office, phone: Phone, day: dict[str, Any], tmp_path: Path) -> tuple[Settings, Path]:
    record_items(phone, day, 1)
    house = office.settings.data_folder / "house"
    house.mkdir()
    (house / "cautions.yaml").write_text("cautions: []\n")
    copy = tmp_path / "stick"
    until_done(copier_of(office.settings, copy))

    def note(tx: Writing) -> None:
        add_place(tx, str(copy), sealed=False, now="2026-03-14T18:00:00.000Z")
        note_copy(tx, Place(str(copy), False, True, Reached(), "a"), "2026-03-14T18:00:00.000Z")

    write(office.settings, note)
    assert looked_at(office.settings) == []
    return office.settings, copy


def test_a_log_cut_at_its_end_and_rebuilt_is_seen(copied: tuple[Settings, Path]) -> None:
    settings, _ = copied

    def job(tx: Writing) -> None:
        tx.run("DELETE FROM operation_log WHERE office_seq = (SELECT max(office_seq) FROM operation_log)")
        rebuild(tx)

    write(settings, job)
    assert faults_of(settings) == [], "by itself it hangs together"
    (fault,) = looked_at(settings)
    assert "its log was cut or rewritten" in fault
    assert "Do not rebuild" in fault


def cut_log(tx: Writing) -> None:
    tx.run("DELETE FROM operation_log WHERE office_seq = (SELECT max(office_seq) FROM operation_log)")


def test_where_a_copy_knows_what_was_cut_no_rebuild_is_advised_or_done(
    copied: tuple[Settings, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    """The tables have more than the log: a rebuild would take it away, and what is brought in be there already."""
    settings, copy = copied
    data = ["--data", str(settings.data_folder)]
    write(settings, cut_log)
    assert main(["verify", *data]) == 1
    said = capsys.readouterr().out
    assert "goes on to operation 7, and this office's ends at 6" in said
    assert "bring nothing in here" in said
    assert f"`intake restore {copy} --data NEW`" in said
    assert "rebuild` puts it right" not in said
    assert "bring-in" not in said
    assert main(["rebuild", *data]) == 1
    assert f"The copy in {copy} has another log than this office" in capsys.readouterr().err
    assert main(["copy", str(copy), "--no-longer", *data]) == 0
    capsys.readouterr()
    assert main(["rebuild", *data]) == 1, "what was cut off may stand in the tables alone"
    assert "The log ends with operation 6, and a record tells of operation 7" in capsys.readouterr().err


def test_photos_that_phones_sent_again_to_an_older_folder_are_no_fault(copied: tuple[Settings, Path]) -> None:
    """The copy's state of the office is a later one, and this is said once."""
    settings, _ = copied

    def put_back(tx: Writing) -> None:
        cut_log(tx)
        rebuild(tx)
        tx.run("UPDATE photo_file SET received_at = '2030-01-01T00:00:00.000Z'")

    write(settings, put_back)
    [fault] = looked_at(settings)
    assert "To keep this office: `intake bring-in" in fault
    write(settings, lambda tx: tx.run("UPDATE photo_file SET width = 9"))
    assert any("(received_at, width)" in one or "(width, received_at)" in one for one in looked_at(settings))


def test_verify_on_a_copy_says_what_it_is(
    copied: tuple[Settings, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    _, copy = copied
    assert main(["verify", "--data", str(copy)]) == 1
    said = capsys.readouterr().err
    assert f"There is a copy in {copy}, and no office." in said
    assert f"`intake restore {copy} --data NEW` checks all of it" in said


def test_a_chain_written_anew_is_seen(copied: tuple[Settings, Path]) -> None:
    settings, _ = copied

    def job(tx: Writing) -> None:
        chain = CHAIN_START
        for row in tx.all("SELECT * FROM operation_log ORDER BY office_seq"):
            received_at = "2020-01-01T00:00:00.000Z"
            chain = link(chain, row["office_seq"], row["operation"], row["answer"], received_at)
            tx.run(
                "UPDATE operation_log SET chain = :chain, received_at = :at WHERE office_seq = :seq",
                chain=chain,
                at=received_at,
                seq=row["office_seq"],
            )
        rebuild(tx)

    write(settings, job)
    assert faults_of(settings) == [], "by itself it hangs together"
    assert "rewritten" in looked_at(settings)[0]


def test_a_role_that_was_raised_is_seen(copied: tuple[Settings, Path]) -> None:
    settings, _ = copied
    write(settings, lambda tx: tx.run("UPDATE device SET role = 'manager'"))
    assert any("paired as manager, and as table" in fault for fault in looked_at(settings))


GHOST = """
    INSERT INTO device (device_id, name, role, key_sha256, paired_at)
    VALUES ('11111111-1111-4111-8111-111111111111', 'Ghost', 'manager', 'ab', '2026-03-14T08:00:00.000Z')
"""
#: What somebody with the office's file may do beside the log, and what of it a copy shows.
CHANGED = {
    "a ghost": (GHOST, "Ghost, paired as manager, is not in the copy"),
    "a device taken out": ("DELETE FROM device WHERE name = 'Table 1'", "Table 1 is in the copy"),
    "a device's key": (
        "UPDATE device SET key_sha256 = 'cd' WHERE name = 'Table 1'",
        "the key that it is known by",
    ),
    "a device's letters": ("UPDATE device SET letters = 'ZZ'", "its letters"),
    "a device's name": ("UPDATE device SET name = 'Door'", "its name"),
    "a device signed off": ("UPDATE device SET revoked_at = '2026-03-14T18:00:00.000Z'", "it was signed off"),
    "a photo's width": ("UPDATE photo_file SET width = 9", "(width)"),
    "a photo's time": ("UPDATE photo_file SET received_at = '2020'", "(received_at)"),
    "photos taken out": ("DELETE FROM photo_file", "photos in the copy"),
    "another epoch": ("UPDATE office SET epoch = 'another'", "another epoch"),
    "other numbers": ("UPDATE office SET first_serial = 7, last_serial = 9", "tag numbers"),
}


@pytest.mark.parametrize("what", CHANGED)
def test_what_was_changed_beside_the_log_is_seen_in_a_copy(copied: tuple[Settings, Path], what: str) -> None:
    settings, _ = copied
    sql, said = CHANGED[what]
    write(settings, lambda tx: tx.run(sql))
    assert any(said in fault for fault in looked_at(settings)), looked_at(settings)


def test_an_erasure_that_is_noted_no_more_is_seen_in_a_copy(
    copied: tuple[Settings, Path], manager: Phone, phone: Phone
) -> None:
    settings, copy = copied
    visit = next(one for one in phone.feed()["records"] if one["kind"] == "visit")
    manager.keep(("erase_consignor", {"visit_id": visit["record_id"]}))
    assert manager.push()[0]["outcome"] == "kept"
    until_done(copier_of(settings, copy, begun=True))
    assert looked_at(settings) == []
    write(settings, lambda tx: tx.run("DELETE FROM erased_words"))
    assert any("no longer does" in fault for fault in looked_at(settings))


def test_a_key_that_was_put_in_another_s_place_is_seen_in_a_sealed_copy(
    copied: tuple[Settings, Path], tmp_path: Path
) -> None:
    settings, _ = copied
    _, recipient = make_key()
    sealed = tmp_path / "sealed"
    until_done(copier_of(settings, sealed, seal_to=recipient))

    def note(tx: Writing) -> None:
        tx.run("DELETE FROM copy_place")
        add_place(tx, str(sealed), sealed=True, now="2026-03-14T18:00:00.000Z")
        tx.run("UPDATE copy_place SET begun = 1")
        tx.run("INSERT INTO copy_key (only_row, recipient) VALUES (1, :recipient)", recipient=recipient)

    write(settings, note)
    assert looked_at(settings) == []
    write(settings, lambda tx: tx.run("UPDATE copy_key SET recipient = :other", other=make_key()[1]))
    assert any("closed with another key" in fault for fault in looked_at(settings))


@pytest.mark.parametrize(
    ("sql", "said"),
    [
        (
            "CREATE TRIGGER t AFTER INSERT ON private_words BEGIN DELETE FROM private_words; END",
            "a trigger t that is none",
        ),
        ("CREATE TABLE notes (one TEXT)", "a table notes that is none"),
        ("ALTER TABLE device ADD COLUMN more TEXT", "a column device.more that is none"),
        ("DROP INDEX operation_log_by_record", "index operation_log_by_record is gone"),
        ("INSERT INTO private_words VALUES ('nobody', '{}')", "rows of private_words belong to no operation"),
        ("INSERT INTO set_aside VALUES ('nobody', '{}')", "rows of set_aside belong to no operation"),
    ],
)
def test_what_no_version_of_this_program_wrote_is_seen_without_a_copy(
    copied: tuple[Settings, Path], sql: str, said: str
) -> None:
    settings, _ = copied
    assert faults_of(settings) == []
    write(settings, lambda tx: tx.run(sql))
    assert any(said in fault for fault in faults_of(settings)), faults_of(settings)


@pytest.mark.parametrize(
    "name",
    [
        "log.jsonl",
        "words-0.jsonl",
        "photos.jsonl",
        "photos-0.pack",
        "plans.jsonl",
        "devices-*.json",
        "files-*.json",
        "house-*.json",
    ],
)
def test_damage_in_a_copy_is_said(copied: tuple[Settings, Path], name: str) -> None:
    settings, copy = copied
    (file,) = copy.glob(name)
    flip(file, 0 if name.endswith(".json") else 40)
    assert any("damaged" in fault for fault in looked_at(settings))
    file.unlink()
    assert any("cut" in fault for fault in looked_at(settings))


def test_a_byte_changed_in_a_sealed_photo_is_named(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    """Who cannot open it has the digest of its sealed bytes, whoever can is told by the seal itself."""
    record_items(phone, day, 3)
    secret, recipient = make_key()
    until_done(copier_of(office.settings, copy, seal_to=recipient))
    source = source_of(office.settings)
    assert place_faults(source, Folder(copy)) == list(
        differences(source, Folder(copy), head_of(Folder(copy)))
    )
    pack = copy / "photos-0.pack"
    flip(pack, pack.stat().st_size // 2)
    assert any("1 photos in the copy" in fault for fault in place_faults(source, Folder(copy)))
    restored = restored_from(copy, new, secret=secret)
    assert sum("is damaged or gone" in fault for fault in restored.faults) == 1


def test_a_bad_place_on_a_stick_is_a_damaged_photo_and_no_copy_that_is_away(
    copied: tuple[Settings, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    real = Folder.open

    def bad(folder: Folder, name: str) -> Any:
        if name.endswith(".pack"):
            raise OSError(errno.EIO, "Input/output error")
        return real(folder, name)

    monkeypatch.setattr(Folder, "open", bad)
    assert any("1 photos in the copy" in fault for fault in looked_at(copied[0]))


def test_a_copy_that_is_away_is_no_fault_and_is_not_called_well(
    copied: tuple[Settings, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    settings, copy = copied
    verify = ["verify", "--data", str(settings.data_folder)]
    assert main(verify) == 0
    assert capsys.readouterr().out.endswith(": all is well.\n")
    copy.rename(copy.with_name("elsewhere"))
    assert main(verify) == 0
    said = capsys.readouterr().out
    assert f"{copy} is not in reach" in said
    assert said.endswith(": all is well here; of the copies see above.\n")


def test_a_copy_whose_files_are_put_anew_meanwhile_is_looked_at_again(
    copied: tuple[Settings, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A serving office writes the words of a copy anew as some are erased, and the file before goes."""
    settings, copy = copied
    flip(copy / "photos-0.pack", 40)
    real, gone = Folder.open, [FileNotFoundError(name) for name in ("words", "words")]

    def rotated(folder: Folder, name: str) -> Any:
        if name.startswith("words") and gone:
            raise gone.pop()
        return real(folder, name)

    monkeypatch.setattr(Folder, "open", rotated)
    assert any("1 photos in the copy" in fault for fault in looked_at(settings))
    assert not gone


def test_words_that_are_put_anew_while_a_copy_is_looked_at_are_no_fault(
    copied: tuple[Settings, Path], phone: Phone, manager: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The head was read, then a serving office erased and paired, and the files that the head names are gone."""
    settings, copy = copied
    visit = next(one for one in phone.feed()["records"] if one["kind"] == "visit")
    before, copier, asked = head_of(Folder(copy)), copier_of(settings, copy, begun=True), []

    def go_on(folder: Folder) -> Head | None:
        asked.append(head := read_head(folder))
        if len(asked) == 1:
            manager.keep(("erase_consignor", {"visit_id": visit["record_id"]}))
            assert manager.push()[0]["outcome"] == "kept"
            until_done(copier)
        return head

    monkeypatch.setattr(checking, "read_head", go_on)
    assert looked_at(settings) == []
    assert not (copy / before.words.name).exists()


def test_a_device_that_is_paired_while_a_copy_is_looked_at_is_no_fault(
    copied: tuple[Settings, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The copy was read, then a device paired, then the tables are read."""
    settings, copy = copied
    real, copier, looks = comparing.devices_in, copier_of(settings, copy, begun=True), []

    def pair_meanwhile(folder: Folder, head: Head) -> Any:
        looks.append(found := real(folder, head))
        if len(looks) == 1:
            write(settings, lambda tx: tx.run(GHOST))
            until_done(copier)
        return found

    monkeypatch.setattr(comparing, "devices_in", pair_meanwhile)
    assert looked_at(settings) == []
    assert len(looks) == 2


@pytest.mark.parametrize(
    "name",
    [
        "head-0.json",
        "head-1.json",
        "log.jsonl",
        "words-0.jsonl",
        "photos.jsonl",
        "plans.jsonl",
        "devices",
        "files",
    ],
)
def test_a_bad_place_on_a_stick_is_a_fault_and_no_stick_that_is_away(
    copied: tuple[Settings, Path],
    name: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    settings, copy = copied
    head = head_of(Folder(copy))
    named = getattr(head, name).name if name in ("devices", "files") else name
    spoil(monkeypatch, named, range(10**9))
    assert main(["verify", "--data", str(settings.data_folder)]) == 1
    said = capsys.readouterr().out
    assert "not in reach" not in said
    assert f"{named} " in said
    assert "If it stays so, begin a copy on another one" in said


def test_a_copy_whose_heads_are_gone_is_a_fault_and_no_stick_that_is_away(
    copied: tuple[Settings, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    settings, copy = copied
    for name in HEADS:
        (copy / name).unlink()
    assert main(["verify", "--data", str(settings.data_folder)]) == 1
    assert "neither of its two heads is there and whole" in capsys.readouterr().out


def test_a_copy_that_may_not_be_read_is_a_fault_and_no_stick_that_is_away(
    copied: tuple[Settings, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: Any) -> Any:
        raise PermissionError(errno.EACCES, "Permission denied")

    for name in ("open", "read", "names"):
        monkeypatch.setattr(Folder, name, refuse)
    [fault] = looked_at(copied[0])
    assert "cannot be read (Permission denied)" in fault


def test_tables_that_say_no_office_are_told_in_words(
    copied: tuple[Settings, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    settings, copy = copied
    write(settings, lambda tx: tx.run("DELETE FROM office"))
    [fault] = looked_at(settings)
    assert "do not say which office" in fault
    assert main(["copy", str(copy), "--data", str(settings.data_folder)]) == 1
    assert "do not say which office" in capsys.readouterr().err
    assert main(["verify", "--data", str(settings.data_folder)]) == 1


@pytest.mark.parametrize("at", ["the head", "the log", "a photo"])
def test_a_copy_that_hangs_is_said_and_keeps_no_look_from_ending(
    copied: tuple[Settings, Path],
    at: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """What is read in the folder blocks, at once or after much was read, as on a stick that is half pulled out."""
    settings, copy = copied
    answers, begins = threading.Event(), {"the head": "head", "the log": "log", "a photo": "photos-0.pack"}

    def blocks(read: Callable[[Folder, str], Any]) -> Callable[[Folder, str], Any]:
        def reading(folder: Folder, name: str) -> Any:
            if name.startswith(begins[at]):
                assert answers.wait(10), "the look waited for the copy"
            return read(folder, name)

        return reading

    monkeypatch.setattr(Folder, "read", blocks(Folder.read))
    monkeypatch.setattr(Folder, "open", blocks(Folder.open))
    monkeypatch.setattr(checking, "SILENT_S", 0.2)
    assert main(["verify", "--data", str(settings.data_folder)]) == 0
    answers.set()
    told = capsys.readouterr().out
    assert f"{copy} does not answer" in told
    assert "all is well" in told, "of what the office has itself"


def test_nothing_is_asked_of_a_copy_while_the_tables_are_looked_at(
    copied: tuple[Settings, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A look takes as long as the stick does, and a serving office's write-ahead log grows as long as it is read."""
    asked = watch_moments(monkeypatch)
    assert looked_at(copied[0]) == []
    assert asked == []


async def test_a_slow_copy_is_waited_for_as_long_as_it_gives_something() -> None:
    """Each piece comes before it would be called silent, all of them long after."""
    elapsed, told, heard = [0.0], threading.Event(), []

    def question(answered: Callable[[], None]) -> int:
        for _ in range(10):
            elapsed[0] += 20
            answered()
        return 10

    assert await answer_in_pieces(question, "slow", 30, elapsed=lambda: elapsed[0]) == 10

    def slower(answered: Callable[[], None]) -> bool:
        while not told.is_set():
            answered()
        return True

    def on_wait() -> None:
        heard.append("still")
        told.set()

    try:
        assert await answer_in_pieces(slower, "slower", 0.05, on_wait=on_wait)
    finally:
        told.set()  # its thread would go on for as long as the process
    assert heard == ["still"]


async def test_what_goes_wrong_in_a_long_look_is_told() -> None:
    def question(answered: Callable[[], None]) -> int:
        raise TimeoutError("the network folder gave up")

    with pytest.raises(TimeoutError, match="the network folder gave up"):
        await answer_in_pieces(question, "away", 30)
