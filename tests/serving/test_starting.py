"""Starting and ending an office as a process of its own: what is said when it cannot, and that it really ends."""

from __future__ import annotations

import asyncio
import contextlib
import gc
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from typing import Any

import httpx
import pytest

from intake.bench.served import free_port, until_open
from intake.copies.keeper import Copies
from intake.database import opened
from intake.examination.plans import SHIPPED, load_plans
from intake.opening import open_office
from intake.photos.drawn import Drawn
from intake.photos.store import PhotoStore
from intake.serving import OfficeServer, announce, serve
from intake.settings import Settings
from tests.apart import Apart, begin, run_intake
from tests.conftest import in_own_loop, serve_apart

#: It ends in little more than a second, which an upload under way has to come to its end. One that is kept from ending
#: by what is still open never does, so that a busy machine is given as long as it needs.
ENDS_WITHIN_S = 20.0

AS_A_PERSON = (sys.executable, "-m", "intake")


def refused(done: subprocess.CompletedProcess[str], *words: str) -> None:
    """The command ended with words on what is so and what to do, printed nothing else, and showed no traceback."""
    assert done.returncode == 1, done.stderr
    assert done.stdout == ""
    assert "Traceback" not in done.stderr
    for said in words:
        assert said in done.stderr


def codes_in(folder: Path) -> int:
    """How many pairing codes were ever made there."""
    file = folder / "intake.sqlite3"
    if not file.exists():
        return 0

    async def work() -> int:
        async with opened(file) as database:
            return int(await database.read(lambda tx: tx.value("SELECT count(*) FROM pairing_code")))

    return in_own_loop(work)


def test_a_port_in_use_is_told_and_no_code_was_made(tmp_path: Path) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        refused(
            run_intake("serve", "--data", str(tmp_path), "--port", str(port)),
            f"Port {port} on 127.0.0.1 is in use",
            "--port",
        )
    assert codes_in(tmp_path) == 0


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--tls-certificate", "gone.pem", "--tls-key", "gone.pem"], "there is no such file"),
        (["--tls-certificate", "not.pem"], "cannot be read as a certificate"),
        (["--tls-key", "not.pem"], "--tls-certificate FILE"),
        (["--port", "8765x"], "--port takes a whole number"),
        (["--port", "70000"], "--port takes a whole number"),
        (["--address", "intake.example.org"], "begins with https://"),
        (["--address", "https://intake.example.org/desk"], "more than a name and a port"),
        (["--behind-proxy", "*"], "the proxy's own address"),
        (["--host", "192.0.2.1"], "Name an address of this machine"),
    ],
)
def test_a_wrong_option_is_told_with_what_to_do(tmp_path: Path, options: list[str], words: str) -> None:
    """Source of 192.0.2.1: RFC 5737, an address that no machine has."""
    (tmp_path / "not.pem").write_text("no certificate\n", "utf-8")
    named = [str(tmp_path / word) if word.endswith(".pem") else word for word in options]
    refused(run_intake("serve", "--data", str(tmp_path / "office"), "--port", "0", *named), words)
    assert codes_in(tmp_path / "office") == 0


def test_a_wrong_word_in_the_environment_is_told_by_its_name(tmp_path: Path) -> None:
    refused(
        run_intake("serve", "--data", str(tmp_path), INTAKE_PORT="many"), "INTAKE_PORT takes a whole number"
    )


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", "utf-8")
    refused(run_intake("serve", "--data", str(tmp_path / "file"), "--port", "0"), "Nothing can be written in")


def test_a_database_that_is_none_is_told(tmp_path: Path) -> None:
    (tmp_path / "intake.sqlite3").write_bytes(b"something else\n" * 100)
    refused(run_intake("serve", "--data", str(tmp_path), "--port", "0"), "cannot be opened")


