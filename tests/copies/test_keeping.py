"""A serving office keeps its copies up to date beside its work, and says how each is doing."""

from __future__ import annotations

import asyncio
import os
import random
import signal
import sqlite3
import threading
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any, BinaryIO

import pytest

from intake.bench.served import free_port
from intake.commands import main
from intake.copies import copier
from intake.copies.folder import Folder
from intake.copies.head import write_head
from intake.copies.keeper import Copies, Keeper, Pace
from intake.copies.places import add_place
from intake.copies.reading import head_of
from intake.copies.restore import kept_still
from intake.copies.seal import make_key
from intake.copies.source import source_of
from intake.copies.states import State
from intake.database import opened
from intake.settings import Settings, utc_now
from tests.apart import run_intake
from tests.builders import Ids, a_consignor, a_day, a_visit, digest
from tests.conftest import Clock, Office, running, serve_apart
from tests.copies.tools import (
    bytes_below,
    contents,
    copier_of,
    faults_of,
    record_items,
    restored_from,
    until_done,
)
from tests.phone import Phone
from tests.samples import runs

KILLS = runs(4, of=2, asked_in="INTAKE_KILLS")


@pytest.fixture(autouse=True)
def on_own_disk(monkeypatch: pytest.MonkeyPatch) -> set[str]:
    """All that tests write lies on one disk: every folder counts as a disk of its own but those in this set."""
    own: set[str] = set()
    monkeypatch.setattr(copier, "is_apart", lambda copy, office: str(copy) not in own)
    return own


def put(manager: Phone, *places: Path, sealed: bool = False) -> dict[str, Any]:
    asked = {"places": [{"folder": str(place), "sealed": sealed} for place in places]}
    answered = manager.client.put("/copies", json=asked)
    answered.raise_for_status()
    status: dict[str, Any] = answered.json()
    return status


def until(manager: Phone, holds: Callable[[dict[str, Any]], bool]) -> dict[str, Any]:
    """Ask until it holds; asking has every copy looked at anew."""
    for _ in range(3000):
        status: dict[str, Any] = manager.client.get("/copies").json()
        if status["copies"] and holds(status["copies"][0]):
            return status
    raise AssertionError(f"it never came so far: {status}")


def is_current(copy: dict[str, Any]) -> bool:
    return bool(copy["state"] == "current") and copy["lag"] == {
        "operations": 0,
        "erasures": 0,
        "photos": 0,
        "bytes": 0,
    }


def test_no_second_place_is_no_promise(manager: Phone) -> None:
    assert manager.client.get("/copies").json() == {
        "copies": [],
        "former": [],
        "safe_seq": None,
        "sealed_to": None,
    }


def test_the_manager_sets_a_place_and_everything_stands_in_it(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], stick: Path
) -> None:
    record_items(phone, day, 2, seed=1)
    put(manager, stick)
    status = until(manager, is_current)
    newest = len(contents(office.settings)["log"])
    assert status["safe_seq"] == head_of(Folder(stick)).office_seq == newest
    assert status["copies"][0]["age_s"] == 0
    record_items(phone, day, 1, seed=2)
    until(manager, lambda copy: is_current(copy) and copy["office_seq"] > newest)
    office.clock.pass_by(minutes=5)
    until(manager, lambda copy: is_current(copy) and copy["age_s"] == 0)


def test_only_the_manager_says_where_copies_go(manager: Phone, phone: Phone, stick: Path) -> None:
    assert phone.client.get("/copies").status_code == 403
    assert phone.client.put("/copies", json={"places": []}).status_code == 403
    assert phone.client.post("/copies/key").status_code == 403
    assert phone.client.put("/copies/key", json={"recipient": "age1"}).status_code == 403


@pytest.mark.parametrize("folder", ["stick", "INSIDE/copy", "INSIDE"])
def test_a_place_that_would_be_none_is_refused(office: Office, manager: Phone, folder: str) -> None:
    folder = folder.replace("INSIDE", str(office.settings.data_folder))
    refused = manager.client.put("/copies", json={"places": [{"folder": folder}]})
    assert (refused.status_code, refused.json()["code"]) == (422, "copy_place_refused")


