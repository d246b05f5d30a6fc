"""A part belongs to its device, waits for nobody's line, and frees an original only when it is one at the office."""

from __future__ import annotations

import os
import random
import sqlite3
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager, closing
from datetime import timedelta
from pathlib import Path

import pytest

from intake.database import opened
from intake.photos.parts import PART_LIFE, Parts
from intake.photos.store import PhotoStore, picture_of
from intake.settings import Settings
from intake.wire import PIECE_S, Silence
from tests.builders import Ids, a_day, digest, picture
from tests.conftest import Clock, Office, running
from tests.phone import Phone
from tests.photos.sending import answer_on, dead_line, send

MIB = 1024 * 1024


def large(seed: int) -> bytes:
    """A picture of about three million bytes: it opens, and there is more behind it."""
    return picture(seed, size=(2400, 1800)) + random.Random(seed).randbytes(3 * MIB)


def parts_of(office: Office, device_id: str) -> list[Path]:
    return sorted((office.settings.photos_folder / "incoming" / device_id).glob("*"))


def put_part(folder: Path, name: str, content: bytes) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / name).write_bytes(content)
    return folder / name


def test_all_bytes_without_their_row_are_not_complete_and_are_finished_when_asked(
    office: Office, phone: Phone
) -> None:
    """What a crash leaves that came after the last piece and before its row."""
    content = picture(1)
    put_part(
        office.settings.photos_folder / "incoming" / phone.device_id,
        f"{digest(content)}.{len(content)}",
        content,
    )
    told = phone.client.head(f"/photos/{digest(content)}").headers
    assert (told["Upload-Offset"], told["Upload-Complete"]) == (str(len(content)), "?0")
    assert send(phone, content, offset=len(content)).headers["Upload-Complete"] == "?1"
    assert phone.client.get(f"/photos/{digest(content)}").content == content


def test_full_parts_are_finished_or_thrown_away_at_the_start(
    settings: Settings, clock: Clock, ids: Ids
) -> None:
    good, torn, cut = picture(1), b"\0" * 5000, picture(3)
    folder = settings.photos_folder / "incoming" / "00000000-0000-7000-8000-00000000000d"
    put_part(folder, f"{digest(good)}.{len(good)}", good)
    put_part(folder, f"{digest(picture(2))}.5000", torn)
    left = put_part(folder, f"{digest(cut)}.{len(cut)}", cut[:1000])
    with running(settings, clock, ids) as office:
        manager = office.pair("manager")
        manager.keep(a_day(ids))
        manager.push()
        for _ in range(
            1000
        ):  # it is done beside all requests, and an office that ends first leaves it to the next
            if [*folder.iterdir()] == [left]:
                break
            manager.feed()
    assert [*folder.iterdir()] == [left]
    with closing(sqlite3.connect(settings.database_file)) as file:
        assert file.execute("SELECT sha256, bytes FROM photo_file").fetchall() == [(digest(good), len(good))]
    assert office.faults() == []


def test_a_part_with_other_bytes_and_another_length_harms_nobody_else(office: Office, phone: Phone) -> None:
    """Another device sends zeros under the same digest, and says that it is one byte longer."""
    content, porter = picture(1), office.pair("porter")
    zeros = b"\0" * (len(content) + 1)
    assert send(porter, zeros, upto=len(content), name=digest(content)).headers["Upload-Complete"] == "?0"
    assert phone.client.head(f"/photos/{digest(content)}").status_code == 404
    assert send(phone, content).headers["Upload-Complete"] == "?1"
    assert phone.client.get(f"/photos/{digest(content)}").content == content
    told = send(porter, zeros, offset=len(content), name=digest(content))
    assert (told.status_code, told.json()["code"]) == (422, "wrong_digest"), (
        "nor told how long the true one is"
    )


def test_a_device_that_says_another_length_begins_again(phone: Phone) -> None:
    content = picture(1)
    send(phone, content, upto=1000, length=len(content) + 1)
    told = send(phone, content, offset=1000)
    assert (told.status_code, told.json()["code"]) == (409, "wrong_length")
    assert phone.client.head(f"/photos/{digest(content)}").status_code == 404
    assert send(phone, content).headers["Upload-Complete"] == "?1"


