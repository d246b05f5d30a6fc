"""The office is killed again and again while a real phone sends: nothing acknowledged is lost, nothing is doubled."""

from __future__ import annotations

import os
import random
import re
import signal
import threading
from pathlib import Path

from playwright.sync_api import expect

from intake.bench.served import free_port
from intake.settings import Settings, utc_now
from tests.builders import Ids, a_day, digest, picture
from tests.conftest import Clock, Office, serve_apart
from tests.journeys.conftest import Open, line_is_back, turn_to
from tests.journeys.test_one_item import phone_at_a_table, photo
from tests.samples import runs

KILLS = runs(5, of=2, asked_in="INTAKE_KILLS")


def test_killed_again_and_again_while_a_phone_sends(tmp_path: Path, open_browser: Open) -> None:
    """At every kill a word and a photo are on their way; in the end each is at the office once."""
    seed = int(os.environ.get("INTAKE_SEED", random.SystemRandom().randrange(10**6)))
    print(f"seed {seed}: repeat with INTAKE_SEED={seed}")
    chance, port = random.Random(seed), free_port()
    settings = Settings(tmp_path / "office", clock=utc_now)
    office = Office(settings, Clock(utc_now()), Ids(seed), port)
    process = serve_apart(settings.data_folder, port)
    try:
        manager = office.pair("manager")
        manager.keep(a_day(office.ids))
        manager.push()
        _, page = phone_at_a_table(open_browser, office)
        page.get_by_role("button", name="Soft toys").click()
        page.get_by_label("Short description").fill("velveteen rabbit")
        turn_to(page, "Photos")
        pictures = [picture(number, size=(1600, 1200)) for number in range(KILLS)]
        acknowledged: set[str] = set()
        for number, content in enumerate(pictures):
            photo(page, content, f"view-{number}.jpg")
            expect(page.locator(".photo-rows img.thumb")).to_have_count(number + 1)
            killer = threading.Timer(chance.uniform(0, 0.25), process.send_signal, [signal.SIGKILL])
            killer.start()
            line_is_back(page)
            killer.join()
            process.wait(10)
            process = serve_apart(settings.data_folder, port)
            kept = {record["record_id"]: record["office_seq"] for record in manager.feed()["records"]}
            assert acknowledged <= set(kept), "a record that the office once showed is gone"
            acknowledged |= set(kept)
        line_is_back(page)
        expect(page.get_by_text("At the desk")).to_be_visible(timeout=60_000)

        items = [record for record in manager.feed()["records"] if record["kind"] == "item"]
        assert len(items) == 1
        shown = [
            set_["value"]["sha256"] for name, set_ in items[0]["fields"].items() if re.match("photos/", name)
        ]
        assert sorted(shown) == sorted(map(digest, pictures))
        assert items[0]["fields"]["short_description"]["value"] == "velveteen rabbit"
        assert items[0]["disagreements"] == []
        for content in pictures:
            assert digest(manager.client.get(f"/photos/{digest(content)}").content) == digest(content)
    finally:
        for client in office.clients:
            client.close()
        process.kill()
        process.wait(10)
    assert office.faults() == []
