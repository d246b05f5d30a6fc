"""What getting ready does with what it finds: half of something, another Python's, a folder it may not write."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest

from intake import system
from intake.setup import bootstrap, lock, web_app
from intake.setup.bootstrap import Checkout, get_ready, python_of, spoken_options
from intake.setup.steps import SetUpError, Steps, complaints


class Recorded(Steps):
    """Steps that only write down what would run; a virtual environment gets what makes it one."""

    def __init__(self, *, interrupted_at: str = "") -> None:
        super().__init__()
        self.__dict__.update(ran=[], interrupted_at=interrupted_at)

    def run(self, command: Sequence[str | Path], **_: object) -> None:
        words = [str(word) for word in command]
        step = next(name for name in ("venv", "install", "ci") if name in words)
        if step == "venv":
            make_venv(Path(words[-1]))
        self.__dict__["ran"].append(step)
        if step == self.__dict__["interrupted_at"]:
            raise KeyboardInterrupt

    @property
    def ran(self) -> list[str]:
        return list(self.__dict__["ran"])


def make_venv(folder: Path, version: str = bootstrap.this_python()) -> None:
    (folder / "bin").mkdir(parents=True, exist_ok=True)
    (folder / "bin" / "python").write_text("#!/bin/sh\n", "utf-8")
    (folder / "bin" / "python").chmod(0o755)
    (folder / "pyvenv.cfg").write_text(f"home = /somewhere\nversion = {version}.7\n", "utf-8")


@pytest.fixture
def checkout(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Checkout:
    """A clone whose app is built, so that only `.venv` is left to make."""
    (tmp_path / "web").mkdir()
    (tmp_path / "pyproject.toml").touch()
    (tmp_path / "requirements.lock").write_text("# download: 7 MB\none==1\n", "utf-8")
    monkeypatch.setattr(web_app, "is_built", lambda web, for_checks=False: True)
    return Checkout(tmp_path)


@pytest.fixture
def locks(checkout: Checkout) -> list[Path]:
    return [checkout.root / "requirements.lock"]


def test_what_is_done_is_not_done_twice(checkout: Checkout, locks: list[Path]) -> None:
    first, second = Recorded(), Recorded()
    get_ready(checkout, first, locks)
    get_ready(checkout, second, locks)
    assert (first.ran, second.ran) == (["venv", "install"], [])


def test_the_size_is_told_before_anything_is_fetched(
    checkout: Checkout, locks: list[Path], capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(KeyboardInterrupt):
        get_ready(checkout, Recorded(interrupted_at="venv"), locks)
    assert "downloads at most 7 MB" in capsys.readouterr().err


@pytest.mark.parametrize("step", ["venv", "install"])
def test_what_was_interrupted_is_made_anew(checkout: Checkout, locks: list[Path], step: str) -> None:
    with pytest.raises(KeyboardInterrupt):
        get_ready(checkout, Recorded(interrupted_at=step), locks)
    (checkout.venv / "half of a package").touch()
    again = Recorded()
    get_ready(checkout, again, locks)
    assert again.ran == ["venv", "install"]
    assert not (checkout.venv / "half of a package").exists()


def test_a_new_lock_is_installed_into_what_is_there(checkout: Checkout, locks: list[Path]) -> None:
    get_ready(checkout, Recorded(), locks)
    locks[0].write_text("# download: 8 MB\ntwo==2\n", "utf-8")
    again = Recorded()
    get_ready(checkout, again, locks)
    assert again.ran == ["install"]


@pytest.mark.parametrize("version", ["3.10", "3.99", ""])
def test_a_venv_of_another_python_is_made_anew(checkout: Checkout, locks: list[Path], version: str) -> None:
    get_ready(checkout, Recorded(), locks)
    make_venv(checkout.venv, version)
    again = Recorded()
    get_ready(checkout, again, locks)
    assert again.ran == ["venv", "install"]
    assert python_of(checkout.venv) == bootstrap.this_python()


def test_a_venv_whose_python_is_gone_is_made_anew(checkout: Checkout, locks: list[Path]) -> None:
    get_ready(checkout, Recorded(), locks)
    checkout.python.unlink()
    checkout.python.symlink_to("/nowhere/python")
    again = Recorded()
    get_ready(checkout, again, locks)
    assert again.ran == ["venv", "install"]


def test_a_venv_without_pip_is_made_anew(checkout: Checkout, locks: list[Path]) -> None:
    make_venv(checkout.venv)
    checkout.python.write_text("#!/bin/sh\nexit 1\n", "utf-8")
    again = Recorded()
    get_ready(checkout, again, locks)
    assert again.ran == ["venv", "install"]


def test_a_link_in_place_of_a_venv_is_not_followed(
    checkout: Checkout, locks: list[Path], tmp_path_factory: pytest.TempPathFactory
) -> None:
    elsewhere = tmp_path_factory.mktemp("elsewhere")
    make_venv(elsewhere, "3.10")
    checkout.venv.symlink_to(elsewhere)
    get_ready(checkout, Recorded(), locks)
    assert python_of(elsewhere) == "3.10"
    assert not checkout.venv.is_symlink()


@pytest.mark.parametrize(
    ("lines", "version"),
    [
        ("home = /usr/bin\ninclude-system-site-packages = false\nversion = 3.11.2\n", "3.11"),
        ("home = C:\\Program Files\\Python312\nversion = 3.12.1\nprompt = a = b\n", "3.12"),
        (
            "home = /usr/bin\nimplementation = CPython\nversion_info = 3.13.0\n",
            "3.13",
        ),  # as other makers write it
        ("nonsense", ""),
    ],
)
def test_a_venv_says_which_python_made_it(tmp_path: Path, lines: str, version: str) -> None:
    (tmp_path / "pyvenv.cfg").write_text(lines, "utf-8")
    assert python_of(tmp_path) == version


def test_windows_keeps_python_elsewhere(checkout: Checkout) -> None:
    (checkout.venv / "Scripts").mkdir(parents=True)
    assert checkout.python == checkout.venv / "Scripts" / "python.exe"


def test_without_ensurepip_it_says_what_to_install(
    checkout: Checkout, locks: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Debian's python3 has no ensurepip until python3-venv is installed."""
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None)
    with pytest.raises(SetUpError, match=r"apt-get install python3\.\d+-venv"):
        get_ready(checkout, Recorded(), locks)


