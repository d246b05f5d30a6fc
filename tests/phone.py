"""A phone in Python: a stand-in for web/local and web/sync that speaks to a real office over HTTP."""

from __future__ import annotations

import json
from typing import Any

import httpx

from tests.builders import Ids, digest


class Phone:
    """A paired device with its outbox."""

    def __init__(self, client: httpx.Client, ids: Ids, device_id: str, person: str = "hester") -> None:
        self.client = client
        self.ids = ids
        self.device_id = device_id
        self.person = person
        self.outbox: list[dict[str, Any]] = []
        self.refused: list[dict[str, Any]] = []
        self.answered: list[dict[str, Any]] = []
        self._next_seq = 1

    def keep(self, made: tuple[str, dict[str, Any]], **envelope: Any) -> dict[str, Any]:
        """Make an operation and put it into the outbox."""
        kind, body = made
        operation = {
            "operation_id": self.ids.id(),
            "kind": kind,
            "made_at": self.ids.instant(),
            "made_by": self.person,
            "device_id": self.device_id,
            "device_seq": self._next_seq,
            **body,
            **envelope,
        }
        self._next_seq += 1
        self.outbox.append(operation)
        return operation

    def push(
        self, *, lose_answer: bool = False, only: list[dict[str, Any]] | None = None
    ) -> list[dict[str, Any]]:
        """Send the outbox; let go of what was answered, unless the answer is lost on the way."""
        response = self.client.post("/sync/operations", json={"operations": only or self.outbox})
        response.raise_for_status()
        answers: list[dict[str, Any]] = response.json()["answers"]
        if not lose_answer:
            self.settle(answers)
        return answers

    def come_back(self, client: httpx.Client, code: str) -> None:
        """Be paired again, with the same or another office, and put all that was answered back into the outbox."""
        self.client = client
        client.post("/pairing", json={"code": code, "device_id": self.device_id}).raise_for_status()
        self.send_again()

    def send_again(self) -> None:
        self.outbox = sorted([*self.answered, *self.outbox], key=lambda one: int(one["device_seq"]))
        self.answered = []

    def settle(self, answers: list[dict[str, Any]]) -> None:
        by_id = {answer["operation_id"]: answer for answer in answers}
        waiting = []
        for operation in self.outbox:
            answer = by_id.get(operation["operation_id"])
            if answer is None or answer["outcome"] == "waiting":
                waiting.append(operation)
                continue
            self.answered.append(operation)
            if answer["outcome"] == "refused":
                self.refused.append({**operation, "answer": answer})
        self.outbox = waiting

    def bundle(
        self,
        photos: list[bytes],
        *,
        operations: list[dict[str, Any]] | None = None,
        named: list[bytes] | None = None,
    ) -> httpx.Response:
        """Send operations and whole photos in one request; `named` are other bytes whose digests the head says."""
        told = self.outbox if operations is None else operations
        return self.client.post("/sync/bundle", content=bundle_of(told, photos, named=named))

    def says_nobody_else_comes(self, seen: dict[str, Any] | None = None) -> httpx.Response:
        """The manager's word, given of the waiting that was `seen`, or that the office tells of now."""
        seen = seen or self.client.get("/devices").json()["hearing"]
        return self.client.post("/devices/heard", json={"since": seen["since"], "loss": seen["loss"]})

    def record(self, record_id: str) -> dict[str, Any]:
        response = self.client.get(f"/records/{record_id}")
        response.raise_for_status()
        record: dict[str, Any] = response.json()
        return record

    def feed(self, after: int = 0, limit: int = 500) -> dict[str, Any]:
        response = self.client.get("/sync/feed", params={"after": after, "limit": limit})
        response.raise_for_status()
        page: dict[str, Any] = response.json()
        return page


def bundle_of(
    operations: list[dict[str, Any]], photos: list[bytes], *, named: list[bytes] | None = None
) -> bytes:
    """The framed body of a bundle."""
    told = [
        {"sha256": digest(name), "bytes": len(photo)}
        for name, photo in zip(named or photos, photos, strict=True)
    ]
    head = json.dumps({"operations": operations, "photos": told}).encode()
    return len(head).to_bytes(4, "big") + head + b"".join(photos)
