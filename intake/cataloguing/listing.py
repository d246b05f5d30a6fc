"""What the desk's list knows of an item: written anew whenever the item, its visit, or another record of the same thing
is, from their fields alone."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any, Literal

from intake.cataloguing import search
from intake.cataloguing.queue import RETURNED, TAKEN_AWAY, places_of_pieces
from intake.cataloguing.search import mark
from intake.custody.item_differences import differs_by
from intake.custody.not_come import may_lack, may_lack_again, not_come_of, place_before
from intake.custody.owed_signatures import Owed, owed_on
from intake.custody.with_owner import is_back_with_owner
from intake.database import Reading, any_of
from intake.derived_tables import follows_from_log
from intake.examination.cautions import gravest_of
from intake.examination.findings import is_left
from intake.examination.whole_thing import cautions_on, is_left_alone, taken_away
from intake.families import key_of
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.registries import reads_anew, shown_with, shows
from intake.records.values import compact

#: The fields whose words find an item.
SEARCHED = (
    "short_description",
    "seen_words",
    "concluded_words",
    "told_words",
    "materials",
    "maker",
    "class_id",
    "heading",
    "lot_description",
)
#: Each column of an entry that is made of the item's fields; what says where it stands never changes.
COLUMNS = (
    *("visit_id", "state", "class_id", "short_description", "tags", "photo_count", "finding_count"),
    *("disagreement_count", "zones_told", "thumb_sha256", "caution", "merged_into", "table_id", "worst"),
    *("held_apart", "zones", "not_come"),
)
#: What the entries of its visit's other things say of it; see `others_of_visit`.
BESIDE = ("short_description", "tags", "thumb_sha256", "merged_into", "state", "place")
WRITTEN = (*COLUMNS, "place", "ticket")
#: What the list's own row shows of it; a record behind another has none.
IN_ROW = (*(name for name in COLUMNS if name != "merged_into"), "ticket")
PLACED = "(SELECT feed_seq FROM record WHERE record_id = item_id)"


def since(of: str, columns: Iterable[str]) -> str:
    """The place in the feed of the last change of one of these columns, as it is to be after the entry is written."""
    is_as_before = " AND ".join(f"{name} IS excluded.{name}" for name in columns)
    return f"{of} = CASE WHEN {is_as_before} THEN {of} ELSE {PLACED} END"


WRITE = f"""
    INSERT INTO entry (entry_seq, item_id, arrived_at, beside_seq, row_seq, {", ".join(WRITTEN)})
    SELECT :entry_seq, :item_id, (SELECT received_at FROM operation_log WHERE office_seq = :entry_seq),
        feed_seq, feed_seq, {", ".join(f":{name}" for name in WRITTEN)} FROM record WHERE record_id = :item_id
    ON CONFLICT (entry_seq) DO UPDATE SET {", ".join(f"{name} = excluded.{name}" for name in WRITTEN)},
        {since("beside_seq", BESIDE)}, {since("row_seq", IN_ROW)}
"""


#: But since when what finds it is as it is: those are places in the feed.
follows_from_log(
    "entry", columns=", ".join(("entry_seq", "item_id", "arrived_at", *COLUMNS)), order="entry_seq"
)


@shows("item", "entry", "entry_words")
def list_item(records: Records, item: Record) -> None:
    """Write an item's entry, and the words and marks that find it. What stops a thing, or sets it apart, does so
    whichever of its records says it."""
    tx, fields, thing = records.tx, Said(item), records.same_thing(item)
    row = row_of(tx, item, fields, thing)
    row["not_come"] = lacking(records, item, row["state"])
    place = (fields.value("whereabouts") or {}).get("to_place")
    tx.run(WRITE, entry_seq=item.opened_seq, item_id=item.record_id, place=place, **row)
    if row["merged_into"] is not None:
        search.hide(tx, item.opened_seq)  # it stands behind another record
    else:
        marks = [
            *marks_of(
                row,
                thing,
                changed=is_changed(tx, item),
                owed=owed_on(records, item),
                apart=len(set(places_of_pieces(item, records).values())) > 1,
                deferred=is_put_off(fields),
            ),
            *search.owner_marks(tx, row["visit_id"]),
        ]
        search.put_words(tx, item.opened_seq, words_of(fields, thing), marks)


class Said:
    """The values in force of an item, by family: an entry asks a dozen times, and most items have a hundred fields."""

    def __init__(self, item: Record) -> None:
        self._families: dict[str, dict[str, Any]] = {}
        for name in sorted(item.fields):
            self._families.setdefault(key_of(name), {})[name] = item.fields[name].value

    def value(self, name: str) -> Any:
        """The value of a field whose name is its family's; None if nobody set it."""
        return self._families.get(name, {}).get(name)

    def all(self, family: str) -> dict[str, Any]:
        """The values of a family, by the fields' names and in their order."""
        return self._families.get(family, {})

    def live(self, family: str) -> list[dict[str, Any]]:
        """Those that nobody has withdrawn."""
        return [value for value in self.all(family).values() if not value["withdrawn"]]