def test_a_stick_pulled_out_is_said_and_catches_up_by_itself(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], stick: Path
) -> None:
    photos = record_items(phone, day, 1, seed=1)
    put(manager, stick)
    until(manager, is_current)
    away = stick.rename(stick.with_name("away"))
    more = record_items(phone, day, 2, seed=2)
    office.clock.pass_by(hours=1)
    status = until(manager, lambda copy: copy["state"] == "missing")
    (copy,) = status["copies"]
    assert status["safe_seq"] == 0, "what stands in no copy in reach is let go of by nobody"
    assert (copy["in_reach"], copy["lag"]["photos"], copy["age_s"]) == (False, 2, 3600)
    assert copy["lag"]["bytes"] == sum(map(len, more))
    assert copy["lag"]["operations"] > 0
    assert "stick" in copy["hint"]
    away.rename(stick)
    status = until(manager, is_current)
    assert status["safe_seq"] == len(contents(office.settings)["log"])
    del photos


def test_no_copy_is_begun_by_hand_where_a_stick_is_out(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], stick: Path
) -> None:
    """The folder that it is mounted at is left, on the office's own disk."""
    record_items(phone, day, 1)
    put(manager, stick)
    until(manager, is_current)
    stick.rename(stick.with_name("away"))
    command = ["copy", str(stick), "--data", str(office.settings.data_folder)]
    for left in ("no folder", "an empty one"):
        done = run_intake(*command)
        assert done.returncode == 1, left
        assert "the stick is not in" in done.stderr
        assert not stick.exists() or not any(stick.glob("*.json*"))
        stick.mkdir(exist_ok=True)
    done = run_intake(*command, "--anew")
    assert done.returncode == 0, done.stderr
    assert "does not count as a second place" in done.stdout


def test_a_copy_on_the_office_s_own_disk_lets_nobody_let_go(
    office: Office,
    manager: Phone,
    phone: Phone,
    day: dict[str, Any],
    stick: Path,
    on_own_disk: set[str],
    caplog: pytest.LogCaptureFixture,
) -> None:
    """Alone it is as if there were none; beside a stick that is pulled out nothing is safe."""
    photo = digest(record_items(phone, day, 1)[0])
    beside = stick.with_name("beside")
    on_own_disk.add(str(beside))
    put(manager, beside)
    status = until(manager, is_current)
    assert (status["safe_seq"], status["copies"][0]["same_disk"]) == (None, True)
    assert copied(phone, photo) == []
    put(manager, stick, beside)
    until(manager, lambda _: is_current_in(manager, stick))
    said = [line for line in caplog.text.splitlines() if "current" in line]
    assert ["does not count as a second place" in line for line in said if str(beside) in line] == [True]
    assert not [line for line in said if str(stick) in line and "does not count" in line]
    assert copied(phone, photo) == [photo]
    stick.rename(stick.with_name("away"))
    until(manager, lambda _: not is_current_in(manager, stick))
    assert manager.client.get("/copies").json()["safe_seq"] == 0
    assert copied(phone, photo) == []


def is_current_in(manager: Phone, folder: Path) -> bool:
    (copy,) = (one for one in manager.client.get("/copies").json()["copies"] if one["folder"] == str(folder))
    return is_current(copy)


def copied(phone: Phone, *digests: str) -> list[str]:
    told: list[str] = phone.client.post("/sync/photos", json={"sha256": digests}).json()["copied"]
    return told


def test_what_is_known_of_a_copy_outlives_a_restart(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], stick: Path
) -> None:
    """Started again while the stick is away: its age is still told, and no copy is begun where it was."""
    with running(office.settings, office.clock, office.ids) as first:
        record_items(phone, day, 1)
        put(manager, stick)
        until(manager, is_current)
        del first
    stick.rename(stick.with_name("away"))
    office.clock.pass_by(hours=2)
    with running(office.settings, office.clock, office.ids) as again:
        client = again.client()
        client.cookies.set("intake", manager.client.cookies["intake"])
        again_manager = Phone(client, office.ids, manager.device_id)
        status = until(again_manager, lambda copy: copy["state"] == "missing")
        assert status["copies"][0]["age_s"] == 7200
        assert status["safe_seq"] == 0
    assert not stick.exists()


