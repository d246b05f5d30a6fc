"""Plans over HTTP."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from intake.errors import NotFound
from intake.office import Office
from intake.wire import stored_reply


async def get_plans(request: Request) -> Response:
    """GET /plans: every class's plan, the vocabulary and the words, with an entity tag."""
    office: Office = request.state.office
    await office.device(request)
    text, tag = office.plans.sent
    if request.headers.get("if-none-match") == tag:
        return Response(status_code=304, headers={"ETag": tag})
    return stored_reply(text, headers={"ETag": tag})


async def get_plan(request: Request) -> Response:
    """GET /plans/{class_id}/{version}: a plan as it was when a record was made with it."""
    office: Office = request.state.office
    await office.device(request)
    class_id, version = request.path_params["class_id"], request.path_params["version"]
    body = await office.database.read(
        lambda tx: tx.value(
            "SELECT body FROM plan_version WHERE class_id = :class_id AND version = :version",
            class_id=class_id,
            version=version,
        )
    )
    if body is None:
        raise NotFound("plan", f"{class_id} {version}")
    return stored_reply(body)


routes = [
    Route("/plans", get_plans, methods=["GET"]),
    Route("/plans/{class_id}/{version}", get_plan, methods=["GET"]),
]
