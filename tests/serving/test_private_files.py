"""What the office keeps of people is for its own account alone, and what an earlier version left open is closed."""

from __future__ import annotations

import os
import shutil
import stat
from contextlib import closing
from pathlib import Path

import httpx
import pytest

from intake.copies.folder import Folder
from intake.copies.head import read_head
from intake.data_folder import CLOSED, close_parts
from intake.photos.store import set_aside
from intake.system import close_below, close_to_others
from tests.apart import run_intake
from tests.builders import Ids, a_consignor, a_day, a_photo, a_visit, an_item, digest, picture
from tests.closings import close_with_all
from tests.phone import Phone
from tests.photos.sending import send
from tests.serving.test_starting import an_office, paired

pytestmark = pytest.mark.skipif(os.name != "posix", reason="Windows says by other means who may read a file")


def open_to_others(folder: Path) -> list[str]:
    paths = [folder, *folder.rglob("*")]
    return [str(path.relative_to(folder)) for path in paths if path.stat().st_mode & 0o077]


def test_whatever_the_office_makes_is_closed_to_others(tmp_path: Path) -> None:
    """The files of its tables, its lock, its note, its pictures' folders and its copy, made under a usual umask."""
    office, copy = tmp_path / "office", tmp_path / "copy"
    before = os.umask(0o022)
    try:
        with an_office(office, "--copy-to", str(copy)) as (_, port), closing(paired(office, port)):
            assert open_to_others(office) == []
            assert copy.exists()
            assert open_to_others(copy) == []
    finally:
        os.umask(before)


def test_what_was_open_is_closed_at_the_next_start(tmp_path: Path) -> None:
    with an_office(tmp_path):
        pass
    tmp_path.chmod(0o755)
    for file in tmp_path.iterdir():
        file.chmod(0o755 if file.is_dir() else 0o644)
    assert open_to_others(tmp_path)
    assert run_intake("pair", "--data", str(tmp_path), "--as", "door", "--name", "Door").returncode == 0
    assert open_to_others(tmp_path) == []


def test_a_folder_of_everybody_s_is_left_as_it_is(tmp_path: Path) -> None:
    tmp_path.chmod(0o1777)
    close_to_others(tmp_path)
    assert stat.S_IMODE(tmp_path.stat().st_mode) == 0o1777


def a_day_s_work(client: httpx.Client, device_id: str, ids: Ids) -> str:
    """A visit with its owner, a thing with pictures whole and half sent, a receipt, the closing. The visit's id."""
    phone = Phone(client, ids, device_id)
    day = phone.keep(a_day(ids))
    visit = phone.keep(a_visit(ids, day["day_id"], ticket="Q04"))
    phone.keep(a_consignor(visit["visit_id"], "name", "Clementine Ashburn"))
    item = phone.keep(an_item(ids, visit))
    photo, thumb, half = picture(1), picture(2, size=(60, 40)), picture(3)
    phone.keep(a_photo(ids, item["item_id"], photo, thumb))
    answered = phone.bundle([photo, thumb]).json()["answers"]
    assert {answer["outcome"] for answer in answered} == {"kept"}
    close_with_all(phone, day["day_id"])
    assert send(phone, half, upto=2000).is_success
    client.get(f"/photos/{digest(photo)}/large").raise_for_status()
    assert visit["visit_id"] in client.get("/sync/feed", params={"day_id": day["day_id"]}).text
    return str(visit["visit_id"])


def test_a_whole_day_leaves_nothing_open_to_others(tmp_path: Path, ids: Ids) -> None:
    """The office's folder and what lies beside it, a plain copy and a sealed one, one made by hand in a folder that
    stood open, and the office that is made from it; everything under a usual umask."""
    house = tmp_path / "house"
    office, copy, by_hand, restored = (house / name for name in ("office", "copy", "by-hand", "restored"))
    before = os.umask(0o022)

    def intake(*words: str) -> None:
        done = run_intake(*words)
        assert done.returncode == 0, (words, done.stderr)

    try:
        house.mkdir()
        by_hand.mkdir()
        with an_office(office, "--copy-to", str(copy)) as (process, port):
            with closing(paired(office, port)) as client:
                device_id = client.get("/pairing/me").json()["device_id"]
                visit_id = a_day_s_work(client, device_id, ids)
                intake("copy", str(by_hand), "--data", str(office))
                intake("seal", "--data", str(office))
                intake("copy", str(house / "sealed"), "--sealed", "--data", str(office))
            process.terminate()
            process.wait(20)
        head = read_head(Folder(copy))
        assert head is not None
        assert head.office_seq > 5, "the copy has the day"
        intake("verify", "--data", str(office))
        intake("erase", "--yes", visit_id, "--data", str(office))
        intake("rebuild", "--data", str(office))
        intake("restore", str(by_hand), "--data", str(restored))
        intake("bring-in", str(by_hand), "--data", str(restored))
    finally:
        os.umask(before)
    assert (house / "office.erasures.jsonl").exists()
    made = {path.name for path in office.rglob("*")}
    assert {"verified.json", "office.json", "intake.sqlite3"} <= made
    house.chmod(0o700)
    assert open_to_others(house) == []


