"""The key for sealed copies goes by paper: what is printed can be typed in as it stands, and what is wrong is said."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import pytest

from intake.commands import main
from intake.copies.at_start import settle_key
from intake.copies.commands import asked_key
from intake.copies.folder import Folder
from intake.copies.paper import KeyNotTaken, is_on_paper
from intake.copies.places import copy_recipient
from intake.copies.reading import head_of
from intake.copies.seal import SECRET_MARK, Opener, WrongKey, make_key, off_paper, on_paper, signs_of
from intake.database import snapshot
from tests.conftest import Office


def test_what_is_on_paper_opens_the_copy_however_it_is_typed() -> None:
    secret, recipient = make_key()
    paper = on_paper(secret, recipient)
    assert recipient[:12] in paper
    typed = paper[: paper.index("It opens")]
    assert max(map(len, typed.split()[1:])) == 4
    for way in (typed, typed.lower(), secret.removeprefix(SECRET_MARK), f"\n {secret} "):
        assert off_paper(way) == secret
        Opener(recipient, way)


def test_signs_that_no_key_has_are_read_as_what_they_look_like() -> None:
    """Source for the signs that are left out: BIP 173, "Bech32"."""
    secret, _ = make_key()
    signs = secret.removeprefix(SECRET_MARK)
    assert off_paper(signs.replace("0", "O").replace("L", "1").replace("8", "B")) == secret


def test_a_missing_sign_is_counted_and_a_wrong_one_found() -> None:
    secret, recipient = make_key()
    with pytest.raises(WrongKey, match="this has 57"):
        Opener(recipient, secret[:-1])
    with pytest.raises(WrongKey, match="at least one sign"):
        Opener(recipient, secret[:-1] + ("Q" if secret[-1] != "Q" else "P"))


def answers(lines: Iterable[str], asked: list[str]) -> object:
    given = iter(lines)

    def ask(prompt: str) -> str:
        asked.append(prompt)
        return next(given)

    return ask


def test_the_prompt_takes_several_lines_and_asks_again(capsys: pytest.CaptureFixture[str]) -> None:
    secret, recipient = make_key()
    other, other_recipient = make_key()
    asked: list[str] = []
    lines = [other, secret[:40], secret[40:]]
    given = asked_key(recipient, answers(lines, asked))  # type: ignore[arg-type]
    assert given == secret
    assert "24 of 58 signs" in asked[-1]
    assert other_recipient[:12] in capsys.readouterr().out
    assert asked_key(recipient, answers([secret[:40], "", ""], asked)) is None  # type: ignore[arg-type]


def test_a_key_is_taken_once_its_last_signs_are_read_off_the_paper() -> None:
    secret = make_key()[0]
    typed = iter(["abc", " ".join(secret[-6:].lower())])
    assert is_on_paper(secret, lambda words: next(typed))
    wrong = iter([secret[-5:], "000000", ""])
    assert not is_on_paper(secret, lambda words: next(wrong))


@pytest.fixture
def terminal(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> list[str]:
    """A person at the terminal who copies the key, and types of it what stands here; `fits`: its last signs."""
    typed: list[str] = []

    def answer(_: str) -> str:
        line = typed.pop(0)
        shown = (
            re.findall(r"^    ([A-Z0-9 ]+)$", capsys.readouterr().out, re.MULTILINE) if line == "fits" else []
        )
        return signs_of("".join(shown))[-6:] if shown else line

    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("builtins.input", answer)
    return typed


def test_an_office_is_served_once_its_new_key_is_on_paper(
    office: Office, stick: Path, terminal: list[str]
) -> None:
    """Its pairing code is drawn below it, and is larger than the terminal."""
    office.end()
    settings = replace(office.settings, copy_to=(str(stick),), seal_copies=True)

    def recipient() -> str | None:
        with snapshot(settings.database_file) as tx:
            return copy_recipient(tx)

    terminal[:] = ["abc", ""]
    with pytest.raises(KeyNotTaken):
        settle_key(settings)
    assert recipient() is None
    settle_key(replace(settings, seal_copies=False))
    terminal[:] = ["fits"]
    settle_key(settings)
    taken = recipient()
    assert taken is not None
    settle_key(settings)
    assert recipient() == taken, "nobody is asked again"


def test_a_copy_is_sealed_by_hand_once_its_new_key_is_on_paper(
    office: Office, stick: Path, terminal: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    command = ["copy", str(stick), "--sealed", "--data", str(office.settings.data_folder)]
    terminal[:] = [""]
    assert main(command) == 1
    assert "The key was not taken" in capsys.readouterr().err
    assert not stick.exists()
    terminal[:] = ["fits"]
    assert main(command) == 0
    assert head_of(Folder(stick)).sealed_to is not None
