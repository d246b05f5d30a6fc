"""Receipts: what an owner left or took back, as it was shown when it was signed. One is never edited.

A signature, the names beside it, what was written of a paper pad, what stood above the lines and the words of each line
are personal words: they stay out of the log and can be erased, while it stays on record which things the receipt was
for, and their numbers.
Source for what a receipt lists: common practice.
"""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

from intake.arrival.days import ON_PATTERN
from intake.arrival.visits import OfVisit
from intake.errors import SignedByNobody
from intake.families import blank, without_words_of_receipt
from intake.operation import WORD_PATTERN, Identifier, Line, Salt, Tag
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.values import Source

RECEIPT = ("number", "what", "lines", "replaces")
#: What may be anybody's name: read where the receipt is read back, by who reads its owner.
SIGNATURE = ("signed_by", "strokes", "house_by", "on_paper")
MOST_NUMBERS = 5000  # on one receipt: 500 things of ten pieces each
#: A ticket as long as one may be, the letters of a device, which those of before did not have, and a figure.
NUMBER = re.compile(r".{1,20}/[A-Z]{0,8}[0-9]{1,4}")
CLASS = re.compile(WORD_PATTERN)
STROKES = r"^(M\d{1,4} \d{1,4}(L\d{1,4} \d{1,4})*)*$"


class ReceiptLine(BaseModel):
    """One item as the owner read it: its numbers, words by which a stranger could match it, and its class.

    Apps of before did not say the class; what they signed has none.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    item_id: Identifier
    tags: Annotated[list[Tag], Field(max_length=999)]
    words: Line
    class_id: Line | None = None


class ReceiptHead(BaseModel):
    """What stood above the lines: whose day it was, where and when. What is corrected of the day since is another's.

    An app takes it from the day, and another may have since been said of that which the office has not heard: it is
    taken as it was signed, and whatever it says goes with the owner's words.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    house: Line
    place: Line
    held_on: Annotated[str, Field(pattern=ON_PATTERN)]


class SignReceipt(OfVisit):
    """An owner signs for what was left, or for what was taken back. A correction is a new one that names the old.

    Units: `strokes` is a path on a field 600 wide and 200 high, of M and L in whole numbers; empty if the signature
    is on paper, and then `on_paper` says which pad and number. Apps of before did not say the `head`.
    """

    roles = frozenset({"door", "table", "desk"})
    on_what_stood = True
    personal = ("salt", "signed_by", "strokes", "lines.words", "house_by", "on_paper", "head")
    personal_before = (
        ("salt", "signed_by", "strokes", "lines.words", "house_by", "on_paper"),
        ("salt", "signed_by", "strokes", "lines.words"),
        ("salt", "signed_by", "strokes"),
    )
    sets_too = ("receipts/{receipt_id}", "consignor/signatures/{receipt_id}")

    kind: Literal["sign_receipt"]
    receipt_id: Identifier
    number: Annotated[Line, Field(min_length=1, examples=["Q36/2"])]
    what: Literal["left", "taken-back"]
    lines: Annotated[list[ReceiptLine], Field(min_length=1, max_length=500)]
    replaces: Identifier | None
    house_by: Annotated[Line, Field(min_length=1)]
    on_paper: Line
    head: ReceiptHead | None = None
    signed_by: Line
    strokes: Annotated[str, Field(max_length=20_000, pattern=STROKES)]
    salt: Salt

    @model_validator(mode="after")
    def check_signed(self) -> SignReceipt:
        """There is a signature, drawn or on paper."""
        if not (self.strokes or self.on_paper.strip()):
            raise ValueError("a receipt is signed, here or on a paper pad whose number is written")
        return self

    @model_validator(mode="after")
    def check_numbers(self) -> SignReceipt:
        """It fits into one request."""
        if sum(len(line.tags) for line in self.lines) > MOST_NUMBERS:
            raise ValueError(
                f"a receipt has at most {MOST_NUMBERS} numbers: use another for some of the things"
            )
        return self

    def check_at_hand(self, records: Records) -> None:
        """Raises SignedByNobody if it is made in the knowledge that the owner had left: whoever comes back to sign is
        not known by the visit, and may be anybody. Of what went back the closing asks, since it has gone."""
        stage = records.require(self.visit_id, *self.record_kinds).fields.get("stage")
        has_left = stage is not None and stage.value == "left" and self.knew_of(stage)
        if self.what == "left" and has_left and not self.signed_by.strip():
            raise SignedByNobody(self.number)

    @classmethod
    def odd_form(cls, sent: dict[str, Any]) -> str:
        """Number and class stay when the owner's words are erased, so that there is no room for a name."""
        if not NUMBER.fullmatch(sent["number"]):
            return "number: it is the ticket, a stroke, the device's letters and a figure, such as Q36/A2."
        classes = [line.get("class_id") for line in sent["lines"]]
        if any(class_id is not None and not CLASS.fullmatch(class_id) for class_id in classes):
            return "lines.class_id: it is a word for a class, such as soft-toy."
        return ""

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        receipt, signature = self.members(*RECEIPT), self.members(*SIGNATURE)
        if head := self.members("head")["head"]:
            receipt["head"] = dict(sorted(head.items()))  # as the words beside the log have it
        if self.on_paper:
            receipt["is_on_paper"] = True
        if self.what == "taken-back" and not self.signed_by.strip():
            receipt["is_unnamed"] = True  # apps of before did not ask who it was
        if source.words_gone:
            receipt, signature = without_words_of_receipt(receipt), blank(signature)
        record.put(f"receipts/{self.receipt_id}", receipt, source)
        record.put(f"consignor/signatures/{self.receipt_id}", signature, source)
        return False