def row_of(tx: Reading, item: Record, fields: Said, thing: list[Record]) -> dict[str, Any]:
    photos, findings = fields.live("photos/"), fields.live("findings/")
    zones = {name: state for name, state in fields.all("zones/").items() if not is_left(state)}
    first = min(photos, key=lambda photo: photo["taken_at"], default=None)
    visit_id = item.head["visit_id"] or ""
    tied = [tag["tag"] for tag in fields.all("tags/").values() if not tag["gone"]]
    caution = gravest_of(record.derived("caution") for record in thing)
    return {
        "visit_id": visit_id,
        "state": TAKEN_AWAY if taken_away(thing) else list_state(item, fields, is_stopped=caution == "red"),
        "class_id": fields.value("class_id") or "",
        "short_description": fields.value("short_description") or "",
        "tags": compact(tied),
        "photo_count": len(photos),
        "finding_count": len(findings),
        "disagreement_count": item.open_disagreements,
        "zones_told": len(zones),
        "thumb_sha256": first["thumb_sha256"] if first else None,
        "caution": caution,
        "merged_into": item.derived("merged_into"),
        "table_id": value_of_visit(tx, visit_id, "table_id"),
        "ticket": value_of_visit(tx, visit_id, "ticket"),
        "worst": max((finding["severity"] or 0 for finding in findings), default=None),
        "held_apart": int(any(record.derived("held_apart") for record in thing)),
        "zones": compact(zone_signs(zones, findings)),
    }


def list_state(item: Record, fields: Said, *, is_stopped: bool) -> str:
    """Where it stands in the list. What was described and then stopped is ready for nobody: it waits until whoever
    decides has cleared it, and is described again then."""
    if is_back_with_owner(item):
        return RETURNED
    state = str((fields.value("entry") or {}).get("state") or "waiting")
    return "waiting" if is_stopped and state == "described" else state


def zone_signs(zones: dict[str, Any], findings: list[dict[str, Any]]) -> dict[str, str]:
    """What was said of each zone, as a sign: `c` clear, `n` not examined, `0` to `4` the gravest finding on it."""
    signs = {
        name.removeprefix("zones/"): {"clear": "c", "not-examined": "n"}.get(value["state"], "1")
        for name, value in zones.items()
    }
    worst: dict[str, str] = {}
    for finding in findings:
        severity = "1" if finding["severity"] is None else str(finding["severity"])  # not given yet: slight
        worst[finding["zone"] or ""] = max(worst.get(finding["zone"] or "", "0"), severity)
    return {**signs, **worst}


def value_of_visit(tx: Reading, visit_id: str, name: Literal["table_id", "ticket"]) -> str:
    """What the list shows of a visit; empty if nobody said so."""
    text = tx.value(
        "SELECT value FROM field WHERE record_id = :visit_id AND name = :name", visit_id=visit_id, name=name
    )
    return str(json.loads(text) or "") if text else ""


def words_of(fields: Said, thing: list[Record]) -> list[str]:
    """What an item is found by when it is typed. Its owner's name and its ticket stand beside this, by visit, and what
    the list calls it in `called.py`."""
    # A number that is lost is no tag of it any more, and still finds it.
    tags = [tag["tag"] for tag in fields.all("tags/").values() if tag["gone"] != "on-another-item"]
    sentences = fields.all("sentences/").values()
    return [
        *(str(words) for name in SEARCHED if (words := fields.value(name))),
        *(sentence["words"] or "" for sentence in sentences if sentence["version"] == "rewritten"),
        (fields.value("dates") or {}).get("words") or "",
        *(f"{written['text']} {written['reading']}" for written in fields.live("marks/")),
        *(line["words"] or "" for line in fields.live("listed/")),
        *(
            checked["words"]
            for checked in (fields.value("check-in") or {}, *fields.all("check-in/").values())
            if checked.get("words")
        ),
        *tags,
        *(f"{tag[:3]} {tag[3:]}" for tag in tags),
        *(f"{finding['term']} {finding['note']}" for finding in fields.live("findings/")),
        *filter(None, fields.all("finding-notes/").values()),
        *(
            f"{caution['hazard']} {caution['sign']}"
            for record in thing
            for caution in record.values("cautions/").values()
        ),
    ]


