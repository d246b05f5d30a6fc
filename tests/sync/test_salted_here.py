"""An older app sends an owner's words without a salt: the log's digest of them tells nobody what they were, all the
same, and whoever sends them again is known."""

from __future__ import annotations

import asyncio
import hashlib
from pathlib import Path
from typing import Any

import pytest

from intake.copies.bring_in import bring_in
from intake.copies.folder import Folder
from intake.settings import Settings
from intake.sync.canonical import canonical
from tests.builders import Ids, a_visit, an_item
from tests.conftest import Clock, Office, at_once, running
from tests.copies.tools import copier_of, restored_from, until_done
from tests.phone import Phone
from tests.sync.planted import a_return, set_visit

NAME = "Barnaby Tumblewick"


def unsalted(made: tuple[str, dict[str, Any]]) -> tuple[str, dict[str, Any]]:
    kind, body = made
    return kind, {name: value for name, value in body.items() if name != "salt"}


def guess(**words: Any) -> str:
    return hashlib.sha256(canonical(words).encode()).hexdigest()


#: What somebody tries once the words are gone.
GUESSES = [
    guess(**salt, **words)
    for salt in ({}, {"salt": None})
    for words in ({"taken_by": NAME}, {"kinds": NAME}, {"value": NAME})
]


def say_without_salt(phone: Phone, day: dict[str, Any]) -> dict[str, Any]:
    """A visit, what its owner needs and who took a thing back, as an app of before said them."""
    kind, opening = unsalted(a_visit(phone.ids, day["day_id"]))
    visit = phone.keep((kind, {**opening, "kinds": NAME}))
    item = phone.keep(an_item(phone.ids, visit))
    phone.keep(set_visit(visit["visit_id"], "needs", NAME))
    phone.keep(unsalted(a_return(phone.ids.id(), item["item_id"], NAME)))
    phone.keep(a_return(phone.ids.id(), item["item_id"], NAME, salt=None))
    return visit


def logged(office: Office) -> str:
    return "\n".join(row[0] for row in office.ask("SELECT operation FROM operation_log"))


def let_go(operation: dict[str, Any]) -> dict[str, Any]:
    """As a phone keeps it once its words were erased: with the digest of them as they were made."""
    own = [name for name in ("salt", "kinds", "value", "taken_by") if name in operation]
    words = {name: operation[name] for name in own}
    kept = {name: value for name, value in operation.items() if name not in own}
    return {**kept, "private_sha256": guess(**words)} if any(name != "salt" for name in own) else operation


@pytest.mark.parametrize("late", [False, True])
def test_nobody_finds_a_name_by_its_digest_once_it_is_erased(
    office: Office, manager: Phone, day: dict[str, Any], late: bool
) -> None:
    """Whether the words come before the erasure, or without themselves behind it."""
    phone = office.pair("table")
    visit = say_without_salt(phone, day)
    if late:
        phone.outbox = [let_go(operation) for operation in phone.outbox]
    answers = phone.push()
    assert [answer["outcome"] for answer in answers] == ["kept"] * 5
    manager.keep(("erase_consignor", {"visit_id": visit["visit_id"]}))
    assert manager.push()[0]["outcome"] == "kept"
    assert [digest for digest in GUESSES if digest in logged(office)] == []
    phone.send_again()
    assert phone.push(lose_answer=True) == answers
    phone.outbox = [let_go(operation) for operation in phone.outbox]
    assert phone.push() == answers
    assert office.faults() == []


def test_what_is_sent_again_is_known_by_its_words(office: Office, day: dict[str, Any]) -> None:
    """In one batch with itself, later, and under other words, which are something else."""
    phone = office.pair("table")
    say_without_salt(phone, day)
    twice = [*phone.outbox, *phone.outbox]
    answers = phone.push(only=twice, lose_answer=True)
    assert answers[:5] == answers[5:]
    assert phone.push(lose_answer=True) == answers[:5]
    other = {**phone.outbox[2], "value": "a chair"}
    [answer] = phone.push(only=[other], lose_answer=True)
    assert answer["problem"]["code"] == "operation_id_reused"
    assert office.faults() == []


def test_words_that_are_lost_come_back_from_the_phone(office: Office, day: dict[str, Any]) -> None:
    """The office's salt went with them, so that nothing proves them; they are read all the same."""
    phone = office.pair("table")
    visit = say_without_salt(phone, day)
    answers = phone.push()
    office.change("DELETE FROM private_words")
    office.change("DELETE FROM field WHERE name = 'needs'")
    phone.send_again()
    assert phone.push() == answers
    assert office.ask("SELECT count(*) FROM private_words WHERE words LIKE ?", f"%{NAME}%") == [(4,)]
    office.change("UPDATE office SET apply_version = 0")
    office.end()
    with running(office.settings, office.clock, office.ids) as again:
        desk = again.pair("desk")
        assert desk.record(visit["visit_id"])["fields"]["needs"]["value"] == NAME
        faults = again.faults()
        assert len(faults) == 4
        assert all("nothing proves it" in fault for fault in faults)


def test_an_office_that_heard_it_anew_knows_it_in_a_copy(
    office: Office, day: dict[str, Any], tmp_path: Path, clock: Clock
) -> None:
    """It has salted the words once more: they are the same ones."""
    phone = office.pair("table")
    until_done(copier_of(office.settings, tmp_path / "older"))
    say_without_salt(phone, day)
    answers = phone.push()
    until_done(copier_of(office.settings, tmp_path / "newer"))
    office.end()
    settings = Settings(tmp_path / "new", clock=clock, pause=at_once)
    restored_from(tmp_path / "older", settings)
    with running(settings, clock, Ids(seed=5)) as new:
        phone.come_back(new.client(), new.code("table", "table", phone.device_id))
        again = phone.push(lose_answer=True)
        assert [answer["outcome"] for answer in again] == ["kept"] * 5
        done, _, faults = asyncio.run(bring_in(Folder(tmp_path / "newer"), settings, secret=None))
        assert (done.kept, done.refused, done.others, faults) == (0, 0, 0, [])
        assert phone.push() == again
        assert new.faults() == []
    assert len(answers) == 5
