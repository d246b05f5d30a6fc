"""Making a fresh clone ready with nothing but Python: `.venv`, the locked packages, the built web app.

Needs the standard library only. What is done is known by stamps and not done twice. Wherever a run is interrupted,
the next one goes on: what may be half done is known by its mark, and made anew.
"""

from __future__ import annotations

import errno
import hashlib
import importlib.util
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from intake import system
from intake.setup import lock, node, web_app
from intake.setup.steps import AGAIN, SetUpError, Steps
from intake.version import version

ROOT = lock.ROOT
CANNOT_WRITE = {errno.EACCES, errno.EPERM, errno.EROFS}


class Checkout:
    """A folder with our sources, and what getting ready makes in it: `.venv`, for a while `.node`, and the app."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.venv = root / ".venv"
        self.node = root / ".node"
        self.web = root / "web"
        self.turn = root / ".set-up.lock"
        self.unfinished = self.venv / "unfinished"
        self.stamp = self.venv / "ready"

    @property
    def python(self) -> Path:
        return system.venv_program(self.venv, "python")

    def exists(self) -> bool:
        return (self.root / "pyproject.toml").exists() and self.web.is_dir()

    def is_running(self) -> bool:
        """Whether this very Python is the one of `.venv`."""
        return Path(sys.prefix).resolve() == self.venv.resolve()

    def installed(self) -> list[str]:
        """The digests of the locks that are installed to the end."""
        if self.unfinished.exists() or not self.stamp.exists():
            return []
        return self.stamp.read_text("utf-8").split()

    def missing(self, locks: Sequence[Path]) -> list[Path]:
        """Those of the locks that are not installed, all of them where `.venv` cannot be used."""
        done = self.installed() if self.venv_is_good() else []
        return [wanted for wanted in locks if digest(wanted) not in done]

    def venv_is_good(self) -> bool:
        """Whether `.venv` is whole and was made by this version of Python."""
        return self.python.exists() and not self.unfinished.exists() and python_of(self.venv) == this_python()

    def has_pip(self) -> bool:
        """Whether `.venv` can install anything; one that was made by hand, or half, may not."""
        asked = subprocess.run([self.python, "-m", "pip", "--version"], capture_output=True, check=False)
        return asked.returncode == 0


def digest(file: Path) -> str:
    return hashlib.sha256(file.read_bytes()).hexdigest()


def this_python() -> str:
    return "{}.{}".format(*sys.version_info)


def python_of(venv: Path) -> str:
    """The version of Python, such as 3.11, that made a virtual environment. Source: PEP 405 and Python's venv."""
    try:
        lines = (venv / "pyvenv.cfg").read_text("utf-8").splitlines()
    except OSError:
        return ""
    values = dict(line.replace(" ", "").split("=", 1) for line in lines if "=" in line)
    return ".".join((values.get("version") or values.get("version_info") or "").split(".")[:2])


def get_ready(checkout: Checkout, steps: Steps, locks: Sequence[Path], *, for_checks: bool = False) -> None:
    """Bring `.venv` and the app up to date with the locks. Raises SetUpError."""

    def is_ready() -> bool:
        built = web_app.is_built(checkout.web, for_checks=for_checks)
        return (
            built and not checkout.missing(locks) and (not for_checks or bool(node.find_node(checkout.node)))
        )

    try:
        if is_ready():
            return
        with system.locked(checkout.turn, wait=waiting(steps)):
            if not is_ready():  # else the run that we waited for has done it
                tell_size(checkout, steps, locks, for_checks=for_checks)
                install(checkout, steps, checkout.missing(locks))
                build_app(checkout, steps, for_checks=for_checks)
    except OSError as error:
        raise cannot_write(checkout, error) from error


def waiting(steps: Steps) -> Callable[[], None]:
    """What is done while another run gets the same folder ready: one line, then patience."""
    spoken: list[bool] = []

    def wait() -> None:
        if not spoken:
            steps.say("another run is getting this folder ready; waiting for it ...")
            spoken.append(True)
        time.sleep(0.2)

    return wait


def cannot_write(checkout: Checkout, error: OSError) -> SetUpError:
    where = error.filename or checkout.root
    if error.errno in CANNOT_WRITE:
        return SetUpError(
            f"{where} cannot be written ({error.strerror}), and getting ready puts `.venv` and the built app into "
            f"{checkout.root}. Copy the folder to a place of your own and run the command there; if it is your own, "
            "end what still runs from it and try again."
        )
    if error.errno in system.NO_ROOM:
        return SetUpError(
            f"The disk that {checkout.root} is on is full. Make room and run the same command again."
        )
    return SetUpError(f"{where}: {error.strerror}. Put that right and run the same command again.")


def tell_size(checkout: Checkout, steps: Steps, locks: Sequence[Path], *, for_checks: bool) -> None:
    """Say what will be downloaded at most, before anything is."""
    # A larger lock holds all of a smaller one.
    sizes = [max((lock.download_mb(missing) for missing in checkout.missing(locks)), default=0)]
    web = checkout.web
    if not web_app.is_built(web, for_checks=for_checks) and not web_app.is_bundled(
        web, for_checks=for_checks
    ):
        sizes.append(web_app.download_mb(for_checks=for_checks))
        sizes.append(0 if node.find_node(checkout.node) else lock.download_mb(lock.NODE))
    if not any(sizes):
        return
    steps.say(
        f"getting ready, once; this downloads at most {sum(sizes)} MB, less where pip has kept some of it"
    )


