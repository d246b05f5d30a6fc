"""What was erased stays erased when something older is put back: the list of erasures beside folder and copies."""

from __future__ import annotations

import asyncio
import shutil
from pathlib import Path
from typing import Any

import pytest

from intake.commands import main, one_of
from intake.copies.commands import print_restored
from intake.copies.erasures import ERASURES
from intake.errors import CommandError
from intake.examination.plans import shipped_plans
from intake.opening import open_office
from intake.settings import Settings
from intake.sync.erasing import NamedVisit
from tests.builders import a_visit
from tests.conftest import Office
from tests.copies.tools import (
    OWNER_NAME,
    a_consignor,
    bytes_below,
    copier_of,
    flip,
    restored_from,
    until_done,
)
from tests.phone import Phone

OFFICE_ID, VISIT = "6f1c3f0e-96b4-4f7b-9d58-0b6de0f4a1c2", "019cebae-6a1b-7f0c-8f40-5a2b7c9d1e03"
AT = "2026-03-14T11:20:00.000Z"


@pytest.fixture
def visit(phone: Phone, day: dict[str, Any]) -> dict[str, Any]:
    """A visit at the office, with its owner's name."""
    visit = phone.keep(a_visit(phone.ids, day["day_id"], ticket="Q07"))
    phone.keep(a_consignor(visit["visit_id"], "name", OWNER_NAME))
    phone.push()
    return visit


def erase(manager: Phone, visit: dict[str, Any]) -> None:
    manager.keep(("erase_consignor", {"visit_id": visit["visit_id"]}))
    assert manager.push()[0]["outcome"] == "kept"


def opened_and_closed(settings: Settings) -> None:
    async def work() -> None:
        async with open_office(settings, shipped_plans()):
            pass

    asyncio.run(work())


def test_a_folder_that_is_put_back_erases_again_what_was_erased_since(
    office: Office, manager: Phone, visit: dict[str, Any], tmp_path: Path
) -> None:
    folder, before = office.settings.data_folder, tmp_path / "before"
    shutil.copytree(folder, before)
    erase(manager, visit)
    office.end()
    assert ERASURES.beside(folder).read_bytes().count(b"\n") == 1
    assert OWNER_NAME.encode() not in ERASURES.beside(folder).read_bytes()
    shutil.rmtree(folder)
    shutil.copytree(before, folder)
    assert OWNER_NAME.encode() in bytes_below(folder)
    opened_and_closed(office.settings)
    assert OWNER_NAME.encode() not in bytes_below(folder)
    assert office.faults() == []