@contextmanager
def an_office(folder: Path, *options: str, through: Sequence[str] = ()) -> Iterator[tuple[Apart, int]]:
    """An office in a process of its own, and its port; `through`: what starts Python and the office anew."""
    port = free_port()
    if through:
        words = ["serve", "--data", str(folder), "--port", str(port), *options]
        quiet = subprocess.DEVNULL
        process: Apart = subprocess.Popen([*through, *words], stdout=quiet, stderr=quiet)
        in_own_loop(lambda: until_open(process, port))
    else:
        process = serve_apart(folder, port, *options)
    try:
        yield process, port
    finally:
        with suppress(ProcessLookupError):
            process.kill()
        process.wait(20)


def paired(folder: Path, port: int) -> httpx.Client:
    """A device of the office at this port, by the code that `pair` prints."""
    said = run_intake("pair", "--data", str(folder), "--as", "manager", "--name", "Manager").stdout
    code = said.split("Pairing code for Manager (manager): ")[1].split()[0]
    address = f"http://127.0.0.1:{port}"
    client = httpx.Client(base_url=address, headers={"Origin": address}, timeout=30)
    client.post("/pairing", json={"code": code}).raise_for_status()
    return client


def half_an_upload(client: httpx.Client) -> bytes:
    """The beginning of a bundle whose device is gone before it says the rest."""
    head = f"Host: {client.base_url.netloc.decode()}\r\nOrigin: {client.headers['Origin']}\r\n"
    cookie = "; ".join(f"{name}={value}" for name, value in client.cookies.items())
    head += f"Cookie: {cookie}\r\nContent-Length: 5000\r\n"
    return f"POST /sync/bundle HTTP/1.1\r\n{head}\r\n".encode() + (4000).to_bytes(4, "big") + b'{"operations"'


def ends_within(process: Apart, seconds: float) -> bool:
    try:
        process.wait(seconds)
    except subprocess.TimeoutExpired:
        return False
    return True


def nobody_listens(port: int) -> bool:
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) != 0


@pytest.mark.skipif(os.name != "posix", reason="Windows has no signals that a process can send another")
@pytest.mark.parametrize(("number", "code"), [(signal.SIGTERM, 0), (signal.SIGINT, 130)])
def test_a_signal_ends_the_office_with_a_stream_open(
    tmp_path: Path, number: signal.Signals, code: int
) -> None:
    """Also the half-sent upload of a phone that went out of reach does not keep it, and the tables are closed."""
    with (
        an_office(tmp_path, through=AS_A_PERSON) as (process, port),
        closing(paired(tmp_path, port)) as client,
    ):
        with (
            client.stream("GET", "/sync/events") as stream,
            socket.create_connection(("127.0.0.1", port)) as half,
        ):
            lines = stream.iter_lines()
            assert any(line.startswith("id: ") for line in lines)
            half.sendall(half_an_upload(client))
            process.send_signal(number)
            assert ends_within(process, ENDS_WITHIN_S)
            assert not [line for line in lines if line.startswith("id: ")], (
                "and the stream came to its proper end"
            )
        assert nobody_listens(port)
        assert process.returncode == code
        assert sorted(file.name for file in tmp_path.glob("*.sqlite3*")) == ["intake.sqlite3"]


WRAPPED = """
import os, sys
from intake.system import go_on_as
sys.exit(go_on_as([sys.executable, "-m", *sys.argv[1:]], os.environ))
"""
AS_A_CHILD = WRAPPED.replace(
    "from intake", "del os.fork\nfrom intake"
)  # a system that cannot become another program


@pytest.mark.skipif(os.name != "posix", reason="Windows has no signals that a process can send another")
@pytest.mark.parametrize("wrapper", [WRAPPED, AS_A_CHILD], ids=["one process", "a child"])
def test_a_signal_to_the_wrapper_ends_the_office(tmp_path: Path, wrapper: str) -> None:
    """`python3 -m intake` goes on with another Python; whoever signals knows the first process only."""
    with an_office(tmp_path, through=(sys.executable, "-c", wrapper, "intake")) as (process, port):
        process.terminate()
        assert ends_within(process, ENDS_WITHIN_S)
        assert nobody_listens(port)


