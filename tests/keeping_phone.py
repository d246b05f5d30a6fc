"""A phone that keeps what was answered, over a bad line: web/local/keeping.ts and web/sync/sync.ts, in Python.

Whatever it holds stands in its members between two awaits, so that it may be stopped after any of them.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import Any
from urllib.parse import urlencode

from tests.builders import Ids, a_tie, digest
from tests.phone import bundle_of

BATCH = 5  # small, so that what waits fills several
IN_TURN = 20  # photos that are asked for each round, as web/local/keeping.ts does
Ask = Callable[..., Awaitable[Any]]


class LineCut(Exception):
    """No answer came, whether or not the office has heard."""


class KeepingPhone:
    """What one device holds. `ask(method, path, body)` gives the answer's JSON or raises LineCut."""

    def __init__(self, ids: Ids, device_id: str, ask: Ask, fresh_number: Callable[[], str]) -> None:
        self.ids, self.device_id, self.ask, self.fresh_number = ids, device_id, ask, fresh_number
        self.outbox: dict[int, dict[str, Any]] = {}
        self.answered: dict[int, tuple[dict[str, Any], int]] = {}  # with its office_seq
        self.waits: set[str] = set()
        self.dealt_with: set[str] = set()  # refused once, and put right by the person at this phone
        self.again: set[str] = set()  # answered before an office forgot it
        self.photos: dict[str, bytes] = {}
        self.at_office: set[str] = set()
        self.unsure: set[str] = set()
        self.asked_last = ""  # of the photos that are asked for in turn
        self.records: dict[str, dict[str, Any]] = {}
        self.office: dict[str, Any] | None = None
        self.before_loss = ""  # the proof of what was told when the office was whole for the last time
        self.cursor = 0
        self._next_seq = 1

    def keep(
        self, made: tuple[str, dict[str, Any]], photo: bytes | None = None, *, made_by: str = "hester"
    ) -> dict[str, Any]:
        kind, body = made
        operation = {
            "operation_id": self.ids.id(),
            "kind": kind,
            "made_at": self.ids.instant(),
            "made_by": made_by,
            "device_id": self.device_id,
            "device_seq": self._next_seq,
            **body,
        }
        if photo is not None:
            self.photos[digest(photo)] = photo
        self.outbox[self._next_seq] = operation
        self._next_seq += 1
        return operation

    def holds(self) -> set[str]:
        """The ids of all operations that are here."""
        return {one["operation_id"] for one in self.held()}

    def held(self) -> list[dict[str, Any]]:
        """All operations that are here."""
        return [*self.outbox.values(), *(op for op, _ in self.answered.values())]

    async def sync(self) -> None:
        """One round. Raises LineCut, and what was done by then stays done."""
        lost = await self._send_operations()
        await self._ask_for_photos()
        lost |= await self._send_photos()
        lost |= await self._read_feed()
        lost |= await self._send_operations()
        await self._ask_for_photos()
        self._let_go()
        if lost:
            await self.sync()

    async def _send_operations(self) -> bool:
        after, waits, moved, lost = 0, False, False, False
        while True:
            batch = [self.outbox[seq] for seq in sorted(self.outbox) if seq > after][:BATCH]
            if not batch:
                if not (waits and moved):
                    return lost
                after, waits, moved = 0, False, False
                continue
            first = min([*self.outbox, *self.answered])
            path, known = self._knowing("/sync/operations")
            ids = {op["operation_id"] for op in batch}
            body = {
                "operations": batch,
                "holds_from": first,
                "dealt_with": sorted(ids & self.dealt_with & self.again),
            }
            told = await self.ask("POST", path, body)
            for answer in told["answers"]:
                waits |= answer["outcome"] == "waiting"
                moved |= answer["outcome"] != "waiting"
                self._settle(answer)
            after = batch[-1]["device_seq"]
            if self._meet(told["office"], known):
                after, lost = 0, True

    def _settle(self, answer: dict[str, Any]) -> None:
        seq = next(
            (seq for seq, op in self.outbox.items() if op["operation_id"] == answer["operation_id"]), None
        )
        if seq is None:
            return
        if answer["outcome"] == "waiting":
            self.waits.add(answer["operation_id"])
            return
        self.waits.discard(answer["operation_id"])
        operation = self.outbox.pop(seq)
        self.answered[seq] = operation, answer["office_seq"]
        if answer["outcome"] == "refused" and answer["operation_id"] not in self.dealt_with:
            self._put_right(operation, answer["problem"]["code"])

    def _put_right(self, operation: dict[str, Any], code: str) -> None:
        """The person at once makes another in place of a refused one, a fresh tag for one that is taken."""
        self.dealt_with.add(operation["operation_id"])
        if code == "tag_taken":
            self.keep(a_tie(operation["item_id"], self.fresh_number()))

    async def _ask_for_photos(self) -> None:
        safe = (self.office or {}).get("safe_seq")
        in_turn = sorted(self.at_office & set(self.photos), key=lambda one: (one <= self.asked_last, one))
        asked = sorted(self.unsure | set(in_turn if safe else in_turn[:IN_TURN]))
        if not asked:
            return
        self.asked_last = in_turn[:IN_TURN][-1] if in_turn else ""
        told = await self.ask("POST", "/sync/photos", {"sha256": asked})
        for sha256 in asked:
            self.unsure.discard(sha256)
            if sha256 not in told["here"]:
                self.at_office.discard(sha256)
            elif sha256 in told["copied"]:
                del self.photos[sha256]

    async def _send_photos(self) -> bool:
        lost = False
        for sha256, content in list(self.photos.items()):
            if sha256 in self.at_office:
                continue
            path, known = self._knowing("/sync/bundle")
            told = await self.ask("POST", path, bundle_of([], [content]))
            assert told["photos"][0]["outcome"] == "kept"
            self.at_office.add(sha256)
            lost |= self._meet(told["office"], known)
        return lost

    async def _read_feed(self) -> bool:
        lost = False
        while True:
            untold = len([op for op in self.outbox.values() if op["operation_id"] not in self.waits])
            path, known = self._knowing(f"/sync/feed?after={self.cursor}&limit=3&to_send={untold}")
            page = await self.ask("GET", path)
            if self._meet(page["office"], known):
                lost = True
                continue
            for record in page["records"]:
                self.records[record["record_id"]] = record
            self.cursor = page["cursor"]
            if not page["more"]:
                return lost

    def _knowing(self, path: str) -> tuple[str, tuple[int, str]]:
        seq, chain = (self.office["office_seq"], self.office["chain"]) if self.office else (0, "")
        told = {"known_seq": seq, "known_chain": chain if seq else ""}
        proofs = {"proof": (self.office or {}).get("proof", ""), "before_loss": self.before_loss}
        return f"{path}{'&' if '?' in path else '?'}{urlencode({**told, **proofs})}", (seq, chain)

    def _meet(self, stands: dict[str, Any], known: tuple[int, str]) -> bool:
        """Hear where the office stands; whether it has lost something."""
        before, self.office = self.office, stands
        lost = before is not None and self._lost(before, stands, known)
        if lost or stands["hearing"]:
            self.before_loss = self.before_loss or (before or {}).get("proof", "")
        else:
            self.before_loss = stands["proof"]
        if not lost:
            return False
        for seq in list(self.answered):
            self.outbox[seq] = self.answered.pop(seq)[0]
            self.again.add(self.outbox[seq]["operation_id"])
        self.unsure |= self.at_office & set(self.photos)
        self.cursor = 0
        return True

    @staticmethod
    def _lost(before: dict[str, Any], stands: dict[str, Any], known: tuple[int, str]) -> bool:
        return bool(
            before["epoch"] != stands["epoch"]
            or stands["office_seq"] < before["office_seq"]
            or stands["device_seq"] < before["device_seq"]
            or (known[0] and stands["known_chain"] != known[1])
        )

    def _let_go(self) -> None:
        safe = (self.office or {}).get("safe_seq")
        for seq in sorted(self.answered):
            if safe is None or self.answered[seq][1] > safe:
                return
            del self.answered[seq]
