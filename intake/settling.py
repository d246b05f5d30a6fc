"""A person settles which of two values holds, and it stays settled in whatever order devices are heard.

Which of two was said first, and so has the other beside it, is an accident of the line: after a loss it may be the
other way round, with a later word in the place of one of them. So a settlement names the operations that its maker had
read, and says of one of them that it holds against the others.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any, Literal, NamedTuple

from intake.errors import AlreadyThere, ChangedSince, NotFound
from intake.families import key_of
from intake.field_words import field_words
from intake.operation import FACT_KINDS, FIELD_KINDS, Identifier, Line, Operation, Salt
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.values import Disagreement, Source

NOTES = "settlement-notes/"  # why a value was settled on, by the disagreement's id
Side = Literal["kept", "other", "standing"]


class Comes(NamedTuple):
    """A value that was chosen and has yet to come into force."""

    value: Any


#: What a settlement does to the value in force: that `stays`; or what was chosen `is_there` already, said by somebody
#: else; or it comes; or it `is_gone`, nowhere on record any more.
Effect = Literal["stays", "is_there", "is_gone"] | Comes


@dataclass(frozen=True)
class Outcome:
    """What a settlement does to one field.

    `settles` has the side that is noted as chosen for each disagreement that ends. `has_unread`: what its maker had not
    read stands in force beside what was chosen, or comes in its place.
    """

    name: str
    settles: dict[str, Side] = field(default_factory=dict)
    effect: Effect = "stays"
    has_unread: bool = False

    @property
    def is_late(self) -> bool:
        """Whether its maker had not read what is on record now."""
        return not self.settles or self.has_unread


class SettleDisagreement(Operation):
    """A person settles which of two values holds. The other stays on record.

    Whichever of them was chosen is in force then: `kept`, which stood when the other was said, or `other`. It comes
    into force through the whole check of the kind that sets the field, as if it were said now, unless it is there.
    `standing`: neither does, since what has come into force meanwhile stays; that can always be said.

    `disagreement_id` is the operation that said `other`, `kept_id` the one that said `kept`, `standing_id` the one
    whose value was in force. Apps of before said the first alone: then the two are those that disagree here.
    """

    roles = frozenset({"desk"})
    personal = ("salt", "note")  # a note about an owner is as personal as what it was about
    record_kinds = ("day", "visit", "item", "container")
    record_member = "record_id"
    sets_too = (NOTES + "{disagreement_id}",)

    kind: Literal["settle_disagreement"]
    record_id: Identifier
    disagreement_id: Identifier
    kept_id: Identifier | None = None
    standing_id: Identifier | None = None
    choose: Side
    note: Line
    salt: Salt | None = None

    @property
    def made_in_view_of(self) -> list[str]:
        """It is not judged before all are here that its maker had read."""
        return [
            value_id
            for value_id in (self.kept_id and self.disagreement_id, self.kept_id, self.standing_id)
            if value_id
        ]

    @property
    def chosen_id(self) -> str | None:
        """The operation that said what was chosen; None if an app of before did not name it."""
        return {"kept": self.kept_id, "other": self.disagreement_id, "standing": self.standing_id}[
            self.choose
        ]

    def check_on(self, record: Record, records: Records) -> None:
        """Raises NotFound if there is no such disagreement, AlreadyThere if it was settled, ChangedSince if another
        word has taken the place of one of the two, and what the field's own kind says of the value that comes.

        While devices are heard out, what was settled once may be so already, by a later word that came first.
        """
        outcome = self.outcome(record, records)
        between = record.disagreements.get(self.disagreement_id)
        if outcome is None:
            raise NotFound("disagreement", self.disagreement_id)
        if outcome.effect == "is_gone" or (outcome.is_late and not records.hearing):
            if between is not None and between.settled is not None:
                raise AlreadyThere("settlement of", self.disagreement_id)
            raise ChangedSince(field_words(outcome.name), name_of_maker(record, outcome.name, records))
        if isinstance(outcome.effect, Comes):
            kind = kind_of(record, outcome.name)
            kind.check_settled(record, outcome.name, outcome.effect.value, records, self)

    def kind_obeyed(self, record: Record, records: Records) -> str:
        """That of the kind that sets the field, if the value that was chosen has yet to come into force."""
        outcome = self.outcome(record, records)
        if outcome is None or not isinstance(outcome.effect, Comes):
            return self.kind_name()
        return kind_of(record, outcome.name).kind_name()

    def outcome(self, record: Record, records: Records) -> Outcome | None:
        """What it does to the record as it is; None if nothing on it is what it was about."""
        by_id = self.kept_id is None
        outcome = self._outcome_by_id(record) if by_id else self._outcome_by_sides(record, records)
        if outcome is not None and isinstance(outcome.effect, Comes):
            kind = kind_of(record, outcome.name)
            if kind.holds(record, outcome.name, outcome.effect.value):
                return replace(outcome, effect="stays")
        return outcome

    def _outcome_by_id(self, record: Record) -> Outcome | None:
        """By the one operation that an app of before named: it said `other`, or `kept` if it was heard first here."""
        between, choose = record.disagreements.get(self.disagreement_id), self.choose
        if between is None:
            between = next(
                (
                    between
                    for between in record.disagreements.values()
                    if between.kept_by == self.disagreement_id
                ),
                None,
            )
            choose = {"kept": "other", "other": "kept", "standing": "standing"}[choose]  # type: ignore[assignment]
        if between is None:
            return None
        if between.settled is not None:
            return Outcome(between.name)
        effect: Effect = "stays" if choose == "standing" else Comes(between.value_of(choose))
        return Outcome(between.name, {between.disagreement_id: choose}, effect)

    def _outcome_by_sides(self, record: Record, records: Records) -> Outcome | None:
        """By the operations that its maker had read: the chosen one holds against the others, wherever they stand."""
        chosen, lost = self._chosen_and_lost(records)
        if (name := field_of(record, [*lost, *chosen], records)) is None:
            return None
        current = record.fields.get(name)
        still_open = [
            between
            for between in record.disagreements.values()
            if between.name == name and not between.settled
        ]
        settles: dict[str, Side] = {
            between.disagreement_id: "kept" if between.kept_by in chosen else "standing"
            for between in still_open
            if between.disagreement_id in lost
        }
        won = next((between for between in still_open if between.disagreement_id in chosen), None)
        in_force = with_what_it_chose(current.operation_id, records) if current is not None else []
        if current is not None and lost.isdisjoint([*in_force, *current.agreed.values()]):
            moved_on = not settles or self.chosen_id != self.standing_id
            effect: Effect = "is_there" if won is None and moved_on else "stays"
            return Outcome(name, settles, effect, has_unread=won is not None)
        left = [between for between in still_open if between.disagreement_id not in settles]
        follows = won is None and len(left) == 1 and followed(left[0], chosen, records)
        comes = left[0] if follows else won
        if comes is not None:
            return Outcome(
                name,
                {**settles, comes.disagreement_id: "other"},
                Comes(comes.value_of("other")),
                has_unread=follows,
            )
        value = value_said(record, name, chosen, records)
        return Outcome(name, settles, Comes(*value) if value else "is_gone")

    def _chosen_and_lost(self, records: Records) -> tuple[list[str], set[str]]:
        """The operations that said what was chosen, and those that said the rest of what its maker had read."""
        chosen = with_what_it_chose(self.chosen_id, records)
        read = (self.kept_id, self.disagreement_id, self.standing_id)
        reached = {value_id for read_id in read for value_id in with_what_it_chose(read_id, records)}
        return chosen, reached.difference(chosen)

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        outcome = self.outcome(record, records)
        if outcome is None:
            return False  # both values were the same once their words had been erased
        for disagreement_id, choose in outcome.settles.items():
            made = {"made_by": source.made_by, "made_at": source.made_at}
            record.settle(disagreement_id, {"choose": choose, **made, "operation_id": source.operation_id})
            if self.note and not source.words_gone:
                record.put(f"{NOTES}{disagreement_id}", self.note, source)
        if isinstance(outcome.effect, Comes):
            kind = kind_of(record, outcome.name)
            kind.put_value(record, outcome.name, outcome.effect.value, records, source)
        elif outcome.effect == "is_there":
            record.agree(outcome.name, source)
        return False


def name_of_maker(record: Record, name: str, records: Records) -> str:
    """Who said what is in force of a field, as the day's list calls them; "" if nobody is named."""
    current, day = record.fields.get(name), records.find(record.day_id)
    if current is None or day is None:
        return ""
    return str((day.value(f"people/{current.made_by}") or {}).get("name", current.made_by))