def test_a_sealed_place_needs_a_key_that_is_on_paper(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], stick: Path, tmp_path: Path
) -> None:
    refused = manager.client.put("/copies", json={"places": [{"folder": str(stick), "sealed": True}]})
    assert refused.json()["code"] == "copy_place_refused"
    key = manager.client.post("/copies/key").json()
    assert manager.client.get("/copies").json()["sealed_to"] is None, "nobody has it on paper yet"
    refused = manager.client.put("/copies", json={"places": [{"folder": str(stick), "sealed": True}]})
    assert refused.json()["code"] == "copy_place_refused"
    assert manager.client.put("/copies/key", json={"recipient": "age1nonsense"}).status_code == 422
    taken = manager.client.put("/copies/key", json={"recipient": key["recipient"]}).json()
    assert taken["sealed_to"] == key["recipient"][:12]
    record_items(phone, day, 1)
    put(manager, stick, sealed=True)
    assert until(manager, is_current)["copies"][0]["sealed"]
    new = Settings(tmp_path / "new", clock=office.clock)
    assert restored_from(stick, new, secret=key["secret_key"]).faults == []


def test_another_key_is_for_copies_begun_from_then_on(
    office: Office, manager: Phone, stick: Path, tmp_path: Path
) -> None:
    keys = []
    for place in (stick, stick.with_name("other")):
        keys.append(manager.client.post("/copies/key").json())
        manager.client.put("/copies/key", json={"recipient": keys[-1]["recipient"]}).raise_for_status()
        put(manager, place, sealed=True)
        until(manager, is_current)
        assert head_of(Folder(place)).sealed_to == keys[-1]["recipient"]
    put(manager, stick, sealed=True)
    until(manager, is_current)
    while len((told := until(manager, is_current))["former"]) > 1:  # noted a moment after it was met
        pass
    assert head_of(Folder(stick)).sealed_to == keys[0]["recipient"]
    first, second = (key["recipient"][:12] for key in keys)
    assert [one["sealed_to"] for one in told["copies"]] == [first], "its paper is the older one"
    assert [one["sealed_to"] for one in told["former"]] == [second]
    assert told["sealed_to"] == second


def test_a_copy_gone_on_with_by_hand_is_said_to_be_opened_by_its_own_paper(
    office: Office, stick: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """No key is made for it and printed as if it opened what lies there; to be begun anew it gets the present one."""
    _, recipient = make_key()
    until_done(copier_of(office.settings, stick, seal_to=recipient))
    by_hand = ["copy", str(stick), "--sealed", "--data", str(office.settings.data_folder)]
    assert main(by_hand) == 0
    said = capsys.readouterr().out
    assert f"sealed to {recipient[:12]}…" in said
    assert "AGE-SECRET-KEY" not in said
    assert head_of(Folder(stick)).sealed_to == recipient
    assert main([*by_hand, "--anew"]) == 0
    said = capsys.readouterr().out
    assert "AGE-SECRET-KEY" in said
    anew = head_of(Folder(stick)).sealed_to
    assert anew != recipient
    assert f"sealed to {str(anew)[:12]}…" in said


def test_what_is_erased_is_owed_to_every_copy_that_was_ever_made(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], stick: Path
) -> None:
    """One that was taken off the list, one that was made by hand; `erase` and the screens name both."""
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    phone.keep(a_consignor(visit["visit_id"], "name", "Philippa Dunnock-Vale"))
    phone.push()
    by_hand, data = stick.with_name("by-hand"), ["--data", str(office.settings.data_folder)]
    put(manager, stick)
    until(manager, is_current)
    assert run_intake("copy", str(by_hand), *data).returncode == 0
    manager.client.put("/copies", json={"places": []}).raise_for_status()
    assert owed(manager) == {str(stick): 0, str(by_hand): 0}
    office.end()
    erased = run_intake("erase", visit["visit_id"], "--yes", *data)
    assert erased.returncode == 0, erased.stderr
    for folder in (stick, by_hand):
        assert f"The copy in {folder}" in erased.stdout
    with running(office.settings, office.clock, office.ids, port=office.port):
        assert owed(manager) == {str(stick): 1, str(by_hand): 1}, (
            "one owner's: the name, and what was heard of the bags"
        )
        closing = manager.client.get("/closing").json()["former"]
        assert {one["folder"] for one in closing} == {str(stick), str(by_hand)}
        assert run_intake("copy", str(by_hand), *data).returncode == 0
        assert owed(manager) == {str(stick): 1, str(by_hand): 0}
        assert phone.client.post("/copies/gone", json={"folder": str(stick)}).status_code == 403
        manager.client.post("/copies/gone", json={"folder": str(stick)}).raise_for_status()
        assert owed(manager) == {str(by_hand): 0}