def test_times_are_those_of_the_clock_on_the_wall(tmp_path: Path) -> None:
    """Half an hour off the full hour, so that neither UTC nor a whole zone can stand for it (IANA: Asia/Kolkata)."""
    with an_office(tmp_path):
        there = {"TZ": "IST-5:30"}  # POSIX's own form: five and a half hours east
        before = time.time()
        said = run_intake("pair", "--data", str(tmp_path), "--as", "table", "--name", "T", **there).stdout
        after = time.time()
    until = said.split("It works once, until ")[1].split(".")[0]
    possible = {time.strftime("%H:%M", time.gmtime(moment + 600 + 5.5 * 3600)) for moment in (before, after)}
    assert until in possible


def test_the_version_is_told() -> None:
    said = subprocess.run([*AS_A_PERSON, "--version"], capture_output=True, text=True, check=False)
    assert said.returncode == 0
    assert said.stdout.startswith("intake 0.")


async def test_an_office_that_cannot_open_its_copies_closes_all_it_had_opened(
    settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What stays open has threads, and they keep the process from ending."""
    closed = []

    async def fails(_: Copies) -> None:
        raise OSError("no such stick")

    async def note_close(_: Copies) -> None:
        closed.append("copies")

    monkeypatch.setattr(Copies, "open", fails)
    monkeypatch.setattr(Copies, "close", note_close)

    def noting(name: str, close: Callable[[Any], None]) -> Callable[[Any], None]:
        def noted(one: Any) -> None:
            closed.append(name)
            close(one)

        return noted

    monkeypatch.setattr(PhotoStore, "close", noting("photos", PhotoStore.close))
    monkeypatch.setattr(Drawn, "close", noting("pictures", Drawn.close))
    with pytest.raises(OSError, match="no such stick"):
        async with open_office(settings):
            pass
    assert sorted(closed) == ["copies", "photos", "pictures"]


async def test_own_plans_that_are_not_found_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The share is not mounted and leaves an empty folder; or whoever starts the office forgot to name it."""
    plans, data = tmp_path / "plans", tmp_path / "office"
    plans.mkdir()

    async def said(folder: Path | None) -> str:
        async with open_office(Settings(data, plans_folder=folder, numbers=(1, 1))) as office:
            await announce(office, always_pair=False)
        return capsys.readouterr().out

    assert "served last with" not in await said(None)
    assert f"nothing is in {plans}" in await said(plans)
    (plans / "cautions.yaml").write_bytes((SHIPPED / "cautions.yaml").read_bytes())
    assert "Note: nothing" not in await said(plans)
    assert f"--plans {plans} added" in await said(None)


def said_by_serving(folder: Path, out: Path) -> str:
    """What an office prints from its start to its end."""
    out.touch()
    port = free_port()
    process = begin(("serve", "--data", str(folder), "--port", str(port)), None, str(out))
    try:
        in_own_loop(lambda: until_open(process, port))
    finally:
        process.terminate()
        process.wait(20)
    return out.read_text("utf-8")


@pytest.mark.skipif(os.name != "posix", reason="Windows has no signals that a process can send another")
def test_an_office_that_is_begun_is_told_from_one_that_was_there(tmp_path: Path) -> None:
    """Whoever mistypes the folder gets an empty office, and has to see it before a phone does."""
    folder = tmp_path / "offcie"
    said = said_by_serving(folder, tmp_path / "first")
    assert f"A new, empty office was begun in {folder}" in said
    assert "--data" in said
    assert "was begun" not in said_by_serving(folder, tmp_path / "second")


def test_what_is_loaded_is_not_gone_through_again_while_it_serves(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """To look through all modules and plans for what nobody uses held up whoever was sending, some requests apart."""
    spared: list[int] = []

    async def note_spared(server: OfficeServer, sockets: object = None) -> None:
        spared.append(gc.get_freeze_count())

    monkeypatch.setattr(OfficeServer, "serve", note_spared)
    listener = socket.socket()
    try:
        gc.unfreeze()
        asyncio.run(
            serve(
                Settings(tmp_path),
                load_plans(None),
                listener,
                contextlib.nullcontext,
                begun="",
                always_pair=False,
            )
        )
    finally:
        listener.close()
    assert spared[0] > 10_000
