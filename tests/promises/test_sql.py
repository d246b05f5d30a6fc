"""SQL that only this engine has stands in two modules, so that another engine would be their work alone."""

from __future__ import annotations

import re
from pathlib import Path

INTAKE = Path(__file__).parents[2] / "intake"
ENGINES_OWN = re.compile(
    r"\b(json_(each|array|group|extract|remove|object)|rowid|fts5|PRAGMA|MATCH |instr\()"
)
MAY = {INTAKE / "database.py", INTAKE / "cataloguing" / "search.py"}


def test_the_engine_is_spoken_to_in_two_modules() -> None:
    found = [
        f"{file.relative_to(INTAKE)}:{number}: {line.strip()}"
        for file in sorted(INTAKE.rglob("*.py"))
        if file not in MAY and "bench" not in file.parts
        for number, line in enumerate(file.read_text("utf-8").splitlines(), 1)
        if ENGINES_OWN.search(line)
    ]
    assert found == []
