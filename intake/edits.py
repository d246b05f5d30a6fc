"""Records, and a field set by two people: replaced, or a disagreement.

If the value in force is the one the editor saw, it is replaced. If not, and the values differ, the value in
force stays, both are kept, and a person settles it. Fields never clash with each other.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import Field
from pydantic_core import to_json

from intake.database import Reading, Writing
from intake.errors import AlreadyThere, NotFound
from intake.operation import Edit, Identifier, Line, Operation

PERSONAL_PREFIX = "consignor/"


@dataclass(frozen=True)
class Applied:
    """What applying an operation needs beside its own words, and what it leaves behind."""

    office_seq: int
    received_at: str


def compact(value: Any) -> str:
    """JSON as we store it: keys in the order given, no spaces, letters as they are."""
    return to_json(value).decode()


def open_record(
    tx: Writing, operation: Operation, at: Applied, *, kind: str, day_id: str, head: dict[str, Any]
) -> None:
    """Make a record. Raises AlreadyThere if its id is in use."""
    if tx.value("SELECT 1 FROM record WHERE record_id = :record_id", record_id=operation.record_id):
        raise AlreadyThere(kind, operation.record_id)
    whole = {
        "kind": kind,
        "record_id": operation.record_id,
        "day_id": day_id,
        "opened_at": operation.made_at,
        "opened_by": operation.made_by,
        **head,
    }
    tx.run(
        """
        INSERT INTO record (record_id, kind, day_id, office_seq, opened_seq, head, body, plain_body)
        VALUES (:record_id, :kind, :day_id, :office_seq, :office_seq, :head, '', NULL)
        """,
        record_id=operation.record_id,
        kind=kind,
        day_id=day_id,
        office_seq=at.office_seq,
        head=compact(whole),
    )


def require_record(tx: Reading, kind: str, record_id: str) -> None:
    """Raises NotFound unless there is a record of this kind."""
    found = tx.value("SELECT kind FROM record WHERE record_id = :record_id", record_id=record_id)
    if found != kind:
        raise NotFound(kind, record_id)


def field_value(tx: Reading, record_id: str, name: str) -> Any:
    """The value in force, or None if nobody set the field."""
    stored = tx.value(
        "SELECT value FROM field WHERE record_id = :record_id AND name = :name",
        record_id=record_id,
        name=name,
    )
    return None if stored is None else json.loads(stored)


def put_field(tx: Writing, operation: Operation, name: str, value: Any) -> None:
    """Put a value in force, whatever was there."""
    tx.run(
        """
        INSERT INTO field (record_id, name, value, operation_id, made_by, made_at, device_id)
        VALUES (:record_id, :name, :value, :operation_id, :made_by, :made_at, :device_id)
        ON CONFLICT (record_id, name) DO UPDATE SET
            value = excluded.value, operation_id = excluded.operation_id, made_by = excluded.made_by,
            made_at = excluded.made_at, device_id = excluded.device_id
        """,
        record_id=operation.record_id,
        name=name,
        value=compact(value),
        operation_id=operation.operation_id,
        made_by=operation.made_by,
        made_at=operation.made_at,
        device_id=operation.device_id,
    )


def put_unset(tx: Writing, operation: Operation, names: Sequence[str], value: Any) -> int:
    """Put a value in force in those of these fields that nobody has set. How many they were."""
    return tx.run(
        """
        INSERT INTO field (record_id, name, value, operation_id, made_by, made_at, device_id)
        SELECT :record_id, name.value, :value, :operation_id, :made_by, :made_at, :device_id
        FROM json_each(:names) AS name
        WHERE true ON CONFLICT (record_id, name) DO NOTHING
        """,
        record_id=operation.record_id,
        names=compact(names),
        value=compact(value),
        operation_id=operation.operation_id,
        made_by=operation.made_by,
        made_at=operation.made_at,
        device_id=operation.device_id,
    )


def put_new_field(tx: Writing, operation: Operation, name: str, value: Any, *, what: str) -> None:
    """Put a value that no later one replaces. Raises AlreadyThere if there is one: `what` it is, in words."""
    if not put_unset(tx, operation, [name], value):
        raise AlreadyThere(what, name.split("/")[-1])


def edit_field(tx: Writing, operation: Edit, at: Applied) -> bool:
    """Set the field that the edit names. True if it ended as a disagreement."""
    name, value = operation.edited()
    if put_unset(tx, operation, [name], value):
        return False
    current = tx.one(
        "SELECT * FROM field WHERE record_id = :record_id AND name = :name",
        record_id=operation.record_id,
        name=name,
    )
    assert current is not None  # or it would have been put
    if current["operation_id"] == operation.seen:
        put_field(tx, operation, name, value)
        return False
    in_force = json.loads(current["value"])
    if in_force == value:
        return False  # both say the same; whoever said it first stands
    disagree(tx, operation, at, name, kept=said_before(current, in_force), other=value)
    return True


def said_before(row: Any, value: Any) -> dict[str, Any]:
    """A value with who said it, when and on which device, from its row in `field`."""
    return {
        "value": value,
        **{name: row[name] for name in ("operation_id", "made_by", "made_at", "device_id")},
    }


def disagree(
    tx: Writing, operation: Operation, at: Applied, name: str, *, kept: dict[str, Any], other: Any
) -> None:
    """Keep what the operation says beside what stands, until a person settles it."""
    tx.run(
        """
        INSERT INTO disagreement (disagreement_id, record_id, name, office_seq, kept, other, settled)
        VALUES (:disagreement_id, :record_id, :name, :office_seq, :kept, :other, NULL)
        """,
        disagreement_id=operation.operation_id,
        record_id=operation.record_id,
        name=name,
        office_seq=at.office_seq,
        kept=compact(kept),
        other=compact(operation.said(other)),
    )


class SettleDisagreement(Operation):
    """A person settles which of two values holds. The other stays on record."""

    roles = frozenset({"desk"})

    kind: Literal["settle_disagreement"]
    settled_record_id: Annotated[Identifier, Field(alias="record_id")]
    disagreement_id: Identifier
    choose: Literal["kept", "other"]
    note: Line

    @property
    def record_id(self) -> str:
        return self.settled_record_id


def settle_disagreement(tx: Writing, operation: SettleDisagreement) -> str:
    """Close a disagreement; put the other value in force if that one was chosen. The field's name.

    Raises NotFound if there is no such disagreement, AlreadyThere if it was settled before.
    """
    row = tx.one(
        "SELECT name, other, settled FROM disagreement WHERE disagreement_id = :id AND record_id = :record_id",
        id=operation.disagreement_id,
        record_id=operation.record_id,
    )
    if row is None:
        raise NotFound("disagreement", operation.disagreement_id)
    if row["settled"] is not None:
        raise AlreadyThere("settlement of", operation.disagreement_id)
    settled = {
        "choose": operation.choose,
        "made_by": operation.made_by,
        "made_at": operation.made_at,
        "note": operation.note,
        "operation_id": operation.operation_id,
    }
    tx.run(
        "UPDATE disagreement SET settled = :settled WHERE disagreement_id = :id",
        settled=compact(settled),
        id=operation.disagreement_id,
    )
    if operation.choose == "other":
        put_field(tx, operation, row["name"], json.loads(row["other"])["value"])
    return str(row["name"])


@dataclass(frozen=True)
class Shown:
    """A record as it now reads: what never changes, its fields' values by name, how many disagreements are open."""

    opened_seq: int
    head: dict[str, Any]
    fields: dict[str, Any]
    open_disagreements: int


