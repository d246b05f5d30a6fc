"""The files that make an office a service: tried where the machine has what reads them, read closely where not."""

from __future__ import annotations

import configparser
import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from intake.bench.served import free_port
from intake.commands import main
from tests.conftest import answering

NAME = "https://intake.example.org"
DIRECTIVES = {"FROM", "COPY", "RUN", "USER", "ENV", "VOLUME", "EXPOSE", "STOPSIGNAL", "HEALTHCHECK", "CMD"}


def printed(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["service", *words]) == 0
    return capsys.readouterr().out


def unit(text: str) -> configparser.ConfigParser:
    read = configparser.ConfigParser(interpolation=None, strict=True)
    read.optionxform = str  # type: ignore[assignment, method-assign]
    read.read_string(text)
    return read


def test_the_unit_starts_this_installation_s_office(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Its command, run as it stands, serves; a space and a per cent sign in a path are systemd's business.

    Source: systemd.service(5), "command lines"; systemd.unit(5), specifiers.
    """
    folder, port = tmp_path / "the $office, 100%", free_port()
    options = ["--data", str(folder), "--address", NAME, "--port", str(port)]
    text = printed(capsys, "--systemd", *options)
    service = unit(text)["Service"]
    command = shlex.split(service["ExecStart"].replace("%%", "%").replace("$$", "$"))
    assert "the $$office, 100%%" in service["ExecStart"]
    assert command[:4] == [sys.executable, "-m", "intake", "serve"]
    assert command[command.index("--behind-proxy") + 1] == "127.0.0.1"
    assert service["ReadWritePaths"] == str(folder).replace(" ", "\\x20").replace("%", "%%")
    with answering(command, port, cwd=service["WorkingDirectory"]):
        pass


def test_the_unit_says_how_its_account_is_made_before_its_folder(capsys: pytest.CaptureFixture[str]) -> None:
    """Source: useradd(8)."""
    text = printed(capsys, "--systemd", "--address", NAME)
    user = unit(text)["Service"]["User"]
    made = text.index(f"useradd --system --shell /usr/sbin/nologin {user}")
    assert made < text.index(f"install -d -o {user}")


@pytest.mark.parametrize("kind", ["--systemd", "--proxy"])
def test_files_named_from_here_are_named_from_anywhere(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], kind: str
) -> None:
    monkeypatch.chdir(tmp_path)
    text = printed(
        capsys, kind, "--address", NAME, "--tls-certificate", "chain.pem", "--tls-key", "keys/key.pem"
    )
    assert str(tmp_path / "chain.pem") in text
    assert str(tmp_path / "keys/key.pem") in text


@pytest.mark.skipif(
    not shutil.which("systemd-analyze"), reason="this machine has no systemd to read the unit"
)
def test_systemd_reads_the_unit(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Source: systemd-analyze(1), verify: unknown settings and values that do not fit are told."""
    for more in ([], ["--port", "443", "--host", "0.0.0.0"]):
        text = printed(capsys, "--systemd", "--data", str(tmp_path / "an office"), "--address", NAME, *more)
        file = tmp_path / "intake.service"
        file.write_text(text, "utf-8")
        read = subprocess.run(
            ["systemd-analyze", "verify", "--man=no", str(file)], capture_output=True, text=True, check=False
        )
        assert "intake.service" not in read.stderr, read.stderr


def test_a_low_port_is_given_the_right_to_listen_and_no_other(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Source: capabilities(7), CAP_NET_BIND_SERVICE: ports below 1024."""
    shared = ["--systemd", "--data", str(tmp_path), "--address", NAME]
    assert unit(printed(capsys, *shared, "--port", "443"))["Service"]["AmbientCapabilities"] == (
        "CAP_NET_BIND_SERVICE"
    )
    assert unit(printed(capsys, *shared, "--port", "1024"))["Service"]["CapabilityBoundingSet"] == ""


def test_the_container_s_environment_serves(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Its options and command as they stand, with another data folder and port; the file knows its directives."""
    port = free_port()
    text = printed(capsys, "--container", "--address", NAME, "--data", str(tmp_path))
    bare = re.sub(r"\\\n", "", text)
    lines = [line.split(maxsplit=1) for line in bare.splitlines() if line and not line.startswith("#")]
    assert {name for name, _ in lines} == DIRECTIVES
    environment = dict(shlex.split(words)[0].split("=", 1) for name, words in lines if name == "ENV")
    assert environment["INTAKE_ADDRESS"] == NAME
    assert environment["INTAKE_HOST"] == "0.0.0.0"
    assert environment["INTAKE_DATA"] == "/data"
    environment |= {"INTAKE_DATA": str(tmp_path / "office"), "INTAKE_PORT": str(port)}
    with answering([sys.executable, "-m", "intake", "serve"], port, env={**os.environ, **environment}):
        assert (tmp_path / "office" / "intake.sqlite3").exists()


@pytest.mark.parametrize("kind", ["--systemd", "--container", "--proxy"])
def test_a_service_without_a_name_is_refused(kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["service", kind]) == 1
    assert "--address https://intake.example.org" in capsys.readouterr().err


def test_a_proxy_needs_https(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["service", "--proxy", "--address", "http://intake.example.org"]) == 1
    assert "https://" in capsys.readouterr().err


def test_the_proxy_brings_plain_callers_to_https(capsys: pytest.CaptureFixture[str]) -> None:
    text = printed(capsys, "--proxy", "--address", NAME)
    assert f"return 301 {NAME}$request_uri;" in text
    assert "listen 443 ssl" in text
