"""`verify` looks at the copies in reach: they know what the office's own file can no longer tell."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from intake.copies.checking import copy_faults
from intake.copies.places import Place, Reached, add_place, note_copy
from intake.database import Writing, opened
from intake.settings import Settings
from intake.sync.log import CHAIN_START, link
from intake.sync.rebuild import rebuild
from tests.conftest import Office
from tests.copies.tools import copier_of, faults_of, flip, record_items, until_done
from tests.phone import Phone


def write(settings: Settings, job: Callable[[Writing], object]) -> None:
    """Somebody writes into the office's file."""

    async def work() -> None:
        async with opened(settings.database_file) as database:
            await database.write(job)

    asyncio.run(work())


def looked_at(settings: Settings) -> list[str]:
    async def work() -> list[str]:
        async with opened(settings.database_file) as database:
            return await database.read(copy_faults)

    return asyncio.run(work())


@pytest.fixture
def copied(office: Office, phone: Phone, day: dict[str, Any], tmp_path: Path) -> tuple[Settings, Path]:
    record_items(phone, day, 1)
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
    assert "cut, rewritten" in fault
    assert "Do not rebuild" in fault


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


@pytest.mark.parametrize(
    "name", ["log.jsonl", "words-0.jsonl", "photos.jsonl", "photos-0.pack", "plans.jsonl"]
)
def test_damage_in_a_copy_is_said(copied: tuple[Settings, Path], name: str) -> None:
    settings, copy = copied
    flip(copy / name, 40)
    assert any("damaged" in fault for fault in looked_at(settings))
    (copy / name).unlink()
    assert any("cut" in fault for fault in looked_at(settings))


def test_a_copy_that_is_away_is_no_fault(copied: tuple[Settings, Path]) -> None:
    settings, copy = copied
    copy.rename(copy.with_name("away"))
    assert looked_at(settings) == []


def test_tables_that_say_no_office_are_told_in_words(copied: tuple[Settings, Path]) -> None:
    settings, _ = copied
    write(settings, lambda tx: tx.run("DELETE FROM office"))
    [fault] = looked_at(settings)
    assert "do not say which office" in fault
