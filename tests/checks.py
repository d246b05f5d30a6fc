"""Every check behind `python3 -m tests [NAME ...]`: get ready, then run them all, or those named.

Names: ruff, format, mypy, biome, tsc, node, portable, pytest; portable-all, words, pictures and mutants are run only if
they are named. The two portable ones run the office's tests with everything hidden that only POSIX has: what touches
the system, or all of them; words writes the texts of the invented day into a file that a person reads, pictures takes
every screen into a folder; mutants makes small changes, one at a time, and says which no test notices. What stands
behind `--` goes to pytest, or tells pictures which screens to take and mutants what to change. Of many like cases a
part is tried, which follows the commit (`samples.py`); with `--whole` all of them.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor, as_completed
from pathlib import Path

from intake import system
from intake.setup.bootstrap import ROOT, Checkout, get_ready, started
from intake.setup.lock import OFFICE, TESTS
from intake.setup.node import Node, find_node
from intake.setup.steps import AGAIN, SetUpError, Steps
from tests import samples
from tests.left_out import TOLD_IN

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
    return started("tests", sys.argv[1:], prepare, run_checks)


def prepare(checkout: Checkout, steps: Steps) -> None:
    """What the checks need beyond the office: their packages, Node, a browser, a proxy. Raises SetUpError."""
    get_ready(checkout, steps, [OFFICE, TESTS], for_checks=True)
    find_browser(steps)
    look_for_shell(steps)
    look_for_certutil(steps)
    look_for_proxy(steps)
    look_for_engines(steps)


def find_browser(steps: Steps) -> str:
    """A browser for the journeys: the machine's, else Debian's. Raises SetUpError with how to get one."""
    for name in BROWSERS:
        found = shutil.which(name)
        if found:
            return found
    if shutil.which("apt-get") and system.may_install_packages():
        install_chromium(steps)
        if shutil.which("chromium"):
            return "chromium"
    raise SetUpError(
        "The browser journeys need Chromium, Chrome or Edge, and none was found. On Debian: "
        "`apt-get install chromium`; elsewhere install one of the three and run this again."
    )


def install_chromium(steps: Steps) -> None:
    """Raises SetUpError."""
    install_package(steps, "chromium", f"Debian's Chromium could not be installed. {AGAIN}")


def look_for_shell(steps: Steps) -> None:
    """The same engine without its windows; without it the journeys run in the whole browser, and take longer."""
    shell = "chromium-headless-shell"
    install_if_it_may(steps, shell, shell, "The journeys take longer without it.")


def look_for_certutil(steps: Steps) -> None:
    """What gives a browser an authority to trust; without it the journeys of the hall say so and are skipped."""
    install_if_it_may(steps, "certutil", "libnss3-tools", "The journeys of the hall are skipped without it.")


def look_for_proxy(steps: Steps) -> None:
    """What the printed proxy example is for; without it the tests of it say so and are skipped."""
    install_if_it_may(steps, "nginx", "nginx-light", "The proxy example is not tried without it.")


def look_for_engines(steps: Steps) -> None:
    """Browsers that are not Chromium's kin; without one of them its journey says so and is skipped."""
    install_if_it_may(steps, "firefox-esr", "firefox-esr", "The journey in Firefox is skipped without it.")
    for program, package in (("WebKitWebDriver", "webkit2gtk-driver"), ("Xvfb", "xvfb")):
        install_if_it_may(steps, program, package, "The journey in WebKit is skipped without it.")


def install_if_it_may(steps: Steps, program: str, package: str, otherwise: str) -> None:
    """A program that some tests can do without. Where it cannot be installed, one line says what that means."""
    places = f"{os.environ.get('PATH', os.defpath)}{os.pathsep}/usr/sbin"  # where a server's programs may be
    if shutil.which(program, path=places) or not (shutil.which("apt-get") and system.may_install_packages()):
        return
    try:
        install_package(steps, package, f"Debian's {package} could not be installed.")
    except SetUpError as error:
        steps.say(f"{error} {otherwise}")


def install_package(steps: Steps, package: str, advice: str) -> None:
    """One of Debian's, quietly, its size told first, and no service started. Raises SetUpError with the advice."""
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive", "LC_ALL": "C"}
    environment["RUNLEVEL"] = "1"  # in which invoke-rc.d(8) starts nothing
    wanted = ["install", "--no-install-recommends", package]
    steps.run(["apt-get", "-qq", "update"], environment=environment, advice=advice)
    asked = subprocess.run(
        ["apt-get", *wanted, "--assume-no"], env=environment, capture_output=True, text=True, check=False
    )
    size = re.search(r"Need to get (.+) of archives", asked.stdout)
    steps.say(f"installing Debian's {package}{', ' + size[1] if size else ''} ...")
    steps.run(["apt-get", "-qq", "--yes", *wanted], environment=environment, advice=advice)


ALL_CASES = "--whole"
ON_REQUEST = {"portable-all", "words", "pictures", "mutants"}
#: The tests of what the office asks of the system: files, photos, locks, processes. Of the cases those with a socket:
#: at the door without one each opens the same kind of file once more.
TOUCHES_THE_SYSTEM = (
    "tests/test_disk.py",
    "tests/access",
    "tests/photos",
    "tests/promises/test_commands.py",
    "tests/setup/test_system.py",
    "tests/sync/test_cases.py::test_case_over_http",
)
#: A file's tests stay together, since some share what took long to make; the files that take longest come first.
#: Three at a time are no faster on two processors, and what is limited in time then fails now and then.
SIDE_BY_SIDE = ("-n", "2", "--dist", "loadfile", "--no-loadscope-reorder", "--durations", "12")
#: What works on one processor alone, the longest first: one after the other beside pytest, whose processes wait for
#: browsers, disks and lines for nearly half of their time; with no pytest, two at a time.
ON_ONE_PROCESSOR = ("portable", "node", "mypy", "tsc", "biome", "ruff", "format")
#: What drives a browser or gets a whole machine ready is no test of the office.
NOT_THE_OFFICE = ("tests/journeys", "tests/setup/test_fresh_clone.py")


