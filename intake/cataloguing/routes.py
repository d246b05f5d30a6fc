"""The desk over HTTP: its list, one entry with all that its screen shows."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from intake.arrival.people import people_of_days
from intake.cataloguing.called import ALWAYS, called_here
from intake.cataloguing.entry import EntryInHand, entry_in_hand
from intake.cataloguing.keep_away import left_alone
from intake.cataloguing.listing import KINDS_OF_TROUBLE
from intake.cataloguing.pages import COUNT_LIMIT, SEVERITIES, Asked, Search, with_edge
from intake.cataloguing.queue import LIST_STATES
from intake.database import Reading
from intake.errors import NotFound, Unreadable
from intake.families import OFFICE_ROLES, Asker
from intake.office import Office, known_in
from intake.operation import UUID_PATTERN, WORD_PATTERN
from intake.reading import record_body, require_record, visits_spoken_of
from intake.records.values import compact
from intake.sync.history import history
from intake.wire import number, reply, stored_reply

PAGE = 50
NAMED = 200  # items that a page shows and asks about at once


async def get_queue(request: Request) -> Response:
    """GET /queue?words=&state=&class_id=&table_id=&worst=&day_id=&only=&after=&limit=&counts=&items=: a page.

    In the order of arrival, narrowed to what is asked. `only` are kinds of trouble with commas between; with
    `counts=1` the answer says how many there are of each kind, too, and of which date each of the latest days is
    (`days`). With `items`, ids with commas between, those of them alone that the list as it is asked has, as they
    are now: what a page shows and has heard to have changed; and with `fill` up to so many from behind `after` in
    the place of those that it has no more (`filled`). `alone` are the things that nobody handles, and whose and
    where they are, whatever is asked: a desk says so on every page. `words` are those that were asked for, as they
    are searched, and `called` the marks that these are names of.
    """
    office: Office = request.state.office
    await office.device(request, *OFFICE_ROLES)
    asker = await office.asker(request)
    page, owners = await office.database.read(page_in(request, office))
    note_search(request, office, asker, page, owners)
    return reply(page)


def note_search(
    request: Request, office: Office, asker: Asker, page: dict[str, Any], owners: list[str]
) -> None:
    """A list that was found by the words of these owners is a reading of them."""
    office.readings.note_search(asker, words_in(request), owners, page["count"], office.now())


def words_in(request: Request) -> str:
    """What is looked for, as it is searched and as it is noted."""
    return " ".join(request.query_params.get("words", "").split())[:200]


def page_in(request: Request, office: Office) -> Callable[[Reading], tuple[dict[str, Any], list[str]]]:
    """What reads the page of the list that is asked for, and by the owners of which visits its words found. Raises
    Unreadable."""
    asked, items = asked_in(request), items_in(request)
    after, limit = number(request, "after", 0), min(number(request, "limit", PAGE, least=1), 200)
    with_counts, fill = bool(number(request, "counts", 0)), min(number(request, "fill", 0), NAMED)

    def edged(rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
        return [with_edge(row, office.plans.plans.get(row["class_id"])) for row in rows]

    def job(tx: Reading) -> tuple[dict[str, Any], list[str]]:
        search = Search(tx, asked, called_here(tx, office.plans) if asked.words else ALWAYS)
        found = search.page(after, limit) if items is None else search.among(items)
        count = search.count()
        left = 0 if items is None else min(fill, len(items) - len(found))
        filled = search.page(after, left) if left else []
        page = {
            "cursor": tx.value("SELECT max(feed_seq) FROM record") or 0,
            "entries": edged(found),
            "count": min(count, COUNT_LIMIT),
            "count_capped": count > COUNT_LIMIT,
            "counts": search.counts() if with_counts else None,
            "days": search.days() if with_counts else None,
            "words": search.words(),
            "called": search.called(),
            "alone": left_alone(tx),
            "next": next_of(found, limit) if items is None else None,
            "filled": {"after": after, "entries": edged(filled), "next": next_of(filled, left)}
            if left
            else None,
        }
        return page, search.owners()

    return job


def next_of(found: list[dict[str, Any]], limit: int) -> int | None:
    """Where the page behind these begins; None if they are the last."""
    return found[-1]["entry_seq"] if len(found) == limit else None


def asked_in(request: Request) -> Asked:
    """What the list is narrowed to. Raises Unreadable, which names what can be asked."""
    query = request.query_params
    only = tuple(word for word in query.get("only", "").split(",") if word)
    for name, value, known in (
        ("state", query.get("state", ""), LIST_STATES),
        ("worst", query.get("worst", ""), SEVERITIES),
        *(("only", word, KINDS_OF_TROUBLE) for word in only),
    ):
        if value and value not in known:
            raise Unreadable(f"{name}: it takes one of {', '.join(known)}.")
    class_id = query.get("class_id", "")
    if class_id and not re.fullmatch(WORD_PATTERN, class_id):
        raise Unreadable("class_id: it takes the id of a class, such as soft-toy.")
    day_id = query.get("day_id", "")
    if day_id and not re.fullmatch(UUID_PATTERN, day_id):
        raise Unreadable("day_id: it takes the id of a day.")
    return Asked(
        words=words_in(request),
        day_id=day_id,
        state=query.get("state", ""),
        class_id=class_id,
        table_id=query.get("table_id", "")[:80],
        worst=query.get("worst", ""),
        only=only,
    )


def items_in(request: Request) -> list[str] | None:
    """The items that are asked for by themselves; None if it is the next page. Raises Unreadable."""
    if "items" not in request.query_params:
        return None
    items = [item_id for item_id in request.query_params["items"].split(",") if item_id]
    if len(items) > NAMED or not all(re.fullmatch(UUID_PATTERN, item_id) for item_id in items):
        raise Unreadable(f"items: it takes at most {NAMED} ids of items with commas between.")
    return items


async def get_entry(request: Request) -> Response:
    """GET /entries/{item_id}: an item, all that its screen at the desk shows, its history, and its row of the list.

    With `items` or `limit`, and whatever else GET /queue takes beside them, `list` is what that would answer: a page
    on which an entry is open hears of that and of its list at once. With `told=1` the owner's words come along as
    GET /records/{visit_id} gives them, for a page that shows them: that is noted as a reading. `office` is where it
    stands, so that the device knows of a log from which it was told something, and misses it should it be lost.
    """
    office: Office = request.state.office
    device = await office.device(request, *OFFICE_ROLES)
    asker, known = await office.asker(request), known_in(request)
    item_id, now = request.path_params["item_id"], office.now()
    asks_owner = bool(number(request, "told", 0))
    asks_list = not request.query_params.keys().isdisjoint({"items", "limit"})
    page = page_in(request, office) if asks_list else None

    def job(tx: Reading) -> tuple[EntryInHand, list[str], dict[str, Any], bytes, list[str], list[str]]:
        item = require_record(tx, item_id, asker, now)
        if item.kind != "item":
            raise NotFound("item", item_id)
        entry = entry_in_hand(tx, item, asker)
        rows = Search(tx, Asked()).among([item_id])
        listed = [with_edge(row, office.plans.plans.get(row["class_id"])) for row in rows]
        beside, owners = page(tx) if page else (None, [])
        answer = {
            "cursor": tx.value("SELECT max(feed_seq) FROM record"),
            "people": entry.people,
            "others": entry.others,
            "row": listed[0] if listed else None,
            "list": beside,
            "office": office.standing(tx, device, known).model_dump(),
        }
        visit_id = json.loads(item.body)["visit_id"]
        told = record_body(tx, visit_id, asker, now)[1] if asks_owner else b"null"
        handed = visits_spoken_of(tx, item_id, in_notes=False) + ([visit_id] if asks_owner else [])
        return entry, history(tx, item_id, asker, now), answer, told, owners, handed

    entry, rows, found, told, owners, handed = await office.database.read(job)
    office.readings.note(asker, handed, now)
    if found["list"]:
        note_search(request, office, asker, found["list"], owners)
    records = b",".join(entry.records)
    return stored_reply(
        b'{"records":[%b],"operations":[%b],"told":%b,%b'
        % (records, ",".join(rows).encode(), told, compact(found).encode()[1:])
    )


async def get_people(request: Request) -> Response:
    """GET /people: who may sit at this device, by the lists of all days: a desk works when its days are long over."""
    office: Office = request.state.office
    device = await office.device(request, *OFFICE_ROLES)
    return reply({"people": await office.database.read(lambda tx: people_of_days(tx, device.role))})


routes = [
    Route("/queue", get_queue, methods=["GET"]),
    Route("/entries/{item_id}", get_entry, methods=["GET"]),
    Route("/people", get_people, methods=["GET"]),
]