def test_an_older_copy_that_is_restored_is_told_what_was_erased_since(
    office: Office,
    manager: Phone,
    phone: Phone,
    day: dict[str, Any],
    visit: dict[str, Any],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """The copy was away since; one of the two owners is not in it at all."""
    stick = tmp_path / "stick"
    until_done(copier_of(office.settings, stick))
    later = phone.keep(a_visit(phone.ids, day["day_id"], ticket="Q08"))
    phone.push()
    erase(manager, visit)
    erase(manager, later)
    office.end()
    new = Settings(tmp_path / "new", clock=office.clock)
    restored = restored_from(stick, new)
    assert (restored.erased_since.tickets, restored.erased_since.unknown) == (["Q07"], 1)
    assert OWNER_NAME.encode() not in bytes_below(new.data_folder)
    print_restored(restored, new.data_folder, 0.1)
    said = capsys.readouterr().out
    assert "the words of 1 owner were erased (tickets Q07)" in said
    assert "whose visits are not in it" in said


def older_with_the_list(office: Office, manager: Phone, visit: dict[str, Any], tmp_path: Path) -> Path:
    """A copy as it was before an erasure, with the list of erasures as it was after it. The office has ended."""
    stick = tmp_path / "stick"
    until_done(copier_of(office.settings, stick))
    older = tmp_path / "older"
    shutil.copytree(stick, older)
    erase(manager, visit)
    until_done(copier_of(office.settings, stick, begun=True))
    office.end()
    shutil.copy(stick / ERASURES.name, older / ERASURES.name)
    return older


def test_a_copy_has_the_list_behind_no_head(
    office: Office, manager: Phone, visit: dict[str, Any], tmp_path: Path
) -> None:
    """Its head is the older one, as if the stick had lost the newer; the list says what came after."""
    older = older_with_the_list(office, manager, visit, tmp_path)
    ERASURES.beside(office.settings.data_folder).unlink()
    new = Settings(tmp_path / "elsewhere" / "new", clock=office.clock)
    assert restored_from(older, new).erased_since.tickets == ["Q07"]
    assert OWNER_NAME.encode() not in bytes_below(new.data_folder)


def test_nobody_asks_an_owner_again_whose_words_were_erased_since(
    office: Office, manager: Phone, visit: dict[str, Any], tmp_path: Path
) -> None:
    """One of the older copy's lines of words is damaged, and the list says that all of them are erased."""
    older = older_with_the_list(office, manager, visit, tmp_path)
    words = (older / "words-0.jsonl").read_bytes()
    flip(older / "words-0.jsonl", words.index(OWNER_NAME.encode()))
    new = Settings(tmp_path / "elsewhere" / "new", clock=office.clock)
    told = " ".join(restored_from(older, new).faults)
    assert "are missing. This owner's words were erased: ask nobody" in told
    assert "Ask the owner again" not in told


def test_damaged_lines_and_other_offices_say_nothing() -> None:
    other = "11111111-1111-4111-8111-111111111111"
    good = ERASURES.as_lines(OFFICE_ID, {VISIT: AT})
    assert ERASURES.read(good, OFFICE_ID) == {VISIT: AT}
    assert ERASURES.read(good, other) == {}
    broken = [good[:-2], b"\xff\n", b"0 {}\n", good.replace(b"14T", b"15T")]
    assert ERASURES.read(b"\n".join(broken), OFFICE_ID) == {}
    odd = [{"not an id": AT}, {VISIT: "yesterday"}]
    assert ERASURES.read(b"".join(ERASURES.as_lines(OFFICE_ID, one) for one in odd), OFFICE_ID) == {}
    twice = good + ERASURES.as_lines(OFFICE_ID, {VISIT: "2026-03-15T08:00:00.000Z"}) + good
    assert ERASURES.read(b"half a li\n" + twice, OFFICE_ID) == {VISIT: "2026-03-15T08:00:00.000Z"}


@pytest.mark.parametrize("typed", ["q07", "philippa  DUNNOCK-Vale"])
def test_a_person_names_whom_to_erase_by_ticket_or_name(
    office: Office, visit: dict[str, Any], typed: str, capsys: pytest.CaptureFixture[str]
) -> None:
    office.end()
    assert main(["erase", "--data", str(office.settings.data_folder), "--yes", typed]) == 0
    assert f"ticket Q07, {OWNER_NAME}" in capsys.readouterr().out
    assert OWNER_NAME.encode() not in bytes_below(office.settings.data_folder)
    assert ERASURES.beside(office.settings.data_folder).exists()


def test_nothing_is_erased_before_the_person_has_typed_whose_words(
    office: Office,
    visit: dict[str, Any],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    office.end()
    erasing = ["erase", "--data", str(office.settings.data_folder), OWNER_NAME]
    assert main(erasing) == 1
    assert "add --yes" in capsys.readouterr().err, "nobody could be asked"
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    for typed in ("", "y", OWNER_NAME):
        monkeypatch.setattr("builtins.input", lambda words: typed if "Type Q07" in words else "q07")  # noqa: B023
        assert main(erasing) == 1
        assert "Nothing was erased" in capsys.readouterr().err
    assert OWNER_NAME.encode() in bytes_below(office.settings.data_folder)
    monkeypatch.setattr("builtins.input", lambda words: " q07")
    assert main(erasing) == 0
    assert OWNER_NAME.encode() not in bytes_below(office.settings.data_folder)


def test_where_several_are_meant_the_person_says_which(
    office: Office,
    phone: Phone,
    day: dict[str, Any],
    visit: dict[str, Any],
    capsys: pytest.CaptureFixture[str],
) -> None:
    again = phone.keep(a_visit(phone.ids, day["day_id"], ticket="Q09"))
    phone.keep(a_consignor(again["visit_id"], "name", OWNER_NAME))
    phone.push()
    office.end()
    erasing = ["erase", "--data", str(office.settings.data_folder)]
    assert main([*erasing, OWNER_NAME]) == 1
    said = capsys.readouterr().err
    assert [one in said for one in ("Q07", "Q09", again["visit_id"])] == [True] * 3
    assert main([*erasing, "Dunnock-Vale"]) == 1, "a part of a name is nobody's name"
    assert OWNER_NAME.encode() in bytes_below(office.settings.data_folder)

    found = [NamedVisit(VISIT, ticket, OWNER_NAME, "Hall", "2026-03-14") for ticket in ("Q07", "Q09")]
    assert one_of(found, OWNER_NAME, lambda words: " 2 ") is found[1]
    for typed in ("", "3", "0", "Q09"):
        with pytest.raises(CommandError):
            one_of(found, OWNER_NAME, lambda words: typed)  # noqa: B023, called before the next is typed
