"""Whatever is said of whatever record: what the office then answers otherwise, a row, a count or an entry, the news of
it name, so that a desk that shows it asks for it; and of what it does not show it asks for nothing."""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import Any

from intake.operation import KINDS
from tests.app_rules import said_by_app
from tests.builders import a_caution, a_crate, a_decision, a_fact, a_tie, a_visit, an_item, put_in
from tests.conftest import Office
from tests.phone import Phone
from tests.samples import runs
from tests.sync.any_operation import NUMBERS, AnyOperation

NOTHING = dict.fromkeys(("words", "state", "class_id", "table_id", "worst", "only"), "")
PAGE = 100
#: What desks ask their lists for: how each is narrowed, and how long a page is.
LISTS: list[tuple[dict[str, str], int]] = [
    ({}, PAGE),
    ({}, 2),
    ({"state": "waiting"}, PAGE),
    ({"state": "described"}, PAGE),
    ({"table_id": "t2"}, PAGE),
    ({"only": "untagged"}, 2),
    ({"only": "caution,unnamed"}, PAGE),
    ({"words": "words"}, PAGE),
    ({"words": "owl"}, 2),
    ({"words": "owl", "table_id": "t2"}, PAGE),
    ({"words": "described"}, PAGE),
    ({"words": "stopped"}, PAGE),
    ({"words": "quagmire"}, PAGE),
]
NARROWED = [{**NOTHING, **asked} for asked, _ in LISTS]
#: Of an entry: where the feed stood, and where the office. Names are those of the open day, which comes by the feed.
NOT_SHOWN = ("cursor", "office", "people", "list")

Answers = tuple[list[dict[str, Any]], dict[str, dict[str, Any]]]


class Desk:
    """Whoever asks the office for all of it before and after each operation."""

    def __init__(self, phone: Phone) -> None:
        self.phone, self.items = phone, list[str]()
        self.cases: list[dict[str, Any]] = []
        self.expected: list[tuple[str, Any]] = []
        self.before = self.told()

    def told(self) -> Answers:
        get = self.phone.client.get
        lists = [
            get("/queue", params={**asked, "limit": str(limit), "counts": "1"}).json()
            for asked, limit in LISTS
        ]
        self.items = list(dict.fromkeys([*self.items, *(row["item_id"] for row in lists[0]["entries"])]))
        entries = {item_id: get(f"/entries/{item_id}").json() for item_id in self.items}
        return lists, entries

    def news_since(self, cursor: int) -> dict[str, Any]:
        headers = {"Last-Event-ID": str(cursor)}
        with self.phone.client.stream("GET", "/sync/events", headers=headers) as stream:
            line = next(line for line in stream.iter_lines() if '"changed"' in line)
        news: dict[str, Any] = json.loads(line.removeprefix("data: "))
        return news

    def look(self, done: str, *, refused: bool = False) -> None:
        """Hold what is answered now against what was before."""
        lists, entries = self.before
        self.before = now_lists, now_entries = self.told()
        cursor = lists[0]["cursor"]
        is_quiet = now_lists[0]["cursor"] == cursor
        news = {"cursor": cursor, "changed": []} if is_quiet else self.news_since(cursor)
        for asked, list_before, list_now in zip(NARROWED, lists, now_lists, strict=True):
            shown = {"asked": asked, "list": plain(list_before), "entry": None, "item_id": ""}
            self.cases.append({"news": news, "shown": shown})
            changes = rows_otherwise(list_before, list_now)
            counts = any(list_before[of] != list_now[of] for of in ("count", "counts", "alone"))
            self.expected.append((f"{done}: {asked}", (changes, counts)))
        for item_id, entry_before in entries.items():
            ids = [record["record_id"] for record in entry_before["records"]]
            shown = {"asked": NOTHING, "list": plain(lists[0]), "item_id": item_id}
            self.cases.append(
                {"news": news, "shown": {**shown, "entry": {"record_ids": ids}}, "refused": refused}
            )
            self.expected.append((f"{done}: entry", shown_of(entry_before) != shown_of(now_entries[item_id])))


def plain(page: dict[str, Any]) -> dict[str, Any]:
    """What of a list says what is asked for."""
    entries = [{name: row[name] for name in ("item_id", "entry_seq")} for row in page["entries"]]
    return {**page, "entries": entries, "counts": None}


def shown_of(entry: dict[str, Any]) -> dict[str, Any]:
    """An open day comes by the feed."""
    records = [record for record in entry["records"] if record["kind"] != "day"]
    shown = {name: value for name, value in entry.items() if name not in NOT_SHOWN}
    row = entry["row"] and {**entry["row"], "held_on": ""}  # which comes as in a list
    return {**shown, "records": records, "row": row}