def test_two_sticks_in_turn_under_one_path_are_each_owed_what_was_erased(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], stick: Path
) -> None:
    """One is in a drawer while an owner is erased and the other is plugged in; it is named until it was here again."""
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    phone.keep(a_consignor(visit["visit_id"], "name", "Philippa Dunnock-Vale"))
    phone.push()
    put(manager, stick)
    until(manager, is_current)
    drawer = stick.rename(stick.with_name("drawer"))
    other = stick.with_name("other")
    data = ["--data", str(office.settings.data_folder)]
    assert run_intake("copy", str(other), *data).returncode == 0
    other.rename(stick)
    until(manager, is_current)
    assert until(manager, lambda _: list(owed(manager)) == [str(stick)])
    erase_words_of(manager, visit)
    until(manager, lambda copy: is_current(copy) and not copy["lag"]["erasures"])
    assert owed(manager) == {str(stick): 1}
    assert b"Dunnock" in bytes_below(drawer)
    stick.rename(other)
    drawer.rename(stick)
    assert until(manager, lambda _: owed(manager) == {str(stick): 0})
    assert b"Dunnock" not in bytes_below(stick)


def erase_words_of(manager: Phone, visit: dict[str, Any]) -> None:
    manager.keep(("erase_consignor", {"visit_id": visit["visit_id"]}))
    assert manager.push()[0]["outcome"] == "kept"


def test_erasures_reach_what_was_set_aside_when_a_copy_was_begun_anew(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], stick: Path
) -> None:
    """It is named as owed until then, and can be restored from as before."""
    visits = []
    for name in ("Philippa Dunnock-Vale", "Barnaby Tumblewick"):
        visits.append(phone.keep(a_visit(phone.ids, day["day_id"], ticket=name[:3])))
        phone.keep(a_consignor(visits[-1]["visit_id"], "name", name))
    phone.push()
    data = ["--data", str(office.settings.data_folder)]
    for options in ([], ["--anew"]):
        done = run_intake("copy", str(stick), *options, *data)
        assert done.returncode == 0, done.stderr
    (aside,) = stick.glob("before-*")
    assert b"Dunnock" in bytes_below(aside)
    erase_words_of(manager, visits[0])
    phone.keep(a_consignor(visits[0]["visit_id"], "telephone", "07700 900321"))
    phone.push()
    erase_words_of(manager, visits[0])
    assert owed(manager) == {str(stick): 1, str(aside): 1}, "the same owner's, twice"
    assert run_intake("copy", str(stick), *data).returncode == 0
    assert owed(manager) == {str(stick): 0, str(aside): 0}
    assert b"Dunnock" not in bytes_below(stick)
    assert b"Barnaby" in bytes_below(aside)
    assert restored_from(aside, Settings(stick.with_name("new"), clock=office.clock)).faults == []