@pytest.mark.parametrize(
    ("code", "words"),
    [
        (errno.EROFS, "Copy the folder to a place of your own"),
        (errno.EACCES, "Copy the folder to a place of your own"),
        (errno.ENOSPC, "Make room"),
        (errno.EIO, "Put that right"),
    ],
)
def test_a_disk_that_refuses_is_told_in_words(
    checkout: Checkout, locks: list[Path], monkeypatch: pytest.MonkeyPatch, code: int, words: str
) -> None:
    def refuses(self: Path, *_: object, **__: object) -> None:
        raise OSError(code, os.strerror(code), str(self))

    monkeypatch.setattr(Path, "mkdir", refuses)
    with pytest.raises(SetUpError, match=words):
        get_ready(checkout, Recorded(), locks)


READ_ONLY = """
import os, sys
from intake.setup import bootstrap
if os.geteuid() == 0:
    os.seteuid(65534)  # what root may not write does not exist
bootstrap.ROOT = __import__("pathlib").Path(sys.argv[1])
bootstrap.lock.OFFICE = bootstrap.ROOT / "requirements.lock"
sys.argv[1:] = ["demo"]
sys.exit(bootstrap.main())
"""


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that every user may enter, as those that pytest makes may not be."""
    with tempfile.TemporaryDirectory() as name:
        Path(name).chmod(0o755)
        yield Path(name)


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="needs a user who is not the owner")
@pytest.mark.parametrize("mode", [0o755, 0o700], ids=["read only", "closed to this user"])
def test_a_clone_that_is_not_ones_own_ends_with_a_sentence(open_folder: Path, mode: int) -> None:
    (open_folder / "web").mkdir()
    (open_folder / "pyproject.toml").touch()
    (open_folder / "requirements.lock").write_text("# download: 7 MB\n", "utf-8")
    (open_folder / "web" / "package-lock.json").touch()
    (open_folder / "web").chmod(mode)
    open_folder.chmod(0o555)
    done = subprocess.run(
        [sys.executable, "-c", READ_ONLY, str(open_folder)],
        cwd=lock.ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 1
    assert (
        f"puts `.venv` and the built app into {open_folder}. Copy the folder to a place of your own"
        in done.stderr
    )
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize(
    ("words", "built", "told"),
    [(["serve"], False, True), (["demo"], False, True), (["serve"], True, False), (["verify"], False, False)],
)
def test_an_app_that_is_not_built_as_it_is_now_is_told_of(
    checkout: Checkout,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    words: list[str],
    built: bool,
    told: bool,
) -> None:
    monkeypatch.setattr(web_app, "is_bundled", lambda web: built)
    bootstrap.tell_stale(checkout, words)
    assert ("phones get the older one" in capsys.readouterr().err) is told


def test_options_of_ours_are_taken_from_what_was_typed() -> None:
    assert spoken_options(["demo", "--fresh"]) == (Steps(verbose=False), ["demo", "--fresh"])
    assert spoken_options(["-v", "demo"]) == (Steps(verbose=True), ["demo"])
    assert spoken_options(["demo", "--verbose"]) == (Steps(verbose=True), ["demo"])
    assert spoken_options(["pytest", "--", "-v"]) == (Steps(verbose=False), ["pytest", "--", "-v"])


def test_of_what_failed_the_complaints_are_shown() -> None:
    printed = (
        "Looking in indexes\nWARNING: retrying\nERROR: no matching distribution\n\nnotice: a newer pip\n"
    )
    assert complaints(printed) == ["  ERROR: no matching distribution"]
    assert complaints("one\ntwo\n") == ["  one", "  two"]


def test_the_version_is_told_without_getting_ready(tmp_path: Path) -> None:
    """By a Python that has none of our packages: nothing is made or fetched for it."""
    done = subprocess.run(
        [
            sys.executable,
            "-I",
            "-S",
            "-c",
            f"import sys; sys.path.insert(0, {str(lock.ROOT)!r}); sys.argv[1:] = "
            "['--version']; from intake.setup.bootstrap import main; main()",
        ],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stdout.startswith("intake 0.")
    assert done.stderr == ""


CTRL_C_AT = """
import os, runpy, signal, sys
class CtrlC:
    def find_spec(self, name, *_):
        if name == module:
            os.kill(os.getpid(), signal.SIGINT)
