"""The one door for changes: every kind of operation, applied in order, logged and answered.

Applying uses the operation and the tables alone, no clock, chance or network, so that a rebuild from the log
comes out equal.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Annotated, Any, get_args

from pydantic import Discriminator, TypeAdapter, ValidationError

from intake.arrival.days import AddPerson, OpenDay, add_person, open_day
from intake.arrival.items import OpenItem, SetItem, edit_item, open_item
from intake.arrival.visits import OpenVisit, SetConsignor, SetVisit, edit_visit, open_visit
from intake.cataloguing.queue import SetEntry, list_entry
from intake.custody.closing import (
    CheckIn,
    CloseDay,
    MergeItem,
    RaiseDifference,
    SettleDifference,
    check_in,
    close_day,
    merge_item,
    raise_difference,
    settle_difference,
)
from intake.custody.containers import (
    OpenContainer,
    PutInside,
    SealContainer,
    open_container,
    put_inside,
    seal_container,
)
from intake.custody.moves import CountLoad, RecordMove, count_load, record_move
from intake.custody.receipts import SignReceipt, sign_receipt
from intake.database import Reading, Writing
from intake.edits import SettleDisagreement
from intake.errors import IntakeError, NotFound, Refusal, RoleMayNot, TagTaken, Unreadable
from intake.examination.cautions import DecideCaution, RaiseCaution, decide_caution, raise_caution
from intake.examination.findings import ExamineRest, ExamineZone, RecordFinding, examine_rest, examine_zone
from intake.examination.observations import (
    RecordDate,
    RecordDenial,
    RecordGrade,
    RecordMark,
    RecordMeasure,
    RecordOrigin,
    RecordStatement,
    RecordTest,
)
from intake.examination.photos import AttachPhoto, AttachRecordPhoto, attach_photo, attach_record_photo
from intake.operation import Operation
from intake.records import Applied, Records
from intake.sync.log import LogTail, find_answers
from intake.tagging.rolls import GiveRoll, IssueRoll, SpoilTag, give_roll, issue_roll, spoil_tag
from intake.tagging.ties import RemoveTag, TieTag, contest, remove_tag, settle, tie_tag
from intake.wire import first_fault

APPLY: dict[type[Operation], Callable[[Records, Any, Applied], bool]] = {
    OpenDay: open_day,
    AddPerson: add_person,
    OpenVisit: open_visit,
    SetVisit: edit_visit,
    SetConsignor: edit_visit,
    OpenItem: open_item,
    SetItem: edit_item,
    ExamineZone: examine_zone,
    ExamineRest: examine_rest,
    RecordFinding: edit_item,
    RecordDenial: edit_item,
    RecordStatement: edit_item,
    RecordOrigin: edit_item,
    RecordMark: edit_item,
    RecordDate: edit_item,
    RecordMeasure: edit_item,
    RecordTest: edit_item,
    RecordGrade: edit_item,
    RaiseCaution: raise_caution,
    DecideCaution: decide_caution,
    AttachPhoto: attach_photo,
    AttachRecordPhoto: attach_record_photo,
    IssueRoll: issue_roll,
    GiveRoll: give_roll,
    SpoilTag: spoil_tag,
    TieTag: tie_tag,
    RemoveTag: remove_tag,
    OpenContainer: open_container,
    PutInside: put_inside,
    SealContainer: seal_container,
    RecordMove: record_move,
    CountLoad: count_load,
    SignReceipt: sign_receipt,
    RaiseDifference: raise_difference,
    SettleDifference: settle_difference,
    CheckIn: check_in,
    MergeItem: merge_item,
    CloseDay: close_day,
    SetEntry: edit_item,
    SettleDisagreement: settle,
}
AnyOperation = Annotated[
    OpenDay
    | AddPerson
    | OpenVisit
    | SetVisit
    | SetConsignor
    | OpenItem
    | SetItem
    | ExamineZone
    | ExamineRest
    | RecordFinding
    | RecordDenial
    | RecordStatement
    | RecordOrigin
    | RecordMark
    | RecordDate
    | RecordMeasure
    | RecordTest
    | RecordGrade
    | RaiseCaution
    | DecideCaution
    | AttachPhoto
    | AttachRecordPhoto
    | IssueRoll
    | GiveRoll
    | SpoilTag
    | TieTag
    | RemoveTag
    | OpenContainer
    | PutInside
    | SealContainer
    | RecordMove
    | CountLoad
    | SignReceipt
    | RaiseDifference
    | SettleDifference
    | CheckIn
    | MergeItem
    | CloseDay
    | SetEntry
    | SettleDisagreement,
    Discriminator("kind"),
]
#: The personal fields of each kind that has some.
PERSONAL = {get_args(one.model_fields["kind"].annotation)[0]: one.personal for one in APPLY if one.personal}
READ_OPERATION: TypeAdapter[Operation] = TypeAdapter(AnyOperation)


def answer_batch(
    tx: Writing, sent: Iterable[Any], *, device_id: str, role: str, received_at: str
) -> list[dict[str, Any]]:
    """Answer what a device hands in, each operation by itself: one bad one never holds up the rest.

    Left out of the answers, so that the device keeps it and sends it again: an operation on a record that is
    not here yet while earlier operations of the same device are still on their way.
    """
    operations = list(sent)
    before = find_answers(tx, [raw["operation_id"] for raw in operations if has_id(raw)])

    def answer_all(*, in_haste: bool) -> list[dict[str, Any]]:
        batch = BatchInHand(
            tx, device_id=device_id, role=role, received_at=received_at, before=before, in_haste=in_haste
        )
        answers = [answer for raw in operations if (answer := batch.answer(raw)) is not None]
        batch.write()
        return answers

    # Nothing is refused in most batches: only one in which something is pays for taking each back by itself.
    try:
        return tx.undoable(lambda: answer_all(in_haste=True))
    except NothingUndone:
        return answer_all(in_haste=False)


def has_id(raw: Any) -> bool:
    return isinstance(raw, dict) and isinstance(raw.get("operation_id"), str)


class NothingUndone(Exception):
    """An operation was refused while nothing stood by to take back what it may have done before."""


class BatchInHand:
    """What one device hands in at once, while it is answered: who sent it, where the log ends, what it touched."""

    def __init__(
        self,
        tx: Writing,
        *,
        device_id: str,
        role: str,
        received_at: str,
        before: dict[str, dict[str, Any]],
        in_haste: bool,
    ) -> None:
        self._tx, self._in_haste = tx, in_haste
        self._device_id, self._role, self._received_at = device_id, role, received_at
        self._answers = dict(before)
        self._log = LogTail(tx, received_at)
        self._records = Records(tx)

    def answer(self, raw: Any) -> dict[str, Any] | None:
        """One operation's answer, or None if it came before one it depends on."""
        operation_id = raw["operation_id"] if has_id(raw) else ""
        try:
            operation = READ_OPERATION.validate_python(raw)
            if operation.device_id != self._device_id:
                raise Unreadable("device_id: this is not the device that sent it.")
        except ValidationError as error:
            return refused(operation_id, 0, Unreadable(first_fault(error)))
        except Unreadable as error:
            return refused(operation_id, 0, error)
        if operation_id in self._answers:
            return self._answers[operation_id]
        answer = self._try(operation, Applied(self._log.office_seq + 1, self._received_at))
        if answer is not None:
            self._log.append(operation, raw, answer)
            self._answers[operation_id] = answer
        return answer

    def _try(self, operation: Operation, at: Applied) -> dict[str, Any] | None:
        try:
            if self._role != "manager" and self._role not in operation.roles:
                raise RoleMayNot(self._role, operation_words(operation))
            disagreement = self._apply(operation, at)
        except NotFound as error:
            if earlier_ones_missing(self._tx, operation):
                return None
            return refused(operation.operation_id, at.office_seq, error)
        except TagTaken as error:
            contested = contest(self._records, operation, at)
            if contested:
                self._records.touch(operation.record_id, at.office_seq)
            return refused(operation.operation_id, at.office_seq, error, disagreement=contested)
        except Refusal as error:
            return refused(operation.operation_id, at.office_seq, error)
        return kept(operation.operation_id, at.office_seq, disagreement=disagreement)

    def _apply(self, operation: Operation, at: Applied) -> bool:
        """Do what the operation says; if it is refused, take back what it did, or all of the batch if in haste."""
        if self._in_haste:
            try:
                return apply(self._records, operation, at)
            except Refusal as error:
                raise NothingUndone from error
        self.write()
        try:
            return self._tx.undoable(lambda: apply(self._records, operation, at))
        except Refusal:
            self._records.forget()
            raise

    def write(self) -> None:
        """Write what is still in memory: the log, the records, and the pages that show them."""
        self._log.write()
        show(self._records)


