"""What an office has at one moment that a copy of it has not, read in one snapshot for one step of bounded size."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from intake.copies import source as office
from intake.copies.erasures import Erasures, erasures_of
from intake.copies.head import Head
from intake.copies.source import Due, ErasedWords
from intake.database import Reading

ROWS_A_STEP = 500


@dataclass(frozen=True)
class CopyLacks:
    """What is known of a copy's texts before a step: the files of lines to be written `anew`, the operations whose
    personal words are `owed`, the `plans` that stand in it, whose owners' words are `erased` from it, and the folders
    of what was set `aside` in it, each with how far erasures have reached it."""

    anew: frozenset[str]
    owed: Mapping[str, Due]
    plans: set[tuple[str, str]]
    erased: Erasures
    aside: Mapping[str, int]


@dataclass(frozen=True)
class News:
    """What the office had at one moment that the copy did not."""

    newest: int
    rows: list[dict[str, Any]]
    words: dict[str, str]
    erased_seq: int
    erased: list[str]
    due: dict[str, Due]  # what has to stand beside these rows
    anew: bool  # whether the words are to be written anew
    all_words: dict[str, str]  # up to where the copy reaches; only where the words are to be written anew
    all_due: dict[str, Due]  # the same
    back: dict[str, str]  # words that the copy has to get still, and that the office has by now
    aside: list[str]  # the folders of what was set aside that erasures have not reached yet
    erased_ever: ErasedWords | None  # only where there are such
    erasures: Erasures
    plans: list[dict[str, Any]]
    devices: bytes
    copies: bytes
    office: office.Office


def news_for(tx: Reading, head: Head, lacks: CopyLacks) -> News:
    """What is to be written to a copy whose head is this."""
    rows = office.rows_after(tx, head.office_seq, ROWS_A_STEP)
    last = rows[-1]["office_seq"] if rows else head.office_seq
    erased_seq, erased = office.erased_after(tx, head.erased_seq)
    erasures = erasures_of(tx)
    # Of an owner whose words the office had lost before, the copy may have them, and no operation is noted.
    anew = bool(erased or lacks.anew & {"words", "erased"} or erasures != lacks.erased)
    newest_erased = office.newest_erased(tx)
    aside = [name for name, reached in lacks.aside.items() if reached < newest_erased]
    return News(
        newest=office.newest(tx),
        rows=rows,
        words=office.words_between(tx, head.office_seq, last),
        erased_seq=erased_seq,
        erased=erased,
        due=office.words_due(tx, head.office_seq, last),
        anew=anew,
        all_words=office.words_between(tx, 0, head.office_seq) if anew else {},
        all_due=office.words_due(tx, 0, head.office_seq) if anew else {},
        back={} if anew else office.words_back(tx, dict(lacks.owed)),
        aside=aside,
        erased_ever=office.erased_words(tx) if aside else None,
        erasures=erasures,
        plans=office.plans(tx, lacks.plans),
        devices=office.devices(tx),
        copies=office.copies(tx),
        office=office.office_of(tx),
    )


def not_met(due: Mapping[str, Due], words: Mapping[str, str]) -> dict[str, Due]:
    """The operations whose words are not among these, or not as the log says they were."""
    return {
        operation_id: what
        for operation_id, what in due.items()
        if operation_id not in words or not what.is_met_by(words[operation_id])
    }
