"""A day of several devices with lost and repeated answers and an office that is killed: at every moment the numbers
and the places hold.

Rules and their order are chosen by hypothesis. After each step: a number that is tied is on one thing, every item has
one whereabouts, nothing is inside itself, no number of the roll is both used and spoiled, and what the office
answered is still there. At the end everything that waited is sent, and the office's own check finds no fault.
"""

from __future__ import annotations

import signal
import tempfile
import threading
from contextlib import ExitStack, suppress
from itertools import islice
from pathlib import Path
from typing import Any

import httpx
import pytest
from hypothesis import HealthCheck, seed, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    Bundle,
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from intake.bench.served import free_port
from intake.settings import Settings, utc_now
from intake.tagging.tags import codes
from tests.builders import Ids, a_day, a_tie, a_visit, an_item
from tests.conftest import Clock, Office, serve_apart
from tests.phone import Phone
from tests.samples import sampled

ROLL = list(islice(codes(5000), 10))
DEVICES = st.integers(0, 2)
TAGS = st.sampled_from(ROLL)
PLACES = st.sampled_from(["holding", "van", "store", "shelf"])


class SimulatedDay(RuleBasedStateMachine):
    """Three devices of one day. Each keeps an outbox and sends it when a rule says so."""

    items = Bundle("items")
    things = Bundle("things")

    @initialize()
    def begin(self) -> None:
        self.stack = ExitStack()
        folder = Path(self.stack.enter_context(tempfile.TemporaryDirectory()))
        self.office = Office(Settings(folder, clock=utc_now), Clock(utc_now()), Ids(7), free_port())
        self.process = serve_apart(folder, self.office.port)
        self.stack.callback(lambda: self.process.kill())  # whichever runs at the end
        manager = self.office.pair("manager")
        day = manager.keep(a_day(manager.ids))
        told = {
            "day_id": day["day_id"],
            "roll_id": manager.ids.id(),
            "first_tag": ROLL[0],
            "last_tag": ROLL[-1],
        }
        manager.keep(("issue_roll", {**told, "count": len(ROLL), "given_to": "all", "for_device_id": None}))
        self.visit = manager.keep(a_visit(manager.ids, day["day_id"]))
        manager.push()
        self.day_id, self.manager = day["day_id"], manager
        self.heard: list[tuple[Phone, list[dict[str, Any]], list[dict[str, Any]]]] = []
        self.devices: list[Phone] = [self.office.pair("table", f"Table {number}") for number in range(3)]

    def teardown(self) -> None:
        if not hasattr(self, "stack"):
            return
        try:
            for device in self.devices:
                self.push(device)
                assert device.outbox == []
            self.holds()
            for device, sent, answers in self.heard:
                assert device.push(only=sent) == answers, "what was answered once is answered so again"
            assert self.office.faults() == []
        finally:
            for client in self.office.clients:
                client.close()
            self.stack.close()
            self.process.wait(10)

    @rule(target=items, device=DEVICES)
    def put_on_the_table(self, device: int) -> str:
        phone = self.devices[device]
        opened = phone.keep(an_item(phone.ids, self.visit))
        phone.push()  # others can only know of it once it is at the office
        return str(opened["item_id"])

    @rule(target=things, device=DEVICES, tag=TAGS)
    def open_a_box(self, device: int, tag: str) -> str:
        phone = self.devices[device]
        body = {"container_id": phone.ids.id(), "day_id": self.day_id, "number": tag, "kind_of": "box"}
        phone.keep(("open_container", body))
        phone.push()
        return str(body["container_id"])

    @rule(device=DEVICES, item=items, tag=TAGS)
    def tie(self, device: int, item: str, tag: str) -> None:
        self.devices[device].keep(a_tie(item, tag))

    @rule(device=DEVICES, item=items, tag=TAGS)
    def lose(self, device: int, item: str, tag: str) -> None:
        body = {"item_id": item, "tag": tag, "why": "lost", "replaced_by": None}
        self.devices[device].keep(("remove_tag", body))

    @rule(device=DEVICES, tag=TAGS)
    def spoil(self, device: int, tag: str) -> None:
        self.devices[device].keep(("spoil_tag", {"day_id": self.day_id, "tag": tag, "why": "torn"}))

    @rule(device=DEVICES, thing=st.one_of(items, things), box=things)
    def put_inside(self, device: int, thing: str, box: str) -> None:
        body = {"thing_id": thing, "container_id": box, "seen": None}
        self.devices[device].keep(("put_inside", body))

    @rule(device=DEVICES, thing=st.one_of(items, things), place=PLACES)
    def move(self, device: int, thing: str, place: str) -> None:
        phone = self.devices[device]
        people = {"given_by": "Hester", "taken_by": "Jonty", "count": None, "signed": False, "at": ""}
        body = {"move_id": phone.ids.id(), "thing_id": thing, "from_place": None, "to_place": place}
        phone.keep(("record_move", {**body, **people}))

    @rule(device=DEVICES, lost=st.booleans())
    def send(self, device: int, lost: bool) -> None:
        """The line holds, or the answer is lost and all of it is sent once more later."""
        self.push(self.devices[device], lose_answer=lost)

    def push(self, phone: Phone, *, lose_answer: bool = False) -> None:
        """Send what waits, and hold the office to what it answered, now and later."""
        sent = list(phone.outbox)
        if sent:
            self.heard.append((phone, sent, phone.push(lose_answer=lose_answer)))

    @precondition(lambda self: any(phone.outbox for phone in self.devices))
    @rule(device=DEVICES, after_ms=st.integers(0, 20))
    def kill_the_office(self, device: int, after_ms: int) -> None:
        """Killed outright while a device sends; it comes up again, and the device sends all of it once more."""
        phone = self.devices[device]
        killer = threading.Timer(after_ms / 1000, self.process.send_signal, [signal.SIGKILL])
        killer.start()
        with suppress(httpx.TransportError):  # the line went dead
            self.push(phone)
        killer.join()
        self.process.wait(10)
        self.process = serve_apart(self.office.settings.data_folder, self.office.port)

    @rule(thing=items, for_the_other=st.booleans())
    def settle(self, thing: str, for_the_other: bool) -> None:
        """The desk settles whose a number is that two tables tied."""
        for between in self.manager.record(thing)["disagreements"]:
            if not between["settled"] and between["field"].startswith("tags/"):
                body = {"record_id": thing, "disagreement_id": between["disagreement_id"], "note": ""}
                choose = "other" if for_the_other else "kept"
                if for_the_other:
                    told = {**between["kept"]["value"], "why": "on-another-item", "replaced_by": None}
                    self.manager.keep(("remove_tag", told))
                self.manager.keep(("settle_disagreement", {**body, "choose": choose}))
                assert {answer["outcome"] for answer in self.manager.push()} == {"kept"}

    @invariant()
    def holds(self) -> None:
        if not hasattr(self, "devices"):
            return
        records = {one["record_id"]: one for one in self.manager.feed()["records"]}
        day = records[self.day_id]["fields"]
        spoiled = {name.removeprefix("spoiled/") for name in day if name.startswith("spoiled/")}
        on: dict[str, list[str]] = {}
        for record in records.values():
            if record["kind"] == "container":
                on.setdefault(record["number"], []).append(record["record_id"])
            for name in record["fields"]:
                moved_on = record["fields"][name]["value"]
                if name.startswith("tags/") and moved_on["gone"] != "on-another-item":
                    on.setdefault(name.removeprefix("tags/"), []).append(record["record_id"])
        for tag, things in on.items():
            assert len(things) == 1, f"{tag} is on {things}"
            assert tag not in spoiled, f"{tag} is spoiled, and tied"
        assert set(on) | spoiled <= set(ROLL)
        for record in records.values():
            self.check_place(record, records)

    def check_place(self, record: dict[str, Any], records: dict[str, Any]) -> None:
        fields = record["fields"]
        moves = [field["value"] for name, field in fields.items() if name.startswith("moves/")]
        if moves:
            here = dict(fields["whereabouts"]["value"])
            here.pop("move_id")
            assert here in moves
        seen: set[str] = set()
        while record is not None:
            assert record["record_id"] not in seen, "a container is inside itself"
            seen.add(record["record_id"])
            holder = record["fields"].get("inside", {}).get("value", {}).get("container_id")
            record = records.get(holder)  # type: ignore[assignment]


@pytest.mark.parametrize("part", sampled(range(3), of=3))
def test_simulated_day(part: int) -> None:
    lives = settings(
        max_examples=3,
        stateful_step_count=25,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    run_state_machine_as_test(seed(part)(SimulatedDay), settings=lives)
