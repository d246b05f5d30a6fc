"""A person settles which of two values holds, and it stays settled in whatever order devices are heard.

Which of two was said first, and so has the other beside it, is an accident of the line: after a loss it may be the
other way round, with a later word in the place of one of them. So a settlement names the operations that its maker had
read, and says of one of them that it holds against the others.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Annotated, Any, Literal, NamedTuple

from pydantic import Field

from intake.edits import say_beside, with_what_it_chose
from intake.errors import AlreadyThere, ChangedSince, NotFound
from intake.families import key_of
from intake.field_words import field_words
from intake.operation import FACT_KINDS, FIELD_KINDS, Identifier, Line, Operation, Salt
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.values import Disagreement, FieldValue, Source

NOTES = "settlement-notes/"  # why a value was settled on, by the disagreement's id
MOST_BESIDE = 100  # a person can read no more of one field; the app says the newest of them
Side = Literal["kept", "other", "standing"]


class Comes(NamedTuple):
    """A value that was chosen and has yet to come into force; or a later word of whoever said it, which is theirs and
    not the settlement's."""

    value: Any
    later: Disagreement | None = None


class Beside(NamedTuple):
    """A value that was chosen and stands beside one in force that its maker had not read."""

    value: Any


#: What a settlement does to the value in force: that `stays`; or what was chosen `is_there` already, said by somebody
#: else; or it comes, or stands beside; or it `is_gone`, nowhere on record any more.
Effect = Literal["stays", "is_there", "is_gone"] | Comes | Beside


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
    `beside_ids` are those that said what else stood beside it then, each a question of its own; apps of before did not
    say them, and a later word of whoever was chosen is then taken for one that came afterwards.
    """

    roles = frozenset({"desk"})
    personal = ("salt", "note")  # a note about an owner is as personal as what it was about
    record_kinds = ("day", "visit", "item", "container")
    record_member = "record_id"
    sets_too = (NOTES + "{disagreement_id}",)
    in_device_order = True  # a settlement takes for settled what its maker settled before

    kind: Literal["settle_disagreement"]
    record_id: Identifier
    disagreement_id: Identifier
    kept_id: Identifier | None = None
    standing_id: Identifier | None = None
    beside_ids: Annotated[list[Identifier], Field(max_length=MOST_BESIDE)] | None = None
    choose: Side
    note: Line
    salt: Salt | None = None

    @property
    def made_in_view_of(self) -> list[str]:
        """It is not judged before all are here that its maker had read."""
        named = [self.kept_id and self.disagreement_id, self.kept_id, self.standing_id]
        return [value_id for value_id in [*named, *(self.beside_ids or ())] if value_id]

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
        left = [between for between in still_open if between.disagreement_id not in settles]
        later = next(
            (one for one in left if self._is_later(one.disagreement_id, chosen, lost, records)), None
        )
        if current is not None and not self._has_lost(current, lost, records):
            if won is not None:
                return Outcome(name, settles, has_unread=True)
            if self.chosen_id == self.standing_id:
                return Outcome(name, settles)
            if not set(chosen).isdisjoint(said_in_force(current, records)):
                return Outcome(name, settles, "is_there")
            value = value_said(record, name, chosen, records)
            if not value or later or self._is_later(current.operation_id, chosen, lost, records):
                return Outcome(name, settles)
            return Outcome(name, settles, Beside(*value), has_unread=True)
        if won is None and later is None and left and self.chosen_id == self.standing_id:
            later = left[0]  # what stood has given way to it since
        comes = won or later
        if comes is not None:
            return Outcome(
                name,
                {**settles, comes.disagreement_id: "other"},
                Comes(comes.value_of("other"), later if won is None else None),
                has_unread=won is None,
            )
        value = value_said(record, name, chosen, records)
        return Outcome(name, settles, Comes(*value) if value else "is_gone")

    def _has_lost(self, current: FieldValue, lost: set[str], records: Records) -> bool:
        """Whether the value in force gives way: each who said it is one of those that lost, or settled on one of them
        before on the same device."""
        said_by = [current.operation_id, *current.agreed.values()]
        return all(value_id in lost or self._corrects(value_id, lost, records) for value_id in said_by)

    def _corrects(self, operation_id: str, lost: set[str], records: Records) -> bool:
        """Whether an operation is an earlier settlement of the same maker's on one of those that lost now."""
        earlier = records.logged(operation_id)
        return (
            isinstance(earlier, SettleDisagreement)
            and (earlier.device_id, earlier.device_seq < self.device_seq) == (self.device_id, True)
            and not lost.isdisjoint(with_what_it_chose(operation_id, records))
        )

    def _is_later(self, operation_id: str, chosen: list[str], lost: set[str], records: Records) -> bool:
        """Whether an operation is a later word of whoever said what was chosen, or of whoever had seen that, and came
        after the settlement: its maker had not read it."""
        before, asked = [operation_id], lost.union(self.beside_ids or ())
        while before:
            if (value_id := before.pop()) in chosen:
                return True
            if value_id not in asked and (operation := records.logged(value_id)) is not None:
                asked.add(value_id)
                before += operation.made_in_view_of
        return False

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
            value, later = outcome.effect
            kind.put_value(record, outcome.name, value, records, later.source if later else source)
        elif isinstance(outcome.effect, Beside):
            return say_beside(record, outcome.name, outcome.effect.value, source)
        elif outcome.effect == "is_there":
            record.agree(outcome.name, source)
        return False


def name_of_maker(record: Record, name: str, records: Records) -> str:
    """Who said what is in force of a field, as the day's list calls them; "" if nobody is named."""
    current, day = record.fields.get(name), records.find(record.day_id)
    if current is None or day is None:
        return ""
    return str((day.value(f"people/{current.made_by}") or {}).get("name", current.made_by))


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


def said_in_force(current: FieldValue | None, records: Records) -> list[str]:
    """The operations that said the value in force, or chose it."""
    if current is None:
        return []
    return [*with_what_it_chose(current.operation_id, records), *current.agreed.values()]


def kind_of(record: Record, name: str) -> type[Operation]:
    """The kind that sets a field about which two values disagree. One that no kind sets any more has no rules."""
    kind = FIELD_KINDS.get((record.kind, key_of(name)))
    return kind or FACT_KINDS.get(record.kind, Operation)
