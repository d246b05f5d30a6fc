"""What is wrong in the app does not compile: a missing handler, a wrong property, a kind that changed in the office.

The app's sources are copied and made wrong on purpose; `tsc` with the app's own options has to refuse the copy.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from intake.app_types import app_types
from intake.setup import web_app
from intake.setup.bootstrap import ROOT
from intake.setup.steps import SetUpError, Steps
from intake.setup.web_app import sources_of
from tests.checks import checks_node

WEB = ROOT / "web"
#: One element a line, each by the property that is wrong or missing.
WRONG = {
    "a key that does nothing": '<button type="button">Tie on</button>',
    "a key of no type": "<button>Tie on</button>",
    "a key whose handler may be left out": '<button type="button" onClick={maybe}>Tie on</button>',
    "a form that is sent nowhere": '<form><button type="submit">Save</button></form>',
    "a line that nobody hears": '<input value="12" />',
    "a tick that nobody hears": '<input type="checkbox" checked />',
    "a choice that nobody hears": '<select value="rim" onBlur={() => {}} />',
    "a box that nobody hears": '<textarea value="seen" />',
    "a wrong property of an element": '<div klass="row" />',
    "a wrong property of a component": '<TieOn address="#/today" />',
    "a component without what it needs": "<TieOn>Tie on</TieOn>",
}
RIGHT = {
    "a key": '<button type="button" onClick={(event) => event.currentTarget.blur()}>Tie on</button>',
    "a key of its form": '<form onSubmit={(event) => event.preventDefault()}><button type="submit" /></form>',
    "a dialog's": '<form method="dialog"><button type="submit" /></form>',
    "a line": '<input value="12" onInput={(event) => event.currentTarget.value} />',
    "a line to be read": '<input value="12" readOnly />',
    "a choice of files": '<input type="file" onChange={(event) => event.currentTarget.files} />',
    "a choice": '<select value="rim" onChange={(event) => event.currentTarget.value} />',
}
HEAD = """import { TieOn } from "./parts/tie_on.tsx";
declare const maybe: (() => void) | undefined;
export const elements = [
"""


@pytest.fixture
def app(tmp_path: Path) -> Path:
    """The app's sources, to be made wrong."""
    copy = tmp_path / "web"
    for file in sources_of(WEB):
        target = copy / file.relative_to(WEB)
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(file, target)
    try:
        (copy / "node_modules").symlink_to(WEB / "node_modules", target_is_directory=True)
    except OSError:
        pytest.skip("this system makes no link to the packages")
    return copy


@pytest.fixture
def hook(app: Path, monkeypatch: pytest.MonkeyPatch) -> Any:
    """What builds a wheel of the checkout in which the app lies."""
    pytest.importorskip("hatchling", reason="what builds the wheel comes with the test packages")
    from intake.setup.build_hook import WebAppHook

    monkeypatch.setattr(web_app, "find_node", lambda kept: checks_node())
    monkeypatch.setattr(sys, "path", [*sys.path])  # the hook puts its checkout there
    unused: Any = None
    return WebAppHook(str(app.parent), {}, unused, unused, str(app.parent), "wheel")


def faults(app: Path) -> list[tuple[str, int]]:
    """Where `tsc` finds something wrong: file and line."""
    tsc = str(WEB / "node_modules" / "typescript" / "bin" / "tsc")
    command = [str(checks_node().program), tsc, "-p", str(app), "--pretty", "false", "--singleThreaded"]
    ended = subprocess.run(command, cwd=app, capture_output=True, encoding="utf-8", check=False)
    return [
        (file, int(line))
        for file, line in re.findall(r"^(\S+)\((\d+),\d+\): error", ended.stdout, re.MULTILINE)
    ]


def test_what_lacks_a_handler_or_has_a_wrong_property_does_not_compile(app: Path) -> None:
    elements = {**RIGHT, **WRONG}
    lines = "".join(f"  {element},\n" for element in elements.values())
    (app / "elements.tsx").write_text(f"{HEAD}{lines}];\n", "utf-8")

    first = HEAD.count("\n") + 1
    found = faults(app)
    assert {file for file, _ in found} == {"elements.tsx"}
    refused = {list(elements)[line - first] for _, line in found}
    assert refused == set(WRONG)


def test_a_kind_that_changed_in_the_office_does_not_compile_until_the_app_follows(app: Path) -> None:
    changed = app_types().replace("  severity: ", "  gravity: ")
    assert changed != app_types()
    (app / "job" / "operations.ts").write_text(changed, "utf-8")

    assert faults(app)


def test_an_app_with_wrong_types_is_built_into_no_wheel(app: Path, hook: Any) -> None:
    (app / "elements.tsx").write_text(f'{HEAD}  <button type="button">Tie on</button>,\n];\n', "utf-8")
    wheel: dict[str, Any] = {"force_include": {}}

    with pytest.raises(SetUpError, match=r"elements\.tsx\(4,4\): error TS\d+(?s:.*)"):
        hook.initialize("standard", wheel)

    assert not (app / "built").exists()
    assert wheel == {"force_include": {}}


def test_a_wheel_of_a_kind_that_the_app_does_not_follow_is_not_built(app: Path, hook: Any) -> None:
    shutil.copytree(
        ROOT / "intake",
        app.parent / "intake",
        ignore=shutil.ignore_patterns("__pycache__", "_web", "_fixtures"),
    )
    file = app / "job" / "operations.ts"
    file.write_text(file.read_text("utf-8").replace("/** ", "/**  "), "utf-8")
    wheel: dict[str, Any] = {"force_include": {}}

    with pytest.raises(SetUpError, match=r"web/job/operations\.ts is not what the office's models say"):
        hook.initialize("standard", wheel)

    assert wheel == {"force_include": {}}


def test_who_has_not_the_packages_of_the_checks_builds_without_them(app: Path, hook: Any) -> None:
    (app / "elements.tsx").write_text("const wrong: number = 'a word';\n", "utf-8")
    (app / "node_modules").unlink()
    web_app.check_types(Steps(), app.parent)