#: What the list can be narrowed to beside state, class, table and worst finding: each a yes or no of the entry.
KINDS_OF_TROUBLE = (
    *("alone", "stopped", "held", "contested", "caution", "differs", "absent", "apart", "deferred"),
    *("changed", "unsigned", "otherwise", "untagged", "unpictured", "unnamed"),
)
#: Where what is with the house no more stands in the list.
GONE = (RETURNED, TAKEN_AWAY)
#: Why a zone was not looked at, in `words.yaml`: "Queue too long: to be done at the store".
TO_THE_STORE = "no-time"
#: Those that a row says of itself and that none of its columns tells.
SAID_IN_ROW = ("differs", "apart", "changed", "unsigned", "otherwise")
#: What an entry is described by; where one of these is otherwise since, somebody has to look at its words again.
DESCRIBED_BY = (
    *("class_id", "short_description", "materials", "maker", "dates", "pieces", "listed/", "packaging"),
    *("condition_words", "grade", "class_grade", "check-in", "check-in/", "zones/", "findings/"),
    *("origins/", "marks/", "measures/", "tests/", "tags/"),
)


def marks_of(
    row: dict[str, Any], thing: list[Record], *, changed: bool, owed: Owed, apart: bool, deferred: bool
) -> Iterator[str]:
    """The tokens by which the list is narrowed, and by which what stands on a thing is found as it is called."""
    yield mark("day", thing[0].day_id)
    yield mark("state", row["state"])
    yield mark("class", row["class_id"])
    yield mark("table", row["table_id"])
    yield mark("worst", "" if row["worst"] is None else str(row["worst"]))
    if row["caution"]:
        yield mark("level", row["caution"])
    yield from sorted({mark("hazard", standing.caution["hazard"] or "") for standing in cautions_on(thing)})
    troubles = {
        "alone": is_left_alone(thing),
        "stopped": row["caution"] == "red" and row["state"] != TAKEN_AWAY,
        "held": row["held_apart"],
        "contested": row["disagreement_count"],
        "caution": row["caution"],
        "differs": any(differs_by(record) for record in thing),  # as the closing counts it
        "absent": row["not_come"],
        "apart": apart and row["state"] not in GONE,
        "deferred": deferred,
        "changed": changed,
        "unsigned": owed.unsigned,
        "otherwise": owed.signed_otherwise,
        "untagged": row["tags"] == "[]"
        and row["state"] not in GONE,  # numbers taken back with it are missed by nobody
        "unpictured": not row["photo_count"],
        "unnamed": not row["short_description"],
    }
    yield from (mark("is", name) for name in KINDS_OF_TROUBLE if troubles[name])


def is_put_off(fields: Said) -> bool:
    """Whether a zone was put off to the store, since too many people waited, and nobody has looked at it since."""
    return any(
        zone["state"] == "not-examined" and zone["reason"] == TO_THE_STORE
        for zone in fields.all("zones/").values()
    )


def is_changed(tx: Reading, item: Record) -> bool:
    """Whether something came after it was described that it is described by. The order is that of the log, since the
    desk had not read what was on its way; what whoever described it said on the same device they know."""
    entry = item.fields.get("entry")
    if entry is None or entry.value["state"] != "described":
        return False
    said = [
        value.operation_id
        for name, value in item.fields.items()
        if key_of(name) in DESCRIBED_BY
        and (value.made_by, value.device_id) != (entry.made_by, entry.device_id)
    ]
    return bool(
        tx.value(
            f"""
            SELECT EXISTS (SELECT 1 FROM operation_log WHERE operation_id IN {any_of("said")} AND office_seq >
                (SELECT max(office_seq) FROM operation_log WHERE operation_id IN {any_of("described")}))
            """,
            said=json.dumps(said),
            described=json.dumps(
                [entry.operation_id, *entry.agreed.values()]
            ),  # described again, in the same words
        )
    )