def with_what_it_chose(operation_id: str | None, records: Records) -> list[str]:
    """An operation, and if that is a settlement also the one whose value it chose: they said the same."""
    found = []
    while operation_id is not None and operation_id not in found:
        found.append(operation_id)
        operation = records.logged(operation_id)
        if not isinstance(operation, SettleDisagreement):
            break
        operation_id = operation.chosen_id
    return found


def field_of(record: Record, said_by: list[str], records: Records) -> str | None:
    """The field of which these operations said something, whether that still stands or is contested."""
    for between in record.disagreements.values():
        if between.disagreement_id in said_by or between.kept_by in said_by:
            return between.name
    logged = (records.logged(operation_id) for operation_id in said_by)
    return next(
        (operation.says[0] for operation in logged if operation is not None and operation.says is not None),
        None,
    )


def value_said(record: Record, name: str, said_by: list[str], records: Records) -> tuple[Any, ...]:
    """The value that one of these operations said of a field; empty if its words are gone. It may stand nowhere any
    more, since another took its place that was heard later the first time."""
    for operation_id in said_by:
        operation = records.logged(operation_id)
        if operation is not None and operation.says is not None and operation.says[0] == name:
            return (operation.says[1],)
    return ()


def followed(between: Disagreement, said_by: list[str], records: Records) -> bool:
    """Whether the value beside the one in force is a later word of whoever said one of these, and had seen that."""
    before, asked = [between.disagreement_id], set[str]()
    while before:
        if (operation_id := before.pop()) in said_by:
            return True
        if operation_id not in asked and (operation := records.logged(operation_id)) is not None:
            asked.add(operation_id)
            before += operation.made_in_view_of
    return False


def kind_of(record: Record, name: str) -> type[Operation]:
    """The kind that sets a field about which two values disagree. One that no kind sets any more has no rules."""
    kind = FIELD_KINDS.get((record.kind, key_of(name)))
    return kind or FACT_KINDS.get(record.kind, Operation)
