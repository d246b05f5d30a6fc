"""The one door for changes: operations are read, checked, applied, logged and answered, in order.

Applying uses the operation and the tables alone, no clock, chance or network, so that a rebuild from the log
comes out equal.
"""

from __future__ import annotations

import logging
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from intake.access.devices import role_then
from intake.arrival.people import check_person
from intake.database import Writing, is_of_the_disk
from intake.errors import (
    NotFound,
    OperationFault,
    OperationIdReused,
    Refusal,
    RefusedBefore,
    RoleMayNot,
    Unreadable,
    WordsErased,
)
from intake.examination.photos import TakenPhoto
from intake.ids import own_id
from intake.operation import CLOCK_OFF_S, Operation, Rules, put_right
from intake.records.in_hand import Records
from intake.records.values import Source
from intake.sync.answers import in_answer, kept, refused, waiting
from intake.sync.kinds import read_kind
from intake.sync.log import Answered, LogTail, find_answered
from intake.sync.logged import Logged, SetAside, as_logged, as_logged_before, as_salted_here, salted
from intake.sync.sent import has_id, has_nul, seq_of
from intake.sync.waiting import WaitingOperations
from intake.sync.words_beside import erase_words, names_erased, takes_words

log = logging.getLogger("intake")


@dataclass(frozen=True)
class Sender:
    """Who hands operations in. `holds_from` is the least device_seq that it can still send: none before it will come.

    `hearing`: the office lacks something that this device or another may bring. `dealt_with`: the ids of operations
    that were refused once and that a person has put right since. `clock_off_s`: how many seconds the device's clock was
    ahead of the office's when it sent, less than nothing if it was behind. `rules`: the office's own rows of cautions.
    `ruled_before`: what an office that answered them before applied otherwise than it was sent, by the operation's id.
    """

    device_id: str
    role: str
    holds_from: int
    hearing: bool
    dealt_with: frozenset[str]
    clock_off_s: int
    rules: Rules | None
    ruled_before: Mapping[str, dict[str, Any]]


def answer_batch(
    tx: Writing,
    sent: Iterable[Any],
    *,
    device_id: str,
    role: str,
    received_at: str,
    holds_from: int = 1,
    hearing: bool = False,
    dealt_with: Iterable[str] = (),
    clock_off_s: int = 0,
    rules: Rules | None = None,
    ruled_before: Mapping[str, dict[str, Any]] = MappingProxyType({}),
) -> list[dict[str, Any]]:
    """Answer what a device hands in, each operation by itself: one bad one never holds up the rest.

    One that names something unknown is answered "waiting" and leaves no more than its place in the device's order, so
    that the device keeps it and sends it again: while earlier operations of the same device were not received, or it
    names one of them that waits, or the office hears phones out. One that was dealt with is refused, whatever it would
    be answered now. An answer says `clock_off_s` where the device's clock was off by more than a minute, and so is in
    the log beside the device's own time and the time of hearing. It says what was `ruled` where the office knows better
    than the device: its clock was off, or the office's own rows are stricter; and that is applied. One that is kept
    without its personal words, since they were erased, says so.
    """
    sender = Sender(
        device_id, role, holds_from, hearing, frozenset(dealt_with), clock_off_s, rules, ruled_before
    )
    return answer_some(tx, list(sent), sender, received_at)


def answer_some(tx: Writing, operations: list[Any], sender: Sender, received_at: str) -> list[dict[str, Any]]:
    def answer_all() -> list[dict[str, Any]]:
        batch = BatchInHand(tx, operations, sender, received_at)
        answers = [batch.answer(raw) for raw in operations]
        batch.write()
        return answers

    def answer_fault() -> list[dict[str, Any]]:
        batch = BatchInHand(tx, operations, sender, received_at)
        answer = batch.set_aside(operations[0], OperationFault())
        batch.write()
        return [answer]

    try:
        return tx.undoable(answer_all)
    except Exception as fault:
        if is_of_the_disk(fault) or not operations:
            raise
        if len(operations) == 1:
            log.error("fault in an operation of %s", sender.device_id, exc_info=fault)
            return answer_fault()
    # A mistake of ours in one of them, wherever it showed. All was taken back; each half is answered by itself, so that
    # the one is found and the others go on.
    half = len(operations) // 2
    return [
        answer
        for part in (operations[:half], operations[half:])
        for answer in answer_some(tx, part, sender, received_at)
    ]