@reads_anew("visit", "ticket", "table_id", "consignor/name")
def entered_of(tx: Reading, visit_id: str) -> list[str]:
    """The things of a visit: a list shows each with its ticket and its table, and finds it by these and by the owner's
    name."""
    rows = tx.all(
        "SELECT item_id FROM entry WHERE visit_id = :visit_id ORDER BY entry_seq", visit_id=visit_id
    )
    return [row["item_id"] for row in rows]


def within(tx: Reading, container_id: str) -> list[str]:
    """The things that lie in a container, at any depth, whole or in pieces."""
    found = [container_id]
    for outer_id in found:
        rows = tx.all(
            """
            SELECT DISTINCT record_id FROM field
            WHERE value ->> 'container_id' = :outer_id AND name >= 'inside' AND name < 'inside0'
            """,
            outer_id=outer_id,
        )
        found += [row["record_id"] for row in rows if row["record_id"] not in found]
    return found[1:]


@shown_with("visit", "receipts/")
def signed_with(tx: Reading, visit: Record) -> list[str]:
    """The things of a visit for which somebody signed: which of them nobody did follows from all its receipts."""
    return entered_of(tx, visit.record_id)


@shown_with("container", "whereabouts", "inside")
def gone_within(tx: Reading, container: Record) -> list[str]:
    """What is in a container that went to an owner, or came from one, or changed what it stands in: what goes with it
    is to be signed for as taken back."""
    before = place_before(tx, container)
    placed = container.value("whereabouts")
    now = placed["to_place"] if isinstance(placed, dict) else None
    if "inside" not in container.changed and "returned" not in (before, now):
        return []
    return within(tx, container.record_id)


def lacking(records: Records, item: Record, state: str) -> str | None:
    """That it did not come, in words; None if it did. What is with the house no more is looked for by nobody."""
    return (state not in GONE and not_come_of(records, item)) or None


def lacks_otherwise(records: Records, item: Record) -> bool:
    row = records.tx.one("SELECT state, not_come FROM entry WHERE item_id = :item_id", item_id=item.record_id)
    return row is not None and row["not_come"] != lacking(records, item, row["state"])


@shown_with("day", "loads/", "closed", if_otherwise=lacks_otherwise)
def lacking_now(tx: Reading, day: Record) -> list[str]:
    """The things that did not come with their load, before or now that what came is counted."""
    return [*lacking_before(tx, day.record_id), *may_lack(tx, day)]


@shown_with("container", "whereabouts", "moves/", "inside", if_otherwise=lacks_otherwise)
def lacking_within(tx: Reading, container: Record) -> list[str]:
    """The things that did not come, and may have with this container; or may be away with it again."""
    return [*lacking_before(tx, container.day_id), *may_lack_again(tx, container)]


def lacking_before(tx: Reading, day_id: str) -> list[str]:
    """The things of a day whose rows say that they did not come."""
    rows = tx.all(
        """
        SELECT item_id FROM entry JOIN record ON record_id = item_id
        WHERE not_come IS NOT NULL AND day_id = :day_id ORDER BY entry_seq
        """,
        day_id=day_id,
    )
    return [row["item_id"] for row in rows]


@shows("visit", "entry", "entry_words", "visit_word")
def list_visit(records: Records, visit: Record) -> None:
    """What finds the things of a visit, and the table that their entries show."""
    tx = records.tx
    ticket, name, table_id = (str(visit.value(of) or "") for of in ("ticket", "consignor/name", "table_id"))
    if search.put_visit_words(tx, visit.record_id, ticket=ticket, name=name):
        marks = search.owner_marks(tx, visit.record_id)
        for row in tx.all("SELECT entry_seq FROM entry WHERE visit_id = :visit_id", visit_id=visit.record_id):
            search.replace_owner_marks(tx, row["entry_seq"], marks)
    for row in tx.all(
        """
        SELECT entry_seq, table_id FROM entry
        WHERE visit_id = :visit_id AND (table_id <> :table_id OR ticket <> :ticket)
        """,
        visit_id=visit.record_id,
        table_id=table_id,
        ticket=ticket,
    ):
        tx.run(
            f"""
            UPDATE entry SET table_id = :table_id, ticket = :ticket, row_seq = {PLACED}
            WHERE entry_seq = :entry_seq
            """,
            table_id=table_id,
            ticket=ticket,
            entry_seq=row["entry_seq"],
        )
        before, after = mark("table", row["table_id"]), mark("table", table_id)
        search.replace_mark(tx, row["entry_seq"], before, after)
