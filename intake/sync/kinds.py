"""Every kind of operation, gathered from the steps of the job. A kind in one of these modules needs no other line."""

from __future__ import annotations

import operator
from functools import reduce
from typing import Annotated, Any

from pydantic import Discriminator, TypeAdapter, ValidationError

from intake import settling
from intake.arrival import days, erasing, items, preflight, tickets, visits
from intake.cataloguing import listing, queue, sentences
from intake.custody import closing, containers, doubles, late_acts, moves, receipts
from intake.errors import Unreadable
from intake.examination import cautions, findings, incidents, observations, photos
from intake.operation import KINDS, Operation
from intake.sync.personal import kind_without_words, without_words
from intake.tagging import rolls, ties
from intake.wire import first_fault

STEPS = [days, preflight, tickets, visits, items, erasing, findings, observations, cautions, incidents]
STEPS += [
    photos,
    ties,
    rolls,
    containers,
    moves,
    receipts,
    closing,
    doubles,
    late_acts,
    queue,
    listing,
    sentences,
    settling,
]

#: Any operation, told apart by `kind`.
READ_OPERATION: TypeAdapter[Operation] = TypeAdapter(
    Annotated[reduce(operator.or_, KINDS.values()), Discriminator("kind")]  # type: ignore[arg-type]
)


def read_kind(sent: Any, device_id: str) -> type[Operation]:
    """The kind of an operation as a device sent it. Raises Unreadable for what fits none, or is another device's."""
    try:
        operation = READ_OPERATION.validator.validate_python(with_words(sent))  # by itself half as long
    except ValidationError as error:
        raise Unreadable(first_fault(error)) from error
    if operation.device_id != device_id:
        raise Unreadable("device_id: this is not the device that sent it.")
    return type(operation)


#: What stands for words that are gone and may not be empty, so that the rest can be checked.
WORDS_GONE = {"salt": "0" * 32, "strokes": "M0 0", "head": None}
WORDS_GONE |= dict.fromkeys(("house_by", "given_by", "taken_by"), "-")


def with_words(sent: Any) -> Any:
    """An operation as it is to be checked: with others for words that its device let go of, since they were erased."""
    kind = kind_without_words(sent)
    if kind is None:
        return sent
    whole = without_words(kind, sent)
    whole |= {name: form for name, form in WORDS_GONE.items() if name in whole and not whole[name]}
    del whole["private_sha256"]
    return whole


def from_log(logged: dict[str, Any]) -> Operation | None:
    """An operation as the log has it, or None for a kind that this version no longer has."""
    kind = KINDS.get(str(logged.get("kind")))
    return None if kind is None else kind.from_log(logged)
