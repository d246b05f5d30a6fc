"""Every way to say no has a code of its own that is explained, and the app knows no code that does not exist."""

from __future__ import annotations

import re
from pathlib import Path

from intake.errors import IntakeError, Refusal, every_error
from tests.phone import Phone

ROOT = Path(__file__).parents[2]


def all_kinds(kind: type[IntakeError]) -> list[type[IntakeError]]:
    return [kind, *(found for below in kind.__subclasses__() for found in all_kinds(below))]


def test_no_two_errors_share_a_code() -> None:
    codes = [kind.code for kind in all_kinds(IntakeError)]
    assert sorted(codes) == sorted(set(codes)) == sorted(every_error())


def test_the_type_of_a_problem_leads_to_its_meaning(phone: Phone) -> None:
    """Source: RFC 9457 section 3.1.1: a type that is an address should lead to words a person can read."""
    for code, error in every_error().items():
        told = phone.client.get(f"/problems/{code}")
        assert told.status_code == 200, code
        assert error.title in told.text, code


def test_contributors_find_every_code_in_their_guide() -> None:
    guide = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    assert [code for code in every_error() if f"`{code}`" not in guide] == []


def test_the_app_asks_only_for_codes_that_exist() -> None:
    """A code the app compares with must be one of the office's, or one it makes itself."""
    text = "\n".join(
        file.read_text("utf-8")
        for folder in ("job", "local", "sync", "parts", "screens")
        for file in (ROOT / "web" / folder).rglob("*.ts*")
    )
    asked = set(re.findall(r'code === "(\w+)"', text))
    own = set(re.findall(r'code: "(\w+)"', text))
    assert asked, "the pattern finds what the app compares"
    assert asked - own - set(every_error()) == set()


def test_the_app_sends_again_what_may_have_been_on_its_way() -> None:
    """It does so by itself with what the office refused only since it did not know something."""
    text = (ROOT / "web" / "local" / "sent_again.ts").read_text("utf-8")
    found = re.search(r"UNKNOWN_THERE.*= new Set\(\[(.*?)\]\)", text, re.DOTALL)
    assert found
    refusals = [kind for kind in all_kinds(IntakeError) if issubclass(kind, Refusal)]
    may_come = {kind.code for kind in refusals if kind.may_be_on_its_way}
    assert set(re.findall(r'"(\w+)"', found[1])) == may_come