class BatchInHand:
    """What one device hands in at once, while it is answered: who sent it, where the log ends, what it touched."""

    def __init__(self, tx: Writing, sent: list[Any], sender: Sender, received_at: str) -> None:
        self._tx, self._sender, self._received_at = tx, sender, received_at
        self._device_id, self._role = sender.device_id, sender.role
        self._clock_is_off = abs(sender.clock_off_s) > CLOCK_OFF_S
        self._answered = find_answered(tx, [raw["operation_id"] for raw in sent if has_id(raw)])
        self._log = LogTail(tx, received_at)
        self._records = Records(
            tx, feed_after=self._log.feed_seq, logged=self._log.find, hearing=sender.hearing
        )
        self._waiting = WaitingOperations(tx, sender.device_id)

    def answer(self, raw: Any) -> dict[str, Any]:
        """One operation's answer."""
        try:
            kind = read_kind(raw, self._device_id)
        except Unreadable as error:
            return self.set_aside(raw, error)
        logged = as_logged(kind, raw)
        before = self._answered.get(raw["operation_id"])
        if before is None:
            if has_nul(logged):
                return self.set_aside(raw, Unreadable("A text holds the sign U+0000, which nobody can type."))
            if self._is_new(raw["operation_id"]) and (fault := kind.odd_form(raw)):
                return self.set_aside(raw, Unreadable(fault))
            return self._answer_new(kind.from_log(logged.whole), salted(kind, logged))
        if before.operation != logged.text:
            as_before = as_logged_before(kind, raw, before.operation) or self._as_salted(
                kind, raw, before.operation
            )
            if as_before is None:
                return self._under_own_id(kind, raw) or self.set_aside(raw, OperationIdReused())
            logged = as_before
        if logged.words is not None:
            operation = kind.from_log(logged.whole).as_ruled(before.answer.get("ruled", {}))
            if not operation.words_erased(self._records, self._received_at, said_at=raw["made_at"]):
                self._log.fill_in(raw["operation_id"], logged.words)
        return before.answer

    def _as_salted(self, kind: type[Operation], sent: dict[str, Any], text: str) -> Logged | None:
        return as_salted_here(kind, sent, text, self._log.words_of(sent["operation_id"]))

    def _under_own_id(self, kind: type[Operation], raw: dict[str, Any]) -> dict[str, Any] | None:
        """The answer to an operation that was taken in under an id of its own, since another device had used its id."""
        sent = {**raw, "operation_id": own_id(raw["operation_id"], self._device_id)}
        found = find_answered(self._tx, [sent["operation_id"]]).get(sent["operation_id"])
        if found is None:
            return None
        if as_logged(kind, sent).text != found.operation and not self._as_salted(kind, sent, found.operation):
            return None
        return {**found.answer, "operation_id": raw["operation_id"]}

    def _answer_new(self, operation: Operation, logged: Logged) -> dict[str, Any]:
        """The answer to one that did not come before. It stands in the log then, unless it has to wait."""
        ruled, said_at = self._known_before(operation), operation.made_at
        if ruled:
            operation = operation.as_ruled(ruled)
        words_gone = operation.words_erased(self._records, self._received_at, said_at=said_at)
        answer = self._decide(operation, ruled, words_gone=words_gone)
        if answer["outcome"] == "waiting":
            self._waiting.note(operation)
            return answer
        self._waiting.answered(operation.device_seq)
        if self._clock_is_off:
            answer["clock_off_s"] = self._sender.clock_off_s
        if words_gone and answer["outcome"] == "kept" and operation.has_words:
            answer["problem"] = in_answer(WordsErased(is_picture=isinstance(operation, TakenPhoto)))
        self._log.append(operation, logged, answer, erased=words_gone)
        self._answered[operation.operation_id] = Answered(logged.text, answer)
        if operation.erases_words and answer["outcome"] == "kept":
            self.write()
            if takes_words(self._tx, operation.touches, answer["office_seq"]):
                erase_words(self._tx, operation.touches)
        return answer

    def _known_before(self, operation: Operation) -> dict[str, Any]:
        """What the office knows better before it has looked at it: another office ruled so, or its clock was off."""
        if ruled := self._sender.ruled_before.get(operation.operation_id):
            return ruled
        if not self._clock_is_off:
            return {}
        made_at = put_right(operation.made_at, self._sender.clock_off_s)
        return {"made_at": made_at} if made_at != operation.made_at else {}

    def _decide(self, operation: Operation, ruled: dict[str, Any], *, words_gone: bool) -> dict[str, Any]:
        """Check it, and apply it unless it is refused or has to wait. `ruled`: how it is other than it was sent."""
        office_seq = self._log.office_seq + 1
        dealt_with = operation.operation_id in self._sender.dealt_with
        if not dealt_with and self._saw_something_unknown(operation):
            return waiting(operation.operation_id, "The office does not know yet what this was changed from.")
        try:
            self._check(operation)
            if dealt_with:
                raise RefusedBefore
        except Refusal as error:
            contested = error.may_be_contested and contest(
                self._records, operation, source_of(operation, office_seq)
            )
            if not (contested or dealt_with) and self._may_be_lifted(operation, error):
                noted = NOTED if is_owed(operation, error) else ""
                return waiting(operation.operation_id, error.detail + noted)
            self._records.tell_of(operation.touches)  # its history has one line more
            answer = refused(operation.operation_id, office_seq, error, disagreement=contested)
            return {**answer, "ruled": ruled} if ruled and contested else answer
        stricter = operation.ruled(self._records, self._sender.rules, self._received_at)
        if stricter:
            operation, ruled = operation.as_ruled(stricter), {**ruled, **stricter}
        goes_on_from = self._goes_on_from(operation)
        source = source_of(operation, office_seq, words_gone=words_gone, goes_on_from=goes_on_from)
        disagreement = apply(self._records, operation, source)
        answer = kept(operation.operation_id, office_seq, disagreement=disagreement)
        if goes_on_from:
            answer["goes_on_from"] = goes_on_from
        return {**answer, "ruled": ruled} if ruled else answer

    def _goes_on_from(self, operation: Operation) -> str:
        """The disagreement that an edit goes on from; empty if none. It is asked once, when the operation arrives: what
        a version of before let stand beside each other stays so, and settlements of it find it."""
        if not operation.made_in_view_of:
            return ""
        record = self._records.find(operation.touches)
        between = None if record is None else operation.goes_on_from(record, self._records)
        return between.disagreement_id if between else ""

    def _may_be_lifted(self, operation: Operation, error: Refusal) -> bool:
        """Whether what speaks against it may end by what this device still brings or, while the office hears phones
        out, another: a clearing, a hat, a roll, the second person's device. What is always taken waits for as long as
        it takes, and what builds on it waits with it."""
        if self._sender.hearing and not error.nothing_lifts_it:
            return True
        if not error.may_be_on_its_way:
            return False
        if operation.always_taken or is_owed(operation, error):
            return True
        if self._waiting.hold_up(operation, self._sender.holds_from):
            return True
        self._log.write()
        return self._waiting.earlier_one_missing(operation, self._sender.holds_from)

    def _saw_something_unknown(self, operation: Operation) -> bool:
        """Whether its maker was looking at a value that the office lost and may get back, or had said something before
        that waits for such a one."""
        if not self._sender.hearing:
            return False
        if operation.in_device_order and self._waiting.earlier_one_of_record(
            operation, self._sender.holds_from
        ):
            return True
        return not all(map(self._log.has, operation.made_in_view_of))

    def _check(self, operation: Operation) -> None:
        if operation.always_taken:
            operation.check(self._records)
            return
        role = self._role
        if role != "manager" and role not in operation.roles:
            role = role_then(self._tx, self._device_id, operation.roles, operation.made_at)
        if not role:
            raise RoleMayNot(self._role, operation.in_words())
        check_person(self._records, operation, role)
        operation.check(self._records)
        if self._sender.rules is not None:
            operation.check_by_rules(self._records, self._sender.rules)
            if self._is_first_heard(operation):
                self.write()
                operation.check_at_hand(self._records)

    def _is_first_heard(self, operation: Operation) -> bool:
        """Whether it is looked at as what is at hand now, as few kinds are: no office has answered it before."""
        if type(operation).check_at_hand is Operation.check_at_hand:
            return False
        return self._is_new(operation.operation_id)

    def _is_new(self, operation_id: str) -> bool:
        """Whether no office has answered it, as far as can be known."""
        return not self._sender.hearing and operation_id not in self._sender.ruled_before

    def set_aside(self, raw: Any, error: Refusal) -> dict[str, Any]:
        """Refuse what cannot stand in the log as it came, and keep it beside. The same comes to the same answer."""
        aside = SetAside.of(raw, self._device_id)
        before = self._answered.get(aside.key) or find_answered(self._tx, [aside.key]).get(aside.key)
        if before is not None:
            if not names_erased(self._tx, aside.content):
                self._log.fill_in(aside.key, aside.content, aside=True)
            return before.answer
        operation_id = raw["operation_id"] if has_id(raw) else ""
        answer = refused(operation_id, self._log.office_seq + 1, error)
        erased = names_erased(self._tx, aside.content)
        seq = seq_of(raw, self._device_id)
        self._log.append_aside(aside, self._device_id, seq, answer, erased=erased)
        self._waiting.answered(seq)
        self._answered[aside.key] = Answered(aside.text, answer)
        return answer

    def write(self) -> None:
        """Write what is still in memory: the log, the records, and what shows them."""
        self._log.write()
        self._records.write()


def source_of(
    operation: Operation, office_seq: int, *, words_gone: bool = False, goes_on_from: str = ""
) -> Source:
    """`operation` is as it is applied: by then its clock was put right."""
    made = operation.operation_id, operation.made_by, operation.made_at
    return Source(*made, operation.device_id, operation.device_seq, office_seq, words_gone, goes_on_from)


def apply(records: Records, operation: Operation, source: Source) -> bool:
    """Do what the operation says. True if it ended as a disagreement."""
    disagreement = operation.apply(records, source)
    records.touch(operation.touches, source.office_seq)
    return disagreement


def contest(records: Records, operation: Operation, source: Source) -> bool:
    """Leave on record what a refused operation leaves there for a person to settle. False if that is nothing."""
    contested = operation.contest(records, source)
    if contested:
        records.touch(operation.touches, source.office_seq)
    return contested


#: Behind the refusal's words where the erasure is owed: a person has to know that it was not in vain.
NOTED = " That its owner's words are to be erased is noted: they are as soon as it comes."


def is_owed(operation: Operation, error: Refusal) -> bool:
    """Whether it erases words of something that is not here: whoever may ask for that has it done as that comes."""
    return operation.erases_words and isinstance(error, NotFound)
