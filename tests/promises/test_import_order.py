"""Imports point back: a step never knows how its records travel."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
OFFICE = ["errors", "settings", "database", "families", "records", "operation", "edits", "wire", "photos"]
OFFICE += ["arrival", "tagging", "examination", "custody", "cataloguing", "sync"]
WEB = ["job", "local", "sync", "parts", "screens"]
# Modules that put the whole together, and routes, which run inside it.
WHOLE = {
    "app",
    "office",
    "commands",
    "demo",
    "shell",
    "openapi",
    "__main__",
    "bench",
    "setup",
    "access",
    "hall",
    "copies",
}


def modules_of(file: Path) -> list[str]:
    tree = ast.parse(file.read_text("utf-8"))
    named = [node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    return [name.split(".")[1] for name in named if name.startswith("intake.")]


@pytest.mark.parametrize(
    "file", sorted((ROOT / "intake").rglob("*.py")), ids=lambda file: str(file.relative_to(ROOT))
)
def test_office_imports_point_back(file: Path) -> None:
    place = file.relative_to(ROOT / "intake").parts[0].removesuffix(".py")
    if place not in OFFICE or file.name == "routes.py":
        return
    for named in modules_of(file):
        assert named not in WHOLE, f"{file.name} imports {named}"
        if named in OFFICE:
            assert OFFICE.index(named) <= OFFICE.index(place), f"{file.name} imports {named}"


@pytest.mark.parametrize(
    "file",
    sorted(file for folder in WEB for file in (ROOT / "web" / folder).rglob("*.ts*")),
    ids=lambda file: str(file.relative_to(ROOT)),
)
def test_web_imports_point_back(file: Path) -> None:
    place = file.relative_to(ROOT / "web").parts[0]
    for named in re.findall(r'^import .* from "(\.[^"]+)"', file.read_text("utf-8"), re.MULTILINE):
        target = (file.parent / named).resolve().relative_to(ROOT / "web").parts[0]
        assert WEB.index(target) <= WEB.index(place), f"{file.name} imports {named}"
