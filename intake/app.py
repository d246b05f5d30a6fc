"""The whole service on one page: every route, every error, and what each reply carries."""

from __future__ import annotations

import json
import logging
import time
import uuid
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, nullcontext
from http import HTTPStatus
from itertools import count
from typing import Any

from starlette.applications import Starlette
from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from intake.access.devices import stamp
from intake.access.routes import routes as access_routes
from intake.cataloguing.routes import routes as queue_routes
from intake.copies.routes import routes as copies_routes
from intake.custody.routes import routes as custody_routes
from intake.errors import (
    DeviceRevoked,
    IntakeError,
    NoSuchPath,
    NotFound,
    NotPaired,
    TryAgain,
    WrongRequest,
    every_error,
)
from intake.examination.plans import Plans
from intake.examination.routes import routes as examination_routes
from intake.hall.routes import routes as hall_routes
from intake.office import Office
from intake.openapi import describe_service
from intake.opening import open_office
from intake.photos.routes import routes as photo_routes
from intake.settings import Settings
from intake.shell import Shell
from intake.sync.routes import routes as sync_routes
from intake.tagging.routes import routes as tagging_routes
from intake.wire import FORGET_SHOWN, reply
from intake.word_page import word_page

log = logging.getLogger("intake")
SAFE = frozenset({"GET", "HEAD", "OPTIONS"})


def build_app(settings: Settings, office: Office | None = None, plans: Plans | None = None) -> Starlette:
    """The service as one application of an open office; without one, its own opens and closes with the server.

    Plans that were read already are taken for the office that opens here.
    """
    shell = Shell.read(settings.web, withdrawn=settings.withdraw_app)

    @asynccontextmanager
    async def lifespan(app: Starlette) -> AsyncIterator[dict[str, Any]]:
        async with nullcontext(office) if office else open_office(settings, plans) as opened:
            app.state.office = opened
            yield {"office": opened, "app_version": shell.version}

    api = [*access_routes, *sync_routes, *photo_routes, *examination_routes, *tagging_routes, *custody_routes]
    api += [*queue_routes, *copies_routes, *hall_routes]
    routes = [
        *api,
        Route("/health", get_health, methods=["GET"]),
        Route("/problems/{code}", get_problem, methods=["GET"]),
        Route("/openapi.json", describe_service([*api]), methods=["GET"]),
        *shell.routes(),
    ]
    return Starlette(
        routes=routes,
        lifespan=lifespan,
        middleware=[Middleware(RequestLine), Middleware(OwnOrigin)],
        exception_handlers={
            IntakeError: say_no,
            HTTPException: say_http_error,
            Exception: say_fault,
        },
    )


async def get_health(request: Request) -> Response:
    """GET /health: whether the database answers, how much it holds, whether its tables are those that its log says,
    and the office's time. No names."""
    office: Office = request.state.office
    newest = await office.database.read(lambda tx: tx.value("SELECT max(office_seq) FROM operation_log") or 0)
    return reply(
        {
            "status": "ok",
            "tables": "not made anew" if office.tables_fault else "ok",
            "office_seq": newest,
            "app_version": request.state.app_version,
            "office_time": stamp(office.now()),
        }
    )


def problem_reply(request: Request, body: dict[str, Any], headers: dict[str, str] | None = None) -> Response:
    """What is opened in a browser by itself, such as labels, says it in words; whatever asks for data reads members."""
    if "text/html" in request.headers.get("accept", ""):
        said = [str(body["detail"]), str(body["hint"])]
        return word_page(str(body["title"]), said, int(body["status"]), headers=headers)
    return Response(
        json.dumps(body, ensure_ascii=False),
        int(body["status"]),
        headers={"Cache-Control": "no-store", **(headers or {})},
        media_type="application/problem+json",
    )


async def say_no(request: Request, error: Exception) -> Response:
    """Map our own errors to RFC 9457 once, here."""
    assert isinstance(error, IntakeError)
    headers = error.headers
    office: Office = request.state.office
    # Each time: an answer may be lost on its way, and nobody hears whether it was. A cookie that is unknown is of a
    # device that became another, which may have been told so in vain.
    if isinstance(error, DeviceRevoked | NotPaired) and request.cookies.get(office.cookie_name):
        headers = headers | FORGET_SHOWN
    return problem_reply(request, error.problem(), headers)


async def say_http_error(request: Request, error: Exception) -> Response:
    """A path or method that is not there."""
    assert isinstance(error, HTTPException)
    kind = NoSuchPath if error.status_code == HTTPStatus.NOT_FOUND else WrongRequest
    problem = {**kind(error.detail).problem(), "status": error.status_code}
    return problem_reply(request, problem, dict(error.headers or {}))


async def get_problem(request: Request) -> Response:
    """GET /problems/{code}: what a problem's `type` means, for whoever reads a log."""
    kind = every_error().get(request.path_params["code"])
    if kind is None:
        raise NotFound("problem", request.path_params["code"])
    branch = (
        "The device keeps what it holds and comes back later."
        if issubclass(kind, TryAgain)
        else "Sending the same thing again will not help: a person decides."
    )
    return PlainTextResponse(f"{kind.title} ({kind.code}, HTTP {int(kind.status)}). {branch}\n")


async def say_fault(request: Request, error: Exception) -> Response:
    """Our own mistake: the log line has the details, the device keeps what it holds."""
    log.error("fault %s %s", request.method, request.url.path, exc_info=error)
    return problem_reply(
        request, IntakeError("The office made a mistake.", hint="Nothing is lost. Try again later.").problem()
    )


class OwnOrigin:
    """Every write must come from our own page."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http" and scope["method"] not in SAFE:
            request = Request(scope)
            try:
                scope["app"].state.office.check_origin(request)
            except IntakeError as error:
                await problem_reply(request, error.problem())(scope, receive, send)
                return
        await self._app(scope, receive, send)


class RequestLine:
    """One structured log line a request, and its id in the reply. No names, no query, no bodies."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app
        self._start, self._numbers = uuid.uuid4().hex[:12], count(1)  # told apart from another start's

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        began = time.perf_counter()
        request_id = (
            Headers(scope=scope).get("x-request-id", "")[:64] or f"{self._start}-{next(self._numbers)}"
        )
        status = 0

        async def send_with_id(message: Message) -> None:
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
                headers = MutableHeaders(scope=message)
                headers["X-Request-Id"] = request_id
                headers.setdefault("X-Content-Type-Options", "nosniff")
                headers.setdefault("Referrer-Policy", "no-referrer")
            await send(message)

        try:
            await self._app(scope, receive, send_with_id)
        finally:
            log.info(
                "%s",
                json.dumps(
                    {
                        "request_id": request_id,
                        "method": scope["method"],
                        "path": scope["path"],
                        "status": status,
                        "ms": round((time.perf_counter() - began) * 1000, 1),
                    }
                ),
            )
