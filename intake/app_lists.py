"""Lists by which the app and the office tell the same, written from the office's own into web/job.

What is on a receipt, and what of an entry changed since it was described, is worked out on a device with no network and
at the office once more. `python -m intake.app_types` writes the files, and a test holds them current.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from datetime import timedelta
from pathlib import Path

from intake.app_lines import STEP, assigned
from intake.cataloguing.listing import DESCRIBED_BY
from intake.custody.counted_things import COUNTED
from intake.custody.failed_trials import FAILED
from intake.custody.receipt_lines import (
    BEFORE_NOUN,
    BESIDE,
    LOST_THERE,
    MISSING,
    PIECE_NOUNS,
    SAYS_WHICH,
    STATES,
)
from intake.reading import TIMES

WIDTH = 110  # as the app's formatter has it, which reads these files, too
JOB = Path(__file__).parents[1] / "web" / "job"
RECEIPT_FILE = JOB / "receipt_lists.ts"
FAILED_FILE = JOB / "receipt_failed.ts"
COUNTED_FILE = JOB / "receipt_counted.ts"
DESCRIBED_FILE = JOB / "described_by.ts"
TIMES_FILE = JOB / "day_times.ts"
HEAD = """/**
 * {says}
 *
 * Written by `python -m intake.app_types` from `{module}`. Change that, then write it anew.
 */"""


def app_receipt_lists() -> str:
    """What the words of a receipt's line go by."""
    return written(
        "What the words of a receipt's line go by: names stand behind one another, patterns as text.",
        "intake/custody/receipt_lines.py",
        *named("What a zone is, and no thing on it.", "STATES", in_a_row(STATES)),
        "/** What is not there any more. */",
        by_key("MISSING", MISSING),
        "/** What is missing of a zone that is called by another thing on it. */",
        by_key("LOST_THERE", LOST_THERE),
        *named("Zones that are beside the pieces of a set, and on none of them.", "BESIDE", in_a_row(BESIDE)),
        *named("Nouns for a piece, whatever the set is of.", "PIECE_NOUNS", in_a_row(PIECE_NOUNS)),
        *named(
            "Words of a note that say which piece, before a noun for one.", "BEFORE_NOUN", in_app(BEFORE_NOUN)
        ),
        *named("Words of a note that say which piece by themselves.", "SAYS_WHICH", in_app(SAYS_WHICH)),
    )


def app_receipt_failed() -> str:
    """What did not work, in the line of a receipt: apart, since only the screens that make one out say it."""
    return written(
        "What did not work, in the line of a receipt, by the trial.",
        "intake/custody/failed_trials.py",
        by_key("FAILED", FAILED),
    )


def app_receipt_counted() -> str:
    """What was counted, in the line of a receipt."""
    return written(
        "What is counted, in the line of a receipt, by the measure: of one, and of several.",
        "intake/custody/counted_things.py",
        by_key("COUNTED", COUNTED, "readonly string[]"),
    )


def app_described_by() -> str:
    """What an entry is described by."""
    return written(
        "What an entry is described by: where one of these is otherwise since, somebody looks again.",
        "intake/cataloguing/listing.py",
        *named("", "DESCRIBED_BY", " ".join(DESCRIBED_BY)),
    )


def app_day_times() -> str:
    """How long a day is worked on."""
    return written(
        "How long a day is worked on, by what follows, in hours: `intake/days.yaml` says why.",
        "intake/reading.py",
        "export const HOURS = {",
        *(f"{STEP}{json.dumps(name)}: {time // timedelta(hours=1)}," for name, time in TIMES.items()),
        "};",
    )


def written(says: str, module: str, *lines: str) -> str:
    """A file of the app, with what it `says` at its head and the module that it is written from."""
    return "\n".join([HEAD.format(says=says, module=module), *lines, ""])


def by_key(name: str, values: Mapping[str, object], each: str = "string") -> str:
    """Values by their keys, each of that type; a key that is a word stands there as the app's formatter has it."""
    line = assigned(f"export const {name}: Readonly<Record<string, {each}>> = ", values, ";")
    return re.sub(r'"(\w+)":', r"\1:", line)


def in_a_row(names: frozenset[str]) -> str:
    return " ".join(sorted(names))


def in_app(pattern: re.Pattern[str]) -> str:
    """A pattern as the app writes it: there the end of a text has another sign."""
    return pattern.pattern.replace(r"\Z", "$")


def named(says: str, name: str, words: str) -> list[str]:
    """A text by its name, on as many lines as it needs; what is broken is put together again as it was."""
    begins = [f"/** {says} */"] if says else []
    line = f"export const {name} = {json.dumps(words)};"
    if len(line) <= WIDTH:
        return [*begins, line]
    return [*begins, f"export const {name} =", *broken(words)]


def broken(words: str) -> list[str]:
    """A long text as several that follow one another, each broken behind a blank or a choice of a pattern."""
    parts = [""]
    for piece in re.findall(r"[^ |]+[ |]?|[ |]", words):
        if len(STEP + json.dumps(parts[-1] + piece) + " +") > WIDTH:
            parts.append("")
        parts[-1] += piece
    ends = [" +"] * (len(parts) - 1) + [";"]
    return [f"{STEP}{json.dumps(part)}{end}" for part, end in zip(parts, ends, strict=True)]
