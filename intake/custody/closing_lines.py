"""The lines of a closing: each difference with which a day is closed, what was said of it, and who said it."""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from intake.custody.difference_kinds import KINDS, OF_RECORDS, RANKS
from intake.custody.differences import Found
from intake.records.record import Record

#: As much of a difference's words as an operation that names it holds.
MOST_WORDS = 400


class Line(NamedTuple):
    """A difference as it was named. `key` is what it is known by, "" in closings of before, which name words alone."""

    key: str
    words: str
    reason: str
    said_by: str = ""  # who said the reason, if it was not whoever closed the day


def lines_of(day: Record, closed: dict[str, Any]) -> list[Line]:
    """What a closing names, in the order of the kinds: by the reasons that it names, or in closings of before by what
    stands in itself."""
    if not closed.get("digest"):
        named = closed["named"] or []
        reasons = closed.get("reasons") or [""] * len(named)
        return [Line("", words, reason) for words, reason in zip(named, reasons, strict=True)]
    lines: dict[str, Line] = {}
    for reason_id in sorted(closed["reason_ids"]):
        said = day.value(f"reasons/{reason_id}")
        for one in said["of"] if said else ():
            lines[one["key"]] = Line(one["key"], one["words"], said["reason"], said.get("said_by", ""))
    return sorted(lines.values(), key=lambda line: (RANKS.get(line.key.split(" ")[0], len(KINDS)), line.key))


def digest_of(lines: Iterable[Line]) -> str:
    """What two people signed: the SHA-256 of each line's key, words, reason and who said it, in the order of the keys.
    The app makes the same out of what it shows (`web/job/closing_reasons.ts`)."""
    written = json.dumps(sorted(lines), ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(written.encode()).hexdigest()


def unexplained(found: Iterable[Found], lines: Iterable[Line]) -> Iterator[Found]:
    """What of these differences needs a reason of its own and has none in a closing's lines. What was named by its
    words alone counts once for each time that it was named."""
    needing = (one for one in found if one.kind not in OF_RECORDS)
    return found_since(needing, [line for line in lines if line.reason.strip()])


def found_since(found: Iterable[Found], lines: list[Line]) -> Iterator[Found]:
    """The differences that a closing did not name; of several that were named by words alike as many are known."""
    keys = {line.key for line in lines if line.key}
    known = Counter(line.words for line in lines if not line.key)
    for one in found:
        if one.key in keys or one.former in keys:
            continue
        name = one.words[:MOST_WORDS]
        if known[name] > 0:
            known[name] -= 1
        else:
            yield one
