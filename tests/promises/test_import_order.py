"""Imports point back: a step never knows how its records travel."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
INTAKE = ROOT / "intake"
#: Everything under intake/, what is read before what reads it: first what knows nothing of the job, then its steps,
#: then what carries and keeps them, the office, and last what people and programs start.
OFFICE = ["in_words", "errors", "ids", "version", "system", "address", "word_page", "once"]
OFFICE += ["ending", "web_folder", "disk", "lock", "database", "derived_tables", "settings", "data_folder"]
OFFICE += [
    "wire",
    "families",
    "field_words",
    "records",
    "operation",
    "reading",
    "edits",
    "settling",
    "photos",
    "access",
]
OFFICE += ["arrival", "tagging", "examination", "custody", "cataloguing"]
OFFICE += ["sync", "copies", "office", "opening", "connections"]
OFFICE += ["hall", "routes", "openapi", "shell", "app"]
OFFICE += ["serving", "demo", "bench", "service"]
OFFICE += ["commands", "app_lines", "app_kinds", "app_lists", "app_types", "setup", "__main__"]
WEB = ["styles", "job", "local", "sync", "parts", "screens"]
#: What a step offers to requests and to the command line stands behind the office, in whichever folder it lies.
BEHIND = ("routes", "commands")
#: What a module of the app names as it is imported: with names, for its effect alone, later, or handed on.
IMPORTED = re.compile(r'(?:\bfrom |\bimport |\bimport\()"(\.[^"]+)"')
DATA_ONLY = ("__init__", "schema")
BY_A_TEXT = ("import_module", "__import__")


def module_of(file: Path) -> str:
    """The part of the office that a file belongs to: a folder or a module right under intake/."""
    return file.stem if file.stem in BEHIND else file.relative_to(INTAKE).parts[0].removesuffix(".py")


def imports_of(file: Path) -> list[str]:
    """The parts that it imports, those in functions too. One that is named by the way from here, or by a text, would be
    none of them: there is none."""
    named = []
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        hidden = (isinstance(node, ast.ImportFrom) and node.level) or (
            isinstance(node, ast.Name | ast.Attribute) and ast.unparse(node).split(".")[-1] in BY_A_TEXT
        )
        assert not hidden, (
            f"{file.name} hides an import: name it whole, from intake on, in {ast.unparse(node)}"
        )
        if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "intake":
            named += [f"{node.module}.{alias.name}" for alias in node.names]
        elif isinstance(node, ast.Import):
            named += [alias.name for alias in node.names if alias.name.startswith("intake.")]
    return [part_named(name.split(".")[1:]) for name in named]


def part_named(path: list[str]) -> str:
    """The part that a dotted name leads to, whatever is taken out of it."""
    within = next((name for name in path[1:2] if name in BEHIND), None)
    return within or path[0]


@pytest.mark.parametrize("file", sorted(INTAKE.rglob("*.py")), ids=lambda file: str(file.relative_to(INTAKE)))
def test_office_imports_point_back(file: Path) -> None:
    own = module_of(file)
    if own in DATA_ONLY:
        assert not imports_of(file)
        return
    assert own in OFFICE, f"{own} is new: say in OFFICE where it stands"
    for named in imports_of(file):
        assert OFFICE.index(named) <= OFFICE.index(own), f"{file.name} imports {named}"


@pytest.mark.parametrize(
    "file",
    sorted(file for folder in WEB for file in (ROOT / "web" / folder).rglob("*.ts*")),
    ids=lambda file: str(file.relative_to(ROOT)),
)
def test_web_imports_point_back(file: Path) -> None:
    own = file.relative_to(ROOT / "web").parts[0]
    for named in IMPORTED.findall(file.read_text("utf-8")):
        target = (file.parent / named).resolve().relative_to(ROOT / "web").parts[0]
        assert WEB.index(target) <= WEB.index(own), f"{file.name} imports {named}"
