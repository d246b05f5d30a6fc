"""No text, screen or print says that a thing is safe, real or legal: the tool never knows it.

Source: common practice; whoever is licensed decides.
"""

from __future__ import annotations

import ast
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from intake.examination.plans import load_plans

ROOT = Path(__file__).parents[2]
CLAIMS = json.loads((ROOT / "fixtures" / "claims.json").read_text("utf-8"))
CLAIM = re.compile(rf"\b({'|'.join(CLAIMS['words'])})\b", re.IGNORECASE)
DENIED = re.compile(rf"\b({'|'.join(CLAIMS['denied_by'])})\b", re.IGNORECASE)
# What is forbidden to staff may name what they must not say.
FORBIDDING = {"may_not", "do_not"}


def claims_in(text: str) -> list[str]:
    """The sentences that promise something: they have such a word, nothing before it denies it, and they do not ask."""
    for words in CLAIMS["allowed"]:
        text = text.replace(words, "")
    found = []
    for sentence in re.findall(r"[^.;:!?]+[.;:!?]?", text):
        word = CLAIM.search(sentence)
        before = sentence[: word.start()].split()[-CLAIMS["near"] :] if word else []
        if word and not sentence.endswith("?") and not DENIED.search(" ".join(before)):
            found.append(sentence.strip())
    return found


@pytest.mark.parametrize(
    ("text", "claims"),
    [
        ("It is safe to handle.", 1),
        ("No ammunition. It is inert.", 1),
        ("Genuine, as its papers say", 1),
        ("Never say that it is safe.", 0),
        ("Accept that it is not lawful; it is legal.", 1),
        ("Is it real?", 0),
        ("Unlawful to hold; the safety lead decides.", 0),
        ("No legal advice.", 0),
        ("No crack or chip was seen by anybody at this table, and it is safe to use.", 1),
        ("It is not dangerous.", 1),
    ],
)
def test_a_promise_is_told_from_its_denial(text: str, claims: int) -> None:
    assert len(claims_in(text)) == claims


def texts_in(value: object, member: str = "") -> Iterator[tuple[str, str]]:
    """Every text of a body as devices read it, each with the member that it stands in."""
    if isinstance(value, dict):
        for name, inside in value.items():
            yield from texts_in(inside, name)
    elif isinstance(value, list):
        for inside in value:
            yield from texts_in(inside, member)
    elif isinstance(value, str):
        yield member, value


def test_no_shipped_plan_word_or_caution_promises_anything() -> None:
    body = load_plans().body()
    # What people say of a fault stands in the vocabulary as they say it; it is understood, and never printed.
    heard = {"said_as", "synonyms"}
    texts = [(member, text) for member, text in texts_in(body) if member not in FORBIDDING | heard]
    assert len(texts) > 2_000
    assert [(member, claim) for member, text in texts for claim in claims_in(text)] == []


def said_by_python(file: Path) -> Iterator[str]:
    """The texts of a module that can reach a person: all but its docstrings."""
    tree = ast.parse(file.read_text("utf-8"))
    docstrings = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docstrings:
            yield node.value


def said_by_the_app(file: Path) -> Iterator[str]:
    """The lines of a module of the app without its comments."""
    text = re.sub(r"/\*.*?\*/", "", file.read_text("utf-8"), flags=re.DOTALL)
    yield from re.sub(r"(?<![:\"'`])//[^\n]*", "", text).splitlines()


def test_nothing_that_the_office_says_promises_anything() -> None:
    files = sorted((ROOT / "intake").rglob("*.py"))
    assert len(files) > 40
    assert [
        (file.name, claim) for file in files for text in said_by_python(file) for claim in claims_in(text)
    ] == []


def test_nothing_that_the_app_says_promises_anything() -> None:
    kept = {"node_modules", "vendor", "built"}
    files = [
        file
        for file in sorted((ROOT / "web").rglob("*"))
        if file.suffix in {".js", ".ts", ".tsx", ".html", ".css", ".webmanifest"}
        and not kept & set(file.relative_to(ROOT).parts)
    ]
    assert len(files) > 50
    assert [
        (file.name, claim) for file in files for line in said_by_the_app(file) for claim in claims_in(line)
    ] == []


def test_no_drawing_page_or_invented_item_promises_anything() -> None:
    """What is read beside the app: titles of drawings, the README, what people type on the invented day."""
    drawings = sorted((ROOT / "intake" / "examination" / "data" / "outlines").glob("*.svg"))
    assert len(drawings) > 20
    texts = {file.name: re.sub(r"<[^>]*>", ". ", file.read_text("utf-8")) for file in drawings}
    texts["README.md"] = " ".join((ROOT / "README.md").read_text("utf-8").split())
    texts["day.json"] = ". ".join(
        text for _, text in texts_in(json.loads((ROOT / "fixtures" / "day.json").read_text("utf-8")))
    )
    assert [(name, claim) for name, text in texts.items() for claim in claims_in(text)] == []