@pytest.mark.parametrize("damage", ["both heads", "a line of words", "unknown to this office"])
def test_erasures_reach_what_was_set_aside_since_it_was_damaged(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], stick: Path, damage: str
) -> None:
    """Or since it has what this office no longer has: the log beside it says whose words they are."""
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    named = phone.keep(a_consignor(visit["visit_id"], "name", "Philippa Dunnock-Vale"))
    phone.push()
    data = ["--data", str(office.settings.data_folder)]
    assert run_intake("copy", str(stick), *data).returncode == 0
    if damage == "both heads":
        for head in stick.glob("head-*"):
            head.write_bytes(b"no head\n")
    elif damage == "a line of words":
        (words,) = stick.glob("words-*")
        words.write_bytes(words.read_bytes()[:-3])
    else:
        for table in ("operation_log", "private_words"):
            office.change(f"DELETE FROM {table} WHERE operation_id = ?", named["operation_id"])
    erase_words_of(manager, visit)
    assert run_intake("copy", str(stick), "--anew", *data).returncode == 0
    (aside,) = stick.glob("before-*")
    assert b"Dunnock" not in bytes_below(aside)
    assert owed(manager)[str(aside)] == 0


def owed(manager: Phone) -> dict[str, int]:
    return {one["folder"]: one["erasures"] for one in manager.client.get("/copies").json()["former"]}


def test_a_sealed_copy_that_is_named_without_a_word_stays_sealed(
    office: Office, manager: Phone, stick: Path
) -> None:
    """As after a restore: what the copy says of itself holds, on screens and at the next start."""
    key = manager.client.post("/copies/key").json()["recipient"]
    manager.client.put("/copies/key", json={"recipient": key}).raise_for_status()
    put(manager, stick, sealed=True)
    until(manager, is_current)
    manager.client.put("/copies", json={"places": []}).raise_for_status()
    put(manager, stick)
    assert until(manager, is_current)["copies"][0]["sealed"]
    put(manager, stick)
    assert until(manager, is_current)["copies"][0]["sealed"]
    office.end()
    with sqlite3.connect(office.settings.database_file) as tables:
        assert tables.execute("SELECT sealed, begun FROM copy_place").fetchall() == [(1, 1)]


def test_a_place_that_is_taken_off_is_left_as_it_is(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], stick: Path
) -> None:
    put(manager, stick)
    until(manager, is_current)
    other = stick.with_name("other")
    put(manager, other)
    until(manager, is_current)
    had = head_of(Folder(stick)).office_seq
    record_items(phone, day, 1)
    until(manager, lambda copy: is_current(copy) and copy["office_seq"] > had)
    assert head_of(Folder(stick)).office_seq == had


class HangingFolder(Folder):
    """A folder on a network that stops answering while a write is under way."""

    def __init__(self, path: Path) -> None:
        super().__init__(path)
        self.hangs, self.entered, self.answers = False, threading.Event(), threading.Event()

    def put(self, stream: BinaryIO, content: bytes) -> None:
        if self.hangs:
            self.entered.set()
            assert self.answers.wait(30)
        super().put(stream, content)


async def test_a_copy_that_hangs_is_called_slow_and_holds_nothing_up(
    office: Office, phone: Phone, day: dict[str, Any], stick: Path
) -> None:
    """Two places, one of which stops answering: what the other has is safe, and the office answers on."""
    record_items(phone, day, 1, seed=1)
    elapsed = [0.0]
    pace = Pace(pause_s=0, look_s=30, elapsed=lambda: elapsed[0])
    hanging, good = HangingFolder(stick), Folder(stick.with_name("good"))
    folders = {str(hanging): hanging, str(good): good}
    async with opened(office.settings.database_file) as database:
        for folder in folders:
            await database.write(partial(add, folder=folder))
        copies = Copies(
            database, source_of(office.settings), office.clock, pace, folder_at=lambda path: folders[path]
        )
        await copies.open()
        keepers = [copies._keepers[folder] for folder in folders]
        await steps(*keepers, until=lambda: all(keeper.state is State.CURRENT for keeper in keepers))
        before = copies.safe_seq()
        hanging.hangs = True
        photos = record_items(phone, day, 1, seed=2)
        newest = len(contents(office.settings)["log"])
        copies.wake()
        assert hanging.entered.wait(30)
        await steps(keepers[1], until=lambda: keepers[1].reached.office_seq == newest)
        assert copies.safe_seq() == before, "it may still be at work"
        doing = {one.folder: one.state for one in await copies.statuses()}
        assert doing == {str(hanging): State.BEHIND, str(good): State.CURRENT}
        assert copies.safe_photos([digest(photos[0])]) == set(), "one of the two has it"
        elapsed[0] += pace.slow_s + 1
        await steps(keepers[1], until=lambda: not keepers[1].is_slow)
        states = {status.folder: status for status in await copies.statuses()}
        assert states[str(hanging)].state is State.SLOW
        assert states[str(hanging)].says != ""
        assert copies.safe_seq() == newest
        assert copies.safe_photos([digest(photos[0]), "0" * 64]) == {digest(photos[0])}
        hanging.hangs = False
        hanging.answers.set()
        await steps(keepers[0], until=lambda: keepers[0].reached.office_seq == newest)
        assert copies.safe_seq() == newest
        await copies.close()