@pytest.mark.parametrize("again", ["same device", "another device"])
def test_a_silent_line_is_in_nobodys_way(office: Office, phone: Phone, again: str) -> None:
    """The phone sends again while its first request, whose line is dead, still waits; so does another one."""
    content, address = large(1), f"/photos/{digest(large(1))}"
    headers = f"Upload-Offset: 0\r\nUpload-Length: {len(content)}\r\n"
    sender = phone if again == "same device" else office.pair("table", "Table 2")
    with dead_line(office, phone, "PATCH", address, content, sent=2 * MIB, headers=headers) as line:
        while (told := phone.client.head(address)).status_code != 200 or told.headers["Upload-Offset"] == "0":
            pass  # until the office has put something of it on its disk
        synced = int(told.headers["Upload-Offset"]) if sender is phone else 0
        assert send(sender, content, offset=synced).headers["Upload-Complete"] == "?1"
        line.sendall(content[2 * MIB :])  # it was not dead after all
        line.shutdown(1)
        assert "upload-complete: ?1" in answer_on(line).lower()
    assert phone.client.get(address).content == content
    assert [*office.settings.photos_folder.glob("incoming/*/*")] == []


def test_of_two_requests_for_one_part_the_later_goes_on(office: Office, phone: Phone) -> None:
    """The earlier one's bytes, which it held back to write them together, change nothing any more."""
    content, address = large(2), f"/photos/{digest(large(2))}"
    headers = f"Upload-Offset: 0\r\nUpload-Length: {len(content)}\r\n"
    with dead_line(office, phone, "PATCH", address, content, sent=2 * MIB, headers=headers) as line:
        while (told := phone.client.head(address)).status_code != 200 or told.headers["Upload-Offset"] == "0":
            pass
        synced = int(told.headers["Upload-Offset"])
        after = send(phone, content, offset=synced, upto=synced + 10)
        assert (after.headers["Upload-Offset"], after.headers["Upload-Complete"]) == (str(synced + 10), "?0")
        line.sendall(content[2 * MIB :])
        line.shutdown(1)
        refused = answer_on(line).lower()
        assert '"code": "wrong_offset"' in refused
        assert f"upload-offset: {synced + 10}\r\n" in refused
    assert send(phone, content, offset=synced + 10).headers["Upload-Complete"] == "?1"


