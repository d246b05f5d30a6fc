"""A page as a journey works it, whichever engine shows it, and the line between it and the office.

Playwright drives only builds of WebKit and Firefox that it brings itself; these are Debian's, each over the protocol
that it speaks: WebDriver (W3C) and WebDriver BiDi (W3C).
"""

from __future__ import annotations

import contextlib
import socket
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Protocol

PATIENCE_S = 20.0
LOOK_EVERY_S = 0.05
PHONE = {"width": 390, "height": 844}

# Controls by the text of their label, and what is pressed by the words on it, as a person finds them.
FIND = """
const [sort, words, within] = args;
const pattern = new RegExp(words);
const root = within ? document.querySelector(within) : document;
const shown = (element) => element.getClientRects().length > 0;
const text = (element) => (element.getAttribute("aria-label") ?? element.textContent).trim().replace(/\\s+/g, " ");
if (!root) return null;
if (sort === "css") return root.querySelector(words);
if (sort === "press") {
  const found = [...root.querySelectorAll("button, a[href]")].filter((one) => shown(one) && pattern.test(text(one)));
  return found[0] ?? null;
}
const labelled = [...root.querySelectorAll("label")].filter((one) => pattern.test(text(one)) && one.control);
const named = [...root.querySelectorAll("input, textarea, select")].filter((one) =>
  pattern.test(one.getAttribute("aria-label") ?? ""));
return labelled[0]?.control ?? named[0] ?? null;
"""


class Engine(Protocol):
    """One browser with one tab."""

    name: str

    def go(self, address: str) -> None: ...

    def run(self, script: str, *values: Any) -> Any:
        """The body of an async function with the values as `args`; what it returns as JSON."""
        ...

    def press(self, words: str, within: str = "") -> None:
        """A button or link whose words match."""
        ...

    def type(self, label: str, text: str) -> None: ...

    def choose_file(self, label: str, file: Path) -> None: ...

    def restart(self) -> None:
        """As near as the engine comes to the app being ended and opened again; what it keeps on the disk stays."""
        ...

    def close(self) -> None: ...


def until(engine: Engine, condition: str, *values: Any, what: str) -> None:
    """Look until an expression over `args` holds. Fails with `what` was awaited and what the page shows."""
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        if engine.run(f"return Boolean(await ({condition}));", *values):
            return
        threading.Event().wait(LOOK_EVERY_S)
    raise AssertionError(
        f"{engine.name}: {what} did not come. {engine.run('return document.body.innerText;')}"
    )


def patiently(work: Callable[[], None], refusal: type[Exception]) -> None:
    """Try again while the page still settles and what is to be pressed moves from under the pointer."""
    end = time.monotonic() + PATIENCE_S
    while True:
        try:
            work()
        except refusal:
            if time.monotonic() > end:
                raise
            threading.Event().wait(LOOK_EVERY_S)
        else:
            return


def see(engine: Engine, words: str) -> None:
    """Wait until the page shows words that match."""
    until(engine, "new RegExp(args[0]).test(document.body.innerText)", words, what=f'"{words}"')


class Line:
    """A line to the office that can be cut: what goes through it while it is cut is lost, as in a hall."""

    def __init__(self, office_port: int) -> None:
        self._office_port = office_port
        self._open: list[socket.socket] = []
        self.port = 0
        self._listener: socket.socket | None = None
        self.mend()

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def mend(self) -> None:
        listener = socket.socket()
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.bind(("127.0.0.1", self.port))
        listener.listen(64)
        self.port, self._listener = listener.getsockname()[1], listener
        threading.Thread(target=self._accept, args=(listener,), daemon=True).start()

    def cut(self) -> None:
        for end in [self._listener, *self._open]:
            if end is not None:
                with contextlib.suppress(OSError):  # it may have ended by itself
                    end.shutdown(socket.SHUT_RDWR)
                end.close()
        self._listener, self._open = None, []

    def _accept(self, listener: socket.socket) -> None:
        while True:
            try:
                near, _ = listener.accept()
            except OSError:
                return
            far = socket.create_connection(("127.0.0.1", self._office_port))
            self._open += [near, far]
            for source, target in ((near, far), (far, near)):
                threading.Thread(target=pass_on, args=(source, target), daemon=True).start()


def pass_on(source: socket.socket, target: socket.socket) -> None:
    with contextlib.suppress(OSError):
        while content := source.recv(65536):
            target.sendall(content)
    for end in (source, target):
        with contextlib.suppress(OSError):
            end.shutdown(socket.SHUT_RDWR)


@contextlib.contextmanager
def line_to(office_port: int) -> Iterator[Line]:
    line = Line(office_port)
    try:
        yield line
    finally:
        line.cut()
