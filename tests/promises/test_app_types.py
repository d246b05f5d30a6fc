"""The app's types are the office's models: whoever changes a kind here is told so there."""

from __future__ import annotations

from pathlib import Path

import pytest

from intake import app_types
from intake.setup.lock import ROOT

#: What the app and the office both go by.
LISTS = ["receipt_lists.ts", "receipt_failed.ts", "receipt_counted.ts", "described_by.ts", "day_times.ts"]


def test_what_is_written_for_the_app_is_what_the_models_say() -> None:
    assert app_types.outdated() == [], "write them anew: python -m intake.app_types"


@pytest.mark.parametrize("name", ["operations.ts", "kinds.ts", "currencies.ts", "field_words.ts", *LISTS])
def test_a_file_that_says_otherwise_is_named(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    [(file, make)] = [(file, make) for file, make in app_types.WRITTEN.items() if file.name == name]
    other = tmp_path / "web" / "job" / name
    other.parent.mkdir(parents=True)
    other.write_text(make() + "\n", "utf-8")
    monkeypatch.setattr(app_types, "FILE", other)
    monkeypatch.setattr(app_types, "WRITTEN", {other: make})
    assert app_types.main(["--check"]) == 1
    assert capsys.readouterr().out == f"error: web/job/{name} is not what the office's models say\n"
    other.write_text(make(), "utf-8")
    assert app_types.main(["--check"]) == 0
    assert file.is_relative_to(ROOT / "web")
