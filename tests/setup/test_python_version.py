"""An old Python ends with a sentence, whatever it can read."""

from __future__ import annotations

import ast
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from intake.setup.lock import ROOT
from intake.setup.python_version import OLDEST

#: All that Python reads before it has been asked for its version.
READ_FIRST = [
    "intake/__init__.py",
    "intake/__main__.py",
    "intake/setup/__init__.py",
    "intake/setup/python_version.py",
]
READ_FIRST += ["tests/__init__.py", "tests/__main__.py"]
PRETEND = (
    "import sys, runpy; sys.version_info = (3, 10, 4); runpy.run_module({module!r}, run_name='__main__')"
)


@pytest.mark.parametrize("name", READ_FIRST)
def test_what_is_read_first_is_readable_to_the_oldest(name: str) -> None:
    """Also to Python 2, which knows no annotations, no f-strings and no imports from the future of 3.7."""
    text = (ROOT / name).read_text("utf-8")
    tree = ast.parse(text, feature_version=(3, 4))
    for node in ast.walk(tree):
        assert not isinstance(node, ast.JoinedStr | ast.AnnAssign | ast.FunctionDef)
        assert not isinstance(node, ast.ImportFrom) or node.module != "__future__"
    text.encode("ascii")  # Python 2 takes nothing else without being told


@pytest.mark.parametrize("module", ["intake", "tests"])
@pytest.mark.parametrize("newer", [True, False])
def test_an_old_python_says_what_to_do(tmp_path: Path, module: str, newer: bool) -> None:
    if newer:
        (tmp_path / "python3.12").write_text("#!/bin/sh\n")
        (tmp_path / "python3.12").chmod(0o755)
    done = run_with(Path(sys.executable), "-c", PRETEND.format(module=module), path=tmp_path)
    assert done.returncode == 1
    assert done.stderr.startswith("This needs Python 3.11 or newer, and this is Python 3.10.")
    assert ("`python3.12`" if newer else "Install a newer Python") in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("name", ["python2.7", *(f"python3.{minor}" for minor in range(6, OLDEST[1]))])
def test_a_really_old_python_says_so(tmp_path: Path, name: str) -> None:
    done = run_with(really(name), "-m", "intake", "demo", path=tmp_path)
    assert re.match(r"This needs Python 3.11 or newer, and this is Python [23]\.\d+\.", done.stderr)
    assert done.returncode == 1


def really(name: str) -> Path:
    """A Python of this machine; skips the test where there is none, or only a name with nothing behind it."""
    found = shutil.which(name)
    asked = [found, "-c", "import sys; print(sys.executable)"] if found else ["false"]
    done = subprocess.run(asked, capture_output=True, text=True, check=False)
    if done.returncode:
        pytest.skip(f"no {name} here")
    return Path(done.stdout.strip())


def run_with(python: Path, *words: str, path: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [str(python), *words],
        cwd=ROOT,
        env={"PATH": str(path), "PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
        text=True,
        check=False,
    )
