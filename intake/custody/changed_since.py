"""What was changed on a day after it was closed: two people signed for it as it was. In the app:
`web/job/changed_since.ts`; `fixtures/closing.json` holds both to the same lines."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from intake.custody.day_on_record import DayOnRecord, is_opened_after
from intake.custody.whereabouts import thing_name
from intake.families import key_of
from intake.field_words import field_words
from intake.operation import instant
from intake.records.record import Record
from intake.tagging.tags import shown

#: What a closing does not rest on: the closing itself, what says the same as another field, and the desk's own words.
BESIDE = frozenset(
    {
        *(
            "closed",
            "first-signings/",
            "reasons/",
            "moves/",
            "handed/",
            "plan_version",
            "pieces-back",
            "settlement-notes/",
        ),
        *("entry", "heading", "lot_description", "sentences/", "sentence-order/"),
    }
)
#: Who allowed what was changed beside it, each by the name of the manager, who may have said why.
ALLOWED_BY = ("allowed_by", "stage_allowed_by")
OPENED = {"visit": "opened", "item": "put on the table", "container": "opened"}


#: What no device that closes a day holds, so that it has never heard of it.
NOT_HELD = ("consignor/signatures/", "called")


class Changed(NamedTuple):
    """A record of the day that is otherwise than at the closing: in words, and where to look."""

    key: str
    words: str
    at: str


def changed_since(day: DayOnRecord, named: Callable[[Record], str]) -> Iterator[Changed]:
    """Each record that was opened or changed after the closing, by the clocks as they were put right, and of which
    something made before it came later; none of a day that is open. `named` says whose an item is and what it is; a
    visit's ticket."""
    closed = day.day.fields.get("closed")
    if closed is None:
        return
    since = instant(closed.made_at)
    for record, after, late in day.said_after(since, heard_to(closed.value)):
        said = [(name, made_by) for name, made_by in after if rests_on(name)]
        came = [(name, by) for name, by in late if rests_on(name) and not name.startswith(NOT_HELD)]
        by: Iterable[str] = [made_by for _, made_by in said]
        names = {"day": "the day", "container": ""}.get(record.kind)
        name = named(record) if names is None else names or thing_name(record)
        if is_opened_after(record, since):
            by = [record.head.get("opened_by") or ""]
            allowed = record.value("allowed_by")
            what = f"{OPENED[record.kind]} after the closing{f', {allowed} allowed it' if allowed else ''}"
        else:
            changed = counted(field for field, _ in said if field not in ALLOWED_BY)
            words = [record.value(field) for field, _ in said if field in ALLOWED_BY]
            what = "; ".join(filter(None, [changed, *(f"allowed by {word}" for word in words)]))
        at = f"#/{record.kind}" + ("" if record.kind == "day" else f"/{record.record_id}")
        if came:
            told = f"came later: {name}: {counted(field for field, _ in came)}"
            yield Changed(
                f"later {record.record_id}", f"{told}{by_words((by for _, by in came), day.day)}", at
            )
        if what:
            yield Changed(f"changed {record.record_id}", f"{name}: {what}{by_words(by, day.day)}", at)


def heard_to(closed: Mapping[str, Any]) -> dict[str, int] | None:
    """How far the closing's device had heard each, by the device; None of a closing that does not say it."""
    heard = closed.get("heard")
    return {one["device_id"]: one["device_seq"] for one in heard} if heard else None


def counted(fields: Iterable[str]) -> str:
    counts = Counter(called_since(field) for field in fields)
    return ", ".join(words if n == 1 else f"{words} ({n})" for words, n in counts.items())


def by_words(by: Iterable[str], day: Record) -> str:
    people = (day.value(f"people/{person_id}") for person_id in dict.fromkeys(by))
    names = [person["name"] for person in people if person]
    return f" (by {', '.join(names)})" if names else ""


def called_since(name: str) -> str:
    """A field for people, a number as it is printed on the tag."""
    return f"tag {shown(name.removeprefix('tags/'))}" if name.startswith("tags/") else field_words(name)


def rests_on(name: str) -> bool:
    """Whether a closing rests on a field."""
    return key_of(name) not in BESIDE
