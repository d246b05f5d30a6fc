"""A wheel brings the app built: whoever installs it has no Node, no checkout and no npm.

What the office needs of Python's packages is taken from where the tests run; the wheel alone is unpacked anew.
"""

from __future__ import annotations

import asyncio
import os
import re
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from zipfile import ZipFile

import pytest

from intake.bench.served import free_port, until_open
from intake.setup.lock import ROOT

PATIENCE_S = 60
BUILD = "import sys; from hatchling.build import build_wheel; print(build_wheel(sys.argv[1]))"


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of packages with the wheel in it, as an installer unpacks it. Source: PEP 427, a wheel is a zip."""
    pytest.importorskip("hatchling", reason="what builds the wheel comes with the test packages")
    folder = tmp_path_factory.mktemp("wheel")
    made = subprocess.run(
        [sys.executable, "-c", BUILD, str(folder)], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert made.returncode == 0, made.stderr
    packages = folder / "packages"
    with ZipFile(folder / made.stdout.split()[-1]) as wheel:
        wheel.extractall(packages)
    return packages


@pytest.fixture
def office(installed: Path, tmp_path: Path) -> Iterator[str]:
    """An office served from it, on a machine whose PATH has nothing."""
    (tmp_path / "bin").mkdir()
    port = free_port()
    environment = {"PATH": str(tmp_path / "bin"), "HOME": str(tmp_path), "PYTHONPATH": str(installed)}
    if "SYSTEMROOT" in os.environ:
        environment["SYSTEMROOT"] = os.environ["SYSTEMROOT"]  # Windows opens no socket without it
    process = subprocess.Popen(
        [sys.executable, "-m", "intake", "serve", "--data", str(tmp_path / "office"), "--port", str(port)],
        cwd=tmp_path,
        env=environment,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        address = f"http://127.0.0.1:{port}"
        asyncio.run(until_open(process, port))
        yield address
    finally:
        process.terminate()
        process.wait(PATIENCE_S)


def fetch(address: str) -> str:
    with urllib.request.urlopen(address, timeout=PATIENCE_S) as response:
        text: str = response.read().decode()
        return text


def test_the_app_of_a_wheel_is_served_with_no_node_on_the_machine(office: str) -> None:
    page = fetch(f"{office}/")
    named = re.findall(r'(?:src|href)="(/web/[^"]+\.(?:js|css))"', page)
    assert any(name.startswith("/web/app-") for name in named)
    for name in named:
        text = fetch(office + name)
        whole = re.fullmatch(r'import"([^"]+)";', text)  # the first script may be another one's name alone
        assert len(text) > 1000 or (whole and whole[1] in named), name
    assert "packs" in fetch(f"{office}/sw.js")


def test_a_wheel_has_the_app_and_none_of_its_sources(installed: Path) -> None:
    app = installed / "intake" / "_web"
    assert (app / "index.html").exists()
    assert not list(installed.rglob("*.map")) + list(installed.rglob("*.tsx"))
    assert not (installed / "web").exists()
