"""The office is killed in the middle, again and again: what it acknowledged is there, once, and it verifies."""

from __future__ import annotations

import os
import random
import signal
import threading
from pathlib import Path

import httpx

from intake.bench.served import free_port
from intake.settings import Settings, utc_now
from tests.builders import Ids, a_day, a_fact, a_photo, a_visit, an_item, digest, picture
from tests.conftest import Clock, Office, serve_apart
from tests.phone import Phone, bundle_of

KILLS = 20


def send_record(phone: Phone, visit: dict[str, str], number: int) -> tuple[str, list[bytes]]:
    item = phone.keep(an_item(phone.ids, visit))
    phone.keep(a_fact(item["item_id"], "short_description", f"thing {number}"))
    photos = [picture(number * 2 + place, size=(1600, 1200)) for place in range(2)]
    for content in photos:
        phone.keep(a_photo(phone.ids, item["item_id"], content, content))
    return item["item_id"], photos


def test_killed_twenty_times_nothing_acknowledged_is_lost(tmp_path: Path) -> None:
    seed = int(os.environ.get("INTAKE_SEED", random.SystemRandom().randrange(10**6)))
    print(f"seed {seed}: repeat with INTAKE_SEED={seed}")
    chance, ids, port = random.Random(seed), Ids(seed), free_port()
    settings = Settings(tmp_path / "office", clock=utc_now)
    office = Office(settings, Clock(utc_now()), ids, port)
    process = serve_apart(settings.data_folder, port)
    phone = office.pair("manager")
    day = phone.keep(a_day(ids))
    visit = phone.keep(a_visit(ids, day["day_id"]))
    phone.push()
    acknowledged: set[str] = set()
    items: dict[str, list[bytes]] = {}
    for number in range(KILLS):
        item_id, photos = send_record(phone, visit, number)
        items[item_id] = photos
        killer = threading.Timer(chance.uniform(0, 0.03), process.send_signal, [signal.SIGKILL])
        killer.start()
        try:
            answered = phone.client.post("/sync/bundle", content=bundle_of(phone.outbox, photos)).json()
            acknowledged |= {photo["sha256"] for photo in answered["photos"] if photo["outcome"] == "kept"}
            acknowledged |= {answer["operation_id"] for answer in answered["answers"]}
            phone.settle(answered["answers"])
        except httpx.TransportError:
            pass  # the line went dead: the phone keeps everything and sends it again below
        killer.join()
        process.wait(10)
        process = serve_apart(settings.data_folder, port)
        waiting = {operation["operation_id"] for operation in phone.outbox}
        assert not waiting & acknowledged
        answered = phone.client.post("/sync/bundle", content=bundle_of(phone.outbox, photos)).json()
        assert all(photo["outcome"] == "kept" for photo in answered["photos"])
        phone.settle(answered["answers"])
    assert phone.outbox == []
    assert phone.refused == []
    records = phone.feed()["records"]
    assert sorted(record["record_id"] for record in records if record["kind"] == "item") == sorted(items)
    for photos in items.values():
        for content in photos:
            assert digest(phone.client.get(f"/photos/{digest(content)}").content) == digest(content)
    for client in office.clients:
        client.close()
    process.terminate()
    assert process.wait(20) == 0
    left = settings.database_file.with_name(settings.database_file.name + "-wal")
    assert not left.exists(), "after SIGTERM the database is closed: its write-ahead log is folded in"
    assert office.faults() == []