async def test_a_copy_that_another_holds_and_does_not_move_on_is_said(
    office: Office, phone: Phone, day: dict[str, Any], stick: Path
) -> None:
    """A restore that was stopped in its middle: nothing is lost, and nothing new comes into the copy."""
    elapsed, folder = [0.0], Folder(stick)
    pace = Pace(pause_s=0, look_s=30, elapsed=lambda: elapsed[0])
    async with opened(office.settings.database_file) as database:
        await database.write(partial(add, folder=str(stick)))
        copies = Copies(database, source_of(office.settings), office.clock, pace, folder_at=lambda _: folder)
        await copies.open()
        [keeper] = copies._keepers.values()
        await steps(keeper, until=lambda: keeper.state is State.CURRENT)
        async with kept_still(Folder(stick)):
            await steps(keeper, until=lambda: keeper._held is not None)
            record_items(phone, day, 1)
            newest = len(contents(office.settings)["log"])
            states, head = [], head_of(folder)
            for moved_on in (False, True, False):
                if moved_on:
                    write_head(folder, head.model_copy(update={"serial": head.serial + 1}))
                    await steps(keeper, until=lambda: keeper._held == (elapsed[0], head.serial + 1))
                elapsed[0] += pace.slow_s * 0.9
                [status] = await copies.statuses()
                states.append(status.state)
            assert states == [State.BEHIND, State.BEHIND, State.SLOW]
            assert "Another command holds the copy" in status.says
            assert "end it" in status.hint
            assert not status.in_reach
        await steps(keeper, until=lambda: keeper.reached.office_seq == newest)
        [status] = await copies.statuses()
        assert (status.state, status.in_reach) == (State.CURRENT, True)
        await copies.close()


class SlowFolder(Folder):
    """A stick so slow that each piece it is asked for takes most of the time after which it would be called silent."""

    def __init__(self, path: Path, elapsed: list[float], piece_s: float) -> None:
        super().__init__(path)
        self._elapsed, self._piece_s = elapsed, piece_s
        self.seen: list[bool] = []
        self.keeper: Keeper | None = None

    def is_current(self) -> bool:
        return self.keeper is not None and self.keeper.state is State.CURRENT

    def put(self, stream: BinaryIO, content: bytes) -> None:
        self._wait()
        super().put(stream, content)

    def open(self, name: str) -> BinaryIO:
        self._wait()
        return super().open(name)

    def _wait(self) -> None:
        self._elapsed[0] += self._piece_s
        if self.keeper is not None:
            self.seen.append(self.keeper.is_slow)


async def test_a_slow_stick_that_is_at_work_counts_for_what_it_has(
    office: Office, phone: Phone, day: dict[str, Any], stick: Path
) -> None:
    """A step of many pieces takes minutes: each tells that it is alive, so phones need not keep what it has."""
    record_items(phone, day, 3)
    elapsed = [0.0]
    pace = Pace(pause_s=0, look_s=30, elapsed=lambda: elapsed[0])
    folder = SlowFolder(stick, elapsed, 0.9 * pace.slow_s)
    async with opened(office.settings.database_file) as database:
        await database.write(partial(add, folder=str(folder)))
        for _ in range(2):  # what was written is read back when the office is started again
            copies = Copies(
                database, source_of(office.settings), office.clock, pace, folder_at=lambda path: folder
            )
            await copies.open()
            keeper = copies._keepers[str(folder)]
            folder.keeper = keeper
            await steps(keeper, until=folder.is_current)
            await copies.close()
    assert len(folder.seen) > 10
    assert not any(folder.seen)


