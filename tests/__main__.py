"""`python3 -m tests [NAME ...]`: get ready, then run every check, or those named.

Names: ruff, format, mypy, tsc, node, pytest. What stands behind `--` goes to pytest.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

from intake.setup.bootstrap import ROOT, get_ready, go_on_in_venv, in_venv
from intake.setup.vendor import SetUpError, node_path

BROWSERS = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
    "microsoft-edge",
    "msedge",
)


def main() -> int:
    if not in_venv():
        try:
            get_ready("requirements.lock", "tests/requirements.lock")
            find_browser()
        except SetUpError as error:
            print(error, file=sys.stderr)
            return 1
        return go_on_in_venv("tests", sys.argv[1:])
    return run_checks()


def find_browser() -> str:
    """A browser for the journeys: the machine's, else Debian's. Raises SetUpError with how to get one."""
    for name in BROWSERS:
        found = shutil.which(name)
        if found:
            return found
    if shutil.which("apt-get") and hasattr(os, "geteuid") and os.geteuid() == 0:
        print("[set-up] installing Debian's Chromium ...", file=sys.stderr, flush=True)
        quiet = {"stdout": subprocess.DEVNULL, "env": {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}}
        subprocess.run(["apt-get", "update", "-qq"], check=False, **quiet)  # type: ignore[call-overload]
        subprocess.run(
            ["apt-get", "install", "-y", "-qq", "--no-install-recommends", "chromium"],
            check=False,
            **quiet,  # type: ignore[call-overload]
        )
        if shutil.which("chromium"):
            return "chromium"
    raise SetUpError(
        "The browser journeys need Chromium, Chrome or Edge, and none was found. On Debian: "
        "`apt-get install chromium`; elsewhere install one of the three and run this again."
    )


def checks(more: list[str]) -> dict[str, Callable[[], list[str]]]:
    python = sys.executable
    node = Path(node_path())
    return {
        "ruff": lambda: [python, "-m", "ruff", "check", "."],
        "format": lambda: [python, "-m", "ruff", "format", "--check", "."],
        "mypy": lambda: [python, "-m", "mypy"],
        "tsc": lambda: [str(node / "node"), "web/node_modules/typescript/bin/tsc", "-p", "web"],
        "node": lambda: [str(node / "node"), "--test", *sorted(map(str, ROOT.glob("tests/web/*.test.js")))],
        "pytest": lambda: [python, "-m", "pytest", *more],
    }


def run_checks() -> int:
    """Run each check, go on after a failure, and say at the end which ones failed."""
    words = sys.argv[1:]
    more = words[words.index("--") + 1 :] if "--" in words else []
    named = words[: words.index("--")] if "--" in words else words
    known = checks(more)
    if set(named) - known.keys():
        print(
            f"There is no check {', '.join(sorted(set(named) - known.keys()))}; they are {', '.join(known)}."
        )
        return 2
    os.environ["INTAKE_BROWSER"] = find_browser()
    os.environ["PYTHON"] = sys.executable  # for node's tests, which ask the office's own reader for the plans
    failed = []
    for name in named or known:
        print(f"\n== {name}", flush=True)
        began = time.monotonic()
        if subprocess.run(known[name](), cwd=ROOT, check=False).returncode:
            failed.append(name)
        print(
            f"== {name}: {'FAILED' if name in failed else 'good'}, {time.monotonic() - began:.0f} s",
            flush=True,
        )
    print(f"\n{'Failed: ' + ', '.join(failed) if failed else 'Every check is good.'}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
