"""Building the app by itself: what a person hears on a machine that cannot."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from intake.setup import web_app
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
    (checkout / "web" / "built").mkdir()
    stamp = f'{{"sources": "{web_app.digest_of_sources(checkout / "web")}"}}'
    (checkout / "web" / "built" / web_app.STAMP).write_text(stamp, "utf-8")

    assert web_app.build_if_newer(Steps(), checkout) == "The app is built from its sources as they are."


def test_an_installed_package_has_nothing_to_build(tmp_path: Path) -> None:
    assert "came with the app built" in web_app.build_if_newer(Steps(), tmp_path)


def test_what_only_packs_load_is_in_them_and_on_no_other_device(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(web_app, "PACKS", {"custody": "custody.ts", "office": "office.ts"})

    def made(source: str, *imports: str) -> dict[str, Any]:
        return {"inputs": {source: {}}, "imports": [{"path": one} for one in imports]}

    graph = {
        "app.js": made("app.tsx", "custody.js", "office.js", "all.js"),
        "custody.js": made("custody.ts", "all.js", "both.js"),
        "office.js": made("office.ts", "all.js", "both.js"),
        "both.js": made("kinds.ts"),
        "all.js": made("frame.tsx"),
    }
    packs = {"custody": ["both.js", "custody.js"], "office": ["both.js", "office.js"]}
    assert web_app.packs_of(graph) == packs
