"""The locks: what is installed, to the byte, on Linux, macOS and Windows alike.

`python -m intake.setup.lock` makes them anew from pyproject.toml with uv (`pip install uv`). What is locked stays as
it is; `--upgrade` takes the newest of everything. The first line of each lock tells what it costs to download, as
measured with this machine's pip; other systems differ a little.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from intake.setup.python_version import OLDEST

ROOT = Path(__file__).resolve().parents[2]
OFFICE = ROOT / "requirements.lock"
TESTS = ROOT / "tests" / "requirements.lock"
NODE = Path(__file__).with_name("node.lock")
#: What each lock is made from, as words for uv. The tests' lock agrees with the office's, being bound by it.
SOURCES = {
    OFFICE: ["pyproject.toml"],
    TESTS: ["pyproject.toml", "--extra", "test", "--constraint", str(OFFICE)],
    NODE: ["--group", "node"],
}
SIZE_LINE = re.compile(r"# download: (\d+) MB")


def download_mb(lock: Path) -> int:
    """What a lock says of its size, in millions of bytes."""
    with lock.open(encoding="utf-8") as lines:
        size = SIZE_LINE.match(lines.readline())
    return int(size[1]) if size else 0


def make(lock: Path, upgrade: list[str]) -> None:
    """Make one lock anew, with markers for every system and the hash of every file; no index is named in it."""
    compiling = [uv(), "pip", "compile", "--universal", "--generate-hashes", "--no-annotate", "--no-header"]
    compiling += ["--no-emit-index-url", "--no-emit-find-links", "--quiet", *upgrade]
    compiling += ["--python-version", ".".join(map(str, OLDEST)), "--output-file", str(lock), *SOURCES[lock]]
    subprocess.run(compiling, cwd=ROOT, check=True)
    size = round(downloaded_bytes(lock) / 1e6)
    lock.write_text(f"# download: {size} MB\n{lock.read_text('utf-8')}", "utf-8")
    print(f"{lock.relative_to(ROOT)}: {size} MB")


def downloaded_bytes(lock: Path) -> int:
    with tempfile.TemporaryDirectory() as folder:
        fetching = [sys.executable, "-m", "pip", "download", "--quiet", "--require-hashes", "--dest", folder]
        subprocess.run([*fetching, "-r", str(lock)], check=True)
        return sum(file.stat().st_size for file in Path(folder).iterdir())


def uv() -> str:
    found = shutil.which("uv") or shutil.which("uv", path=str(Path(sys.executable).parent))
    if found is None:
        sys.exit("Making the locks needs uv: `pip install uv`, then run this again.")
    return found


def main() -> None:
    for lock in SOURCES:
        make(lock, sys.argv[1:])


if __name__ == "__main__":
    main()