def rows_otherwise(before: dict[str, Any], now: dict[str, Any]) -> list[str]:
    """The things whose rows are others on the pages that were shown; what moves on to another page stays as it is."""
    ends = [page["next"] for page in (before, now) if page["next"] is not None]
    # The date of its day stands in a row where two days meet: corrected, it comes as the list is asked for next.
    rows = [
        {
            row["item_id"]: {**row, "held_on": ""}
            for row in page["entries"]
            if all(row["entry_seq"] <= end for end in ends)
        }
        for page in (before, now)
    ]
    return [item_id for item_id in {**rows[0], **rows[1]} if rows[0].get(item_id) != rows[1].get(item_id)]


def is_listed_anew(case: dict[str, Any], expected: Any) -> bool:
    """Whoever searches is not told an owner's words: they ask whether a thing that is listed anew has theirs."""
    found = [one[5] for one in case["news"]["changed"]]
    return bool(case["shown"]["asked"]["words"]) and any(one.get("listed") for one in found)


def is_beyond_pages(case: dict[str, Any], expected: Any) -> bool:
    """Nor can they know of a thing that stands on none of their pages whether it is counted beside these."""
    asked = case["shown"]["asked"]
    is_part = case["shown"]["list"]["next"] is not None or sum(map(bool, asked.values())) > 1
    return bool(asked["words"]) and is_part


def is_refused(case: dict[str, Any], expected: Any) -> bool:
    """What is refused of one record of a thing is in the history of that one alone: news name all of the thing."""
    return isinstance(expected, bool) and case["refused"]


#: What is asked for though it says nothing new, since no desk can know that.
IN_VAIN = (is_listed_anew, is_beyond_pages, is_refused)


def hold(desk: Desk, tmp_path: Path) -> list[str]:
    """What nobody asks for though it is otherwise, and what is asked for though it is not."""
    asked = said_by_app("asked_here.js", desk.cases, tmp_path / "given.json")
    faults = []
    for (done, expected), case, keys in zip(desk.expected, desk.cases, asked, strict=True):
        if isinstance(expected, bool):
            faults += [f"{done} {case['shown']['item_id']}"] if expected and "entry" not in keys else []
            is_vain = "entry" in keys and not expected
        else:
            changes, counts = expected
            missed = [one for one in changes if not {"list", f"item {one}"} & set(keys)]
            faults += [f"{done}: row {item_id} by {keys}" for item_id in missed]
            faults += [f"{done}: counts"] if counts and not keys else []
            is_vain = bool(keys) and not changes and not counts
        if is_vain and not any(cannot_know(case, expected) for cannot_know in IN_VAIN):
            faults.append(f"{done}: asked for {keys} for nothing")
    return faults


#: Things that make a day worth asking about stand at its beginning, and more than once, so that they meet.
FIRST = ["open_day", "open_visit", "open_visit", *["open_item"] * 5, "open_container", "tie_tag", "tie_tag"]
PASSES = runs(2, of=2)
NEARLY_ALL = 0.85  # of the kinds: some need so much before them that chance hardly ever says them


def test_whatever_is_said_news_name_what_is_answered_otherwise(office: Office, tmp_path: Path) -> None:
    chance = random.Random(1)
    phones = [office.pair("manager", name) for name in ("One", "Other")]
    makers = [AnyOperation(chance, office.ids, phone.device_id) for phone in phones]
    desk = Desk(phones[0])
    kept = set[str]()
    kinds = [kind for _ in range(PASSES) for kind in chance.sample(sorted(KINDS), len(KINDS))]

    def say(kind: str, which: int) -> None:
        made = makers[which].make(kind)
        response = phones[which].client.post("/sync/operations", json={"operations": [made]})
        [answer] = response.json()["answers"]
        if answer["outcome"] == "kept":
            kept.add(kind)
            for maker in makers:
                maker.learn({**made, **answer.get("ruled", {})}, disagreement=answer["disagreement"])
        if answer["outcome"] != "waiting":
            desk.look(f"{kind} {answer['outcome']}", refused=answer["outcome"] == "refused")

    for place, kind in enumerate([*FIRST, *kinds]):
        say(kind, 0 if place < len(FIRST) else chance.choice([0, 1]))
    for kind in sorted(set(KINDS) - kept):  # what was refused each time finds other things by now
        say(kind, chance.choice([0, 1]))
    assert len(kept) > NEARLY_ALL * len(KINDS)
    assert hold(desk, tmp_path) == []


