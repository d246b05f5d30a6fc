"""An office made from a copy is the office up to the copy's head; what does not hold is said."""

from __future__ import annotations

import asyncio
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from intake.commands import main
from intake.copies.bring_in import bring_in
from intake.copies.folder import Folder, InUse
from intake.copies.head import Stretch, framed, unframed, write_head
from intake.copies.new_folder import OfficeInTheWay, check_new_folder
from intake.copies.places import FormerCopy, former_copies, set_copy_key
from intake.copies.reading import COUNTED, head_of, stretch_lines
from intake.copies.restore import write_files
from intake.copies.seal import WrongKey, make_key
from intake.copies.source import office_of
from intake.copies.states import CopyTrouble, State
from intake.data_folder import check_may_begin
from intake.database import opened, snapshot
from intake.errors import CommandError
from intake.settings import Settings
from intake.sync.rebuild import rebuild
from tests.conftest import Office, running
from tests.copies.tools import (
    OWNER_NAME,
    OWNER_PHONE,
    bytes_below,
    contents,
    copier_of,
    erase,
    faults_of,
    flip,
    record_items,
    restored_from,
    until_done,
)
from tests.phone import Phone


def test_a_restored_office_is_equal_and_of_a_new_epoch(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    record_items(phone, day, 3)
    until_done(copier_of(office.settings, copy))
    told = restored_from(copy, new)
    assert told.faults == []
    assert contents(new) == contents(office.settings)
    assert faults_of(new) == []
    epoch = phone.client.get("/pairing/me").json()["epoch"]
    with running(new, office.clock, office.ids) as again:
        client = again.client()
        client.cookies.set("intake", phone.client.cookies["intake"])
        me = client.get("/pairing/me").json()
        assert (me["device_id"], me["role"]) == (phone.device_id, "table"), "the phone is still paired"
        assert me["epoch"] != epoch


def test_what_nobody_could_read_is_restored_and_erased_like_words(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings, tmp_path: Path
) -> None:
    record_items(phone, day, 1)
    (visit,) = [row[4] for row in contents(office.settings)["log"] if '"kind":"open_visit"' in row[5]]
    phone.keep(("whisper_name", {"visit_id": visit, "name": OWNER_NAME + " again"}))
    assert phone.push()[0]["outcome"] == "refused"
    copier = copier_of(office.settings, copy)
    until_done(copier)
    assert restored_from(copy, new).faults == []
    assert contents(new)["aside"] == contents(office.settings)["aside"] != []
    assert faults_of(new) == []
    erase(office.settings, visit)
    until_done(copier)
    assert OWNER_NAME.encode() not in bytes_below(copy)
    assert restored_from(copy, Settings(tmp_path / "later", clock=office.clock)).faults == []


def test_a_restored_office_knows_the_other_copies_and_owes_them_what_is_erased(
    office: Office, phone: Phone, day: dict[str, Any], tmp_path: Path, new: Settings
) -> None:
    """One copy was given to it; the others lie somewhere with words that may be erased from now on."""
    record_items(phone, day, 1)
    sticks = [tmp_path / name for name in ("first", "second")]
    for stick in (*sticks, sticks[0]):
        assert main(["copy", str(stick), "--data", str(office.settings.data_folder)]) == 0
    restored = restored_from(sticks[0], new)
    assert restored.other_copies == [str(sticks[1])]
    (visit,) = (record for record in phone.feed(0)["records"] if record["kind"] == "visit")
    assert erase(new, visit["record_id"]) > 1, "name and telephone, of one owner"

    async def former() -> list[FormerCopy]:
        async with opened(new.database_file) as database:
            return await database.read(former_copies)

    def owed() -> dict[str, int]:
        return {one.folder: one.erasures for one in asyncio.run(former())}

    whole_at = {one.folder: one.complete_at for one in asyncio.run(former())}
    assert whole_at == {str(sticks[0]): head_of(Folder(sticks[0])).complete_at, str(sticks[1]): None}
    assert owed() == {str(stick): 1 for stick in sticks}
    for stick in sticks:
        assert main(["copy", str(stick), "--data", str(new.data_folder)]) == 0
    assert set(owed().values()) == {0}


def test_devices_can_be_forgotten(office: Office, phone: Phone, copy: Path, new: Settings) -> None:
    until_done(copier_of(office.settings, copy))
    assert len(restored_from(copy, new, keep_devices=False).devices) == 0
    assert contents(new)["devices"] == []


def test_the_house_s_own_files_come_back(office: Office, copy: Path, new: Settings) -> None:
    house = office.settings.data_folder / "house" / "plans"
    house.mkdir(parents=True)
    (house / "teapots.yaml").write_text("class_id: teapots\n")
    until_done(copier_of(office.settings, copy))
    restored_from(copy, new)
    assert (new.data_folder / "house" / "plans" / "teapots.yaml").read_text() == "class_id: teapots\n"


def test_the_hall_s_keys_travel_in_sealed_copies_only(
    office: Office, copy: Path, new: Settings, tmp_path: Path
) -> None:
    """With its key phones trust the restored office at once; on an open stick it would let a thief stand in for it."""
    hall = office.settings.data_folder / "hall"
    hall.mkdir()
    (hall / "server-key.pem").write_text("the key of the hall")
    until_done(copier_of(office.settings, copy))
    assert b"server-key" not in bytes_below(copy)
    sealed = tmp_path / "sealed"
    secret = sealed_copy(office, sealed)
    restored_from(sealed, new, secret=secret)
    key = new.data_folder / "hall" / "server-key.pem"
    assert key.read_text() == "the key of the hall"
    assert key.stat().st_mode & 0o077 == 0


def test_a_file_s_name_never_leads_out_of_the_office(tmp_path: Path) -> None:
    """Whoever wrote the copy wrote the names as well."""
    names = [
        "",
        "house/../../out",
        "/house/x",
        "hall/key",
        "house\\..\\x",
        "other/x",
        "house/plans/teapots.yaml",
    ]
    written = write_files(tmp_path / "office", dict.fromkeys(names, "eA=="), keys=False)
    assert written == [tmp_path / "office" / "house" / "plans" / "teapots.yaml"]
    assert [file for file in tmp_path.rglob("*") if file.is_file()] == written


def test_words_that_one_copy_lost_are_brought_in_from_another(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings, tmp_path: Path
) -> None:
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    shutil.copytree(copy, tmp_path / "whole")
    (copy / head_of(Folder(copy)).words.name).unlink()
    told = restored_from(copy, new)
    assert any("words" in fault for fault in told.faults)
    assert any("bring-in" in fault for fault in faults_of(new))
    done, _, _ = asyncio.run(bring_in(Folder(tmp_path / "whole"), new, secret=None))
    assert (done.words, done.kept) == (3, 0)
    assert faults_of(new) == []
    assert {row[:4] for row in contents(new)["field"]} == {
        row[:4] for row in contents(office.settings)["field"]
    }


def test_an_office_is_never_written_over(office: Office, copy: Path) -> None:
    until_done(copier_of(office.settings, copy))
    before = contents(office.settings)
    with pytest.raises(OfficeInTheWay):
        restored_from(copy, office.settings)
    assert contents(office.settings) == before


@pytest.mark.parametrize(
    "within", ["copy", "copy/office", ".", "by-link/office", "another", "another/before-1/office"]
)
def test_an_office_is_never_made_beside_a_copy_and_nothing_is_left_there(
    office: Office,
    phone: Phone,
    day: dict[str, Any],
    tmp_path: Path,
    within: str,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """It would be lost with the copy; on a sealed stick an owner's name would stand open beside what is closed. And a
    copy with other things in it is gone on with by nobody."""
    record_items(phone, day, 1)
    recipient, stick = make_key()[1], tmp_path / "stick"
    stick.mkdir()
    for name in ("copy", "another"):
        until_done(copier_of(office.settings, stick / name, seal_to=recipient))
    (stick / "by-link").symlink_to(stick / "copy")
    before = sorted(stick.rglob("*")), bytes_below(stick)
    assert main(["restore", str(stick / "copy"), "--data", str(stick / within)]) == 1
    assert "one in the other. Nothing was changed." in capsys.readouterr().err
    assert (sorted(stick.rglob("*")), bytes_below(stick)) == before
    with pytest.raises(OfficeInTheWay, match="one in the other"):
        check_new_folder(Settings(stick / within), Folder(stick / "copy"))


@pytest.mark.parametrize("end", ["-wal", "-shm", "-journal"])
def test_what_an_engine_left_of_an_office_that_is_gone_is_never_mixed_in(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings, end: str
) -> None:
    """The folder of a database that was lost: its write-ahead log is still there, and fits no other database."""
    record_items(phone, day, 2)
    until_done(copier_of(office.settings, copy))
    new.data_folder.mkdir()
    left = new.data_folder / f"{new.database_file.name}{end}"
    left.write_bytes(
        office.settings.database_file.with_name(f"{office.settings.database_file.name}-wal").read_bytes()
    )
    with pytest.raises(OfficeInTheWay) as told:
        restored_from(copy, new)
    assert left.name in told.value.detail
    assert [one.name for one in new.data_folder.iterdir()] == [left.name]
    left.unlink()
    assert restored_from(copy, new).faults == []


def test_an_office_that_is_not_what_was_made_is_put_aside(
    office: Office,
    phone: Phone,
    day: dict[str, Any],
    copy: Path,
    new: Settings,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A disk that loses what it was given: the result is opened before anybody is told that it is good."""
    record_items(phone, day, 2)
    until_done(copier_of(office.settings, copy))

    def lose_some(folder: Path) -> None:
        file = folder / new.database_file.name
        if file.exists():
            content = file.read_bytes()
            file.write_bytes(content[: len(content) // 2] + bytes(len(content) - len(content) // 2))

    with monkeypatch.context() as patched:
        patched.setattr("intake.copies.restore.sync_folder", lose_some)
        with pytest.raises(CopyTrouble):
            restored_from(copy, new)
    assert not new.database_file.exists()
    assert restored_from(copy, new).faults == []


def test_no_copy_is_said(new: Settings, copy: Path) -> None:
    with pytest.raises(CopyTrouble) as told:
        restored_from(copy, new)
    assert told.value.state is State.MISSING
    assert not new.data_folder.exists()


def test_an_interrupted_restore_is_begun_again(
    office: Office,
    phone: Phone,
    day: dict[str, Any],
    copy: Path,
    new: Settings,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """It stops before the office has its name: there is no office until all of it is there."""
    record_items(phone, day, 2)
    until_done(copier_of(office.settings, copy))
    with monkeypatch.context() as patched:
        patched.setattr("intake.copies.restore.write_files", interrupt)
        with pytest.raises(KeyboardInterrupt):
            restored_from(copy, new)
    assert not new.database_file.exists()
    with pytest.raises(CommandError) as told:
        check_may_begin(new)
    assert "was interrupted" in told.value.detail
    assert f"`intake restore COPY --data {new.data_folder}`" in told.value.hint
    assert restored_from(copy, new).faults == []
    check_may_begin(new)
    assert contents(new) == contents(office.settings)
    assert list(new.data_folder.glob("restoring*")) == []


def interrupt(*_: object, **__: object) -> None:
    raise KeyboardInterrupt


def test_a_damaged_operation_costs_what_hangs_on_it_and_no_more(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    """The last fact of the first item is damaged; everything behind it is taken in anew, in a new order."""
    record_items(phone, day, 2, seed=1)
    record_items(phone, day, 1, seed=2)
    until_done(copier_of(office.settings, copy))
    rows = contents(office.settings)["log"]
    broken = next(row for row in rows if '"jug 1-0"' in row[5])
    log = (copy / "log.jsonl").read_bytes()
    flip(copy / "log.jsonl", log.index(b"jug 1-0"))
    told = restored_from(copy, new)
    assert told.operations == broken[0] - 1
    assert told.brought_in.kept == len(rows) - broken[0]
    assert any(f"up to operation {broken[0] - 1} of {len(rows)}" in fault for fault in told.faults)
    assert {row[1] for row in contents(new)["log"]} == {row[1] for row in rows} - {broken[1]}
    assert faults_of(new) == []


def test_a_row_that_was_changed_with_its_check_is_noticed_by_the_chain(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    """Somebody with the stick writes other words into the log, and a check that fits them."""
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    lines = (copy / "log.jsonl").read_bytes().splitlines(keepends=True)
    place = next(at for at, line in enumerate(lines) if b"jug 0-0" in line)
    value = unframed(lines[place])
    value["rows"][0]["operation"] = value["rows"][0]["operation"].replace("jug 0-0", "mug 0-0")
    lines[place] = framed(value)
    (copy / "log.jsonl").write_bytes(b"".join(lines))
    told = restored_from(copy, new)
    assert told.operations == place
    assert any(f"up to operation {place}" in fault for fault in told.faults)


def edit(file: Path, line: int, change: Callable[[dict[str, Any]], object]) -> None:
    """Somebody who knows the format changes a line, and renews its check."""
    lines = file.read_bytes().splitlines(keepends=True)
    value = unframed(lines[line])
    change(value)
    lines[line] = framed(value)
    file.write_bytes(b"".join(lines))
    grow = {kind: file.stat().st_size for kind in ("log", "photos", "plans") if f"{kind}.jsonl" == file.name}
    edit_head(file.parent, grow)


def edit_head(copy: Path, sizes: dict[str, int], **changes: Any) -> None:
    head = head_of(Folder(copy))
    grown = {kind: getattr(head, kind).model_copy(update={"bytes": size}) for kind, size in sizes.items()}
    write_head(Folder(copy), head.model_copy(update={**grown, **changes}))


@pytest.mark.parametrize(
    ("column", "value"), [("operation_id", "x"), ("device_id", "x"), ("device_seq", 90), ("record_id", "x")]
)
def test_what_stands_beside_an_operation_is_put_right_from_its_text(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings, column: str, value: Any
) -> None:
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    edit(copy / "log.jsonl", 2, lambda line: line["rows"][0].update({column: value}))
    told = restored_from(copy, new)
    assert any("beside operation 3" in fault for fault in told.faults)
    assert contents(new)["log"] == contents(office.settings)["log"]


@pytest.mark.parametrize(
    ("name", "change"),
    [
        ("log.jsonl", lambda line: line["rows"][0].pop("device_id")),
        ("log.jsonl", lambda line: line["rows"][0].update(operation="no JSON")),
        ("log.jsonl", lambda line: line["rows"][0].update(answer="[]")),
        ("log.jsonl", lambda line: line["rows"].append(line["rows"][0])),
        ("log.jsonl", lambda line: line.update(rows="none")),
        ("log.jsonl", lambda line: line["rows"][0].update(office_seq="3")),
        ("photos.jsonl", lambda line: line.pop("offset")),
        ("photos.jsonl", lambda line: line.update(bytes="many")),
        ("plans.jsonl", lambda line: line.pop("body")),
    ],
)
def test_a_line_that_is_none_costs_a_sentence_and_no_more(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings, name: str, change: Any
) -> None:
    record_items(phone, day, 3)
    until_done(copier_of(office.settings, copy))
    edit(copy / name, 2, change)
    told = restored_from(copy, new)
    assert told.faults != []
    assert told.operations >= 2
    assert new.database_file.exists()


def test_a_head_that_claims_any_number_of_lines_is_read_in_no_time(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    claimed = Stretch(name="log.jsonl", bytes=10**15, lines=10**12)
    edit_head(copy, {}, log=claimed)
    assert sum(1 for _ in stretch_lines(Folder(copy), head_of(Folder(copy)).log)) <= COUNTED + 20


def test_pictures_that_records_name_and_the_copy_has_not_are_counted(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    """A copy that was never finished says so when it is needed."""
    record_items(phone, day, 2)
    copier = copier_of(office.settings, copy)
    until_done(copier)
    edit_head(copy, {}, photos=Stretch(name="photos.jsonl"))
    assert restored_from(copy, new).photos_missing == 2


def test_words_that_were_changed_with_their_check_are_not_taken(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    words = head_of(Folder(copy)).words.name
    lines = (copy / words).read_bytes().splitlines(keepends=True)
    changed = [unframed(line) for line in lines]
    for value in changed:
        value["words"] = value["words"].replace("Dunnock", "Durnock")
    (copy / words).write_bytes(b"".join(framed(value) for value in changed))
    assert any("changed" in fault for fault in restored_from(copy, new).faults)
    assert not any("Durnock" in row[1] for row in contents(new)["words"])


def test_a_damaged_photo_is_named_and_the_others_are_kept(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    record_items(phone, day, 3)
    until_done(copier_of(office.settings, copy))
    flip(copy / "photos-0.pack", 50)
    told = restored_from(copy, new)
    assert told.photos == 2
    assert sum("photo" in fault and "damaged" in fault for fault in told.faults) == 1
    assert told.photos_missing == 0, "it is told once, and for what it is"
    assert faults_of(new) == []


def test_photos_on_damaged_lines_are_not_said_to_be_with_phones_alone(
    office: Office,
    phone: Phone,
    day: dict[str, Any],
    copy: Path,
    new: Settings,
    capsys: pytest.CaptureFixture[str],
) -> None:
    record_items(phone, day, 3)
    until_done(copier_of(office.settings, copy))
    flip(copy / "photos.jsonl", 50)
    assert main(["restore", str(copy), "--data", str(new.data_folder)]) == 1
    told = capsys.readouterr().out
    assert (
        "Pictures that records name and the copy has not, 1 in all: they stood on its damaged lines" in told
    )
    assert "Who read which owner's words is in no copy" in told


def test_lost_words_are_told_by_the_owner_s_ticket(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    """Two owners, of one of whom the name is still there: nobody knows a person by the number of an operation."""
    record_items(phone, day, 1, seed=1)
    record_items(phone, day, 1, seed=2)
    until_done(copier_of(office.settings, copy))
    words = (copy / "words-0.jsonl").read_bytes()
    flip(copy / "words-0.jsonl", words.index(OWNER_PHONE.encode()))
    told = restored_from(copy, new)
    log = {row[1]: row[0] for row in contents(office.settings)["log"]}
    (lost,) = {row[0] for row in contents(office.settings)["words"]} - {
        row[0] for row in contents(new)["words"]
    }
    assert (
        f"The personal words of the owner with ticket Q01, {OWNER_NAME} (operation {log[lost]}) are missing. Ask the "
        "owner again, or let the phone that took them send them if it still can." in told.faults
    )


#: What `verify` goes on to miss in an office made from a copy without this file.
LOST = {"words-0.jsonl": "personal words"}
GONE = {**LOST, "log.jsonl": "Nothing is on record here"}


def only_lost(faults: list[str], name: str, lost: dict[str, str] = LOST) -> bool:
    """Whether `verify` names what was lost with a file of the copy, and nothing else."""
    named = lost.get(name)
    return faults == [] if named is None else faults != [] and all(named in fault for fault in faults)


@pytest.mark.parametrize(
    "name", ["log.jsonl", "photos.jsonl", "plans.jsonl", "words-0.jsonl", "photos-0.pack"]
)
def test_a_file_that_is_gone_is_said_and_the_rest_is_restored(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings, name: str
) -> None:
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    (copy / name).unlink()
    assert restored_from(copy, new).faults != []
    assert new.database_file.exists()
    assert only_lost(faults_of(new), name, GONE)


@pytest.mark.parametrize(
    "name", ["log.jsonl", "photos.jsonl", "plans.jsonl", "words-0.jsonl", "photos-0.pack"]
)
def test_a_file_cut_short_is_said(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings, name: str
) -> None:
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    file = copy / name
    file.write_bytes(file.read_bytes()[:-20])
    assert restored_from(copy, new).faults != []
    assert only_lost(faults_of(new), name)


def test_phones_bring_what_came_after_the_copy(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    record_items(phone, day, 1, seed=1)
    until_done(copier_of(office.settings, copy))
    restored_from(copy, new)
    with running(new, office.clock, office.ids) as again:
        client = again.client()
        client.cookies.set("intake", phone.client.cookies["intake"])
        phone.client = client
        record_items(phone, day, 2, seed=2)
        assert again.faults() == []


# -- sealed


def sealed_copy(office: Office, copy: Path) -> str:
    secret, recipient = make_key()
    until_done(copier_of(office.settings, copy, seal_to=recipient))
    return secret


def test_a_sealed_copy_tells_nothing_and_opens_with_its_key(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    photos = record_items(phone, day, 2)
    secret = sealed_copy(office, copy)
    found = bytes_below(copy)
    plain_in = bytes_below(office.settings.data_folder)
    for word in (OWNER_NAME, OWNER_PHONE, "jug 0-1", "Old Corn Hall", "Hester Quillfeather", "Table 1"):
        assert word.encode() in plain_in, "the check would find it"
        assert word.encode() not in found
    assert not any(photo[100:160] in found for photo in photos)
    assert restored_from(copy, new, secret=secret).faults == []
    assert contents(new) == contents(office.settings)


def test_a_sealed_copy_is_an_age_file_in_every_part(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    """Source: age-encryption.org/v1: a file begins with that line, and names no recipient's key in the clear."""
    record_items(phone, day, 1)
    sealed_copy(office, copy)
    assert (copy / "photos-0.pack").read_bytes().startswith(b"age-encryption.org/v1\n-> X25519 ")
    head = head_of(Folder(copy))
    assert head.devices is not None
    assert (copy / head.devices.name).read_bytes().startswith(b"age-encryption.org/v1\n")


def test_a_wrong_key_gets_words(office: Office, copy: Path, new: Settings) -> None:
    sealed_copy(office, copy)
    for wrong, word in ((None, "no key"), ("open sesame", "58 signs"), (make_key()[0], "sealed to")):
        with pytest.raises(WrongKey, match=word):
            restored_from(copy, new, secret=wrong)
    assert not new.data_folder.exists()


async def test_the_secret_half_is_nowhere_in_the_office(settings: Settings) -> None:
    """Every byte of the data folder, the database's journal among them."""
    async with opened(settings.database_file) as database:
        secret = (await database.write(set_copy_key)).secret
        recipient = await database.read(lambda tx: tx.value("SELECT recipient FROM copy_key"))
        found = bytes_below(settings.data_folder)
    assert recipient.encode() in found, "the check would find it"
    assert b"AGE-SECRET-KEY" not in found
    assert secret.encode() not in found


def test_a_sealed_copy_is_gone_on_with_and_erased_in_without_the_key(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    record_items(phone, day, 1, seed=1)
    secret = sealed_copy(office, copy)
    record_items(phone, day, 1, seed=2)
    visits = [row[4] for row in contents(office.settings)["log"] if '"kind":"open_visit"' in row[5]]
    assert erase(office.settings, visits[0]) == 3
    until_done(copier_of(office.settings, copy, begun=True))
    assert restored_from(copy, new, secret=secret).faults == []
    assert contents(new)["words"] == contents(office.settings)["words"]
    assert len(contents(new)["words"]) == 3


# -- lost by the office


def test_words_that_the_office_lost_stay_in_a_copy_whose_words_are_written_anew(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    """The copy may be the only place that has them; what was erased goes from it all the same."""
    for seed in (1, 2):
        record_items(phone, day, 1, seed=seed)
    copier = copier_of(office.settings, copy)
    until_done(copier)
    first, second = [row[4] for row in contents(office.settings)["log"] if '"kind":"open_visit"' in row[5]]
    of_first = "(SELECT operation_id FROM operation_log WHERE record_id = ?)"
    office.change(f"DELETE FROM private_words WHERE operation_id IN {of_first}", first)
    assert erase(office.settings, second) == 3
    until_done(copier)
    restored_from(copy, new)
    assert [OWNER_NAME in str(row) for row in contents(new)["words"]].count(True) == 1
    assert len(contents(new)["words"]) == 3
    log = {row[1]: row[4] for row in contents(new)["log"]}
    assert {log[row[0]] for row in contents(new)["words"]} == {first}


def test_words_that_came_back_reach_a_copy_that_was_begun_without_them(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    record_items(phone, day, 1)
    before = contents(office.settings)["words"]
    office.change("DELETE FROM private_words")
    copier = copier_of(office.settings, copy)
    until_done(copier)
    phone.send_again()
    phone.push()
    assert contents(office.settings)["words"] == before
    until_done(copier)
    assert restored_from(copy, new).faults == []
    assert contents(new)["words"] == before


def test_what_the_tables_had_of_lost_words_travels_as_what_it_is(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    record_items(phone, day, 1)
    office.change("DELETE FROM private_words")
    rebuilt(office.settings)
    until_done(copier_of(office.settings, copy))
    told = restored_from(copy, new)
    [fault] = told.faults
    assert "nothing proves" in fault
    assert f"the owner with ticket Q00, {OWNER_NAME} (operations " in fault
    assert OWNER_NAME in str(contents(new)["field"])
    assert sum("missing" in fault for fault in faults_of(new)) == 3


def rebuilt(settings: Settings) -> None:
    async def work() -> None:
        async with opened(settings.database_file) as database:
            await database.write(rebuild)

    asyncio.run(work())


# -- erased


def test_erasure_reaches_a_copy_that_was_away(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    record_items(phone, day, 1)
    copier = copier_of(office.settings, copy)
    until_done(copier)
    assert OWNER_NAME.encode() in bytes_below(copy)
    away = copy.rename(copy.with_name("away"))
    (visit,) = [row[4] for row in contents(office.settings)["log"] if '"kind":"open_visit"' in row[5]]
    erase(office.settings, visit)
    with pytest.raises(CopyTrouble):
        copier.step()
    away.rename(copy)
    until_done(copier)
    assert OWNER_NAME.encode() not in bytes_below(copy)
    told = restored_from(copy, new)
    assert told.faults == [], "words that were erased are not missing"
    assert contents(new)["words"] == []


def test_erasure_reaches_an_older_copy_after_a_restore(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    """Two sticks: one was in a drawer when an owner was erased and the office was then restored from the other."""
    record_items(phone, day, 1)
    drawer = copy.with_name("drawer")
    until_done(copier_of(office.settings, drawer))
    (visit,) = [row[4] for row in contents(office.settings)["log"] if '"kind":"open_visit"' in row[5]]
    erase(office.settings, visit)
    until_done(copier_of(office.settings, copy))
    restored_from(copy, new)
    assert OWNER_NAME.encode() in bytes_below(drawer)
    until_done(copier_of(new, drawer, begun=True))
    assert OWNER_NAME.encode() not in bytes_below(drawer)


def test_erasure_reaches_an_older_copy_although_the_list_of_erasures_lost_lines(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    """A restored office counts its erasures anew: how far an older copy had come under the old count says nothing."""
    record_items(phone, day, 1, seed=1)
    record_items(phone, day, 1, seed=2)
    first, second = [row[4] for row in contents(office.settings)["log"] if '"kind":"open_visit"' in row[5]]
    erase(office.settings, first)
    drawer = copy.with_name("drawer")
    until_done(copier_of(office.settings, drawer))
    erase(office.settings, second)
    until_done(copier_of(office.settings, copy))
    for line in (0, 1):
        flip(copy / "erased.jsonl", line * ((copy / "erased.jsonl").stat().st_size // 4) + 30)
    restored_from(copy, new)
    assert OWNER_NAME.encode() in bytes_below(drawer)
    until_done(copier_of(new, drawer, begun=True))
    assert OWNER_NAME.encode() not in bytes_below(drawer)


# -- the office has forgotten something


def test_a_copy_knows_that_the_office_was_put_back(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    """An older state of the office went on differently: the copy is left as it is, and what it has comes back."""
    record_items(phone, day, 1, seed=1)
    older = copy.with_name("older")
    until_done(copier_of(office.settings, older))
    record_items(phone, day, 2, seed=2)
    until_done(copier_of(office.settings, copy))
    restored_from(older, new)
    for _ in ("shorter", "longer, and different"):
        before = bytes_below(copy)
        with pytest.raises(CopyTrouble) as told:
            copier_of(new, copy, begun=True).step()
        assert told.value.state is State.FORGOTTEN
        assert "restore" in told.value.hint
        assert bytes_below(copy) == before
        with running(new, office.clock, office.ids) as again:
            other = again.pair("table", "Table 2")
            record_items(other, day, 4, seed=3)

    done, photos, faults = asyncio.run(bring_in(Folder(copy), new, secret=None))
    missing = len(contents(office.settings)["log"]) - head_of(Folder(older)).office_seq
    assert (done.kept, done.refused, done.waiting, photos, faults) == (missing, 0, 0, 2, [])
    ours = {row[1] for row in contents(office.settings)["log"]}
    assert ours <= {row[1] for row in contents(new)["log"]}
    assert set(contents(office.settings)["words"]) <= set(contents(new)["words"])
    assert faults_of(new) == []
    again_done, again_photos, _ = asyncio.run(bring_in(Folder(copy), new, secret=None))
    assert (again_done.kept, again_photos) == (0, 0), "a second time nothing is taken in twice"


def test_a_rewritten_chain_is_noticed_by_the_copy(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    with sqlite3.connect(office.settings.database_file) as connection:
        connection.execute(
            "UPDATE operation_log SET chain = :chain WHERE office_seq = 5", {"chain": "0" * 64}
        )
        connection.execute("DELETE FROM operation_log WHERE office_seq > 5")
    with pytest.raises(CopyTrouble) as told:
        copier_of(office.settings, copy, begun=True).step()
    assert told.value.state is State.FORGOTTEN


def test_a_copy_that_the_office_was_restored_from_is_gone_on_with(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    restored_from(copy, new)
    pack = (copy / "photos-0.pack").read_bytes()
    copier = copier_of(new, copy)
    until_done(copier)
    assert (copy / "photos-0.pack").read_bytes() == pack
    assert restored_epoch(new) == head_of(Folder(copy)).epoch


def restored_epoch(settings: Settings) -> str:
    with snapshot(settings.database_file) as tx:
        return office_of(tx).epoch


def test_an_office_that_writes_to_the_copy_meanwhile_waits(
    office: Office,
    phone: Phone,
    day: dict[str, Any],
    copy: Path,
    new: Settings,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """An erasure would take the words away between the head and them, and all of them would be called missing."""
    record_items(phone, day, 1)
    (visit,) = [row[4] for row in contents(office.settings)["log"] if '"kind":"open_visit"' in row[5]]
    copier = copier_of(office.settings, copy)
    until_done(copier)
    erase(office.settings, visit)

    def step_in_between(*_: object) -> None:
        with suppress(InUse):
            copier.step()

    with monkeypatch.context() as patched:
        patched.setattr("intake.copies.restore.refuse_newer", step_in_between)
        assert restored_from(copy, new).faults == []
    until_done(copier)
    assert OWNER_NAME.encode() not in bytes_below(copy)


def test_a_copy_that_somebody_never_lets_go_of_is_restored_all_the_same(
    office: Office,
    phone: Phone,
    day: dict[str, Any],
    copy: Path,
    new: Settings,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    monkeypatch.setattr("intake.copies.restore.TURN_S", 0)
    with Folder(copy).held():
        assert restored_from(copy, new).faults == []
