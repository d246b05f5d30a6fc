"""The queue over HTTP."""

from __future__ import annotations

import re

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from intake.cataloguing.queue import ENTRY_STATES, entries
from intake.errors import Unreadable
from intake.examination.plan import zone_keys
from intake.families import OFFICE_ROLES
from intake.office import Office
from intake.operation import WORD_PATTERN
from intake.wire import number, reply

PAGE = 50


async def get_queue(request: Request) -> Response:
    """GET /queue?words=&state=&class_id=&after=&limit=: a page of entries in order of arrival."""
    office: Office = request.state.office
    await office.device(request, *OFFICE_ROLES)
    asked = request.query_params
    state = asked.get("state") or None
    if state is not None and state not in ENTRY_STATES:
        raise Unreadable(f"state: it takes one of {', '.join(ENTRY_STATES)}.")
    class_id = asked.get("class_id") or None
    if class_id is not None and not re.fullmatch(WORD_PATTERN, class_id):
        raise Unreadable("class_id: it takes the id of a class, such as soft-toy.")
    after, limit = number(request, "after", 0), min(number(request, "limit", PAGE, least=1), 200)
    words = asked.get("words", "")[:200]
    found, count, capped = await office.database.read(
        lambda tx: entries(tx, words=words, state=state, class_id=class_id, after=after, limit=limit)
    )
    for entry in found:
        plan = office.plans.plans.get(entry["class_id"])
        entry["missing"] = None if plan is None else max(0, len(zone_keys(plan)) - entry["zones_told"])
    return reply(
        {
            "entries": found,
            "count": count,
            "count_capped": capped,
            "next": found[-1]["entry_seq"] if len(found) == limit else None,
        }
    )


routes = [Route("/queue", get_queue, methods=["GET"])]
