"""The office is killed in the middle, again and again: what it acknowledged is there, once, and it verifies.

INTAKE_KILLS in the environment kills it more often.
"""

from __future__ import annotations

import os
import random
import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import httpx

from intake.bench.served import free_port
from intake.settings import Settings, utc_now
from tests.builders import Ids, a_day, a_fact, a_photo, a_visit, an_item, digest, picture
from tests.conftest import Clock, Office, serve_apart
from tests.phone import Phone, bundle_of
from tests.photos.sending import send
from tests.samples import runs

KILLS = runs(5, of=2, asked_in="INTAKE_KILLS")
PIECE_BYTES = 512 * 1024  # as web/sync/send_photos.ts sends them


class KilledOffice:
    """A real office in a process of its own, killed at a moment of chance while it is at work."""

    def __init__(self, settings: Settings, port: int, chance: random.Random) -> None:
        self.settings, self._port, self._chance = settings, port, chance
        self.process = serve_apart(settings.data_folder, port)

    @contextmanager
    def killed_within(self, seconds: float) -> Iterator[None]:
        """Kill it during the block, whose line may go dead; then start it again."""
        killer = threading.Timer(self._chance.uniform(0, seconds), self.process.send_signal, [signal.SIGKILL])
        killer.start()
        with suppress(httpx.TransportError):  # the phone keeps everything and sends it again
            yield
        killer.join()
        self.process.wait(10)
        self.process = serve_apart(self.settings.data_folder, self._port)


def keep_record(phone: Phone, visit: dict[str, str], number: int) -> tuple[str, list[bytes], bytes]:
    """An item with two small photos and a large one, in the outbox."""
    item = phone.keep(an_item(phone.ids, visit))
    phone.keep(a_fact(item["item_id"], "short_description", f"thing {number}"))
    photos = [picture(number * 3 + place, size=(1600, 1200)) for place in range(2)]
    large = picture(number * 3 + 2, size=(1600, 1200)) + random.Random(number).randbytes(2_500_000)
    for content in (*photos, large):
        phone.keep(a_photo(phone.ids, item["item_id"], content, photos[0]))
    return item["item_id"], photos, large


def send_large(phone: Phone, content: bytes) -> None:
    """As a phone does: from where the office has it, until it stands there whole and no sooner."""
    asked = phone.client.head(f"/photos/{digest(content)}")
    complete = asked.headers.get("Upload-Complete") == "?1"
    offset = int(asked.headers.get("Upload-Offset", 0))
    while not complete:
        sent = send(phone, content, offset=offset, upto=offset + PIECE_BYTES)
        sent.raise_for_status()
        complete, offset = sent.headers["Upload-Complete"] == "?1", int(sent.headers["Upload-Offset"])


def test_killed_again_and_again_nothing_acknowledged_is_lost(tmp_path: Path) -> None:
    seed = int(os.environ.get("INTAKE_SEED", random.SystemRandom().randrange(10**6)))
    print(f"seed {seed}: repeat with INTAKE_SEED={seed}")
    ids, port = Ids(seed), free_port()
    settings = Settings(tmp_path / "office", clock=utc_now)
    office = Office(settings, Clock(utc_now()), ids, port)
    killed = KilledOffice(settings, port, random.Random(seed))
    phone = office.pair("manager")
    day = phone.keep(a_day(ids))
    visit = phone.keep(a_visit(ids, day["day_id"]))
    phone.push()
    acknowledged: set[str] = set()
    let_go: dict[str, bytes] = {}
    items: set[str] = set()
    large = b""
    for number in range(KILLS):
        if number % 2:
            with killed.killed_within(0.06):
                send_large(phone, large)
            send_large(phone, large)
            let_go[digest(large)] = large
            continue
        item_id, photos, large = keep_record(phone, visit, number)
        items.add(item_id)
        with killed.killed_within(0.03):
            answered = phone.client.post("/sync/bundle", content=bundle_of(phone.outbox, photos)).json()
            acknowledged |= {photo["sha256"] for photo in answered["photos"] if photo["outcome"] == "kept"}
            acknowledged |= {answer["operation_id"] for answer in answered["answers"]}
            phone.settle(answered["answers"])
        assert not {operation["operation_id"] for operation in phone.outbox} & acknowledged
        answered = phone.client.post("/sync/bundle", content=bundle_of(phone.outbox, photos)).json()
        assert all(photo["outcome"] == "kept" for photo in answered["photos"])
        let_go |= {digest(photo): photo for photo in photos}
        phone.settle(answered["answers"])
    assert (phone.outbox, phone.refused) == ([], [])
    records = phone.feed()["records"]
    assert sorted(record["record_id"] for record in records if record["kind"] == "item") == sorted(items)
    for sha256, content in let_go.items():
        assert phone.client.get(f"/photos/{sha256}").content == content
    for client in office.clients:
        client.close()
    killed.process.terminate()
    assert killed.process.wait(20) == 0
    left = settings.database_file.with_name(settings.database_file.name + "-wal")
    assert not left.exists(), "after SIGTERM the database is closed: its write-ahead log is folded in"
    assert office.faults() == []
