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

from intake.examination.claims import claims_in, texts_in
from intake.examination.plans import SHIPPED, check, load_plans

ROOT = Path(__file__).parents[2]


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
        ("Nobody says that it is now safe.", 0),
        ("Nobody says that it is by now safe.", 1),
    ],
)
def test_a_promise_is_told_from_its_denial(text: str, claims: int) -> None:
    assert len(claims_in(text)) == claims


def test_no_shipped_plan_word_or_caution_promises_anything() -> None:
    texts = list(texts_in(load_plans().body(), []))
    assert len(texts) > 2_000
    assert [(place, claim) for place, text in texts for claim in claims_in(text)] == []


def test_a_house_that_promises_something_hears_the_line(tmp_path: Path) -> None:
    (tmp_path / "plans").mkdir()
    for name, before, after in (
        ("cautions.yaml", "Do not touch. People away first", "It is safe. People away first"),
        ("plans/glass.yaml", 'how: "', 'how: "A genuine piece rings. '),
    ):
        text = (SHIPPED / name).read_text("utf-8")
        assert before in text
        line = text[: text.index(before)].count("\n") + 1
        (tmp_path / name).write_text(text.replace(before, after, 1), "utf-8")
        found = [one for one in check(tmp_path) if "promises something" in one.words]
        (tmp_path / name).unlink()
        assert [(one.file, one.line) for one in found] == [(Path(name).name, line)]


def test_what_staff_must_not_say_may_be_named(tmp_path: Path) -> None:
    text = (SHIPPED / "cautions.yaml").read_text("utf-8")
    (tmp_path / "cautions.yaml").write_text(
        text.replace('may_not: "', 'may_not: "Call it safe, ', 1), "utf-8"
    )
    assert check(tmp_path) == []


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
        text for _, text in texts_in(json.loads((ROOT / "fixtures" / "day.json").read_text("utf-8")), [])
    )
    assert [(name, claim) for name, text in texts.items() for claim in claims_in(text)] == []