def test_a_line_that_is_silent_too_long_is_given_up_and_what_came_stays(
    office: Office, phone: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("intake.wire.PIECE_S", 0.2)
    content = picture(1)
    headers = f"Upload-Offset: 0\r\nUpload-Length: {len(content)}\r\n"
    with dead_line(
        office, phone, "PATCH", f"/photos/{digest(content)}", content, sent=1000, headers=headers
    ) as line:
        told = answer_on(line)
    assert told.startswith("HTTP/1.1 408 ")
    assert '"code": "too_slow"' in told
    assert phone.client.head(f"/photos/{digest(content)}").headers["Upload-Offset"] == "1000"
    for path in ("/sync/bundle", "/sync/operations"):
        with dead_line(office, phone, "POST", path, b"\0" * 5000, sent=2) as line:
            assert '"code": "too_slow"' in answer_on(line)


class PretendedLoop:
    """A loop whose time the test sets, and the task that waits on it."""

    def __init__(self) -> None:
        self.now = 0.0
        self.timers: list[tuple[float, Callable[[], None]]] = []
        self.ended_at: float | None = None

    def time(self) -> float:
        return self.now

    def call_later(self, delay: float, work: Callable[[], None]) -> None:
        self.timers.append((self.now + delay, work))

    def pass_to(self, moment: float) -> None:
        while due := [timer for timer in self.timers if timer[0] <= moment]:
            self.timers.remove(min(due))
            self.now, work = min(due)
            work()
        self.now = moment

    def cancel(self) -> None:
        self.ended_at = self.now


def test_only_a_line_that_is_silent_is_given_up_however_long_all_of_it_takes() -> None:
    loop = PretendedLoop()
    silence = Silence(loop, loop)  # type: ignore[arg-type]
    for disk_s in [0.5, 60] * 10:  # a piece every nineteen seconds; the disk is quick, or takes a minute
        silence.begins()
        loop.pass_to(loop.now + PIECE_S - 1)
        silence.ends()
        loop.pass_to(loop.now + disk_s)
    assert loop.ended_at is None
    silence.begins()
    began = loop.now
    loop.pass_to(began + 100)
    assert loop.ended_at == began + PIECE_S


def test_parts_of_invented_digests_make_room_for_each_other(
    office: Office, phone: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("intake.photos.parts.PARTS_OF_A_DEVICE", 3)
    monkeypatch.setattr("intake.photos.parts.BYTES_OF_A_DEVICE", 300_000)
    other = office.pair("table", "Table 2")
    send(other, b"x" * 100, upto=50)
    names = []
    for number in range(6):
        made = bytes([number]) * 1000
        names.append(f"{digest(made)}.1000")
        assert send(phone, made, upto=500).status_code == 204
        os.utime(office.settings.photos_folder / "incoming" / phone.device_id / names[-1], (number, number))
    assert [file.name for file in parts_of(office, phone.device_id)] == sorted(names[3:])
    big = b"y" * 299_500
    send(phone, big, upto=5)
    assert [file.name for file in parts_of(office, phone.device_id)] == [f"{digest(big)}.299500"]
    assert len(parts_of(office, other.device_id)) == 1


@asynccontextmanager
async def parts_in(folder: Path) -> AsyncIterator[tuple[Parts, PhotoStore]]:
    async with opened(folder / "file.sqlite3") as database:
        store = PhotoStore(folder / "photos", database)
        yield Parts(folder / "photos" / "incoming", store, database), store
        store.close()


async def test_the_folder_of_a_part_that_has_no_byte_yet_is_left_to_it(tmp_path: Path, clock: Clock) -> None:
    """A phone sends as soon as the office starts, which looks through its folders then."""
    content = picture(1)
    async with parts_in(tmp_path) as (parts, _):

        async def coming() -> AsyncIterator[bytes]:
            await parts.sweep(clock(), "2026-03-14T18:00:00.000Z")
            yield content[:1000]

        standing = await parts.append(
            "phone",
            digest(content),
            offset=0,
            length=len(content),
            content=coming(),
            received_at="2026-03-14T18:00:00.000Z",
        )
        assert standing.offset == 1000


async def test_old_parts_are_thrown_away_and_young_ones_stay(tmp_path: Path, clock: Clock) -> None:
    folder = tmp_path / "photos" / "incoming"
    old = put_part(folder / "one", f"{'a' * 64}.1000", b"x")
    young = put_part(folder / "two", f"{'b' * 64}.1000", b"x")
    for file, age in ((old, PART_LIFE + timedelta(seconds=1)), (young, PART_LIFE - timedelta(seconds=1))):
        moment = (clock() - age).timestamp()
        os.utime(file, (moment, moment))
    async with parts_in(tmp_path) as (parts, _):
        await parts.sweep(clock(), "2026-03-14T18:00:00.000Z")
    assert [*folder.rglob("*")] == [folder / "two", young]


async def test_parts_of_the_first_version_become_originals_or_go(tmp_path: Path, clock: Clock) -> None:
    """A phone of that time let go of an original when its offset was its length."""
    whole, cut = picture(1), picture(2)
    folder = tmp_path / "photos" / "incoming"
    put_part(folder, digest(whole), whole)
    put_part(folder, digest(cut), cut[:2000])
    async with parts_in(tmp_path) as (parts, store):
        await parts.sweep(clock(), "2026-03-14T18:00:00.000Z")
        kept = await store.stat(digest(whole))
        assert kept is not None
        assert kept.bytes == len(whole)
        assert store.file_of(digest(whole)).read_bytes() == whole
        assert await store._database.read(lambda tx: picture_of(tx, digest(cut))) is None
    assert [*folder.iterdir()] == []
