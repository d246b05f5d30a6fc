"""The commands as a person types them."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import httpx
import pytest

from intake.commands import main
from intake.examination.plans import SHIPPED
from intake.settings import Settings
from tests.builders import Ids
from tests.conftest import Clock, running

COMMANDS = ["serve", "demo", "pair", "service", "verify", "rebuild", "erase", "bench", "check-plans"]
COMMANDS += ["copy", "restore", "bring-in", "seal"]


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_explains_itself(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main([command, "--help"])
    assert ended.value.code == 0
    assert len(capsys.readouterr().out) > 100


def house(tmp_path: Path, *, weight: str = "key") -> Path:
    """A house's own class beside the shipped ones."""
    text = (SHIPPED / "plans" / "free.yaml").read_text("utf-8")
    text = text.replace("class_id: free", "class_id: teapots").replace("weight: key", f"weight: {weight}")
    (tmp_path / "house" / "plans").mkdir(parents=True)
    (tmp_path / "house" / "plans" / "teapots.yaml").write_text(text, "utf-8")
    return tmp_path / "house"


def test_a_house_checks_its_plans(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check-plans", str(house(tmp_path))]) == 0
    assert "20 plans" in capsys.readouterr().out


def test_a_mistake_in_a_house_s_plan_ends_the_start_with_its_line(tmp_path: Path) -> None:
    """Over a real process: nothing is served, and the mistake is named."""
    house(tmp_path, weight="heavy")
    started = subprocess.run(
        [sys.executable, "-m", "intake", "serve", "--data", str(tmp_path), "--port", "0"],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert started.returncode != 0
    assert "Traceback" not in started.stderr
    assert "teapots.yaml:" in started.stdout + started.stderr
    assert '"heavy" is not known here' in started.stdout + started.stderr


def test_a_house_s_class_reaches_the_phones(tmp_path: Path, clock: Clock, ids: Ids) -> None:
    folder = house(tmp_path)
    settings = Settings(tmp_path / "office", clock=clock, plans_folder=folder)
    with running(settings, clock, ids) as office:
        response: httpx.Response = office.pair("table").client.get("/plans")
        assert "teapots" in json.loads(response.content)["plans"]