def render_record(tx: Writing, record_id: str, office_seq: int) -> Shown | None:
    """Write the record's body anew from its rows, at its new place in the feed. None if there is no such record."""
    record = tx.one("SELECT opened_seq, head FROM record WHERE record_id = :record_id", record_id=record_id)
    if record is None:
        return None
    head: str = record["head"]
    # One row in place of one a field: between two rows another thread may take the interpreter away.
    rows: list[list[str]] = json.loads(
        tx.value(
            """
            SELECT json_group_array(json_array(name, value, operation_id, made_by, made_at, device_id))
            FROM field WHERE record_id = :record_id
            """,
            record_id=record_id,
        )
    )
    members = [
        (
            name,
            f'{json.dumps(name)}:{{"value":{value},"operation_id":"{operation_id}",'
            f'"made_by":{compact(made_by)},"made_at":"{made_at}","device_id":{compact(device_id)}}}',
        )
        for name, value, operation_id, made_by, made_at, device_id in sorted(rows)
    ]
    disagreements = tx.all(
        "SELECT * FROM disagreement WHERE record_id = :record_id ORDER BY office_seq", record_id=record_id
    )
    told = [
        (
            row["name"],
            f'{{"disagreement_id":"{row["disagreement_id"]}","field":{json.dumps(row["name"])},'
            f'"kept":{row["kept"]},"other":{row["other"]},"settled":{row["settled"] or "null"}}}',
        )
        for row in disagreements
    ]

    def body(*, plain: bool) -> str:
        def shown(pairs: list[tuple[str, str]]) -> str:
            return ",".join(text for name, text in pairs if not (plain and name.startswith(PERSONAL_PREFIX)))

        return (
            f'{head[:-1]},"office_seq":{office_seq},'
            f'"fields":{{{shown(members)}}},"disagreements":[{shown(told)}]}}'
        )

    has_personal = any(name.startswith(PERSONAL_PREFIX) for name, _ in members + told)
    tx.run(
        """
        UPDATE record SET office_seq = :office_seq, body = :body, plain_body = :plain_body
        WHERE record_id = :record_id
        """,
        office_seq=office_seq,
        body=body(plain=False),
        plain_body=body(plain=True) if has_personal else None,
        record_id=record_id,
    )
    return Shown(
        opened_seq=record["opened_seq"],
        head=json.loads(head),
        fields={row[0]: json.loads(row[1]) for row in rows},
        open_disagreements=sum(row["settled"] is None for row in disagreements),
    )