module = sys.argv.pop(1)
sys.meta_path.insert(0, CtrlC())
runpy.run_module("intake", run_name="__main__")
"""


@pytest.mark.skipif(os.name == "nt", reason="os.kill sends no Ctrl-C there")
@pytest.mark.parametrize(
    "module", ["intake.setup.bootstrap", "intake.setup.node", "intake.commands", "uvicorn"]
)
def test_ctrl_c_while_modules_are_loaded_leaves_no_traceback(module: str, tmp_path: Path) -> None:
    command = ["serve", "--data", str(tmp_path / "office"), "--port", "0"]
    done = subprocess.run(
        [sys.executable, "-c", CTRL_C_AT, module, *command],
        cwd=lock.ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode in (-signal.SIGINT, system.INTERRUPTED)
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("ready", [False, True])
def test_ctrl_c_says_what_it_left_for_as_long_as_set_up_lasts(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path, ready: bool
) -> None:
    def interrupted(*_: object) -> Any:
        raise KeyboardInterrupt

    monkeypatch.setattr(bootstrap.Checkout, "is_running", lambda _: ready)
    monkeypatch.setattr(bootstrap.Checkout, "exists", lambda _: True)
    assert bootstrap.started("intake", [], interrupted, interrupted) == system.INTERRUPTED
    said = capsys.readouterr().err
    assert said == ("" if ready else "[set-up] stopped; the same command goes on where it was\n")