def test_what_stands_together_is_named_with_what_changes_it(
    office: Office, phone: Phone, day: dict[str, Any], tmp_path: Path
) -> None:
    """Records behind others, a number that two have, things of one visit, what is refused."""
    ids, other = phone.ids, office.pair("manager", "Other")
    visits = send(phone, *(a_visit(ids, day["day_id"], ticket=ticket) for ticket in ("Q07", "Q08")))
    made = [an_item(ids, visits[place % 2]) for place in range(6)]
    things = [one["item_id"] for one in send(phone, *made)]
    send(phone, *(a_fact(item_id, "short_description", "owl") for item_id in things))
    send(phone, a_tie(things[0], NUMBERS[0]))
    [crate] = send(phone, a_crate(ids, day["day_id"], NUMBERS[1]))
    _, raised = a_caution(ids, things[5], hazard="H02", still_allowed=[])
    desk = Desk(phone)

    def said(of: Phone, *made: tuple[str, dict[str, Any]]) -> list[dict[str, Any]]:
        before = len(of.refused)
        kept = send(of, *made)
        desk.look(", ".join(kind for kind, _ in made), refused=len(of.refused) > before)
        return kept

    def merge(item_id: str, into_id: str | None, seen: str | None = None) -> str:
        body = {"item_id": item_id, "into_id": into_id, "why": "", "seen": seen}
        return str(said(phone, ("merge_item", body))[0]["operation_id"])

    merged = merge(things[1], things[0])
    merge(things[1], None, merged)
    said(other, a_tie(things[3], NUMBERS[0]))
    assert other.refused[-1]["answer"]["disagreement"]
    said(phone, an_item(ids, visits[0]))
    said(phone, a_fact(things[4], "materials", "tin"))
    [described] = said(phone, entry_of(things[5], "described"))
    said(phone, entry_of(things[5], "waiting", described["operation_id"]))
    merged = merge(things[5], things[2])
    said(phone, ("raise_caution", raised))
    said(phone, put_in(things[5], crate["container_id"]))
    assert phone.refused[-1]["kind"] == "put_inside"
    said(phone, a_decision(things[5], raised["caution_id"], "cleared", cleared_for="dry"))
    merge(things[5], None, merged)
    said(phone, put_in(things[5], crate["container_id"]))
    said(phone, *(a_fact(item_id, "class_id", "glass") for item_id in things[:4]))
    assert hold(desk, tmp_path) == []


def entry_of(item_id: str, state: str, seen: str | None = None) -> tuple[str, dict[str, Any]]:
    return "set_entry", {"item_id": item_id, "state": state, "reason": "", "seen": seen}


def send(phone: Phone, *made: tuple[str, dict[str, Any]]) -> list[dict[str, Any]]:
    kept = [phone.keep(one) for one in made]
    phone.push()
    phone.outbox = []
    return kept


def test_news_tell_how_a_thing_was_counted_and_that_words_are_gone(phone: Phone, day: dict[str, Any]) -> None:
    [visit] = send(phone, a_visit(phone.ids, day["day_id"]))
    [item] = send(phone, an_item(phone.ids, visit))
    desk = Desk(phone)

    def told(*made: tuple[str, dict[str, Any]], since: int | None = None) -> tuple[str, dict[str, Any]]:
        """The marks of the thing and what of it is otherwise, by the news since then."""
        before = phone.client.get("/queue").json()["cursor"] if since is None else since
        send(phone, *made)
        changed = {one[0]: one for one in desk.news_since(before)["changed"]}
        *_, marks, found = changed[item["item_id"]]
        return marks, found

    first = phone.client.get("/queue").json()["cursor"]
    table = ("set_visit", {"visit_id": visit["visit_id"], "field": "table_id", "value": "t2", "seen": None})
    marks, found = told(table, a_fact(item["item_id"], "short_description", "brown owl"))
    was = found["was"].split()
    assert "tablet2" in marks.split()
    assert {"tablexx", "isunnamed"} <= set(was), "as it was before all of what came at once"
    assert "lost" not in found
    seen = phone.record(item["item_id"])["fields"]["short_description"]["operation_id"]
    _, found = told(a_fact(item["item_id"], "short_description", "owl", seen=seen))
    assert (found["words"], found["lost"], "marks" in found) == ("owl", True, False)
    _, found = told(a_fact(item["item_id"], "class_id", "glass"), since=first)
    assert (found["marks"], "was" in found) == (True, False), "it was otherwise more than once since then"