def apply(records: Records, operation: Operation, at: Applied) -> bool:
    """Do what the operation says. True if it ended as a disagreement."""
    disagreement = APPLY[type(operation)](records, operation, at)
    records.touch(operation.record_id, at.office_seq)
    return disagreement


def apply_again(records: Records, operation: Operation, at: Applied, *, outcome: str) -> None:
    """Do in a rebuild what was done when the operation was answered so."""
    if outcome == "kept":
        apply(records, operation, at)
    else:
        contest(records, operation, at)
        records.touch(operation.record_id, at.office_seq)


def kept(operation_id: str, office_seq: int, *, disagreement: bool) -> dict[str, Any]:
    return {
        "operation_id": operation_id,
        "outcome": "kept",
        "office_seq": office_seq,
        "disagreement": disagreement,
        "problem": None,
    }


def refused(
    operation_id: str, office_seq: int, error: IntakeError, *, disagreement: bool = False
) -> dict[str, Any]:
    """A refusal. `office_seq` 0 says that it is not in the log: the office could not read it.

    `disagreement` says that it is on the record all the same, beside what stands, for a person to settle.
    """
    problem = error.problem()
    return {
        "operation_id": operation_id,
        "outcome": "refused",
        "office_seq": office_seq,
        "disagreement": disagreement,
        "problem": {name: problem[name] for name in ("code", "title", "detail", "hint")},
    }


def operation_words(operation: Operation) -> str:
    """What the operation does, for a sentence: `set_entry` is "set entry"."""
    return str(getattr(operation, "kind", "")).replace("_", " ")


def earlier_ones_missing(tx: Reading, operation: Operation) -> bool:
    """Whether operations that this device made before are not here yet."""
    here = tx.value(
        "SELECT count(DISTINCT device_seq) FROM operation_log WHERE device_id = :device_id AND device_seq < :seq",
        device_id=operation.device_id,
        seq=operation.device_seq,
    )
    return bool(here < operation.device_seq - 1)


def show(records: Records) -> None:
    """Write the records that were touched, and the pages that show them."""
    for record in records.write():
        if record.kind == "item":
            list_entry(records.tx, record)