def checks_node() -> Node:
    node = find_node(Checkout(ROOT).node)
    if node is None:
        raise SetUpError("The checks need Node: run `python3 -m tests` once with the Python of the system.")
    return node


def checks(more: list[str]) -> dict[str, Callable[[], list[str]]]:
    python = sys.executable
    node = str(checks_node().program)
    return {
        "ruff": lambda: [python, "-m", "ruff", "check", "."],
        "format": lambda: [python, "-m", "ruff", "format", "--check", "."],
        "mypy": lambda: [python, "-m", "mypy"],
        "biome": lambda: [python, "-m", "tests.app_sources", node],
        "tsc": lambda: [node, "web/node_modules/typescript/bin/tsc", "-p", "web", "--singleThreaded"],
        "node": lambda: [python, "-m", "tests.app_tests", node],
        "portable": lambda: [python, "-m", "tests.without_posix", *TOUCHES_THE_SYSTEM],
        "portable-all": lambda: [
            *(python, "-m", "tests.without_posix", "tests"),
            *(f"--ignore={path}" for path in NOT_THE_OFFICE),
        ],
        "words": lambda: [python, "-m", "tests.words", node],
        "pictures": lambda: [python, "-m", "tests.pictures", *more],
        "mutants": lambda: [python, "-m", "tests.mutants", node, *more],
        "pytest": lambda: [python, "-m", "pytest", *SIDE_BY_SIDE, *more],
    }


def run_checks(words: list[str]) -> int:
    """Run each check, go on after a failure, and say at the end which ones failed."""
    more = words[words.index("--") + 1 :] if "--" in words else []
    named = words[: words.index("--")] if "--" in words else words
    if "mutants" in named and "--all" in named:
        named, more = [name for name in named if name != "--all"], ["--all", *more]
    if ALL_CASES in named:
        named = [name for name in named if name != ALL_CASES]
        os.environ[samples.WHOLE] = "1"
    known = checks(more)
    if set(named) - known.keys():
        print(
            f"There is no check {', '.join(sorted(set(named) - known.keys()))}; they are {', '.join(known)}."
        )
        return 2
    print(samples.begin())
    os.environ["INTAKE_BROWSER"] = find_browser(Steps())
    os.environ["PYTHON"] = sys.executable  # for node's tests, which ask the office's own reader for the plans
    # A hundred processes are started; each would read all of the sources anew where nothing compiled may be kept.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    wanted = named or [name for name in known if name not in ON_REQUEST]
    beside = [name for name in ON_ONE_PROCESSOR if name in wanted] if len(wanted) > 1 else []
    with tempfile.TemporaryDirectory() as folder:
        # What node makes of a module, it keeps for the next process that reads the same text.
        os.environ["NODE_COMPILE_CACHE"] = str(Path(folder, "compiled"))
        told_in = Path(folder) / "left_out"
        failed = run_named(wanted, beside, known, told_in)
        left_out = told_in.read_text("utf-8") if told_in.exists() else ""
    print(f"\n{left_out}" if left_out else "")
    good = "Every check that was tried is good." if left_out else "Every check is good."
    print(f"Failed: {', '.join(failed)}" if failed else good)
    return 1 if failed else 0


def run_named(
    wanted: list[str], beside: list[str], known: dict[str, Callable[[], list[str]]], told_in: Path
) -> list[str]:
    """Run the checks, those named in `beside` next to the others; the names of those that failed.

    pytest writes into `told_in` what it left out. The portable checks hide things on purpose, and tell nothing.
    """
    failed: list[str] = []
    with ThreadPoolExecutor(1 if "pytest" in wanted else 2) as lanes:
        running = [lanes.submit(run_aside, name, known[name]()) for name in beside]
        for name in wanted:
            if name not in beside:
                print(f"\n== {name}", flush=True)
                began = time.monotonic()
                telling = {TOLD_IN: str(told_in)} if name == "pytest" else {}
                environment = {**os.environ, **telling}
                good = subprocess.run(known[name](), cwd=ROOT, env=environment, check=False).returncode == 0
                failed += [] if good else [name]
                tell(name, good, time.monotonic() - began)
        for aside in as_completed(running):
            name, seconds, ended = aside.result()
            print(f"\n== {name}\n{ended.stdout.rstrip()}")
            failed += [name] if ended.returncode else []
            tell(name, not ended.returncode, seconds)
    return failed


def run_aside(name: str, command: list[str]) -> tuple[str, float, subprocess.CompletedProcess[str]]:
    """Run a check beside another; its name, how many seconds it took, and what it printed."""
    began = time.monotonic()
    ended = subprocess.run(
        command,
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
        check=False,
    )
    return name, time.monotonic() - began, ended


def tell(name: str, good: bool, seconds: float) -> None:
    print(f"== {name}: {'good' if good else 'FAILED'}, {seconds:.0f} s", flush=True)
