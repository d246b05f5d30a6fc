"""Building the app by itself: what a person hears on a machine that cannot."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest

from intake.setup import web_app
from intake.setup.lock import ROOT
from intake.setup.steps import SetUpError, Steps


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    """A checkout whose app was never built."""
    (tmp_path / "web").mkdir()
    (tmp_path / "web" / "app.tsx").write_text("", "utf-8")
    return tmp_path


def test_a_machine_without_node_is_told_where_one_comes_from(
    checkout: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(web_app, "find_node", lambda kept: None)

    with pytest.raises(SetUpError, match=r"no Node 24 or newer.*`python3 -m intake` fetches one"):
        web_app.build_if_newer(Steps(), checkout)


def test_an_app_that_is_as_its_sources_are_needs_no_node(
    checkout: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(web_app, "find_node", lambda kept: None)
    stamp_as_built(checkout)

    assert web_app.build_if_newer(Steps(), checkout) == "The app is built from its sources as they are."


def stamp_as_built(checkout: Path) -> None:
    noted = {
        "sources": web_app.digest_of_sources(checkout / "web"),
        "models": web_app.digest_of_models(checkout),
    }
    (checkout / "web" / "built").mkdir()
    (checkout / "web" / "built" / web_app.STAMP).write_text(json.dumps(noted), "utf-8")


@pytest.fixture
def office(checkout: Path) -> Path:
    """The office's sources and the types that the app has of them, to be changed; the app counts as built."""
    without = shutil.ignore_patterns("__pycache__", "bench", "demo", "_*")
    keep = ("__init__.py",)
    shutil.copytree(
        ROOT / "intake",
        checkout / "intake",
        ignore=lambda folder, names: without(folder, names) - {*keep},
    )
    shutil.copytree(ROOT / "web" / "job", checkout / "web" / "job")
    stamp_as_built(checkout)
    return checkout


def change_a_kind(office: Path) -> None:
    """The gravity of a finding in place of its severity, in the office alone."""
    findings = office / "intake" / "examination" / "findings.py"
    before = findings.read_text("utf-8")
    findings.write_text(re.sub(r"^    severity:", "    gravity:", before, flags=re.MULTILINE), "utf-8")
    assert findings.read_text("utf-8") != before


def test_a_kind_that_changed_in_the_office_alone_fails_the_build_in_words(office: Path) -> None:
    change_a_kind(office)
    with pytest.raises(
        SetUpError, match=r"web/job/operations\.ts is not what(?s:.*)python -m intake\.app_types"
    ):
        web_app.build_if_newer(Steps(), office)
    assert not web_app.is_built(office / "web"), "it is looked at again at the next start"


def test_a_change_that_no_type_is_made_from_is_compared_once(office: Path) -> None:
    with (office / "intake" / "errors.py").open("a", encoding="utf-8") as source:
        source.write("\n# One line more.\n")
    assert not web_app.is_built(office / "web")
    assert web_app.build_if_newer(Steps(), office) == "The app is built from its sources as they are."
    assert web_app.is_built(office / "web")
    web_app.build_if_newer(NoProgram(), office)


class NoProgram(Steps):
    """Steps of a run that has nothing to run."""

    def run(self, command: Any, **more: Any) -> None:
        raise AssertionError(command)


def test_an_installed_package_has_nothing_to_build(tmp_path: Path) -> None:
    assert "came with the app built" in web_app.build_if_newer(Steps(), tmp_path)


def test_what_only_packs_load_is_in_them_and_on_no_other_device(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(web_app, "PACKS", {"custody": "custody.ts", "office": "office.ts"})

    def made(source: str, *imports: str) -> dict[str, Any]:
        return {"inputs": {source: {}}, "imports": [{"path": one} for one in imports]}

    graph = {
        "app.js": made("app.tsx", "custody.js", "office.js", "all.js"),
        "custody.js": made("custody.ts", "all.js", "both.js", "below.js"),
        "office.js": made("office.ts", "all.js", "both.js"),
        "both.js": made("kinds.ts", "below.js"),
        "below.js": made("receipt.ts"),
        "all.js": made("frame.tsx"),
    }
    shared = ["below.js", "both.js"]
    packs = {"custody": [*shared, "custody.js"], "office": [*shared, "office.js"]}
    assert web_app.packs_of(graph) == packs