def test_a_copy_that_an_earlier_version_left_open_is_closed(tmp_path: Path) -> None:
    office, copy = tmp_path / "office", tmp_path / "copy"
    with an_office(office, "--copy-to", str(copy)):
        pass
    copy.chmod(0o755)
    for file in copy.rglob("*"):
        file.chmod(0o755 if file.is_dir() else 0o644)
    assert len(open_to_others(copy)) > 2
    assert run_intake("copy", str(copy), "--data", str(office)).returncode == 0
    assert open_to_others(copy) == []


def opened_up(folder: Path) -> None:
    """As an earlier version under a usual umask left it."""
    for path in (folder, *folder.rglob("*")):
        path.chmod(0o755 if path.is_dir() else 0o644)


def test_what_lies_deep_in_the_data_folder_is_closed_once_beside_the_work(tmp_path: Path, ids: Ids) -> None:
    office, others = tmp_path / "office", tmp_path / "others"
    with an_office(office):
        pass
    for deep in ("photos/ab/abcd", "photos/large/ab/abcd", "hall/before/key"):
        (office / deep).parent.mkdir(parents=True, exist_ok=True)
        (office / deep).write_text("marker")
    others.mkdir()
    (others / "letter").write_text("of somebody else")
    (office / "photos" / "ab" / "link").symlink_to(others)
    opened_up(office)
    opened_up(others)
    (office / CLOSED).unlink(missing_ok=True)
    with an_office(office) as (_, port):
        until_closed(office, port, ["photos/ab/link"])
    assert [path.stat().st_mode & 0o077 for path in (others, others / "letter")] == [0o055, 0o044]
    (office / "photos" / "ab" / "abcd").chmod(0o644)
    with an_office(office):
        pass
    assert sorted(open_to_others(office)) == ["photos/ab/abcd", "photos/ab/link"], "it is done once"


@pytest.mark.skipif(os.name != "posix", reason="a link is everybody's to make there alone")
def test_the_mark_that_all_is_closed_is_not_written_through_a_link(tmp_path: Path) -> None:
    office, victim = tmp_path / "office", tmp_path / "victim"
    (office / "photos").mkdir(parents=True)
    victim.write_text("of somebody else")
    (office / CLOSED).symlink_to(victim)
    close_parts(office, lambda: False)
    assert victim.read_text() == "of somebody else"
    assert not (office / CLOSED).is_symlink()
    assert "photos" in (office / CLOSED).read_text()


def until_closed(folder: Path, port: int, left: list[str]) -> None:
    """Ask the office, which answers meanwhile, until nothing is open but what is `left`."""
    for _ in range(2000):
        assert httpx.get(f"http://127.0.0.1:{port}/health").is_success
        if open_to_others(folder) == left and (folder / CLOSED).exists():
            return
    raise AssertionError(open_to_others(folder))


def test_a_folder_that_was_copied_open_is_closed_at_its_start(tmp_path: Path) -> None:
    """The mark that all is closed goes along with the copy, and holds for the folder alone that it was made in."""
    office, taken = tmp_path / "office", tmp_path / "taken"
    with an_office(office) as (_, port):
        until_closed(office, port, [])
    (office / "photos" / "ab" / "abcd").touch()
    shutil.copytree(office, taken)
    opened_up(taken)
    for file in taken.rglob("*"):  # what stands in the parts is closed already, what lies deeper is not
        if len(file.relative_to(taken).parts) < 3:
            file.chmod(0o700 if file.is_dir() else 0o600)
    with an_office(taken) as (_, port):
        until_closed(taken, port, [])
    (taken / "photos" / "ab").chmod(0o755)
    with an_office(taken) as (_, port):
        until_closed(taken, port, [])


def test_a_damaged_photo_is_closed_as_it_is_set_aside(tmp_path: Path) -> None:
    file = tmp_path / digest(b"whole")
    file.write_bytes(b"other")
    file.chmod(0o644)
    set_aside(file)
    assert open_to_others(tmp_path) == []


def test_a_walk_that_is_stopped_is_not_at_its_end(tmp_path: Path) -> None:
    (tmp_path / "deep").mkdir()
    (tmp_path / "deep" / "file").touch()
    opened_up(tmp_path)
    assert not close_below(tmp_path, lambda: True)
    assert open_to_others(tmp_path)
    assert close_below(tmp_path, lambda: False)
    assert open_to_others(tmp_path) == []


@pytest.mark.skipif(os.name == "posix" and os.geteuid() != 0, reason="only root gives a file away")
def test_what_is_another_account_s_stays_as_it_is_with_all_below_it(tmp_path: Path) -> None:
    theirs = tmp_path / "theirs"
    theirs.mkdir()
    (theirs / "ours").touch()
    opened_up(tmp_path)
    os.chown(theirs, 12345, 12345)
    close_to_others(tmp_path)
    assert close_below(tmp_path, lambda: False)
    assert open_to_others(tmp_path) == ["theirs", "theirs/ours"]


def test_what_was_set_aside_in_a_copy_is_closed_with_it(tmp_path: Path) -> None:
    office, copy = tmp_path / "office", tmp_path / "copy"
    with an_office(office, "--copy-to", str(copy)):
        pass
    assert run_intake("copy", str(copy), "--anew", "--data", str(office)).returncode == 0
    assert [path for path in copy.glob("before-*/*") if path.is_file()]
    opened_up(copy)
    assert run_intake("copy", str(copy), "--data", str(office)).returncode == 0
    assert open_to_others(copy) == []
