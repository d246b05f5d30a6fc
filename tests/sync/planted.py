"""A house in which everything that not everyone reads is a marker, and all addresses at which a device may ask."""

from __future__ import annotations

from typing import Any

import httpx

from tests.builders import (
    a_consignor,
    a_crate,
    a_day,
    a_fact,
    a_finding,
    a_load,
    a_photo,
    a_record_photo,
    a_settlement,
    a_tie,
    a_visit,
    an_item,
    digest,
    picture,
)
from tests.conftest import Office
from tests.phone import Phone


def set_visit(visit_id: str, field: str, value: str, seen: str | None = None) -> tuple[str, dict[str, Any]]:
    return "set_visit", {"visit_id": visit_id, "field": field, "value": value, "seen": seen}


def a_receipt(visit_id: str, receipt_id: str, item_id: str) -> tuple[str, dict[str, Any]]:
    return "sign_receipt", {
        "visit_id": visit_id,
        "receipt_id": receipt_id,
        "number": "Q01/1",
        "what": "left",
        "lines": [{"item_id": item_id, "tags": [], "words": "a bear"}],
        "replaces": None,
        "house_by": "marker-house",
        "on_paper": "marker-pad",
        "signed_by": "marker-signed",
        "strokes": "M1 1L2 2",
        "salt": "00112233445566778899aabbccddeeff",
    }


def a_return(move_id: str, thing_id: str, taken_by: str, **more: Any) -> tuple[str, dict[str, Any]]:
    """A thing went back to whoever this is."""
    move = {"move_id": move_id, "thing_id": thing_id, "from_place": "table", "to_place": "returned", "at": ""}
    counted = {"given_by": "Hester", "taken_by": taken_by, "count": 1, "signed": False, "salt": "0" * 32}
    return "record_move", {**move, **counted, **more}


class Planted:
    """Two days at a real office, with a marker in whatever not everyone reads."""

    def __init__(self, office: Office, manager: Phone, day: dict[str, Any]) -> None:
        self.office, self.day_id = office, day["day_id"]
        door = office.pair("door")
        visit = door.keep(a_visit(door.ids, self.day_id))
        visit["kinds"] = "marker-kinds"
        self.visit_id = visit["visit_id"]
        door.keep(a_consignor(self.visit_id, "name", "Given Marker-Name"))
        door.keep(a_consignor(self.visit_id, "telephone", "marker-telephone"))
        for field in ("needs", "note"):
            door.keep(set_visit(self.visit_id, field, f"marker-{field}"))
        assert {answer["outcome"] for answer in door.push()} == {"kept"}
        item = manager.keep(an_item(manager.ids, visit))
        self.item_id = item["item_id"]
        manager.keep(a_fact(self.item_id, "told_words", "marker-told"))
        found = a_finding(manager.ids, self.item_id, "rim", certainty="told", note="marker-finding")
        self.finding_id = manager.keep(found)["finding_id"]
        self.tag = "7K3QW5"
        manager.keep(a_tie(self.item_id, self.tag))
        self.container_id = manager.keep(a_crate(manager.ids, self.day_id, "008S8V"))["container_id"]
        self.load_id = manager.ids.id()
        manager.keep(a_load(self.day_id, self.load_id, [self.tag]))
        said = manager.keep(set_visit(self.visit_id, "note", "marker-contested"))
        self.disagreement_id = said["operation_id"]
        kind, settled = a_settlement(self.visit_id, self.disagreement_id, "kept")
        manager.keep((kind, {**settled, "note": "marker-why", "salt": "0" * 32}))
        photo, thumb = picture(1), picture(2, size=(60, 40))
        self.photo, self.thumb = digest(photo), digest(thumb)
        manager.keep(a_photo(manager.ids, self.item_id, photo, thumb))
        self.receipt_id = manager.ids.id()
        manager.keep(a_receipt(self.visit_id, self.receipt_id, self.item_id))
        bag, struck = picture(5), picture(6)
        self.bag, self.withdrawn = digest(bag), digest(struck)
        manager.keep(a_record_photo(manager.ids, self.visit_id, None, bag))
        kind, taken = a_photo(manager.ids, self.item_id, struck, thumb)
        withdrawn = manager.keep((kind, taken))
        manager.keep((kind, {**taken, "withdrawn": True, "seen": withdrawn["operation_id"]}))
        manager.keep(a_return(manager.ids.id(), self.item_id, "marker-handed"))
        assert {answer["outcome"] for answer in manager.push()} == {"kept"}
        manager.bundle([photo, thumb, bag, struck], operations=[]).raise_for_status()
        other = manager.keep(a_day(manager.ids))
        self.far_day_id = other["day_id"]
        elsewhere = manager.keep(an_item(manager.ids, manager.keep(a_visit(manager.ids, other["day_id"]))))
        self.elsewhere_id = elsewhere["item_id"]
        manager.keep(a_fact(self.elsewhere_id, "short_description", "marker-elsewhere"))
        far = picture(3)
        self.far = digest(far)
        manager.keep(a_photo(manager.ids, self.elsewhere_id, far, picture(4, size=(60, 40))))
        assert {answer["outcome"] for answer in manager.push()} == {"kept"}
        manager.bundle([far], operations=[]).raise_for_status()

    def addresses(self, client: httpx.Client, table: str = "") -> list[str]:
        """Every address that the office describes and that is asked, with the ids of all that is planted, and with
        what narrows or widens what it tells; news and papers are looked at by themselves."""
        ids = {
            "record_id": [self.visit_id, self.item_id, self.elsewhere_id, self.day_id],
            "visit_id": [self.visit_id],
            "container_id": [self.container_id],
            "load_id": [self.load_id],
            "item_id": [self.item_id, self.elsewhere_id],
            "day_id": [self.day_id, self.far_day_id],
            "receipt_id": [self.receipt_id],
            "disagreement_id": [self.disagreement_id],
            "tag": [self.tag],
            "sha256": [self.photo, self.thumb, self.far, self.bag, self.withdrawn],
            "class_id": ["soft-toy"],
            "version": ["1"],
            "code": ["refused"],
        }
        queries = {
            "/sync/feed": [f"?day_id={self.day_id}&table_id={table}"],
            "/queue": ["", "?words=marker&counts=1", "?words=Given", f"?items={self.item_id}"],
            "/closing": ["", f"?day_id={self.day_id}", f"?day_id={self.far_day_id}"],
        }
        found = []
        for path, methods in client.get("/openapi.json").json()["paths"].items():
            if "get" not in methods or path in ("/sync/events", "/labels.pdf", "/labels/calibration.pdf"):
                continue
            addresses = [path]
            for name, values in ids.items():
                addresses = [address.replace(f"{{{name}}}", one) for address in addresses for one in values]
            found += [
                address + query for address in dict.fromkeys(addresses) for query in queries.get(path, [""])
            ]
        for day_id in ids["day_id"]:
            told = client.get(f"/days/{day_id}/closing")
            for section in told.json()["sections"] if told.status_code == 200 else []:
                asked = f"state={told.json()['state']}&section={section['section']}"
                found.append(f"/days/{day_id}/closing/lines?{asked}")
        assert not [address for address in found if "{" in address], "an address whose ids nobody plants"
        return found

    def asked(self, client: httpx.Client, table: str = "") -> dict[str, str]:
        """Whatever a device at that table gets by asking at every address, by address."""
        texts = {}
        for address in self.addresses(client, table):
            answer = client.get(address)
            assert answer.status_code < 500, address
            texts[address] = answer.text if answer.status_code == 200 else ""
        return texts