def add(tx: Any, folder: str) -> None:
    add_place(tx, folder, sealed=False, now="2026-03-14T12:00:00.000Z")


async def steps(*keepers: Keeper, until: Callable[[], bool]) -> None:
    """Let the threads work until it holds."""
    for _ in range(100):
        for keeper in keepers:
            keeper.stepped.clear()
            keeper.wake()
            await asyncio.to_thread(keeper.stepped.wait, 5)
        if until():
            return
    raise AssertionError("it never came so far")


def test_killed_at_any_moment_the_copy_is_the_log_up_to_its_head(tmp_path: Path) -> None:
    """A real office with a copy attached is killed while phones send; each time the copy alone makes an office."""
    seed = int(os.environ.get("INTAKE_SEED", random.SystemRandom().randrange(10**6)))
    print(f"seed {seed}: repeat with INTAKE_SEED={seed}")
    chance, ids, port = random.Random(seed), Ids(seed), free_port()
    settings, stick = Settings(tmp_path / "office", clock=utc_now), tmp_path / "stick"
    office = Office(settings, Clock(utc_now()), ids, port)
    process = serve_apart(settings.data_folder, port, "--copy-to", str(stick))
    phone = office.pair("manager")
    day = phone.keep(a_day(ids))
    phone.push()
    for number in range(KILLS):
        record_items(phone, day, 3, seed=number)
        killer = threading.Timer(chance.uniform(0, 0.2), process.send_signal, [signal.SIGKILL])
        killer.start()
        killer.join()
        process.wait(10)
        new = Settings(tmp_path / f"new-{number}", clock=utc_now)
        told, head = restored_from(stick, new), head_of(Folder(stick))
        assert told.faults == []
        assert contents(new)["log"] == contents(settings, up_to=head.office_seq)["log"]
        assert contents(new)["words"] == contents(settings, up_to=head.office_seq)["words"]
        assert set(contents(new)["photos"]) <= set(contents(settings)["photos"])
        assert faults_of(new) == []
        process = serve_apart(settings.data_folder, port)
    newest = len(contents(settings)["log"])
    until(phone, lambda copy: is_current(copy) and copy["office_seq"] == newest)
    for client in office.clients:
        client.close()
    process.terminate()
    process.wait(20)
    last = Settings(tmp_path / "last", clock=utc_now)
    assert restored_from(stick, last).faults == []
    assert contents(last) == contents(settings)


def test_by_hand_beside_a_serving_office_and_back(
    office: Office, phone: Phone, day: dict[str, Any], stick: Path, tmp_path: Path
) -> None:
    """The commands as a person types them: a sealed copy, erased anew, and an office made from it."""
    record_items(phone, day, 1)
    data = ["--data", str(office.settings.data_folder)]
    made = run_intake("copy", str(stick), "--sealed", *data)
    assert made.returncode == 0, made.stderr
    secret = made.stdout[made.stdout.index("AGE-SECRET-KEY-1") : made.stdout.index("It opens")]
    refused = run_intake("restore", str(stick), "--data", str(tmp_path / "new"))
    assert (refused.returncode, "no key was given" in refused.stderr) == (1, True)
    assert "Traceback" not in refused.stderr
    restored = run_intake("restore", str(stick), "--data", str(tmp_path / "new"), INTAKE_COPY_KEY=secret)
    assert restored.returncode == 0, restored.stderr
    assert "Table 1 (table)" in restored.stdout
    anew = run_intake("copy", str(stick), "--anew", *data)
    assert anew.returncode == 0, anew.stderr
    assert head_of(Folder(stick)).sealed_to is None
    (aside,) = stick.glob("before-*")
    assert head_of(Folder(aside)).sealed_to is not None
    unknown = run_intake("copy", str(stick), "--no-longer", *data)
    assert (unknown.returncode, "Traceback" in unknown.stderr) == (1, False)