def install(checkout: Checkout, steps: Steps, missing: Sequence[Path]) -> None:
    """Install these locks into `.venv`, made first where there is no good one. Raises SetUpError."""
    if missing and not (checkout.venv_is_good() and checkout.has_pip()):
        make_venv(checkout, steps)
    for wanted in missing:
        steps.say(
            f"installing the packages of {wanted.relative_to(checkout.root)}, {lock.download_mb(wanted)} MB ..."
        )
        done = checkout.installed()
        checkout.unfinished.touch()
        steps.run(
            [*node.pip_install(checkout.python), "-r", wanted],
            advice=f"Installing packages failed. {AGAIN}",
        )
        checkout.stamp.write_text("\n".join([*done, digest(wanted)]), "utf-8")
        checkout.unfinished.unlink()


def make_venv(checkout: Checkout, steps: Steps) -> None:
    """Make `.venv`, in place of one that is half made or of another Python. Raises SetUpError."""
    if importlib.util.find_spec("ensurepip") is None:
        raise SetUpError(
            f"This Python lacks the module that makes virtual environments. On Debian and Ubuntu: `apt-get install "
            f"python{this_python()}-venv`, then run the same command again."
        )
    if checkout.venv.is_symlink():
        checkout.venv.unlink()
    elif checkout.venv.exists():
        steps.say(
            f"the .venv that is here was {'left half made' if checkout.unfinished.exists() else 'made otherwise'}"
        )
        shutil.rmtree(checkout.venv)
    steps.say("making .venv ...")
    checkout.venv.mkdir()
    checkout.unfinished.touch()
    steps.run([sys.executable, "-m", "venv", checkout.venv], advice=f"Making .venv failed. {AGAIN}")
    checkout.unfinished.unlink()


def build_app(checkout: Checkout, steps: Steps, *, for_checks: bool) -> None:
    """Build the app if it is not built as it is now; the checks need Node, built or not. Raises SetUpError."""
    built = web_app.is_built(checkout.web, for_checks=for_checks)
    if not built and web_app.is_bundled(checkout.web, for_checks=for_checks):
        web_app.note_models(steps, checkout.web, checkout.python)
        built = True
    if built and not for_checks:
        return
    with node.borrowed_node(steps, checkout.node, checkout.python, keep=for_checks) as borrowed:
        if built:
            return
        steps.say(f"building the app with its libraries, {web_app.download_mb(for_checks=for_checks)} MB ...")
        web_app.build(steps, checkout.web, borrowed, checkout.python, for_checks=for_checks)


def tell_stale(checkout: Checkout, words: Sequence[str]) -> None:
    """One line on stderr if a checkout is about to serve an app that is not built from its sources as they are.

    Whoever starts `.venv`'s own Python passes by what would have built it.
    """
    if words[:1] not in (["serve"], ["demo"]) or not checkout.exists() or web_app.is_bundled(checkout.web):
        return
    Steps().say(
        "the app in web/built is not built from its sources as they are: phones get the older one. "
        "`python3 -m intake serve` builds it first, `python -m intake.setup.web_app` by itself."
    )


def spoken_options(words: Sequence[str]) -> tuple[Steps, list[str]]:
    """`-v` and `--verbose` are for us; what else was typed is the command's."""
    end = words.index("--") if "--" in words else len(words)
    rest = [word for word in words[:end] if word not in ("-v", "--verbose")]
    return Steps(verbose=len(rest) < end), [*rest, *words[end:]]


@contextmanager
def ended_by_signals() -> Iterator[None]:
    """For the block, whatever asks this program to end does what Ctrl-C does: what it has started ends with it."""
    signals = [signal.SIGTERM, *([signal.SIGHUP] if hasattr(signal, "SIGHUP") else [])]
    before = [signal.signal(each, signal.default_int_handler) for each in signals]
    try:
        yield
    finally:
        for each, handler in zip(signals, before, strict=True):
            signal.signal(each, handler)


def started(
    module: str,
    words: Sequence[str],
    prepare: Callable[[Checkout, Steps], None],
    run: Callable[[list[str]], int],
) -> int:
    """Get ready and go on as `python -m module` with `.venv`'s Python, or run it if we are that; the exit code."""
    checkout = Checkout(ROOT)
    steps, rest = spoken_options(words)
    getting_ready = False
    try:
        signal.signal(signal.SIGINT, signal.default_int_handler)  # from here on Ctrl-C is answered in words
        if checkout.is_running() or not checkout.exists():
            return run(rest)
        getting_ready = True
        with ended_by_signals():
            prepare(checkout, steps)
        getting_ready = False
        return system.go_on_as([str(checkout.python), "-m", module, *rest], os.environ)
    except SetUpError as error:
        print(error, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        if getting_ready:
            steps.say("stopped; the same command goes on where it was")
        return system.INTERRUPTED


def main() -> int:
    """`python -m intake`, and `intake` where it is installed; the exit code."""

    def prepare(checkout: Checkout, steps: Steps) -> None:
        get_ready(checkout, steps, [lock.OFFICE])

    def run(words: list[str]) -> int:
        tell_stale(Checkout(ROOT), words)
        from intake.commands import main as run_command  # only now is everything it needs installed

        return run_command(words)

    words = sys.argv[1:]
    if words[:1] == ["--version"]:
        print(f"intake {version()}")
        return 0
    return started("intake", words, prepare, run)
